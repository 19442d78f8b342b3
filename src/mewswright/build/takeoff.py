"""The take-off: every part of one unit with its fixings, and how it is set out."""

from collections.abc import Iterator, Sequence

from pydantic import BaseModel, ConfigDict

from mewswright.build.anchoring import anchored
from mewswright.build.bracing_parts import bracing_pieces, ridge_anchors, wall_anchors
from mewswright.build.coating import coats_of
from mewswright.build.corridor import corridor_behind, corridor_fixings
from mewswright.build.corridor_frame import corridor_as_one
from mewswright.build.fixings import (
    BOLTS_PER_CORNER,
    BRACKETS_PER_POST,
    NAILS_PER_BOARD_AND_STUD,
    STRAPS_PER_RAFTER,
    fixings,
)
from mewswright.build.floor_load import FloorLoad, floor_load
from mewswright.build.frame import built_frame, framed_walls
from mewswright.build.ground_line import ground_line
from mewswright.build.ground_words import ground_cautions
from mewswright.build.gutter_parts import gutter_pieces
from mewswright.build.gutter_words import gutter_assumptions, gutter_cautions
from mewswright.build.ironmongery import ironmongery
from mewswright.build.panels import WallPanel, joint_fixings, panel_words, panels_of
from mewswright.build.parts import BuiltFrame, Part
from mewswright.build.pieces import Piece, marked_after
from mewswright.build.rafters import rafter_middles_mm, slope_ends_mm
from mewswright.build.ridge import ridge_of
from mewswright.build.roof_sheets import too_flat
from mewswright.build.row import row_named, shell_in
from mewswright.build.row_units import standing_with
from mewswright.build.shell import Shell, Slope, diagonal_mm, rafter_length_mm
from mewswright.build.walls import WallFrame
from mewswright.handbook.coatings import coating
from mewswright.model.footing_keys import AUTO
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard

CAUTIONS = (
    "This is a first sizing, not a design for approval: the local code and a licensed engineer "
    "decide.",
    "Sections, joints and anchors are counted here and not checked for strength: see the check of "
    "the frame.",
    "A light unit with an open face lifts in wind: anchors are counted as the yard file has them, "
    "or as they are chosen to hold it; the check of the frame says whether they do.",
    "Treat every fresh cut in treated timber again with an end-grain preservative, let it dry, "
    "and keep it from the birds until it has.",
    "Measure what was delivered before sawing: sections vary by 2 to 6 mm from supplier to "
    "supplier, and stock ends may be split.",
    "Check the clear gap of bars and mesh with a gauge once it stands: a gap one bar too wide "
    "is a way out.",
)


class RidgeSetting(BaseModel):
    """The ridge of a duopitch and its back slope. Lengths are millimetres."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    at_mm: float  # behind the clear line of the front
    height_mm: float  # where the undersides of the rafters meet
    beam_under_mm: float
    beam_top_mm: float
    back_pitch_deg: float
    back_falls_one_in: float
    back_fall_mm: float  # from the ridge to the clear line of the back
    back_run_mm: float
    back_edge_mm: float
    back_length_mm: float


class SettingOut(BaseModel):
    """What a builder measures first. Lengths are millimetres."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    inner_diagonal_mm: float  # clear inside, corner to corner
    frame_diagonal_mm: float  # over the sole plates, corner to corner
    diagonals_agree_mm: float  # the two diagonals may differ by so much
    roof_pitch_deg: float  # positive: falls to the back
    roof_falls_one_in: float | None  # level run for a fall of one; None: level
    roof_fall_mm: float  # over the clear depth
    rafter_run_mm: float  # level, overhangs included
    rafter_edge_mm: float  # one edge, run / cos of the pitch
    rafter_length_mm: float  # long point to long point
    rafter_middles_mm: tuple[float, ...]  # along the front, from the left inner corner
    ridge: RidgeSetting | None = None  # of a duopitch; what stands above is its front slope


