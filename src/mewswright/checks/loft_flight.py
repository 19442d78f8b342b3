"""Flight in a loft: how far, past what, how steep, and with what room to land."""

from collections.abc import Collection, Iterator
from itertools import combinations
from math import ceil, radians, tan

from mewswright.build import flight
from mewswright.build.landing import landing_room_mm
from mewswright.build.room import perch_gap_mm
from mewswright.checks import asked
from mewswright.checks.asked import verdict
from mewswright.checks.case import Case, Resident
from mewswright.checks.finding import Finding
from mewswright.checks.limits import ABOVE_A_HAIR, whole_mm
from mewswright.checks.perches import span_mm
from mewswright.checks.registry import quarters_check
from mewswright.model.fitting import Hatch, Perch, Upright
from mewswright.model.quantity import Quantity, millimetres

# Judgements, all of them: no figure was found for any.
FLIGHT_SPANS_LEAST = 1.0  # less is a hop, not a flight
FLIGHT_SPANS_GOOD = 2.0  # the rule of thumb for the shortest side, held against the flight
LANDING_SPANS = 1.0
HEAVY_G = 2000.0  # from here on a bird climbs as the heavy ones do
CLIMB_DEG = {"strongly": 60.0, "heavy": 45.0, "weakly": 30.0, "not": 0.0}
WAYS: dict[str, flight.Spot3] = {
    "left": (-1, 0, 0), "right": (1, 0, 0), "front": (0, -1, 0), "back": (0, 1, 0),
    "up": (0, 0, 1), "down": (0, 0, -1),
}  # fmt: skip
HOP_BODY_LENGTHS = {"strongly": 1.0, "heavy": 0.75, "weakly": 0.75, "not": 0.75}


def widest_loose(case: Case) -> Resident | None:
    """The loose bird with the widest span, for which the ways must be free."""
    return max(case.loose, key=span_mm, default=None)


def is_flown_in(case: Case) -> bool:
    """A bird goes loose here between walls."""
    return case.quarters.kind != "pitch" and bool(case.loose)


@quarters_check("L101", "Longest clear flight")
def longest_flight(case: Case) -> Iterator[Finding]:
    """L101: between two perches a bird can make at least a few wing beats."""
    bird = widest_loose(case)
    if bird is None or not is_flown_in(case):
        return
    perches = case.quarters.perches
    if len(perches) < 2:
        return  # P109 asks for a second perch
    half_mm = span_mm(bird) / 2
    clear = [found for found in flights(case) if asked.reaches(found.clear_mm, half_mm)]
    best = max(clear, key=lambda found: found.length_mm, default=None)
    longest_mm = best.length_mm if best else 0.0
    least_mm, good_mm = FLIGHT_SPANS_LEAST * 2 * half_mm, FLIGHT_SPANS_GOOD * 2 * half_mm
    hop = not asked.reaches(longest_mm, least_mm)
    limit_mm = least_mm if hop else good_mm
    yield verdict(
        "L101", case, asked.reaches(longest_mm, good_mm), "short" if hop else "mind",
        measured=millimetres(longest_mm), limit=millimetres(limit_mm), bird=bird.bird.name,
        fitting=best.end.name if best else None,
        why="no flight between two perches is clear" if best is None
        else f"the longest clear flight, {best.way}, is {longest_mm / (2 * half_mm):.1f} "
        "wing spans: it cannot keep fit on that",
        remedy="set the two perches that are farthest apart "
        f"{whole_mm(limit_mm - longest_mm)} farther apart, or clear the way between others",
        sources=(*asked.judgement("length of a flight in wing spans"), bird.span.source),
    )  # fmt: skip


def flights(case: Case) -> tuple[flight.Flight, ...]:
    """Every flight between two perches of the case, with what stands nearest to it."""
    around = flight.things(case.quarters)
    return tuple(flight.flight(one, other, around) for one, other in pairs(case))


def pairs(case: Case) -> Iterator[tuple[Perch, Perch]]:
    """Every two perches of the case, by name and not by their order in the file."""
    return combinations(sorted(case.quarters.perches, key=lambda perch: perch.name), 2)


@quarters_check("L102", "Clear corridors of flight")
def corridors(case: Case) -> Iterator[Finding]:
    """L102: in the tube that a bird sweeps from perch to perch stands no perch, shelf or box.

    Posts are P108's, the roof over each perch is P104's: a straight roof that is high
    enough over both ends is high enough in between.
    """
    bird = widest_loose(case)
    if bird is None or not is_flown_in(case) or len(case.quarters.perches) < 2:
        return
    half_mm = span_mm(bird) / 2
    posts = {fitting.name for fitting in case.quarters.fitting if isinstance(fitting, Upright)}
    around = [thing for thing in flight.things(case.quarters) if thing.name not in posts]
    sources = (*asked.judgement("a swept tube of half a span"), bird.span.source)
    worst: dict[str, flight.Flight] = {}
    for one, other in pairs(case):
        found = flight.flight(one, other, around)
        if found.nearest is None or asked.reaches(found.clear_mm, half_mm):
            continue
        seen = worst.get(found.nearest.name)
        if seen is None or found.clear_mm < seen.clear_mm:
            worst[found.nearest.name] = found
    for name, found in worst.items():
        yield verdict(
            "L102", case, False, "short", measured=millimetres(max(0.0, found.clear_mm)),
            limit=millimetres(half_mm), bird=bird.bird.name, fitting=name,
            why=f"it stands in the way from {found.way}: a wing strikes it in flight",
            remedy=_out_of_the_way(case, found, half_mm),
            sources=sources,
        )  # fmt: skip
    if not worst:
        yield verdict(
            "L102", case, True, "short", limit=millimetres(half_mm), bird=bird.bird.name,
            sources=sources,
        )  # fmt: skip


