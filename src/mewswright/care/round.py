"""Today's work in walking order: weighed birds first, isolation last, back through the footbath."""

from collections.abc import Mapping, Sequence
from datetime import date
from math import inf
from typing import Literal

from pydantic import BaseModel, ConfigDict, Field

from mewswright.care.bucket import CAUTION, Bucket, bucket
from mewswright.care.due import Done, Due, due_on, stays_on
from mewswright.checks.walks_told import middle_m
from mewswright.ground.paths import Ways, door_step_m, shortest_round
from mewswright.model.bird import Stay
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard

Part = Literal["weighed", "others", "isolation"]
PARTS: tuple[Part, ...] = ("weighed", "others", "isolation")
# At each stop: first what the bird must be fresh for, last what shuts the place.
ORDER = ("look", "weigh_flown", "weigh_other", "scoop", "moult", "perch", "camera", "sieve",
         "disinfect", "bath", "feed", "footbath", "lock")  # fmt: skip
OFTEN = 7  # days: what is done so often is asked for at once
AGENT, BUCKET_L = "peroxygen_1", 5.0


class _Told(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")


class Task(_Told):
    """One thing to do."""

    chore: str = Field(description="Name of the chore.")
    says: str = Field(description="What to do.")
    bird: str | None = Field(description="For which bird, or for the quarters.")
    due_on: date = Field(description="Day from which it is due.")
    overdue_days: int = Field(description="Days past it.")
    last_on: date | None = Field(description="When it was last done.")
    why: str = Field(description="Why it is due.")
    how_known: str = Field(description="How the habit is known.")


class Stop(_Told):
    """One place on the round."""

    quarters: str = Field(description="Which quarters.")
    part: Part = Field(description="Weighed birds, others, or isolation.")
    birds: tuple[str, ...] = Field(description="Who lives there.")
    walk_m: float | None = Field(description="Walk to it from the stop before [m].")
    tasks: tuple[Task, ...] = Field(description="What to do there, in order.")


class BucketTold(_Told):
    """What to measure out."""

    agent: str = Field(description="Disinfectant.")
    product_ml: float = Field(description="Product [ml]; of a powder, grams.")
    water_ml: float = Field(description="Water [ml].")
    contact_min: float | None = Field(description="Minutes that it must stay wet.")
    strength: str = Field(description="Strength, as its label tells it.")
    source: str = Field(description="Who says so.")


class MoveDue(_Told):
    """A bird that moves today by the year's plan."""

    bird: str = Field(description="Which bird.")
    was: str | None = Field(description="Quarters that it leaves.")
    now: str = Field(description="Quarters that it moves to.")
    mode: str = Field(description="Loose or tethered.")


class RoundSheet(_Told):
    """Today's round."""

    yard: str = Field(description="Name of the yard.")
    day: date = Field(description="The day.")
    stops: tuple[Stop, ...] = Field(description="Where to go, in order.")
    walk_m: float | None = Field(description="Whole walk, back to the start [m].")
    moves: tuple[MoveDue, ...] = Field(description="Birds that move today.")
    never_noted: tuple[str, ...] = Field(
        description="Rarer work of which the book knows nothing: note it once, then it is counted."
    )
    bucket: BucketTold | None = Field(description="For the footbath and what is disinfected.")
    without_place: tuple[str, ...] = Field(description="Birds that no stay puts anywhere today.")
    notes: tuple[str, ...] = Field(description="What was taken for granted, and cautions.")


def round_on(
    yard: Yard,
    day: date,
    done: Done,
    stays: Sequence[Stay] | None = None,
    own_days: Mapping[str, int] | None = None,
    agent: str = AGENT,
    bucket_l: float = BUCKET_L,
) -> RoundSheet:
    """What is to be done on a day, in the order in which to walk it.

    Units with a bird to be weighed come first, isolation last; within each part the walk is as
    short as it gets, beginning at the weighing room.

    Args:
        yard: The yard.
        day: The day.
        done: When what was last done, by chore and bird or quarters.
        stays: Who lives where; the yard's own stays if left out.
        own_days: The keeper's own days by chore.
        agent: Disinfectant, by its id in the handbook.
        bucket_l: Size of the bucket [l].

    Raises:
        Problem: If the disinfectant is not known.
    """
    here = tuple(stays) if stays is not None else stays_on(yard, day)
    every = due_on(yard, day, done, here, own_days)
    # A new book would ask for all the rare work at once: say so, do not order it.
    due = [d for d in every if d.last is not None or d.chore.every_days <= OFTEN]
    rare = sorted(f"{d.bird or d.quarters}: {d.chore.says}" for d in every if d not in due)
    homes = {q.name: q for q in yard.quarters}
    living: dict[str, list[str]] = {}
    for stay in here:
        if stay.quarters in homes:
            living.setdefault(stay.quarters, []).append(stay.bird)
    parts = _parts(due, living, homes)
    order, lengths, notes = _walk(yard, parts, homes)
    stops = []
    for name, length in zip(order, lengths, strict=False):
        tasks = sorted((d for d in due if d.quarters == name), key=_rank)
        part = next(p for p in PARTS if name in parts[p])
        stops.append(
            Stop(
                quarters=name, part=part, birds=tuple(sorted(living[name])), walk_m=length,
                tasks=tuple(map(_task, tasks)),
            )
        )  # fmt: skip
    wet = any(d.chore.id in ("disinfect", "footbath") for d in due)
    housed = {b for birds in living.values() for b in birds}
    if wet:
        notes.append(CAUTION)
    known = all(length is not None for length in lengths) and lengths
    return RoundSheet(
        yard=yard.yard.name,
        day=day,
        stops=tuple(stops),
        walk_m=sum(length or 0.0 for length in lengths) if known else None,
        moves=_moves(yard, day),
        never_noted=tuple(rare),
        bucket=_bucket_told(bucket(agent, bucket_l)) if wet else None,
        without_place=tuple(
            b.name
            for b in yard.bird
            if b.name not in housed and (b.arrives_on is None or b.arrives_on <= day)
        ),
        notes=tuple(notes),
    )


def _bucket_told(one: Bucket) -> BucketTold:
    return BucketTold(
        agent=one.agent, product_ml=round(one.product_ml, 1), water_ml=round(one.water_ml, 1),
        contact_min=one.contact_min, strength=one.strength, source=one.source,
    )  # fmt: skip


def _rank(due: Due) -> tuple[int, str]:
    place = ORDER.index(due.chore.id) if due.chore.id in ORDER else len(ORDER)
    return place, due.bird or ""


def _task(due: Due) -> Task:
    return Task(
        chore=due.chore.id, says=due.chore.says, bird=due.bird, due_on=due.due_on,
        overdue_days=due.overdue_days, last_on=due.last, why=due.why,
        how_known=due.chore.source.how_known,
    )  # fmt: skip


def _parts(
    due: Sequence[Due], living: Mapping[str, list[str]], homes: Mapping[str, Quarters]
) -> dict[Part, list[str]]:
    weighed = {d.quarters for d in due if d.chore.id == "weigh_flown"}
    parts: dict[Part, list[str]] = {part: [] for part in PARTS}
    for name in sorted(living):
        apart = homes[name].kind == "isolation"
        part: Part = "isolation" if apart else "weighed" if name in weighed else "others"
        parts[part].append(name)
    return parts


def _walk(
    yard: Yard, parts: Mapping[Part, list[str]], homes: Mapping[str, Quarters]
) -> tuple[list[str], list[float | None], list[str]]:
    """Order of the stops, and the walk to each and back to the start."""
    names = [name for part in PARTS for name in parts[part]]
    if not names:
        return [], [], ["nobody lives in the yard today: there is no round"]
    rooms = [f for f in yard.feature if f.kind == "weighing_room"]
    notes = []
    steps = [door_step_m(yard, homes[name]) for name in names]
    start = middle_m(rooms[0]) if rooms else steps[0]
    if not rooms:
        notes.append("the yard has no weighing room: the round begins at the first quarters")
    table = Ways(yard, [start, *steps]).table()
    order: list[str] = []
    lengths: list[float | None] = []
    at = 0
    for part in PARTS:
        own = [names.index(name) + 1 for name in parts[part]]
        reached = [i for i in own if table[at][i] < inf]
        lost = [i for i in own if table[at][i] == inf]
        picked = [at, *reached]
        found = shortest_round([[table[i][j] for j in picked] for i in picked])
        tour = [picked[i] for i in found.order] if found is not None else reached
        if tour and table[at][tour[-1]] < table[at][tour[0]]:
            tour.reverse()  # the same round, the nearer end first
        for i in tour:
            order.append(names[i - 1])
            lengths.append(table[at][i])
            at = i
        for i in lost:
            order.append(names[i - 1])
            lengths.append(None)
            notes.append(f"no way on foot to {names[i - 1]} was found: look at its surroundings")
    lengths.append(table[at][0] if table[at][0] < inf else None)
    return order, lengths, notes


def _moves(yard: Yard, day: date) -> tuple[MoveDue, ...]:
    """Stays that begin today."""
    found = []
    for stay in yard.stay:
        if stay.starts_on != day or stay.daytime_only:
            continue
        before = [
            s.quarters
            for s in yard.stay
            if s.bird == stay.bird
            and s.ends_on
            and not s.daytime_only
            and (day - s.ends_on).days == 1
        ]
        found.append(
            MoveDue(
                bird=stay.bird, was=before[0] if before else None, now=stay.quarters, mode=stay.mode
            )
        )
    return tuple(found)
