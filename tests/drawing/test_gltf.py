"""The GLB of a unit, read back by trimesh: a reader that had no part in writing it."""

import io
import json
import struct

import numpy as np
import pytest
import trimesh

from mewswright.build.masses import density_kg_m3, part_mass
from mewswright.build.notches import cut_solids_of
from mewswright.build.row import unit_or_row
from mewswright.build.solids import KNEE, solids_of, why_not_whole
from mewswright.build.takeoff import take_off
from mewswright.drawing.gltf import to_glb
from support.alder_close import UNITS, YARD
from support.corridor_yard import corridor_yard
from support.row_yard import row_yard
from support.units import BARRED, BOARDED, polygon_mm2, unit_yard

MESHED = {"infill": "meshed", "gap_mm": 24, "mesh_kind": "welded", "upstand_mm": 500}


def small(**changes):
    yard = unit_yard(**changes)
    return take_off(yard, yard.quarters[0])


TAKE_OFFS = {
    **{unit.name: take_off(YARD, unit) for unit in UNITS},
    "all boarded, falls to the front": small(front=BOARDED, back_height_mm=2700),
    "level roof": small(back_height_mm=2400),
    "steep, barred on three sides": small(
        back_height_mm=900, depth_mm=2000, faces={"left": BARRED, "right": BARRED}
    ),
    "meshed side, half an open top": small(
        faces={"left": MESHED},
        roof={"covered_share": 0.5, "open_infill": "meshed", "open_gap_mm": 24},
    ),
    "duopitch, barred gable": small(
        faces={"left": BARRED}, depth_mm=4000, roof={"form": "duopitch", "ridge_height_mm": 3000}
    ),
    "crooked duopitch, posts inside": small(
        depth_mm=4000,
        width_mm=5000,
        back_height_mm=2000,
        frame={"ridge_posts": 1},
        roof={
            "form": "duopitch",
            "ridge_height_mm": 3000,
            "ridge_at_mm": 1500,
            "deck": None,
            "cover": "corrugated",
        },
    ),
    "steep, notched rafters, knee braces, lined": small(
        front_height_mm=2900,
        back_height_mm=2000,
        frame={"brace": "knee", "brace_leg_mm": 500, "lining": "osb3_11"},
    ),
    "duopitch, lined": small(
        depth_mm=4000,
        frame={"lining": "osb3_11"},
        roof={"form": "duopitch", "ridge_height_mm": 3000},
    ),
    "bolted bays": small(frame={"bay_max_mm": 1500, "base": "posts_in_concrete"}),
    "row, lined": take_off(*unit_or_row(row_yard(frame={"lining": "osb3_11"}), "Row")),
    "row with a corridor": take_off(*unit_or_row(corridor_yard(), "Row")),
    "gutter to a butt": small(roof={"gutter": "butt"}),
    "two gutters to soakaways": small(
        depth_mm=4000, roof={"form": "duopitch", "ridge_height_mm": 3000, "gutter": "soakaway"}
    ),
    "row with a corridor, gutters": take_off(
        *unit_or_row(corridor_yard(roof={"gutter": "butt"}), "Row")
    ),
    "row on posts in concrete": take_off(
        *unit_or_row(row_yard(frame={"base": "posts_in_concrete", "brace": "knee"}), "Row")
    ),
    "corrugated on battens": small(roof={"cover": "corrugated", "deck": None}),
}


@pytest.fixture(scope="module", params=TAKE_OFFS, ids=str)
def unit(request):
    takeoff = TAKE_OFFS[request.param]
    glb = to_glb(takeoff)
    return takeoff, glb, trimesh.load(io.BytesIO(glb), file_type="glb")


def document(glb):
    magic, version, length, size, kind = struct.unpack_from("<5I", glb)
    assert (magic, version, length, kind) == (0x46546C67, 2, len(glb), 0x4E4F534A)
    return json.loads(glb[20 : 20 + size])


def pieces(scene, mark):
    """Placed meshes of a part."""
    found = []
    for name in scene.graph.nodes_geometry:
        if name.rpartition(" ")[0] == mark:
            turn, geometry = scene.graph[name]
            found.append(scene.geometry[geometry].copy().apply_transform(turn))
    return found


def test_every_part_is_a_node_by_its_mark(unit):
    takeoff, glb, scene = unit
    marks = {part.mark for part in takeoff.parts}
    assert marks <= set(scene.graph.nodes)
    nodes = {node["name"]: node for node in document(glb)["nodes"]}
    for part in takeoff.parts:
        extras = nodes[part.mark]["extras"]
        assert (extras["section"], extras["length_mm"], extras["material"]) == (
            part.section, part.length_mm, part.material,
        )  # fmt: skip
        assert len(nodes[part.mark].get("children", [])) == len(part.sticks) + len(part.panels)


def test_every_piece_is_watertight_and_right_side_out(unit):
    *_, scene = unit
    assert scene.geometry
    for name, mesh in scene.geometry.items():
        assert mesh.is_watertight, name
        assert mesh.is_winding_consistent, name
        assert mesh.volume > 0, name


