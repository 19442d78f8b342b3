"""The abstract year of a yard, with or without some of its rules."""

from __future__ import annotations

from typing import TYPE_CHECKING

from mewswright.model.bird import Bird
from mewswright.year import charges as costs
from mewswright.year.aims import enter_aims, sharing
from mewswright.year.calm import calm, moults
from mewswright.year.cells import cleaning, place, with_copies
from mewswright.year.clocks import (
    clock,
    free_weeks,
    mind_the_end_of_tethers,
    shortest,
    shortest_words,
)
from mewswright.year.draft import Draft
from mewswright.year.flock import Member, members
from mewswright.year.history import before, so_far
from mewswright.year.in_sight import neighbours, sights
from mewswright.year.instance import Before, Entry, Instance, Unit
from mewswright.year.laid import Laid
from mewswright.year.pinned import pinned
from mewswright.year.spots import spots
from mewswright.year.suited import apart, suitable
from mewswright.year.who import groups, isolations, sick_times, stays_then, wanted

if TYPE_CHECKING:
    from mewswright.year.problem import YearProblem


def lay(problem: YearProblem, without: frozenset[str]) -> Laid:
    """Make the abstract year.

    Args:
        problem: The yard and the days.
        without: Keys of rules that do not hold.
    """
    draft, steps = Draft(problem, without), problem.calendar
    draft.isolated = isolations(draft)
    sick = tuple(sick_times(draft))
    every = members(draft.yard, steps, tuple(groups(draft)), sick, draft.isolated)
    draft.members = tuple(m for m in every if wanted(draft, m))
    draft.spots = spots(draft.yard, steps.start, bool(sick))
    with_copies(draft)
    draft.stays = stays_then(draft)
    draft.may = [suitable(draft, i, m) for i, m in enumerate(draft.members)]
    in_sight = tuple(sights(draft))  # first: what stands so today is charged to a unit
    units = tuple(_unit(draft, i, member) for i, member in enumerate(draft.members))
    wishes = draft.yard.year
    instance = Instance(
        weeks=steps.count,
        places=tuple(place(draft, spot) for spot in draft.spots),
        units=units,
        adjacent=neighbours(draft) if costs.weight(wishes, "neighbours") else frozenset(),
        sights=in_sight,
        kin=_kin(draft.members),
        extras=costs.extras(wishes, steps.days, sharing(draft, units)),
    )
    return Laid(
        instance, draft.members, draft.spots, tuple(draft.charges), tuple(draft.rules.values()),
        tuple(draft.assumed), tuple(draft.cautions),
    )  # fmt: skip


def _kin(every: tuple[Member, ...]) -> frozenset[tuple[int, int]]:
    """Units that share a bird."""
    of: dict[str, list[int]] = {}
    for i, member in enumerate(every):
        for name in member.birds:
            of.setdefault(name, []).append(i)
    return frozenset((i, j) for mine in of.values() for i in mine for j in mine if i < j)


def _unit(draft: Draft, i: int, member: Member) -> Unit:
    """The unit of the instance that a member is."""
    count = draft.steps.count
    birds = [draft.birds[name] for name in member.birds]
    name = " and ".join(member.birds)
    may = draft.may[i]  # what is locked may add to it
    barred = list(pinned(draft, member, may))
    undisturbed = [*calm(draft, member, birds)]
    barred += moults(draft, i, member, undisturbed)
    least = 1
    if draft.keeps(f"stay:{name}", shortest_words(draft, name, birds), "wish", 15):
        least = shortest(draft, birds)
    least = max([least, *(cleaning(draft, draft.spots[p]) for p in sorted(may))])
    enter_aims(draft, i, member)
    most_tied = clock(draft, birds)
    if any(draft.spots[p].mode == "tethered" for p in may):
        mind_the_end_of_tethers(draft, birds)
    was = before(draft, member, birds)
    if was is not None:
        tied = was.tethered_weeks if most_tied is None else min(was.tethered_weeks, most_tied)
        was = Before(was.place, so_far(draft, was, least), tied)
    entry = _entry(draft, i, member, birds)  # it may charge for want of a better place
    weekly, on_top = costs.dearer((c for c in draft.charges if c.unit == i), count)
    return Unit(
        name=name,
        suitable=frozenset(may),
        weekly_cost=tuple(weekly.get(p, 0) for p in range(len(draft.spots))),
        arrival=member.first,
        departure=None if member.after >= count else member.after,
        min_stay=least,
        max_stay=max(least, count) + (was.weeks if was else 0),
        move_cost=costs.move_cost(draft.yard.year, draft.steps.days),
        entry=entry,
        undisturbed=tuple(dict.fromkeys(undisturbed)),
        dearer=on_top,
        barred=tuple(barred),
        before=was,
        tether_most=most_tied,
        free_least=free_weeks(draft, birds, member),
    )


def _entry(draft: Draft, i: int, member: Member, birds: list[Bird]) -> Entry | None:
    """The isolation with which a newcomer begins."""
    new = draft.isolated.get(birds[0].name, range(0))
    if member.sick or not new.start <= member.first < new.stop:
        return None
    return Entry(frozenset(apart(draft, i, birds)), min(new.stop, member.after) - member.first)
