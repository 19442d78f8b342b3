"""The store on both sides of its limits.

By hand: Kirkwood's row of allometry.csv gives 361.2 kJ a day for a bird of 700 g as its worked
value; whole day-old chick has 4.84 kJ/g (foods.csv), so 74.63 g a day; at 0.5 kg/l 0.14926 l.
Ranges of intake recalled from raptor clinical-nutrition tables: 11 to 19 % of the weight for
200 to 800 g, 7 to 11 % for 800 to 1200 g. USDA FSIS: -18 C and 4 C. Half an ounce is 14.17 g.
"""

import pytest

from mewswright.checks.flock_need import daily_food_g, packed_l
from support.yards import bird, findings, only, yard

CODES = ["V101", "V102", "V103", "V104", "V105", "V106", "V107"]


def holding(*birds, **service):
    return yard(bird=list(birds) or [bird(mass_g=700)], service=service)


def room(kind="store", **more):
    return {"name": "Store", "kind": kind, "length_mm": 3000, "width_mm": 2000,
            "height_mm": 2200} | more  # fmt: skip


def test_a_day_of_a_bird_agrees_with_the_worked_value():
    assert daily_food_g(700) == pytest.approx(361.2 / 4.84, abs=0.02)
    assert packed_l(500) == 1


@pytest.mark.parametrize(
    ("mass_g", "low_pct", "high_pct"), [(500, 11, 19), (800, 7, 19), (1000, 7, 11), (1200, 7, 11)]
)
def test_a_day_of_a_bird_lies_in_the_range_of_its_class(mass_g, low_pct, high_pct):
    assert low_pct <= 100 * daily_food_g(mass_g) / mass_g <= high_pct


@pytest.mark.parametrize("mass_g", [0, -1, float("nan")])
def test_a_bird_without_weight_is_refused(mass_g):
    with pytest.raises(ValueError, match=r"^a bird weighs more than 0 g, got "):
        daily_food_g(mass_g)


@pytest.mark.parametrize(("litres", "status"), [(14.93, "sound"), (14.91, "short")])
def test_v101_a_hundred_days_of_one_bird(litres, status):
    assert only(holding(freezer_l=litres, delivery_days=100), "V101").status == status


def test_v101_both_remedies_are_enough():
    found = only(holding(freezer_l=8, delivery_days=100), "V101")
    assert found.remedy == "take a freezer 7 l larger, or have food brought every 53 days"
    assert only(holding(freezer_l=15, delivery_days=100), "V101").status == "sound"
    assert only(holding(freezer_l=8, delivery_days=53), "V101").status == "sound"
    assert only(holding(freezer_l=8, delivery_days=54), "V101").status == "short"


def test_v101_counts_every_bird():
    two = holding(bird(mass_g=700), bird("Flint", "peregrine_falcon", mass_g=700),
                  freezer_l=29.8, delivery_days=100)  # fmt: skip
    found = only(two, "V101")
    assert found.limit.value == pytest.approx(29.85, abs=0.01)
    assert found.status == "short"


@pytest.mark.parametrize(
    ("service", "remedy"),
    [({}, "give service.delivery_days and service.freezer_l"),
     ({"freezer_l": 9}, "give service.delivery_days"),
     ({"delivery_days": 9}, "give service.freezer_l")],
)  # fmt: skip
def test_v101_names_what_is_missing(service, remedy):
    found = only(holding(**service), "V101")
    assert (found.status, found.remedy) == ("mind", remedy)


@pytest.mark.parametrize(("litres", "status"), [(0.299, "sound"), (0.298, "short")])
def test_v102_two_days_in_the_fridge(litres, status):
    assert only(holding(fridge_l=litres), "V102").status == status


@pytest.mark.parametrize(
    ("what", "found_c", "status"),
    [("freezer", -18, "sound"), ("freezer", -17.9, "short"), ("fridge", 4, "sound"),
     ("fridge", 4.1, "short")],
)  # fmt: skip
def test_v103_cold_enough(what, found_c, status):
    found = only(holding(**{f"{what}_c": found_c}), "V103", fitting=what)
    assert found.status == status


def test_v103_says_by_how_much():
    found = only(holding(freezer_c=-12), "V103", fitting="freezer")
    assert found.remedy == "set it 6 °C colder"
    assert found.sources[0].how_known == "from memory"


@pytest.mark.parametrize(("code", "key"), [("V104", "medicines_locked"),
                                           ("V105", "chemicals_apart")])  # fmt: skip
def test_v104_v105_yes_or_no(code, key):
    assert only(holding(**{key: True}), code).status == "sound"
    assert only(holding(**{key: False}), code).status == "short"
    found = only(holding(), code)
    assert (found.status, found.remedy) == ("mind", f"give service.{key}")


@pytest.mark.parametrize(("most_g", "status"), [(1700, "sound"), (1699, "short")])
def test_v106_heaviest_bird_and_a_kilogram(most_g, status):
    """700 g of bird and 1000 g of perch."""
    assert only(holding(scale_max_g=most_g), "V106").status == status
    heavier = [bird(mass_g=300), bird("Flint", "peregrine_falcon", mass_g=700)]
    assert only(holding(*heavier, scale_max_g=most_g), "V106").status == status


@pytest.mark.parametrize(
    ("mass_g", "step_g", "status", "remedy"),
    [(300, 14, "sound", ""), (300, 15, "short", "take a scale that shows steps of 14 g"),
     (299, 1, "sound", ""), (299, 2, "short", "take a scale that shows steps of 1 g")],
)  # fmt: skip
def test_v107_step_for_the_lightest(mass_g, step_g, status, remedy):
    birds = [bird(mass_g=mass_g), bird("Flint", "peregrine_falcon", mass_g=700)]
    found = only(holding(*birds, scale_step_g=step_g), "V107")
    assert (found.status, found.remedy) == (status, remedy)


@pytest.mark.parametrize(
    ("kind", "gap_mm", "status", "who"),
    [("store", 6, "sound", ""), ("store", 7, "short", "mice"), ("store", 12, "short", "mice"),
     ("weighing_room", 13, "short", "rats"), ("weighing_room", 0, "sound", ""),
     ("store", None, "mind", "the yard")],
)  # fmt: skip
def test_v108_rodents(kind, gap_mm, status, who):
    of = yard(bird=[bird()], space=[room(kind, rodent_gap_mm=gap_mm)])
    found = only(of, "V108")
    assert (found.status, found.fitting) == (status, "Store")
    assert found.why.startswith(who)


def test_v108_other_spaces_hold_no_food():
    assert findings(yard(bird=[bird()], space=[room("corridor")]), "V108") == []


@pytest.mark.parametrize("code", CODES)
def test_what_is_not_given_is_asked_for(code):
    found = findings(holding(), code)
    assert {f.status for f in found} == {"mind"}
    assert all(f.remedy.startswith("give service.") and f.quarters is None for f in found)


@pytest.mark.parametrize("code", [*CODES, "V108"])
def test_a_yard_without_birds_needs_no_store(code):
    of = yard(service={"freezer_l": 1, "fridge_c": 30}, space=[room(rodent_gap_mm=99)])
    assert findings(of, code) == []
