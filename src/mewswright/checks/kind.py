"""Checks of the kind of housing: loose or tethered, where, and whether at all."""

from collections.abc import Iterator, Sequence
from datetime import date

from mewswright.checks.case import Case, Resident, evidence
from mewswright.checks.finding import TAPE_MM, Finding, Status
from mewswright.checks.limits import judgement, missed
from mewswright.checks.registry import quarters_check, yard_check
from mewswright.handbook import housing_mode, rules
from mewswright.model.bird import Stay
from mewswright.model.quantity import Quantity, millimetres
from mewswright.model.yard import Yard


def _once(residents: Sequence[Resident]) -> tuple[Resident, ...]:
    """Residents, each bird and way of keeping once."""
    seen = {(r.bird.name, r.stay.mode, r.stay.daytime_only): r for r in reversed(residents)}
    return tuple(reversed(seen.values()))


@quarters_check("K101", "Loose or tethered against the bird's nature")
def loose_or_tethered(case: Case) -> Iterator[Finding]:
    """K101: owls go loose; falcons are calmer tethered than loose in a small room."""
    for resident in _once(case.residents):
        mode = housing_mode(resident.species)
        status: Status = "sound"
        why, remedy, measured, limit = mode.reason, "", None, None
        if resident.tethered and mode.mode == "loose":
            status, remedy = "harm", "give it a loft in which it goes loose"
        elif resident.tethered and mode.mode == "either_loose_better":
            status, remedy = "mind", "keep it loose where you can"
        elif not resident.tethered and mode.mode == "either_tether_calmer":
            side_mm = min(case.quarters.width_mm, case.quarters.depth_mm)
            thumb = rules("house", "shortest_side_spans")[0]
            assert thumb.number is not None
            room_mm = thumb.number * resident.span.value
            if resident.bird.nervous or room_mm - side_mm > TAPE_MM:
                status = "mind"
                measured, limit = millimetres(side_mm), millimetres(room_mm)
                remedy = "watch its feathers, and tether it if it flies at the walls"
        elif resident.tethered and resident.bird.nervous:
            status, remedy = "mind", "tether it in a quiet place, or keep it loose"
            why = f"a nervous bird bates at little; {mode.reason}"
        yield Finding(
            code="K101",
            status=status,
            quarters=case.quarters.name,
            bird=resident.bird.name,
            measured=measured or Quantity(value=resident.stay.mode),
            limit=limit,
            why=why,
            remedy=remedy,
            sources=evidence(mode.source),
        )


@quarters_check("K102", "Whether each standard allows the tether")
def tether_allowed(case: Case) -> Iterator[Finding]:
    """K102: each standard that binds is asked whether it allows a tethered bird."""
    for resident in _once(case.tethered):
        for key in case.standards:
            yield from _verdict(case, resident, key)


def _verdict(case: Case, resident: Resident, key: str) -> Iterator[Finding]:
    named = case.shelf.standard(key)
    by_day = resident.stay.daytime_only
    found = False
    for rule in case.shelf.rules(key, "tether", resident.species):
        found = True
        status: Status
        remedy = "keep it loose"
        if rule.value == "forbidden":
            # The Austrian text forbids tethering that lasts; hours by day are not that.
            status = "mind" if by_day and "lasting" in rule.condition else missed(rule)
        elif rule.value == "exceptional":
            status = "mind" if by_day else "short"
            remedy = "keep it loose, or hold proof of the exception"
        elif rule.value in ("not_accepted", "avoid"):
            status = missed(rule)
        else:
            status, remedy = "sound", ""
        yield Finding(
            code="K102",
            status=status,
            quarters=case.quarters.name,
            bird=resident.bird.name,
            measured=Quantity(value="tethered by day" if by_day else "tethered"),
            limit=Quantity(value=rule.value.replace("_", " ")),
            why=f"{named.name}: {rule.condition or rule.value}",
            remedy=remedy,
            sources=evidence(rule.source),
        )
    for rule in case.shelf.rules(key, "routine_tether_end", resident.species):
        found = True
        yield Finding(
            code="K102",
            status="mind",
            quarters=case.quarters.name,
            bird=resident.bird.name,
            measured=Quantity(value="tethered"),
            limit=Quantity(value=f"until {rule.value}"),
            why=f"{named.name}: routine tethering ends then; {rule.condition}",
            remedy="plan a loft for it before that day",
            sources=evidence(rule.source),
        )
    if not found and named.strength in ("law", "guide"):
        gaps = f"; not read: {'; '.join(named.gaps)}" if named.gaps else ""
        yield Finding(
            code="K102",
            status="mind",
            quarters=case.quarters.name,
            bird=resident.bird.name,
            measured=Quantity(value="tethered"),
            why=f"{named.name}: nothing was read on tethering{gaps}",
            remedy="ask whoever enforces it before you rely on a tether",
            sources=(judgement(f"standards/{key}.toml, gaps"),),
        )


