"""Rows of units: each shared wall once, nothing in one place twice, and what it saves."""

from itertools import combinations, pairwise

import pytest

from mewswright.build.actions.of_unit import actions_on
from mewswright.build.frame import built_frame
from mewswright.build.frame_report import frame_report, wind_cases
from mewswright.build.lines import lines_of
from mewswright.build.masses import density_kg_m3, part_mass
from mewswright.build.row import shell_in, starts_mm, unit_or_row
from mewswright.build.shell import breadth_depth_mm
from mewswright.build.solids import solids_of, why_not_whole
from mewswright.build.takeoff import take_off
from mewswright.model.place import Loads
from mewswright.model.problem import Problem
from support.row_yard import SKIN_MM, row_yard
from support.units import corners

SOLID = ("post", "sole", "head", "rafter", "stud", "nogging", "batten", "trim")


def _metres(taken, section):
    return sum(p.length_mm * p.count for p in taken.parts if p.sawn and p.section == section)


def _whole(yard):
    return unit_or_row(yard, "Row")


def test_a_row_saves_the_shared_walls_and_no_more():
    """Counted by hand for level units of 3000 x 2400 mm, 2400 high, 95 mm walls, one joint.

    45x95: a side wall is 2 plates of 2400, 5 studs of 2310 and 4 noggings, 2355 - 4 x 45 in
    all. The next unit's two soles and two heads, its row of noggings behind and of rails in
    front begin 22 mm before its clear line instead of 95: six times 73 mm less.
    45x145: one rafter of 2940, and 28 mm less blocking over each plate.
    """
    yard = row_yard(back_height_mm=2400)
    row = take_off(*_whole(yard))
    single = take_off(row_yard(rows=False, back_height_mm=2400), yard.quarters[0])
    joints = 2
    wall = 2 * 2400 + 5 * 2310 + (2355 - 4 * 45)
    saved = 3 * _metres(single, "45x95") - _metres(row, "45x95")
    assert saved == pytest.approx(joints * (wall + 6 * 73), abs=20)  # lengths are whole mm
    saved = 3 * _metres(single, "45x145") - _metres(row, "45x145")
    assert saved == pytest.approx(joints * (2940 + 2 * 28), abs=20)
    assert _metres(row, "95x95") == 3 * _metres(single, "95x95")


def test_the_members_add_up_to_the_row():
    yard = row_yard()
    row = take_off(*_whole(yard))
    members = [take_off(yard, q) for q in yard.quarters]
    for section in ("45x95", "95x95", "45x145"):
        assert sum(_metres(m, section) for m in members) == pytest.approx(
            _metres(row, section), abs=20
        )


@pytest.mark.parametrize("side", ["boarded", "barred", "meshed"])
def test_no_two_timbers_of_a_row_share_a_place(side):
    face = {
        "boarded": {"infill": "boarded"},
        "barred": {"infill": "barred", "gap_mm": 38, "upstand_mm": 500},
        "meshed": {"infill": "meshed", "gap_mm": 24, "mesh_kind": "welded"},
    }[side]
    yard = row_yard(back_height_mm=2400, shared=face)
    boxes = [
        (part.mark, part.what, part.place, stick)
        for part in take_off(*_whole(yard)).frame.parts
        if part.kind in SOLID
        for stick in part.sticks
    ]
    found = []
    for mark, what, place, stick in boxes:
        spots = corners(stick)
        spans = [(min(p[i] for p in spots), max(p[i] for p in spots)) for i in range(3)]
        found.append(((mark, what, place), spans))
    clashes = [
        (one, other)
        for (one, a), (other, b) in combinations(found, 2)
        if all(min(a[i][1], b[i][1]) - max(a[i][0], b[i][0]) > 0.6 for i in range(3))
    ]
    assert len(found) > 100
    assert clashes == []


def test_timber_stays_out_of_the_clear_floor_of_every_unit():
    yard = row_yard()
    starts = starts_mm(yard, yard.row[0])
    for part in take_off(*_whole(yard)).frame.parts:
        if part.kind not in SOLID or part.kind == "rafter" or "rafter" in part.what:
            continue
        for stick in part.sticks:
            xs, ys = ([p[i] for p in corners(stick)] for i in (0, 1))
            for unit, x in zip(yard.quarters, starts, strict=True):
                over_x = min(max(xs), x + unit.width_mm) - max(min(xs), x)
                over_y = min(max(ys), unit.depth_mm) - max(min(ys), 0)
                assert over_x <= 0.6 or over_y <= 0.6, (part.mark, part.what, part.place)


