"""Where the water of a bath stands and runs on its detail, and what is said of it."""

from dataclasses import dataclass

from mewswright.build.water.answers import BathAnswer, FillAnswer
from mewswright.drawing.scene import Line, Mark, whole
from mewswright.drawing.wall_detail import rect
from mewswright.model.fitting import Bath

FLOOR_MM = 12.0  # judgement: thickness that side and floor of a bath are drawn with
_INLET_UP_MM = 120.0  # of the pipe over its inlet, as far as it is drawn
_OVERFLOW_MM = 80.0  # of the overflow beyond the bath, as far as it is drawn


@dataclass(frozen=True)
class Levels:
    """Heights of a bath over the finished floor [mm]."""

    foot: float  # underside of the bath
    bottom: float  # of the water
    water: float  # when full
    rim: float


def levels_of(bath: Bath) -> Levels:
    """Give the levels of a bath; what its height has over the water is shared by floor and rim.

    A bath whose rim is lower than its water is deep is let into the floor.
    """
    rim = bath.rim_height_mm
    foot = min(bath.platform_mm, rim - bath.depth_mm - FLOOR_MM)
    spare = rim - foot - bath.depth_mm
    floor = min(FLOOR_MM, spare / 2)
    return Levels(foot, foot + floor, foot + floor + bath.depth_mm, rim)


def supply_marks(
    fill: FillAnswer, levels: Levels, near: float, far: float, item: str
) -> list[Mark]:
    """Draw inlet and overflow of a bath that fills by itself, dashed: it is an option.

    Args:
        fill: What filling takes.
        levels: Levels of the bath.
        near: Its edge towards the wall, where the overflow leaves [mm].
        far: Its other edge.
        item: The bath.
    """
    foot = levels.water + fill.air_gap_mm
    x = far - min(60.0, (far - near) / 4)
    half = fill.pipe_inner_mm / 2
    marks: list[Mark] = [
        Line(layer="fittings", dash="dashed", a=(x + side, foot), b=(x + side, foot + _INLET_UP_MM),
             item=item, title="Inlet")
        for side in (-half, half)
    ]  # fmt: skip
    marks.append(
        Line(layer="fittings", dash="dashed", a=(x - half, foot), b=(x + half, foot), item=item,
             title="Inlet")
    )  # fmt: skip
    if fill.overflow_mm is not None:
        marks.append(
            rect((near - _OVERFLOW_MM, levels.water), (near, levels.water + fill.overflow_mm), item,
                 "Overflow", layer="fittings")
        )  # fmt: skip
    return marks


def water_notes(bath: Bath, levels: Levels, answer: BathAnswer) -> list[str]:
    """Say what the water needs: the waste, its fall, and filling by a valve."""
    least, most = answer.waste_fall_mm_per_m
    lines = [
        f"{answer.volume_l:g} l when full. Thickness of side and floor, and where the water stands "
        "between floor and rim, follow the bath that is bought."
    ]
    if levels.foot < 0:
        lines.append(f"It is let {whole(-levels.foot)} into the floor, as drawn.")
    if bath.drains:
        lines.append(
            f"Waste {whole(answer.outlet_mm)} wide, the pipe under the floor falls {least:g} to "
            f"{most:g} mm a metre the way that the arrow points; it empties in about "
            f"{answer.empties_min:g} min. Where the outlet sits is the bath's: drawn in its middle."
        )
    else:
        lines.append("No waste: the yard file says that it is emptied by lifting or tipping it.")
    if answer.automatic is not None:
        fill = answer.automatic
        lines.append(
            f"Dashed, if it is to fill by itself: from {fill.from_tap}, {fill.pipe_m:g} m of pipe "
            f"{fill.pipe_inner_mm:g} wide inside, {whole(fill.pipe_depth_mm)} deep; {fill.words}."
        )
    else:
        lines.append("No tap is on the plan to fill it from by a valve: it is filled by hand.")
    return lines
