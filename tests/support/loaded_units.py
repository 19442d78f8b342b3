"""Three units under given snow and wind, for frames that are also reckoned by hand.

An open-front shelter, a meshed loft and a boarded isolation, alone on level ground.
"""

from mewswright.model.yard import Yard

SIZES = {  # width, depth, front, back [mm] and what the front is of
    "shelter": (3000.0, 2000.0, 2400.0, 2200.0, "open"),
    "loft": (3600.0, 4800.0, 2800.0, 2400.0, "meshed"),
    "isolation": (2400.0, 2400.0, 2400.0, 2200.0, "boarded"),
}


def face_of(infill):
    """A face of this infill with what the format asks beside it."""
    face = {"infill": infill}
    if infill in ("barred", "slatted", "meshed"):
        face |= {"gap_mm": 25, "bar_mm": 12}
    if infill == "meshed":
        face |= {"mesh_kind": "welded"}
    return face


def loaded(
    kind="shelter", snow=0.5, wind=22.0, *, size=None, faces=None, roof=None, frame=None,
    loads=None, feature=(), altitude_m=300, base=None,
):  # fmt: skip
    """A yard with one unit and its loads.

    Args:
        kind: shelter, loft or isolation.
        snow: Ground snow [kN/m2].
        wind: Basic wind [m/s].
        size: Width, depth, front and back height [mm], where not the kind's own.
        faces: Infill by side, where not the kind's own.
        roof: Keys of the roof.
        frame: Keys of the frame.
        loads: Further keys of the loads.
        feature: Things that stand beside it.
        altitude_m: Height above the sea [m].
        base: Further keys of the quarters.
    """
    width, depth, front, back, infill = SIZES[kind]
    width, depth, front, back = size or (width, depth, front, back)
    infills = {"front": infill, **(faces or {})}
    return Yard.model_validate(
        {
            "format": 1,
            "yard": {
                "name": "Level ground", "latitude_deg": 47, "longitude_deg": 7,
                "altitude_m": altitude_m, "time_zone": "Europe/Zurich",
                "boundary_m": [[-40, -40], [60, -40], [60, 60], [-40, 60]],
            },
            "loads": {
                "source": "set for a test", "ground_snow_kn_m2": snow, "basic_wind_m_s": wind,
                "terrain": "II", **(loads or {}),
            },
            "feature": list(feature),
            "quarters": [
                {
                    "name": "Unit", "kind": kind, "at_m": [0, 0], "facing_deg": 180,
                    "width_mm": width, "depth_mm": depth, "front_height_mm": front,
                    "back_height_mm": back,
                    "faces": {side: face_of(one) for side, one in infills.items()},
                    "roof": {"deck": "osb3_18", "cover": "felt"} if roof is None else roof,
                    "frame": frame or {}, **(base or {}),
                }
            ],
        }
    )  # fmt: skip
