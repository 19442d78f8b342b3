"""What wind each side of quarters meets, by bearing, as shares of the open wind 10 m up.

Three places along a side are asked for their shelter, just outside it and half way up its open
part. A side that stands against a neighbour, a building or a corridor meets no wind.
"""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from mewswright.ground.lee import looks_deg
from mewswright.ground.openness import face_open_share, side_area_m2
from mewswright.ground.rose import bearings_deg
from mewswright.ground.windbreak import NOTHING, Lee, Shelter, height_share, terrain_of
from mewswright.model.fitting import Side
from mewswright.model.quantity import m_from_mm
from mewswright.model.quarters import SIDES, Quarters
from mewswright.model.yard import Yard

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

OUT_MM = 150.0  # past its own wall
ALONG = (1 / 6, 1 / 2, 5 / 6)
PITCH_UP_M = 0.5  # where a bird on a lawn sits


@dataclass(frozen=True, eq=False)
class FaceWind:
    """One side in the wind.

    Attributes:
        side: Which.
        looks_deg: Bearing that it looks towards.
        open_share: Open share of the side above its upstand [-].
        open_m2: Open area [m2].
        top_m: Height of the top of its open part [m].
        joined: What it stands against, if anything.
        left: Share of the open wind at that height that windbreaks leave (bins,).
        speed: Wind along each bearing at the side, as a share of that 10 m up (bins,).
        into: Part of it that blows square into the side (bins,).
        by: Names of what shelters it, with the share that each takes of what
            would blow square into it, were all bearings alike [-].
    """

    side: Side
    looks_deg: float
    open_share: float
    open_m2: float
    top_m: float
    joined: str | None
    left: "NDArray[np.float64]"
    speed: "NDArray[np.float64]"
    into: "NDArray[np.float64]"
    by: tuple[tuple[str, float], ...]


def face_winds(yard: Yard, quarters: Quarters, shelter: Shelter) -> tuple[FaceWind, ...]:
    """The four sides of quarters in the wind; none for a pitch."""
    if quarters.faces is None:
        return ()
    return tuple(_face(yard, quarters, shelter, side) for side in SIDES)


def spot_speed(
    yard: Yard, shelter: Shelter, spot: tuple[float, float, float], own: str
) -> "NDArray[np.float64]":
    """Wind at a place in the open, as a share of that 10 m up (bins,).

    Args:
        yard: The yard.
        shelter: Its windbreaks.
        spot: East, north and up [m].
        own: Name of what the spot belongs to.
    """
    told: NDArray[np.float64] = shelter.lee([spot], own).left[0] * height_share(
        spot[2], terrain_of(yard)
    )
    return told


def _face(yard: Yard, q: Quarters, shelter: Shelter, side: Side) -> FaceWind:
    import numpy as np

    assert q.faces is not None
    face = q.faces.side(side)
    top_mm = {"front": q.front_height_mm, "back": q.back_height_mm}.get(side, q.highest_mm) or 0.0
    foot_mm = min(face.upstand_mm, top_mm)
    up_m = m_from_mm((foot_mm + top_mm) / 2)
    looks = looks_deg(q, side)
    joined = _joined(yard, q, side, shelter)
    share = face_open_share(face)
    square = np.clip(np.cos(np.radians(bearings_deg() - looks)), 0, None)
    if joined is not None:
        left = np.zeros(len(bearings_deg()))
        by: tuple[tuple[str, float], ...] = ()
    else:
        lee = shelter.lee([(*spot, up_m) for spot in _spots(q, side)], q.name)
        left, by = lee.left.mean(axis=0), _breakers(lee, square)
    speed = left * height_share(up_m, terrain_of(yard))
    return FaceWind(
        side=side,
        looks_deg=looks,
        open_share=share,
        open_m2=share * side_area_m2(q, side, face.upstand_mm),
        top_m=m_from_mm(top_mm),
        joined=joined,
        left=left,
        speed=speed,
        into=speed * square,
        by=by,
    )


def _spots(q: Quarters, side: Side) -> list[tuple[float, float]]:
    w, d = q.width_mm, q.depth_mm
    places = {
        "front": [(w * a, -OUT_MM) for a in ALONG],
        "back": [(w * a, d + OUT_MM) for a in ALONG],
        "left": [(-OUT_MM, d * a) for a in ALONG],
        "right": [(w + OUT_MM, d * a) for a in ALONG],
    }
    return [q.on_ground_m(x, y) for x, y in places[side]]


def _joined(yard: Yard, q: Quarters, side: Side, shelter: Shelter) -> str | None:
    """What stands against a side: the next unit of its row, its corridor, or whatever is there."""
    for row in yard.row:
        if q.name not in row.quarters:
            continue
        if side == "back" and row.corridor_mm is not None:
            return row.corridor_name
        at = row.quarters.index(q.name)
        if side == "left" and at > 0:
            return row.quarters[at - 1]
        if side == "right" and at + 1 < len(row.quarters):
            return row.quarters[at + 1]
    over = [shelter.inside_of(spot, q.name) for spot in _spots(q, side)]
    return over[len(over) // 2] if all(over) else None


def _breakers(lee: Lee, square: "NDArray[np.float64]") -> tuple[tuple[str, float], ...]:
    """What takes wind away, the most first: its share of what would blow square into a side."""
    import numpy as np

    taken: dict[str, float] = {}
    for row in range(len(lee.by)):
        lost = (1 - lee.left[row]) * square / square.sum() / len(lee.by)
        for index in set(lee.by[row].tolist()) - {NOTHING}:
            name = lee.names[index]
            taken[name] = taken.get(name, 0.0) + float(
                np.where(lee.by[row] == index, lost, 0).sum()
            )
    return tuple(sorted(taken.items(), key=lambda item: (-item[1], item[0])))
