"""In which order `size` meets its frames: by the least that each can cost."""

from collections.abc import Iterator
from decimal import Decimal
from math import inf
from typing import Any

import numpy as np

from mewswright.build.size_bounds import Bounds
from mewswright.build.size_choices import Anchor, Brace, Choices, framed_as
from mewswright.build.size_judge import Judge, Verdict
from mewswright.build.size_stock import area_mm2
from mewswright.model.quarters import Frame


def least_bracing(
    judge: Judge, choices: Choices, least: Bounds, base: Frame
) -> tuple[Decimal, Verdict | None]:
    """Least that bracing can cost: of those that keep the side walls upright on any studs.

    Returns:
        The least; and the verdict where nothing at all resists, whatever is chosen.
    """
    unsound: list[Verdict] = []
    by_cost = sorted(zip(least.braces, choices.braces, strict=True), key=lambda one: one[0])
    for cost, brace in by_cost:
        for stud in choices.studs:
            frame = framed_as(
                base, choices.rafters[0], choices.heads[0], choices.posts[0], stud
            ).model_copy(update=brace.keys)
            verdict = judge.racks_along_sides(frame)
            if verdict.sound:
                return cost, None
            unsound.append(verdict)
    nothing = all(verdict.share == inf for verdict in unsound)
    return Decimal(0), unsound[0] if nothing and unsound else None


def least_anchors(judge: Judge, choices: Choices, base: Frame) -> dict[Anchor, int]:
    """How many of each kind any frame needs at least; a kind that holds none is left out.

    Weight holds down too: it is one fewer than the heaviest frame needs, for a frame with
    thinner walls stands in a little less wind.
    """

    def heavy(choice: tuple[str, Any]) -> tuple[float, float]:
        return area_mm2(choice[0]), -(choice[1] or 0)

    frame = framed_as(
        base, max(choices.rafters, key=heavy), max(choices.heads, key=lambda h: area_mm2(h[0])),
        max(choices.posts, key=lambda p: (area_mm2(p[0]), p[1] or 0)),
        max(choices.studs, key=heavy),
    ).model_copy(update=Brace().keys)  # fmt: skip
    counts = {}
    for anchor in choices.anchors:
        none = anchor.kind == "none"
        keys = {**anchor.keys, "anchor_count": 0 if none else 1}
        stands = judge.stands(frame.model_copy(update=keys))
        if stands is not None and none:
            if not [check for check in stands.holding.checks if not check.sound]:
                counts[anchor] = 0
        elif stands is not None and stands.holding.needed is not None:
            counts[anchor] = max(1, stands.holding.needed - 1)
    return counts


def in_order(choices: Choices, least: Bounds, base: Frame) -> Iterator[tuple[Decimal, Frame]]:
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
