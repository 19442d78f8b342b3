"""Checks of how a bird is tethered: how long, by what, to what, under what shelter."""

from collections.abc import Iterator, Sequence

from mewswright.checks.case import Case, Resident, evidence
from mewswright.checks.finding import STATUSES, TAPE_MM, Finding, Status
from mewswright.checks.free_circle import free_circle, tether_perches
from mewswright.checks.limits import is_in_force, judgement, missed
from mewswright.checks.registry import quarters_check, yard_check
from mewswright.checks.size import lowest_mm, raised
from mewswright.handbook import Rule, rules
from mewswright.model.quantity import Quantity, millimetres
from mewswright.model.yard import Yard

WHOLE_DAY_H = 24


def _hours(hours: float) -> Quantity:
    return Quantity(value=hours, unit="h")


def _times(count: float) -> str:
    return str(Quantity(value=count, unit="times"))


def tether_hours(stays: Sequence[Resident]) -> tuple[float | None, bool]:
    """Hours a day on the leash, and whether it goes on day and night.

    Args:
        stays: All stays of one bird that hold at the same time.

    Returns:
        (hours or None where the file does not say, True if never let loose).
    """
    loose_home = any(not s.tethered and not s.stay.daytime_only for s in stays)
    tethered = [s.stay for s in stays if s.tethered]
    if not loose_home and any(not s.daytime_only and s.hours_a_day is None for s in tethered):
        return WHOLE_DAY_H, True
    given = [s.hours_a_day for s in tethered]
    known = [h for h in given if h is not None]
    if len(known) < len(given):
        return None, False
    total = min(float(WHOLE_DAY_H), sum(known))
    return total, total >= WHOLE_DAY_H


@yard_check("T105", "Time on the tether and flights a week")
def time_on_tether(yard: Yard, every: Sequence[Case]) -> Iterator[Finding]:
    """T105: a bird is not tethered longer, nor flown less, than the standards allow."""
    del yard
    by_bird: dict[str, list[tuple[Case, Resident]]] = {}
    for case in every:
        for resident in case.residents:
            by_bird.setdefault(resident.bird.name, []).append((case, resident))
    for places in by_bird.values():
        found: list[Finding] = []
        for case, resident in places:
            if resident.tethered:
                together = [r for _, r in places if r.stay.overlaps(resident.stay)]
                found += _of_standards(case, resident, together)
        yield from dict.fromkeys(found)  # stays of other dates that say the same


def _of_standards(
    case: Case, resident: Resident, together: Sequence[Resident]
) -> Iterator[Finding]:
    base = Finding(
        code="T105", status="sound", quarters=case.quarters.name, bird=resident.bird.name
    )
    found = False
    for key in case.standards:
        for rule in case.shelf.rules(key, species=resident.species):
            if rule.number is None or not is_in_force(rule):
                continue
            if rule.topic == "tether_hours_max":
                found = True
                yield _longest(case, base, rule, resident, together)
            elif rule.topic in ("weekly_flights_min", "flight_interval_days_max"):
                found = True
                yield _flights(case, base, rule, resident)
    if not found:
        yield base.model_copy(update=_unlimited(resident, together))


def _unlimited(resident: Resident, together: Sequence[Resident]) -> dict[str, object]:
    """What to say where no standard limits the time: a bird that flies is well, others ask."""
    hours, for_good = tether_hours(together)
    flights = resident.bird.flights_per_week
    update: dict[str, object] = {
        "measured": None if hours is None else _hours(hours),
        "sources": (judgement("time on a tether"),),
    }
    why = "no standard named here was read to limit the time on a tether"
    if flights:
        return update | {"why": f"{why}; flown {_times(flights)} a week"}
    if not for_good and all(r.stay.daytime_only for r in together if r.tethered):
        return update | {"why": f"{why}; by day alone"}
    remedy = "give flights_per_week" if flights is None else "let it fly, or loose in between"
    return update | {"status": "mind", "why": why, "remedy": remedy}


