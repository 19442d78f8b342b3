"""All that loads one unit: snow, wind, its own weight, people and a bird that bates.

kN and metres. Where the rules here end, a refusal says that an engineer must decide.
"""

from dataclasses import replace

from mewswright import handbook
from mewswright.build.actions.combine import factors
from mewswright.build.actions.dead import dead
from mewswright.build.actions.neighbours import (
    DriftOnRoof,
    drifts_on_roof,
    edge_heights_m,
    exceptional_snow_kn_m2,
    neighbours,
)
from mewswright.build.actions.people import bate, lean, maintenance
from mewswright.build.actions.refuse import refusals
from mewswright.build.actions.result import Actions, HeaviestBird, SnowOn
from mewswright.build.actions.snow import eave_overhang_kn_m, roof_snow_kn_m2, snow_shape
from mewswright.build.actions.snow_duopitch import SlopeSnow, duopitch_snow
from mewswright.build.actions.telling import assumptions, figures
from mewswright.build.actions.wind import peak_pressure
from mewswright.build.actions.wind_on import wind_on
from mewswright.build.frame import built_frame
from mewswright.build.parts import BuiltFrame
from mewswright.build.rafters import rafter_ends_mm
from mewswright.build.roofing import across_mm
from mewswright.build.shell import Shell, shell_of
from mewswright.handbook import load_factor
from mewswright.model.bird import Bird
from mewswright.model.place import Loads
from mewswright.model.problem import Problem
from mewswright.model.quantity import m_from_mm
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard

G_PER_KG = 1000


def actions_on(yard: Yard, quarters: Quarters, frame: BuiltFrame | None = None) -> Actions:
    """Every load on one unit, with where it comes from and what was assumed.

    Args:
        yard: The yard: its loads, neighbours, birds and altitude.
        quarters: The unit.
        frame: Its frame, where it is built already; else it is set out here.

    Returns:
        The loads. `refusals` holds the reasons for which an engineer must decide; the
        figures beside them are then no more than a hint.

    Raises:
        Problem: If the yard gives no loads, for a pitch, or for a roof over 60 deg.

    Source:
        EN 1990, EN 1991-1-1, -1-3 and -1-4, first generation, with the yard's own values.
    """
    loads, altitude_m = loads_of(yard), yard.yard.altitude_m
    shell = shell_of(quarters)
    built = frame or built_frame(yard, quarters)
    width_m, depth_m = _roof_size_m(shell)
    height_m = max(edge_heights_m(shell))
    beside, unknown = neighbours(yard, shell)
    peak = peak_pressure(loads.basic_wind_m_s, loads.terrain, height_m, loads.altitude_factor)
    snow = _snow(loads, altitude_m, shell, drifts_on_roof(shell, beside, loads.ground_snow_kn_m2))
    if loads.exceptional_drift and quarters.has_roof:
        rare = exceptional_snow_kn_m2(shell, beside, loads.ground_snow_kn_m2)
        snow = replace(snow, exceptional_kn_m2=rare)
    wind = wind_on(shell, peak.qp_kn_m2)
    weight = dead(built.parts, width_m * depth_m if quarters.has_roof else 0.0)
    people = maintenance(loads.maintenance_kn_m2, loads.maintenance_kn)
    leaning = lean()
    bird = heaviest_bird(yard, quarters)
    using = factors(loads.gamma_g, loads.gamma_q, loads.psi0_snow, loads.psi0_wind, altitude_m)
    return Actions(
        yard=yard.yard.name,
        quarters=quarters.name,
        edition=loads.edition,
        loads_source=loads.source,
        peak=peak,
        snow=snow,
        wind=wind,
        dead=weight,
        maintenance=people,
        person=leaning,
        bird=bird,
        factors=using,
        roof_width_m=width_m,
        roof_depth_m=depth_m,
        height_m=height_m,
        figures=figures(loads, peak, snow, wind, weight, people, leaning, bird),
        assumptions=assumptions(loads, altitude_m, shell, snow, wind, weight, bird, using),
        refusals=refusals(loads, altitude_m, shell, beside, unknown),
    )


def loads_of(yard: Yard) -> Loads:
    """The loads that the yard's file gives.

    Raises:
        Problem: If it gives none; says who has them.
    """
    if yard.loads is None:
        raise Problem(
            f"{yard.yard.name!r} gives no [loads], so nothing can be sized: ask the local building "
            "office or an engineer for the ground snow load, the basic wind speed and the terrain "
            "category here, and write them under [loads] as source, ground_snow_kn_m2, "
            "basic_wind_m_s and terrain"
        )
    return yard.loads


def heaviest_bird(yard: Yard, quarters: Quarters) -> HeaviestBird | None:
    """The heaviest bird that ever stays in quarters, or None where none does.

    A bird that was not weighed weighs what its kind weighs on the mean.
    """
    found = [
        (_mass_kg(bird), bird)
        for name in dict.fromkeys(stay.bird for stay in yard.stays_in(quarters.name))
        for bird in (yard.bird_named(name),)
    ]
    if not found:
        return None
    mass, bird = max(found, key=lambda one: one[0])
    return HeaviestBird(bird.name, mass, bird.mass_g is not None, bate(mass))


def _mass_kg(bird: Bird) -> float:
    if bird.mass_g is not None:
        return bird.mass_g / G_PER_KG
    sex = bird.sex if bird.sex in ("m", "f") else "any"
    return handbook.species(bird.species).mass(sex).value / G_PER_KG


def _roof_size_m(shell: Shell) -> tuple[float, float]:
    if not shell.quarters.has_roof:
        return m_from_mm(shell.outer_width_mm), m_from_mm(shell.outer_depth_mm)
    (left, right), (front, back) = across_mm(shell), rafter_ends_mm(shell)
    return m_from_mm(right - left), m_from_mm(back - front)


def _snow(loads: Loads, altitude_m: float, shell: Shell, drifts: tuple[DriftOnRoof, ...]) -> SnowOn:
    """Snow on the roof; meshed and netted tops are loaded like roofs, for wet snow bridges."""
    ground = loads.ground_snow_kn_m2
    ce = handbook.snow_exposure(loads.snow_exposure).value
    ct = load_factor("ct").value
    if not shell.quarters.has_roof:
        return SnowOn(ground, 0, ce, ct, 0, (), ce, 0, 0, None)
    mu1 = snow_shape(abs(shell.steepest.pitch_deg), can_slide=False)
    uniform = roof_snow_kn_m2(ground, mu1, ce, ct)
    beside = max(ce, load_factor("ce_normal").value)
    peak = max([roof_snow_kn_m2(ground, d.near_mu, beside, ct) for d in drifts] + [uniform])
    mean = max([roof_snow_kn_m2(ground, d.mean_mu, beside, ct) for d in drifts] + [uniform])
    hangs = altitude_m > load_factor("snow_overhang_altitude_m").value
    return SnowOn(
        ground_kn_m2=ground,
        mu1=mu1,
        ce=ce,
        ct=ct,
        uniform_kn_m2=uniform,
        drifts=drifts,
        drift_ce=beside,
        peak_kn_m2=peak,
        mean_kn_m2=mean,
        eave_kn_m=eave_overhang_kn_m(peak) if hangs else None,
        slopes=_on_slopes(shell, ground, ce, ct),
    )


def _on_slopes(shell: Shell, ground: float, ce: float, ct: float) -> tuple[SlopeSnow, ...]:
    if shell.ridge_mm is None:
        return ()
    front, back = (abs(slope.pitch_deg) for slope in shell.slopes)
    return duopitch_snow(front, back, ground, ce, ct)
