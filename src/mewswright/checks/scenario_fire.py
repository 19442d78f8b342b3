"""A fire: what burns near by, how to get at each bird, water, boxes, and the order.

People come first. No fire code is on record: the local fire authority decides.
"""

from collections.abc import Iterator, Mapping, Sequence
from math import inf

from mewswright.checks import asked
from mewswright.checks.asked import verdict
from mewswright.checks.case import Case
from mewswright.checks.doorways import door_between, listed
from mewswright.checks.finding import Finding, Status
from mewswright.checks.fire import Escape
from mewswright.checks.limits import whole_cm
from mewswright.checks.registry import scenario_check
from mewswright.checks.scenario import Assumed
from mewswright.checks.scenario_birds import homes
from mewswright.checks.scenario_order import in_order
from mewswright.checks.site import TAPE_M
from mewswright.ground.distances import outline_distance_m
from mewswright.ground.doors import WayOut, shortest_way_out
from mewswright.model.quantity import Quantity, metres
from mewswright.model.yard import Yard

# How far from quarters a thing that burns is to stand [m], by kind: judgements, for no fire code
# is on record.
BURNS_M: Mapping[str, float] = {
    "hay": 10.0, "straw": 10.0, "building": 5.0, "log_stack": 5.0, "rotting_timber": 5.0,
}  # fmt: skip
FLARES = ("hay", "straw")  # burn fast: short; the rest is minded
HOSE_M = 30.0  # a garden hose and its reel: a judgement
DOORS_MAX = 3  # as quarters, lobby and corridor have them; more is slow with a box: a judgement
WITNESS = "fire; the local fire authority decides"


@scenario_check("E141", "Getting at the birds in a fire", "fire")
def way_in(yard: Yard, every: Sequence[Case], _assumed: Assumed) -> Iterator[Finding]:
    """E141: few doors, and none that wants a key, lie between the open air and each bird."""
    escape = Escape(yard)
    for case in every:
        if not case.residents or case.quarters.kind == "pitch":
            continue
        name, sources = case.quarters.name, asked.judgement(f"way in: {WITNESS}")
        if name in escape.out:
            yield verdict(
                "E141", case, True, "mind", measured=Quantity(value="open face"), sources=sources
            )
            continue
        way = _way(escape, name)
        if way is None:
            yield verdict(
                "E141", case, False, "mind", measured=Quantity(value="no way known"),
                why="the file gives it no doors that lead outside",
                remedy="give the doors of the whole way", sources=sources,
            )  # fmt: skip
            continue
        locked = [door_between(door) for door in way.doors if door.locks == "key"]
        many = len(way.doors) > DOORS_MAX
        why = f"a key is wanted for the {listed(locked)}" if locked else ""
        remedy = "fit a code lock there, or hang the key in a box beside it" if locked else ""
        if many:
            why += f"{'; ' if why else ''}each door is slow with a box in hand: {way.through}"
            remedy += f"{'; ' if remedy else ''}make a nearer door to the open air, through a lobby"
        yield verdict(
            "E141", case, not locked and not many, "mind",
            measured=Quantity(value=len(way.doors), unit="doors"),
            limit=Quantity(value=DOORS_MAX, unit="doors"), why=why, remedy=remedy,
            sources=sources,
        )  # fmt: skip


def _way(escape: Escape, name: str) -> WayOut | None:
    """The way with the fewest doors, one that wants no key before one that does."""
    free = shortest_way_out(name, escape.graph, escape.out, lambda door, _: door.locks != "key")
    return free or shortest_way_out(name, escape.graph, escape.out)


