"""The plan of the yard: everything on the ground, named, north up."""

from collections import Counter
from collections.abc import Sequence
from math import atan2, cos, degrees, radians, sin

from mewswright.checks.finding import STATUSES, Finding, Status
from mewswright.drawing.ground_marks import (
    POINT_MM,
    feature_anchor,
    feature_marks,
    feature_title,
    mm,
)
from mewswright.drawing.paper import Paper, at_scale
from mewswright.drawing.placing import Lettering, avoid_marks
from mewswright.drawing.scene import (
    Arc,
    Circle,
    Line,
    Mark,
    Point,
    Polygon,
    Scene,
    Text,
)
from mewswright.drawing.soakaway_marks import dug_pits, pit_marks, pit_names
from mewswright.model.quarters import Quarters
from mewswright.model.ways import Door
from mewswright.model.yard import Yard

_ARROW_MM = 6.0  # on paper, from the front outwards
_PIN_MM = 2.4  # radius, on paper
_WAITING: tuple[Status, ...] = tuple(s for s in STATUSES if s != "sound")


def yard_plan(
    yard: Yard, findings: Sequence[Finding] = (), *, scale: int | None = None, paper: Paper = "A3"
) -> Scene:
    """Draw the ground: boundary, features, quarters, doors, and a pin where findings wait.

    Args:
        yard: The yard. Positions are metres east and north; the scene is in full-size mm.
        findings: What the checks say; quarters with any harm, short or mind get a pin with
            their number in the yard file and the counts in words.
        scale: N of 1:N; the largest that fits, if blank. A larger N letters larger against
            the ground, which a small screen wants.
        paper: Paper that it must fit on.

    Returns:
        A scene with items "quarters:NAME", "feature:NAME", "door:A|B" and "soakaway:NAME".

    Raises:
        ValueError: If the yard has nothing on the ground.
    """
    if not (yard.yard.boundary_m or yard.feature or yard.quarters):
        raise ValueError(f"the yard {yard.yard.name!r} has nothing on the ground to draw")
    return at_scale(lambda n: _laid_out(yard, findings, n), scale, paper)


def _laid_out(yard: Yard, findings: Sequence[Finding], scale: int) -> Scene:
    letters = Lettering(scale)
    marks: list[Mark] = []
    corners = tuple(mm(p) for p in yard.yard.boundary_m)
    if corners:
        title = f"Boundary of {yard.yard.name}"
        marks.append(
            Polygon(
                layer="boundary", pen="medium", dash="centre", points=corners,
                item="boundary:all", title=title,
            )
        )  # fmt: skip
    # Points last, trees after all else, so that a crown lies over the wall below it.
    features = sorted(yard.feature, key=lambda f: (f.kind == "tree", f.at_m is not None))
    for feature in features:
        marks += feature_marks(feature, scale)
        if feature.at_m is not None:
            x, y = mm(feature.at_m)
            r = POINT_MM * scale
            letters.keep_clear(((x - r, y - r), (x + r, y + r)))
    for quarters in yard.quarters:
        marks += _footprint(quarters, scale)
        letters.keep_clear(_front_arrow(quarters, scale))
    for door in yard.door:
        marks += _door(yard, door)
    pits = list(dug_pits(yard))
    for pit in pits:
        marks += pit_marks(pit)
    avoid_marks(letters, marks)
    for number, quarters in enumerate(yard.quarters, start=1):
        marks += _name(quarters, letters)
        marks += _pin(quarters, number, findings, letters)
    for feature in sorted(features, key=lambda f: f.at_m is None):
        marks += letters.label(
            feature_anchor(feature), feature.name, item=f"feature:{feature.name}",
            title=feature_title(feature),
            gap_mm=POINT_MM + 0.6 if feature.at_m is not None else 0.8,
            centred=feature.at_m is None,
        )  # fmt: skip
    for pit in pits:
        marks += pit_names(pit, letters)
    q, f = len(yard.quarters), len(yard.feature)
    return Scene(
        name="yard",
        title=f"Plan of {yard.yard.name}",
        description=(
            f"{q} quarters and {f} {'feature' if f == 1 else 'features'} on the ground, north up."
        ),
        scale=scale,
        marks=tuple(marks),
        north_deg=0,
    )


def _outwards(quarters: Quarters) -> Point:
    turn = radians(quarters.facing_deg)
    return sin(turn), cos(turn)


def _front_arrow(quarters: Quarters, scale: int) -> tuple[Point, Point]:
    start = mm(quarters.on_ground_m(quarters.width_mm / 2, 0))
    e, n = _outwards(quarters)
    return start, (start[0] + e * _ARROW_MM * scale, start[1] + n * _ARROW_MM * scale)


