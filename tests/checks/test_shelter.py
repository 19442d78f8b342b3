"""Shelter and open air, as the laws that ask for them have it.

Flemish decision: an outdoor enclosure. Swiss wild-animal ordinance Arts 3-4: shelter for
all birds at once. Minnesota: both mews and weathering area. New South Wales: mist spray or
access to rain.
"""

import pytest

from support.yards import BOARDED, bird, findings, only, quarters, stay, yard

BARS = {"infill": "barred", "gap_mm": 25, "bar_mm": 18}


def holding(standard, place, *stays, others=()):
    stays = stays or (stay(),)
    return yard((standard,), bird=[bird()], quarters=[place, *others], stay=list(stays))


@pytest.mark.parametrize(
    ("front", "roof", "status"),
    [(BARS, {}, "sound"), (BOARDED, {}, "short"), (BOARDED, {"covered_share": 0.9}, "sound")],
)
def test_r107_flanders_asks_quarters_out_of_doors(front, roof, status):
    of = holding("be-vlg", quarters(faces={"front": front}, roof=roof))
    assert only(of, "R107").status == status


@pytest.mark.parametrize(
    ("standard", "kind", "by_day", "status"),
    [("ch-tschv", "pitch", False, "harm"), ("ch-tschv", "shelter", False, "sound"),
     ("house", "pitch", False, "short")],
)  # fmt: skip
def test_r108_a_roof_for_day_and_night(standard, kind, by_day, status):
    tied = stay(mode="tethered", daytime_only=by_day)
    assert only(holding(standard, quarters(kind=kind), tied), "R108").status == status


def test_r108_does_not_ask_it_of_a_pitch_by_day():
    tied = stay(mode="tethered", daytime_only=True)
    assert findings(holding("ch-tschv", quarters(kind="pitch"), tied), "R108") == []


LAWN = quarters("Lawn", "pitch", at_m=[20, 0])


@pytest.mark.parametrize(
    ("on_lawn", "double_use", "status"),
    [(True, False, "sound"), (False, True, "sound"), (False, False, "harm")],
)
def test_r109_minnesota_asks_a_mews_and_a_weathering(on_lawn, double_use, status):
    stays = [stay()] + ([stay(quarters="Lawn", mode="tethered")] if on_lawn else [])
    of = holding("us-mn", quarters(double_use=double_use), *stays, others=[LAWN])
    assert {f.status for f in findings(of, "R109")} == {status}


@pytest.mark.parametrize(("share", "status"), [(0.8, "sound"), (1, "mind")])
def test_r110_rain_comes_in(share, status):
    of = holding("au-nsw", quarters(roof={"covered_share": share}))
    assert only(of, "R110").status == status


def test_laws_that_do_not_bind_ask_nothing():
    of = holding("house", quarters())
    assert [f for code in ("R107", "R109", "R110") for f in findings(of, code)] == []
