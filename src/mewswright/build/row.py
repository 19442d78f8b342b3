"""Rows: which units share walls, whether they fit each other, and a row seen as one unit.

The wall between two units belongs to the left one, seen from in front. Its boards or
battens stand on the right one's side, so the clear sides lie one wall apart: the timber
and that skin. Millimetres; x counts from the first unit's left inner corner.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise
from math import cos, radians, sin

from mewswright.build.boarding import board_of
from mewswright.build.rafters import rafter_middles_mm
from mewswright.build.shell import Join, Shell, breadth_depth_mm, shell_of
from mewswright.model.fitting import AnyFitting, Bath, Hatch, Side
from mewswright.model.problem import Problem
from mewswright.model.quantity import mm_from_m
from mewswright.model.quarters import Faces, Quarters
from mewswright.model.row import Row
from mewswright.model.ways import Door
from mewswright.model.yard import Yard

TAPE_MM = 5.0  # positions on the ground are read to the half centimetre
ALIKE = ("facing_deg", "depth_mm", "front_height_mm", "back_height_mm", "roof", "frame")


def row_named(yard: Yard, name: str) -> Row | None:
    """The row of a name, or None."""
    return next((row for row in yard.row if row.name == name), None)


def row_with(yard: Yard, quarters: str) -> Row | None:
    """The row that a unit stands in, or None."""
    return next((row for row in yard.row if quarters in row.quarters), None)


def units_in(yard: Yard, row: Row) -> tuple[Quarters, ...]:
    """The units of a row, left to right."""
    return tuple(yard.quarters_named(name) for name in row.quarters)


def skin_mm(shell: Shell, side: Side) -> float:
    """What boards, or the battens of mesh and slats, add to a wall outside its timber [mm]."""
    assert shell.quarters.faces is not None
    face = shell.quarters.faces.side(side)
    battens = 0.0
    if face.infill in ("meshed", "netted", "slatted"):
        battens = breadth_depth_mm(shell.quarters.frame.batten)[0]
    boarded = face.is_solid or face.upstand_mm > 0
    return max(battens, (board_of(shell).thickness_mm or 0.0) if boarded else 0.0)


def misfits(yard: Yard, row: Row) -> Iterator[str]:
    """Say what keeps units from standing in a row, and by how much.

    Yields:
        A sentence each; none where the row fits.
    """
    units = units_in(yard, row)
    for unit in units:
        if unit.kind == "pitch":
            yield f"{unit.name!r} is a pitch and has no walls: leave it out"
        elif unit.ridge_mm is not None:
            yield (
                f"{unit.name!r} has a ridge, and how a ridge beam runs over shared walls is not "
                "worked out: make its roof a monopitch, or leave it out of the row"
            )
    if any(unit.kind == "pitch" for unit in units):
        return
    if units[0].roof is not None and units[0].roof.form == "duopitch":
        yield "its roof has two slopes, and a row is framed under one: give roof.form monopitch"
    x, alike = 0.0, True
    for left, right in pairwise(units):
        pair = f"{left.name!r} and {right.name!r}"
        unlike = list(_unlike(left, right))
        yield from (f"{pair}: {what}" for what in unlike)
        alike = alike and not unlike
        if unlike:
            continue
        assert left.faces is not None
        assert right.faces is not None
        one, other = left.faces.right, right.faces.left
        if one != other:
            yield (
                f"{pair} share a wall, but the right face of the first is {one.infill} and the "
                f"left face of the second {other.infill} or not the same in all: write both alike"
            )
        elif one.outer is not None:
            yield f"{pair} share a wall, and that has no outside: leave out its outer skin"
        elif alike:
            x += left.width_mm + shell_of(left).wall_mm + skin_mm(shell_of(left), "right")
            yield from _misplaced(units[0], left, right, x)
    if alike:
        from mewswright.build.corridor import corridor_misfits  # it is made of units

        yield from corridor_misfits(yard, row)


def _unlike(left: Quarters, right: Quarters) -> Iterator[str]:
    for key in ALIKE:
        one, other = getattr(left, key), getattr(right, key)
        if one == other:
            continue
        if key in ("roof", "frame"):
            keys = [k for k in type(one).model_fields if getattr(one, k) != getattr(other, k)]
            yield f"the {key} must be alike, and differs in {', '.join(keys)}"
        elif key == "facing_deg":
            yield f"they face {one:g} and {other:g} deg: give both the same facing_deg"
        else:
            yield f"{key} is {one:g} and {other:g}, {abs(one - other):g} mm apart: make them equal"


def _misplaced(first: Quarters, left: Quarters, right: Quarters, x_mm: float) -> Iterator[str]:
    """Say where a unit should stand, counted from the first, if it does not stand there."""
    thick = shell_of(left).wall_mm + skin_mm(shell_of(left), "right")
    wanted = [round(at, 3) + 0.0 for at in first.on_ground_m(x_mm, 0)]
    east, north = (a - b for a, b in zip(right.at_m, wanted, strict=True))
    facing = radians(first.facing_deg)
    along = mm_from_m(-east * cos(facing) + north * sin(facing))
    behind = mm_from_m(-east * sin(facing) - north * cos(facing))
    if max(abs(along), abs(behind)) <= TAPE_MM:
        return
    off = []
    if abs(along) > TAPE_MM:
        off.append(f"{abs(along):.0f} mm too {'far from it' if along > 0 else 'near'}")
    if abs(behind) > TAPE_MM:
        where = "behind" if behind > 0 else "in front of"
        off.append(f"{abs(behind):.0f} mm {where} the first unit's line")
    yield (
        f"{right.name!r} stands {' and '.join(off)}, right of {left.name!r}: the shared wall is "
        f"{thick:g} mm thick, so give it at_m = [{wanted[0]:.3f}, {wanted[1]:.3f}]"
    )


def fitting_row(yard: Yard, row: Row) -> tuple[Quarters, ...]:
    """The units of a row that fits.

    Raises:
        Problem: If they do not; says of each what is wrong and what would be right.
    """
    wrong = list(misfits(yard, row))
    if wrong:
        raise Problem(f"row {row.name!r} does not fit together: {'; '.join(wrong)}")
    return units_in(yard, row)


def shell_in(yard: Yard, quarters: Quarters) -> Shell:
    """Set out the shell of a unit, of a unit in a row, or of a row seen as one.

    Raises:
        Problem: For a pitch.
    """
    own = shell_of(quarters)
    joins = list(_leaning(yard, quarters.name))
    whole = row_named(yard, quarters.name)
    if whole is not None:
        return _with(own, tuple(joins), rafters_in_row_mm(yard, whole))
    row = row_with(yard, quarters.name)
    if row is None:
        return _with(own, tuple(joins), None) if joins else own
    i = row.quarters.index(quarters.name)
    if i > 0:
        skin = skin_mm(shell_of(yard.quarters_named(row.quarters[i - 1])), "right")
        joins.append(Join("left", row.quarters[i - 1], True, skin))
    if i + 1 < len(row.quarters):
        joins.append(Join("right", row.quarters[i + 1], False, skin_mm(own, "right")))
    return _with(own, tuple(joins), None)


def _leaning(yard: Yard, name: str) -> Iterator[Join]:
    """The join of a corridor's room to the back wall that it leans on."""
    for row in yard.row:
        if name in row.leaning:
            skins = [skin_mm(shell_of(unit), "back") for unit in units_in(yard, row)]
            yield Join("front", row.name, True, max(skins))


