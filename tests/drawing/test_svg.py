from dataclasses import dataclass
from xml.etree import ElementTree

import pytest

from mewswright.checks.finding import Finding
from mewswright.drawing.plan import quarters_plan
from mewswright.drawing.scene import Line, Mark, Scene
from mewswright.drawing.sheet import sheet
from mewswright.drawing.svg import to_svg
from mewswright.drawing.yard_plan import yard_plan
from support.drawn_units import PERCHES, yard_of
from support.hand_frame import hand_frame

SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture
def yard():
    return yard_of(perches=PERCHES)


@pytest.fixture
def plan(yard):
    return quarters_plan(yard, yard.quarters[0], hand_frame(yard.quarters[0]))


def test_the_same_yard_gives_the_same_bytes():
    def once():
        yard = yard_of(perches=PERCHES)
        return to_svg(quarters_plan(yard, yard.quarters[0], hand_frame(yard.quarters[0])))

    assert once() == once()


def test_screen_drawings_carry_no_style(plan):
    """A page's content security policy forbids both the attribute and the element."""
    tree = ElementTree.fromstring(to_svg(plan, theme="screen"))
    assert not [e for e in tree.iter() if "style" in e.attrib]
    assert not list(tree.iter(f"{SVG}style"))


def test_paper_drawings_carry_plain_colours_and_true_pens(plan):
    text = to_svg(plan)
    assert "var(" not in text
    assert f".pen-heavy{{stroke-width:{0.5 * plan.scale:g}}}" in text


def test_paper_size_is_the_view_box_over_the_scale(plan):
    tree = ElementTree.fromstring(to_svg(plan, paper_scale=plan.scale))
    wide = float(tree.get("viewBox").split()[2])
    assert float(tree.get("width").removesuffix("mm")) == pytest.approx(wide / plan.scale, abs=0.01)


def test_a_sheet_is_a3_to_the_hundredth(plan):
    tree = ElementTree.fromstring(to_svg(sheet(plan, "Yard", "Plan")))
    assert (tree.get("width"), tree.get("height")) == ("420mm", "297mm")


def test_a_drawing_has_a_name_and_a_description(plan):
    tree = ElementTree.fromstring(to_svg(plan))
    assert tree.get("role") == "img"
    title, desc = tree.get("aria-labelledby").split()
    assert tree.find(f"{SVG}title").get("id") == title
    assert tree.find(f"{SVG}title").text == "Plan of Unit"
    assert tree.find(f"{SVG}desc").get("id") == desc


def test_linked_things_can_be_reached_once_by_keyboard(yard):
    tree = ElementTree.fromstring(
        to_svg(yard_plan(yard), links={"quarters:Unit": "/quarters/Unit"}, theme="screen")
    )
    links = list(tree.iter(f"{SVG}a"))
    stops = [a for a in links if a.get("tabindex") != "-1"]
    assert {a.get("href") for a in links} == {"/quarters/Unit"}
    assert [a.get("aria-label") for a in stops] == ["Unit: shelter, 3000 by 2400 mm"]
    assert tree.get("role") == "group"  # an image would hide its links


def test_items_carry_their_names(plan):
    tree = ElementTree.fromstring(to_svg(plan))
    items = {g.get("data-item") for g in tree.iter(f"{SVG}g")}
    assert {"perch:Perch A", "bath:Blue bath", "hatch:Back hatch", "door:Unit|Lobby"} <= items
    assert "P1" in {g.get("data-part") for g in tree.iter(f"{SVG}g")}


def test_a_keepers_name_cannot_break_the_file(yard):
    named = yard.quarters[0].model_copy(update={"name": 'Loft <b> & "co"'})
    scene = quarters_plan(yard, named, None)
    assert ElementTree.fromstring(to_svg(scene)).find(f"{SVG}title").text == f"Plan of {named.name}"


def test_pins_say_their_status_in_words(yard):
    findings = [
        Finding(code="P101", status="harm", quarters="Unit"),
        Finding(code="P102", status="short", quarters="Unit"),
        Finding(code="P103", status="sound", quarters="Lawn pitch"),
    ]
    tree = ElementTree.fromstring(to_svg(yard_plan(yard, findings)))
    words = [t.text for t in tree.iter(f"{SVG}text")]
    assert "1 harm, 1 short" in words
    assert not any("sound" in w for w in words)


def test_a_mark_that_svg_cannot_draw_is_refused():
    @dataclass(frozen=True, slots=True, kw_only=True)
    class Spline(Mark):
        pass

    with pytest.raises(TypeError, match=r"a mark of kind 'Spline'$"):
        to_svg(Scene("s", "s", "", 10, (Line(layer="l", a=(0, 0), b=(1, 1)), Spline(layer="l"))))


def test_a_place_that_is_no_number_is_refused():
    with pytest.raises(ValueError, match=r"^a mark lies at a point that is not a number$"):
        to_svg(Scene("s", "s", "", 10, (Line(layer="l", a=(0, 0), b=(float("inf"), 1)),)))
