"""The order of building: every part once, nothing in the air, hours as `compare` gives them."""

from collections import Counter
from itertools import pairwise

import pytest

from mewswright.build.order import _KIND, _NAMED, build_order
from mewswright.build.parts import PartKind
from mewswright.build.row import unit_or_row
from mewswright.build.takeoff import take_off
from mewswright.fit.compare_upkeep import hours_to_build
from mewswright.model.problem import Problem
from support.alder_close import YARD
from support.corridor_yard import corridor_yard
from support.row_yard import row_yard
from support.units import corners, unit_yard

DEMO = ("Long loft", "Herb shelter", "Orchard shelter")  # the largest, a netted walk, a tether
TOUCH_MM = 25  # a tapered packing or a bevel may part two boxes by so much
MESHED = {"infill": "meshed", "gap_mm": 12, "mesh_kind": "welded"}
COVERED = {
    "kind": "perch", "name": "High", "form": "round", "at_mm": [1500, 1200], "height_mm": 1500,
    "length_mm": 900, "diameter_mm": 40, "cover": "turf",
}  # fmt: skip
HELD = {"anchor": "concrete_hole", "anchor_count": 6}
BAYS = {"bay_max_mm": 1600, "carry_kg": 25}


def units():
    """Alder Close, and one unit of each kind of build."""
    yield from ((YARD, q.name) for q in YARD.quarters if q.name in DEMO)
    duopitch = {"form": "duopitch", "ridge_height_mm": 2900}
    variants = (
        {"fitting": [COVERED]},
        {"roof": duopitch},
        {"frame": BAYS},
        {"frame": {**BAYS, "carry_clad": False}},
        {"frame": {"base": "posts_in_concrete"}},
        {"frame": {"base": "pads", "brace": "knee"}},
        {
            "frame": {
                "base": "slab",
                "lining": "osb3_9",
                "anchor": "concrete_hole",
                "anchor_count": 6,
            }
        },
        {"front": MESHED, "frame": {"coating": "wood_stain_preservative_sawn"}},
        {"roof": {"cover": "corrugated"}},
        {"roof": {"cover": "boards"}},
        {"roof": {"gutter": "butt"}},
        {"roof": {**duopitch, "gutter": "soakaway"}},
        {"roof": {"covered_share": 0.5, "open_infill": "netted"}, "front": MESHED},
    )
    yield from ((unit_yard(**change), "Unit") for change in variants)
    yield row_yard(), "Row"
    yield corridor_yard(roof={"gutter": "butt"}), "Row"


@pytest.fixture(scope="module")
def orders():
    found = []
    for yard, name in units():
        yard, quarters = unit_or_row(yard, name)
        takeoff = take_off(yard, quarters)
        found.append((quarters, takeoff, build_order(quarters, takeoff)))
    return found


def test_each_part_is_taken_up_in_exactly_one_step(orders):
    for _, takeoff, order in orders:
        taken = Counter(mark for step in order.steps for mark in step.marks)
        assert taken == Counter(part.mark for part in takeoff.parts)
        assert set(taken.values()) == {1}


def test_hours_sum_to_what_compare_gives(orders):
    for quarters, takeoff, order in orders:
        assert order.hours == hours_to_build(quarters, takeoff)[0]
        assert sum(step.hours for step in order.steps) == pytest.approx(order.hours, abs=0.12)
        for step in order.steps:
            assert sum(work.hours for work in step.works) == pytest.approx(step.hours, abs=0.01)


def test_every_fixing_is_given_its_step_by_name(orders):
    """A fixing that nobody placed would be bolted on with the walls."""
    names = {p.what for _, takeoff, _ in orders for p in takeoff.parts if p.kind == "fixing"}
    assert names <= {*_NAMED, "sheet screw"}


def test_every_kind_of_part_has_a_step():
    assert set(_KIND) == set(PartKind.__args__)


def boxes(part):
    """Boxes round the pieces of a part that have a place [mm]."""
    for stick in part.sticks:
        places = corners(stick)
        yield tuple((min(axis), max(axis)) for axis in zip(*places, strict=True))
    for panel in part.panels:
        half = panel.thickness_mm / 2
        x, y, z = (
            (min(axis) - half, max(axis) + half) for axis in zip(*panel.corners_mm, strict=True)
        )
        rim = part.what == "concrete slab"  # it stands up to the plates, and is not drawn
        yield x, y, (z[0], 0.0) if rim else z


