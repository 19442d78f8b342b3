"""The ration as a whole: honest in its chances, careful with small birds, always the same."""

from dataclasses import replace
from datetime import datetime, timedelta

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mewswright import handbook
from mewswright.care.limits import floor_of, least_share, safe_share
from mewswright.care.ration import Asked, ration
from mewswright.care.rations import meal_days
from mewswright.model.problem import Problem

START = datetime(2026, 2, 1, 8)


def log(kind, mass_g, days, luck, temp_c=8):
    """A bird that is about in balance: no simulation, only a plausible log."""
    need = handbook.species(kind).mass().value ** 0.68 * 0.7
    rows = ["time,weight_g,food,food_g,temp_c"]
    for n in range(days):
        food = f"chick,{need * luck.uniform(0.7, 1.3):.0f}" if n < days - 1 else ","
        at = START + timedelta(days=n)
        rows.append(
            f"{at:%Y-%m-%dT%H:%M},{mass_g * (1 + 0.008 * luck.normal()):.0f},{food},{temp_c}"
        )
    return "\n".join(rows)


def asked(days=30, mass_g=700.0, kind="harris_hawk", sex="m", seed=1, **more):
    luck = np.random.default_rng(seed)
    at = START + timedelta(days=days)
    words = {"target_g": f"{mass_g:.0f}", "food": "chick", **more}
    return Asked(log(kind, mass_g, days, luck), kind, sex, at=at.isoformat(), **words)


def test_the_same_question_has_the_same_answer():
    assert ration(asked()) == ration(asked())


def test_the_order_of_rows_does_not_matter():
    question = asked()
    header, *rows = question.log.splitlines()
    turned = replace(question, log="\n".join([header, *reversed(rows)]))
    assert ration(turned) == ration(question)


def test_a_longer_record_is_surer_and_leans_on_the_bird():
    widths = []
    for days in (1, 5, 60):
        low, high = ration(asked(days)).interval_90_g
        widths.append(high - low)
    assert widths == sorted(widths, reverse=True)
    assert widths[0] > 1.4 * widths[2]
    assert ration(asked(1)).basis.leans_on == "the species"
    assert ration(asked(60)).basis.leans_on == "the bird's own record"


@settings(max_examples=25, deadline=None)
@given(
    temp_c=st.floats(-25, 40),
    kind=st.sampled_from(["common_kestrel", "merlin", "harris_hawk", "golden_eagle", "snowy_owl"]),
    off=st.floats(-0.04, 0.04),
    seed=st.integers(0, 99),
)
def test_no_ration_lets_a_bird_fall_faster_than_is_safe(temp_c, kind, off, seed):
    """Whatever the weather and the target: refused, or within the safe rate and the most."""
    mass = handbook.species(kind).mass("f").value
    target = f"{mass * (1 + off):.0f}"
    try:
        told = ration(asked(12, mass, kind, "f", seed, target_g=target, temp_c=temp_c))
    except Problem as problem:
        told = str(problem)
    if isinstance(told, str):
        assert "--by" in told or "brings it lower" in told
        return
    kept = told.basis.mass_now_g * (1 - safe_share(mass))
    assert told.expected_g >= kept - 1
    if mass < 300 and temp_c <= 2:
        assert told.ration_g * 4.84 >= 0.75 * told.basis.spends_kj_day - 5
    assert told.ration_g * 4.84 <= 2 * told.basis.spends_kj_day + 5


@pytest.mark.parametrize(
    ("mass_g", "pct"), [(120, 2), (299, 2), (300, 1.5), (999, 1.5), (1000, 1), (5000, 1)]
)
def test_safe_rates_by_mass(mass_g, pct):
    assert safe_share(mass_g) == pytest.approx(pct / 100)


def test_a_small_bird_in_frost_or_in_unknown_weather_is_fed():
    assert least_share(200, -5) == least_share(200, None) == 0.75
    assert least_share(200, 15) == least_share(900, -5) == 0


def test_the_floor_comes_from_the_bird_where_its_record_is_long():
    kind = handbook.species("harris_hawk")
    days = np.arange(90.0)
    assert floor_of(kind, "f", days, np.full(90, 700.0)).grams == pytest.approx(560)
    assert floor_of(kind, "f", days[:9], np.full(9, 800.0)).grams == pytest.approx(712.5)
    assert floor_of(kind, "f", days, np.full(90, 900.0), fed_up_g=1000).grams == pytest.approx(800)
    assert floor_of(kind, "f", days, np.full(90, 900.0), given_g=850).grams == 850
    assert floor_of(kind, "f", days, np.full(90, 900.0), given_g=500).grams == pytest.approx(720)


def test_an_ill_note_stands_until_a_later_one_clears_it():
    question = asked(10)
    rows = question.log.replace(",temp_c", ",temp_c,note").splitlines()
    rows = [row + "," if n else row for n, row in enumerate(rows)]
    rows[5] += "vomited"
    with pytest.raises(Problem, match=r"^row 6: the note 'vomited' says that the bird is ill"):
        ration(replace(question, log="\n".join(rows)))
    rows[9] += "recovered"
    assert ration(replace(question, log="\n".join(rows))).ration_g > 0


def test_meals_are_a_day_apart_and_none_just_before_the_scale():
    assert meal_days(0.0, 1.0, False) == (0.0,)
    assert meal_days(0.0, 3.0, False) == (0.0, 1.0, 2.0)
    assert meal_days(0.0, 3.0, True) == (1.0, 2.0)
    assert meal_days(0.0, 1.2, True) == (0.0,)


def test_a_full_crop_is_not_taken_for_a_fat_bird():
    """The same 50 g more on the scale: with a full crop it lies in the crop, and feeds it still."""
    question = asked()
    rows = question.log.replace(",temp_c", ",temp_c,crop").splitlines()
    rows = [row + "," if n else row for n, row in enumerate(rows)]
    rows[-1] = "2026-03-02T08:00,750,,,8,"
    heavy = ration(replace(question, log="\n".join(rows)))
    full = ration(replace(question, log="\n".join([*rows[:-1], rows[-1] + "4"])))
    assert full.basis.mass_now_g == pytest.approx(ration(question).basis.mass_now_g, abs=8)
    assert heavy.basis.mass_now_g > full.basis.mass_now_g + 2
    assert full.ration_g < heavy.ration_g
    assert full.basis.content_now_g == pytest.approx(0.07 * 750, rel=0.1)
