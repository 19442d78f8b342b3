"""Rain from the roof to the ground: fall, gutter, butt and soakaway of one unit."""

from math import hypot, radians, tan

from mewswright.build.openings import doors_of
from mewswright.build.shell import Shell, Slope
from mewswright.build.water.answers import (
    ButtAnswer,
    GutterAnswer,
    Met,
    RoofWater,
    SoakawayAnswer,
)
from mewswright.build.water.butt import butt_l, days_to_fill, yearly_catch_l
from mewswright.build.water.gutter import Gutter, gutter_for
from mewswright.build.water.runoff import (
    Eave,
    door_m,
    eaves_of,
    effective_area_m2,
    flow_l_s,
    meetings,
    roof_m,
    taller_beside_m2,
)
from mewswright.build.water.soakaway import small_store_m3
from mewswright.build.water.soakaway_place import REACH_M, soakaway_place
from mewswright.ground.distances import bearing_deg
from mewswright.handbook.water import drain_figure
from mewswright.model.place import Point
from mewswright.model.problem import Problem
from mewswright.model.yard import Yard

SHEETS = ("corrugated", "polycarbonate")


def rain_rate(yard: Yard) -> float:
    """Rain that gutters are sized for [l/s m2]: the yard's own, else the handbook's."""
    return drain_figure("rain_default").value if yard.loads is None else yard.loads.rain_l_s_m2


def roof_water(yard: Yard, shell: Shell, slope: Slope) -> RoofWater | None:
    """How much rain runs off one slope of a roof, and where; None where nothing is roofed.

    What taller walls shed onto the roof counts on each slope: which one it is is not known.
    """
    roof = shell.quarters.roof
    if roof is None or roof.form == "none" or roof.covered_share == 0:
        return None
    length, run, rise = roof_m(shell, slope)
    walls, names = taller_beside_m2(yard, shell)
    area = effective_area_m2(length, run, rise) + walls
    eave = eave_under(shell, slope)
    met = meetings(yard, shell.quarters, eave) if eave else ()
    falls = round(1 / abs(slope.rise), 1) if slope.rise else None
    sound, least, words = _fall(roof.cover, falls)
    return RoofWater(
        falls_to=eave.side if eave else "nowhere",
        cover=roof.cover,
        pitch_deg=round(abs(slope.pitch_deg), 2),
        falls_one_in=falls,
        least_one_in=least,
        fall_sound=sound,
        fall_words=words,
        plan_area_m2=round(length * run, 3),
        effective_area_m2=round(area, 3),
        wall_area_m2=round(walls, 3),
        walls=names,
        rain_l_s_m2=rain_rate(yard),
        flow_l_s=round(flow_l_s(area, rain_rate(yard)), 4),
        eave_from_m=_rounded(eave.from_m) if eave else None,
        eave_to_m=_rounded(eave.to_m) if eave else None,
        runs_off_towards_deg=round(bearing_deg((0, 0), eave.out), 1) % 360 if eave else None,
        meets=tuple(Met(name=one.name, why=one.why) for one in met),
        gutter_needed=bool(met),
    )


def _fall(cover: str, falls: float | None) -> tuple[bool | None, float | None, str]:
    """Whether the fall serves the cover, the least fall, and a sentence."""
    if falls is None:
        return False, None, "level: water stands on it; raise one side"
    if cover == "felt":
        design = drain_figure("felt_design_one_in").value
        left = drain_figure("felt_finished_one_in").value
        word = f"felt is laid to 1:{design:g}, so that 1:{left:g} is left once it has settled"
        return falls <= design, design, word
    if cover in SHEETS:
        least = drain_figure("sheet_least_deg").value
        one_in = round(1 / tan(radians(least)), 1)
        return falls <= one_in, one_in, f"sheets want {least:g} deg or what their maker says"
    return None, None, f"no least fall of {cover} is on record: ask who supplies it"


def _rounded(at: Point) -> Point:
    return round(at[0], 3), round(at[1], 3)


def eave_under(shell: Shell, slope: Slope) -> Eave | None:
    """The eave of a slope; None of a level one."""
    side = "back" if slope.rise < 0 else "front"
    return next((eave for eave in eaves_of(shell) if eave.side == side), None)


def gutter_answer(yard: Yard, shell: Shell, roof: RoofWater, slope: Slope) -> GutterAnswer | None:
    """The gutter of a slope; None of a level roof, whose eave is not known."""
    eave = eave_under(shell, slope)
    if eave is None:
        return None
    gutter = gutter_under(shell, roof, eave)
    return GutterAnswer(
        diameter_mm=gutter.size.diameter_mm,
        length_m=round(gutter.length_m, 3),
        outlets=gutter.outlets,
        outlet_at=gutter.outlet_at,
        outlet_mm=gutter.size.outlet_mm,
        downpipe_at=downpipe(yard, shell, eave, gutter)[0],
        capacity_l_s=round(gutter.capacity_l_s, 4),
        utilisation=round(gutter.utilisation, 4),
        least_fall_mm=round(gutter.least_fall_mm, 1),
        wished_fall_mm=round(gutter.wished_fall_mm, 1),
        water_kg=round(gutter.water_kg, 1),
    )


