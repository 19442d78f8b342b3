"""Do what the remedy of a finding says, to the letter, and give the yard as it is then.

Every sentence of these checks is either done here or stands in `ADVICE`, which no rule of
ours can carry out: nothing else may be said.
"""

import re
from collections.abc import Callable
from math import hypot
from typing import Any

from shapely.affinity import translate
from shapely.geometry import LineString, Point, box
from shapely.ops import nearest_points

from mewswright.build.room import ledge_plan
from mewswright.checks.finding import Finding
from mewswright.model.quarters import Quarters, perch_ends_mm

Spot = tuple[float, float]
STEP: dict[str, Spot] = {"left": (-1, 0), "right": (1, 0), "front": (0, -1), "back": (0, 1)}
AWAY = {"left": "right", "right": "left", "front": "back", "back": "front"}
ADVICE = (
    r"measure its longest tail feather and give tail_mm",
    r"take away it or .+: the room has no place for both",
    r"give frame\.post_count",
    r"tie the bird shorter, or keep it elsewhere",
    r"take it out, or tie the bird shorter",
    r"take it away, or set .+ or .+ elsewhere",
)


class Changed:
    """Quarters as a table that can be changed, and one of its fittings."""

    def __init__(self, quarters: Quarters) -> None:
        self.place = quarters.model_dump()

    def fitting(self, name: str) -> dict[str, Any]:
        return next(f for f in self.place["fitting"] if f["name"] == name)

    def move(self, name: str, by: Spot) -> None:
        one = self.fitting(name)
        one["at_mm"] = (one["at_mm"][0] + by[0], one["at_mm"][1] + by[1])

    def done(self) -> Quarters:
        return Quarters.model_validate(self.place)


def carried_out(quarters: Quarters, finding: Finding, perch: str | None = None) -> Quarters | None:
    """The quarters after the first remedy that a finding names.

    Args:
        quarters: As they are.
        finding: One that is not sound.
        perch: The perch that a bird is tied to, where the finding is of its circle.

    Returns:
        The quarters changed; None for a sentence of `ADVICE`.

    Raises:
        ValueError: Where the room has no place for what is asked, or the fitting.
        AssertionError: For a sentence that is in no list.
    """
    if any(re.fullmatch(one, finding.remedy) for one in ADVICE):
        return None
    for pattern, act in RULES:
        if found := re.fullmatch(pattern, finding.remedy):
            changed = Changed(quarters)
            act(changed, finding, perch or finding.fitting or "", found)
            return changed.done()
    raise AssertionError(f"nobody can do this: {finding.code} {finding.remedy!r}")


def _raise_or_lower(to: Changed, finding: Finding, _: str, found: re.Match[str]) -> None:
    by = int(found["by"]) * (1 if found["way"] == "raise" else -1)
    to.fitting(finding.fitting or "")["height_mm"] += by


def _raise_roof(to: Changed, _f: Finding, _p: str, found: re.Match[str]) -> None:
    for key in ("front_height_mm", "back_height_mm"):
        to.place[key] += int(found["by"])


def _towards(to: Changed, finding: Finding, _: str, found: re.Match[str]) -> None:
    dx, dy = STEP[found["side"]]
    to.move(finding.fitting or "", (dx * int(found["by"]), dy * int(found["by"])))


def _away_from_walls(to: Changed, finding: Finding, _: str, found: re.Match[str]) -> None:
    """Larger first, with the perch in the middle of that way, then off the walls that are told."""
    name = finding.fitting or ""
    for grown in re.finditer(r"make the room (\d+) mm (wider|deeper)", found.string):
        _grow(to, grown[2], int(grown[1]))
        _set_middle(to, name, grown[2])
    for moved in re.finditer(r"(\d+) mm away from the (\w+)", found.string):
        dx, dy = STEP[AWAY[moved[2]]]
        to.move(name, (dx * int(moved[1]), dy * int(moved[1])))


def _grow(to: Changed, word: str, by: int) -> None:
    to.place["width_mm" if word == "wider" else "depth_mm"] += by


def _set_middle(to: Changed, name: str, word: str) -> None:
    x, y = to.fitting(name)["at_mm"]
    middle = to.place["width_mm"] / 2, to.place["depth_mm"] / 2
    to.fitting(name)["at_mm"] = (middle[0], y) if word == "wider" else (x, middle[1])