def test_no_mirrored_placing(unit):
    *_, scene = unit
    for name in scene.graph.nodes_geometry:
        turn, _ = scene.graph[name]
        assert np.linalg.det(turn[:3, :3]) == pytest.approx(1, abs=1e-6)


def test_solids_weigh_what_the_take_off_says(unit):
    """Every volume by trimesh, times its density, against the lines of the take-off.

    A board is counted whole where it is ripped to the roof line, so boards may weigh less
    than their lines. Timber is counted to its long points, and cut off it are two wedges at
    the most, each half of section times depth times tan of its angle; rafters lose their notches.
    """
    takeoff, _, scene = unit
    solid: dict[str, float] = {}
    line: dict[str, float] = {}
    wedges: dict[str, float] = {}
    halves: dict[str, float] = {}
    notches = 0.0
    for part in takeoff.parts:
        if why_not_whole(part):
            continue
        density, mass = density_kg_m3(part), part_mass(part)
        assert density is not None, part.mark
        assert mass is not None, part.mark
        volume = sum(mesh.volume for mesh in pieces(scene, part.mark))
        solid[part.kind] = solid.get(part.kind, 0) + volume * density
        line[part.kind] = line.get(part.kind, 0) + mass.kg
        if part.section:
            size = sorted(float(v) for v in part.section.split("x"))
            slant = sum(np.tan(np.radians(a)) for a in (part.cut_start_deg, part.cut_end_deg))
            wedge = size[0] * size[1] ** 2 * slant / 2 * part.count * density / 1e9
            wedges[part.kind] = wedges.get(part.kind, 0) + wedge
            whole = zip(solids_of(part, takeoff.frame), pieces(scene, part.mark), strict=True)
            notches += sum(one.volume_m3 - cut.volume for one, cut in whole) * density
            half = 0.5 * size[0] * size[1] * part.count * density / 1e9
            halves[part.kind] = halves.get(part.kind, 0) + half
    assert {"sole", "head", "rafter", "base", "substrate"} <= set(solid)
    assert sum(solid.values()) == pytest.approx(sum(line.values()), rel=0.01)
    for kind in solid:
        if kind == "board":
            assert 0.90 * line[kind] <= solid[kind] <= line[kind] * (1 + 1e-5)
        else:
            # Lengths are whole millimetres: many short blocks add up more than long timber.
            hair = max(0.004 * line[kind], halves.get(kind, 0))
            off = wedges.get(kind, 0) + (notches if kind == "rafter" else 0)
            assert -hair <= line[kind] - solid[kind] <= off + hair, kind


def test_what_is_not_whole_says_why(unit):
    takeoff, glb, _ = unit
    nodes = {node["name"]: node.get("extras", {}) for node in document(glb)["nodes"]}
    said = {part.kind for part in takeoff.parts if nodes[part.mark]["not_whole"]}
    # Parts without a place are trim (edge trim, packings); all else is told by its kind.
    assert said <= {
        "mesh", "net", "bar", "covering", "perch", "door", "trim", "membrane", "fixing", "bath",
        "hatch", "finish", "rain",
    }  # fmt: skip
    assert nodes["MB1"]["not_whole"] == "counted only: it has no place of its own"


def test_a_level_rafter_and_a_plumb_cut_one_have_the_volumes_of_geometry():
    """A parallelogram of run over cosine, by its depth: V = b d L / cos a, by hand."""
    takeoff = small()
    rafter = next(part for part in takeoff.parts if part.kind == "rafter")
    breadth, depth = (float(v) for v in rafter.section.split("x"))
    edge_mm = takeoff.setting_out.rafter_edge_mm
    for solid in solids_of(rafter, takeoff.frame):
        assert solid.volume_m3 == pytest.approx(breadth * depth * edge_mm / 1e9, rel=1e-4)


def test_a_birdsmouth_is_the_triangle_of_seat_and_heel():
    """900 mm in 2400: seat the whole wall of 95 mm, heel 95 times 0.375, over both plates."""
    takeoff = TAKE_OFFS["steep, notched rafters, knee braces, lined"]
    (rafter,) = [part for part in takeoff.parts if part.kind == "rafter"]
    mouths = 2 * 95 * (95 * 900 / 2400) / 2
    breadth = float(rafter.section.split("x")[0])
    for whole, cut in zip(
        solids_of(rafter, takeoff.frame), cut_solids_of(rafter, takeoff.frame), strict=True
    ):
        assert whole.volume_m3 - cut.volume_m3 == pytest.approx(mouths * breadth / 1e9, rel=1e-6)


