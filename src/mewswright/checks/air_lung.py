"""What a bird breathes where it lives: air, damp, dust, ammonia and spores on the wind."""

from collections.abc import Iterator
from functools import cache
from math import ceil, hypot

from mewswright.checks import asked
from mewswright.checks.asked import verdict
from mewswright.checks.case import Case, Resident
from mewswright.checks.finding import Finding, Status
from mewswright.checks.limits import ABOVE_A_HAIR
from mewswright.checks.months import YEAR, named
from mewswright.checks.registry import quarters_check
from mewswright.ground.distances import bearing_deg, centre_m, nearest_point_m, turn_between_deg
from mewswright.ground.openness import CM2_PER_M2, free_area_m2, opens_low, still_air_area_m2
from mewswright.handbook import Trait, aspergillosis_prone, species, spore_sources, substrates
from mewswright.model.place import Feature
from mewswright.model.quantity import Quantity

STILL_AIR_M_S = 0.1  # drift through an opening on a day without wind: a judgement
LOW_SHARE = 0.25  # of the area that is wanted, this much lies low where nothing else does: the same
CLOSED_SHARE = 0.1  # an open area below this share of the floor lets damp stay: a judgement
WELL_BELOW = 0.5  # of the poultry limit; its source says to stay well below, not how far
FARTHEST = 2.0  # times the handbook's distance: sources farther off are not added up, as in G101
HALF_THE_HOURS_PCT = 50.0  # the air comes from a source more often than not: a judgement
SECTOR_DEG = 45.0  # a wind from so far to either side carries spores here: as in G101
# Litter that gives off dust or spores, and litter that does so once it is dry or old.
DUSTY = ("bark", "hay", "sawdust", "straw")
DUSTY_WHEN_DRY = ("earth", "shavings")
WORST: dict[str, str] = {  # when it gives off most: a judgement
    "compost": "when it is turned, in spring and autumn",
    "hay": "when it is brought in and in winter, as it is shaken out",
    "leaf_mould": "from October on, while the leaves rot",
    "log_stack": "in winter, when logs are taken",
    "rotting_timber": "in wet and mild weeks",
    "straw": "when it is brought in and in winter, as it is shaken out",
}
SPORE_DISTANCE_M = {one.id: one.distance_m.value for one in spore_sources()}


@cache
def _prone(name: str) -> Trait | None:
    """Asked by id: a species is slow to hash."""
    return aspergillosis_prone(species(name))


def _prone_resident(case: Case) -> Resident | None:
    return next((r for r in case.residents if _prone(r.species.id)), None)


def _has_walls(case: Case) -> bool:
    return case.quarters.faces is not None and bool(case.residents)


def wanted_area_m2(case: Case) -> float:
    """Open area that the room of a case takes on a still day [m2]."""
    rule = asked.house_rule("air_changes_per_h_min")
    return still_air_area_m2(case.quarters.volume_m3 or 0.0, asked.number(rule), STILL_AIR_M_S)


def _cm2(area_m2: float) -> int:
    return ceil(area_m2 * CM2_PER_M2 - ABOVE_A_HAIR)


@quarters_check("A101", "Free ventilation area")
def ventilation(case: Case) -> Iterator[Finding]:
    """Enough stands open, low as well as high, that the air changes on a still day too."""
    if not _has_walls(case):
        return
    q = case.quarters
    have, want = free_area_m2(q), wanted_area_m2(case)
    enough = _cm2(want - have) <= 0
    low_cm2 = _cm2(LOW_SHARE * want)
    low = opens_low(q) or q.vent_cm2 >= low_cm2
    missed: Status = "mind" if enough else "short"
    more = max(_cm2(want - have), 0 if low else _cm2(LOW_SHARE * want - q.vent_cm2 / CM2_PER_M2))
    where = "half of it low and half high" if not enough else "near the floor"
    of_floor = 100 * want / q.floor_area_m2
    yield verdict(
        "A101", case, enough and low, missed,
        measured=Quantity(value=have, unit="m2"), limit=Quantity(value=want, unit="m2"),
        why=f"stale, damp air stays in: the room asks for {of_floor:.1f} % of its floor" if
        not enough else "all that is open lies high, so no fresh air comes in below it",
        remedy=f"cut vents of {more} cm² more, {where}",
        sources=(
            *asked.of_rule(asked.house_rule("air_changes_per_h_min")),
            *asked.judgement("drift of 0.1 m/s through half of the openings"),
        ),
    )  # fmt: skip


