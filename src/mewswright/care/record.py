"""A log as the numbers that the filter takes: one step a weighing, as shares of one mass.

Between two weighings a bird takes up what its gut gives and spends what `spend` says. Where a log
does not say what was fed for more than a day and a quarter, the bird is taken to have eaten what it
spent (half of it where the log mostly says what was fed), give or take half of that.
"""

from collections import Counter
from collections.abc import Sequence
from copy import deepcopy
from dataclasses import dataclass, field
from statistics import fmean, median

import numpy as np
from numpy.typing import NDArray

from mewswright.care.fed import Fed
from mewswright.care.gut import Gut
from mewswright.care.log import CROP_FULL, LogRow
from mewswright.care.notes import casting
from mewswright.care.spend import day_kj, flight_kj
from mewswright.care.tidy import Tidy
from mewswright.handbook.care import care_figure
from mewswright.handbook.foods import Food
from mewswright.handbook.species import Species

Line = NDArray[np.float64]
COVERED_DAYS = 1.25  # so long a row answers for what was fed: a judgement
TEMP_HOLDS_DAYS = 3.0  # so long a temperature stands for the next days: a judgement


@dataclass(frozen=True, eq=False)
class Record:
    """Steps of the filter, and where the log ends.

    Attributes:
        mass_g: Mass that shares are of [g].
        day: Times of the weighings [days].
        weight_g: What the scale said [g].
        content_g: Crop and gut content taken off [g].
        body: Weight without content, as a share.
        days: Time since the weighing before [days].
        spent: Mass that the equations would have burnt since then, as a share.
        taken: Mass that the food taken up since then would have made, as a share.
        unsure: Variance that unknown meals add, as a share squared.
        blur: Variance of the content that was taken off, as a share squared.
        end: State of things after the last row.
    """

    mass_g: float
    day: Line
    weight_g: Line
    content_g: Line
    body: Line
    days: Line
    spent: Line
    taken: Line
    unsure: Line
    blur: Line
    end: "Now"


@dataclass
class Now:
    """A bird on its way through its log, between two weighings.

    `spent_kj`, `taken_kj` and `unsure_kj2` are since the last weighing. `given` holds what was fed
    after it; `air_c` None stands for a log without temperatures.
    """

    gut: Gut
    mass_g: float
    air_c: float | None = None
    air_day: float = 0.0
    known_until: float = 0.0
    spent_kj: float = 0.0
    taken_kj: float = 0.0
    unsure_kj2: float = 0.0
    unknown_days: float = 0.0
    given: list[Fed] = field(default_factory=list)

    def at(self, day: float, species: Species, air_c: float, share: float, month: int,
           wind_m_s: float = 0.0) -> None:  # fmt: skip
        """Go forward to `day` in air of `air_c`; unknown meals were `share` of the spending."""
        since = self.gut.now
        self.taken_kj += self.gut.until(day)
        length = max(day - since, 0.0)
        a_day = day_kj(self.mass_g, air_c, species, month, wind_m_s)
        self.spent_kj += a_day * length
        unknown = min(max(day - max(since, self.known_until), 0.0), length)
        if unknown > 0:
            self.unknown_days += unknown
            self.taken_kj += share * a_day * unknown
            spread = care_figure("missed_meal_spread").value * a_day
            self.unsure_kj2 += spread**2 * unknown


def usual_food(rows: Sequence[LogRow], else_food: Food) -> Food:
    """The food that a log names most; `else_food` where it names none."""
    named = Counter(meal.food.id for row in rows for meal in row.fed)
    best = max(named, key=lambda name: (named[name], name), default="")
    return next((m.food for row in rows for m in row.fed if m.food.id == best), else_food)


def record(log: Tidy, species: Species, food: Food) -> Record:
    """Turn a tidy log into steps.

    Args:
        log: The rows; at least one has a weight.
        species: Of the bird.
        food: Taken for a crop that no row explains, in a log that names no food.
    """
    food = usual_food(log.rows, food)
    weights = [row.weight_g for row in log.rows if row.weight_g is not None]
    mass0 = float(median(weights))
    per_share = care_figure("change_energy").value * mass0
    temps = [row.temp_c for row in log.rows if row.temp_c is not None]
    mean_c = fmean(temps) if temps else care_figure("unknown_temp").value
    told = [row.feeding_known for row in log.rows if row.weight_g is not None]
    share = 0.5 if sum(told) > len(told) / 2 else 1.0
    now = Now(Gut.empty(species, log.days[0]), weights[0], known_until=log.days[0])
    blurred = care_figure("content_spread").value
    steps: list[tuple[float, ...]] = []
    before = log.days[0]
    for row, day in zip(log.rows, log.days, strict=True):
        fresh = now.air_c is not None and day - now.air_day <= TEMP_HOLDS_DAYS
        now.at(day, species, now.air_c if fresh and now.air_c is not None else mean_c, share,
               row.at.month)  # fmt: skip
        if row.temp_c is not None:
            now.air_c, now.air_day = row.temp_c, day
        _pellet(now.gut, row)
        if row.weight_g is not None:
            _unlogged_crop(now, row, food)
            content = now.gut.content_g
            steps.append((
                day, row.weight_g, content, (row.weight_g - content) / mass0, day - before,
                now.spent_kj / per_share, now.taken_kj / per_share,
                now.unsure_kj2 / per_share**2, (blurred * content / mass0) ** 2,
            ))  # fmt: skip
            before = day
            now.mass_g = max(row.weight_g - content, 0.5 * row.weight_g)
            now.spent_kj = now.taken_kj = now.unsure_kj2 = now.unknown_days = 0.0
            now.given = []
        if row.flown_min:
            now.spent_kj += flight_kj(now.mass_g, row.flown_min)
        for meal in row.fed:
            now.gut.eat(meal)
            now.given.append(meal)
        if row.feeding_known:
            now.known_until = day + COVERED_DAYS
    columns = np.array(steps).T.copy()
    day_, weight_, content_, body, length, spent, taken, unsure, blur = columns
    return Record(mass0, day_, weight_, content_, body, length, spent, taken, unsure, blur, now)


def _pellet(gut: Gut, row: LogRow) -> None:
    came = casting(row.note)
    if came is True:
        gut.cast()
    elif came is False:
        gut.held_back(0.5)


def _unlogged_crop(now: Now, row: LogRow, food: Food) -> None:
    """A crop that the meals on record do not explain was filled by one that is not."""
    if row.crop is None or row.weight_g is None:
        return
    full = care_figure("crop_full_share").value * row.weight_g
    missing = row.crop / CROP_FULL * full - now.gut.content_g
    if missing > 0:
        now.gut.eat(Fed(food, missing))


def then(end: Now) -> Now:
    """A copy to go on from: what is tried on it leaves the record alone."""
    return deepcopy(end)
