"""A housing order against bird flu, on both sides of its limits.

Outside: 25 mm is the widest net of the UK's housing guidance (Defra and APHA, from memory);
holdings of more than 50 birds dip feet (APHA prevention-zone advice, read in a copy). By hand:
the room of `support.yards.quarters` is 6 m deep; half roofed, the roof begins 3000 mm behind
the front.
"""

import pytest

from mewswright.checks.registry import run_checks
from support.yards import bird, perch, quarters, stay, yard

MESH = {"infill": "meshed", "mesh_kind": "welded"}
DAY = {"mode": "tethered", "perch": "b", "daytime_only": True}


def run(of, code, **where):
    found = [f for f in run_checks(of, scenario="flu") if f.code == code]
    return [f for f in found if all(getattr(f, k) == v for k, v in where.items())]


def only(of, code, **where):
    found = run(of, code, **where)
    assert len(found) == 1, [str(f) for f in found]
    return found[0]


def loft(*fittings, standards=("house",), **more):
    room = quarters(fitting=[perch(), *fittings], **more)
    return yard(standards, bird=[bird()], quarters=[room], stay=[stay()])


def half(**more):
    return {"covered_share": 0.5, "open_infill": "netted", "open_gap_mm": 25} | more


def hatch(**more):
    return {"kind": "hatch", "name": "hatch", "face": "left", "at_mm": 3150, "sill_mm": 1200,
            "width_mm": 300, "height_mm": 250, "ledge_mm": 200} | more  # fmt: skip


def tub(y_mm):
    return {"kind": "bath", "name": "tub", "at_mm": [2500, y_mm], "diameter_mm": 700,
            "depth_mm": 100, "rim_height_mm": 150}  # fmt: skip


def lawn(name="Lawn", east=20, **more):
    return quarters(name, "pitch", at_m=[east, 0], fitting=[perch("b")], **more)


@pytest.mark.parametrize(
    ("roof", "status"),
    [({}, "sound"), (half(), "sound"), (half(open_gap_mm=26), "short"),
     (half(open_gap_mm=None), "mind"), (half(open_infill="open"), "short"),
     ({"form": "none"}, "short")],
)  # fmt: skip
def test_e121_the_top(roof, status):
    assert only(loft(roof=roof), "E121").status == status


def test_e121_cleared_by_its_remedy():
    found = only(loft(roof=half(open_gap_mm=26)), "E121")
    assert found.remedy == (
        "roof 3000 mm more of its depth, or net it with clear gaps of 25 mm or less"
    )
    assert only(loft(roof={"covered_share": 1}), "E121").status == "sound"


@pytest.mark.parametrize(("gap_mm", "status"), [(25, "sound"), (26, "short")])
def test_e122_bars(gap_mm, status):
    front = {"infill": "barred", "gap_mm": gap_mm, "bar_mm": 12}
    assert only(loft(faces={"front": front}), "E122").status == status


def test_e122_the_closer_skin_counts():
    front = {"infill": "barred", "gap_mm": 40, "bar_mm": 12}
    skin = MESH | {"gap_mm": 25, "stand_off_mm": 100}
    assert only(loft(faces={"front": front}), "E122").remedy == (
        "hang net or mesh outside it, with clear gaps of 25 mm or less"
    )
    assert only(loft(faces={"front": front | {"outer": skin}}), "E122").status == "sound"


@pytest.mark.parametrize(("infill", "status"), [("open", "short"), ("boarded", "sound")])
def test_e122_an_open_side(infill, status):
    assert only(loft(faces={"front": {"infill": infill}}), "E122").status == status


@pytest.mark.parametrize(("at_mm", "status"), [(3150, "sound"), (3149, "short")])
def test_e123_food_under_the_solid_roof(at_mm, status):
    """The ledge is 300 mm wide along the side: its near edge lies 150 mm before its middle."""
    found = only(loft(hatch(at_mm=at_mm), roof=half()), "E123")
    assert found.status == status
    if status == "short":
        assert found.remedy == (
            "bring the solid roof 1 mm farther forward, or feed it under the roof"
        )


