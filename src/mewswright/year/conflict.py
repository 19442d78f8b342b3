"""Why a yard's year has no plan, and the cheapest ways out, as the report tells it."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from datetime import date
from itertools import groupby

from mewswright.build.cut.effort import Effort
from mewswright.year.ask import Asker, Oracle
from mewswright.year.changes import Widened, changes_of
from mewswright.year.feasible import Verdict, feasible
from mewswright.year.instance import Instance, Rows
from mewswright.year.laid import Laid
from mewswright.year.problem import YearProblem
from mewswright.year.relax import MOST_WAYS, Relaxation, ways_out
from mewswright.year.report import (
    ConflictTold,
    PlanTold,
    RelaxTold,
    StayTold,
    reason_told,
)
from mewswright.year.rooms import rooms_of
from mewswright.year.spots import Spot
from mewswright.year.weekly import weekly
from mewswright.year.why import Clash, smallest
from mewswright.year.why_words import Names, headline

POLISH_S = 1.0  # for making the plan of one way out cheaper
SHARE_FOR_WHY = 0.6  # of the time; the rest is for the ways out
MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September",
    "October", "November", "December",
)  # fmt: skip


def conflict_of(
    problem: YearProblem, oracle: Oracle, effort: Effort, most: int = MOST_WAYS,
    improved: Callable[[Instance, Rows], Rows] | None = None,
) -> ConflictTold | None:  # fmt: skip
    """Say why there is no plan; None where there is one, or where that was not proven.

    Args:
        problem: The yard and the days.
        oracle: Tells whether there is a plan.
        effort: Time for all of it.
        most: How many ways out at the most.
        improved: Makes the plan of a way out cheaper; None to leave it as it is found.
    """
    ask = Asker(problem, oracle, effort.share(SHARE_FOR_WHY))
    clash = smallest(ask)
    if clash is None:
        return None
    rooms = more_of_each_kind(problem, clash)
    wide = Widened(problem, changes_of(problem, rooms, problem.step_days))
    wider = Asker(wide, oracle, effort)
    wider.learn(ask, frozenset(change.key for change in wide.changes))
    ways = ways_out(wider, clash.keys, most, improved)
    by_key = {rule.key: rule for rule in problem.rules}
    return ConflictTold(
        proven=True,
        says=says_of(problem, clash),
        minimal=clash.minimal,
        reasons=tuple(reason_told(by_key[rule.key]) for rule in clash.rules),
        cheapest=ways.cheapest,
        relax=tuple(_relax_told(problem, rooms, way) for way in ways.found),
    )


def why_not(problem: YearProblem, effort: Effort, seed: int) -> ConflictTold | None:
    """Say why there is no plan, by the weekly model; None where that is not known.

    Args:
        problem: The yard and the days.
        effort: Time for all of it.
        seed: Of the search.
    """

    def improved(instance: Instance, rows: Rows) -> Rows:
        left = min(POLISH_S, effort.seconds_left() / 4)
        return weekly(instance, left, seed, start=rows).rows or rows if left > 0 else rows

    def told(instance: Instance, seconds: float) -> Verdict:
        return feasible(instance, seconds, seed)

    return conflict_of(problem, told, effort, improved=improved)


def says_of(problem: YearProblem, clash: Clash) -> str:
    """The clash in one sentence."""
    if clash.counted is None:
        many = len(clash.rules)
        end = "; without any one of them there is a plan" if clash.minimal else ""
        return f"These {many} cannot all be kept{end}."
    without = frozenset(rule.key for rule in problem.rules) - clash.keys
    laid = problem.laid(without)
    return headline(laid.instance, clash.counted, names_of(problem, laid))


def names_of(problem: YearProblem, laid: Laid) -> Names:
    """What a keeper calls rooms and days."""
    calendar = problem.calendar
    kinds = {q.name: q.kind for q in problem.yard.quarters}

    def when(first: int, last: int) -> str:
        return days_in_words(calendar.first_of(first), calendar.last_of(last))

    def long(steps: int) -> str:
        unit = "week" if calendar.days == 7 else "day"
        return f"1 {unit}" if steps == 1 else f"{steps} {unit}s"

    return Names(
        lambda p: laid.places[p].quarters,
        lambda p: kinds.get(laid.places[p].quarters, "room"),
        when,
        long,
    )


def days_in_words(first: date, last: date) -> str:
    """Some days in words: from 7 June to 8 August 2027."""
    if first == last:
        return f"on {_day(first)} {first.year}"
    year = "" if first.year == last.year else f" {first.year}"
    return f"from {_day(first)}{year} to {_day(last)} {last.year}"


def _day(day: date) -> str:
    return f"{day.day} {MONTHS[day.month - 1]}"


def more_of_each_kind(problem: YearProblem, clash: Clash) -> dict[str, tuple[int, ...]]:
    """For each kind of quarters, the room that suits most of the birds in a clash: its places."""
    laid = problem.laid()
    names = names_of(problem, laid)
    birds = {key.split(":", 1)[1] for key in clash.keys if key.startswith("bird:")}
    clashing = [
        unit
        for unit, member in zip(laid.instance.units, laid.members, strict=True)
        if birds & set(member.birds)
    ]
    best: dict[str, tuple[int, str, tuple[int, ...]]] = {}
    for places in rooms_of(laid.instance).places:
        first = places[0]
        if laid.places[first].stand is not None:
            continue  # one perch of several cannot be built alone
        suits = sum(
            any(p in unit.suitable or (unit.entry and p in unit.entry.places) for p in places)
            for unit in clashing
        )
        kind = names.kind(first)
        if suits > best.get(kind, (0,))[0]:
            best[kind] = suits, f"{kind} like {names.room(first)}", places
    return {name: places for _, name, places in best.values()}


def _relax_told(
    problem: YearProblem, rooms: Mapping[str, tuple[int, ...]], way: Relaxation
) -> RelaxTold:
    laid = problem.laid(frozenset(way.keys) & {rule.key for rule in problem.rules})
    spots = list(laid.places)
    for key in way.keys:
        for p in rooms.get(key.removeprefix("more:"), ()) if key.startswith("more:") else ():
            spots.append(replace(laid.places[p], quarters=f"new {key.removeprefix('more:')}"))
    stays = plan_stays(problem, laid, spots, way.rows)
    return RelaxTold(
        keys=way.keys,
        says=" and ".join(way.says),
        price=way.price,
        plan=PlanTold(moves=way.moves, total=way.total, stays=stays),
    )


def plan_stays(
    problem: YearProblem, laid: Laid, spots: Sequence[Spot], rows: Rows
) -> tuple[StayTold, ...]:
    """The stays of a plan of a year that may have rooms that the yard has not, by whole steps.

    Args:
        problem: The yard and the days.
        laid: Whose year it is.
        spots: Its places, new ones behind those of the yard.
        rows: The plan.
    """
    calendar = problem.calendar
    found: list[StayTold] = []
    for member, row in zip(laid.members, rows, strict=True):
        step = 0
        for place, run in groupby(row):
            after = step + len(list(run))
            if place is not None:
                spot = spots[place]
                found += [
                    StayTold(
                        bird=bird, quarters=spot.quarters, mode=spot.mode, perch=spot.stand,
                        starts_on=calendar.first_of(step), ends_on=calendar.last_of(after - 1),
                        isolated=spot.use != "home",
                    )
                    for bird in member.birds
                ]  # fmt: skip
            step = after
    return tuple(sorted(found, key=lambda stay: (stay.bird, stay.starts_on)))
