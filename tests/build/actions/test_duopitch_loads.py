"""Snow, wind and the ridge beam of a duopitch against formulas named beside them."""

import pytest

from mewswright.build.actions.open_sides import canopy
from mewswright.build.actions.snow_duopitch import duopitch_snow
from mewswright.build.actions.wind_on import wind_on
from mewswright.build.actions.zones_duopitch import SlopeSize, zones_across, zones_along
from mewswright.build.analysis import BeamLoads, LineLoad, beam
from mewswright.build.frame import built_frame
from mewswright.build.lines import lines_of
from mewswright.build.shell import shell_of
from support.units import BARRED, unit_yard

DUO = {"form": "duopitch", "ridge_height_mm": 3000}


def unit(**more):
    return unit_yard(
        **{"depth_mm": 4000, "width_mm": 4000, "front_height_mm": 2300, "back_height_mm": 2300,
           "roof": DUO, **more}
    )  # fmt: skip


def test_snow_lies_even_or_half_on_either_slope():
    """EN 1991-1-3, 5.3.3, Figure 5.3, with mu_1 0.8 and 2 kN/m2 on the ground."""
    found = [(one.front_kn_m2, one.back_kn_m2) for one in duopitch_snow(20, 30, 2.0)]
    assert found == [pytest.approx(two) for two in ((1.6, 1.6), (0.8, 1.6), (1.6, 0.8))]


def test_zones_across_by_hand():
    """Figure 7.8: b 6, h 3, e 6: strips of 0.6 m, corners of 1.5 m; 22.5 deg is midway."""
    zones = {z.name: z for z in zones_across(SlopeSize(22.5, 3), SlopeSize(22.5, 2), 6, 3)}
    areas = {name: zone.area_m2 for name, zone in zones.items()}
    assert areas == pytest.approx({"F": 1.8, "G": 1.8, "H": 14.4, "J": 3.6, "I": 8.4})
    assert zones["F"].cpe_10 == pytest.approx((-0.9 - 0.5) / 2)
    assert zones["F"].cpe_up == pytest.approx((0.2 + 0.7) / 2)
    assert zones["J"].cpe_10 == pytest.approx((-1.0 - 0.5) / 2)


def test_zones_along_make_up_the_roof():
    zones = zones_along(SlopeSize(15, 3), SlopeSize(30, 2), 6, 3)
    assert sum(zone.area_m2 for zone in zones) == pytest.approx(5 * 6)
    assert {zone.cpe_10 for zone in zones if zone.name == "G"} == {-1.3, -1.4}


def test_a_duopitch_canopy_has_a_ridge_zone_and_lifts():
    assert canopy(15, 1, "duopitch").zones_up["D"] == -2.1
    with pytest.raises(Exception, match="known from 0 to 30 deg"):
        canopy(31, 1, "duopitch")
    yard = unit(faces=dict.fromkeys(("back", "left", "right"), BARRED))
    wind = wind_on(shell_of(yard.quarters[0]), 0.5)
    over = next(case for case in wind.cases if case.wind_from == "canopy")
    assert {zone.zone for zone in over.roof} == {"A", "B", "C", "D"}
    assert sum(zone.area_m2 for zone in over.roof) == pytest.approx(4.39 * 4.54)


def test_the_ridge_beam_stands_on_its_gables_and_carries_both_slopes():
    yard = unit()
    lines = lines_of(built_frame(yard, yard.quarters[0]), 4000)
    (ridge,) = lines.ridges
    assert ridge.stands == ("left", "right")
    assert ridge.supports_m[1] - ridge.supports_m[0] == pytest.approx(4 + 0.095)
    assert [line.held_by for line in lines.rafters] == [("front", "ridge"), ("ridge", "back")]
    # Closed form of the same beam, q l2 / 8, by the library that carries it.
    span = 4.095
    case = beam(span, (0, span), 500.0, {"q": BeamLoads((LineLoad(2.0, 0, span),))})["q"]
    assert case.moment_kn_m.max() == pytest.approx(2.0 * span**2 / 8, rel=0.01)


def test_a_perch_under_the_ridge_has_more_room():
    perch = {"kind": "perch", "name": "High", "form": "round", "height_mm": 2700,
             "at_mm": [2000, 2000], "length_mm": 500, "diameter_mm": 40}  # fmt: skip
    assert unit(fitting=[perch]).quarters[0].ceiling_mm(2000) == 3000
    with pytest.raises(ValueError, match="the ceiling there is 2475 mm"):
        unit(fitting=[{**perch, "at_mm": [2000, 500]}])
