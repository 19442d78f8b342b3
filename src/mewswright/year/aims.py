"""What the aims of the keeper cost each unit, step by step."""

from __future__ import annotations

from collections.abc import Iterator

from mewswright.handbook import species, warmth
from mewswright.model.bird import Bird
from mewswright.model.fitting import Device
from mewswright.year import charges as costs
from mewswright.year.charges import Charge
from mewswright.year.draft import Draft
from mewswright.year.flock import Member
from mewswright.year.instance import Unit
from mewswright.year.seasons import flying_season, months_of, winter_and_summer


def enter_aims(draft: Draft, i: int, member: Member) -> None:
    """Enter what the keeper's aims cost one unit; a sick bird has no say.

    Args:
        draft: The abstract year in the making.
        i: Number of the unit.
        member: Who it is.
    """
    if member.sick:
        return
    birds = [draft.birds[name] for name in member.birds]
    for part, steps, of_place in (
        *_wished(draft, birds), *_round(draft, birds), *_sun(draft), *_heating(draft, birds),
    ):  # fmt: skip
        span = range(max(steps.start, member.first), min(steps.stop, member.after))
        dear = {p: cost for p in sorted(draft.may[i]) if (cost := of_place.get(p, 0))}
        if dear and span:
            whole = range(draft.steps.count) if len(steps) == draft.steps.count else span
            draft.charges.append(Charge(part, i, whole, dear))


Costs = Iterator[tuple[str, range, dict[int, int]]]


def _wished(draft: Draft, birds: list[Bird]) -> Costs:
    weight = costs.NOT_WISHED * costs.weight(draft.yard.year, "wished")
    wished = [set(b.year.wished) for b in birds if b.year.wished]
    if wished and weight:
        yield (
            "wished",
            range(draft.steps.count),
            {
                p: weight * sum(spot.quarters not in names for names in wished)
                for p, spot in enumerate(draft.spots)
            },
        )


def _round(draft: Draft, birds: list[Bird]) -> Costs:
    weight = costs.weight(draft.yard.year, "round")
    away = draft.problem.walks
    if not weight or not away or not any(b.use == "flown" for b in birds):
        return
    nearest = min(away.values())
    dear = {
        p: int(weight * (away[spot.quarters] - nearest) / costs.WALK_M)
        for p, spot in enumerate(draft.spots)
    }
    for first, last in flying_season(draft.yard, draft.steps):
        yield "round", draft.steps.touched(first, last), dear


def _sun(draft: Draft) -> Costs:
    weight = costs.SUN * costs.weight(draft.yard.year, "sun")
    if not weight:
        return
    sun = draft.problem.sun
    shaded = {p: round(weight * (1 - sun[s.quarters].winter)) for p, s in enumerate(draft.spots)}
    glaring = {p: round(weight * sun[s.quarters].summer) for p, s in enumerate(draft.spots)}
    for cold, first, last in winter_and_summer(draft.yard, draft.steps):
        yield "sun", draft.steps.touched(first, last), shaded if cold else glaring


def _heating(draft: Draft, birds: list[Bird]) -> Costs:
    """Weeks of frost for a bird that bears less: a heater costs, and no heater costs more."""
    climate = draft.yard.climate
    weight = costs.HEATED * costs.weight(draft.yard.year, "heating")
    limits = [w.value for b in birds if (w := warmth(species(b.species)).cold_limit_c) is not None]
    if climate is None or not limits:
        return
    heated = {
        q.name
        for q in draft.yard.quarters
        if any(isinstance(f, Device) and f.kind == "heater" for f in q.fitting)
    }
    cold = [m for m in range(1, 13) if climate.mean_daily_min_c[m - 1] < max(limits)]
    for first, last in months_of(cold, draft.steps):
        span = draft.steps.touched(first, last)
        yield (
            "cold",
            span,
            {p: costs.COLD for p, s in enumerate(draft.spots) if s.quarters not in heated},
        )
        if weight:
            yield (
                "heating",
                span,
                {p: weight for p, s in enumerate(draft.spots) if s.quarters in heated},
            )


def sharing(draft: Draft, units: tuple[Unit, ...]) -> Iterator[int]:
    """Units that share the free time: all of the plan there, and kept in either way."""
    for i, unit in enumerate(units):
        modes = {draft.spots[p].mode for p in unit.suitable}
        if len(modes) == 2 and unit.arrival == 0 and unit.departure is None:
            yield i
