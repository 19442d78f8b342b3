"""A plan made anew in mid-year: what happened, and a plan that keeps what can be kept.

The steps stay those of the old plan, so that what is kept keeps its days. A bird that is not
where the old plan has it costs more than all else in a plan together, for every bird and step:
the fewest changes come first, and among as few the cheapest plan.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date, timedelta

from mewswright.model.bird import Bird, Stay
from mewswright.model.problem import Problem
from mewswright.model.yard import Yard
from mewswright.model.year_keys import Span as Closed
from mewswright.year.instance import Instance, Unit
from mewswright.year.laid import Laid
from mewswright.year.plan import DAY, PlannedStay, YearPlan
from mewswright.year.problem import YearProblem, year_problem

DEAREST = 100_000  # price of a changed bird and step, at the most [cost]


@dataclass(frozen=True)
class Broken:
    """Quarters in which nobody can live from a day on."""

    quarters: str
    first: date
    last: date


@dataclass(frozen=True)
class Happened:
    """What makes a new plan necessary.

    Args:
        on: The day from which the plan is made anew.
        gone: Birds that are there no more.
        broken: Quarters that cannot be used.
        arrives: Birds that the yard file does not know yet.
    """

    on: date
    gone: tuple[str, ...] = ()
    broken: tuple[Broken, ...] = ()
    arrives: tuple[Bird, ...] = ()


@dataclass(frozen=True)
class Anew:
    """A year to plan anew.

    Args:
        problem: What is left of the year, with what happened in it.
        old: The old plan.
        happened: What happened.
        instance: The abstract year, in which a change is dearer than all else.
        price: What one bird in one step costs that is not where the old plan has it.
    """

    problem: YearProblem
    old: YearPlan
    happened: Happened
    instance: Instance
    price: int


def anew(
    yard: Yard, old: YearPlan, happened: Happened, locks: Iterable[str] = (),
    forbids: Iterable[str] = (),
) -> Anew:  # fmt: skip
    """Make the problem of planning anew.

    Args:
        yard: The yard as its file now is. A bird that is only in the plan is gone, one that is
            only in the yard file arrives.
        old: The plan until now.
        happened: What happened.
        locks: Stays to keep, as `--lock` takes them.
        forbids: Stays that must not be, as `--forbid` takes them.

    Raises:
        Problem: For a day that is not in the plan, or a name that is not in the yard.
    """
    if not old.starts_on <= happened.on <= old.ends_on:
        raise Problem(
            f"--from {happened.on} is not in the plan, which runs from {old.starts_on} to "
            f"{old.ends_on}: give a day in it"
        )
    begun = (happened.on - old.starts_on).days // old.step_days
    start = old.starts_on + timedelta(days=begun * old.step_days)
    steps = -(-((old.ends_on - start).days + 1) // old.step_days)
    happened = _whole(yard, old, happened)
    problem = year_problem(
        _yard_now(yard, old, happened), start, steps, old.step_days, tuple(locks),
        tuple(forbids),
    )  # fmt: skip
    laid = problem.laid()
    price = _price(laid.instance)
    instance = _dearer(problem, laid, old, happened.on, price)
    return Anew(problem, old, happened, instance, price)


def place_of(plan: YearPlan, bird: str, day: date) -> PlannedStay | None:
    """The stay of a bird on a day, None where it has none."""
    found = [s for s in plan.stays if s.bird == bird and s.starts_on <= day <= s.ends_on]
    return found[-1] if found else None


def _whole(yard: Yard, old: YearPlan, happened: Happened) -> Happened:
    """What happened with what the yard file tells beside it: who is gone."""
    known = {bird.name for bird in yard.bird}
    lost = tuple(b for b in old.birds if b not in known and _lives(old, b, happened.on))
    for name in happened.gone:
        if name not in known and name not in old.birds:
            yard.bird_named(name)  # says which there are
    for broken in happened.broken:
        yard.quarters_named(broken.quarters)
    for bird in happened.arrives:
        if bird.name in known:
            raise Problem(
                f"--arrives {bird.name!r}: there is a bird of this name: give arrives_on in the "
                "yard file, or another name"
            )
    return replace(happened, gone=tuple(dict.fromkeys([*happened.gone, *lost])))


def _lives(plan: YearPlan, bird: str, day: date) -> bool:
    return any(s.bird == bird and s.ends_on >= day for s in plan.stays)


def _yard_now(yard: Yard, old: YearPlan, happened: Happened) -> Yard:
    """The yard with what happened written into it, and the old plan as its stays."""
    birds = [
        bird.model_copy(update={"arrives_on": happened.on})
        if bird.arrives_on is None and not any(s.bird == bird.name for s in old.stays)
        else bird
        for bird in yard.bird
        if bird.name not in happened.gone
    ]
    birds += [bird.model_copy(update={"arrives_on": happened.on}) for bird in happened.arrives]
    names = {bird.name for bird in birds}
    shut = [
        (b.quarters, Closed(starts_on=b.first, ends_on=b.last, note="broken"))
        for b in happened.broken
    ]
    shut += _cleaned_of_the_gone(yard, old, happened)
    quarters = []
    for q in yard.quarters:
        closed = (*q.year.closed, *(span for name, span in shut if name == q.name))
        quarters.append(q.model_copy(update={"year": q.year.model_copy(update={"closed": closed})}))
    housed = {q.name for q in yard.quarters}
    stays = [s for s in yard.stay if s.daytime_only and s.bird in names]
    stays += [
        Stay(bird=s.bird, quarters=s.quarters, mode=s.mode, perch=s.perch, isolated=s.isolated,
             starts_on=s.starts_on, ends_on=s.ends_on)
        for s in _run_on(yard, old)
        if s.bird in names and s.quarters in housed
    ]  # fmt: skip
    stays += [s for s in yard.stay if s.locked and s.bird in names]
    return yard.model_copy(
        update={"bird": tuple(birds), "quarters": tuple(quarters), "stay": tuple(stays)}
    ).with_own_standards(yard.own_standards)


def _cleaned_of_the_gone(
    yard: Yard, old: YearPlan, happened: Happened
) -> Iterable[tuple[str, Closed]]:
    """Rooms that a bird has left for good, while they are cleaned of it."""
    for bird in happened.gone:
        stay = place_of(old, bird, happened.on) or place_of(old, bird, happened.on - DAY)
        if stay is None:
            continue
        left = [s for s in old.stays if s.quarters == stay.quarters
                and s.bird not in happened.gone
                and s.starts_on <= happened.on <= s.ends_on]  # fmt: skip
        found = [q for q in yard.quarters if q.name == stay.quarters]
        if left or not found:  # who shared the room lives on in it
            continue
        days = found[0].year.clean_days
        days = yard.year.clean_days if days is None else days
        if days:
            last = happened.on + timedelta(days=days - 1)
            yield (
                stay.quarters,
                Closed(starts_on=happened.on, ends_on=last, note=f"cleaned after {bird}"),
            )


def _run_on(yard: Yard, old: YearPlan) -> Iterable[PlannedStay]:
    """The old stays; one that began the plan began when the yard file says that it did."""
    for stay in old.stays:
        before = [
            s.starts_on
            for s in yard.stay
            if (s.bird, s.quarters, s.mode) == (stay.bird, stay.quarters, stay.mode)
            and s.starts_on is not None
            and s.starts_on < old.starts_on
            and (s.ends_on or date.max) >= old.starts_on - DAY
        ]
        began = stay.starts_on == old.starts_on and bool(before)
        yield replace(stay, starts_on=min(before)) if began else stay


def _price(instance: Instance) -> int:
    """More than all that a plan costs, as far as costs may go."""
    most = 0
    for unit in instance.units:
        here = [unit.weekly_cost[p] for p in unit.suitable] or [0]
        most += instance.weeks * (max(here) - min(here) + instance.extras.unfair)
        most += unit.move_cost * (instance.weeks // max(1, unit.min_stay) + 1)
        most += sum(cost for _, _, cost in unit.dearer)
    most += instance.weeks * instance.extras.crowded * len(instance.places)
    most += instance.weeks * instance.extras.strangers
    return min(most + 1, DEAREST)


def _dearer(problem: YearProblem, laid: Laid, old: YearPlan, on: date, price: int) -> Instance:
    """The instance with the price of change on every step."""
    units = []
    for unit, member in zip(laid.instance.units, laid.members, strict=True):
        was: dict[int, list[tuple[str, str]]] = {}
        for step in range(member.first, member.after):
            day = max(on, problem.calendar.first_of(step))
            stays = (place_of(old, bird, day) for bird in member.birds)
            was[step] = [stay.where for stay in stays if stay is not None]
        begun = problem.start < on  # a step that has begun is changed only where it must be
        units.append(_with_prices(unit, laid, was, price, 2 if begun else 1))
    return replace(laid.instance, units=tuple(units))


def _with_prices(
    unit: Unit, laid: Laid, was: dict[int, list[tuple[str, str]]], price: int, first: int
) -> Unit:
    """A unit for which each of its birds that is elsewhere costs the price."""
    price = min(price, DEAREST // max(1, *(len(found) for found in was.values()), 1))
    least = min((len(found) for found in was.values()), default=0)
    weekly, dearer = list(unit.weekly_cost), list(unit.dearer)
    used = {where for found in was.values() for where in found}
    for p, spot in enumerate(laid.places):
        ever = (spot.quarters, spot.mode) in used
        if not ever:
            weekly[p] += price * least
        for step, found in was.items():
            changed = sum(where != (spot.quarters, spot.mode) for where in found)
            cost = price * (changed - (0 if ever else least))
            cost += price * changed * (first - 1) if step == 0 else 0
            if cost:
                dearer.append((step, p, cost))
    return replace(unit, weekly_cost=tuple(weekly), dearer=tuple(dearer))
