import pytest

from mewswright.drawing.scene import (
    Arc,
    Box,
    Dimension,
    Line,
    Running,
    Scene,
    Text,
    box_of,
    extent,
    whole,
)


def test_a_dimension_measures_what_lies_between_its_points():
    across = Dimension(layer="d", a=(10, 0), b=(310, 999), axis="x", at=-50, text_at=(0, 0))
    up = Dimension(layer="d", a=(10, 0), b=(310, 999), axis="y", at=-50, text_at=(0, 0))
    assert (across.text, up.text) == ("300", "999")


def test_a_running_dimension_counts_from_its_datum():
    mark = Running(layer="d", datum=-95, point=(505, 7), axis="x", at=0, text_at=(0, 0))
    assert mark.text == "600"


@pytest.mark.parametrize(
    ("value", "text"), [(22.5, "23"), (-0.2, "0"), (-99.6, "-100"), (1047.49, "1047")]
)
def test_figures_are_whole_millimetres_with_halves_upwards(value, text):
    assert whole(value) == text


def test_a_place_that_is_no_number_is_refused():
    with pytest.raises(ValueError, match=r"^a mark lies at a point that is not a number$"):
        box_of([(0, 0), (float("nan"), 1)])


def test_text_is_sized_on_paper():
    """2.5 mm at 1:20 covers 50 mm of the plane, and ten figures are ten times 0.497 of it."""
    scene = Scene("s", "s", "", 20, (Text(layer="t", at=(0, 0), text="0123456789"),))
    assert scene.box.height == pytest.approx(50)
    assert scene.box.width == pytest.approx(10 * 0.497 * 50)


def test_touching_boxes_do_not_overlap():
    assert not Box(0, 0, 1, 1).overlaps(Box(1, 0, 2, 1))
    assert Box(0, 0, 1, 1).overlaps(Box(0.9, 0.9, 2, 2))


def test_a_scene_is_as_large_as_its_marks():
    scene = Scene("s", "s", "", 20, (Line(layer="l", a=(3, 4), b=(-1, 9)),))
    assert scene.box == Box(-1, 4, 3, 9)


@pytest.mark.parametrize(
    ("start", "end", "box"),
    [
        (0, 90, (0, 0, 10, 10)), (180, 270, (-10, -10, 0, 0)), (270, 360, (0, -10, 10, 0)),
        (350, 450, (0, -1.736, 10, 10)), (270, 90, (0, -10, 10, 10)), (0, 270, (-10, -10, 10, 10)),
    ],
)  # fmt: skip
def test_an_arc_reaches_as_far_as_it_is_drawn(start, end, box):
    """Quarter turns of radius 10; 10 sin 10 is 1.736."""
    arc = Arc(layer="d", centre=(0, 0), radius=10, start_deg=start, end_deg=end)
    found = box_of(extent(arc, 1))
    assert (found.left, found.bottom, found.right, found.top) == pytest.approx(box, abs=1e-3)
