"""A plan as calendars, charts and pages show it: of a report, or of the stays in the yard file."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from mewswright.model.yard import Yard
from mewswright.year.plan import DAY, PlannedStay, Span, YearPlan, joined
from mewswright.year.report import YearReport
from mewswright.year.seasons import moult_season
from mewswright.year.steps import Steps

WEEKS = 52
MOST_SHEETS = 3  # years of one chart; stays further off are left to the next


def shown_plan(report: YearReport, yard: Yard) -> YearPlan:
    """The plan of a report, with the windows of its birds and the days on which quarters are shut.

    Args:
        report: A report with stays.
        yard: The yard that it is of.
    """
    stays = joined(
        PlannedStay(s.bird, s.quarters, s.mode, s.starts_on, s.ends_on, s.perch, s.isolated)
        for s in report.stays
    )
    cleaned = tuple(Span(c.quarters, "clean", c.starts_on, c.ends_on) for c in report.cleaned)
    return _dressed(yard, report.starts_on, report.ends_on, stays, cleaned, report.step_days)


def yard_plan(yard: Yard, first: date, last: date) -> YearPlan:
    """The plan that the stays of the yard file make between two days.

    Args:
        yard: The yard.
        first: First day shown.
        last: Last day shown.
    """
    stays = [
        PlannedStay(
            s.bird, s.quarters, s.mode, max(first, s.starts_on or first),
            min(last, s.ends_on or last), s.perch, s.isolated,
        )
        for s in yard.stay
        if not s.daytime_only
        and (s.starts_on or first) <= last
        and (s.ends_on or last) >= first
    ]  # fmt: skip
    return _dressed(yard, first, last, joined(stays), (), 7)


def dated_years(yard: Yard) -> tuple[tuple[date, date], ...]:
    """The years for which the stays of the yard file are a plan: those in which one changes.

    From the Monday of the first change on, by 52 weeks. Where no stay has a date there is no plan.
    """
    days = sorted(
        {s.starts_on for s in yard.stay if s.starts_on and not s.daytime_only}
        | {s.ends_on + DAY for s in yard.stay if s.ends_on and not s.daytime_only}
    )
    years: list[tuple[date, date]] = []
    for day in days:
        if not years or day > years[-1][1]:
            monday = day - timedelta(days=day.weekday())
            years.append((monday, monday + timedelta(weeks=WEEKS) - DAY))
    return tuple(years[-MOST_SHEETS:])


def _dressed(
    yard: Yard, first: date, last: date, stays: tuple[PlannedStay, ...],
    cleaned: tuple[Span, ...], step_days: int,
) -> YearPlan:  # fmt: skip
    here = {s.bird for s in stays}
    used = {s.quarters for s in stays}
    closed = tuple(
        Span(q.name, "closed", span.starts_on, span.ends_on)
        for q in yard.quarters
        for span in q.year.closed
        if span.starts_on <= last and span.ends_on >= first
    )
    quarters = tuple(
        q.name for q in yard.quarters if q.name in used or (q.kind != "pitch" and q.built)
    )
    return YearPlan(
        yard=yard.yard.name,
        starts_on=first,
        ends_on=last,
        birds=tuple(dict.fromkeys([*(b.name for b in yard.bird if b.name in here), *sorted(here)])),
        quarters=tuple(dict.fromkeys([*quarters, *sorted(used)])),
        stays=stays,
        shut=(*cleaned, *closed, *_rests(yard, stays, (*cleaned, *closed), first, last)),
        windows=tuple(_windows(yard, stays, first, last)),
        step_days=step_days,
    )


def _rests(
    yard: Yard, stays: tuple[PlannedStay, ...], shut: tuple[Span, ...], first: date, last: date
) -> Iterator[Span]:
    """The longest time that soil which must rest lies empty, where it is long enough."""
    for q in yard.quarters:
        if not q.year.rest_weeks:
            continue
        busy = sorted((s.starts_on, s.ends_on) for s in stays if s.quarters == q.name)
        gaps, at = [], first
        for begins, ends in [*busy, (last + DAY, last + DAY)]:
            if begins > at:
                gaps.append((at, begins - DAY))
            at = max(at, ends + DAY)
        begins, ends = max(gaps, key=lambda gap: gap[1] - gap[0], default=(last, first))
        if (ends - begins).days + 1 < 7 * q.year.rest_weeks:
            continue
        for span in sorted((s for s in shut if s.who == q.name), key=lambda s: s.starts_on):
            if span.starts_on <= begins <= span.ends_on:  # what is cleaned lies empty, too
                begins = span.ends_on + DAY
        if begins <= ends:
            yield Span(q.name, "rest", begins, ends)


def _windows(yard: Yard, stays: tuple[PlannedStay, ...], first: date, last: date) -> Iterator[Span]:
    """Moult, breeding and isolation of the birds that are there."""
    here = {s.bird for s in stays}
    steps = Steps(first, (last - first).days + 1, 1)
    for bird in yard.bird:
        if bird.name in here and bird.year.moult != "none":
            for begins, ends in moult_season(yard, bird, steps, {}):
                yield Span(bird.name, "moult", max(begins, first), min(ends, last))
    for pair in yard.year.breeding:
        for name in pair.birds:
            if name in here and pair.starts_on <= last and pair.ends_on >= first:
                yield Span(name, "breeding", max(pair.starts_on, first), min(pair.ends_on, last))
    for stay in stays:
        if stay.isolated:
            yield Span(stay.bird, "isolation", stay.starts_on, stay.ends_on)
