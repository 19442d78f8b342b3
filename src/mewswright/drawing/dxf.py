"""A scene as DXF, for any drafting program: layers, blocks, real dimensions, paper space.

Model space holds the drawing in full-size millimetres, as the scene has it. A scene on a
sheet also gets a paper layout "Sheet" with border and title block in millimetres of paper,
and a viewport at the sheet's scale. The same scene gives the same bytes.

Layers are named after the scene's; tints lie on layers of their own ("timber-fill"), so
that they can be turned off. Each mark of a thing carries its item and title as extended
data under MEWSWRIGHT.
"""

import io
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import replace
from importlib.resources import files
from math import atan2, degrees, isfinite
from pathlib import Path
from typing import TYPE_CHECKING, Any, cast

from mewswright.drawing.lettering import CAPITAL, text_width
from mewswright.drawing.paper import BORDER_MM, STRIP_MM
from mewswright.drawing.scene import (
    PEN_MM,
    TEXT_MM,
    Arc,
    Box,
    Circle,
    Dash,
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
    extent,
    text_box,
    whole,
)
from mewswright.drawing.sheet import LAYER as SHEET
from mewswright.model.problem import Problem

if TYPE_CHECKING:
    from ezdxf.document import Drawing

APP = "MEWSWRIGHT"  # of extended data, dimension style and text style
LAYOUT = "Sheet"
VIEWPORT_LAYER = "viewport"
FACE, BOLD_FACE = "SourceSans3-Regular.ttf", "SourceSans3-Semibold.ttf"

# Colour numbers that read on a dark screen and on paper; 7 is black or white.
_COLOURS = {
    "timber": 32, "behind": 8, "bars": 8, "walls": 34, "openings": 5, "doors": 5, "fittings": 94,
    "circles": 6, "roof": 96, "floor": 42, "dimensions": 8, "part-marks": 1, "base": 42,
    "setting-out": 6, "panels": 6, "boundary": 6, "trees": 3, "sheet": 7,
}  # fmt: skip
_FILLS: dict[Fill, tuple[int, int, int]] = {
    "timber": (243, 234, 217), "cut": (217, 196, 156), "boards": (247, 243, 234),
    "ground": (228, 221, 208), "roof": (223, 227, 230), "water": (216, 230, 238),
    "leaf": (230, 237, 220), "quarters": (243, 234, 217), "ink": (26, 26, 26),
    "shade": (196, 193, 184), "halfshade": (226, 223, 216),
    "step1": (253, 247, 230), "step2": (250, 230, 180), "step3": (245, 208, 122),
    "step4": (232, 177, 67), "step5": (207, 140, 28),
}  # fmt: skip
# Dashes and hatches in millimetres on paper; a negative length is a gap.
_DASHES: dict[Dash, tuple[str, str, tuple[float, ...]]] = {
    "dashed": ("MW_DASHED", "Dashed __ __ __", (2.0, -1.0)),
    "centre": ("MW_CENTRE", "Centre ____ _ ____", (5.0, -1.0, 0.8, -1.0)),
    "dotted": ("MW_DOTTED", "Dotted . . . .", (0.5, -1.0)),
}
_HATCH_MM: dict[Hatch, float] = {
    "diagonal": 2.0, "gravel": 2.4, "earth": 2.4, "mesh": 1.2, "bars": 1.2, "slats": 1.2,
}  # fmt: skip
_ARROW, _TICK = "ARROW", "TICK"


def to_dxf(scene: Scene, fonts: Path | None = None) -> bytes:
    """Write a scene as one DXF document (R2010, millimetres).

    Args:
        scene: The drawing; put on a sheet, it gets a paper layout as well.
        fonts: Folder of the faces that dimensions are measured with; the package's own,
            if None. A machine without any face can write the same file.

    Returns:
        The document; the same bytes for the same scene.

    Raises:
        TypeError: On a mark that DXF cannot draw.
        ValueError: On a place that is not a number.
        Problem: If a face is missing.
    """
    from ezdxf.filemanagement import new

    _measure_with(fonts or Path(str(files("mewswright") / "static" / "vendor" / "fonts")))
    with _without_clock():
        document = new("R2010", setup=False, units=4)
        _Writer(scene, document).write()
        # ezdxf would list them in the order of a set, which differs from run to run.
        for name in sorted(document.entitydb.dxf_types_in_use()):
            document.classes.add_class(name)
        stream = io.StringIO()
        document.write(stream)
    return document.encode(stream.getvalue())


_measured_with: list[Path] = []


def _measure_with(folder: Path) -> None:
    """Let ezdxf know the package's faces alone: none of the machine's may change the file."""
    if _measured_with == [folder]:
        return
    missing = [face for face in (FACE, BOLD_FACE) if not (folder / face).is_file()]
    if missing:
        raise Problem(
            f"a DXF cannot be lettered: its faces are missing ({', '.join(missing)} not in the "
            "package's static/vendor/fonts); './mewswright test' or 'pip install .' in the "
            "project's folder fetches them"
        )
    from ezdxf.fonts import fonts

    fonts.font_manager.clear()
    fonts.font_manager.build([str(folder)], support_dirs=False)
    _measured_with[:] = [folder]


@contextmanager
def _without_clock() -> Iterator[None]:
    """Write fixed days and identities, so that the same yard gives the same bytes."""
    from ezdxf._options import options

    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before


class _Writer:
    def __init__(self, scene: Scene, document: "Drawing") -> None:
        self.scene, self.document, self.n = scene, document, scene.scale
        # ezdxf mixes its drawing methods in from many classes; its stubs lag behind.
        self.model: Any = document.modelspace()
        self.repeats = _repeats(scene)

    def write(self) -> None:
        self.set_up()
        for mark in self.scene.marks:
            if mark.layer != SHEET or self.scene.sheet is None:
                self.draw(mark, self.model, self.n)
        if self.scene.sheet is not None:
            self.on_paper(self.scene.sheet)
        self.show_all()

    def set_up(self) -> None:
        doc, n = self.document, self.n
        doc.header["$MEASUREMENT"] = 1
        # Dashes are given on paper: model space stretches them, the viewport shrinks them back.
        doc.header["$LTSCALE"] = float(n)
        doc.header["$PSLTSCALE"] = 0
        doc.header["$LWDISPLAY"] = 1
        doc.header["$PDMODE"] = 0
        doc.appids.add(APP)
        for face, name in ((FACE, APP), (BOLD_FACE, f"{APP}_BOLD")):
            doc.styles.add(name, font=face)
        for name, says, run in _DASHES.values():
            doc.linetypes.add(name, pattern=[sum(abs(v) for v in run), *run], description=says)
        for layer in dict.fromkeys(mark.layer for mark in self.scene.marks):
            doc.layers.add(layer, color=_COLOURS.get(layer, 7))
        style: Any = doc.dimstyles.new(APP)
        style.dxf.dimscale = float(n)
        style.dxf.dimtxsty = APP
        style.dxf.dimtxt = TEXT_MM * CAPITAL
        style.dxf.dimasz, style.dxf.dimtsz = 1.2, 0.6
        style.dxf.dimexo, style.dxf.dimexe, style.dxf.dimgap = 1.0, 1.2, 0.6
        style.dxf.dimtad, style.dxf.dimtih, style.dxf.dimtoh = 1, 0, 0
        style.dxf.dimdec, style.dxf.dimzin, style.dxf.dimlfac = 0, 8, 1
        style.dxf.dimlunit, style.dxf.dimrnd, style.dxf.dimdsep = 2, 0, ord(".")
        style.dxf.dimclrt = 7  # lines are pale, figures are not
        style.dxf.dimlwd = style.dxf.dimlwe = round(PEN_MM["hair"] * 100)
        self.block_of_arrow()
        for key, first in self.repeats.blocks.items():
            self.block_of_part(key, first)
        cast("Any", doc).set_wipeout_variables(frame=0)

    def block_of_arrow(self) -> None:
        """An arrow head of 2.6 mm that points along x, and a tick; both for 1 mm of paper."""
        arrow: Any = self.document.blocks.new(_ARROW)
        arrow.add_solid([(0, 0), (-2.52, 0.63), (-2.52, -0.63)], dxfattribs={"layer": "0"})
        tick: Any = self.document.blocks.new(_TICK)
        tick.add_line((-0.6, -0.6), (0.6, 0.6), dxfattribs={"layer": "0", "lineweight": 35})

    def block_of_part(self, name: str, first: Polygon) -> None:
        block: Any = self.document.blocks.new(name, base_point=first.points[0])
        self.polygon(first, block, self.n, on_layer="0")

    def attribs(self, mark: Mark, layer: str | None = None) -> dict[str, Any]:
        found: dict[str, Any] = {
            "layer": mark.layer if layer is None else layer,
            "lineweight": round(PEN_MM[mark.pen] * 100),
        }
        if mark.dash != "solid":
            found["linetype"] = _DASHES[mark.dash][0]
        return found

    def tell(self, entity: Any, mark: Mark) -> None:
        if mark.item:
            told = [(1000, _short(mark.item)), (1000, _short(mark.title))]
            entity.set_xdata(APP, told)

    # One method a kind of mark. `n` is N of 1:N in model space and 1 on paper.

    def draw(self, mark: Mark, space: Any, n: float) -> None:
        for point in extent(mark, self.scene.scale):
            if not (isfinite(point[0]) and isfinite(point[1])):
                raise ValueError("a mark lies at a point that is not a number")
        match mark:
            case Line():
                self.tell(space.add_line(mark.a, mark.b, dxfattribs=self.attribs(mark)), mark)
                if mark.arrow:
                    self.arrow(mark, space, n)
            case Polyline():
                run = space.add_lwpolyline(mark.points, dxfattribs=self.attribs(mark))
                self.tell(run, mark)
            case Polygon():
                name = self.repeats.name_of.get(id(mark))
                if name is None:
                    self.polygon(mark, space, n)
                else:
                    at = {"layer": mark.layer}
                    self.tell(space.add_blockref(name, mark.points[0], dxfattribs=at), mark)
            case Circle():
                self.circle(mark, space)
            case Arc():
                arc = space.add_arc(
                    mark.centre, mark.radius, mark.start_deg, mark.end_deg,
                    dxfattribs=self.attribs(mark),
                )  # fmt: skip
                self.tell(arc, mark)
            case Text():
                self.text(mark, space, n)
            case Dimension():
                self.dimension(mark, space)
            case Running():
                self.running(mark, space, n)
            case _:
                raise TypeError(f"DXF cannot draw a mark of kind {type(mark).__name__!r}")

    def arrow(self, mark: Line, space: Any, n: float) -> None:
        turn = degrees(atan2(mark.b[1] - mark.a[1], mark.b[0] - mark.a[0]))
        space.add_blockref(
            _ARROW, mark.b,
            dxfattribs={"layer": mark.layer, "rotation": turn, "xscale": n, "yscale": n},
        )  # fmt: skip

    def polygon(self, mark: Polygon, space: Any, n: float, on_layer: str | None = None) -> None:
        self.fill(mark.fill, mark.layer, space, [mark.points])
        if mark.hatch != "none":
            step = mark.hatch_mm or _HATCH_MM[mark.hatch] * n
            hatch = space.add_hatch(
                dxfattribs={
                    "layer": mark.layer if on_layer is None else on_layer, "color": 8,
                    "lineweight": 13,
                }
            )  # fmt: skip
            hatch.set_pattern_fill(
                f"MW_{mark.hatch.upper()}", style=0, definition=_pattern(mark.hatch, step)
            )
            hatch.paths.add_polyline_path(mark.points, is_closed=True)
        if mark.outlined:
            outline = space.add_lwpolyline(
                mark.points, close=True, dxfattribs=self.attribs(mark, on_layer)
            )
            self.tell(outline, mark)

    def fill(
        self, fill: Fill, layer: str, space: Any, paths: list[tuple[Point, ...]],
        circle: Circle | None = None,
    ) -> None:  # fmt: skip
        if fill == "none":
            return
        name = f"{layer}-fill"
        if name not in self.document.layers:
            self.document.layers.add(name, color=254)
        if fill == "paper":
            if circle is None:
                space.add_wipeout(paths[0], dxfattribs={"layer": name})
            return
        hatch = space.add_hatch(dxfattribs={"layer": name})
        hatch.rgb = _FILLS[fill]
        for points in paths:
            hatch.paths.add_polyline_path(points, is_closed=True)
        if circle is not None:
            hatch.paths.add_edge_path().add_arc(circle.centre, circle.radius, 0, 360)

    def circle(self, mark: Circle, space: Any) -> None:
        self.fill(mark.fill, mark.layer, space, [], mark)
        ring = space.add_circle(mark.centre, mark.radius, dxfattribs=self.attribs(mark))
        self.tell(ring, mark)

    def text(self, mark: Text, space: Any, n: float) -> None:
        from ezdxf.enums import TextEntityAlignment as At

        if mark.boxed:
            box = text_box(
                mark.at, mark.text, mark.height_mm, self.scene.scale, mark.anchor, mark.turn_deg,
                mark.bold,
            ).grown(0.3 * n)  # fmt: skip
            self.fill("paper", mark.layer, space, [_corners(box)])
        lettering = space.add_text(
            mark.text,
            height=mark.height_mm * CAPITAL * n,
            rotation=mark.turn_deg,
            dxfattribs={"layer": mark.layer, "style": f"{APP}_BOLD" if mark.bold else APP},
        )
        align = {"start": At.MIDDLE_LEFT, "middle": At.MIDDLE_CENTER, "end": At.MIDDLE_RIGHT}
        lettering.set_placement(mark.at, align=align[mark.anchor])
        self.tell(lettering, mark)

    def dimension(self, mark: Dimension, space: Any) -> None:
        base = (mark.a[0], mark.at) if mark.axis == "x" else (mark.at, mark.a[1])
        drawn = space.add_linear_dim(
            base=base, p1=mark.a, p2=mark.b, location=mark.text_at,
            angle=0 if mark.axis == "x" else 90, dimstyle=APP,
            text=_figure(mark.length_mm, mark.length_mm, mark.prefix),
            dxfattribs={"layer": mark.layer},
        )  # fmt: skip
        drawn.render()
        self.tell(drawn.dimension, mark)

    def running(self, mark: Running, space: Any, n: float) -> None:
        k = 0 if mark.axis == "x" else 1
        foot = (mark.point[0], mark.at) if k == 0 else (mark.at, mark.point[1])
        at = mark.point if mark.witness else foot
        origin = (mark.datum, mark.at) if k == 0 else (mark.at, mark.datum)
        # The leader ends where the figure begins; it runs on away from the row.
        long = text_width(mark.text, TEXT_MM) * n
        away = 1 if mark.text_at[1 - k] > mark.at else -1
        end = list(mark.text_at)
        end[1 - k] -= away * long / 2
        draw = space.add_ordinate_x_dim if k == 0 else space.add_ordinate_y_dim
        drawn = draw(
            feature_location=at, offset=(end[0] - at[0], end[1] - at[1]), origin=origin,
            text=_figure(mark.length_mm, abs(mark.length_mm), ""), dimstyle=APP,
            override={"dimtad": 0, "dimasz": 0.5, "dimgap": 0.1, "dimtsz": 0},
            dxfattribs={"layer": mark.layer},
        )  # fmt: skip
        drawn.render()
        self.tell(drawn.dimension, mark)
        space.add_blockref(_TICK, foot, dxfattribs={"layer": mark.layer, "xscale": n, "yscale": n})

    def on_paper(self, page: Box) -> None:
        """Put border and title block on paper, and a window on model space above them."""
        n = self.n
        wide, high = page.width / n, page.height / n
        paper: Any = self.document.layouts.get("Layout1")
        self.document.layouts.rename("Layout1", LAYOUT)
        paper.page_setup(size=(round(wide, 3), round(high, 3)), margins=(0, 0, 0, 0), units="mm")
        for mark in self.scene.marks:
            if mark.layer == SHEET:
                self.draw(_moved(mark, page, n), paper, 1)
        left, right = BORDER_MM, wide - BORDER_MM
        low, top = BORDER_MM + STRIP_MM, high - BORDER_MM
        self.document.layers.add(VIEWPORT_LAYER, color=8).off()
        paper.add_viewport(
            center=((left + right) / 2, (low + top) / 2),
            size=(right - left, top - low),
            view_center_point=(
                page.left + (left + right) / 2 * n, page.bottom + (low + top) / 2 * n,
            ),
            view_height=(top - low) * n,
            dxfattribs={"layer": VIEWPORT_LAYER},
        )  # fmt: skip

    def show_all(self) -> None:
        box = self.scene.box
        middle = ((box.left + box.right) / 2, (box.bottom + box.top) / 2)
        self.document.set_modelspace_vport(height=box.height * 1.05, center=middle)
        self.document.header["$EXTMIN"] = (box.left, box.bottom, 0)
        self.document.header["$EXTMAX"] = (box.right, box.top, 0)


class _Repeats:
    """Which polygons are drawn as inserts of one block: alike pieces of one part."""

    def __init__(self) -> None:
        self.blocks: dict[str, Polygon] = {}  # block name: the first of its pieces
        self.name_of: dict[int, str] = {}  # id of a mark: its block


def _repeats(scene: Scene) -> _Repeats:
    alike: dict[tuple[Any, ...], list[Polygon]] = {}
    for mark in scene.marks:
        if isinstance(mark, Polygon) and mark.item.startswith("part:"):
            x, y = mark.points[0]
            shape = tuple((round(u - x, 2), round(v - y, 2)) for u, v in mark.points)
            look = (mark.layer, mark.pen, mark.dash, mark.fill, mark.hatch, mark.hatch_mm)
            alike.setdefault((mark.item, look, shape), []).append(mark)
    found = _Repeats()
    counted: dict[str, int] = {}
    for (item, *_), marks in alike.items():
        if len(marks) < 2:
            continue
        part = item.partition(":")[2]
        counted[part] = counted.get(part, 0) + 1
        name = f"{part}-{counted[part]}"
        found.blocks[name] = marks[0]
        for mark in marks:
            found.name_of[id(mark)] = name
    return found


def _figure(shown_mm: float, measured_mm: float, prefix: str) -> str:
    """Text of a dimension: left to the program that shows it, where that writes what we do."""
    if whole(shown_mm) == f"{measured_mm:.0f}":
        return f"{prefix}<>"
    return f"{prefix}{whole(shown_mm)}"  # a half, or a distance on the datum's other side


