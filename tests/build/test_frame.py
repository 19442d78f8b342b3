"""The frame of a unit: what must hold for every size, and one unit worked by hand."""

from bisect import bisect_left
from itertools import pairwise
from math import cos, radians, tan

import pytest
from hypothesis import given, settings
from hypothesis.strategies import builds, floats, integers, sampled_from

from mewswright.build.frame import built_frame
from mewswright.build.shell import birdsmouth_mm, diagonal_mm, rafter_length_mm
from mewswright.build.takeoff import take_off
from mewswright.model.problem import Problem
from support.units import BARRED, BOARDED, corners, unit_yard

HAIR = 1e-6
FRAME = ("post", "sole", "head", "rafter", "stud", "nogging", "batten", "trim", "bar")
FACES = (
    BOARDED,
    BARRED,
    {**BARRED, "direction": "horizontal", "upstand_mm": 500},
    {**BARRED, "upstand_mm": 700, "gap_mm": 22},
    {"infill": "meshed", "gap_mm": 24, "mesh_kind": "welded", "upstand_mm": 300},
    {"infill": "slatted", "gap_mm": 30, "direction": "horizontal"},
    {"infill": "slatted", "gap_mm": 30},
    {"infill": "open"},
    {**BARRED, "outer": {
        "infill": "meshed", "gap_mm": 11, "mesh_kind": "welded", "stand_off_mm": 130}},
)  # fmt: skip


def _unit(width, depth, front_height, back_height, front, left, back, spacing):
    return unit_yard(
        front=front,
        faces={"left": left, "back": back},
        width_mm=width,
        depth_mm=depth,
        front_height_mm=front_height,
        back_height_mm=back_height,
        frame={"stud_spacing_mm": spacing, "rafter_spacing_mm": spacing},
    )


UNITS = builds(
    _unit,
    width=integers(1200, 6000),
    depth=integers(1500, 5000),
    front_height=floats(1900, 3500),
    back_height=floats(1900, 3500),
    front=sampled_from(FACES),
    left=sampled_from(FACES),
    back=sampled_from(FACES),
    spacing=integers(300, 900),
)


def _frame(yard):
    return built_frame(yard, yard.quarters[0])


def _sticks(frame, *kinds):
    return [s for part in frame.parts if part.kind in kinds for s in part.sticks]


@given(yard=UNITS)
@settings(max_examples=25)
def test_no_timber_reaches_into_the_clear_space(yard):
    """Every piece lies wholly behind one of the planes that bound the clear space."""
    unit = yard.quarters[0]
    rise = (unit.back_height_mm - unit.front_height_mm) / unit.depth_mm
    for part in _frame(yard).parts:
        if part.kind not in FRAME:
            continue
        for stick in part.sticks:
            box = corners(stick)
            outside = (
                all(x <= HAIR for x, _, _ in box)
                or all(x >= unit.width_mm - HAIR for x, _, _ in box)
                or all(y <= HAIR for _, y, _ in box)
                or all(y >= unit.depth_mm - HAIR for _, y, _ in box)
                or all(z >= unit.front_height_mm + rise * y - 1e-3 for _, y, z in box)
            )
            assert outside, (part.mark, part.what, box)


@given(yard=UNITS)
@settings(max_examples=20)
def test_the_undersides_of_the_rafters_are_the_ceiling(yard):
    unit = yard.quarters[0]
    rise = (unit.back_height_mm - unit.front_height_mm) / unit.depth_mm
    rafters = _sticks(_frame(yard), "rafter")
    assert rafters
    for stick in rafters:
        under = sorted(corners(stick), key=lambda c: c[2] - rise * c[1])[:4]
        for _, y, z in under:
            assert z == pytest.approx(unit.front_height_mm + rise * y, abs=1e-6)


@given(yard=UNITS)
@settings(max_examples=20)
def test_rafters_and_studs_stand_no_further_apart_than_asked(yard):
    frame = _frame(yard)
    at_most = yard.quarters[0].frame.rafter_spacing_mm
    rafters = sorted(stick.start_mm[0] for stick in _sticks(frame, "rafter"))
    assert max(b - a for a, b in pairwise(rafters)) <= at_most + HAIR
    # The right wall is boarded and has no opening in any of these units.
    studs = sorted(
        stick.start_mm[1]
        for stick in _sticks(frame, "stud")
        if stick.start_mm[0] > yard.quarters[0].width_mm
        and 0 < stick.start_mm[1] < yard.quarters[0].depth_mm
    )
    assert max(b - a for a, b in pairwise(studs)) <= at_most + HAIR
    assert studs[0] == pytest.approx(22.5)
    assert studs[-1] == pytest.approx(yard.quarters[0].depth_mm - 22.5)


