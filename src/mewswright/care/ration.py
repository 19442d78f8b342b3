"""Tonight's ration: what to feed so that a bird is in its window at a named hour.

Advice only: the hand on the keel decides.
"""

from dataclasses import dataclass
from datetime import datetime, timedelta
from statistics import fmean

from mewswright.care.asked import Asked, refuse_ill
from mewswright.care.cautions import Situation, alarms_of, cautions
from mewswright.care.choose import Bounds, best_grams, bounds, in_whole_items
from mewswright.care.fed import Fed
from mewswright.care.forecast import Foreseen
from mewswright.care.learnt import Learnt, learn, tracked
from mewswright.care.limits import Floor, floor_of, safe_share
from mewswright.care.log import read_log
from mewswright.care.log_times import days, moment_of
from mewswright.care.rations import Rations, rations
from mewswright.care.record import Record, record
from mewswright.care.tidy import Tidy, tidy
from mewswright.care.told import AlarmTold, BasisTold, DayTold, ItemTold, RationReport
from mewswright.handbook.care import care_figure
from mewswright.handbook.foods import Food
from mewswright.model.problem import Problem

TOO_SOON_DAYS = 0.125  # nothing fed acts on the scale within three hours
LONGEST_DAYS = 60.0
TEMPS = 3  # so many of the latest temperatures stand for the night to come
TEMPS_DAYS = 4.0
SOURCES = (
    "upkeep: 110 M^0.679 kcal, Kirkwood 1981 (from memory)",
    "cold: existence metabolism of caged birds, Kendeigh, Dolnik & Gavrilov 1977 (from memory)",
    "wind: standard operative temperature, Bakken 1990 (read in part)",
    "moult: 110 kJ for a gram of feather, Dietz, Daan & Masman 1992 (read)",
    "foods: table foods; safe rates, floors, content and noise: care_figures and loss_rates, "
    "mostly "
    "judgements",
)


def ration(asked: Asked) -> RationReport:
    """Work out the ration.

    Args:
        asked: The question, log and all.

    Raises:
        Problem: For a log or an option that cannot be used; and, with the reason, for a bird that
        is ill, a
            target under its floor, or a loss faster than is safe.
    """
    asked.check()
    species, foods, (low, high) = asked.kind, asked.foods, asked.window_g()
    at, has_hour = asked.hour
    log = tidy(read_log(asked.log, foods[0]), at, has_hour, species)
    when, moved = log.at, False
    if days(when) - log.days[-1] < TOO_SOON_DAYS:
        when, moved = when + timedelta(days=1), True
    refuse_ill(asked, log.rows, when)
    end = max(asked.last_hour(log.at), when)
    known = record(log, species, foods[0])
    if days(end) - known.day[-1] > LONGEST_DAYS:
        raise Problem(
            f"the last weighing is {days(end) - known.day[-1]:.0f} days before the hour asked "
            "for, and "
            f"{LONGEST_DAYS:.0f} are the most that is foreseen: weigh the bird, or ask for an "
            "earlier hour"
        )
    learnt = learn(known)
    track = tracked(known, learnt)
    floor = floor_of(species, asked.sex, known.day, track.mass_g, asked.floor_g, asked.fed_up_g)
    if (low + high) / 2 < floor.grams:
        raise Problem(
            f"target {low:.0f} to {high:.0f} g is below the bird's floor of {floor.grams:.0f} g "
            f"({floor.why}): "
            "aim higher, or ask a vet first"
        )
    aim = (max(low, floor.grams), high)
    temp_c, temp_from, temp_known = _air(asked, log)
    hours = _hours(known, days(when), days(end))
    every = rations(known, learnt, species, foods, hours, temp_c, asked.wind_m_s)
    _refuse_fast(every, learnt.mean(0) * known.mass_g, high, end)
    within = bounds(every, temp_c if temp_known else None)
    grams = best_grams(every, *aim, within)
    if len(foods) == 1:
        grams = in_whole_items(every, foods[0], grams, *aim, within)
    answer = _Answer(every, grams, (low, high))
    first = every.at(hours.index(days(when)), grams)
    last = every.at(len(hours) - 1, grams)
    alarms = alarms_of(log, known, learnt, track, species, asked.fed_up_g)
    if any(alarm.stop for alarm in alarms) and high < track.mass_g[-1] * 0.995:
        stop = next(alarm for alarm in alarms if alarm.stop)
        raise Problem(f"no ration that brings it lower: {stop.words}")
    said = cautions(Situation(
        log=log, record=known, learnt=learnt, species=species, sex=asked.sex, foods=foods, at=when,
        moved=moved, temp_c=temp_c, temp_known=temp_known, window_g=(low, high),
        floor=floor, bounds=within, grams=grams, every=every, last=last, alarms=alarms,
    ))  # fmt: skip
    eaten = sum(item.grams for item in answer.given)
    return RationReport(
        ration_g=eaten + grams,
        items=(*answer.given, *_items(foods, grams)),
        expected_g=round(first.expected_g, 1),
        interval_90_g=_interval(first),
        p_in_window=round(first.chance_within(low, high), 3),
        basis=_basis(asked, log, known, learnt, every, (low, high), floor, temp_c, temp_from),
        cautions=said,
        give_g=grams,
        at=when,
        plan=answer.plan(),
        alarms=tuple(AlarmTold(code=a.code, words=a.words, stop=a.stop) for a in alarms),
    )


