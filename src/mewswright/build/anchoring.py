"""Anchors that are chosen where the yard file leaves them open: anchor = "auto".

The kind follows from the base: expansion bolts in a slab, holes of concrete beside sleepers
and pads, ground anchors once they were pulled on the spot; posts in concrete need none. Of
each there are the fewest that hold the unit down in its wind.
"""

from collections import deque
from collections.abc import Iterator
from dataclasses import dataclass

from mewswright.build.actions.of_unit import actions_on
from mewswright.build.actions.result import Actions
from mewswright.build.frame import built_frame
from mewswright.build.frame_path import asked_of_anchor_kn, inner_posts, one_anchor
from mewswright.build.frame_report import member_results, stability_of
from mewswright.build.frame_uprights import Carried
from mewswright.build.holding.anchors import MOST
from mewswright.build.holding.ground import hole_volume_m3
from mewswright.build.holding.means import means
from mewswright.build.holding.stability import Stability
from mewswright.build.lines import Lines, lines_of
from mewswright.build.parts import BuiltFrame
from mewswright.build.size_choices import HOLES_MM
from mewswright.model.footing_keys import AUTO
from mewswright.model.problem import Problem
from mewswright.model.quantity import m_from_mm
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard

CLOSEST_MM = 900.0  # judgement: holes nearer to each other share the soil that they stand in
KEPT = 8
NONE = {"anchor": "none", "anchor_count": 0}


@dataclass(frozen=True)
class Anchored:
    """A unit whose anchors are named; `why` says how they were chosen, "" where the file does."""

    quarters: Quarters
    why: str = ""


def anchored(yard: Yard, quarters: Quarters) -> Anchored:
    """Name the anchors of a unit whose yard file says "auto".

    Args:
        yard: The yard; without loads nothing can be chosen.
        quarters: The unit, or a row as one.

    Returns:
        The unit with its anchors named. It has none where none are needed, where posts stand
        in concrete, and where no number of them is enough; `why` says which.
    """
    if quarters.frame.anchor != AUTO:
        return Anchored(quarters)
    kept = next((one for y, q, one in tuple(_chosen) if y is yard and q is quarters), None)
    if kept is None:
        kept = _choose(yard, quarters)
        _chosen.append((yard, quarters, kept))
    return kept


_chosen: deque[tuple[Yard, Quarters, Anchored]] = deque(maxlen=KEPT)


def _named(quarters: Quarters, keys: dict[str, object]) -> Quarters:
    return quarters.model_copy(update={"frame": quarters.frame.model_copy(update=keys)})


def _choose(yard: Yard, quarters: Quarters) -> Anchored:
    bare = _named(quarters, NONE)
    if quarters.frame.base == "posts_in_concrete" or not quarters.has_roof:
        return Anchored(bare)
    if yard.loads is None:
        return Anchored(
            bare,
            "no anchors are chosen, counted or priced, for the yard file has no [loads] to hold "
            'against: give them, or name anchor in [quarters.frame] ("none" for none)',
        )
    try:
        unit = _Unit.of(yard, bare, quarters.frame.anchor_count)
    except Problem as problem:
        return Anchored(bare, f"no anchors are chosen, for the frame cannot be checked: {problem}")
    if not unit.asked and unit.holds(bare):
        return Anchored(bare, "no anchors are needed: its weight holds it in its wind")
    enough = [one for one in unit.candidates() if one is not None]
    if not enough:  # none holds the posts inside: the walls at least
        enough = [one for one in unit.candidates(inside=False) if one is not None]
    if not enough and unit.asked:  # too few, which the report says
        enough = [unit.candidate(*next(unit.kinds()), unit.asked)]
    if not enough:
        return Anchored(
            bare,
            f"no anchors are chosen: {MOST} of the largest of the kind that fits its base "
            f"({quarters.frame.base.replace('_', ' ')}) do not hold it: name another base or "
            "anchor, or make the roof heavier",
        )
    best = min(enough, key=lambda one: one.rank)
    return Anchored(best.quarters, best.why)