@given(yard=UNITS)
@settings(max_examples=20)
def test_the_saw_list_agrees_with_the_pieces_in_place(yard):
    """A square-cut piece is as long as its stick; a raked one as long as its long point."""
    for part in _frame(yard).parts:
        if not part.sawn:
            continue
        assert part.count == len(part.sticks)
        for stick in part.sticks:
            line = sum((b - a) ** 2 for a, b in zip(stick.start_mm, stick.end_mm, strict=True))
            slants = (part.cut_start_deg != 0) + (part.cut_end_deg != 0)
            # A long point is past the middle by half the section, times the cut's tangent.
            thick = max(stick.breadth_mm, stick.depth_mm)
            most = slants * thick / 2 * tan(radians(max(part.cut_start_deg, part.cut_end_deg)))
            if part.what == "slat":
                most = stick.depth_mm + 47
            assert -0.51 <= part.length_mm - line**0.5 <= most + 0.6, part


@given(
    width=integers(1200, 5200),  # a longer plate is joined where the lengths run out, from the left
    depth=integers(1500, 5000),
    back=floats(1900, 3500),
    front=sampled_from(FACES),
    sides=sampled_from(FACES),
)
@settings(max_examples=20)
def test_a_unit_with_like_sides_is_its_own_mirror_image(width, depth, back, front, sides):
    yard = unit_yard(
        front=front,
        faces={"left": sides, "right": sides},
        width_mm=width,
        depth_mm=depth,
        back_height_mm=back,
    )
    unit = yard.quarters[0]
    sticks = _sticks(_frame(yard), "post", "stud", "sole", "head", "rafter", "bar")
    ends = [(stick.start_mm, stick.end_mm) for stick in sticks]
    seen = sorted(_level_order(*both) for both in ends)
    mirrored = sorted(
        _level_order(*[(unit.width_mm - x, y, z) for x, y, z in both]) for both in ends
    )
    # Rounding may part what sorting should keep together, so each looks near its own place.
    for both in mirrored:
        low, high = bisect_left(seen, (both[0] - 0.01,)), bisect_left(seen, (both[0] + 0.01,))
        assert any(both == pytest.approx(other, abs=0.01) for other in seen[low:high]), both


def _level_order(start, end):
    """Both ends as one row of numbers, the same whichever end comes first."""
    first, last = sorted([start, end], key=lambda place: [round(v) for v in place])
    return (*first, *last)


def test_one_unit_worked_by_hand():
    """3000 x 2400 mm, falling 300 mm in 2400 mm (1 in 8) to the back; 45x95, rafters 45x145."""
    yard = unit_yard()
    frame = _frame(yard)
    found = {(part.what, part.place): part for part in frame.parts}
    assert frame.outer_width_mm == 3190
    assert frame.outer_depth_mm == 2590
    assert found["post", "front"].length_mm == 2310  # 2400 less two plates of 45
    assert found["post", "front"].count == 3  # 3095 mm from middle to middle, 1800 at most
    # The back plate clears the falling rafters at its outer edge, 95 / 8 mm lower.
    assert found["stud", "back"].length_mm == 1998  # 2100 - 11.875 - 90
    run, slope = 2400 + 2 * 95 + 200 + 150, (1 + 1 / 64) ** 0.5
    assert found["rafter", "roof"].length_mm == round(run * slope + 145 / 8)
    assert found["rafter", "roof"].count == 7  # 3145 mm from middle to middle, 600 at most
    assert found["rafter", "roof"].cut_end_deg == 7.13
    raked = found["raked head plate", "left and right"]
    assert (raked.count, raked.length_mm) == (2, round(2400 * slope + 45 / 8))


def test_side_studs_are_as_long_as_their_place_wants():
    """Each raked stud, long point: ceiling at its higher edge, less plumb plate and sole."""
    yard = unit_yard()
    slope = (1 + 1 / 64) ** 0.5
    for part in _frame(yard).parts:
        if part.kind == "stud" and part.place == "left and right":
            y = part.sticks[0].start_mm[1]
            long_point = 2400 - (y - 22.5) / 8 - 45 * slope - 45
            assert part.length_mm == round(long_point)


def test_the_keeper_may_say_how_many_posts():
    frame = _frame(unit_yard(frame={"post_count": 5}))
    middles = [s.start_mm[0] for s in _sticks(frame, "post")]
    assert middles == pytest.approx([-47.5 + 3095 * i / 4 for i in range(5)])
    assert "the front has 5 posts, as the yard file says" in frame.assumptions


