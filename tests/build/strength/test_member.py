"""Sentences that hold for every member, and a few worked by hand."""

from dataclasses import replace
from itertools import pairwise
from math import inf

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mewswright.build.strength.bending import critical_bending_stress, kcrit, lateral_factor
from mewswright.build.strength.check import check, governing
from mewswright.build.strength.column import instability, kc_both
from mewswright.build.strength.deflection import Deflections, Limits
from mewswright.build.strength.design import depth_factor, design_strengths
from mewswright.build.strength.member import Forces, Member, Use, kcrit_of, member_checks
from mewswright.build.strength.section import Rect
from mewswright.build.strength.span import RoofLoad, longest_span_m, rafter_checks
from mewswright.build.strength.support import Notch, notch_factor
from mewswright.handbook import timber_class
from mewswright.handbook.timber import DURATIONS
from mewswright.model.problem import Problem

KINK = 1e-3  # (6.34) steps up by 0.04 % where its second and third line meet

sides = st.floats(38, 200)
sections = st.builds(Rect, sides, sides)
few = st.floats(-2, 2)


@st.composite
def members(draw):
    section = draw(sections)
    return Member(
        section,
        draw(st.sampled_from(["C16", "C18", "C24"])),
        draw(st.floats(500, 4800)),
        draw(st.sampled_from([1, 2, 3])),
        top_held_mm=draw(st.sampled_from([0, 300, None])),
        bottom_held_mm=draw(st.sampled_from([0, 300, None])),
        bearing_mm=draw(st.floats(30, 100)),
        notch=Notch(section.h_mm * draw(st.floats(0.5, 1)), draw(st.floats(0, 50))),
        fall_mm=draw(st.floats(1, 300)),
    )


forces = st.builds(
    Forces,
    moment_y_kn_m=few, moment_z_kn_m=few, shear_kn=few, shear_z_kn=few,
    axial_kn=st.floats(-5, 5), bearing_kn=few,
    deflections=st.builds(Deflections, st.floats(0, 10), st.floats(0, 20)),
)  # fmt: skip
uses = st.builds(Use, st.sampled_from(DURATIONS))


def by_name(member, force, use):
    return {one.name: one.utilisation for one in member_checks(member, force, use)}


def kind(name):
    """Compression keeps its place whether or not it buckles."""
    return name.removesuffix(" with buckling")


def none_grows(more, less, leave=()):
    """Every check of `less` is used no more than its fellow of `more`."""
    before = {kind(name): share for name, share in more.items()}
    return all(
        share <= before[kind(name)] * (1 + KINK)
        for name, share in less.items()
        if name not in leave
    )


@given(members(), forces, uses, st.floats(1, 3))
def test_more_load_is_never_better(member, force, use, times):
    more = Forces(
        *(times * value for value in (
            force.moment_y_kn_m, force.moment_z_kn_m, force.shear_kn, force.shear_z_kn,
            force.axial_kn, force.bearing_kn,
        )),
        deflections=Deflections(
            times * force.deflections.permanent_mm, times * force.deflections.variable_mm
        ),
    )  # fmt: skip
    assert none_grows(by_name(member, more, use), by_name(member, force, use))


@given(members(), forces, uses, st.floats(1, 2))
def test_a_broader_stick_is_never_worse(member, force, use, times):
    section = Rect(member.section.b_mm * times, member.section.h_mm)
    broader = replace(member, section=section)
    assert none_grows(by_name(member, force, use), by_name(broader, force, use))


@given(members(), forces, uses, st.floats(1, 2))
def test_a_deeper_stick_is_never_worse_but_for_falling_over(member, force, use, times):
    """A deep thin stick falls over sooner: there, more depth may cost strength."""
    plain = replace(member, notch=None)
    deeper = replace(plain, section=Rect(member.section.b_mm, member.section.h_mm * times))
    assert none_grows(
        by_name(plain, force, use), by_name(deeper, force, use), ("lateral-torsional buckling",)
    )


@given(members(), forces, uses, st.floats(1, 2))
def test_a_longer_stick_buckles_and_falls_over_no_later(member, force, use, times):
    longer = replace(member, length_mm=member.length_mm * times)
    bare = replace(force, deflections=None)  # a given sag is judged more kindly over more span
    assert none_grows(by_name(longer, bare, use), by_name(member, bare, use))


@given(members(), forces, uses)
def test_c24_is_never_worse_than_c16(member, force, use):
    weak, strong = (replace(member, strength_class=name) for name in ("C16", "C24"))
    assert none_grows(by_name(weak, force, use), by_name(strong, force, use))


