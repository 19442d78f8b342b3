"""How a bird is tethered: time, legs, leash, perch and shelter.

Limits by hand: Quebec C-61.1 r.5.1 s. 102 (24 h unless flown each week; jesses on both legs);
German falconers' order (3 flights a week in season); 1995 opinion (2 days between flights);
North Carolina 15A NCAC 10H .0808 (weathering roof 7 ft = 2133.6 mm).
"""

import pytest

from support.yards import bird, findings, only, perch, quarters, stay, yard

SHELTER = "East shelter"


def tied(standards, birds=None, stays=None, fittings=None, **more):
    place = quarters(
        SHELTER, "shelter", fitting=[perch()] if fittings is None else fittings, **more
    )
    birds = birds or [bird("Flint", "peregrine_falcon")]
    return yard(
        standards,
        bird=birds,
        quarters=[place, quarters()],
        stay=stays or [stay("Flint", SHELTER, "tethered")],
    )


def flint(**more):
    return [bird("Flint", "peregrine_falcon", **more)]


@pytest.mark.parametrize(("flights", "status"), [(1, "sound"), (0, "harm"), (None, "mind")])
def test_t105_quebec_day_and_night(flights, status):
    found = only(tied(("ca-qc",), flint(flights_per_week=flights)), "T105")
    assert found.status == status
    assert found.limit.value == 24
    assert found.limit.unit == "h"


@pytest.mark.parametrize(
    ("ends_on", "hours", "status"), [("2026-05-01", 24, "sound"), ("2026-05-02", 48, "harm")]
)
def test_t105_quebec_counts_whole_days(ends_on, hours, status):
    stays = [stay("Flint", SHELTER, "tethered", starts_on="2026-05-01", ends_on=ends_on)]
    found = only(tied(("ca-qc",), flint(flights_per_week=0), stays), "T105")
    assert found.measured.value == hours
    assert found.status == status


def test_t105_looks_at_every_stay():
    stays = [
        stay("Flint", SHELTER, "tethered", starts_on="2026-05-01", ends_on="2026-05-01"),
        stay("Flint", SHELTER, "tethered", starts_on="2026-06-01", ends_on="2026-06-03"),
    ]
    found = findings(tied(("ca-qc",), flint(flights_per_week=0), stays), "T105")
    assert [(f.status, f.measured.value) for f in found] == [("harm", 72), ("sound", 24)]


def test_t105_by_day_alone_is_less_than_a_day():
    stays = [stay("Flint", SHELTER, "tethered", daytime_only=True), stay("Flint")]
    found = only(tied(("ca-qc",), flint(flights_per_week=0), stays), "T105")
    assert found.status == "sound"


@pytest.mark.parametrize(("flights", "status"), [(3, "sound"), (2, "short"), (None, "mind")])
def test_t105_german_flights_a_week(flights, status):
    found = only(tied(("de-practice",), flint(flights_per_week=flights)), "T105")
    assert found.status == status
    if status == "short":
        assert found.remedy == "fly it 1 time more a week, or keep it loose"


@pytest.mark.parametrize(("flights", "status"), [(4, "sound"), (3, "short"), (0, "short")])
def test_t105_days_between_flights(flights, status):
    assert only(tied(("de-1995",), flint(flights_per_week=flights)), "T105").status == status


def test_t105_minds_a_bird_that_is_not_flown_by_purpose():
    of = tied(("de-practice",), flint(use="retired", flights_per_week=0))
    assert only(of, "T105").status == "mind"


def test_t105_is_not_silent_where_no_standard_speaks():
    found = only(tied(("house",)), "T105")
    assert found.status == "mind"
    assert found.measured.value == 24
    assert only(tied(("house",), flint(flights_per_week=3)), "T105").status == "sound"
    by_day = [stay("Flint", SHELTER, "tethered", daytime_only=True), stay("Flint")]
    assert only(tied(("house",), stays=by_day), "T105").status == "sound"


@pytest.mark.parametrize(
    ("standards", "legs", "status"),
    [
        (("ca-qc",), "both_legs", "sound"),
        (("ca-qc",), "one_leg", "harm"),
        (("be-vlg",), "one_leg", "short"),
        (("house",), "one_leg", "mind"),
    ],
)
def test_t106_both_legs(standards, legs, status):
    assert only(tied(standards, flint(tethered_by=legs)), "T106").status == status


def test_t107_minds_what_was_assumed():
    found = only(tied(("house",), flint(wing_span_mm=1000, leash_working_mm=400)), "T107")
    assert found.status == "mind"
    assert found.why == "its free circle rests on an assumed swivel and jesses of 200 mm"
    assert found.measured.value == 1250
    measured = flint(wing_span_mm=1000, leash_working_mm=400, jess_swivel_mm=200)
    assert only(tied(("house",), measured), "T107").status == "sound"


@pytest.mark.parametrize(
    ("fittings", "status"),
    [([perch()], "sound"), ([perch(), perch("other", 4000, 4000)], "mind"), ([], "short")],
)
def test_t108_which_perch(fittings, status):
    assert only(tied(("house",), fittings=fittings), "T108").status == status


@pytest.mark.parametrize(("fixed", "status"), [(True, "sound"), (False, "harm")])
def test_t110_a_perch_that_drags(fixed, status):
    assert only(tied(("house",), fittings=[perch(fixed=fixed)]), "T110").status == status


@pytest.mark.parametrize(
    ("back_mm", "status"), [(2134, "sound"), (2133.6, "sound"), (2132, "harm")]
)
def test_t104_seven_feet_of_roof(back_mm, status):
    found = only(tied(("us-nc",), back_height_mm=back_mm), "T104")
    assert found.status == status
    assert found.limit.value == pytest.approx(2133.6)
    if status == "harm":
        assert found.remedy == "raise the back 2 mm"
    assert findings(tied(("house",), back_height_mm=back_mm), "T104") == []


def test_t104_raises_both_sides_that_are_too_low():
    found = only(tied(("us-nc",), front_height_mm=2100, back_height_mm=2000), "T104")
    assert found.remedy == "raise the front 34 mm and raise the back 134 mm"
