"""Units with every option on: take-off, GLB, order, labels and sheets name the same parts.

Outside: marks are counted, boxes are worked out from the yard file by hand, masses by volume.
"""

import io
import json
import struct
from collections import Counter
from math import prod

import pytest
import trimesh

from mewswright.build.corridor import corridor_behind
from mewswright.build.labels import labels_of
from mewswright.build.masses import density_kg_m3, part_mass
from mewswright.build.order import build_order
from mewswright.build.row import row_named, starts_mm, unit_or_row, units_in
from mewswright.build.sawing import sawing_of
from mewswright.build.solids import KNEE, solids_of, why_not_whole
from mewswright.build.takeoff import take_off
from mewswright.drawing.gltf import to_glb
from mewswright.papers.sheets import sheets_of
from support.corridor_yard import corridor_yard
from support.row_yard import row_yard
from support.units import BARRED, unit_yard

FRONT = {**BARRED, "upstand_mm": 600}
BATH = {
    "kind": "bath", "name": "Tray", "at_mm": [1000, 400], "width_mm": 700, "length_mm": 500,
    "depth_mm": 100, "rim_height_mm": 130, "slides_under": "front",
}  # fmt: skip
BLIND = {
    "kind": "hatch", "name": "Blind hatch", "face": "left", "at_mm": 800, "sill_mm": 1200,
    "width_mm": 300, "height_mm": 220, "ledge_mm": 250, "blind": True,
}  # fmt: skip
PLAIN = {**BLIND, "name": "Plain hatch", "face": "front", "at_mm": 2300, "blind": False}
PERCH = {
    "kind": "perch", "name": "High", "form": "round", "at_mm": [1500, 1500], "height_mm": 1500,
    "length_mm": 900, "diameter_mm": 40, "cover": "turf",
}  # fmt: skip
DOOR = {"between": ["Unit", "Lobby"], "width_mm": 700, "height_mm": 1800, "face": "back",
        "at_mm": 1500, "sill_mm": 60, "locks": "key", "self_closing": True}  # fmt: skip
CORNER_MM = 11.5  # sheets of two walls are each set out to the corner
HELD = {"brace": "knee", "brace_leg_mm": 400, "lining": "osb3_11", "anchor": "concrete_hole",
        "anchor_count": 6, "post_count": 3}  # fmt: skip
ON = {"front": FRONT, "fitting": [BATH, BLIND, PLAIN, PERCH], "frame": HELD,
      "roof": {"gutter": "butt"}}  # fmt: skip
LOW_HATCH = {**PLAIN, "name": "Low hatch", "sill_mm": 620, "face": "front"}
DUO = {"form": "duopitch", "ridge_height_mm": 3000, "gutter": "soakaway"}


def in_rows(yard_of, **changes):
    """Fittings in two units of a row, the bath in its middle one."""
    fittings = {"A": [PERCH, PLAIN], "B": [BATH, LOW_HATCH]}
    return yard_of(fittings=fittings, **{**ON, "fitting": [], **changes})


KINDS = {
    "loft, all on": (unit_yard(**ON, door=[DOOR]), "Unit"),
    "falls to the front": (
        unit_yard(**{**ON, "front_height_mm": 2300, "back_height_mm": 2700}), "Unit",
    ),
    "in panels": (unit_yard(**{**ON, "frame": {**HELD, "bay_max_mm": 1600}}), "Unit"),
    "duopitch on pads": (
        unit_yard(**{**ON, "roof": DUO, "depth_mm": 4000, "frame": {**HELD, "base": "pads"}}),
        "Unit",
    ),
    "row, all on": (in_rows(row_yard), "Row"),
    "row on short posts": (
        in_rows(row_yard, frame={**HELD, "base": "posts_in_concrete", "anchor": "none",
                                 "anchor_count": 0}), "Row",
    ),
    "row with a corridor and a lobby": (in_rows(corridor_yard), "Row"),
}  # fmt: skip


@pytest.fixture(scope="module", params=KINDS, ids=str)
def built(request):
    yard, quarters = unit_or_row(*KINDS[request.param])
    return yard, quarters, take_off(yard, quarters)


def placed(takeoff):
    return [part for part in takeoff.parts if part.sticks or part.panels]


def test_marks_are_given_once_and_taken_up_once(built):
    _, quarters, takeoff = built
    marks = Counter(part.mark for part in takeoff.parts)
    assert set(marks.values()) == {1}
    order = build_order(quarters, takeoff)
    assert Counter(mark for step in order.steps for mark in step.marks) == marks