def test_e123_cleared_by_its_remedy():
    more = half(covered_share=(3000 + 1) / 6000)
    assert only(loft(hatch(at_mm=3149), roof=more), "E123").status == "sound"


def test_e123_without_a_hatch_nobody_knows():
    assert only(loft(), "E123").status == "mind"


@pytest.mark.parametrize(("y_mm", "status"), [(3350, "sound"), (3349, "short")])
def test_e124_water_under_the_solid_roof(y_mm, status):
    found = only(loft(tub(y_mm), roof=half()), "E124")
    assert found.status == status
    if status == "short":
        assert found.remedy.endswith("or move the bath 1 mm towards the back")


def test_e124_with_no_room_behind_the_roof_water_is_given_indoors():
    found = only(loft(tub(3000), roof=half(covered_share=0.1)), "E124")
    assert found.remedy.endswith("or give water indoors")


@pytest.mark.parametrize(("count", "status"), [(50, "sound"), (51, "mind")])
def test_e125_a_holding_of_many_birds(count, status):
    birds = [bird(f"B{i}") for i in range(count)]
    assert only(yard(bird=birds), "E125").status == status


def test_e126_a_bird_with_a_covered_home():
    of = yard(bird=[bird()], quarters=[quarters(faces={"front": MESH | {"gap_mm": 25}}), lawn()],
              stay=[stay(), stay(quarters="Lawn", **DAY)])  # fmt: skip
    assert only(of, "E126").why == "it has its place in North loft"


@pytest.mark.parametrize(("empty", "status"), [(0, "short"), (1, "short"), (2, "mind")])
def test_e126_as_many_empty_places_as_birds_out(empty, status):
    rooms = [
        quarters(f"Room {i}", at_m=[0, 20 * i], faces={"front": {"infill": "boarded"}})
        for i in range(empty)
    ]
    of = yard(
        bird=[bird(), bird("Flint")], quarters=[*rooms, lawn(), lawn("Other lawn", 30)],
        stay=[stay(quarters="Lawn", **DAY), stay("Flint", "Other lawn", **DAY)],
    )  # fmt: skip
    found = run(of, "E126")
    assert [f.status for f in found] == [status] * 2
    if empty == 0:
        assert "make 2 more covered places, and" in found[0].remedy
    if empty == 1:
        assert "make 1 more covered place, and" in found[0].remedy
    if empty == 2:
        assert found[0].remedy == "plan a stay for it in Room 0, Room 1"


def test_e126_cleared_by_a_stay_there():
    room = quarters(faces={"front": {"infill": "boarded"}})
    out = stay(quarters="Lawn", **DAY)
    of = yard(bird=[bird()], quarters=[room, lawn()], stay=[out])
    assert only(of, "E126").remedy == "plan a stay for it in North loft"
    of = yard(bird=[bird()], quarters=[room, lawn()], stay=[out, stay()])
    assert only(of, "E126").status == "sound"


@pytest.mark.parametrize(("ends_on", "status"), [("2027-03-31", "sound"), ("2027-03-30", "short")])
def test_e126_the_covered_home_lasts_as_long(ends_on, status):
    room = quarters(faces={"front": {"infill": "boarded"}})
    out = stay(quarters="Lawn", starts_on="2026-10-01", ends_on="2027-03-31", **DAY)
    home = stay(starts_on="2026-09-01", ends_on=ends_on)
    of = yard(bird=[bird()], quarters=[room, lawn()], stay=[out, home])
    assert only(of, "E126").status == status


def test_a_law_that_was_not_read_makes_no_harm():
    """The UK's order is known at second hand."""
    of = loft(standards=("uk-ai",), roof={"form": "none"})
    assert {f.status for f in run_checks(of, scenario="flu") if f.code == "E121"} == {"short"}


def test_an_empty_yard_has_nothing_to_say():
    assert run_checks(yard(), scenario="flu") == ()
