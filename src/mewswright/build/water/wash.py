"""Water on the ground and indoors: falls round the unit, floor drain, baths and their supply."""

from math import hypot

from mewswright.build.ground_line import USUAL_MM
from mewswright.build.water.answers import BathAnswer, FillAnswer, FloorAnswer, GroundAnswer
from mewswright.build.water.bath_supply import (
    PIPES_MM,
    air_gap_mm,
    fill_s,
    overflow_for_mm,
    pipe_depth_mm,
    pipe_flow_l_s,
)
from mewswright.build.water.floor_drain import branch_fall_mm, emptying_s, hole_m2, rise_mm
from mewswright.handbook import rules
from mewswright.handbook.water import drain_figure
from mewswright.model.fitting import Bath
from mewswright.model.quantity import m_from_mm
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard

HARD = ("concrete",)
FILL_MIN = 15.0  # judgement: a bath that fills slower is taken to a wider pipe
ROUNDABOUT = 1.3  # judgement: a pipe is so much longer than the straight line


def ground_answer(quarters: Quarters) -> GroundAnswer:
    """How the ground falls away from a unit, and how high its sole plate lies."""
    run = drain_figure("ground_run_m").value
    wanted = drain_figure("sole_above_ground_mm").value
    kind = quarters.frame.base
    above = None if kind == "slab" else USUAL_MM[kind] + quarters.frame.floor_up_mm
    words = ["fall away from the unit on all sides"]
    if above is not None and above < wanted:
        words.append(
            f"{kind.replace('_', ' ')} that lie on the ground lift the sole plate {above:g} mm: "
            f"raise it to {wanted:g} mm, or lower the ground round it"
        )
    if above is None:
        words.append(f"lay the slab so that its top is {wanted:g} mm above the ground")
    return GroundAnswer(
        fall_soft_mm=rise_mm(run, drain_figure("ground_soft_one_in").value),
        fall_paved_mm=round(rise_mm(run, drain_figure("ground_paved_one_in").value), 1),
        over_m=run,
        sole_above_mm=above,
        sole_wanted_mm=wanted,
        words="; ".join(words),
    )


def floor_answer(quarters: Quarters) -> FloorAnswer:
    """The floor's fall and the drain that takes wash water away."""
    floor = quarters.floor
    hard = floor.substrate in HARD
    wanted = rules("house", "floor_fall_pct")[0].number if hard else None
    falls = wanted is None or floor.fall_pct >= wanted - 1e-9
    if hard:
        words = "a hard floor falls to a drain with a trap and a grating that feet pass over"
    else:
        words = "a loose floor drains through itself: free stone under it, and a way out below"
    if not floor.drained:
        words += "; this floor has no way out for water"
    slope = drain_figure("drain_one_in").value
    return FloorAnswer(
        hard=hard,
        fall_pct=floor.fall_pct,
        wanted_pct=wanted,
        rise_mm=None if wanted is None else m_from_mm(quarters.depth_mm) * 10 * wanted,
        drained=floor.drained,
        sound=falls and floor.drained,
        drain_mm=drain_figure("drain_pipe_mm").value,
        drain_fall_mm_per_m=rise_mm(1, slope),
        words=words,
    )


def bath_answer(yard: Yard, quarters: Quarters, bath: Bath) -> BathAnswer:
    """Water of a bath: how much, how fast it leaves, and what filling by itself takes."""
    x, y = bath.size_mm
    area = hole_m2(bath.diameter_mm) if bath.diameter_mm else m_from_mm(x) * m_from_mm(y)
    litres = area * bath.depth_mm
    outlet = drain_figure("bath_outlet_mm").value
    least, most = branch_fall_mm(1)
    return BathAnswer(
        name=bath.name,
        volume_l=round(litres, 1),
        water_kg=round(litres, 1),
        outlet_mm=outlet,
        empties_min=round(emptying_s(area, m_from_mm(bath.depth_mm), outlet) / 60, 2),
        waste_fall_mm_per_m=(least, most),
        drains=bath.drains,
        automatic=automatic(yard, quarters, bath, litres),
    )


def automatic(yard: Yard, quarters: Quarters, bath: Bath, litres: float) -> FillAnswer | None:
    """Filling a bath by a valve, from the nearest tap; None where no tap is on the plan.

    The narrowest pipe that fills it within 15 minutes is taken, for a stuck valve then
    floods least.
    """
    at = quarters.on_ground_m(*bath.at_mm)
    taps = [f for f in yard.feature if f.kind == "tap" and f.at_m is not None]
    if not taps:
        return None
    away = {tap.name: hypot(tap.at_m[0] - at[0], tap.at_m[1] - at[1]) for tap in taps if tap.at_m}
    tap = min(away, key=lambda name: away[name])
    length = max(1.0, away[tap] * ROUNDABOUT)
    pressure = drain_figure("pressure_kpa").value
    flows = {pipe: pipe_flow_l_s(pipe, length, pressure) for pipe in PIPES_MM}
    quick = [pipe for pipe in PIPES_MM if fill_s(litres, flows[pipe]) <= FILL_MIN * 60]
    pipe = quick[0] if quick else PIPES_MM[-1]
    overflow = overflow_for_mm(flows[pipe])
    gap = air_gap_mm(pipe)
    frost = yard.loads.frost_depth_mm if yard.loads else None
    depth = pipe_depth_mm(frost)
    return FillAnswer(
        from_tap=tap,
        pipe_m=round(length, 1),
        pipe_inner_mm=pipe,
        pressure_kpa=pressure,
        flow_l_s=round(flows[pipe], 3),
        fill_min=round(fill_s(litres, flows[pipe]) / 60, 2),
        air_gap_mm=gap,
        overflow_mm=overflow,
        pipe_depth_mm=depth,
        drain_down_months=frost_months(yard),
        words=(
            f"a float or timed valve out of the birds' reach, its inlet {gap:g} mm above the "
            "overflow and never under water; "
            + (
                f"an overflow of {overflow:g} mm inside, seen to run outside, lets out all that a "
                "stuck valve lets in"
                if overflow
                else "throttle the inlet: no usual overflow lets out what a stuck valve lets in"
            )
            + f"; the pipe {depth:g} mm deep, with a stop valve and a drain-down at its lowest "
            "point; filled and emptied from outside, and looked at each day all the same"
        ),
    )


def frost_months(yard: Yard) -> tuple[int, ...]:
    """Months in which a bath's pipe is drained down, 1 to 12; none without a climate."""
    if yard.climate is None:
        return ()
    limit = drain_figure("frost_min_c").value
    lows = enumerate(yard.climate.mean_daily_min_c, start=1)
    return tuple(month for month, low in lows if low <= limit)
