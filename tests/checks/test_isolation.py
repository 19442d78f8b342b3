"""A newcomer's isolation, to the day.

Texts: world small animal guidance, 42 days, restarted by each newcomer; house, 30 days.
First and last day both count, as a stay has them.
"""

from datetime import date, timedelta

import pytest

from support.yards import bird, findings, only, quarters, stay, yard

ARRIVAL = date(2026, 3, 1)


def last_day(days):
    return ARRIVAL + timedelta(days=days - 1)


def newcomer(days, standards=("wsava",), kind="isolation", others=(), other_stays=(), **more):
    places = [quarters("Hospital", kind), quarters(at_m=[20, 0])]
    ends = last_day(days)
    stays = [
        stay("Sorrel", "Hospital", starts_on=str(ARRIVAL), ends_on=str(ends)) | more,
        stay("Sorrel", starts_on=str(ends + timedelta(days=1))),
    ]
    sorrel = bird("Sorrel", "red_tailed_hawk", arrives_on=str(ARRIVAL))
    return yard(standards, bird=[sorrel, *others], quarters=places, stay=[*stays, *other_stays])


@pytest.mark.parametrize(
    ("standard", "days", "status"),
    [("wsava", 42, "sound"), ("wsava", 41, "short"), ("house", 30, "sound"),
     ("house", 29, "short"), ("dk", 30, "sound"), ("dk", 29, "mind")],
)  # fmt: skip
def test_k109_days_in_isolation(standard, days, status):
    found = only(newcomer(days, (standard,)), "K109")
    assert found.status == status
    assert found.measured.value == days
    assert found.measured.unit == found.limit.unit == "days"
    if status != "sound":
        assert found.remedy == "keep it there 1 day longer"


def test_k109_a_newcomer_that_begins_among_the_others():
    found = only(newcomer(42, kind="loft"), "K109")
    assert found.status == "short"
    assert found.measured.value == 0
    assert found.remedy == "begin in isolation quarters and stay 42 days"


def test_k109_kept_apart_in_a_loft_is_minded():
    assert only(newcomer(42, kind="loft", isolated=True), "K109").status == "mind"


def test_k109_isolation_that_starts_late_does_not_count():
    assert only(newcomer(42, starts_on="2026-03-05"), "K109").measured.value == 0


def test_k109_the_keepers_own_days_count():
    of = newcomer(35, ("house",))
    assert only(of, "K109").status == "sound"
    stricter = of.model_copy(update={"house": yard(house={"quarantine_days": 40}).house})
    assert only(stricter, "K109").limit.value == 40
    assert only(stricter, "K109").status == "short"


@pytest.mark.parametrize("arrives", ["0001-01-01", "9999-12-31"])
def test_k109_a_newcomer_on_the_first_or_the_last_day_of_the_calendar(arrives):
    sorrel = bird("Sorrel", "red_tailed_hawk", arrives_on=arrives)
    stays = [stay("Sorrel", "Hospital", starts_on=arrives, ends_on="9999-12-31")]
    of = yard(bird=[sorrel], quarters=[quarters("Hospital", "isolation")], stay=stays)
    assert only(of, "K109").status == ("sound" if arrives == "0001-01-01" else "short")


def test_k109_is_silent_about_birds_that_have_long_been_here():
    of = yard(bird=[bird()], quarters=[quarters()], stay=[stay()])
    assert findings(of, "K109") == []


def second(enters_after, standards=("wsava",), days=60):
    enters = ARRIVAL + timedelta(days=enters_after)
    rook = bird("Rook", "harris_hawk", arrives_on=str(enters))
    entry = stay("Rook", "Hospital", starts_on=str(enters))
    return newcomer(days, standards, others=[rook], other_stays=[entry])


@pytest.mark.parametrize(("enters_after", "status"), [(18, "sound"), (19, "short")])
def test_k110_the_clock_starts_again(enters_after, status):
    # 60 days in all, entered again on day 19: 42 days are left, that day counted.
    found = only(second(enters_after), "K110", bird="Sorrel")
    assert found.status == status
    assert found.measured.value == 60 - enters_after
    if status == "short":
        assert found.remedy == "keep it there 1 day longer"


def test_k110_only_minds_where_the_text_does_not_restart():
    assert only(second(40, ("house",)), "K110", bird="Sorrel").status == "mind"


def test_k110_nobody_else():
    assert only(newcomer(42), "K110").status == "sound"


def test_k111_alone_or_not():
    assert only(newcomer(42), "K111").status == "sound"
    assert only(second(10), "K111", bird="Sorrel").status == "short"
    assert only(second(0), "K111", bird="Sorrel").status == "mind"  # all in, all out
