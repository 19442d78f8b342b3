"""The making of an abstract year: what is known so far, and the rules that were met on the way."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Literal

from mewswright.model.bird import Bird, Stay
from mewswright.model.yard import Yard
from mewswright.year.charges import Charge
from mewswright.year.flock import Member
from mewswright.year.laid import Rule
from mewswright.year.spots import Spot
from mewswright.year.steps import Steps

if TYPE_CHECKING:
    from mewswright.year.problem import YearProblem


@dataclass
class Draft:
    """An abstract year in the making.

    Args:
        problem: The yard and the days.
        without: Keys of rules that do not hold.
        isolated: Steps of isolation of each newcomer.
        members: The units.
        spots: The places.
        stays: Stays of the file that touch the plan or its eve, by bird.
        may: Places in which each unit may live.
        charges: What the units' steps cost.
    """

    problem: YearProblem
    without: frozenset[str]
    isolated: dict[str, range] = field(default_factory=dict)
    members: tuple[Member, ...] = ()
    spots: tuple[Spot, ...] = ()
    stays: dict[str, list[Stay]] = field(default_factory=dict)
    may: list[set[int]] = field(default_factory=list)
    charges: list[Charge] = field(default_factory=list)
    rules: dict[str, Rule] = field(default_factory=dict)
    assumed: dict[str, None] = field(default_factory=dict)
    cautions: dict[str, None] = field(default_factory=dict)
    birds: dict[str, Bird] = field(init=False)

    def __post_init__(self) -> None:
        """Look the birds up once."""
        self.birds = {bird.name: bird for bird in self.yard.bird}

    @property
    def yard(self) -> Yard:
        """The yard."""
        return self.problem.yard

    @property
    def steps(self) -> Steps:
        """The days."""
        return self.problem.calendar

    def keeps(
        self, key: str, says: str, kind: Literal["wish", "fact", "standard"], price: int | None
    ) -> bool:
        """Enter a rule, and say whether it holds."""
        if key in self.without:
            return False
        self.rules.setdefault(key, Rule(key, says, kind, price))
        return True

    def mind(self, words: str) -> None:
        """Enter something to mind in any plan."""
        self.cautions[words] = None

    def assume(self, words: str) -> None:
        """Enter something that was taken for granted."""
        self.assumed[words] = None
