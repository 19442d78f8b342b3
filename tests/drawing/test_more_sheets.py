"""Elevations, framing, roof and foundation: their figures agree with the unit and each other."""

from itertools import pairwise
from math import hypot, sqrt

import pytest
from hypothesis import HealthCheck, Phase, example, given, settings
from hypothesis import strategies as st

from mewswright.build.frame import built_frame
from mewswright.build.row import unit_or_row
from mewswright.drawing.cross_section import cross_section
from mewswright.drawing.elevation import elevation
from mewswright.drawing.fixed_points import two_points
from mewswright.drawing.foundation import foundation_plan, outer_corners_mm, tapes_mm
from mewswright.drawing.framing import wall_framing
from mewswright.drawing.paper import fits
from mewswright.drawing.plan import quarters_plan
from mewswright.drawing.roof_plan import roof_plan
from mewswright.drawing.scene import SCALES, Dimension, Polygon, Running, whole
from mewswright.drawing.sheet import sheet
from mewswright.drawing.svg import to_svg
from mewswright.model.problem import Problem
from mewswright.model.quarters import SIDES
from support.alder_close import UNITS, YARD
from support.corridor_yard import corridor_yard
from support.drawn_units import yard_of
from support.units import unit_yard


def scenes(yard, unit):
    frame = built_frame(yard, unit)
    for side in SIDES:
        yield elevation(yard, unit, frame, side)
        yield wall_framing(yard, unit, frame, side)
    if unit.has_roof:
        yield roof_plan(unit, frame)
    yield foundation_plan(yard, unit, frame)


def overlapping(scene):
    boxes = [(text, box.grown(-0.05 * scene.scale)) for text, box in scene.text_boxes()]
    return [
        (a, b) for i, (a, box) in enumerate(boxes) for b, other in boxes[:i] if box.overlaps(other)
    ]


def chains(scene):
    """Dimensions that stand on one line, from low to high."""
    lines = {}
    for mark in scene.marks:
        if isinstance(mark, Dimension):
            k = 0 if mark.axis == "x" else 1
            span = sorted((mark.a[k], mark.b[k]))
            lines.setdefault((mark.axis, mark.at), []).append((*span, mark))
    return {line: sorted(found, key=lambda f: f[:2]) for line, found in lines.items()}


def running(scene, name):
    """Values of a running row by the name that stands at its end."""
    rows = {m.text for m in scene.marks if getattr(m, "css", "") == "row-name"}
    assert name in rows
    (label,) = [m for m in scene.marks if getattr(m, "text", "") == name]
    k = 1 if label.turn_deg == 0 else 0  # the axis across the row
    found = [m for m in scene.marks if isinstance(m, Running) and "xy".index(m.axis) != k]
    near = min(abs(m.at - label.at[k]) for m in found)
    return sorted(
        m.length_mm for m in found if abs(abs(m.at - label.at[k]) - near) < 1e-6
    )  # fmt: skip


@pytest.mark.parametrize("unit", UNITS, ids=lambda q: q.name)
def test_nothing_overlaps_and_chains_add_up_on_every_sheet_of_the_demo(unit):
    for scene in scenes(YARD, unit):
        page = sheet(scene, f"{YARD.yard.name}, {unit.name}", scene.title)
        assert overlapping(page) == [], scene.name
        assert all(page.box.holds(box) for _, box in page.text_boxes()), scene.name
        overall = {
            (axis, round(low, 3), round(high, 3)): mark
            for (axis, _), found in chains(scene).items()
            for low, high, mark in found
        }
        for (axis, _), found in chains(scene).items():
            for (_, end, _), (start, _, _) in pairwise(found):
                assert start == pytest.approx(end, abs=1e-6), (scene.name, "a gap in a chain")
            if len(found) > 1:
                total = overall[axis, round(found[0][0], 3), round(found[-1][1], 3)]
                figures = sum(int(whole(mark.length_mm)) for *_, mark in found)
                # Whole millimetres: each figure may be half of one off.
                assert abs(figures - int(whole(total.length_mm))) <= len(found) / 2


def test_openings_of_the_back_agree_with_the_plan():
    """What is measured from the inside right and from the inside left makes the clear width."""
    unit = UNITS[0]
    frame = built_frame(YARD, unit)
    from_right = running(elevation(YARD, unit, frame, "back"), "openings, from inside right")
    plan = quarters_plan(YARD, unit, frame)
    from_left = sorted(
        m.length_mm
        for m in plan.marks
        if isinstance(m, Running) and m.axis == "x" and m.at > unit.depth_mm and m.datum == 0
    )
    assert from_right == pytest.approx([unit.width_mm - x for x in reversed(from_left)])
    # By hand: a door 750 wide about 6400, a hatch 300 wide about 3600, in 7200.
    assert from_right == pytest.approx([425, 1175, 3450, 3750])


