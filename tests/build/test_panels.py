"""Walls in bolted panels: every panel passes its way, and nothing is counted twice."""

from math import hypot

import pytest
from hypothesis import given, settings
from hypothesis.strategies import builds, floats, integers, none, one_of, sampled_from

from mewswright.build.frame import built_frame
from mewswright.build.frame_report import frame_report
from mewswright.build.lines import lines_of
from mewswright.build.masses import density_kg_m3, part_mass
from mewswright.build.panel_way import rectangle_fits
from mewswright.build.report import report, worked_out
from mewswright.build.solids import solids_of, why_not_whole
from mewswright.build.takeoff import take_off
from mewswright.model.problem import Problem
from mewswright.model.yard import Yard
from support.units import BARRED, BOARDED, corners, unit_yard

MESHED = {"infill": "meshed", "gap_mm": 24, "mesh_kind": "welded", "upstand_mm": 300}
DOOR = {
    "between": ["Unit", "Lobby"], "width_mm": 750, "height_mm": 1800, "sill_mm": 150,
    "face": "back", "at_mm": 1200,
}  # fmt: skip
TIMBER = ("sole", "head", "post", "stud", "nogging", "trim")


def _taken(**frame):
    yard = unit_yard(frame=frame)
    return take_off(yard, yard.quarters[0])


def _metres(takeoff, *kinds):
    return sum(p.count * p.length_mm for p in takeoff.parts if p.kind in kinds) / 1000


def _unit(width, depth, front, bay, clad, post, door):
    return unit_yard(
        front=front, faces={"left": front}, door=[DOOR] if door else [], width_mm=width,
        depth_mm=depth, frame={"bay_max_mm": bay, "carry_clad": clad, "post": post},
    )  # fmt: skip


UNITS = builds(
    _unit, width=integers(2400, 6000), depth=integers(1500, 5000),
    front=sampled_from((BOARDED, BARRED, MESHED)), bay=one_of(none(), integers(900, 2600)),
    clad=sampled_from((True, False)), post=sampled_from(("95x95", "45x95")),
    door=sampled_from((True, False)),
)  # fmt: skip


@given(yard=UNITS)
@settings(max_examples=20, deadline=None)
def test_panels_and_the_rest_weigh_what_the_take_off_weighs(yard):
    takeoff = take_off(yard, yard.quarters[0])
    in_panels = {}
    for panel in takeoff.panels:
        for one in panel.parts:
            in_panels[one.mark] = in_panels.get(one.mark, 0) + one.count
    whole = rest = 0.0
    for part in takeoff.parts:
        mass = part_mass(part)
        if mass is None:
            continue
        whole += mass.kg
        if part.mark not in in_panels:
            rest += mass.kg
        else:
            assert in_panels[part.mark] <= part.count, part.mark
            rest += mass.kg * (1 - in_panels[part.mark] / part.count)
    assert sum(p.mass_kg for p in takeoff.panels) + rest == pytest.approx(whole, rel=0.01)


def _stands_in(stick, side, q):
    x, y, _ = ((a + b) / 2 for a, b in zip(stick.start_mm, stick.end_mm, strict=True))
    wall = {"front": y < 0, "back": y > q.depth_mm, "left": x < 0, "right": x > q.width_mm}
    return wall[side] and (side in ("front", "back") or 0 <= y <= q.depth_mm)


@given(yard=UNITS)
@settings(max_examples=20, deadline=None)
def test_no_timber_of_a_panel_reaches_over_its_joint(yard):
    takeoff = take_off(yard, yard.quarters[0])
    for panel in takeoff.panels:
        k = 0 if panel.side in ("front", "back") else 1
        for one in panel.parts:
            part = next(p for p in takeoff.parts if p.mark == one.mark)
            if part.kind not in TIMBER or not part.sticks:
                continue
            along = [
                [c[k] for c in corners(s)] for s in part.sticks
                if _stands_in(s, panel.side, yard.quarters[0])
                and panel.from_mm - 1 < (s.start_mm[k] + s.end_mm[k]) / 2 < panel.to_mm + 1
            ]  # fmt: skip
            for reach in along:
                assert min(reach) >= panel.from_mm - 15
                assert max(reach) <= panel.to_mm + 15  # a raked plate's square ends stand over


@given(yard=UNITS, width=floats(300, 2000), height=one_of(none(), floats(900, 2600)))
@settings(max_examples=25, deadline=None)
def test_every_panel_passes_the_gate_or_is_named(yard, width, height):
    q = yard.quarters[0]
    frame = q.frame.model_copy(update={"way_width_mm": width, "way_height_mm": height})
    found = take_off(yard, q.model_copy(update={"frame": frame}))
    for panel in found.panels:
        least = min(panel.width_mm, panel.height_mm)
        stands = panel.thick_mm <= width - 50 and (height is None or least <= height - 50)
        lies = least <= width - 50 and (height is None or panel.thick_mm <= height - 50)
        diagonal = height is not None and least <= hypot(width, height)
        if not panel.too_large:
            assert stands or lies or diagonal
            limit = q.frame.bay_max_mm
            assert limit is None or panel.to_mm - panel.from_mm <= limit + 0.1
        elif stands or lies:
            assert "bay_max_mm" in panel.too_large
        else:
            assert any(panel.mark in caution for caution in found.cautions)


