"""Duopitch units: geometry by hand, and properties over random ones."""

from itertools import combinations
from math import atan2, cos, degrees, hypot, radians, tan

import pytest
from hypothesis import given, settings
from hypothesis.strategies import composite, floats, integers, sampled_from

from mewswright.build.frame import built_frame
from mewswright.build.ridge import clear_under_ridge_mm, ridge_of
from mewswright.build.shell import shell_of
from mewswright.build.solids import solids_of, why_not_whole
from mewswright.build.takeoff import take_off
from mewswright.model.problem import Problem
from support.units import BARRED, BOARDED, polygon_mm2, unit_yard

MESHED = {"infill": "meshed", "gap_mm": 24, "mesh_kind": "welded", "upstand_mm": 500}
OPEN = {"infill": "open"}


def duo_yard(*, roof=None, **more):
    """4000 x 4000 mm, eaves at 2300, ridge at 3000 mm in the middle: 700 in 2000 mm."""
    return unit_yard(
        **{
            "width_mm": 4000, "depth_mm": 4000, "front_height_mm": 2300, "back_height_mm": 2300,
            "roof": {"form": "duopitch", "ridge_height_mm": 3000, **(roof or {})}, **more,
        }
    )  # fmt: skip


def of_kind(frame, kind, what=""):
    return [p for p in frame.parts if p.kind == kind and p.what.startswith(what)]


def test_rafters_by_hand():
    """700 in 2000: 19.29 deg. Run from the beam's face over plate and overhang, by Pythagoras."""
    yard = duo_yard()
    front, back = of_kind(built_frame(yard, yard.quarters[0]), "rafter")
    pitch = degrees(atan2(700, 2000))
    slope = hypot(700, 2000) / 2000
    for part, overhang in ((front, 200), (back, 150)):
        run = 2000 - 45 / 2 + 95 + overhang  # less half of the beam, more the wall
        assert part.length_mm == round(run * slope + 145 * tan(radians(pitch)))
        assert part.cut_start_deg == part.cut_end_deg == round(pitch, 2)
        assert "birdsmouth over the plate" in part.note
    assert (front.count, back.count) == (8, 8)


def test_the_ridge_beam_by_hand():
    """Its top is level with the rafters' tops at its faces; 195 mm below them is its underside."""
    yard = duo_yard()
    ridge = ridge_of(shell_of(yard.quarters[0]))
    fall = 0.35 * 45 / 2
    top = 3000 - fall + 145 * hypot(700, 2000) / 2000
    assert (ridge.at_mm, ridge.top_mm, ridge.under_mm) == pytest.approx((2000, top, top - 195))
    frame = built_frame(yard, yard.quarters[0])
    (beam,) = of_kind(frame, "ridge")
    assert beam.length_mm == 4000 + 2 * 95
    (post,) = of_kind(frame, "post", "gable post")
    assert post.count == 2
    assert post.length_mm == round(top - 195 - 45)  # down to the top of the sole plate
    assert clear_under_ridge_mm(shell_of(yard.quarters[0])) == pytest.approx(top - 195)


def test_the_gable_boards_cover_the_gable():
    """Outer gable: 4190 mm long, 2266.75 mm high at its ends and 3000 mm under the ridge."""
    yard = duo_yard(front=BOARDED)
    boards = [
        panel
        for part in of_kind(built_frame(yard, yard.quarters[0]), "board")
        if "left" in part.place
        for panel in part.panels
        if all(corner[0] < 0 for corner in panel.corners_mm)
    ]
    area = sum(polygon_mm2(panel.corners_mm) for panel in boards)
    assert area == pytest.approx(4190 * (2300 - 0.35 * 95 + 3000) / 2, rel=1e-9)


