"""The perches of one unit: where each stands, how high, how thick, and the wings over it.

A plan for who hangs the perches: middles from the clear left and front wall, ends from the
same two, and a table of heights and sizes. Millimetres.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import isfinite

from mewswright.build.circle import point_distance
from mewswright.build.parts import BuiltFrame
from mewswright.build.room import roof_room_mm
from mewswright.drawing.fitting_marks import fitting_title, item_of, plan_marks, top_mm
from mewswright.drawing.paper import Paper, at_scale
from mewswright.drawing.placing import Lettering, avoid_marks
from mewswright.drawing.plan import FreeCircle, free_circle_marks, wall_marks
from mewswright.drawing.row_marks import shared_walls
from mewswright.drawing.rows import Rows, notes_below
from mewswright.drawing.scene import (
    Circle,
    Mark,
    Point,
    Polygon,
    Scene,
    box_of,
    extent,
    whole,
)
from mewswright.drawing.table import table
from mewswright.model.fitting import Perch, Upright
from mewswright.model.quarters import Quarters, perch_ends_mm
from mewswright.model.yard import Yard

_HEAD = (
    "mark", "perch", "form", "left", "front", "top", "over", "long", "thick", "turn",
    "wings", "bird",
)  # fmt: skip
_TABLE_MM = 10.0  # from the rows of dimensions to the table, on paper


@dataclass(frozen=True, slots=True)
class WingCircle:
    """What the open wings of a perch's widest user sweep about its middle [mm]."""

    perch: str
    radius_mm: float
    bird: str


def perch_plan(
    yard: Yard, quarters: Quarters, frame: BuiltFrame | None, wings: Sequence[WingCircle] = (),
    circles: Sequence[FreeCircle] = (), *, scale: int | None = None, paper: Paper = "A3",
) -> Scene:  # fmt: skip
    """Draw the perches of a unit from above, with a table of their heights.

    Args:
        yard: The yard.
        quarters: The unit.
        frame: Its parts, for the perches' marks; None numbers them.
        wings: Circles of open wings, one a perch at the most.
        circles: Free circles of tethered birds.
        scale: N of 1:N; the largest that fits on the paper, if blank.
        paper: The paper.

    Returns:
        A scene named "perches" with items "perch:NAME", "wings:NAME", "circle:BIRD".
    """
    least = (quarters.width_mm, quarters.depth_mm)
    return at_scale(
        lambda n: _laid_out(yard, quarters, frame, wings, circles, n), scale, paper, least
    )


def perch_mark(perch: Perch, quarters: Quarters, frame: BuiltFrame | None) -> str:
    """Give the mark of a perch in the take-off, or its place in the file's order."""
    for part in frame.parts if frame is not None else ():
        if part.kind == "perch" and part.what == f"{perch.form} perch {perch.name!r}":
            return part.mark
    return f"{quarters.perches.index(perch) + 1}"


def over_mm(perch: Perch, quarters: Quarters) -> float | None:
    """Give the clear height over a perch, to rafters or ridge beam, as P104; None: open sky."""
    over = roof_room_mm(quarters, perch)
    return over if isfinite(over) else None


def perch_rows(
    quarters: Quarters, frame: BuiltFrame | None, wings: Sequence[WingCircle]
) -> list[tuple[str, ...]]:
    """Give the cells of the table, one row a perch, in the file's order."""
    widest = {circle.perch: circle for circle in wings}
    rows: list[tuple[str, ...]] = []
    for perch in quarters.perches:
        over, circle = over_mm(perch, quarters), widest.get(perch.name)
        thick = perch.diameter_mm or perch.width_mm or 0
        rows.append(
            (
                perch_mark(perch, quarters, frame), perch.name, perch.form,
                whole(perch.at_mm[0]), whole(perch.at_mm[1]), whole(perch.height_mm),
                "" if over is None else whole(over),
                "" if perch.length_mm is None else whole(perch.length_mm),
                whole(thick) if perch.width_mm and not perch.diameter_mm else f"Ø{whole(thick)}",
                "" if perch.length_mm is None else f"{perch.turn_deg:g}°",
                "" if circle is None else whole(circle.radius_mm),
                "" if circle is None else circle.bird,
            )
        )  # fmt: skip
    return rows


