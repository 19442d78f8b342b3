"""A corridor that leans on the back wall of a row: its rooms as units, and whether it fits.

The corridor, and a lobby at one end of it, are set out as units without a front wall: the
boards of the row's back wall stand there. Rafters hang on a ledger along it and fall away.
Millimetres; x counts from the row's left inner corner, y from the outside of those boards.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from math import radians, tan

from mewswright.build.frame import framed_walls, unit_pieces
from mewswright.build.ground_line import LEVEL_MM, ground_line
from mewswright.build.hung import BOLTS_PER_UPRIGHT, HANGER, bolt_for
from mewswright.build.openings import doors_without_place
from mewswright.build.pieces import Piece, moved
from mewswright.build.rafters import rafter_ends_mm, rafter_middles_mm
from mewswright.build.roofing import roofing
from mewswright.build.row import shell_in, skin_mm, starts_mm, units_in
from mewswright.build.shell import breadth_depth_mm, shell_of
from mewswright.handbook.bolts import bolts
from mewswright.model.quarters import Face, Faces, Floor, Quarters
from mewswright.model.row import Row
from mewswright.model.ways import OUTSIDE, Door
from mewswright.model.yard import Yard

EAVE_CLEAR_MM = 100.0  # judgement: room for the cover to turn up the wall, and for a hand


@dataclass(frozen=True)
class Corridor:
    """The corridor of a row.

    Attributes:
        row: The row that it leans on.
        yard: The yard as its rooms see it: they are quarters, their doors the only ones.
        rooms: The corridor, and the lobby if there is one, left to right.
        whole: Both as one unit; the room itself, if there is but one.
        behind_mm: How far behind the row's clear front it begins.
    """

    row: Row
    yard: Yard
    rooms: tuple[Quarters, ...]
    whole: Quarters
    behind_mm: float


def behind_mm(yard: Yard, row: Row) -> float:
    """How far behind the clear front of a row the outside of its back boards lies [mm]."""
    units = units_in(yard, row)
    skin = max(skin_mm(shell_of(unit), "back") for unit in units)
    return units[0].depth_mm + shell_of(units[0]).wall_mm + skin


def corridor_behind(yard: Yard, row: Row) -> Corridor | None:
    """Set out the corridor of a row; None without one."""
    if row.corridor_mm is None:
        return None
    units = units_in(yard, row)
    width = starts_mm(yard, row)[-1] + units[-1].width_mm
    behind = behind_mm(yard, row)
    whole = _room(row, units[0], str(row.corridor_space), 0.0, width, behind)
    rooms: tuple[Quarters, ...] = (whole,)
    rows = yard.row
    if row.lobby_mm is not None:
        shell = shell_of(whole)
        between = shell.wall_mm + skin_mm(shell, "right")
        sizes = [
            (row.corridor_space, width - row.lobby_mm - between),
            (row.lobby_space, row.lobby_mm),
        ]
        if row.lobby_end == "left":
            sizes.reverse()
        (left, left_mm), (right, right_mm) = sizes
        rooms = (
            _room(row, units[0], str(left), 0.0, left_mm, behind),
            _room(row, units[0], str(right), left_mm + between, right_mm, behind),
        )
        whole = whole.model_copy(update={"name": row.corridor_name})
        together = Row(name=whole.name, quarters=tuple(room.name for room in rooms))
        rows = (*rows, together)
    names = {room.name for room in rooms}
    doors = [_door_of_rooms(door, row, names) for door in yard.door]
    seen = yard.model_copy(
        update={
            "quarters": (*yard.quarters, *rooms), "row": rows, "door": tuple(doors),
            "space": tuple(space for space in yard.space if space.name not in names),
        }
    )  # fmt: skip
    return Corridor(row, seen.with_own_standards(yard.own_standards), rooms, whole, behind)


def _door_of_rooms(door: Door, row: Row, names: set[str]) -> Door:
    """A door as the rooms see it: one from a unit is the unit's, and is framed and hung there."""
    between = set(door.between)
    if names >= between:  # the partition, which the left room builds
        return door.model_copy(update={"face": "right"})
    if not between & names or not between & {*row.quarters, row.name}:
        return door
    units_own = tuple(OUTSIDE if name in names else name for name in door.between)
    return door.model_copy(update={"between": units_own})


