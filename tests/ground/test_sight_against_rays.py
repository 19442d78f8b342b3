"""Lines of sight against a ray caster that we did not write, on generated yards.

Every board, upstand, roof and wall is set up here a second time, as sheets of triangles on
the ground, from what the yard file says in words: x runs along the front from its left as
seen from outside, y to the back. trimesh then shoots a ray along each line and says what it
meets first. A line that grazes an edge, which two ways of reckoning may call differently by
a hair, shows itself: shifted by a millimetre, some of its neighbours are met and some not.
Such lines are left out, and counted.
"""

from itertools import pairwise
from math import cos, radians, sin

import numpy as np
import pytest
from trimesh import Trimesh
from trimesh.creation import icosphere
from trimesh.ray.ray_triangle import RayMeshIntersector
from trimesh.util import concatenate

from mewswright.ground.sight import Body, feature_screens, in_the_way, sees
from mewswright.model.place import Feature
from support.yards import quarters, yard

LINES = 300
HAIR_M = 0.001
INFILLS = (
    {"infill": "boarded"}, {"infill": "open"}, {"infill": "barred", "gap_mm": 25},
    {"infill": "open", "upstand_mm": 900}, {"infill": "barred", "gap_mm": 25, "upstand_mm": 1500},
    {"infill": "barred", "gap_mm": 25,
     "outer": {"infill": "boarded", "stand_off_mm": 100}},
    {"infill": "slatted", "gap_mm": 20, "bar_mm": 47}, {"infill": "slatted", "gap_mm": 21,
                                                        "bar_mm": 47},
)  # fmt: skip
ROOFS = (
    {}, {"covered_share": 0.5}, {"covered_share": 0}, {"form": "none"},
    {"form": "duopitch", "ridge_height_mm": 4000},
    {"form": "duopitch", "ridge_height_mm": 3600, "ridge_at_mm": 700},
)  # fmt: skip


def some_quarters(rng, name, at_m):
    if rng.random() < 0.15:
        return quarters(name, "pitch", at_m=at_m, facing_deg=float(rng.uniform(0, 360)))
    faces = {s: INFILLS[rng.integers(len(INFILLS))] for s in ("front", "back", "left", "right")}
    return quarters(
        name, at_m=at_m, facing_deg=float(rng.uniform(0, 360)),
        width_mm=float(rng.uniform(2000, 7000)), depth_mm=float(rng.uniform(2000, 5000)),
        front_height_mm=float(rng.uniform(2000, 3500)),
        back_height_mm=float(rng.uniform(2000, 3500)),
        faces=faces, roof=ROOFS[rng.integers(len(ROOFS))],
    )  # fmt: skip


def some_features(rng):
    def corner():
        return [float(c) for c in rng.uniform(-5, 45, 2)]

    yield {"name": "wall", "kind": "wall", "line_m": [corner() for _ in range(3)],
           "height_m": float(rng.uniform(1, 3))}  # fmt: skip
    yield {"name": "hedge", "kind": "hedge", "line_m": [corner(), corner()],
           "height_m": float(rng.uniform(1, 3)), "porosity": 0.2}  # fmt: skip
    yield {"name": "thin hedge", "kind": "hedge", "line_m": [corner(), corner()],
           "height_m": 5, "porosity": 0.5}  # fmt: skip
    yield {"name": "lane", "kind": "lane", "line_m": [corner(), corner()], "height_m": 5}
    east, north = corner()
    yield {"name": "barn", "kind": "building", "height_m": float(rng.uniform(3, 7)),
           "outline_m": [[east, north], [east + 6, north + 1], [east + 5, north + 8],
                         [east - 1, north + 6]]}  # fmt: skip


def some_yard(seed):
    rng = np.random.default_rng(seed)
    spots = [[10.0 * a, 10.0 * b] for a in range(4) for b in range(4)]
    places = [some_quarters(rng, f"Q{i}", at) for i, at in enumerate(spots)]
    return yard(quarters=places, feature=list(some_features(rng))), rng


def on_ground(q, x_mm, y_mm, z_mm):
    """A place in quarters on the ground: our own reading of the yard file's words.

    Who looks at the front from outside looks against its bearing. Along the front runs to
    the right hand of that eye, and the depth the way that it looks.
    """
    look = np.array([-sin(radians(q.facing_deg)), -cos(radians(q.facing_deg))])
    right = np.array([look[1], -look[0]])
    flat = np.array(q.at_m) + right * x_mm / 1000 + look * y_mm / 1000
    return [flat[0], flat[1], z_mm / 1000]


