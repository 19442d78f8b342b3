"""Gutters among the parts: as long as the eaves, sized as `drain` sizes them, on the rafters."""

from math import hypot, pi

import pytest

from mewswright.build.gutter_parts import SHOE_UP_MM, STAND_MM, butt_for
from mewswright.build.gutter_places import hung_gutters
from mewswright.build.gutter_shapes import half_round, tube
from mewswright.build.order import build_order
from mewswright.build.report import worked_out
from mewswright.build.row import unit_or_row
from mewswright.build.solids import solids_of
from mewswright.build.takeoff import take_off
from mewswright.build.water.report import drainage
from support.corridor_yard import corridor_yard
from support.row_yard import row_yard
from support.units import unit_yard

DUOPITCH = {"form": "duopitch", "ridge_height_mm": 3000}


def taken(yard=None, name=None, **unit):
    yard = yard or unit_yard(**unit)
    return take_off(*unit_or_row(yard, name)) if name else take_off(yard, yard.quarters[0])


def rain(takeoff):
    return {part.what: part for part in takeoff.parts if part.kind == "rain"}


def test_a_unit_without_the_key_has_no_gutter():
    assert rain(taken()) == {}
    assert rain(taken(roof={"gutter": "none"})) == {}


def test_a_gutter_is_as_long_as_its_eave_and_as_wide_as_drain_says():
    """3000 + 2 x (95 + 100): the roof over its overhangs."""
    yard = unit_yard(roof={"gutter": "butt"})
    told = drainage(yard, yard.quarters[0]).gutter
    found = rain(taken(yard))
    assert found["gutter"].amount == pytest.approx(3.39) == pytest.approx(told.length_m)
    assert found["gutter"].material == f"half_round_{told.diameter_mm:g}"
    assert found["downpipe"].material == f"downpipe_{told.outlet_mm:g}"
    assert found["gutter outlet"].amount == told.outlets
    assert f"falls {told.wished_fall_mm:.0f} mm" in found["gutter"].note
    assert told.downpipe_at in found["gutter outlet"].note


def test_brackets_hang_on_rafters_no_further_apart_than_the_rule():
    """Seven rafters at 524 mm: each, for two bays of 524 are more than 1000 mm."""
    assert rain(taken(roof={"gutter": "butt"}))["gutter bracket"].amount == 7
    closer = taken(roof={"gutter": "butt"}, frame={"rafter_spacing_mm": 400})
    yard = unit_yard(roof={"gutter": "butt"}, frame={"rafter_spacing_mm": 400})
    (hung,) = hung_gutters(yard, yard.quarters[0])
    gaps = [b - a for a, b in zip(hung.brackets_mm, hung.brackets_mm[1:], strict=False)]
    assert max(gaps) <= 1000
    assert len(hung.brackets_mm) == rain(closer)["gutter bracket"].amount == 5
    wide = taken(roof={"gutter": "butt"}, frame={"rafter_spacing_mm": 1200})
    assert "fix a board along the rafters" in rain(wide)["gutter bracket"].note


def test_both_eaves_of_a_duopitch_have_a_gutter_and_one_the_butt():
    takeoff = taken(depth_mm=4000, roof={**DUOPITCH, "gutter": "butt"})
    found = rain(takeoff)
    gutters = [part for part in takeoff.parts if part.what == "gutter"]
    assert [part.place for part in gutters] == ["front eave", "back eave"]
    assert sum(part.amount for part in gutters) == pytest.approx(2 * 3.39)
    assert found["gutter stop end"].amount == 4
    assert found["water butt"].count == found["rain diverter"].count == 1
    assert any(line.startswith("The butt takes the front slope") for line in takeoff.cautions)


