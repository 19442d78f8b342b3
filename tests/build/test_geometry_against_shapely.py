"""Plan and space of the checks against geometry libraries, on generated rooms.

Outside: shapely for everything in plan (distance, buffer, intersects), trimesh for the tube
of a flight. Each shape is built a second time from what the yard file says in words: a perch
is a line with a thickness and round ends, a post is square in plan, a ledge sticks out of its
face. Spots are drawn from a grid of 50 mm as well as from all numbers, so that things touch,
line up and cover each other as they do on a drawing board.
"""

from math import cos, hypot, inf, radians, sin

import numpy as np
import pytest
import trimesh
from hypothesis import assume, given, settings
from hypothesis.strategies import (
    booleans,
    builds,
    composite,
    floats,
    integers,
    none,
    one_of,
    sampled_from,
    tuples,
)
from shapely.affinity import rotate
from shapely.geometry import LineString, Point, Polygon, box

from mewswright.build import circle, flight, room
from mewswright.build.landing import room_towards_mm
from mewswright.checks.perch_moves import aside_mm
from mewswright.checks.perches import DROP_MM, post_clear_mm
from mewswright.checks.tether import fitting_distance_mm
from mewswright.model.fitting import Bath, Hatch, Perch, Shelf, Upright
from mewswright.model.quarters import SIDES, Quarters, perch_ends_mm
from support.yards import perch, quarters

WIDTH, DEPTH, HIGH = 5000, 6000, 3000
HAIR_MM = 1e-6  # what floats lose over a few metres, far below what a tape shows


