"""What a ration is told with: what was taken for granted, what to look at, when to stop."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from mewswright import handbook
from mewswright.care.alarms import (
    Alarm,
    factor_drift,
    far_below,
    fast_loss,
    keel_against_weight,
    not_casting,
    week_loss,
)
from mewswright.care.choose import Bounds
from mewswright.care.forecast import Foreseen
from mewswright.care.gut import pellet_days, pellet_share
from mewswright.care.learnt import Learnt, Tracked
from mewswright.care.limits import FROST_C, Floor, safe_share
from mewswright.care.log_times import moment_of
from mewswright.care.notes import casting, ill, keel_score
from mewswright.care.rations import Rations
from mewswright.care.record import Record
from mewswright.care.spend import moult_months
from mewswright.care.tidy import Tidy, mass_ends_g
from mewswright.handbook.care import care_figure
from mewswright.handbook.foods import Food
from mewswright.handbook.species import Species

STALE_DAYS = 1.6  # a weighing older than this is old
WELL_ABOVE, WELL_BELOW = 1.15, 0.9  # of the range of its sex
ADVICE = (
    "advice only: the hand on the keel decides, and a bird that is fluffed, dull or off its food "
    "goes to a vet "
    "whatever it weighs"
)


@dataclass(frozen=True)
class Situation:
    """All that a caution may look at."""

    log: Tidy
    record: Record
    learnt: Learnt
    species: Species
    sex: str
    foods: tuple[Food, ...]
    at: datetime
    moved: bool
    temp_c: float
    temp_known: bool
    window_g: tuple[float, float]
    floor: Floor
    bounds: Bounds
    grams: int
    every: Rations
    last: Foreseen
    alarms: tuple[Alarm, ...]


def alarms_of(log: Tidy, record: Record, learnt: Learnt, track: Tracked, species: Species,
              fed_up_g: float | None) -> tuple[Alarm, ...]:  # fmt: skip
    """Every alarm that one bird's log raises."""
    body = record.body * record.mass_g
    scores = [
        (day, score, row.weight_g)
        for row, day in zip(log.rows, log.days, strict=True)
        if row.weight_g is not None and (score := keel_score(row.note)) is not None
    ]
    raised = (
        fast_loss(record.day, body, learnt.noises[0]),
        week_loss(record.day, track.mass_g),
        far_below(track.mass_g, fed_up_g),
        factor_drift(record.day, track.factor, track.factor_sd),
        not_casting(*_pellets(log, species)),
        keel_against_weight([(d, s) for d, s, _ in scores], [w for _, _, w in scores]),
    )
    return tuple(alarm for alarm in raised if alarm is not None)


def _pellets(log: Tidy, species: Species) -> tuple[float | None, float, int]:
    """Hours that a pellet is waited for, hours that are usual, and pellets noted."""
    since, noted = None, 0
    for row, day in zip(log.rows, log.days, strict=True):
        if casting(row.note) is True:
            since, noted = None, noted + 1
        if since is None and any(pellet_share(meal.food.casting) for meal in row.fed):
            since = day
    waited = None if since is None else (log.days[-1] - since) * 24
    return waited, pellet_days(species) * 24, noted


def cautions(s: Situation) -> tuple[str, ...]:
    """Every caution, those that stop work first."""
    stops = [alarm.words for alarm in s.alarms if alarm.stop]
    others = [alarm.words for alarm in s.alarms if not alarm.stop]
    return (*stops, *_answer(s), *others, *_air(s), *_bird(s), *_food(s), *_log(s), ADVICE)


def _answer(s: Situation) -> Iterator[str]:
    low, high = s.window_g
    given = sum(meal.grams for meal in s.record.end.given)
    if given and s.every.meals[0] <= s.record.end.gut.now:
        more = f"give {s.grams} g more" if s.grams else "give no more"
        yield f"{given:.0f} g given since the last weighing are counted in: {more}"
    if s.moved:
        yield (
            f"the hour asked for is that of the last row, when nothing can act any more: this is "
            f"for {s.at:%Y-%m-%d %H:%M}"
        )
    if s.bounds.held_by == "frost" and s.grams == s.bounds.least_g:
        yield (
            f"held at {s.grams} g: a small bird is not left to fast in frost, even if it stays "
            "over its window"
        )
    elif s.bounds.held_by == "rate" and s.grams == s.bounds.least_g:
        mass = s.learnt.mean(0) * s.record.mass_g
        yield f"held at {s.grams} g so that it loses no more than {safe_share(mass):.1%} a day"
    if s.grams and s.grams == s.bounds.most_g and s.last.expected_g < low:
        yield (
            f"{s.grams} g is the most that is proposed for a meal; the window takes more days: "
            "plan with --by"
        )
    if not low <= s.last.expected_g <= high:
        yield (
            f"the window is not to be expected by then: {s.last.expected_g:.0f} g is, against "
            f"{low:.0f} to {high:.0f} g"
        )
    if low < s.floor.grams:
        yield (
            f"the window's low end is under the floor of {s.floor.grams:.0f} g ({s.floor.why}): "
            "aimed above it"
        )
    if s.every.until[-1] - s.every.meals[-1] < 0.5:
        yield (
            "the meal is less than half a day before the scale: much of it will still lie in "
            "crop and gut"
        )