@yard_check("K103", "Pitch by day only")
def pitch_by_day(yard: Yard, every: Sequence[Case]) -> Iterator[Finding]:
    """K103: a lawn pitch is for tethered birds by day, and never the only home."""
    del yard
    at_home: dict[str, list[Resident]] = {}
    for case in every:
        if case.quarters.kind != "pitch":
            for resident in case.residents:
                at_home.setdefault(resident.bird.name, []).append(resident)
    for case in every:
        if case.quarters.kind != "pitch":
            continue
        for resident in _once(case.residents):
            nights = [
                r
                for r in at_home.get(resident.bird.name, [])
                if not r.stay.daytime_only and r.stay.overlaps(resident.stay)
            ]
            status: Status = "sound"
            why, remedy = "out by day, housed at night", ""
            if not resident.tethered:
                status, why = "harm", "a loose bird on an open lawn is gone"
                remedy = "tether it there, or give it a loft"
            elif not resident.stay.daytime_only:
                status = "harm"
                why = "a lawn pitch has no roof and no walls against night, weather and fox"
                remedy = "mark the stay daytime_only and give the bird quarters for the night"
            elif not nights:
                status, why = "harm", "it has no quarters for the night beside the pitch"
                remedy = "add a stay in a loft or shelter over the same days"
            yield Finding(
                code="K103",
                status=status,
                quarters=case.quarters.name,
                bird=resident.bird.name,
                measured=Quantity(
                    value="by day" if resident.stay.daytime_only else "day and night"
                ),
                limit=Quantity(value="by day"),
                why=why,
                remedy=remedy,
                sources=(judgement("a pitch is for the day"),),
            )
            yield from _housing_order(case, resident)


def _housing_order(case: Case, resident: Resident) -> Iterator[Finding]:
    for key in case.standards:
        for rule in case.shelf.rules(key, "open_weathering", place="pitch"):
            yield Finding(
                code="K103",
                status="mind",
                quarters=case.quarters.name,
                bird=resident.bird.name,
                measured=Quantity(value="in the open"),
                limit=Quantity(value=rule.value),
                why=f"{case.shelf.standard(key).name}: {rule.condition}",
                remedy="keep it under cover on the days of a housing order",
                sources=evidence(rule.source),
            )


@quarters_check("K108", "Planned quarters that a bird lives in")
def planned_but_occupied(case: Case) -> Iterator[Finding]:
    """K108: no bird lives in quarters that are not built."""
    if case.quarters.built:
        return
    for resident in _once(case.residents):
        already = resident.stay.starts_on is None
        yield Finding(
            code="K108",
            status="short" if already else "mind",
            quarters=case.quarters.name,
            bird=resident.bird.name,
            measured=Quantity(value="planned"),
            limit=Quantity(value="built"),
            why="it is said to live in quarters that are not built"
            if already
            else f"the quarters must stand by {resident.stay.starts_on}",
            remedy="say when it moves in: starts_on" if already else "build them before that day",
            sources=(judgement("planned quarters"),),
        )


@yard_check("K112", "A home for every bird")
def every_bird_housed(yard: Yard, every: Sequence[Case]) -> Iterator[Finding]:
    """K112: every bird has at least one stay."""
    del every
    homes: dict[str, int] = {}
    for stay in yard.stay:
        homes[stay.bird] = homes.get(stay.bird, 0) + 1
    for bird in yard.bird:
        stays = homes.get(bird.name, 0)
        yield Finding(
            code="K112",
            status="sound" if stays else "short",
            bird=bird.name,
            measured=Quantity(value=stays, unit="stays"),
            limit=Quantity(value=1, unit="stays"),
            why="" if stays else "no quarters are named for it, so nothing can be checked",
            remedy="" if stays else "add a stay for it",
            sources=(judgement("a home for every bird"),),
        )


def _days_and_place(stay: Stay) -> tuple[date, date, str]:
    return stay.starts_on or date.min, stay.ends_on or date.max, stay.quarters


@yard_check("K113", "One home at a time")
def one_home_at_a_time(yard: Yard, every: Sequence[Case]) -> Iterator[Finding]:
    """K113: no bird lives day and night in two quarters over the same days."""
    del every
    by_bird: dict[str, list[int]] = {}
    by_days = sorted(range(len(yard.stay)), key=lambda i: _days_and_place(yard.stay[i]))
    for i in by_days:
        stay = yard.stay[i]
        if not stay.daytime_only:
            by_bird.setdefault(stay.bird, []).append(i)
    for bird, places in by_bird.items():
        clashes = [
            (yard.stay[a], yard.stay[b])
            for n, a in enumerate(places)
            for b in places[n + 1 :]
            if yard.stay[a].quarters != yard.stay[b].quarters
            and yard.stay[a].overlaps(yard.stay[b])
            and (yard.stay[a].hours_a_day or 24) + (yard.stay[b].hours_a_day or 24) > 24
        ]
        base = Finding(
            code="K113",
            status="sound",
            bird=bird,
            measured=Quantity(value=1, unit="homes"),
            limit=Quantity(value=1, unit="homes"),
            sources=(judgement("one home at a time"),),
        )
        if not clashes:
            yield base.model_copy(update={"quarters": yard.stay[places[0]].quarters})
        for one, other in clashes:
            yield base.model_copy(
                update={
                    "status": "short",
                    "quarters": one.quarters,
                    "measured": Quantity(value=2, unit="homes"),
                    "why": f"it also lives in {other.quarters} over the same days",
                    "remedy": "end one stay the day before the other begins, or mark it "
                    "daytime_only",
                }
            )
