"""Sheets inside the boarded walls, of wood or plastic, as rectangles that can be sawn.

Sheets stand upright, in columns that meet on studs, and in rows where a wall is higher than
a sheet is long. A piece at a raked head or at an opening is sawn as a rectangle and cut on
the wall, so that its area is less than its sides say.
"""

from collections.abc import Iterable
from itertools import pairwise
from math import ceil

from mewswright import handbook
from mewswright.build.boarding import Corners, below_line
from mewswright.build.infill import area_m2
from mewswright.build.materials import material_of
from mewswright.build.pieces import Piece
from mewswright.build.walls import WallFrame, lengths_mm
from mewswright.handbook.materials import Material
from mewswright.model.problem import Problem

NO_SHEET = "none"
NAIL = "ring_shank_nail"  # into wood; a plastic sheet is screwed through slotted holes
SCREW = "screw_4x40"
HAIR = 1e-6


def sheet_of(name: str, quarters: str) -> Material:
    """The sheet of a lining.

    Raises:
        Problem: If the handbook does not know it, or it is no sheet of known size.
    """
    sheet = material_of(name, f"lining of {quarters!r}")
    if sheet.kind not in ("sheet", "plastic") or not (sheet.sheet_length_mm and sheet.thickness_mm):
        known = ", ".join(
            one.id for kind in ("sheet", "plastic") for one in handbook.materials(kind)
        )
        raise Problem(
            f"lining of {quarters!r} is {name!r}, which is no sheet of known size; there are: "
            f"{known}"
        )
    return sheet


def braces(name: str) -> bool:
    """Whether a lining may stiffen a wall: sheets of wood do, plastic does not."""
    return name != NO_SHEET and handbook.material(name).kind != "plastic"


def lining(walls: Iterable[WallFrame], name: str, fixing_mm: float) -> Iterable[Piece]:
    """Line all boarded walls, and count what holds the sheets.

    Args:
        walls: The walls, framed; only boarded ones are lined.
        name: Material id of the sheet.
        fixing_mm: Distance of nails or screws along the edges [mm].
    """
    solid = [wall for wall in walls if wall.wall.face.is_solid]
    if not solid:
        return
    sheet = sheet_of(name, solid[0].wall.shell.quarters.name)
    pieces = [piece for wall in solid for piece in _of_wall(wall, sheet)]
    yield from pieces
    held = sum(ceil(2 * (p.length_mm + p.width_mm) / fixing_mm) for p in pieces)
    wood = sheet.kind == "sheet"
    yield Piece(
        kind="fixing",
        what="lining nail" if wood else "lining screw",
        place="edges of the lining",
        material=NAIL if wood else SCREW,
        amount=held,
        note=f"every {fixing_mm:g} mm along all edges"
        + ("" if wood else "; holes 2 mm wide of the screw, for plastic moves with the heat"),
    )


def _of_wall(frame: WallFrame, sheet: Material) -> Iterable[Piece]:
    wall = frame.wall
    assert sheet.sheet_length_mm is not None
    assert sheet.sheet_width_mm is not None
    start, end = wall.ends_mm
    joints = [upright.middle_mm for upright in frame.uprights]
    ridge = None if wall.is_level else wall.shell.ridge_mm
    middle = () if ridge is None else (ridge[0],)
    tops = [(s, wall.head_top_mm(s)) for s in (start, *middle, end)]
    for from_mm, to_mm in columns_mm(start, end, sheet.sheet_width_mm, joints):
        over = (from_mm, *(s for s in middle if from_mm < s < to_mm), to_mm)
        highest = max(wall.head_top_mm(s) for s in over)
        rows = ceil(highest / sheet.sheet_length_mm - HAIR)
        for row in range(rows):
            low = row * sheet.sheet_length_mm
            high = min(highest, low + sheet.sheet_length_mm)
            outline: Corners = ((from_mm, low), (to_mm, low), (to_mm, high), (from_mm, high))
            for left, right in pairwise(tops):
                outline = below_line(outline, left, right)
            if len(outline) < 3:
                continue
            holes = sum(
                max(0.0, min(o.to_mm, to_mm) - max(o.from_mm, from_mm))
                * max(0.0, min(o.top_mm, high) - max(o.sill_mm, low))
                for o in frame.openings
            )
            net = area_m2(outline) - holes / 1e6
            if net <= HAIR:
                continue
            top = max(z for _, z in outline)
            yield Piece(
                kind="board",
                what="lining sheet",
                place=wall.side,
                material=sheet.id,
                length_mm=top - low,
                width_mm=to_mm - from_mm,
                amount=net,
                unit="m2",
                note="upright, joints on studs; noggings behind every level joint",
            )


def columns_mm(
    start: float, end: float, wide_mm: float, joints: list[float]
) -> list[tuple[float, float]]:
    """Part a wall into columns no wider than a sheet, on studs where one is within reach [mm]."""
    columns: list[tuple[float, float]] = []
    for from_mm, to_mm in lengths_mm(start, end, wide_mm, joints):
        count = ceil((to_mm - from_mm) / wide_mm - HAIR)
        step = (to_mm - from_mm) / count
        columns += [(from_mm + i * step, from_mm + (i + 1) * step) for i in range(count)]
    return columns