def test_nothing_counts_for_nothing(built):
    """A line of the take-off is sawn, or has an amount; and all sawn pieces have a place.

    Tapered packings are made of offcuts, and are counted alone.
    """
    *_, takeoff = built
    for part in takeoff.parts:
        if part.what.startswith("tapered packing"):
            continue
        assert part.sawn or part.amount > 0, part.what
        if part.sawn:
            assert len(part.sticks) == part.count, part.what


def test_each_sawn_piece_has_a_label(built):
    yard, _, takeoff = built
    labels = Counter(
        label.mark for label in labels_of(takeoff.parts, sawing_of(yard, takeoff.parts))
    )
    assert labels == {part.mark: part.count for part in takeoff.parts if part.sawn}


def test_the_glb_holds_every_part_and_weighs_as_much(built):
    *_, takeoff = built
    glb = to_glb(takeoff)
    size = struct.unpack_from("<5I", glb)[3]
    nodes = json.loads(glb[20 : 20 + size])["nodes"]
    names = Counter(node["name"] for node in nodes)
    assert all(names[part.mark] == 1 for part in takeoff.parts)
    scene = trimesh.load(io.BytesIO(glb), file_type="glb")
    solid, line = 0.0, 0.0
    for part in takeoff.parts:
        if why_not_whole(part):
            continue
        meshes = [
            scene.geometry[scene.graph[name][1]].volume
            for name in scene.graph.nodes_geometry
            if name.rpartition(" ")[0] == part.mark
        ]
        solid += sum(meshes) * density_kg_m3(part)
        line += part_mass(part).kg
    assert solid == pytest.approx(line, rel=0.01)


def test_bracing_stands_inside_the_walls_it_braces(built):
    yard, quarters, takeoff = built
    row = row_named(yard, quarters.name)
    frame = takeoff.frame
    t = frame.wall_mm
    deep = quarters.depth_mm + t
    if row is not None and (found := corridor_behind(yard, row)) is not None:
        deep = found.behind_mm + found.whole.depth_mm + t
    knees: list[float] = []
    for part in takeoff.parts:
        if part.what not in (KNEE, "lining sheet"):
            continue
        for solid in solids_of(part, frame):
            x, y, z = zip(*solid.places_mm, strict=True)
            assert -t - 1 <= min(x) <= max(x) <= quarters.width_mm + t + 1, part.what
            assert -t - 1 <= min(y) <= max(y) <= deep + 1, part.what
            assert -1 <= min(z) <= max(z) <= quarters.highest_mm + 1, part.what
            if part.what == KNEE:
                knees.append(sum(x) / len(x))
    starts = starts_mm(yard, row) if row is not None else (0.0,)
    units = units_in(yard, row) if row is not None else (quarters,)
    # Three posts: two bays, two knees each; a split front has a pair where two panels meet.
    for start, unit in zip(starts, units, strict=True):
        assert sum(start <= x <= start + unit.width_mm for x in knees) == 4
    assert len(knees) == 4 * len(units)


def test_no_two_linings_and_no_two_knees_lie_in_each_other(built):
    *_, takeoff = built
    boxes = [
        [(min(v), max(v)) for v in zip(*solid.places_mm, strict=True)]
        for part in takeoff.parts
        if part.what in (KNEE, "lining sheet")
        for solid in solids_of(part, takeoff.frame)
    ]
    for i, one in enumerate(boxes):
        for other in boxes[:i]:
            meet = [min(a[1], b[1]) - max(a[0], b[0]) for a, b in zip(one, other, strict=True)]
            if min(meet) <= 0 or sorted(meet)[1] <= CORNER_MM:
                continue
            least = min(prod(high - low for low, high in box) for box in (one, other))
            assert prod(meet) < 0.1 * least, (one, other)  # tips of two knees may touch


SHEETS = ("loft, all on", "row, all on")
ON_NO_SHEET = ("lining sheet",)  # it is in the GLB and on the sheet plans


@pytest.mark.parametrize("name", SHEETS)
def test_every_part_with_a_place_is_on_a_sheet(name):
    yard, quarters = unit_or_row(*KINDS[name])
    takeoff = take_off(yard, quarters)
    items = {mark.item for scene in sheets_of(yard, quarters, takeoff) for mark in scene.marks}
    missing = [
        f"{part.mark} {part.what}"
        for part in placed(takeoff)
        if f"part:{part.mark}" not in items and part.what not in ON_NO_SHEET
        and part.kind not in ("perch", "door")
    ]  # fmt: skip
    assert missing == []
    for fitting in quarters.fitting:
        assert any(item.endswith(f":{fitting.name}") for item in items if item), fitting.name
