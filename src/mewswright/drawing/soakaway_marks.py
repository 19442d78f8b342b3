"""Soakaways on the plan of the yard, each with its drain from the downpipe."""

from collections.abc import Iterator
from dataclasses import dataclass

from mewswright.build.gutter_places import HungGutter, hung_gutters
from mewswright.build.row import misfits, row_with, unit_or_row
from mewswright.drawing.ground_marks import mm
from mewswright.drawing.placing import Lettering
from mewswright.drawing.scene import Line, Mark, Point, Polygon
from mewswright.model.problem import Problem
from mewswright.model.yard import Yard

UNSIZED_M = 1.0  # side of a pit that no rule sizes, as it is drawn


@dataclass(frozen=True)
class DugPit:
    """A soakaway where it lies: the downpipe that it is led from, its middle and its side [m]."""

    of: str
    from_m: Point
    at_m: Point
    side_m: float
    title: str


def dug_pits(yard: Yard) -> Iterator[DugPit]:
    """Every soakaway that a roof of the yard asks for and that has a place.

    A row asks as a whole; one that does not fit together asks for none.
    """
    names = [row.name for row in yard.row if not any(misfits(yard, row))]
    names += [q.name for q in yard.quarters if row_with(yard, q.name) is None]
    for name in names:
        seen, quarters = unit_or_row(yard, name)
        if quarters.kind == "pitch":
            continue
        try:
            found = hung_gutters(seen, quarters)
        except Problem:
            continue  # the unit's own sheets say why
        for hung in found:
            pit = _pit(name, hung)
            if pit is not None:
                yield pit


def _pit(name: str, hung: HungGutter) -> DugPit | None:
    told = hung.soakaway
    if told is None or told.place_m is None:
        return None
    start = hung.shell.quarters.on_ground_m(hung.outlets_mm[0], hung.pipe_line_mm)
    stone = told.rubble_m3
    size = f"{stone:.2f} m3 of stone" if stone is not None else "dig a trial pit, it is not sized"
    side = stone ** (1 / 3) if stone is not None else UNSIZED_M
    title = f"Soakaway of {name}, {hung.eave.side} eave: {size}"
    return DugPit(name, start, told.place_m, side, title)


def pit_marks(pit: DugPit) -> list[Mark]:
    """A pit as a square of stone, north up, and its drain."""
    (x, y), half = mm(pit.at_m), mm((pit.side_m / 2, 0))[0]
    item = f"soakaway:{pit.of}"
    low, high = (x - half, y - half), (x + half, y + half)
    corners = (low, (high[0], low[1]), high, (low[0], high[1]))
    return [
        Line(layer="rain", pen="thin", dash="dashed", a=mm(pit.from_m), b=(x, y), item=item,
             title=f"Rain drain of {pit.of}"),
        Polygon(layer="rain", pen="thin", fill="ground", hatch="gravel", points=corners, item=item,
                title=pit.title),
    ]  # fmt: skip


def pit_names(pit: DugPit, letters: Lettering) -> list[Mark]:
    """What a pit is, beside it."""
    half = mm((pit.side_m / 2, 0))[0] / letters.scale
    return letters.label(
        mm(pit.at_m), f"soakaway of {pit.of}", item=f"soakaway:{pit.of}", title=pit.title,
        gap_mm=half + 0.8,
    )  # fmt: skip
