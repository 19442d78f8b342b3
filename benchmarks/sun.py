"""A year of sun in a crowded yard, beside an open ray library, a loop over suns, and plain arrays.

A keeper asks where the sun falls each time that a roof is moved on paper, so the year must come
while the finger is still on the key. 500 points, 200 boxes (a quarter of them raised roofs), 12
trees and every tenth minute of a year: 13 million rays. All ways are timed in one run, and each
answer is compared with asking every solid for every ray, at each tenth point or, with --all, at
every one.

    python benchmarks/sun.py [--goes 5] [--slow-share 0.04] [--all]

The ray library, Embree, reads triangles in single precision: its trees are meshes, and some of its
rays differ. It is given one call for each point on two threads, and one call for each position of
the sun; the loop and the plain arrays run on a share of their work, told by --slow-share. Compiling
is not timed. CPU seconds stand beside the wall's for a machine that is busy with other work.
"""

import argparse
import resource
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from time import perf_counter, process_time
from typing import Any

import numpy as np
from embreex.mesh_construction import TriangleMesh
from embreex.rtcore_scene import EmbreeScene
from trimesh.creation import icosphere

from mewswright.ground.light import Rows, rays_of, rows_of, through
from mewswright.ground.ray_kernel import light_of_each
from mewswright.ground.ray_light import light_of
from mewswright.ground.solids import Grille, Leaves, SolidBox, SolidCrown
from mewswright.ground.sun_path import SunYear, sun_year

SIDE_M = 80.0


def yard(seed: int, boxes: int, trees: int) -> list[SolidBox | SolidCrown]:
    """Boxes up to 6 by 4 m, each fourth one a roof in the air, and round trees."""
    chance = np.random.default_rng(seed)
    solids: list[SolidBox | SolidCrown] = []
    for number in range(boxes):
        turn = chance.uniform(0, np.pi)
        at = (chance.uniform(0, SIDE_M), chance.uniform(0, SIDE_M))
        foot = chance.uniform(2, 3) if number % 4 == 0 else 0.0
        top = foot + 0.15 if number % 4 == 0 else chance.uniform(1.8, 3.5)
        half = (chance.uniform(0.5, 3), chance.uniform(0.5, 2))
        solids.append(
            SolidBox("", at, (np.cos(turn), np.sin(turn)), half, (foot, 0, 0), (top, 0, 0))
        )
    for _ in range(trees):
        radius = chance.uniform(2, 5)
        at3 = (chance.uniform(0, SIDE_M), chance.uniform(0, SIDE_M), radius + chance.uniform(1, 6))
        solids.append(SolidCrown("", at3, radius, 1.0))
    return solids


def thinned(solids: list[SolidBox | SolidCrown], slatted: int) -> list[SolidBox | SolidCrown]:
    """The same yard with slats for some boxes that stand, and leaves for every tree."""
    leaves = Leaves(tuple(0.15 if 4 < month < 11 else 0.6 for month in range(1, 13)))
    told: list[SolidBox | SolidCrown] = []
    left = slatted
    for solid in solids:
        if isinstance(solid, SolidCrown):
            told.append(replace(solid, thin=leaves))
        elif left and not solid.bottom[0]:
            (c, s), left = solid.turn, left - 1
            slats = Grille((-s, c, 0), (0, 0, 1), (c, s, 0), 0.09, 0.02)
            told.append(replace(solid, thin=(slats,)))
        else:
            told.append(solid)
    return told


