"""The cheapest frame that stands, among all that can be chosen.

Frames are met in the order of the least that they can cost. Each is judged part by part, and
a part that was judged before is not judged again; what passes is priced by its cut plan and
confirmed by the whole report. Once the least that the next could cost is more than what the
best does cost, no cheaper one is left.
"""

from bisect import bisect_left
from collections.abc import Iterator
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any

import numpy as np

from mewswright.build.frame_report import FrameReport, frame_report
from mewswright.build.shell import head_mm
from mewswright.build.size_choices import Anchor, Brace, Choices, framed_as
from mewswright.build.size_judge import LEVEL, Judge, Verdict
from mewswright.build.size_price import Bounds, Price, Pricer, bounds_of
from mewswright.build.size_stock import area_mm2
from mewswright.model.quarters import Frame

HAIR = Decimal("0.005")  # half a cent: what is cheaper by less is a tie
# In the order of the checks; the first that nothing passes is why there is no frame.
STAGES = (
    "rafters", "sides", "front plate", "back plate", "front uprights", "back uprights",
    "ground", "racking", "anchors", "stock", "whole frame",
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
    least = bounds_of(pricer, choices, base)
    trail.too_long = tuple(pricer.too_long)
    anchors = _least_anchors(judge, pricer, choices, base)
    always = min(anchors.values(), default=Decimal(0))
    always += _least_bracing(judge, choices, least, base)
    for timber, frame in _in_order(choices, least, base):
        if trail.dearer(timber + always):
            break
        trail.met += 1
        if not _timber_stands(judge, choices, frame, trail):
            continue
        held = _braced(judge, pricer, choices, least, anchors, timber, frame, trail)
        for with_all, price in held:
            if price.refused:
                trail.see("stock", Verdict(2.0, "; ".join(price.refused)), with_all)
                continue
            if trail.found is not None and price.rank >= trail.found.price.rank:
                continue
            trail.confirmed += 1
            report = frame_report(judge.yard, judge.quarters.model_copy(update={"frame": with_all}))
            verdict = Verdict(0.0 if report.sound else 2.0, report.weakest)
            if not trail.see("whole frame", verdict, with_all):
                trail.refuted += 1
                continue
            trail.found = Found(with_all, price, report)
            if first:
                return trail.found, trail
    return trail.found, trail


def _least_bracing(judge: Judge, choices: Choices, least: Bounds, base: Frame) -> Decimal:
    """Least that bracing can cost: of those that keep the side walls upright on any studs."""
    costs = []
    for cost, brace in sorted(zip(least.braces, choices.braces, strict=True), key=lambda b: b[0]):
        for stud in choices.studs:
            frame = framed_as(
                base, choices.rafters[0], choices.heads[0], choices.posts[0], stud
            ).model_copy(update=brace.keys)
            if judge.racks_along_sides(frame).sound:
                costs.append(cost)
                break
        if costs:
            break
    return min(costs, default=Decimal(0))


def _least_anchors(
    judge: Judge, pricer: Pricer, choices: Choices, base: Frame
) -> dict[Anchor, Decimal]:
    """Least that each kind can cost: that of the heaviest frame, for weight holds down too."""

    def heavy(choice: tuple[str, Any]) -> tuple[float, float]:
        return area_mm2(choice[0]), -(choice[1] or 0)

    frame = framed_as(
        base, max(choices.rafters, key=heavy), max(choices.heads, key=lambda h: area_mm2(h[0])),
        max(choices.posts, key=lambda p: (area_mm2(p[0]), p[1] or 0)),
        max(choices.studs, key=heavy),
    ).model_copy(update=Brace().keys)  # fmt: skip
    costs = {}
    for anchor in choices.anchors:
        count = 0 if anchor.kind == "none" else 1
        stands = judge.stands(frame.model_copy(update={**anchor.keys, "anchor_count": count}))
        if stands is not None and stands.holding.needed is not None:
            costs[anchor] = pricer.anchors(anchor, stands.holding.needed)
    return costs


def _in_order(choices: Choices, least: Bounds, base: Frame) -> Iterator[tuple[Decimal, Frame]]:
    """Every set of timbers, the least that it can cost going up."""
    cents = [
        np.array([float(one) for one in of_part])
        for of_part in (least.rafters, least.heads, least.posts, least.studs)
    ]
    total = (
        cents[0][:, None, None, None] + cents[1][None, :, None, None]
        + cents[2][None, None, :, None] + cents[3][None, None, None, :]
    )  # fmt: skip
    for i in np.argsort(total, axis=None, kind="stable"):
        if not np.isfinite(total.flat[i]):  # no bar in stock is long enough
            return
        r, h, p, s = (int(one) for one in np.unravel_index(i, total.shape))
        frame = framed_as(
            base, choices.rafters[r], choices.heads[h], choices.posts[p], choices.studs[s]
        )
        timber = least.rafters[r] + least.heads[h] + least.posts[p] + least.studs[s]
        yield least.rest + timber, frame


def _timber_stands(judge: Judge, choices: Choices, frame: Frame, trail: Trail) -> bool:
    if not trail.see("rafters", judge.rafters(frame), frame):
        return False
    for side in ("left", "right"):
        if not trail.see("sides", judge.uprights(frame, side), frame):
            return False
    for side in LEVEL:
        # Where the highest plate as wide as this one fails, every lower one does.
        highest = frame.model_copy(update=_highest(choices, frame))
        for one in (highest, frame):
            if not trail.see(f"{side} plate", judge.plate(one, side), one):
                return False
    for side in LEVEL:
        if not trail.see(f"{side} uprights", judge.uprights(frame, side), frame):
            return False
    return trail.see("ground", judge.ground(frame), frame)


def _highest(choices: Choices, frame: Frame) -> dict[str, object]:
    across = head_mm(frame)[1]
    sizes = []
    for section, on_edge in choices.heads:
        keys: dict[str, object] = {"head": section, "head_on_edge": on_edge}
        up, wide = head_mm(frame.model_copy(update=keys))
        if wide == across:
            sizes.append((up, section, on_edge))
    _, section, on_edge = max(sizes)
    return {"head": section, "head_on_edge": on_edge}


def _braced(
    judge: Judge,
    pricer: Pricer,
    choices: Choices,
    least: Bounds,
    anchors: dict[Anchor, Decimal],
    timber: Decimal,
    frame: Frame,
    trail: Trail,
) -> Iterator[tuple[Frame, Price]]:
    """A set of timbers with every bracing and anchor that holds it and may be cheaper."""
    lightest = min(anchors.values(), default=Decimal(0))
    counts: dict[Anchor, int | None] = {}
    for cost, i in sorted(zip(least.braces, range(len(choices.braces)), strict=True)):
        if trail.dearer(timber + cost + lightest):
            return
        braced = frame.model_copy(update=choices.braces[i].keys)
        if not trail.see("racking", judge.racks(braced), braced):
            continue
        held = []
        for n, anchor in enumerate(choices.anchors):
            if anchor in anchors and not trail.dearer(timber + cost + anchors[anchor]):
                if anchor not in counts:  # what holds it down does not change with the bracing
                    counts[anchor] = _count(judge, choices, braced, anchor, trail)
                count = counts[anchor]
                if count is not None:
                    keys = {**anchor.keys, "anchor_count": count}
                    held.append((pricer.anchors(anchor, count), n, braced.model_copy(update=keys)))
        for paid, _, anchored in sorted(held, key=lambda one: one[:2]):
            if not trail.dearer(timber + cost + paid):
                price = pricer.price_below(anchored, trail.most)
                if price is not None:
                    yield anchored, price


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
