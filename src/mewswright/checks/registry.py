"""The catalogue of checks: every check has a code, a title and a page.

A check of quarters takes a `Case`; a check of the whole yard takes all of them. Each
yields findings: at least one for every thing it can judge, `sound` included, for
silence would read as a pass.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from mewswright.checks.case import Case, cases
from mewswright.checks.finding import STATUSES, Finding
from mewswright.checks.scenario import Assumed, assume
from mewswright.handbook.shelf import shelf_of
from mewswright.model.yard import Yard

OfQuarters = Callable[[Case], Iterable[Finding]]
OfYard = Callable[[Yard, Sequence[Case]], Iterable[Finding]]
OfScenario = Callable[[Yard, Sequence[Case], Assumed], Iterable[Finding]]


@dataclass(frozen=True)
class Check:
    """One entry of the catalogue."""

    code: str
    title: str
    subject: str  # module it lives in: "size", "tether"...
    of_quarters: OfQuarters | None = None
    of_yard: OfYard | None = None
    of_scenario: OfScenario | None = None
    scenario: str | None = None  # name of the only scenario that it runs in


_CATALOGUE: dict[str, Check] = {}


def quarters_check(code: str, title: str) -> Callable[[OfQuarters], OfQuarters]:
    """Enter a check of quarters in the catalogue."""

    def enter(function: OfQuarters) -> OfQuarters:
        _enter(Check(code, title, _subject(function), of_quarters=function))
        return function

    return enter


def yard_check(code: str, title: str) -> Callable[[OfYard], OfYard]:
    """Enter a check of the whole yard in the catalogue."""

    def enter(function: OfYard) -> OfYard:
        _enter(Check(code, title, _subject(function), of_yard=function))
        return function

    return enter


def scenario_check(code: str, title: str, scenario: str) -> Callable[[OfScenario], OfScenario]:
    """Enter a check in the catalogue that runs in one scenario alone."""

    def enter(function: OfScenario) -> OfScenario:
        _enter(Check(code, title, _subject(function), of_scenario=function, scenario=scenario))
        return function

    return enter


def _subject(function: Callable[..., object]) -> str:
    return function.__module__.rpartition(".")[2]


def _enter(check: Check) -> None:
    if check.code in _CATALOGUE:
        raise ValueError(f"two checks have the code {check.code}")
    _CATALOGUE[check.code] = check


def catalogue() -> tuple[Check, ...]:
    """Give all checks, by code."""
    from mewswright.checks import rules  # noqa: F401  entering them is its whole work

    return tuple(_CATALOGUE[code] for code in sorted(_CATALOGUE))


def run_checks(
    yard: Yard,
    standards: Sequence[str] | None = None,
    quarters: str | None = None,
    on: date | None = None,
    scenario: str | None = None,
    temp_c: float | None = None,
) -> tuple[Finding, ...]:
    """Run every check on a yard, or those that matter in one scenario.

    Args:
        yard: The yard.
        standards: Standards to judge by; None = those that bind the yard.
        quarters: Name of the only quarters wanted; None = the whole yard.
        on: Day on which the rows of the standards must bind; None = rows without an end.
        scenario: Name of a scenario (heat, storm, flu, frost, fire); None = an ordinary run.
        temp_c: Temperature to assume in heat or frost [C]; None = from the climate.

    Returns:
        Findings, worst first, then in the order of the file and of the codes.

    Raises:
        Problem: For an unknown standard, quarters, species or scenario, or a temperature
            that has no place in the run.
    """
    assumed = assume(yard, scenario, temp_c)
    shelf = shelf_of(yard.own_standards, on)
    for name in standards or yard.yard.standards:
        shelf.standard(name)
    every = cases(yard, standards, on=on)  # yard-wide checks look at the neighbours too
    wanted = [c for c in every if quarters is None or c.quarters.name == quarters]
    if quarters is not None:
        yard.quarters_named(quarters)
    found = list(_all(yard, every, wanted, assumed))
    if quarters is not None:
        found = [f for f in found if f.quarters == quarters]
    place = {q.name: i for i, q in enumerate(yard.quarters)}
    found.sort(
        key=lambda f: (
            STATUSES.index(f.status), place.get(f.quarters or "", -1), f.code,
            f.bird or "", f.fitting or "",
        )
    )  # fmt: skip
    return tuple(found)


def _all(
    yard: Yard, every: Sequence[Case], wanted: Sequence[Case], assumed: Assumed | None
) -> Iterator[Finding]:
    also = None if assumed is None else {code for code, _ in assumed.scenario.also}
    for check in catalogue():
        if assumed and check.of_scenario is not None and check.scenario == assumed.name:
            yield from check.of_scenario(yard, every, assumed)
        if also is not None and check.code not in also:
            continue
        if check.of_quarters is not None:
            for case in wanted:
                yield from check.of_quarters(case)
        if check.of_yard is not None:
            yield from check.of_yard(yard, every)
