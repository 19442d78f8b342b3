"""Remedies for doors and lobbies."""

from collections.abc import Iterator, Mapping

from mewswright.checks import asked
from mewswright.checks.case import cases
from mewswright.checks.finding import Finding
from mewswright.checks.roof import is_open_to_the_sky
from mewswright.fit.change import DOORS, STRUCTURE, Change, Edit, together
from mewswright.fit.remedy import Standing, figure, remedy, up_mm
from mewswright.ground.doors import doors_of, open_places, shortest_way_out
from mewswright.model.quantity import m_from_mm
from mewswright.model.ways import OUTSIDE, Door

WAYS = ("D101", "D103")
LOBBY_WIDTH_MM = 1200.0  # as wide as the demo yard's porch: a door and a person beside it


def _own_doors(standing: Standing, finding: Finding) -> Iterator[tuple[int, Door]]:
    """Doors that a finding speaks of, by their place in the file."""
    for i, door in enumerate(standing.yard.door):
        if standing.name in door.between:
            there = door.between[door.between[0] == standing.name]
            if finding.fitting in (None, f"door to {there}"):
                yield i, door


@remedy("D101")
def shut_the_way_out(standing: Standing, finding: Finding) -> Iterator[Change]:
    """Put a lobby before the last door, wall the door up, or close in what lies behind it."""
    del finding
    yard = standing.yard
    graph = doors_of(yard.door)
    every = cases(yard, standing.standards)
    open_air = open_places(
        yard.space, (case.quarters.name for case in every if is_open_to_the_sky(case))
    )
    way = shortest_way_out(standing.name, graph, open_air)
    if way is None or not way.doors:
        return
    last, inner, outer = way.doors[-1], way.rooms[-2], way.rooms[-1]
    place = next(i for i, door in enumerate(yard.door) if door is last)
    yield _lobby(standing, place, last, inner, outer)
    if len(graph.get(standing.name, ())) > 1 and standing.name in last.between:
        yield standing.change(
            f"wall up the door from {inner} to {outer}", WAYS,
            [Edit(("door", place), how="drop")], standing.prices.of("wall_up_door"), STRUCTURE,
        )  # fmt: skip
    for space in yard.space:
        if space.name == outer and not space.closed_in:
            area = m_from_mm(space.length_mm) * m_from_mm(space.width_mm)
            yield standing.change(
                f"close in {space.name} with mesh or net", WAYS,
                [Edit(("space", space.name, "closed_in"), True)],
                standing.prices.of("close_space", area), STRUCTURE,
            )  # fmt: skip


def _lobby(standing: Standing, place: int, last: Door, inner: str, outer: str) -> Change:
    taken = {space.name for space in standing.yard.space}
    taken |= {quarters.name for quarters in standing.yard.quarters}
    names = (f"{standing.name} lobby", *(f"{standing.name} lobby {n}" for n in range(2, 99)))
    name = next(one for one in names if one not in taken)
    length, height = (
        float(up_mm(asked.number(asked.house_rule(topic))))
        for topic in ("lobby_depth_mm", "lobby_height_mm")
    )
    lobby = {
        "name": name, "kind": "lobby", "length_mm": length, "width_mm": LOBBY_WIDTH_MM,
        "height_mm": height,
    }  # fmt: skip
    door = {
        "between": (name, outer), "width_mm": last.width_mm, "height_mm": last.height_mm,
        "self_closing": True, "locks": "key" if outer == OUTSIDE else "bolt",
    }  # fmt: skip
    edits = [
        Edit(("space",), lobby, "add"),
        Edit(("door", place, "between"), (inner, name)),
        Edit(("door",), door, "add"),
    ]
    if last.opens_into == outer:
        edits.append(Edit(("door", place, "opens_into"), name))
    return standing.change(
        f"build a lobby before the door from {inner} to {outer}, {length:g} mm long and "
        f"{height:g} mm high, with a second door", WAYS, edits,
        standing.prices.of("lobby"), STRUCTURE,
    )  # fmt: skip


