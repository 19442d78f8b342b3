"""The hottest day: what each bird bears, shade where it is, air that moves, a roof that burns."""

from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from math import ceil, isinf

from mewswright.build.circle import in_frame_of
from mewswright.checks import asked
from mewswright.checks.asked import verdict
from mewswright.checks.case import Case, Resident
from mewswright.checks.finding import Evidence, Finding, Status
from mewswright.checks.limits import ABOVE_A_HAIR
from mewswright.checks.registry import scenario_check
from mewswright.checks.roof import has_solid_roof
from mewswright.checks.scenario import Assumed
from mewswright.checks.scenario_birds import birds_here, homes, without_other_place
from mewswright.checks.scenario_order import in_order
from mewswright.checks.tether_shade import STANDING_MM2, Shade, nearest_shade_mm, shades_of
from mewswright.checks.tethered import tethers
from mewswright.ground.noon import area, clipped
from mewswright.ground.openness import CM2_PER_M2, open_areas_m2
from mewswright.ground.squares import Squares
from mewswright.ground.sun import declination_deg, sun_at
from mewswright.handbook import Warmth, species, warmth
from mewswright.model.quantity import Quantity, m_from_mm, millimetres
from mewswright.model.yard import Yard

# The air is hottest about three hours after the sun stands highest: a judgement.
HOURS = ((12.0, "at noon"), (15.0, "at the hottest hour"))
MID_MONTH = (15, 46, 74, 105, 135, 166, 196, 227, 258, 288, 319, 349)  # the 15th, day of the year
TEMPERATE = ("A", "B", "C")  # classes that the house's first check speaks of
# Air moves through where so large a part of the floor stands open in two sides, or in one
# alone: judgements.
THROUGH_SHARE, ALONE_SHARE = 0.05, 0.25
COOL = "call a vet for a bird that pants on with its wings held off"


@cache
def _warmth(name: str) -> Warmth:
    """Asked by id: a species is slow to hash."""
    return warmth(species(name))


def heat_limits(bird: Resident) -> list[tuple[float, str, tuple[Evidence, ...]]]:
    """Temperatures from which a bird is watched [C], the lowest first: value, name, witness."""
    own = _warmth(bird.species.id)
    check, alarm = asked.house_rule("heat_check_c"), asked.house_rule("heat_alarm_c")
    found = [
        (own.heat_caution_c.value, "its kind", asked.witnesses(own.heat_caution_c.source)),
        (asked.number(alarm), "alarm", asked.of_rule(alarm)),
    ]
    if any(one in TEMPERATE for one in own.temp_class.split("/")):
        found.append((asked.number(check), "check", asked.of_rule(check)))
    return sorted(found)


def bears(bird: Resident, temp_c: float | None) -> bool:
    """Whether an air temperature is below all at which the bird is watched."""
    return temp_c is not None and temp_c < heat_limits(bird)[0][0]


@scenario_check("E101", "Heat that the bird bears", "heat")
def heat_borne(_yard: Yard, every: Sequence[Case], assumed: Assumed) -> Iterator[Finding]:
    """E101: the day stays below the heat at which this kind of bird is watched."""
    for case, bird in homes(every, assumed.month):
        limits = heat_limits(bird)
        if assumed.temp_c is None:
            yield verdict(
                "E101", case, False, "mind", bird=bird.bird.name,
                limit=_degrees(limits[0][0]), why="nobody knows how hot it gets here",
                remedy="give [climate], or --temp-c", sources=limits[0][2],
            )  # fmt: skip
            continue
        reached = [one for one in limits if one[0] <= assumed.temp_c]
        limit_c, _, sources = reached[-1] if reached else limits[0]
        alarmed = any(what == "alarm" for _, what, _ in reached)
        yield verdict(
            "E101", case, not reached, "mind", measured=_degrees(assumed.temp_c),
            limit=_degrees(limit_c), bird=bird.bird.name,
            why="no handling in the sun: heat kills at this temperature" if alarmed
            else "from here on it pants and seeks shade and water",
            remedy=f"handle it before the sun is high; have water to wet it and a cool airy room "
            f"ready; {COOL}" if alarmed
            else f"look at shade, water and its breath at noon and in the afternoon; {COOL}",
            sources=(*sources, *assumed.sources),
        )  # fmt: skip


