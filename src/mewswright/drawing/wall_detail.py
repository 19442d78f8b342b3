"""A wall near one of its openings, for details: its own parts, seen, cut upright and cut level.

Three views of one side as seen from outside: in elevation u runs to the right and z up; an
upright cut has the outside at its left (x is how far inside the clear inside face), z up; a
level cut has u to the right and the room above (y is how far inside). Millimetres.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace

from mewswright.build.parts import BuiltFrame, Part, Place
from mewswright.build.solids import solids_of
from mewswright.drawing.framing import counted_parts, wall_pieces
from mewswright.drawing.outside import Outside
from mewswright.drawing.placing import Lettering
from mewswright.drawing.projection import View, cut, hull, middle
from mewswright.drawing.rows import notes_below
from mewswright.drawing.scene import (
    TEXT_MM,
    Box,
    Fill,
    Line,
    Mark,
    Pen,
    Point,
    Polygon,
    Scene,
    box_of,
    extent,
    text_box,
)
from mewswright.drawing.timber import Piece, part_title, piece_mark
from mewswright.ground.noon import clipped

_OF_A_WALL = (
    "sole", "head", "post", "stud", "nogging", "trim", "board", "batten", "bar", "mesh", "net",
    "base",
)  # fmt: skip
_CAPTION_MM = 5.0  # over a view, on paper
_UNMARKED = ("board", "bar", "mesh", "net", "batten")


def rect(
    a: Point, b: Point, item: str, title: str, *, fill: Fill = "none", pen: Pen = "thin",
    layer: str = "doors",
) -> Polygon:  # fmt: skip
    """Draw an upright rectangle between two of its corners."""
    return Polygon(
        layer=layer, pen=pen, points=(a, (b[0], a[1]), b, (a[0], b[1])), fill=fill, item=item,
        title=title,
    )  # fmt: skip


def seen_near(frame: BuiltFrame, view: Outside, box: Box) -> list[Piece]:
    """Give the timber of a wall in elevation, as far as a box shows it."""
    return _within(wall_pieces(frame, view), box)


def cut_upright(frame: BuiltFrame, view: Outside, u_mm: float, box: Box) -> list[Piece]:
    """Give what an upright plane square to a wall cuts of it, as far as a box shows it."""
    level = view.side in ("front", "back")
    at = view.along_mm(u_mm)  # its own inverse
    axis: View = "side" if level else "front"

    def spot(point: Point) -> Point:
        place: Place = (at, *point) if level else (point[0], at, point[1])
        return -view.out_mm(place), point[1]

    return _within(_cut(frame, axis, at, spot), box)


def cut_level(frame: BuiltFrame, view: Outside, z_mm: float, box: Box) -> list[Piece]:
    """Give what a level plane cuts of a wall, as far as a box shows it."""

    def spot(point: Point) -> Point:
        return view.u_mm(*point), -view.out_mm((*point, z_mm))

    return _within(_cut(frame, "plan", z_mm, spot), box)


def _cut(
    frame: BuiltFrame, axis: View, at: float, spot: Callable[[Point], Point]
) -> Iterable[Piece]:
    for part in frame.parts:
        if part.kind not in _OF_A_WALL:
            continue
        for solid in solids_of(part, frame):
            points = cut(solid.places_mm, axis, at)
            if points:
                yield Piece(part, solid.places_mm, hull(map(spot, points)))


def _within(pieces: Iterable[Piece], box: Box) -> list[Piece]:
    found = []
    for piece in pieces:
        points = clipped(piece.points, (box.left, box.bottom, box.right, box.top))
        if len(points) > 2:
            found.append(Piece(piece.part, piece.corners, points, piece.stick))
    return found


def timber_marks(pieces: Sequence[Piece], *, is_cut: bool = False) -> list[Mark]:
    """Draw pieces; what is cut is dark."""
    return [piece_mark(p, cut=is_cut and p.part.kind not in _UNMARKED, pen="thin") for p in pieces]


def mark_names(pieces: Sequence[Piece], letters: Lettering) -> list[Mark]:
    """Write the mark of every piece of timber at the piece."""
    marks: list[Mark] = []
    for piece in pieces:
        if piece.part.kind not in _UNMARKED:
            marks += letters.label(
                middle(piece.points), piece.part.mark, item=f"part:{piece.part.mark}",
                title=part_title(piece.part), layer="part-marks", css="part-mark", gap_mm=1.2,
                prefer=(0, 180),
            )  # fmt: skip
    return marks


def caption(view: Iterable[Mark], words: str, letters: Lettering) -> list[Mark]:
    """Write over one view of several how it is looked at."""
    n = letters.scale
    box = box_of(p for mark in view for p in extent(mark, n))
    at = ((box.left + box.right) / 2, box.top + _CAPTION_MM * n)
    while not letters.is_free(text_box(at, words, TEXT_MM, n, bold=True)):
        at = (at[0], at[1] + n)
    return [letters.write(at, words, anchor="middle", bold=True)]


def cut_list(pieces: Iterable[Piece]) -> list[str]:
    """List the timber of a detail with sections and lengths, each part once."""
    parts: dict[str, Part] = {
        p.part.mark: p.part for p in pieces if p.part.section or p.part.kind == "base"
    }
    return counted_parts([(part, 0) for part in parts.values()])


def floor_line(low: float, high: float) -> Line:
    """Draw the finished floor between two places."""
    return Line(
        layer="floor", pen="medium", a=(low, 0), b=(high, 0), item="floor:all",
        title="Finished floor",
    )  # fmt: skip


def shifted(pieces: Iterable[Piece], dx: float, dy: float = 0) -> list[Piece]:
    """Give pieces moved along the paper, for a second view beside the first."""
    return [
        replace(piece, points=tuple((x + dx, y + dy) for x, y in piece.points)) for piece in pieces
    ]


def finished(
    letters: Lettering, name: str, title: str, description: str, *, dims: Sequence[Mark],
    drawn: Sequence[Mark], names: Sequence[Mark], lines: Sequence[str],
) -> Scene:  # fmt: skip
    """Put the notes of a detail under its views and make a scene of all.

    Args:
        letters: Lettering so far.
        name: Name of the scene.
        title: What it shows.
        description: How.
        dims: Dimensions of its views.
        drawn: What is drawn in them.
        names: Captions and marks.
        lines: The notes.
    """
    scale = letters.scale
    box = box_of(p for m in (*drawn, *dims) for p in extent(m, scale))
    notes = notes_below(letters, box.left, box.bottom, lines)
    marks = (*dims, *drawn, *names, *notes)
    return Scene(name=name, title=title, description=description, scale=scale, marks=marks)
