"""Dimension lines: single lengths, and running ones from one datum.

Studs, bars and rafters are set out by running dimensions, since a tape laid once from
one end adds up no errors.
"""

from collections.abc import Sequence
from typing import Literal

from mewswright.drawing.lettering import text_width
from mewswright.drawing.placing import Lettering, spread
from mewswright.drawing.scene import (
    TEXT_MM,
    Circle,
    Dimension,
    Line,
    Mark,
    Point,
    Running,
    lettering_of,
    whole,
)

LAYER = "dimensions"
ROW_MM = 6.0  # from one row of dimensions to the next, on paper
_FIGURE_OFF_MM = 1.6  # middle of the figure above its line
_MOST_TURNS = 200  # of half a line each, before a row's figures stay where they are
_RUNNING_APART_MM = 3.2  # between two running figures


def dimension(
    letters: Lettering, a: Point, b: Point, axis: Literal["x", "y"], at: float, *,
    item: str = "", title: str = "", prefix: str = "",
) -> list[Mark]:  # fmt: skip
    """Draw one length; a figure too wide for its line stands beyond the line's end.

    Args:
        letters: Lettering so far.
        a: First point [mm].
        b: Second point [mm].
        axis: Direction it is measured in.
        at: Place of the dimension line across that axis.
        item: Thing that it measures.
        title: What it measures, in words.
        prefix: Words before the figure.

    Returns:
        One Dimension.
    """
    scale = letters.scale
    k = 0 if axis == "x" else 1
    low, high = min(a[k], b[k]), max(a[k], b[k])
    long = text_width(f"{prefix}{whole(high - low)}", TEXT_MM) * scale
    off = _FIGURE_OFF_MM * scale
    middle = (low + high) / 2
    beyond = [high + long / 2 + 1.5 * scale, low - long / 2 - 1.5 * scale]
    places = [middle, *beyond] if long + 1 * scale < high - low else beyond
    step = TEXT_MM * scale
    tries = [(p, off) for p in places] + [
        (places[0] + i * step * sign, off) for i in range(1, 400) for sign in (1, -1)
    ]
    mark = None
    for along, across in tries:
        # Figures stand above a level line and left of an upright one.
        text_at = (along, at + across) if axis == "x" else (at - across, along)
        mark = Dimension(
            layer=LAYER, pen="hair", a=a, b=b, axis=axis, at=at, text_at=text_at, item=item,
            title=title, prefix=prefix,
        )  # fmt: skip
        box = next(lettering_of(mark, scale))[1]
        if letters.is_free(box):
            letters.take(box)
            break
    assert mark is not None
    return [mark]


def running(
    letters: Lettering, datum: float, points: Sequence[Point], axis: Literal["x", "y"], at: float,
    *, away: Literal[1, -1], witness: bool = True, items: Sequence[str] = (),
    titles: Sequence[str] = (),
) -> list[Mark]:  # fmt: skip
    """Draw distances of points from one datum along a row.

    Args:
        letters: Lettering so far.
        datum: Where the tape is hooked, along the axis.
        points: What is measured.
        axis: Direction it is measured in.
        at: Place of the row across that axis.
        away: Side of the row on which the figures stand: +1 up or right, -1 down or left.
        witness: True for thin lines from the points to the row.
        items: Thing at each point, or nothing.
        titles: Words for each point, or nothing.

    Returns:
        The row's line, a ring where the tape is hooked, and one Running a point; points
        within half a millimetre of each other along the axis become one.
    """
    scale = letters.scale
    k = 0 if axis == "x" else 1
    order = sorted(range(len(points)), key=lambda i: (points[i][k], points[i][1 - k]))
    kept: list[int] = []
    for i in order:
        if not kept or points[i][k] - points[kept[-1]][k] > 0.5:
            kept.append(i)
    places = spread([points[i][k] for i in kept], _RUNNING_APART_MM * scale)
    ends = [datum, *(points[i][k] for i in kept)]
    row = [(e, at) if axis == "x" else (at, e) for e in (min(ends), max(ends))]
    origin = (datum, at) if axis == "x" else (at, datum)
    marks: list[Mark] = [
        Line(layer=LAYER, pen="hair", a=row[0], b=row[1]),
        Circle(layer=LAYER, pen="thin", centre=origin, radius=0.8 * scale, fill="paper"),
    ]
    # Where a crowd of figures spreads into another row's, the whole row's figures move out.
    step = TEXT_MM * scale / 2
    for turn in range(_MOST_TURNS):
        figures: list[Running] = []
        for i, along in zip(kept, places, strict=True):
            long = text_width(whole(points[i][k] - datum), TEXT_MM) * scale
            across = at + away * (long / 2 + 2.2 * scale + turn * step)
            figures.append(
                Running(
                    layer=LAYER, pen="hair", datum=datum, point=points[i], axis=axis, at=at,
                    text_at=(along, across) if axis == "x" else (across, along),
                    witness=witness, item=items[i] if items else "",
                    title=titles[i] if titles else "",
                )
            )  # fmt: skip
        boxes = [next(lettering_of(mark, scale))[1] for mark in figures]
        if all(letters.is_free(box) for box in boxes):
            break
    for box in boxes:
        letters.take(box)
    marks += figures
    return marks


def running_depth_mm(values: Sequence[float]) -> float:
    """Give the paper that a running row needs across its axis [mm], for figures like these."""
    return max((text_width(whole(v), TEXT_MM) for v in values), default=0) + 3.5
