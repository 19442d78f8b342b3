"""The outlook of a yard: against shapely, networkx and the checks, and on odd yards."""

import json
from math import pi

import networkx
import pytest
from shapely import LineString, Point, Polygon, unary_union
from typer.testing import CliRunner

from mewswright.checks.outlook_layers import outlook_layers
from mewswright.checks.outlook_report import outlook_report
from mewswright.cli import app
from mewswright.drawing.door_graph import door_graph_plan
from mewswright.drawing.ground_layer import layer_plan
from mewswright.drawing.svg import to_svg
from support.alder_close import TEXT, YARD
from support.yards import bird, findings, quarters, stay, yard

REPORT = outlook_report(YARD)


def test_falls_are_shapelys_circles():
    outlines = {q.name: Polygon(q.corners_m) for q in YARD.quarters}
    trees = {f.name: f for f in YARD.feature if f.kind == "tree"}
    assert len(REPORT.falls) == len(outlines) * len(trees)
    for one in REPORT.falls:
        tree = trees[one.tree]
        circle = Point(tree.at_m).buffer(tree.height_m, quad_segs=256)
        assert one.reaches is outlines[one.quarters].intersects(circle)
        assert one.distance_m == pytest.approx(outlines[one.quarters].distance(Point(tree.at_m)))


def test_falls_and_spores_are_those_of_the_checks():
    bad = {(f.quarters, f.fitting) for f in findings(YARD, "G102") if f.status != "sound"}
    assert {(f.quarters, f.tree) for f in REPORT.falls if f.crown_may_reach} == bad
    bad = {(f.quarters, f.fitting) for f in findings(YARD, "G101") if f.status != "sound"}
    assert {(s.quarters, s.source) for s in REPORT.spores if s.near or s.carried} == bad


def test_sound_is_that_of_g110():
    told = {(s.quarters, s.source): s.level_db for s in REPORT.sound}
    some = findings(YARD, "G110")
    assert some
    for f in some:
        assert told[f.quarters, f.fitting] >= f.measured.value - 1e-9  # other birds may sit louder


def camera(**more):
    return {"name": "Camera", "kind": "camera", "at_m": [0, 0], "height_m": 3, "looks_deg": 0,
            "view_deg": 90, "range_m": 12} | more  # fmt: skip


def watched(*features, **holding):
    of = yard(feature=list(features))
    square = ((-20, -20), (20, -20), (20, 20), (-20, 20))
    return of.model_copy(update={"yard": of.yard.model_copy(update={"boundary_m": square})})


def test_a_camera_on_free_ground_shows_its_sector():
    cover = outlook_report(watched(camera())).cameras
    assert cover.cameras[0].shown_m2 == pytest.approx(pi * 144 / 4, rel=0.005)
    assert cover.ground_m2 == 1600
    assert cover.blind_m2 == pytest.approx(1600 - pi * 36, rel=0.001)
    blind = unary_union([Polygon(p) for p in cover.blind])
    assert blind.area == pytest.approx(cover.blind_m2, rel=0.001)
    assert not blind.intersects(Point(0, 6))
    assert blind.contains(Point(0, -6))


def test_behind_a_wall_is_blind():
    """A high wall across the whole view 6 m off: shapely's sector cut by it."""
    wall = {"name": "W", "kind": "wall", "line_m": [[-15, 6], [15, 6]], "height_m": 9}
    cover = outlook_report(watched(camera(), wall)).cameras
    arc = [(0.0, 0.0)]
    sector = (
        Point(0, 0).buffer(12, quad_segs=512).intersection(Polygon([*arc, (30, 30), (-30, 30)]))
    )
    before = sector.intersection(Polygon([(-15, 0), (15, 0), (15, 6), (-15, 6)]))
    assert cover.cameras[0].shown_m2 == pytest.approx(before.area, rel=0.02)
    assert LineString([(0, 1), (0, 5)]).within(
        unary_union([Polygon(p) for p in cover.seen]).buffer(0.01)
    )


