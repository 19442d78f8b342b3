"""Properties of wind that hold for every roof, wall and opening."""

import pytest
from hypothesis import given
from hypothesis.strategies import floats, sampled_from

from mewswright.build.actions.open_sides import canopy, closed_cpi, dominant_share, inside
from mewswright.build.actions.screens import free_standing, lattice, porous_face
from mewswright.build.actions.wind import (
    cpe_for_area,
    edge_strip_m,
    peak_pressure,
    return_period_factor,
)
from mewswright.build.actions.zones import mean_cpe, roof_zones, wall_zones
from mewswright.build.actions.zones_duopitch import SlopeSize, zones_across, zones_along
from mewswright.model.problem import Problem

SIZE = floats(0.5, 20)
PITCH = floats(0, 30)


@given(PITCH, sampled_from((0, 90, 180)), SIZE, SIZE, floats(0.5, 6))
def test_zones_make_up_the_roof(pitch, theta, across, along, height):
    zones = roof_zones(pitch, theta, across, along, height)
    assert sum(zone.area_m2 for zone in zones) == pytest.approx(across * along)
    for zone in zones:
        assert zone.cpe_1 - 1e-9 <= zone.cpe_10 < 0 <= zone.cpe_up
    lowest, highest = min(z.cpe_10 for z in zones), max(z.cpe_10 for z in zones)
    assert lowest - 1e-9 <= mean_cpe(zones) <= highest + 1e-9


@given(sampled_from((0, 90, 180)), SIZE, SIZE, floats(0.5, 6), floats(0, 5))
def test_below_5_deg_no_zone_is_milder_than_at_5(theta, across, along, height, pitch):
    """The flat roof's rows only ever add: a step down at 5 deg would reward a flatter roof."""
    flat = {z.name: z for z in roof_zones(pitch, theta, across, along, height)}
    at_5 = {z.name: z for z in roof_zones(5, theta, across, along, height)}
    for name, zone in flat.items():
        assert zone.cpe_10 <= at_5[name].cpe_10 + 1e-9
        assert zone.cpe_up >= at_5[name].cpe_up


@given(SIZE, SIZE, floats(0.5, 6))
def test_zones_make_up_a_side_wall(across, along, height):
    walls = wall_zones(across, along, height)
    assert sum(zone.area_m2 for zone in walls.side) == pytest.approx(along * height)
    assert 0.7 <= walls.windward.cpe_10 <= 0.8
    assert -0.7 <= walls.leeward.cpe_10 <= -0.3


def test_walls_between_rows_by_hand():
    """h/d 0.5: D 0.7 + 0.1 (0.5 - 0.25) / 0.75; E -0.3 - 0.2 / 3."""
    walls = wall_zones(across_m=3, along_m=4, height_m=2)
    assert walls.windward.cpe_10 == pytest.approx(0.7 + 0.1 / 3)
    assert walls.leeward.cpe_10 == pytest.approx(-0.3 - 0.2 / 3)


@given(floats(1, 40), sampled_from(("0", "I", "II", "III", "IV")), floats(0.5, 30))
def test_pressure_grows_with_speed_squared_and_height(speed, category, height):
    one = peak_pressure(speed, category, height)
    assert peak_pressure(2 * speed, category, height).qp_kn_m2 == pytest.approx(4 * one.qp_kn_m2)
    assert peak_pressure(speed, category, height + 5).qp_kn_m2 >= one.qp_kn_m2
    assert peak_pressure(speed, category, height, 1.1).qp_kn_m2 == pytest.approx(
        1.21 * one.qp_kn_m2
    )


@given(floats(0.5, 30))
def test_rougher_ground_calms_the_wind(height):
    pressures = [peak_pressure(24, c, height).qp_kn_m2 for c in ("0", "I", "II", "III", "IV")]
    assert pressures == sorted(pressures, reverse=True)