def free_points(seed: int, count: int, rows: Rows) -> np.ndarray:
    """Points 0.3 to 2 m up that lie in no solid: there single precision has a chance."""
    chance = np.random.default_rng(seed)
    found: list[np.ndarray] = []
    while len(found) < count:
        point = np.array([*chance.uniform(0, SIDE_M, 2), chance.uniform(0.3, 2)])
        d = point[:2] - rows.boxes[:, :2]
        u = d[:, 0] * rows.boxes[:, 2] + d[:, 1] * rows.boxes[:, 3]
        v = d[:, 1] * rows.boxes[:, 2] - d[:, 0] * rows.boxes[:, 3]
        inside = (abs(u) < rows.boxes[:, 4]) & (abs(v) < rows.boxes[:, 5])
        inside &= (rows.boxes[:, 6] < point[2]) & (point[2] < rows.boxes[:, 9])
        if (
            not inside.any()
            and (np.linalg.norm(rows.crowns[:, :3] - point, axis=1) > rows.crowns[:, 3]).all()
        ):
            found.append(point)
    return np.array(found)


def embree_scene(rows: Rows) -> tuple[Any, Any]:
    """Boxes as twelve triangles, trees as balls of 1280."""
    corner = np.array([[i & 1, i >> 1 & 1, i >> 2] for i in range(8)])
    sides = [(0, 1, 3, 2), (4, 5, 7, 6), (0, 1, 5, 4), (2, 3, 7, 6), (0, 2, 6, 4), (1, 3, 7, 5)]
    box_faces = np.array([f for a, b, c, d in sides for f in ((a, b, c), (a, c, d))])
    triangles = []
    for row in rows.boxes:
        u = (2 * corner[:, 0] - 1) * row[4]
        v = (2 * corner[:, 1] - 1) * row[5]
        z = np.where(corner[:, 2] == 1, row[9], row[6])
        x, y = row[0] + u * row[2] - v * row[3], row[1] + u * row[3] + v * row[2]
        triangles.append(np.column_stack((x, y, z))[box_faces])
    ball = icosphere(subdivisions=3)
    for row in rows.crowns:
        triangles.append((ball.vertices * row[3] + row[:3])[ball.faces])
    scene = EmbreeScene()
    mesh = TriangleMesh(scene, np.concatenate(triangles).astype(np.float32))
    return scene, mesh


def embree_by_point(scene: Any, points: np.ndarray, way: np.ndarray) -> np.ndarray:
    way32 = way.astype(np.float32)

    def one(point: np.ndarray) -> np.ndarray:
        starts = np.tile(point.astype(np.float32), (len(way32), 1))
        return scene.run(starts, way32, query="OCCLUDED") == 0  # type: ignore[no-any-return]

    with ThreadPoolExecutor(2) as pool:
        return np.array(list(pool.map(one, points)))


def embree_by_sun(scene: Any, points: np.ndarray, way: np.ndarray) -> np.ndarray:
    starts = points.astype(np.float32)
    told = np.empty((len(points), len(way)), bool)
    for number, one in enumerate(way.astype(np.float32)):
        told[:, number] = scene.run(starts, np.tile(one, (len(points), 1)), query="OCCLUDED") == 0
    return told


def arrays(rows: Rows, points: np.ndarray, way: np.ndarray) -> np.ndarray:
    """The slab method for each solid, over all rays of a point at once."""
    dark = np.zeros((len(points), len(way)), bool)
    for p, point in enumerate(points):
        for row in rows.boxes:
            d = point[:2] - row[:2]
            q = np.array([d @ row[2:4], d[1] * row[2] - d[0] * row[3], point[2]])
            go = np.column_stack(
                (way[:, :2] @ row[2:4], way[:, 1] * row[2] - way[:, 0] * row[3], way[:, 2])
            )
            low = np.array([-row[4], -row[5], row[6]])
            high = np.array([row[4], row[5], row[9]])
            with np.errstate(divide="ignore"):
                a, b = (low - q) / go, (high - q) / go
            near = np.minimum(a, b).max(axis=1)
            far = np.maximum(a, b).min(axis=1)
            dark[p] |= (far >= np.maximum(near, 0)) & (far > 0)
        for row in rows.crowns:
            d3 = row[:3] - point
            along = way @ d3
            dark[p] |= (d3 @ d3 - along**2 <= row[3] ** 2) & (along > 0)
    return dark


