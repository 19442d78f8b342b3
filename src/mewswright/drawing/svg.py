"""A scene as SVG: text stays text, and the same scene gives the same bytes.

Theme "paper" carries its own plain style, for print at true scale: the viewBox is in
full-size millimetres, so a file of width w belongs on w / N mm of paper. Theme "screen"
carries none: static/drawing.css styles its classes, in light and in dark.
"""

from collections.abc import Iterator, Mapping
from html import escape
from itertools import groupby
from math import atan2, cos, isfinite, radians, sin
from typing import Literal

from mewswright.drawing.lettering import CAPITAL
from mewswright.drawing.scene import (
    PEN_MM,
    TEXT_MM,
    Arc,
    Box,
    Circle,
    Dimension,
    Fill,
    Hatch,
    Line,
    Mark,
    Point,
    Polygon,
    Polyline,
    Running,
    Scene,
    Text,
    text_box,
    turn_of,
)

Theme = Literal["paper", "screen"]
FAMILY = '"Source Sans 3","DejaVu Sans",sans-serif'

# Plain colours for paper: ink, and tints that survive a black-and-white printer.
PAPER_FILL: dict[Fill, str] = {
    "none": "none", "paper": "#ffffff", "timber": "#f3ead9", "cut": "#d9c49c",
    "boards": "#f7f3ea", "ground": "#e4ddd0", "roof": "#dfe3e6", "water": "#d8e6ee",
    "leaf": "#e6eddc", "quarters": "#f3ead9", "ink": "#1a1a1a",
    # Steps from little to much: each darker than the last, so that they tell without colour.
    "shade": "#c4c1b8", "halfshade": "#e2dfd8",
    "step1": "#fdf7e6", "step2": "#fae6b4", "step3": "#f5d07a", "step4": "#e8b143",
    "step5": "#cf8c1c",
}  # fmt: skip
_INK = "#1a1a1a"
_DASH_MM = {"dashed": (2.0, 1.0), "centre": (5.0, 1.0, 0.8, 1.0), "dotted": (0.5, 1.0)}
# Paper spacing of hatches that show a material, not a real spacing.
_HATCH_MM: dict[Hatch, float] = {
    "diagonal": 2.0, "gravel": 2.4, "earth": 2.4, "mesh": 1.2, "bars": 1.2, "slats": 1.2,
}  # fmt: skip
_HATCH_PEN_MM = 0.13
_TICK_MM = 1.2
_ARROW_MM = 2.6


def to_svg(
    scene: Scene, *, paper_scale: int | None = None, links: Mapping[str, str] | None = None,
    theme: Theme = "paper",
) -> str:  # fmt: skip
    """Write a scene as one SVG document.

    Args:
        scene: The drawing.
        paper_scale: N of 1:N for the width and height that the file names; as the scene
            was laid out, if blank. Screen files name none and fill what holds them.
        links: Address for an item ("quarters:North loft"); other items get no link.
        theme: "paper" for print, "screen" for a page that loads static/drawing.css.

    Returns:
        The document; the same bytes for the same scene.

    Raises:
        TypeError: On a mark that SVG cannot draw.
        ValueError: On a place that is not a number.
    """
    return _Writer(scene, links or {}, theme).document(paper_scale or scene.scale)


def number(value: float) -> str:
    """Write a coordinate with a hundredth of a millimetre and no idle noughts.

    Raises:
        ValueError: If it is not a number.
    """
    if not isfinite(value):
        raise ValueError("a mark lies at a point that is not a number")
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