def test_rafters_stand_over_the_whole_row_no_further_apart_than_asked():
    yard = row_yard()
    middles = take_off(*_whole(yard)).setting_out.rafter_middles_mm
    gaps = [b - a for a, b in pairwise(middles)]
    assert max(gaps) <= 600
    assert min(gaps) > breadth_depth_mm("45x145")[0]
    assert middles[0] == pytest.approx(-95 + 22.5)
    assert middles[-1] == pytest.approx(starts_mm(yard, yard.row[0])[-1] + 3000 + 95 - 22.5)


def test_a_member_says_what_is_shared():
    yard = row_yard()
    told = [" ".join(take_off(yard, q).assumptions) for q in yard.quarters]
    assert "the right wall is shared with B: it is framed, boarded and counted here" in told[0]
    assert "the left wall is shared with A: it is framed, boarded and counted with A" in told[1]
    assert "right wall is shared" not in told[2]
    assert [j.lent for j in shell_in(yard, yard.quarters[1]).joins] == [True, False]


def test_a_door_between_two_units_is_framed_and_counted_once():
    door = {"between": ["A", "B"], "width_mm": 700, "height_mm": 1800, "face": "left",
            "at_mm": 1200, "sill_mm": 150}  # fmt: skip
    hatch = {"kind": "hatch", "name": "Through", "face": "left", "at_mm": 600, "sill_mm": 1200,
             "width_mm": 300, "height_mm": 220}  # fmt: skip
    yard = row_yard(door=[door], fittings={"B": [hatch]})
    row = take_off(*_whole(yard))
    assert sum(p.count for p in row.parts if p.kind == "door") == 1
    lintels = [p for p in row.parts if p.what == "lintel"]
    assert {p.place for p in lintels} == {"between A and B, door to B", "between A and B, Through"}


def test_a_row_without_the_table_reads_as_before():
    yard = row_yard(rows=False)
    assert all(not shell_in(yard, q).joins for q in yard.quarters)


@pytest.mark.parametrize(
    ("change", "wrong"),
    [
        ({"depth_mm": 2500}, "'A' and 'B': depth_mm is 2400 and 2500, 100 mm apart: "
         "make them equal"),
        ({"back_height_mm": 2000}, "back_height_mm is 2100 and 2000, 100 mm apart"),
        ({"facing_deg": 90}, "they face 180 and 90 deg: give both the same facing_deg"),
        ({"roof": {"overhang_front_mm": 300}}, "the roof must be alike, and differs in "
         "overhang_front_mm"),
        ({"at_m": [3.2, 0.05]}, "'B' stands 83 mm too far from it and 50 mm behind the first "
         "unit's line, right of 'A': the shared wall is 117 mm thick, so give it at_m = "
         "[3.117, 0.000]"),
        ({"at_m": [3.0, 0]}, "'B' stands 117 mm too near, right of 'A'"),
    ],
)  # fmt: skip
def test_what_does_not_fit_is_said_in_millimetres(change, wrong):
    with pytest.raises(Problem) as told:
        _whole(row_yard(change_b=change))
    assert str(told.value).startswith("row 'Row' does not fit together: ")
    assert wrong.replace("117", f"{95 + SKIN_MM:g}") in str(told.value)


def _loaded(yard, wind_m_s=22):
    loads = Loads(source="Test", ground_snow_kn_m2=2, basic_wind_m_s=wind_m_s, terrain="III")
    return yard.model_copy(update={"loads": loads})


def test_a_shared_wall_takes_no_wind_and_still_takes_a_person():
    yard = _loaded(row_yard(), wind_m_s=40)
    member = frame_report(yard, yard.quarters[1])  # both its side walls are shared
    alone = frame_report(*unit_or_row(_loaded(row_yard(rows=False), wind_m_s=40), "B"))
    whole = frame_report(*unit_or_row(yard, "Row"))
    outer = [m for m in alone.members if m.what == "stud, left"]
    shared = [m for m in member.members if m.what == "stud, right"]
    assert all("wind" in m.combination for m in outer)
    assert all("person" in m.combination for m in shared)
    assert max(m.utilisation for m in shared) < max(m.utilisation for m in outer)
    uprights = lines_of(built_frame(*unit_or_row(yard, "Row")), 2400).uprights
    assert sum(u.sheltered for u in uprights) == 2 * 5  # two shared walls of five studs
    assert not any(u.sheltered for u in uprights if u.side in ("front", "back", "left"))
    assert any("no wind is put on a shared wall" in line for line in whole.assumptions)


