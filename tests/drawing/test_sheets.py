"""What the drawings of a unit say, read back from the SVG as a reader would."""

import re
from xml.etree import ElementTree

import pytest
from hypothesis import Phase, example, given, settings
from hypothesis import strategies as st

from mewswright.build.frame import built_frame
from mewswright.drawing.fall_words import fall_text
from mewswright.drawing.front import front_elevation
from mewswright.drawing.paper import fits
from mewswright.drawing.plan import FreeCircle, quarters_plan
from mewswright.drawing.scene import SCALES
from mewswright.drawing.section import side_section
from mewswright.drawing.sheet import bar_length_mm, sheet
from mewswright.drawing.svg import to_svg
from mewswright.drawing.yard_plan import yard_plan
from mewswright.model.problem import Problem
from mewswright.model.yard import Yard
from support.drawn_units import PERCHES, yard_of
from support.hand_frame import WALL, hand_frame

SVG = "{http://www.w3.org/2000/svg}"


def drawn(yard: Yard, frame_of=hand_frame):
    unit = yard.quarters[0]
    frame = frame_of(unit)
    return {
        "plan": quarters_plan(yard, unit, frame),
        "front": front_elevation(yard, unit, frame),
        "section": side_section(yard, unit, frame),
    }


def texts(scene) -> list[str]:
    tree = ElementTree.fromstring(to_svg(scene))
    return [t.text for t in tree.iter(f"{SVG}text")]


def figures(scene) -> list[str]:
    tree = ElementTree.fromstring(to_svg(scene))
    return [t.text for t in tree.iter(f"{SVG}text") if "figure" in t.get("class", "")]


def overlapping(scene) -> list[tuple[str, str]]:
    # A hair of each box is let go: boxes are estimates, and touching is not overlapping.
    boxes = [(text, box.grown(-0.05 * scene.scale)) for text, box in scene.text_boxes()]
    return [
        (a, b) for i, (a, box) in enumerate(boxes) for b, other in boxes[:i] if box.overlaps(other)
    ]


@pytest.fixture(scope="module")
def unit_yard():
    return yard_of(3010, 2430, 2510, 2190, perches=PERCHES)


def test_the_plan_gives_clear_and_outer_sizes(unit_yard):
    plan = drawn(unit_yard)["plan"]
    for figure in ("clear 3010", "clear 2430", f"outer {3010 + 2 * WALL:.0f}"):
        assert figure in figures(plan)


def test_the_plan_places_each_fitting_from_two_walls(unit_yard):
    shown = figures(drawn(unit_yard)["plan"])
    for fitting in unit_yard.quarters[0].fitting:
        if fitting.kind != "hatch":
            for place in fitting.at_mm:
                assert f"{place:.0f}" in shown


def test_the_plan_gives_both_jambs_of_door_and_hatch(unit_yard):
    shown = figures(drawn(unit_yard)["plan"])
    # Door 602 wide about 602; hatch 301 wide about 903.
    assert {"301", "903", "753", "1054"} <= set(shown)


def test_the_plan_gives_the_setting_out_diagonal(unit_yard):
    outer = ((3010 + 2 * WALL) ** 2 + (2430 + 2 * WALL) ** 2) ** 0.5
    assert any(f"both diagonals of the outer frame {outer:.0f}" in t for t in texts(
        drawn(unit_yard)["plan"]
    ))  # fmt: skip


def test_the_section_gives_the_heights_of_every_perch(unit_yard):
    shown = figures(drawn(unit_yard)["section"])
    for perch in unit_yard.quarters[0].perches:
        assert f"{perch.height_mm:.0f}" in shown
    assert {"clear 2510", "clear 2190"} <= set(shown)


def test_the_section_says_the_fall_three_ways(unit_yard):
    # 320 in 2430: 1 in 7.59, and atan(0.1317) = 7.50 degrees, by hand.
    assert fall_text(unit_yard.quarters[0]) == "falls to the back 1:7.6, 7.5°, 320 in 2430"
    assert any("1:7.6, 7.5°" in t for t in texts(drawn(unit_yard)["section"]))


def test_the_section_says_how_rafters_are_cut(unit_yard):
    assert any(
        t.startswith("R1 rafter, 45x145") and "ends cut 7.5° and 7.5° from square" in t
        for t in texts(drawn(unit_yard)["section"])
    )


def test_the_front_gives_bars_with_gap_and_centres(unit_yard):
    assert any(
        "bars 12 upright, clear gap 35, centres 47" in t for t in texts(drawn(unit_yard)["front"])
    )


def test_the_front_gives_every_rafter_from_the_outer_corner(unit_yard):
    frame = hand_frame(unit_yard.quarters[0])
    shown = figures(drawn(unit_yard)["front"])
    for stick in frame.part("R1").sticks:
        assert f"{int(stick.start_mm[0] + WALL + 0.5)}" in shown


@pytest.mark.parametrize("view", ["plan", "section"])
def test_every_perch_is_named(unit_yard, view):
    said = " ".join(texts(drawn(unit_yard)[view]))
    for perch in unit_yard.quarters[0].perches:
        assert f"{perch.name}: top {perch.height_mm:.0f}" in said


def test_part_marks_stand_on_the_drawings(unit_yard):
    scenes = drawn(unit_yard)
    assert "P1 × 2" in texts(scenes["plan"])
    assert any(re.fullmatch(r"R1 × \d+", t) for t in texts(scenes["front"]))
    assert {"R1", "S1 × 2"} <= set(texts(scenes["section"]))


