"""All findings of a yard in the shape that `check --json`, the pages and the pack share."""

from collections import Counter
from collections.abc import Sequence
from datetime import date

from pydantic import BaseModel, ConfigDict

from mewswright.checks.finding import Finding
from mewswright.checks.registry import run_checks
from mewswright.checks.scenario import assume
from mewswright.model.yard import Yard


class Counts(BaseModel):
    """How many findings of each status."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    harm: int
    short: int
    mind: int
    sound: int


class Also(BaseModel):
    """An ordinary check that matters in a scenario, and why."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    code: str
    reason: str


class ScenarioRun(BaseModel):
    """The bad day that a run is for: what is assumed, and what nobody looked at."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    name: str
    title: str
    temp_c: float | None  # of the air in the shade; None where no temperature is assumed
    assumed: tuple[str, ...]
    not_looked_at: tuple[str, ...]
    also: tuple[Also, ...]


class Report(BaseModel):
    """What the checks say of a yard. The keys are stable."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    yard: str
    standards: tuple[str, ...]
    findings: tuple[Finding, ...]
    counts: Counts
    on: date | None = None  # the day on which the standards were asked
    scenario: ScenarioRun | None = None  # None in an ordinary run


def report(
    yard: Yard,
    standards: Sequence[str] | None = None,
    quarters: str | None = None,
    on: date | None = None,
    scenario: str | None = None,
    temp_c: float | None = None,
) -> Report:
    """Run the checks and count what they say.

    Args:
        yard: The yard.
        standards: Standards to judge by; None = those that bind the yard.
        quarters: Name of the only quarters wanted; None = the whole yard.
        on: Day on which the rows of the standards must bind; None = rows without an end.
        scenario: Name of a scenario; None = an ordinary run.
        temp_c: Temperature to assume in heat or frost [C]; None = from the climate.

    Raises:
        Problem: For an unknown standard, quarters, species or scenario, or a temperature
            that has no place in the run.
    """
    findings = run_checks(yard, standards, quarters, on, scenario, temp_c)
    of = Counter(finding.status for finding in findings)
    return Report(
        yard=yard.yard.name,
        standards=tuple(standards or yard.yard.standards),
        findings=findings,
        counts=Counts(harm=of["harm"], short=of["short"], mind=of["mind"], sound=of["sound"]),
        on=on,
        scenario=_run_for(yard, scenario, temp_c),
    )


def _run_for(yard: Yard, name: str | None, temp_c: float | None) -> ScenarioRun | None:
    assumed = assume(yard, name, temp_c)
    if assumed is None:
        return None
    scenario = assumed.scenario
    return ScenarioRun(
        name=scenario.name,
        title=scenario.title,
        temp_c=assumed.temp_c,
        assumed=assumed.said,
        not_looked_at=scenario.unseen,
        also=tuple(Also(code=code, reason=reason) for code, reason in scenario.also),
    )
