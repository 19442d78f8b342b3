"""Clocks of a unit: how long it stays, is tied and is free."""

from __future__ import annotations

from collections.abc import Iterable

from mewswright.handbook import species
from mewswright.model.bird import Bird
from mewswright.year.draft import Draft
from mewswright.year.flock import Member
from mewswright.year.tether_clock import tether_limit


def clock(draft: Draft, birds: list[Bird]) -> int | None:
    """Most steps on end on a tether."""
    found = None
    for bird in birds:
        weeks = bird.year.tether_most_weeks or draft.yard.year.tether_most_weeks
        law = tether_limit(draft.yard, bird, draft.problem.suitability.shelf)
        limits = [w * 7 // draft.steps.days for w in (weeks,) if w is not None]
        limits += [int(law.days // draft.steps.days)] if law else []
        if not limits:
            continue
        most = max(1, min(limits))
        says = f"{bird.name} is tethered {most * draft.steps.days} days on end at the most"
        if law and law.days // draft.steps.days <= most:
            says += f" ({law.why})"
        if draft.keeps(f"tether:{bird.name}", says, "standard" if law else "wish", 100):
            found = most if found is None else min(found, most)
    return found


def mind_the_end_of_tethers(draft: Draft, birds: list[Bird]) -> None:
    """Say where a standard that binds ends routine tethering before the plan does."""
    shelf = draft.problem.suitability.shelf
    for bird in birds:
        for key in draft.yard.yard.standards:
            for rule in shelf.rules(key, "routine_tether_end", species(bird.species)):
                if rule.value < draft.steps.last.isoformat():
                    draft.mind(
                        f"{shelf.standard(key).name} ends routine tethering on {rule.value} "
                        f"({rule.condition}): ask whether {bird.name} may be tethered after that."
                    )


def free_weeks(draft: Draft, birds: list[Bird], member: Member) -> int:
    """Fewest steps loose, in proportion to a year."""
    found = 0
    span = range(member.first, member.after)
    for bird in birds:
        own = bird.year.free_least_weeks
        weeks = draft.yard.year.free_least_weeks if own is None else own
        steps = int(weeks / 52 * len(span))
        if weeks and not member.sick and draft.keeps(
            f"free:{bird.name}", f"{bird.name} is loose {weeks} weeks of a year at the least",
            "wish", 90,
        ):  # fmt: skip
            found = max(found, min(steps, len(span)))
    return found


def shortest(draft: Draft, birds: Iterable[Bird]) -> int:
    """Shortest stay [steps]."""
    own = [b.year.shortest_stay_weeks for b in birds]
    weeks = max((w for w in own if w is not None), default=draft.yard.year.shortest_stay_weeks)
    return draft.steps.whole(weeks * 7)


def shortest_words(draft: Draft, name: str, birds: list[Bird]) -> str:
    """The shortest stay in words."""
    days = shortest(draft, birds) * draft.steps.days
    return f"{name} stays {days} days in one place at the least"
