"""Snow, wind and combinations against published worked examples, copied by hand.

The id before each is that of the collection of examples; the tolerance is what the source
prints or rounds to.
"""

import pytest

from mewswright.build.actions.combine import Action, combinations
from mewswright.build.actions.open_sides import inside
from mewswright.build.actions.screens import free_standing
from mewswright.build.actions.snow import (
    drift,
    exceptional_drift_at_obstruction,
    exceptional_drift_at_wall,
    ground_snow_uk_kn_m2,
    roof_snow_kn_m2,
    snow_shape,
)
from mewswright.build.actions.wind import (
    cpe_for_area,
    edge_strip_m,
    peak_pressure,
    return_period_factor,
)
from mewswright.build.actions.zones import mean_cpe, roof_zones, wall_zones


@pytest.mark.parametrize(
    ("pitch_deg", "mu_1"), [(0, 0.8), (8.5, 0.8), (30, 0.8), (45, 0.4), (60, 0.0), (90, 0.0)]
)
def test_snow_01_share_by_pitch(pitch_deg, mu_1):
    """SNOW-01: EN 1991-1-3, Table 5.2; 8.5 deg in Steel Buildings in Europe, Part 3, p3-38."""
    assert snow_shape(pitch_deg, can_slide=True) == pytest.approx(mu_1, abs=1e-6)


def test_snow_02_roof_load():
    """SNOW-02: Steel Buildings in Europe, Single-storey, Part 3, App A, p3-38."""
    s = roof_snow_kn_m2(0.65, snow_shape(8.5), ce=1, ct=1)
    assert s == pytest.approx(0.52, abs=0.001)
    assert 2 * s == pytest.approx(1.04, abs=0.001)  # exceptional snow on the ground, C_esl 2


def test_snow_03_drift_against_a_taller_wall():
    """SNOW-03: the same, p3-39/40: b1 10, b2 40, h 3.0 m; upper roof flat."""
    found = drift(taller_by_m=3.0, upper_m=10, lower_m=40, ground_kn_m2=0.65)
    assert found.mu_raw == pytest.approx(8.3, rel=0.01)
    assert found.mu_cap == pytest.approx(9.2, rel=0.01)
    assert found.mu_at_wall == pytest.approx(4)
    assert found.length_m == pytest.approx(6.0)
    assert roof_snow_kn_m2(0.65, found.mu_at_wall) == pytest.approx(2.6, rel=0.01)
    assert found.mu_at(6.0) == pytest.approx(0.8)


def test_snow_05_exceptional_drift_at_the_eaves():
    """SNOW-05: the same, p3-43: h 3, b1 12.5, b2 25 m; exact."""
    found = exceptional_drift_at_wall(3, 12.5, 25, 0.65)
    assert found.length_m == pytest.approx(12.5, rel=0.005)
    assert found.mu_at_wall == pytest.approx(4.0, rel=0.005)
    assert found.mu_at_wall * 0.65 == pytest.approx(2.6, rel=0.005)


def test_snow_07_exceptional_drift_at_a_low_obstruction():
    """SNOW-07: published EN 1991-1-3 worked example, p34: h 1.0 m, s_k 0.6."""
    found = exceptional_drift_at_obstruction(1.0, 0.6)
    assert found.mu_at_wall == pytest.approx(3.33, rel=0.005)
    assert found.mu_at_wall * 0.6 == pytest.approx(2.0, rel=0.005)


def test_snow_09_ground_snow_of_the_united_kingdom():
    """SNOW-09: published example, Inverness, 90 m, 0.60; that it lies in zone 4 is inferred."""
    assert ground_snow_uk_kn_m2(4, 90) == pytest.approx(0.6, abs=0.001)


def test_wind_01_peak_pressure():
    """WIND-01: Steel Buildings in Europe, Part 3, App B, p3-47/48; the source rounds k_r."""
    found = peak_pressure(26, "III", 8)
    assert found.qb_kn_m2 * 1000 == pytest.approx(422.5, abs=0.05)
    assert found.kr == pytest.approx(0.215, abs=0.0005)
    assert found.cr == pytest.approx(0.706, abs=0.002)
    assert found.ce == pytest.approx(1.56, rel=0.006)
    assert found.qp_kn_m2 * 1000 == pytest.approx(659, rel=0.006)


@pytest.mark.parametrize(
    ("category", "pressures"),
    [  # worked out apart from the code at z = 3.0 m, for v_b 22, 24, 26, 28 m/s
        ("I", (0.63, 0.75, 0.88, 1.02)), ("II", (0.50, 0.59, 0.69, 0.80)),
        ("III", (0.39, 0.46, 0.54, 0.63)), ("IV", (0.36, 0.42, 0.50, 0.58)),
    ],
)  # fmt: skip
def test_peak_pressure_of_low_units(category, pressures):
    """EN 1991-1-4, 4.5, tabled for units of up to 3.5 m; printed to 0.01 kN/m2."""
    found = [peak_pressure(vb, category, 3.0).qp_kn_m2 for vb in (22, 24, 26, 28)]
    assert found == pytest.approx(pressures, abs=0.0051)


