"""Gutters, downpipes and butts of a unit, for the sheets that show them."""

from collections.abc import Callable, Iterable, Iterator

from mewswright.build.gutter_parts import GUTTER, PIPE, gutter_pieces
from mewswright.build.gutter_shapes import SIDES
from mewswright.build.parts import BuiltFrame, Part, Place
from mewswright.build.pieces import marked_after
from mewswright.drawing.projection import hull, panel_corners
from mewswright.drawing.scene import Point
from mewswright.drawing.timber import Piece
from mewswright.model.fitting import Side
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard

_PLATES = {GUTTER: SIDES // 2, PIPE: SIDES}  # that stand for one run of it


def with_rain(yard: Yard, quarters: Quarters, frame: BuiltFrame) -> BuiltFrame:
    """Add what leads the rain away to a unit's timber, marked as in its take-off.

    Args:
        yard: The yard.
        quarters: The unit.
        frame: Its timber.
    """
    pieces = [piece for piece in gutter_pieces(yard, quarters) if piece.amount]
    if not pieces or any(part.kind == "rain" for part in frame.parts):
        return frame
    return frame.model_copy(update={"parts": (*frame.parts, *marked_after(frame.parts, pieces))})


def rain_parts(frame: BuiltFrame) -> list[Part]:
    """What of it has a place of its own."""
    return [part for part in frame.parts if part.kind == "rain" and part.panels]


def rain_pieces(parts: Iterable[Part], spot: Callable[[Place], Point]) -> list[Piece]:
    """Give each run of a gutter or pipe, and each vessel, as one outline.

    Args:
        parts: Parts of kind "rain".
        spot: Where a place lies on the drawing.
    """
    found = []
    for part in parts:
        step = _PLATES.get(part.what, len(part.panels))
        for i in range(0, len(part.panels), step):
            corners = tuple(c for panel in part.panels[i : i + step] for c in panel_corners(panel))
            found.append(Piece(part, corners, hull(spot(c) for c in corners)))
    return found


def rims_mm(parts: Iterable[Part]) -> list[Place]:
    """The highest and the lowest place of the rim of each gutter."""
    found: list[Place] = []
    for part in parts:
        if part.what == GUTTER:
            first = part.panels[:: SIDES // 2]  # of each run the plate with the rim
            ends = sorted((c for panel in first for c in panel.corners_mm[:2]), key=lambda c: c[2])
            found += [ends[-1], ends[0]]
    return found


def rain_notes(frame: BuiltFrame, side: Side | None = None) -> Iterator[str]:
    """One sentence for each gutter, pipe and vessel of a side; or for each gutter.

    Args:
        frame: The unit with its rain goods.
        side: The side that they hang at; None: the gutters of all.
    """
    for part in rain_parts(frame):
        if part.what == GUTTER if side is None else side in part.place:
            yield f"{part.mark} {part.what}, {part.place}: {part.note}."
