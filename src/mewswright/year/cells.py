"""The rooms of the abstract year: closed, cleaned and rested as the keeper says."""

from __future__ import annotations

from mewswright.year.draft import Draft
from mewswright.year.instance import Place
from mewswright.year.spots import Spot


def with_copies(draft: Draft) -> None:
    """Where quarters may hold more than one unit, add a room for each unit."""
    cells = 1 + max((spot.cell for spot in draft.spots), default=-1)
    more: list[Spot] = []
    for name in dict.fromkeys(spot.quarters for spot in draft.spots):
        if draft.keeps(f"quarters:{name}", f"{name} holds one at a time", "fact", None):
            continue
        mine = [spot for spot in draft.spots if spot.quarters == name]
        rooms = {cell: i for i, cell in enumerate(sorted({s.cell for s in mine}))}
        for _ in draft.members[1:]:
            more += [Spot(s.quarters, s.mode, s.use, s.stand, cells + rooms[s.cell]) for s in mine]
            cells += len(rooms)
    draft.spots = (*draft.spots, *more)


def place(draft: Draft, spot: Spot) -> Place:
    """The place of the instance that a spot is."""
    quarters, steps = draft.yard.quarters_named(spot.quarters), draft.steps
    year, name = quarters.year, spot.quarters
    closed: set[int] = set()
    for span in year.closed:
        touched = steps.touched(span.starts_on, span.ends_on)
        note = f" ({span.note})" if span.note else ""
        if touched and draft.keeps(
            f"closed:{name}:{span.starts_on}",
            f"{name} is closed from {span.starts_on} to {span.ends_on}{note}", "wish", 60,
        ):  # fmt: skip
            closed |= set(touched)
    most = None
    if year.clean_every_weeks is not None and draft.keeps(
        f"clean_every:{name}", f"{name} is emptied and cleaned every "
        f"{year.clean_every_weeks} weeks", "wish", 50,
    ):  # fmt: skip
        most = max(1, year.clean_every_weeks * 7 // steps.days)
    rest = 0
    if year.rest_weeks:
        wanted = steps.whole(year.rest_weeks * 7)
        if wanted > steps.count:
            draft.mind(
                f"{name} is to rest {year.rest_weeks} weeks, longer than the plan: left out."
            )
        elif draft.keeps(
            f"rest:{name}", f"{name} lies empty {year.rest_weeks} weeks on end", "wish", 70
        ):
            rest = wanted
    return Place(
        name=str(spot), clean_weeks=cleaning(draft, spot), rest_weeks=rest,
        closed=frozenset(closed), cell=spot.cell, tethered=spot.mode == "tethered",
        most_weeks=most,
    )  # fmt: skip


def cleaning(draft: Draft, spot: Spot) -> int:
    """Steps that a room stays empty between two units."""
    own = draft.yard.quarters_named(spot.quarters).year.clean_days
    days = draft.yard.year.clean_days if own is None else own
    if not days or not draft.keeps(
        f"clean:{spot.quarters}",
        f"{spot.quarters} stays empty {days} days between two birds, to be cleaned and to dry",
        "standard", 150,
    ):  # fmt: skip
        return 0
    return draft.steps.whole(days)
