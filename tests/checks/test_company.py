"""Who shares quarters with whom. Masses are given, so that ratios are plain."""

import pytest

from support.yards import bird, findings, only, perch, quarters, stay, yard


def pair(one, other, modes=("loose", "loose"), **second):
    return yard(
        bird=[one, other],
        quarters=[quarters(fitting=[perch()])],
        stay=[
            stay(one["name"], mode=modes[0]),
            stay(other["name"], mode=modes[1]) | second,
        ],
    )


def harris(name, **more):
    return bird(name, "harris_hawk", **more)


def test_k104_companions_are_sound():
    of = pair(harris("Tansy", companions=["Rook"]), harris("Rook"))
    assert only(of, "K104").status == "sound"


def test_k104_strangers_of_one_kind_are_short():
    found = only(pair(harris("Tansy"), harris("Rook")), "K104")
    assert found.status == "short"
    assert found.why == "Rook and Tansy are not named as companions"


@pytest.mark.parametrize(("mass_g", "status"), [(1199, "short"), (1200, "harm")])
def test_k104_a_goshawk_of_one_fifth_more_is_feared(mass_g, status):
    # fears.csv: a goshawk is feared from 1.2 times the mass.
    of = pair(bird("Bramble", mass_g=mass_g), harris("Rook", mass_g=1000))
    assert only(of, "K104").status == status


def test_k104_companions_that_fear_each_other_are_still_harm():
    of = pair(
        bird("Bramble", mass_g=1400, companions=["Rook"]),
        bird("Rook", "common_kestrel", mass_g=200),
    )
    assert only(of, "K104").status == "harm"


def test_k104_believes_the_keeper_about_fear():
    of = pair(harris("Tansy", companions=["Rook"], fears=["Rook"]), harris("Rook"))
    assert only(of, "K104").status == "harm"


def test_k104_birds_of_different_seasons_do_not_meet():
    of = yard(
        bird=[harris("Tansy"), harris("Rook")],
        quarters=[quarters()],
        stay=[stay("Tansy", ends_on="2026-06-30"), stay("Rook", starts_on="2026-07-01")],
    )
    assert findings(of, "K104") == []


def test_k105_a_loose_bird_with_a_tethered_one():
    of = pair(harris("Tansy"), harris("Rook"), ("loose", "tethered"))
    found = only(of, "K105")
    assert (found.status, found.bird) == ("harm", "Rook")
    both = pair(harris("Tansy"), harris("Rook"), ("tethered", "tethered"))
    assert {f.status for f in findings(both, "K105")} == {"sound"}


def test_k106_a_social_bird_alone():
    alone = yard(bird=[harris("Tansy")], quarters=[quarters()], stay=[stay("Tansy")])
    assert only(alone, "K106").status == "mind"
    together = pair(harris("Tansy", companions=["Rook"]), harris("Rook"))
    assert {f.status for f in findings(together, "K106")} == {"sound"}


def test_k106_says_nothing_of_birds_that_live_alone():
    of = yard(bird=[bird()], quarters=[quarters()], stay=[stay()])
    assert findings(of, "K106") == []


@pytest.mark.parametrize(("female_g", "status"), [(1199, "sound"), (1200, "mind")])
def test_k107_an_unequal_pair_of_goshawks(female_g, status):
    of = pair(
        bird("Bramble", mass_g=female_g, companions=["Rook"]),
        bird("Rook", sex="m", mass_g=1000),
    )
    found = only(of, "K107")
    assert found.status == status
    assert found.limit.value == 1.2


def test_k107_a_pair_of_harris_hawks_is_sound():
    of = pair(harris("Tansy", companions=["Rook"]), harris("Rook", sex="m"))
    assert only(of, "K107").status == "sound"
