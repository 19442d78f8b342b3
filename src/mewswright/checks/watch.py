"""A yard's lines of sight from every bird to every bird, meal and thing of the ground."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from math import dist, hypot, inf

from mewswright.checks.case import Case, Resident, cases
from mewswright.checks.outlook import FED_M, meals_of
from mewswright.checks.sight_told import Looker, NoScreen, ScreenPart, ScreenPlan, SeenThing
from mewswright.checks.sightlines import RANGE_M, Scene, why_afraid
from mewswright.checks.views import Views
from mewswright.ground.lookers import (
    WATCHED_M,
    Sight,
    clear_lines,
    feature_in_sight,
    hidden_by,
    nearest_sight,
    places_of,
    short_of,
    spots_of,
)
from mewswright.ground.screening import Line, Proposal, proposals
from mewswright.ground.screens import YEAR, Blocker, Eye, feature_screens, hidden_months
from mewswright.ground.sight import Body
from mewswright.model.place import Feature
from mewswright.model.yard import Yard

Ask = Callable[[Sequence[Blocker]], Sight | None]


@dataclass(frozen=True)
class Look:
    """A bird in quarters, with all its stays there."""

    name: str
    at: int
    stays: tuple[Resident, ...]


@dataclass(frozen=True)
class Watch:
    """A yard's lines of sight, each asked once."""

    yard: Yard
    _known: dict[object, tuple[Sight | None, tuple[int, ...]]] = field(default_factory=dict)

    @cached_property
    def cases(self) -> tuple[Case, ...]:
        """One case for each quarters."""
        return cases(self.yard)

    @cached_property
    def scene(self) -> Scene:
        """What stands all year."""
        return Scene(self.cases, feature_screens(self.yard.feature))

    @cached_property
    def leafy(self) -> tuple[tuple[frozenset[int], tuple[Blocker, ...]], ...]:
        """What hides in some months alone: those months, and the blockers."""
        found: dict[frozenset[int], list[Blocker]] = {}
        for feature in self.yard.feature:
            months = hidden_months(feature)
            if months and months != YEAR:
                found.setdefault(months, []).extend(feature_screens((feature,), min(months)))
        return tuple((months, tuple(of)) for months, of in found.items())

    @cached_property
    def lookers(self) -> tuple[Look, ...]:
        """Every bird in every quarters that it has a stay in."""
        found: dict[tuple[int, str], list[Resident]] = {}
        for i, case in enumerate(self.cases):
            for resident in case.residents:
                found.setdefault((i, resident.bird.name), []).append(resident)
        return tuple(Look(name, i, tuple(stays)) for (i, name), stays in found.items())

    @cached_property
    def _index(self) -> dict[str, int]:
        return {case.quarters.name: j for j, case in enumerate(self.cases)}

    @cached_property
    def _views(self) -> Views:
        return Views(self.scene, FED_M)

    @cached_property
    def _meals(self) -> tuple[tuple[Eye, ...], ...]:
        return tuple(meals_of(self._views, j) for j in range(len(self.cases)))

    def places(self, look: Look, with_: Sequence[Resident] = ()) -> dict[Eye, str]:
        """Eyes of a bird with the perch of each, in the stays that share a day with others'."""
        stays = [
            one
            for one in look.stays
            if not with_ or any(one.stay.overlaps(other.stay) for other in with_)
        ]
        body = self.scene.bodies[look.at]
        return {eye: name for one in stays for name, eye in places_of(body, one.stay)}

    def told(self, look: Look) -> Looker:
        """Where a bird looks from."""
        eyes = self.places(look)
        name = self.cases[look.at].quarters.name
        return Looker(
            bird=look.name, quarters=name, perches=tuple(eyes.values()), eyes_m=tuple(eyes)
        )

    def bodies(self, i: int) -> tuple[Body, ...]:
        """Quarters that may stand in a line from one, itself included."""
        return (self.scene.bodies[i], *(self.scene.bodies[j] for j in self.scene.near(i)))

    def seen_by(self, look: Look) -> Iterator[SeenThing]:
        """What one bird sees, and what it does not."""
        i = look.at
        near = {i, *self.scene.near(i)}
        for other in self.lookers:
            if other.at in near and other.name != look.name:
                meets = [
                    one for one in look.stays
                    if any(one.stay.overlaps(o.stay) for o in other.stays)
                ]  # fmt: skip
                if meets:
                    yield self._of_bird(look, other)
        for j in sorted(near - {i}):
            others = [
                r for r in self.cases[j].residents
                if r.bird.name != look.name and any(s.stay.overlaps(r.stay) for s in look.stays)
            ]  # fmt: skip
            if self._meals[j] and others:
                yield self._of_meal(look, j)
        for feature in self.yard.feature:
            if feature.kind in WATCHED_M:
                yield self._of_feature(look, feature)

    def _of_bird(self, look: Look, other: Look) -> SeenThing:
        places, theirs = self.places(look, other.stays), self.places(other, look.stays)
        starts, ends = tuple(places), tuple(theirs)
        together = look.at == other.at
        reason = None if together else why_afraid(look.stays[0], other.stays[0])
        turned = look.at > other.at
        key = (ends, starts) if turned else (starts, ends)  # sight goes both ways
        if key not in self._known:
            self._known[key] = self._sight(look.at, other.at, *key, inf)
        sight, months = self._known[key]
        if sight is not None and turned:
            sight = sight[0], sight[2], sight[1]
        return self._thing(
            look, other.name, "bird", self.cases[other.at].quarters.name, sight, months, places,
            (starts, ends), "" if reason is None else reason[0],
        )  # fmt: skip

    def _of_meal(self, look: Look, j: int) -> SeenThing:
        places, ends = self.places(look), self._meals[j]
        sight, months = self._sight(look.at, j, tuple(places), ends, FED_M)
        name = self.cases[j].quarters.name
        return self._thing(
            look, f"food in {name}", "feeding", name, sight, months, places, (tuple(places), ends),
            "",
        )  # fmt: skip

    def _of_feature(self, look: Look, feature: Feature) -> SeenThing:
        places = self.places(look)
        eyes, bodies = tuple(places), self.bodies(look.at)

        def ask(screens: Sequence[Blocker]) -> Sight | None:
            return feature_in_sight(eyes, feature, bodies, screens, RANGE_M)

        sight, months = self._by_months(ask)
        nearest = min(
            ((hypot(p[0] - e[0], p[1] - e[1]), e, short_of(e, p, feature))
             for e in eyes for p in spots_of(feature, e, RANGE_M)[:1]), default=None,
        )  # fmt: skip
        ends = ((), ()) if nearest is None else ((nearest[1],), (nearest[2],))
        return self._thing(
            look,
            feature.name,
            feature.kind,
            "",
            sight,
            months,
            places,
            ends,
            "",
        )

    def _sight(
        self, i: int, j: int, starts: tuple[Eye, ...], ends: tuple[Eye, ...], range_m: float
    ) -> tuple[Sight | None, tuple[int, ...]]:
        own = tuple(self.scene.bodies[k] for k in dict.fromkeys((i, j)))

        def ask(screens: Sequence[Blocker]) -> Sight | None:
            return nearest_sight(
                starts, ends, own,
                lambda: (self.scene.bodies[k] for k in self.scene.near(i) if k != j),
                screens, range_m, level=range_m == inf,
            )  # fmt: skip

        return self._by_months(ask)

    def _by_months(self, ask: Ask) -> tuple[Sight | None, tuple[int, ...]]:
        """The nearest line that is clear in some month, and the months with a clear line."""
        best = ask(self.scene.screens)
        if best is None or not self.leafy:
            return best, () if best is None else tuple(sorted(YEAR))
        clear: list[int] = []
        known: dict[tuple[int, ...], bool] = {}
        for month in sorted(YEAR):
            up = tuple(k for k, (months, _) in enumerate(self.leafy) if month in months)
            if up not in known:
                leaves = [one for k in up for one in self.leafy[k][1]]
                known[up] = not leaves or ask((*self.scene.screens, *leaves)) is not None
            if known[up]:
                clear.append(month)
        return (best, tuple(clear)) if clear else (None, ())

    def _thing(
        self, look: Look, target: str, kind: str, place: str, sight: Sight | None,
        months: tuple[int, ...], places: dict[Eye, str],
        ends: tuple[Sequence[Eye], Sequence[Eye]], why: str,
    ) -> SeenThing:  # fmt: skip
        hidden: tuple[str, ...] = ()
        if sight is None and ends[0] and ends[1]:
            _, a, b = min((dist(a, b), a, b) for a in ends[0] for b in ends[1])
            leaves = [one for _, of in self.leafy for one in of]
            bodies = self.bodies(look.at)
            hidden = hidden_by(a, b, bodies, (*self.scene.screens, *leaves))
        own = self.cases[look.at].quarters.name
        return SeenThing(
            bird=look.name, quarters=own, target=target, kind=kind, place=place,
            together=place == own, seen=sight is not None, months=months,
            distance_m=None if sight is None else round(sight[0], 3),
            from_perch="" if sight is None else places.get(sight[1], ""),
            eye_m=None if sight is None else sight[1], spot_m=None if sight is None else sight[2],
            forbidden=bool(why), why=why, hidden_by=hidden,
        )  # fmt: skip

    def screened(self, many: Sequence[SeenThing]) -> Iterator[ScreenPlan | NoScreen]:
        """Screens that break every line from a bird to some things, asked again once set up.

        Args:
            many: Things that one bird sees from one quarters, at least one.
        """
        first = many[0]
        apart = [one for one in many if not one.together]
        if not apart:
            yield _no(many, "both live in the same quarters: house one of them elsewhere")
            return
        look = next(
            one for one in self.lookers
            if one.name == first.bird and self.cases[one.at].quarters.name == first.quarters
        )  # fmt: skip
        lines = [line for one in apart for line in self._clear(look, one, self.scene.screens)]
        places = {one.place for one in apart}
        ends = (first.quarters, *places) if len(places) == 1 else (first.quarters,)
        found = proposals(self.yard, lines, self.scene.bodies, ends) if lines else ()
        if not found:
            yield _no(many, "no free ground lies across all the lines, and no face holds them all: "
                      "move one of them")  # fmt: skip
        for plan in found:
            screens = (*self.scene.screens, *plan.screens)
            left = any(self._clear(look, one, screens) for one in apart)
            yield _plan(apart, plan, len(lines), left)

    def _clear(self, look: Look, seen: SeenThing, screens: Sequence[Blocker]) -> tuple[Line, ...]:
        j = self._index.get(seen.place)
        bodies = self.bodies(look.at)
        if seen.kind == "bird":
            other = next(o for o in self.lookers if o.name == seen.target and o.at == j)
            starts, ends = self.places(look, other.stays), self.places(other, look.stays)
            return clear_lines(tuple(starts), tuple(ends), bodies, screens)
        if j is not None:
            return clear_lines(tuple(self.places(look)), self._meals[j], bodies, screens)
        feature = next(f for f in self.yard.feature if f.name == seen.target)
        others = [screen for screen in screens if screen.of != feature.name]
        return tuple(
            line
            for eye in self.places(look)
            for spot in spots_of(feature, eye, RANGE_M)
            for line in clear_lines((eye,), (short_of(eye, spot, feature),), bodies, others)
        )


def _targets(many: Sequence[SeenThing]) -> tuple[str, ...]:
    return tuple(one.target for one in many)


def _no(many: Sequence[SeenThing], why: str) -> NoScreen:
    first = many[0]
    return NoScreen(bird=first.bird, quarters=first.quarters, targets=_targets(many), why=why)


def _plan(many: Sequence[SeenThing], one: Proposal, lines: int, still_seen: bool) -> ScreenPlan:
    parts = tuple(ScreenPart(from_m=a, to_m=b, height_m=high) for (a, b), high in one.parts)
    return ScreenPlan(
        bird=many[0].bird, quarters=many[0].quarters, targets=_targets(many),
        kind=one.kind, at=one.at, parts=parts, length_m=one.length_m, height_m=one.height_m,
        breaks=lines, still_seen=still_seen,
    )  # fmt: skip