def test_a_long_plate_is_joined_over_a_post():
    yard = unit_yard(width_mm=7200, stock=[
        {"section": "45x95", "length_mm": 4800, "price": 18}])  # fmt: skip
    frame = _frame(yard)
    posts = {round(s.start_mm[0], 3) for s in _sticks(frame, "post")}
    ends = sorted(
        (s.start_mm[0], s.end_mm[0]) for s in _sticks(frame, "head") if s.start_mm[1] == -47.5
    )
    assert ends[0][0] == -95
    assert ends[-1][1] == 7295
    for (_, left), (right, _) in pairwise(ends):
        assert left == right
        assert round(left, 3) in posts
    assert max(b - a for a, b in ends) <= 4800


def test_a_door_is_trimmed_and_nothing_stands_in_it():
    door = {
        "between": ["Unit", "Lobby"], "width_mm": 750, "height_mm": 1800, "sill_mm": 150,
        "face": "back", "at_mm": 1200,
    }  # fmt: skip
    frame = _frame(unit_yard(door=[door]))
    assert [p.count for p in frame.parts if p.what == "jamb"] == [2]
    for part in frame.parts:
        for stick in part.sticks:
            if stick.start_mm[1] < 2400 or part.kind in ("rafter", "perch"):
                continue
            box = corners(stick)
            clear = (
                all(x <= 825 + HAIR for x, _, _ in box)
                or all(x >= 1575 - HAIR for x, _, _ in box)
                or all(z <= 150 + HAIR for _, _, z in box)
                or all(z >= 1950 - HAIR for _, _, z in box)
            )
            assert clear, part


def test_a_door_higher_than_its_wall_is_said():
    door = {
        "between": ["Unit", "Lobby"], "width_mm": 750, "height_mm": 2100, "sill_mm": 150,
        "face": "back", "at_mm": 1200,
    }  # fmt: skip
    assert (
        "door to Lobby: its top is 2250 mm up and the head plate of the back face leaves 2043 mm; "
        "make it 207 mm lower"
    ) in _frame(unit_yard(door=[door])).assumptions


def test_a_door_without_a_place_is_said():
    door = {"between": ["Unit", "Lobby"], "width_mm": 750, "height_mm": 1800}
    assert (
        "no opening is framed for the door to Lobby: give the door 'face' and 'at_mm'"
        in _frame(unit_yard(door=[door])).assumptions
    )


def test_a_pitch_has_no_frame():
    yard = unit_yard()
    pitch = yard.quarters[0].model_copy(update={"kind": "pitch"})
    with pytest.raises(
        Problem,
        match=r"^'Unit' is a pitch, and a pitch has no frame: ask for a loft, shelter or "
        r"isolation$",
    ):
        built_frame(yard, pitch)


def test_a_roof_over_ten_degrees_is_notched_and_a_flatter_one_is_packed():
    steep = _frame(unit_yard(front_height_mm=2900))
    assert "birdsmouth over each plate" in next(p.note for p in steep.parts if p.kind == "rafter")
    assert not [p for p in steep.parts if p.what == "tapered packing under a rafter"]
    flat = _frame(unit_yard())
    packing = next(p for p in flat.parts if p.what == "tapered packing under a rafter")
    assert packing.count == 14
    assert packing.note == "from offcuts, 0 to 11.9 mm thick across the plate"


@pytest.mark.parametrize(
    ("length_m", "width_m", "diagonal_m"), [(3.0, 2.4, 3.8419), (3.6, 4.2, 5.5317)]
)
def test_diagonals_agree_with_the_worked_example(length_m, width_m, diagonal_m):
    """Worked example GEO-01: setting-out diagonals by Pythagoras, to 0.1 mm."""
    assert diagonal_mm(length_m * 1000, width_m * 1000) == pytest.approx(diagonal_m * 1000, abs=0.1)


def test_a_rafter_edge_is_its_run_over_the_cosine():
    """GEO-02: rafter = (run + overhangs) / cos a; 1 in 40 is 1.43 deg."""
    assert rafter_length_mm(2400, 1.4321) == pytest.approx(2400 * (1 + 1 / 1600) ** 0.5, abs=0.01)
    assert rafter_length_mm(2400, 20, 145) == pytest.approx(
        (2400 + 145 * tan(radians(20)) * cos(radians(20))) / cos(radians(20))
    )


def test_a_birdsmouth_agrees_with_the_worked_example():
    """Worked example GEO-03: seat 89 mm at 5 deg, heel 7.79 mm and depth 7.76 mm."""
    heel, depth = birdsmouth_mm(89, 5)
    assert heel == pytest.approx(7.79, abs=0.01)
    assert depth == pytest.approx(7.76, abs=0.01)


def test_setting_out_gives_both_diagonals():
    yard = unit_yard()
    out = take_off(yard, yard.quarters[0]).setting_out
    assert out.inner_diagonal_mm == pytest.approx((3000**2 + 2400**2) ** 0.5, abs=0.05)
    assert out.frame_diagonal_mm == pytest.approx((3190**2 + 2590**2) ** 0.5, abs=0.05)
    assert out.roof_falls_one_in == 8
