"""Steps in which places are barred by what the keeper locks or forbids."""

from __future__ import annotations

from collections.abc import Iterator

from mewswright.model.problem import Problem
from mewswright.year.draft import Draft
from mewswright.year.flock import Member
from mewswright.year.pins import Pin


def pinned(
    draft: Draft, member: Member, suitable: set[int]
) -> Iterator[tuple[int, int, frozenset[int]]]:
    """Steps in which places are barred by what the keeper locks or forbids."""
    every = frozenset(range(len(draft.spots)))
    kinds = {q.name: q.kind for q in draft.yard.quarters}
    for pin, locks in [(p, True) for p in draft.problem.locks] + [
        (p, False) for p in draft.problem.forbids
    ]:
        if pin.bird not in member.birds:
            continue
        meant = _meant(draft, pin)
        if not meant:
            raise Problem(_no_spot(draft, pin))
        touched = draft.steps.touched(pin.first, pin.last)
        first, last = max(touched.start, member.first), min(touched.stop, member.after) - 1
        if first > last:
            continue
        what = "lock" if locks else "forbid"
        says = f"{pin.words} is {'locked' if locks else 'forbidden'}"
        if not draft.keeps(f"{what}:{pin.key}", says, "wish", 20):
            continue
        if locks and not member.sick and kinds[pin.quarters] != "isolation":
            homes = {p for p in meant if draft.spots[p].use == "home"}
            if not homes & suitable:  # the keeper's word goes before the checks'
                suitable |= homes
                draft.mind(
                    f"{pin.words} is locked, and the checks say that it does not suit: see "
                    "mewswright check."
                )
                for a, b in ((member.first, first - 1), (last + 1, member.after - 1)):
                    if a <= b:
                        yield a, b, frozenset(homes)
        yield first, last, every - meant if locks else meant


def _meant(draft: Draft, pin: Pin) -> frozenset[int]:
    """Places that a pin speaks of."""
    return frozenset(
        p
        for p, spot in enumerate(draft.spots)
        if spot.quarters == pin.quarters and pin.mode in (None, spot.mode)
    )


def _no_spot(draft: Draft, pin: Pin) -> str:
    """Why a pin speaks of no place."""
    quarters = draft.yard.quarters_named(pin.quarters)
    if quarters.kind == "pitch" or not quarters.built:
        why = "a pitch, for the day alone" if quarters.kind == "pitch" else "not built"
        return f"{pin.words}: {pin.quarters} is {why}: name quarters for the night"
    ways = sorted({s.mode for s in draft.spots if s.quarters == pin.quarters})
    return (
        f"{pin.words}: {pin.quarters} serves birds that are {' or '.join(ways)}: change the "
        "way, or say double_use = true"
    )