def _footprint(quarters: Quarters, scale: int) -> list[Mark]:
    item = f"quarters:{quarters.name}"
    planned = "" if quarters.built else ", planned"
    title = (
        f"{quarters.name}: {quarters.kind}{planned}, "
        f"{quarters.width_mm:.0f} by {quarters.depth_mm:.0f} mm"
    )
    corners = tuple(mm(p) for p in quarters.corners_m)
    a, b = _front_arrow(quarters, scale)
    marks: list[Mark] = [
        Polygon(
            layer="quarters", points=corners, fill="quarters", item=item, title=title,
            pen="thin" if quarters.kind == "pitch" else "medium",
            dash="solid" if quarters.built else "dashed",
        ),
        Line(layer="quarters", a=a, b=b, arrow=True, item=item, css="facing"),
    ]  # fmt: skip
    if quarters.kind != "pitch":  # the front is the line that the arrow leaves from
        marks.insert(1, Line(layer="quarters", pen="heavy", a=corners[0], b=corners[1], item=item))
    return marks


def _name(quarters: Quarters, letters: Lettering) -> list[Mark]:
    middle = mm(quarters.on_ground_m(quarters.width_mm / 2, quarters.depth_mm / 2))
    return letters.label(
        middle, quarters.name, item=f"quarters:{quarters.name}", gap_mm=0, bold=True, centred=True,
        title=f"{quarters.name}: {quarters.kind}", layer="names",
    )  # fmt: skip


def _door(yard: Yard, door: Door) -> list[Mark]:
    """Draw the doors that say where they are: the leaf, a quarter open, and its swing."""
    if door.face is None or door.at_mm is None:
        return []
    ends = [q for q in yard.quarters if q.name in door.between]
    if not ends:
        return []
    quarters, (one, other) = ends[0], door.between
    into = door.opens_into == quarters.name
    half = door.width_mm / 2 * (1 if door.hangs_low else -1)
    w, d = quarters.width_mm, quarters.depth_mm
    # Hinge, far jamb, and the way out of the quarters, in the quarters' own frame.
    hinge, jamb, out = {
        "front": ((door.at_mm - half, 0.0), (door.at_mm + half, 0.0), (0, -1)),
        "back": ((door.at_mm - half, d), (door.at_mm + half, d), (0, 1)),
        "left": ((0.0, door.at_mm - half), (0.0, door.at_mm + half), (-1, 0)),
        "right": ((w, door.at_mm - half), (w, door.at_mm + half), (1, 0)),
    }[door.face]
    sign = -1 if into else 1
    tip = (
        hinge[0] + sign * out[0] * door.width_mm,
        hinge[1] + sign * out[1] * door.width_mm,
    )
    at, to, open_ = (mm(quarters.on_ground_m(*p)) for p in (hinge, jamb, tip))
    item, title = f"door:{one}|{other}", f"Door between {one} and {other}"
    a, b = sorted((_deg(at, to), _deg(at, open_)))
    if b - a > 180:
        a, b = b, a + 360
    return [
        Line(layer="doors", pen="heavy", css="opening", a=at, b=to, item=item, title=title),
        Line(layer="doors", a=at, b=open_, item=item, title=title),
        Arc(
            layer="doors", pen="hair", centre=at, radius=door.width_mm, start_deg=a, end_deg=b,
            item=item, title=title,
        ),
    ]  # fmt: skip


def _deg(a: Point, b: Point) -> float:
    return degrees(atan2(b[1] - a[1], b[0] - a[0])) % 360


def _pin(
    quarters: Quarters, number: int, findings: Sequence[Finding], letters: Lettering
) -> list[Mark]:
    counts = Counter(f.status for f in findings if f.quarters == quarters.name)
    words = ", ".join(f"{counts[s]} {s}" for s in _WAITING if counts[s])
    if not words:
        return []
    worst = next(s for s in _WAITING if counts[s])
    n = letters.scale
    middle = mm(quarters.on_ground_m(quarters.width_mm / 2, quarters.depth_mm / 2))
    # Room for the pin's head before the words; the head itself stands at their left.
    room = "00 " if number > 9 else "0 "
    at, box = letters.place(middle, f"{room}{words}  ", gap_mm=2, prefer=(270, 90))
    item, title = f"quarters:{quarters.name}", f"{quarters.name}: {words}"
    head = (box.left + 1.5 * n, at[1])
    return [
        Circle(
            layer="pins", pen="medium", centre=head, radius=1.7 * n, fill="paper", item=item,
            title=title, css=f"pin pin-{worst}",
        ),
        Text(
            layer="pins", at=head, text=str(number), anchor="middle", height_mm=2.2, bold=True,
            item=item, css=f"pin-{worst}",
        ),
        Text(
            layer="pins", at=(head[0] + 2.4 * n, at[1]), text=words, item=item,
            css=f"pin-words pin-{worst}",
        ),
    ]  # fmt: skip
