"""Doors and lobbies in use: clear of a leash, long enough for a box, shut behind the bird."""

from collections.abc import Iterator, Mapping, Sequence

from mewswright.build.circle import box_distance
from mewswright.build.doorway import depth_behind_mm, doorway_mm
from mewswright.checks import asked
from mewswright.checks.asked import verdict
from mewswright.checks.case import Case
from mewswright.checks.doorways import door_between, door_graph, door_to, first_served, listed
from mewswright.checks.finding import Evidence, Finding, Status
from mewswright.checks.limits import whole_mm
from mewswright.checks.registry import yard_check
from mewswright.checks.roof import is_open_to_the_sky
from mewswright.checks.tethered import Tether, circle_finding, tethers
from mewswright.ground.door_cuts import fewest_doors_to_cut
from mewswright.ground.doors import Passes, beyond, open_places, shortest_way_out
from mewswright.model.quantity import Quantity, millimetres
from mewswright.model.ways import Door, Space
from mewswright.model.yard import Yard

PERSON_MM = 400.0  # a dressed person, breast to back: a judgement
BOX_MM = 600.0  # a travelling box for a large hawk, where none is given: a judgement
KEPT_BY_DOORS = ("loft", "isolation")


@yard_check("D108", "Door clear of the tether circle")
def clear_of_tether(yard: Yard, cases: Sequence[Case]) -> Iterator[Finding]:
    """Whoever opens a door, and the leaf itself, stays out of a bird's free circle."""
    graph = door_graph(yard)
    for case in cases:
        doors = graph.get(case.quarters.name, ())
        for tether in tethers(case) if doors else ():
            for door in doors:
                yield _door_and_circle(tether, case, door)


def _door_and_circle(tether: Tether, case: Case, door: Door) -> Finding:
    q, name = case.quarters, door_to(case.quarters.name, door)
    taken = doorway_mm(q, door)
    if taken is None:
        finding = tether.found("D108", "mind", "the file does not say where the door is", name)
        told = "give face and at_mm of the door"
        return finding.model_copy(
            update={"remedy": told, "sources": asked.judgement("door clear of a leash")}
        )
    distance_mm = box_distance(tether.perch.at_mm, *taken)
    sweeps = door.opens_into == q.name
    far_mm = tether.circle.radius_mm - distance_mm
    if sweeps and distance_mm == 0:
        far_mm += door.width_mm - depth_behind_mm(q, door, tether.perch.at_mm)
    remedy = f"move the perch {whole_mm(far_mm)} straight away from it, or tie it shorter"
    if sweeps:
        remedy = f"hang the door to swing outwards, or {remedy}"
    finding = circle_finding(
        tether, case, "D108", distance_mm, f"the {name}" + (" as it swings" if sweeps else ""),
        remedy, name,
    )  # fmt: skip
    if finding.status == "harm" and not sweeps:  # it strikes no leaf, but meets who comes in
        return finding.model_copy(update={"status": "short"})
    return finding


@yard_check("D109", "A lobby long enough for a person with a box")
def lobby_for_a_box(yard: Yard, cases: Sequence[Case]) -> Iterator[Finding]:
    """Person and box stand between two shut doors."""
    given_mm = yard.service.box_mm
    box_mm = BOX_MM if given_mm is None else given_mm
    whose = first_served(yard, cases)
    sources = asked.judgement("person of 400 mm behind a box, clear of the leaf that swings in")
    if given_mm is not None:
        own = Evidence(name="the yard file", locator="service.box_mm", how_known="read")
        sources = (own, *sources)
    for space in yard.space:
        if space.kind != "lobby":
            continue
        clear_mm, limit_mm = space.length_mm - _leaf_mm(yard, space), box_mm + PERSON_MM
        sound = asked.reaches(clear_mm, limit_mm)
        assumed = f"with a box taken as {millimetres(box_mm)} long"
        missed: Status = "mind" if given_mm is None else "short"
        why = "" if sound else "one door stays open while the box is carried through"
        if given_mm is None:
            why = f"{why}; {assumed}" if why else assumed
        remedy = f"make it {whole_mm(limit_mm - clear_mm)} longer"
        yield Finding(
            code="D109", status="sound" if sound else missed,
            quarters=whose.get(space.name), fitting=space.name,
            measured=millimetres(clear_mm), limit=millimetres(limit_mm), why=why,
            remedy="" if sound else remedy
            + (", or measure the box and give service.box_mm" if given_mm is None else ""),
            sources=sources,
        )  # fmt: skip