def _longest(
    case: Case, base: Finding, rule: Rule, resident: Resident, together: Sequence[Resident]
) -> Finding:
    assert rule.number is not None
    hours, for_good = tether_hours(together)
    stay = resident.stay
    if for_good and stay.starts_on and stay.ends_on:
        hours = WHOLE_DAY_H * ((stay.ends_on - stay.starts_on).days + 1)
    lifts = case.shelf.rules(rule.standard, "tether_weekly_flight_lifts_limit")
    flights = resident.bird.flights_per_week
    endless = for_good and stay.ends_on is None
    update: dict[str, object] = {
        "measured": Quantity(value="day and night, no end yet")
        if endless
        else None
        if hours is None
        else _hours(hours),
        "limit": _hours(rule.number),
        "sources": evidence(rule.source, *(lift.source for lift in lifts)),
    }
    over = endless or (for_good and (hours is None or hours > rule.number))
    name = case.shelf.standard(rule.standard).name
    if hours is None and all(r.stay.daytime_only for r in together if r.tethered):
        update["why"] = f"{name}: on the leash by day alone, so less than {rule.number:g} h on end"
    elif hours is None:
        update |= {
            "status": "mind",
            "why": f"{name}: the hours on the leash are not given",
            "remedy": "give hours_a_day, or mark the stay daytime_only",
        }
    elif not over:
        update["why"] = f"{name}: {rule.condition}"
    elif lifts and flights is None:
        update |= {
            "status": "mind",
            "why": f"{name}: longer only for a bird flown each week, and flights are not given",
            "remedy": "give flights_per_week",
        }
    elif lifts and flights:
        update["why"] = f"{name}: flown {_times(flights)} a week, so longer is allowed"
    else:
        update |= {
            "status": missed(rule),
            "why": f"{name}: tethered day and night and not flown each week",
            "remedy": "fly it at least once a week, or let it loose "
            f"before {rule.number:g} h are over",
        }
    return base.model_copy(update=update)