def test_the_weak_way_is_the_shortest_path_of_networkx():
    graph = networkx.Graph(door.between for door in YARD.door)
    for one in REPORT.doors:
        if one.doors is not None and one.rooms[-1] == "outside":
            length = networkx.shortest_path_length(graph, one.quarters, "outside")
            assert one.doors <= length
            assert networkx.is_path(graph, one.rooms)
    weak = {one.quarters for one in REPORT.doors if one.weak}
    assert weak == {f.quarters for f in findings(YARD, "D101", status="harm")}


def test_who_minds_a_noise():
    lane = {"name": "Lane", "kind": "lane", "line_m": [[-9, 9], [9, 9]], "sound_db_1m": 100}

    def heard(**who):
        of = yard(bird=[bird(**who)], quarters=[quarters()], stay=[stay()], feature=[lane])
        return outlook_report(of).sound[0].birds[0]

    assert not heard().minds
    assert heard(nervous=True).minds
    assert heard(arrives_on="2027-01-01").newcomer
    assert not heard(nervous=True, used_to=["Lane"]).minds


def test_water_runs_down_the_slope():
    heap = {"name": "Heap", "kind": "compost", "at_m": [2, 20]}
    pond = {"name": "Pond", "kind": "pond", "at_m": [-2, -20]}
    of = yard(quarters=[quarters()], feature=[heap, pond])
    south = of.yard.model_copy(update={"ground_fall_pct": 5, "ground_falls_to_deg": 180})
    water = outlook_report(of.model_copy(update={"yard": south})).water[0]
    assert (water.from_above, water.to_below) == (("Heap",), ())
    assert water.ponds[0].above_m == pytest.approx(20 * 0.05)
    assert outlook_report(of).water[0].from_above == ()


def test_the_walk_is_never_shorter_than_the_straight_way():
    walk = REPORT.walks.to_flying_ground
    assert walk.length_m >= walk.straight_m
    assert REPORT.walks.round_m <= REPORT.walks.round_in_file_order_m + 1e-9
    for one in REPORT.walks.barrow:
        assert one.length_m >= one.straight_m - 1e-6


def many():
    return yard(
        bird=[bird(f"B{i}", "harris_hawk") for i in range(100)],
        quarters=[quarters(f"Q{i}", at_m=[9.0 * (i % 10), 12.0 * (i // 10)]) for i in range(20)],
        stay=[stay(f"B{i}", f"Q{i % 20}") for i in range(100)],
        feature=[{"name": "Scale", "kind": "weighing_room", "at_m": [-5, -5]}],
    )  # fmt: skip


@pytest.mark.parametrize(
    "of", [yard(), yard(quarters=[quarters()]), yard(quarters=[quarters("P", "pitch")]),
           yard(bird=[bird()], feature=[camera(looks_deg=None)]), many()],
)  # fmt: skip
def test_odd_yards(of):
    report = outlook_report(of)
    told = json.loads(report.model_dump_json())
    assert len(told["water"]) == len(of.quarters)
    assert "<svg" in to_svg(door_graph_plan(of, report))
    for layer in outlook_layers(of, report).values():
        assert layer.how
        assert layer.sure
        if of.quarters or of.feature:
            assert "<svg" in to_svg(layer_plan(of, layer))


def test_the_command(tmp_path):
    file = tmp_path / "a.yard.toml"
    file.write_text(TEXT, encoding="utf-8")
    run = CliRunner().invoke
    done = run(app, ["outlook", str(file), "--out", str(tmp_path / "out")])
    assert done.exit_code == 0, done.output
    assert "Owl loft: WEAK, 1 door, Owl loft to outside" in done.output
    assert {p.name for p in (tmp_path / "out").iterdir()} == {
        "cameras.svg", "doors.svg", "falls.svg", "round.svg", "sound.svg", "spores.svg"
    }  # fmt: skip
    told = json.loads(run(app, ["outlook", str(file), "--quarters", "Isolation", "--json"]).stdout)
    assert {s["quarters"] for s in told["sound"]} == {"Isolation"}
    bad = run(app, ["outlook", str(file), "--quarters", "Nowhere"])
    assert bad.exit_code == 2
