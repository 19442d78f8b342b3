"""Perches, baths and the other fittings, as a section shows them.

A section looks along one axis and keeps the other: a side section ("side") keeps y, a
cross section ("front") keeps x. Fittings are shown wherever they stand along the axis
that is looked along.
"""

from math import cos, isfinite, radians, sin
from typing import Literal, TypeAlias

from mewswright.build.clear_height import clear_height_mm
from mewswright.build.parts import BuiltFrame
from mewswright.build.room import roof_room_mm
from mewswright.drawing.dimensions import dimension
from mewswright.drawing.fitting_marks import fitting_title, item_of
from mewswright.drawing.front import opening
from mewswright.drawing.placing import Lettering
from mewswright.drawing.scene import Circle, Line, Mark, Point, Polygon
from mewswright.model.fitting import (
    AnyFitting,
    Bath,
    Device,
    Hatch,
    Perch,
    Shelf,
    Side,
    Upright,
)
from mewswright.model.quarters import Quarters

Cut: TypeAlias = Literal["side", "front"]
_FLAT_MM = 40.0  # thickness that a flat perch or shelf is drawn with; the yard file has none
_ENDS: dict[Cut, tuple[Side, Side]] = {"side": ("front", "back"), "front": ("left", "right")}
_APART_MM = 5.0  # between two lines of headroom, on paper
_BESIDE_MM = 2.0  # a figure of headroom from the middle of its perch, on paper


def along_mm(at_mm: Point, view: Cut) -> float:
    """Give where a place in plan lies along a section."""
    return at_mm[1] if view == "side" else at_mm[0]


def run_mm(quarters: Quarters, view: Cut) -> float:
    """Give the clear length of a section."""
    return quarters.depth_mm if view == "side" else quarters.width_mm


def section_spot(fitting: AnyFitting, quarters: Quarters, view: Cut) -> Point:
    """Give the place in a section that a fitting's name belongs to: its top middle."""
    if isinstance(fitting, Hatch):
        low, high = _ENDS[view]
        u = {low: 0.0, high: run_mm(quarters, view)}.get(fitting.face, fitting.at_mm)
        return u, fitting.sill_mm + fitting.height_mm / 2
    u = along_mm(fitting.at_mm, view)
    match fitting:
        case Bath():
            return u, fitting.rim_height_mm
        case Upright():
            top = fitting.top_mm
            return u, clear_height_mm(quarters, fitting.at_mm[1]) if top is None else top
        case _:
            return u, fitting.height_mm


def section_marks(
    fitting: AnyFitting, quarters: Quarters, frame: BuiltFrame | None, scale: int, view: Cut
) -> list[Mark]:
    """Draw one fitting as a section shows it, without lettering."""
    item, title = item_of(fitting), fitting_title(fitting)
    u, top = section_spot(fitting, quarters, view)

    def box(long: float, low: float, high: float, *, water: bool = False) -> list[Mark]:
        a, b = u - long / 2, u + long / 2
        return [
            Polygon(
                layer="fittings", pen="medium", points=((a, low), (b, low), (b, high), (a, high)),
                fill="water" if water else "timber", item=item, title=title,
            )
        ]  # fmt: skip

    match fitting:
        case Perch():
            return _perch(fitting, u, item, title, view)
        case Bath():
            return box(fitting.size_mm[1 if view == "side" else 0], 0, top, water=True)
        case Shelf():
            long = fitting.width_mm if view == "side" else fitting.length_mm
            return box(long, top - _FLAT_MM, top + (fitting.box_height_mm or 0))
        case Upright():
            return box(fitting.size_mm, 0, top)
        case Device():
            return [
                Circle(
                    layer="fittings", centre=(u, top), radius=1.5 * scale, fill="paper",
                    item=item, title=title,
                )
            ]  # fmt: skip
        case Hatch():
            return _hatch(fitting, quarters, frame, item, title, view)


def headroom(quarters: Quarters, letters: Lettering, view: Cut) -> list[Mark]:
    """Measure from the top of each perch up to the rafters or the ridge beam over it, as P104."""
    marks: list[Mark] = []
    lines: list[float] = []  # of perches that stand behind each other: a line each
    for perch in quarters.perches:
        u, top = section_spot(perch, quarters, view)
        over = roof_room_mm(quarters, perch)
        if not isfinite(over):
            continue  # open sky
        at = u - _BESIDE_MM * letters.scale
        while any(abs(at - line) < _APART_MM * letters.scale for line in lines):
            at -= _APART_MM * letters.scale
        lines.append(at)
        marks += dimension(
            letters, (u, top), (u, top + over), "y", at,
            item=item_of(perch), title=f"Clear height over {perch.name}",
        )  # fmt: skip
    return marks


def _perch(perch: Perch, u: float, item: str, title: str, view: Cut) -> list[Mark]:
    top = perch.height_mm
    thick = perch.diameter_mm or _FLAT_MM
    turn = radians(perch.turn_deg)
    across = (perch.length_mm or 0) * abs(sin(turn) if view == "side" else cos(turn))
    marks: list[Mark] = []
    if perch.form in ("block", "ring", "stump", "bow") or perch.free_standing:
        # What carries it is not in the yard file: a thin line says only that it stands.
        marks.append(
            Line(layer="fittings", pen="hair", a=(u, 0), b=(u, top), item=item, dash="dashed")
        )
    if perch.form in ("flat", "shelf"):
        # A turned board is as long in the view as its length and its width reach together.
        wide = (perch.width_mm or 0) * abs(cos(turn) if view == "side" else sin(turn))
        long = across + wide
        low = top - _FLAT_MM
    elif perch.form in ("block", "ring", "stump"):
        long, low = thick, top - min(thick, top)
    elif across <= thick:
        return [
            *marks,
            Circle(
                layer="fittings", pen="medium", centre=(u, top - thick / 2), radius=thick / 2,
                fill="timber", item=item, title=title,
            ),
        ]  # fmt: skip
    else:
        long, low = across, top - thick
    a, b = u - long / 2, u + long / 2
    return [
        *marks,
        Polygon(
            layer="fittings", pen="medium", points=((a, low), (b, low), (b, top), (a, top)),
            fill="timber", item=item, title=title,
        ),
    ]  # fmt: skip


def _hatch(
    hatch: Hatch, quarters: Quarters, frame: BuiltFrame | None, item: str, title: str, view: Cut
) -> list[Mark]:
    low, high = hatch.sill_mm, hatch.sill_mm + hatch.height_mm
    near, far = _ENDS[view]
    if hatch.face not in (near, far):
        if view == "front" and hatch.face == "front":
            return []  # in the wall behind the viewer
        a, b = hatch.at_mm - hatch.width_mm / 2, hatch.at_mm + hatch.width_mm / 2
        return [opening((a, low), (b, high), item, title)]
    wall = frame.wall_mm if frame is not None else 0.0
    inner = 0.0 if hatch.face == near else run_mm(quarters, view)
    into = 1 if hatch.face == near else -1
    outer = inner - into * wall
    ledge = inner + into * hatch.ledge_mm
    marks: list[Mark] = [
        Polygon(
            layer="openings", pen="medium", fill="paper", item=item, title=title, dash="dashed",
            points=((outer, low), (inner, low), (inner, high), (outer, high)),
        )
    ]  # fmt: skip
    if hatch.ledge_mm > 0:
        marks.append(
            Polygon(
                layer="fittings", pen="medium", fill="timber", item=item, title=title,
                points=((inner, low - 20), (ledge, low - 20), (ledge, low), (inner, low)),
            )
        )  # fmt: skip
    return marks