def test_a_pipe_runs_from_the_gutter_to_a_shoe_over_the_ground():
    """By hand: from the low rim half of the bore down, under the rafters, along the neck, down."""
    yard = unit_yard(roof={"gutter": "butt"})
    (hung,) = hung_gutters(yard, yard.quarters[0])
    (x,) = hung.outlets_mm
    assert x in (-95 / 2, 3000 + 95 / 2)
    size = hung.gutter.size
    middle = 2400 + 95 + 150 + 5 + size.diameter_mm / 2
    pipe = 2400 + 95 + 22 + 20 + size.outlet_mm / 2
    across = middle - pipe
    down = across * (2**0.5 - 1)  # the tangent of 22.5 deg
    slope = 300 / 2400
    top = 2100 - slope * 245 + 145 * (1 + slope**2) ** 0.5
    head = top - 5 - (5 + size.diameter_mm) * slope - hung.gutter.wished_fall_mm
    head -= size.diameter_mm / 2
    # The fall is that of the run up to the high end; the outlet lies 147.5 mm inside the low one.
    foot = SHOE_UP_MM - 100
    assert head > 2100 - slope * 245  # the gutter hangs beside the rafters: its pipe drops first
    long = hypot(across, down) + head - down - foot
    assert rain(taken(yard))["downpipe"].length_mm == pytest.approx(long, abs=1)


def test_a_soakaway_is_dug_as_drain_sizes_it_and_a_larger_roof_has_none():
    yard = unit_yard(roof={"gutter": "soakaway"})
    told = drainage(yard, yard.quarters[0]).soakaway
    found = rain(taken(yard))
    assert found["stone of the soakaway"].amount == pytest.approx(told.rubble_m3, abs=1e-4)
    assert found["rain drain"].amount == pytest.approx(told.from_downpipe_m, abs=1e-4)
    assert "water butt" not in found
    assert "downpipe shoe" not in found
    large = taken(width_mm=9000, depth_mm=3000, roof={"gutter": "soakaway"})
    assert "stone of the soakaway" not in rain(large)
    assert any("dig a trial pit" in line for line in large.cautions)


@pytest.mark.parametrize(
    ("unit", "why"),
    [
        ({"back_height_mm": 2400}, "the roof of 'Unit' is level"),
        ({"roof": {"covered_share": 0}}, "nothing of 'Unit' is roofed"),
        (
            {"front_height_mm": 2100, "back_height_mm": 2400, "roof": {"covered_share": 0.5}},
            "ends over the rafters",
        ),
    ],
)
def test_an_eave_that_takes_no_gutter_is_told(unit, why):
    roof = {**unit.get("roof", {}), "gutter": "butt"}
    takeoff = taken(**{**unit, "roof": roof})
    assert rain(takeoff) == {}
    assert any(line.startswith("No gutter is taken off") and why in line
               for line in takeoff.cautions)  # fmt: skip


def test_a_butt_brings_its_cautions_and_a_gutter_its_own():
    takeoff = taken(roof={"gutter": "butt"})
    said = " ".join(takeoff.cautions)
    assert "no bird, bat or child drowns" in said
    assert "Empty the butt before frost" in said
    assert "Clear gutter, leaf guard" in said
    assert "drowns" not in " ".join(taken(roof={"gutter": "soakaway"}).cautions)


@pytest.mark.parametrize(("litres", "size"), [(None, 200), (0, 100), (100, 100), (101, 200),
                                              (501, 500)])  # fmt: skip
def test_the_smallest_butt_that_serves_is_taken(litres, size):
    assert butt_for(litres).litres == size


def test_a_butt_stands_lower_under_a_low_eave_and_not_at_all_under_the_lowest():
    """An eave of 1300 mm leaves no 350 mm of stand under a butt 950 high; one of 700 no butt."""
    low = rain(taken(front_height_mm=1600, back_height_mm=1300, roof={"gutter": "butt"}))
    tops = [z for panel in low["water butt"].panels for *_, z in panel.corners_mm]
    heads = [z for panel in low["downpipe"].panels for *_, z in panel.corners_mm]
    assert 100 <= low["stand of the butt"].length_mm < STAND_MM
    assert max(tops) < max(heads) - 100
    lowest = taken(front_height_mm=1000, back_height_mm=700, roof={"gutter": "butt"})
    assert "water butt" not in rain(lowest)
    assert any(line.startswith("No butt is taken off") for line in lowest.cautions)


