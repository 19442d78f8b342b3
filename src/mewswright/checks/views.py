"""What can be seen from each quarters of a yard, looked up once for a check."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from math import dist

from mewswright.checks.case import Case, Resident
from mewswright.checks.sightlines import Scene
from mewswright.ground.lookers import nearest_sight
from mewswright.ground.sight import Body, Eye, feature_screens
from mewswright.model.yard import Yard


@dataclass(frozen=True)
class Views:
    """All quarters of a yard, and the lines of sight between them.

    `range_m` is how long a line of sight may be to matter [m].
    """

    scene: Scene
    range_m: float
    _between: dict[int, tuple[int, ...]] = field(default_factory=dict)

    def eyes(self, i: int, bird: Resident) -> tuple[Eye, ...]:
        """Where a bird looks from in its quarters."""
        return self.scene.eyes(i, bird)

    def near(self, i: int) -> tuple[int, ...]:
        """Indices of the quarters of which some part lies in range of some part of one."""
        here = self.scene.bodies[i]
        bodies = self.scene.bodies
        return tuple(
            j
            for j in self.around(i)
            if dist(here.centre_m, bodies[j].centre_m)
            <= self.range_m + here.reach_m + bodies[j].reach_m
        )

    def around(self, i: int) -> tuple[int, ...]:
        """Indices of the quarters that may stand in a line from one, itself left out."""
        if i not in self._between:
            self._between[i] = tuple(self.scene.near(i))
        return self._between[i]

    def between(self, i: int) -> tuple[Body, ...]:
        """Quarters that may stand in a line that leaves one, itself included."""
        return (self.scene.bodies[i], *(self.scene.bodies[j] for j in self.around(i)))

    def sight_m(self, i: int, j: int, starts: Sequence[Eye], ends: Sequence[Eye]) -> float | None:
        """Shortest clear line in range from eyes in one quarters to eyes in another [m].

        Returns:
            Its length; None where none is clear.
        """
        own = self.scene.bodies[i], self.scene.bodies[j]
        found = nearest_sight(
            starts, ends, own,
            lambda: (self.scene.bodies[k] for k in self.around(i) if k != j),
            self.scene.screens, self.range_m,
        )  # fmt: skip
        return None if found is None else found[0]


def views(yard: Yard, cases: Sequence[Case], range_m: float) -> Views:
    """Look out over a yard as far as a range [m]."""
    return Views(Scene(tuple(cases), feature_screens(yard.feature)), range_m)
