"""Tails on bars and mesh, and the sides that a nervous bird sees through.

By hand: the hawk's tail is 250 mm; it may turn on any place of its perch.
"""

import re

import pytest

from support.yards import bird, findings, only, perch, quarters, stay, yard

HAWK = bird(species="harris_hawk", tail_mm=250, wing_span_mm=1100)
MESH = {"infill": "meshed", "gap_mm": 25, "mesh_kind": "welded"}
BARS = {"infill": "barred", "gap_mm": 25}


def rod(y=2000, turn=0, length=1000, **more):
    return perch(
        y=y, x=2500, form="round", length_mm=length, turn_deg=turn, height_mm=1500,
        diameter_mm=40, **more,
    )  # fmt: skip


def loft(face, *perches, of=HAWK, **more):
    place = quarters(faces={"front": face, **more.pop("also", {})}, fitting=list(perches), **more)
    return yard(bird=[of], quarters=[place], stay=[stay()])


@pytest.mark.parametrize(
    ("face", "missed"),
    [(MESH, "short"), (MESH | {"mesh_kind": "chain_link"}, "short"),
     (MESH | {"mesh_kind": "hexagonal"}, "short"), (MESH | {"mesh_kind": "woven"}, "mind"),
     ({"infill": "netted", "gap_mm": 25, "mesh_kind": "knotted_net"}, "mind"), (BARS, "mind"),
     (BARS | {"direction": "horizontal"}, "short"), (BARS | {"infill": "slatted"}, "mind")],
)  # fmt: skip
def test_f118_by_what_fills_the_face(face, missed):
    """From the middle straight to the front: 250 mm is enough, 249 mm is not."""
    assert only(loft(face, rod(250)), "F118").status == "sound"
    found = only(loft(face, rod(249)), "F118")
    assert (found.status, found.remedy) == (missed, "move it 1 mm away from the front face")


def test_f118_the_end_of_a_perch_that_runs_to_the_front():
    """Its middle is 700 mm behind the mesh and its end 200 mm: P103 looks at the middle alone."""
    of = loft(MESH, rod(700, turn=90))
    assert only(of, "P103").status == "sound"
    found = only(of, "F118")
    assert (found.status, found.measured.value) == ("short", pytest.approx(200))
    by = int(re.fullmatch(r"move it (\d+) mm away from the front face", found.remedy).group(1))
    assert only(loft(MESH, rod(700 + by, turn=90)), "F118").status == "sound"


def test_f118_a_perch_from_end_to_end_is_ended_sooner():
    of = loft(MESH, rod(3000, turn=90, length=5900))
    by = int(re.search(r"end it (\d+) mm farther", only(of, "F118").remedy).group(1))
    assert by == 200
    shorter = rod(3000 + by / 2, turn=90, length=5900 - by)
    assert only(loft(MESH, shorter), "F118").status == "sound"


@pytest.mark.parametrize(("up_mm", "status"), [(1500, "sound"), (1499, "short")])
def test_f118_boards_up_to_the_perch(up_mm, status):
    assert only(loft(MESH | {"upstand_mm": up_mm}, rod(100)), "F118").status == status


def test_f118_walls_are_not_asked():
    assert findings(loft({"infill": "boarded"}, rod(100)), "F118") == []


@pytest.mark.parametrize(
    ("shy", "left", "right", "status"),
    [(True, "boarded", "boarded", "sound"), (True, "barred", "boarded", "short"),
     (True, "barred", "barred", "short"), (False, "barred", "barred", None)],
)  # fmt: skip
def test_f119_sides_round_a_nervous_bird(shy, left, right, status):
    faces = {
        side: {"infill": kind} | ({} if kind == "boarded" else {"gap_mm": 25})
        for side, kind in (("left", left), ("right", right))
    }
    found = findings(loft(BARS, rod(), of=HAWK | {"nervous": shy}, also=faces), "F119")
    assert [f.status for f in found] == ([] if status is None else [status])
    if status == "short":
        named = {s for s, kind in (("left", left), ("right", right)) if kind == "barred"}
        assert {s for s in ("front", "left", "right") if s in found[0].remedy} == named
        cured = loft(BARS, rod(), of=HAWK | {"nervous": shy})
        assert only(cured, "F119").status == "sound"


def test_f119_a_kind_that_the_handbook_calls_nervous():
    also = {"left": BARS}
    assert only(loft(BARS, rod(), of=bird(), also=also), "F119").status == "mind"
    assert only(loft(BARS, rod(), of=bird(nervous=True), also=also), "F119").status == "short"


def test_f119_boards_outside_count():
    also = {"left": BARS | {"outer": {"infill": "boarded", "stand_off_mm": 50}}}
    assert only(loft(BARS, rod(), of=bird(nervous=True), also=also), "F119").status == "sound"
