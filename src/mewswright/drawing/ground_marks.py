"""Signs for what stands on the ground: trees, walls, hedges, buildings and the rest.

Places come in as metres east and north, and go out as full-size millimetres.
"""

from itertools import pairwise
from math import atan2, cos, hypot, pi, sin

from mewswright.drawing.scene import (
    Circle,
    Dash,
    Fill,
    Hatch,
    Line,
    Mark,
    Pen,
    Point,
    Polygon,
    Polyline,
)
from mewswright.model.place import Feature
from mewswright.model.quantity import mm_from_m

POINT_MM = 1.2  # radius of a point's sign, on paper

_AREA: dict[str, tuple[Fill, Hatch]] = {
    "building": ("boards", "diagonal"), "weighing_room": ("boards", "none"),
    "wall": ("boards", "diagonal"), "compost": ("ground", "earth"),
    "leaf_mould": ("ground", "earth"), "hay": ("ground", "earth"), "straw": ("ground", "earth"),
    "log_stack": ("timber", "slats"), "rotting_timber": ("timber", "slats"),
    "pond": ("water", "none"), "hedge": ("leaf", "none"), "road": ("ground", "none"),
    "lane": ("ground", "none"), "path": ("ground", "none"),
}  # fmt: skip
_LINE_PEN: dict[str, Pen] = {"wall": "heavy", "building": "heavy", "hedge": "medium"}
_LINE_DASH: dict[str, Dash] = {"fence": "centre", "power_line": "dashed", "path": "dashed"}


def mm(point_m: tuple[float, float]) -> Point:
    """Give a place on the ground in full-size millimetres."""
    return mm_from_m(point_m[0]), mm_from_m(point_m[1])


def feature_title(feature: Feature) -> str:
    """Say what a feature is, in one line."""
    words = [f"{feature.name}: {feature.kind.replace('_', ' ')}"]
    if feature.height_m is not None:
        words.append(f"{feature.height_m:g} m high")
    if feature.kind == "tree" and feature.condition != "sound":
        words.append(feature.condition)
    return ", ".join(words)


def feature_marks(feature: Feature, scale: int) -> list[Mark]:
    """Draw one feature.

    Args:
        feature: The feature.
        scale: N of 1:N, which sizes the sign of a thing of one point.

    Returns:
        Its marks, without its name.
    """
    item, title = f"feature:{feature.name}", feature_title(feature)
    layer = "trees" if feature.kind == "tree" else "features"
    dash = _LINE_DASH.get(feature.kind, "solid")
    fill, hatch = _AREA.get(feature.kind, ("none", "none"))
    if feature.outline_m is not None:
        outline = tuple(mm(p) for p in feature.outline_m)
        return [
            Polygon(layer=layer, points=outline, fill=fill, hatch=hatch, item=item, title=title)
        ]
    if feature.line_m is not None:
        points = tuple(mm(p) for p in feature.line_m)
        if feature.width_m is not None:
            strip = strip_outline(points, mm_from_m(feature.width_m))
            return [
                Polygon(
                    layer=layer, points=strip, fill=fill, hatch=hatch, dash=dash, item=item,
                    title=title,
                )
            ]  # fmt: skip
        pen = _LINE_PEN.get(feature.kind, "thin")
        return [Polyline(layer=layer, pen=pen, dash=dash, points=points, item=item, title=title)]
    assert feature.at_m is not None
    at, r = mm(feature.at_m), POINT_MM * scale
    if feature.kind == "tree":
        crown = mm_from_m(feature.crown_radius_m) if feature.crown_radius_m is not None else r
        stem = Circle(layer=layer, centre=at, radius=r / 2, fill="ink", item=item, title=title)
        marks: list[Mark] = [
            Circle(layer=layer, centre=at, radius=crown, fill="leaf", item=item, title=title),
            stem,
        ]
        if feature.condition != "sound":  # a cross, for the colour-blind and the copier
            marks += [
                Line(
                    layer=layer, pen="medium", item=item, a=(at[0] - d * r, at[1] - r),
                    b=(at[0] + d * r, at[1] + r),
                )
                for d in (1, -1)
            ]  # fmt: skip
        return marks
    marks = [Circle(layer=layer, centre=at, radius=r, fill="paper", item=item, title=title)]
    if feature.looks_deg is not None:
        turn = feature.looks_deg / 180 * pi
        marks.append(
            Line(
                layer=layer, a=at, arrow=True, item=item,
                b=(at[0] + 5 * r * sin(turn), at[1] + 5 * r * cos(turn)),
            )
        )  # fmt: skip
    return marks


def feature_anchor(feature: Feature) -> Point:
    """Give the spot that a feature's name belongs to [mm]."""
    if feature.at_m is not None:
        return mm(feature.at_m)
    if feature.outline_m is not None:
        points = [mm(p) for p in feature.outline_m]
        return (
            sum(p[0] for p in points) / len(points),
            sum(p[1] for p in points) / len(points),
        )
    assert feature.line_m is not None
    points = [mm(p) for p in feature.line_m]
    half = sum(hypot(b[0] - a[0], b[1] - a[1]) for a, b in _steps(points)) / 2
    for a, b in _steps(points):
        run = hypot(b[0] - a[0], b[1] - a[1])
        if run >= half and run > 0:
            share = half / run
            return a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share
        half -= run
    return points[0]


def _steps(points: list[Point]) -> list[tuple[Point, Point]]:
    return list(pairwise(points))


def strip_outline(points: tuple[Point, ...], width: float) -> tuple[Point, ...]:
    """Give the outline of a line that has a width, corners mitred.

    Args:
        points: The middle line; at least two points.
        width: Width across it, in the points' unit.

    Returns:
        The outline: along the left side, back along the right one.
    """
    kept = [points[0]] + [b for a, b in _steps(list(points)) if a != b]
    if len(kept) < 2:
        return points
    half = width / 2
    angles = [atan2(b[1] - a[1], b[0] - a[0]) for a, b in _steps(kept)]
    left: list[Point] = []
    right: list[Point] = []
    for i, (x, y) in enumerate(kept):
        before, after = angles[max(i - 1, 0)], angles[min(i, len(angles) - 1)]
        turn = (after - before + pi) % (2 * pi) - pi
        across = before + turn / 2 + pi / 2
        # A sharp corner's mitre is cut short, or it would run far off the line.
        reach = half / max(cos(turn / 2), 0.5)
        left.append((x + reach * cos(across), y + reach * sin(across)))
        right.append((x - reach * cos(across), y - reach * sin(across)))
    return tuple(left + right[::-1])
