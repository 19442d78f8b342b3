"""The year for a screen: birds by weeks over quarters by weeks, and where each row lies.

The page lets a keeper point at a stretch of a bird's row, so it must know which days and which
bird a place on the drawing stands for.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from mewswright.drawing.scene import Box, Mark, Polygon, Scene, Text
from mewswright.drawing.year_rows import Row, bird_rows, draw_rows, quarters_rows, words_mm
from mewswright.drawing.year_time import TimeAxis, head
from mewswright.year.plan import YearPlan

WIDE_MM = 300.0
ROW_MM = 7.5
_NAMES_MM = (24.0, 46.0)
_GAP_MM = 7.0
_EDGE_MM = 1.0


@dataclass(frozen=True)
class Pinned:
    """A stretch of a bird's row that the keeper locks or forbids."""

    bird: str
    kind: str  # "lock" or "forbid"
    first: date
    last: date
    title: str


@dataclass(frozen=True)
class YearScreen:
    """A drawing, and shares of its width and height that mean days and birds.

    Args:
        scene: The drawing.
        left: Where the first day begins, as a share of the width.
        right: Where the last day ends.
        rows: For each bird its name, and where its row begins and ends, as shares of the height.
    """

    scene: Scene
    left: float
    right: float
    rows: tuple[tuple[str, float, float], ...]


def year_screen(plan: YearPlan, pinned: Iterable[Pinned] = ()) -> YearScreen:
    """Draw a plan for a screen.

    Args:
        plan: The plan.
        pinned: Stretches that are locked or forbidden.
    """
    names = [*plan.birds, *plan.quarters]
    widest = max((words_mm(name, 2.8) for name in names), default=0.0) + 9.0
    left, right = _EDGE_MM, WIDE_MM - _EDGE_MM
    axis = TimeAxis(
        plan.starts_on, plan.ends_on, left + min(max(widest, _NAMES_MM[0]), _NAMES_MM[1]), right
    )
    marks: list[Mark] = []
    top = 0.0
    tops: list[float] = []
    for title, rows in (("Birds", bird_rows(plan)), ("Quarters", quarters_rows(plan))):
        marks += _block(title, rows, axis, left, top)
        tops.append(top - axis.head_mm)
        top -= axis.head_mm + len(rows) * ROW_MM + _GAP_MM
    marks += _pins(plan, pinned, axis, tops[0])
    high = -(top + _GAP_MM) + 2 * _EDGE_MM
    box = Box(0, top + _GAP_MM - _EDGE_MM, WIDE_MM, _EDGE_MM)
    scene = Scene(
        name="year",
        title="Who lives where, week by week",
        description=(
            f"{len(plan.birds)} birds and {len(plan.quarters)} quarters from {plan.starts_on} to "
            f"{plan.ends_on}; the same is in words below."
        ),
        scale=1,
        marks=tuple(marks),
        sheet=box,
    )
    return YearScreen(
        scene,
        axis.left / WIDE_MM,
        axis.right / WIDE_MM,
        tuple(
            (bird, (_EDGE_MM - tops[0] + i * ROW_MM) / high,
             (_EDGE_MM - tops[0] + (i + 1) * ROW_MM) / high)
            for i, bird in enumerate(plan.birds)
        ),
    )  # fmt: skip


def _block(
    title: str, rows: tuple[Row, ...], axis: TimeAxis, left: float, top: float
) -> list[Mark]:
    at = (left, top - axis.head_mm / 2)
    return [
        Text(layer="heads", at=at, text=title, height_mm=3.6, bold=True),
        *head(axis, top),
        *draw_rows(rows, axis, left, top - axis.head_mm, ROW_MM),
    ]


def _pins(plan: YearPlan, pinned: Iterable[Pinned], axis: TimeAxis, top: float) -> Iterable[Mark]:
    """A heavy frame round what is locked, a dashed one round what is forbidden."""
    for pin in pinned:
        if pin.bird not in plan.birds or not axis.shows(pin.first, pin.last):
            continue
        high = top - plan.birds.index(pin.bird) * ROW_MM
        low = high - ROW_MM
        left, right = axis.start_of(pin.first), axis.end_of(pin.last)
        corners = ((left, low), (right, low), (right, high), (left, high))
        yield Polygon(
            layer="pins", item=f"pin:{pin.title}", title=pin.title, pen="heavy",
            dash="solid" if pin.kind == "lock" else "dashed", points=corners, css="pinned",
        )  # fmt: skip