def _air(s: Situation) -> Iterator[str]:
    small = s.learnt.mean(0) * s.record.mass_g < care_figure("small_bird").value
    if not s.temp_known:
        yield (
            f"no temperature is known: {s.temp_c:.0f} C is taken; give --temp-c, a frost changes "
            "the ration"
        )
    elif s.temp_c <= FROST_C and small:
        yield (
            "frost and a small bird: weigh it twice a day, feed it late, and give it a dry place "
            "out of the wind"
        )
    elif not any(row.temp_c is not None for row in s.log.rows):
        yield (
            f"the log has no temperatures: {care_figure('unknown_temp').value:.0f} C was taken "
            "for its days, so what "
            f"{s.temp_c:.0f} C costs is the equation's, not this bird's"
        )
    warmth = handbook.warmth(s.species)
    if warmth.cold_limit_c is not None and s.temp_c < warmth.cold_limit_c.value:
        yield (
            f"{s.temp_c:.0f} C is under what this kind bears ({warmth.cold_rule}); feeding more "
            "is no shelter"
        )
    if s.temp_c >= warmth.heat_caution_c.value:
        yield (
            f"{s.temp_c:.0f} C is in the heat caution of this kind: water and shade, food early "
            "or late, none left "
            "lying; cutting its weight in heat is no time well chosen"
        )


def _bird(s: Situation) -> Iterator[str]:
    mass = s.learnt.mean(0) * s.record.mass_g
    low, high = mass_ends_g(s.species, (s.sex,))
    whose = {"m": "males", "f": "females"}[s.sex]
    if not WELL_BELOW * low <= mass <= WELL_ABOVE * high:
        yield (
            f"{mass:.0f} g is outside what {whose} of this species weigh, {low:.0f} to "
            f"{high:.0f} g: is species and sex right?"
        )
    if mass < s.floor.grams:
        yield (
            f"it is below its floor of {s.floor.grams:.0f} g now: no work, feed it up, and ask a "
            "vet if it does not gain"
        )
    lowering = s.window_g[1] < mass * 0.99
    if lowering and s.at.month in moult_months(s.species):
        yield (
            "this species moults in this month (in the north): a weight cut in moult leaves "
            "marks in the feathers"
        )
    if len(s.record.day) < 7:
        yield (
            f"{len(s.record.day)} weighing{'s' * (len(s.record.day) > 1)} on record: the answer "
            "leans on the "
            "species, and one bird may sit a third off it; weigh again tomorrow"
        )
    old = [row for row in s.log.rows if ill(row.note)]
    if old:
        yield f"row {old[-1].line} noted {old[-1].note!r}: be slow to bring it down"


def _food(s: Situation) -> Iterator[str]:
    for food in s.foods:
        if food.note and any(word in food.note for word in ("risk", "never", "supplement", "lean")):
            yield f"{food.name}: {food.note}"
        if "pigeon" in food.id:
            yield f"{food.name}: frounce; freeze it first, and leave out head, crop and gut"
    if all(pellet_share(food.casting) == 0 for food in s.foods) and len(s.every.meals) > 2:
        yield "no fur or feather in this food: it needs some two or three times a week to cast"
    waiting = [due for due, _ in s.record.end.gut.pellets if due > s.record.end.gut.now]
    a_full_meal = care_figure("full_meal_least").value * s.every.day_kj
    if waiting and s.grams * s.every.energy_kj_g >= a_full_meal and not s.record.end.given:
        yield (
            f"a pellet may be due until about {moment_of(max(waiting)):%H:%M}: no full meal "
            "before it has cast"
        )


def _log(s: Situation) -> Iterator[str]:
    yield from s.log.cautions
    gap = s.every.none[0].days
    ahead = s.every.until[-1] - float(s.record.day[-1])
    if gap > STALE_DAYS or ahead > 3:
        yield (
            f"the last weighing is {ahead:.1f} days before the last hour: weigh it each day, and "
            "ask again with each "
            "weight"
        )
