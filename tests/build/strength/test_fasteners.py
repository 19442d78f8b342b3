"""Nails, screws, and the path of fixings that holds a roof down."""

from dataclasses import replace
from math import inf

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mewswright.build.strength import american
from mewswright.build.strength.fasteners import (
    Grip,
    embedment,
    johansen,
    lateral,
    nail_withdrawal,
    pull_out,
    screw_withdrawal,
    thin_plate_lateral,
    yield_moment_nmm,
)
from mewswright.build.strength.spacing import nail_spacing, number_needed, number_that_fit
from mewswright.build.strength.uplift_path import (
    NODES,
    Anchor,
    PathTimber,
    connector_design_kn,
    uplift_path,
    weakest,
)
from mewswright.handbook.evidence import SourceRef
from mewswright.handbook.fasteners import connector, connectors, fastener, fasteners
from mewswright.model.problem import Problem

joints = st.tuples(
    st.floats(8, 60), st.floats(6, 60), st.floats(8, 60), st.floats(10, 80),
    st.floats(2, 6), st.floats(500, 20000),
)  # fmt: skip


@given(joints)
def test_a_joint_does_not_know_which_side_has_the_head(joint):
    """Yield theory is the same seen from either side."""
    fh1, t1, fh2, t2, d, my = joint
    there, back = johansen(fh1, t1, fh2, t2, d, my), johansen(fh2, t2, fh1, t1, d, my)
    assert there.capacity_n == pytest.approx(back.capacity_n, rel=1e-9)
    swapped = {"a": "b", "b": "a", "c": "c", "d": "e", "e": "d", "f": "f"}
    for mode, other in swapped.items():
        assert there.modes[mode] == pytest.approx(back.modes[other], rel=1e-6, abs=1e-6)


@given(joints)
def test_mode_d_is_the_american_mode_iiis_times_1_05(joint):
    """NDS 2018, Table 12.3.1A: the same yield theory, with My = Fyb D^3 / 6, no 1.05."""
    fh1, t1, fh2, t2, d, my = joint
    here = johansen(fh1, t1, fh2, t2, d, my).modes["d"]
    there = american.nail_mode_iiis_lb(d, 6 * my / d**3, fh1, fh2, t1, 1.0)
    assert here == pytest.approx(1.05 * there, rel=1e-9)


@given(joints, st.floats(1, 2), st.integers(0, 5))
def test_more_of_anything_carries_no_less(joint, times, which):
    if which == 4:  # a thicker nail is stiffer as well: both grow together
        more = (*joint[:4], joint[4] * times, joint[5] * times**2.6)
    else:
        more = tuple(v * times if at == which else v for at, v in enumerate(joint))
    assert johansen(*more).capacity_n >= johansen(*joint).capacity_n * (1 - 1e-9)


@given(st.floats(2, 6), st.floats(5, 90), st.floats(5, 90))
def test_a_deeper_point_holds_no_less(d, a, b):
    short, long = min(a, b), max(a, b)
    assert nail_withdrawal(d, short, 350) <= nail_withdrawal(d, long, 350)
    assert screw_withdrawal(d, short, 350) <= screw_withdrawal(d, long, 350)


def test_withdrawal_counts_from_eight_diameters():
    # EN 1995-1-1, 8.3.2(7): none at 8 d, a half at 10 d, all from 12 d
    whole = nail_withdrawal(3, 36, 350) / 36
    assert nail_withdrawal(3, 24, 350) == 0
    assert nail_withdrawal(3, 30, 350) / 30 == pytest.approx(whole / 2)
    assert nail_withdrawal(3, 36, 350, wet_when_driven=True) / 36 == pytest.approx(whole * 2 / 3)
    assert screw_withdrawal(5, 29, 350) == 0  # below 6 d


def test_a_short_nail_is_refused():
    sheet, wood = Grip("osb3", 18, 550), Grip("timber", 95, 350)
    with pytest.raises(
        ValueError,
        match=(
            r"^smooth wire nail 3.35 x 65 through 18 mm goes 20 mm in, 26.8 are needed: "
            r"take a longer one$"
        ),
    ):
        lateral(fastener("nail_3.35x65"), sheet, replace(wood, thickness_mm=20))


def test_a_strap_nail_by_hand():
    # 3.75 square, 27.5 mm in C24: fh 0.082 x 350 x 3.75^-0.3 = 19.305; 0.4 fh t d = 796 N
    # against 1.15 sqrt(2 x 8391 x 19.305 x 3.75) = 1268 N.
    held = thin_plate_lateral(fastener("nail_3.75x30"), Grip("timber", 95, 350), 2.5)
    assert held == pytest.approx(796, abs=1)


def test_the_head_of_a_sheet_screw_governs():
    # 70e-6 x 350^2 x 8^2 = 549 N
    head, wood = Grip("osb3", 18, 550), Grip("timber", 145, 350)
    assert pull_out(fastener("screw_4x60"), head, wood) == pytest.approx(549, abs=1)
    assert pull_out(fastener("screw_4x40"), head, wood) == 0  # 22 mm is below 6 d


def test_spacings_of_table_8_2():
    # EN 1995-1-1, Table 8.2, d below 5, not drilled, to 420 kg/m3, along the grain
    least = nail_spacing(3.0)
    assert (least.along_mm, least.across_mm) == (30, 15)
    assert (least.end_loaded_mm, least.end_free_mm, least.edge_free_mm) == (45, 30, 15)
    assert nail_spacing(3.0, angle_deg=90).edge_loaded_mm == pytest.approx(21)
    with pytest.raises(ValueError, match=r"^timber of 550 kg/m3 is drilled before it is nailed$"):
        nail_spacing(3.0, rho_k=550)


