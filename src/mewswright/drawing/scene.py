"""A scene: marks in millimetres on a model plane, before any file format.

The plane's x points right and y points up, in full-size millimetres. Only lettering,
pens and hatches are sized on paper: a text of 2.5 mm at 1:25 covers 62.5 mm of the
plane. So a scene is laid out for one scale, and says which.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from math import ceil, cos, floor, hypot, isfinite, radians, sin
from typing import Literal, TypeAlias

from mewswright.drawing.lettering import text_width

Point: TypeAlias = tuple[float, float]
Pen = Literal["hair", "thin", "medium", "heavy"]
PEN_MM: dict[Pen, float] = {"hair": 0.18, "thin": 0.25, "medium": 0.35, "heavy": 0.5}
Dash = Literal["solid", "dashed", "centre", "dotted"]
Fill = Literal[
    "none", "paper", "timber", "cut", "boards", "ground", "roof", "water", "leaf", "quarters",
    "ink", "shade", "halfshade", "step1", "step2", "step3", "step4", "step5",
]  # fmt: skip
Hatch = Literal["none", "diagonal", "gravel", "earth", "mesh", "bars", "slats"]
Anchor = Literal["start", "middle", "end"]

TEXT_MM = 2.5  # on paper
TITLE_MM = 3.5
SCALES = (10, 20, 25, 50, 100, 200, 500, 1000, 2000, 5000)  # the last three for large grounds


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """What all marks share.

    `item` is the thing that the mark shows, as "kind:name" (quarters:North loft,
    perch:bow perch, part:P1); a page may link it. `title` is what a pointer or a screen
    reader is told of it.
    """

    layer: str
    pen: Pen = "thin"
    dash: Dash = "solid"
    item: str = ""
    title: str = ""
    css: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Line(Mark):
    """A straight line."""

    a: Point
    b: Point
    arrow: bool = False  # an arrow head at b


@dataclass(frozen=True, slots=True, kw_only=True)
class Polyline(Mark):
    """An open run of straight lines."""

    points: tuple[Point, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Polygon(Mark):
    """A closed outline with an optional fill and hatch."""

    points: tuple[Point, ...]
    fill: Fill = "none"
    hatch: Hatch = "none"
    hatch_mm: float | None = None  # true spacing, for bars and mesh; None: a paper spacing
    outlined: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Circle(Mark):
    """A circle."""

    centre: Point
    radius: float
    fill: Fill = "none"


@dataclass(frozen=True, slots=True, kw_only=True)
class Arc(Mark):
    """A part of a circle, counter-clockwise from `start_deg` to `end_deg`."""

    centre: Point
    radius: float
    start_deg: float
    end_deg: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Text(Mark):
    """One line of lettering; `at` is on its middle line, `height_mm` is on paper."""

    at: Point
    text: str
    height_mm: float = TEXT_MM
    anchor: Anchor = "start"
    turn_deg: float = 0
    bold: bool = False
    boxed: bool = False  # paper behind it, where bars or mesh would make it unreadable


@dataclass(frozen=True, slots=True, kw_only=True)
class Dimension(Mark):
    """A measured length: from `a` to `b`, along `axis`, its line through `at`.

    The figure is never given: it is the distance between the two points along the axis,
    so a dimension cannot disagree with what it measures. `text_at` is the middle of the
    figure, placed by drawing/dimensions.py.
    """

    a: Point
    b: Point
    axis: Literal["x", "y"]
    at: float  # y of the dimension line for axis x, else its x
    text_at: Point
    prefix: str = ""

    @property
    def length_mm(self) -> float:
        """The measured length."""
        return abs(self.b[0] - self.a[0]) if self.axis == "x" else abs(self.b[1] - self.a[1])

    @property
    def text(self) -> str:
        """The figure, in whole millimetres, as a tape reads."""
        return f"{self.prefix}{whole(self.length_mm)}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Running(Mark):
    """One tick of a running dimension: the distance of `point` from `datum` along `axis`."""

    datum: float
    point: Point
    axis: Literal["x", "y"]
    at: float
    text_at: Point
    witness: bool = True  # a line from the point to the row

    @property
    def length_mm(self) -> float:
        """The measured length, signed."""
        return (self.point[0] if self.axis == "x" else self.point[1]) - self.datum

    @property
    def text(self) -> str:
        """The figure, in whole millimetres."""
        return whole(self.length_mm)


@dataclass(frozen=True, slots=True)
class Box:
    """An upright rectangle."""

    left: float
    bottom: float
    right: float
    top: float

    def overlaps(self, other: "Box") -> bool:
        """Say whether two boxes share ground; touching is not sharing."""
        return (
            self.left < other.right
            and other.left < self.right
            and self.bottom < other.top
            and other.bottom < self.top
        )

    def holds(self, other: "Box", slack: float = 0) -> bool:
        """Say whether another box lies inside this one."""
        return (
            other.left >= self.left - slack
            and other.right <= self.right + slack
            and other.bottom >= self.bottom - slack
            and other.top <= self.top + slack
        )

    def grown(self, by: float) -> "Box":
        """Give the box with a margin all round."""
        return Box(self.left - by, self.bottom - by, self.right + by, self.top + by)

    @property
    def width(self) -> float:
        """Size along x."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """Size along y."""
        return self.top - self.bottom


def box_of(points: Iterable[Point]) -> Box:
    """Give the smallest box around points.

    Raises:
        ValueError: If there are no points, or one is not finite.
    """
    listed = list(points)
    if not listed:
        raise ValueError("a box needs at least one point")
    if not all(isfinite(x) and isfinite(y) for x, y in listed):
        raise ValueError("a mark lies at a point that is not a number")
    xs, ys = [p[0] for p in listed], [p[1] for p in listed]
    return Box(min(xs), min(ys), max(xs), max(ys))


@dataclass(frozen=True, slots=True)
class Scene:
    """One drawing.

    Attributes:
        name: Short word, prefix of every id in a file: plan, front, section, yard.
        title: What it shows; the accessible name.
        description: One sentence for who cannot see it.
        scale: N of 1:N, for which the lettering was laid out.
        north_deg: Direction of north on the drawing [deg clockwise from up]; None: no north.
        marks: All marks, painted in order.
        sheet: Edges of the paper, if the scene has been put on a sheet.
    """

    name: str
    title: str
    description: str
    scale: int
    marks: tuple[Mark, ...] = field(default=())
    north_deg: float | None = None
    sheet: Box | None = None

    @property
    def box(self) -> Box:
        """What the scene covers, in full-size millimetres."""
        if self.sheet is not None:
            return self.sheet
        return box_of(p for mark in self.marks for p in extent(mark, self.scale))

    def text_boxes(self) -> list[tuple[str, Box]]:
        """Give every piece of lettering and the box it covers."""
        return [
            (text, box)
            for mark in self.marks
            for text, box in lettering_of(mark, self.scale)
            if text
        ]


def whole(value_mm: float) -> str:
    """Write a length in whole millimetres, halves upwards; never a minus nought."""
    return f"{floor(value_mm + 0.5):d}"


def text_box(
    at: Point, text: str, height_mm: float, scale: int, anchor: Anchor = "middle",
    turn_deg: float = 0, bold: bool = False,
) -> Box:  # fmt: skip
    """Estimate the box of one line of lettering [full-size mm].

    Widths come from the face's own table (drawing/lettering.py); a turned text gets the
    box around its turned corners.
    """
    long = text_width(text, height_mm, bold=bold) * scale
    tall = height_mm * scale
    left = {"start": 0.0, "middle": -long / 2, "end": -long}[anchor]
    turn = radians(turn_deg)
    c, s = cos(turn), sin(turn)
    return box_of(
        (at[0] + u * c - v * s, at[1] + u * s + v * c)
        for u in (left, left + long)
        for v in (-tall / 2, tall / 2)
    )


def lettering_of(mark: Mark, scale: int) -> Iterator[tuple[str, Box]]:
    """Give the lettering of one mark and its boxes."""
    match mark:
        case Text():
            yield (
                mark.text,
                text_box(
                    mark.at, mark.text, mark.height_mm, scale, mark.anchor, mark.turn_deg,
                    mark.bold,
                ),
            )  # fmt: skip
        case Dimension() | Running():
            turn = turn_of(mark)
            yield mark.text, text_box(mark.text_at, mark.text, TEXT_MM, scale, "middle", turn)
        case _:
            return


def turn_of(mark: Dimension | Running) -> float:
    """Give the turn of a dimension's figure [deg]: it is read from below or from the right."""
    along_x = mark.axis == "x"
    if isinstance(mark, Running):
        return 90 if along_x else 0
    return 0 if along_x else 90


