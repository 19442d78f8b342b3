"""Who is in the plan when, and who moves with whom: what the rules let stand."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from mewswright.checks.isolation import quarantine_limits
from mewswright.model.bird import Stay
from mewswright.year.draft import Draft
from mewswright.year.flock import Group, Member, casts, here, home_before


def isolation_days(draft: Draft) -> int:
    """Days that a newcomer is kept apart: the most that the house or a standard that binds asks."""
    yard = draft.yard
    bound = tuple(dict.fromkeys((*yard.yard.standards, "house")))  # as the brief has it
    limits = quarantine_limits(yard, bound, draft.problem.suitability.shelf)
    return int(max(days for _, days, _, _ in limits) + 0.999)


def isolations(draft: Draft) -> dict[str, range]:
    """Steps of isolation of each newcomer; those of a past arrival run out."""
    found = {}
    days = isolation_days(draft)
    kinds = {q.name: q.kind for q in draft.yard.quarters}
    for bird in draft.yard.bird:
        if bird.arrives_on is None or not here(bird, draft.steps):
            continue
        last = bird.arrives_on + timedelta(days=days - 1)
        for pin in draft.problem.locks:
            if pin.bird == bird.name and kinds[pin.quarters] == "isolation":
                last = max(last, pin.last) if pin.first <= last else last
        if last < draft.steps.start:
            continue
        home = home_before(draft.yard, bird, draft.steps.start)
        if bird.arrives_on < draft.steps.start and not (
            home and (kinds[home.quarters] == "isolation" or home.isolated)
        ):
            draft.mind(
                f"{bird.name} came on {bird.arrives_on} and is not in isolation as the plan "
                f"begins: the plan does not make up for it ({days} days)."
            )
            continue
        span = draft.steps.touched(bird.arrives_on, last)
        span = range(span.start, min(span.stop, here(bird, draft.steps).stop))
        if len(span) and draft.keeps(
            f"isolation:{bird.name}",
            f"{bird.name} is kept apart for {days} days, to {last}",
            "standard", 400,
        ):  # fmt: skip
            found[bird.name] = span
    return found


def sick_times(draft: Draft) -> Iterator[tuple[str, range]]:
    """Steps in which a bird is alone in isolation, after its days as a newcomer."""
    kinds = {q.name: q.kind for q in draft.yard.quarters}
    spans = [(b.name, s.starts_on, s.ends_on) for b in draft.yard.bird for s in b.year.sick]
    spans += [
        (p.bird, p.first, p.last) for p in draft.problem.locks if kinds[p.quarters] == "isolation"
    ]
    spans += [
        (stay.bird, stay.starts_on or draft.steps.start, stay.ends_on or draft.steps.last)
        for stay in draft.yard.stay
        if stay.isolated and draft.birds[stay.bird].arrives_on is None
    ]
    for name, first, last in spans:
        span = draft.steps.touched(first, last)
        new = draft.isolated.get(name, range(0))
        left = range(max(span.start, new.stop) if new else span.start, span.stop)
        if len(left) and draft.keeps(
            f"sick:{name}:{first}", f"{name} is alone in isolation from {first} to {last}",
            "wish", 400,
        ):  # fmt: skip
            yield name, left


def groups(draft: Draft) -> Iterator[Group]:
    """Casts first, then what the keeper names."""
    for cast in casts(draft.yard, draft.steps):
        names = " and ".join(cast.birds)
        if draft.keeps(f"cast:{'+'.join(cast.birds)}", f"{names} move as one: {cast.why}",
                      "wish", 90):  # fmt: skip
            yield cast
    named = [("together", g) for g in draft.yard.year.together]
    named += [("breeding", g) for g in draft.yard.year.breeding]
    for what, group in named:
        span = draft.steps.touched(group.starts_on, group.ends_on)
        names = " and ".join(group.birds)
        why = "breeding" if what == "breeding" else "together"
        if len(span) and draft.keeps(
            f"{what}:{'+'.join(group.birds)}:{group.starts_on}",
            f"{names} live in one place from {group.starts_on} to {group.ends_on}"
            + (", undisturbed: they breed" if what == "breeding" else ""),
            "wish", 80,
        ):  # fmt: skip
            order = list(draft.birds)
            yield Group(tuple(sorted(group.birds, key=order.index)), span, why, True)


def stays_then(draft: Draft) -> dict[str, list[Stay]]:
    """Stays of the file by day and night that touch the plan or its eve, by bird."""
    eve = draft.steps.start - timedelta(days=1)
    found: dict[str, list[Stay]] = {}
    for stay in draft.yard.stay:
        begins, ends = stay.starts_on or date.min, stay.ends_on or date.max
        if not stay.daytime_only and begins <= draft.steps.last and ends >= eve:
            found.setdefault(stay.bird, []).append(stay)
    return found


def wanted(draft: Draft, member: Member) -> bool:
    """Whether all of its birds are in the plan, and so need a place."""
    kept = [
        draft.keeps(f"bird:{name}", f"{name} lives in the yard and needs a place", "fact", None)
        for name in member.birds
    ]
    return all(kept)
