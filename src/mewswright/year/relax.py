"""The cheapest ways out of a clash, each with a plan that keeps all the rest.

Whatever undoes every clash leaves out a rule of each. So the cheapest set that meets all clashes
known so far is asked: if it leaves a plan, no way out is cheaper; if not, there is another clash,
which is added to those known (implicit hitting sets).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from mewswright.year.ask import Asker, Keys
from mewswright.year.changes import Change, Widened
from mewswright.year.instance import Instance, Rows
from mewswright.year.verify import plan_cost
from mewswright.year.why import LONG_S, QUICK_S, lessened

MOST_WAYS, MOST_CLASHES = 5, 60
MOST_TRIED = 20_000  # branches of one search for the cheapest set


@dataclass(frozen=True)
class Relaxation:
    """One way out.

    Args:
        keys: Rules given up and changes made.
        says: They, in words.
        price: What they are worth together.
        rows: A plan that keeps everything else.
        instance: What that plan was made for.
        moves: Moves in it.
        total: Its cost.
    """

    keys: tuple[str, ...]
    says: tuple[str, ...]
    price: int
    rows: Rows
    instance: Instance
    moves: int
    total: int


@dataclass(frozen=True)
class Ways:
    """All ways out that were found, the cheapest first.

    Args:
        found: They.
        cheapest: True where no way out is cheaper than the first, and none between them was
            passed over; False where a question was left open.
    """

    found: tuple[Relaxation, ...]
    cheapest: bool


def ways_out(
    ask: Asker, first: Keys, most: int = MOST_WAYS,
    improved: Callable[[Instance, Rows], Rows] | None = None,
) -> Ways:  # fmt: skip
    """Look for the cheapest ways out.

    Args:
        ask: Whom to ask, of a problem with its changes.
        first: Keys of a clash.
        most: How many ways at the most.
        improved: Makes a plan cheaper; None to leave it as it is found.
    """
    wide = ask.problem
    assert isinstance(wide, Widened)
    price = {rule.key: rule.price for rule in wide.rules if rule.price is not None}
    clashes = [_open(ask, wide, first)]
    found: list[Relaxation] = []
    left_open: list[Keys] = []
    passed: list[Keys] = []
    cheapest = True
    while len(found) < most and len(clashes) < MOST_CLASHES and not ask.effort.used_up():
        open_sets = [c & price.keys() for c in clashes]
        chosen, whole = cheapest_hit(open_sets, price, passed + left_open)
        cheapest &= whole
        if chosen is None:
            return Ways(tuple(found), cheapest)
        told = ask.told(ask.all - chosen, LONG_S)
        if told.verdict == "plan" and told.rows is not None:
            found.append(_way(wide, chosen, price, told.rows, improved))
            passed += [chosen, *_more_of_the_same(wide, chosen)]
        elif told.verdict == "none":
            clashes.append(_open(ask, wide, _another(ask, wide, ask.all - chosen)))
        else:
            left_open.append(chosen)
            cheapest = False
    return Ways(tuple(found), cheapest)


def _more_of_the_same(wide: Widened, chosen: Keys) -> list[Keys]:
    """Sets that take a greater step of a change than one that is enough."""
    found, taken = [], {change.chain: change for change in wide.changes if change.key in chosen}
    for change in wide.changes:
        step = taken.get(change.chain)
        if step is not None and change.price > step.price:
            found.append(chosen - {step.key} | {change.key})
    return found


def _another(ask: Asker, wide: Widened, kept: Keys) -> Keys:
    """A clash among some rules, made smaller as far as that goes quickly."""
    changes = frozenset(change.key for change in wide.changes) & kept
    small = lessened(ask, kept, QUICK_S, fixed=changes)
    return small - changes


def _open(ask: Asker, wide: Widened, clash: Keys) -> Keys:
    """A clash with the changes that would undo it."""
    all_changes = frozenset(change.key for change in wide.changes)
    birds = {unit.name for unit in wide.problem.instance(
        frozenset(rule.key for rule in wide.problem.rules) - clash).units}  # fmt: skip
    chains: dict[str, list[Change]] = {}
    for change in wide.changes:
        if change.unit is None or change.unit in birds:
            chains.setdefault(change.chain, []).append(change)

    def undone(change: Change) -> bool:
        return ask.told((clash | all_changes) - {change.key}, QUICK_S).verdict != "none"

    opened = clash
    for steps in chains.values():
        if ask.effort.used_up() or not undone(steps[-1]):
            continue
        low, high = 0, len(steps) - 1  # the least step that undoes it
        while low < high:
            middle = (low + high) // 2
            low, high = (low, middle) if undone(steps[middle]) else (middle + 1, high)
        opened |= {change.key for change in steps[low:]}
    return opened


def _way(
    wide: Widened, chosen: Keys, price: Mapping[str, int], rows: Rows,
    improved: Callable[[Instance, Rows], Rows] | None,
) -> Relaxation:  # fmt: skip
    instance = wide.instance(chosen)
    if improved is not None:
        rows = improved(instance, rows)
    rules = [rule for rule in wide.rules if rule.key in chosen]
    return Relaxation(
        tuple(rule.key for rule in rules),
        tuple(rule.says if rule.kind == "change" else f"give up: {rule.says}" for rule in rules),
        sum(price[rule.key] for rule in rules),
        rows,
        instance,
        moves_of(instance, rows),
        plan_cost(instance, rows),
    )


def moves_of(instance: Instance, rows: Rows) -> int:
    """Moves from one room to another in a plan."""
    room = instance.cell_of
    return sum(
        one is not None and other is not None and room[one] != room[other]
        for row in rows
        for one, other in pairwise(row)
    )


def cheapest_hit(
    clashes: Sequence[Keys], price: Mapping[str, int], passed: Sequence[Keys]
) -> tuple[Keys | None, bool]:
    """The cheapest set with one of each clash that holds none of the sets passed.

    Args:
        clashes: What can be given up of each clash.
        price: Of each.
        passed: Sets that are not wanted, nor any that holds them.

    Returns:
        The set, or None where there is none; and whether the search was whole.
    """
    best: tuple[float, tuple[str, ...]] = (float("inf"), ())
    tried = 0

    def search(chosen: Keys, cost: float, without: Keys) -> None:
        nonlocal best, tried
        tried += 1
        if tried > MOST_TRIED or any(one <= chosen for one in passed):
            return
        unmet = [clash - without for clash in clashes if not clash & chosen]
        if not unmet:
            best = min(best, (cost, tuple(sorted(chosen))))
            return
        fewest = min(unmet, key=lambda clash: (len(clash), sorted(clash)))
        gone = without
        for key in sorted(fewest, key=lambda key: (price[key], key)):
            if cost + price[key] >= best[0]:
                break
            search(chosen | {key}, cost + price[key], gone)
            gone |= {key}

    search(frozenset(), 0, frozenset())
    found = frozenset(best[1]) if best[0] < float("inf") else None
    return found, tried <= MOST_TRIED