def test_studs_of_a_gable_are_cut_to_their_slope():
    yard = duo_yard()
    studs = [p for p in of_kind(built_frame(yard, yard.quarters[0]), "stud") if "left" in p.place]
    assert len(studs) == 4
    for part in studs:
        assert part.cut_end_deg == round(degrees(atan2(700, 2000)), 2)
        for stick in part.sticks:
            y = stick.end_mm[1]
            under = yard.quarters[0].ceiling_mm(y) - 45 / cos(atan2(700, 2000))
            assert stick.end_mm[2] == pytest.approx(under)


def test_both_decks_meet_at_the_ridge_and_do_not_cross():
    yard = duo_yard()
    decks = of_kind(built_frame(yard, yard.quarters[0]), "deck")
    shell = shell_of(yard.quarters[0])
    reach = {-1: [], 1: []}
    for part in decks:
        frame = built_frame(yard, yard.quarters[0])
        for solid in solids_of(part, frame):
            ys = [y for _, y, _ in solid.places_mm]
            side = -1 if sum(ys) / len(ys) < 2000 else 1
            reach[side] += ys
    assert max(reach[-1]) == pytest.approx(2000, abs=1e-6)
    assert min(reach[1]) == pytest.approx(2000, abs=1e-6)
    assert shell.ceiling_mm(2000) == 3000


def test_covering_of_a_duopitch_is_capped():
    felt = take_off(duo_yard(), duo_yard().quarters[0])
    (strips,) = of_kind(felt.frame, "covering")
    assert "caps both slopes" in strips.note
    # Each slope 2295 + 50 + ... mm: three strips of 1000 mm with 100 mm laps; and the cap.
    assert strips.count == 2 * 3 + 1
    sheets = duo_yard(roof={"cover": "corrugated"})
    (capping,) = of_kind(built_frame(sheets, sheets.quarters[0]), "trim", "ridge capping")
    assert capping.length_mm == 4000 + 2 * (95 + 100)


def test_hangers_hold_the_rafters_at_the_ridge():
    found = take_off(duo_yard(), duo_yard().quarters[0])
    (hangers,) = [p for p in found.parts if p.what == "joist hanger"]
    (straps,) = [p for p in found.parts if p.what == "restraint strap"]
    assert (hangers.amount, straps.amount) == (16, 16)


@pytest.mark.parametrize(
    ("changed", "sentence"),
    [
        ({"ridge_height_mm": None}, "a duopitch needs ridge_height_mm"),
        ({"ridge_height_mm": 2300}, "its higher eave 2300 mm: make ridge_height_mm greater"),
        ({"ridge_at_mm": 4000}, "the depth is 4000 mm: set ridge_at_mm between them"),
        ({"covered_share": 0.5}, "a duopitch is covered whole or not at all"),
        ({"form": "monopitch"}, "ridge_height_mm is given and the roof has no ridge"),
    ],
)
def test_a_ridge_that_cannot_be_is_refused(changed, sentence):
    with pytest.raises(ValueError, match=sentence):
        duo_yard(roof=changed)


def test_a_door_in_the_way_of_a_gable_post_is_refused():
    door = {"between": ["Unit", "Lobby"], "width_mm": 800, "height_mm": 1900, "face": "left",
            "at_mm": 2100}  # fmt: skip
    yard = duo_yard(door=[door])
    with pytest.raises(Problem, match=r"the door to Lobby is in its way: move the opening, or"):
        built_frame(yard, yard.quarters[0])
    door["at_mm"] = 3000
    assert built_frame(duo_yard(door=[door]), duo_yard().quarters[0])


@composite
def duo_units(draw):
    face = sampled_from([BOARDED, BARRED, MESHED, OPEN])
    depth = draw(floats(2000, 8000))
    front, back = draw(floats(1800, 2600)), draw(floats(1800, 2600))
    at = draw(floats(0.25, 0.75)) * depth
    rise = draw(floats(0.06, 0.55)) * min(at, depth - at)
    return duo_yard(
        depth_mm=depth,
        width_mm=draw(floats(1500, 8000)),
        front_height_mm=front,
        back_height_mm=back,
        front=draw(face),
        faces={side: draw(face) for side in ("back", "left", "right")},
        frame={
            "ridge": draw(sampled_from(["45x145", "45x195", "95x220"])),
            "ridge_posts": draw(integers(0, 2)),
        },
        roof={
            "ridge_height_mm": max(front, back) + rise,
            "ridge_at_mm": at,
            "deck": draw(sampled_from(["osb3_18", "none"])),
            "cover": draw(sampled_from(["felt", "corrugated"])),
            "covered_share": draw(sampled_from([0, 1])),
            "open_gap_mm": 24,
        },
    )