@given(floats(0.1, 50))
def test_a_small_area_never_gets_less(area):
    found = cpe_for_area(-1.3, -2.0, area)
    assert -2.0 <= found <= -1.3
    assert cpe_for_area(-1.3, -2.0, 2 * area) >= found


def test_inside_of_four_rooms():
    """EN 1991-1-4, 7.2.9: one open front, a vent beside it, two open sides, a closed room."""
    front = inside({"front": 6.0}, {"front": 0.9})
    assert (front.case, front.opening, front.share) == ("dominant", "front", 0.9)
    vented = inside({"front": 2.5, "vents": 1.0}, {"front": 0.4})
    assert vented.share == pytest.approx(0.825)
    assert inside({"front": 5, "left": 5}, {"front": 0.9, "left": 0.9}).case == "canopy"
    assert inside({}, {}).case == "closed"
    assert inside({"front": 1.0, "left": 0.8}, {"front": 0.2, "left": 0.2}).case == "closed"
    assert closed_cpi() == (0.2, -0.3)


@given(floats(0, 20))
def test_the_share_felt_inside_never_falls_with_the_opening(times):
    assert 0 <= dominant_share(times) <= dominant_share(times + 0.5) <= 0.9


@given(floats(0, 20), floats(0, 1))
def test_a_blocked_canopy_lifts_at_least_as_hard(pitch, blockage):
    free, blocked = canopy(pitch, 0), canopy(pitch, 1)
    found = canopy(pitch, blockage)
    assert blocked.overall_up - 1e-9 <= found.overall_up <= free.overall_up + 1e-9
    assert min(found.zones_up.values()) <= found.overall_up < 0 < found.overall_down
    assert max(found.zones_down.values()) >= found.overall_down


def test_canopy_rows_are_those_of_table_7_6():
    """EN 1991-1-4, Table 7.6, 10 deg; and 7.5 deg half way between 5 and 10."""
    ten = canopy(10, 0)
    assert (ten.overall_down, ten.overall_up) == (0.5, -0.9)
    assert (ten.zones_down["B"], ten.zones_up["C"]) == (2.4, -2.1)
    assert canopy(7.5, 1).zones_up["B"] == pytest.approx(-2.4)


@given(SIZE, floats(0.5, 4), floats(0.8, 1))
def test_the_end_of_a_free_wall_takes_the_most(length, height, solidity):
    found = free_standing(length, height, solidity)
    cornered = free_standing(length, height, solidity, returns=True)
    values = [found[zone] for zone in "ABCD"]
    assert values == sorted(values, reverse=True)
    assert cornered["A"] <= found["A"] + 1e-9
    assert found["D"] == pytest.approx(1.2)


@given(floats(0, 1))
def test_mesh_counts_as_half_closed(solidity):
    assert porous_face(solidity) >= porous_face(0) == pytest.approx(1.0)
    assert lattice(solidity, wire=True) <= lattice(solidity)


def test_clean_mesh_hardly_catches_wind():
    """Facts of the table: 25 x 25 x 1.6 mm mesh, solid by 0.12, takes about 0.16 q_p clean."""
    assert lattice(0.12, wire=True) == pytest.approx(0.16, abs=0.005)


@pytest.mark.parametrize(
    ("ask", "sentence"),
    [
        (
            lambda: peak_pressure(0, "II", 3),
            r"^wind needs numbers above 0: got 0 m/s, height 3 m, altitude factor 1, orography 1$",
        ),
        (lambda: return_period_factor(1), r"^a return period is more than 1 year, got 1$"),
        (lambda: cpe_for_area(-1, -2, 0), r"^a loaded area is above 0 m2, got 0$"),
        (lambda: edge_strip_m(0, 2), r"^a building has a size, got 0 m across, 2 m high$"),
        (
            lambda: roof_zones(5, 45, 3, 3, 2),
            r"^wind on a monopitch roof is 0, 90 or 180 deg, got 45$",
        ),
        (lambda: mean_cpe([]), r"^zones without an area have no mean$"),
        (
            lambda: free_standing(3, 2, 0.5),
            r"^a free-standing wall is solid by 0.8 to 1, got 0.5: below that it is a lattice$",
        ),
        (lambda: canopy(5, 1.5), r"^blockage is a share from 0 to 1, got 1.5$"),
        (lambda: lattice(-0.1), r"^solidity is a share from 0 to 1, got -0.1$"),
        (lambda: inside({"front": -1}, {}), r"^an opening has an area of 0 m2 or more$"),
    ],
)
def test_what_is_refused(ask, sentence):
    with pytest.raises(ValueError, match=sentence):
        ask()


