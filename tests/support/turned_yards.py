"""The same yard written down another way: shuffled, in the mirror, or turned and shifted.

A mirror leaves north and south where they are and swaps east and west, so that left and right
of every quarters change places too.
"""

import re
from collections import Counter
from collections.abc import Iterable
from math import cos, radians, sin
from random import Random
from typing import Any

from mewswright.checks.finding import Finding
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard

OTHER = {"left": "right", "right": "left"}
BEARINGS = ("looks_deg", "lean_deg")
Told = Counter[tuple[str, ...]]


def shuffled(yard: Yard, seed: int) -> Yard:
    """Tables and fittings in another order."""
    tables, draw = yard.model_dump(), Random(seed)
    for key in ("feature", "bird", "quarters", "space", "door", "stay", "wind_rose"):
        tables[key] = draw.sample(tables[key], len(tables[key]))
    for quarters in tables["quarters"]:
        quarters["fitting"] = draw.sample(quarters["fitting"], len(quarters["fitting"]))
    return Yard.model_validate(tables)


def mirrored(yard: Yard) -> Yard:
    """The yard as a mirror shows it that stands along the meridian."""
    tables = yard.model_dump()
    _move_ground(tables, lambda point: (-point[0], point[1]), lambda deg: -deg % 360)
    sizes = {}
    for place, raw in zip(yard.quarters, tables["quarters"], strict=True):
        sizes[place.name] = place.width_mm
        raw |= _mirrored_quarters(place)
    for raw in tables["door"]:
        inside = next((name for name in raw["between"] if name in sizes), None)
        if raw["face"] in ("front", "back") and raw["at_mm"] is not None and inside:
            raw["at_mm"] = sizes[inside] - raw["at_mm"]
        raw["face"] = OTHER.get(raw["face"], raw["face"])
    return Yard.model_validate(tables)


def _mirrored_quarters(place: Quarters) -> dict[str, Any]:
    raw = place.model_dump()
    east, north = place.on_ground_m(place.width_mm, 0)
    raw |= {"at_m": (-east, north), "facing_deg": -place.facing_deg % 360}
    if raw["faces"] is not None:
        faces = raw["faces"]
        faces["left"], faces["right"] = faces["right"], faces["left"]
    for one in raw["fitting"]:
        if one["kind"] != "hatch":
            one["at_mm"] = (place.width_mm - one["at_mm"][0], one["at_mm"][1])
        elif one["face"] in OTHER:
            one["face"] = OTHER[one["face"]]
        else:
            one["at_mm"] = place.width_mm - one["at_mm"]
        if "turn_deg" in one:
            one["turn_deg"] = -one["turn_deg"]
    return raw


def turned(yard: Yard, by_deg: float, shift_m: tuple[float, float] = (0, 0)) -> Yard:
    """The yard turned clockwise about its origin, with the wind, and then shifted."""
    tables = yard.model_dump()
    cosine, sine = cos(radians(by_deg)), sin(radians(by_deg))

    def point(at: tuple[float, float]) -> tuple[float, float]:
        east, north = at
        return (
            east * cosine + north * sine + shift_m[0],
            -east * sine + north * cosine + shift_m[1],
        )

    _move_ground(tables, point, lambda deg: (deg + by_deg) % 360)
    for raw in tables["quarters"]:
        raw["at_m"] = point(raw["at_m"])
        raw["facing_deg"] = (raw["facing_deg"] + by_deg) % 360
    return Yard.model_validate(tables)


def _move_ground(tables: dict[str, Any], point: Any, bearing: Any) -> None:
    tables["yard"]["boundary_m"] = [point(at) for at in tables["yard"]["boundary_m"]]
    for one in tables["feature"]:
        if one["at_m"] is not None:
            one["at_m"] = point(one["at_m"])
        for key in ("line_m", "outline_m"):
            if one[key] is not None:
                one[key] = [point(at) for at in one[key]]
        for key in BEARINGS:
            if one[key] is not None:
                one[key] = bearing(one[key])
    for sector in tables["wind_rose"]:
        sector["from_deg"] = bearing(sector["from_deg"])


def told(
    findings: Iterable[Finding], without: Iterable[str] = (), swap_sides: bool = False
) -> Told:
    """What findings say, whatever their order: code, status, subject and measured.

    Args:
        findings: The findings.
        without: Codes to leave out.
        swap_sides: True to call the left of the file the right, for a mirror.
    """
    return Counter(
        (
            f.code, f.status, f.quarters or "", f.bird or "",
            *(_listed(word, swap_sides) for word in (f.fitting or "", _figure(f))),
        )
        for f in findings
        if f.code not in set(without)
    )  # fmt: skip


def _listed(name: str, swap_sides: bool) -> str:
    """Left for right where it is asked; of several things that are listed, in one order."""
    if swap_sides:
        name = re.sub(r"\b(left|right)\b", lambda found: OTHER[found.group()], name)
    return " and ".join(sorted(name.split(" and ")))


def _figure(finding: Finding) -> str:
    """What was measured, to two digits; a little is added so that no half is rounded apart."""
    if finding.measured is None:
        return ""
    value = finding.measured.value
    value = value + 0.000_271 if isinstance(value, float) else value
    return f"{round(value, 2) + 0.0:.2f}" if isinstance(value, float) else value  # no -0.00