def test_the_head_plate_at_a_joint_carries_both_roofs():
    """At a joint the end rafters carry a whole bay, half from each roof; alone, half a bay."""
    yard = _loaded(row_yard())
    lines = lines_of(built_frame(yard, yard.quarters[0]), 2400)
    assert {plate.outermost for plate in lines.plates} == {(True, False)}
    alone = lines_of(built_frame(row_yard(rows=False), yard.quarters[0]), 2400)
    assert {plate.outermost for plate in alone.plates} == {(True, True)}
    whole = lines_of(built_frame(*unit_or_row(yard, "Row")), 2400)
    assert [p.outermost for p in whole.plates if p.side == "front"] == [
        (True, False), (False, False), (False, True),
    ]  # fmt: skip


def test_the_wind_of_a_row_is_that_of_its_outer_width():
    yard = _loaded(row_yard())
    seen, whole = unit_or_row(yard, "Row")
    built = built_frame(seen, whole)
    cases = wind_cases(built, actions_on(seen, whole, built))
    alone = built_frame(row_yard(rows=False), yard.quarters[0])
    single = wind_cases(alone, actions_on(_loaded(row_yard(rows=False)), yard.quarters[0], alone))
    push = max(c.push_kn for c in cases if c.along == "depth")
    one = max(c.push_kn for c in single if c.along == "depth")
    width = 3 * 3000 + 2 * (95 + SKIN_MM) + 2 * 95
    assert push / one == pytest.approx(width / 3190, rel=1e-6)


def test_a_row_of_unlike_fronts_is_refused_for_its_wind():
    other = {"front": {"infill": "boarded"}, "left": {"infill": "boarded"},
             "right": {"infill": "boarded"}}  # fmt: skip
    yard = _loaded(row_yard(change_b={"faces": other}))
    with pytest.raises(Problem, match="the fronts or backs of row 'Row' are not all alike"):
        frame_report(*unit_or_row(yard, "Row"))


def test_the_solids_of_a_row_weigh_what_its_take_off_says():
    taken = take_off(*_whole(row_yard()))
    counted = modelled = 0.0
    for part in taken.parts:
        mass, density = part_mass(part), density_kg_m3(part)
        if mass is None or density is None or why_not_whole(part):
            continue
        counted += mass.kg
        solids = solids_of(part, taken.frame)
        modelled += sum(s.volume_m3 for s in solids) * density
    assert counted > 1000
    assert modelled == pytest.approx(counted, rel=0.01)


def test_ground_that_falls_along_a_row_is_refused():
    yard = row_yard(frame={"ground_fall_right_mm": 80})
    with pytest.raises(Problem, match="the ground falls 80 mm along 'A'"):
        take_off(*_whole(yard))
    level = take_off(*_whole(row_yard(frame={"ground_fall_back_mm": 150, "base": "pads"})))
    assert any(part.kind == "base" for part in level.parts)


def test_boards_of_a_shared_wall_end_where_the_next_front_begins():
    frame = take_off(*_whole(row_yard())).frame
    inner = [
        p.corners_mm
        for part in frame.parts
        if part.kind == "board"
        for p in part.panels
        if all(3000 < x < 3117 for x, *_ in p.corners_mm)
    ]
    assert min(y for corners_ in inner for _, y, _ in corners_) == pytest.approx(0)
    assert max(y for corners_ in inner for _, y, _ in corners_) == pytest.approx(2400)


def test_an_unknown_name_lists_units_and_rows():
    wrong = "no quarters or row 'Rw' in 'Test yard'; there are: A, B, C, Row"
    with pytest.raises(Problem, match=wrong):
        unit_or_row(row_yard(), "Rw")


def test_a_row_under_two_slopes_is_refused():
    roof = {"form": "duopitch", "ridge_height_mm": 2900}
    with pytest.raises(Problem, match="its roof has two slopes, and a row is framed under one"):
        _whole(row_yard(roof=roof, back_height_mm=2400))
