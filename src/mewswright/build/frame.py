"""The frame of one timber unit under a monopitch or duopitch roof, set out in place.

Agreements, all told in `BuiltFrame.assumptions`: timber stands outside the clear inside
sizes; the underside of the rafters is the ceiling; the underside of the sole plates is
at the finished floor; overhangs count from the outer face of the frame. Sizes are set
out, not checked for strength.
"""

from collections import deque

from mewswright.build.base import base, floor
from mewswright.build.bays import split
from mewswright.build.boarding import boarding
from mewswright.build.fitments import fitments
from mewswright.build.ground_line import ground_line
from mewswright.build.ground_words import ground_words
from mewswright.build.infill import infill, with_rolls
from mewswright.build.longest import longest_mm
from mewswright.build.openings import doors_without_place
from mewswright.build.parts import BuiltFrame
from mewswright.build.pieces import Piece, parts_of
from mewswright.build.rafters import blocking, packings, rafter_ends_mm, rafters, roof_of
from mewswright.build.ridge import ridge_assumptions
from mewswright.build.ridge_parts import ridge_pieces
from mewswright.build.roofing import roofing
from mewswright.build.row import row_named, shared_walls_mm, shell_in
from mewswright.build.shell import (
    PACKING_UP_TO_DEG,
    Shell,
    breadth_depth_mm,
    head_mm,
    walls_of,
)
from mewswright.build.walls import BAY_MM, NOGGING_ROWS_MM, WallFrame
from mewswright.model.quarters import Frame, Quarters
from mewswright.model.yard import Yard

KEPT = 8  # units whose framed walls are kept: one report asks for the same ones ten times
BRACING = frozenset({
    "anchor", "anchor_count", "anchor_tested_kn", "lining", "lining_nail_mm", "brace",
    "brace_leg_mm",
})  # fmt: skip
HELD = BRACING | {"hole_mm"}  # holes of anchors; those of short posts are their base


def built_frame(yard: Yard, quarters: Quarters, *, corridor: bool = True) -> BuiltFrame:
    """Set out every part of a unit but its fixings.

    Args:
        yard: For doors, and for the longest timber that can be bought.
        quarters: The unit.
        corridor: False leaves out the corridor behind a row; marks stay as they are with it.

    Returns:
        The parts, with the place of each piece.

    Raises:
        Problem: For a pitch, or for a material that the handbook does not know.
    """
    shell = shell_in(yard, quarters)
    row = row_named(yard, quarters.name)
    if row is None:
        pieces = unit_pieces(yard, shell)
    else:
        from mewswright.build.row_frame import row_pieces  # it is made of units

        pieces = row_pieces(yard, row, quarters)
    from mewswright.build.corridor import (  # it is made of units
        corridor_behind,
        corridor_pieces,
        corridor_words,
        ledger_bolts_mm,
    )

    behind = corridor_behind(yard, row) if corridor and row is not None else None
    if behind is not None:
        pieces += corridor_pieces(behind)
    leant_on = next((row for row in yard.row if quarters.name in row.leaning), None)
    walls = framed_walls(yard, shell)
    front, back = rafter_ends_mm(shell)
    side = -shell.wall_mm - roof_of(shell).overhang_side_mm
    return BuiltFrame(
        quarters=quarters.name,
        parts=parts_of(with_rolls(pieces)),
        outer_width_mm=shell.outer_width_mm,
        outer_depth_mm=shell.outer_depth_mm,
        wall_mm=shell.wall_mm,
        roof_pitch_deg=shell.slopes[0].pitch_deg,
        roof_front_edge_mm=(side, front, shell.ceiling_mm(front)),
        roof_back_edge_mm=(side, back, shell.ceiling_mm(back)),
        roof_ridge_mm=None if shell.ridge_mm is None else (side, *shell.ridge_mm),
        assumptions=(
            *_assumptions(yard, shell, walls), *(corridor_words(behind) if behind else ()),
        ),
        shared=tuple(join.side for join in shell.joins),
        between_mm=shared_walls_mm(yard, row) if row is not None else (),
        corridor_from_mm=behind.behind_mm if behind else None,
        ledger_bolts_mm=ledger_bolts_mm(yard, leant_on) if leant_on else (),
    )  # fmt: skip


def unit_pieces(yard: Yard, shell: Shell, *, roofed: bool = True) -> list[Piece]:
    """Set out the pieces of one unit, in the order of building.

    Args:
        yard: For doors and stock.
        shell: The unit.
        roofed: False leaves out all from the rafters up.
    """
    roofed = roofed and shell.quarters.has_roof
    walls = framed_walls(yard, shell)
    pieces = [piece for wall in walls for piece in wall.pieces]
    if roofed:
        pieces += ridge_pieces(shell, longest_mm(yard, shell.quarters.frame.ridge))
        pieces += rafters(shell)
        pieces += packings(shell)
        pieces += blocking(shell)
    for wall in walls:
        pieces += infill(wall)
    pieces += boarding(walls)
    if roofed:
        pieces += roofing(shell)
    ground = ground_line(yard, shell)
    pieces += base(yard, shell, walls, ground)
    pieces += floor(shell, ground)
    pieces += fitments(yard, shell)
    return pieces