@settings(max_examples=12, deadline=None)
@given(duo_units())
def test_volumes_agree_and_nothing_stands_above_the_roof(yard):
    """Timber is counted to its long points: cut off it are two wedges a piece at the most."""
    quarters = yard.quarters[0]
    shell = shell_of(quarters)
    frame = built_frame(yard, quarters)
    rafter = shell.size_mm("rafter")[1]
    plumb = (rafter + 60) / min(slope.cos_pitch for slope in shell.slopes)
    solid = line = wedges = 0.0
    for part in frame.parts:
        solids = solids_of(part, frame)
        for one in solids:
            for x, y, z in one.places_mm:
                assert z <= shell.ceiling_mm(y) + plumb, (part.mark, x, y, z)
        for stick in part.sticks:
            if part.what in ("gable post", "ridge post inside"):
                assert stick.end_mm[2] == pytest.approx(ridge_of(shell).under_mm)
            elif part.kind in ("post", "stud"):
                inside = min(max(stick.end_mm[1], 0), quarters.depth_mm)
                assert stick.end_mm[2] <= quarters.ceiling_mm(inside) + 1e-6
        if part.section and not why_not_whole(part):
            breadth, depth = (float(one) for one in part.section.split("x"))
            solid += sum(one.volume_m3 for one in solids)
            line += breadth * depth * part.length_mm * part.count / 1e9
            slant = sum(tan(radians(cut)) for cut in (part.cut_start_deg, part.cut_end_deg))
            wedges += breadth * depth**2 * slant / 2 * part.count / 1e9
    assert 0.999 * (line - wedges) <= solid <= 1.001 * line


@settings(max_examples=12, deadline=None)
@given(duo_units(), floats(0, 1))
def test_ceilings_agree(yard, share):
    """The room of the model and the planes of the shell are one; its volume is their integral."""
    quarters = yard.quarters[0]
    y = share * quarters.depth_mm
    assert shell_of(quarters).ceiling_mm(y) == pytest.approx(quarters.ceiling_mm(y))
    steps = 4000
    area = sum(
        quarters.ceiling_mm((i + 0.5) * quarters.depth_mm / steps) for i in range(steps)
    ) * quarters.depth_mm / steps  # fmt: skip
    assert quarters.volume_m3 == pytest.approx(area * quarters.width_mm / 1e9, rel=1e-4)


@pytest.mark.parametrize("ridge", ["45x145", "45x195", "95x220"])
def test_no_timber_of_a_gable_runs_through_another(ridge):
    """Middles of the sticks of one gable lie in no other stick of it, seen from the side."""
    yard = duo_yard(frame={"ridge": ridge}, faces={"left": MESHED})
    frame = built_frame(yard, yard.quarters[0])
    shapes = []
    for part in frame.parts:
        if part.kind not in ("post", "stud", "head", "ridge", "nogging", "sole"):
            continue
        for solid in solids_of(part, frame):
            if max(x for x, *_ in solid.places_mm) <= 1e-6 or part.kind == "ridge":
                shapes.append((part.mark, [(y, z) for _, y, z in solid.places_mm]))
    from shapely.geometry import MultiPoint

    hulls = [(mark, MultiPoint(points).convex_hull) for mark, points in shapes]
    crossing = [
        (one[0], other[0])
        for one, other in combinations(hulls, 2)
        if one[1].intersection(other[1]).area > 5
    ]
    assert crossing == []
