"""The rows of dimensions round a side section."""

from collections.abc import Sequence

from mewswright.build.parts import BuiltFrame
from mewswright.drawing.fitting_marks import fitting_title, item_of
from mewswright.drawing.front import Span
from mewswright.drawing.projection import middle, reach
from mewswright.drawing.rows import Rows
from mewswright.drawing.scene import Point
from mewswright.drawing.section_fittings import section_spot
from mewswright.drawing.timber import Piece
from mewswright.model.fitting import Hatch
from mewswright.model.quarters import Quarters


def section_rows(
    rows: Rows, quarters: Quarters, frame: BuiltFrame | None, behind: Sequence[Piece],
    openings: Sequence[Span],
) -> None:  # fmt: skip
    """Dimension a side section: fittings, openings, clear sizes, timber and roof.

    Args:
        rows: Takes the rows, still without any.
        quarters: The unit.
        frame: Its timber; None dimensions the room alone.
        behind: Timber of the wall that it looks at.
        openings: Two corners of each door in that wall.
    """
    assert quarters.front_height_mm is not None
    assert quarters.back_height_mm is not None
    d, zf, zb = quarters.depth_mm, quarters.front_height_mm, quarters.back_height_mm
    inside = [f for f in quarters.fitting if not isinstance(f, Hatch)]
    spots = [section_spot(f, quarters, "side") for f in inside]
    items, titles = [item_of(f) for f in inside], [fitting_title(f) for f in inside]
    rows.running("bottom", "fittings, from front", 0, spots, items=items, titles=titles)
    jambs: list[Point] = [(p[0], low[1]) for low, high in openings for p in (low, high)]
    rows.running("bottom", "door, from front", 0, jambs)
    rows.running("right", "fittings, from floor", 0, spots, items=items, titles=titles)
    sills: list[Point] = []
    for f in quarters.fitting:
        if isinstance(f, Hatch):
            y = section_spot(f, quarters, "side")[0]
            sills += [(y, f.sill_mm), (y, f.sill_mm + f.height_mm)]
    sills += [(low[0], z[1]) for low, high in openings for z in (low, high)]
    rows.running("right", "openings, from floor", 0, sills)
    rows.single("right", (d, 0), (d, zb), prefix="clear ", title="Back height")
    rows.single("left", (0, 0), (0, zf), prefix="clear ", title="Front height")
    if (ridge := quarters.ridge_mm) is not None:
        rows.single("right", (ridge[0], 0), ridge, prefix="ridge ", title="Height of the ridge")
        if frame is not None:
            beam = min(s.start_mm[2] - s.depth_mm / 2 for p in frame.parts if p.kind == "ridge"
                       for s in p.sticks)  # fmt: skip
            rows.single("right", (ridge[0], 0), (ridge[0], beam), prefix="under beam ",
                        title="Clear height under the ridge beam")  # fmt: skip
        rows.single("bottom", (0, 0), (ridge[0], 0), prefix="to the ridge ", title="Ridge")
    deep = quarters.floor.depth_mm
    if deep > 0:
        rows.single("right", (d, -deep), (d, 0), item="floor:all", title="Depth of the substrate")
    if frame is None:
        rows.single("bottom", (0, 0), (d, 0), prefix="clear ", title="Clear depth")
        return
    t = frame.wall_mm
    y0, y1 = -t, frame.outer_depth_mm - t
    studs = [p for p in behind if p.part.kind in ("stud", "post")]
    rows.running(
        "bottom", "timber, from outer front", -t, [middle(p.points) for p in studs], witness=False
    )
    rows.single("bottom", (0, 0), (d, 0), prefix="clear ", title="Clear depth")
    rows.single("bottom", (y0, 0), (y1, 0), prefix="outer ", title="Outer depth of the frame")
    front, back = frame.roof_front_edge_mm, frame.roof_back_edge_mm
    rows.roof(
        "top", ((front[1], front[2]), (back[1], back[2])), ((y0, zf), (y1, zb)), "roof, level "
    )
    level: list[Point] = [
        (y0, z)
        for p in behind
        if p.part.kind in ("sole", "nogging") and p.stick is not None
        if abs(p.stick.start_mm[2] - p.stick.end_mm[2]) < 1 and reach(p.corners, 1)[1] > 1
        for z in reach(p.corners, 2)
    ]
    rows.running("left", "left wall timber, from floor", 0, level, witness=False)
    rows.running(
        "left", "roof underside, from floor", 0, [(front[1], front[2]), (back[1], back[2])],
        witness=False,
    )  # fmt: skip
