"""What a plan costs, part by part: the keeper's aims in their order, and what falls short.

Costs are whole numbers. An aim's weight is its rank's: the first weighs 32, the last 3. What
harms a bird or falls short of its brief weighs more than any aim and is not in the order.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from mewswright.model.year_keys import Aim, YearWishes
from mewswright.year.instance import Extras

# By rank, halved every two places: a judgement, so that an aim outweighs a few steps of the next.
WEIGHTS = (32, 24, 16, 12, 8, 6, 4, 3)
# Natural units of the aims, before the weight of their rank: all judgements.
MOVE = 8  # one move
NOT_WISHED = 1  # a week outside the wished quarters
UNFAIR = 1  # a week between the most and the fewest free weeks
STRANGER = 1  # two units that become neighbours
WALK_M = 10.0  # so many metres farther from the scale, in a week of the flying season
SUN = 1  # a week in quarters that lie in the shade in winter, or in the sun in summer
HEATED = 1  # a week of heating
CROWDED = 1  # each room over one that is cleaned in one week
# Not in the order.
SHORT = 40  # a week with something that falls short, for each such thing
MOST_SHORTS = 5  # more than these make quarters no worse
COLD = 80  # a week colder than the bird bears, where nothing heats
MOULT = 120  # a week of the moult on a tether, where it is wished that it be loose
IN_SIGHT = 1000  # a week in sight of a feared bird, where the yard file has it so
HARM = 4000  # a week in the present home of a bird that harms it, where nothing else can be


@dataclass(frozen=True)
class Charge:
    """What weeks in some places cost one unit.

    Args:
        part: Name of the part of the objective.
        unit: Number of the unit.
        steps: When.
        costs: Cost of a step in each place that costs anything.
    """

    part: str
    unit: int
    steps: range
    costs: Mapping[int, int]


def weight(wishes: YearWishes, aim: Aim) -> int:
    """Weight of an aim by its rank in the keeper's order; 0 where it is left out."""
    return WEIGHTS[wishes.order.index(aim)] if aim in wishes.order else 0


def move_cost(wishes: YearWishes, step_days: int) -> int:
    """Cost of one move. A plan by days counts every week seven times, and so each move."""
    return MOVE * weight(wishes, "moves") * _of_event(step_days)


def extras(wishes: YearWishes, step_days: int, sharing: Iterable[int]) -> Extras:
    """What the plan costs as a whole, over `sharing` units that share the free time."""
    units = frozenset(sharing)
    times = _of_event(step_days)
    return Extras(
        unfair=UNFAIR * weight(wishes, "free_time") if len(units) > 1 else 0,
        crowded=CROWDED * weight(wishes, "cleaning"),
        strangers=STRANGER * weight(wishes, "neighbours") * times,
        sharing=units,
    )


def _of_event(step_days: int) -> int:
    return 7 if step_days < 7 else 1


def parts_of(charges: Sequence[Charge], rows: Sequence[Sequence[int | None]]) -> dict[str, int]:
    """What a plan costs in each part that hangs on who is where when."""
    found: dict[str, int] = {}
    for charge in charges:
        row = rows[charge.unit]
        cost = sum(charge.costs.get(p, 0) for s in charge.steps if (p := row[s]) is not None)
        found[charge.part] = found.get(charge.part, 0) + cost
    return found


def dearer(
    charges: Iterable[Charge], count: int
) -> tuple[dict[int, int], tuple[tuple[int, int, int], ...]]:
    """Put the charges of one unit into the two forms of an instance.

    Args:
        charges: Those of one unit.
        count: Steps of the plan.

    Returns:
        (cost of every step in each place, (step, place, cost) of those on top).
    """
    always: dict[int, int] = {}
    on_top: dict[tuple[int, int], int] = {}
    for charge in charges:
        for place, cost in charge.costs.items():
            if len(charge.steps) == count:
                always[place] = always.get(place, 0) + cost
                continue
            for step in charge.steps:
                on_top[step, place] = on_top.get((step, place), 0) + cost
    return always, tuple((s, p, c) for (s, p), c in sorted(on_top.items()) if c)