def _with(shell: Shell, joins: tuple[Join, ...], rafters_mm: tuple[float, ...] | None) -> Shell:
    return replace(shell, joins=joins, rafters_mm=rafters_mm)


def rafters_in_row_mm(yard: Yard, row: Row) -> tuple[float, ...]:
    """Middles of all rafters of a row, each unit's own [mm]."""
    units = fitting_row(yard, row)
    return tuple(
        x + start
        for unit, start in zip(units, starts_mm(yard, row), strict=True)
        for x in rafter_middles_mm(shell_in(yard, unit))
    )


def starts_mm(yard: Yard, row: Row) -> tuple[float, ...]:
    """Where the clear width of each unit of a row starts [mm]."""
    starts = [0.0]
    for unit in units_in(yard, row)[:-1]:
        shell = shell_of(unit)
        starts.append(starts[-1] + unit.width_mm + shell.wall_mm + skin_mm(shell, "right"))
    return tuple(starts)


def shared_walls_mm(yard: Yard, row: Row) -> tuple[tuple[float, float], ...]:
    """Where each shared wall of a row is, from one clear side to the next [mm]."""
    ends = [
        start + unit.width_mm
        for unit, start in zip(units_in(yard, row), starts_mm(yard, row), strict=True)
    ]
    return tuple(zip(ends[:-1], starts_mm(yard, row)[1:], strict=True))