def shades(yard: Yard, assumed: Assumed) -> Mapping[str, Squares[Shade]]:
    """Shade at each hour that is looked at and at which the sun is up."""
    month = assumed.month or 1
    declination = declination_deg(MID_MONTH[month - 1])
    suns = {name: sun_at(yard.yard.latitude_deg, declination, hour) for hour, name in HOURS}
    return {name: shades_of(yard, sun, month) for name, sun in suns.items() if sun.altitude_deg > 0}


@scenario_check("E102", "Shade at noon and at the hottest hour", "heat")
def shade(yard: Yard, every: Sequence[Case], assumed: Assumed) -> Iterator[Finding]:
    """E102: every bird finds shade where it is kept, whether loose or on the leash."""
    by_hour = shades(yard, assumed)
    can_leave = {
        (case.quarters.name, bird.bird.name)
        for case, bird, other in without_other_place(every, has_solid_roof, assumed.month)
        if other is not None
    }
    for case in every:
        for bird in birds_here(case, assumed.month):
            key = (case.quarters.name, bird.bird.name)
            spared = bird.stay.daytime_only and key in can_leave
            missed: Status = "short" if bears(bird, assumed.temp_c) else "harm"
            if spared:
                missed = "mind"
            elif assumed.temp_c is None:
                missed = "short"
            yield from (
                _tied(case, bird, by_hour, missed)
                if bird.tethered
                else [_loose(case, bird, by_hour, missed)]
            )


def _tied(
    case: Case, bird: Resident, by_hour: Mapping[str, Squares[Shade]], missed: Status
) -> Iterator[Finding]:
    for tether in tethers(case):
        if tether.resident.bird.name != bird.bird.name:
            continue
        feet_mm = tether.circle.feet_mm
        away = {hour: nearest_shade_mm(tether, found)[0] for hour, found in by_hour.items()}
        sunny = [hour for hour, mm in away.items() if not asked.stays_within(mm, feet_mm)]
        worst_mm = max(away.values(), default=0.0)
        told = f"{' and '.join(sunny)} its leash does not let it into any shade"
        yield tether.found(
            "E102", missed if sunny else "sound", told if sunny else "it finds shade all day"
        ).model_copy(
            update={
                "measured": _away(worst_mm),
                "limit": millimetres(feet_mm),
                "remedy": "bring it under a solid roof from late morning to evening, or stretch "
                "opaque cloth over its whole circle" if sunny else "",
                "sources": (*tether.circle.sources, *_of_shade()),
            }
        )  # fmt: skip


def _away(mm: float) -> Quantity:
    return Quantity(value="no shade") if isinf(mm) else millimetres(mm)


def _loose(
    case: Case, bird: Resident, by_hour: Mapping[str, Squares[Shade]], missed: Status
) -> Finding:
    areas = {hour: _shaded_m2(case, found) for hour, found in by_hour.items()}
    need_m2 = STANDING_MM2 / 1e6
    sunny = [hour for hour, area_m2 in areas.items() if area_m2 < need_m2]
    least_m2 = min(areas.values(), default=case.quarters.floor_area_m2)
    return verdict(
        "E102", case, not sunny, missed, measured=Quantity(value=least_m2, unit="m2"),
        limit=Quantity(value=need_m2, unit="m2"), bird=bird.bird.name,
        why=f"{' and '.join(sunny)} the sun shines into all of it",
        remedy="roof part of its top with boards or opaque sheets, or stretch opaque cloth there",
        sources=_of_shade(),
    )  # fmt: skip


def _of_shade() -> tuple[Evidence, ...]:
    return (
        *asked.of_rule(asked.house_rule("heat_check_c")),
        *asked.judgement("shade at noon and three hours later"),
    )


def _shaded_m2(case: Case, found: Squares[Shade]) -> float:
    """The largest single piece of shade on the floor of quarters [m2]."""
    q, place = case.quarters, in_frame_of(case.quarters)
    middle = q.on_ground_m(q.width_mm / 2, q.depth_mm / 2)
    near = found.near(middle, m_from_mm(max(q.width_mm, q.depth_mm)))
    box = (0.0, 0.0, q.width_mm, q.depth_mm)
    return max(
        (area(clipped([place(p) for p in outline], box)) / 1e6 for _, outline in near),
        default=0.0,
    )


