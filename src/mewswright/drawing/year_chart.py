"""The wall chart of a year: birds by weeks, quarters by weeks, and the moves with their days.

One sheet as tall as need be, or several of a paper's size. Everything is millimetres on paper.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date

from mewswright.drawing.paper import BORDER_MM, PAPER_MM, Paper
from mewswright.drawing.scene import Box, Mark, Polygon, Scene, Text
from mewswright.drawing.year_rows import (
    BAR_LOOKS,
    WINDOW_MARKS,
    Row,
    bird_rows,
    draw_rows,
    quarters_rows,
    shortened,
    window_line,
    words_mm,
)
from mewswright.drawing.year_time import TimeAxis, head
from mewswright.year.plan import YearPlan, day_words

ROW_MM = (9.0, 7.5, 6.5, 5.5)  # heights of a row, the first with which all fits on one sheet
SMALLEST = ROW_MM[-1]
_PAD = 4.0  # inside the border
_TITLE_MM = 8.0
_FOOT_MM = 13.0  # legend, and whose word decides
_GAP_MM = 5.0
_HEAD_MM = 5.0  # a block's own heading
_LIST_MM = 3.7  # a line of the list of moves
_LETTER_MM = 2.3
_DATE_MM = 24.0  # room of a day before the move
CAUTION = (
    "A plan from the yard file's own wishes and figures: the bird in front of you, the vet and the "
    "text of a standard come before it."
)


@dataclass(frozen=True)
class _Block:
    """A piece of the chart that is drawn at a height and takes so much of it."""

    high_mm: float
    draw: Callable[[float], list[Mark]]


def year_chart(plan: YearPlan, paper: Paper = "A3") -> Scene:
    """The whole chart as one drawing, as wide as the paper and as tall as it needs to be.

    Args:
        plan: The plan.
        paper: Paper whose width, lying, it has; it is no shorter than that paper either.
    """
    wide, high = PAPER_MM[paper]
    blocks = _blocks(plan, wide, ROW_MM[1], None)
    need = _chrome_mm() + _stacked_mm(blocks)
    return _sheet(plan, blocks, wide, max(high, need), "")


def year_sheets(plan: YearPlan, paper: Paper = "A3") -> tuple[Scene, ...]:
    """The chart on sheets of one size: one, if it may be read there, or as many as it takes.

    Args:
        plan: The plan.
        paper: The paper, lying on its long side.
    """
    wide, high = PAPER_MM[paper]
    room = high - _chrome_mm()
    for row_mm in ROW_MM:
        blocks = _blocks(plan, wide, row_mm, None)
        if _stacked_mm(blocks) <= room:
            return (_sheet(plan, blocks, wide, high, ""),)
    pages: list[list[_Block]] = []
    for block in _blocks(plan, wide, SMALLEST + 1.0, room):
        if pages and _stacked_mm([*pages[-1], block]) <= room:
            pages[-1].append(block)
        else:
            pages.append([block])
    return tuple(
        _sheet(plan, page, wide, high, f", sheet {i + 1} of {len(pages)}")
        for i, page in enumerate(pages)
    )


def _chrome_mm() -> float:
    return 2 * (BORDER_MM + _PAD) + _TITLE_MM + _FOOT_MM


def _stacked_mm(blocks: Sequence[_Block]) -> float:
    return sum(block.high_mm for block in blocks) + _GAP_MM * max(0, len(blocks) - 1)


def _blocks(plan: YearPlan, wide: float, row_mm: float, room: float | None) -> list[_Block]:
    """Birds, quarters and moves; in pieces that each fit in a room, where one is given."""
    left, right = BORDER_MM + _PAD, wide - BORDER_MM - _PAD
    names = [*plan.birds, *plan.quarters]
    widest = max((words_mm(name, 2.8) for name in names), default=0.0)
    axis = TimeAxis(
        plan.starts_on, plan.ends_on, left + min(max(widest + 9.0, 22.0), 0.13 * wide), right
    )
    blocks = []
    for title, rows in (("Birds", bird_rows(plan)), ("Quarters", quarters_rows(plan))):
        most = len(rows)
        if room is not None:
            most = max(1, int((room - _HEAD_MM - axis.head_mm) / row_mm))
        pieces = max(1, -(-len(rows) // max(1, most)))
        each = -(-len(rows) // pieces)  # even pieces: no sheet with one lonely row
        for at in range(0, len(rows), max(1, each)):
            blocks.append(_rows_block(title, rows[at : at + each], axis, left, row_mm))
    return [*blocks, *_move_blocks(plan, left, right, room)]


def _rows_block(
    title: str, rows: Sequence[Row], axis: TimeAxis, left: float, row_mm: float
) -> _Block:
    def draw(top: float) -> list[Mark]:
        under = top - _HEAD_MM
        middle = under - axis.head_mm / 2
        return [
            Text(layer="heads", at=(left, middle), text=title, height_mm=3.6, bold=True),
            *head(axis, under),
            *draw_rows(rows, axis, left, under - axis.head_mm, row_mm),
        ]

    return _Block(_HEAD_MM + axis.head_mm + len(rows) * row_mm, draw)


def _move_blocks(plan: YearPlan, left: float, right: float, room: float | None) -> list[_Block]:
    lines = [(_short_day(move.on, plan), move.words) for move in plan.moves]
    if not lines:
        return []
    widest = max(words_mm(words, _LETTER_MM) for _, words in lines) + _DATE_MM + 4.0
    columns = max(1, min(4, int((right - left) / min(widest, (right - left) / 2))))
    blocks = []
    most = len(lines) if room is None else columns * max(1, int((room - _HEAD_MM) / _LIST_MM))
    for at in range(0, len(lines), most):
        blocks.append(_moves_block(lines[at : at + most], columns, left, right))
    return blocks


def _short_day(day: date, plan: YearPlan) -> str:
    year = f" {day.year}" if plan.starts_on.year != plan.ends_on.year else ""
    return f"{day:%a} {day.day} {day:%b}{year}"


def _moves_block(
    lines: Sequence[tuple[str, str]], columns: int, left: float, right: float
) -> _Block:
    deep = -(-len(lines) // columns)
    wide = (right - left) / columns

    def draw(top: float) -> list[Mark]:
        marks: list[Mark] = [
            Text(layer="heads", at=(left, top - 2.2), text="Moves", height_mm=3.6, bold=True)
        ]
        for i, (day, words) in enumerate(lines):
            x = left + i // deep * wide
            y = top - _HEAD_MM - (i % deep + 0.5) * _LIST_MM
            text = shortened(words, wide - _DATE_MM - 3.0, _LETTER_MM)
            marks.append(
                Text(layer="moves", at=(x + _DATE_MM - 1.5, y), text=day,
                     height_mm=_LETTER_MM, bold=True, anchor="end")
            )  # fmt: skip
            marks.append(Text(layer="moves", at=(x + _DATE_MM, y), text=text, height_mm=_LETTER_MM))
        return marks

    return _Block(_HEAD_MM + deep * _LIST_MM, draw)


def _sheet(plan: YearPlan, blocks: Sequence[_Block], wide: float, high: float, which: str) -> Scene:
    left, top = BORDER_MM + _PAD, high - BORDER_MM - _PAD
    days = f"{day_words(plan.starts_on)} to {day_words(plan.ends_on)}"
    title = f"{plan.yard}, who lives where"
    edge = BORDER_MM
    marks: list[Mark] = [
        Polygon(layer="sheet", pen="medium", points=(
            (edge, edge), (wide - edge, edge), (wide - edge, high - edge), (edge, high - edge),
        )),
        Text(layer="sheet", at=(left, top - 3), text=title, height_mm=5.5, bold=True),
        Text(layer="sheet", at=(wide - left, top - 3), text=f"{days}{which}", height_mm=3.5,
             anchor="end"),
    ]  # fmt: skip
    at = top - _TITLE_MM
    for block in blocks:
        marks += block.draw(at)
        at -= block.high_mm + _GAP_MM
    marks += _foot(left, edge + _PAD, wide - left)
    housed = len({stay.bird for stay in plan.stays})
    return Scene(
        name="year",
        title=f"Year plan, {days}{which}",
        description=(
            f"{housed} birds in {len(plan.quarters)} quarters, {len(plan.moves)} moves, "
            f"{sum(span.kind == 'clean' for span in plan.shut)} cleanings."
        ),
        scale=1,
        marks=tuple(marks),
        sheet=Box(0, 0, wide, high),
    )


def _foot(left: float, bottom: float, right: float) -> list[Mark]:
    marks: list[Mark] = [
        Text(layer="legend", at=(left, bottom + 1), text=CAUTION, height_mm=2.1),
        Text(layer="legend", at=(right, bottom + 1), text="Weeks numbered by ISO 8601",
             height_mm=2.1, anchor="end"),
    ]  # fmt: skip
    x, y = left, bottom + 6.5
    for kind, (fill, hatch) in BAR_LOOKS.items():
        corners = ((x, y - 1.8), (x + 9, y - 1.8), (x + 9, y + 1.8), (x, y + 1.8))
        marks.append(Polygon(layer="legend", pen="medium", points=corners, fill=fill, hatch=hatch))
        marks.append(Text(layer="legend", at=(x + 10.5, y), text=kind, height_mm=_LETTER_MM))
        x += 14.5 + words_mm(kind, _LETTER_MM)
    for kind in WINDOW_MARKS:
        if kind == "sick":
            continue
        marks += window_line(kind, x, x + 10, y)
        marks.append(Text(layer="legend", at=(x + 11.5, y), text=kind, height_mm=_LETTER_MM))
        x += 15.5 + words_mm(kind, _LETTER_MM)
    return marks
