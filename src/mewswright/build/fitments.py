"""Fittings and doors as parts: perches by their length, the rest as bought pieces."""

from collections.abc import Iterable
from dataclasses import replace
from math import pi

from mewswright.build.openings import bath_opening, doors_of, openings_in
from mewswright.build.parts import Panel, Stick
from mewswright.build.pieces import Piece
from mewswright.build.shell import Shell, Wall, walls_of
from mewswright.model.fitting import Hatch, Perch
from mewswright.model.quarters import Quarters, perch_ends_mm
from mewswright.model.yard import Yard

GROWN = ("branch", "stump")  # a natural perch: the wood itself is renewed, bark and all
INNER_FLAP = "inner flap"
FLAT_PERCH_MM = 25.0  # judgement: thickness of a flat perch or shelf


def fitments(yard: Yard, shell: Shell) -> Iterable[Piece]:
    """Perches, baths, hatches and doors."""
    quarters = shell.quarters
    for perch in quarters.perches:
        yield _perch(perch)
    yield from covers(quarters)
    for bath in quarters.baths:
        x, y = bath.size_mm
        yield Piece(
            kind="bath",
            what=f"bath {bath.name!r}",
            place=f"at {bath.at_mm[0]:g}, {bath.at_mm[1]:g}",
            material="bath",
            length_mm=y,
            width_mm=x,
            amount=1,
            note=f"{bath.depth_mm:g} mm of water, rim {bath.rim_height_mm:g} mm up",
        )
        if bath.slides_under is not None:
            opening = bath_opening(bath, Wall(shell, bath.slides_under))
            yield Piece(
                kind="hatch",
                what=f"flap of the bath {bath.name!r}",
                place=f"{bath.slides_under}, at the floor",
                material="hatch",
                length_mm=opening.top_mm - opening.sill_mm,
                width_mm=opening.to_mm - opening.from_mm,
                amount=1,
                note="shut and latched when the bath is in and when it is out",
            )
    for hatch in quarters.hatches:
        yield from _hatch(hatch)
    yield from _doors(yard, shell)


def flaps_of(hatch: Hatch) -> int:
    """Flaps of a hatch: none where it does not shut, two where the bird must not see through."""
    return 0 if not hatch.closes else 2 if hatch.blind else 1


def _hatch(hatch: Hatch) -> Iterable[Piece]:
    whole = Piece(
        kind="hatch",
        what=f"hatch {hatch.name!r}",
        place=f"{hatch.face}, sill {hatch.sill_mm:g} mm up",
        material="hatch",
        length_mm=hatch.height_mm,
        width_mm=hatch.width_mm,
        amount=1,
        note=f"ledge {hatch.ledge_mm:g} mm deep" if hatch.ledge_mm else "",
    )
    yield whole
    if flaps_of(hatch) > 1:
        yield replace(
            whole,
            what=f"{INNER_FLAP} of the hatch {hatch.name!r}",
            note="hung as the outer one, so that one is shut while the other is open; a sleeve "
            "serves as well",
        )


def _perch(perch: Perch) -> Piece:
    start, end = perch_ends_mm(perch)
    thick = perch.diameter_mm or FLAT_PERCH_MM
    wide = perch.width_mm or perch.diameter_mm or 0
    length = perch.length_mm or 0
    stick = None
    if length:
        z = perch.height_mm - thick / 2
        stick = Stick(
            start_mm=(*start, z),
            end_mm=(*end, z),
            breadth_mm=wide,
            depth_mm=thick,
            depth_axis=(0.0, 0.0, 1.0),
        )
    size = f"{perch.diameter_mm:g} mm thick" if perch.diameter_mm else f"{wide:g} mm wide"
    return Piece(
        kind="perch",
        what=f"{perch.form} perch {perch.name!r}",
        place=f"at {perch.at_mm[0]:g}, {perch.at_mm[1]:g}, top {perch.height_mm:g} mm up",
        material=f"perch_{perch.form}",
        length_mm=length,
        width_mm=wide,
        amount=length / 1000 if length else 1,
        unit="m" if length else "piece",
        note=f"{size} over its cover; cover: {perch.cover}",
        stick=stick,
    )


def covers(quarters: Quarters) -> Iterable[Piece]:
    """Covers of perches, one a perch; the bark of a natural perch comes with its wood."""
    for perch in quarters.perches:
        if perch.cover == "bare" or (perch.form in GROWN and perch.cover == "bark"):
            continue
        thick = perch.diameter_mm or FLAT_PERCH_MM
        around = perch.width_mm + 2 * thick if perch.width_mm else pi * thick
        note = f"wraps {around:.0f} mm round" if perch.length_mm else "over the top and its edge"
        yield Piece(
            kind="finish",
            what=f"cover of {perch.cover} for {perch.name!r}",
            place=perch.name,
            material=f"cover_{perch.cover}",
            length_mm=perch.length_mm or 0,
            width_mm=around,
            amount=1,
            note=note,
        )


def _doors(yard: Yard, shell: Shell) -> Iterable[Piece]:
    """Door leaves. A door of two units is listed with both: each needs to know its opening."""
    placed = {
        opening.name: (wall, opening)
        for wall in walls_of(shell)
        for opening in openings_in(yard, wall)
        if opening.is_door
    }
    for door in doors_of(yard, shell.quarters):
        other = door.between[1] if door.between[0] == shell.quarters.name else door.between[0]
        name = f"door to {other}"
        panel = None
        if name in placed:
            wall, opening = placed[name]
            corners = (
                (opening.from_mm, opening.sill_mm), (opening.to_mm, opening.sill_mm),
                (opening.to_mm, opening.top_mm), (opening.from_mm, opening.top_mm),
            )  # fmt: skip
            out = shell.wall_mm - 20
            panel = Panel(corners_mm=tuple(wall.at(s, out, z) for s, z in corners), thickness_mm=40)
        yield Piece(
            kind="door",
            what=name,
            place=door.face or "place not given",
            material="door_leaf",
            length_mm=door.height_mm,
            width_mm=door.width_mm,
            amount=1,
            note="clear opening; make the leaf 5 to 10 mm smaller on each side",
            panel=panel,
        )
