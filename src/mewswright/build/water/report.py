"""All water of one unit: rain, ground, floor and baths, in one answer."""

from collections.abc import Iterable

from mewswright.build.corridor import Corridor, corridor_behind
from mewswright.build.ground_line import GroundLine, ground_line
from mewswright.build.ground_words import water_from_above
from mewswright.build.row import row_named, shell_in
from mewswright.build.shell import Shell, Slope
from mewswright.build.water.answers import Drainage, RoofWater, SecondEave
from mewswright.build.water.rain import (
    butt_answer,
    gutter_answer,
    roof_water,
    soakaway_answer,
)
from mewswright.build.water.runoff import without_own_units
from mewswright.build.water.wash import bath_answer, floor_answer, ground_answer
from mewswright.handbook.water import drain_figure, gutter_sizes
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard

FOUL = (
    "Dirty water, disinfectant and droppings are foul: no soakaway without consent. Lead wash and "
    "bath water to a foul drain, or to a sealed tank that is emptied; ask the authority first."
)
CAUTIONS = (
    "This is a first sizing, not a design for approval: the local code, the drainage authority "
    "and the water company decide.",
    FOUL,
    "Only clean rain goes to the butt and the soakaway; keep the two systems apart.",
    "Snow that slides tears a gutter off: hang it below the line of the roof or fit snow guards, "
    "and then the snow that stays counts as load.",
)
USED = (
    "air_gap_mm", "butt_share", "catch_felt", "drain_one_in", "felt_design_one_in",
    "ground_soft_one_in", "gutter_one_in", "pipe_cover_mm", "rain_default",
    "soakaway_building_m", "soakaway_small_mm", "frost_min_c",
)  # fmt: skip


def drainage(yard: Yard, quarters: Quarters) -> Drainage:
    """Say where all water of a unit goes.

    Args:
        yard: For rain, climate, neighbours, taps, boundary and frost.
        quarters: The unit, or a row seen as one: its roofs together over one gutter, and the
            roof of a corridor beside it.

    Returns:
        Roof, gutter, butt, soakaway, ground, floor and baths; with what was assumed, what
        to mind, and where the figures come from. Dump it for JSON.

    Raises:
        Problem: For a pitch, which has neither roof nor floor, or where no gutter of the
            handbook carries the rain.
    """
    shell = shell_in(yard, quarters)
    ground = ground_line(yard, shell)
    row = row_named(yard, quarters.name)
    found = corridor_behind(yard, row) if row is not None else None
    yard = without_own_units(yard, quarters)
    slope = shell.slopes[0]
    roof = roof_water(yard, shell, slope)
    second = _eave(yard, shell, shell.slopes[1]) if len(shell.slopes) > 1 else None
    behind = _of_corridor(found) if found is not None else None
    return Drainage(
        yard=yard.yard.name,
        quarters=quarters.name,
        roof=roof,
        gutter=gutter_answer(yard, shell, roof, slope) if roof else None,
        butt=butt_answer(yard, shell, roof) if roof else None,
        soakaway=soakaway_answer(yard, shell, roof, slope) if roof else None,
        second=second,
        corridor=behind,
        ground=ground_answer(quarters),
        floor=floor_answer(quarters),
        baths=tuple(bath_answer(yard, quarters, bath) for bath in quarters.baths),
        assumptions=tuple(_assumptions(yard, quarters, roof, ground)),
        cautions=(
            *_cautions(quarters, roof, second, behind),
            *_from_above(ground),
        ),
        sources=_sources(),
    )


def _of_corridor(found: Corridor) -> SecondEave | None:
    """The roof of a corridor, with what the taller units of its row shed onto it."""
    shell = shell_in(found.yard, found.whole)
    return _eave(without_own_units(found.yard, found.whole), shell, shell.slopes[0])


def _eave(yard: Yard, shell: Shell, slope: Slope) -> SecondEave | None:
    roof = roof_water(yard, shell, slope)
    if roof is None:
        return None
    return SecondEave(
        roof=roof,
        gutter=gutter_answer(yard, shell, roof, slope),
        soakaway=soakaway_answer(yard, shell, roof, slope),
    )


def _from_above(ground: GroundLine) -> Iterable[str]:
    if not ground.is_level:
        yield water_from_above(ground)


def _assumptions(
    yard: Yard, quarters: Quarters, roof: RoofWater | None, ground: GroundLine
) -> Iterable[str]:
    if ground.is_level:
        yield "the ground is level: the yard file gives it no slope here"
    else:
        yield "the ground slopes as the yard file says at the unit, and evenly; no pipe is laid out"
    if roof is not None:
        own = "as the yard file says" if yard.loads else "for the yard file has no [loads]"
        yield f"rain of {roof.rain_l_s_m2:g} l/s on a square metre, {own}; all of it runs off"
        yield "slanting rain: half of the roof's rise counts as more area"
        yield "gutters are half-round, laid level for their flow, with free outlets"
        if roof.walls:
            yield (
                f"taller beside it: {', '.join(roof.walls)}; half of the wall sheds its rain onto "
                "the roof, along the longest side"
            )
        if quarters.ridge_mm is not None:
            yield "the butt stands under the front eave, and takes the rain of that slope alone"
        if yard.climate is None:
            yield "no butt is sized: the yard file has no [climate]"
    if quarters.baths:
        yield "baths have straight sides and an outlet of 40 mm (our judgement)"
        yield (
            f"{drain_figure('pressure_kpa').value:g} kPa is left for the pipe behind tap, valve "
            "and bends (our judgement: measure it)"
        )
        if not any(f.kind == "tap" for f in yard.feature):
            yield "automatic filling is not reckoned: no tap is on the plan"


def _cautions(
    quarters: Quarters, roof: RoofWater | None, second: SecondEave | None,
    corridor: SecondEave | None,
) -> Iterable[str]:  # fmt: skip
    yield from CAUTIONS
    if roof is None:
        return
    if roof.falls_to == "nowhere":
        yield "the roof is level: it can drip on any side, and neither gutter nor drain is sized"
    if roof.fall_sound is False:
        yield f"the roof falls too little for its {roof.cover}: {roof.fall_words}"
    if second is not None and second.roof.fall_sound is False:
        yield f"its back slope falls too little for its {roof.cover}: {second.roof.fall_words}"
    for met in (*roof.meets, *(() if second is None else second.roof.meets)):
        yield f"without a gutter the roof drips on {met.name}: {met.why}"
    if corridor is not None:
        for met in corridor.roof.meets:
            yield f"without a gutter the corridor's roof drips on {met.name}: {met.why}"
        if roof.falls_to == "back":
            yield (
                "the row's roof falls onto the corridor's: hang a gutter at each, for the "
                "corridor's alone is sized for its own rain"
            )
    if quarters.roof is not None and quarters.roof.overhang_back_mm == 0 == (
        quarters.roof.overhang_front_mm
    ):
        yield "the roof has no overhang: water runs down the wall"


def _sources() -> tuple[str, ...]:
    refs = [drain_figure(name).source for name in USED]
    refs += [size.source for size in gutter_sizes()]
    said = [f"{ref.name} ({ref.how_known})" for ref in refs]
    return tuple(dict.fromkeys(said))
