"""The grams of a meal: the best chance to be in the window, inside what is safe."""

from dataclasses import dataclass
from math import ceil, floor

from mewswright.care.limits import least_share, safe_share
from mewswright.care.rations import Rations
from mewswright.handbook.care import care_figure
from mewswright.handbook.foods import Food

WHOLE_ITEMS_COST = 0.03  # chance given away so that nothing has to be cut: a judgement
NO_CHANCE = 1e-3  # below it the nearest weight is sought instead of the best chance


@dataclass(frozen=True)
class Bounds:
    """The least and the most of each meal [g], and what sets them."""

    least_g: int
    most_g: int
    held_by: str = ""


def bounds(every: Rations, air_c: float | None) -> Bounds:
    """What each meal may be.

    The least keeps the loss at the safe rate, and a small bird fed in frost; the most is what
    a bird can put away in a day.
    """
    record = every.record
    mass = every.learnt.mean(0) * record.mass_g
    a_day = every.day_kj
    last = len(every.until) - 1
    lost = safe_share(mass) * every.none[last].days
    keeps_rate = every.grams_for_body(last, mass * (1 - lost))
    given_kj = sum(meal.energy_kj for meal in record.end.given)
    days = len(every.meals)
    frost_kj = least_share(mass, air_c) * a_day - (given_kj / days if given_kj else 0.0)
    frost = frost_kj / every.energy_kj_g
    least = max(keeps_rate, frost, 0.0)
    most_kj = care_figure("most_ration").value * a_day
    over = given_kj if days == 1 else 0.0
    most = max((most_kj - over) / every.energy_kj_g, 0.0)
    held = "" if least <= 0 else ("frost" if frost >= keeps_rate else "rate")
    return Bounds(ceil(least - 1e-9), max(floor(most), ceil(least - 1e-9)), held)


def best_grams(every: Rations, low_g: float, high_g: float, within: Bounds) -> int:
    """Grams of each meal with the best chance of the window at the last hour."""
    last = len(every.until) - 1
    middle = (low_g + high_g) / 2
    nearest = round(every.grams_for_reading(last, middle))
    nearest = min(max(nearest, within.least_g), within.most_g)
    step = max((within.most_g - within.least_g) // 60, 1)
    tried = {nearest, *range(within.least_g, within.most_g + 1, step)}

    def chance(grams: int) -> float:
        return every.at(last, grams).chance_within(low_g, high_g)

    best = max(sorted(tried), key=chance)
    around = range(max(best - step, within.least_g), min(best + step, within.most_g) + 1)
    best = max((*around, best), key=lambda grams: (chance(grams), -abs(grams - nearest)))
    return best if chance(best) > NO_CHANCE else nearest


def in_whole_items(every: Rations, food: Food, grams: int, low_g: float, high_g: float,
                   within: Bounds) -> int:  # fmt: skip
    """Whole items instead, where that costs next to no chance; else the grams as they are."""
    item = food.mass_typical_g
    if not item or grams <= 0:
        return grams
    last = len(every.until) - 1
    wanted = every.at(last, grams).chance_within(low_g, high_g)
    for count in sorted(
        {floor(grams / item), ceil(grams / item)}, key=lambda n: abs(n * item - grams)
    ):
        whole = round(count * item)
        if count > 0 and within.least_g <= whole <= within.most_g:
            there = every.at(last, whole)
            inside = low_g <= there.expected_g <= high_g
            if inside and there.chance_within(low_g, high_g) >= wanted - WHOLE_ITEMS_COST:
                return whole
    return grams
