"""Where the sun is looked for in quarters."""

from mewswright.ground.sun_spots import spots_of
from support.units import unit_yard


def test_the_rim_of_a_bath_on_a_platform_counts_from_the_floor():
    """The yard file gives rim_height_mm above the finished floor: its platform is within it."""
    bath = {"kind": "bath", "name": "Tray", "at_mm": [1000, 400], "diameter_mm": 700,
            "depth_mm": 100, "rim_height_mm": 430, "platform_mm": 300}  # fmt: skip
    (quarters,) = unit_yard(fitting=[bath]).quarters
    assert [at for name, kind, at in spots_of(quarters) if kind == "bath"] == [(1000, 400, 430)]
