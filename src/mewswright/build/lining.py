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
from mewswright.build.openings import Opening
from mewswright.build.parts import Panel
from mewswright.build.pieces import Piece
from mewswright.build.shell import Wall
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
    joints = [upright.middle_mm for upright in frame.uprights]
    for start, end in frame.wall.parts_mm:  # a gable breaks under the ridge
        assert sheet.sheet_width_mm is not None
        for from_mm, to_mm in columns_mm(start, end, sheet.sheet_width_mm, joints):
            yield from _column(frame, sheet, from_mm, to_mm)


def _column(frame: WallFrame, sheet: Material, from_mm: float, to_mm: float) -> Iterable[Piece]:
    wall, long_mm = frame.wall, sheet.sheet_length_mm
    assert long_mm is not None
    tops = (from_mm, wall.head_top_mm(from_mm)), (to_mm, wall.head_top_mm(to_mm))
    highest = max(top for _, top in tops)
    for row in range(ceil(highest / long_mm - HAIR)):
        low = row * long_mm
        high = min(highest, low + long_mm)
        whole = below_line(_rectangle(from_mm, to_mm, low, high), *tops)
        laid = [
            outline
            for bare in _beside(frame.openings, from_mm, to_mm, low, high)
            if len(outline := below_line(_rectangle(*bare), *tops)) > 2 and area_m2(outline) > HAIR
        ]
        if not laid:
            continue
        yield Piece(
            kind="board",
            what="lining sheet",
            place=wall.side,
            material=sheet.id,
            length_mm=max(z for _, z in whole) - low,
            width_mm=to_mm - from_mm,
            amount=sum(area_m2(outline) for outline in laid),
            unit="m2",
            note="upright, joints on studs; noggings behind every level joint",
            panels=tuple(_panel(wall, sheet, outline) for outline in laid),
        )


def _rectangle(from_mm: float, to_mm: float, low_mm: float, high_mm: float) -> Corners:
    return ((from_mm, low_mm), (to_mm, low_mm), (to_mm, high_mm), (from_mm, high_mm))


def _beside(
    openings: Iterable[Opening], from_mm: float, to_mm: float, low_mm: float, high_mm: float
) -> Iterable[tuple[float, float, float, float]]:
    """Part a rectangle of a wall into those beside, under and over openings."""
    there = [
        o
        for o in openings
        if o.from_mm < to_mm and o.to_mm > from_mm and o.sill_mm < high_mm and o.top_mm > low_mm
    ]
    edges = {from_mm, to_mm, *(e for o in there for e in (o.from_mm, o.to_mm))}
    for left, right in pairwise(sorted(e for e in edges if from_mm <= e <= to_mm)):
        at = low_mm
        for o in sorted(there, key=lambda o: o.sill_mm):
            if o.from_mm < right and o.to_mm > left:
                if o.sill_mm > at:
                    yield left, right, at, o.sill_mm
                at = max(at, o.top_mm)
        if at < high_mm:
            yield left, right, at, high_mm


def _panel(wall: Wall, sheet: Material, outline: Corners) -> Panel:
    """Lay a piece against the inner face of a wall's timber."""
    assert sheet.thickness_mm is not None
    return Panel(
        corners_mm=tuple(wall.at(s, -sheet.thickness_mm / 2, z) for s, z in outline),
        thickness_mm=sheet.thickness_mm,
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