@quarters_check("A102", "State of the timber")
def timber(case: Case) -> Iterator[Finding]:
    """Dry, sound timber: damp boards grow mould, and rotten ones give way."""
    q = case.quarters
    if not _has_walls(case) or not q.built:
        return
    told: dict[str | None, tuple[Status, str, str]] = {
        None: ("mind", "nobody has said whether its timber is dry",
               "look and feel inside, low down and behind the bath, and give timber_state"),
        "dry": ("sound", "", ""),
        "damp": ("short", "damp boards grow mould, and the bird breathes it",
                 "find where the water comes from, dry it, and let air behind it"),
        "rotting": ("harm" if case.loose else "short",
                    "rotting timber grows mould, and a face that it carries gives way",
                    "cut out and renew what is soft, and keep its foot off the ground"),
    }  # fmt: skip
    status, why, remedy = told[q.timber_state]
    yield verdict(
        "A102", case, status == "sound", status,
        measured=Quantity(value=q.timber_state) if q.timber_state else None,
        limit=Quantity(value="dry"), why=why, remedy=remedy,
        sources=asked.judgement("state of the timber"),
    )  # fmt: skip


@quarters_check("A103", "Dust under a bird that falls ill of mould")
def dust(case: Case) -> Iterator[Finding]:
    """A kind that mould fells more than others does not live over dusty litter."""
    name = case.quarters.floor.substrate
    known = {one.id: one for one in substrates()}
    for bird in {r.bird.name: r for r in case.residents}.values():
        trait = _prone(bird.species.id)
        if trait is None:
            continue
        clean = name in known and name not in DUSTY + DUSTY_WHEN_DRY
        litter = known.get(name)
        yield verdict(
            "A103", case, clean, "short" if name in DUSTY else "mind",
            measured=Quantity(value=litter.name if litter else name), bird=bird.bird.name,
            why=f"its kind falls ill of mould more than others ({trait.reason}), and "
            + (f"this litter is {'dusty or mouldy' if name in DUSTY else 'dusty when it is dry'}"
               if litter else "nobody knows how dusty this litter is"),
            remedy="take pea gravel or matting here, whatever other birds stand on",
            sources=asked.witnesses(trait.source, *((litter.source,) if litter else ())),
        )  # fmt: skip


@quarters_check("A104", "Ammonia")
def ammonia(case: Case) -> Iterator[Finding]:
    """The air at the perch does not sting; the one limit on record is for poultry."""
    q = case.quarters
    if not _has_walls(case) or q.faces is None:
        return
    rule = asked.of_standard("eu", "ammonia_ppm_max")[0]
    limit = asked.number(rule)
    sources = (*asked.of_rule(rule), *asked.judgement("half of the poultry limit"))
    shown = Quantity(value=limit * WELL_BELOW, unit="ppm")
    if q.ammonia_ppm is None:
        indoors = free_area_m2(q) < wanted_area_m2(case)
        if indoors or q.kind == "isolation":
            yield verdict(
                "A104", case, False, "mind", limit=shown,
                why="its air is not known" + (", and little of it is open" if indoors else ""),
                remedy="hold a test strip at perch height of an early morning, and give "
                "ammonia_ppm",
                sources=sources,
            )  # fmt: skip
        return
    over = q.ammonia_ppm > limit
    yield verdict(
        "A104", case, q.ammonia_ppm <= limit * WELL_BELOW, "short" if over else "mind",
        measured=Quantity(value=q.ammonia_ppm, unit="ppm"),
        limit=Quantity(value=limit, unit="ppm") if over else shown,
        why="it is over what is allowed for poultry; no limit for birds of prey is on record"
        if over else "it is allowed for poultry; a bird of prey should stay well below that",
        remedy="take out the wet litter and mutes, open more, and measure again",
        sources=sources,
    )  # fmt: skip