def test_how_many_fit():
    # 45 + 30 of 195 go to the ends: 120 / 30 + 1 = 5; 45 - 30 = 15: two rows
    assert number_that_fit(195, 45, nail_spacing(3.0)) == 10
    assert number_that_fit(70, 45, nail_spacing(3.0)) == 0


@given(st.floats(0, 50), st.floats(50, 5000))
def test_the_number_needed_carries_and_one_fewer_does_not(force, each):
    count = number_needed(force, each)
    assert count * each >= force * 1e3 * (1 - 1e-6)
    assert count == 2 or (count - 1) * each < force * 1e3


ANCHOR = Anchor("resin anchor", 2, 5.0, SourceRef("a test", "-", "judgement"))


def forces(kn, **more):
    return {node: more.get(node.replace("-", "_"), kn) for node in NODES}


@given(st.floats(0, 30), st.floats(0, 30))
def test_more_uplift_asks_for_no_fewer_and_never_for_less(a, b):
    less, more = (uplift_path(forces(kn), anchor=ANCHOR) for kn in sorted((a, b)))
    for one, other in zip(less, more, strict=True):
        assert one.capacity_kn <= other.capacity_kn or one.means != other.means
        assert one.utilisation <= 1 or other.utilisation > 1


@given(st.floats(-5, 30))
def test_a_joint_that_passes_carries_its_force(kn):
    for joint in uplift_path(forces(kn), anchor=ANCHOR):
        assert (joint.utilisation <= 1) == (joint.capacity_kn >= max(0, kn))
        assert joint.count >= 2


def test_the_path_names_every_node_from_the_deck_down():
    path = uplift_path(forces(2.0), anchor=ANCHOR)
    assert tuple(joint.name for joint in path) == NODES
    assert all(joint.source.how_known for joint in path)


def test_a_base_that_nothing_holds_is_the_weakest():
    path = uplift_path(forces(2.0))
    assert weakest(path).name == "base-ground"
    assert weakest(path).utilisation == inf
    assert uplift_path(forces(0.0))[-1].utilisation == 0


def test_too_thick_a_deck_takes_longer_screws():
    screws = {t: uplift_path(forces(1.0), PathTimber(deck_mm=t))[0].means for t in (11, 18, 24)}
    assert screws == {11: "screw_4x40", 18: "screw_4x60", 24: "screw_4x60"}
    short = PathTimber(deck_mm=18, means={**PathTimber().means, "deck-rafter": ("screw_4x40",)})
    (joint, *_) = uplift_path(forces(1.0), short)
    assert (joint.count, joint.utilisation) == (0, inf)


def test_a_path_with_a_gap_is_refused():
    with pytest.raises(
        ValueError,
        match=(
            r"^an uplift path asks for the force at each of deck-rafter, rafter-plate, "
            r"plate-post, post-base, base-ground; got deck-rafter$"
        ),
    ):
        uplift_path({"deck-rafter": 1.0})


def test_the_handbook_s_pieces():
    assert set(connectors()) == {"angle_bracket_90", "joist_hanger_47", "strap_30"}
    assert connector("angle_bracket_90").capacity.source.how_known == "judgement"
    assert all(one.shank in ("round", "square", "screw") for one in fasteners().values())
    assert fastener("structural_screw_5x80").effective_mm == pytest.approx(3.63)
    with pytest.raises(Problem, match=r"^no connector 'strap30'; nearest: strap_30"):
        connector("strap30")
    with pytest.raises(Problem, match=r"^no fastener 'rivet'"):
        fastener("rivet")


def test_yield_moment_of_round_and_square_wire():
    # EN 1995-1-1 (8.14): 0.3 or 0.45 x 600 x 3.75^2.6 = 31.08
    assert yield_moment_nmm(600, 3.75) == pytest.approx(5594, abs=5)
    assert yield_moment_nmm(600, 3.75, "square") == pytest.approx(8391, abs=7)


def test_embedment_of_drilled_timber_and_plywood():
    # (8.16): 0.082 x 0.97 x 350 = 27.84; (8.20): 0.11 x 460 x 3^-0.3 = 36.39
    assert embedment(Grip("timber", 40, 350, predrilled=True), 3) == pytest.approx(27.84, abs=5e-3)
    assert embedment(Grip("plywood", 12, 460), 3) == pytest.approx(36.39, abs=5e-3)


def test_what_a_strap_and_an_angle_are_counted_for():
    # Service class 3, instantaneous: kmod 0.9, gamma_M 1.3. Strap: 8 nails of 796 N x 0.9 / 1.3
    # = 4.41 kN, below 8 x 0.9 / 1.3 = 5.54. Angle: 2.0 x 0.9 / 1.3 = 1.385 kN.
    strap, why = connector_design_kn(connector("strap_30"), "C24", 0.9)
    assert strap == pytest.approx(4.41, abs=5e-3)
    assert why == "its 8 fasteners in each leg govern"
    angle, why = connector_design_kn(connector("angle_bracket_90"), "C24", 0.9)
    assert angle == pytest.approx(1.385, abs=5e-4)
    assert why == "its own value governs"
