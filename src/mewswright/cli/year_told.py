"""A plan of a year in lines for people."""

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from mewswright.cli.year_living import changes_spoken

if TYPE_CHECKING:
    from mewswright.year.report import ConflictTold, StayTold, YearReport


def spoken(report: "YearReport") -> Iterator[str]:
    """The plan by bird and by quarters, its moves and cleanings, and what it rests on."""
    unit = "weeks" if report.step_days == 7 else "days"
    yield f"{report.yard}: the year from {report.starts_on} to {report.ends_on}, by {unit}"
    if report.conflict is not None:
        yield ""
        yield from _conflict(report.conflict)
    else:
        yield from _plan(report)
        yield from changes_spoken(report)
    yield from _listed("Taken for granted", report.assumed)
    yield from _listed("Mind", report.cautions)


def _conflict(conflict: "ConflictTold") -> Iterator[str]:
    yield "There is no plan." if conflict.proven else "No plan was found in the time."
    if conflict.says:
        yield conflict.says
    yield from _listed(
        "In each other's way" if conflict.minimal else "Among these, some are in each other's way",
        (reason.says for reason in conflict.reasons),
    )
    yield from _listed(
        "Ways out, the cheapest first" if conflict.cheapest else "Ways out that were found",
        (f"{one.says} (price {one.price}; {one.plan.moves} moves)" for one in conflict.relax),
    )


def _plan(report: "YearReport") -> Iterator[str]:
    yield ""
    yield "By bird"
    for name in dict.fromkeys(stay.bird for stay in report.stays):
        yield f"  {name}"
        yield from (
            f"    {s.starts_on} to {s.ends_on}  {s.quarters}, {_how(s)}"
            for s in report.stays
            if s.bird == name
        )
    yield ""
    yield "By quarters"
    for name in sorted({stay.quarters for stay in report.stays}):
        yield f"  {name}"
        mine = sorted(
            (s for s in report.stays if s.quarters == name), key=lambda s: (s.starts_on, s.bird)
        )
        yield from (f"    {s.starts_on} to {s.ends_on}  {s.bird}, {_how(s)}" for s in mine)
    yield from _listed(
        "Moves",
        (
            f"{m.on}  {m.bird}: {m.was or 'arrives'} to {m.now}, {m.mode}"
            if m.now
            else f"{m.on}  {m.bird}: gone from {m.was}"
            for m in report.moved
        ),
    )
    yield from _listed(
        "Cleaning", (f"{c.starts_on} to {c.ends_on}  {c.quarters}" for c in report.cleaned)
    )
    yield ""
    objective = report.objective
    parts = ", ".join(f"{name.replace('_', ' ')} {cost}" for name, cost in objective.parts.items())
    yield f"It costs {objective.total}" + (f" ({parts})." if parts else ".")
    yield (
        "No plan costs less." if report.proven else f"No plan costs less than {objective.bound}."
    )


def _how(stay: "StayTold") -> str:
    perch = f" at {stay.perch}" if stay.perch else ""
    return f"{stay.mode}{perch}{', kept apart' if stay.isolated else ''}"


def _listed(title: str, lines: Iterable[str]) -> Iterator[str]:
    found = list(lines)
    if found:
        yield ""
        yield title
        yield from (f"  {line}" for line in found)
