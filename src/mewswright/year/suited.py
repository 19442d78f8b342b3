"""Where each unit may live, and what falls short there."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from mewswright.model.bird import Bird, Stay
from mewswright.model.quarters import Quarters
from mewswright.year import charges as costs
from mewswright.year.charges import Charge
from mewswright.year.draft import Draft
from mewswright.year.flock import Member, home_before
from mewswright.year.spots import Spot
from mewswright.year.suits import Fit, serves


def _quarters(draft: Draft, spot: Spot) -> Quarters:
    return draft.yard.quarters_named(spot.quarters)


def suits(draft: Draft, birds: list[Bird], spot: Spot, isolated: bool) -> Fit:
    """How a spot suits birds."""
    quarters = _quarters(draft, spot)
    fit = draft.problem.suitability.fit(birds, quarters, spot.mode, isolated)
    if spot.stand is not None and fit.perch != spot.stand:
        return draft.problem.suitability.at_stand(birds, quarters, spot.stand)
    return fit


def suitable(draft: Draft, i: int, member: Member) -> set[int]:
    """Places in which a unit may live, with what falls short there entered as its cost."""
    birds = [draft.birds[name] for name in member.birds]
    use = "sick" if member.sick else "home"
    home = home_spot(draft, member, birds)
    wanted = [
        p
        for p, spot in enumerate(draft.spots)
        if spot.use == use and (p == home or serves(_quarters(draft, spot), spot.mode))
    ]
    who = " and ".join(member.birds)
    fits = {p: suits(draft, birds, draft.spots[p], member.sick) for p in wanted}
    found = {p for p in wanted if fits[p].suits}
    if home in fits and home not in found and not fits[home].unlawful:
        found |= _for_want_of_better(draft, i, who, {home: fits[home]})
    if not found:
        found |= _for_want_of_better(
            draft, i, who, {p: fit for p, fit in fits.items() if fit.mendable}
        )
    names = ", ".join(dict.fromkeys(str(draft.spots[p]) for p in sorted(found)))
    if not found:
        found_not = "; ".join(
            dict.fromkeys(f"{draft.spots[p].quarters}, {draft.spots[p].mode}: {fits[p].harms[0]}"
                          for p in wanted if fits[p].harms)
        )  # fmt: skip
        names = f"nothing that stands ({found_not})" if found_not else "nothing that stands"
    if not draft.keeps(f"suits:{who}{':sick' if member.sick else ''}",
                      f"what suits {who} is {names}", "standard", None):  # fmt: skip
        found = set(wanted)
    shorts = {
        p: costs.SHORT * min(costs.MOST_SHORTS, len(fits[p].shorts))
        for p in found
        if fits[p].shorts
    }
    if shorts:
        draft.charges.append(Charge("falls_short", i, range(draft.steps.count), shorts))
    for bird in birds if use == "home" else ():
        for name in bird.year.never_in:
            if draft.keeps(f"never:{bird.name}:{name}", f"{bird.name} never lives in {name}",
                          "wish", 30):  # fmt: skip
                found -= {p for p in found if draft.spots[p].quarters == name}
    return found


def apart(draft: Draft, i: int, birds: list[Bird]) -> set[int]:
    """Places in which newcomers may be kept apart."""
    fits = {
        p: suits(draft, birds, spot, True)
        for p, spot in enumerate(draft.spots)
        if spot.use == "newcomer"
    }
    found = {p for p, fit in fits.items() if fit.suits}
    if found:
        return found
    who = " and ".join(bird.name for bird in birds)
    return _for_want_of_better(draft, i, who, {p: f for p, f in fits.items() if f.mendable})


def _for_want_of_better(draft: Draft, i: int, who: str, fits: dict[int, Fit]) -> set[int]:
    """Let a unit live, at a high price, where something does harm that no law forbids."""
    if fits:
        dear = dict.fromkeys(sorted(fits), costs.HARM)
        draft.charges.append(Charge("harm", i, range(draft.steps.count), dear))
    for p, fit in fits.items():
        draft.mind(
            f"{who} in {draft.spots[p].quarters}: only for want of a better place, and to be "
            f"mended first: {fit.harms[0]}."
        )
    return set(fits)


def home_spot(draft: Draft, member: Member, birds: Iterable[Bird]) -> int | None:
    """Where all of a unit's birds live as the plan begins."""
    homes = [home_before(draft.yard, b, draft.steps.start) for b in birds]
    if None in homes or len({(h.quarters, h.mode) for h in homes if h}) != 1:
        return None
    home = homes[0]
    assert home is not None
    new = member.birds[0] in draft.isolated and draft.isolated[member.birds[0]].start == 0
    uses = (
        ("sick", "home") if member.sick else ("newcomer", "home") if new else ("home", "newcomer")
    )
    for use in uses:
        for p, spot in enumerate(draft.spots):
            there = spot.quarters == home.quarters and spot.mode == home.mode
            if there and spot.use == use and spot.stand in (None, home.perch):
                return p
    return None


def spots_of(draft: Draft, stay: Stay) -> Iterator[int]:
    """Places that a stay of the file may mean."""
    for p, spot in enumerate(draft.spots):
        there = spot.quarters == stay.quarters and spot.mode == stay.mode
        if there and spot.stand in (None, stay.perch):
            yield p