@remedy("D102", "D109")
def enlarge_the_lobby(standing: Standing, finding: Finding) -> Iterator[Change]:
    """Make a lobby longer or higher."""
    limit = figure(finding)
    for space in standing.yard.space:
        if space.name != finding.fitting or limit is None:
            continue
        measured = figure(finding, "measured") or 0.0
        long = finding.code == "D109" or "opened before" in finding.why
        key, word = ("length_mm", "long") if long else ("height_mm", "high")
        now = space.length_mm if long else space.height_mm
        limit = float(up_mm(now + limit - measured))
        yield standing.change(
            f"{space.name}: make it {limit:g} mm {word}", ("D102",),
            [Edit(("space", space.name, key), limit)], standing.prices.of("lobby_larger"),
            STRUCTURE, (space.name,),
        )  # fmt: skip


@remedy("D103", "D104", "D105", "D108")
def mend_the_door(standing: Standing, finding: Finding) -> Iterator[Change]:
    """A spring, a lock, a latch, or a door hung to swing the other way."""
    for i, door in _own_doors(standing, finding):
        there = door.between[door.between[0] == standing.name]
        name = f"door to {there}"
        if finding.code == "D103":
            yield from _shut(standing, {i: door})
        if finding.code == "D104" and not door.opens_from_inside:
            latch = Edit(("door", i, "opens_from_inside"), True)
            words = f"{name}: fit a latch that works from both sides"
            yield _at_door(standing, words, [latch], "latch_door")
        if finding.code in ("D105", "D108") and door.opens_into == standing.name:
            turned = Edit(("door", i, "opens_into"), there)
            yield _at_door(standing, f"{name}: hang it to swing outwards", [turned], "rehang_door")


@remedy("D110", "D112", "N104")
def mend_the_ways_out(standing: Standing, finding: Finding) -> Iterator[Change]:
    """Springs, locks and latches on the doors between the unit and the open, one or all."""
    graph = doors_of(standing.yard.door)
    rooms, found = [standing.name], dict[int, Door]()
    for room in rooms:
        for door in graph.get(room, ()):
            found[next(i for i, one in enumerate(standing.yard.door) if one is door)] = door
            rooms += [one for one in door.between if one not in (*rooms, OUTSIDE)]
    if finding.code == "D112":
        yield from _shut(standing, found)
    for i, door in found.items():
        name = f"door from {door.between[0]} to {door.between[1]}"
        if finding.code == "D110" and not door.opens_from_inside:
            latch = Edit(("door", i, "opens_from_inside"), True)
            words = f"{name}: fit a latch that works from both sides"
            yield _at_door(standing, words, [latch], "latch_door")
        if finding.code == "N104" and door.locks in ("none", "bolt"):
            words = f"{name}: fit a lock with a key that opens freely from inside"
            edits = [Edit(("door", i, "locks"), "key")]
            yield _at_door(standing, words, edits, "lock_door")


def _shut(standing: Standing, doors: Mapping[int, Door]) -> Iterator[Change]:
    """A spring on a door, a bolt on it, or both."""
    for i, door in doors.items():
        name = f"door from {door.between[0]} to {door.between[1]}"
        spring, bolt = Edit(("door", i, "self_closing"), True), Edit(("door", i, "locks"), "bolt")
        if not door.self_closing:
            yield _at_door(standing, f"{name}: hang it on a spring", [spring], "spring_door")
        if door.locks == "none":
            yield _at_door(standing, f"{name}: give it a bolt", [bolt], "lock_door")
            if not door.self_closing:
                words = f"{name}: hang it on a spring and give it a bolt"
                cost = together(standing.prices.of("spring_door"), standing.prices.of("lock_door"))
                yield standing.change(words, ("D103", "D112"), [spring, bolt], cost, DOORS)


def _at_door(standing: Standing, words: str, edits: list[Edit], kind: str) -> Change:
    codes = ("D103", "D104", "D105", "D108", "D110", "D112", "N104")
    return standing.change(words, codes, edits, standing.prices.of(kind), DOORS)
