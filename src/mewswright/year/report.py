"""What `year --json` says: every stay, what the plan costs, or why there is none."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, timedelta
from typing import Literal, Protocol

from pydantic import BaseModel, ConfigDict, Field

from mewswright.year.charges import parts_of
from mewswright.year.cost import cost_parts
from mewswright.year.instance import Rows
from mewswright.year.laid import Laid, Rule
from mewswright.year.problem import YearProblem


class _Told(BaseModel):
    model_config = ConfigDict(
        frozen=True,
        extra="forbid",
        validate_by_name=True,
        validate_by_alias=True,
        serialize_by_alias=True,
    )


class StayTold(_Told):
    """One bird in one quarters, first and last day inclusive."""

    bird: str
    quarters: str
    mode: Literal["loose", "tethered"]
    starts_on: date = Field(alias="from")
    ends_on: date = Field(alias="to")
    perch: str | None = None
    isolated: bool = False


class MoveTold(_Told):
    """A move on one day. `was` is None for an arrival, `now` for a bird that leaves."""

    on: date
    bird: str
    was: str | None
    now: str | None
    mode: Literal["loose", "tethered"] | None


class CleaningTold(_Told):
    """Days on which quarters stay empty to be cleaned and to dry, first and last inclusive."""

    quarters: str
    starts_on: date = Field(alias="from")
    ends_on: date = Field(alias="to")


class Objective(_Told):
    """What the plan costs: less is better. No plan costs less than `bound`."""

    total: int | None
    bound: int | None
    parts: dict[str, int]


class ReasonTold(_Told):
    """A rule: a wish of the keeper's, a fact of the yard, or what a standard or a bird asks."""

    key: str
    says: str
    kind: Literal["wish", "fact", "standard"]


class PlanTold(_Told):
    """A plan that was made and looked at, in short. A new room is called by its make."""

    moves: int
    total: int
    stays: tuple[StayTold, ...]


class RelaxTold(_Told):
    """Rules to give up, or changes to make, after which there is a plan: this one."""

    keys: tuple[str, ...]
    says: str
    price: int
    plan: PlanTold


class ConflictTold(_Told):
    """Why there is no plan.

    `proven` is False where none was found in the time; `minimal` is True where a plan was found
    without any one of the reasons; `cheapest` is True where no cheaper way out was passed over.
    """

    proven: bool
    says: str
    minimal: bool
    reasons: tuple[ReasonTold, ...]
    cheapest: bool
    relax: tuple[RelaxTold, ...]


class YearReport(_Told):
    """Everything that `year` says. The keys are stable."""

    yard: str
    starts_on: date = Field(alias="from")
    ends_on: date = Field(alias="to")
    step_days: int
    stays: tuple[StayTold, ...]
    objective: Objective
    proven: bool
    seconds: float
    moves: int
    cleanings: int
    conflict: ConflictTold | None
    moved: tuple[MoveTold, ...]
    cleaned: tuple[CleaningTold, ...]
    rules: tuple[ReasonTold, ...]
    assumed: tuple[str, ...]
    cautions: tuple[str, ...]


class Found(Protocol):
    """What a search found."""

    @property
    def rows(self) -> Rows | None:
        """The plan, or None."""

    @property
    def cost(self) -> int | None:
        """What it costs."""

    @property
    def bound(self) -> int | None:
        """What no plan is below."""


def year_report(
    problem: YearProblem, answer: Found, seconds: float, conflict: ConflictTold | None = None
) -> YearReport:
    """Say what was found, in days and names.

    Args:
        problem: What was to be planned.
        answer: What a search found.
        seconds: What it took [s].
        conflict: Why there is no plan, where there is none.
    """
    laid, calendar = problem.laid(), problem.calendar
    stays = stays_of(problem, laid, answer.rows) if answer.rows is not None else ()
    moved = tuple(_moves(problem, stays))
    cleaned = tuple(_cleanings(problem, laid, answer.rows)) if answer.rows is not None else ()
    return YearReport(
        yard=problem.yard.yard.name,
        starts_on=calendar.start,
        ends_on=calendar.last,
        step_days=calendar.days,
        stays=stays,
        objective=Objective(
            total=answer.cost,
            bound=answer.bound,
            parts={} if answer.rows is None else _parts(laid, answer.rows),
        ),
        proven=answer.cost is not None and answer.cost == answer.bound,
        seconds=round(seconds, 3),
        moves=sum(1 for move in moved if move.was and move.now and move.was != move.now),
        cleanings=len(cleaned),
        conflict=None if answer.rows is not None else conflict or _unknown(laid),
        moved=moved,
        cleaned=cleaned,
        rules=tuple(reason_told(r) for r in laid.rules),
        assumed=laid.assumed,
        cautions=(*laid.cautions, *CAUTIONS),
    )


CAUTIONS = (
    "Pitches are for the day and are not planned: every stay is for day and night.",
    "The plan knows the yard file alone: not tempers, weather, visitors, or who is fit to fly.",
    "A bird that is ill, and any doubt of what a law asks, belong before a vet and the office.",
)


