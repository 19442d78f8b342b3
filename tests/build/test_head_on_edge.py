"""Head plates on edge: their depth stands upright, and the clear heights stay."""

import pytest
from tests.support.alder_close import YARD

from mewswright.build.frame import built_frame
from mewswright.build.lines import lines_of
from mewswright.build.member_loads import rect
from mewswright.build.shell import head_mm, shell_of


def unit(**keys):
    yard = YARD
    quarters = yard.quarters_named("Isolation")
    return yard, quarters.model_copy(
        update={"frame": quarters.frame.model_copy(update={"head": "45x195", **keys})}
    )


@pytest.mark.parametrize(("on_edge", "up", "across"), [(False, 45, 195), (True, 195, 45)])
def test_a_plate_stands_as_the_frame_says(on_edge, up, across):
    yard, quarters = unit(head_on_edge=on_edge)
    assert head_mm(quarters.frame) == (up, across)
    frame = built_frame(yard, quarters)
    for part in frame.parts:
        if part.kind == "head":
            assert part.section == "45x195"  # as it is bought
            assert {(s.breadth_mm, s.depth_mm) for s in part.sticks} == {(up, across)}


@pytest.mark.parametrize("on_edge", [False, True])
def test_the_clear_height_stays(on_edge):
    """The top of the front plate lies at the ceiling, whichever way it lies."""
    yard, quarters = unit(head_on_edge=on_edge)
    front = [
        stick
        for part in built_frame(yard, quarters).parts
        if part.kind == "head"
        for stick in part.sticks
        if stick.start_mm[1] < 0 and stick.end_mm[1] < 0
    ]
    ceiling = shell_of(quarters).ceiling_mm(0)
    assert front
    for stick in front:
        assert stick.start_mm[2] + stick.breadth_mm / 2 == pytest.approx(ceiling, abs=0.5)


def test_a_plate_on_edge_bends_about_its_strong_axis():
    """Second moment b h3 / 12 by hand: 45 x 195^3 / 12 on edge, 195 x 45^3 / 12 flat."""
    for on_edge, by_hand in ((True, 45 * 195**3 / 12), (False, 195 * 45**3 / 12)):
        yard, quarters = unit(head_on_edge=on_edge)
        plates = lines_of(built_frame(yard, quarters), quarters.depth_mm).plates
        assert plates
        assert {plate.on_edge for plate in plates} == {on_edge}
        for plate in plates:
            bends = rect(plate.section, lies_flat=not plate.on_edge).inertia_y_mm4
            assert bends == pytest.approx(by_hand)
