"""Room for birds that share quarters, and peace for birds that breed."""

from collections.abc import Iterator
from math import ceil

from mewswright.checks import asked
from mewswright.checks.asked import verdict
from mewswright.checks.case import Case, Resident
from mewswright.checks.faces import sides
from mewswright.checks.finding import TAPE_MM, Finding, Status
from mewswright.checks.limits import ABOVE_A_HAIR
from mewswright.checks.registry import quarters_check
from mewswright.model.fitting import Hatch, Perch, Shelf
from mewswright.model.quantity import Quantity

TOP_BAND_MM = 100.0  # perches so far below the highest are as good to a bird: a judgement
FEED_SPANS = 0.5  # a bird that covers its food takes up half its span: a judgement
SOLID_SIDES = 3  # round a breeding pair: a judgement


def _together(case: Case) -> tuple[Resident, ...]:
    return tuple(r for r in case.together if not r.tethered)


def _counted(code: str, case: Case, have: int, need: int, unit: str, why: str, remedy: str,
             missed: Status = "mind", bird: str | None = None) -> Finding:  # fmt: skip
    return verdict(
        code, case, have >= need, missed, measured=Quantity(value=have, unit=unit),
        limit=Quantity(value=need, unit=unit), bird=bird, why=why, remedy=remedy,
        sources=asked.judgement(unit),
    )  # fmt: skip


@quarters_check("K114", "Room for each of those that share")
def shared(case: Case) -> Iterator[Finding]:
    """Loose birds together have a top place, a feeding place and a way out of sight each."""
    birds = _together(case)
    if len(birds) < 2:
        return
    q, need = case.quarters, len(birds)
    span_mm = max(bird.span.value for bird in birds)
    top_mm = max((perch.height_mm for perch in q.perches), default=0.0)
    if q.perches:  # P109 asks for perches where there are none
        have = sum(_places(p, span_mm) for p in q.perches if _is_top(p, top_mm))
        yield _counted(
            "K114", case, have, need, "top places",
            "each bird wants the highest place, and the weaker one is driven off it",
            _raised(q.perches, top_mm, need - have, span_mm),
        )  # fmt: skip
    fed = sum(_feeding_places(hatch, span_mm) for hatch in q.hatches)
    yield _counted(
        "K114", case, fed, need, "feeding places",
        "one bird covers the food, and the other goes without", _fed(q.hatches, need, span_mm),
    )  # fmt: skip
    boxes = sum(isinstance(f, Shelf) and f.box_height_mm is not None for f in q.fitting)
    yield _counted(
        "K114", case, boxes, need - 1, "hidden places",
        "neither can get out of the other's sight",
        f"add {need - 1 - boxes} nest box or hide with box_height_mm, or watch them together",
    )  # fmt: skip


def _is_top(perch: Perch, top_mm: float) -> bool:
    return asked.reaches(perch.height_mm, top_mm - TOP_BAND_MM)


def _places(perch: Perch, span_mm: float) -> int:
    """Birds of a span that stand on a perch with open wings side by side; one at least."""
    return max(1, int(((perch.length_mm or 0.0) + TAPE_MM) // span_mm))


def _raised(perches: tuple[Perch, ...], top_mm: float, missing: int, span_mm: float) -> str:
    told = []
    lower = [p for p in perches if not _is_top(p, top_mm)]
    for perch in sorted(lower, key=lambda p: (-p.height_mm, p.name)):
        if missing <= 0:
            break
        by_mm = ceil(top_mm - TOP_BAND_MM - perch.height_mm - ABOVE_A_HAIR)
        told.append(f"raise {perch.name} {by_mm} mm")
        missing -= _places(perch, span_mm)
    if missing > 0:
        told.append(f"hang {missing} more {top_mm:g} mm up")
    return " and ".join(told)


def _feeding_places(hatch: Hatch, span_mm: float) -> int:
    """Birds that cover their food side by side at a hatch; one at least."""
    return max(1, int((hatch.width_mm + TAPE_MM) // (FEED_SPANS * span_mm)))


def _fed(hatches: tuple[Hatch, ...], need: int, span_mm: float) -> str:
    missing = need - sum(_feeding_places(hatch, span_mm) for hatch in hatches)
    more = f"add {missing} hatch{'es' if missing > 1 else ''} apart from each other"
    if len(hatches) != 1:
        return more
    wide_mm = ceil(need * FEED_SPANS * span_mm - ABOVE_A_HAIR)
    return f"{more}, or make {hatches[0].name} and its ledge {wide_mm} mm wide"


@quarters_check("K115", "Peace for birds that breed")
def breeding(case: Case) -> Iterator[Finding]:
    """A place to nest, days on which nobody enters, and solid sides."""
    pair = [r for r in case.loose if r.bird.use == "breeding"]
    if not pair:
        return
    name = min(r.bird.name for r in pair)
    nests = sum(isinstance(fitting, Shelf) for fitting in case.quarters.fitting)
    yield _counted(
        "K115", case, nests, 1, "nesting places",
        "without a place to nest it lays on the floor, or not at all",
        "put in a nest box or a shelf, high up and under the roof", missed="short", bird=name,
    )  # fmt: skip
    told = [r.stay.undisturbed_days for r in pair]
    days = min((d for d in told if d is not None), default=0.0)
    known = None not in told
    yield verdict(
        "K115", case, known and days > 0, "mind", bird=name,
        measured=Quantity(value=days, unit="days") if known else None,
        why="nobody has said for how long it is left alone" if not known
        else "people may come in at any time, and eggs go cold",
        remedy="give undisturbed_days of its stay: from laying until the young are feathered",
        sources=asked.judgement("days on which nobody enters"),
    )  # fmt: skip
    if case.quarters.faces is not None:
        solid = sum(face.is_solid for _, face in sides(case))
        yield _counted(
            "K115", case, solid, SOLID_SIDES, "solid sides",
            "it sees people and other birds from the nest, and leaves it",
            f"board {SOLID_SIDES - solid} more", bird=name,
        )  # fmt: skip