def gutter_under(shell: Shell, roof: RoofWater, eave: Eave) -> Gutter:
    """The gutter of an eave.

    Raises:
        Problem: If none of the handbook carries its rain.
    """
    try:
        return gutter_for(roof.flow_l_s, eave.length_m)
    except ValueError as too_much:
        raise Problem(f"{shell.quarters.name!r}: {too_much}") from too_much


def downpipe(yard: Yard, shell: Shell, eave: Eave, gutter: Gutter) -> tuple[str, Point]:
    """Where the downpipe stands, in words and on the ground [m].

    At one end: the end away from doors in that face; without doors, the end from which
    the way to a soakaway is shorter.
    """
    middle = ((eave.from_m[0] + eave.to_m[0]) / 2, (eave.from_m[1] + eave.to_m[1]) / 2)
    if gutter.outlet_at != "one end":
        return f"{gutter.outlet_at} of the {eave.side} eave", middle
    doors = [
        at
        for door in doors_of(yard, shell.quarters)
        if door.face == eave.side and (at := door_m(shell.quarters, door)) is not None
    ]
    ends = {"left": eave.from_m, "right": eave.to_m}
    if doors:
        name = max(
            ends, key=lambda end: min(hypot(ends[end][0] - x, ends[end][1] - y) for x, y in doors)
        )
    else:
        found = {end: soakaway_place(yard, at) for end, at in ends.items()}
        name = min(
            ends, key=lambda end: p.from_downpipe_m if (p := found[end]) is not None else REACH_M
        )
    return f"the {name} end of the {eave.side} eave, seen from the front", ends[name]


def butt_answer(yard: Yard, shell: Shell, roof: RoofWater) -> ButtAnswer | None:
    """A water butt by the 5 % rule; None without a climate, which it needs."""
    assert shell.quarters.roof is not None
    if yard.climate is None:
        return None
    share = drain_figure(f"catch_{shell.quarters.roof.cover}").value
    monthly = yard.climate.rain_mm
    size = butt_l(roof.plan_area_m2, sum(monthly), share)
    wet, dry = days_to_fill(size, roof.plan_area_m2, monthly, share) if size else (None, None)
    return ButtAnswer(
        size_l=round(size, 1),
        yearly_catch_l=round(yearly_catch_l(roof.plan_area_m2, sum(monthly), share), 1),
        yearly_demand_l=None,
        days_to_fill_wettest=None if wet is None else round(wet, 1),
        days_to_fill_driest=None if dry is None else round(dry, 1),
        words=(
            "5 % of what the roof gives in a year; a smaller one will do if less is used. Its "
            "overflow goes on to the soakaway. Water off a roof carries droppings of wild birds: "
            "wash and water plants with it, give none to birds"
        ),
    )


def soakaway_answer(
    yard: Yard, shell: Shell, roof: RoofWater, slope: Slope
) -> SoakawayAnswer | None:
    """A soakaway for the rain of a slope; None of a level roof, whose eave is not known."""
    eave = eave_under(shell, slope)
    if eave is None:
        return None
    gutter = gutter_under(shell, roof, eave)
    _, start = downpipe(yard, shell, eave, gutter)
    place = soakaway_place(yard, start)
    most = drain_figure("soakaway_small_m2").value
    store = small_store_m3(roof.plan_area_m2) if roof.plan_area_m2 <= most else None
    words = [
        f"10 mm of rain from {roof.plan_area_m2:.1f} m2, which falls in 5 minutes"
        if store is not None
        else f"the roof of {roof.plan_area_m2:.1f} m2 is over {most:g} m2: dig a trial pit, ask "
        "for the ten-year storms of the place, and size it by BRE Digest 365"
    ]
    if place is None:
        words.append(
            f"no spot within {REACH_M} m keeps its distance from buildings and boundary: lead the "
            "rain to a drain for rainwater, or ask the authority"
        )
    if len(yard.yard.boundary_m) < 3:
        words.append("the boundary is not in the yard file: keep 2.5 m from it")
    words.append(
        "how high that spot lies is not known: it must lie lower than the unit; clay, high "
        "ground water or a well nearby rule it out"
    )
    voids = drain_figure("rubble_voids").value
    return SoakawayAnswer(
        store_m3=None if store is None else round(store, 4),
        rubble_m3=None if store is None else round(store / voids, 3),
        place_m=_rounded(place.at_m) if place else None,
        from_downpipe_m=round(place.from_downpipe_m, 2) if place else None,
        from_building_m=_two(place.from_building_m) if place else None,
        from_boundary_m=_two(place.from_boundary_m) if place else None,
        words="; ".join(words),
    )


def _two(value: float | None) -> float | None:
    return None if value is None else round(value, 2)