@dataclass(frozen=True)
class _Answer:
    """The grams of each meal, as rows of a plan."""

    every: Rations
    grams: int
    window_g: tuple[float, float]

    @property
    def tops_up(self) -> bool:
        """Whether the first meal comes on top of what was given since the last weighing."""
        end = self.every.record.end
        return bool(end.given) and self.every.meals[0] <= end.gut.now

    @property
    def given(self) -> tuple[ItemTold, ...]:
        """What was given already, by food."""
        by_food: dict[Food, float] = {}
        for meal in self.every.record.end.given if self.tops_up else ():
            by_food[meal.food] = by_food.get(meal.food, 0.0) + meal.grams
        return tuple(
            ItemTold(food=food.id, name=food.name, grams=round(g), count=None, given=True)
            for food, g in by_food.items()
        )

    def plan(self) -> tuple[DayTold, ...]:
        """Each meal with the weighing that follows it."""
        rows = []
        for n, meal in enumerate(self.every.meals):
            later = (
                self.every.meals[n + 1] if n + 1 < len(self.every.meals) else self.every.until[-1]
            )
            there = self.every.at(self.every.until.index(later), self.grams)
            rows.append(DayTold(
                fed_at=moment_of(meal), ration_g=self.grams,
                items=_items(self.every.foods, self.grams), at=moment_of(later),
                expected_g=round(there.expected_g, 1), interval_90_g=_interval(there),
                p_in_window=round(there.chance_within(*self.window_g), 3),
            ))  # fmt: skip
        return tuple(rows)


def _interval(there: Foreseen) -> tuple[float, float]:
    low, high = there.interval_g()
    return round(low, 1), round(high, 1)


def _hours(known: Record, at: float, end: float) -> tuple[float, ...]:
    from mewswright.care.rations import meal_days

    meals = meal_days(known.end.gut.now, end, bool(known.end.given))
    return tuple(sorted({*meals[1:], at, end}))


def _items(foods: tuple[Food, ...], grams: int) -> tuple[ItemTold, ...]:
    """Whole items of each food, and the rest of it weighed off."""
    found = []
    left = grams
    for n, food in enumerate(foods):
        part = left // (len(foods) - n)
        left -= part
        count = int(part / food.mass_typical_g + 0.02) if food.mass_typical_g else 0
        whole = min(round(count * (food.mass_typical_g or 0)), part)
        if part - whole <= 0.03 * (food.mass_typical_g or 0):
            whole = part if count else whole
        told = [(whole, count or None)] if whole else []
        told += [(part - whole, None)] if part > whole else []
        found += [
            ItemTold(food=food.id, name=food.name, grams=g, count=c, given=False) for g, c in told
        ]
    return tuple(found)


