"""Nest plans of tiny cases against trying everything."""

from decimal import Decimal
from functools import cache
from itertools import product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mewswright.build.cut.effort import Effort
from mewswright.build.nest.plan import SheetPart, StockSheet
from mewswright.build.nest.solve import nest_plan
from mewswright.build.nest.strips import best_strips


def partitions(things):
    """All ways to share things out into groups."""
    if not things:
        yield []
        return
    first, rest = things[0], things[1:]
    for groups in partitions(rest):
        yield [[first], *groups]
        for n, group in enumerate(groups):
            yield [*groups[:n], [first, *group], *groups[n + 1 :]]


def fits_on_one(sizes, long, short):
    """Whether sizes (length, width, turns allowed) can be sawn from one sheet in three stages.

    Every grouping into strips and stacks, every turn and both first cuts are tried.
    """
    for turns in product(*[t for *_, t in sizes]):
        lying = [(b, a) if turn else (a, b) for (a, b, _), turn in zip(sizes, turns, strict=True)]
        for frame in (False, True):
            # size along a strip, size across it
            boxes = [(b, a) if frame else (a, b) for a, b in lying]
            wide, high = (short, long) if frame else (long, short)
            for strips in partitions(list(range(len(boxes)))):
                tall = 0
                for strip in strips:
                    best = None
                    for stacks in partitions(strip):
                        run = sum(max(boxes[i][0] for i in stack) for stack in stacks)
                        rise = max(sum(boxes[i][1] for i in stack) for stack in stacks)
                        if run <= wide and (best is None or rise < best):
                            best = rise
                    if best is None:
                        break
                    tall += best
                else:
                    if tall <= high:
                        return True
    return False


def fewest(sizes, long, short):
    """Fewest equal sheets, by trying every way to share the pieces out."""

    @cache
    def one(group):
        return fits_on_one([sizes[i] for i in group], long, short)

    return min(
        len(groups)
        for groups in partitions(list(range(len(sizes))))
        if all(one(tuple(sorted(group))) for group in groups)
    )


TURNS = {"none": (False, True), "along": (False,), "across": (True,)}


@settings(max_examples=25, deadline=None)
@given(
    st.lists(
        st.tuples(st.integers(2, 9), st.integers(2, 9), st.sampled_from(sorted(TURNS))),
        min_size=1,
        max_size=5,
    ),
    st.sampled_from([0, 1]),
)
def test_the_plan_is_the_best_there_is(pieces, kerf):
    """Five pieces at most on sheets of 10 x 9; the sheet's grain runs along its length."""
    parts = [
        SheetPart(mark=f"P{n}", length_mm=Decimal(a), width_mm=Decimal(b), count=1, grain=grain)
        for n, (a, b, grain) in enumerate(pieces)
    ]
    stock = [StockSheet(name="S", length_mm=Decimal(10), width_mm=Decimal(9), price=Decimal(1))]
    sizes = [(a + kerf, b + kerf, TURNS[grain]) for a, b, grain in pieces]
    best = fewest(sizes, 10 + kerf, 9 + kerf)
    plan = nest_plan(parts, stock, kerf, seconds=0.5)
    assert plan.cost == best
    assert plan.lower_bound <= best


def richest(items, wide, high):
    """Best worth of one sheet in two stages, by trying every set of strips."""
    pieces = [(w, h, p) for w, h, p, d in items for _ in range(d)]
    best = 0
    for chosen in product((False, True), repeat=len(pieces)):
        kept = [p for p, c in zip(pieces, chosen, strict=True) if c]
        worth = sum(p for *_, p in kept)
        if worth <= best:
            continue
        for strips in partitions(kept):
            if sum(max(h for _, h, _ in s) for s in strips) <= high and all(
                sum(w for w, *_ in s) <= wide for s in strips
            ):
                best = worth
                break
    return best


@settings(max_examples=40, deadline=None)
@given(
    st.lists(
        st.tuples(st.integers(1, 9), st.integers(1, 9), st.integers(1, 40), st.integers(1, 3)),
        min_size=1,
        max_size=4,
    ).filter(lambda items: sum(d for *_, d in items) <= 7)
)
def test_two_stage_fills_are_proven_at_the_best_there_is(items):
    table = np.array(items)
    fill = best_strips(
        table[:, 0],
        table[:, 1],
        table[:, 2].astype(float),
        np.arange(len(table)),
        table[:, 3],
        10,
        12,
        Effort(None),
        whole=True,
    )
    best = richest(items, 10, 12)
    assert (fill.worth, fill.bound, fill.proven) == (best, best, True)
    assert sum(max(table[w, 1] for w in s) for s in fill.strips) <= 12
    assert all(sum(table[w, 0] for w in s) <= 10 for s in fill.strips)


@pytest.mark.parametrize(("stages", "sheets"), [(2, 2), (3, 1)])
def test_the_third_stage_can_save_a_sheet(stages, sheets):
    """Worked by hand: 6 x 10, 3 x 5 and 4 x 5 on 10 x 10, no turns, first cuts along the length.

    In two stages all three in one strip run 6 + 3 + 4 = 13, and two strips are 10 + 5 high. In
    three stages the small ones share a stack beside the large one: 6 + 4 = 10, 5 + 5 = 10.
    """
    parts = [
        SheetPart(mark="A", length_mm=Decimal(6), width_mm=Decimal(10), count=1, grain="along"),
        SheetPart(mark="B", length_mm=Decimal(3), width_mm=Decimal(5), count=1, grain="along"),
        SheetPart(mark="C", length_mm=Decimal(4), width_mm=Decimal(5), count=1, grain="along"),
    ]
    stock = [StockSheet(name="S", length_mm=Decimal(10), width_mm=Decimal(10), price=Decimal(1))]
    plan = nest_plan(parts, stock, 0, seconds=2, stages=stages, first_cut="rip")
    assert (plan.cost, plan.proven) == (sheets, True)
