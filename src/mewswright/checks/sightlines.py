"""Who sees whom, and what a newcomer has to look at.

A bird looks from each of its perches. Without a perch it looks from the middle of the
floor. Trees hide nothing, and the ground is taken as level.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import cached_property, lru_cache
from math import hypot

from mewswright.checks import asked
from mewswright.checks.asked import verdict
from mewswright.checks.case import Case, Resident
from mewswright.checks.finding import Evidence, Finding
from mewswright.checks.registry import yard_check
from mewswright.ground.lookers import feature_in_sight, places_of
from mewswright.ground.sight import Blocker, Body, Eye, feature_screens, in_the_way, sees
from mewswright.handbook import Fear, fears, species
from mewswright.model.quantity import metres
from mewswright.model.yard import Yard

RANGE_M = 60.0  # beyond this a bird is not taken to mind another: a judgement
STARTLING = ("lane", "road", "playground", "dog_run", "kennel")
STARTLING_EYE_M = 1.0  # where their sound comes from: a dog's head or a child's


@dataclass(frozen=True)
class Scene:
    """All quarters of a yard in squares of the ground, so that near ones are found fast."""

    cases: tuple[Case, ...]
    screens: tuple[Blocker, ...]
    _eyes: dict[tuple[int, str | None, bool], tuple[Eye, ...]] = field(default_factory=dict)

    @cached_property
    def bodies(self) -> tuple[Body, ...]:
        return tuple(case.body for case in self.cases)

    @cached_property
    def _squares(self) -> dict[tuple[int, int], list[int]]:
        found: dict[tuple[int, int], list[int]] = {}
        for i, body in enumerate(self.bodies):
            found.setdefault(_square(body), []).append(i)
        return found

    def near(self, i: int) -> list[int]:
        """Indices of the quarters in range of one, itself left out, in order."""
        here = self.bodies[i]
        column, row = _square(here)
        return sorted(
            j
            for a in (column - 1, column, column + 1)
            for b in (row - 1, row, row + 1)
            for j in self._squares.get((a, b), ())
            if j != i
            and hypot(
                here.centre_m[0] - self.bodies[j].centre_m[0],
                here.centre_m[1] - self.bodies[j].centre_m[1],
            )
            <= RANGE_M
        )

    def eyes(self, i: int, bird: Resident) -> tuple[Eye, ...]:
        """Where a bird looks from in its quarters."""
        key = (i, bird.stay.perch, bird.tethered)
        if key not in self._eyes:
            self._eyes[key] = self._look_from(i, bird)
        return self._eyes[key]

    def _look_from(self, i: int, bird: Resident) -> tuple[Eye, ...]:
        return tuple(eye for _, eye in places_of(self.bodies[i], bird.stay))


def _square(body: Body) -> tuple[int, int]:
    return int(body.centre_m[0] // RANGE_M), int(body.centre_m[1] // RANGE_M)


@lru_cache(maxsize=4096)
def _fear(afraid: str, feared: str, own_g: float, other_g: float) -> Fear | None:
    """Asked by id: a species is slow to hash."""
    return fears(species(afraid), species(feared), own_g, other_g)


def why_afraid(bird: Resident, other: Resident) -> tuple[str, tuple[Evidence, ...]] | None:
    """Why one bird must not see another, or None where no rule and no keeper says so."""
    if other.bird.name in bird.bird.fears:
        told = f"{bird.bird.name} fears it, as the yard file says"
        own = Evidence(name="the yard file", locator=f"fears of {bird.bird.name}", how_known="read")
        return told, (own,)
    if other.bird.name in bird.bird.companions:
        return None
    fear = _fear(bird.species.id, other.species.id, bird.mass.value, other.mass.value)
    return None if fear is None else (fear.reason, asked.witnesses(fear.source))


@yard_check("G103", "Out of sight of birds that it fears")
def feared_in_sight(yard: Yard, cases: Sequence[Case]) -> Iterator[Finding]:
    """No bird has to look at one that hunts its kind."""
    scene = Scene(tuple(cases), feature_screens(yard.feature))
    for i, case in enumerate(cases):
        for bird in case.residents:
            seen = list(_seen(scene, i, bird))
            yield from seen
            if not seen:
                yield verdict(
                    "G103", case, True, "mind", bird=bird.bird.name,
                    limit=metres(RANGE_M), sources=asked.judgement("range of sight that matters"),
                )  # fmt: skip


def _seen(scene: Scene, i: int, bird: Resident) -> Iterator[Finding]:
    nearest: dict[str, tuple[float, str, Finding]] = {}
    near = scene.near(i)
    between = [scene.bodies[i], *(scene.bodies[j] for j in near)]
    for j in near:
        for other in scene.cases[j].residents:
            name = other.bird.name
            if name == bird.bird.name or not bird.stay.overlaps(other.stay):
                continue
            reason = why_afraid(bird, other)
            if reason is None:
                continue
            lines = sorted(
                (hypot(b[0] - a[0], b[1] - a[1]), a, b)
                for a in scene.eyes(i, bird)
                for b in scene.eyes(j, other)
            )
            place = scene.cases[j].quarters.name
            if name in nearest:  # where it stands nearest is told
                lines = [line for line in lines if (line[0], place) < nearest[name][:2]]
            if not lines:
                continue
            starts, ends = [line[1] for line in lines], [line[2] for line in lines]
            bodies, screens = in_the_way(starts, ends, between, scene.screens)
            away_m = next((m for m, a, b in lines if sees(a, b, bodies, screens)), None)
            if away_m is None:
                continue
            finding = verdict(
                "G103", scene.cases[i], False, "short",
                measured=metres(away_m), limit=metres(RANGE_M),
                bird=bird.bird.name, fitting=name,
                why=f"it sees {name} in {place}: {reason[0]}",
                remedy="board the face that looks there, set a screen between, or move one",
                sources=reason[1],
            )  # fmt: skip
            nearest[name] = away_m, place, finding
    yield from (finding for _, _, finding in nearest.values())


@yard_check("G104", "A quiet outlook for a newcomer")
def startled(yard: Yard, cases: Sequence[Case]) -> Iterator[Finding]:
    """A newcomer or a nervous bird does not look out on dogs, traffic or children."""
    scene = Scene(tuple(cases), feature_screens(yard.feature))
    noisy = [feature for feature in yard.feature if feature.kind in STARTLING]
    for i, case in enumerate(cases):
        for bird in case.residents:
            new = bird.stay.isolated or bird.bird.arrives_on is not None or bird.bird.nervous
            if not new:
                continue
            between = [scene.bodies[i], *(scene.bodies[j] for j in scene.near(i))]
            for feature in noisy:
                yield _outlook(scene, i, bird, feature.name, between)


def _outlook(scene: Scene, i: int, bird: Resident, name: str, between: Sequence[Body]) -> Finding:
    case = scene.cases[i]
    feature = next(f for f in case.yard.feature if f.name == name)
    seen = feature_in_sight(scene.eyes(i, bird), feature, between, scene.screens, RANGE_M)
    what = feature.kind.replace("_", " ")
    return verdict(
        "G104", case, seen is None, "mind",
        measured=metres(seen[0]) if seen else None, limit=metres(RANGE_M),
        bird=bird.bird.name, fitting=name, why=f"it looks out on the {what}, and bates",
        remedy="screen that side until the bird is at ease",
        sources=asked.judgement("outlook of a newcomer or nervous bird"),
    )  # fmt: skip
