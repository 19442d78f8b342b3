"""What is in crop and gut: how much of a meal still lies on the scale, how much is taken up.

A meal leaves at a steady share of what is left, nine tenths of it by the hour when the pellet is
due;
what is cast stays until then. Both are working rules: birds were only timed from meal to pellet.
"""

from dataclasses import dataclass, field
from math import exp, log

from mewswright.care.fed import Fed
from mewswright.handbook.care import care_figure
from mewswright.handbook.species import Species


def pellet_days(species: Species) -> float:
    """Time from a meal to its pellet [days]."""
    kind = "owl" if species.is_owl else "hawk"
    return care_figure(f"pellet_h_{kind}").value / 24


def emptying_per_day(species: Species) -> float:
    """Share of the content that leaves in a day, as a rate [1/day]."""
    return -log(1 - care_figure("content_emptied").value) / pellet_days(species)


def pellet_share(casting: str) -> float:
    """Share of a meal that is cast, by the handbook's word for it [-]."""
    if "full" in casting:
        return care_figure("pellet_share_full").value
    if "light" in casting or "slight" in casting:
        return care_figure("pellet_share_slight").value
    return 0.0


@dataclass
class Gut:
    """Content of crop and gut on the way through a log. Times are days, and only go forward.

    Attributes:
        rate: Share that leaves [1/day].
        pellet_after: Time from a meal to its pellet [days].
        now: Where it stands.
        soft_g: Content that is digested.
        energy_kj: What it will still give.
        pellets: Hour and mass of each pellet to come, or held back.
    """

    rate: float
    pellet_after: float
    now: float
    soft_g: float = 0.0
    energy_kj: float = 0.0
    pellets: list[tuple[float, float]] = field(default_factory=list)

    @classmethod
    def empty(cls, species: Species, now: float) -> "Gut":
        """A gut with nothing in it."""
        return cls(emptying_per_day(species), pellet_days(species), now)

    @property
    def content_g(self) -> float:
        """What lies on the scale beside the bird [g]."""
        return self.soft_g + sum(mass for _, mass in self.pellets)

    def until(self, day: float) -> float:
        """Go forward to `day`; energy taken up on the way [kJ]."""
        left = exp(-self.rate * max(day - self.now, 0.0))
        taken = self.energy_kj * (1 - left)
        self.soft_g *= left
        self.energy_kj -= taken
        self.now = max(self.now, day)
        self.pellets = [(due, mass) for due, mass in self.pellets if due > self.now]
        return taken

    def eat(self, meal: Fed) -> None:
        """Take in a meal, now."""
        cast_g = pellet_share(meal.food.casting) * meal.grams
        self.soft_g += meal.grams - cast_g
        self.energy_kj += meal.energy_kj
        if cast_g > 0:
            self.pellets.append((self.now + self.pellet_after, cast_g))

    def cast(self) -> None:
        """The pellet has come."""
        self.pellets = []

    def held_back(self, days: float) -> None:
        """The pellet has not come: it is put off by so many days."""
        self.pellets = [(due + days, mass) for due, mass in self.pellets]
