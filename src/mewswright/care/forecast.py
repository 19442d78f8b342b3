"""What the scale will say at an hour to come, given what is fed until then.

Every setting of the noises foresees a normal distribution; they are mixed by their weights, so
that the interval is as wide as all that is not known makes it.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import timedelta

import numpy as np
from numpy.typing import NDArray

from mewswright.care.fed import Fed
from mewswright.care.learnt import Learnt
from mewswright.care.log_times import moment_of
from mewswright.care.record import Record, then
from mewswright.care.spend import flight_kj
from mewswright.handbook.care import care_figure
from mewswright.handbook.species import Species

Line = NDArray[np.float64]


@dataclass(frozen=True)
class Coming:
    """What is to come after the log's last row.

    Attributes:
        meals: Hour [days] and food of each.
        air_c: Mean temperature at the perch [C].
        wind_m_s: Wind at the perch [m/s].
        flights: Hour [days] and minutes of each.
        tells_all: Whether nothing else is fed; if not, days that the log does not answer for are
            taken as unknown.
    """

    air_c: float
    meals: tuple[tuple[float, Fed], ...] = ()
    wind_m_s: float = 0.0
    flights: tuple[tuple[float, float], ...] = ()
    tells_all: bool = True


@dataclass(frozen=True, eq=False)
class Foreseen:
    """A reading to come as a mixture: mean and spread [g] and weight of each setting.

    Attributes:
        mean: Of the reading, by setting [g].
        sd: Of the reading, by setting [g].
        weight: Of each setting.
        content_g: Crop and gut content in it [g].
        spent_kj: What the equations spend from the last weighing on [kJ].
        taken_kj: What is taken up from then on [kJ].
    """

    mean: Line
    sd: Line
    weight: Line
    content_g: float
    spent_kj: float
    taken_kj: float

    @property
    def expected_g(self) -> float:
        """Mean of the reading [g]."""
        return float(self.weight @ self.mean)

    @property
    def body_g(self) -> float:
        """Mean of the mass without content [g]."""
        return self.expected_g - self.content_g

    def interval_g(self, chance: float = 0.9) -> tuple[float, float]:
        """The middle interval that holds the reading with `chance` [g]."""
        from mewswright.care.mix_kernel import quantile

        tail = (1 - chance) / 2
        ends = [quantile(self.mean, self.sd, self.weight, at) for at in (tail, 1 - tail)]
        return float(ends[0]), float(ends[1])

    def chance_within(self, low_g: float, high_g: float) -> float:
        """Chance that the scale shows no less than `low_g` and no more than `high_g`."""
        from mewswright.care.mix_kernel import below

        there = below(self.mean, self.sd, self.weight, high_g)
        return float(max(there - below(self.mean, self.sd, self.weight, low_g), 0.0))


@dataclass(frozen=True)
class Balance:
    """A bird's books from its last weighing to an hour to come: grams, kilojoules, days."""

    content_g: float
    spent_kj: float
    taken_kj: float
    unsure_kj2: float
    days: float


def balances(record: Record, species: Species, coming: Coming,
             until: Sequence[float]) -> tuple[Balance, ...]:  # fmt: skip
    """The books at each of several hours [days], the earliest first."""
    now = then(record.end)
    start = now.gut.now
    if coming.tells_all:
        now.known_until = max(until)
    found = []
    events = sorted(
        [(max(day, start), 2, float(n)) for n, (day, _) in enumerate(coming.meals)]
        + [(max(day, start), 1, minutes) for day, minutes in coming.flights]
        + [(day, 0, 0.0) for day in until]  # weighed first, as a row of a log is
    )
    for day, kind, what in events:
        while now.gut.now < day:  # a week at a time, for the months of the moult
            month = (moment_of(now.gut.now) + timedelta(hours=1)).month
            now.at(min(day, now.gut.now + 7), species, coming.air_c, 1.0, month, coming.wind_m_s)
        if kind == 1:
            now.spent_kj += flight_kj(now.mass_g, what)
        elif kind == 2:
            now.gut.eat(coming.meals[int(what)][1])
        else:
            found.append(
                Balance(now.gut.content_g, now.spent_kj, now.taken_kj, now.unsure_kj2,
                        day - float(record.day[-1]))
            )  # fmt: skip
    return tuple(found)


def foresee(record: Record, learnt: Learnt, species: Species, coming: Coming,
            day: float) -> Foreseen:  # fmt: skip
    """The reading at `day`.

    Args:
        record: Of the bird.
        learnt: From the same record.
        species: Of the bird.
        coming: Meals, flights and air after the log's last row.
        day: When it will be weighed [days]; no earlier than the last row.
    """
    return reading(record, learnt, balances(record, species, coming, (day,))[0])


def reading(record: Record, learnt: Learnt, at: Balance) -> Foreseen:
    """What the scale will say, from the bird's books."""
    per = care_figure("change_energy").value * record.mass_g
    e, t = at.spent_kj / per, at.taken_kj / per
    m, k, b, p00, p01, p02, p11, p12, p22 = learnt.state
    mean = (m - e * k + t * b) * record.mass_g + at.content_g
    blur = (care_figure("content_spread").value * at.content_g / record.mass_g) ** 2
    variance = (
        p00 - 2 * e * p01 + 2 * t * p02 + e * e * p11 - 2 * e * t * p12 + t * t * p22
        + learnt.grid[1] * at.days + learnt.grid[2] * at.days * (e * e) / 3
        + at.unsure_kj2 / per**2 + blur + learnt.grid[0]
    )  # fmt: skip
    return Foreseen(
        mean, np.sqrt(variance) * record.mass_g, learnt.weight, at.content_g, at.spent_kj,
        at.taken_kj,
    )  # fmt: skip
