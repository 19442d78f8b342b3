"""Rules of sight, and who are neighbours."""

from __future__ import annotations

from collections.abc import Iterator

from mewswright.year import charges as costs
from mewswright.year.charges import Charge
from mewswright.year.draft import Draft
from mewswright.year.instance import Sight
from mewswright.year.suited import spots_of


def sights(draft: Draft) -> Iterator[Sight]:
    """Rules of sight, by classes: who fears the same birds shares a rule."""
    seen = draft.problem.seen(draft.spots)
    last = draft.steps.count - 1
    classes: dict[tuple[frozenset[int], frozenset[tuple[int, int]]], set[int]] = {}
    for i in range(len(draft.members)) if seen else ():
        feared: dict[frozenset[tuple[int, int]], set[int]] = {}
        for j in range(len(draft.members)):
            if _is_afraid(draft, i, j):
                feared.setdefault(_as_it_is(draft, i, j, seen), set()).add(j)
        for as_it_is, dreaded in feared.items():
            classes.setdefault((frozenset(dreaded), as_it_is), set()).add(i)
    for (dreaded_by, as_it_is), afraid in classes.items():
        yield Sight(frozenset(afraid), dreaded_by, seen - as_it_is, 0, last)
    if draft.yard.year.feeding_in_sight == "never" and draft.members:
        fed = draft.problem.fed(draft.spots)
        if fed and draft.keeps(
            "feeding", "no bird lives where it sees another being fed", "wish", 20
        ):
            every = frozenset(range(len(draft.members)))
            yield Sight(every, every, fed, 0, last)


def _is_afraid(draft: Draft, i: int, j: int) -> bool:
    """Whether some bird of one unit must not see some bird of another, there at one time."""
    one, other = draft.members[i], draft.members[j]
    if i == j or set(one.birds) & set(other.birds):
        return False
    if min(one.after, other.after) <= max(one.first, other.first):
        return False
    found = [
        draft.keeps(f"sight:{a}:{b}", f"{a} must not see {b}: {why}", "standard", 200)
        for a in one.birds
        for b in other.birds
        if b not in draft.birds[a].year.may_see and (why := draft.problem.fear(a, b)) is not None
    ]
    return any(found)


def _as_it_is(
    draft: Draft, i: int, j: int, seen: frozenset[tuple[int, int]]
) -> frozenset[tuple[int, int]]:
    """Pairs of places in which the yard file itself has a bird in sight of one that it fears.

    No plan can mend on its first day what stands so today. Where the file puts both, they may
    be, at a price that makes the plan mend it as soon as anything else can be.
    """
    one, other = draft.members[i], draft.members[j]
    found = frozenset(
        (p, q)
        for a in one.birds
        for b in other.birds
        for s in draft.stays.get(a, ())
        for t in draft.stays.get(b, ())
        if s.overlaps(t)
        for p in spots_of(draft, s)
        for q in spots_of(draft, t)
        if (p, q) in seen
    )
    for p, q in found:
        _dearly(draft, i, j, p, q)
    return found


def _dearly(draft: Draft, i: int, j: int, p: int, q: int) -> None:
    """Let the one that can move away pay for what is in sight as the file has it."""
    one, other = draft.members[i], draft.members[j]
    stuck = len({draft.spots[k].cell for k in draft.may[i]}) < 2
    payer, place = (j, q) if stuck and len(draft.may[j]) > 1 else (i, p)
    span = range(draft.members[payer].first, draft.members[payer].after)
    charge = Charge("in_sight", payer, span, {place: costs.IN_SIGHT})
    if charge not in draft.charges:
        draft.charges.append(charge)
    draft.mind(
        f"{' and '.join(one.birds)} in {draft.spots[p].quarters} sees "
        f"{' and '.join(other.birds)} in {draft.spots[q].quarters}, which it fears: the yard "
        "file has it so, and the plan keeps it only where nothing else can be."
    )


def neighbours(draft: Draft) -> frozenset[tuple[int, int]]:
    """Pairs of places whose quarters stand next to each other."""
    near = draft.problem.neighbours
    return frozenset(
        (p, q)
        for p, one in enumerate(draft.spots)
        for q, other in enumerate(draft.spots)
        if p < q and (one.quarters, other.quarters) in near
    )
