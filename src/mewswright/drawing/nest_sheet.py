"""One sheet sawn up: parts with their marks, cuts in their order, and what is left."""

from __future__ import annotations

from mewswright.build.nest.plan import Placed, SheetCut, SheetLayout
from mewswright.drawing.lettering import text_width
from mewswright.drawing.scene import (
    SCALES,
    TEXT_MM,
    TITLE_MM,
    Circle,
    Dash,
    Dimension,
    Line,
    Mark,
    Pen,
    Point,
    Polygon,
    Scene,
    Text,
)

PAPER_MM = (240.0, 150.0)  # what a sheet may cover on A4, lying
PENS: dict[str, Pen] = {
    "edge": "hair", "first": "heavy", "second": "medium", "third": "thin", "trim": "hair",
}  # fmt: skip
SMALL_MM = 1.8  # lettering of cut numbers, on paper


def nest_scene(layout: SheetLayout, number: int, of: int, scale: int | None = None) -> Scene:
    """Draw one layout of a nest plan.

    A cut is a line along its saw path, the heavier the earlier its stage, with its number in
    a ring; parts are filled and named, offcuts hatched.

    Args:
        layout: The sheet.
        number: Which layout of the plan it is.
        of: How many layouts the plan has.
        scale: N of 1:N, or None for the largest scale that fits A4.
    """
    long, short = float(layout.length_mm), float(layout.width_mm)
    n = scale or next(
        (s for s in SCALES if long / s <= PAPER_MM[0] and short / s <= PAPER_MM[1]), SCALES[-1]
    )
    marks: list[Mark] = [
        Polygon(layer="sheet", points=_box(0, 0, long, short), fill="boards", pen="medium")
    ]
    for offcut in layout.offcuts:
        x, y = float(offcut.x_mm), float(offcut.y_mm)
        far_x, far_y = x + float(offcut.length_mm), y + float(offcut.width_mm)
        title = f"offcut {offcut.length_mm} x {offcut.width_mm} mm"
        points = _box(x, y, far_x, far_y)
        marks.append(Polygon(layer="offcuts", points=points, hatch="diagonal", title=title))
    for part in layout.parts:
        marks += _part(part, n)
    for cut in layout.cuts:
        marks += _cut(cut, n)
    times = f", {layout.count} times" if layout.count > 1 else ""
    title = f"Sheet {number} of {of}: {layout.sheet}{times}"
    gap = 6 * n
    marks += [
        Dimension(
            layer="dimensions", a=(0, 0), b=(long, 0), axis="x", at=-gap,
            text_at=(long / 2, -gap + 2 * n),
        ),
        Dimension(
            layer="dimensions", a=(0, 0), b=(0, short), axis="y", at=-gap,
            text_at=(-gap - 2 * n, short / 2),
        ),
        Text(layer="title", at=(0, short + 5 * n), text=title, height_mm=TITLE_MM, bold=True),
    ]  # fmt: skip
    return Scene(
        name=f"sheet-{number}",
        title=title,
        description=(
            f"{len(layout.parts)} parts and {len(layout.cuts)} cuts on a sheet of "
            f"{layout.length_mm} by {layout.width_mm} mm."
        ),
        scale=n,
        marks=tuple(marks),
    )


def _box(x: float, y: float, far_x: float, far_y: float) -> tuple[Point, ...]:
    return ((x, y), (far_x, y), (far_x, far_y), (x, far_y))


def _part(part: Placed, n: int) -> list[Mark]:
    x, y, far_x, far_y = map(float, (part.x_mm, part.y_mm, part.far_x_mm, part.far_y_mm))
    size = f"{part.length_mm} x {part.width_mm}"
    title = f"{part.mark}, {size} mm" + (", turned" if part.rotated else "")
    item = f"part:{part.mark}"
    marks: list[Mark] = [
        Polygon(
            layer="parts", points=_box(x, y, far_x, far_y), fill="timber", item=item, title=title
        )
    ]
    middle = ((x + far_x) / 2, (y + far_y) / 2)
    wide, high = (far_x - x) / n, (far_y - y) / n  # on paper
    for text in (f"{part.mark}  {size}", part.mark):
        long = text_width(text, TEXT_MM) + 2
        for room, across, turn in ((wide, high, 0), (high, wide, 90)):
            if long <= room and across >= TEXT_MM * 1.4:
                marks.append(
                    Text(
                        layer="parts", at=middle, text=text, anchor="middle", turn_deg=turn,
                        item=item, title=title,
                    )
                )  # fmt: skip
                return marks
    return marks


def _cut(cut: SheetCut, n: int) -> list[Mark]:
    at, start, end = float(cut.at_mm), float(cut.from_mm), float(cut.to_mm)
    along = cut.along == "length"
    a, b = ((start, at), (end, at)) if along else ((at, start), (at, end))
    title = f"cut {cut.number}, {cut.stage}, at {cut.at_mm} mm"
    dash: Dash = "dashed" if cut.stage in ("edge", "trim") else "solid"
    marks: list[Mark] = [Line(layer="cuts", a=a, b=b, pen=PENS[cut.stage], dash=dash, title=title)]
    if (end - start) / n >= 6 and cut.stage != "edge":
        inward = 2.2 * n
        ring = (b[0] - inward, b[1]) if along else (b[0], b[1] - inward)
        marks += [
            Circle(layer="cuts", centre=ring, radius=1.5 * n, fill="paper", pen="hair"),
            Text(layer="cuts", at=ring, text=str(cut.number), height_mm=SMALL_MM, anchor="middle"),
        ]
    return marks
