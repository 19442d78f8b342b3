"""Every ration at once: what the scale will say grows in a straight line with the grams."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from mewswright.care.fed import Fed
from mewswright.care.forecast import Balance, Coming, Foreseen, balances, reading
from mewswright.care.learnt import Learnt
from mewswright.care.record import Record
from mewswright.handbook.foods import Food
from mewswright.handbook.species import Species

LATEST_MEAL_DAYS = 0.35  # a meal later than this before the scale would mostly lie in the crop
TRIAL_G = 100.0


def meal_days(start: float, at: float, fed_already: bool) -> tuple[float, ...]:
    """Hours of the meals from the log's last row to the hour asked for, a day apart [days].

    The first is at the last row, unless it has been fed since it was weighed and there is time for
    another.
    """
    later = []
    day = start + 1
    while day <= at - LATEST_MEAL_DAYS:
        later.append(day)
        day += 1
    return tuple(later) if fed_already and later else (start, *later)


@dataclass(frozen=True, eq=False)
class Rations:
    """The reading at some hours as a line in the grams of each meal.

    Attributes:
        record: Of the bird.
        learnt: From its record.
        meals: Hours of the meals [days].
        until: Hours of the readings [days].
        none: Books with nothing more fed.
        trial: Books with `TRIAL_G` at each meal.
        foods: Equal parts of each meal.
    """

    record: Record
    learnt: Learnt
    meals: tuple[float, ...]
    until: tuple[float, ...]
    none: tuple[Balance, ...]
    trial: tuple[Balance, ...]
    foods: tuple[Food, ...]

    @property
    def energy_kj_g(self) -> float:
        """Energy of a gram of the ration [kJ]."""
        return sum(food.metabolisable_kj_g for food in self.foods) / len(self.foods)

    @property
    def day_kj(self) -> float:
        """What the bird spends in a day until the last hour [kJ], its own factor counted."""
        last = self.none[-1]
        return last.spent_kj / max(last.days, 1e-9) * self.learnt.need

    def balance(self, n: int, grams: float) -> Balance:
        """Books at hour `n` with so many grams at each meal."""
        a, b, share = self.none[n], self.trial[n], grams / TRIAL_G
        return replace(
            a,
            content_g=a.content_g + share * (b.content_g - a.content_g),
            taken_kj=a.taken_kj + share * (b.taken_kj - a.taken_kj),
        )

    def at(self, n: int, grams: float) -> Foreseen:
        """The reading at hour `n` with so many grams at each meal."""
        return reading(self.record, self.learnt, self.balance(n, grams))

    def grams_for_body(self, n: int, body_g: float) -> float:
        """Grams at each meal that leave this mass without content at hour `n`; may be negative."""
        none, trial = self.at(n, 0.0).body_g, self.at(n, TRIAL_G).body_g
        return TRIAL_G * (body_g - none) / (trial - none) if trial > none else 0.0

    def grams_for_reading(self, n: int, reading_g: float) -> float:
        """Grams at each meal for which the scale is expected to say this; may be negative."""
        none, trial = self.at(n, 0.0).expected_g, self.at(n, TRIAL_G).expected_g
        return TRIAL_G * (reading_g - none) / (trial - none) if trial > none else 0.0


def rations(
    record: Record,
    learnt: Learnt,
    species: Species,
    foods: Sequence[Food],
    until: Sequence[float],
    air_c: float,
    wind_m_s: float = 0.0,
) -> Rations:
    """All rations from the log's last row on.

    Args:
        record: Of the bird.
        learnt: From it.
        species: Of the bird.
        foods: Equal parts of each meal by mass.
        until: Hours of the readings [days], the earliest first.
        air_c: Air at the perch [C].
        wind_m_s: Wind at the perch [m/s].
    """
    hours = meal_days(record.end.gut.now, until[-1], bool(record.end.given))
    each = TRIAL_G / len(foods)
    trial = tuple((hour, Fed(food, each)) for hour in hours for food in foods)
    none = balances(record, species, Coming(air_c, (), wind_m_s), until)
    with_food = balances(record, species, Coming(air_c, trial, wind_m_s), until)
    return Rations(record, learnt, hours, tuple(until), none, with_food, tuple(foods))
