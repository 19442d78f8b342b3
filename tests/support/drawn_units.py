"""Units for drawing tests, made from a few numbers."""

from mewswright.model.yard import Yard


def yard_of(
    width=3000.0, depth=2400.0, front=2500.0, back=2200.0, infill="barred", perches=(), extra=()
):
    """A yard with one shelter, a door in its front, a hatch in its back, a bath and perches."""
    face = {"infill": infill, "upstand_mm": min(400.0, front / 3)}
    if infill in ("barred", "slatted", "meshed"):
        face |= {"gap_mm": 35, "bar_mm": 12}
    if infill == "meshed":
        face |= {"mesh_kind": "welded"}
    low = min(front, back)
    fitting = [
        {
            "kind": "perch", "name": f"Perch {chr(65 + i)}", "form": "round",
            "at_mm": [width * x, depth * y], "height_mm": low * z, "length_mm": width * 0.3,
            "diameter_mm": 40,
        }
        for i, (x, y, z) in enumerate(perches)
    ]  # fmt: skip
    fitting.append(
        {
            "kind": "bath", "name": "Blue bath", "at_mm": [width * 0.7, depth * 0.4],
            "diameter_mm": min(width, depth) * 0.2, "depth_mm": 100, "rim_height_mm": 120,
        }
    )  # fmt: skip
    fitting.append(
        {
            "kind": "hatch", "name": "Back hatch", "face": "back", "at_mm": width * 0.3,
            "sill_mm": low * 0.4, "width_mm": width * 0.1, "height_mm": low * 0.1,
            "ledge_mm": depth * 0.05,
        }
    )  # fmt: skip
    return Yard.model_validate(
        {
            "format": 1,
            "yard": {
                "name": "Test yard", "latitude_deg": 47, "longitude_deg": 7, "altitude_m": 600,
                "time_zone": "Europe/Zurich",
                "boundary_m": [[-5, -5], [30, -5], [28, 20], [-4, 22]],
            },
            "quarters": [
                {
                    "name": "Unit", "kind": "shelter", "at_m": [0, 0], "facing_deg": 200,
                    "width_mm": width, "depth_mm": depth, "front_height_mm": front,
                    "back_height_mm": back, "faces": {"front": face}, "roof": {},
                    "fitting": fitting,
                },
                {
                    "name": "Lawn pitch", "kind": "pitch", "at_m": [12, 3], "facing_deg": 180,
                    "width_mm": 4000, "depth_mm": 4000,
                },
            ],
            "space": [
                {
                    "name": "Lobby", "kind": "lobby", "length_mm": 1500, "width_mm": 1000,
                    "height_mm": 2100,
                }
            ],
            "door": [
                {
                    "between": ["Unit", "Lobby"], "width_mm": width * 0.2, "height_mm": low * 0.8,
                    "face": "front", "at_mm": width * 0.2,
                }
            ],
            "feature": [
                {
                    "name": "Old ash", "kind": "tree", "at_m": [8, 15], "height_m": 12,
                    "crown_radius_m": 3, "condition": "suspect",
                },
                {
                    "name": "Yard wall", "kind": "wall", "line_m": [[-4, 22], [28, 20]],
                    "width_m": 0.4,
                },
                {"name": "Tap", "kind": "tap", "at_m": [1, 4]},
                *extra,
            ],
        }
    )  # fmt: skip


PERCHES = ((0.3, 0.7, 0.6), (0.7, 0.3, 0.5), (0.5, 0.5, 0.3))
