"""Rows of a wall chart: what each bird, or each quarters, does over the days.

What a bar means is told by its pattern and its words, for the chart hangs on a wall as it comes
from a black and white printer.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from mewswright.drawing.lettering import text_width
from mewswright.drawing.scene import Dash, Fill, Hatch, Line, Mark, Polygon, Text
from mewswright.drawing.year_time import TimeAxis, ruled
from mewswright.year.plan import YearPlan, told

BAR_LOOKS: Mapping[str, tuple[Fill, Hatch]] = {
    "loose": ("paper", "none"),
    "tethered": ("paper", "diagonal"),
    "clean": ("paper", "gravel"),
    "rest": ("paper", "slats"),
    "closed": ("shade", "mesh"),
}
WINDOW_MARKS: Mapping[str, str] = {"moult": "m", "breeding": "b", "isolation": "i", "sick": "s"}
_DASHES: Mapping[str, Dash] = {"moult": "solid", "breeding": "dashed", "isolation": "dotted"}
_AGAIN_MM = 70.0  # a longer bar says its words again
_EDGE_MM = 0.45  # air over and under a bar
_LINE_MM = 1.5  # room of a window's line under the bars
_LETTERS_MM = (2.5, 2.1, 1.8)  # a bar's words are set in the largest that fits
# An SVG may be shown in another face than it was laid out for, and that may be wider.
_WIDER = 1.2


@dataclass(frozen=True)
class Bar:
    """A stretch of days in a row."""

    kind: str  # a key of BAR_LOOKS
    first: date
    last: date
    words: tuple[str, ...]  # long to short: the first that fits is written
    title: str


@dataclass(frozen=True)
class Row:
    """One row: its name, its bars, and the times of the year that matter to it."""

    name: str
    code: str
    item: str
    bars: tuple[Bar, ...]
    windows: tuple[tuple[str, date, date], ...] = ()


def codes_of(plan: YearPlan) -> dict[str, str]:
    """A number for each quarters, in their order: it stands for a name that does not fit."""
    return {name: str(i + 1) for i, name in enumerate(plan.quarters)}


def bird_rows(plan: YearPlan) -> tuple[Row, ...]:
    """A row for each bird: where it lives when."""
    codes = codes_of(plan)
    rows = []
    for bird in plan.birds:
        bars = tuple(
            Bar(
                s.mode, s.starts_on, s.ends_on, (s.quarters, codes.get(s.quarters, "")),
                f"{bird}: {s.quarters}, {s.mode}, {s.starts_on} to {s.ends_on}",
            )
            for s in plan.of_bird(bird)
        )  # fmt: skip
        windows = tuple((w.kind, w.starts_on, w.ends_on) for w in plan.windows if w.who == bird)
        rows.append(Row(bird, "", f"bird:{bird}", bars, windows))
    return tuple(rows)


def quarters_rows(plan: YearPlan) -> tuple[Row, ...]:
    """A row for each quarters: who lives there when, and when it is empty on purpose."""
    codes = codes_of(plan)
    shared: dict[tuple[str, str, date, date], list[str]] = {}
    for bird in plan.birds:
        for s in plan.of_bird(bird):
            shared.setdefault((s.quarters, s.mode, s.starts_on, s.ends_on), []).append(bird)
    rows = []
    for name in plan.quarters:
        bars = [
            Bar(mode, first, last, _name_words(birds),
                f"{name}: {told(birds)}, {mode}, {first} to {last}")
            for (where, mode, first, last), birds in shared.items()
            if where == name
        ]  # fmt: skip
        bars += [
            Bar(span.kind, span.starts_on, span.ends_on, (span.kind,),
                f"{name}: {span.kind}, {span.starts_on} to {span.ends_on}")
            for span in plan.shut
            if span.who == name
        ]  # fmt: skip
        bars.sort(key=lambda bar: bar.first)
        rows.append(Row(name, codes[name], f"quarters:{name}", tuple(bars)))
    return tuple(rows)


def _name_words(birds: Sequence[str]) -> tuple[str, ...]:
    words = told(birds)
    return (words, " + ".join(name[:3] for name in birds), birds[0][:2])


def draw_rows(
    rows: Sequence[Row], axis: TimeAxis, left: float, top: float, row_mm: float
) -> list[Mark]:
    """Draw rows under each other, with their names at the left.

    Args:
        rows: The rows.
        axis: The days.
        left: Left edge of the names [mm].
        top: Upper edge of the first row [mm].
        row_mm: Height of a row [mm].
    """
    bottom = top - len(rows) * row_mm
    marks = ruled(axis, top, bottom)
    for i, row in enumerate(rows):
        high = top - i * row_mm
        marks.append(Line(layer="rows", pen="hair", a=(left, high), b=(axis.right, high)))
        marks += _name(row, left, axis.left, high - row_mm / 2, row_mm)
        strip = _LINE_MM if row.windows else 0.0
        for bar in row.bars:
            if axis.shows(bar.first, bar.last):
                marks += _bar(bar, axis, high - _EDGE_MM, high - row_mm + _EDGE_MM + strip)
        if row.windows:
            marks.append(_quiet_strip(axis, high - row_mm))
        for kind, first, last in row.windows:
            if axis.shows(first, last):
                marks += _window(kind, row, axis, (first, last), high - row_mm + 0.9)
    for y in (top, bottom):
        marks.append(Line(layer="rows", pen="medium", a=(left, y), b=(axis.right, y)))
    for x in (axis.left, axis.right):
        marks.append(Line(layer="rows", pen="medium", a=(x, top), b=(x, bottom)))
    return marks


def words_mm(text: str, height_mm: float) -> float:
    """Room for words, in whatever face they come to be shown [mm]."""
    return text_width(text, height_mm) * _WIDER


def fitting(words: Sequence[str], room_mm: float, high_mm: float) -> tuple[str, float] | None:
    """The longest words that fit, and their height [mm]; None where not even the last does."""
    for text in words:
        for height in _LETTERS_MM:
            if height <= high_mm and text and words_mm(text, height) <= room_mm:
                return text, height
    return None


def shortened(text: str, room_mm: float, height_mm: float) -> str:
    """A name cut off with an ellipsis where it is too long."""
    if words_mm(text, height_mm) <= room_mm:
        return text
    while text and words_mm(f"{text}…", height_mm) > room_mm:
        text = text[:-1]
    return f"{text.rstrip()}…"


def _quiet_strip(axis: TimeAxis, bottom: float) -> Mark:
    """Paper over the weeks' lines, where they would make a ladder of a window's line."""
    low, high = bottom + 0.1, bottom + _LINE_MM + _EDGE_MM
    corners = ((axis.left, low), (axis.right, low), (axis.right, high), (axis.left, high))
    return Polygon(layer="windows", points=corners, fill="paper", outlined=False)


def _name(row: Row, left: float, right: float, middle: float, row_mm: float) -> list[Mark]:
    height = min(2.8, row_mm * 0.62)
    code_mm = 5.5 if row.code else 0.0
    text = shortened(row.name, right - left - code_mm - 2.5, height)
    marks: list[Mark] = [
        Text(layer="names", item=row.item, title=row.name, at=(left + code_mm + 1, middle),
             text=text, height_mm=height)
    ]  # fmt: skip
    if row.code:
        marks.append(
            Text(layer="names", item=row.item, at=(left + code_mm, middle), text=row.code,
                 height_mm=height, anchor="end", bold=True)
        )  # fmt: skip
    return marks


def _bar(bar: Bar, axis: TimeAxis, top: float, bottom: float) -> list[Mark]:
    left, right = axis.start_of(bar.first), axis.end_of(bar.last)
    fill, hatch = BAR_LOOKS[bar.kind]
    corners = ((left, bottom), (right, bottom), (right, top), (left, top))
    item = f"stay:{bar.title}"
    marks: list[Mark] = [
        Polygon(layer="bars", item=item, title=bar.title, points=corners,
                fill=fill, hatch=hatch)
    ]  # fmt: skip
    found = fitting(bar.words, right - left - 1.0, top - bottom)
    if found is not None:
        text, height = found
        times = max(1, round((right - left) / max(_AGAIN_MM, 2 * words_mm(text, height))))
        for i in range(times):  # a screen may show a part of a long bar alone
            x = left + (i + 0.5) / times * (right - left)
            marks.append(
                Text(layer="bars", item=item, at=(x, (top + bottom) / 2), text=text,
                     height_mm=height, anchor="middle", boxed=hatch != "none")
            )  # fmt: skip
    return marks


def _window(kind: str, row: Row, axis: TimeAxis, days: tuple[date, date], y: float) -> list[Mark]:
    left, right = axis.start_of(days[0]), axis.end_of(days[1])
    return window_line(
        kind, left, right, y, row.item, f"{row.name}: {kind}, {days[0]} to {days[1]}"
    )


def window_line(
    kind: str, left: float, right: float, y: float, item: str = "", title: str = ""
) -> list[Mark]:
    """A heavy line under the days of a window, with its letter where it begins."""
    letter = WINDOW_MARKS.get(kind, kind[:1])
    marks: list[Mark] = [
        Line(layer="windows", item=item, title=title, pen="medium",
             dash=_DASHES.get(kind, "centre"), a=(min(left + 2.2, right), y), b=(right, y))
    ]  # fmt: skip
    marks.append(
        Text(layer="windows", item=item, at=(left + 1.1, y), text=letter, height_mm=1.9,
             anchor="middle", bold=True)
    )  # fmt: skip
    return marks
