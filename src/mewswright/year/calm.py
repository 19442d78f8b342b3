"""Times in which a unit is not moved or not tied: breeding, moult, days of the keeper."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from mewswright.model.bird import Bird
from mewswright.year import charges as costs
from mewswright.year.charges import Charge
from mewswright.year.draft import Draft
from mewswright.year.flock import Member
from mewswright.year.seasons import moult_season


def calm(draft: Draft, member: Member, birds: list[Bird]) -> Iterator[tuple[int, int]]:
    """Times in which a unit is not moved, beside its moult."""
    steps = draft.steps
    for group in draft.yard.year.breeding:
        key = f"breeding:{'+'.join(group.birds)}:{group.starts_on}"
        if set(group.birds) <= set(member.birds) and key in draft.rules:
            yield between(draft, group.starts_on, group.ends_on)
    for bird in birds:
        first, last = bird.year.moves_from, bird.year.moves_until
        if first is None and last is None:
            continue
        words = " nor ".join(
            w for w in (f"before {first}" if first else "", f"after {last}" if last else "") if w
        )
        if not draft.keeps(f"moves:{bird.name}", f"{bird.name} is not moved {words}", "wish", 25):
            continue
        if first is not None and first > steps.start:
            yield -1, min(steps.count, steps.of(first - timedelta(days=1)) + 1) - 1
        if last is not None and last < steps.last:
            yield max(-1, steps.of(last)), steps.count - 1


def between(draft: Draft, first: date, last: date) -> tuple[int, int]:
    """A span in which nobody is moved, as steps; one that began before holds at once."""
    return max(-1, draft.steps.of(first)), min(draft.steps.count - 1, draft.steps.of(last))


def moults(
    draft: Draft,
    i: int,
    member: Member,
    undisturbed: list[tuple[int, int]],
) -> Iterator[tuple[int, int, frozenset[int]]]:
    """Barred tethers in a moult that must be heeded; a wish is a cost.

    Args:
        draft: The abstract year in the making.
        i: Number of the unit.
        member: Who it is.
        undisturbed: Times in which it is not moved; those of the moult are added.
    """
    if member.sick:
        return
    tied = frozenset(
        p for p, s in enumerate(draft.spots) if s.mode == "tethered" and s.use == "home"
    )
    dear = dict.fromkeys(sorted(tied & draft.may[i]), costs.MOULT)
    for bird in (draft.birds[name] for name in member.birds):
        wants = bird.year.moult or ("wish" if bird.use == "flown" else "none")
        if wants == "none":
            continue
        for first, last in moult_season(draft.yard, bird, draft.steps, draft.assumed):
            touched = draft.steps.touched(first, last)
            begin, end = max(touched.start, member.first), min(touched.stop, member.after)
            if begin >= end:
                continue
            asks = bird.year.moult_asks
            if wants == "wish":
                if dear and asks != "undisturbed":
                    draft.charges.append(Charge("moult", i, range(begin, end), dear))
                continue
            how = {"loose": "loose", "undisturbed": "undisturbed",
                   "both": "loose and undisturbed"}[asks]  # fmt: skip
            if not draft.keeps(f"moult:{bird.name}",
                              f"{bird.name} is {how} in its moult, {first} to {last}",
                              "wish", 60):  # fmt: skip
                continue
            if asks != "undisturbed" and tied:
                yield begin, end - 1, tied
            if asks != "loose":
                undisturbed.append(between(draft, first, last))
