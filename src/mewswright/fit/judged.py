"""What the checks say of a unit with a layout in it, and which of it fittings can change."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date

from mewswright.checks.case import Case, cases
from mewswright.checks.finding import Finding
from mewswright.checks.registry import catalogue, run_checks
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard

# Codes that a room's size and its perches, bath and hatch decide: a layout must clear them.
# The rest is the ground, the doors, the faces, the company: no fitting cures that.
_LETTERS = ("S", "P", "L", "W", "B")
_OF_A_TETHER = (
    "T101", "T102", "T103", "T104", "T112", "T113", "T114", "T115", "T116", "T117", "T119",
)  # fmt: skip
_MORE = ("F118", "K114", "D108")
# Among the letters above, what fittings cannot decide: how a bird is kept and fed.
_NOT = ("B102", "B104", "W107", "W112")


def is_ours(code: str) -> bool:
    """Whether the size of a room and the fittings in it decide what a check says."""
    if code in _NOT:
        return False
    return code[0] in _LETTERS or code in _OF_A_TETHER or code in _MORE


@dataclass(frozen=True)
class Judge:
    """A yard, one unit of it, and the standards: ready to be asked about layouts."""

    yard: Yard
    name: str
    standards: tuple[str, ...] | None
    on: date | None

    def with_unit(self, quarters: Quarters) -> Yard:
        """The yard with the unit as given."""
        rest = (q if q.name != self.name else quarters for q in self.yard.quarters)
        return self.yard.model_copy(update={"quarters": tuple(rest)})

    def case(self, quarters: Quarters) -> Case:
        """The unit as given, with all that a check asks about it."""
        return cases(self.with_unit(quarters), self.standards, self.name, self.on)[0]

    def all_of_unit(self, case: Case) -> Iterator[Finding]:
        """What the checks of the unit alone say in codes that fittings or size decide."""
        for check in catalogue():
            if check.of_quarters is not None and is_ours(check.code):
                yield from check.of_quarters(case)

    def of_unit(self, case: Case) -> list[Finding]:
        """Harm and short among these."""
        return bad(self.all_of_unit(case))

    def whole(self, quarters: Quarters) -> tuple[Finding, ...]:
        """Everything that the checks say of the unit, the rest of the yard in sight."""
        return run_checks(self.with_unit(quarters), self.standards, self.name, self.on)


def bad(findings: Iterable[Finding]) -> list[Finding]:
    """Harm and short."""
    return [finding for finding in findings if finding.status in ("harm", "short")]