def test_splitting_adds_the_doubled_upright_and_shortens_what_lies_between():
    """The back, 3190 mm long, in two panels at its middle stud: one stud more of 1998.1 mm.

    Three wholly new lengths: sole and head plates are 3190 mm in all as before; one row of
    noggings loses half a stud, 22.5 mm, on each side of the joint.
    """
    whole, split = _taken(), _taken(bay_max_mm=2600)
    assert [p.mark for p in split.panels] == ["F1", "F2", "B1", "B2", "L1", "R1"]
    back = lambda t, kind: [p for p in t.parts if p.kind == kind]  # noqa: E731
    studs = sum(p.count for p in back(split, "stud")) - sum(p.count for p in back(whole, "stud"))
    posts = sum(p.count for p in back(split, "post")) - sum(p.count for p in back(whole, "post"))
    assert (studs, posts) == (1, 1)
    assert _metres(split, "sole") == pytest.approx(_metres(whole, "sole"), abs=0.003)
    assert _metres(split, "head") == pytest.approx(_metres(whole, "head"), abs=0.003)
    stud_m, post_m = 2088.1 - 90, 2400 - 90
    more = _metres(split, "stud", "post") - _metres(whole, "stud", "post")
    assert more == pytest.approx((stud_m + post_m) / 1000, abs=0.02)
    less = _metres(whole, "nogging") - _metres(split, "nogging")
    rows = 1  # one row of noggings in the back, none of rails reaches over the front's post
    assert less == pytest.approx(rows * 0.045 + 0.095, abs=0.003)


def test_bolts_washers_and_straps_by_hand():
    """Front pair 2310 mm clear of plates: 5 bolts at 600 mm; back 1998: 5; 2 straps a joint."""
    found = {p.what: p for p in _taken(bay_max_mm=2600, bay_bolt="M12").parts}
    assert found["bolt between panels"].amount == 10
    assert found["bolt between panels"].material == "m12_coach_bolt"
    assert found["washer of a bolt between panels"].amount == 10
    assert found["tie strap over a joint of head plates"].amount == 4
    assert "bolt between panels" not in {p.what for p in _taken().parts}


def test_a_team_carries_every_panel():
    takeoff = _taken(carry_kg=25, carry_people=2)
    assert all(p.mass_kg <= 50 for p in takeoff.panels)
    assert len(takeoff.panels) > 4


def test_what_cannot_be_made_light_enough_is_named_with_a_remedy():
    said = [c for c in _taken(carry_kg=5).cautions if c.startswith("Panel F1")]
    assert said == [
        "Panel F1: it weighs 150 kg, 140 kg more than the 10 kg of the team: take 31 people "
        "(carry_people); or set carry_clad = false and clad it once it stands."
    ]


def test_the_narrowest_gate_of_the_yard_counts():
    yard = unit_yard(frame={"through_gate": True, "way_height_mm": 1500})
    with pytest.raises(Problem, match="no gate has width_m"):
        take_off(yard, yard.quarters[0])
    gates = [{"name": n, "kind": "gate", "at_m": [0, 0], "width_m": w}
             for n, w in (("Lane", 1.2), ("Garden", 0.9))]  # fmt: skip
    gated = Yard.model_validate(yard.model_dump() | {"feature": gates})
    keyed = unit_yard(frame={"way_width_mm": 900, "way_height_mm": 1500})
    assert take_off(gated, gated.quarters[0]).panels == take_off(keyed, keyed.quarters[0]).panels


def test_a_frame_takes_each_upright_of_a_pair_by_itself():
    yard = unit_yard(frame={"bay_max_mm": 2600, "post": "45x95"})
    q = yard.quarters[0]
    built = built_frame(yard, q)
    plates = [line for line in lines_of(built, q.depth_mm).plates if line.side == "front"]
    assert len(plates) == 2
    for plate in plates:
        assert all(0 <= at <= plate.length_m + 1e-9 for at in plate.supports_m)
    loaded = Yard.model_validate(
        yard.model_dump() | {"loads": {"source": "test", "ground_snow_kn_m2": 1.0,
                                       "basic_wind_m_s": 20, "terrain": "II"}}
    )  # fmt: skip
    assert frame_report(loaded, loaded.quarters[0]).members


@pytest.mark.parametrize("front", [BARRED, MESHED, BOARDED], ids=lambda f: f["infill"])
def test_solids_of_a_split_frame_weigh_what_their_lines_say(front):
    yard = unit_yard(front=front, frame={"bay_max_mm": 1500, "base": "posts_in_concrete"})
    takeoff = take_off(yard, yard.quarters[0])
    solid = line = 0.0
    for part in takeoff.parts:
        if why_not_whole(part) or density_kg_m3(part) is None:
            continue
        solid += density_kg_m3(part) * sum(s.volume_m3 for s in solids_of(part, takeoff.frame))
        line += part_mass(part).kg
    assert solid == pytest.approx(line, rel=0.01)


def test_the_json_holds_the_panels():
    yard = unit_yard(frame={"bay_max_mm": 1500})
    panels = report(*worked_out(yard, yard.quarters[0]))["panels"]
    assert panels[0]["mark"] == "F1"
    assert {"width_mm", "height_mm", "mass_kg", "parts"} <= set(panels[0])


def test_a_tilted_rectangle_by_hand():
    """A 3-4-5 case: a thin strip of 5 fits a 3 by 4 opening, one of 5.1 does not."""
    assert rectangle_fits(4.999, 1e-9, 3, 4)
    assert not rectangle_fits(5.1, 1e-9, 3, 4)
    assert not rectangle_fits(4.999, 0.5, 3, 4)
    assert rectangle_fits(3, 4, 4, 3)