def unit_or_row(yard: Yard, name: str) -> tuple[Yard, Quarters]:
    """Give what a name asks for: quarters, or a row seen as one unit.

    Returns:
        The yard to go on with, and the unit. A row's yard holds the row beside its units, with
        the doors of its outer faces; a corridor's holds its rooms.

    Raises:
        Problem: For an unknown name, or a row that does not fit together.
    """
    leant_on = next((row for row in yard.row if name in row.leaning), None)
    known_here = any(q.name == name for q in yard.quarters) or row_named(yard, name)
    if not known_here and leant_on is not None:
        return _corridor_as_unit(yard, leant_on)
    row = row_named(yard, name)
    if row is None:
        if yard.row and all(q.name != name for q in yard.quarters):
            known = ", ".join(
                [
                    *(q.name for q in yard.quarters),
                    *(r.name for r in yard.row),
                    *(r.corridor_name for r in yard.row if r.leaning),
                ]
            )
            raise Problem(f"no quarters or row {name!r} in {yard.yard.name!r}; there are: {known}")
        return yard, yard.quarters_named(name)
    units = fitting_row(yard, row)
    starts = starts_mm(yard, row)
    whole = _as_one(row, units, starts)
    doors = [_door_of_row(door, row, units, starts) for door in yard.door]
    more = tuple(door for door in doors if door is not None)
    stays = tuple(
        stay.model_copy(
            update={
                "quarters": name,
                "perch": f"{stay.quarters}: {stay.perch}" if stay.perch else stay.perch,
            }
        )
        for stay in yard.stay
        if stay.quarters in row.quarters
    )
    seen = yard.model_copy(
        update={
            "quarters": (*yard.quarters, whole), "door": (*yard.door, *more),
            "stay": (*yard.stay, *stays),
        }
    )  # fmt: skip
    return seen.with_own_standards(yard.own_standards), whole


def _corridor_as_unit(yard: Yard, row: Row) -> tuple[Yard, Quarters]:
    from mewswright.build.corridor import corridor_behind  # it is made of units

    fitting_row(yard, row)
    found = corridor_behind(yard, row)
    assert found is not None
    if len(found.rooms) > 1:
        return unit_or_row(found.yard, found.yard.row[-1].name)
    return found.yard, found.whole


def _as_one(row: Row, units: Sequence[Quarters], starts: Sequence[float]) -> Quarters:
    first, last = units[0], units[-1]
    assert first.faces is not None
    assert last.faces is not None
    fronts = [unit.faces.front for unit in units if unit.faces is not None]
    backs = [unit.faces.back for unit in units if unit.faces is not None]
    faces = Faces(
        front=next((face for face in fronts if not face.is_solid), fronts[0]),
        back=next((face for face in backs if not face.is_solid), backs[0]),
        left=first.faces.left,
        right=last.faces.right,
    )
    fittings = [
        found
        for unit, start in zip(units, starts, strict=True)
        for fitting in unit.fitting
        for found in _moved(fitting, unit, start, units)
    ]
    return first.model_copy(
        update={
            "name": row.name, "width_mm": starts[-1] + last.width_mm, "faces": faces,
            "fitting": tuple(fittings),
            "frame": first.frame.model_copy(
                update={"anchor_count": len(units) * first.frame.anchor_count}
            ),
        }
    )  # fmt: skip


def _moved(
    fitting: AnyFitting, unit: Quarters, start: float, units: Sequence[Quarters]
) -> Iterator[AnyFitting]:
    """A fitting in the row's measure; what hangs in a shared wall is left to the unit."""
    name = {"name": f"{unit.name}: {fitting.name}"}
    if isinstance(fitting, Hatch):
        if fitting.face in ("front", "back"):
            yield fitting.model_copy(update={**name, "at_mm": fitting.at_mm + start})
        elif unit is (units[0] if fitting.face == "left" else units[-1]):
            yield fitting.model_copy(update=name)
        return
    x, y = fitting.at_mm
    moved = fitting.model_copy(update={**name, "at_mm": (x + start, y)})
    if isinstance(moved, Bath) and unit_joins(unit, units, moved.slides_under):
        moved = moved.model_copy(update={"slides_under": None})
    yield moved


def unit_joins(unit: Quarters, units: Sequence[Quarters], side: Side | None) -> bool:
    """Whether a side of a unit is a wall that it shares."""
    return (side == "left" and unit is not units[0]) or (side == "right" and unit is not units[-1])


def _door_of_row(
    door: Door, row: Row, units: Sequence[Quarters], starts: Sequence[float]
) -> Door | None:
    """A door of an outer face as the row's; None for any other."""
    inside = [name for name in door.between if name in row.quarters]
    if len(inside) != 1:
        return None
    i = row.quarters.index(inside[0])
    if (door.face == "left" and i > 0) or (door.face == "right" and i < len(units) - 1):
        return None
    level = door.face in ("front", "back") and door.at_mm is not None
    return door.model_copy(
        update={
            "between": tuple(row.name if name == inside[0] else name for name in door.between),
            "opens_into": row.name if door.opens_into == inside[0] else door.opens_into,
            "at_mm": (door.at_mm or 0.0) + starts[i] if level else door.at_mm,
        }
    )


def same_front(units: Sequence[Quarters]) -> bool:
    """Whether all units of a row show the same faces to the front and to the back."""
    faces = [unit.faces for unit in units if unit.faces is not None]
    return all(f.front == faces[0].front and f.back == faces[0].back for f in faces)
