"""Checks of a newcomer's isolation: where it begins, how long it lasts, with whom."""

from collections.abc import Iterator, Sequence
from datetime import date

from mewswright.checks.case import Case, Resident, evidence
from mewswright.checks.finding import Evidence, Finding, Status
from mewswright.checks.limits import missed
from mewswright.checks.registry import yard_check
from mewswright.handbook import Rule, rules
from mewswright.handbook.shelf import SHIPPED, Shelf
from mewswright.model.quantity import Quantity
from mewswright.model.yard import Yard


def _days(count: float) -> Quantity:
    return Quantity(value=count, unit="days")


def quarantine_limits(
    yard: Yard, standards: Sequence[str], shelf: Shelf = SHIPPED
) -> tuple[tuple[Rule, float, Status, tuple[Evidence, ...]], ...]:
    """Days of isolation that the standards ask: (rule, days, status if missed, witnesses).

    Where none of them gives days, the house rule stands in and is only minded.
    """
    found = []
    for key in standards:
        for rule in dict.fromkeys(shelf.rules(key, "quarantine_days", place="isolation")):
            assert rule.number is not None
            days, sources = rule.number, evidence(rule.source)
            if key == "house" and yard.house.quarantine_days is not None:
                days = yard.house.quarantine_days
                sources = (
                    Evidence(
                        name="the keeper's own limit",
                        locator="house.quarantine_days",
                        how_known="read",
                    ),
                )
            # The file does not say whether a newcomer was imported.
            status: Status = "mind" if rule.applies_to == "imported" else missed(rule)
            found.append((rule, days, status, sources))
    if not found:
        rule = rules("house", "quarantine_days")[0]
        days = yard.house.quarantine_days or rule.as_figure().value
        found.append((rule, days, "mind", evidence(rule.source)))
    return tuple(found)


def _limits_of(
    yard: Yard, case: Case
) -> tuple[tuple[Rule, float, Status, tuple[Evidence, ...]], ...]:
    return quarantine_limits(yard, case.standards, case.shelf)


def newcomers(every: Sequence[Case]) -> dict[str, list[tuple[Case, Resident]]]:
    """Places of each bird that has a day of arrival, in the order of their first day."""
    places: dict[str, list[tuple[Case, Resident]]] = {}
    for case in every:
        for resident in case.residents:
            if resident.bird.arrives_on is not None:
                places.setdefault(resident.bird.name, []).append((case, resident))
    for of_bird in places.values():
        of_bird.sort(key=lambda place: place[1].stay.starts_on or date.min)
    return places


def isolated_until(places: Sequence[tuple[Case, Resident]]) -> tuple[date | None, date | None]:
    """First and last day of unbroken isolation from the day of arrival.

    Returns:
        (first day, last day); no first day if it does not begin in isolation, no last
        day if its isolation has no end yet.
    """
    arrival = places[0][1].bird.arrives_on
    assert arrival is not None
    until = arrival.toordinal() - 1  # as numbers: a stay may end with the calendar
    for case, resident in places:
        stay = resident.stay
        if case.quarters.kind != "isolation" and not stay.isolated:
            continue
        if (stay.starts_on or arrival).toordinal() > until + 1:
            break
        if stay.ends_on is None:
            return arrival, None
        until = max(until, stay.ends_on.toordinal())
    if until < arrival.toordinal():
        return None, None
    return arrival, date.fromordinal(until)


