"""Which animals get in, on both sides of each gap.

By hand from the facts: rodent-proofing guidance, mouse 6 mm, rat 12 mm; predator-proofing
guidance, weasel and stoat half an inch (13 mm); German good-practice page, welded mesh of
25 mm against martens. Cat 50 mm and fox 80 mm are judgements.
"""

import pytest

from mewswright.handbook import predators
from support.yards import bird, only, quarters, stay, yard


def meshed(gap_mm, kind="welded", **more):
    return {"infill": "meshed", "mesh_kind": kind, "gap_mm": gap_mm, "bar_mm": 2} | more


def holding(front=None, kind="loft", mode="loose", by_day=False, **more):
    if front is not None:
        more["faces"] = {"front": front}
    return yard(
        bird=[bird()], quarters=[quarters(kind=kind, **more)],
        stay=[stay(mode=mode, daytime_only=by_day)],
    )  # fmt: skip


def test_gaps_are_those_of_the_facts():
    gaps = {p.id: (p.gap.value, p.gap.source.how_known) for p in predators()}
    assert gaps == {
        "mouse": (6, "from memory"), "rat": (12, "from memory"), "weasel": (13, "from memory"),
        "marten": (25, "read"), "cat": (50, "judgement"), "fox": (80, "judgement"),
    }  # fmt: skip


@pytest.mark.parametrize(
    ("gap_mm", "worst", "status"),
    [(6, None, "sound"), (7, "mouse", "sound"), (12, "mouse", "sound"), (13, "rat", "mind"),
     (14, "weasel or stoat", "short"), (25, "weasel or stoat", "short"), (26, "marten", "short"),
     (50, "marten", "short"), (51, "cat", "short"), (80, "cat", "short"), (81, "fox", "short")],
)  # fmt: skip
def test_n101_names_the_largest_that_gets_in(gap_mm, worst, status):
    found = only(holding(meshed(gap_mm)), "N101")
    assert found.status == status
    assert found.why.startswith(f"a {worst} gets in by the front face" if worst else "")
    assert bool(found.why) == (worst is not None)


@pytest.mark.parametrize(("mode", "status"), [("loose", "short"), ("tethered", "harm")])
def test_n101_a_bird_on_a_leash_cannot_flee(mode, status):
    found = only(holding(kind="shelter", mode=mode), "N101")
    assert (found.status, found.measured.value) == (status, "open")
    assert found.why == (
        "a fox gets in by the front face: it kills a bird that cannot get up and away; so do "
        "cats, martens, weasels and stoats, rats"
    )


def test_n101_by_day_somebody_is_near():
    found = only(holding(kind="pitch", mode="tethered", by_day=True), "N101")
    assert (found.status, found.why) == (
        "sound", "birds are here by day alone, when somebody is near"
    )  # fmt: skip


def test_n101_on_open_ground_by_night():
    found = only(holding(kind="pitch", mode="tethered"), "N101")
    assert found.status == "harm"
    assert found.remedy == "keep birds there by day alone, while somebody is near"


def test_n101_two_skins_must_both_be_passed():
    outer = {"infill": "meshed", "mesh_kind": "welded", "gap_mm": 12, "stand_off_mm": 100}
    assert only(holding(meshed(60, outer=outer)), "N101").status == "sound"
    assert only(holding(meshed(60, outer=outer | {"gap_mm": 13})), "N101").status == "mind"


@pytest.mark.parametrize(("kind", "status"), [("welded", "sound"), ("knotted_net", "short"),
                                              ("hexagonal", "short")])  # fmt: skip
def test_n101_teeth_go_through_net(kind, status):
    found = only(holding(meshed(10, kind)), "N101")
    assert found.status == status
    assert found.why.startswith("a fox" if status == "short" else "a mouse")


@pytest.mark.parametrize(
    ("gap_mm", "status"), [(12, "sound"), (13, "mind"), (26, "short"), (None, "mind")]
)
def test_n101_the_open_part_of_the_top(gap_mm, status):
    roof = {"covered_share": 0.5, "open_gap_mm": gap_mm}
    found = only(holding(meshed(6), roof=roof), "N101")
    assert found.status == status
    if gap_mm is None:
        assert (found.why, found.remedy) == (
            "the gap of the roof is not known", "give open_gap_mm of the roof"
        )  # fmt: skip


def test_n101_a_skin_of_unknown_gap_matters_only_where_it_decides():
    outer = {"infill": "barred", "stand_off_mm": 100}
    assert only(holding(meshed(12, outer=outer)), "N101").status == "sound"
    assert only(holding(meshed(60, outer=outer)), "N101").remedy == (
        "give gap_mm of the front face and its skins"
    )


def test_n101_doing_what_it_says_is_enough():
    bad = {"infill": "barred", "gap_mm": 60, "bar_mm": 12}
    roof = {"covered_share": 0.5, "open_gap_mm": 60}
    found = only(holding(bad, roof=roof), "N101")
    assert found.remedy == (
        "close the front face and the roof with welded mesh whose clear gaps are 12 mm or less"
    )
    mended = holding(
        bad | {"outer": {"infill": "meshed", "mesh_kind": "welded", "gap_mm": 12,
                         "stand_off_mm": 100}},
        roof=roof | {"open_gap_mm": 12},
    )  # fmt: skip
    assert only(mended, "N101").status == "sound"


@pytest.mark.parametrize(
    ("roof", "kind", "by_day", "told", "status"),
    [({}, "loft", False, "roofed", "sound"),
     ({"covered_share": 0.5, "open_gap_mm": 12}, "loft", False, "closed", "sound"),
     ({"covered_share": 0.5, "open_infill": "netted", "open_gap_mm": 12}, "loft", False, "netted",
      "mind"),
     ({"covered_share": 0.5, "open_infill": "netted", "open_gap_mm": 12}, "loft", True, "netted",
      "sound"),
     ({"covered_share": 0.5, "open_infill": "open"}, "loft", False, "open", "short"),
     ({"form": "none"}, "loft", False, "open", "short"),
     (None, "pitch", True, "open", "mind"), (None, "pitch", False, "open", "short")],
)  # fmt: skip
def test_n102_from_above(roof, kind, by_day, told, status):
    more = {} if roof is None else {"roof": roof}
    found = only(holding(kind=kind, mode="tethered", by_day=by_day, **more), "N102")
    assert (found.measured.value, found.status) == (told, status)
