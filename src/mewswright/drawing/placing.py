"""Where lettering goes, so that no two pieces lie on each other."""

from collections.abc import Iterable
from itertools import pairwise
from math import cos, pi, radians, sin

from mewswright.drawing.scene import (
    TEXT_MM,
    Anchor,
    Box,
    Circle,
    Dimension,
    Line,
    Mark,
    Point,
    Polygon,
    Polyline,
    Text,
    box_of,
    text_box,
)

_DIRECTIONS = (0, 180, 90, 270, 45, 135, 315, 225, 22, 158, 338, 202, 67, 113, 293, 247)
_TURNS = {deg: (cos(radians(deg)), sin(radians(deg))) for deg in _DIRECTIONS}
_CLEAR_MM = 0.6  # between two pieces of lettering, on paper
_CROSSING_MM = 5.0  # a text across a line counts as this much farther off
_LEADER_MM = 2.0  # a text farther off than this gets a leader line


class Lettering:
    """The boxes that are taken so far, and the search for a free one."""

    def __init__(self, scale: int, *, boxed: bool = False) -> None:
        """Start with nothing taken; `boxed` puts paper behind each label."""
        self.scale, self.boxed = scale, boxed
        self.taken: list[Box] = []
        self.lines: list[tuple[Point, Point]] = []

    def is_free(self, box: Box) -> bool:
        """Say whether a box lies clear of all that is taken."""
        wide = box.grown(_CLEAR_MM * self.scale / 2)
        return not any(wide.overlaps(other) for other in self.taken)

    def take(self, box: Box) -> None:
        """Keep a box from being written over."""
        self.taken.append(box)

    def keep_clear(self, points: Iterable[Point]) -> None:
        """Keep lettering off what these points enclose (upright box)."""
        self.take(box_of(points))

    def avoid(self, points: Iterable[Point], *, closed: bool = False) -> None:
        """Prefer not to write across this line; unlike a taken box it can be crossed."""
        run = list(points)
        self.lines += pairwise(run)
        if closed and len(run) > 2:
            self.lines.append((run[-1], run[0]))

    def place(
        self, target: Point, text: str, *, gap_mm: float = 1.5, height_mm: float = TEXT_MM,
        bold: bool = False, prefer: Iterable[int] = (), centred: bool = False,
    ) -> tuple[Point, Box]:  # fmt: skip
        """Find the free spot for a text that is nearest to its target.

        A spot across a line counts as if it were _CROSSING_MM farther off.

        Args:
            target: What the text is about [full-size mm].
            text: The line.
            gap_mm: Smallest distance from target to text [mm on paper].
            height_mm: Type size [mm on paper].
            bold: True for the heavy face.
            prefer: Directions to try first [deg counter-clockwise from right].
            centred: True to try the target itself first.

        Returns:
            Middle of the text, and its box, now taken.
        """
        directions = tuple(dict.fromkeys((*prefer, *_DIRECTIONS)))
        size = text_box((0, 0), text, height_mm, self.scale, bold=bold)
        step = height_mm * self.scale / 2
        half_w, half_h = size.width / 2, size.height / 2
        near = box_of([target]).grown(size.width + 12 * step + gap_mm * self.scale)
        lines = [
            (a, b)
            for a, b in self.lines
            if (a[0] < near.right or b[0] < near.right)
            and (a[0] > near.left or b[0] > near.left)
            and (a[1] < near.top or b[1] < near.top)
            and (a[1] > near.bottom or b[1] > near.bottom)
        ]
        best: tuple[float, Point, Box] | None = None
        ring = 0
        # Each ring lies half a line farther out; the texts are finite, so it ends.
        while best is None or ring * step < best[0]:
            reach = gap_mm * self.scale + ring * step
            for order, deg in enumerate(directions):
                # The order breaks ties only, so that a preferred side wins them.
                cost = ring * step + order * step / 100
                if best is not None and cost >= best[0]:
                    break
                # The box's own half size is added, so that its edge, not its middle, is near.
                c, s = _TURNS[deg]
                at = (target[0] + c * (reach + half_w), target[1] + s * (reach + half_h))
                if centred and ring == 0 and order == 0:
                    at = target
                box = Box(at[0] - half_w, at[1] - half_h, at[0] + half_w, at[1] + half_h)
                if not self.is_free(box):
                    continue
                for a, b in lines:
                    if crosses(box, a, b):
                        cost += _CROSSING_MM * self.scale
                        if best is not None and cost >= best[0]:
                            break
                if best is None or cost < best[0] - 1e-9:
                    best = (cost, at, box)
            ring += 1
        self.take(best[2])
        return best[1], best[2]

    def label(
        self, target: Point, text: str, *, layer: str = "labels", item: str = "", title: str = "",
        gap_mm: float = 1.5, height_mm: float = TEXT_MM, bold: bool = False,
        prefer: Iterable[int] = (), css: str = "", centred: bool = False,
    ) -> list[Mark]:  # fmt: skip
        """Write a text near its target, with a leader line where it had to move away."""
        at, box = self.place(
            target, text, gap_mm=gap_mm, height_mm=height_mm, bold=bold, prefer=prefer,
            centred=centred,
        )  # fmt: skip
        marks: list[Mark] = []
        near = nearest(box, target)
        off_mm = max(abs(near[0] - target[0]), abs(near[1] - target[1])) / self.scale
        if off_mm > max(_LEADER_MM, gap_mm):
            marks.append(Line(layer=layer, pen="hair", a=near, b=target, item=item, css="leader"))
        marks.append(
            Text(
                layer=layer, at=at, text=text, height_mm=height_mm, anchor="middle", bold=bold,
                item=item, title=title, css=css, boxed=self.boxed,
            )
        )  # fmt: skip
        return marks

    def write(
        self, at: Point, text: str, *, layer: str = "labels", anchor: Anchor = "start",
        height_mm: float = TEXT_MM, bold: bool = False, item: str = "",
    ) -> Text:  # fmt: skip
        """Write a text exactly here and keep its box."""
        self.take(text_box(at, text, height_mm, self.scale, anchor, bold=bold))
        return Text(
            layer=layer, at=at, text=text, height_mm=height_mm, anchor=anchor, bold=bold, item=item
        )