@given(members(), forces)
def test_a_shorter_load_is_never_worse(member, force):
    shares = [by_name(member, force, Use(duration)) for duration in DURATIONS]
    for longer, shorter in pairwise(shares):
        assert none_grows(longer, shorter)


@given(members(), forces, uses)
def test_holding_an_edge_is_never_worse(member, force, use):
    held = replace(member, top_held_mm=0, bottom_held_mm=0)
    assert none_grows(by_name(member, force, use), by_name(held, force, use))


@given(members(), forces, uses)
def test_the_weakest_check_is_never_negative_and_says_its_clause(member, force, use):
    for one in member_checks(member, force, use):
        assert one.utilisation >= 0
        assert one.clause
        assert one.passes == (one.demand <= one.capacity) or one.utilisation == pytest.approx(1)


@settings(max_examples=40)
@given(
    st.sampled_from(["45x70", "45x95", "45x145", "38x89"]),
    st.floats(0.15, 0.5),
    st.floats(0.6, 3),
    st.floats(1000, 4500),
    st.floats(1.01, 1.5),
)
def test_a_longer_rafter_is_used_more(section, dead, snow, span_mm, times):
    load, rect = RoofLoad(dead, snow, 1.0, 600), Rect.named(section)
    short = rafter_checks(rect, "C24", span_mm, load)
    long = rafter_checks(rect, "C24", span_mm * times, load)
    for one, other in zip(short, long, strict=True):
        assert one.name == other.name
        assert one.utilisation < other.utilisation


@settings(max_examples=20, deadline=None)
@given(st.floats(0.6, 3), st.floats(1, 2))
def test_more_snow_spans_no_farther(snow, times):
    section = Rect(45, 145)
    less = longest_span_m(section, "C24", RoofLoad(0.3, snow, 1.0, 600))
    assert longest_span_m(section, "C24", RoofLoad(0.3, snow * times, 1.0, 600)) <= less


@given(st.floats(0, 10), st.floats(0, 10))
def test_kc_falls_from_one(a, b):
    slender, stout = max(a, b), min(a, b)
    assert 0 < instability(slender)[1] <= instability(stout)[1] <= 1


@given(st.floats(1, 200), st.floats(1, 200))
def test_kcrit_rises_with_the_critical_stress(a, b):
    assert 0 < lateral_factor(24, min(a, b)) <= lateral_factor(24, max(a, b)) + 2e-3 <= 1.002


def test_kcrit_joins_at_its_corners():
    # (6.34): 1.56 - 0.75 x 0.75 = 0.9975 against 1; 1.56 - 0.75 x 1.4 = 0.51 = 1/1.4^2
    for slenderness, left in ((0.75, 1.0), (1.4, 0.51)):
        assert lateral_factor(24, 24 / slenderness**2) == pytest.approx(left, abs=1e-9)
        after = lateral_factor(24, 24 / (slenderness * 1.000001) ** 2)
        assert after == pytest.approx(left, abs=0.003)


def test_uplift_presses_the_free_bottom_edge():
    # By hand: 38 x 140, C16, 4 m, bottom not held: lef 0.9 x 4000 = 3600;
    # 0.78 x 38^2 x 5400 / (140 x 3600) = 12.07; sqrt(16 / 12.07) = 1.151; 1.56 - 0.75 x = 0.6965.
    rafter = Member(Rect(38, 140), "C16", 4000, 2, top_held_mm=0)
    assert critical_bending_stress(rafter.section, 3600, 5400) == pytest.approx(12.07, abs=0.005)
    assert kcrit_of(rafter, -1.0) == pytest.approx(0.6965, abs=5e-4)
    assert kcrit_of(rafter, 1.0) == 1.0
    up = member_checks(rafter, Forces(moment_y_kn_m=-1.5), Use("instantaneous"))
    down = member_checks(rafter, Forces(moment_y_kn_m=1.5), Use("instantaneous"))
    assert governing(up).utilisation == pytest.approx(
        governing(down).utilisation / 0.6965, rel=1e-3
    )
    assert governing(up).note.startswith("bottom edge in compression")


def test_a_load_on_the_pressed_edge_lengthens_it_by_two_depths():
    # Table 6.1, note: lef is increased by 2h where the load is applied at the compression edge.
    beam = Member(Rect(45, 195), "C24", 3000, 2)
    assert kcrit_of(beam, 1.0) == kcrit(beam.section, 0.9 * 3000 + 2 * 195, "C24")
    assert kcrit_of(beam, 1.0, load_on_top=False) == kcrit(beam.section, 0.9 * 3000, "C24")


