"""The panels that a unit's walls are made in: marks, sizes, masses, parts and what is too large."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from math import ceil, inf

from pydantic import BaseModel, ConfigDict

from mewswright.build.bays import Span, bolts_at, spans_of
from mewswright.build.frame import framed_walls
from mewswright.build.panel_way import PLAY_MM, Way, way_of
from mewswright.build.parts import Panel, Part, Stick
from mewswright.build.pieces import Piece
from mewswright.build.row import row_named, shell_in, starts_mm, units_in
from mewswright.build.row_frame import placed
from mewswright.build.walls import WallFrame
from mewswright.model.fitting import Side
from mewswright.model.quarters import Frame, Quarters
from mewswright.model.yard import Yard

LETTER: dict[Side, str] = {"front": "F", "back": "B", "left": "L", "right": "R"}
STRAPS_PER_JOINT = 2  # judgement: one on the top and one on the inner face of the head plates


class PartOfPanel(BaseModel):
    """How many pieces of a part a panel holds."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    mark: str
    count: int


class WallPanel(BaseModel):
    """One panel as it is carried. Places are along its wall, from the left or the front [mm]."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    mark: str
    side: Side
    shared: bool = False  # in the wall between two units of a row
    from_mm: float
    to_mm: float
    width_mm: float
    height_mm: float
    thick_mm: float
    mass_kg: float
    unweighed: tuple[str, ...]
    parts: tuple[PartOfPanel, ...]
    too_large: str  # blank: it passes the way and the team carries it


def panels_of(yard: Yard, quarters: Quarters, parts: Sequence[Part]) -> tuple[WallPanel, ...]:
    """Give the panels of a unit, wall by wall.

    Args:
        yard: The yard, for doors and its gates.
        quarters: The unit.
        parts: Its parts, for their marks.

    Returns:
        The panels; of a row those of each unit, the front and back in the row's measure. A
        wall that units share is its owner's.
    """
    marks: dict[Stick | Panel, str] = {}
    for part in parts:
        marks.update(dict.fromkeys((*part.sticks, *part.panels), part.mark))
    row = row_named(yard, quarters.name)
    if row is None:
        return tuple(_of_unit(yard, quarters, marks))
    units = units_in(yard, row)
    return tuple(
        panel
        for i, (unit, start) in enumerate(zip(units, starts_mm(yard, row), strict=True))
        for panel in _of_unit(yard, unit, marks, Stands(start, units, i))
    )


@dataclass(frozen=True)
class Stands:
    """Where a unit stands in its row [mm]."""

    start_mm: float
    units: tuple[Quarters, ...]
    index: int


def _of_unit(
    yard: Yard, unit: Quarters, marks: dict[Stick | Panel, str], stands: Stands | None = None
) -> Iterator[WallPanel]:
    way, shell = way_of(yard, unit), shell_in(yard, unit)
    joined = [join.side for join in shell.joins]
    name = f"{unit.name} " if stands else ""
    for wall in framed_walls(yard, shell):
        along = stands.start_mm if stands and wall.wall.is_level else 0.0
        for i, span in enumerate(spans_of(wall), start=1):
            mark = f"{name}{LETTER[wall.wall.side]}{i}"
            pieces = span.pieces
            if stands:
                pieces = tuple(placed(pieces, stands.start_mm, stands.units, stands.index))
            yield WallPanel(
                mark=mark,
                side=wall.wall.side,
                shared=wall.wall.side in joined,
                from_mm=round(span.from_mm + along, 1),
                to_mm=round(span.to_mm + along, 1),
                width_mm=round(span.width_mm, 1),
                height_mm=round(span.height_mm, 1),
                thick_mm=round(span.thick_mm, 1),
                mass_kg=round(span.mass_kg, 2),
                unweighed=span.unweighed,
                parts=tuple(_counted(pieces, marks)),
                too_large=_too_large(mark, span, way, unit.frame),
            )


def _counted(pieces: Iterable[Piece], marks: dict[Stick | Panel, str]) -> Iterator[PartOfPanel]:
    counts: dict[str, int] = {}
    for piece in pieces:
        place = piece.stick or piece.panel
        if place is not None and place in marks:
            counts[marks[place]] = counts.get(marks[place], 0) + 1
    for mark, count in counts.items():
        yield PartOfPanel(mark=mark, count=count)


def _too_large(mark: str, span: Span, way: Way, frame: Frame) -> str:
    """Say by how much a panel is too large, and what would do; blank if it is not."""
    words = []
    long = span.to_mm - span.from_mm
    if long > way.longest_mm + 1e-6:
        words.append(
            f"it is {long:.0f} mm long, {long - way.longest_mm:.0f} mm more than bay_max_mm: an "
            "opening or its jambs leave no place for a joint; move or narrow the opening"
        )
    if span.mass_kg > way.carry_kg:
        people = ceil(span.mass_kg / (frame.carry_kg or span.mass_kg))
        bare = "; or set carry_clad = false and clad it once it stands" if frame.carry_clad else ""
        words.append(
            f"it weighs {span.mass_kg:.0f} kg, {span.mass_kg - way.carry_kg:.0f} kg more than the "
            f"{way.carry_kg:g} kg of the team: take {people} people (carry_people){bare}"
        )
    if not way.passes(span.width_mm, span.height_mm, span.thick_mm):
        words.append(_stuck(span, way))
    return f"panel {mark}: {'; '.join(words)}" if words else ""


def _stuck(span: Span, way: Way) -> str:
    least = min(span.width_mm, span.height_mm)
    if span.thick_mm > way.width_mm - PLAY_MM and least > way.width_mm - PLAY_MM:
        return (
            f"it is {span.thick_mm:.0f} mm thick and the way {way.width_mm:.0f} mm wide, of which "
            f"hands take {PLAY_MM:.0f}: {span.thick_mm + PLAY_MM - way.width_mm:.0f} mm too much; "
            "clear a wider way, or lift it over"
        )
    over = "" if way.height_mm == inf else f" and {way.height_mm:.0f} mm high"
    return (
        f"its smaller side is {least:.0f} mm and the way {way.width_mm:.0f} mm wide{over}: "
        f"{least + PLAY_MM - max(way.width_mm, way.height_mm):.0f} mm too much on edge; take a "
        "shorter bay_max_mm, or lift it over"
    )


def joint_fixings(walls: Sequence[WallFrame]) -> Iterator[Piece]:
    """Bolts, washers and tie straps of the joints between panels."""
    joints = [(wall, at) for wall in walls for at in wall.joints_mm]
    if not joints:
        return
    frame = walls[0].wall.shell.quarters.frame
    bolts = sum(bolts_at(wall, at) for wall, at in joints)
    grip = 2 * max(wall.uprights[0].breadth_mm for wall, _ in joints)
    place = "paired uprights where panels meet"
    yield Piece(
        kind="fixing", what="bolt between panels", place=place,
        material=f"{frame.bay_bolt.lower()}_coach_bolt", amount=bolts,
        note=f"every {frame.bay_bolt_mm:g} mm at most, through {grip:g} mm of timber",
    )  # fmt: skip
    yield Piece(
        kind="fixing", what="washer of a bolt between panels", place=place,
        material=f"washer_{frame.bay_bolt.lower()}", amount=bolts, note="under the nut",
    )  # fmt: skip
    yield Piece(
        kind="fixing", what="tie strap over a joint of head plates", place="head plates",
        material="strap_30", amount=STRAPS_PER_JOINT * len(joints),
        note="300 mm to each side, on top and on the inner face, so that the head plate ties "
        "through; its nails govern; use the maker's figures",
    )  # fmt: skip


def panel_words(panels: Sequence[WallPanel], joints: int) -> Iterator[str]:
    """Say how the walls were parted, where they were."""
    if joints:
        yield (
            f"walls are parted into {len(panels)} panels, bolted through paired uprights; the "
            "check of the frame takes each panel's head plate as ending at its joint, and each "
            "upright of a pair by itself; its tie straps and bolts are checked as though one wall "
            "took all of the wind's push"
        )
        yield (
            "panels are carried lengthwise, on edge, flat or tilted; turns of the way are not "
            "checked: bay_max_mm is the longest that goes round them"
        )
    unweighed = dict.fromkeys(what for panel in panels for what in panel.unweighed)
    if joints and unweighed:
        yield f"no mass is on record, and none counted in a panel, of: {', '.join(unweighed)}"
