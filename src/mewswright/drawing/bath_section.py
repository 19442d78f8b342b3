"""The section of a bath on its sheet: floor, wall, water, waste, and what fills it."""

from dataclasses import dataclass

from mewswright.build.parts import BuiltFrame
from mewswright.build.water.answers import BathAnswer
from mewswright.drawing.bath_water import FLOOR_MM, Levels, supply_marks
from mewswright.drawing.fitting_marks import fitting_title, item_of
from mewswright.drawing.hatch_detail import FLAP_MM
from mewswright.drawing.outside import Opening, Outside
from mewswright.drawing.placing import Lettering
from mewswright.drawing.rows import Rows
from mewswright.drawing.scene import Line, Mark, Polygon, box_of, extent
from mewswright.drawing.timber import Piece
from mewswright.drawing.wall_detail import floor_line, rect, timber_marks
from mewswright.model.fitting import Bath
from mewswright.model.quarters import Quarters

WASTE_MM = 20.0  # judgement: top of the waste under the finished floor where it begins


@dataclass(frozen=True)
class BathPlace:
    """A bath as both views see it: along its wall, and how far inside of it [mm]."""

    bath: Bath
    view: Outside
    u_mm: float
    in_mm: float
    along_mm: float  # size along the wall
    deep_mm: float  # size into the room
    shows_wall: bool
    answer: BathAnswer
    levels: Levels


def section_marks(
    quarters: Quarters, frame: BuiltFrame, place: BathPlace, through: list[Piece],
    hole: Opening | None, low: float, high: float, x0: float, letters: Lettering,
) -> tuple[list[Mark], list[Mark]]:  # fmt: skip
    """Draw the section with its left edge at `low`, moved by `x0`; marks and dimensions."""
    bath, levels = place.bath, place.levels
    item, title = item_of(bath), fitting_title(bath)
    deep = quarters.floor.depth_mm
    a, b = x0 + place.in_mm - place.deep_mm / 2, x0 + place.in_mm + place.deep_mm / 2
    inside = max(x0, x0 + low)
    marks: list[Mark] = []
    if deep > 0:
        marks.append(
            Polygon(
                layer="floor", pen="hair", fill="ground", hatch="gravel", item="floor:all",
                points=((inside, -deep), (x0 + high, -deep), (x0 + high, 0), (inside, 0)),
                title=f"{quarters.floor.substrate}, {deep:g} mm deep",
            )
        )  # fmt: skip
    marks += [floor_line(x0 + low, x0 + high), *timber_marks(through, is_cut=True)]
    if bath.platform_mm > 0:
        marks.append(rect((a, 0), (b, bath.platform_mm), item, "Platform", fill="timber",
                          layer="fittings", pen="medium"))  # fmt: skip
    inset = min(FLOOR_MM, (b - a) / 4)
    marks += [
        rect((a, levels.foot), (b, levels.rim), item, title, fill="paper", layer="fittings",
             pen="medium"),
        rect((a + inset, levels.bottom), (b - inset, levels.water), item, "Water", fill="water",
             layer="fittings", pen="hair"),
    ]  # fmt: skip
    if hole is not None:
        face, foot, head = x0 - frame.wall_mm, hole.low[1], hole.high[1]
        marks += [
            rect((face, foot), (x0, head), item, hole.title, layer="openings", pen="hair"),
            rect((face, foot), (face + FLAP_MM, head), item, "Flap", fill="cut", layer="openings"),
        ]
    if bath.drains:
        run = place.in_mm - low
        fall = place.answer.waste_fall_mm_per_m[0] * run / 1000
        x, top = x0 + place.in_mm, min(-WASTE_MM, levels.foot - WASTE_MM)
        wide = place.answer.outlet_mm
        marks += [
            Line(layer="fittings", a=(x + wide / 2, top), b=(x0 + low, top - fall), item=item,
                 title="Waste pipe"),
            Line(layer="fittings", a=(x + wide / 2, top - wide), b=(x0 + low, top - wide - fall),
                 item=item, title="Waste pipe", arrow=True),
            rect((x - wide / 2, top - wide), (x + wide / 2, levels.bottom), item, "Waste",
                 layer="fittings"),
        ]  # fmt: skip
    fill = place.answer.automatic
    if fill is not None:
        marks += supply_marks(fill, levels, a, b, item)
    rows = Rows(letters, box_of(p for m in marks for p in extent(m, letters.scale)))
    wall = [(x0, 0.0)] if place.shows_wall and a > x0 else []
    rows.parts("bottom", [*wall, (a, 0), (b, 0)], item=item, title="From the clear inside face")
    rows.single("right", (b, levels.bottom), (b, levels.water), prefix="water ", item=item,
                title="Depth of water when full")  # fmt: skip
    if fill is not None:
        rows.single("right", (b, levels.water), (b, levels.water + fill.air_gap_mm),
                    prefix="air gap ", item=item,
                    title="From the highest water to the inlet")  # fmt: skip
    heights = sorted({levels.rim, *([bath.platform_mm] if bath.platform_mm > 0 else [])})
    rows.running("right", "platform and rim, from floor", 0, [(b, z) for z in heights])
    if hole is not None:
        rows.running("left", "opening, from floor", 0,
                     [(x0 - frame.wall_mm, z) for z in (hole.low[1], hole.high[1])])  # fmt: skip
    if deep > 0:
        rows.single("left", (inside, -deep), (inside, 0), item="floor:all",
                    title="Depth of the substrate")  # fmt: skip
    rows.finish()
    return marks, rows.marks