class TakeOff(BaseModel):
    """All parts of one unit, and what was assumed in counting them."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    yard: str
    quarters: str
    parts: tuple[Part, ...]
    frame: BuiltFrame
    panels: tuple[WallPanel, ...]
    setting_out: SettingOut
    floor_load: FloorLoad | None = None  # None: no loose floor
    assumptions: tuple[str, ...]
    cautions: tuple[str, ...]


def take_off(yard: Yard, quarters: Quarters) -> TakeOff:
    """Take off every part of a unit.

    Args:
        yard: The yard, for doors and stock.
        quarters: The unit.

    Raises:
        Problem: For a pitch, which has no frame, or a material that is not on record.
    """
    frame = built_frame(yard, quarters)
    walls = _walls(yard, quarters)
    further = [
        *further_pieces(yard, quarters, frame.parts),
        *gutter_pieces(yard, quarters),
    ]
    painted = [piece for piece in further if piece.kind == "finish"]
    fixed = marked_after(
        frame.parts,
        [p for p in (*braced_by(yard, quarters), *further) if p.amount or p.sawn],
    )
    assumptions = [*frame.assumptions]
    if quarters.has_roof and quarters.roof and quarters.roof.deck:
        assumptions.append("nobody walks on the roof: its deck is not checked for that")
    assumptions.append(
        f"{BOLTS_PER_CORNER} bolts a corner, {BRACKETS_PER_POST} brackets a post, "
        f"{STRAPS_PER_RAFTER} straps a rafter and {NAILS_PER_BOARD_AND_STUD} nails for each board "
        "and stud are counted (our judgement)"
    )
    if painted:
        paint = coating(quarters.frame.coating)
        assumptions.append(
            f"a litre of coating covers {paint.middle_m2_l:g} m2 in one coat, the middle of "
            f"{paint.low_m2_l:g} to {paint.high_m2_l:g} ({paint.source.locator}); what is hidden "
            "in a wall is not brushed"
        )
    if quarters.frame.base == "sleepers":
        plain = ground_line(yard, shell_in(yard, quarters)).is_plain
        lie = "firm, level, drained ground" if plain else "firm, drained ground, cut level in steps"
        assumptions.append(f"sleepers lie on {lie}; topsoil is stripped")
    assumptions += gutter_assumptions(fixed)
    shell = shell_in(yard, quarters)
    panels = panels_of(yard, quarters, frame.parts)
    assumptions += _anchor_words(yard, quarters)
    assumptions += panel_words(panels, sum(len(wall.joints_mm) for wall in walls))
    large = [f"{p.too_large[0].upper()}{p.too_large[1:]}." for p in panels if p.too_large]
    cautions = ground_cautions(yard, shell, ground_line(yard, shell))
    flattest = min(abs(slope.pitch_deg) for slope in shell.slopes)
    return TakeOff(
        yard=yard.yard.name,
        quarters=quarters.name,
        parts=frame.parts + fixed,
        frame=frame,
        panels=panels,
        setting_out=_setting_out(shell),
        floor_load=floor_load(yard, quarters, frame.parts),
        assumptions=tuple(assumptions),
        cautions=(
            *CAUTIONS,
            *cautions,
            *large,
            *too_flat(quarters, flattest),
            *gutter_cautions(yard, quarters, fixed),
        ),
    )


def _walls(yard: Yard, quarters: Quarters) -> list[WallFrame]:
    return [
        wall
        for one in standing_with(yard, quarters)
        for wall in framed_walls(one.yard, shell_in(one.yard, one.unit))
    ]


def braced_by(yard: Yard, quarters: Quarters) -> list[Piece]:
    """What braces a unit and holds it down; anchors that are left open are chosen."""
    held = [(anchored(seen, one).quarters, where) for seen, one, where in _held(yard, quarters)]
    whole = held[0][0] if held else quarters
    return [
        *(
            piece
            for one in standing_with(yard, quarters)
            for piece in one.placed(bracing_pieces(one.yard, shell_in(one.yard, one.unit)))
        ),
        *(piece for one, where in held for piece in wall_anchors(one.frame, where)),
        *ridge_anchors(shell_in(yard, whole)),  # of a row: under its one roof
    ]


def _held(yard: Yard, quarters: Quarters) -> Iterator[tuple[Yard, Quarters, str]]:
    """What is held down as one by anchors that are left open: a unit or a row, and its corridor."""
    if quarters.frame.anchor != AUTO:
        return
    yield yard, quarters, ""
    row = row_named(yard, quarters.name)
    if row is not None and corridor_behind(yard, row) is not None:
        yield *corridor_as_one(yard, row), "of the corridor"


def _anchor_words(yard: Yard, quarters: Quarters) -> list[str]:
    """How anchors that are left open were chosen; nothing where the yard file names them."""
    told = ((anchored(seen, one).why, where) for seen, one, where in _held(yard, quarters))
    return [f"anchors {where}: {why}".replace(" :", ":") for why, where in told if why]


def further_pieces(yard: Yard, quarters: Quarters, parts: Sequence[Part]) -> list[Piece]:
    """Fixings, ironmongery and paint of a unit; its bracing and anchors change none of them.

    Args:
        yard: The yard.
        quarters: The unit.
        parts: What stands, `built_frame`.
    """
    units = standing_with(yard, quarters)
    row = row_named(yard, quarters.name)
    corridor = corridor_behind(yard, row) if row is not None else None
    leant_on = next((row for row in yard.row if quarters.name in row.leaning), None)
    if corridor is not None:
        leant_on = corridor.row
    names = [one.unit.name for one in units]
    return [
        *fixings(parts, quarters.frame.stud_spacing_mm, len(units)),
        *joint_fixings(_walls(yard, quarters)),
        *(corridor_fixings(yard, leant_on) if leant_on is not None else ()),
        *(p for i, one in enumerate(units) for p in ironmongery(one.yard, one.unit, names[:i])),
        *coats_of(parts, quarters.frame, quarters.name),
    ]


def _setting_out(shell: Shell) -> SettingOut:
    first = _rafter_sizes(shell, shell.slopes[0])
    return SettingOut(
        inner_diagonal_mm=round(diagonal_mm(shell.width_mm, shell.depth_mm), 1),
        frame_diagonal_mm=round(diagonal_mm(shell.outer_width_mm, shell.outer_depth_mm), 1),
        diagonals_agree_mm=5,
        roof_pitch_deg=round(shell.slopes[0].pitch_deg, 3),
        roof_falls_one_in=_one_in(shell.slopes[0]),
        roof_fall_mm=_fall_mm(shell, shell.slopes[0]),
        rafter_run_mm=first[0],
        rafter_edge_mm=first[1],
        rafter_length_mm=first[2],
        rafter_middles_mm=tuple(round(x, 1) for x in rafter_middles_mm(shell)),
        ridge=_ridge_setting(shell),
    )


def _ridge_setting(shell: Shell) -> RidgeSetting | None:
    ridge = ridge_of(shell)
    if ridge is None or shell.ridge_mm is None:
        return None
    back = shell.slopes[1]
    run, edge, length = _rafter_sizes(shell, back)
    return RidgeSetting(
        at_mm=round(shell.ridge_mm[0], 1),
        height_mm=round(shell.ridge_mm[1], 1),
        beam_under_mm=round(ridge.under_mm, 1),
        beam_top_mm=round(ridge.top_mm, 1),
        back_pitch_deg=round(back.pitch_deg, 3),
        back_falls_one_in=round(1 / abs(back.rise), 2),
        back_fall_mm=_fall_mm(shell, back),
        back_run_mm=run,
        back_edge_mm=edge,
        back_length_mm=length,
    )


def _one_in(slope: Slope) -> float | None:
    return round(1 / abs(slope.rise), 2) if slope.rise else None


def _fall_mm(shell: Shell, slope: Slope) -> float:
    run = min(slope.to_mm, shell.depth_mm) - max(slope.from_mm, 0.0)
    return round(abs(slope.rise) * run, 1)


def _rafter_sizes(shell: Shell, slope: Slope) -> tuple[float, float, float]:
    """Level run, one edge, and the length from long point to long point [mm]."""
    front, back = slope_ends_mm(shell, slope)
    run, depth = back - front, shell.size_mm("rafter")[1]
    return (
        round(run, 1),
        round(rafter_length_mm(run, slope.pitch_deg), 1),
        round(rafter_length_mm(run, slope.pitch_deg, depth), 1),
    )
