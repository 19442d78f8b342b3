"""How much of a room stands open to the air, and how much it takes on a still day.

Areas are clear areas: what bars, slats, wires and a second skin leave free. Doors and
hatches count as shut, and a vent of `vent_cm2` counts whole.
"""

from itertools import pairwise

from mewswright.handbook import mesh_kind
from mewswright.model.fitting import Side
from mewswright.model.quantity import m_from_mm
from mewswright.model.quarters import SIDES, Face, Layer, Quarters

CM2_PER_M2 = 10_000
SECONDS_PER_H = 3600
# Kinds of the handbook whose solid share stands in where no thickness of wire or bar is given.
STAND_IN = {
    "barred": "vertical_bars", "slatted": "vertical_slats", "meshed": "welded",
    "netted": "knotted_net", "woven": "welded",
}  # fmt: skip


def open_share(infill: str, gap_mm: float | None, bar_mm: float | None, mesh: str | None) -> float:
    """Share of an infill that is open [-], 0 boarded to 1 open.

    Args:
        infill: What it is: boarded, barred, slatted, meshed, netted or open.
        gap_mm: Clear gap [mm].
        bar_mm: Thickness of a bar, slat or wire [mm]; None = the handbook's solid share.
        mesh: Kind of mesh or net, where it is one.

    Source:
        Geometry: gap / pitch for bars, its square for a mesh that is as wide as high.
    """
    if infill in ("boarded", "open"):
        return 1.0 if infill == "open" else 0.0
    if gap_mm is not None and bar_mm is not None:
        along = gap_mm / (gap_mm + bar_mm)
        return along**2 if infill in ("meshed", "netted") else along
    kind = STAND_IN.get(mesh, mesh) if mesh else STAND_IN[infill]
    return 1 - mesh_kind(kind or STAND_IN[infill]).solidity.value


def face_open_share(face: Face) -> float:
    """Share of a face above its upstand that is open through both of its skins [-]."""
    inner = open_share(face.infill, face.gap_mm, face.bar_mm, face.mesh_kind)
    outer: Layer | None = face.outer
    if outer is None or inner == 0:
        return inner
    return inner * open_share(outer.infill, outer.gap_mm, None, outer.mesh_kind)


def area_over_m2(run_mm: float, one_end_mm: float, other_end_mm: float, upstand_mm: float) -> float:
    """Area of a face above its upstand [m2], its top a straight line between two heights."""
    low, high = sorted((one_end_mm - upstand_mm, other_end_mm - upstand_mm))
    if high <= 0:
        return 0.0
    mean = (low + high) / 2 if low >= 0 else high * high / (high - low) / 2
    return m_from_mm(run_mm) * m_from_mm(mean)


def side_area_m2(quarters: Quarters, side: Side, over_mm: float = 0) -> float:
    """Area of a side above a height, up to the rafters [m2].

    Args:
        quarters: The unit.
        side: Which side.
        over_mm: Height where it begins [mm].

    Raises:
        ValueError: For a pitch, which has no height.
    """
    line = quarters.ceiling_line_mm
    if side in ("front", "back"):
        high = line[0][1] if side == "front" else line[-1][1]
        return area_over_m2(quarters.width_mm, high, high, over_mm)
    return sum(area_over_m2(y1 - y0, z0, z1, over_mm) for (y0, z0), (y1, z1) in pairwise(line))


def mean_height_mm(quarters: Quarters) -> float:
    """Mean clear height from front to back [mm]; 0 for a pitch."""
    if quarters.front_height_mm is None:
        return 0.0
    return quarters.gable_area_m2 * 1e6 / quarters.depth_mm


def open_areas_m2(quarters: Quarters) -> dict[str, float]:
    """Open area of each side that has some, of the open `top`, and of the `vents` [m2].

    Raises:
        ValueError: For a pitch, which has no faces.
    """
    q = quarters
    if q.faces is None or q.front_height_mm is None or q.back_height_mm is None:
        raise ValueError(f"{q.name!r} has no faces and so no openings")
    areas = {"vents": q.vent_cm2 / CM2_PER_M2}
    for side in SIDES:
        face: Face = q.faces.side(side)
        if share := face_open_share(face):
            areas[side] = share * side_area_m2(q, side, face.upstand_mm)
    areas["top"] = q.floor_area_m2 * top_open_share(q)
    return {name: area for name, area in areas.items() if area > 0}


def free_area_m2(quarters: Quarters) -> float:
    """Open area of all faces, the open part of the top, and the vents together [m2].

    Raises:
        ValueError: For a pitch, which has no faces.
    """
    return sum(open_areas_m2(quarters).values())


def top_open_share(quarters: Quarters) -> float:
    """Share of the top that is open to the air [-]; 1 without a roof."""
    roof = quarters.roof
    if roof is None or not quarters.has_roof:
        return 1.0
    if roof.covered_share == 1:
        return 0.0
    return (1 - roof.covered_share) * open_share(roof.open_infill, None, None, None)


def opens_low(quarters: Quarters) -> bool:
    """Whether a face is open below half the height, so that cool air comes in there."""
    if quarters.faces is None:
        return True
    half = mean_height_mm(quarters) / 2
    faces = (quarters.faces.side(side) for side in SIDES)
    return any(face.upstand_mm < half and face_open_share(face) > 0 for face in faces)


def still_air_area_m2(volume_m3: float, changes_per_h: float, speed_m_s: float) -> float:
    """Open area that changes the air so often when nothing drives it but a slow drift [m2].

    Half of the area lets air in and half lets it out, at one speed. Wind and warmth move
    more; this leaves both out, and so asks for more than a windy place needs.

    Args:
        volume_m3: Clear volume of the room [m3].
        changes_per_h: Changes of air [1/h].
        speed_m_s: Speed of the air in the openings [m/s].

    Raises:
        ValueError: Unless the speed is above 0 and the rest 0 or more.

    Source:
        Continuity: volume x changes = half the area x speed.
    """
    if not (speed_m_s > 0 and volume_m3 >= 0 and changes_per_h >= 0):
        raise ValueError(
            f"air must move: got {speed_m_s:g} m/s, {volume_m3:g} m3, {changes_per_h:g} per h"
        )
    return 2 * volume_m3 * changes_per_h / SECONDS_PER_H / speed_m_s