def test_plates_are_as_long_round_as_what_they_stand_for():
    gutter = half_round((0, 0, 0), (1000, 0, 0), 100, 3)
    pipe = tube((0, 0, 0), (0, 300, 400), 50, 2)
    for panels, around, long in ((gutter, pi * 100 / 2, 1000), (pipe, pi * 50, 500)):
        area = 0.0
        for panel in panels:
            a, b, c, _ = panel.corners_mm
            sides = [
                hypot(*(q - p for p, q in zip(s, e, strict=True))) for s, e in ((a, b), (b, c))
            ]
            area += sides[0] * sides[1]
        assert area == pytest.approx(around * long)


@pytest.mark.parametrize("gutter", ["butt", "soakaway"])
def test_nothing_of_the_gutter_stands_in_the_timber(gutter):
    """Nor in boards and base: no box of a plate's corners reaches into that of a stick."""
    for unit in ({}, {"front_height_mm": 2100, "back_height_mm": 2700}):
        takeoff = taken(**unit, roof={"gutter": gutter})
        timber = [
            [(min(v), max(v)) for v in zip(*solid.places_mm, strict=True)]
            for part in takeoff.parts
            if part.sticks and part.kind not in ("perch", "bar")
            for solid in solids_of(part, takeoff.frame)
        ]
        for part in takeoff.parts:
            for panel in part.panels if part.kind == "rain" else ():
                box = [(min(v), max(v)) for v in zip(*panel.corners_mm, strict=True)]
                for other in timber:
                    assert not all(
                        a[0] < b[1] - 1 and b[0] < a[1] - 1 for a, b in zip(box, other, strict=True)
                    ), part.what


def test_a_butt_stands_on_its_stand_under_the_height_of_its_pipe():
    found = rain(taken(roof={"gutter": "butt"}))
    feet = [z for panel in found["stand of the butt"].panels for *_, z in panel.corners_mm]
    assert max(feet) - STAND_MM / 2 == pytest.approx(-100)  # the sleepers lie 100 mm deep
    tops = [z for panel in found["water butt"].panels for *_, z in panel.corners_mm]
    heads = [z for panel in found["downpipe"].panels for *_, z in panel.corners_mm]
    assert max(tops) < max(heads)


def test_a_row_has_one_gutter_and_its_corridor_another():
    takeoff = taken(corridor_yard(roof={"gutter": "butt"}), "Row")
    found = [part for part in takeoff.parts if part.what == "gutter"]
    long = 3 * 3000 + 2 * (95 + 22) + 2 * (95 + 100)
    assert sum(p.amount for p in found) == pytest.approx(2 * long / 1000)
    places = " ".join(part.place for part in found)
    assert "front eave" in places
    assert "corridor, back eave" in places
    plain = taken(row_yard(roof={"gutter": "soakaway"}), "Row")
    assert rain(plain)["gutter"].amount == pytest.approx(long / 1000)


def test_a_unit_of_a_row_points_to_the_whole():
    takeoff = taken(row_yard(roof={"gutter": "butt"}), "A")
    assert any("take the row off as a whole" in line for line in takeoff.cautions)


def test_gutters_are_a_step_of_their_own_under_a_roof():
    takeoff = taken(roof={"gutter": "butt"})
    order = build_order(unit_yard(roof={"gutter": "butt"}).quarters[0], takeoff)
    keys = [step.key for step in order.steps]
    assert keys[keys.index("rain") - 1 :][:2] in (["cover", "rain"], ["clad", "rain"])
    step = order.steps[keys.index("rain")]
    assert set(step.marks) == {part.mark for part in takeoff.parts if part.kind == "rain"}
    assert {work.id for work in step.works} == {"gutter", "butt"}
    assert any("can of water" in hold for hold in step.holds)


def test_gutter_lengths_are_bought_whole_without_waste_on_top():
    """7.59 m of eave from lengths of 4 m: two, as they are laid."""
    yard = unit_yard(width_mm=7200, roof={"gutter": "butt"})
    takeoff, _, costing = worked_out(yard, yard.quarters[0])
    gutter = rain(takeoff)["gutter"]
    assert gutter.amount == pytest.approx(7.59)
    (line,) = [line for line in costing.lines if line.item == gutter.material]
    assert line.buy == 2
    assert rain(takeoff)["gutter bracket"].how_many > 1
    assert rain(takeoff)["gutter joint"].how_many == 1
