"""Setting-out read back from the drawing's own SVG: tapes and diagonals find the corners.

Corners follow from the printed words alone, in closed form: two circles round two fixed
points, and the side on which they meet. They are compared with the places of the model.
"""

import re
import xml.etree.ElementTree as ET
from math import dist, hypot, sqrt

import pytest

from mewswright.build.frame import built_frame
from mewswright.drawing.fixed_points import FixedPoint, side_of, two_points
from mewswright.drawing.foundation import foundation_plan, outer_corners_mm
from mewswright.drawing.svg import to_svg
from support.alder_close import UNITS, YARD
from support.loaded_units import loaded

TEXT = "{http://www.w3.org/2000/svg}text"
PLACE = r"\((-?[\d.]+) m east, (-?[\d.]+) m north\)"
TAPES = re.compile(rf"{PLACE}: A ([\d.]+), B ([\d.]+), C ([\d.]+), D ([\d.]+)\.(?= )")
SIDE = re.compile(r"all four lie to the (left|right)\.")
DIAGONAL = re.compile(r"A to C and B to D: (\d+) each")


def turned(facing_deg, at_m=(18.25, 12.375)):
    """The first unit of the demo, elsewhere in the yard and turned."""
    unit = UNITS[0].model_copy(update={"facing_deg": facing_deg, "at_m": at_m})
    others = tuple(q for q in YARD.quarters if q.name != unit.name)
    return YARD.model_copy(update={"quarters": (unit, *others)}), unit


CASES = {
    **{unit.name: (YARD, unit) for unit in UNITS},
    "turned by 37.5": turned(37.5),
    "turned by 301": turned(301),
}


def printed(yard, unit):
    """All lettering of the foundation plan, in the order of the file."""
    svg = to_svg(foundation_plan(yard, unit, built_frame(yard, unit)))
    return " ".join(text.text or "" for text in ET.fromstring(svg).iter(TEXT)) + " "


def met(p, q, from_p, from_q, side):
    """Where two circles meet on a side of the line from p to q. Source: school geometry."""
    base = dist(p, q)
    along = (from_p**2 - from_q**2 + base**2) / (2 * base)
    off = sqrt(from_p**2 - along**2) * (1 if side == "left" else -1)
    ux, uy = (q[0] - p[0]) / base, (q[1] - p[1]) / base
    return p[0] + along * ux - off * uy, p[1] + along * uy + off * ux


@pytest.mark.parametrize("case", CASES)
def test_tapes_and_diagonals_find_the_corners_within_a_millimetre(case):
    yard, unit = CASES[case]
    text = printed(yard, unit)
    one, other = (tuple(float(v) for v in found) for found in TAPES.findall(text))
    (side,) = SIDE.findall(text)
    p, q = ((1000 * e, 1000 * n) for e, n, *_ in (one, other))
    corners = [met(p, q, a, b, side) for a, b in zip(one[2:], other[2:], strict=True)]
    frame = built_frame(yard, unit)
    for found, place in zip(corners, outer_corners_mm(unit, frame), strict=True):
        wanted = [1000 * v for v in unit.on_ground_m(*place)]
        assert dist(found, wanted) <= 1.0
    (diagonal,) = (float(v) for v in DIAGONAL.findall(text))
    a, b, c, d = corners
    assert diagonal == pytest.approx(hypot(frame.outer_width_mm, frame.outer_depth_mm), abs=0.5)
    assert dist(a, c) == pytest.approx(diagonal, abs=2.5)  # two corners 1 mm off, and rounding
    assert dist(b, d) == pytest.approx(diagonal, abs=2.5)


def test_points_with_corners_on_both_sides_are_not_chosen():
    """Tapes meet left and right of their line, so a corner on each side could be mistaken."""
    west, east = FixedPoint("west", (0, 0)), FixedPoint("east", (10, 0))
    assert side_of(west, east, [(5, 4), (5, 6)]) == "left"
    assert side_of(east, west, [(5, 4), (5, 6)]) == "right"
    assert side_of(west, east, [(5, 4), (5, -6)]) == ""
    yard = YARD.model_copy(
        update={
            "feature": (),
            "yard": YARD.yard.model_copy(update={"boundary_m": ((0, 0), (10, 0))}),
        }
    )
    assert two_points(yard, [(5, 4), (5, 6)])
    assert two_points(yard, [(5, 4), (5, -6)]) == []


def test_anchors_stand_on_the_frame_where_they_are_reckoned():
    """By hand: 3190 x 2190 mm over the frame, a hole on each corner and one in each long edge."""
    yard = loaded(frame={"anchor": "concrete_hole", "anchor_count": 6, "hole_mm": [400, 800]})
    unit = yard.quarters[0]
    scene = foundation_plan(yard, unit, built_frame(yard, unit))
    spots = {m.centre: m.radius for m in scene.marks if (m.item or "").startswith("anchor:")}
    low, right, top = -95, 3095, 2095
    assert spots == dict.fromkeys(
        [(low, low), (right, low), (low, top), (right, top), (1500, low), (1500, top)], 200
    )
    said = " ".join(getattr(m, "text", "") for m in scene.marks)
    assert "6 × hole of concrete, 400 across and 800 deep" in said.replace("\n", " ")
