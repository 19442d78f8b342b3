"""What a plan costs as a whole: its moves, fairness, neighbours and cleanings, each by itself."""

from collections.abc import Sequence
from itertools import pairwise

from mewswright.year.instance import Instance, Rows


def whole_parts(instance: Instance, rows: Rows) -> dict[str, int]:
    """Costs of a plan that do not hang on one step of one unit, by the aim that they serve.

    Args:
        instance: What was to be planned.
        rows: The place of each unit in each step.
    """
    extras = instance.extras
    return {
        "moves": sum(
            unit.move_cost * moves_of(instance, u, rows[u]) for u, unit in enumerate(instance.units)
        ),
        "free_time": extras.unfair * _unfair(instance, rows),
        "neighbours": extras.strangers * _strangers(instance, rows),
        "cleaning": extras.crowded * _crowded(instance, rows),
    }


def moves_of(instance: Instance, unit: int, row: Sequence[int | None]) -> int:
    """Times that a unit goes from one room to another, the first from where it was before."""
    rooms = [room_of(instance, place) for place in row if place is not None]
    before = instance.units[unit].before
    if before is not None:
        rooms.insert(0, room_of(instance, before.place))
    return sum(1 for was, now in pairwise(rooms) if was != now)


def room_of(instance: Instance, place: int) -> tuple[str, int]:
    """The room of a place; a place without a cell is one of its own."""
    cell = instance.places[place].cell
    return ("place", place) if cell is None else ("cell", cell)


def _unfair(instance: Instance, rows: Rows) -> int:
    free = [
        sum(1 for p in rows[u] if p is not None and not instance.places[p].tethered)
        for u in instance.extras.sharing
    ]
    return max(free) - min(free) if free else 0


def _strangers(instance: Instance, rows: Rows) -> int:
    near = instance.adjacent | {(q, p) for p, q in instance.adjacent}
    if not near:
        return 0
    found = 0
    before: set[tuple[int, int]] = set()
    for step in range(instance.weeks):
        at = {row[step]: u for u, row in enumerate(rows) if row[step] is not None}
        now = {(u, at[q]) for p, u in at.items() for q in at if u < at[q] and (p, q) in near}
        found += len(now - before) if step else 0
        before = now
    return found


def _crowded(instance: Instance, rows: Rows) -> int:
    busy: dict[tuple[str, int], set[int]] = {}
    for u, row in enumerate(rows):
        rooms = [None if p is None else room_of(instance, p) for p in row]
        before = instance.units[u].before
        was = room_of(instance, before.place) if before is not None else None
        for step, now in enumerate([*rooms, None][: instance.weeks]):
            if was is not None and was != now:
                clean = max(
                    p.clean_weeks
                    for i, p in enumerate(instance.places)
                    if room_of(instance, i) == was
                )
                busy.setdefault(was, set()).update(range(step, min(step + clean, instance.weeks)))
            was = now
    cleaned = [sum(1 for steps in busy.values() if s in steps) for s in range(instance.weeks)]
    return sum(max(0, n - 1) for n in cleaned)