class Sheets:
    """Four-cornered sheets as one mesh of triangles."""

    def __init__(self):
        self.corners, self.triangles = [], []

    def add(self, a, b, c, d):
        n = len(self.corners)
        self.corners += [a, b, c, d]
        self.triangles += [[n, n + 1, n + 2], [n, n + 2, n + 3]]

    def upright(self, one, other, top_one, top_other):
        self.add([*one, 0], [*other, 0], [*other, top_other], [*one, top_one])

    def rays(self):
        mesh = Trimesh(vertices=self.corners, faces=self.triangles, process=False)
        return RayMeshIntersector(mesh)


def sheets_of(of):
    found = Sheets()
    for q in of.quarters:
        if q.faces is None:
            continue
        w, d, front, back = q.width_mm, q.depth_mm, q.front_height_mm, q.back_height_mm
        line = [(0, front), (d, back)]
        if q.roof.form == "duopitch":
            line.insert(1, (q.roof.ridge_at_mm or d / 2, q.roof.ridge_height_mm))
        runs = [("front", (0, 0, front), (w, 0, front)), ("back", (0, d, back), (w, d, back))]
        for low, high in pairwise(line):
            runs += [(side, (x, *low), (x, *high)) for side, x in (("left", 0), ("right", w))]
        for side, one, other in runs:
            face = q.faces.side(side)
            boarded = face.infill == "boarded" or (face.outer and face.outer.infill == "boarded")
            boarded = boarded or (face.infill == "slatted" and face.gap_mm == 20)  # 0.2985 open
            tops = (one[2], other[2]) if boarded else (face.upstand_mm, face.upstand_mm)
            if max(tops) > 0:
                feet = [on_ground(q, x, y, 0)[:2] for x, y, _ in (one, other)]
                found.upright(*feet, tops[0] / 1000, tops[1] / 1000)
        if q.roof.form != "none" and q.roof.covered_share > 0:
            y = d * (1 - q.roof.covered_share)
            if y:
                line[0] = (y, front + (back - front) * y / d)
            for low, high in pairwise(line):
                found.add(on_ground(q, 0, *low), on_ground(q, w, *low),
                          on_ground(q, w, *high), on_ground(q, 0, *high))  # fmt: skip
    for feature in of.feature:
        if feature.kind == "lane" or (feature.porosity or 0) >= 0.3:
            continue
        line = feature.line_m or (*feature.outline_m, feature.outline_m[0])
        for one, other in pairwise(line):
            found.upright(one, other, feature.height_m, feature.height_m)
    return found


def some_eyes(of, rng, count):
    """Eyes in quarters, below the roof, and some on the ground outside."""
    eyes = []
    for _ in range(count):
        if rng.random() < 0.2:
            eyes.append((*rng.uniform(-5, 45, 2), rng.uniform(0.1, 2)))
            continue
        q = of.quarters[rng.integers(len(of.quarters))]
        x, y = rng.uniform(0.05, 0.95, 2) * (q.width_mm, q.depth_mm)
        top = 1500 if q.faces is None else q.ceiling_mm(y)
        eyes.append(tuple(on_ground(q, x, y, rng.uniform(100, 0.95 * top))))
    return np.array(eyes)


def is_met(rays, starts, ends):
    """Whether each line meets any sheet between its ends."""
    ways = ends - starts
    lengths = np.linalg.norm(ways, axis=1)
    places, which, _ = rays.intersects_location(starts, ways / lengths[:, None])
    along = np.linalg.norm(places - starts[which], axis=1)
    met = np.zeros(len(starts), dtype=bool)
    met[which[along < lengths[which]]] = True
    return met