def _room(
    row: Row, unit: Quarters, name: str, from_mm: float, width_mm: float, behind: float
) -> Quarters:
    assert row.corridor_mm is not None
    assert row.corridor_height_mm is not None
    assert unit.roof is not None
    boarded = Face(infill="boarded")
    rise = row.corridor_mm * tan(radians(row.corridor_pitch_deg))
    return unit.model_copy(
        update={
            "name": name, "at_m": unit.on_ground_m(from_mm, behind),
            "width_mm": width_mm, "depth_mm": row.corridor_mm,
            "front_height_mm": row.corridor_height_mm + rise,
            "back_height_mm": row.corridor_height_mm,
            "faces": Faces(front=boarded, back=boarded, left=boarded, right=boarded),
            "roof": unit.roof.model_copy(
                update={"overhang_front_mm": 0.0, "covered_share": 1.0, "form": "monopitch"}
            ),
            "frame": unit.frame.model_copy(
                update={
                    "post_count": None, "ground_fall_back_mm": 0.0, "ground_fall_right_mm": 0.0,
                }
            ),
            "floor": Floor(depth_mm=0, membrane=False), "fitting": (),
        }
    )  # fmt: skip


def corridor_misfits(yard: Yard, row: Row) -> Iterator[str]:
    """Say what keeps the corridor of a row from being built, and by how many millimetres.

    Yields:
        A sentence each; none where it fits or there is none.
    """
    if row.corridor_mm is None:
        return
    units = units_in(yard, row)
    for unit in units:
        assert unit.faces is not None
        if not unit.has_roof:
            yield f"{unit.name!r} has no roof, and the corridor's goes on from one: give it a roof"
            return
        if unit.faces.back.outer is not None:
            yield (
                f"the back face of {unit.name!r} has an outer skin, and the corridor's ledger is "
                "bolted there: leave out the outer skin"
            )
        fall = ground_line(yard, shell_of(unit)).back_mm
        if abs(fall) >= LEVEL_MM:
            yield (
                f"the ground falls {fall:.0f} mm to the back under {unit.name!r}, and how the "
                "corridor's floor steps is not worked out: level it and give "
                "ground_fall_back_mm = 0 in [quarters.frame], or leave out the corridor"
            )
            return
    width = starts_mm(yard, row)[-1] + units[-1].width_mm
    wall = shell_of(units[0]).wall_mm
    if row.lobby_mm is not None and row.lobby_mm + 2 * wall >= width:
        yield (
            f"the lobby is {row.lobby_mm:.0f} mm long and the corridor {width:.0f} mm: nothing of "
            "it is left, make lobby_mm less"
        )
        return
    found = corridor_behind(yard, row)
    assert found is not None
    yield from _too_high(yard, found)
    yield from _inner_doors(found)


def _inner_doors(found: Corridor) -> Iterator[str]:
    """Doors that lead out, and stand in a wall with something behind it."""
    names = [room.name for room in found.rooms]
    for door in found.yard.door:
        inside = [name for name in door.between if name in names]
        if len(inside) != 1 or door.face is None:
            continue
        joins = {join.side for join in shell_in(found.yard, _room_named(found, inside[0])).joins}
        if door.face not in joins:
            continue
        wall = "back wall of the row" if door.face == "front" else "partition"
        outer = next(side for side in ("right", "left") if side not in joins)
        yield (
            f"the door between {' and '.join(door.between)} stands in the {wall}: give it face "
            f"{outer} or back"
        )


def _room_named(found: Corridor, name: str) -> Quarters:
    return next(room for room in found.rooms if room.name == name)


def _too_high(yard: Yard, found: Corridor) -> Iterator[str]:
    """Its roof under the row's eave, and its ceiling over the doors to it."""
    row = found.row
    units = units_in(yard, row)
    eave = min(
        shell_of(unit).ceiling_mm(y)
        for unit in units
        for y in (found.behind_mm, max(found.behind_mm, rafter_ends_mm(shell_of(unit))[1]))
    )
    top = roof_top_mm(found)
    short = top + EAVE_CLEAR_MM - eave
    if short > LEVEL_MM:
        yield (
            f"the corridor's roof reaches {top:.0f} mm up at the units' back wall and their eave "
            f"hangs {eave:.0f} mm above the floor: with {EAVE_CLEAR_MM:.0f} mm between them "
            f"{short:.0f} mm are short; lower corridor_height_mm, corridor_pitch_deg or "
            "corridor_mm, or raise back_height_mm of the units"
        )
    assert found.whole.front_height_mm is not None
    names = {room.name for room in found.rooms}
    for door in yard.door:
        if set(door.between) & set(row.quarters) and set(door.between) & names:
            over = door.sill_mm + door.height_mm - found.whole.front_height_mm
            if over > LEVEL_MM:
                yield (
                    f"the door between {' and '.join(door.between)} reaches {over:.0f} mm above "
                    "the ledger of the corridor's roof: lower the door, or raise "
                    "corridor_height_mm"
                )