@scenario_check("E142", "What burns near by", "fire")
def fire_load(yard: Yard, every: Sequence[Case], _assumed: Assumed) -> Iterator[Finding]:
    """E142: hay, straw, stacks and buildings stand off from quarters in which birds live."""
    for case in every:
        if not case.residents:
            continue
        near = False
        nearest_m = inf
        for feature in yard.feature:
            if feature.kind not in BURNS_M:
                continue
            limit_m = BURNS_M[feature.kind]
            away_m = outline_distance_m(case.quarters.corners_m, feature)
            nearest_m = min(nearest_m, away_m)
            if limit_m - away_m <= TAPE_M:
                continue
            near = True
            missed: Status = "short" if feature.kind in FLARES else "mind"
            other = (
                "have its wall made so that fire does not pass"
                if feature.kind == "building"
                else f"move it {whole_cm(limit_m - away_m)} off"
            )
            yield verdict(
                "E142", case, False, missed, measured=metres(away_m), limit=metres(limit_m),
                fitting=feature.name, why="a fire there reaches the birds before anybody does",
                remedy=other, sources=asked.judgement(f"distance from what burns: {WITNESS}"),
            )  # fmt: skip
        if not near:
            yield verdict(
                "E142", case, True, "mind",
                measured=Quantity(value="nothing") if nearest_m == inf else metres(nearest_m),
                sources=asked.judgement(f"distance from what burns: {WITNESS}"),
            )  # fmt: skip


@scenario_check("E143", "Water to put it out", "fire")
def water(yard: Yard, every: Sequence[Case], _assumed: Assumed) -> Iterator[Finding]:
    """E143: a tap lies within a hose of every quarters."""
    taps = [feature for feature in yard.feature if feature.kind == "tap"]
    for case in every:
        if not case.residents:
            continue
        away = [(outline_distance_m(case.quarters.corners_m, tap), tap.name) for tap in taps]
        away_m, name = min(away, default=(inf, None))
        far = away_m - HOSE_M > TAPE_M
        yield verdict(
            "E143", case, not far, "mind",
            measured=metres(away_m) if taps else Quantity(value="no tap"), limit=metres(HOSE_M),
            fitting=name,
            why="a garden hose does not reach that far" if taps else "the file names no tap",
            remedy=f"lay a pipe {whole_cm(away_m - HOSE_M)} nearer, keep a longer hose, or hang an "
            "extinguisher there" if taps
            else "measure from the nearest tap, and give it as a feature",
            sources=asked.judgement(f"reach of a hose: {WITNESS}"),
        )  # fmt: skip


@scenario_check("E144", "Boxes and hands", "fire")
def boxes(yard: Yard, every: Sequence[Case], _assumed: Assumed) -> Iterator[Finding]:
    """E144: a box for each bird, and somebody to carry it: the file cannot tell."""
    count = len(homes(every))
    if count == 0:
        return
    more = "" if yard.service.box_mm is not None else ", and give service.box_mm"
    yield Finding(
        code="E144",
        status="mind",
        measured=Quantity(value=count, unit="birds"),
        why="the file does not say how many boxes stand ready, nor who is there at night",
        remedy=f"count boxes: one for each bird, by its quarters; time how long one person "
        f"takes to box one, in the dark{more}",
        sources=asked.judgement(f"boxes: {WITNESS}"),
    )


@scenario_check("E145", "The order of a fire", "fire")
def order(yard: Yard, every: Sequence[Case], _assumed: Assumed) -> Iterator[Finding]:
    """E145: who is brought out first, and by which doors."""
    escape = Escape(yard)
    loads = [feature for feature in yard.feature if feature.kind in BURNS_M]
    ranks: dict[str, tuple[int, float]] = {}
    for case, bird in homes(every):
        q = case.quarters
        away = [(outline_distance_m(q.corners_m, one), BURNS_M[one.kind]) for one in loads]
        near = any(limit_m - away_m > TAPE_M for away_m, limit_m in away)
        way = None if q.kind == "pitch" else _way(escape, q.name)
        told = f"{bird.bird.name} ({way.through if way else q.name})"
        ranks[told] = (0 if near else 1, round(min((m for m, _ in away), default=inf), 3))
    if ranks:
        yield in_order(
            "E145", ranks, ("people out; then the birds near what burns", "the rest"),
            calm="", why="hands are few: rehearse it, from the nearest to what burns outwards",
            sources=asked.judgement(f"order: {WITNESS}"),
        )  # fmt: skip