def _laid_out(
    yard: Yard, quarters: Quarters, frame: BuiltFrame | None, wings: Sequence[WingCircle],
    circles: Sequence[FreeCircle], scale: int,
) -> Scene:  # fmt: skip
    w, d = quarters.width_mm, quarters.depth_mm
    wall = frame.wall_mm if frame is not None else 0.0
    letters = Lettering(scale)
    marks: list[Mark] = [
        Polygon(
            layer="floor", pen="hair", points=((0, 0), (w, 0), (w, d), (0, d)), item="floor:all",
            fill="paper", title="Clear inside",
        ),
        *wall_marks(quarters, wall),
        *(shared_walls(yard, quarters, frame) if frame is not None else ()),
    ]  # fmt: skip
    others = [f for f in quarters.fitting if isinstance(f, Perch | Upright)]
    for fitting in sorted(others, key=top_mm):
        marks += plan_marks(fitting, quarters, scale)
    rows = Rows(letters, box_of(p for m in marks for p in extent(m, scale)))
    _dimension(rows, quarters)
    rows.finish()
    swept = _wing_marks(quarters, wings)
    avoid_marks(letters, [*rows.marks, *marks[1:], *swept])
    named: list[Mark] = []
    for perch in quarters.perches:
        named += letters.label(
            perch.at_mm, f"{perch_mark(perch, quarters, frame)}, top {whole(perch.height_mm)}",
            item=item_of(perch), title=fitting_title(perch), gap_mm=2.5, prefer=(90, 270),
            bold=True,
        )  # fmt: skip
    for circle in circles:
        swept += free_circle_marks(circle, letters)
    reach = box_of(p for m in [*rows.marks, *marks, *swept, *named] for p in extent(m, scale))
    listed = table(
        letters, reach.right + _TABLE_MM * scale, rows.drawing.top, _HEAD,
        perch_rows(quarters, frame, wings), items=[item_of(p) for p in quarters.perches],
    )  # fmt: skip
    box = rows.box
    notes = notes_below(letters, box.left, min(box.bottom, reach.bottom), _notes(quarters, wings))
    return Scene(
        name="perches",
        title=f"Perches of {quarters.name}",
        description=(
            f"From above, front at the bottom: {len(quarters.perches)} perches with their heights "
            "above the finished floor and the circle of open wings about each."
        ),
        scale=scale,
        marks=(*marks[:1], *rows.marks, *swept, *marks[1:], *named, *listed, *notes),
        north_deg=(180 - quarters.facing_deg) % 360,
    )


def _wing_marks(quarters: Quarters, wings: Sequence[WingCircle]) -> list[Mark]:
    places = {perch.name: perch.at_mm for perch in quarters.perches}
    return [
        Circle(
            layer="circles", pen="hair", dash="dotted", centre=places[circle.perch],
            radius=circle.radius_mm, item=f"wings:{circle.perch}",
            title=f"Open wings of {circle.bird} on {circle.perch}: {whole(circle.radius_mm)} mm",
        )
        for circle in wings
        if circle.perch in places
    ]  # fmt: skip


def _dimension(rows: Rows, quarters: Quarters) -> None:
    w, d = quarters.width_mm, quarters.depth_mm
    perches = quarters.perches
    spots: list[Point] = [perch.at_mm for perch in perches]
    items, titles = [item_of(p) for p in perches], [fitting_title(p) for p in perches]
    rows.running("bottom", "middles, from left", 0, spots, items=items, titles=titles)
    rows.running("left", "middles, from front", 0, spots, items=items, titles=titles)
    ends: list[Point] = [end for perch in perches for end in perch_ends_mm(perch)]
    # An end level with a middle adds nothing to the row of middles.
    along = [e for e in ends if all(abs(e[0] - s[0]) > 1 for s in spots)]
    into = [e for e in ends if all(abs(e[1] - s[1]) > 1 for s in spots)]
    rows.running("top", "ends, from left", 0, along)
    rows.running("right", "ends, from front", 0, into)
    rows.single("bottom", (0, 0), (w, 0), prefix="clear ", item="floor:all", title="Clear width")
    rows.single("left", (0, 0), (0, d), prefix="clear ", item="floor:all", title="Clear depth")


def _notes(quarters: Quarters, wings: Sequence[WingCircle]) -> list[str]:
    lines = [
        "left, front: from the clear inside of the left and front wall to the middle. top: top "
        "of the perch, where the foot is, above the finished floor. over: from there straight "
        "up to the rafters, or to a ridge beam that hangs lower.",
        "thick: Ø over its cover, or the width of a flat perch. turn: counter-clockwise from "
        "parallel to the front.",
    ]
    if wings:
        lines.append(
            "wings: half the span of the widest bird that uses it, the dotted circle about its "
            "middle. The checks P102 to P104 say what room they ask."
        )
    else:
        lines.append("No bird is written down for these perches, so no circle of wings is drawn.")
    close = [
        f"{a.name} and {b.name} {whole(point_distance(a.at_mm, b.at_mm))}"
        for i, a in enumerate(quarters.perches)
        for b in quarters.perches[i + 1 :]
    ]
    if close:
        lines.append(f"Middle to middle in plan: {', '.join(close)}.")
    return lines