def roof_frame(shell: Shell) -> list[Piece]:
    """Rafters, what lies between and under them, and all that lies on them."""
    return [*rafters(shell), *packings(shell), *blocking(shell), *roofing(shell)]


def framed_walls(yard: Yard, shell: Shell) -> tuple[WallFrame, ...]:
    """Frame the four walls; those of the units that were framed last are kept."""
    kept = next((walls for asked, walls in tuple(_framed) if asked.is_of(yard, shell)), None)
    if kept is not None:
        return kept
    frame = shell.quarters.frame
    walls = tuple(
        split(yard, wall, longest_mm(yard, frame.sole), longest_mm(yard, frame.head))
        for wall in walls_of(shell)
    )
    _framed.append((_Asked(yard, shell), walls))
    return walls


def geometry_of(frame: Frame) -> tuple[object, ...]:
    """What of a frame decides where its pieces stand: all but its bracing and its anchors."""
    left_out = BRACING if frame.base == "posts_in_concrete" else HELD
    return tuple(value for key, value in frame if key not in left_out)


class _Asked:
    """Walls that were asked for: of which yard and shell, bracing and anchors apart."""

    def __init__(self, yard: Yard, shell: Shell) -> None:
        self.yard, self.joins, self.rafters_mm = yard, shell.joins, shell.rafters_mm
        self.unit = _but_frame(shell.quarters)
        self.geometry = geometry_of(shell.quarters.frame)

    def is_of(self, yard: Yard, shell: Shell) -> bool:
        unit = _but_frame(shell.quarters)
        return (
            self.yard is yard
            and all(a is b for a, b in zip(self.unit, unit, strict=True))
            and self.geometry == geometry_of(shell.quarters.frame)
            and (self.joins, self.rafters_mm) == (shell.joins, shell.rafters_mm)
        )


def _but_frame(quarters: Quarters) -> tuple[object, ...]:
    return tuple(value for key, value in quarters if key != "frame")


_framed: deque[tuple[_Asked, tuple[WallFrame, ...]]] = deque(maxlen=KEPT)


def _assumptions(yard: Yard, shell: Shell, walls: tuple[WallFrame, ...]) -> tuple[str, ...]:
    frame = shell.quarters.frame
    roof = roof_of(shell)
    said = [
        "all timber stands outside the clear width and depth; the underside of the rafters is "
        "the clear height",
        "the underside of the sole plates lies at the finished floor",
        "the front and back walls run through and the side walls stand between them; each wall "
        "is a panel with its own end uprights",
    ]
    if any(wall.wall.face.infill != "boarded" for wall in walls):
        if frame.post_count is None:
            said.append(
                f"posts of an open face stand at most {BAY_MM:.0f} mm apart, middle to middle "
                "(our judgement)"
            )
        else:
            said.append(f"the front has {frame.post_count} posts, as the yard file says")
    said.append(
        f"rows of noggings and rails stand at most {NOGGING_ROWS_MM:.0f} mm apart (our judgement)"
    )
    if shell.quarters.has_roof:
        said.append("overhangs count from the outer face of the frame")
        if any(shell.seat_mm(slope) for slope in shell.slopes):
            said.append(
                f"rafters are notched over the plates, for the pitch is over "
                f"{PACKING_UP_TO_DEG:.0f} deg"
            )
        if any(slope.rise and not shell.seat_mm(slope) for slope in shell.slopes):
            said.append(
                "rafters sit on tapered packings: under "
                f"{PACKING_UP_TO_DEG:.0f} deg that is better than a notch"
            )
        said += ridge_assumptions(shell)
    if roof.covered_share < 1:
        said.append("rafters run from front to back, under the covered and the open part alike")
    depths = {key: breadth_depth_mm(getattr(frame, key))[1] for key in ("post", "stud", "sole")}
    depths["head"] = head_mm(frame)[1]
    if len(set(depths.values())) > 1:
        sizes = ", ".join(f"{key} {depth:g} mm" for key, depth in depths.items())
        said.append(
            f"timbers of the walls differ in depth ({sizes}); inner faces are flush and the "
            "boarding stands outside the deepest, on packings"
        )
    for join in shell.joins:
        if join.side == "front":
            said.append(f"it leans on the back wall of {join.other}, whose boards are its front")
            continue
        where = (
            f"it is framed, boarded and counted with {join.other}"
            if join.lent
            else f"it is framed, boarded and counted here; {join.other} leans on it"
        )
        said.append(f"the {join.side} wall is shared with {join.other}: {where}")
    if any(join.side != "front" for join in shell.joins):
        said.append(
            "the roof of a row is laid in one: the rafter over a shared wall is the left unit's, "
            "and decks meet on it"
        )
    for name in doors_without_place(yard, shell.quarters):
        said.append(f"no opening is framed for the {name}: give the door 'face' and 'at_mm'")
    said += ground_words(shell, ground_line(yard, shell))
    for wall in walls:
        said += wall.cautions
    return tuple(said)