@scenario_check("E103", "Air that moves through", "heat")
def moving_air(_yard: Yard, every: Sequence[Case], assumed: Assumed) -> Iterator[Finding]:
    """E103: openings in two sides, or one large one, so that hot air does not stand."""
    for case in every:
        birds = birds_here(case, assumed.month)
        if case.quarters.faces is None or not birds:
            continue
        floor_m2, areas = case.quarters.floor_area_m2, open_areas_m2(case.quarters)
        sides = [name for name, m2 in areas.items() if m2 >= THROUGH_SHARE * floor_m2 - 1e-9]
        all_m2, want_m2 = sum(areas.values()), ALONE_SHARE * floor_m2
        sound = len(sides) > 1 or all_m2 >= want_m2 - 1e-9
        hot = not all(bears(bird, assumed.temp_c) for bird in birds)
        more, second = _cm2(want_m2 - all_m2), _cm2(THROUGH_SHARE * floor_m2)
        yield verdict(
            "E103", case, sound, "short" if hot else "mind",
            measured=Quantity(value=100 * all_m2 / floor_m2, unit="pct"),
            limit=Quantity(value=100 * ALONE_SHARE, unit="pct"),
            why="too little of it stands open for its floor: hot air stands under the roof",
            remedy=f"open {more} cm² more, half low and half high, or {second} cm² in "
            f"{'a second side' if sides else 'each of two sides'}",
            sources=asked.judgement("open area for a draught on a hot day"),
        )  # fmt: skip


def _cm2(area_m2: float) -> int:
    return ceil(area_m2 * CM2_PER_M2 - ABOVE_A_HAIR)


@scenario_check("E104", "A roof that keeps off the sun's heat", "heat")
def hot_roof(_yard: Yard, every: Sequence[Case], assumed: Assumed) -> Iterator[Finding]:
    """E104: no clear sheets over birds, and no bare sheets without a deck."""
    for case in every:
        birds, roof = birds_here(case, assumed.month), case.quarters.roof
        if not birds or roof is None or not has_solid_roof(case):
            continue
        clear = roof.cover == "polycarbonate"
        thin = roof.cover == "corrugated" and roof.deck is None
        hot = not all(bears(bird, assumed.temp_c) for bird in birds)
        yield verdict(
            "E104", case, not clear and not thin, "short" if clear and hot else "mind",
            measured=Quantity(value=f"{roof.cover}{', no deck' if thin else ''}"), fitting="roof",
            why="the sun shines through clear sheets, and heats all that is below" if clear
            else "thin sheets grow hot, and shine on the birds below",
            remedy="lay opaque sheets or boards in place of the clear ones" if clear
            else "lay a deck under them, or stretch cloth below with air between",
            sources=asked.judgement("sun through and from a thin roof"),
        )  # fmt: skip


@scenario_check("E105", "Who comes first in heat", "heat")
def order(yard: Yard, every: Sequence[Case], assumed: Assumed) -> Iterator[Finding]:
    """E105: the birds in the order in which the heat reaches them."""
    bare = {(f.quarters, f.bird) for f in shade(yard, every, assumed) if f.status != "sound"}
    ranks: dict[str, tuple[int, float]] = {}
    for case in every:
        for bird in birds_here(case, assumed.month):
            if bears(bird, assumed.temp_c):
                continue
            in_sun = (case.quarters.name, bird.bird.name) in bare
            group = 2 if not in_sun else 0 if bird.tethered else 1
            rank = (group, heat_limits(bird)[0][0])
            ranks[bird.bird.name] = min(rank, ranks.get(bird.bird.name, rank))
    birds = {bird.bird.name for _, bird in homes(every, assumed.month)}
    if birds:
        yield in_order(
            "E105", ranks,
            ("on the leash in the sun", "loose without shade", "in the shade, by what they bear"),
            calm="the day is below what every bird bears",
            why="hands are few: heat takes them in this order",
            sources=asked.judgement("tethered birds in the sun go first"),
        )  # fmt: skip


def _degrees(value_c: float) -> Quantity:
    return Quantity(value=value_c, unit="°C")