def touch(one, other):
    return all(
        a[0] - TOUCH_MM <= b[1] and b[0] - TOUCH_MM <= a[1] for a, b in zip(one, other, strict=True)
    )


def test_nothing_stands_before_what_carries_it(orders):
    """After each step from the standing of the walls on, all hangs together with the base."""
    for quarters, takeoff, order in orders:
        keys = [step.key for step in order.steps]
        standing = keys.index("stand")
        put, held = [], []
        for i, step in enumerate(order.steps):
            for mark in step.marks:
                part = next(p for p in takeoff.parts if p.mark == mark)
                if part.kind in ("perch", "substrate"):  # brackets have no place; it lies inside
                    continue
                put += [(mark, box, part.kind == "base") for box in boxes(part)]
            if i < standing:
                continue
            held += [one for one in put if one[2]]
            loose = [one for one in put if not one[2]]
            found = list(held)
            while found:
                known = found.pop()
                near = [one for one in loose if touch(one[1], known[1])]
                loose = [one for one in loose if one not in near]
                found += near
                held += near
            assert not loose, (quarters.name, step.key, {mark for mark, *_ in loose})
            put = [*held]
            held = []


def test_walls_are_plumb_and_braced_before_the_roof_and_covers_on_before_the_bird(orders):
    for _, takeoff, order in orders:
        held = {step.key: " ".join(step.holds) for step in order.steps}
        keys = list(held)
        assert f"{takeoff.setting_out.frame_diagonal_mm:.0f} mm" in held["set_out"]
        assert held["stand"].startswith("plumb")
        assert "braced before roofing" in held["brace"]
        assert "anchored before the roof sheets" in held["brace"]
        before = ["set_out", "base", "frame", "stand", "brace"]
        if takeoff.setting_out.rafter_edge_mm and "cover" in held:
            before += ["rafters", "cover"]
        assert all(keys.index(a) < keys.index(b) for a, b in pairwise([*before, "fit"]))
        assert keys[-1] == "fit"


def test_the_diagonal_of_the_hold_point_is_that_of_pythagoras():
    """3000 x 2400 mm clear and walls of 95 mm: sqrt(3190^2 + 2590^2) = 4109 mm."""
    yard = unit_yard()
    order = build_order(yard.quarters[0], take_off(yard, yard.quarters[0]))
    assert "4109 mm over the sole plates and 3842 mm clear inside" in order.steps[0].holds[0]


def test_covers_wait_for_no_bird():
    yard = unit_yard(fitting=[COVERED])
    order = build_order(yard.quarters[0], take_off(yard, yard.quarters[0]))
    assert "covers on before the bird: all 1 perch covers" in " ".join(order.steps[-1].holds)


def test_people_are_as_many_as_the_heaviest_panel_asks():
    yard = unit_yard(frame={"carry_kg": 20})
    takeoff = take_off(yard, yard.quarters[0])
    stand = next(s for s in build_order(yard.quarters[0], takeoff).steps if s.key == "stand")
    heaviest = max(panel.mass_kg for panel in takeoff.panels)
    assert stand.heaviest_kg == pytest.approx(heaviest, abs=0.06)
    assert (stand.people - 1) * 20 < heaviest <= stand.people * 20


def test_a_wall_that_is_tilted_up_weighs_half_in_the_hands():
    """One panel a wall, not carried: the frame alone is stood up, and turns on its foot."""
    yard = unit_yard(frame={"carry_clad": False})
    takeoff = take_off(yard, yard.quarters[0])
    stand = build_order(yard.quarters[0], takeoff).step_of("FX4")
    assert stand.key == "stand"
    assert stand.heaviest_kg == pytest.approx(max(p.mass_kg for p in takeoff.panels) / 2, abs=0.06)


def test_bare_panels_are_clad_under_the_roof():
    def keys(clad):
        yard = unit_yard(frame={**BAYS, "carry_clad": clad})
        order = build_order(yard.quarters[0], take_off(yard, yard.quarters[0]))
        return [step.key for step in order.steps]

    assert keys(True).index("clad") < keys(True).index("stand")
    assert keys(False).index("clad") > keys(False).index("cover")


def test_a_pitch_has_no_order():
    pitch = next(q for q in YARD.quarters if q.kind == "pitch")
    with pytest.raises(Problem, match="pitch"):
        take_off(YARD, pitch)