def _air(asked: Asked, log: Tidy) -> tuple[float, str, bool]:
    """Air to come, where that is from, and whether anybody measured it."""
    if asked.temp_c is not None:
        return asked.temp_c, "given", True
    late = [
        row.temp_c
        for row, day in zip(log.rows, log.days, strict=True)
        if row.temp_c is not None and day >= log.days[-1] - TEMPS_DAYS
    ]
    if late:
        return fmean(late[-TEMPS:]), "the last days of the log", True
    return care_figure("unknown_temp").value, "taken, for none is known", False


def _refuse_fast(every: Rations, mass_g: float, high_g: float, end: datetime) -> None:
    """Refuse a target that only a faster loss than is safe would reach.

    Raises:
        Problem: With the rate and the earliest day.
    """
    span = every.none[-1].days
    safe = safe_share(mass_g)
    if mass_g * (1 - safe * span) <= high_g:
        return
    lost = (mass_g - high_g) / mass_g
    wait = timedelta(days=int(lost / safe - span) + 1)
    raise Problem(
        f"from about {mass_g:.0f} g down to {high_g:.0f} g is {lost:.1%} in {span:.1f} days, and "
        "a bird of this size "
        f"may lose {safe:.1%} a day (loss_rates.csv, a judgement): ask for a plan with "
        f"--by {end + wait:%Y-%m-%d}, or aim higher"
    )


def _basis(asked: Asked, log: Tidy, known: Record, learnt: Learnt, every: Rations,
           window: tuple[float, float], floor: Floor, temp_c: float,
           temp_from: str) -> BasisTold:  # fmt: skip
    scale, level, drift = learnt.noises
    sd = learnt.sd(1)
    own = learnt.unknown_share
    mass = learnt.mean(0) * known.mass_g
    meal = ", ".join(f"{moment_of(day):%Y-%m-%d %H:%M}" for day in every.meals)
    return BasisTold(
        species=asked.kind.id,
        sex=asked.sex,
        weighings=len(known.day),
        record_days=round(float(known.day[-1] - known.day[0]), 1),
        last_weighed=moment_of(float(known.day[-1])),
        mass_now_g=round(mass, 1),
        content_now_g=round(known.end.gut.content_g, 1),
        leans_on="the species" if own > 0.8 else "both" if own > 0.35 else "the bird's own record",
        need_factor=round(learnt.need, 3),
        own_factor=round(learnt.mean(1), 3),
        own_factor_sd=round(sd, 3),
        food_factor=round(learnt.mean(2), 3),
        food_factor_sd=round(learnt.sd(2), 3),
        scale_noise=round(scale, 4),
        level_noise=round(level, 4),
        factor_drift=round(drift, 4),
        spends_kj_day=round(every.day_kj, 1),
        holds_weight_g=round(every.day_kj / every.energy_kj_g),
        temp_c=round(temp_c, 1),
        temp_from=temp_from,
        window_g=(round(window[0], 1), round(window[1], 1)),
        floor_g=round(floor.grams, 1),
        floor_why=floor.why,
        safe_loss_pct_day=safe_share(mass) * 100,
        meals=meal,
        assumed=(
            "each row: weighed, then flown, then fed",
            "the ration is eaten whole, at the hours under meals",
            *_assumed_foods(log, every.foods),
        ),
        sources=SOURCES,
    )


def _assumed_foods(log: Tidy, foods: tuple[Food, ...]) -> tuple[str, ...]:
    named = {meal.food for row in log.rows for meal in row.fed} | set(foods)
    return tuple(
        f"{food.id}: {food.name}, {food.metabolisable_kj_g:g} kJ a gram ({food.source.how_known}, "
        f"{food.confidence or 'no'} confidence)"
        for food in sorted(named, key=lambda food: food.id)
    )


__all__ = ["Asked", "Bounds", "Fed", "ration"]