def test_framing_measures_from_the_panels_own_end():
    yard = unit_yard()
    unit = yard.quarters[0]
    frame = built_frame(yard, unit)
    scene = wall_framing(yard, unit, frame, "back")
    # By hand: 3000 clear and 95 of wall at each end, studs 45 wide, six bays of 600 at most.
    middles = [22.5 + (3190 - 45) * i / 6 for i in range(7)]
    assert running(scene, "upright middles, from left end") == pytest.approx(middles)
    panel = [m for m in scene.marks if isinstance(m, Dimension) and m.prefix == "panel "]
    assert sorted(m.length_mm for m in panel)[-1] == pytest.approx(3190)


def test_a_raked_panel_has_two_diagonals():
    yard = unit_yard()
    unit = yard.quarters[0]
    scene = wall_framing(yard, unit, built_frame(yard, unit), "right")
    # Front at the left hand: 2400 high there and 2100 at the back, 2400 long; Pythagoras.
    rising, falling = sqrt(2400**2 + 2100**2), sqrt(2400**2 + 2400**2)
    said = " ".join(text for text, _ in scene.text_boxes())
    assert f"diagonal {whole(rising)} from the left foot" in said
    assert f"{whole(falling)} from the right foot" in said


@pytest.mark.parametrize("side", SIDES)
def test_every_timber_of_a_wall_is_on_its_framing(side):
    """All four framings together hold every plate, post, stud and nogging of the walls once."""
    yard = unit_yard(
        door=[{"between": ["Unit", "Lobby"], "width_mm": 700, "height_mm": 1700, "face": side,
               "at_mm": 1200}]
    )  # fmt: skip
    unit = yard.quarters[0]
    frame = built_frame(yard, unit)
    shown: dict[str, int] = {}
    for each in SIDES:
        for mark in wall_framing(yard, unit, frame, each).marks:
            if isinstance(mark, Polygon) and mark.item.startswith("part:"):
                name = mark.item.removeprefix("part:")
                shown[name] = shown.get(name, 0) + 1
    wanted = {
        p.mark: p.count
        for p in frame.parts
        if p.kind in ("sole", "head", "post", "stud", "nogging", "trim")
        and p.section
        and not p.what.startswith("blocking")
    }
    assert shown == wanted


def test_two_tapes_find_each_corner_again():
    """Circles about both fixed points meet at the corner: worked back by trilateration."""
    for unit in UNITS:
        frame = built_frame(YARD, unit)
        tapes = tapes_mm(YARD, unit, frame)
        corners = [unit.on_ground_m(*p) for p in outer_corners_mm(unit, frame)]
        points = two_points(YARD, corners)
        assert points == [point for point, _ in tapes]
        assert len(points) == 2
        (ax, ay), (bx, by) = (p.at_m for p in points)
        base = hypot(bx - ax, by - ay)
        for i, (x, y) in enumerate(corners):
            r, s = (lengths[i] / 1000 for _, lengths in tapes)
            along = (r * r - s * s + base * base) / (2 * base)
            off = sqrt(max(0.0, r * r - along * along))
            ux, uy = (bx - ax) / base, (by - ay) / base
            ends = [
                (ax + along * ux + sign * off * uy, ay + along * uy - sign * off * ux)
                for sign in (1, -1)
            ]
            assert min(hypot(x - u, y - v) for u, v in ends) < 1e-6


def test_tapes_of_a_unit_set_by_hand():
    """Front left corner over the frame at 95, 95 mm before and left of the room's own."""
    yard = yard_of(3000, 2400)
    unit = yard.quarters[0].model_copy(update={"facing_deg": 180, "at_m": (0.0, 0.0)})
    frame = built_frame(yard, unit)
    corners = [unit.on_ground_m(*p) for p in outer_corners_mm(unit, frame)]
    t = frame.wall_mm / 1000
    assert corners[0] == pytest.approx((-t, -t))
    assert corners[2] == pytest.approx((3 + t, 2.4 + t))
    tapes = tapes_mm(yard, unit, frame)
    assert len(tapes) == 2
    for point, lengths in tapes:
        x, y = point.at_m
        assert lengths[0] == pytest.approx(1000 * hypot(x + t, y + t))


def test_a_yard_without_fixed_points_says_so():
    yard = unit_yard()
    unit = yard.quarters[0]
    scene = foundation_plan(yard, unit, built_frame(yard, unit))
    said = " ".join(text for text, _ in scene.text_boxes())
    assert "has no two fixed points whose tapes cross well here" in said


