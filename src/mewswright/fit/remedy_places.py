"""Where a perch, bath or shelf could stand instead: places tried one by one.

Steps along the four axes find the shortest move, a coarse grid finds the rest of the room.
Each place is judged by all checks of the unit; the best few are offered.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import hypot
from typing import Any

from pydantic import ValidationError

from mewswright.checks.finding import Finding
from mewswright.fit.remedy import Standing, alone
from mewswright.model.fitting import Bath, Perch, Shelf, Upright
from mewswright.model.quarters import Quarters

STEPS_MM = (50, 100, 150, 200, 300, 400, 550, 700, 900, 1200, 1600, 2100, 2800, 3600)
GRID = 6  # rows and columns of places over the floor
BEST = 3  # places that are offered
NOT_BY_PLACE = ("P109", "T104")  # a number of perches, and the height of the room
Movable = Perch | Bath | Shelf | Upright


@dataclass(frozen=True)
class Place:
    """Where a fitting would stand, what else would change, and what is then wrong."""

    keys: tuple[tuple[str, Any], ...]
    mm: float
    harms: int
    shorts: int
    of_its_place: int = 0  # those of them that the place of a new fitting may decide

    @property
    def rank(self) -> tuple[int, int, int, float]:
        """Fewest faults first, then fewest keys to change, then the shortest way."""
        return self.harms, self.shorts, len(self.keys), self.mm


def places(
    standing: Standing,
    fitting: Movable,
    heights_mm: Sequence[float] = (),
    turns_deg: Sequence[float] = (),
    least_mm: Sequence[float] = (),
) -> tuple[Place, ...]:
    """Give the best places for a fitting that stands in the unit or is to come.

    Args:
        standing: The unit.
        fitting: The fitting; where it stands now costs no move.
        heights_mm: Other heights to try, beside the present one.
        turns_deg: Other directions to try, beside the present one.
        least_mm: Distances to try along the axes, such as those that a remedy names.

    Returns:
        At most three, best first; the present place is not among them.
    """
    return _places(standing, fitting, tuple(heights_mm), tuple(turns_deg), tuple(least_mm))


@lru_cache(maxsize=256)
def _places(
    standing: Standing,
    fitting: Movable,
    heights_mm: tuple[float, ...],
    turns_deg: tuple[float, ...],
    least_mm: tuple[float, ...],
) -> tuple[Place, ...]:
    q = standing.quarters
    old = getattr(fitting, "height_mm", None)
    heights = [old, *(h for h in heights_mm if h > 0 and h != old)]
    turn = getattr(fitting, "turn_deg", None)
    turns = [turn, *(t for t in turns_deg if t != turn)]
    options = [(height, at_turn) for height in heights for at_turn in turns]
    found: list[Place] = []
    clean = _others(standing, fitting)
    # Ring by ring, and then the grid, which is for rooms where no short move does.
    for spots in (*_rings(q, fitting, least_mm), _grid(q)):
        for spot in spots:
            for height, at_turn in options:
                keys: dict[str, Any] = {}
                if spot != fitting.at_mm:
                    keys["at_mm"] = spot
                if height != old:
                    keys["height_mm"] = height
                if at_turn != turn:
                    keys["turn_deg"] = at_turn
                place = _tried(standing, fitting, keys) if keys else None
                if place is not None:
                    found.append(place)
        if any(_is_good(place, clean) for place in found):
            break
    return tuple(sorted(found, key=lambda place: place.rank)[:BEST])


def _is_good(place: Place, clean: tuple[int, int] | None) -> bool:
    """No place can be much better, so that the search for one may end."""
    if clean is None:  # a room too small, or the next perch that is missing, no place cures
        return place.of_its_place == 0
    return place.harms <= clean[0] and place.shorts <= clean[1]


def _others(standing: Standing, fitting: Movable) -> tuple[int, int] | None:
    """Harm and short that do not speak of the fitting: what no move of it need cure.

    None for a fitting that is to come.
    """
    if fitting not in standing.quarters.fitting:
        return None
    found = [
        finding
        for finding in alone(standing, standing.quarters)
        if finding.fitting != fitting.name and fitting.name not in finding.why
    ]
    return _count(found, "harm"), _count(found, "short")


def _rings(
    q: Quarters, fitting: Movable, least_mm: Sequence[float]
) -> list[list[tuple[float, float]]]:
    """Places along the four axes, in rings from the present place outwards."""
    x, y = fitting.at_mm
    steps = sorted({*STEPS_MM, *(round(mm) for mm in least_mm if mm > 0)})
    rings: list[list[tuple[float, float]]] = [[(x, y)]]
    for step in steps:
        ring = [(x + step, y), (x - step, y), (x, y + step), (x, y - step)]
        rings.append([at for at in ring if 0 < at[0] < q.width_mm and 0 < at[1] < q.depth_mm])
    return rings


def _grid(q: Quarters) -> list[tuple[float, float]]:
    """Places spread over the floor, to the centimetre."""

    def along(size_mm: float) -> list[float]:
        return [round(size_mm * (i + 0.5) / GRID / 10) * 10.0 for i in range(GRID)]

    return [(x, y) for x in along(q.width_mm) for y in along(q.depth_mm)]


def _tried(standing: Standing, fitting: Movable, keys: dict[str, Any]) -> Place | None:
    after = with_fitting(standing.quarters, fitting, keys)
    if after is None:
        return None
    findings = alone(standing, after)
    spot = keys.get("at_mm", fitting.at_mm)
    mm = hypot(spot[0] - fitting.at_mm[0], spot[1] - fitting.at_mm[1])
    mm += abs(keys.get("height_mm", 0) - getattr(fitting, "height_mm", 0)) * (
        "height_mm" in keys
    )  # fmt: skip
    harms, shorts = _count(findings, "harm"), _count(findings, "short")
    return Place(tuple(keys.items()), mm, harms, shorts, _of_its_place(findings, fitting))


def _of_its_place(findings: Sequence[Finding], fitting: Movable) -> int:
    letters = "WPLT" if isinstance(fitting, Bath) else "PLT"
    return sum(
        finding.status in ("harm", "short")
        and finding.code[0] in letters
        and finding.code not in NOT_BY_PLACE
        and (not isinstance(fitting, Bath) or finding.fitting == fitting.name
             or fitting.name in finding.why or finding.code[0] == "W")
        for finding in findings
    )  # fmt: skip


def _count(findings: Sequence[Finding], status: str) -> int:
    return sum(finding.status == status for finding in findings)


def with_fitting(quarters: Quarters, fitting: Movable, keys: dict[str, Any]) -> Quarters | None:
    """Give the unit with a fitting changed, or added if it has none of its name."""
    data = quarters.model_dump()
    new = fitting.model_dump() | keys
    rows = [new if one["name"] == fitting.name else one for one in data["fitting"]]
    if new not in rows:
        rows.append(new)
    try:
        return Quarters.model_validate(data | {"fitting": rows})
    except ValidationError:
        return None


def told(place: Place, fitting: Movable, say: Callable[[float], str] = "{:g}".format) -> str:
    """Say how a fitting gets to a place: moved, lowered, raised, turned."""
    keys = dict(place.keys)
    parts: list[str] = []
    if "at_mm" in keys:
        parts.append(" and ".join(_moves(fitting.at_mm, keys["at_mm"], say)))
    old = getattr(fitting, "height_mm", 0.0)
    if "height_mm" in keys:
        way = "lower" if keys["height_mm"] < old else "raise"
        by = say(abs(keys["height_mm"] - old))
        parts.append(f"{way} it {by} mm, to {say(keys['height_mm'])} mm")
    if "turn_deg" in keys:
        way = "along the front" if keys["turn_deg"] == 0 else "front to back"
        parts.append(f"turn it to run {way}")
    return ", and ".join(parts)


def _moves(
    old: tuple[float, float], new: tuple[float, float], say: Callable[[float], str]
) -> Iterator[str]:
    for i, (low, high) in enumerate((("left", "right"), ("front", "back"))):
        by = new[i] - old[i]
        if by:
            start = "move it " if i == 0 or old[0] == new[0] else ""
            yield f"{start}{say(abs(by))} mm towards the {high if by > 0 else low}"