def test_a_post_by_hand():
    # 95 x 95 C24, 2.4 m, SC3, short: lambda 2400/27.42 = 87.5, rel 87.5/pi sqrt(21/7400) = 1.484;
    # k = 0.5 (1 + 0.2 x 1.184 + 2.2024) = 1.7196; kc = 1/(1.7196 + sqrt(2.957 - 2.2024)) = 0.3864.
    # 10 kN / 9025 = 1.108; fc0d = 0.7 x 21 / 1.3 = 11.31; share 1.108 / (0.3864 x 11.31) = 0.2536.
    post = Member(Rect(95, 95), "C24", 2400, 3)
    assert kc_both(post.section, timber_class("C24"), 2400, 2400)[0] == pytest.approx(
        0.3864, abs=2e-4
    )
    (pressed,) = member_checks(post, Forces(axial_kn=-10), Use("short"))
    assert pressed.name == "compression with buckling"
    assert pressed.utilisation == pytest.approx(0.2536, abs=5e-4)


def test_bending_with_compression_and_tension_by_hand():
    # The same post with 1 kNm: W 142896, 7.0 N/mm2; fmd = 0.7 x 24 x (150/95)^0.2 / 1.3 = 14.158;
    # 0.4943 + 0.2536 = 0.748. With 10 kN of tension: ft0d = 0.7 x 14.5 x 1.0957 / 1.3 = 8.555;
    # 1.108 / 8.555 + 0.4943 = 0.6238.
    post = Member(Rect(95, 95), "C24", 2400, 3)
    force = Forces(moment_y_kn_m=1, axial_kn=-10)
    assert by_name(post, force, Use("short"))["bending and compression"] == pytest.approx(
        0.748, abs=1e-3
    )
    pulled = by_name(post, Forces(moment_y_kn_m=1, axial_kn=10), Use("short"))
    assert pulled["bending and tension"] == pytest.approx(0.6238, abs=1e-3)


def test_bending_both_ways_takes_seven_tenths_of_the_lesser():
    # (6.11), (6.12) on a square stick with equal moments: 1.7 times one of them.
    stick, use = Member(Rect(100, 100), "C24", 2000, 2), Use("short")
    one = by_name(stick, Forces(moment_y_kn_m=1), use)["bending"]
    both = by_name(stick, Forces(moment_y_kn_m=1, moment_z_kn_m=1), use)["bending"]
    assert both == pytest.approx(1.7 * one)


def test_notch_by_hand():
    # (6.62), h 145, 109 left, 50 to the corner, square: a = 0.7517;
    # 5 / (12.042 (0.4320 + 0.8 x 0.3448 x 0.8748)) = 0.617.
    assert notch_factor(145, Notch(109, 50)) == pytest.approx(0.617, abs=5e-4)
    assert notch_factor(145, Notch(145, 0)) == 1.0


@given(st.floats(60, 250), st.floats(0.5, 1), st.floats(0.5, 1), st.floats(0, 100))
def test_a_deeper_notch_is_never_better(depth, a, b, reach):
    deep, shallow = (Notch(depth * share, reach) for share in (min(a, b), max(a, b)))
    left = notch_factor(depth, deep) * deep.left_mm
    assert left <= notch_factor(depth, shallow) * shallow.left_mm * (1 + 1e-9)


def test_kh_of_the_sizes_that_are_sold():
    # EN 1995-1-1, 3.2(3): (150/h)^0.2, at most 1.3, none from 150 up
    assert depth_factor(95) == pytest.approx(1.0957, abs=5e-5)
    assert depth_factor(38) == pytest.approx(1.3)
    assert depth_factor(150) == depth_factor(195) == 1.0


def test_load_sharing_does_not_help_at_a_bearing():
    alone, shared = (design_strengths("C24", Rect(45, 145), 2, "short", ksys=k) for k in (1, 1.1))
    assert shared.fm_y == pytest.approx(1.1 * alone.fm_y)
    assert shared.fc90 == alone.fc90


def test_limits_are_span_over_what_is_asked():
    beam = Member(Rect(45, 145), "C24", 3000, 2)
    force = Forces(deflections=Deflections(4, 6, psi2=0.2))
    found = {one.name: one for one in member_checks(beam, force, Use("short"))}
    # kdef 0.8: 4 x 1.8 + 6 x 1.16 = 14.16 against 3000/250 and 3000/150; 10 against 3000/300
    assert found["deflection at once"].utilisation == pytest.approx(1.0)
    assert found["deflection in the end, net"].demand == pytest.approx(14.16)
    assert found["deflection in the end, net"].capacity == 12
    assert not found["deflection in the end, net"].passes
    assert found["deflection in the end"].capacity == 20
    hung = replace(beam, cantilever=True)
    use = Use("short", limits=Limits(net_final=None, final=None))
    (only,) = member_checks(hung, force, use)
    assert only.capacity == 20  # half the divisor


