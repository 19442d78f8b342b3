"""The coldest night: what each bird bears, a perch in the lee and off the ground."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache

from mewswright.build.room import is_covered
from mewswright.checks import asked
from mewswright.checks.asked import verdict
from mewswright.checks.case import Case, Resident
from mewswright.checks.faces import face_name
from mewswright.checks.finding import Evidence, Finding, Status
from mewswright.checks.limits import whole_mm
from mewswright.checks.registry import scenario_check
from mewswright.checks.scenario import Assumed
from mewswright.checks.scenario_birds import birds_here, homes
from mewswright.checks.scenario_order import in_order
from mewswright.ground.cold_air import cold_pool
from mewswright.ground.lee import is_in_the_lee, windward_of
from mewswright.ground.windbreak import feature_breaks
from mewswright.handbook import Rule, Trait, Warmth, frost_tender, species, warmth
from mewswright.model.fitting import Device, Perch
from mewswright.model.quantity import Quantity, millimetres, mm_from_m
from mewswright.model.yard import Yard

# Climate is read at about 1.25 to 2 m; on a clear night the air below is colder. A perch so high
# is out of the coldest: a judgement.
OFF_THE_GROUND_MM = 1000.0
WATCHED = ("C",)  # classes whose cold rule says to shelter and watch, no more
FREEZING_C = 0.0


@cache
def _warmth(name: str) -> Warmth:
    """Asked by id: a species is slow to hash."""
    return warmth(species(name))


@cache
def _tender(name: str) -> Trait | None:
    return frost_tender(species(name))


@cache
def _night_rule(state: str) -> Rule:
    """The least night temperature for a state of the bird: `frost_tender` or `weak`."""
    found = asked.of_standard("uk-guide", "night_min_c")
    return next(rule for rule in found if rule.applies_to == state)


@dataclass(frozen=True)
class ColdLimit:
    """The cold that a bird bears by night [C], why, and whether it is only watched below it."""

    value_c: float
    why: str
    watched: bool
    sources: tuple[Evidence, ...]


def cold_limit(bird: Resident) -> ColdLimit | None:
    """The highest limit that holds for a bird; None for a kind that dry shelter is enough for."""
    own, tender = _warmth(bird.species.id), _tender(bird.species.id)
    found = []
    if tender is not None:
        rule = _night_rule("frost_tender")
        found.append(ColdLimit(
            asked.number(rule), f"frost harms the wing tips of its kind ({tender.reason})",
            False, (*asked.of_rule(rule), *asked.witnesses(tender.source)),
        ))  # fmt: skip
    if own.cold_limit_c is not None:
        least_hardy = max(own.temp_class.split("/"))  # of a cross; A is the hardiest
        found.append(ColdLimit(
            own.cold_limit_c.value,
            f"what its kind needs below this: {own.cold_rule.removesuffix(' below this')}",
            least_hardy in WATCHED, asked.witnesses(own.cold_limit_c.source),
        ))  # fmt: skip
    if bird.bird.feather_state == "moulting":
        rule = _night_rule("weak")
        found.append(ColdLimit(
            asked.number(rule), "a bird in new feathers is to be moved up or indoors",
            False, asked.of_rule(rule),
        ))  # fmt: skip
    return max(found, key=lambda limit: (limit.value_c, not limit.watched), default=None)


def bears(bird: Resident, temp_c: float | None) -> bool:
    """Whether a bird bears the night without warmth."""
    limit = cold_limit(bird)
    return limit is None or (temp_c is not None and temp_c >= limit.value_c)


@scenario_check("E131", "Cold that the bird bears", "frost")
def cold_borne(_yard: Yard, every: Sequence[Case], assumed: Assumed) -> Iterator[Finding]:
    """E131: the night stays at what this bird bears, or a heater stands by."""
    for case, bird in homes(every, assumed.month):
        limit, night_c = cold_limit(bird), assumed.temp_c
        if limit is None:
            own = _warmth(bird.species.id)
            told = f"its kind bears frost; it needs this: {own.cold_rule}"
            yield verdict(
                "E131", case, True, "short", bird=bird.bird.name,
                sources=asked.witnesses(own.source),
            ).model_copy(update={"why": told})  # fmt: skip
            continue
        heater = any(
            isinstance(one, Device) and one.kind == "heater" for one in case.quarters.fitting
        )
        missed: Status = "short"
        why = limit.why
        remedy = (
            f"bring it into a room that stays at {limit.value_c:g} °C or above, or fit a shielded "
            "heater; read a minimum thermometer at its perch"
        )
        if night_c is None:
            missed, why = "mind", "nobody knows how cold it gets here"
            remedy = "give [climate], or --temp-c"
        elif heater:
            missed, why = "mind", f"{why}; nobody has said what its heater holds"
            remedy = "read a minimum thermometer at its perch on a cold night"
        elif limit.watched:
            missed = "mind"
            remedy = "see that it is dry and out of the wind, feed it more, and weigh it daily"
        yield verdict(
            "E131", case, bears(bird, night_c), missed, bird=bird.bird.name,
            measured=None if night_c is None else Quantity(value=night_c, unit="°C"),
            limit=Quantity(value=limit.value_c, unit="°C"), why=why, remedy=remedy,
            sources=(*limit.sources, *assumed.sources),
        )  # fmt: skip


def _by_night(case: Case, assumed: Assumed) -> list[Resident]:
    return [r for r in birds_here(case, assumed.month) if not r.stay.daytime_only]


def _perches(case: Case, bird: Resident) -> tuple[Perch, ...]:
    """Perches that a bird may spend the night on."""
    if bird.tethered and bird.stay.perch is not None:
        return tuple(p for p in case.quarters.perches if p.name == bird.stay.perch)
    return case.quarters.perches


@scenario_check("E132", "A perch out of wind and wet", "frost")
def lee(_yard: Yard, every: Sequence[Case], assumed: Assumed) -> Iterator[Finding]:
    """E132: by night each bird has a perch under the roof, with boards on the two near sides."""
    sources = asked.judgement("a perch in the lee by night")
    cold = assumed.temp_c is None or assumed.temp_c < FREEZING_C
    for case in every:
        for bird in _by_night(case, assumed):
            perches = _perches(case, bird)
            dry = [p for p in perches if is_covered(case.quarters, p.at_mm[1])]
            sheltered = [p for p in dry if is_in_the_lee(case.quarters, p)]
            yield verdict(
                "E132", case, bool(sheltered), "short" if cold and perches else "mind",
                measured=Quantity(value=len(sheltered), unit="perches"),
                limit=Quantity(value=1, unit="perches"), bird=bird.bird.name,
                why="wind and wet reach every perch that it has" if perches
                else "the file names no perch for it",
                remedy=_into_the_lee(case, dry) if perches else "give it one, or name it",
                sources=(*sources, *asked.witnesses(_warmth(bird.species.id).source)),
            )  # fmt: skip


def _into_the_lee(case: Case, dry: Sequence[Perch]) -> str:
    """The fewest sides to board for one dry perch; roof first where none is dry."""
    if case.quarters.faces is None:
        return "bring it into roofed quarters for the night"
    if not dry:
        return "roof the part over one perch that stands by boarded sides"
    best = min(dry, key=lambda p: (len(windward_of(case.quarters, p)), p.name))
    names = " and the ".join(face_name(side) for side in windward_of(case.quarters, best))
    return f"board the {names}, by {best.name}"


@scenario_check("E133", "A perch off the cold ground", "frost")
def off_the_ground(yard: Yard, every: Sequence[Case], assumed: Assumed) -> Iterator[Finding]:
    """E133: by night no bird need sit low, where the cold air lies."""
    rule = _night_rule("weak")
    warm_enough = assumed.temp_c is not None and assumed.temp_c >= asked.number(rule)
    sources = (*asked.of_rule(rule), *asked.judgement("the lowest metre is the coldest"))
    breaks = feature_breaks(yard.feature)
    for case in every:
        pool = cold_pool(yard, case.quarters, breaks)
        deep_mm = mm_from_m(pool.depth_m) if pool else 0.0
        limit_mm = max(OFF_THE_GROUND_MM, deep_mm)
        dammed = f", which {pool.dam} dams" if pool and deep_mm > OFF_THE_GROUND_MM else ""
        drain = f", or open a gap in {pool.dam} for it to run off" if pool and dammed else ""
        for bird in _by_night(case, assumed):
            perches = _perches(case, bird)
            if not perches:
                continue  # E132 asks for one
            # A loose bird takes the highest; one that is tied may be tied to the lowest.
            heights = [perch.height_mm for perch in perches]
            high_mm = min(heights) if bird.tethered else max(heights)
            delicate = _tender(bird.species.id) is not None or (
                bird.bird.feather_state == "moulting"
            )
            missed: Status = "short" if delicate else "mind"
            if assumed.temp_c is None:
                missed = "mind"
            short_mm = limit_mm - high_mm
            yield verdict(
                "E133", case, warm_enough or asked.reaches(high_mm, limit_mm), missed,
                measured=millimetres(high_mm), limit=millimetres(limit_mm),
                bird=bird.bird.name,
                why=f"it is tied low, where the cold air lies{dammed}, and cannot move up"
                if bird.tethered else f"every perch stands low, where the cold air lies{dammed}",
                remedy="let it loose for the night in a room with a high perch, or bring it "
                "indoors: a leash and a high perch do not go together" if bird.tethered
                else f"hang one of them {whole_mm(short_mm)} higher{drain}",
                sources=sources,
            )  # fmt: skip


@scenario_check("E134", "Who comes first in frost", "frost")
def order(yard: Yard, every: Sequence[Case], assumed: Assumed) -> Iterator[Finding]:
    """E134: the birds in the order in which the cold reaches them."""
    low = {
        f.bird
        for f in off_the_ground(yard, every, assumed)
        if f.status != "sound" and "tied" in f.why
    }
    ranks: dict[str, tuple[int, float]] = {}
    for _, bird in homes(every, assumed.month):
        limit = cold_limit(bird)
        if bears(bird, assumed.temp_c) and bird.bird.name not in low:
            continue
        tender = _tender(bird.species.id) is not None or bird.bird.feather_state == "moulting"
        group = (0 if tender else 1) if bird.bird.name in low else 2
        ranks[bird.bird.name] = (group, -limit.value_c if limit else 0.0)
    if any(birds_here(case, assumed.month) for case in every):
        yield in_order(
            "E134", ranks,
            ("frost-tender or in moult, and tied low", "tied low",
             "the rest, by what they bear"),
            calm="the night is what every bird bears",
            why="hands are few: frost takes them in this order",
            sources=asked.judgement("birds tied low go first"),
        )  # fmt: skip