def test_wind_04_edge_strip():
    """WIND-04: the same, p3-48: h 8, b 32, d 60 m."""
    e = edge_strip_m(32, 8)
    assert e == 16
    zones = wall_zones(across_m=32, along_m=60, height_m=8).side
    runs = [zone.area_m2 / 8 for zone in zones]
    assert runs == pytest.approx([3.2, 12.8, 44])


@pytest.mark.parametrize(
    ("cpe_1", "cpe_10", "cpe"),
    [
        (-1.5, -0.5, -0.7596373105),
        (-2.0, -1.3, -1.4817461174),
        (-2.0, -1.4, -1.5557823863),
    ],
)
def test_wind_05_coefficient_of_an_area(cpe_1, cpe_10, cpe):
    """WIND-05: a public suite of structural checks, wind on 5.5 m2; to 1e-6."""
    assert cpe_for_area(cpe_10, cpe_1, 5.5) == pytest.approx(cpe, abs=1e-6)


def test_wind_06_free_standing_wall():
    """WIND-06: the same suite: l 10, h 2 m, v_b0 26 m/s, 5 years, terrain III at 10 m."""
    found = free_standing(10, 2)
    assert [found[zone] for zone in "ABCD"] == pytest.approx([2.9, 1.8, 1.4, 1.2])
    qp = peak_pressure(26 * return_period_factor(5), "III", 10).qp_kn_m2 * 1000
    pressures = [found[zone] * qp for zone in "ABCD"]
    assert pressures == pytest.approx([1530, 949, 738, 633], rel=0.001)


def test_wind_07_free_standing_wall_with_holes():
    """WIND-07: solid by 0.9, half way between 1.2 everywhere and the solid wall."""
    found = free_standing(10, 2, solidity=0.9)
    assert [found[zone] for zone in "ABCD"] == pytest.approx([2.05, 1.5, 1.3, 1.2], abs=1e-9)


@pytest.mark.parametrize(("years", "cprob"), [(5, 0.8545006), (50, 1.0), (100, 1.0384765)])
def test_wind_09_return_period(years, cprob):
    """WIND-09: EN 1991-1-4, (4.2) note 4, K 0.2, n 0.5; to 1e-4."""
    assert return_period_factor(years) == pytest.approx(cprob, abs=1e-4)


def test_wind_10_monopitch_between_two_pitches():
    """WIND-10: EN 1991-1-4, Table 7.3a, half way between 5 and 15 deg."""
    found = {zone.name: zone.cpe_10 for zone in roof_zones(10, 180, 3, 2.4, 2.4)}
    assert found == pytest.approx({"F": -2.4, "G": -1.3, "H": -0.85}, abs=1e-9)


def test_wind_11_open_front():
    """WIND-11: 3.0 x 2.4 m, 2.4 m in front, q_p 0.6, 0.25 kN/m2 of roof; worked by hand."""
    qp = 0.6
    zones = roof_zones(5, 180, across_m=3.0, along_m=2.4, height_m=2.4)
    assert edge_strip_m(3.0, 2.4) == 3.0
    areas = {zone.name: zone.area_m2 for zone in zones}
    assert areas == pytest.approx({"F": 0.45, "G": 0.45, "H": 6.3}, rel=0.001)
    assert mean_cpe(zones) == pytest.approx(-0.925, rel=0.001)
    walls = wall_zones(3.0, 2.4, 2.4)
    opened = inside({"front": 7.2}, {"front": 1.0})
    assert (opened.case, opened.opening) == ("dominant", "front")
    cpi = opened.share * walls.windward.cpe_10
    assert cpi == pytest.approx(0.72, rel=0.001)
    uplift = (cpi - mean_cpe(zones)) * qp * 3.0 * 2.4
    assert uplift == pytest.approx(7.106, rel=0.001)
    assert 0.9 * 0.25 * 7.2 - 1.5 * uplift == pytest.approx(-9.039, rel=0.001)
    push = (cpi - walls.leeward.cpe_10) * qp * 3.0 * 2.2
    assert push == pytest.approx(4.831, rel=0.001)


def test_comb_01_down_and_up():
    """COMB-01: EN 1990, Tables A1.1, A1.2(A), (B): G 0.3, S 0.6, W -0.9 kN/m2; exact."""
    actions = [
        Action("dead", "dead", 0.3),
        Action("snow", "snow", 0.6),
        Action("wind", "wind", -0.9),
    ]
    found = {one.name: one.total(actions) for one in combinations(actions, limits=("STR", "EQU"))}
    assert found["STR: 1.35 dead + 1.5 snow"] == pytest.approx(1.305, abs=1e-9)
    assert found["STR: 1 dead + 1.5 wind"] == pytest.approx(-1.05, abs=1e-9)
    assert found["EQU: 0.9 dead + 1.5 wind"] == pytest.approx(-1.08, abs=1e-9)
