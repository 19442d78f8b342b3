"""Holes, short posts and the height of every footing above the ground, on a foundation plan."""

from collections.abc import Iterator, Sequence

from mewswright.build.ground_line import GroundLine, ground_line
from mewswright.build.parts import BuiltFrame, Part
from mewswright.build.shell import shell_of
from mewswright.drawing.outside import Outside
from mewswright.drawing.placing import Lettering
from mewswright.drawing.projection import middle
from mewswright.drawing.scene import Circle, Line, Mark, Point, whole
from mewswright.drawing.timber import Piece, part_title
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard

BURIED = ("concrete round a post", "gravel under a post")  # drawn as one round hole
HELD = ("short post in concrete", "leg on a pad", "paving slab as a pad")


def ground_of(yard: Yard, quarters: Quarters) -> GroundLine:
    """Give the ground under quarters."""
    return ground_line(yard, shell_of(quarters))


def base_words(quarters: Quarters) -> str:
    """Give what it stands on, in words."""
    return quarters.frame.base.replace("_", " ")


def above_ground(base: Sequence[Piece]) -> list[Piece]:
    """Give what of a base is drawn piece by piece, the lowest first."""
    kept = [p for p in base if p.part.what not in BURIED]
    return sorted(kept, key=lambda p: max(z for *_, z in p.corners))


def is_below(part: Part) -> bool:
    """A course that the one above hides: told in the notes, not marked on the plan."""
    return ", course " in part.what


def courses_notes(base: Sequence[Piece]) -> list[str]:
    """List the courses that lie under the uppermost."""
    parts = {p.part.mark: p.part for p in base if is_below(p.part)}
    if not parts:
        return []
    told = "; ".join(
        f"{part.mark} {part.count} × {whole(part.length_mm)}, {part.place}, "
        f"{part.what.rpartition(', ')[2]}"
        for part in parts.values()
    )
    return [f"Under the uppermost course, pinned through to the one above: {told}."]


def footing_spots(base: Sequence[Piece]) -> list[Point]:
    """Give the middles of short posts, legs and pads, each place once."""
    spots = [middle(p.points) for p in base if p.part.what in HELD]
    return list({(round(x), round(y)): (x, y) for x, y in spots}.values())


def hole_marks(frame: BuiltFrame) -> Iterator[Mark]:
    """Draw each hole round its short post."""
    concrete = _part(frame, BURIED[0])
    if concrete is None:
        return
    for part in frame.parts:
        if part.what == HELD[0]:
            for stick in part.sticks:
                x, y, _ = stick.start_mm
                yield Circle(
                    layer="base", centre=(x, y), radius=concrete.width_mm / 2, fill="ground",
                    pen="medium", item=f"part:{concrete.mark}", title=part_title(concrete),
                )  # fmt: skip


def footing_names(
    frame: BuiltFrame, base: Sequence[Piece], ground: GroundLine, letters: Lettering
) -> list[Mark]:
    """Write at each footing how high its top stands above the ground there, and the holes' mark."""
    marks: list[Mark] = []
    spots = footing_spots(base)
    if not spots or (ground.is_plain and _part(frame, BURIED[0]) is None):
        return marks
    concrete, gravel = (_part(frame, what) for what in BURIED)
    deep = sum(part.length_mm for part in (concrete, gravel) if part is not None)
    for spot in spots:
        up = f"up {whole(ground.below_mm(*spot))}"
        marks += letters.label(
            spot, f"{up}, hole {whole(deep)} deep" if deep else up, item="base:all", gap_mm=2.5,
            title="Top of this footing above the ground, at its middle"
            + (", and the depth of its hole below the ground" if deep else ""),
            layer="setting-out",
        )  # fmt: skip
    holes = [part for what in BURIED if (part := _part(frame, what)) is not None]
    if holes:
        words = ", ".join(part.mark for part in holes)
        marks += letters.label(
            spots[0], words, item=f"part:{holes[0].mark}", title=part_title(holes[0]),
            layer="part-marks", css="part-mark", gap_mm=2.5,
        )  # fmt: skip
    return marks


def _part(frame: BuiltFrame, what: str) -> Part | None:
    return next((part for part in frame.parts if part.what == what), None)


def level_notes(ground: GroundLine, corners: str) -> list[str]:
    """Say the levels of the ground at the outer corners, and how they are set out."""
    if ground.is_plain:
        return []
    levels = ", ".join(
        f"{name} {whole(ground.below_mm(*spot))}"
        for name, spot in zip(corners, ground.corners_mm, strict=True)
    )
    return [
        f"Ground below the finished floor: {levels}. Level from the highest corner by a water "
        "level or a laser, and mark the floor on a peg at each corner; one even slope is taken, "
        "so measure what is there."
    ]


def ground_mark(yard: Yard, view: Outside, wall_mm: float) -> Mark:
    """Draw the ground along a side, at the outer face of the frame."""
    ground = ground_of(yard, view.quarters)
    ends = []
    for u in (-wall_mm, view.run_mm + wall_mm):
        along = view.along_mm(u)
        w, d = view.quarters.width_mm, view.quarters.depth_mm
        spot = {
            "front": (along, -wall_mm), "back": (along, d + wall_mm),
            "left": (-wall_mm, along), "right": (w + wall_mm, along),
        }[view.side]  # fmt: skip
        ends.append((u, -ground.below_mm(*spot)))
    (a, za), (b, zb) = ends
    slope, out = (zb - za) / (b - a), 300.0
    return Line(
        layer="floor", pen="medium", dash="dashed", item="ground:all", title="Ground",
        a=(a - out, za - slope * out), b=(b + out, zb + slope * out),
    )  # fmt: skip
