"""The cheapest frame that stands, among all that can be chosen.

Frames are met in the order of the least that they can cost, and that least is raised step by
step: by the metre, set out, sawn at a glance, anchored, braced, sawn. Each is judged part by
part, and a part that was judged before is not judged again. What is priced whole and is still
the cheapest is confirmed by the whole report. Once the least that the next could cost is more
than what the best does cost, no cheaper one is left.
"""

from bisect import bisect_left
from collections.abc import Hashable, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from heapq import heapify, heappop, heappush
from typing import Any, Literal

from mewswright.build.frame import geometry_of
from mewswright.build.frame_report import FrameReport, frame_report
from mewswright.build.parts import Part
from mewswright.build.size_bounds import Bounds, bounds_of, highest_head, without_bracing
from mewswright.build.size_choices import Anchor, Brace, Choices
from mewswright.build.size_judge import LEVEL, Judge, Verdict
from mewswright.build.size_order import in_order, least_anchors, least_bracing
from mewswright.build.size_price import Price, Pricer
from mewswright.model.quarters import Frame

HAIR = Decimal("0.005")  # half a cent: what is cheaper by less is a tie
# Steps without a frame after which the likeliest is followed to its end, so that there is one.
PATIENCE = 300
MOST_STEPS = 1500  # the search is given up then; units under one slope took up to 720
# In the order of the checks; the first that nothing passes is why there is no frame.
STAGES = (
    "rafters", "sides", "ridge", "front plate", "back plate", "front uprights", "back uprights",
    "ground", "anchors", "racking", "stock", "whole frame",
)  # fmt: skip


@dataclass(frozen=True)
class Found:
    """A frame that stands, its price and its report."""

    frame: Frame
    price: Price
    report: FrameReport


@dataclass
class Trail:
    """What a search did, and the best that it saw of each stage."""

    combinations: int = 0
    met: int = 0
    confirmed: int = 0
    refuted: int = 0
    best: dict[str, tuple[Verdict, Frame]] = field(default_factory=dict)
    given_up: bool = False  # after MOST_STEPS: what it has may not be the cheapest
    too_long: tuple[str, ...] = ()  # pieces that no bar in stock gives
    found: Found | None = None

    def dearer(self, least: Decimal) -> bool:
        """Whether what costs at least so much is dearer than the best that was found."""
        return self.most is not None and least > self.most

    @property
    def most(self) -> Decimal | None:
        """What a frame may cost at most to be of use; None while nothing is found."""
        return None if self.found is None else self.found.price.total + HAIR

    def see(self, stage: str, verdict: Verdict, frame: Frame) -> bool:
        """Note a verdict, and whether it is sound."""
        seen = self.best.get(stage)
        if verdict.words and (seen is None or verdict.share < seen[0].share):
            self.best[stage] = (verdict, frame)
        return verdict.sound


Step = Literal["set out", "sawn", "anchor", "bracing", "held", "priced"]
FAR: tuple[Step, ...] = ("bracing", "held", "priced")  # of these the last has come farthest


@dataclass(frozen=True)
class Node:
    """A frame on its way, the least that it can cost, and what is to be done with it next."""

    step: Step
    least: Decimal
    frame: Frame
    anchor: Anchor | None = None
    price: Price | None = None


def search(
    judge: Judge, pricer: Pricer, choices: Choices, base: Frame, *, first: bool = False
) -> tuple[Found | None, Trail]:
    """Find the cheapest frame that stands.

    Args:
        judge: Verdicts on the unit.
        pricer: Prices of the unit.
        choices: What may be chosen.
        base: The frame whose other keys stay.
        first: True to stop at the first frame that stands, however dear.

    Returns:
        The cheapest, or None; and what the search did.
    """
    trail = Trail(combinations=choices.combinations)
    found = Search(judge, pricer, choices, base, trail).run(first=first)
    return found, trail