# EN 1991-1-4:2005, Tables 7.3a, 7.3b, 7.4a and 7.4b, recalled: pitch, wind, then zone: large, small
# area, pressed. Where the table has a pressing value alone, nothing is credited as sucking.
STEEP = {
    (45, 0): {"F": (0, 0, 0.7), "G": (0, 0, 0.7), "H": (0, 0, 0.6)},
    (45, 180): {"F": (-0.6, -1.3, 0), "G": (-0.5, -0.5, 0), "H": (-0.7, -0.7, 0)},
    (45, 90): {"Fup": (-1.5, -2.4, 0), "Flow": (-1.3, -2.0, 0), "G": (-1.4, -2.0, 0),
               "H": (-1.0, -1.3, 0), "I": (-0.9, -1.2, 0)},
    (60, 0): dict.fromkeys("FGH", (0, 0, 0.7)),
    (60, 180): {"F": (-0.5, -1.0, 0), "G": (-0.5, -0.5, 0), "H": (-0.5, -0.5, 0)},
    (60, 90): {"Fup": (-1.2, -2.0, 0), "Flow": (-1.2, -2.0, 0), "G": (-1.2, -2.0, 0),
               "H": (-1.0, -1.3, 0), "I": (-0.7, -1.2, 0)},
}  # fmt: skip


@pytest.mark.parametrize(("pitch", "theta"), STEEP)
def test_steep_monopitch_roofs_read_the_tables_rows(pitch, theta):
    found = {z.name: (z.cpe_10, z.cpe_1, z.cpe_up) for z in roof_zones(pitch, theta, 6, 6, 3)}
    assert found == STEEP[pitch, theta]


def test_between_the_rows_of_steep_roofs_it_is_a_straight_line():
    """By hand at 37.5 deg, half way from 30 to 45: F -1.1 and -0.6, H -0.8 and -0.7."""
    found = {z.name: z for z in roof_zones(37.5, 180, 6, 6, 3)}
    assert found["F"].cpe_10 == pytest.approx(-0.85)
    assert found["H"].cpe_10 == pytest.approx(-0.75)


def test_a_steep_duopitch_reads_its_rows():
    across = {z.name: z for z in zones_across(SlopeSize(60, 3), SlopeSize(60, 3), 6, 4)}
    assert {n: (z.cpe_10, z.cpe_up) for n, z in across.items()} == {
        "F": (0, 0.7), "G": (0, 0.7), "H": (0, 0.7), "I": (-0.2, 0), "J": (-0.3, 0),
    }  # fmt: skip
    along = {z.name: (z.cpe_10, z.cpe_1) for z in
             zones_along(SlopeSize(60, 3), SlopeSize(60, 3), 6, 4)}  # fmt: skip
    assert along == {"F": (-1.1, -1.5), "G": (-1.2, -2), "H": (-0.8, -1), "I": (-0.5, -0.5)}


def test_steep_roofs_are_for_an_engineer():
    with pytest.raises(
        Problem,
        match=r"^a roof of 61.00 deg: wind coefficients are known up to 60 deg; an engineer must "
        r"set them, or make the roof flatter$",
    ):
        roof_zones(61, 0, 3, 3, 2)
    with pytest.raises(
        Problem,
        match=r"^a canopy of 22.00 deg: wind coefficients are known from 0 to 20 deg; an engineer "
        r"must set them, or make the roof flatter$",
    ):
        canopy(22)
