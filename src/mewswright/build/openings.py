"""Openings in walls: doors, hatches and baths, and where each one stands."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations

from mewswright.build.shell import Wall
from mewswright.model.fitting import Bath, Hatch, Side
from mewswright.model.quarters import Quarters
from mewswright.model.ways import Door
from mewswright.model.yard import Yard

BATH_ROOM_MM = 20.0  # judgement: room at each side and above a bath that is slid in


@dataclass(frozen=True)
class Opening:
    """A clear opening in a wall, in the wall's own measure [mm]."""

    name: str
    from_mm: float
    to_mm: float
    sill_mm: float
    top_mm: float
    is_door: bool

    def is_under(self, upstand_mm: float, lintel_mm: float) -> bool:
        """It and its lintel lie in the solid part of an open face, below the upstand's rail."""
        return self.top_mm + 2 * lintel_mm <= upstand_mm


def openings_in(yard: Yard, wall: Wall) -> tuple[Opening, ...]:
    """Doors, hatches and openings for baths of one wall, along it."""
    quarters = wall.shell.quarters
    found = [
        Opening(
            name=_door_name(door, quarters),
            from_mm=(door.at_mm or 0) - door.width_mm / 2,
            to_mm=(door.at_mm or 0) + door.width_mm / 2,
            sill_mm=door.sill_mm,
            top_mm=door.sill_mm + door.height_mm,
            is_door=True,
        )
        for door in doors_of(yard, quarters)
        if _face_of(door, wall) == wall.side and door.at_mm is not None
    ]
    found += [
        Opening(
            name=hatch.name,
            from_mm=hatch.at_mm - hatch.width_mm / 2,
            to_mm=hatch.at_mm + hatch.width_mm / 2,
            sill_mm=hatch.sill_mm,
            top_mm=hatch.sill_mm + hatch.height_mm,
            is_door=False,
        )
        for hatch in _hatches(yard, wall)
    ]
    found += [bath_opening(bath, wall) for bath in _baths(wall)]
    return tuple(sorted(found, key=lambda opening: opening.from_mm))


def overlaps(side: Side, openings: Sequence[Opening]) -> Iterator[str]:
    """Say which openings of a wall stand in each other's way, and by how much."""
    for one, other in combinations(openings, 2):
        along = min(one.to_mm, other.to_mm) - max(one.from_mm, other.from_mm)
        up = min(one.top_mm, other.top_mm) - max(one.sill_mm, other.sill_mm)
        if along > 1 and up > 1:
            yield (
                f"{one.name} and {other.name} overlap in the {side} face by {along:.0f} mm: move "
                "one of them"
            )


def bath_opening(bath: Bath, wall: Wall) -> Opening:
    """The opening at the foot of a wall that a bath is slid through, with room to move it."""
    across = 0 if wall.is_level else 1
    half = bath.size_mm[across] / 2 + BATH_ROOM_MM
    return Opening(
        name=bath.name,
        from_mm=bath.at_mm[across] - half,
        to_mm=bath.at_mm[across] + half,
        sill_mm=bath.platform_mm,
        top_mm=bath.rim_height_mm + BATH_ROOM_MM,
        is_door=False,
    )


def _baths(wall: Wall) -> list[Bath]:
    """Baths that are slid in under a wall; a shared wall has no outside to slide them from."""
    if wall.shell.join(wall.side) is not None:
        return []
    return [bath for bath in wall.shell.quarters.baths if bath.slides_under == wall.side]


def _face_of(door: Door, wall: Wall) -> Side | None:
    """The face of a door; one between two units of a row stands in the wall they share."""
    for join in wall.shell.joins:
        if join.other in door.between:
            return join.side
    return door.face


def _hatches(yard: Yard, wall: Wall) -> list[Hatch]:
    """Hatches in a wall, those of a unit that shares it too."""
    found = [hatch for hatch in wall.shell.quarters.hatches if hatch.face == wall.side]
    join = wall.shell.join(wall.side)
    if join is not None:
        beyond = "left" if wall.side == "right" else "right"
        hatches = yard.quarters_named(join.other).hatches
        found += [hatch for hatch in hatches if hatch.face == beyond]
    return found


def doors_of(yard: Yard, quarters: Quarters) -> tuple[Door, ...]:
    """Doors that lead out of quarters, in the file's order."""
    return tuple(door for door in yard.door if quarters.name in door.between)


def doors_without_place(yard: Yard, quarters: Quarters) -> tuple[str, ...]:
    """Names of doors whose place in a face is not given, so that none can be trimmed."""
    return tuple(
        _door_name(door, quarters)
        for door in doors_of(yard, quarters)
        if door.face is None or door.at_mm is None
    )


def _door_name(door: Door, quarters: Quarters) -> str:
    other = door.between[1] if door.between[0] == quarters.name else door.between[0]
    return f"door to {other}"
