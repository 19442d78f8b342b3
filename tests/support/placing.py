"""Small yards to place quarters in: as open and as plain as a test needs."""

from mewswright.model.yard import Yard

SQUARE = [[0, 0], [16, 0], [16, 14], [0, 14]]


def plain_yard(boundary=SQUARE, features=(), quarters=(), birds=(), stays=(), **more) -> Yard:
    """A yard with a boundary and what is given; nothing on it else."""
    return Yard.model_validate(
        {
            "format": 1,
            "yard": {
                "name": "Plain", "latitude_deg": 47.0, "longitude_deg": 7.0, "altitude_m": 500,
                "time_zone": "Europe/Zurich", "standards": ["house"],
                **({} if boundary is None else {"boundary_m": boundary}),
            },
            "feature": list(features), "quarters": list(quarters), "bird": list(birds),
            "stay": list(stays), **more,
        }
    )  # fmt: skip


def shelter(name, at_m, facing_deg=180, **more) -> dict:
    """A shelter of three by three metres, open in front."""
    return {
        "name": name, "kind": "shelter", "at_m": list(at_m), "facing_deg": facing_deg,
        "width_mm": 3000, "depth_mm": 3000, "front_height_mm": 2500, "back_height_mm": 2300,
        "faces": {"front": {"infill": "barred", "gap_mm": 30}}, "roof": {}, **more,
    }  # fmt: skip


WALL = {"name": "Wall", "kind": "wall", "line_m": [[4, 7], [12, 7]], "width_m": 0.4,
        "height_m": 2}  # fmt: skip
COMPOST = {"name": "Compost", "kind": "compost", "height_m": 1,
           "outline_m": [[12, 10], [14, 10], [14, 12], [12, 12]]}  # fmt: skip
HEAP = {"name": "Leaf heap", "kind": "leaf_mould", "height_m": 1,
        "outline_m": [[13, 11], [15, 11], [15, 13], [13, 13]]}  # fmt: skip
ROSE = [{"from_deg": 225, "share_pct": 40, "speed_m_s": 4},
        {"from_deg": 45, "share_pct": 10, "speed_m_s": 2}]  # fmt: skip