class Search:
    """One search: what is met, what waits, and the least that each can cost."""

    def __init__(
        self, judge: Judge, pricer: Pricer, choices: Choices, base: Frame, trail: Trail
    ) -> None:
        """Bound what everything costs, before anything is met."""
        self.judge, self.pricer, self.choices, self.trail = judge, pricer, choices, trail
        base = without_bracing(base)
        self.least: Bounds = bounds_of(pricer, choices, base)
        trail.too_long = tuple(pricer.too_long)
        self.counts = least_anchors(judge, choices, base)  # the fewest that may be enough
        self.base = base
        self.bracing, self.unbraced = least_bracing(judge, choices, self.least, base)
        self.timber = in_order(choices, self.least, base)
        self.waiting: list[tuple[Decimal, int, Node]] = []
        self.pushed = 0
        self.steps = 0
        self._of_anchors: dict[Hashable, tuple[Part, ...]] = {}
        self._bares: dict[Hashable, tuple[tuple[Part, ...], Decimal]] = {}

    def run(self, *, first: bool) -> Found | None:
        """Go on until nothing that is left could be cheaper."""
        trail = self.trail
        if self.unbraced is not None:  # no timber changes that
            trail.see("racking", self.unbraced, self.base)
            return None
        always = min(self._held(parts) for parts in self.least.far) + self.bracing
        coming = next(self.timber, None)
        while coming is not None or self.waiting:
            if coming and (not self.waiting or coming[0] + always <= self.waiting[0][0]):
                if trail.dearer(coming[0] + always):
                    break
                self._meet(coming[1])
                coming = next(self.timber, None)
                continue
            least, _, node = heappop(self.waiting)
            if trail.dearer(least) or (first and trail.found is not None):
                break
            self._go_on(node)
            self.steps += 1
            if self.steps >= MOST_STEPS:
                trail.given_up = True
                break
            if self.steps % PATIENCE == 0 and trail.found is None:
                self._follow()
        return trail.found

    def _follow(self) -> None:
        """Take what has come farthest, the cheapest first, until a frame stands or all has failed.

        What it leaves waits as before: the cheapest is still sought among everything.
        """
        for _ in range(PATIENCE):
            ready = [one for one in self.waiting if one[2].step in FAR]
            if not ready or self.trail.found is not None:
                return
            chosen = min(ready, key=lambda one: (-FAR.index(one[2].step), one[0], one[1]))
            self.waiting.remove(chosen)
            heapify(self.waiting)
            self._go_on(chosen[2])

    def _push(self, step: Step, least: Decimal, frame: Frame, **known: Any) -> None:
        if not self.trail.dearer(least):
            self.pushed += 1
            node = Node(step, least, frame, **known)
            heappush(self.waiting, (least, self.pushed, node))

    def _meet(self, frame: Frame) -> None:
        self.trail.met += 1
        if timber_stands(self.judge, self.choices, frame, self.trail):
            parts = self.pricer.bare(frame)
            least = self.pricer.not_sawn(parts).total + self.pricer.timber_bound(parts)
            self._push("set out", least + self._held(parts) + self.bracing, frame)

    def _held(self, parts: Sequence[Part]) -> Decimal:
        """Least that anchors can cost beside these parts."""
        return min(
            (self.pricer.added(parts, self._anchored(*one)) for one in self.counts.items()),
            default=Decimal(0),
        )

    def _anchored(self, anchor: Anchor, count: int) -> tuple[Part, ...]:
        if (anchor, count) not in self._of_anchors:
            keys = {**Brace().keys, **anchor.keys, "anchor_count": count}
            pieces = self.pricer.bracing(self.base.model_copy(update=keys))
            self._of_anchors[anchor, count] = pieces
        return self._of_anchors[anchor, count]

    def _bare(self, frame: Frame) -> tuple[tuple[Part, ...], Decimal]:
        """Parts without bracing and anchors, and the least that they cost."""
        key = geometry_of(frame)
        if key not in self._bares:
            parts = self.pricer.bare(frame)
            self._bares[key] = parts, self.pricer.at_least(parts)
        return self._bares[key]

    def _go_on(self, node: Node) -> None:
        frame = node.frame
        if node.step == "set out":
            parts, least = self._bare(frame)
            self._push("sawn", least + self._held(parts) + self.bracing, frame)
        elif node.step == "sawn":
            parts, least = self._bare(frame)
            for anchor, fewest in self.counts.items():
                cost = self.pricer.added(parts, self._anchored(anchor, fewest))
                self._push("anchor", least + cost + self.bracing, frame, anchor=anchor)
        elif node.step == "anchor":
            assert node.anchor is not None
            self._anchor(frame, node.anchor)
        elif node.step == "bracing":
            if self.trail.see("racking", self.judge.racks(frame), frame):
                self._push("held", self.pricer.at_least(self.pricer.parts(frame)), frame)
        elif node.step == "held":
            self._price(frame)
        elif node.price is not None:
            self._confirm(frame, node.price)

    def _anchor(self, frame: Frame, anchor: Anchor) -> None:
        """Anchor it: what holds it down does not change with the bracing, which comes after."""
        count = _count(self.judge, self.choices, frame, anchor, self.trail)
        if count is None:
            return
        held = frame.model_copy(update={**anchor.keys, "anchor_count": count})
        parts, least = self._bare(frame)
        least += self.pricer.added(parts, self._anchored(anchor, count))
        for cost, brace in zip(self.least.braces, self.choices.braces, strict=True):
            self._push("bracing", least + cost, held.model_copy(update=brace.keys))

    def _price(self, frame: Frame) -> None:
        price = self.pricer.price(frame)
        if price.refused:
            self.trail.see("stock", Verdict(2.0, "; ".join(price.refused)), frame)
        else:
            self._push("priced", price.total, frame, price=price)

    def _confirm(self, frame: Frame, price: Price) -> None:
        found = self.trail.found
        if found is not None and price.rank >= found.price.rank:
            return
        self.trail.confirmed += 1
        unit = self.judge.quarters.model_copy(update={"frame": frame})
        report = frame_report(self.judge.yard, unit)
        verdict = Verdict(0.0 if report.sound else 2.0, report.weakest)
        if self.trail.see("whole frame", verdict, frame):
            self.trail.found = Found(frame, price, report)
        else:
            self.trail.refuted += 1


