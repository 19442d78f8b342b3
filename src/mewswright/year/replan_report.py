"""What `year --replan` says: the new plan, what moved and why, and how much was kept."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from itertools import groupby

from pydantic import BaseModel, ConfigDict, Field

from mewswright.year.instance import Rows
from mewswright.year.plan import DAY, PlannedStay, YearPlan, place_words
from mewswright.year.replan import Anew, place_of
from mewswright.year.replan_why import Cause, Feasible, Why
from mewswright.year.report import (
    CleaningTold,
    ConflictTold,
    Found,
    StayTold,
    YearReport,
    year_report,
)


class ChangeTold(BaseModel):
    """A bird that is not where the old plan had it, first and last day inclusive."""

    model_config = ConfigDict(
        frozen=True,
        extra="forbid",
        validate_by_name=True,
        validate_by_alias=True,
        serialize_by_alias=True,
    )
    bird: str
    starts_on: date = Field(alias="from")
    ends_on: date = Field(alias="to")
    was: str | None
    now: str | None
    why: str


class ReplanReport(YearReport):
    """A plan made anew. Stays before `replanned_from` are those of the old plan.

    `kept_share` is the share of bird-days from then on, of birds that the old plan houses and
    that are still there, on which the bird is where the old plan has it; 1 where nothing had to
    change, and None where there is no plan.
    """

    replanned_from: date
    changes: tuple[ChangeTold, ...]
    kept_share: float | None


@dataclass(frozen=True)
class _Plain:
    """An answer in the plan's own costs, without the price of change."""

    rows: Rows | None
    cost: int | None
    bound: int | None


def replan_report(
    asked: Anew,
    answer: Found,
    seconds: float,
    conflict: ConflictTold | None = None,
    feasible: Feasible | None = None,
) -> ReplanReport:
    """Say what the new plan is, what moved and why.

    Args:
        asked: The year that was planned anew.
        answer: What a search found for `asked.instance`.
        seconds: What it took [s].
        conflict: Why there is no plan, where there is none.
        feasible: Tells whether there is a plan, for the reasons that need asking; None = no asking.
    """
    from mewswright.year.cost import plan_cost

    plain = _Plain(None, None, None)
    if answer.rows is not None and answer.cost is not None:
        cost = plan_cost(asked.problem.instance(), answer.rows)
        # What the change costs is the same for the plan and for its bound, if it is the least.
        bound = max(0, (answer.bound or 0) - (answer.cost - cost))
        plain = _Plain(answer.rows, cost, bound)
    told = year_report(asked.problem, plain, seconds, conflict)
    on = asked.happened.on
    fields = {name: getattr(told, name) for name in YearReport.model_fields}
    if answer.rows is None:
        return ReplanReport(**fields, replanned_from=on, changes=(), kept_share=None)
    fields["stays"] = tuple(_with_the_past(asked, told.stays))
    fields["starts_on"] = asked.old.starts_on
    done = (s for s in asked.old.shut if s.kind == "clean" and s.starts_on < on)
    fields["cleaned"] = (
        *(CleaningTold(quarters=s.who, starts_on=s.starts_on, ends_on=s.ends_on) for s in done),
        *told.cleaned,
    )
    new = _as_plan(asked, fields["stays"])
    changes = tuple(changes_between(asked, new, answer.rows, feasible))
    return ReplanReport(
        **fields,
        replanned_from=on,
        changes=changes,
        kept_share=_kept_share(asked, new),
    )


def _with_the_past(asked: Anew, stays: tuple[StayTold, ...]) -> Iterator[StayTold]:
    """Old stays until the day before, then new ones; a stay that runs on is one."""
    on, old = asked.happened.on, asked.old
    for bird in dict.fromkeys([*old.birds, *(s.bird for s in stays)]):
        mine = [_cut(_told(s), None, on - DAY) for s in old.of_bird(bird) if s.starts_on < on]
        for stay in (s for s in stays if s.bird == bird and s.ends_on >= on):
            stay = _cut(stay, on, None)
            last = mine[-1] if mine else None
            same = (
                last is not None
                and last.ends_on + DAY == stay.starts_on
                and (
                    (last.quarters, last.mode, last.isolated)
                    == (stay.quarters, stay.mode, stay.isolated)
                )
            )
            if same and last is not None:
                mine[-1] = last.model_copy(update={"ends_on": stay.ends_on})
            else:
                mine.append(stay)
        yield from mine


def _told(stay: PlannedStay) -> StayTold:
    return StayTold(
        bird=stay.bird, quarters=stay.quarters, mode=stay.mode, starts_on=stay.starts_on,
        ends_on=stay.ends_on, perch=stay.perch, isolated=stay.isolated,
    )  # fmt: skip


def _cut(stay: StayTold, first: date | None, last: date | None) -> StayTold:
    return stay.model_copy(
        update={
            "starts_on": max(stay.starts_on, first or date.min),
            "ends_on": min(stay.ends_on, last or date.max),
        }
    )


def _as_plan(asked: Anew, stays: tuple[StayTold, ...]) -> YearPlan:
    planned = tuple(
        PlannedStay(s.bird, s.quarters, s.mode, s.starts_on, s.ends_on, s.perch, s.isolated)
        for s in stays
    )
    birds = tuple(dict.fromkeys([*asked.old.birds, *(s.bird for s in stays)]))
    return YearPlan(asked.old.yard, asked.old.starts_on, asked.old.ends_on, birds, (), planned)


def _days(asked: Anew) -> list[date]:
    count = (asked.old.ends_on - asked.happened.on).days + 1
    return [asked.happened.on + i * DAY for i in range(count)]


def _kept_share(asked: Anew, new: YearPlan) -> float:
    kept = whole = 0
    for bird in asked.old.birds:
        if bird in asked.happened.gone:
            continue
        for day in _days(asked):
            was, now = place_of(asked.old, bird, day), place_of(new, bird, day)
            if was is not None:
                whole += 1
                kept += now is not None and now.where == was.where
    return round(kept / whole, 4) if whole else 1.0


def changes_between(
    asked: Anew, new: YearPlan, rows: Rows, feasible: Feasible | None = None
) -> Iterator[ChangeTold]:
    """Every stretch of days on which a bird is not where the old plan has it, with its cause.

    Args:
        asked: The year that was planned anew.
        new: The new plan.
        rows: The same in the abstract.
        feasible: Tells whether there is a plan.
    """
    causes = []
    for bird in new.birds:
        where = [(d, place_of(asked.old, bird, d), place_of(new, bird, d)) for d in _days(asked)]
        for (was, now), run in groupby(
            where, key=lambda day: (day[1] and day[1].where, day[2] and day[2].where)
        ):
            days = [day for day, _, _ in run]
            if was != now:
                causes.append(Cause(bird, days[0], days[-1], was, now))
    causes.sort(key=lambda c: (c.first, c.bird))
    why = Why(asked, new, rows, tuple(causes), feasible)
    for cause in causes:
        yield ChangeTold(
            bird=cause.bird,
            starts_on=cause.first,
            ends_on=cause.last,
            was=None if cause.was is None else place_words(cause.was),
            now=None if cause.now is None else place_words(cause.now),
            why=why.of(cause),
        )