def _out_of_the_way(case: Case, found: flight.Flight, half_mm: float) -> str:
    """The shortest straight move that clears a way and leaves the thing inside."""
    q, thing = case.quarters, found.nearest
    assert thing is not None
    fitting = next(f for f in q.fitting if f.name == thing.name and not isinstance(f, Hatch))
    a, b = flight.foot_spot(found.start), flight.foot_spot(found.end)
    x, y = fitting.at_mm
    low_mm, high_mm = flight.low_and_high_mm(thing)
    free = {
        "left": x, "right": q.width_mm - x, "front": y, "back": q.depth_mm - y,
        "down": low_mm if low_mm > 0 else 0.0,  # what stands on the floor stays there
        "up": q.ceiling_mm(y) - high_mm if low_mm > 0 else 0.0,
    }  # fmt: skip
    moves = sorted(
        (ceil(by_mm - ABOVE_A_HAIR), name)
        for name, way in WAYS.items()
        if (by_mm := flight.shift_clear_mm(a, b, thing, way, half_mm)) < free[name] - 1
    )
    if not moves:
        return f"take it away, or set {found.start.name} or {found.end.name} elsewhere"
    by_mm, name = moves[0]
    if name in ("up", "down"):
        return f"{'raise' if name == 'up' else 'lower'} it {by_mm} mm"
    return f"move it {by_mm} mm towards the {name}"


def way_of_flying(resident: Resident) -> tuple[str, str]:
    """How a bird flies: strongly, heavy, weakly or not; and by what we say so."""
    bird = resident.bird
    if bird.one_winged:
        return "not", "it cannot fly level"
    if bird.flies in ("weakly", "not"):
        return bird.flies, f"the yard file says that it flies {bird.flies}".replace(
            "flies not", "does not fly"
        )
    if bird.flies is None and bird.use == "retired":
        return "weakly", "it is retired, and how it flies is not given"
    if resident.mass.value >= HEAVY_G:
        return "heavy", f"it weighs {resident.mass.value:.0f} g"
    return "strongly", "nothing says that it flies badly"


def stride_of(resident: Resident) -> flight.Stride:
    """What a bird climbs in one go."""
    how, _ = way_of_flying(resident)
    hop_mm = HOP_BODY_LENGTHS[how] * resident.body_length.value
    return flight.Stride(CLIMB_DEG[how], hop_mm)


@quarters_check("L103", "Every perch within reach by steps")
def steps(case: Case) -> Iterator[Finding]:
    """L103: from the floor up, each bird comes to every perch by climbs that it can make."""
    if not is_flown_in(case) or not case.quarters.perches:
        return
    for resident in {r.bird.name: r for r in case.loose}.values():
        stride = stride_of(resident)
        how, because = way_of_flying(resident)
        sources = (
            *asked.judgement(f"climb of a bird that flies {how}"), resident.body_length.source,
        )  # fmt: skip
        got = flight.reached(case.quarters, stride)
        count = len(case.quarters.perches)
        missed = [perch for perch in case.quarters.perches if perch.name not in got]
        if not missed:
            yield verdict(
                "L103", case, True, "short", measured=Quantity(value=count, unit="perches"),
                limit=Quantity(value=count, unit="perches"), bird=resident.bird.name,
                sources=sources,
            )  # fmt: skip
        for perch in missed:
            high_mm = _reachable_mm(case, perch, got.keys(), stride)
            yield verdict(
                "L103", case, False, "short", measured=millimetres(perch.height_mm),
                limit=millimetres(high_mm), bird=resident.bird.name, fitting=perch.name,
                why=f"{because}, and no step that it can make leads up there",
                remedy=f"lower it {whole_mm(perch.height_mm - high_mm)}, "
                "or set a lower perch on the way",
                sources=sources,
            )  # fmt: skip


def _reachable_mm(
    case: Case, perch: Perch, got: Collection[str], stride: flight.Stride
) -> float:  # fmt: skip
    """Greatest height at which a perch in that place would be reached [mm]."""
    slope = tan(radians(stride.climb_deg))
    best = max(stride.hop_mm, slope * flight.run_up_mm(case.quarters, perch))
    for other in case.quarters.perches:
        if other is perch or other.name not in got:
            continue
        level_mm = flight.distance_mm((*other.at_mm, 0.0), (*perch.at_mm, 0.0))
        if slope > 0:  # one that does not fly does not fly level either
            best = max(best, other.height_mm + slope * level_mm)
        if perch_gap_mm(other, perch) <= stride.hop_mm:
            best = max(best, other.height_mm + stride.hop_mm)
    return best


@quarters_check("L104", "Room to land")
def landing(case: Case) -> Iterator[Finding]:
    """L104: on one side of each perch a bird can come in with open wings."""
    bird = widest_loose(case)
    if bird is None or not is_flown_in(case):
        return
    around = flight.things(case.quarters)
    limit_mm = LANDING_SPANS * span_mm(bird)
    for perch in case.quarters.perches:
        found_mm = landing_room_mm(case.quarters, perch, around)
        short_mm = max(0.0, limit_mm - found_mm)  # past an open face room has no end
        yield verdict(
            "L104", case, asked.reaches(found_mm, limit_mm), "short",
            measured=millimetres(found_mm) if found_mm < 1e6 else None,
            limit=millimetres(limit_mm), bird=bird.bird.name, fitting=perch.name,
            why="it must brake against a wall or another thing as it comes in",
            remedy=f"free {whole_mm(short_mm)} more before one side of it, or turn it",
            sources=(*asked.judgement("room to land in wing spans"), bird.span.source),
        )  # fmt: skip
