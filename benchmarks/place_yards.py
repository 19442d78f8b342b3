"""Yards to place quarters in, made from a seed: skewed ground with things that overlap on it.

Every yard has a barn with the weighing room, walls or hedges, trees of which some are suspect, a
compost bay with leaf mould heaped against it, a lane, a dog run, cameras, a tap, two gates, a
wind rose, and some quarters that stand. Sizes are of a small holding; all is invented.
"""

from math import cos, pi, sin

import numpy as np

from mewswright.model.yard import Yard

SIX = ("loft:2:4200x3000x2600x2400", "shelter:2:3000x3000x2500x2300",
       "isolation:1:3600x3000x2600x2400", "pitch:1:3600x3600")  # fmt: skip
TWELVE = ("loft:4:4200x3000x2600x2400", "shelter:4:3000x3000x2500x2300",
          "isolation:1:3600x3000x2600x2400", "pitch:3:3600x3600")  # fmt: skip


def placing_yard(seed: int, wide_m: float = 40.0, deep_m: float = 30.0) -> Yard:
    """A yard to place in.

    Args:
        seed: Of everything in it.
        wide_m: About how far it reaches from west to east.
        deep_m: About how far from south to north.
    """
    rng = np.random.default_rng(seed)

    def near(x: float, y: float, by: float = 2.0) -> list[float]:
        return [
            round(float(x + rng.uniform(-by, by)), 2),
            round(float(y + rng.uniform(-by, by)), 2),
        ]

    corners = [near(0, 0), near(wide_m, 0), near(wide_m, deep_m), near(0, deep_m)]
    if rng.random() < 0.4:  # a notch, so that the ground is not convex
        corners.insert(3, near(wide_m * 0.55, deep_m, 1))
        corners.insert(4, near(wide_m * 0.5, deep_m * 0.8, 1))
    bx, by = float(rng.uniform(3, wide_m * 0.2)), float(rng.uniform(3, deep_m * 0.4))
    features: list[dict[str, object]] = [
        {"name": "Barn", "kind": "building", "height_m": 6,
         "outline_m": [[bx, by], [bx + 6, by], [bx + 6, by + 9], [bx, by + 9]]},
        {"name": "Weighing room", "kind": "weighing_room", "at_m": [bx + 5, by + 2]},
        {"name": "North wall", "kind": "wall", "line_m": [corners[-1], corners[-2]],
         "width_m": 0.4, "height_m": 2.2},
        {"name": "Hedge", "kind": "hedge", "line_m": [near(8, 1, 0.5), near(wide_m - 4, 1, 0.5)],
         "width_m": 1.0, "height_m": 1.9, "porosity": 0.3},
        {"name": "Lane", "kind": "lane", "line_m": [[-5, -4], [wide_m + 5, -3]], "width_m": 3.5,
         "sound_db_1m": 78},
        {"name": "Gate", "kind": "gate", "at_m": [4, 1]},
        {"name": "Flying ground gate", "kind": "flying_ground_gate", "at_m": [wide_m - 1, 8]},
        {"name": "Tap", "kind": "tap", "at_m": [bx + 7, by + 6]},
    ]  # fmt: skip
    cx, cy = near(wide_m * 0.75, deep_m * 0.25, 4)
    features += [
        {"name": "Compost", "kind": "compost", "height_m": 1.2,
         "outline_m": [[cx, cy], [cx + 2.5, cy], [cx + 2.5, cy + 2], [cx, cy + 2]]},
        {"name": "Leaf mould", "kind": "leaf_mould", "height_m": 0.8,
         "outline_m": [[cx + 2, cy + 1], [cx + 4, cy + 1], [cx + 4, cy + 3], [cx + 2, cy + 3]]},
        {"name": "Log stack", "kind": "log_stack", "height_m": 1.4,
         "outline_m": _box(near(wide_m * 0.3, deep_m - 5, 2), 3, 1)},
        {"name": "Dog run", "kind": "dog_run", "height_m": 1.6, "sound_db_1m": 90,
         "outline_m": _box([wide_m + 3, float(rng.uniform(0, deep_m - 8))], 5, 7)},
    ]  # fmt: skip
    for i in range(int(rng.integers(2, 6))):
        x, y = near(float(rng.uniform(0.2, 0.95)) * wide_m, float(rng.uniform(0.15, 0.95)) * deep_m)
        features.append({
            "name": f"Tree {i + 1}", "kind": "tree", "at_m": [x, y],
            "height_m": round(float(rng.uniform(4, 9)), 1),
            "crown_radius_m": round(float(rng.uniform(1, 2.5)), 1),
            "condition": "suspect" if i == 0 else "sound",
            "leaf_months": [5, 6, 7, 8, 9, 10],
        })  # fmt: skip
    for i, looks in enumerate((45, 300)):
        features.append({
            "name": f"Camera {i + 1}", "kind": "camera", "height_m": 3.5,
            "at_m": near((0.2, 0.8)[i] * wide_m, 3, 1.5), "looks_deg": looks, "view_deg": 110,
            "range_m": 22,
        })  # fmt: skip
    lead = float(rng.uniform(0, 360))
    rose = [
        {"from_deg": deg, "share_pct": round(4 + 18 * max(0.0, cos((deg - lead) * pi / 180)), 1),
         "speed_m_s": 2.0 + 1.5 * max(0.0, cos((deg - lead) * pi / 180))}
        for deg in range(0, 360, 45)
    ]  # fmt: skip
    qx, qy = bx + 8.0, by + 1.0
    turn = float(rng.uniform(80, 100)) * pi / 180
    quarters = [
        {"name": f"Old shelter {i + 1}", "kind": "shelter", "width_mm": 3000, "depth_mm": 3000,
         "at_m": [round(qx + 3.6 * i * -cos(turn) + 3.2, 2), round(qy + 3.6 * i * sin(turn), 2)],
         "facing_deg": round(turn * 180 / pi, 2), "front_height_mm": 2500, "back_height_mm": 2250,
         "faces": {"front": {"infill": "barred", "gap_mm": 30, "upstand_mm": 600}}, "roof": {}}
        for i in range(2)
    ]  # fmt: skip
    return Yard.model_validate({
        "format": 1,
        "yard": {
            "name": f"Placing yard {seed}", "altitude_m": 500, "time_zone": "Europe/Zurich",
            "latitude_deg": round(float(rng.uniform(40, 56)), 2), "longitude_deg": 8.0,
            "standards": ["house"], "boundary_m": corners,
        },
        "wind_rose": rose, "feature": features, "quarters": quarters,
        "service": {"barrow_mm": 620},
        "bird": [
            {"name": "Wren", "species": "harris_hawk", "sex": "f"},
            {"name": "Finch", "species": "peregrine_falcon", "sex": "m"},
        ],
        "stay": [{"bird": "Wren", "quarters": "Old shelter 1", "mode": "tethered"}],
    })  # fmt: skip


def _box(at: list[float], wide: float, deep: float) -> list[list[float]]:
    x, y = at
    return [[x, y], [x + wide, y], [x + wide, y + deep], [x, y + deep]]
