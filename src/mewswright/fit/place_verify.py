"""A plan held against the ground itself, exactly, and against the checks of the yard it makes."""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from mewswright.checks.finding import Finding
from mewswright.checks.registry import run_checks
from mewswright.fit.place_ask import ways_of_new
from mewswright.fit.place_ground import Site, outline, reached
from mewswright.fit.place_piece import Placed
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard

HAIR_M = 1e-3
Key = tuple[str, str | None, str | None, str | None]


@dataclass(frozen=True)
class Verdict:
    """What is wrong with a plan: pieces whose doors are out of reach, pairs that meet, new harm."""

    cut_off: tuple[str, ...]
    meet: tuple[tuple[str, str], ...]
    outside: tuple[str, ...]
    harm: tuple[Finding, ...]
    short: tuple[Finding, ...]

    @property
    def is_sound(self) -> bool:
        """Whether the plan may be shown."""
        return not (self.cut_off or self.meet or self.outside or self.harm)


def on_the_ground(site: Site, placed: Sequence[Placed]) -> Verdict:
    """Hold a plan against the ground: outlines, overlaps, doors that can be reached.

    Doors that could be reached before must still be.
    """
    import shapely

    shapes = [outline(one) for one in placed]
    outside = tuple(
        one.piece.name
        for one, shape in zip(placed, shapes, strict=True)
        if not site.free(one.piece.living_kind).buffer(HAIR_M).covers(shape)
    )
    meet = tuple(
        (placed[i].piece.name, placed[j].piece.name)
        for i in range(len(placed))
        for j in range(i)
        if shapes[i].distance(shapes[j]) < site.passage_m - HAIR_M
    )
    ground = reached(site, placed)
    before = site.reached_today
    cut = [one.piece.name for one in placed
           if not ground.dwithin(shapely.Point(one.door_m), site.at_hand_m)]  # fmt: skip
    for one in site.standing:
        door = shapely.Point(one.door_m)
        if before.dwithin(door, site.at_hand_m) and not ground.dwithin(door, site.at_hand_m):
            cut.append(one.piece.name)
    return Verdict(tuple(cut), meet, outside, (), ())


def yard_with(yard: Yard, placed: Iterable[Placed]) -> Yard:
    """The yard as a plan makes it: moved quarters moved, new ones with doors and lobby added."""
    moved: dict[str, Quarters] = {}
    new: list[Quarters] = []
    spaces, doors = list(yard.space), list(yard.door)
    for one in placed:
        if one.piece.is_new:
            new += one.quarters
            more_spaces, more_doors = ways_of_new(one.piece)
            spaces += more_spaces
            doors += more_doors
        else:
            moved |= {q.name: q for q in one.quarters}
    quarters = (*(moved.get(q.name, q) for q in yard.quarters), *new)
    update = {"quarters": quarters, "space": tuple(spaces), "door": tuple(doors)}
    return yard.model_copy(update=update).with_own_standards(yard.own_standards)


def _key(finding: Finding) -> Key:
    return finding.code, finding.quarters, finding.bird, finding.fitting


class Judge:
    """The checks of the yard as it stands, to hold plans against."""

    def __init__(self, site: Site, standards: Sequence[str] | None = None) -> None:
        """Run the checks once on the yard as it is."""
        self._site, self._standards = site, standards
        self._before = Counter(
            (_key(f), f.status) for f in run_checks(site.yard, standards)
            if f.status in ("harm", "short")
        )  # fmt: skip

    def verdict(self, placed: Sequence[Placed]) -> Verdict:
        """Hold a plan against the ground and the checks; only what is new counts."""
        told = on_the_ground(self._site, placed)
        left = self._before.copy()
        fresh: list[Finding] = []
        for f in run_checks(yard_with(self._site.yard, placed), self._standards):
            if f.status not in ("harm", "short"):
                continue
            key = _key(f), f.status
            if left[key] > 0:
                left[key] -= 1
            elif not (f.status == "short" and left[_key(f), "harm"] > 0):
                fresh.append(f)
        return Verdict(
            told.cut_off, told.meet, told.outside,
            tuple(f for f in fresh if f.status == "harm"),
            tuple(f for f in fresh if f.status == "short"),
        )  # fmt: skip