@dataclass(frozen=True)
class _Candidate:
    quarters: Quarters
    close: bool
    concrete_m3: float
    counted: bool  # by the yard file

    @property
    def rank(self) -> tuple[bool, float, int]:
        """Wide apart before close, little concrete before much, few before many."""
        return self.close, round(self.concrete_m3, 6), self.quarters.frame.anchor_count

    @property
    def why(self) -> str:
        frame = self.quarters.frame
        kind = frame.anchor.replace("_", " ")
        told = f"{frame.anchor_count} x {kind}"
        if frame.hole_mm is not None and frame.anchor == "concrete_hole":
            told += f" of {frame.hole_mm[0]:g} x {frame.hole_mm[1]:g} mm"
        least = "the least concrete that holds" if self.concrete_m3 else "the fewest that hold"
        how = (
            "as many as the yard file says"
            if self.counted
            else f"of the kind that fits its base, {least} the unit down in its wind"
        )
        close = "; they stand close together: a slab would hold it better" if self.close else ""
        return f"{told} are chosen here, for the yard file names no anchor: {how}{close}"


@dataclass(frozen=True)
class _Unit:
    yard: Yard
    quarters: Quarters
    built: BuiltFrame
    loads: Actions
    lines: Lines
    carried: Carried
    asked: int  # so many of the kind, given beside "auto"; 0: the fewest that hold

    @classmethod
    def of(cls, yard: Yard, quarters: Quarters, asked: int) -> "_Unit":
        built = built_frame(yard, quarters, corridor=False)
        loads = actions_on(yard, quarters, built)
        lines = lines_of(built, quarters.depth_mm)
        _, carried = member_results(quarters, loads, lines)
        return cls(yard, quarters, built, loads, lines, carried, asked)

    def _stands(self, quarters: Quarters) -> Stability:
        return stability_of(self.yard, quarters, self.built, self.loads, offer=False)

    def holds(self, quarters: Quarters, *, inside: bool = True) -> bool:
        """Whether nothing lifts, slides or tips, and each anchor holds what comes to it.

        Those under posts inside too, if `inside`.

        What a slab is too light for, no anchor mends: that is left to the report.
        """
        holding = self._stands(quarters).holding
        if not all(check.sound for check in holding.checks if "slab" not in check.name):
            return False
        asked = asked_of_anchor_kn(self.loads, self.lines, self.carried, holding)
        if asked > (holding.per_anchor_kn if holding.count else 0.0) + 1e-9:
            return False
        if not inside:
            return True
        inner = inner_posts(self.loads, self.lines, self.carried, one_anchor(holding))
        return all(joint.utilisation <= 1 for joint in inner)

    def kinds(self) -> Iterator[tuple[str, tuple[float, float] | None]]:
        """The kinds that fit the base; of holes of concrete with their size [mm]."""
        frame = self.quarters.frame
        if frame.base == "slab":
            yield "slab_anchor", None
            return
        if frame.anchor_tested_kn is not None:
            yield "ground_anchor", None
        frost = (self.yard.loads.frost_depth_mm if self.yard.loads else None) or 0.0
        usual = means("concrete_hole").hole_m
        assert usual is not None
        sizes = [(1000 * usual[0], 1000 * usual[1]), *HOLES_MM]
        deep = [(across, max(down, frost)) for across, down in sizes]
        for size in [frame.hole_mm] if frame.hole_mm else dict.fromkeys(deep):
            yield "concrete_hole", size

    def candidate(self, kind: str, hole_mm: tuple[float, float] | None, count: int) -> _Candidate:
        """The unit with so many anchors of a kind."""
        keys: dict[str, object] = {"anchor": kind, "anchor_count": count}
        named = _named(self.quarters, keys | ({"hole_mm": hole_mm} if hole_mm else {}))
        round_mm = 2 * (self.built.outer_width_mm + self.built.outer_depth_mm)
        close = hole_mm is not None and count * CLOSEST_MM > round_mm
        across, deep = hole_mm or (0.0, 0.0)
        each_m3 = hole_volume_m3(m_from_mm(across), m_from_mm(deep)) if hole_mm else 0.0
        return _Candidate(named, close, count * each_m3, bool(self.asked))

    def candidates(self, *, inside: bool = True) -> Iterator[_Candidate | None]:
        """For each kind that fits the base the fewest that hold; None: no number of them."""
        for kind, hole_mm in self.kinds():
            counts = (self.asked,) if self.asked else range(1, MOST + 1)
            found = (self.candidate(kind, hole_mm, count) for count in counts)
            yield next((one for one in found if self.holds(one.quarters, inside=inside)), None)
