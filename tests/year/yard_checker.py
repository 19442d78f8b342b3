"""What is wrong with a plan of a yard's year, told day by day without the planner.

It reads the yard and the report alone, and asks `run_checks` of the yard with the plan for its
stays.
"""

from datetime import date, timedelta
from itertools import pairwise

from mewswright.checks.brief import brief_of
from mewswright.checks.registry import run_checks
from mewswright.model.bird import Stay
from mewswright.model.yard import Yard
from mewswright.year.report import StayTold, YearReport

DAY = timedelta(days=1)
# What a plan of quarters cannot mend: the ground, the building, the gear, the store.
OF_THE_STAY = ("S", "P", "F101", "F102", "K101", "K102", "K104", "K105", "L", "W102", "T101")


def with_plan(yard: Yard, report: YearReport) -> Yard:
    """The yard with the plan for its stays."""
    stays = tuple(
        Stay(bird=s.bird, quarters=s.quarters, mode=s.mode, perch=s.perch,
             starts_on=s.starts_on, ends_on=s.ends_on, isolated=s.isolated)
        for s in report.stays
    )  # fmt: skip
    return yard.model_copy(update={"stay": stays})


def wrongs(yard: Yard, report: YearReport, days: int = 30) -> list[str]:
    """Every rule that the plan breaks, in words; none for a good plan.

    Args:
        yard: The yard as it was planned.
        report: What was said.
        days: Days of isolation.
    """
    found = [*_one_place_a_day(yard, report), *_places(yard, report)]
    found += _company_and_cleaning(yard, report)
    found += _closed_and_sick(yard, report)
    found += _clocks(yard, report)
    found += _rest(yard, report)
    found += _isolation(yard, report, days)
    found += _harm(yard, report)
    found += _sight(yard, report)
    return found


def _of(report: YearReport, bird: str) -> list[StayTold]:
    return sorted((s for s in report.stays if s.bird == bird), key=lambda s: s.starts_on)


def _one_place_a_day(yard: Yard, report: YearReport) -> list[str]:
    found = []
    for bird in yard.bird:
        first = max(report.starts_on, bird.arrives_on or date.min)
        last = min(report.ends_on, bird.leaves_on or date.max)
        mine = _of(report, bird.name)
        if first > last:
            found += [f"{bird.name} is not there and has a place"] if mine else []
            continue
        if not mine or mine[0].starts_on != first or mine[-1].ends_on != last:
            found.append(f"{bird.name} is not housed from {first} to {last}")
        found += [
            f"{bird.name}: {a.ends_on} and then {b.starts_on}"
            for a, b in pairwise(mine)
            if a.ends_on + DAY != b.starts_on
        ]
    return found


def _places(yard: Yard, report: YearReport) -> list[str]:
    found = []
    now = {(s.bird, s.quarters, s.mode) for s in yard.stay}
    for stay in report.stays:
        quarters, bird = yard.quarters_named(stay.quarters), yard.bird_named(stay.bird)
        if not quarters.built or quarters.kind == "pitch":
            found.append(f"{stay.quarters} is no place for the night")
        if stay.mode == "tethered" and brief_of(yard, bird).housing.advice == "loose":
            found.append(f"{stay.bird} is tethered against its brief")
        kinds = ("loft", "isolation") if stay.mode == "loose" else ("shelter",)
        meant = quarters.kind in kinds or quarters.double_use
        if not meant and (stay.bird, stay.quarters, stay.mode) not in now:
            found.append(f"{stay.bird} is {stay.mode} in {stay.quarters}, a {quarters.kind}")
        if quarters.kind == "isolation" and not stay.isolated:
            found.append(f"{stay.bird} lives in isolation for no reason")
    return found


def _friends(yard: Yard, one: str, other: str) -> bool:
    a, b = yard.bird_named(one), yard.bird_named(other)
    named = any({one, other} <= set(g.birds) for g in (*yard.year.together, *yard.year.breeding))
    return other in a.companions or one in b.companions or named


def _closed_and_sick(yard: Yard, report: YearReport) -> list[str]:
    found = []
    for stay in report.stays:
        for span in yard.quarters_named(stay.quarters).year.closed:
            if stay.starts_on <= span.ends_on and span.starts_on <= stay.ends_on:
                found.append(f"{stay.bird} is in {stay.quarters} while it is closed")
        for span in yard.bird_named(stay.bird).year.sick:
            meets = stay.starts_on <= span.ends_on and span.starts_on <= stay.ends_on
            if meets and not stay.isolated:
                found.append(f"{stay.bird} is sick, and in {stay.quarters} with the others")
    return found


