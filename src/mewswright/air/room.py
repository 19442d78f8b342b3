"""A room as the hours ask for it: what it is made of, and what wind, sun and warmth do to it."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt
from typing import TYPE_CHECKING

from mewswright.air.change import GRAVITY, in_series_m2, pressure_share, through_flow
from mewswright.air.perch_wind import perch_winds
from mewswright.ground.lee import keeps_wind_off
from mewswright.ground.openness import side_area_m2, top_open_share
from mewswright.ground.rose import BINS, bearings_deg
from mewswright.ground.wind_faces import FaceWind, spot_speed
from mewswright.ground.windbreak import Shelter
from mewswright.handbook import sun_transmittance
from mewswright.handbook.air import air_figure
from mewswright.model.fitting import Side
from mewswright.model.quantity import m_from_mm
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

# Judgements, all of them, for thin wooden rooms over earth or a slab.
FLOOR_STORE = 1.0e5  # J for a kelvin and a square metre of floor, to the depth of a day's wave
BOARD_STORE = 1.5e4
INSIDE_FILM = 5.0  # W/m2 K between room and the surfaces in it
GROUND_U = 0.5  # W/m2 K into the ground, which is as warm as the last month's mean
SKY_FILM = 4.5  # W/m2 K to the sky through an open top
SKY_OF_SIDE = 0.25  # share of the sky that the floor sees through an open side
ROOF_LEAK = 0.2  # cracks of a roof, of those of boarded walls
LEVEL_SHARE = 0.05  # of A sqrt(g L dT / T) through a level opening; Brown and Solvason, from memory
KEPT_SUN = 0.8  # of the sun that comes in; the rest is thrown back out
OVER_ROOF_M = 0.3
LINED_U = 1.9  # W/m2 K of a boarded wall with sheets inside, from its layers


@dataclass(frozen=True)
class Opening:
    """A clear opening: which side (None = the top or a vent high up), area and span [m2, m]."""

    side: Side | None
    area_m2: float
    foot_m: float
    top_m: float


@dataclass(frozen=True, eq=False)
class Room:
    """What the hours need to know of one quarters.

    Attributes:
        quarters: Which.
        volume_m3: Clear volume.
        high_m: Mean clear height.
        openings: Where air passes.
        wind_flow: Air by bearing for 1 m/s 10 m up in the open [m3/s] (bins,).
        stack: Air for warmth, times the root of dT over T [m3/s].
        wall_w_k: Heat through each boarded side, for a kelvin.
        roof_w_k: The same of the roof.
        mass_w_k: Between the air and what is heavy in it.
        ground_w_k: From there into the ground.
        sky_w_k: From there to the sky.
        open_top_m2: Clear area of the open top.
        roof_m2: Area of the floor under the roof.
        store_j_k: Heat that floor and boards hold.
        roof_takes: Share of the sun that the roof takes up.
        roof_passes: Share of the sun that the roof lets through.
        sun_through: By which the sun through openings is less, as under a net [-].
        roof_wind: Wind over the roof by bearing, as a share of that 10 m up (bins,).
        perch_wind: The same at each perch (perches, bins).
    """

    quarters: Quarters
    volume_m3: float
    high_m: float
    openings: tuple[Opening, ...]
    wind_flow: "NDArray[np.float64]"
    stack: float
    wall_w_k: dict[Side, float]
    roof_w_k: float
    mass_w_k: float
    ground_w_k: float
    sky_w_k: float
    open_top_m2: float
    roof_m2: float
    store_j_k: float
    roof_takes: float
    roof_passes: float
    sun_through: float
    roof_wind: "NDArray[np.float64]"
    perch_wind: "NDArray[np.float64]"

    @property
    def open_m2(self) -> float:
        """Clear area of all openings, cracks left out."""
        return sum(one.area_m2 for one in self.openings)

    def open_side_m2(self, side: Side) -> float:
        """Clear area of one side."""
        return sum(one.area_m2 for one in self.openings if one.side == side)


@dataclass(frozen=True)
class Change:
    """What a help changes: shares of openings left, vents, and sun through openings."""

    side_left: float = 1.0
    top_left: float = 1.0
    vent_m2: float = 0.0
    sun_left: float = 1.0


AS_IT_IS = Change()


def room_of(
    quarters: Quarters,
    faces: Sequence[FaceWind],
    roof_wind: "NDArray[np.float64]",
    change: Change = AS_IT_IS,
) -> Room:
    """Gather a room; `quarters` has walls.

    Args:
        quarters: The quarters.
        faces: Its sides in the wind.
        roof_wind: Wind over its roof, from `wind_over_roof`.
        change: What a help alters.
    """
    q = quarters
    open_top = top_open_share(q)
    high_m = (q.volume_m3 or 0.0) / q.floor_area_m2
    openings = tuple(_openings(q, faces, open_top, change))
    flow, each = _flows(faces, openings, roof_wind)
    boarded = {face.side: _boarded_m2(q, face.side) for face in faces}
    joined = {face.side: face.joined is not None for face in faces}
    lined = q.frame.lining != "none"
    wall_u = LINED_U if lined else air_figure("u_wall").value
    roof_m2 = q.floor_area_m2 * (1 - open_top) if _has_cover(q) else 0.0
    inside_m2 = q.floor_area_m2 + sum(boarded.values()) + roof_m2
    side_m2 = sum(one.area_m2 for one in openings if one.side is not None)
    top_m2 = q.floor_area_m2 * open_top * change.top_left
    return Room(
        quarters=q,
        volume_m3=q.volume_m3 or 0.0,
        high_m=high_m,
        openings=openings,
        wind_flow=flow,
        stack=_stack(openings),
        wall_w_k={
            side: 0.0 if joined[side] else wall_u * area for side, area in boarded.items()
        },
        roof_w_k=_roof_u(q) * roof_m2,
        mass_w_k=INSIDE_FILM * inside_m2,
        ground_w_k=GROUND_U * q.floor_area_m2,
        sky_w_k=SKY_FILM * (top_m2 + SKY_OF_SIDE * min(side_m2, q.floor_area_m2)),
        open_top_m2=top_m2,
        roof_m2=roof_m2,
        store_j_k=FLOOR_STORE * q.floor_area_m2 + BOARD_STORE * (inside_m2 - q.floor_area_m2),
        roof_takes=_roof_takes(q),
        roof_passes=(
            sun_transmittance("polycarbonate").value
            if q.roof is not None and q.roof.cover == "polycarbonate"
            else 0.0
        ),
        sun_through=change.sun_left,
        roof_wind=roof_wind,
        perch_wind=perch_winds(q, faces, each, roof_wind, change.side_left, change.top_left),
    )  # fmt: skip


def wind_over_roof(yard: Yard, q: Quarters, shelter: Shelter) -> "NDArray[np.float64]":
    """Wind over the highest point of quarters, as a share of that 10 m up (bins,)."""
    up_m = m_from_mm(q.highest_mm) + OVER_ROOF_M
    spot = (*q.on_ground_m(q.width_mm / 2, q.depth_mm / 2), up_m)
    return spot_speed(yard, shelter, spot, q.name)


def _has_cover(q: Quarters) -> bool:
    return q.roof is not None and q.has_roof and q.roof.covered_share > 0


def _roof_u(q: Quarters) -> float:
    bare = q.roof is not None and q.roof.deck is None and q.roof.cover in ("corrugated", "felt")
    return air_figure("u_sheet" if bare else "u_roof").value


def _roof_takes(q: Quarters) -> float:
    dark = q.roof is not None and q.roof.cover in ("felt", "corrugated")
    if q.roof is not None and q.roof.cover == "polycarbonate":
        return 1 - sun_transmittance("polycarbonate").value
    return air_figure("sun_taken_felt" if dark else "sun_taken_boards").value


def _boarded_m2(q: Quarters, side: Side) -> float:
    assert q.faces is not None
    face = q.faces.side(side)
    whole = side_area_m2(q, side)
    if keeps_wind_off(face):
        return whole
    return whole - side_area_m2(q, side, face.upstand_mm)


def _openings(
    q: Quarters, faces: Sequence[FaceWind], open_top: float, change: Change
) -> "list[Opening]":
    """Sides, cracks of their boards, the open top, and vents."""
    assert q.faces is not None
    found = []
    top_m = m_from_mm(q.highest_mm)
    for face in faces:
        if face.joined is not None:
            continue
        cracks = _boarded_m2(q, face.side) * air_figure("leak_cm2_m2").value / 1e4
        foot_m = m_from_mm(q.faces.side(face.side).upstand_mm) if face.open_m2 > 0 else 0.0
        found.append(
            Opening(face.side, face.open_m2 * change.side_left + cracks, foot_m, face.top_m)
        )
    if open_top > 0:
        area = q.floor_area_m2 * open_top * change.top_left
        found.append(Opening(None, area, top_m, top_m))
    cracks = ROOF_LEAK * q.floor_area_m2 * (1 - open_top) * air_figure("leak_cm2_m2").value / 1e4
    vents = q.vent_cm2 / 1e4 + change.vent_m2 + cracks
    if vents > 0:
        found.append(Opening(None, vents, top_m, top_m))
    return found


def _flows(
    faces: Sequence[FaceWind], openings: Sequence[Opening], roof_wind: "NDArray[np.float64]"
) -> "tuple[NDArray[np.float64], dict[Side, NDArray[np.float64]]]":
    """Air by bearing for a wind of 1 m/s 10 m up, and that through each side (inwards positive)."""
    import numpy as np

    by_side = {face.side: face for face in faces}
    lee = air_figure("cp_lee").value
    pushes, single = [], np.zeros(BINS)
    for one in openings:
        if one.side is None:
            speed = roof_wind
            pushes.append(lee * speed**2)
        else:
            face = by_side[one.side]
            speed = face.speed
            pushes.append(pressure_share(bearings_deg() - face.looks_deg) * speed**2)
        # 0.025 A v for what one opening alone changes by the wind's unrest, whatever the rest do.
        alone = air_figure("single_sided_wind").value * one.area_m2 * speed
        single = np.maximum(single, alone)
    if not openings:
        return np.zeros(BINS), {}
    total, each = through_flow([one.area_m2 for one in openings], np.array(pushes))
    sides = {one.side: line for one, line in zip(openings, each, strict=True) if one.side}
    return np.maximum(total, single), sides


def _stack(openings: Sequence[Opening]) -> float:
    """Air for warmth: sqrt(dT / T) times this, by one opening or by low and high ones [m3/s]."""
    if not openings:
        return 0.0
    discharge = air_figure("discharge").value
    foot, top = min(o.foot_m for o in openings), max(o.top_m for o in openings)
    area = sum(o.area_m2 for o in openings)
    divisor = air_figure("single_sided_stack_divisor").value
    one = discharge * area / divisor * sqrt(GRAVITY * max(0.0, top - foot))
    high = [o for o in openings if o.side is None]
    low = [o for o in openings if o.side is not None]
    over = sum(o.area_m2 for o in high)
    one = max(one, LEVEL_SHARE * over * sqrt(GRAVITY * sqrt(over)))
    if not high or not low:
        return one
    rise = top - sum(o.area_m2 * (o.foot_m + o.top_m) / 2 for o in low) / max(
        sum(o.area_m2 for o in low), 1e-9
    )
    between = in_series_m2(sum(o.area_m2 for o in low), over)
    return max(one, discharge * between * sqrt(2 * GRAVITY * max(0.0, rise)))