def test_a_free_circle_is_drawn_to_size_and_named(unit_yard):
    unit = unit_yard.quarters[0]
    scene = quarters_plan(unit_yard, unit, None, [FreeCircle((1500, 1200), 1075, "Flint")])
    tree = ElementTree.fromstring(to_svg(scene))
    assert any(c.get("r") == "1075" for c in tree.iter(f"{SVG}circle"))
    assert "free circle of Flint, radius 1075" in texts(scene)


def test_a_pitch_has_a_plan_and_nothing_else(unit_yard):
    pitch = unit_yard.quarters[1]
    assert "clear 4000" in figures(quarters_plan(unit_yard, pitch, None))
    with pytest.raises(Problem, match=r"^'Lawn pitch' is a pitch and has no front: draw its plan"):
        front_elevation(unit_yard, pitch, None)
    with pytest.raises(Problem, match=r"^'Lawn pitch' is a pitch and has no height: draw its pla"):
        side_section(unit_yard, pitch, None)


def test_a_door_without_a_place_is_said_and_not_drawn():
    yard = yard_of()
    door = yard.door[0].model_copy(update={"face": None, "at_mm": None})
    yard = yard.model_copy(update={"door": (door,)})
    scene = quarters_plan(yard, yard.quarters[0], None)
    assert not any(mark.item.startswith("door:") for mark in scene.marks)
    assert any("the yard file does not say where it is" in t for t in texts(scene))


def test_north_turns_with_the_unit(unit_yard):
    """A front that looks north lies at the bottom of its plan, so north points down."""
    unit = unit_yard.quarters[0]
    for facing, north in ((0, 180), (90, 90), (180, 0), (200, 340)):
        turned = unit.model_copy(update={"facing_deg": facing})
        assert quarters_plan(unit_yard, turned, None).north_deg == pytest.approx(north)


def test_the_real_frame_can_be_drawn(unit_yard):
    unit = unit_yard.quarters[0]
    frame = built_frame(unit_yard, unit)
    for view, scene in drawn(unit_yard, lambda _: frame).items():
        assert overlapping(scene) == [], view
        shown = {m.item for m in scene.marks if m.item.startswith("part:")}
        assert shown <= {f"part:{p.mark}" for p in frame.parts}
    uprights = {p.mark for p in frame.parts if p.kind in ("post", "stud") and p.sticks}
    everywhere = " ".join(t for s in drawn(unit_yard, lambda _: frame).values() for t in texts(s))
    assert all(re.search(rf"\b{mark}\b", everywhere) for mark in uprights)


# A keeper's unit, from a travelling box to a flight pen.
sizes = st.floats(600, 20_000)
heights = st.floats(900, 5_000)
spots = st.lists(
    st.tuples(st.floats(0, 1), st.floats(0, 1), st.floats(0.05, 0.9)), min_size=0, max_size=6
)


# Without shrinking, which would take minutes here.
@settings(max_examples=12, phases=[Phase.explicit, Phase.reuse, Phase.generate])
@example(16626.0, 600.0, 900.0, 900.0, [], "barred")
@given(sizes, sizes, heights, heights, spots, st.sampled_from(["barred", "meshed", "open"]))
def test_any_unit_fits_its_sheet_and_no_lettering_overlaps(
    width, depth, front, back, perches, infill
):
    yard = yard_of(width, depth, front, back, infill, perches)
    for scene in drawn(yard).values():
        assert scene.scale in SCALES
        assert fits(scene, "A3")
        assert overlapping(scene) == []
        page = sheet(scene, "Test yard: Unit", scene.title)
        assert all(page.box.holds(box) for _, box in page.text_boxes())
        assert overlapping(page) == []
        ElementTree.fromstring(to_svg(page))  # a place that is no number raises


def test_the_yard_plan_names_everything(unit_yard):
    said = texts(yard_plan(unit_yard))
    for thing in (*unit_yard.feature, *unit_yard.quarters):
        assert thing.name in said


@settings(max_examples=12)
@given(
    st.lists(
        st.tuples(st.floats(-4, 26), st.floats(-4, 18)), min_size=1, max_size=15
    ),
    st.sampled_from([None, 100, 500, 1000]),
)  # fmt: skip
def test_names_on_the_ground_never_overlap(places, scale):
    extra = [
        {"name": f"Gate number {i}", "kind": "gate", "at_m": list(p)} for i, p in enumerate(places)
    ]
    assert overlapping(yard_plan(yard_of(extra=extra), scale=scale)) == []


def test_a_sheet_is_as_large_as_its_paper(unit_yard):
    scene = drawn(unit_yard)["plan"]
    page = sheet(scene, "Test yard: Unit", "Plan")
    assert page.box.width / page.scale == pytest.approx(420)
    assert page.box.height / page.scale == pytest.approx(297)
    assert f"1:{scene.scale}" in texts(page)


def test_a_sheet_keeps_the_scale_that_the_drawing_was_laid_out_for(unit_yard):
    scene = quarters_plan(unit_yard, unit_yard.quarters[0], None, scale=50)
    with pytest.raises(
        ValueError,
        match=r"^Plan of Unit was laid out for 1:50, not for 1:20: draw it again with scale=20$",
    ):
        sheet(scene, "a", "b", scale=20)


def test_a_drawing_too_large_for_its_paper_is_refused(unit_yard):
    scene = quarters_plan(unit_yard, unit_yard.quarters[0], None, scale=10)
    with pytest.raises(ValueError, match=r"^Plan of Unit covers \d+ x \d+ mm at 1:10, and A4 has"):
        sheet(scene, "a", "b", paper="A4")


@pytest.mark.parametrize("n", SCALES)
def test_a_scale_bar_is_round_and_fits(n):
    long = bar_length_mm(n)
    assert 30 <= long / n <= 75
    assert f"{long:e}"[0] in "125"
    assert float(f"{long:e}"[:8]) in (1, 2, 5)