class _Writer:
    def __init__(self, scene: Scene, links: Mapping[str, str], theme: Theme) -> None:
        self.scene, self.links, self.theme = scene, links, theme
        self.n = scene.scale
        # A hair of air, or the pens at the edge are cut in half.
        self.box: Box = scene.box if scene.sheet else scene.box.grown(2 * self.n)
        self.hatches: dict[str, str] = {}
        self.linked: set[str] = set()

    def document(self, paper_scale: int) -> str:
        scene, box = self.scene, self.box
        body = list(self.groups())
        # An image hides its parts from a screen reader, and links must not be hidden.
        role = "group" if self.linked else "img"
        size = ""
        if self.theme == "paper":
            size = (
                f' width="{number(box.width / paper_scale)}mm"'
                f' height="{number(box.height / paper_scale)}mm"'
            )
        lines = [
            f'<svg xmlns="http://www.w3.org/2000/svg" class="drawing drawing-{scene.name}"'
            f' role="{role}" aria-labelledby="{scene.name}-title {scene.name}-desc"'
            f' viewBox="0 0 {number(box.width)} {number(box.height)}"{size}>',
            f'<title id="{scene.name}-title">{escape(scene.title)}</title>',
            f'<desc id="{scene.name}-desc">{escape(scene.description)}</desc>',
        ]
        if self.theme == "paper":
            lines.append(f"<style>{self.style()}</style>")
        if self.hatches:
            lines += ["<defs>", *self.hatches.values(), "</defs>"]
        return "\n".join([*lines, *body, "</svg>", ""])

    def style(self) -> str:
        n = self.n
        rules = [
            f"text{{font-family:{FAMILY};fill:{_INK}}}",
            # A halo of paper, so that lettering stays readable across a line.
            f".t{{paint-order:stroke;stroke:#ffffff;stroke-width:{number(0.7 * n)};"
            "stroke-linejoin:round}",
            ".bold{font-weight:600}",
            f".m{{stroke:{_INK};fill:none;stroke-linejoin:round}}",
            *(f".pen-{pen}{{stroke-width:{number(mm * n)}}}" for pen, mm in PEN_MM.items()),
            *(
                f".dash-{dash}{{stroke-dasharray:{' '.join(number(v * n) for v in run)}}}"
                for dash, run in _DASH_MM.items()
            ),
            *(f".fill-{fill}{{fill:{colour}}}" for fill, colour in PAPER_FILL.items()),
            ".bare{stroke:none}",
            f".head{{fill:{_INK};stroke:none}}",
            ".hl{stroke:#6f6a60;fill:none}",
            ".leader,.witness{stroke:#6f6a60}",
        ]
        return "".join(rules)

    def groups(self) -> Iterator[str]:
        for layer, in_layer in groupby(self.scene.marks, key=lambda mark: mark.layer):
            yield f'<g class="layer layer-{layer}">'
            for item, run in groupby(in_layer, key=lambda mark: mark.item):
                marks = list(run)
                drawn = [line for mark in marks for line in self.draw(mark)]
                if not item:
                    yield from drawn
                    continue
                yield from self.item(item, marks, drawn)
            yield "</g>"

    def item(self, item: str, marks: list[Mark], drawn: list[str]) -> Iterator[str]:
        title = next((mark.title for mark in marks if mark.title), "")
        kind, _, name = item.partition(":")
        part = f' data-part="{escape(name)}"' if kind == "part" else ""
        group = [
            f'<g class="item item-{kind}" data-item="{escape(item)}"{part}>',
            *([f"<title>{escape(title)}</title>"] if title else []),
            *drawn,
            "</g>",
        ]
        href = self.links.get(item)
        if href is None:
            yield from group
            return
        # A thing drawn on several layers is one stop for the keyboard, not several.
        told = f' aria-label="{escape(title or name)}"'
        if item in self.linked:
            told = ' tabindex="-1" aria-hidden="true"'
        self.linked.add(item)
        yield from (f'<a href="{escape(href)}"{told}>', *group, "</a>")

    # One method a kind of mark; places are turned to SVG's downward y here and nowhere else.

    def at(self, point: Point) -> tuple[str, str]:
        return number(point[0] - self.box.left), number(self.box.top - point[1])

    def draw(self, mark: Mark) -> list[str]:
        match mark:
            case Line():
                return self.line(mark)
            case Polyline():
                return [f'<polyline class="{self.cls(mark)}" points="{self.run(mark.points)}"/>']
            case Polygon():
                return self.polygon(mark)
            case Circle():
                x, y = self.at(mark.centre)
                return [
                    f'<circle class="{self.cls(mark)} fill-{mark.fill}" cx="{x}" cy="{y}"'
                    f' r="{number(mark.radius)}"/>'
                ]
            case Arc():
                return [self.arc(mark)]
            case Text():
                cls = " ".join(c for c in ("t", "bold" if mark.bold else "", mark.css) if c)
                words = self.text(
                    mark.at, mark.text, mark.height_mm, mark.anchor, mark.turn_deg, cls
                )
                return [*self.paper_behind(mark), words]
            case Dimension():
                return self.dimension(mark)
            case Running():
                return self.running(mark)
            case _:
                raise TypeError(f"SVG cannot draw a mark of kind {type(mark).__name__!r}")

    def cls(self, mark: Mark) -> str:
        dash = f"dash-{mark.dash}" if mark.dash != "solid" else ""
        return " ".join(c for c in ("m", f"pen-{mark.pen}", dash, mark.css) if c)

    def run(self, points: tuple[Point, ...]) -> str:
        return " ".join(",".join(self.at(p)) for p in points)

    def segment(self, cls: str, a: Point, b: Point) -> str:
        (x1, y1), (x2, y2) = self.at(a), self.at(b)
        return f'<line class="{cls}" x1="{x1}" y1="{y1}" x2="{x2}" y2="{y2}"/>'

    def line(self, mark: Line) -> list[str]:
        drawn = [self.segment(self.cls(mark), mark.a, mark.b)]
        if mark.arrow:
            drawn.append(self.head(mark.a, mark.b))
        return drawn

    def head(self, a: Point, b: Point) -> str:
        back = atan2(a[1] - b[1], a[0] - b[0])
        size = _ARROW_MM * self.n
        wings = [
            (b[0] + size * cos(back + turn), b[1] + size * sin(back + turn))
            for turn in (radians(14), -radians(14))
        ]
        return f'<polygon class="head" points="{self.run((b, *wings))}"/>'

    def polygon(self, mark: Polygon) -> list[str]:
        points = self.run(mark.points)
        bare = "" if mark.outlined else " bare"
        drawn = []
        if mark.hatch == "none":
            return [f'<polygon class="{self.cls(mark)} fill-{mark.fill}{bare}" points="{points}"/>']
        if mark.fill != "none":
            drawn.append(f'<polygon class="m fill-{mark.fill} bare" points="{points}"/>')
        pattern = self.pattern(mark.hatch, mark.hatch_mm)
        drawn.append(f'<polygon class="hatch" fill="url(#{pattern})" points="{points}"/>')
        if mark.outlined:
            drawn.append(f'<polygon class="{self.cls(mark)} fill-none" points="{points}"/>')
        return drawn

    def pattern(self, hatch: Hatch, true_mm: float | None) -> str:
        step = true_mm or _HATCH_MM[hatch] * self.n
        key = f"{self.scene.name}-{hatch}-{number(step).replace('.', 'p')}"
        if key not in self.hatches:
            s, h = number(step), number(step / 2)
            dot = number(0.16 * self.n)
            inner = {
                "diagonal": f'<path class="hl" d="M0 {s}L{s} 0"/>',
                "mesh": f'<path class="hl" d="M0 {h}H{s}M{h} 0V{s}"/>',
                "bars": f'<path class="hl" d="M{h} 0V{s}"/>',
                "slats": f'<path class="hl" d="M0 {h}H{s}"/>',
                "gravel": f'<circle class="hl" cx="{h}" cy="{h}" r="{number(step / 5)}"/>',
                "earth": f'<path class="hl" d="M0 {s}L{h} {h}"/>'
                f'<circle class="hl" cx="{number(step * 0.75)}" cy="{h}" r="{dot}"/>',
            }[hatch]
            pen = number(_HATCH_PEN_MM * self.n)
            self.hatches[key] = (
                f'<pattern id="{key}" patternUnits="userSpaceOnUse" width="{s}" height="{s}"'
                f' stroke-width="{pen}">'
                f"{inner}</pattern>"
            )
        return key

    def arc(self, mark: Arc) -> str:
        ends = [
            (
                mark.centre[0] + mark.radius * cos(radians(deg)),
                mark.centre[1] + mark.radius * sin(radians(deg)),
            )
            for deg in (mark.start_deg, mark.end_deg)
        ]
        (x1, y1), (x2, y2) = self.at(ends[0]), self.at(ends[1])
        r, large = number(mark.radius), int((mark.end_deg - mark.start_deg) % 360 > 180)
        return f'<path class="{self.cls(mark)}" d="M{x1} {y1}A{r} {r} 0 {large} 0 {x2} {y2}"/>'

    def text(
        self, at: Point, text: str, height_mm: float, anchor: str, turn_deg: float, cls: str
    ) -> str:
        size = height_mm * self.n
        # From the middle line down to the base line, across the direction of reading.
        drop = size * CAPITAL / 2
        turn = radians(turn_deg)
        x, y = self.at((at[0] + drop * sin(turn), at[1] - drop * cos(turn)))
        turned = f' transform="rotate({number(-turn_deg)} {x} {y})"' if turn_deg else ""
        anchored = f' text-anchor="{anchor}"' if anchor != "start" else ""
        return (
            f'<text class="{cls}" x="{x}" y="{y}" font-size="{number(size)}"{anchored}{turned}>'
            f"{escape(text)}</text>"
        )

    def paper_behind(self, mark: Text) -> list[str]:
        if not mark.boxed:
            return []
        box = text_box(
            mark.at, mark.text, mark.height_mm, self.n, mark.anchor, mark.turn_deg, mark.bold
        ).grown(0.3 * self.n)
        corners = (
            (box.left, box.bottom),
            (box.right, box.bottom),
            (box.right, box.top),
            (box.left, box.top),
        )
        return [f'<polygon class="m fill-paper bare" points="{self.run(corners)}"/>']

    def tick(self, point: Point) -> str:
        t = _TICK_MM * self.n / 2
        return self.segment(
            "m pen-medium", (point[0] - t, point[1] - t), (point[0] + t, point[1] + t)
        )

    def dimension(self, mark: Dimension) -> list[str]:
        gap, past = 1.0 * self.n, 1.2 * self.n
        drawn, feet = [], []
        for p in (mark.a, mark.b):
            foot = (p[0], mark.at) if mark.axis == "x" else (mark.at, p[1])
            feet.append(foot)
            drawn += self.witness(p, foot, mark.axis, gap, past)
        drawn.append(self.segment("m pen-hair", feet[0], feet[1]))
        k = 0 if mark.axis == "x" else 1
        if not min(feet[0][k], feet[1][k]) <= mark.text_at[k] <= max(feet[0][k], feet[1][k]):
            reach = (mark.text_at[0], mark.at) if k == 0 else (mark.at, mark.text_at[1])
            nearer = min(feet, key=lambda f: abs(f[k] - reach[k]))
            drawn.append(self.segment("m pen-hair", nearer, reach))
        drawn += [self.tick(foot) for foot in feet]
        drawn.append(self.figure(mark))
        return drawn

    def figure(self, mark: Dimension | Running) -> str:
        return self.text(mark.text_at, mark.text, TEXT_MM, "middle", turn_of(mark), "t figure")

    def witness(self, point: Point, foot: Point, axis: str, gap: float, past: float) -> list[str]:
        k = 1 if axis == "x" else 0
        run = foot[k] - point[k]
        if abs(run) <= gap:
            return []
        sign = 1 if run > 0 else -1
        start, end = list(point), list(foot)
        start[k] += sign * gap
        end[k] += sign * past
        return [self.segment("m pen-hair witness", (start[0], start[1]), (end[0], end[1]))]

    def running(self, mark: Running) -> list[str]:
        foot = (mark.point[0], mark.at) if mark.axis == "x" else (mark.at, mark.point[1])
        drawn = []
        if mark.witness:
            drawn += self.witness(mark.point, foot, mark.axis, 1.0 * self.n, 0)
        k = 0 if mark.axis == "x" else 1
        away = 1 if mark.text_at[1 - k] > mark.at else -1
        knee = list(mark.text_at)
        knee[1 - k] = mark.at + away * 1.5 * self.n
        drawn.append(self.segment("m pen-hair", foot, (knee[0], knee[1])))
        drawn += [self.tick(foot), self.figure(mark)]
        return drawn
