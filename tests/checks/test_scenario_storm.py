"""A storm, on both sides of its limits.

By hand: a tree 10 m high reaches 10 m from its stem, and 15 m by the house's warning of one
and a half heights (from memory of the trade). The room of `support.yards.quarters` spans 0 to
5 m east and 0 to 6 m north of its corner at the origin, its front to the south.
"""

import pytest

from mewswright.checks.registry import run_checks
from support.yards import bird, perch, quarters, stay, yard

OPEN = {"infill": "open"}
DAY = {"mode": "tethered", "perch": "b", "daytime_only": True}


def run(of, code, **where):
    found = [f for f in run_checks(of, scenario="storm") if f.code == code]
    return [f for f in found if all(getattr(f, k) == v for k, v in where.items())]


def only(of, code, **where):
    found = run(of, code, **where)
    assert len(found) == 1, [str(f) for f in found]
    return found[0]


def loft(*fittings, tables=None, **more):
    room = quarters(fitting=list(fittings) or [perch()], **more)
    return yard(bird=[bird()], quarters=[room], stay=[stay()], **(tables or {}))


def tree(south_m, height_m=10, **more):
    return {"feature": [{"name": "ash", "kind": "tree", "at_m": [2.5, -south_m],
                         "height_m": height_m} | more]}  # fmt: skip


def wind(from_deg):
    return {"wind_rose": [{"from_deg": from_deg, "share_pct": 20, "speed_m_s": 4}]}


def tub(**more):
    return {"kind": "bath", "name": "tub", "at_mm": [2500, 3000], "diameter_mm": 700,
            "depth_mm": 100, "rim_height_mm": 150} | more  # fmt: skip


@pytest.mark.parametrize(
    ("south_m", "status"),
    [(9.99, "harm"), (10, "short"), (14.99, "short"), (15, "sound")],
)
def test_e111_a_sound_tree(south_m, status):
    assert only(loft(tables=tree(south_m)), "E111").status == status


def test_e111_knows_a_sound_tree_from_a_suspect_one():
    assert "sound trees as well" in only(loft(tables=tree(5)), "E111").why
    assert "suspect tree first" in only(loft(tables=tree(5, condition="suspect")), "E111").why


def test_e111_cleared_by_its_remedy():
    """10 m off: 10 / 1.5 = 6.66 m, rounded down."""
    assert only(loft(tables=tree(10)), "E111").remedy.startswith("have it cut down to 6.66 m")
    assert only(loft(tables=tree(10, 6.66)), "E111").status == "sound"
    assert only(loft(tables=tree(0)), "E111").remedy.startswith("have it felled")


def test_e111_of_a_lawn_that_is_left_nothing_is_asked():
    lawn = quarters("Lawn", "pitch", at_m=[0, -8], fitting=[perch("b")])
    of = yard(bird=[bird()], quarters=[lawn], stay=[stay(quarters="Lawn", **DAY)], **tree(5))
    assert run(of, "E111") == []


@pytest.mark.parametrize(("fixed", "status"), [(True, "sound"), (False, "short")])
@pytest.mark.parametrize("kind", ["pitch", "shelter"])
def test_e112_a_perch_on_its_own_stand(kind, fixed, status):
    room = quarters(kind=kind, fitting=[perch("b", free_standing=True, fixed=fixed)])
    of = yard(bird=[bird()], quarters=[room], stay=[stay(mode="tethered", perch="b")])
    assert only(of, "E112").status == status


def test_e112_walls_and_bars_hold_what_stands_inside():
    assert run(loft(perch(free_standing=True, fixed=False), tub()), "E112") == []
    bare = loft(perch(free_standing=True, fixed=False), roof={"form": "none"})
    assert only(bare, "E112").status == "short"


def test_e112_a_bath_on_the_lawn_is_minded():
    room = quarters(kind="pitch", fitting=[perch("b"), tub()])
    of = yard(bird=[bird()], quarters=[room], stay=[stay(**DAY)])
    assert only(of, "E112", fitting="tub").status == "mind"


@pytest.mark.parametrize(
    ("roof", "statuses"),
    [({}, ["sound"]), ({"covered_share": 0.5, "open_infill": "netted"}, ["mind"]),
     ({"covered_share": 0.5, "open_infill": "meshed", "open_gap_mm": 25}, ["mind"]),
     ({"covered_share": 0.5, "open_infill": "open"}, [])],
)  # fmt: skip
def test_e113_what_is_stretched_overhead(roof, statuses):
    assert [f.status for f in run(loft(roof=roof), "E113")] == statuses


@pytest.mark.parametrize(("from_deg", "status"), [(225, "short"), (226, "sound"), (134, "sound")])
def test_e114_a_front_to_the_south(from_deg, status):
    """225 lies 45 deg from south: half a sector on."""
    found = only(loft(perch(y=1500), tables=wind(from_deg)), "E114")
    assert found.status == status


@pytest.mark.parametrize(("y", "status"), [(2999, "short"), (3000, "mind")])
def test_e114_a_perch_in_the_lee(y, status):
    """In the middle between an open front and a boarded back the back counts."""
    assert only(loft(perch(y=y), tables=wind(180)), "E114").status == status


def test_e114_cleared_by_boards():
    assert only(loft(tables=wind(180)), "E114").remedy.startswith("board it")
    boarded = loft(faces={"front": {"infill": "boarded"}}, tables=wind(180))
    assert only(boarded, "E114").status == "sound"


def test_e114_without_a_wind_rose():
    found = only(loft(), "E114")
    assert (found.status, found.remedy) == ("mind", "give [[wind_rose]]")


@pytest.mark.parametrize(("base", "says"), [("sleepers", "light quarters"), ("slab", "anchors")])
def test_e115_is_always_minded(base, says):
    found = only(loft(frame={"base": base}), "E115")
    assert found.status == "mind"
    assert says in found.why


@pytest.mark.parametrize(("homes", "status"), [([stay()], "sound"), ([], "mind")])
def test_e116_a_roofed_place(homes, status):
    lawn = quarters("Lawn", "pitch", at_m=[20, 0], fitting=[perch("b")])
    out = stay(quarters="Lawn", **DAY)
    of = yard(bird=[bird()], quarters=[quarters(), lawn], stay=[out, *homes])
    assert only(of, "E116").status == status


def test_e116_without_any_roof():
    of = loft(roof={"form": "none"})
    found = only(of, "E116")
    assert found.status == "short"
    assert found.remedy == "make 1 more roofed place, and give each bird a stay there"


def test_an_empty_yard_has_nothing_to_say():
    assert run_checks(yard(), scenario="storm") == ()
