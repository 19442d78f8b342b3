"""The cheapest frame that stands, among all that can be chosen.

Frames are met in the order of the least that they can cost. Each is judged part by part, and
a part that was judged before is not judged again; what passes is priced by its cut plan and
confirmed by the whole report. Once the least that the next could cost is more than what the
best does cost, no cheaper one is left.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from decimal import Decimal

import numpy as np

from mewswright.build.frame_report import FrameReport, frame_report
from mewswright.build.shell import head_mm
from mewswright.build.size_choices import Brace, Choices, framed_as
from mewswright.build.size_judge import LEVEL, Judge, Verdict
from mewswright.build.size_price import Bounds, Price, Pricer, bounds_of
from mewswright.model.quarters import Frame

HAIR = Decimal("0.005")  # half a cent: what is cheaper by less is a tie
# In the order of the checks; the first that nothing passes is why there is no frame.
STAGES = (
    "rafters", "sides", "front plate", "back plate", "front uprights", "back uprights",
    "ground", "racking", "anchors", "whole frame",
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
    best: Found | None = None
    for bound, frame in _in_order(choices, least, base):
        if best is not None and bound > best.price.total + HAIR:
            break
        trail.met += 1
        if not _timber_stands(judge, choices, frame, trail):
            continue
        for with_all, price in _braced(judge, pricer, choices, least, bound, frame, best, trail):
            if best is not None and price.rank >= best.price.rank:
                continue
            trail.confirmed += 1
            report = frame_report(judge.yard, judge.quarters.model_copy(update={"frame": with_all}))
            verdict = Verdict(0.0 if report.sound else 2.0, report.weakest)
            if not trail.see("whole frame", verdict, with_all):
                trail.refuted += 1
                continue
            best = Found(with_all, price, report)
            if first:
                return best, trail
    return best, trail


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
    over = least.rest + min(least.braces)
    for i in np.argsort(total, axis=None, kind="stable"):
        r, h, p, s = (int(one) for one in np.unravel_index(i, total.shape))
        frame = framed_as(
            base, choices.rafters[r], choices.heads[h], choices.posts[p], choices.studs[s]
        )
        timber = least.rafters[r] + least.heads[h] + least.posts[p] + least.studs[s]
        yield over + timber, frame


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
    judge: Judge, pricer: Pricer, choices: Choices, least: Bounds, bound: Decimal, frame: Frame,
    best: Found | None, trail: Trail,
) -> Iterator[tuple[Frame, Price]]:  # fmt: skip
    """A set of timbers with every bracing and anchor that holds it and may be cheaper."""
    cheapest = min(least.braces)
    ways = sorted(zip(least.braces, range(len(choices.braces)), strict=True))
    for cost, i in ways:
        if best is not None and bound - cheapest + cost > best.price.total + HAIR:
            return
        braced = frame.model_copy(update=choices.braces[i].keys)
        if not trail.see("racking", judge.racks(braced), braced):
            continue
        priced = [
            (price.rank, n, anchored, price)
            for n, anchored in enumerate(_anchored(judge, choices, braced, trail))
            for price in (pricer.price(anchored),)
        ]
        for _, _, anchored, price in sorted(priced, key=lambda one: one[:2]):
            yield anchored, price
        if priced and choices.braces[i] == Brace():
            return  # it stands without any: bracing more costs more


def _anchored(judge: Judge, choices: Choices, frame: Frame, trail: Trail) -> Iterator[Frame]:
    """A frame with the fewest anchors of each kind that hold it."""
    for anchor in choices.anchors:
        kind = anchor.kind
        count = 0 if kind == "none" else 1
        asked = frame.model_copy(update={**anchor.keys, "anchor_count": count})
        stands = judge.stands(asked)
        if stands is None:
            continue
        needed = stands.holding.needed
        share = stands.holding.per_anchor_kn and stands.holding.pull_each_kn / max(
            stands.holding.per_anchor_kn, 1e-9
        )
        enough = [n for n in choices.counts if needed is not None and n >= needed and n > 0]
        if kind == "none":
            if not stands.sound:
                trail.see("anchors", Verdict(float("inf"), "nothing holds it down"), asked)
                continue
        elif needed is None or not enough:
            words = f"{kind.replace('_', ' ')}: as many as may be are not enough"
            trail.see("anchors", Verdict(max(share, 1.01), words), asked)
            continue
        else:
            asked = asked.model_copy(update={"anchor_count": min(enough)})
            stands = judge.stands(asked)
            if stands is None:
                continue
        joints = judge.joints(asked, stands)
        if not trail.see("anchors", joints, asked):
            continue
        if not stands.sound:
            words = f"standing: {stands.weakest.name}, {stands.weakest.direction}"
            trail.see("anchors", Verdict(2.0, words), asked)
            continue
        yield asked
