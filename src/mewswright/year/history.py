"""Where each unit was before the plan, and for how long."""

from __future__ import annotations

from mewswright.model.bird import Bird
from mewswright.year.cells import place
from mewswright.year.draft import Draft
from mewswright.year.flock import Member, home_before
from mewswright.year.instance import Before
from mewswright.year.suited import home_spot

EVER = 10_000  # steps: nobody says since when


def before(draft: Draft, member: Member, birds: list[Bird]) -> Before | None:
    """Where a unit was before the plan; of several in one room the first of the file."""
    if member.first:
        return None
    home = home_spot(draft, member, birds)
    if home is None:
        return None
    cell = draft.spots[home].cell
    for other in draft.members:
        if other is member:
            break
        theirs = [draft.birds[name] for name in other.birds]
        at = None if other.first else home_spot(draft, other, theirs)
        if at is not None and draft.spots[at].cell == cell:
            draft.mind(
                f"{' and '.join(member.birds)} and {' and '.join(other.birds)} share "
                f"{draft.spots[home].quarters} today and are not named as companions: the "
                "plan parts them."
            )
            return None
    return Before(home, _weeks_in(draft, birds[0]), _tied_weeks(draft, birds[0]))


def _weeks_in(draft: Draft, bird: Bird) -> int:
    """Whole steps that a bird has lived where it lives; many, where nobody says since when."""
    home = home_before(draft.yard, bird, draft.steps.start)
    if home is None or home.starts_on is None:
        return EVER
    return max(1, (draft.steps.start - home.starts_on).days // draft.steps.days)


def so_far(draft: Draft, before: Before, least: int) -> int:
    """Steps of the stay so far, no more of them than matter."""
    most = place(draft, draft.spots[before.place]).most_weeks
    if most is None:
        return min(before.weeks, least)
    if before.weeks >= EVER:
        draft.assume(
            f"{draft.spots[before.place].quarters}: nobody says when it was last cleaned; "
            "it is taken as cleaned just before the plan."
        )
        return min(least, most)
    return min(before.weeks, most)


def _tied_weeks(draft: Draft, bird: Bird) -> int:
    """Steps on end that a bird has been tied as the plan begins, as far as the file tells."""
    home = home_before(draft.yard, bird, draft.steps.start)
    if home is None or home.mode != "tethered" or home.starts_on is None:
        return 0
    return max(0, (draft.steps.start - home.starts_on).days // draft.steps.days)