def test_a_flat_roof_that_sags_holds_a_pool():
    # 1:40 over 2.4 m falls 60 mm, so 15 mm of lasting sag is the most; 10 x 1.8 = 18.
    rafter = Member(Rect(45, 95), "C16", 2400, 2, fall_mm=60)
    found = member_checks(rafter, Forces(deflections=Deflections(10, 5)), Use("short"))
    pool = next(one for one in found if one.name == "ponding")
    assert (pool.demand, pool.capacity, pool.passes) == (pytest.approx(18), 15, False)


def test_what_is_refused():
    with pytest.raises(ValueError, match=r"^a section is written like 45x145, got '45 by 145'$"):
        Rect.named("45 by 145")
    with pytest.raises(
        ValueError,
        match=r"^a force of 2 kN bears on this member, but not over what length: give bearing_mm$",
    ):
        member_checks(Member(Rect(45, 95), "C24", 2000, 2), Forces(bearing_kn=2), Use("short"))
    with pytest.raises(Problem, match=r"^no timber class 'D30'; there are: C16, C18, C24$"):
        member_checks(Member(Rect(45, 95), "D30", 2000, 2), Forces(), Use("short"))
    with pytest.raises(
        ValueError, match=r"^x: demand and capacity must be zero or more, got -1 and 2$"
    ):
        check("x", "y", -1, 2, "kN")
    with pytest.raises(ValueError, match=r"must be zero or more, got nan and 2$"):
        check("x", "y", float("nan"), 2, "kN")
    with pytest.raises(ValueError, match=r"^a member is longer than 0 mm, got 0$"):
        Member(Rect(45, 95), "C24", 0, 2)


def test_nothing_carries_nothing():
    assert check("x", "y", 0, 0, "kN").utilisation == 0
    assert check("x", "y", 1, 0, "kN").utilisation == inf


def test_the_weak_way_governs_a_joist_that_is_bent_sideways():
    # (6.12) on 45 x 145 C24, SC2 short: W_y 157688, W_z 48938; fmd 0.9 x 24 / 1.3 = 16.615,
    # with kh (150/145)^0.2 = 1.0068 and (150/45)^0.2 = 1.2723. 0.7 x 3.171/16.728 +
    # 10.217/21.139 = 0.1327 + 0.4833 = 0.616.
    joist = Member(Rect(45, 145), "C24", 2000, 2)
    force = Forces(moment_y_kn_m=0.5, moment_z_kn_m=0.5)
    assert by_name(joist, force, Use("short"))["bending"] == pytest.approx(0.616, abs=5e-4)


def test_a_stud_buckles_the_weak_way_by_hand():
    # 45 x 145 C24, SC2 short, fc0d 0.9 x 21 / 1.3 = 14.538. z: 2400/12.990 = 184.75, rel
    # 184.75/pi sqrt(21/7400) = 3.1328; k = 0.5 (1 + 0.5666 + 9.8145) = 5.6905;
    # kc = 1/(5.6905 + sqrt(32.382 - 9.8145)) = 0.09577. 5 kN / 6525 = 0.7663: 0.5504.
    # y: rel 0.9722, k = 1.0398, kc = 1/(1.0398 + sqrt(1.0812 - 0.9452)) = 0.7099: 0.0743.
    stud = Member(Rect(45, 145), "C24", 2400, 2)
    use = Use("short")
    pressed = by_name(stud, Forces(axial_kn=-5), use)
    assert pressed == {"compression with buckling": pytest.approx(0.5504, abs=5e-4)}
    # Held sideways by boards, it can only go the strong way.
    held = replace(stud, buckling_z_mm=0)
    assert by_name(held, Forces(axial_kn=-5), use) == {
        "compression with buckling": pytest.approx(0.0743, abs=5e-4)
    }
    # (6.24) with 0.5 kNm about y: 0.5504 + 0.7 x 3.1708/16.728 = 0.6831, more than (6.23).
    both = [
        one
        for one in member_checks(stud, Forces(moment_y_kn_m=0.5, axial_kn=-5), use)
        if one.name == "bending and compression"
    ]
    assert both[0].utilisation == pytest.approx(0.6831, abs=5e-4)
    assert both[0].clause.endswith("(6.24)")


def test_a_stocky_block_squares_its_compression():
    # (6.19): 95 x 95 C24, 200 mm long (rel 0.124), SC3 short: 50 kN is 5.540 of 11.308,
    # squared 0.2400; 1 kNm is 0.4943.
    block = Member(Rect(95, 95), "C24", 200, 3)
    force = Forces(moment_y_kn_m=1, axial_kn=-50)
    share = by_name(block, force, Use("short"))["bending and compression"]
    assert share == pytest.approx(0.2400 + 0.4943, abs=5e-4)
