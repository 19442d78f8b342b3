"""Hinges, bolts, locks and releases, door by door and hatch by hatch."""

from collections.abc import Collection, Iterable

from mewswright.build.fitments import flaps_of
from mewswright.build.openings import doors_of
from mewswright.build.pieces import Piece
from mewswright.model.quarters import Quarters
from mewswright.model.ways import Door
from mewswright.model.yard import Yard

LOCKS = {"key": "door_lock_key", "code": "door_lock_code"}


def ironmongery(yard: Yard, quarters: Quarters, hung: Collection[str] = ()) -> Iterable[Piece]:
    """What every door and hatch of a unit is hung and shut with.

    A door of two units is listed with both, as its leaf is.

    Args:
        yard: For the doors.
        quarters: The unit.
        hung: Units whose doors are counted already.
    """
    for door in doors_of(yard, quarters):
        other = door.between[1] if door.between[0] == quarters.name else door.between[0]
        if other in hung:
            continue
        yield from _of_door(door, f"door to {other}")
    for bath in quarters.baths:
        if bath.slides_under is not None:
            yield _piece("hatch hinges and catch", "hatch_catch", f"flap of {bath.name}", "")
    for hatch in quarters.hatches:
        note = "" if hatch.closes else "the yard file says that it does not shut"
        for _ in range(max(1, flaps_of(hatch))):
            yield _piece("hatch hinges and catch", "hatch_catch", hatch.name, note)


def _of_door(door: Door, place: str) -> Iterable[Piece]:
    if door.locks == "none":
        yield _piece("hinges, no bolt", "hinge_bolt_set", place, "the yard file has no lock: bolt")
    else:
        yield _piece("hinge and bolt set", "hinge_bolt_set", place, "")
    if door.locks in LOCKS:
        yield _piece(f"{door.locks} lock", LOCKS[door.locks], place, "")
    if door.locks != "none" and door.opens_from_inside:
        yield _piece("release from inside", "door_release", place, "a person shut in gets out")
    if door.self_closing:
        yield _piece("closer", "door_closer", place, "falls shut by itself")


def _piece(what: str, material: str, place: str, note: str) -> Piece:
    return Piece(kind="fixing", what=what, place=place, material=material, amount=1, note=note)
