"""What one check of strength or stiffness says."""

from collections.abc import Iterable
from dataclasses import dataclass
from math import inf


@dataclass(frozen=True)
class Check:
    """Demand against capacity, both in `unit`; `utilisation` is the one over the other.

    `clause` says where the rule stands, `note` what was assumed.
    """

    name: str
    clause: str
    demand: float
    capacity: float
    utilisation: float
    unit: str
    note: str = ""

    @property
    def passes(self) -> bool:
        """True while no more is asked than there is."""
        return self.utilisation <= 1

    def __str__(self) -> str:
        """One line: what was asked of what there is."""
        words = f"{self.name} ({self.clause}): {self.demand:.3g} of {self.capacity:.3g} {self.unit}"
        return f"{words}, {self.utilisation:.0%}" + (f"; {self.note}" if self.note else "")


def check(
    name: str, clause: str, demand: float, capacity: float, unit: str, note: str = ""
) -> Check:
    """A check whose utilisation is worked out; nothing carries nothing, and no more.

    Args:
        name: What is checked.
        clause: Where the rule stands.
        demand: What is asked, zero or more, in `unit`.
        capacity: What there is, zero or more, in `unit`.
        unit: Unit of both.
        note: What was assumed.

    Raises:
        ValueError: If demand or capacity is negative or not a number.
    """
    if not (demand >= 0 and capacity >= 0):
        raise ValueError(
            f"{name}: demand and capacity must be zero or more, got {demand:g} and {capacity:g}"
        )
    share = demand / capacity if capacity > 0 else (inf if demand > 0 else 0.0)
    return Check(name, clause, demand, capacity, share, unit, note)


def governing(checks: Iterable[Check]) -> Check:
    """The check that is used the most.

    Raises:
        ValueError: If there is no check.
    """
    found = list(checks)
    if not found:
        raise ValueError("no check to choose from")
    return max(found, key=lambda one: one.utilisation)
