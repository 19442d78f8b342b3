from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from mewswright.drawing.placing import Lettering, crosses, spread
from mewswright.drawing.scene import Box

places = st.lists(st.floats(-5000, 5000), min_size=1, max_size=40).map(sorted)


@given(places, st.floats(1, 300))
def test_spread_places_stay_in_order_and_apart(wanted, apart):
    moved = spread(wanted, apart)
    assert len(moved) == len(wanted)
    assert all(b - a >= apart * (1 - 1e-6) - 1e-6 for a, b in pairwise(moved))


@given(places)
def test_places_that_are_far_apart_do_not_move(wanted):
    far = [i * 100 + w / 5000 for i, w in enumerate(wanted)]
    assert spread(far, 50) == far


@given(st.lists(st.tuples(st.floats(-500, 500), st.floats(-500, 500)), min_size=2, max_size=25))
def test_no_two_labels_lie_on_each_other(targets):
    letters = Lettering(25)
    for i, target in enumerate(targets):
        letters.label(target, f"Label {i}")
    boxes = letters.taken
    assert not any(a.overlaps(b) for i, a in enumerate(boxes) for b in boxes[:i])


def test_a_label_keeps_off_a_line_where_it_can():
    letters = Lettering(10)
    letters.avoid([(20, -500), (20, 500)])
    _, box = letters.place((0, 0), "perch")
    assert not crosses(box, (20, -500), (20, 500))


def test_a_line_that_passes_a_corner_does_not_cross_the_box():
    box = Box(0, 0, 10, 10)
    assert crosses(box, (-5, 5), (15, 5))
    assert not crosses(box, (-5, 8), (8, 21))
    assert not crosses(box, (11, -5), (11, 50))