def _circle_off_a_side(to: Changed, _: Finding, perch: str, found: re.Match[str]) -> None:
    dx, dy = STEP[AWAY[found["side"]]]
    to.move(perch, (dx * int(found["by"]), dy * int(found["by"])))


def _circle_in_a_larger_room(to: Changed, _: Finding, perch: str, found: re.Match[str]) -> None:
    _grow(to, found["word"], int(found["by"]))
    x, y = to.fitting(perch)["at_mm"]
    if found["side"] is None:
        _set_middle(to, perch, found["word"])
        return
    edge = {"front": (x, 0.0), "left": (0.0, y), "back": (x, to.place["depth_mm"]),
            "right": (to.place["width_mm"], y)}  # fmt: skip
    to.fitting(perch)["at_mm"] = edge[found["side"]]


def _farther(to: Changed, finding: Finding, perch: str, found: re.Match[str]) -> None:
    """Straight away from the other thing, until the gap between them has grown so much.

    Where that leads out of the room, to a corner of it that is as far. A bird is tied in the
    middle of its perch. A hatch slides along its face.
    """
    moved, fixed = finding.fitting or "", found["other"]
    quarters = Quarters.model_validate(to.place)
    one, tied = to.fitting(moved), fixed == perch
    here = _core(quarters, moved)
    there = Point(to.fitting(perch)["at_mm"]) if tied else _core(quarters, fixed)
    thick = _thick(one) if tied else 0.0  # from bar to bar it is measured between their middles
    wanted = max(here.distance(there), thick) + int(found["by"])
    if one["kind"] == "hatch":
        run = to.place["width_mm" if one["face"] in ("front", "back") else "depth_mm"]
        for one["at_mm"] in (0.0, run):
            if _core(Quarters.model_validate(to.place), moved).distance(there) >= wanted - 1e-3:
                return
        raise ValueError("the face has no place for it")
    dx, dy = _line_away(here, there)
    low, high = 0.0, wanted + 20_000.0
    for _ in range(60):
        middle = (low + high) / 2
        if translate(here, dx * middle, dy * middle).distance(there) < wanted:
            low = middle
        else:
            high = middle
    x, y = one["at_mm"]
    _set_where_it_fits(
        to, moved, (x + dx * high, y + dy * high),
        lambda at: translate(here, at[0] - x, at[1] - y).distance(there) >= wanted - 1e-3,
    )  # fmt: skip


def _thick(one: dict[str, Any]) -> float:
    """How thick a round fitting is about its core: half of what it measures across."""
    if one["kind"] == "perch" and one["form"] in ("flat", "shelf"):
        return float(one["width_mm"]) / 2
    return float(one.get("diameter_mm") or 0) / 2


def _line_away(here: Any, there: Any) -> Spot:
    a, b = nearest_points(here, there)
    if here.distance(there) < 1e-6:  # they touch: from middle to middle, or along the front
        a, b = here.centroid, there.centroid
    dx, dy = a.x - b.x, a.y - b.y
    long = hypot(dx, dy)
    return (dx / long, dy / long) if long > 1e-6 else (1.0, 0.0)


def _core(quarters: Quarters, name: str) -> Any:
    """A fitting in plan, without the thickness of a round one."""
    one = next(f for f in quarters.fitting if f.name == name)
    if one.kind == "perch":
        a, b = perch_ends_mm(one)
        return LineString([a, b]) if a != b else Point(a)
    if one.kind == "hatch":
        return box(*(ledge_plan(quarters, one) or (0, 0, 0, 0)))
    x, y = one.at_mm
    if one.kind == "bath" and one.diameter_mm is not None:
        return Point(x, y)
    wide, deep = {
        "bath": lambda f: (f.width_mm, f.length_mm),
        "post": lambda f: (f.size_mm, f.size_mm),
        "shelf": lambda f: (f.length_mm, f.width_mm),
        "nest_box": lambda f: (f.length_mm, f.width_mm),
    }.get(one.kind, lambda _: (0.0, 0.0))(one)
    return box(x - wide / 2, y - deep / 2, x + wide / 2, y + deep / 2)