@quarters_check("A105", "Wind from all mould together")
def spore_wind(case: Case) -> Iterator[Finding]:
    """The wind does not come from one spore source or another for most of the year."""
    if not case.residents:
        return
    own = case.yard.house.spore_distance_m
    centre = centre_m(case.quarters.corners_m)
    near: list[tuple[Feature, float]] = []
    for feature in case.yard.feature:
        if feature.kind in SPORE_DISTANCE_M:
            east, north = nearest_point_m(centre, feature)
            limit_m = FARTHEST * (own or SPORE_DISTANCE_M[feature.kind])
            if hypot(east - centre[0], north - centre[1]) <= limit_m:
                near.append((feature, bearing_deg(centre, (east, north))))
    prone = _prone_resident(case)
    if near and not case.yard.wind_rose:
        yield verdict(
            "A105", case, False, "mind", bird=prone.bird.name if prone else None,
            limit=Quantity(value=HALF_THE_HOURS_PCT, unit="pct"),
            why=f"{_listed(near)} may be up-wind: the file has no wind rose",
            remedy="give [[wind_rose]], from a weather station or a year of your own notes",
            sources=asked.judgement("half of all hours"),
        )  # fmt: skip
        return
    # Every sector counts once, however many sources lie up that wind.
    share = sum(
        sector.share_pct
        for sector in case.yard.wind_rose
        if any(turn_between_deg(sector.from_deg, bearing) <= SECTOR_DEG for _, bearing in near)
    )
    yield verdict(
        "A105", case, share < HALF_THE_HOURS_PCT, "short" if prone else "mind",
        measured=Quantity(value=share, unit="pct"),
        limit=Quantity(value=HALF_THE_HOURS_PCT, unit="pct"),
        bird=prone.bird.name if prone else None,
        why=f"the wind brings it the air of {_listed(near)}" if near else "",
        remedy="cover or move what lies up the commonest wind first, and leave the rest alone "
        "while it blows",
        sources=asked.judgement("sources within twice their distance; half of all hours"),
    )  # fmt: skip


def _listed(near: list[tuple[Feature, float]]) -> str:
    return "; ".join(sorted(f"{f.name} (worst {WORST[f.kind]})" for f, _ in near))


@quarters_check("A106", "Lasting damp")
def damp(case: Case) -> Iterator[Finding]:
    """No closed room stands humid and mild for months, which is what mould asks for."""
    if not _has_walls(case):
        return
    q, climate = case.quarters, case.yard.climate
    humid, warm = (
        asked.house_rule(f"aspergillus_{key}") for key in ("humidity_pct", "growth_low_c")
    )
    sources = (
        *asked.of_rule(humid, warm),
        *asked.judgement("a room is closed below a tenth of its floor"),
    )
    closed = free_area_m2(q) < CLOSED_SHARE * q.floor_area_m2
    prone = _prone_resident(case)
    who = prone.bird.name if prone else None
    if closed and climate is None:
        yield verdict(
            "A106", case, False, "mind", bird=who, limit=Quantity(value=0, unit="months"),
            why="it is closed, and the file has no climate to judge its damp by",
            remedy="give [climate], or hang a hygrometer in it", sources=sources,
        )  # fmt: skip
        return
    months = [
        month
        for month in YEAR
        if closed and climate is not None
        and climate.humidity_pct[month - 1] >= asked.number(humid)
        and climate.mean_temp_c[month - 1] >= asked.number(warm)
    ]  # fmt: skip
    opening = ceil((CLOSED_SHARE * q.floor_area_m2 - free_area_m2(q)) * CM2_PER_M2 - ABOVE_A_HAIR)
    yield verdict(
        "A106", case, not months, "short" if prone else "mind",
        measured=Quantity(value=len(months), unit="months"),
        limit=Quantity(value=0, unit="months"), bird=who,
        why=f"mould grows in a closed room that is mild and humid: {named(months)}"
        if months else "",
        remedy=f"open {opening} cm² more, or dry it in those months", sources=sources,
    )  # fmt: skip