def _company_and_cleaning(yard: Yard, report: YearReport) -> list[str]:
    found = []
    for quarters in yard.quarters:
        own = quarters.year.clean_days
        clean_days = yard.year.clean_days if own is None else own
        stands = quarters.year.stands or 1
        mine = [s for s in report.stays if s.quarters == quarters.name]
        for i, a in enumerate(mine):
            for b in mine[i + 1 :]:
                if a.bird == b.bird or _friends(yard, a.bird, b.bird):
                    continue
                if stands > 1 and a.perch != b.perch:
                    continue
                first, second = sorted((a, b), key=lambda s: s.starts_on)
                empty = (second.starts_on - first.ends_on).days - 1
                if empty < clean_days:
                    found.append(
                        f"{quarters.name}: {first.bird} to {first.ends_on}, {second.bird} from "
                        f"{second.starts_on}"
                    )
    return found


def _clocks(yard: Yard, report: YearReport) -> list[str]:
    """Weeks on a tether, weeks to move in, and moults that must be heeded."""
    found = []
    for bird in yard.bird:
        mine = _of(report, bird.name)
        most = bird.year.tether_most_weeks
        run = 0
        for stay in mine:
            run = run + (stay.ends_on - stay.starts_on).days + 1 if stay.mode == "tethered" else 0
            if most is not None and run > most * 7:
                found.append(f"{bird.name} is tethered {run} days on end")
        moved = [b.starts_on for a, b in pairwise(mine) if a.quarters != b.quarters
                 and not a.isolated and not b.isolated]  # fmt: skip
        since = bird.year.moves_from
        found += [f"{bird.name} is moved on {day}" for day in moved if since and day < since]
    return found


def _rest(yard: Yard, report: YearReport) -> list[str]:
    """Quarters that must be emptied in time, and lie empty once."""
    found = []
    length = (report.ends_on - report.starts_on).days + 1
    for quarters in yard.quarters:
        mine = [s for s in report.stays if s.quarters == quarters.name]
        most, rest = quarters.year.clean_every_weeks, quarters.year.rest_weeks * 7
        if most is not None:
            found += [
                f"{s.bird} is in {quarters.name} for longer than {most} weeks"
                for s in mine
                if (s.ends_on - s.starts_on).days + 1 > most * 7
            ]
        taken = {
            s.starts_on + DAY * i for s in mine for i in range((s.ends_on - s.starts_on).days + 1)
        }
        empty, longest = 0, 0
        for i in range(length):
            empty = 0 if report.starts_on + DAY * i in taken else empty + 1
            longest = max(longest, empty)
        if longest < rest and quarters.built:
            found.append(f"{quarters.name} never rests {rest} days")
    return found


def _isolation(yard: Yard, report: YearReport, days: int) -> list[str]:
    found = []
    for bird in yard.bird:
        if bird.arrives_on is None or bird.arrives_on < report.starts_on:
            continue
        until = min(bird.arrives_on + timedelta(days=days - 1), report.ends_on,
                    bird.leaves_on or date.max)  # fmt: skip
        for stay in _of(report, bird.name):
            place = yard.quarters_named(stay.quarters)
            apart = place.kind == "isolation" or any(
                s.isolated for s in yard.stay if s.quarters == place.name
            )
            if stay.starts_on <= until and not apart:
                found.append(f"{bird.name} is not isolated on {stay.starts_on}")
    return found


def _harm(yard: Yard, report: YearReport) -> list[str]:
    """Harm in the plan, beside that in a home of the file's and that of fittings told openly."""
    homes = {(s.bird, s.quarters) for s in yard.stay}
    return [
        str(f)
        for f in run_checks(with_plan(yard, report))
        if f.status == "harm"
        and f.bird is not None
        and f.code.startswith(OF_THE_STAY)
        and (f.bird, f.quarters) not in homes
        and not (f.code[0] in "PLW" and _told(report, f.bird, f.quarters))
    ]


def _told(report: YearReport, bird: str, quarters: str | None) -> bool:
    start = f"in {quarters}: only for want of a better place, and to be mended first: "
    return any(bird in told and start in told for told in report.cautions)


def _sight(yard: Yard, report: YearReport) -> list[str]:
    """Birds in sight of one that they fear, where the file does not have it so."""
    today = {
        (f.bird, f.fitting) for f in run_checks(yard) if f.code == "G103" and f.status == "short"
    }
    waived = {(b.name, other) for b in yard.bird for other in b.year.may_see}
    return [
        str(f)
        for f in run_checks(with_plan(yard, report))
        if f.code == "G103" and f.status == "short" and (f.bird, f.fitting) not in today | waived
    ]
