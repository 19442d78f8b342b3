"""Every kind of roof, base and face can be taken off, sawn and costed."""

from itertools import pairwise, product

import pytest

from mewswright.build.frame import built_frame
from mewswright.build.report import report, worked_out
from support.units import BARRED, corners, unit_yard

ROOFS = [
    {"cover": cover, "deck": deck, "covered_share": share, "open_infill": fill, "open_gap_mm": 24}
    for cover, deck, (share, fill) in product(
        ("felt", "corrugated", "polycarbonate", "boards"),
        ("osb3_18", None),
        ((1, "meshed"), (0.5, "meshed"), (0.5, "netted"), (0.3, "barred"), (0, "open")),
    )
] + [{"form": "none"}]
NETTED = {"infill": "netted", "gap_mm": 30, "mesh_kind": "knotted_net"}
FACES = [
    {},
    {"left": BARRED, "right": {**BARRED, "direction": "horizontal"}},
    {"back": NETTED, "left": {"infill": "open"}},
]


def _kinds(yard):
    return {part.kind for part in built_frame(yard, yard.quarters[0]).parts}


@pytest.mark.parametrize("roof", ROOFS, ids=lambda roof: "-".join(str(v) for v in roof.values()))
def test_every_roof_has_its_parts(roof):
    kinds = _kinds(unit_yard(roof=roof))
    if roof.get("form") == "none":
        assert not kinds & {"rafter", "deck", "covering"}
        return
    assert "rafter" in kinds
    covered = roof["covered_share"] > 0
    assert ("covering" in kinds) == covered
    assert ("deck" in kinds) == (covered and roof["deck"] is not None)
    netted = roof["covered_share"] < 1 and roof["open_infill"] == "netted"
    assert ("net" in kinds) == netted


@pytest.mark.parametrize(("faces", "base"), list(product(FACES, ("sleepers", "pads", "slab"))))
def test_every_face_and_base_is_reported(faces, base):
    yard = unit_yard(faces=faces, frame={"base": base})
    done = report(*worked_out(yard, yard.quarters[0]))
    assert {"P1", "S1", "H1", "R1"} <= {part["mark"] for part in done["parts"]}
    assert done["cut_plan"] is None  # the yard has no stock
    assert done["cut_plan_unpriced"]["sections"]
    assert done["cost"]["total"] == 0
    assert not done["cost"]["is_whole"]


def test_an_open_side_is_framed_like_an_open_front():
    yard = unit_yard(faces={"left": BARRED})
    frame = built_frame(yard, yard.quarters[0])
    posts = [s for p in frame.parts if p.kind == "post" and p.place == "left" for s in p.sticks]
    assert [round(s.start_mm[1], 1) for s in posts] == pytest.approx([47.5, 1200, 2352.5])
    bars = [s for p in frame.parts if p.kind == "bar" and p.place == "left" for s in p.sticks]
    edges = sorted(
        (s.start_mm[1] - s.breadth_mm / 2, s.start_mm[1] + s.breadth_mm / 2)
        for s in [*posts, *bars]
    )
    gaps = [right[0] - left[1] for left, right in pairwise(edges)]
    assert max(gaps) <= 38 + 1e-6
    # Under a falling roof each bar ends at the underside of its own raked plate.
    slope = (1 + 1 / 64) ** 0.5
    for stick in bars:
        y, z = stick.end_mm[1], stick.end_mm[2]
        assert z == pytest.approx(2400 - y / 8 - 45 * slope)


def test_the_second_skin_stands_clear_of_the_bars():
    outer = {"infill": "meshed", "gap_mm": 11, "mesh_kind": "welded", "stand_off_mm": 130}
    yard = unit_yard(front={**BARRED, "outer": outer})
    frame = built_frame(yard, yard.quarters[0])
    bar_front = min(
        y for p in frame.parts if p.kind == "bar" for s in p.sticks for _, y, _ in corners(s)
    )
    mesh = [p for p in frame.parts if p.what == "outer mesh panel"]
    assert mesh
    for part in mesh:
        for panel in part.panels:
            assert all(bar_front - y == pytest.approx(130) for _, y, _ in panel.corners_mm)


def test_a_rise_towards_the_back_falls_to_the_front():
    yard = unit_yard(front_height_mm=2100, back_height_mm=2400)
    frame = built_frame(yard, yard.quarters[0])
    assert frame.roof_pitch_deg == pytest.approx(-7.125, abs=0.001)
    assert frame.roof_front_edge_mm[2] < frame.roof_back_edge_mm[2]