def extent(mark: Mark, scale: int) -> list[Point]:
    """Give the points between which a mark lies."""
    corners = [
        p
        for _, box in lettering_of(mark, scale)
        for p in ((box.left, box.bottom), (box.right, box.top))
    ]
    match mark:
        case Line():
            return [mark.a, mark.b]
        case Polyline() | Polygon():
            return list(mark.points)
        case Arc():
            return _arc_points(mark)
        case Circle():
            (x, y), r = mark.centre, mark.radius
            return [(x - r, y - r), (x + r, y + r)]
        case Text():
            return corners
        case Dimension() | Running():
            ends = (mark.a, mark.b) if isinstance(mark, Dimension) else (mark.point,)
            feet = [(p[0], mark.at) if mark.axis == "x" else (mark.at, p[1]) for p in ends]
            return [*ends, *feet, *corners]
        case _:
            raise TypeError(f"no extent is known for a mark of kind {type(mark).__name__!r}")


def _arc_points(arc: Arc) -> list[Point]:
    """Give both ends of an arc, and where it passes straight right, up, left or down."""
    end = arc.start_deg + (arc.end_deg - arc.start_deg) % 360  # an arc may pass 0
    first = ceil(arc.start_deg / 90) * 90
    turns = [arc.start_deg, end, *range(first, floor(end) + 1, 90)]
    (x, y), r = arc.centre, arc.radius
    return [(x + r * cos(radians(t)), y + r * sin(radians(t))) for t in turns]


def distance(a: Point, b: Point) -> float:
    """Give the distance between two points."""
    return hypot(b[0] - a[0], b[1] - a[1])