def _off_a_post(to: Changed, finding: Finding, perch: str, found: re.Match[str]) -> None:
    """A post of the frame in the front: from the left corner, the right, or one between."""
    name, width = finding.fitting or "", to.place["width_mm"]
    number = re.search(r"\d+$", name)
    step = width / (to.place["frame"]["post_count"] - 1) if number else 0.0
    post_x = step * (int(number[0]) - 1) if number else 0.0 if name.startswith("left") else width
    x, y = to.fitting(perch)["at_mm"]
    away, by = hypot(x - post_x, y), int(found["by"])
    dx, dy = ((x - post_x) / away, y / away) if away else (0.0, 1.0)
    _set_where_it_fits(
        to, perch, (x + dx * by, y + dy * by),
        lambda spot: hypot(spot[0] - post_x, spot[1]) >= away + by - 1e-3,
    )  # fmt: skip


def _set_where_it_fits(to: Changed, name: str, wanted: Spot, far: Callable[[Spot], bool]) -> None:
    """Where it is wanted; outside the room that is no place, so else in a corner as far off."""
    width, depth = to.place["width_mm"], to.place["depth_mm"]
    corners = [(x, y) for x in (0.0, width) for y in (0.0, depth)]
    for spot in (wanted, *corners):
        if 0 <= spot[0] <= width and 0 <= spot[1] <= depth and far(spot):
            to.fitting(name)["at_mm"] = spot
            return
    raise ValueError("the room has no place for it")


def _circle_off_an_edge(to: Changed, _: Finding, perch: str, found: re.Match[str]) -> None:
    _grow(to, found["word"], int(found["by"]))
    x, y = to.fitting(perch)["at_mm"]
    off = int(found["off"])
    to.fitting(perch)["at_mm"] = {
        "front": (x, off), "back": (x, to.place["depth_mm"] - off),
        "left": (off, y), "right": (to.place["width_mm"] - off, y),
    }[found["side"]]  # fmt: skip


def _room_to_land(to: Changed, finding: Finding, _: str, found: re.Match[str]) -> None:
    """The wall on its freer side set back, the rest of the room left where it is."""
    one, by = to.fitting(finding.fitting or ""), int(found["by"])
    if one["turn_deg"] % 90 or len(to.place["fitting"]) > 1:
        raise ValueError("what ends the way may be another thing, or a wall that is met aslant")
    x, y = one["at_mm"]
    sides = {"front": y, "back": to.place["depth_mm"] - y}
    if one["turn_deg"] % 180 == 90:
        sides = {"left": x, "right": to.place["width_mm"] - x}
    side = max(sides, key=lambda name: sides[name])
    _grow(to, "deeper" if side in ("front", "back") else "wider", by)
    if side in ("front", "left"):
        dx, dy = STEP[AWAY[side]]
        for fitting in to.place["fitting"]:
            to.move(fitting["name"], (dx * by, dy * by))


Act = Callable[[Changed, Finding, str, "re.Match[str]"], None]
MM = r"(?P<by>\d+) mm"
SIDE = r"(?P<side>front|back|left|right)"
WALLS = r"\d+ mm away from the (?:front|back wall|left wall|right wall)"
GROWN = r"make the room \d+ mm (?:wider|deeper) and set it in the middle"
RULES: tuple[tuple[str, Act], ...] = (
    (rf"(?P<way>raise|lower) it {MM}(, or set a lower perch on the way)?", _raise_or_lower),
    (rf"raise the whole roof {MM}", _raise_roof),
    (rf"move it {MM} towards the {SIDE}(, or move .+)?", _towards),
    (rf"(?:{GROWN}(?:, and )?)*(?:move it {WALLS}(?: and {WALLS})*)?", _away_from_walls),
    (rf"set it {MM} farther from (?P<other>.+)", _farther),
    (rf"move it {MM} away from the perch (?P<other>.+)", _farther),
    (rf"move the perch {MM} away from the (?:open )?{SIDE} (?:face|edge of the pitch)",
     _circle_off_a_side),
    (rf"make it {MM} (?P<word>wider|deeper) and set the perch (?:in the middle|at the open {SIDE} "
     r"face), or tie it shorter", _circle_in_a_larger_room),
    (rf"make it {MM} (?P<word>wider|deeper) and set the perch (?P<off>\d+) mm from the (?:open )?"
     rf"{SIDE} (?:face|edge of the pitch), or tie it shorter", _circle_off_an_edge),
    (rf"move the perch {MM} away from it", _off_a_post),
    (rf"free {MM} more before one side of it, or turn it", _room_to_land),
)  # fmt: skip
