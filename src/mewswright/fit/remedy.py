"""What a remedy is made from: the unit as it stands, its birds, its prices."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from math import ceil
from typing import Any

from mewswright.build.work import area_m2
from mewswright.checks.case import Case, cases
from mewswright.checks.finding import Finding
from mewswright.checks.limits import ABOVE_A_HAIR
from mewswright.checks.registry import catalogue, run_checks
from mewswright.fit.change import FITTINGS, Change, Cost, Edit, edited
from mewswright.fit.change_cost import Prices
from mewswright.model.fitting import AnyFitting, Side
from mewswright.model.quantity import m_from_mm
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard

# First letters of the codes that judge where a fitting stands: perches, tether, loft, water,
# doors that swing.
OF_PLACES = frozenset("PTLWD")


@dataclass(frozen=True)
class Standing:
    """One unit of a yard as it stands."""

    yard: Yard
    name: str
    standards: tuple[str, ...] | None

    def __hash__(self) -> int:
        """Ask the yard alone: that is what differs."""
        return hash(self.yard)

    @cached_property
    def quarters(self) -> Quarters:
        """The unit."""
        return self.yard.quarters_named(self.name)

    @cached_property
    def case(self) -> Case:
        """The unit with its birds."""
        return cases(self.yard, self.standards, self.name)[0]

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """What the checks say of the unit."""
        return run_checks(self.yard, self.standards, self.name)

    @cached_property
    def small(self) -> Yard:
        """A yard with this unit alone, its birds and its doors."""
        stays = self.yard.stays_in(self.name)
        names = {stay.bird for stay in stays}
        return self.yard.model_copy(
            update={
                "quarters": (self.quarters,),
                "stay": stays,
                "bird": tuple(bird for bird in self.yard.bird if bird.name in names),
                "feature": (),
            }
        )

    @cached_property
    def prices(self) -> Prices:
        """What changes cost here."""
        return Prices(self.yard, self.name)

    def fitting(self, name: str | None) -> AnyFitting | None:
        """Give a fitting by its name, or None."""
        return next((f for f in self.quarters.fitting if f.name == name), None)

    def put(self, *steps: str | int | Any) -> Edit:
        """Set a value of the unit: the last step is the value."""
        return Edit(("quarters", self.name, *steps[:-1]), steps[-1])

    def add(self, table: dict[str, Any]) -> Edit:
        """Add a fitting to the unit."""
        return Edit(("quarters", self.name, "fitting"), table, "add")

    def drop(self, fitting: str) -> Edit:
        """Take a fitting away."""
        return Edit(("quarters", self.name, "fitting", fitting), how="drop")

    def change(
        self,
        words: str,
        codes: Iterable[str],
        edits: Sequence[Edit],
        cost: Cost,
        order: int = FITTINGS,
        things: Iterable[str] = (),
        mm: float = 0.0,
    ) -> Change:
        """Make a change of this unit; its words tell it apart from all others."""
        return Change(
            words, words, frozenset(codes), tuple(edits), cost, order, frozenset(things), mm
        )

    def with_edits(self, edits: Iterable[Edit]) -> Yard | None:
        """Give the yard with edits made, or None where it cannot be."""
        return edited(self.yard, edits)

    def area_m2(self, side: Side, upstand_mm: float = 0) -> float:
        """Area of a face over its upstand [m2], by the mean height of its run."""
        q = self.quarters
        run_m = m_from_mm(q.width_mm if side in ("front", "back") else q.depth_mm)
        return max(0.0, area_m2(q, side) - run_m * m_from_mm(upstand_mm))

    @cached_property
    def perimeter_m(self) -> float:
        """Length of all four walls [m]."""
        return 2 * m_from_mm(self.quarters.width_mm + self.quarters.depth_mm)

    def free_name(self, wanted: str) -> str:
        """A name that no fitting of the unit has."""
        taken = {fitting.name for fitting in self.quarters.fitting}
        names = (wanted, *(f"{wanted} {n}" for n in range(2, len(taken) + 3)))
        return next(name for name in names if name not in taken)


Remedy = Callable[[Standing, Finding], Iterator[Change]]
REMEDIES: dict[str, list[Remedy]] = {}


def remedy(*codes: str) -> Callable[[Remedy], Remedy]:
    """Enter a generator of changes under the codes of findings that it may clear."""

    def enter(function: Remedy) -> Remedy:
        for code in codes:
            REMEDIES.setdefault(code, []).append(function)
        return function

    return enter


def up_mm(length_mm: float) -> int:
    """Whole millimetres, rounded up."""
    return ceil(length_mm - ABOVE_A_HAIR)


def figure(finding: Finding, which: str = "limit") -> float | None:
    """The number of what was measured, or of the limit; None where it has none."""
    quantity = finding.limit if which == "limit" else finding.measured
    value = quantity.value if quantity else None
    return value if isinstance(value, float) else None


def alone(standing: Standing, quarters: Quarters) -> tuple[Finding, ...]:
    """Judge where things stand in one unit, as if it stood alone: quick, to try many places.

    Only checks of a kind that looks at places run, and none that needs the neighbours or
    the ground; whoever uses this has the whole yard judged afterwards.
    """
    case = replace(standing.case, yard=standing.small, quarters=quarters)
    found: list[Finding] = []
    for check in catalogue():
        if check.code[0] not in OF_PLACES:
            continue
        if check.of_quarters is not None:
            found += check.of_quarters(case)
        elif check.of_yard is not None and check.code[0] == "D":
            found += check.of_yard(standing.small, (case,))
    return tuple(found)
