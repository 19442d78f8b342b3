"""One layer over the plan of the yard, with a legend that says how it was worked out."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from mewswright.drawing.ground_marks import mm
from mewswright.drawing.lettering import text_width
from mewswright.drawing.paper import Paper, at_scale
from mewswright.drawing.placing import Lettering
from mewswright.drawing.scene import (
    TEXT_MM,
    TITLE_MM,
    Circle,
    Dash,
    Fill,
    Hatch,
    Line,
    Mark,
    Pen,
    Polygon,
    Polyline,
    Scene,
    Text,
)
from mewswright.drawing.yard_plan import yard_plan
from mewswright.ground.layer import Layer, Shape, Tone
from mewswright.model.quantity import mm_from_m
from mewswright.model.yard import Yard

_LINE_MM = 4.0  # from one line of the legend to the next, on paper
_SIGN_MM = 7.0  # width of a sign in the legend


@dataclass(frozen=True)
class _Look:
    fill: Fill
    hatch: Hatch
    pen: Pen
    dash: Dash


# Told apart without colour: by fill, hatch, weight and dash.
LOOKS: dict[Tone, _Look] = {
    "good": _Look("leaf", "none", "thin", "solid"),
    "mind": _Look("ground", "gravel", "medium", "dashed"),
    "bad": _Look("cut", "diagonal", "heavy", "solid"),
    "plain": _Look("water", "none", "thin", "solid"),
    "quiet": _Look("none", "none", "hair", "dotted"),
    "shade": _Look("shade", "none", "hair", "solid"),
    "halfshade": _Look("halfshade", "none", "hair", "solid"),
    "step1": _Look("step1", "none", "hair", "solid"),
    "step2": _Look("step2", "none", "hair", "solid"),
    "step3": _Look("step3", "none", "hair", "solid"),
    "step4": _Look("step4", "none", "hair", "solid"),
    "step5": _Look("step5", "none", "hair", "solid"),
}


def layer_plan(
    yard: Yard, layer: Layer, *, scale: int | None = None, paper: Paper = "A3", legend: bool = True
) -> Scene:
    """Draw a layer over the plan of the yard.

    Args:
        yard: The yard.
        layer: The layer.
        scale: N of 1:N; the largest that fits, if blank.
        paper: Paper that it must fit on.
        legend: Whether the legend stands under the plan; a page has it beside.

    Raises:
        ValueError: If the yard has nothing on the ground.
    """
    return at_scale(lambda n: _laid_out(yard, layer, n, legend), scale, paper)


def _laid_out(yard: Yard, layer: Layer, scale: int, with_legend: bool) -> Scene:
    plan = yard_plan(yard, scale=scale)
    letters = Lettering(scale)
    for _, box in plan.text_boxes():
        letters.take(box)
    under = [m for s in layer.shapes if s.kind in ("area", "circle") for m in _marks(s, layer)]
    over = [m for s in layer.shapes if s.kind in ("line", "arrow") for m in _marks(s, layer)]
    words: list[Mark] = []
    for shape in layer.shapes:
        if shape.word:
            words += letters.label(
                _anchor(shape), shape.word, layer="layer-words", title=shape.title,
                bold=shape.tone == "bad",
            )  # fmt: skip
    drawn = replace(plan, marks=(*under, *plan.marks, *over, *words))
    box = drawn.box
    legend = tuple(_legend(layer, scale, (box.left, box.bottom), box.width)) if with_legend else ()
    return replace(
        drawn, name=f"ground-{layer.name}", title=layer.title, marks=(*drawn.marks, *legend),
        description=f"{layer.title}, over the plan of the yard, north up.",
    )  # fmt: skip


def _anchor(shape: Shape) -> tuple[float, float]:
    points = [mm(p) for p in shape.points_m]
    if shape.kind in ("line", "arrow"):
        (ax, ay), (bx, by) = points[0], points[-1]
        return (ax + bx) / 2, (ay + by) / 2
    return sum(x for x, _ in points) / len(points), sum(y for _, y in points) / len(points)


def _marks(shape: Shape, layer: Layer) -> Iterator[Mark]:
    look, name = LOOKS[shape.tone], f"layer-{layer.name}"
    points = tuple(mm(p) for p in shape.points_m)
    css = f"tone-{shape.tone}"
    if shape.kind == "area" and len(points) >= 3:
        yield Polygon(
            layer=name, points=points, fill=look.fill, hatch=look.hatch, pen="hair",
            outlined=shape.tone == "good", title=shape.title, css=css,
        )  # fmt: skip
    elif shape.kind == "circle":
        yield Circle(
            layer=name, centre=points[0], radius=mm_from_m(shape.radius_m), pen=look.pen,
            dash=look.dash, title=shape.title, css=css,
        )  # fmt: skip
    elif shape.kind == "line" and len(points) >= 2:
        yield Polyline(
            layer=name, points=points, pen=look.pen, dash=look.dash, title=shape.title, css=css
        )
    elif shape.kind == "arrow" and len(points) >= 2:
        yield Line(
            layer=name, a=points[0], b=points[-1], arrow=True, pen=look.pen, dash=look.dash,
            title=shape.title, css=css,
        )  # fmt: skip


def kinds_of(layer: Layer) -> dict[Tone, str]:
    """What stands for each tone in a legend: an area, a line, an arrow or a circle."""
    return {shape.tone: shape.kind for shape in reversed(layer.shapes) if shape.kind != "word"}


def _legend(layer: Layer, scale: int, corner: tuple[float, float], wide: float) -> Iterator[Mark]:
    left, y = corner[0], corner[1] - 2 * _LINE_MM * scale
    wide = max(wide, 80.0 * scale)
    yield Text(layer="legend", at=(left, y), text=layer.title, height_mm=TITLE_MM, bold=True)
    kinds = kinds_of(layer)
    for tone, words in layer.legend:
        y -= 1.3 * _LINE_MM * scale
        yield from _sign(tone, kinds.get(tone, "area"), layer, (left, y), scale)
        yield Text(layer="legend", at=(left + (_SIGN_MM + 2) * scale, y), text=words)
    y -= 0.4 * _LINE_MM * scale
    for head, told in (("How: ", layer.how), ("How sure: ", layer.sure)):
        for line in _wrapped(head + told, 0.85 * wide / scale):  # other faces run wider
            y -= _LINE_MM * scale
            yield Text(layer="legend", at=(left, y), text=line)


def _sign(
    tone: Tone, kind: str, layer: Layer, at: tuple[float, float], scale: int
) -> Iterator[Mark]:
    look = LOOKS[tone]
    (x, y), w, h = at, _SIGN_MM * scale, _LINE_MM * scale * 0.4
    name, css = f"layer-{layer.name}", f"tone-{tone}"
    if kind == "area":
        corners = ((x, y - h), (x + w, y - h), (x + w, y + h), (x, y + h))
        yield Polygon(
            layer=name, points=corners, fill=look.fill, hatch=look.hatch, pen="hair", css=css
        )
    else:
        yield Line(
            layer=name, a=(x, y), b=(x + w, y), pen=look.pen, dash=look.dash, css=css,
            arrow=kind == "arrow",
        )  # fmt: skip


def _wrapped(text: str, wide_mm: float) -> Iterator[str]:
    line = ""
    for word in text.split():
        longer = f"{line} {word}".strip()
        if line and text_width(longer, TEXT_MM) > wide_mm:
            yield line
            line = word
        else:
            line = longer
    if line:
        yield line