def stays_of(problem: YearProblem, laid: Laid, rows: Rows) -> tuple[StayTold, ...]:
    """Turn rows into stays with days, bird by bird in the order of the yard file."""
    found: list[StayTold] = []
    for bird in problem.yard.bird:
        arrives = bird.arrives_on or date.min
        leaves = bird.leaves_on or date.max
        where: list[int | None] = [None] * problem.steps
        for member, row in zip(laid.members, rows, strict=True):
            if bird.name in member.birds:
                for step in range(member.first, member.after):
                    where[step] = row[step]
        begin = 0
        for step in range(1, problem.steps + 1):
            if step < problem.steps and where[step] == where[begin]:
                continue
            place = where[begin]
            if place is not None:
                found.append(_stay(problem, laid, bird.name, place, (
                    max(problem.calendar.first_of(begin), arrives),
                    min(problem.calendar.last_of(step - 1), leaves),
                )))  # fmt: skip
            begin = step
    return tuple(found)


def _stay(
    problem: YearProblem, laid: Laid, bird: str, place: int, days: tuple[date, date]
) -> StayTold:
    spot = laid.places[place]
    quarters = problem.yard.quarters_named(spot.quarters)
    perch = spot.stand
    if spot.mode == "tethered" and perch is None:
        known = problem.yard.bird_named(bird)
        perch = problem.suitability.fit((known,), quarters, "tethered", spot.use != "home").perch
    return StayTold(
        bird=bird, quarters=spot.quarters, mode=spot.mode, starts_on=days[0], ends_on=days[1],
        perch=perch, isolated=spot.use != "home",
    )  # fmt: skip


def _moves(problem: YearProblem, stays: Sequence[StayTold]) -> Iterator[MoveTold]:
    """Every move, arrival, departure and change of mode, by day."""
    from mewswright.year.flock import home_before

    found = []
    for bird in problem.yard.bird:
        mine = [s for s in stays if s.bird == bird.name]
        if not mine:
            continue
        home = home_before(problem.yard, bird, problem.start)
        was = None if home is None else (home.quarters, home.mode)
        for stay in mine:
            now = (stay.quarters, stay.mode)
            if was != now:
                found.append(
                    MoveTold(
                        on=stay.starts_on,
                        bird=bird.name,
                        was=was[0] if was else None,
                        now=now[0],
                        mode=now[1],
                    )
                )
            was = now
        end = mine[-1].ends_on
        if end < problem.calendar.last:
            found.append(MoveTold(on=end + timedelta(days=1), bird=bird.name,
                                  was=mine[-1].quarters, now=None, mode=None))  # fmt: skip
    yield from sorted(found, key=lambda move: move.on)


def _cleanings(problem: YearProblem, laid: Laid, rows: Rows) -> Iterator[CleaningTold]:
    """Each time that a room is left, and the days that it then stays empty."""
    instance, calendar = laid.instance, problem.calendar
    kin = instance.kin | {(j, i) for i, j in instance.kin}
    found = []
    cells: dict[int | None, list[int]] = {}
    for p, place in enumerate(instance.places):
        cells.setdefault(place.cell, []).append(p)
    for places in cells.values():
        who: list[int | None] = [
            next((u for u, row in enumerate(rows) if row[step] in places), None)
            for step in range(problem.steps)
        ]
        before = next(
            (u for u, unit in enumerate(instance.units)
             if unit.before is not None and unit.before.place in places), None
        )  # fmt: skip
        for step, (was, now) in enumerate(zip([before, *who], who, strict=False)):
            weeks = max(instance.places[p].clean_weeks for p in places)
            if was is None or was == now or (now is not None and (was, now) in kin) or not weeks:
                continue
            found.append(CleaningTold(
                quarters=laid.places[places[0]].quarters,
                starts_on=calendar.first_of(step),
                ends_on=min(calendar.last_of(step + weeks - 1), calendar.last),
            ))  # fmt: skip
    yield from sorted(found, key=lambda one: (one.starts_on, one.quarters))


def _parts(laid: Laid, rows: Rows) -> dict[str, int]:
    """What the plan costs in each part that costs anything; together they are the total."""
    whole = cost_parts(laid.instance, rows)
    parts = parts_of(laid.charges, rows) | {
        "moves": whole.moves,
        "free_time": whole.unfair,
        "neighbours": whole.strangers,
        "cleaning": whole.crowded,
    }
    return {name: cost for name, cost in parts.items() if cost}


def _unknown(laid: Laid) -> ConflictTold:
    """No plan and no proof: say which units have nowhere to be, if any."""
    reasons = []
    for unit, member in zip(laid.instance.units, laid.members, strict=True):
        nowhere = not unit.suitable and not (
            unit.entry and unit.entry.places and unit.entry.weeks >= member.after - member.first
        )
        if nowhere or (unit.entry and not unit.entry.places):
            keys = {f"bird:{name}" for name in member.birds}
            keys |= {f"isolation:{n}" for n in member.birds} if unit.entry else set()
            keys |= {f"suits:{' and '.join(member.birds)}"} if not unit.suitable else set()
            keys |= {f"suits:{' and '.join(member.birds)}:sick"} if member.sick else set()
            reasons += [reason_told(r) for r in laid.rules if r.key in keys]
    return ConflictTold(
        proven=bool(reasons),
        says="" if reasons else "No plan was found in the time, and no proof that there is none.",
        minimal=False, reasons=tuple(reasons), cheapest=False, relax=(),
    )  # fmt: skip


def reason_told(rule: Rule) -> ReasonTold:
    """A rule in the words of the report."""
    return ReasonTold(key=rule.key, says=rule.says, kind=rule.kind)