def _leaf_mm(yard: Yard, space: Space) -> float:
    """Width of the widest door that swings into a space [mm]."""
    leaves = (d.width_mm for d in yard.door if d.opens_into == space.name)
    return max(leaves, default=0.0)


@yard_check("D111", "The weighing room between bird and outside")
def weighed_indoors(yard: Yard, cases: Sequence[Case]) -> Iterator[Finding]:
    """A bird that is flown comes to the scale before it comes to the open air."""
    rooms = frozenset(s.name for s in yard.space if s.kind == "weighing_room" and s.closed_in)
    if not rooms:
        return
    graph = door_graph(yard)
    open_air = _open_air(yard, cases)
    for case in cases:
        flown = next((r for r in case.residents if r.bird.use == "flown"), None)
        if flown is None or case.quarters.name not in graph:
            continue
        way = shortest_way_out(
            case.quarters.name, graph, rooms,
            lambda door, here: beyond(door, here) not in open_air,
        )  # fmt: skip
        told = "only by way of the open air" if way is None else way.through
        yield verdict(
            "D111", case, way is not None, "mind", measured=Quantity(value=told),
            bird=flown.bird.name,
            why="a bird that slips its jesses on the way to the scale is gone",
            remedy=f"lead a closed way from {case.quarters.name} to {listed(tuple(rooms))}",
            sources=asked.judgement("weighing room between bird and open air"),
        )  # fmt: skip


def _open_air(yard: Yard, cases: Sequence[Case]) -> frozenset[str]:
    return open_places(yard.space, (c.quarters.name for c in cases if is_open_to_the_sky(c)))


@yard_check("D112", "A self-closing and a locked door on every way out")
def shut_and_locked(yard: Yard, cases: Sequence[Case]) -> Iterator[Finding]:
    """No way out leads by doors alone that stand ajar, or that anybody opens."""
    graph = door_graph(yard)
    open_air = _open_air(yard, cases)
    for case in cases:
        q = case.quarters
        if not (q.kind in KEPT_BY_DOORS or case.loose) or q.name not in graph:
            continue
        if shortest_way_out(q.name, graph, open_air) is None:
            continue  # D107 speaks of doors that lead nowhere
        ajar = _weakest(yard, q.name, graph, open_air, lambda door, _: not door.self_closing)
        unlocked = _weakest(yard, q.name, graph, open_air, lambda door, _: door.locks == "none")
        rules = asked.named(case, "entry")
        laws = [
            rule
            for rule in rules
            if (ajar and "self-closing" in rule.value)
            or (unlocked and ("lockable" in rule.value or "secures" in rule.value))
        ]
        laws.sort(key=lambda rule: asked.miss(rule) != "harm")
        yield verdict(
            "D112", case, not ajar and not unlocked, asked.miss(laws[0]) if laws else "short",
            measured=Quantity(value=len(ajar) + len(unlocked), unit="weak doors"),
            limit=Quantity(value=0, unit="weak doors"),
            why="; ".join(_weak(ajar, "no door falls shut by itself on the way through")
                          + _weak(unlocked, "no door is locked on the way through")),
            remedy="; ".join(_mend(ajar, "hang on a spring: ") + _mend(unlocked, "give a lock: ")),
            sources=asked.of_rule(*(laws or rules)) or asked.judgement("doors on every way out"),
        )  # fmt: skip


def _weakest(
    yard: Yard, start: str, graph: Mapping[str, Sequence[Door]], open_air: frozenset[str],
    weak: Passes,
) -> tuple[Door, ...]:  # fmt: skip
    """The fewest doors that mend all ways by weak doors alone; most rooms have no such way."""
    if shortest_way_out(start, graph, open_air, weak) is None:
        return ()
    return fewest_doors_to_cut(start, yard.door, open_air, weak)


def _weak(doors: Sequence[Door], what: str) -> list[str]:
    return [f"{what} {listed([door_between(door) for door in doors])}"] if doors else []


def _mend(doors: Sequence[Door], how: str) -> list[str]:
    return [how + listed([door_between(door) for door in doors])] if doors else []
