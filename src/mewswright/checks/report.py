"""All findings of a yard in the shape that `check --json`, the pages and the pack share."""

from collections import Counter
from collections.abc import Sequence
from datetime import date

from pydantic import BaseModel, ConfigDict

from mewswright.checks.finding import Finding
from mewswright.checks.registry import run_checks
from mewswright.model.yard import Yard


class Counts(BaseModel):
    """How many findings of each status."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    harm: int
    short: int
    mind: int
    sound: int


class Report(BaseModel):
    """What the checks say of a yard. The keys are stable."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    yard: str
    standards: tuple[str, ...]
    findings: tuple[Finding, ...]
    counts: Counts
    on: date | None = None  # the day on which the standards were asked


def report(
    yard: Yard,
    standards: Sequence[str] | None = None,
    quarters: str | None = None,
    on: date | None = None,
) -> Report:
    """Run the checks and count what they say.

    Args:
        yard: The yard.
        standards: Standards to judge by; None = those that bind the yard.
        quarters: Name of the only quarters wanted; None = the whole yard.
        on: Day on which the rows of the standards must bind; None = rows without an end.

    Raises:
        Problem: For an unknown standard, quarters or species.
    """
    findings = run_checks(yard, standards, quarters, on)
    of = Counter(finding.status for finding in findings)
    return Report(
        yard=yard.yard.name,
        standards=tuple(standards or yard.yard.standards),
        findings=findings,
        counts=Counts(harm=of["harm"], short=of["short"], mind=of["mind"], sound=of["sound"]),
        on=on,
    )
