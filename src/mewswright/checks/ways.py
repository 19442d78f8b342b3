"""Doors and lobbies: two doors between every loose bird and the open air."""

from collections.abc import Iterator, Sequence

from mewswright.checks import asked
from mewswright.checks.asked import verdict
from mewswright.checks.case import Case
from mewswright.checks.doorways import door_to
from mewswright.checks.finding import Finding, Status
from mewswright.checks.registry import yard_check
from mewswright.checks.roof import is_open_to_the_sky
from mewswright.ground.doors import WayOut, doors_of, is_reachable, open_places, shortest_way_out
from mewswright.handbook import Rule
from mewswright.model.fitting import Perch
from mewswright.model.quantity import Quantity, millimetres
from mewswright.model.quarters import Quarters
from mewswright.model.ways import OUTSIDE, Door
from mewswright.model.yard import Yard

BY_DOOR = ("loft", "isolation")


def _needs_doors(case: Case) -> bool:
    return case.quarters.kind in BY_DOOR or bool(case.loose)


@yard_check("D101", "Two doors on every way out")
def two_doors(yard: Yard, cases: Sequence[Case]) -> Iterator[Finding]:
    """Whoever comes or goes, one door is shut between the bird and the open air."""
    graph = doors_of(yard.door)
    open_air = open_places(
        yard.space, (case.quarters.name for case in cases if is_open_to_the_sky(case))
    )
    for case in cases:
        if not _needs_doors(case):
            yield _exempt("D101", case)
            continue
        if case.quarters.name not in graph:
            yield verdict(
                "D101", case, False, "mind", measured=Quantity(value=0, unit="doors"),
                why="the file gives it no door", remedy="give its doors, and the lobby behind them",
            )  # fmt: skip
            continue
        way = shortest_way_out(case.quarters.name, graph, open_air)
        if way is None:
            yield verdict(
                "D101", case, True, "mind", measured=Quantity(value="no way out"),
            )  # fmt: skip
            continue
        yield _counted(case, way)


def _exempt(code: str, case: Case) -> Finding:
    sound = verdict(code, case, True, "mind", measured=Quantity(value=case.quarters.kind))
    told = "birds are tethered here: doors do not keep them"
    return sound.model_copy(update={"why": told})


def _counted(case: Case, way: WayOut) -> Finding:
    rule = asked.strictest(asked.asked(case, "doors_min"))
    rule = rule or asked.house_rule("doors_min")
    need = asked.number(rule)
    have = len(way.doors)
    return verdict(
        "D101", case, have >= need, "harm",
        measured=Quantity(value=have, unit="doors"), limit=Quantity(value=need, unit="doors"),
        why=f"{way.through}: a bird that slips past the keeper is gone",
        remedy=f"add a lobby with {need - have:g} more door"
        + ("" if way.rooms[-1] == OUTSIDE else f", or close in {way.rooms[-1]}"),
        sources=asked.of_rule(rule),
    )  # fmt: skip


@yard_check("D102", "Size of a lobby")
def lobby_size(yard: Yard, cases: Sequence[Case]) -> Iterator[Finding]:
    """One door can be shut before the next is opened, by a person who stands upright."""
    first: dict[str, Case] = {}
    graph = doors_of(yard.door)
    for case in cases:
        for door in graph.get(case.quarters.name, ()):
            for name in door.between:
                first.setdefault(name, case)
    for space in yard.space:
        if space.kind != "lobby":
            continue
        whose = first.get(space.name)
        for topic, found_mm, word in (
            ("lobby_depth_mm", space.length_mm, "longer"),
            ("lobby_height_mm", space.height_mm, "higher"),
        ):
            rule = asked.house_rule(topic)
            limit_mm = asked.number(rule)
            sound = asked.reaches(found_mm, limit_mm)
            yield Finding(
                code="D102", status="sound" if sound else "short",
                quarters=whose.quarters.name if whose else None, fitting=space.name,
                measured=millimetres(found_mm), limit=millimetres(limit_mm),
                why="" if sound else "the inner door is opened before the outer is shut"
                if word == "longer" else "a person cannot stand upright in it",
                remedy="" if sound else f"make it {millimetres(limit_mm - found_mm)} {word}",
                sources=asked.of_rule(rule),
            )  # fmt: skip


def _doors(yard: Yard, cases: Sequence[Case]) -> Iterator[tuple[Case, Door]]:
    """Doors of every quarters of a loose bird, or room for one."""
    graph = doors_of(yard.door)
    for case in cases:
        if _needs_doors(case):
            for door in graph.get(case.quarters.name, ()):
                yield case, door


