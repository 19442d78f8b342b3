"""Who is where on a bad day: each bird once at a place, its home, and who has no home there."""

from collections.abc import Callable, Iterator, Sequence
from datetime import date, timedelta

from mewswright.checks.case import Case, Resident
from mewswright.checks.months import stay_months
from mewswright.model.bird import Stay

Place = tuple[Case, Resident]


def birds_here(case: Case, month: int | None = None) -> tuple[Resident, ...]:
    """Residents of quarters in a month, each once as loose or tethered.

    A stay of day and night stands before one by day alone.
    """
    found: dict[tuple[str, str], Resident] = {}
    for one in sorted(case.residents, key=lambda r: r.stay.daytime_only):
        if month is None or month in stay_months(one.stay):
            found.setdefault((one.bird.name, one.stay.mode), one)
    return tuple(found.values())


def homes(cases: Sequence[Case], month: int | None = None) -> tuple[Place, ...]:
    """Each bird of a month with the quarters it lives in, one for each bird, by name.

    Where it spends the night goes first; a bird with two such homes is told of once.
    """
    best: dict[str, Place] = {}
    for case in sorted(cases, key=lambda c: c.quarters.name):
        for one in birds_here(case, month):
            known = best.get(one.bird.name)
            if known is None or (known[1].stay.daytime_only and not one.stay.daytime_only):
                best[one.bird.name] = (case, one)
    return tuple(best[name] for name in sorted(best))


def without_other_place(
    cases: Sequence[Case], is_safe: Callable[[Case], bool], month: int | None = None
) -> Iterator[tuple[Case, Resident, str | None]]:
    """Every bird in quarters that are not safe, and where else it lives safely at that time.

    Args:
        cases: All quarters.
        is_safe: Whether quarters keep a bird safe from what is feared.
        month: Month that is looked at; None = all the year.

    Yields:
        The unsafe quarters, the bird, and the name of its safe ones; None where some day
        of the stay has none.
    """
    safe: dict[str, list[Stay]] = {}
    for case in cases:
        if is_safe(case):
            for one in case.residents:
                if not one.stay.daytime_only:
                    safe.setdefault(one.bird.name, []).append(one.stay)
    for case in cases:
        if is_safe(case):
            continue
        found: dict[str, list[tuple[Resident, str | None]]] = {}
        for one in case.residents:
            if month is None or month in stay_months(one.stay):
                where = _safe_all_the_time(one.stay, safe.get(one.bird.name, []))
                found.setdefault(one.bird.name, []).append((one, where))
        for stays in found.values():  # one stay without a safe place speaks for all
            worst = min(stays, key=lambda stay: stay[1] is not None)
            yield case, *worst


def _safe_all_the_time(stay: Stay, others: Sequence[Stay]) -> str | None:
    """Quarters where the bird is at home on the stay's first day, if it is on all its days.

    A stay without dates is asked for as long as the others run, for the plan ends there.
    """
    if not others:
        return None
    first = stay.starts_on or min(other.starts_on or date.min for other in others)
    last = stay.ends_on or max(other.ends_on or date.max for other in others)
    days = {first} | {
        other.ends_on + timedelta(days=1)
        for other in others
        if other.ends_on is not None and other.ends_on < date.max
    }
    asked = [day for day in days if first <= day <= last]
    home = [next((o.quarters for o in others if _holds(o, day)), None) for day in sorted(asked)]
    return None if None in home or not home else home[0]


def _holds(stay: Stay, day: date) -> bool:
    return (stay.starts_on or date.min) <= day <= (stay.ends_on or date.max)


def no_bird_lives_in(case: Case) -> bool:
    """Built quarters that no stay takes at any time."""
    return case.quarters.built and not case.residents
