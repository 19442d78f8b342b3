"""A drawing on paper: border, title block, scale bar and north point.

Layout figures are millimetres on paper; marks are full-size, so each is times N.
"""

from dataclasses import replace
from math import cos, floor, log10, radians, sin

from mewswright.drawing.lettering import text_width
from mewswright.drawing.paper import AIR_MM, BORDER_MM, PAPER_MM, STRIP_MM, Paper, fits, room_mm
from mewswright.drawing.scene import (
    TITLE_MM,
    Anchor,
    Box,
    Circle,
    Line,
    Mark,
    Point,
    Polygon,
    Scene,
    Text,
)

LAYER = "sheet"
CAUTION = (
    "Lengths in millimetres. Measure on site before cutting; do not scale from paper.",
    "A careful first sizing, not a design for approval: local codes and a licensed engineer "
    "decide.",
)
_BLOCK_MM = 185.0  # width of the title block
_NORTH_MM = 26.0  # room for the north point
_BAR_MM = (30.0, 75.0)  # shortest and longest scale bar


def sheet(
    scene: Scene, title: str, subtitle: str, scale: int | None = None, paper: Paper = "A3"
) -> Scene:
    """Put a drawing on a sheet.

    Args:
        scene: The drawing, laid out for its scale.
        title: First line of the title block: the yard and the unit.
        subtitle: Second line: what is drawn.
        scale: N of 1:N; only the scene's own, or blank.
        paper: Paper, lying on its long side.

    Returns:
        A scene as large as the paper, its lower left corner in the paper's own place.

    Raises:
        ValueError: If another scale is asked for, or the drawing does not fit.
    """
    n = scene.scale
    if scale is not None and scale != n:
        raise ValueError(
            f"{scene.title} was laid out for 1:{n}, not for 1:{scale}: draw it again with "
            f"scale={scale}"
        )
    if not fits(scene, paper):
        width, height = room_mm(paper)
        raise ValueError(
            f"{scene.title} covers {scene.box.width / n:.0f} x {scene.box.height / n:.0f} mm at "
            f"1:{n}, and {paper} has {width:.0f} x {height:.0f} mm: draw it at a smaller scale"
        )
    page = _page(scene, paper)
    bar_at = (page.left + (BORDER_MM + 8) * n, page.bottom + (BORDER_MM + 9) * n)
    marks = [*_frame(page, n), *_block(page, n, title, subtitle, paper), *scale_bar(bar_at, n)]
    if scene.north_deg is not None:
        x = page.right - (BORDER_MM + _block_mm(paper) + _NORTH_MM / 2) * n
        marks += north_point((x, page.bottom + (BORDER_MM + STRIP_MM / 2) * n), scene.north_deg, n)
    return replace(scene, marks=(*scene.marks, *marks), sheet=page)


def _page(scene: Scene, paper: Paper) -> Box:
    """Lay the paper so that the drawing is in the middle of the room above the strip."""
    n = scene.scale
    width, height = (v * n for v in PAPER_MM[paper])
    box = scene.box
    x = (box.left + box.right) / 2
    y = (box.bottom + box.top) / 2
    left = x - width / 2
    edge = (BORDER_MM + AIR_MM) * n
    bottom = y - room_mm(paper)[1] * n / 2 - STRIP_MM * n - edge
    return Box(left, bottom, left + width, bottom + height)


def _frame(page: Box, n: int) -> list[Mark]:
    inner = page.grown(-BORDER_MM * n)
    strip = inner.bottom + STRIP_MM * n
    return [
        Polygon(layer=LAYER, pen="heavy", points=_corners(inner)),
        Line(layer=LAYER, pen="medium", a=(inner.left, strip), b=(inner.right, strip)),
    ]


def _corners(box: Box) -> tuple[Point, ...]:
    return (
        (box.left, box.bottom),
        (box.right, box.bottom),
        (box.right, box.top),
        (box.left, box.top),
    )


def _text(
    at: Point, text: str, room: float, *, height_mm: float = 2.5, bold: bool = False,
    anchor: Anchor = "start",
) -> Text:  # fmt: skip
    """Write a line, smaller where it would not fit in the room it has [mm on paper]."""
    wide = text_width(text, height_mm, bold=bold)
    height = height_mm * min(1.0, room / wide) if wide else height_mm
    return Text(layer=LAYER, at=at, text=text, height_mm=height, bold=bold, anchor=anchor)


