"""Birds whose place is not safe on a bad day: where each goes, and whether there is room."""

from collections.abc import Callable, Iterator, Sequence

from mewswright.checks.case import Case
from mewswright.checks.finding import Evidence, Finding, Status
from mewswright.checks.scenario_birds import no_bird_lives_in, without_other_place
from mewswright.model.quantity import Quantity


def a_place_for_each(
    code: str,
    cases: Sequence[Case],
    is_safe: Callable[[Case], bool],
    missed: Callable[[Case], Status],
    *,
    what: str,
    sources: Callable[[Case], tuple[Evidence, ...]],
) -> Iterator[Finding]:
    """Ask of each bird in unsafe quarters where it goes.

    Its own safe quarters answer for it, if it lives there on all its days. Otherwise quarters
    in which nobody lives do, as long as there is one for each bird that needs one.

    Args:
        code: Code of the check.
        cases: All quarters.
        is_safe: Whether quarters keep a bird safe.
        missed: How it is called where there is no place.
        what: What safe quarters are, such as "roofed".
        sources: Whose word it is.
    """
    out = list(without_other_place(cases, is_safe))
    free = sorted(c.quarters.name for c in cases if no_bird_lives_in(c) and is_safe(c))
    homeless = {bird.bird.name for _, bird, home in out if home is None}
    enough = len(homeless) <= len(free)
    for case, bird, home in out:
        finding = Finding(
            code=code, status="sound", quarters=case.quarters.name, bird=bird.bird.name,
            sources=sources(case),
        )  # fmt: skip
        if home is not None:
            yield finding.model_copy(
                update={"measured": Quantity(value=home), "why": f"it has its place in {home}"}
            )
            continue
        names = ", ".join(free)
        yield finding.model_copy(
            update={
                "status": "mind" if enough else missed(case),
                "measured": Quantity(value=len(free), unit="free places"),
                "limit": Quantity(value=len(homeless), unit="free places"),
                "why": f"it has no {what} quarters of its own for all that time"
                + ("" if enough else ", and too few stand empty"),
                "remedy": f"plan a stay for it in {names}" if enough
                else f"make {len(homeless) - len(free)} more {what} place"
                f"{'' if len(homeless) - len(free) == 1 else 's'}, and give each bird a stay there",
            }
        )  # fmt: skip