def along(limit_mm, least_mm=0.0):
    """A length up to a limit: on the grid of a drawing board, or to a thousandth anywhere."""
    grid = integers(-(-int(least_mm) // 50), int(limit_mm) // 50).map(lambda n: 50.0 * n)
    return one_of(grid, floats(least_mm, limit_mm).map(lambda mm: round(mm, 3)))


SPOTS = tuples(along(WIDTH), along(DEPTH))
TURNS = one_of(sampled_from([-180.0, -90.0, 0.0, 45.0, 90.0, 180.0]), floats(-180, 180))


@composite
def perches(draw, name="perch"):
    form = draw(sampled_from(["round", "branch", "flat", "shelf", "bow", "block", "ring", "stump"]))
    x, y = draw(SPOTS)
    thick = draw(along(300, 20))
    long = draw(along(2000, 100))
    size = {"width_mm": thick} if form in ("flat", "shelf") else {"diameter_mm": thick}
    other = "diameter_mm" if "width_mm" in size else "width_mm"
    size[other] = draw(one_of(none(), along(300, 20)))  # a size that is not that form's
    if form in ("round", "branch", "flat", "shelf", "bow"):
        size["length_mm"] = long
    made = perch(name, x, y, form=form, diameter_mm=None, turn_deg=draw(TURNS),
                 height_mm=draw(along(2500, 50)), free_standing=draw(booleans()))  # fmt: skip
    return Perch.model_validate(made | size)


@composite
def baths(draw):
    size = draw(one_of(
        builds(lambda d: {"diameter_mm": d}, along(1200, 200)),
        builds(lambda w, n: {"width_mm": w, "length_mm": n}, along(1200, 200), along(1200, 200)),
    ))  # fmt: skip
    return Bath.model_validate({"kind": "bath", "name": "bath", "at_mm": draw(SPOTS),
                                "depth_mm": 100, "rim_height_mm": 120} | size)  # fmt: skip


SHELVES = builds(
    lambda kind, at, long, wide: Shelf(
        kind=kind, name="shelf", at_mm=at, height_mm=1500, length_mm=long, width_mm=wide,
        box_height_mm=400 if kind == "nest_box" else None,
    ),
    sampled_from(["shelf", "nest_box"]), SPOTS, along(1500, 100), along(1500, 100),
)  # fmt: skip
POSTS = builds(
    lambda at, size, top: Upright(kind="post", name="post", at_mm=at, size_mm=size, top_mm=top),
    SPOTS, along(300, 40), one_of(none(), along(2900, 100)),
)  # fmt: skip
HATCHES = builds(
    lambda face, at, wide, ledge: Hatch(
        kind="hatch", name="hatch", face=face, at_mm=at, sill_mm=1000, width_mm=wide,
        height_mm=200, ledge_mm=ledge,
    ),
    sampled_from(SIDES), along(WIDTH), along(800, 100), along(400, 50),
)  # fmt: skip
FACES = tuples(*[sampled_from(["boarded", "barred", "open"])] * 4)


def room_of(faces=("barred", "boarded", "boarded", "boarded"), fitting=()):
    more = {"barred": {"gap_mm": 25, "bar_mm": 12}}
    sides = {
        side: {"infill": infill} | more.get(infill, {})
        for side, infill in zip(SIDES, faces, strict=True)
    }
    return Quarters.model_validate(quarters(faces=sides, fitting=[f.model_dump() for f in fitting]))


ROOM = room_of()


def plan_of(fitting):
    """A fitting in plan: its core, and how thick it is round that."""
    if isinstance(fitting, Perch):
        x, y = fitting.at_mm
        half = (fitting.length_mm or 0) / 2
        core = rotate(LineString([(x - half, y), (x + half, y)]), fitting.turn_deg, (x, y))
        flat = fitting.form in ("flat", "shelf")
        thick = fitting.width_mm if flat else fitting.diameter_mm
        return (core if half else Point(x, y)), thick / 2
    x, y = (0.0, 0.0) if isinstance(fitting, Hatch) else fitting.at_mm
    if isinstance(fitting, Bath) and fitting.diameter_mm is not None:
        return Point(x, y), fitting.diameter_mm / 2
    if isinstance(fitting, Hatch):
        at, half, out = fitting.at_mm, fitting.width_mm / 2, fitting.ledge_mm
        return {
            "front": box(at - half, 0, at + half, out),
            "back": box(at - half, DEPTH - out, at + half, DEPTH),
            "left": box(0, at - half, out, at + half),
            "right": box(WIDTH - out, at - half, WIDTH, at + half),
        }[fitting.face], 0.0
    across, deep = {
        "bath": lambda f: (f.width_mm, f.length_mm),
        "shelf": lambda f: (f.length_mm, f.width_mm),
        "nest_box": lambda f: (f.length_mm, f.width_mm),
        "post": lambda f: (f.size_mm, f.size_mm),
    }[fitting.kind](fitting)
    return box(x - across / 2, y - deep / 2, x + across / 2, y + deep / 2), 0.0


# --- The free circle: how far from its middle things stand


@given(spot=SPOTS, fitting=one_of(perches(), baths(), SHELVES, POSTS, HATCHES))
def test_the_free_circle_meets_a_fitting_where_shapely_does(spot, fitting):
    core, thick_mm = plan_of(fitting)
    wanted = max(0.0, core.distance(Point(spot)) - thick_mm)
    assert fitting_distance_mm(ROOM, spot, fitting) == pytest.approx(wanted, abs=HAIR_MM)


@given(spot=SPOTS, fitting=one_of(perches(), baths(), SHELVES, POSTS, HATCHES), radius=along(3000))
def test_a_thing_is_inside_the_circle_where_the_two_outlines_cut(spot, fitting, radius):
    """The same asked of drawn outlines; a round one has 256 corners, so a hair is left out."""
    core, thick_mm = plan_of(fitting)
    drawn = core.buffer(thick_mm, quad_segs=64)
    gap_mm = fitting_distance_mm(ROOM, spot, fitting) - radius
    assume(abs(gap_mm) > 1)
    assert Point(spot).buffer(radius, quad_segs=64).intersects(drawn) == (gap_mm < 0)


@given(spot=SPOTS, plank=perches())
def test_a_plank_with_square_ends_is_never_nearer_than_we_say(spot, plank):
    """Round ends are longer than sawn ones, so the circle may only be called too small."""
    half, thick = (plank.length_mm or 0) / 2, room.half_width_mm(plank)
    assume(half > 0)
    x, y = plank.at_mm
    sawn = rotate(box(x - half, y - thick, x + half, y + thick), plank.turn_deg, (x, y))
    away = fitting_distance_mm(ROOM, spot, plank)
    assert away <= sawn.distance(Point(spot)) + HAIR_MM
    assert sawn.distance(Point(spot)) <= away + thick + HAIR_MM


@given(
    size=tuples(along(20_000, 100), along(20_000, 100)), share=tuples(floats(0, 1), floats(0, 1))
)
def test_walls_are_as_far_as_shapely_says(size, share):
    width, depth = size
    spot = (width * share[0], depth * share[1])
    corners = [(0, 0), (width, 0), (width, depth), (0, depth)]
    lines = {
        "front": LineString(corners[0:2]), "right": LineString(corners[1:3]),
        "back": LineString(corners[2:4]), "left": LineString([corners[3], corners[0]]),
    }  # fmt: skip
    found = circle.wall_distances_mm(width, depth, spot)
    assert found == pytest.approx({s: line.distance(Point(spot)) for s, line in lines.items()})


@given(at=tuples(along(WIDTH - 50, 50), along(DEPTH - 50, 50)), turn=TURNS, faces=FACES)
def test_a_wing_meets_the_wall_where_a_ray_does(at, turn, faces):
    """A line drawn far out is cut with the outline; where it leaves through an open face, none."""
    place = room_of(faces)
    way = cos(radians(turn)), sin(radians(turn))
    ray = LineString([at, (at[0] + 1e5 * way[0], at[1] + 1e5 * way[1])])
    inside = ray.intersection(box(0, 0, WIDTH, DEPTH))
    out = inside.coords[-1]
    edge = {"front": out[1], "back": DEPTH - out[1], "left": out[0], "right": WIDTH - out[0]}
    met = [side for side in SIDES if abs(edge[side]) < 1e-3]
    assume(len(met) == 1)  # a corner belongs to two faces
    infill = dict(zip(SIDES, faces, strict=True))[met[0]]
    wanted = (inf, None) if infill == "open" else (pytest.approx(inside.length, abs=1e-4), met[0])
    assert room.wall_distance_mm(place, at, way) == wanted


@given(at=SPOTS, towards=tuples(floats(-9000, 14_000), floats(-9000, 15_000)))
def test_the_side_that_a_line_leaves_through(at, towards):
    line = LineString([at, towards])
    side = circle.side_crossed(WIDTH, DEPTH, at, towards)
    outline = box(0, 0, WIDTH, DEPTH)
    if outline.covers(Point(towards)):
        assert side is None
        return
    out = line.intersection(outline)
    x, y = at if out.is_empty else out.coords[-1]
    edge = {"front": y, "back": DEPTH - y, "left": x, "right": WIDTH - x}
    assert abs(edge[side]) < 1e-3


# --- The drop column: what lies within 150 mm of a perch in plan


@given(one=perches("one"), other=perches("other"))
def test_two_perches_are_as_far_apart_as_shapely_says(one, other):
    (core, thick), (next_core, next_thick) = plan_of(one), plan_of(other)
    wanted = core.distance(next_core) - thick - next_thick
    assert room.perch_gap_mm(one, other) == pytest.approx(wanted, abs=HAIR_MM)


@given(a=SPOTS, b=SPOTS, c=SPOTS, d=SPOTS)
def test_two_lines_are_as_far_apart_as_shapely_says(a, b, c, d):
    """Ends on ends, one along the other, one of no length: all that a grid brings about."""
    wanted = LineString([a, b]).distance(LineString([c, d]))
    assert room.segment_gap_mm((a, b), (c, d)) == pytest.approx(wanted, abs=HAIR_MM)


@given(one=perches(), under=one_of(baths(), SHELVES, HATCHES))
def test_a_perch_and_a_thing_below_it_are_as_far_apart_as_shapely_says(one, under):
    core, thick = plan_of(one)
    plan = _rectangle(under)
    wanted = core.distance(box(*plan)) - thick
    assert room.rectangle_to_perch_mm(plan, one) == pytest.approx(wanted, abs=HAIR_MM)
    drawn, round_mm = plan_of(under)
    assert box(*plan).buffer(HAIR_MM).covers(drawn.buffer(round_mm))  # a round bath: its square


def _rectangle(thing):
    if isinstance(thing, Bath):
        return room.bath_plan(thing)
    return room.ledge_plan(ROOM, thing) if isinstance(thing, Hatch) else room.shelf_plan(thing)


@given(one=perches(), under=one_of(baths(), SHELVES, HATCHES))
def test_drawn_drop_columns_cut_what_lies_in_them(one, under):
    core, thick = plan_of(one)
    plan = _rectangle(under)
    gap_mm = room.rectangle_to_perch_mm(plan, one)
    assume(abs(gap_mm - DROP_MM) > 0.5)
    column = core.buffer(thick + DROP_MM, quad_segs=64)
    assert column.intersects(box(*plan)) == (gap_mm < DROP_MM)


@given(one=perches())
def test_the_rectangle_round_a_perch_is_its_bounds(one):
    core, thick = plan_of(one)
    x0, y0, x1, y1 = core.bounds
    wanted = (x0 - thick, y0 - thick, x1 + thick, y1 + thick)
    assert room.perch_plan(one) == pytest.approx(wanted, abs=HAIR_MM)


@given(
    one=perches(), under=one_of(baths(), SHELVES), off=tuples(floats(-600, 600), floats(-600, 600))
)
def test_moved_aside_a_perch_drops_nothing_on_what_was_below(one, under, off):
    plan = _rectangle(under)
    x, y = (at + by for at, by in zip(under.at_mm, off, strict=True))
    one = one.model_copy(update={"at_mm": (min(max(x, 1), WIDTH - 1), min(max(y, 1), DEPTH - 1))})
    assume(room.rectangle_to_perch_mm(plan, one) < DROP_MM - 0.5)
    way = aside_mm(ROOM, one, plan, DROP_MM)
    if way is None:
        return
    by_mm, side = way
    dx, dy = {"left": (-1, 0), "right": (1, 0), "front": (0, -1), "back": (0, 1)}[side]
    x, y = one.at_mm[0] + dx * by_mm, one.at_mm[1] + dy * by_mm
    core, thick = plan_of(one.model_copy(update={"at_mm": (x, y)}))
    assert 0 < x < WIDTH
    assert 0 < y < DEPTH
    assert core.distance(box(*plan)) - thick >= DROP_MM - 1e-5


# --- Corridors of flight: in plan, and as tubes in space


@given(one=perches("one"), other=perches("other"), post=POSTS, half=along(900, 200))
def test_a_post_is_as_far_from_the_way_as_shapely_says(one, other, post, half):
    """A post counts as round, as thick as it is said to be; one that ends low is flown over."""
    line, spot = LineString([one.at_mm, other.at_mm]), Point(post.at_mm)
    clear_mm = post_clear_mm(post, one, other, half)
    share = line.project(spot, normalized=True) if line.length else 0.0
    over_mm = one.height_mm + (other.height_mm - one.height_mm) * share
    if post.top_mm is not None:
        assume(abs(over_mm - half - post.top_mm) > 1e-3)
        if post.top_mm < over_mm - half:
            assert clear_mm == inf
            return
    assert clear_mm == pytest.approx(line.distance(spot) - post.size_mm / 2, abs=1e-4)
    if abs(clear_mm - half) > 0.5:
        swept = line.buffer(half, quad_segs=64)
        assert swept.intersects(spot.buffer(post.size_mm / 2, quad_segs=64)) == (clear_mm < half)


@given(bar=perches(), tall=one_of(perches("tall"), SHELVES, POSTS), side=sampled_from([-1, 1]))
def test_room_to_land_ends_where_a_ray_meets_the_thing(bar, tall, side):
    """All walls are open, so that the thing alone ends the way."""
    assume(not room.faces_any_way(bar))
    place = room_of(("open",) * 4)
    thing = _thing(place, tall)
    turn = bar.turn_deg + 90 * side
    x, y = bar.at_mm
    way = cos(radians(turn)), sin(radians(turn))
    found = room_towards_mm(place, bar, [thing], turn)
    top_mm = thing.high[2] if isinstance(thing, flight.Slab) else thing.end[2]
    core, thick = plan_of(tall)
    if isinstance(tall, Upright):
        core, thick = Point(tall.at_mm), tall.size_mm / 2
    ray = LineString([(x, y), (x + 1e5 * way[0], y + 1e5 * way[1])])
    met = ray.intersection(core.buffer(thick, quad_segs=256))
    ahead = [(cx - x) * way[0] + (cy - y) * way[1] for cx, cy in core.coords] if thick else [1.0]
    assume(abs(max(ahead)) > 1e-6)
    if top_mm <= bar.height_mm or max(ahead) < 0:  # lower than the foot, or all behind
        assert found == inf
        return
    near, far = core.buffer(max(0.0, thick - 0.5)), core.buffer(thick + 0.5)
    assume(ray.intersects(near) == ray.intersects(far))  # one that it grazes may go either way
    wanted = inf if met.is_empty else Point(x, y).distance(met)
    assert found == pytest.approx(wanted, abs=1.0)


def test_room_to_land_before_a_slanted_rod_ends_where_it_crosses():
    """By hand: a rod of 40 mm at 45 degrees crosses 1500 mm ahead, and is 28 mm nearer by its
    thickness along the way; its near end, 500 mm ahead and a metre aside, stops nobody."""
    slanted = {"form": "round", "length_mm": 2000 * 2**0.5, "diameter_mm": 40, "turn_deg": 45}
    bar = Perch.model_validate(perch("bar", 2000, 500, form="round", length_mm=600))
    rod = Perch.model_validate(perch("rod", 2000, 2000, height_mm=900, **slanted))
    found = room_towards_mm(ROOM, bar, [flight.perch_thing(rod)], 90)
    assert found == pytest.approx(1500 - 20 * 2**0.5)


def _thing(place, fitting):
    if isinstance(fitting, Perch):
        return flight.perch_thing(fitting)
    if isinstance(fitting, Upright):
        return flight.post_thing(place, fitting)
    return flight.shelf_thing(fitting)


def _solid(thing):
    """A thing as a closed skin of triangles."""
    if isinstance(thing, flight.Slab):
        low, high = np.array(thing.low), np.array(thing.high)
        made = trimesh.creation.box(high - low)
        made.apply_translation((low + high) / 2)
        return made
    return _capsule(thing.start, thing.end, thing.half_mm)


def _capsule(start, end, radius):
    """A line with a thickness and round ends, standing where it is said to be."""
    start, end = np.array(start, float), np.array(end, float)
    long = float(np.linalg.norm(end - start))
    if long < 1e-9:
        made = trimesh.creation.uv_sphere(radius=radius, count=[32, 32])
        made.apply_translation(start)
        return made
    made = trimesh.creation.capsule(height=long, radius=radius, count=[32, 32])
    made.apply_translation([0, 0, long / 2 - made.bounds.mean(axis=0)[2]])
    made.apply_transform(trimesh.geometry.align_vectors([0, 0, 1], (end - start) / long))
    made.apply_translation(start)
    return made


def _clear_by_mesh_mm(start, end, solid):
    """Least distance from a line to a skin, -1 where it runs inside: 25 spots, then 25 more.

    The distance to a convex body has one valley along a line, so the second go, round the
    best of the first, finds it.
    """
    start, end = np.array(start, float), np.array(end, float)
    low, high = 0.0, 1.0
    for _ in range(2):
        shares = np.linspace(low, high, 25)
        spots = start + (end - start) * shares[:, None]
        away = np.array([_to_skin_mm(solid, spot) for spot in spots])
        best = int(away.argmin())
        low, high = shares[max(0, best - 1)], shares[min(24, best + 1)]
    inside = solid.contains(start + (end - start) * np.linspace(0, 1, 200)[:, None]).any()
    return -1.0 if inside else float(away.min())


def _to_skin_mm(solid, spot):
    skin = trimesh.triangles.closest_point(solid.triangles, np.tile(spot, (len(solid.faces), 1)))
    return float(np.linalg.norm(skin - spot, axis=1).min())


SPACE = tuples(along(WIDTH), along(DEPTH), along(HIGH, 50))


@settings(max_examples=60)
@given(start=SPACE, end=SPACE, fitting=one_of(perches(), SHELVES, POSTS))
def test_the_tube_of_a_flight_clears_a_thing_by_what_trimesh_says(start, end, fitting):
    assume(hypot(start[0] - end[0], start[1] - end[1], start[2] - end[2]) > 1)
    thing = _thing(ROOM, fitting)
    by_mesh = _clear_by_mesh_mm(start, end, _solid(thing))
    clear_mm = flight.way_clear_mm(start, end, thing)
    if by_mesh < 0:
        assert clear_mm <= 0
    else:  # flat triangles lie inside a round skin, by less than a millimetre
        assert clear_mm == pytest.approx(by_mesh, abs=2.0)


@settings(max_examples=30)
@given(start=SPACE, end=SPACE, fitting=one_of(perches(), SHELVES, POSTS), half=along(900, 200))
def test_no_point_of_a_thing_lies_in_a_tube_that_clears_it(start, end, fitting, half):
    """The tube itself as a body, and points all over the thing asked whether they are in it."""
    assume(hypot(start[0] - end[0], start[1] - end[1], start[2] - end[2]) > 1)
    thing = _thing(ROOM, fitting)
    solid = _solid(thing)
    skin, _ = trimesh.sample.sample_surface(solid, 400, seed=1)
    spots = np.vstack([skin, solid.vertices])
    inside = _capsule(start, end, half).contains(spots).any()
    if inside:
        assert flight.way_clear_mm(start, end, thing) < half


@given(outline=tuples(SPOTS, SPOTS, SPOTS, SPOTS, SPOTS), spot=SPOTS)
def test_inside_an_odd_outline(outline, spot):
    """Stars and bow ties too: what an even-odd count calls inside, shapely's parts do as well."""
    shape = Polygon(outline)
    assume(shape.is_valid and shape.area > 1)
    assume(shape.exterior.distance(Point(spot)) > 1e-3)
    assert circle.is_inside(spot, outline) == shape.contains(Point(spot))
    near = circle.nearest_on_line(spot, outline, closed=True)
    assert circle.point_distance(spot, near) == pytest.approx(shape.exterior.distance(Point(spot)))


@given(one=perches(), turn=floats(-180, 180), about=SPOTS)
def test_ends_of_a_perch_turn_with_it(one, turn, about):
    core, _ = plan_of(one)
    (ax, ay), (bx, by) = perch_ends_mm(one)
    assert LineString([(ax, ay), (bx, by)]).hausdorff_distance(core) < 1e-6
    turned = rotate(core, turn, about)
    assert turned.length == pytest.approx(hypot(bx - ax, by - ay), abs=1e-6)
