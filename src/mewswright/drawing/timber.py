"""Timber and panels of a frame as marks, with their part marks."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import hypot

from mewswright.build.parts import Part, Place, Stick
from mewswright.drawing.placing import Lettering
from mewswright.drawing.projection import (
    View,
    hull,
    middle,
    outline,
    panel_corners,
    seen,
    stick_corners,
)
from mewswright.drawing.scene import Fill, Hatch, Mark, Pen, Point, Polygon

_PANEL_LOOK: dict[str, tuple[Fill, Hatch]] = {
    "board": ("boards", "none"), "deck": ("timber", "none"), "covering": ("roof", "none"),
    "mesh": ("none", "mesh"), "net": ("none", "mesh"), "base": ("ground", "diagonal"),
    "substrate": ("ground", "gravel"), "door": ("boards", "none"),
    "rain": ("paper", "none"),
}  # fmt: skip
_MARKED_AT_ONE_PLACE_MM = 25.0  # pieces of one part nearer than this in a view are seen as one


@dataclass(frozen=True, slots=True)
class Piece:
    """One piece of a part as a view shows it."""

    part: Part
    corners: tuple[Place, ...]
    points: tuple[Point, ...]
    stick: Stick | None = None


def panel_look(kind: str) -> tuple[Fill, Hatch]:
    """Give the tint and hatch of a part by its kind."""
    return _PANEL_LOOK.get(kind, ("timber", "none"))


def part_title(part: Part) -> str:
    """Say a part in one line, with its length and end cuts."""
    words = [f"{part.mark} {part.what}"]
    if part.section:
        words.append(part.section)
    if part.length_mm:
        words.append(f"{part.length_mm:.0f} long")
    if part.cut_start_deg or part.cut_end_deg:
        words.append(f"ends cut {part.cut_start_deg:.1f}° and {part.cut_end_deg:.1f}° from square")
    return ", ".join(words)


def pieces_of(parts: Iterable[Part], view: View) -> list[Piece]:
    """Give every stick and panel of parts with its outline in a view."""
    found: list[Piece] = []
    for part in parts:
        for stick in part.sticks:
            corners = stick_corners(stick)
            found.append(Piece(part, corners, stick_outline(part, stick, view), stick))
        for panel in part.panels:
            corners = panel_corners(panel)
            found.append(Piece(part, corners, outline(corners, view)))
    return found


def stick_outline(part: Part, stick: Stick, view: View) -> tuple[Point, ...]:
    """Give the outline of a stick; seen from the side, plumb cuts stand upright.

    Both ends cut by the same angle are plumb cuts of a raked piece (rafter, raked plate):
    the stick's ends are where its middle line meets them.
    """
    corners = stick_corners(stick)
    plumb = view == "side" and part.cut_start_deg > 0 and part.cut_start_deg == part.cut_end_deg
    if not plumb:
        return outline(corners, view)
    (y0, z0), (y1, z1) = seen(stick.start_mm, view), seen(stick.end_mm, view)
    run = hypot(y1 - y0, z1 - z0)
    if run == 0 or y1 == y0:
        return outline(corners, view)
    normal = (-(z1 - z0) / run, (y1 - y0) / run)
    offsets = [
        (y - y0) * normal[0] + (z - z0) * normal[1] for y, z in (seen(c, view) for c in corners[:4])
    ]
    up = [offset / normal[1] for offset in (min(offsets), max(offsets))]
    return hull((y, z + u) for y, z in ((y0, z0), (y1, z1)) for u in up)


def piece_mark(
    piece: Piece, *, layer: str = "timber", pen: Pen = "thin", cut: bool = False
) -> Mark:
    """Draw a piece as seen, or as cut by the drawing's plane."""
    part = piece.part
    fill, hatch = panel_look(part.kind)
    if cut and hatch == "none" and part.kind != "covering":
        fill = "cut"
    if part.kind == "bar":
        fill, pen, layer = "ink", "hair", "bars"
    return Polygon(
        layer=layer, pen="medium" if cut and part.kind != "bar" else pen, points=piece.points,
        fill=fill, hatch=hatch, item=f"part:{part.mark}", title=part_title(part),
    )  # fmt: skip


def distinct(pieces: Sequence[Piece]) -> list[Piece]:
    """Keep one of several pieces of one part that a view shows at the same place."""
    kept: dict[tuple[str, tuple[Point, ...]], Piece] = {}
    for piece in pieces:
        kept[piece.part.mark, piece.points] = piece
    return list(kept.values())


def part_marks(
    pieces: Sequence[Piece], letters: Lettering, *, only: Iterable[str] = (),
    gap_mm: float = 2.0,
) -> list[Mark]:  # fmt: skip
    """Write each part's mark once, at the piece in the middle of its run.

    Args:
        pieces: What the view shows.
        letters: Lettering so far.
        only: Kinds of part to mark; all, if blank.
        gap_mm: Distance from the piece [mm on paper].

    Returns:
        Labels, "R1 × 7" where a part shows more than once.
    """
    kinds = set(only)
    runs: dict[str, list[Piece]] = {}
    for piece in pieces:
        if not kinds or piece.part.kind in kinds:
            runs.setdefault(piece.part.mark, []).append(piece)
    marks: list[Mark] = []
    for mark, run in runs.items():
        piece = run[len(run) // 2]
        places = min(_places(run), piece.part.count)  # a gutter is one piece of many plates
        marks += letters.label(
            middle(piece.points), mark if places == 1 else f"{mark} × {places}",
            item=f"part:{mark}", title=part_title(piece.part), layer="part-marks",
            css="part-mark", gap_mm=gap_mm,
        )  # fmt: skip
    return marks


def _places(run: Sequence[Piece]) -> int:
    spots: list[Point] = []
    for piece in run:
        at = middle(piece.points)
        if all(hypot(at[0] - x, at[1] - y) > _MARKED_AT_ONE_PLACE_MM for x, y in spots):
            spots.append(at)
    return len(spots)
