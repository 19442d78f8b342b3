"""Forces of one beam under all combinations, and the check that each uses most.

A beam is solved once for each load by the frame library; combinations are sums of these,
so that a hundred of them cost no more than one.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from mewswright.build.actions.combine import Action, ActionKind, Combination, Factors, combinations
from mewswright.build.analysis import Array, BeamCase
from mewswright.build.strength.check import Check, governing
from mewswright.build.strength.deflection import Deflections
from mewswright.build.strength.member import Forces, Member, Use, member_checks

SHARED_DECK = 1.1  # ksys, EN 1995-1-1, 6.6: for spread loads on members that share a deck
DEAD, LEAST_DEAD = "dead load", "least dead load"
SPREAD: tuple[ActionKind, ...] = ("dead", "snow", "wind", "accident")


@dataclass(frozen=True)
class Case:
    """One load on a beam: its kind, and what it does there."""

    kind: ActionKind
    name: str
    beam: BeamCase


@dataclass(frozen=True)
class Worst:
    """The check that a member uses most, and under which combination."""

    check: Check
    combination: str
    checks: tuple[Check, ...]  # the worst of each name

    @property
    def utilisation(self) -> float:
        """Share used [-]; above 1 fails."""
        return self.check.utilisation


def beam_worst(member: Member, cases: Sequence[Case], using: Factors, shares_deck: bool) -> Worst:
    """Check a beam under every combination of its loads.

    Args:
        member: The stick and how it is held.
        cases: What each load does to it.
        using: Factors of combination.
        shares_deck: True where a deck joins it to its neighbours.

    Raises:
        ValueError: Without any load.
    """
    by_name = {case.name: case for case in cases}
    least = by_name.pop(LEAST_DEAD, None)  # what is sure to be there, where weight helps
    actions = [Action(case.name, case.kind, 1.0) for case in by_name.values()]
    found: list[tuple[Check, str]] = []
    for combination in combinations(actions, using, ("STR", "accidental")):
        told = combination.name
        if combination.dead == "least" and least:
            told = told.replace(DEAD, LEAST_DEAD)
        ksys = SHARED_DECK if shares_deck and _is_spread(combination, by_name) else 1.0
        use = Use(combination.duration, ksys=ksys)
        on_it = {**by_name, DEAD: least} if combination.dead == "least" and least else by_name
        for forces in _forces(combination, on_it):
            found += [(check, told) for check in member_checks(member, forces, use)]
    for combination in combinations(actions, using, ("characteristic",)):
        forces = Forces(deflections=_bent(combination, by_name, using))
        use = Use(combination.duration)
        found += [(check, combination.name) for check in member_checks(member, forces, use)]
    return worst_of(found)


def worst_of(found: Iterable[tuple[Check, str]]) -> Worst:
    """The check that is used most, with the worst of each name beside it."""
    by_check: dict[str, tuple[Check, str]] = {}
    for check, name in found:
        seen = by_check.get(check.name)
        if seen is None or check.utilisation > seen[0].utilisation:
            by_check[check.name] = (check, name)
    most = governing(check for check, _ in by_check.values())
    return Worst(most, by_check[most.name][1], tuple(check for check, _ in by_check.values()))


def _is_spread(combination: Combination, cases: Mapping[str, Case]) -> bool:
    return all(cases[name].kind in SPREAD for name, _ in combination.factors)


def _sum(combination: Combination, cases: Mapping[str, Case], key: str) -> Array:
    total: Array | None = None
    for name, factor in combination.factors:
        part = factor * getattr(cases[name].beam, key)
        total = part if total is None else total + part
    assert total is not None
    return total


def _forces(combination: Combination, cases: Mapping[str, Case]) -> list[Forces]:
    """Sagging and hogging apart: each presses another edge."""
    moment = _sum(combination, cases, "moment_kn_m")
    shear = float(np.abs(_sum(combination, cases, "shear_kn")).max())
    reactions = sum(
        factor * np.asarray(cases[name].beam.reactions_kn) for name, factor in combination.factors
    )
    bearing = float(max(0.0, np.max(reactions)))
    return [
        Forces(moment_y_kn_m=float(max(moment.max(), 0.0)), shear_kn=shear, bearing_kn=bearing),
        Forces(moment_y_kn_m=float(min(moment.min(), 0.0))),
    ]


def _bent(combination: Combination, cases: Mapping[str, Case], using: Factors) -> Deflections:
    """Deflection where the combination bends the beam most [mm]."""
    dead = np.zeros_like(next(iter(cases.values())).beam.sag_m)
    variable = np.zeros_like(dead)
    lasting = 0.0
    for name, factor in combination.factors:
        case = cases[name]
        if case.kind == "dead":
            dead = dead + factor * case.beam.sag_m
        else:
            variable = variable + factor * case.beam.sag_m
            lasting = max(lasting, using.psi2.get(case.kind, 0.0))
    at = int(np.argmax(np.abs(dead + variable)))
    return Deflections(1000 * float(dead[at]), 1000 * float(variable[at]), lasting)