def _block_mm(paper: Paper) -> float:
    """Give the width of the title block, which leaves room for scale bar and north point."""
    left = PAPER_MM[paper][0] - 2 * BORDER_MM - _BAR_MM[1] - 8 - _NORTH_MM
    return min(_BLOCK_MM, left)


def _block(page: Box, n: int, title: str, subtitle: str, paper: Paper) -> list[Mark]:
    right, bottom = page.right - BORDER_MM * n, page.bottom + BORDER_MM * n
    block = _block_mm(paper)
    left = right - block * n
    x, top = left + 3 * n, bottom + STRIP_MM * n
    room, end = block - 40, right - 3 * n
    return [
        Line(layer=LAYER, pen="medium", a=(left, bottom), b=(left, top)),
        _text((x, top - 5.5 * n), title, room, height_mm=5.0, bold=True),
        _text((x, top - 12 * n), subtitle, room, height_mm=TITLE_MM),
        _text((end, top - 5.5 * n), f"1:{n}", 30, height_mm=5.0, bold=True, anchor="end"),
        _text((end, top - 12 * n), f"on {paper}", 30, height_mm=TITLE_MM, anchor="end"),
        *(
            _text((x, top - (17.8 + 4.2 * i) * n), line, block - 6, height_mm=2.3)
            for i, line in enumerate(CAUTION)
        ),
    ]  # fmt: skip


def bar_length_mm(n: int) -> float:
    """Give a round full-size length that a scale bar shows well at 1:n [mm].

    Returns:
        1, 2 or 5 times a power of ten, 30 to 75 mm long on paper.
    """
    most = _BAR_MM[1] * n
    power = 10 ** floor(log10(most))
    return float(max(step * power for step in (1, 2, 5) if step * power <= most))


def scale_bar(at: Point, n: int) -> list[Mark]:
    """Draw a scale bar.

    Args:
        at: Its lower left corner [full-size mm].
        n: N of 1:N.

    Returns:
        Five fields, dark and light, with figures above their ends.
    """
    long = bar_length_mm(n)
    x, y = at
    tall = 2.0 * n
    fifth = long / 5
    marks: list[Mark] = [
        Polygon(
            layer=LAYER, pen="thin", fill="ink" if i % 2 == 0 else "paper",
            points=_corners(Box(x + i * fifth, y, x + (i + 1) * fifth, y + tall)),
        )
        for i in range(5)
    ]  # fmt: skip
    unit, size = ("m", 1000.0) if long >= 1000 else ("mm", 1.0)
    marks += [
        Text(
            layer=LAYER, at=(x + share * long, y + tall + 3 * n), anchor="middle",
            text=f"{share * long / size:g}" + (f" {unit}" if share == 1 else ""),
        )
        for share in (0, 0.2, 0.4, 0.6, 0.8, 1)
    ]  # fmt: skip
    return marks


def north_point(at: Point, north_deg: float, n: int) -> list[Mark]:
    """Draw a north point.

    Args:
        at: Its middle [full-size mm].
        north_deg: Direction of north on the drawing [deg clockwise from up].
        n: N of 1:N.

    Returns:
        A circle, an arrow and an N beyond the arrow's head.
    """
    turn = radians(north_deg)
    e, u = sin(turn), cos(turn)
    r = 6.5 * n

    def spot(length: float) -> Point:
        return at[0] + e * length, at[1] + u * length

    return [
        Circle(layer=LAYER, pen="thin", centre=at, radius=r * 0.62),
        Line(layer=LAYER, pen="medium", a=spot(-r * 0.62), b=spot(r), arrow=True, item="north:all",
             title="North"),
        Text(layer=LAYER, at=spot(r + 2.4 * n), text="N", height_mm=3.5, bold=True,
             anchor="middle", item="north:all"),
    ]  # fmt: skip


def measured(scene: Scene) -> Scene:
    """Put a scale bar, and a north point where the scene has a north, below a drawing.

    For a screen, where no paper says how large a millimetre is.
    """
    n, box = scene.scale, scene.box
    marks = [*scene.marks, *scale_bar((box.left + 4 * n, box.bottom - 12 * n), n)]
    if scene.north_deg is not None:
        marks += north_point((box.right - 10 * n, box.bottom - 8 * n), scene.north_deg, n)
    return replace(scene, marks=tuple(marks))
