"""A corridor behind a row: what it is made of, where it stands, and what does not fit."""

from itertools import combinations
from math import cos, radians, tan

import pytest

from mewswright.build.corridor import corridor_behind
from mewswright.build.corridor_frame import loaded_corridor
from mewswright.build.frame import built_frame
from mewswright.build.frame_members import rafter_cases
from mewswright.build.frame_report import frame_report, member_loads, member_results
from mewswright.build.masses import density_kg_m3, part_mass
from mewswright.build.row import unit_or_row
from mewswright.build.solids import solids_of, why_not_whole
from mewswright.build.takeoff import take_off
from mewswright.model.place import Loads
from mewswright.model.problem import Problem
from support.corridor_yard import BEHIND_MM, WIDTH_MM, corridor_yard
from support.units import corners

SOLID = ("post", "sole", "head", "rafter", "stud", "nogging", "batten", "trim")


def _row(yard):
    return take_off(*unit_or_row(yard, "Row"))


def _of_corridor(yard):
    return take_off(*unit_or_row(yard, "Way"))


def _spans(stick):
    spots = corners(stick)
    return [(min(p[i] for p in spots), max(p[i] for p in spots)) for i in range(3)]


def test_the_corridor_is_counted_by_hand():
    """1200 mm wide, 2050 mm high outside, 5 deg: 1200 tan 5 = 105 mm higher at the units.

    Outer walls 95 mm, a partition of 95 mm and its boards of 22 mm; the lobby is 1500 mm.
    Side walls and partition run 1200 mm; the outer wall runs over the frame. Rafters stand at
    most 600 mm apart over 9424 mm less one breadth: 16 bays in two rooms of 7617 + 1500 mm,
    laid out room by room: 7807 - 45 in 13 bays, 1617 + 45 in 3.
    """
    taken = _of_corridor(corridor_yard())
    frame = taken.frame
    outer = WIDTH_MM + 2 * 95
    assert frame.outer_width_mm == pytest.approx(outer)
    assert frame.outer_depth_mm == pytest.approx(1200 + 2 * 95)
    soles = {p.place: 0 for p in taken.parts if p.kind == "sole"}
    total = sum(p.length_mm * p.count for p in taken.parts if p.kind == "sole")
    # The lobby's outer sole begins where the partition's boards end, the other's ends there.
    assert total == pytest.approx(3 * 1200 + outer, abs=3)
    assert len(soles) == 2
    rafters = [p for p in taken.parts if p.kind == "rafter"]
    assert sum(p.count for p in rafters) == 1 + 13 + 3
    run = 1200 + 95 + 150 - 45  # overhang of 150 mm behind, less the ledger
    length = run / cos(radians(5)) + 145 * tan(radians(5))
    assert {p.length_mm for p in rafters} == {round(length)}
    ledger = next(p for p in taken.parts if p.what == "ledger")
    assert (ledger.section, ledger.length_mm) == ("45x145", round(outer))
    hangers = next(p for p in taken.parts if p.what == "hanger of a rafter")
    assert hangers.amount == 17


def test_it_stands_behind_the_boards_of_the_row():
    yard = corridor_yard()
    found = corridor_behind(yard, yard.row[0])
    assert found.behind_mm == pytest.approx(BEHIND_MM)
    assert [room.width_mm for room in found.rooms] == pytest.approx(
        [WIDTH_MM - 1500 - 95 - 22, 1500]
    )
    assert found.whole.front_height_mm == pytest.approx(2050 + 1200 * tan(radians(5)))
    taken = _row(yard)
    ledger = next(p for p in taken.parts if p.what == "ledger").sticks[0]
    xs, ys, zs = _spans(ledger)
    assert xs == pytest.approx((-95, WIDTH_MM + 95))
    assert ys == pytest.approx((BEHIND_MM, BEHIND_MM + 45))
    assert zs[0] == pytest.approx(found.whole.front_height_mm)


def test_the_row_counts_its_corridor_once():
    yard = corridor_yard()
    bare = corridor_yard(change=dict.fromkeys(
        ("corridor_mm", "corridor_height_mm", "corridor_space", "lobby_mm", "lobby_space")
    ))  # fmt: skip

    def sawn(taken):
        return sum(p.length_mm * p.count for p in taken.parts if p.sawn and p.kind != "fixing")

    both, row, corridor = _row(yard), _row(bare), _of_corridor(yard)
    assert sawn(both) == pytest.approx(sawn(row) + sawn(corridor), abs=60)  # whole millimetres
    doors = sum(p.amount for p in both.parts if p.what == "hinge and bolt set")
    assert doors == 3
    assert sum(p.count for p in both.parts if p.kind == "door") == 3


