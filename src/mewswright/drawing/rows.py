"""Rows of dimensions stacked outwards from a drawing, on its four sides."""

from collections.abc import Sequence
from itertools import pairwise
from typing import Literal

from mewswright.drawing.dimensions import dimension, running, running_depth_mm
from mewswright.drawing.lettering import text_width
from mewswright.drawing.placing import Lettering
from mewswright.drawing.scene import TEXT_MM, Box, Mark, Point, Text, lettering_of, text_box
from mewswright.model.fitting import Side as _Face

Edge = Literal["bottom", "top", "left", "right"]
# Seen in plan, the front lies at the bottom.
EDGE_OF_FACE: dict[_Face, Edge] = {
    "front": "bottom", "back": "top", "left": "left", "right": "right",
}  # fmt: skip
_FIRST_MM = 5.0  # from the drawing to the first row, on paper
_SINGLE_MM = 6.0
_NAME_MM = 2.2
_SAME_MM = 0.5  # places nearer than this to each other are one: no tape shows it
NOTE_MM = 235.0  # longest line of a note on paper: the smallest paper has room for it


class Rows:
    """Takes rows one by one, each outside the last on its side."""

    def __init__(self, letters: Lettering, drawing: Box) -> None:
        """Start with no rows.

        Args:
            letters: Lettering so far; every figure is added to it.
            drawing: What the rows must stay clear of.
        """
        self.letters, self.drawing = letters, drawing
        self.marks: list[Mark] = []
        self._names: list[tuple[Edge, str, float, int]] = []
        self._out_mm: dict[Edge, float] = dict.fromkeys(
            ("bottom", "top", "left", "right"), _FIRST_MM
        )

    def _line(self, edge: Edge, out_mm: float) -> float:
        out = out_mm * self.letters.scale
        return {
            "bottom": self.drawing.bottom - out,
            "top": self.drawing.top + out,
            "left": self.drawing.left - out,
            "right": self.drawing.right + out,
        }[edge]

    def single(
        self, edge: Edge, a: Point, b: Point, *, prefix: str = "", item: str = "", title: str = ""
    ) -> None:
        """Add a row with one length."""
        self.chain(edge, [(a, b)], prefix=prefix, item=item, title=title)

    def chain(
        self, edge: Edge, spans: Sequence[tuple[Point, Point]], *, prefix: str = "",
        item: str = "", title: str = "",
    ) -> None:  # fmt: skip
        """Add a row with several lengths, which must not lie on each other."""
        axis: Literal["x", "y"] = "x" if edge in ("bottom", "top") else "y"
        # Figures stand above or left of their line: a row below or to the right of the
        # drawing needs the room on its inner side.
        inner = edge in ("bottom", "right")
        at = self._line(edge, self._out_mm[edge] + (3.6 if inner else 0))
        k = 0 if axis == "x" else 1
        # Long ones first: the figure of one too short for it must not push theirs aside.
        for a, b in sorted(spans, key=lambda span: -abs(span[1][k] - span[0][k])):
            self.marks += dimension(
                self.letters, a, b, axis, at, prefix=prefix, item=item, title=title
            )
        self._out_mm[edge] += _SINGLE_MM

    def parts(
        self, edge: Edge, places: Sequence[Point], *, whole: str = "", item: str = "",
        title: str = "",
    ) -> None:  # fmt: skip
        """Add a chain from place to place in their order along the edge, and their sum over it.

        Args:
            edge: Side of the drawing.
            places: Where the parts begin and end; those at the same place count once.
            whole: Words before the figure of the whole; parts alone carry none.
            item: Thing that it measures.
            title: What it measures, in words.
        """
        k = 0 if edge in ("bottom", "top") else 1
        kept: list[Point] = []
        for place in sorted(places, key=lambda p: p[k]):
            if not kept or place[k] - kept[-1][k] > _SAME_MM:
                kept.append(place)
        if len(kept) > 2:
            self.chain(edge, list(pairwise(kept)), item=item, title=title)
        if len(kept) > 1:
            self.single(edge, kept[0], kept[-1], prefix=whole, item=item, title=title)

    def roof(
        self, edge: Edge, roof: tuple[Point, Point], frame: tuple[Point, Point], words: str = ""
    ) -> None:
        """Add overhang, frame and overhang, and the whole roof measured level.

        A roof that begins behind the frame's face (it leans on another) gets a row of its own.
        """
        k = 0 if edge in ("bottom", "top") else 1
        said = {"item": "roof:all", "title": "Roof: overhang, frame, overhang, measured level"}
        (r0, r1), (f0, f1) = (sorted(pair, key=lambda p: p[k]) for pair in (roof, frame))
        covers = r0[k] <= f0[k] + _SAME_MM and r1[k] >= f1[k] - _SAME_MM
        self.parts(edge, [r0, f0, f1, r1], whole=words if covers else "over all ", **said)
        if not covers:
            self.single(edge, r0, r1, prefix=words, **said)

    def running(
        self, edge: Edge, name: str, datum: float, points: Sequence[Point], *,
        witness: bool = True, items: Sequence[str] = (), titles: Sequence[str] = (),
    ) -> None:  # fmt: skip
        """Add a row of distances from one datum, with its name at the row's end (see `finish`).

        Nothing is drawn for no points.
        """
        if not points:
            return
        axis: Literal["x", "y"] = "x" if edge in ("bottom", "top") else "y"
        k = 0 if axis == "x" else 1
        away: Literal[1, -1] = 1 if edge in ("top", "right") else -1
        at = self._line(edge, self._out_mm[edge])
        drawn = running(
            self.letters, datum, points, axis, at, away=away, witness=witness, items=items,
            titles=titles,
        )  # fmt: skip
        self.marks += drawn
        values = [p[k] - datum for p in points]
        depth = max(running_depth_mm(values), 4.0)
        n = self.letters.scale
        for mark in drawn:  # figures that had to move out push the next row out as well
            for _, box in lettering_of(mark, n):
                far = {
                    "bottom": at - box.bottom,
                    "top": box.top - at,
                    "left": at - box.left,
                    "right": box.right - at,
                }[edge]
                depth = max(depth, far / n)
        self._names.append((edge, name, at, away))
        self._out_mm[edge] += depth + 3.0

    def finish(self) -> None:
        """Write the rows' names, once all figures have their places."""
        n = self.letters.scale
        for edge, name, at, away in self._names:
            # Each side's names stand at the corner that no other side uses.
            end, sign = {
                "bottom": (self.drawing.left - 3 * n, -1),
                "left": (self.drawing.top + 3 * n, 1),
                "top": (self.drawing.right + 3 * n, 1),
                "right": (self.drawing.bottom - 3 * n, -1),
            }[edge]
            along_x = edge in ("bottom", "top")
            anchor: Literal["start", "end"] = "start" if sign > 0 else "end"
            turn = 0 if along_x else 90
            while True:
                place = (end, at + away * 2 * n) if along_x else (at + away * 2 * n, end)
                box = text_box(place, name, _NAME_MM, n, anchor, turn)
                if self.letters.is_free(box):
                    break
                end += sign * n
            self.letters.take(box)
            self.marks.append(
                Text(
                    layer="dimensions", at=place, text=name, height_mm=_NAME_MM, anchor=anchor,
                    turn_deg=turn, css="row-name",
                )
            )  # fmt: skip

    @property
    def box(self) -> Box:
        """The drawing with all its rows."""
        n = self.letters.scale
        out = self._out_mm
        return Box(
            self.drawing.left - out["left"] * n,
            self.drawing.bottom - out["bottom"] * n,
            self.drawing.right + out["right"] * n,
            self.drawing.top + out["top"] * n,
        )


def notes_below(letters: Lettering, left: float, top: float, lines: Sequence[str]) -> list[Mark]:
    """Write lines of notes under a drawing, ragged right.

    Args:
        letters: Lettering so far.
        left: Left edge of the lines [mm].
        top: Top of the first line [mm]; lower where other lettering reaches below it.
        lines: The notes.

    Returns:
        One text a line.
    """
    n = letters.scale
    top = min([top, *(box.bottom for box in letters.taken)])
    wrapped = [part for line in lines for part in wrapped_lines(line, NOTE_MM)]
    return [
        letters.write((left, top - (2.5 + 4 * i) * n), line, layer="notes")
        for i, line in enumerate(wrapped)
    ]


def wrapped_lines(text: str, room_mm: float) -> list[str]:
    """Break a text between words, so that no line is longer than its room [mm on paper]."""
    lines: list[str] = []
    for word in text.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and text_width(longer, TEXT_MM) <= room_mm:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines
