"""One unit taken apart: walls, roof and base drawn away from each other, every part marked.

An isometric picture from before the front's right end, drawn so that lengths along the
three edges of the unit are true at the sheet's scale: x runs down to the right at 30
degrees, y up to the right, z straight up. Each group of parts is moved along one edge, and
what a nearer part hides is left out (drawing/painter.py).
"""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, hypot, sqrt
from typing import Literal, TypeAlias

import numpy as np

from mewswright.build.gutter_parts import GUTTER
from mewswright.build.parts import BuiltFrame, Part, Place
from mewswright.build.solids import Vector, solids_of
from mewswright.drawing.painter import Body, hiders, painted_order, seen
from mewswright.drawing.paper import Paper, at_scale
from mewswright.drawing.placing import Lettering
from mewswright.drawing.rows import notes_below
from mewswright.drawing.scene import Line, Mark, Point, Polygon, Scene, box_of, extent, whole
from mewswright.drawing.timber import panel_look, part_title
from mewswright.model.quarters import Quarters

Group: TypeAlias = Literal["front", "back", "left", "right", "roof", "cover", "base", "inside"]
TO_VIEWER: Vector = (1.0, -1.0, 1.0)
# Times the square root of 1.5, so that each edge of the unit is as long as it is.
PAPER = np.array([[sqrt(0.75), sqrt(0.75), 0.0], [-0.5, 0.5, 1.0]])
_ROOF = ("blocking between rafters", "ridge board")
_COVER = ("roof batten", "roof board", "ridge capping", "open top")
_THIN = ("mesh", "net")  # seen through: they hide nothing
_LEAST_MM, _SHARE, _STEP_MM = 600.0, 0.4, 100.0  # judgement: how far groups are drawn apart
_UNMARKED = ("board",)  # courses are set out and marked on the elevations
_MOST_BARS = 4  # marks of bars in a group that are written; more are listed on its elevation
_SHORT_MM = 0.4  # a stretch of a line shorter than this on paper is left out


@dataclass(frozen=True, slots=True)
class Stretch:
    """What is seen of one edge of a piece."""

    part: Part
    group: Group
    a: Point
    b: Point


@dataclass(frozen=True, slots=True)
class TakenApart:
    """A unit taken apart, before it has a scale.

    Attributes:
        moves_mm: How far each group is moved, by group.
        tints: Outlines of what hides, in the order of painting.
        stretches: What is seen of all edges.
        paths: What is seen of the ways along which groups were moved.
    """

    moves_mm: dict[Group, Vector]
    tints: tuple[tuple[Part, tuple[Point, ...]], ...]
    stretches: tuple[Stretch, ...]
    paths: tuple[tuple[Group, Point, Point], ...]


def on_paper(place: Place) -> Point:
    """Give where a place lies on the drawing."""
    x, y, z = place
    return float(PAPER[0] @ (x, y, z)), float(PAPER[1] @ (x, y, z))


def moves_mm(quarters: Quarters) -> dict[Group, Vector]:
    """Give how far each group of parts is moved [mm].

    Walls move outwards, the roof up and the base down, each by a round length.
    """
    high = quarters.highest_mm
    out = _round(max(_LEAST_MM, _SHARE * min(quarters.width_mm, quarters.depth_mm)))
    up = _round(max(_LEAST_MM, high))
    down = _round(max(_LEAST_MM, _SHARE * high))
    return {
        "front": (0, -out, 0), "back": (0, out, 0), "left": (-out, 0, 0), "right": (out, 0, 0),
        "roof": (0, 0, up), "cover": (0, 0, up + out), "base": (0, 0, -down), "inside": (0, 0, 0),
    }  # fmt: skip


def _round(length_mm: float) -> float:
    return ceil(length_mm / _STEP_MM) * _STEP_MM


def group_of(part: Part, places: Sequence[Place], quarters: Quarters) -> Group:
    """Say which group a piece of a part goes with; corners count to front and back."""
    x, y, z = (sum(p[k] for p in places) / len(places) for k in range(3))
    if part.kind in ("deck", "covering") or part.what == GUTTER or part.what.startswith(_COVER):
        return "cover"
    if part.kind in ("rafter", "ridge") or part.what.startswith(_ROOF):
        return "roof"
    if part.kind in ("base", "substrate"):
        return "base"
    if part.kind == "perch":
        return "inside"
    if y < 0:
        return "front"
    if y > quarters.depth_mm:
        return "back"
    if x < 0:
        return "left"
    if x > quarters.width_mm:
        return "right"
    above = part.kind in _THIN and z > quarters.ceiling_mm(y) - 1
    return "cover" if above else "inside"


def take_apart(quarters: Quarters, frame: BuiltFrame) -> TakenApart:
    """Move the groups apart and find what is seen of every piece.

    Args:
        quarters: The unit.
        frame: Its parts.

    Returns:
        The picture, for any scale.
    """
    moves = moves_mm(quarters)
    pieces: list[tuple[Part, Group, Body]] = []
    for part in frame.parts:
        for one in solids_of(part, frame):
            group = group_of(part, one.places_mm, quarters)
            dx, dy, dz = moves[group]
            places = [(x + dx, y + dy, z + dz) for x, y, z in one.places_mm]
            pieces.append((part, group, Body(places, one.faces, PAPER)))
    bodies = [body for *_, body in pieces]
    before = hiders(bodies, TO_VIEWER)
    outlines = [() if part.kind in _THIN else body.outline for part, _, body in pieces]
    stretches = tuple(
        Stretch(part, group, p, q)
        for (part, group, body), nearer in zip(pieces, before, strict=True)
        for a, b in _edges(part, body)
        for p, q in seen(a, b, [outlines[k] for k in nearer])
    )
    paths = tuple(
        (group, p, q)
        for group, start, end in _ways(quarters, frame, moves)
        if any(group == found for _, found, _ in pieces)  # a corridor has no front
        for p, q in seen(on_paper(start), on_paper(end), outlines)
    )
    tints = tuple(
        (pieces[k][0], outlines[k]) for k in painted_order(bodies, TO_VIEWER, before) if outlines[k]
    )
    return TakenApart(moves, tints, stretches, paths)


def _edges(part: Part, body: Body) -> list[tuple[Point, Point]]:
    """Give the edges of a piece that its own faces leave to see.

    Sheets and round pieces show their outline, a bar its middle line: their other edges lie
    too close to be told apart on paper.
    """
    if part.kind == "bar":
        half = len(body.flat) // 2
        a, b = (body.flat[k : k + half].mean(axis=0) for k in (0, half))
        return [((float(a[0]), float(a[1])), (float(b[0]), float(b[1])))]
    if part.panels or len(body.faces) > 6:
        outline = body.outline
        return list(zip(outline, (*outline[1:], outline[0]), strict=True))
    kept: dict[tuple[int, int], None] = {}
    for face, normal in zip(body.faces, body.normals, strict=True):
        if float(normal @ TO_VIEWER) > 1e-9:
            for i, j in zip(face, [*face[1:], face[0]], strict=True):
                kept[min(i, j), max(i, j)] = None
    return [(_flat(body, i), _flat(body, j)) for i, j in kept]


def _flat(body: Body, corner: int) -> Point:
    return float(body.flat[corner][0]), float(body.flat[corner][1])


def _ways(
    quarters: Quarters, frame: BuiltFrame, moves: dict[Group, Vector]
) -> list[tuple[Group, Place, Place]]:
    """Give the ways along which groups were moved, from corners of the unit."""
    w, d, t = quarters.width_mm, quarters.depth_mm, frame.wall_mm
    front, back = quarters.ceiling_mm(0), quarters.ceiling_mm(d)
    upper = [(-t, -t, front), (w + t, -t, front), (w + t, d + t, back), (-t, d + t, back)]
    lower = [(x, y, 0.0) for x, y, _ in upper]
    starts: dict[Group, list[Place]] = {"cover": upper, "base": lower}
    sides: dict[Group, tuple[int, int]] = {
        "front": (0, 1), "back": (2, 3), "left": (0, 3), "right": (1, 2),
    }  # fmt: skip
    for side, (i, j) in sides.items():
        starts[side] = [lower[i], lower[j], upper[i], upper[j]]
    found: list[tuple[Group, Place, Place]] = []
    for group, places in starts.items():
        dx, dy, dz = moves[group]
        found += [(group, (x, y, z), (x + dx, y + dy, z + dz)) for x, y, z in places]
    return found


def exploded_view(
    quarters: Quarters, frame: BuiltFrame, apart: TakenApart | None = None, *,
    scale: int | None = None, paper: Paper = "A3",
) -> Scene:  # fmt: skip
    """Draw a unit taken apart.

    Args:
        quarters: The unit.
        frame: Its parts.
        apart: What `take_apart` gave for them, if it is at hand.
        scale: N of 1:N along the unit's edges; the largest that fits on the paper, if blank.
        paper: The paper.

    Returns:
        A scene named "exploded" with items "part:MARK".
    """
    ready = take_apart(quarters, frame) if apart is None else apart
    least = size_on_paper_mm(ready)
    return at_scale(lambda n: _laid_out(quarters, ready, n), scale, paper, least)


def size_on_paper_mm(apart: TakenApart) -> tuple[float, float]:
    """Give the width and height that the picture covers, without lettering [full-size mm]."""
    box = box_of(p for s in apart.stretches for p in (s.a, s.b))
    return box.width, box.height


def _laid_out(quarters: Quarters, apart: TakenApart, scale: int) -> Scene:
    letters = Lettering(scale, boxed=True)
    marks: list[Mark] = [
        Line(layer="setting-out", pen="hair", dash="dashed", a=a, b=b, title=f"Way of the {group}")
        for group, a, b in apart.paths
    ]
    for part, outline in apart.tints:
        if part.kind != "bar":
            marks.append(
                Polygon(
                    layer="timber", points=outline, fill=panel_look(part.kind)[0],
                    outlined=False, item=f"part:{part.mark}", title=part_title(part),
                )
            )  # fmt: skip
    for s in apart.stretches:
        if hypot(s.b[0] - s.a[0], s.b[1] - s.a[1]) >= _SHORT_MM * scale:
            thin = s.part.kind in (*_THIN, "board", "bar")
            marks.append(
                Line(
                    layer="bars" if s.part.kind == "bar" else "timber",
                    pen="hair" if thin else "thin", a=s.a, b=s.b,
                    dash="dotted" if s.part.kind in _THIN else "solid",
                    item=f"part:{s.part.mark}", title=part_title(s.part),
                )
            )  # fmt: skip
    names = _names(apart, letters)
    box = box_of(p for m in [*marks, *names] for p in extent(m, scale))
    notes = notes_below(letters, box.left, box.bottom, _notes(apart))
    return Scene(
        name="exploded",
        title=f"{quarters.name} taken apart",
        description=(
            "Isometric, from before the front's right end: walls, roof and base drawn away from "
            "each other, each part with its mark."
        ),
        scale=scale,
        marks=(*marks, *names, *notes),
    )


def _names(apart: TakenApart, letters: Lettering) -> list[Mark]:
    """Write each part's mark once a group, at the longest stretch that is seen of it."""
    best: dict[tuple[str, Group], Stretch] = {}
    for s in apart.stretches:
        if s.part.kind in _UNMARKED:
            continue
        known = best.get((s.part.mark, s.group))
        if known is None or _long(s) > _long(known) + 1e-6:
            best[s.part.mark, s.group] = s
    bars = Counter(group for (_, group), s in best.items() if s.part.kind == "bar")
    marks: list[Mark] = []
    for (mark, group), s in sorted(best.items(), key=lambda found: -_long(found[1])):
        if s.part.kind == "bar" and bars[group] > _MOST_BARS:
            continue
        middle = ((s.a[0] + s.b[0]) / 2, (s.a[1] + s.b[1]) / 2)
        marks += letters.label(
            middle, mark, layer="part-marks", item=f"part:{mark}", title=part_title(s.part),
            gap_mm=1.0, css="part-mark",
        )  # fmt: skip
    return marks


def _long(s: Stretch) -> float:
    return hypot(s.b[0] - s.a[0], s.b[1] - s.a[1])


def _notes(apart: TakenApart) -> list[str]:
    told: dict[Group, str] = {
        "right": "each wall {} mm outwards", "roof": "rafters {} mm up",
        "cover": "deck and covering {} mm up", "base": "base and floor {} mm down",
    }  # fmt: skip
    there = {s.group for s in apart.stretches}
    moved = [
        words.format(whole(max(abs(v) for v in apart.moves_mm[group])))
        for group, words in told.items()
        if group in there
    ]
    return [
        f"Drawn apart: {', '.join(moved)}; dashed lines show the way back.",
        "Isometric: lengths along width, depth and height are true at the scale, slopes and "
        "diagonals are not. Boards, and bars under a slope, are marked on the elevations.",
    ]


__all__ = ["TakenApart", "exploded_view", "group_of", "moves_mm", "on_paper", "take_apart"]