def best(work: Callable[[], Any], goes: int) -> tuple[float, float, Any]:
    """Least wall and least CPU seconds of some goes, and the answer."""
    walls, cpus, told = [], [], None
    for _ in range(goes):
        told = None  # an answer of the go before would count as memory
        wall, cpu = perf_counter(), process_time()
        told = work()
        walls.append(perf_counter() - wall)
        cpus.append(process_time() - cpu)
    return min(walls), min(cpus), told


def cast(rows: Rows, points: np.ndarray, year: SunYear) -> np.ndarray:
    """The whole job: order, transmittances and rays."""
    rays = rays_of(year.height_deg, year.bearing_deg)
    passes = through(rows.thin, rays, year.month)
    out = np.empty((len(points), rays.count), np.float32)
    light_of(rows.boxes, rows.crowns, passes, points, rays.suns, rays.starts, out)
    return out


def main() -> None:
    reader = argparse.ArgumentParser()
    reader.add_argument("--goes", type=int, default=5)
    reader.add_argument("--slow-share", type=float, default=0.04)
    reader.add_argument("--all", action="store_true")
    told = reader.parse_args()
    year = sun_year(47.4, 8.5, 500.0, "Europe/Zurich", 10)
    solids = yard(1, 200, 12)
    rows = rows_of(solids)
    thin_rows = rows_of(thinned(solids, 60))
    points = free_points(2, 500, rows)
    rays = rays_of(year.height_deg, year.bearing_deg)
    count = len(points) * rays.count
    print(f"{len(points)} points, {rays.count} suns, {count / 1e6:.1f} M rays")
    cast(rows, points[:2], year)  # compiled, or read from the cache
    wall, cpu, out = best(lambda: cast(rows, points, year), told.goes)
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    thin_wall, thin_cpu, thin_out = best(lambda: cast(thin_rows, points, year), told.goes)
    print(f"this: {count / wall / 1e6:.1f} M rays/s, {count / cpu / 1e6:.1f} M rays/CPU s")
    print(
        f"slats and leaves: {wall / thin_wall:.0%} of that rate by the wall, {cpu / thin_cpu:.0%} "
        f"by CPU; peak memory {peak:.0f} MB"
    )
    for name, some, answer in (("bare", rows, out), ("slats and leaves", thin_rows, thin_out)):
        sample = slice(None, None, 1 if told.all else 10)
        brute = np.empty_like(answer[sample])
        passes = through(some.thin, rays, year.month)
        light_of_each(some.boxes, some.crowns, passes, points[sample], rays.suns, brute)
        differ = np.count_nonzero(~np.isclose(brute, answer[sample], atol=1e-6))
        print(f"{name}: {differ} of {brute.size / 1e6:.1f} M rays differ", flush=True)
    scene, mesh = embree_scene(rows)
    way = np.ascontiguousarray(rays.ways.T)
    slow = max(1, round(len(way) * told.slow_share))
    some_way = np.ascontiguousarray(way[:: len(way) // slow])
    few = points[: max(1, round(len(points) * told.slow_share / 4))]
    dark = out == 0
    for name, share, work, truth in (
        ("Embree by point, two threads", 1.0,
         lambda: embree_by_point(scene, points, way), dark),
        ("Embree, a loop over suns", len(some_way) / len(way),
         lambda: embree_by_sun(scene, points, some_way), dark[:, :: len(way) // slow]),
        ("plain arrays", len(few) / len(points),
         lambda: arrays(rows, few, way), dark[: len(few)]),
    ):  # fmt: skip
        it_wall, it_cpu, answer = best(work, min(told.goes, 3))
        differ = np.count_nonzero(answer != truth)
        print(
            f"{name}: {count * share / it_wall / 1e6:.2f} M rays/s; this is "
            f"{it_wall / share / wall:.1f} times as fast by the wall, {it_cpu / share / cpu:.1f} "
            f"by CPU; {differ} of its {answer.size} rays differ"
        )
    del mesh


if __name__ == "__main__":
    main()
