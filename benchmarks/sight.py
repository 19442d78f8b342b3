"""Who sees whom: 40 birds in a yard of 60 quarters, beside asking every line of everything.

The keeper waits for this answer, so the whole report is timed: birds, lanes, food, months. The
baseline gives the same lines between birds to an open ray library, trimesh with Embree inside, one
call for each pair as a script would write it, in the same run: boards, roofs and walls as
triangles, without leaves, lanes, food or names. Every answer is also compared with asking every
line of every quarters and screen. Processor seconds: the machine's other work does not count.
"""

from time import process_time

import numpy as np
from trimesh import Trimesh
from trimesh.ray.ray_pyembree import RayMeshIntersector

from mewswright.checks.sight_report import sight_report
from mewswright.checks.watch import Watch
from mewswright.model.yard import Yard

QUARTERS, BIRDS = 60, 40
COLUMNS, STRIDE_M = 10, 9.0


def yard() -> Yard:
    """Lofts, shelters and pitches in rows that face each other, hedges, trees and a lane."""
    quarters, stays, birds, features = [], [], [], []
    for i in range(QUARTERS):
        column, row = i % COLUMNS, i // COLUMNS
        kind = ("loft", "shelter", "pitch")[i % 3]
        place = {
            "name": f"Q{i}", "kind": kind, "at_m": [column * STRIDE_M, row * STRIDE_M],
            "facing_deg": 180 if row % 2 else 0, "width_mm": 4200, "depth_mm": 3200,
            "fitting": [
                {"kind": "perch", "name": f"p{k}", "form": "block", "diameter_mm": 100,
                 "at_mm": [900 + 1100 * k, 800 + 500 * k], "height_mm": 400 + 500 * k,
                 "cover": "turf"}
                for k in range(3)
            ],
        }  # fmt: skip
        if kind != "pitch":
            place |= {
                "front_height_mm": 2700, "back_height_mm": 2300, "roof": {},
                "faces": {"front": {"infill": "barred", "gap_mm": 30, "bar_mm": 12}
                          if kind == "loft" else {"infill": "open"}},
            }  # fmt: skip
        quarters.append(place)
        if len(birds) < BIRDS:
            birds.append({"name": f"B{i}", "species": "harris_hawk", "sex": "f"})
            stays.append({"bird": f"B{i}", "quarters": f"Q{i}", "mode": "loose"})
    for k in range(6):
        features.append(
            {"name": f"hedge {k}", "kind": "hedge", "height_m": 1.6, "leaf_months": [5, 6, 7, 8, 9],
             "line_m": [[15 * k, 5.5 + 9 * k], [15 * k + 12, 5.5 + 9 * k]]}
        )  # fmt: skip
        features.append(
            {"name": f"tree {k}", "kind": "tree", "at_m": [14 * k + 7, 7 * k + 3], "height_m": 7,
             "crown_radius_m": 2.5, "leaf_months": [5, 6, 7, 8, 9, 10]}
        )  # fmt: skip
    features.append({"name": "Lane", "kind": "lane", "line_m": [[-20, -8], [120, -6]]})
    return Yard.model_validate(
        {"format": 1, "quarters": quarters, "bird": birds, "stay": stays, "feature": features,
         "yard": {"name": "Sixty", "latitude_deg": 47, "longitude_deg": 7, "altitude_m": 500,
                  "time_zone": "Europe/Zurich"}}
    )  # fmt: skip


def plain(of: Yard) -> dict[tuple[str, str], bool]:
    """Whether each bird sees each other one in some month: every line of everything."""
    watch = Watch(of)
    told = {}
    for one in watch.lookers:
        near = watch.scene.near(one.at)
        for other in watch.lookers:
            if other.at not in near:
                continue
            told[one.name, other.name] = any(
                not any(body.stops(a, b) for body in watch.scene.bodies)
                and not any(screen.stops(a, b) for screen in watch.scene.screens)
                for a in watch.places(one)
                for b in watch.places(other)
            )
    return told


def mesh(of: Yard) -> RayMeshIntersector:
    """Every board, upstand, roof and wall as triangles."""
    corners: list[tuple[float, float, float]] = []
    faces: list[tuple[int, int, int]] = []

    def sheet(*four: tuple[float, float, float]) -> None:
        n = len(corners)
        corners.extend(four)
        faces.extend(((n, n + 1, n + 2), (n, n + 2, n + 3)))

    watch = Watch(of)
    for body in watch.scene.bodies:
        for screen in body.screens:
            (a, b), (low, high) = screen.edge, screen.top_m
            sheet((*a, 0), (*b, 0), (*b, high), (*a, low))
        q = body.quarters
        if q.faces is not None:
            spots = ((0, 0), (q.width_mm, 0), (q.width_mm, q.depth_mm), (0, q.depth_mm))
            sheet(*(body.eye(x, y, q.ceiling_mm(y)) for x, y in spots))
    return RayMeshIntersector(Trimesh(vertices=corners, faces=faces, process=False))


def library(of: Yard) -> dict[tuple[str, str], bool]:
    """The same by the ray library: is any line between two birds not met?"""
    rays, watch, told = mesh(of), Watch(of), {}
    for one in watch.lookers:
        near = watch.scene.near(one.at)
        for other in watch.lookers:
            if other.at in near:
                lines = [(a, b) for a in watch.places(one) for b in watch.places(other)]
                starts, ends = np.array(lines).transpose(1, 0, 2)
                told[one.name, other.name] = not met(rays, starts, ends).all()
    return told


def met(rays: RayMeshIntersector, starts: np.ndarray, ends: np.ndarray) -> np.ndarray:
    """Whether each line meets a triangle between its ends."""
    ways = ends - starts
    long = np.linalg.norm(ways, axis=1)
    places, which, _ = rays.intersects_location(starts, ways / long[:, None], multiple_hits=False)
    hit = np.zeros(len(starts), bool)
    hit[which[np.linalg.norm(places - starts[which], axis=1) < long[which]]] = True
    return hit


def main() -> None:
    """Print the seconds and the ratio."""
    of = yard()
    start = process_time()
    report = sight_report(of)
    ours = process_time() - start
    start = process_time()
    rays = library(of)
    theirs = process_time() - start
    whole = plain(of)
    same = sum(whole[s.bird, s.target] == s.seen for s in report.sees if s.kind == "bird")
    assert same == len(whole), (same, len(whole))  # a fast wrong answer is no answer
    seen = sum(whole.values())
    print(f"{len(report.birds)} birds in {QUARTERS} quarters: {len(whole)} pairs, {seen} in sight")
    other = sum(rays[pair] != whole[pair] for pair in whole)
    print(
        f"the whole report {ours:.2f} s of the processor; pairs alone by Embree {theirs:.2f} s, "
        f"{theirs / ours:.1f} times, {other} of its answers differ (single precision)"
    )


if __name__ == "__main__":
    main()