def _door_name(case: Case, door: Door) -> str:
    return door_to(case.quarters.name, door)


@yard_check("D103", "Doors that shut and lock")
def shuts_and_locks(yard: Yard, cases: Sequence[Case]) -> Iterator[Finding]:
    """A door falls shut by itself, and is locked."""
    for case, door in _doors(yard, cases):
        rules = asked.named(case, "entry")
        wanted = [rule for rule in rules if _entry_missed(rule, door)]
        wanted.sort(key=lambda rule: asked.miss(rule) != "harm")
        locked = door.locks != "none"
        sound = not wanted and locked and door.self_closing
        lawful = bool(wanted) and asked.miss(wanted[0]) == "harm"
        missed: Status = "harm" if lawful else "short" if wanted or not locked else "mind"
        how = f"{'falls shut' if door.self_closing else 'must be pulled shut'}, lock: {door.locks}"
        yield verdict(
            "D103", case, sound, missed,
            measured=Quantity(value=how), fitting=_door_name(case, door),
            why="it stands ajar when hands are full" if not door.self_closing
            else "anybody, and any paw, opens it",
            remedy="hang it on a spring and give it a lock" if door.locks == "none"
            else "hang it on a spring",
            sources=asked.of_rule(*(wanted or rules))
            or asked.judgement("doors that shut and lock"),
        )  # fmt: skip


def _entry_missed(rule: Rule, door: Door) -> bool:
    """Whether a door falls short of what a rule says of doors in words."""
    shut = "self-closing" in rule.value and not door.self_closing
    locked = "lockable" in rule.value or "secures" in rule.value
    return shut or (locked and door.locks == "none")


@yard_check("D104", "A door that opens from inside")
def opens_from_inside(yard: Yard, cases: Sequence[Case]) -> Iterator[Finding]:
    """Whoever is shut in with the bird can get out."""
    for case, door in _doors(yard, cases):
        laws = [rule for rule in asked.named(case, "entry") if "from inside" in rule.value]
        yield verdict(
            "D104", case, door.opens_from_inside, asked.miss(laws[0]) if laws else "short",
            measured=Quantity(value="opens from inside" if door.opens_from_inside else "does not"),
            fitting=_door_name(case, door), why="a keeper who is shut in stays shut in",
            remedy="fit a latch that works from both sides",
            sources=asked.of_rule(*asked.of_standard("us-nc", "entry")),
        )  # fmt: skip


@yard_check("D105", "Room for the door to swing")
def swing(yard: Yard, cases: Sequence[Case]) -> Iterator[Finding]:
    """A door that swings into the room strikes no perch and no bath."""
    for case, door in _doors(yard, cases):
        q = case.quarters
        if door.opens_into != q.name or door.face is None or door.at_mm is None:
            continue
        struck = [
            f.name
            for f in q.fitting
            if isinstance(f, Perch) or f.kind in ("bath", "post")
            if _in_swing(q, door, getattr(f, "at_mm", None), getattr(f, "height_mm", 0.0))
        ]
        yield verdict(
            "D105", case, not struck, "short", measured=millimetres(door.width_mm),
            fitting=_door_name(case, door), why=f"it strikes {', '.join(struck)}",
            remedy="hang it to swing outwards, or move what it strikes",
            sources=asked.judgement("reach of a door that swings inwards"),
        )  # fmt: skip


def _in_swing(q: Quarters, door: Door, spot: object, height_mm: object) -> bool:
    """Whether a spot lies in the square that a door may sweep, hung on either side."""
    if not isinstance(spot, tuple) or not isinstance(height_mm, float):
        return False
    x, y = spot
    along, inward = {
        "front": (x, y),
        "back": (x, q.depth_mm - y),
        "left": (y, x),
        "right": (y, q.width_mm - x),
    }[door.face or "front"]
    low_enough = height_mm < door.sill_mm + door.height_mm
    half = door.width_mm / 2
    return low_enough and abs(along - (door.at_mm or 0)) < half and inward < door.width_mm


@yard_check("D107", "A way in from outside")
def way_in(yard: Yard, cases: Sequence[Case]) -> Iterator[Finding]:
    """The doors of the file lead from the room to the outside at all."""
    graph = doors_of(yard.door)
    for case in cases:
        if case.quarters.name not in graph:
            continue
        yield verdict(
            "D107", case, is_reachable(case.quarters.name, graph), "mind",
            measured=Quantity(value=len(graph[case.quarters.name]), unit="doors"),
            why="its doors lead nowhere: nobody can get to it from outside",
            remedy="give the door that leads outside",
            sources=asked.judgement("every room has a way in"),
        )  # fmt: skip
