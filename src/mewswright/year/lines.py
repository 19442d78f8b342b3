"""From which place a bird sees one in another: every pair of places, looked along once."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

from mewswright.checks.case import Resident, cases
from mewswright.checks.outlook import FED_M, meals_of
from mewswright.checks.sightlines import RANGE_M, Scene, why_afraid
from mewswright.checks.views import Views
from mewswright.ground.lookers import places_of
from mewswright.ground.screens import Eye
from mewswright.ground.sight import feature_screens
from mewswright.handbook import species
from mewswright.model.bird import Bird, Stay
from mewswright.model.yard import Yard

Where = tuple[
    str, Literal["loose", "tethered"], str | None
]  # quarters, mode, perch of a tethered bird


@dataclass(frozen=True)
class Lines:
    """The lines of sight of a yard, screens in leaf all year counted."""

    yard: Yard

    @cached_property
    def _views(self) -> Views:
        return Views(Scene(cases(self.yard), feature_screens(self.yard.feature)), RANGE_M)

    @cached_property
    def _residents(self) -> dict[str, Resident]:
        return {bird.name: _as_resident(bird) for bird in self.yard.bird}

    def afraid_of(self, one: Bird, other: Bird) -> str | None:
        """Why one bird must not see another; None where nothing says so."""
        reason = why_afraid(self._residents[one.name], self._residents[other.name])
        return None if reason is None else reason[0]

    @cached_property
    def _at(self) -> dict[str, int]:
        return {q.name: i for i, q in enumerate(self.yard.quarters)}

    def eyes(self, where: Where) -> tuple[Eye, ...]:
        """Where a bird looks from."""
        name, mode, perch = where
        stay = Stay.model_construct(bird="", quarters=name, mode=mode, perch=perch)
        return tuple(eye for _, eye in places_of(self._views.scene.bodies[self._at[name]], stay))

    def in_sight(self, places: Sequence[Where]) -> frozenset[tuple[int, int]]:
        """Pairs of places (p, q), both ways, between which there is a clear line."""
        of: dict[str, list[int]] = {}
        for p, where in enumerate(places):
            of.setdefault(where[0], []).append(p)
        eyes = [self.eyes(where) for where in places]
        found: set[tuple[int, int]] = set()
        for name, mine in of.items():
            i = self._at[name]
            # Birds tied side by side in one shelter see each other.
            found |= {(p, q) for p in mine for q in mine if _side_by_side(places[p], places[q])}
            for j in self._views.near(i):
                theirs = of.get(self.yard.quarters[j].name, ())
                known: dict[tuple[tuple[Eye, ...], tuple[Eye, ...]], bool] = {}
                for p in mine:
                    for q in theirs:
                        if i > j:
                            continue
                        key = eyes[p], eyes[q]
                        if key not in known:
                            known[key] = self._views.sight_m(i, j, *key) is not None
                        if known[key]:
                            found |= {(p, q), (q, p)}
        return frozenset(found)

    def fed_in_sight(self, places: Sequence[Where]) -> frozenset[tuple[int, int]]:
        """Pairs (p, q): a bird in p sees one being fed in q."""
        views = Views(self._views.scene, FED_M)
        found = set()
        for p, where in enumerate(places):
            i = self._at[where[0]]
            near = set(views.near(i))
            for q, (name, mode, perch) in enumerate(places):
                j = self._at[name]
                if j in near:
                    meals = (
                        meals_of(views, j) if mode == "loose" else self.eyes((name, mode, perch))
                    )
                    if meals and views.sight_m(i, j, self.eyes(where), meals) is not None:
                        found.add((p, q))
        return frozenset(found)


def _side_by_side(one: Where, other: Where) -> bool:
    return one[1] == other[1] == "tethered" and one[2] != other[2]


def _as_resident(bird: Bird) -> Resident:
    stay = Stay.model_construct(bird=bird.name, quarters="", mode="loose")
    return Resident(bird, species(bird.species), stay)