def test_the_roof_plan_gives_overhangs_as_the_yard_file_does():
    yard = unit_yard(roof={"overhang_front_mm": 210, "overhang_back_mm": 160,
                           "overhang_side_mm": 90})  # fmt: skip
    unit = yard.quarters[0]
    frame = built_frame(yard, unit)
    figures = [m.text for m in roof_plan(unit, frame).marks if isinstance(m, Dimension)]
    outer = 2400 + 2 * frame.wall_mm
    assert {"210", "160", whole(outer), f"roof, level {whole(outer + 370)}"} <= set(figures)
    assert figures.count("90") == 2


def test_elevations_give_the_clear_height_at_each_end():
    yard = unit_yard()
    unit = yard.quarters[0]
    frame = built_frame(yard, unit)
    for side, ends in (
        ("front", [2400, 2400]), ("back", [2100, 2100]), ("left", [2100, 2400]),
        ("right", [2400, 2100]),
    ):  # fmt: skip
        clear = [
            (m.at, m.length_mm)
            for m in elevation(yard, unit, frame, side).marks
            if isinstance(m, Dimension) and m.axis == "y" and m.prefix == "clear "
        ]
        assert [length for _, length in sorted(clear)] == pytest.approx(ends), side


def test_a_pitch_has_no_sides():
    yard = yard_of()
    with pytest.raises(
        Problem, match=r"^'Lawn pitch' is a pitch and has no back: draw its plan alone$"
    ):
        elevation(yard, yard.quarters[1], None, "back")


sizes, heights = st.floats(700, 15_000), st.floats(900, 4_500)


@settings(
    max_examples=5, phases=[Phase.explicit, Phase.reuse, Phase.generate], deadline=None,
    suppress_health_check=[HealthCheck.too_slow],
)  # fmt: skip
@example(3010.0, 2430.0, 2190.0, 2510.0, "meshed")
@given(sizes, sizes, heights, heights, st.sampled_from(["barred", "meshed", "open"]))
def test_any_unit_fits_its_sheets_and_no_lettering_overlaps(width, depth, front, back, infill):
    yard = yard_of(width, depth, front, back, infill)
    for scene in scenes(yard, yard.quarters[0]):
        assert scene.scale in SCALES
        assert fits(scene, "A3")
        page = sheet(scene, "Test yard: Unit", scene.title)
        assert overlapping(page) == [], scene.name
        to_svg(page)


def test_bars_under_a_sloping_roof_are_listed_in_their_order():
    """Clear heights run from 2100 at the back to 2400 in front, so the bars grow to the right."""
    yard = unit_yard(faces={"left": {"infill": "barred", "gap_mm": 38, "bar_mm": 12}})
    unit = yard.quarters[0]
    frame = built_frame(yard, unit)
    scene = elevation(yard, unit, frame, "left")
    listed = " ".join(m.text for m in scene.marks if getattr(m, "layer", "") == "notes")
    listed = listed.partition("mark and length: ")[2].rstrip(".")
    words = [word.rpartition("× ")[2].split() for word in listed.split(", ")]
    lengths = {mark: float(length) for mark, length in words}
    assert len(lengths) > 20
    assert list(lengths.values()) == sorted(lengths.values())
    parts = {p.mark: p.length_mm for p in frame.parts if p.kind == "bar" and "left" in p.place}
    assert lengths == {mark: round(parts[mark]) for mark in lengths}


def test_one_row_of_joints_where_plates_part_with_panels():
    yard = unit_yard(width_mm=5000, frame={"bay_max_mm": 1800})
    unit = yard.quarters[0]
    scene = wall_framing(yard, unit, built_frame(yard, unit), "front")
    rows = [m.text for m in scene.marks if getattr(m, "css", "") == "row-name"]
    assert [name for name in rows if "joints" in name] == ["joints of panels, from left end"]


def test_the_rim_of_a_slab_is_drawn_up_to_the_floor():
    """A tray of 100 mm inside, the slab 100 mm beyond walls of 95 mm."""
    yard = unit_yard(frame={"base": "slab"})
    unit = yard.quarters[0]
    frame = built_frame(yard, unit)
    rims = {
        tuple(round(x) for x, _ in m.points[:2])
        for scene in (elevation(yard, unit, frame, "front"), cross_section(yard, unit, frame))
        for m in scene.marks
        if m.title.startswith("Rim of") and {z for _, z in m.points} == {-100, 0}
    }
    assert rims == {(-195, 3195), (-195, 0), (3000, 3195)}


def test_the_side_of_a_row_measures_its_corridor():
    """By hand: 1200 mm wide, 2050 mm high outside and 1200 tan 5 more at the units."""
    yard, row = unit_or_row(corridor_yard(), "Row")
    scene = elevation(yard, row, built_frame(yard, row), "left")
    found = {m.text for m in scene.marks if isinstance(m, Dimension)}
    assert {"corridor 1200", "corridor 2050", "under the ledger 2155"} <= found
