"""Wind on whole units: the reference case by hand, and what holds for every unit."""

import pytest
from hypothesis import given, settings
from hypothesis.strategies import fixed_dictionaries, floats, sampled_from

from mewswright.build.actions.unit_faces import box_of
from mewswright.build.actions.wind_on import wind_on
from mewswright.build.shell import shell_of
from support.units import unit_yard

MESHED = {"infill": "meshed", "gap_mm": 23, "bar_mm": 2, "mesh_kind": "welded"}
BOARDED = {"infill": "boarded"}
FLUSH = {"overhang_front_mm": 0, "overhang_back_mm": 0, "overhang_side_mm": 0}
FRAME = {"post": "50x50", "sole": "50x50", "head": "50x50", "stud": "50x50"}


def unit(**changes):
    return shell_of(unit_yard(**changes).quarters[0])


def test_the_open_front_by_hand():
    """The published case WIND-11, on a unit: 3.0 x 2.4 m over its frame, roof flush with it.

    Each zone by hand from Table 7.3a at its own pitch, the pressure inside 0.9 x 0.8.
    """
    shell = unit(
        width_mm=2900, depth_mm=2300, front_height_mm=2400, back_height_mm=2200,
        roof=FLUSH, frame=FRAME, front=MESHED,
    )  # fmt: skip
    found = wind_on(shell, 0.6)
    case = next(case for case in found.cases if case.wind_from == "front")
    assert case.name() == "wind from the front, open front"
    assert case.cpi_high == pytest.approx(0.72)
    pitch = shell.slopes[0].pitch_deg
    assert pitch == pytest.approx(4.97, abs=0.01)  # so rows of 5 deg and of the flat roof
    assert {z.zone: z.area_m2 for z in case.roof} == pytest.approx({"F": 0.45, "G": 0.45, "H": 6.3})
    ups = {z.zone: z.up_kn_m2 for z in case.roof}
    assert ups == pytest.approx({"F": 3.02 * 0.6, "G": 2.02 * 0.6, "H": 1.52 * 0.6})
    assert case.roof_up_kn_m2 * 7.2 == pytest.approx(7.106, rel=0.001)
    assert found.roof_up.case == "wind from the front, open front"
    # The back: pushed out by 0.72 inside and 0.5 behind, less the table's step in h/d.
    back = found.face("back")
    assert back.out_kn_m2 >= 1.22 * 0.6 * 0.99
    assert found.inside.case == "dominant"


def test_two_open_sides_are_a_canopy_and_both_are_reckoned():
    found = wind_on(unit(front=MESHED, faces={"left": MESHED}), 0.5)
    assert found.inside.case == "canopy"
    names = {case.name() for case in found.cases}
    assert "canopy, blocked below" in names
    assert "wind from the left, open left" in names


def test_a_closed_unit_is_neither_open_nor_a_canopy():
    found = wind_on(unit(front=BOARDED), 0.5)
    assert found.inside.case == "closed"
    assert {(case.cpi_high, case.cpi_low) for case in found.cases} == {(0.2, -0.3)}


def test_an_open_front_lifts_more_than_a_boarded_one():
    shut, stands_open = (wind_on(unit(front=f), 0.5) for f in (BOARDED, MESHED))
    assert stands_open.roof_up.kn_m2 > shut.roof_up.kn_m2
    assert stands_open.face("back").out_kn_m2 > shut.face("back").out_kn_m2
    assert stands_open.drag("front") > shut.drag("front") == pytest.approx(1.3, abs=0.21)


def test_mesh_takes_at_least_half_of_a_solid_face():
    """Solid by half at least, c_f 2.0: the peak pressure itself."""
    front = wind_on(unit(front=MESHED), 0.5).face("front")
    assert front.porous
    assert min(front.into_kn_m2, front.out_kn_m2) >= 0.5


def test_without_a_roof_walls_stand_free():
    found = wind_on(unit(front=MESHED, roof={"form": "none"}), 0.5)
    assert found.roof_up.kn_m2 == found.roof_down.kn_m2 == found.overhang_up_kn_m2 == 0
    # Table 7.9 with returns: 2.1 in zone A
    assert found.face("back").into_edge_kn_m2 == pytest.approx(2.1 * 0.5)


def test_heights_and_openings_of_a_unit():
    box = box_of(unit(front={**MESHED, "upstand_mm": 400}, vent_cm2=500, roof={}))
    assert box.height_m > 2.4
    assert box.open_m2["front"] == pytest.approx(3.0 * 2.0)
    assert box.open_m2["vents"] == pytest.approx(0.05)
    assert box.high_side == "front"
    assert box.porous == pytest.approx({"front": 1 - (23 / 25) ** 2})


UNITS = fixed_dictionaries(
    {
        "width_mm": floats(1500, 9000),
        "depth_mm": floats(1500, 6000),
        "front_height_mm": floats(2000, 2800),
        "back_height_mm": floats(2000, 2800),
        "front": sampled_from((MESHED, BOARDED, {"infill": "open"})),
        "faces": fixed_dictionaries({"left": sampled_from((MESHED, BOARDED))}),
    }
)


@settings(max_examples=40, deadline=None)
@given(UNITS, floats(0.2, 1.5))
def test_what_holds_for_every_unit(drawn, qp):
    found = wind_on(unit(**drawn), qp)
    assert found.roof_up.kn_m2 <= found.roof_up_edge.kn_m2 + 1e-9
    assert found.roof_up_edge.kn_m2 <= found.roof_up_sheet.kn_m2 + 1e-9
    assert found.roof_down.kn_m2 <= found.roof_down_edge.kn_m2 + 1e-9
    assert found.overhang_up_kn_m2 >= found.roof_up_edge.kn_m2 - 1e-9
    for case in found.cases:
        assert case.cpi_low <= 0 <= case.cpi_high <= 0.72 + 1e-9
    for face in found.faces:
        assert 0 < face.into_kn_m2 <= face.into_edge_kn_m2 + 1e-9
        assert 0 < face.out_kn_m2 <= face.out_edge_kn_m2 + 1e-9 <= face.out_sheet_kn_m2 + 2e-9


@settings(max_examples=20, deadline=None)
@given(UNITS)
def test_all_pressures_grow_with_the_peak_pressure(drawn):
    one, two = (wind_on(unit(**drawn), qp) for qp in (0.5, 1.0))
    assert two.roof_up.kn_m2 == pytest.approx(2 * one.roof_up.kn_m2)
    assert two.face("left").out_sheet_kn_m2 == pytest.approx(2 * one.face("left").out_sheet_kn_m2)


def test_no_wind_is_refused():
    with pytest.raises(ValueError, match=r"^peak pressure is above 0, got 0 kN/m2$"):
        wind_on(unit(), 0)