@pytest.mark.parametrize("lobby_end", ["left", "right"])
@pytest.mark.parametrize("base", ["sleepers", "pads", "posts_in_concrete"])
def test_no_two_timbers_share_a_place(lobby_end, base):
    # Roofs all but level: then boxes tell the truth.
    change = {"lobby_end": lobby_end, "corridor_pitch_deg": 0.01}
    yard = corridor_yard(change=change, front_height_mm=2700, frame={"base": base})
    found = [
        ((part.mark, part.what, part.place), _spans(stick))
        for part in _row(yard).parts
        if part.kind in SOLID
        for stick in part.sticks
    ]
    clashes = [
        (one, other)
        for (one, a), (other, b) in combinations(found, 2)
        if all(min(a[i][1], b[i][1]) - max(a[i][0], b[i][0]) > 0.6 for i in range(3))
    ]
    assert len(found) > 150
    assert clashes == []


def test_the_corridor_stays_clear_of_timber_up_to_its_ceiling():
    yard = corridor_yard(lobby=False)
    for part in _row(yard).parts:
        if part.kind not in SOLID or part.kind == "rafter" or "rafter" in part.what:
            continue
        for stick in part.sticks:
            (x0, x1), (y0, y1), (z0, _) = _spans(stick)
            inside = min(x1, WIDTH_MM) - max(x0, 0) > 0.6
            behind = min(y1, BEHIND_MM + 1200) - max(y0, BEHIND_MM) > 0.6
            assert not (inside and behind) or z0 > 2050, (part.what, part.place)


def test_its_solids_weigh_what_its_take_off_says():
    taken = _row(corridor_yard())
    counted = modelled = 0.0
    for part in taken.parts:
        mass, density = part_mass(part), density_kg_m3(part)
        if mass is None or density is None or why_not_whole(part):
            continue
        counted += mass.kg
        modelled += sum(s.volume_m3 for s in solids_of(part, taken.frame)) * density
    assert counted > 1500
    assert modelled == pytest.approx(counted, rel=0.01)


def test_a_single_unit_may_have_a_corridor():
    yard = corridor_yard(units=("A",), lobby=False)
    taken = _row(yard)
    ledger = next(p for p in taken.parts if p.what == "ledger")
    assert ledger.length_mm == 3000 + 2 * 95
    assert any("the corridor is 1200 mm wide" in line for line in taken.assumptions)


@pytest.mark.parametrize(
    ("change", "quarters", "wrong"),
    [
        # 2500 + 105.0 + (145 + 18 + 3) x cos 5 = 2770.4: the edge of a layer is square to the
        # slope. A roof that rises to the back hangs lowest at the boards: 2400 + 300 x 2517 / 2400
        # = 2714.6. 2770.4 + 100 - 2714.6 = 155.8.
        ({"corridor_height_mm": 2500}, {}, "156 mm are short"),
        ({}, {"front_height_mm": 2700, "back_height_mm": 2300}, "mm are short; lower"),
        ({"lobby_mm": 9300}, {}, "nothing of it is left, make lobby_mm less"),
        ({"corridor_height_mm": 1700}, {}, "reaches 95 mm above the ledger"),
        ({}, {"frame": {"ground_fall_back_mm": 80}}, "the ground falls 80 mm to the back"),
    ],
)
def test_what_does_not_fit_is_said_in_millimetres(change, quarters, wrong):
    with pytest.raises(Problem) as told:
        unit_or_row(corridor_yard(change=change, **quarters), "Row")
    assert str(told.value).startswith("row 'Row' does not fit together: ")
    assert wrong in str(told.value)


@pytest.mark.parametrize(
    ("face", "wrong"),
    [("left", "stands in the partition"), ("front", "stands in the back wall of the row")],
)
def test_a_door_to_the_outside_stands_in_an_outer_wall(face, wrong):
    door = {"between": ["Lobby", "outside"], "width_mm": 700, "height_mm": 1800, "face": face,
            "at_mm": 600}  # fmt: skip
    with pytest.raises(Problem, match=f"between Lobby and outside {wrong}: give it face right"):
        _row(corridor_yard(door=[door]))


def test_a_door_without_a_place_is_told():
    door = {"between": ["Way", "outside"], "width_mm": 700, "height_mm": 1800}
    taken = _row(corridor_yard(lobby=False, door=[door]))
    told = " ".join(taken.assumptions)
    assert "no opening is framed for the door to outside: give the door 'at_mm' and its" in told