def _pattern(hatch: Hatch, step: float) -> list[list[Any]]:
    """Lines of a hatch: turn [deg], a point, the step to the next line, its dashes [mm]."""
    half = step / 2
    level: list[Any] = [0.0, (0.0, half), (0.0, step), []]
    upright: list[Any] = [90.0, (half, 0.0), (step, 0.0), []]
    table: Mapping[Hatch, list[list[Any]]] = {
        "diagonal": [[45.0, (0.0, 0.0), (-half, half), []]],
        "bars": [upright],
        "slats": [level],
        "mesh": [level, upright],
        # Square pebbles and short strokes: a hatch of lines has no rings.
        "gravel": [
            [turn, (x * step, y * step), (0.0, step), [0.22 * step, -0.78 * step]]
            if turn == 0
            else [turn, (x * step, y * step), (step, 0.0), [0.22 * step, -0.78 * step]]
            for turn, x, y in (
                (0.0, 0.3, 0.3),
                (0.0, 0.3, 0.52),
                (90.0, 0.3, 0.3),
                (90.0, 0.52, 0.3),
            )
        ],
        "earth": [
            [45.0, (0.0, 0.0), (-half, half), [0.35 * step, -1.064214 * step]],
        ],
    }
    return table[hatch]


def _moved(mark: Mark, page: Box, n: float) -> Mark:
    """Give a mark of the sheet in millimetres of paper, from the paper's lower left corner."""

    def at(point: Point) -> Point:
        return (point[0] - page.left) / n, (point[1] - page.bottom) / n

    match mark:
        case Line():
            return replace(mark, a=at(mark.a), b=at(mark.b))
        case Polyline() | Polygon():
            return replace(mark, points=tuple(at(p) for p in mark.points))
        case Circle() | Arc():
            return replace(mark, centre=at(mark.centre), radius=mark.radius / n)
        case Text():
            return replace(mark, at=at(mark.at))
        case _:
            raise TypeError(f"a sheet cannot hold a mark of kind {type(mark).__name__!r}")


def _corners(box: Box) -> tuple[Point, ...]:
    return (
        (box.left, box.bottom), (box.right, box.bottom), (box.right, box.top), (box.left, box.top),
    )  # fmt: skip


def _short(text: str) -> str:
    """Extended data hold at most 255 bytes a string."""
    return text.encode()[:250].decode(errors="ignore")
