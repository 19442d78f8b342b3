"""Why there is no plan: a smallest set of rules in each other's way, and what would undo it.

Rules are left out one after the other, many at a time at first; what can go while there is still
no plan is no part of the clash. What stays is asked once more: without any one of it there is a
plan, which has been looked at by `verify.py`. Where the time did not suffice, that is said.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from mewswright.build.cut.effort import Effort
from mewswright.year.ask import Asker, Keys, Oracle, Problem, RuleLike
from mewswright.year.counting import Shortage, shortage

QUICK_S = 1.0  # for a question whose answer would only save time
LONG_S = 20.0  # for one that decides
FEW = 16  # rules that are tried one by one when they cannot go together
FEW_BIRDS = 12  # with no more, looking for a part of them does not pay


@dataclass(frozen=True)
class Clash:
    """Rules that cannot all be kept.

    Args:
        rules: They, as they stand in the problem.
        minimal: True where without any one of them there is a plan; False where that was not
            shown in time.
        counted: What mere counting says of them, or None where it takes a search to see it.
    """

    rules: tuple[RuleLike, ...]
    minimal: bool
    counted: Shortage | None

    @property
    def keys(self) -> Keys:
        """Keys of its rules."""
        return frozenset(rule.key for rule in self.rules)


def clash(problem: Problem, oracle: Oracle, effort: Effort) -> Clash | None:
    """A smallest set of rules in each other's way.

    None where there is a plan, or where it was not proven that there is none.

    Args:
        problem: The rules.
        oracle: Tells whether there is a plan.
        effort: Time for all of it.
    """
    return smallest(Asker(problem, oracle, effort))


def smallest(ask: Asker, among: Keys | None = None) -> Clash | None:
    """A smallest clash among some rules, or all.

    Args:
        ask: Whom to ask.
        among: Keys of the rules.
    """
    kept = ask.all if among is None else among
    if not ask.counted(kept):
        small = _few_birds(ask, kept)
        if small is None and ask.told(kept, LONG_S).verdict != "none":
            return None
        kept = small or kept
    kept = lessened(ask, kept, LONG_S)
    minimal = all(ask.told(kept - {key}, LONG_S).verdict == "plan" for key in sorted(kept))
    rules = tuple(rule for rule in ask.problem.rules if rule.key in kept)
    return Clash(rules, minimal, shortage(ask.problem.instance(ask.all - kept)))


def lessened(ask: Asker, kept: Keys, seconds: float, fixed: Keys = frozenset()) -> Keys:
    """A smaller part of a clash, or the whole of it.

    Args:
        ask: Whom to ask.
        kept: Keys of the clash.
        seconds: Time for one question [s].
        fixed: Keys that are not to be left out.
    """
    if ask.counted(kept):
        kept = _less(ask, kept, ask.counted, fixed)

    def none(keys: Keys) -> bool:
        return ask.told(keys, seconds).verdict == "none"

    return _less(ask, kept, none, fixed)


def _less(ask: Asker, kept: Keys, none: Callable[[Keys], bool], fixed: Keys) -> Keys:
    """Leave out what can go while there is still no plan, first whole kinds of rules."""
    birds: list[RuleLike] = []
    others: list[RuleLike] = []
    for rule in ask.problem.rules:
        if rule.key in kept - fixed:
            (birds if kind_of(rule.key) == "bird" else others).append(rule)
    kept = _without(kept, [rule.key for rule in birds], none)
    kinds: dict[str, list[RuleLike]] = {}
    for rule in others:
        kinds.setdefault(kind_of(rule.key), []).append(rule)
    # What can be given up most easily stays: a keeper would rather hear of it.
    for same in sorted(kinds.values(), key=lambda rules: -_price(rules[0])):
        kept = _without(kept, [rule.key for rule in same if rule.key in kept], none)
    return kept


def _price(rule: RuleLike) -> float:
    return float("inf") if rule.price is None else rule.price


def kind_of(key: str) -> str:
    """What a rule is about, by the first word of its key."""
    return key.split(":", 1)[0]


def _without(kept: Keys, keys: Sequence[str], none: Callable[[Keys], bool]) -> Keys:
    """Leave out what can go: in longer and longer strides while it goes, one by one where not."""
    stride, at = len(keys), 0
    while at < len(keys):
        chunk = frozenset(keys[at : at + stride])
        if none(kept - chunk):
            kept -= chunk
            at += stride
            stride *= 2
        elif stride > 1:
            stride = 1 if stride <= FEW else stride // 2
        else:
            at += 1
    return kept


def _few_birds(ask: Asker, kept: Keys) -> Keys | None:
    """Birds with little room between them and no plan, found sooner than with all; or None."""
    birds = [key for key in sorted(kept) if kind_of(key) == "bird"]
    if len(birds) <= FEW_BIRDS:
        return None
    for few in _tight(ask, kept, birds):
        if ask.effort.used_up():
            return None
        part = kept - (frozenset(birds) - few)
        if part != kept and ask.told(part, QUICK_S).verdict == "none":
            return part
    return None


def _tight(ask: Asker, kept: Keys, birds: Sequence[str]) -> Iterable[Keys]:
    """Sets of birds with at most one room more than birds, small ones first."""
    where = {bird: _rooms_of(ask, kept, birds, bird) for bird in birds}
    found: dict[Keys, int] = {}
    for first in birds:
        chosen, rooms = {first}, set(where[first])
        while True:
            spare = len(rooms) - len(chosen)
            if spare <= 1:
                found.setdefault(frozenset(chosen), spare)
            rest = [bird for bird in birds if bird not in chosen]
            if not rest:
                break
            nearest = min(rest, key=lambda bird: (len(where[bird] - rooms), bird))
            chosen.add(nearest)
            rooms |= where[nearest]
    return sorted(found, key=lambda few: (len(few), sorted(few)))


def _rooms_of(ask: Asker, kept: Keys, birds: Sequence[str], bird: str) -> frozenset[int]:
    """All rooms in which one bird may live at some time."""
    from mewswright.year.rooms import rooms_of

    alone = ask.problem.instance((ask.all - kept) | (frozenset(birds) - {bird}))
    rooms = rooms_of(alone)
    return frozenset(rooms.of_place[p] for ch in rooms.choices for c in ch for p in c or ())