def _flights(case: Case, base: Finding, rule: Rule, resident: Resident) -> Finding:
    assert rule.number is not None
    name = case.shelf.standard(rule.standard).name
    flights = resident.bird.flights_per_week
    by_interval = rule.topic == "flight_interval_days_max"
    wanted = -(-7 // rule.number) if by_interval else rule.number  # flights a week, whole
    unit = "days" if by_interval else "per week"
    update: dict[str, object] = {
        "limit": Quantity(value=rule.number, unit=unit),
        "why": f"{name}: {rule.condition}",
        "sources": evidence(rule.source),
    }
    if resident.bird.use != "flown":
        update |= {
            "status": "mind",
            "why": f"{name} speaks of flown birds: {rule.condition}; this one is kept for "
            f"{resident.bird.use}",
            "remedy": "ask whether it may be tethered when it is not flown",
        }
    elif flights is None:
        update |= {"status": "mind", "remedy": "give flights_per_week"}
    else:
        value = (7 / flights if flights else float(7)) if by_interval else float(flights)
        update["measured"] = Quantity(value=value, unit=unit)
        if by_interval and not flights:
            update["measured"] = Quantity(value="never flown", unit="")
        if flights < wanted:
            update |= {
                "status": missed(rule),
                "remedy": f"fly it {_times(wanted - flights)} more a week, or keep it loose",
            }
    return base.model_copy(update=update)


@quarters_check("T106", "Tethered by both legs")
def both_legs(case: Case) -> Iterator[Finding]:
    """T106: the jesses hold both legs, as two laws ask."""
    asking = [
        rule
        for key in case.standards
        for rule in case.shelf.rules(key)
        if "both legs" in rule.condition and is_in_force(rule)
    ]
    others = [rule for key in ("be-vlg", "ca-qc") for rule in rules(key)
              if "both legs" in rule.condition]  # fmt: skip
    for resident in _once(case):
        one_leg = resident.bird.tethered_by == "one_leg"
        worst: Status = "mind"
        if asking:
            worst = min((missed(rule) for rule in asking), key=STATUSES.index)
        yield Finding(
            code="T106",
            status=worst if one_leg else "sound",
            quarters=case.quarters.name,
            bird=resident.bird.name,
            measured=Quantity(value=1 if one_leg else 2, unit="legs"),
            limit=Quantity(value=2, unit="legs"),
            why="one leg takes the whole pull of every bate" if one_leg else "",
            remedy="jess both legs" if one_leg else "",
            sources=evidence(*(rule.source for rule in asking or others)),
        )


@quarters_check("T107", "Leash as it is tied")
def leash_known(case: Case) -> Iterator[Finding]:
    """T107: a circle worked out from assumed lengths says so."""
    for resident in _once(case):
        circle = free_circle(case.yard, resident)
        assumed = circle.assumed
        names = " and ".join(f"{t.name} of {millimetres(t.value_mm)}" for t in assumed)
        yield Finding(
            code="T107",
            status="mind" if assumed else "sound",
            quarters=case.quarters.name,
            bird=resident.bird.name,
            measured=millimetres(circle.radius_mm),
            why=f"its free circle rests on an assumed {names}" if assumed else "all measured",
            remedy="measure them and write them down with the bird" if assumed else "",
            sources=tuple(dict.fromkeys(t.source for t in assumed or circle.terms)),
        )


@quarters_check("T108", "Which perch it is tied to")
def perch_named(case: Case) -> Iterator[Finding]:
    """T108: a tethered bird has one perch to be tied to, and the file says which."""
    for resident in _once(case):
        perches = tether_perches(case.quarters, resident)
        base = Finding(
            code="T108",
            status="sound",
            quarters=case.quarters.name,
            bird=resident.bird.name,
            fitting=perches[0].name if len(perches) == 1 else None,
            measured=Quantity(value=len(perches), unit="perches"),
            limit=Quantity(value=1, unit="perches"),
            sources=(judgement("perch of a tethered bird"),),
        )
        if len(perches) == 1:
            yield base
        elif perches:
            yield base.model_copy(
                update={
                    "status": "mind",
                    "why": "several perches, and none is named: its circle is drawn round each",
                    "remedy": "name the stay's perch",
                }
            )
        else:
            yield base.model_copy(
                update={
                    "status": "short",
                    "why": "there is no perch here that it could be tied to",
                    "remedy": "add 1 perch",
                }
            )


@quarters_check("T110", "Perch that a bate cannot move")
def perch_fixed(case: Case) -> Iterator[Finding]:
    """T110: the perch that a bird is tied to stays where it is when the bird bates."""
    for resident in _once(case):
        perches = tether_perches(case.quarters, resident)
        for perch in perches:
            moves: Status = "harm" if len(perches) == 1 else "mind"
            yield Finding(
                code="T110",
                status="sound" if perch.fixed else moves,
                quarters=case.quarters.name,
                bird=resident.bird.name,
                fitting=perch.name,
                why="" if perch.fixed else "a bating bird drags it, and the circle with it",
                remedy="" if perch.fixed else "spike it or bolt it down",
                sources=(judgement("a perch that drags"),),
            )


@quarters_check("T104", "Height of a weathering roof")
def weathering_roof(case: Case) -> Iterator[Finding]:
    """T104: the roof of a shelter is as high as the standard asks."""
    low_mm = lowest_mm(case)
    if case.quarters.kind != "shelter" or low_mm is None:
        return
    for key in case.standards:
        for rule in case.shelf.rules(key, "weathering_roof_height_mm", place="shelter"):
            assert rule.number is not None
            short_mm = rule.number - low_mm
            misses = short_mm > TAPE_MM
            yield Finding(
                code="T104",
                status=missed(rule) if misses else "sound",
                quarters=case.quarters.name,
                measured=millimetres(low_mm),
                limit=millimetres(rule.number),
                why=f"{case.shelf.standard(key).name}: {rule.condition}",
                remedy=raised(case, rule.number) if misses else "",
                sources=evidence(rule.source),
            )


def _once(case: Case) -> tuple[Resident, ...]:
    """Tethered residents, each bird and perch once."""
    seen = {(r.bird.name, r.stay.perch): r for r in reversed(case.tethered)}
    return tuple(reversed(seen.values()))