def timber_stands(judge: Judge, choices: Choices, frame: Frame, trail: Trail) -> bool:
    """Whether all timbers of a frame carry, and the ground under them."""
    if not trail.see("rafters", judge.rafters(frame), frame):
        return False
    for side in ("left", "right"):
        if not trail.see("sides", judge.uprights(frame, side), frame):
            return False
    if not trail.see("ridge", judge.ridge(frame), frame):
        return False
    for side in LEVEL:
        # Where the highest plate as wide as this one fails, every lower one does.
        highest = frame.model_copy(update=highest_head(choices, frame))
        for one in (highest, frame):
            if not trail.see(f"{side} plate", judge.plate(one, side), one):
                return False
    for side in LEVEL:
        if not trail.see(f"{side} uprights", judge.uprights(frame, side), frame):
            return False
    return trail.see("ground", judge.ground(frame), frame)


def _count(
    judge: Judge, choices: Choices, frame: Frame, anchor: Anchor, trail: Trail
) -> int | None:
    """The fewest anchors of a kind that hold a frame down; None where no number does.

    More of them stand closer together, so that none holds more than it did.
    """

    def held(count: int) -> Verdict:
        asked = frame.model_copy(update={**anchor.keys, "anchor_count": count})
        stands = judge.stands(asked)
        if stands is None:
            return Verdict(2.0, "knee braces too long for their bay")
        failed = [check for check in stands.holding.checks if not check.sound]
        if failed:
            return Verdict(2.0, f"standing: {failed[0].name}, {failed[0].direction}")
        if not stands.holding.sound:
            return Verdict(2.0, "standing")
        return judge.joints(asked, stands)

    if anchor.kind == "none":
        return 0 if _seen(trail, held(0), frame, anchor, 0) else None
    stands = judge.stands(frame.model_copy(update={**anchor.keys, "anchor_count": 1}))
    needed = stands.holding.needed if stands else None
    enough = sorted(n for n in choices.counts if needed is not None and n >= max(needed, 1))
    if not enough:
        words = f"{anchor.kind.replace('_', ' ')}: as many as may be are not enough"
        _seen(trail, Verdict(2.0, words), frame, anchor, 1)
        return None
    if not _seen(trail, held(enough[-1]), frame, anchor, enough[-1]):
        return None
    return enough[bisect_left(enough, True, key=lambda n: held(n).sound)]


def _seen(trail: Trail, verdict: Verdict, frame: Frame, anchor: Anchor, count: int) -> bool:
    keys = {**anchor.keys, "anchor_count": count}
    return trail.see("anchors", verdict, frame.model_copy(update=keys))


def failing(trail: Trail) -> str:
    """The first stage that nothing passed; where each was passed by something, the last."""
    seen = [stage for stage in STAGES if stage in trail.best]
    return next((s for s in seen if not trail.best[s][0].sound), seen[-1] if seen else "")


def told(verdict: Verdict) -> str:
    """A verdict in words, with its share."""
    if verdict.share == float("inf"):
        return verdict.words
    return f"{verdict.words}, used to {100 * verdict.share:.0f} %"