def test_whoever_asks_for_one_unit_is_told_to_name_one():
    yard = corridor_yard()
    for name, what in (("Row", "a row"), ("Way", "the corridor of row 'Row'")):
        with pytest.raises(Problem) as told:
            yard.quarters_named(name)
        assert str(told.value) == (
            f"{name!r} is {what}, and this asks for one unit: name one of its units, A, B, C"
        )


def _loaded(yard, snow=2.0):
    loads = Loads(
        source="Test", ground_snow_kn_m2=snow, basic_wind_m_s=22, terrain="III",
        soil_bearing_kn_m2=100,
    )  # fmt: skip
    return yard.model_copy(update={"loads": loads})


def test_the_ledger_and_the_outer_wall_carry_the_roof_by_halves():
    """A rafter over 1200 + 47.5 - 45 mm with 245 mm less 47.5 mm beyond the outer plate.

    Under q per metre over its whole length L, held at 0 and s, the ledger takes q (L - L^2 / 2 s)
    and the plate q L^2 / 2 s (statics).
    """
    yard = _loaded(corridor_yard())
    seen, whole = unit_or_row(yard, "Row")
    leans = loaded_corridor(seen, whole)
    [rafter] = leans.lines.rafters
    slope = cos(radians(5))
    length, span = 1.400 / slope, 1.2025 / slope
    assert rafter.length_m == pytest.approx(length, abs=1e-6)
    assert rafter.supports_m == pytest.approx((0, span), abs=1e-6)
    loads = member_loads(leans.whole, leans.loads)
    _, snow = rafter_cases(rafter, loads)["snow"]
    q = loads.snow_kn_m2 * rafter.spacing_m
    plate = q * length**2 / 2 / span
    assert snow.reactions_kn == pytest.approx((q * length - plate, plate), rel=1e-3)
    # All of the ledger's rafters come down on the uprights that it is bolted to: 17 of them,
    # the outermost with half a bay.
    _, carried = member_results(leans.whole, leans.loads, leans.lines)
    on_ledger = sum(down["snow"].kn for down in carried.down["front"].values())
    assert on_ledger == pytest.approx(16 * snow.reactions_kn[0], rel=1e-3)


def test_the_row_above_throws_a_drift_on_the_corridor():
    """The eave of the row stands 0.57 m above: at 0.6 kN/m2 the drift is 2 x 0.57 / 0.6 = 1.9."""
    yard = _loaded(corridor_yard(), snow=0.6)
    leans = loaded_corridor(*unit_or_row(yard, "Row"))
    assert leans.loads.snow.drifts
    assert leans.loads.snow.peak_kn_m2 > leans.loads.snow.uniform_kn_m2


def test_the_back_wall_of_the_row_carries_the_ledger_too():
    yard = _loaded(corridor_yard())
    bare = _loaded(corridor_yard(change=dict.fromkeys(
        ("corridor_mm", "corridor_height_mm", "corridor_space", "lobby_mm", "lobby_space")
    ), door=[]))  # fmt: skip
    both = frame_report(*unit_or_row(yard, "Row"))
    row = frame_report(*unit_or_row(bare, "Row"))

    def most(report, what):
        return max(one.utilisation for one in report.members if one.what == what)

    assert most(both, "stud, back") > most(row, "stud, back")
    assert most(both, "rafter") == most(row, "rafter")
    told = {one.what for one in both.members}
    assert {"corridor, rafter", "corridor, ledger", "corridor, stud, back"} <= told
    marks = {part.mark: part for part in built_frame(*unit_or_row(yard, "Row")).parts}
    for one in both.members:
        assert one.section == marks[one.mark].section, one.mark
    assert (
        marks[next(m.mark for m in both.members if m.what == "corridor, ledger")].what == "ledger"
    )
    assert any("its bolts and the hangers of its rafters are" in line for line in both.assumptions)
    joints = {one["name"]: one for one in both.joints}
    assert joints["corridor, ledger-upright"]["means"] == "m6_coach_bolt"  # in studs of 45 mm
    for name in ("rafter-ledger", "rafter-ledger, lifted", "ledger, splitting at its bolts"):
        assert 0 <= joints[f"corridor, {name}"]["utilisation"] < 1, name
    assert "corridor, base-ground" in joints


def test_a_corridor_is_checked_with_its_row_alone():
    yard = _loaded(corridor_yard())
    with pytest.raises(Problem, match="leans on row 'Row' and is checked with it"):
        frame_report(*unit_or_row(yard, "Way"))
    told = " ".join(frame_report(yard, yard.quarters[0]).assumptions)
    assert "its load on the back wall is in the frame check of row 'Row'" in told