@pytest.mark.parametrize("seed", range(8))
def test_lines_of_sight_are_the_ray_casters(seed):
    of, rng = some_yard(seed)
    rays = sheets_of(of).rays()
    starts, ends = some_eyes(of, rng, LINES), some_eyes(of, rng, LINES)
    cast = [
        is_met(rays, starts + shift, ends + shift)
        for shift in HAIR_M * np.array([[0, 0, 0], [1, 0, 0], [-1, 0, 0], [0, 1, 0], [0, -1, 0],
                                        [0, 0, 1], [0, 0, -1]])
    ]  # fmt: skip
    sure = np.all(cast, axis=0) | ~np.any(cast, axis=0)
    assert sure.mean() > 0.97
    assert 0.05 < cast[0][sure].mean() < 0.95  # a yard of all or nothing would test nothing
    bodies, screens = [Body(q) for q in of.quarters], feature_screens(of.feature)
    ours = np.array([
        not sees(tuple(a), tuple(b), bodies, screens) for a, b in zip(starts, ends, strict=True)
    ])  # fmt: skip
    wrong = np.flatnonzero(sure & (ours != cast[0]))
    assert [(starts[i].tolist(), ends[i].tolist(), bool(cast[0][i])) for i in wrong] == []


@pytest.mark.parametrize("seed", range(8))
def test_what_is_left_out_by_its_box_stands_in_no_line(seed):
    """Asked of everything, or only of what may stand in the way: the same is seen."""
    of, rng = some_yard(seed)
    bodies, screens = [Body(q) for q in of.quarters], feature_screens(of.feature)
    dropped = 0
    for _ in range(40):
        starts = [tuple(eye) for eye in some_eyes(of, rng, 3)]
        ends = [tuple(np.add(starts[0], rng.uniform(-6, 6, 3))) for _ in range(3)]
        near = in_the_way(starts, ends, bodies, screens)
        dropped += len(bodies) + len(screens) - sum(map(len, near))
        for a in starts:
            for b in ends:
                plain = any(one.stops(a, b) for one in (*bodies, *screens))
                assert sees(a, b, *near) is not plain
    assert dropped > 0


@pytest.mark.parametrize("seed", range(3))
def test_crowns_are_the_ray_casters(seed):
    """Balls, and balls drawn out upwards, as fine meshes; leaves hide and bare twigs do not."""
    rng = np.random.default_rng(seed)
    trees, balls = [], []
    for i in range(6):
        at, radius = rng.uniform(0, 30, 2), float(rng.uniform(1, 4))
        height = float(rng.uniform(3, 12))
        trees.append(Feature.model_validate(
            {"name": f"tree {i}", "kind": "tree", "at_m": at.tolist(), "height_m": height,
             "crown_radius_m": radius, "leaf_months": [6]}
        ))  # fmt: skip
        tall = min(radius, height / 2)
        ball = icosphere(subdivisions=4)
        ball.apply_scale([radius, radius, tall])
        ball.apply_translation([*at, height - tall])
        balls.append(ball)
    rays = RayMeshIntersector(concatenate(balls))
    starts = np.column_stack((rng.uniform(-5, 35, (200, 2)), rng.uniform(0.1, 0.3, 200)))
    ends = np.column_stack((rng.uniform(-5, 35, (200, 2)), rng.uniform(4, 14, 200)))
    inside = np.zeros(200, bool)
    for ball in balls:
        half = ball.extents / 2
        for eyes in (starts, ends):
            inside |= (((eyes - ball.bounds.mean(axis=0)) / half) ** 2).sum(axis=1) < 1
    cast = is_met(rays, starts, ends)
    june, december = (feature_screens(trees, month) for month in (6, 12))
    ours = np.array([
        not sees(tuple(a), tuple(b), [], june) for a, b in zip(starts, ends, strict=True)
    ])  # fmt: skip
    assert december == ()
    assert feature_screens(trees) == ()
    wrong = (ours != cast) & ~inside  # an eye in a crown looks out of it
    assert wrong.mean() <= 0.01  # a mesh of flat triangles lies within the ball by a hair
    assert 0.05 < cast[~inside].mean() < 0.95


def test_the_ray_caster_by_hand():
    """One wall 2 m high half way between two eyes: met at 1.9 m, missed at 2.1 m."""
    sheets = Sheets()
    sheets.upright((-3, 5), (3, 5), 2, 2)
    starts, ends = np.array([[0, 0, 1.9], [0, 0, 2.1]]), np.array([[0, 10, 1.9], [0, 10, 2.1]])
    assert is_met(sheets.rays(), starts, ends).tolist() == [True, False]
    wall = Feature.model_validate(
        {"name": "wall", "kind": "wall", "line_m": [[-3, 5], [3, 5]], "height_m": 2}
    )
    seen = [sees(tuple(a), tuple(b), [], feature_screens([wall])) for a, b in
            zip(starts, ends, strict=True)]  # fmt: skip
    assert seen == [False, True]
