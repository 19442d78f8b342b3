"""The graph of spaces: every room, every door, and the weak ways out drawn heavy.

A schematic, not to scale: columns count the doors between a place and the open air.
"""

from collections.abc import Iterator, Mapping
from itertools import pairwise

from mewswright.checks.outlook_told import OutlookReport
from mewswright.drawing.scene import Line, Mark, Pen, Point, Polygon, Scene, Text
from mewswright.ground.doors import doors_away, doors_of
from mewswright.model.ways import OUTSIDE, Door
from mewswright.model.yard import Yard

COLUMN_MM, ROW_MM = 78.0, 15.0
WIDE_MM, TALL_MM = 46.0, 9.0


def door_graph_plan(yard: Yard, report: OutlookReport) -> Scene:
    """Draw every place, its doors, and each weak way out in heavy lines.

    Args:
        yard: The yard; without doors its quarters stand alone.
        report: Its outlook.
    """
    spots = _places(yard)
    weak = {one.quarters: one for one in report.doors if one.weak}
    heavy = {pair for way in weak.values() for pair in pairwise(way.rooms)}
    marks: list[Mark] = []
    for door in yard.door:
        marks += _door(door, spots, heavy)
    for name, at in spots.items():
        marks += _node(yard, name, at, name in weak)
    marks += _legend(report, min(y for _, y in spots.values()) - 2 * ROW_MM)
    return Scene(
        name="doors", title=f"Doors of {yard.yard.name}", scale=1, marks=tuple(marks),
        description=f"{len(spots)} places and {len(yard.door)} doors; weak ways out are heavy.",
    )  # fmt: skip


def _places(yard: Yard) -> dict[str, Point]:
    steps = doors_away(frozenset({OUTSIDE}), doors_of(yard.door))
    names = [OUTSIDE, *(s.name for s in yard.space)]
    names += [q.name for q in yard.quarters if q.kind != "pitch" or q.name in steps]
    rows: dict[int, int] = {}
    last = max(steps.values(), default=0) + 1
    found: dict[str, Point] = {}
    for name in names:
        column = steps.get(name, last)
        found[name] = (column * COLUMN_MM, -rows.get(column, 0) * ROW_MM)
        rows[column] = rows.get(column, 0) + 1
    return found


def _door(door: Door, spots: Mapping[str, Point], heavy: set[tuple[str, str]]) -> Iterator[Mark]:
    one, other = door.between
    if one not in spots or other not in spots:
        return
    a, b = sorted((spots[one], spots[other]))
    if a[0] != b[0]:
        a, b = (a[0] + WIDE_MM, a[1]), b
    bad = (one, other) in heavy or (other, one) in heavy
    pen: Pen = "heavy" if bad else "thin"
    title = f"{one} to {other}: {'falls shut' if door.self_closing else 'stands ajar'}, "
    item, shut = f"door:{one}|{other}", door.self_closing and door.locks != "none"
    yield Line(
        layer="doors", a=a, b=b, pen=pen, dash="solid" if shut else "dashed", item=item,
        title=title + f"lock: {door.locks}", css="weak" if bad else "",
    )  # fmt: skip


def _node(yard: Yard, name: str, at: Point, weak: bool) -> Iterator[Mark]:
    x, y = at
    kinds = {s.name: s.kind.replace("_", " ") for s in yard.space}
    kinds |= {q.name: q.kind for q in yard.quarters}
    open_air = name == OUTSIDE or any(s.name == name and not s.closed_in for s in yard.space)
    corners = ((x, y - TALL_MM / 2), (x + WIDE_MM, y - TALL_MM / 2),
               (x + WIDE_MM, y + TALL_MM / 2), (x, y + TALL_MM / 2))  # fmt: skip
    told = f"{name}: {'the open air' if name == OUTSIDE else kinds.get(name, '')}"
    yield Polygon(
        layer="places", points=corners, fill="leaf" if open_air else "quarters",
        pen="heavy" if weak else "thin", item=f"place:{name}", title=told,
    )  # fmt: skip
    yield Text(
        layer="names", at=(x + WIDE_MM / 2, y), text=name, anchor="middle", bold=weak,
        item=f"place:{name}", title=told,
    )  # fmt: skip


def _legend(report: OutlookReport, y: float) -> Iterator[Mark]:
    lines = [
        "Heavy: a weak way out, one door between a loose bird and the open air",
        "Dashed: does not fall shut by itself, or has no lock",
        *(f"Weak: {' to '.join(one.rooms)}" for one in report.doors if one.weak),
        f"How: {report.how['doors']}",
        f"How sure: {report.sure['doors']}",
    ]
    for i, line in enumerate(lines):
        yield Text(layer="legend", at=(0.0, y - 5 * i), text=line)