def test_knee_braces_meet_post_and_plate():
    """500 mm legs: from 500 mm below the head plate, plumb there and level under the plate."""
    takeoff = TAKE_OFFS["steep, notched rafters, knee braces, lined"]
    scene = trimesh.load(io.BytesIO(to_glb(takeoff)), file_type="glb")
    (brace,) = [part for part in takeoff.parts if part.what == KNEE]
    head = next(p for p in takeoff.parts if p.kind == "head" and "front" in p.place)
    under = (head.sticks[0].start_mm[2] - head.sticks[0].breadth_mm / 2) / 1000
    assert brace.count == len(brace.sticks) > 0
    for mesh in pieces(scene, brace.mark):
        corners = mesh.vertices
        assert corners[:, 1].max() == pytest.approx(under, abs=1e-6)
        assert sum(np.isclose(corners[:, 1], under, atol=1e-6)) == 4
        wide = corners[:, 0].max() - corners[:, 0].min()
        assert wide == pytest.approx(0.5 + 0.095 / 2 * 2**0.5, abs=1e-5)
        assert mesh.volume == pytest.approx(0.045 * 0.095 * 0.5 * 2**0.5, rel=1e-5)
        assert -corners[:, 2].max() >= -0.095  # within the wall, its inner face on the clear line
        assert -corners[:, 2].min() == pytest.approx(0, abs=1e-9)


def test_lining_lies_on_the_inner_face_and_leaves_openings_free():
    takeoff = TAKE_OFFS["duopitch, lined"]
    sheets = [p for p in takeoff.parts if p.what == "lining sheet"]
    left = [panel for p in sheets for panel in p.panels if panel.corners_mm[0][0] == 5.5]
    area = sum(polygon_mm2(list(panel.corners_mm)) for panel in left)
    # The gable: 4000 mm between front and back, 2400 in front, 2100 behind, 3000 under the ridge.
    assert area == pytest.approx(2000 * (2400 + 3000) / 2 + 2000 * (3000 + 2100) / 2, rel=1e-9)


def test_plumb_cuts_stand_plumb_and_studs_meet_their_plate():
    takeoff = small()
    frame = takeoff.frame
    rafter = next(part for part in takeoff.parts if part.kind == "rafter")
    scene = trimesh.load(io.BytesIO(to_glb(takeoff)), file_type="glb")
    for mesh in pieces(scene, rafter.mark):
        # glTF z is minus the quarters' y: each end's four corners lie in one upright plane.
        ends = np.unique(np.round(mesh.vertices[:, 2], 6))
        assert len(ends) == 2
        assert ends[1] == pytest.approx(-frame.roof_front_edge_mm[1] / 1000, abs=1e-6)
        assert ends[0] == pytest.approx(-frame.roof_back_edge_mm[1] / 1000, abs=1e-6)
    studs = [p for p in takeoff.parts if p.kind == "stud" and p.cut_end_deg]
    assert studs
    rise = (2100 - 2400) / 2400  # of the ceiling, from front to back
    for stud in studs:
        for mesh in pieces(scene, stud.mark):
            top = mesh.vertices[mesh.vertices[:, 1] > 0.5]
            front, back = top[:, 2].max(), top[:, 2].min()
            high_front = top[np.isclose(top[:, 2], front), 1].max()
            high_back = top[np.isclose(top[:, 2], back), 1].max()
            assert high_back - high_front == pytest.approx(rise * (front - back), abs=1e-5)
            # The longest edge is the length on the take-off, to the millimetre.
            long_mm = 1000 * (top[:, 1].max() - mesh.vertices[:, 1].min())
            assert long_mm == pytest.approx(stud.length_mm, abs=0.51)


def test_metres_and_y_up(unit):
    takeoff, _, scene = unit
    soles = [mesh for p in takeoff.parts if p.kind == "sole" for mesh in pieces(scene, p.mark)]
    low = np.min([mesh.bounds[0] for mesh in soles], axis=0)
    high = np.max([mesh.bounds[1] for mesh in soles], axis=0)
    assert high[0] - low[0] == pytest.approx(takeoff.frame.outer_width_mm / 1000, abs=1e-5)
    deep = takeoff.frame.outer_depth_mm
    if takeoff.frame.corridor_from_mm is not None:  # 1200 mm clear, and two walls of 95 mm
        deep = takeoff.frame.corridor_from_mm + 1200 + 2 * 95
    assert high[2] - low[2] == pytest.approx(deep / 1000, abs=1e-5)
    assert low[1] == pytest.approx(0, abs=1e-6)


def test_round_bars_have_the_volume_of_a_circle():
    takeoff = small()
    bar = next(part for part in takeoff.parts if part.kind == "bar")
    stick = bar.sticks[0]
    length = sum((b - a) ** 2 for a, b in zip(stick.start_mm, stick.end_mm, strict=True)) ** 0.5
    solid = solids_of(bar, takeoff.frame)[0]
    assert solid.volume_m3 == pytest.approx(np.pi * 6**2 * length / 1e9, rel=1e-9)


def test_the_same_unit_gives_the_same_bytes():
    assert to_glb(small()) == to_glb(small())


def test_an_end_that_no_plane_gives_is_refused():
    takeoff = small()
    stud = next(part for part in takeoff.parts if part.kind == "stud" and part.cut_end_deg)
    odd = stud.model_copy(update={"cut_end_deg": 33.0})
    with pytest.raises(
        ValueError,
        match=rf"^an end of {stud.mark} \(stud\) is cut 33 deg from square, and neither a plumb "
        r"nor a level cut nor the roof's slope gives that angle$",
    ):
        solids_of(odd, takeoff.frame)