@yard_check("K109", "Isolation of a newcomer")
def newcomer_isolated(yard: Yard, every: Sequence[Case]) -> Iterator[Finding]:
    """K109: a newcomer begins in isolation and stays there as long as the standards ask."""
    for name, places in newcomers(every).items():
        first, last = isolated_until(places)
        home, shelf = places[0][0].quarters, places[0][0].shelf
        for rule, days, status, sources in _limits_of(yard, every[0]):
            had = 0 if first is None else (last - first).days + 1 if last else None
            kept = had is None or had >= days
            why = f"{shelf.standard(rule.standard).name}: {rule.condition}".removesuffix(": ")
            measured = Quantity(value="no end yet") if had is None else _days(had)
            remedy = ""
            if not kept:
                remedy = (
                    f"begin in isolation quarters and stay {days:g} days"
                    if first is None
                    else f"keep it there {_days(days - (had or 0))} longer"
                )
            elif home.kind != "isolation":
                why += "; kept apart, but not in isolation quarters"
                remedy = "build isolation quarters away from the other birds"
            yield Finding(
                code="K109",
                status=status if not kept else "mind" if remedy else "sound",
                quarters=home.name,
                bird=name,
                measured=measured,
                limit=_days(days),
                why=why,
                remedy=remedy,
                sources=sources,
            )


def _isolation_stays(case: Case) -> list[Resident]:
    return [r for r in case.residents if r.bird.arrives_on is not None]


@yard_check("K110", "Isolation starts again with each newcomer")
def clock_restarts(yard: Yard, every: Sequence[Case]) -> Iterator[Finding]:
    """K110: when another newcomer enters, the days are counted anew from that day."""
    for case in every:
        if case.quarters.kind != "isolation":
            continue
        for resident in _isolation_stays(case):
            yield from _restart(yard, case, resident)


def _restart(yard: Yard, case: Case, resident: Resident) -> Iterator[Finding]:
    stay = resident.stay
    begun = stay.starts_on or resident.bird.arrives_on or date.min
    entries = [
        (other.stay.starts_on, other.bird.name)
        for other in case.residents
        if other.bird.name != resident.bird.name
        and other.stay.starts_on is not None
        and begun < other.stay.starts_on <= (stay.ends_on or date.max)
    ]
    wsava = rules("wsava", "quarantine_days")[0]
    last_entry, entrant = max(entries, default=(begun, ""))
    for rule, days, status, sources in _limits_of(yard, case):
        since = None if stay.ends_on is None else (stay.ends_on - last_entry).days + 1
        restarts = "restarts" in rule.condition
        missed_days = entrant != "" and since is not None and since < days
        yield Finding(
            code="K110",
            status="sound" if not missed_days else status if restarts else "mind",
            quarters=case.quarters.name,
            bird=resident.bird.name,
            measured=Quantity(value="no end yet") if since is None else _days(since),
            limit=_days(days),
            why=f"{entrant} came in on {last_entry}, and the days count anew from there"
            if entrant
            else "nobody came in after it",
            remedy=f"keep it there {_days(days - (since or 0))} longer" if missed_days else "",
            sources=tuple(dict.fromkeys((*sources, *evidence(wsava.source)))),
        )


@yard_check("K111", "Alone in isolation")
def alone_in_isolation(yard: Yard, every: Sequence[Case]) -> Iterator[Finding]:
    """K111: no bird that lives in the yard shares isolation with a newcomer."""
    del yard
    rule = rules("wsava", "quarantine_days")[0]
    for case in every:
        if case.quarters.kind != "isolation":
            continue
        for resident in {r.bird.name: r for r in reversed(case.residents)}.values():
            others = [
                r
                for r in case.residents
                if r.bird.name != resident.bird.name and r.stay.overlaps(resident.stay)
            ]
            same_day = all(
                r.bird.arrives_on is not None and r.bird.arrives_on == resident.bird.arrives_on
                for r in others
            )
            status: Status = "sound" if not others else "mind" if same_day else "short"
            names = " and ".join(dict.fromkeys(r.bird.name for r in others))
            yield Finding(
                code="K111",
                status=status,
                quarters=case.quarters.name,
                bird=resident.bird.name,
                measured=Quantity(value=len({r.bird.name for r in others}), unit="other birds"),
                limit=Quantity(value=0, unit="other birds"),
                why=f"{names} can give it, or take from it, what isolation is there to stop"
                if others
                else "",
                remedy="move one of them elsewhere, or let both go through all the days together"
                if others
                else "",
                sources=evidence(rule.source),
            )