def roof_top_mm(found: Corridor) -> float:
    """Highest place of the corridor's roof [mm above the floor], at the units' back wall."""
    shell = shell_in(found.yard, found.whole)
    tops: list[float] = [
        z + panel.thickness_mm / 2
        for piece in roofing(shell)
        for panel in (*((piece.panel,) if piece.panel else ()), *piece.panels)
        for *_, z in panel.corners_mm
    ]
    return max(tops)


def corridor_pieces(found: Corridor) -> list[Piece]:
    """Every piece of a corridor but its fixings, where it stands behind the row."""
    from mewswright.build.row_frame import row_pieces  # it adds corridors to rows

    if len(found.rooms) > 1:
        pieces = row_pieces(found.yard, found.yard.row[-1], found.whole)
    else:
        pieces = unit_pieces(found.yard, shell_in(found.yard, found.whole))
    return [behind_the_row(piece, found) for piece in pieces]


def behind_the_row(piece: Piece, found: Corridor) -> Piece:
    """A piece of a corridor where it stands behind its row."""
    return moved(piece, back_mm=found.behind_mm, place=f"corridor, {piece.place}")


def ledger_bolts_mm(yard: Yard, row: Row) -> tuple[float, ...]:
    """Where the ledger is bolted: each upright of the units' back walls [mm along the row]."""
    return tuple(
        start + upright.middle_mm
        for unit, start in zip(units_in(yard, row), starts_mm(yard, row), strict=True)
        for frame in framed_walls(yard, shell_in(yard, unit))
        if frame.wall.side == "back"
        for upright in frame.uprights
    )


def ledger_upright_mm(yard: Yard, row: Row) -> tuple[float, float]:
    """Breadth and depth of the slightest upright that the ledger is bolted to [mm]."""
    units = units_in(yard, row)
    breadth = min(
        upright.breadth_mm
        for unit in units
        for frame in framed_walls(yard, shell_in(yard, unit))
        if frame.wall.side == "back"
        for upright in frame.uprights
    )
    depth = min(breadth_depth_mm(q.frame.stud)[1] for q in units)
    return breadth, min(depth, *(breadth_depth_mm(q.frame.post)[1] for q in units))


def corridor_fixings(yard: Yard, row: Row) -> Iterator[Piece]:
    """Bolts of the ledger of a row's corridor, and hangers of the rafters on it."""
    found = corridor_behind(yard, row)
    assert found is not None
    uprights = len(ledger_bolts_mm(yard, row))
    bolt = bolt_for(ledger_upright_mm(yard, row)[0]) or min(bolts())
    yield Piece(
        kind="fixing", what="bolt of the ledger", place="corridor, ledger", material=bolt,
        amount=BOLTS_PER_UPRIGHT * uprights,
        note=f"{BOLTS_PER_UPRIGHT} into each upright of the back wall, through its boards",
    )  # fmt: skip
    yield Piece(
        kind="fixing", what="hanger of a rafter", place="corridor, ledger", material=HANGER,
        amount=len(rafter_middles_mm(shell_in(found.yard, found.whole))),
        note="all its holes filled; of the rafter's breadth",
    )  # fmt: skip


def corridor_words(found: Corridor) -> Iterator[str]:
    """What was assumed of a corridor."""
    shell = shell_in(found.yard, found.whole)
    yield (
        f"the corridor is {shell.depth_mm:.0f} mm wide, clear from the boards of the back wall, "
        f"{shell.front_mm:.0f} mm high under its ledger and {shell.back_mm:.0f} mm at its outer "
        "wall; its floor is left as the ground is"
    )
    yield (
        f"its rafters hang on a ledger bolted to the uprights of the back wall; its roof ends "
        f"{roof_top_mm(found):.0f} mm up, at least {EAVE_CLEAR_MM:.0f} mm below the units' eave "
        "(our judgement); the cover is turned up the wall and flashed there"
    )
    yield "its timber, boarding, cover and base are the units'; its walls are boarded"
    for room in found.rooms:
        for name in doors_without_place(found.yard, room):
            yield f"no opening is framed for the {name}: give the door 'at_mm' and its 'face'"