def avoid_marks(letters: Lettering, marks: Iterable[Mark]) -> None:
    """Prefer not to write across the lines of these marks."""
    for mark in marks:
        match mark:
            case Line():
                letters.avoid((mark.a, mark.b))
            case Dimension():
                along = mark.axis == "x"
                a, b = ((p[0], mark.at) if along else (mark.at, p[1]) for p in (mark.a, mark.b))
                letters.avoid((a, b))
            case Polyline():
                letters.avoid(mark.points)
            case Polygon() if mark.outlined:
                letters.avoid(mark.points, closed=True)
            case Circle():
                (x, y), r = mark.centre, mark.radius
                turns = [i * pi / 8 for i in range(16)]
                letters.avoid([(x + r * cos(t), y + r * sin(t)) for t in turns], closed=True)
            case _:
                pass


def nearest(box: Box, point: Point) -> Point:
    """Give the point of a box that is nearest to a point."""
    return (
        min(max(point[0], box.left), box.right),
        min(max(point[1], box.bottom), box.top),
    )


def crosses(box: Box, a: Point, b: Point) -> bool:
    """Say whether the line from a to b runs through a box (Liang and Barsky's clipping)."""
    if (
        (a[0] < box.left and b[0] < box.left)
        or (a[0] > box.right and b[0] > box.right)
        or (a[1] < box.bottom and b[1] < box.bottom)
        or (a[1] > box.top and b[1] > box.top)
    ):
        return False
    enter, leave = 0.0, 1.0
    dx, dy = b[0] - a[0], b[1] - a[1]
    for run, room in (
        (-dx, a[0] - box.left), (dx, box.right - a[0]),
        (-dy, a[1] - box.bottom), (dy, box.top - a[1]),
    ):  # fmt: skip
        if run == 0:
            if room < 0:
                return False
            continue
        share = room / run
        if run < 0:
            enter = max(enter, share)
        else:
            leave = min(leave, share)
        if enter > leave:
            return False
    return True


def spread(wanted: list[float], apart: float) -> list[float]:
    """Move sorted places apart until neighbours are a given distance from each other.

    Args:
        wanted: Places, ascending.
        apart: Smallest distance between two.

    Returns:
        Places, ascending; a crowd spreads evenly about its own middle.
    """
    groups: list[list[float]] = []  # [sum of wanted less its offset, count]
    for place in wanted:
        groups.append([place, 1])
        while len(groups) > 1:
            (sum_a, n_a), (sum_b, n_b) = groups[-2], groups[-1]
            end_a = sum_a / n_a + (n_a - 1) / 2 * apart
            start_b = sum_b / n_b - (n_b - 1) / 2 * apart
            if start_b - end_a >= apart - 1e-9:
                break
            groups[-2:] = [[sum_a + sum_b, n_a + n_b]]
    places: list[float] = []
    for total, count in groups:
        first = total / count - (count - 1) / 2 * apart
        places += [first + i * apart for i in range(int(count))]
    return places
