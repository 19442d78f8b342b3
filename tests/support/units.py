"""Units to build in tests: a yard with one of them, and its parts as solid boxes."""

from itertools import product

from mewswright.model.yard import Yard

BOARDED = {"infill": "boarded"}
BARRED = {"infill": "barred", "gap_mm": 38, "bar_mm": 12}


def unit_yard(*, front=None, faces=None, door=(), stock=(), price=(), **quarters):
    """A yard with one unit, 3000 x 2400 mm, 2400 mm high in front and 2100 mm behind."""
    unit = {
        "name": "Unit",
        "kind": "loft",
        "at_m": [0, 0],
        "facing_deg": 180,
        "width_mm": 3000,
        "depth_mm": 2400,
        "front_height_mm": 2400,
        "back_height_mm": 2100,
        "faces": {"front": front or BARRED, **(faces or {})},
        "roof": {},
        **quarters,
    }
    return Yard.model_validate(
        {
            "format": 1,
            "yard": {
                "name": "Test yard",
                "latitude_deg": 47,
                "longitude_deg": 7,
                "altitude_m": 600,
                "time_zone": "Europe/Zurich",
                "currency": "CHF",
            },
            "quarters": [unit],
            "space": [
                {
                    "name": "Lobby",
                    "kind": "lobby",
                    "length_mm": 1500,
                    "width_mm": 1200,
                    "height_mm": 2000,
                }
            ],
            "door": list(door),
            "stock": list(stock),
            "price": list(price),
        }
    )


def corners(stick):
    """The eight corners of a stick with square ends, worked out apart from the code."""
    start, end, axis = stick.start_mm, stick.end_mm, stick.depth_axis
    line = [b - a for a, b in zip(start, end, strict=True)]
    length = sum(x * x for x in line) ** 0.5
    line = [x / length for x in line]
    across = [
        line[1] * axis[2] - line[2] * axis[1],
        line[2] * axis[0] - line[0] * axis[2],
        line[0] * axis[1] - line[1] * axis[0],
    ]
    return [
        tuple(
            at + a * axis[i] * stick.depth_mm / 2 + b * across[i] * stick.breadth_mm / 2
            for i, at in enumerate(place)
        )
        for place, a, b in product((start, end), (-1, 1), (-1, 1))
    ]


def polygon_mm2(places):
    """Area of a flat polygon in space [mm2]: half the length of the summed cross products."""
    total = [0.0, 0.0, 0.0]
    for a, b in zip(places, places[1:] + places[:1], strict=True):
        total[0] += a[1] * b[2] - a[2] * b[1]
        total[1] += a[2] * b[0] - a[0] * b[2]
        total[2] += a[0] * b[1] - a[1] * b[0]
    return sum(x * x for x in total) ** 0.5 / 2
