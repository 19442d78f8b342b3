"""Logs as keepers write them: times, foods, rows out of order, and what is refused."""

from datetime import datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mewswright import handbook
from mewswright.care.fed import fed
from mewswright.care.log import read_log
from mewswright.care.log_times import days, moment, moment_of
from mewswright.care.notes import casting, ill, keel_score, well
from mewswright.care.tidy import tidy
from mewswright.handbook.care import food_called
from mewswright.model.problem import Problem

HARRIS = handbook.species("harris_hawk")
AT = datetime(2026, 11, 30, 8)
HEADER = "time,weight_g,crop(0-4),food,food_g,temp_c,flown_min,note"


@pytest.mark.parametrize(
    ("text", "want"),
    [
        ("2026-11-12T08:05", (11, 12, 8, 5)),
        ("2026-11-12 8:05", (11, 12, 8, 5)),
        ("2026-11-12T08:05:59", (11, 12, 8, 5)),
        ("2026-11-12T08:05:59.123", (11, 12, 8, 5)),
        ("2026-11-12T0805", (11, 12, 8, 5)),
        ("12.11.2026 08:05", (11, 12, 8, 5)),
        ("2026-11-12T08:05Z", (11, 12, 8, 5)),
        ("2026-11-12T08:05+01:00", (11, 12, 8, 5)),
        ("2026-11-12T24:00", (11, 13, 0, 0)),
    ],
)
def test_moments_as_they_are_written(text, want):
    at, has_hour = moment(text, "row 2")
    assert has_hour
    assert (at.month, at.day, at.hour, at.minute) == want


@pytest.mark.parametrize(
    "text", ["", "soon", "11/12/2026", "2026-02-30", "2026-11-12T25:00", "12.11."]
)
def test_moments_that_cannot_be_read_are_refused_with_their_row(text):
    with pytest.raises(Problem, match=r"^row 2: "):
        moment(text, "row 2")


@given(st.datetimes(min_value=datetime(1990, 1, 1), max_value=datetime(2090, 1, 1)))
def test_a_moment_survives_its_number(at):
    at = at.replace(second=0, microsecond=0)
    assert moment_of(days(at)) == at


def test_zones_come_to_one_clock():
    rows = read_log(
        "time,weight_g\n2026-11-12T08:00+01:00,900\n2026-11-12T08:00Z,905\n2026-11-12T10:00,910\n"
    )
    log = tidy(rows, moment("2026-11-13T08:00+01:00", "--at")[0], True, HARRIS)
    assert [(row.at.hour, row.weight_g) for row in log.rows] == [(8, 900), (9, 905), (10, 910)]


def test_rows_are_sorted_taken_once_and_cut_at_the_hour():
    text = "time,weight_g\n2026-11-14,905\n2026-11-12,900\n2026-11-12,900\n2026-12-24,950\n"
    log = tidy(read_log(text), AT, True, HARRIS)
    assert [row.weight_g for row in log.rows] == [900, 905]
    assert log.cautions == (
        "1 row stood twice in the log: taken once", "1 row after the hour asked for: left out",
    )  # fmt: skip


@pytest.mark.parametrize(
    ("food", "grams", "want"),
    [
        ("chick", (75.0,), [("doc_with_yolk", 75)]),
        ("2 chicks", (), [("doc_with_yolk", 80)]),
        ("1/2 quail", (), [("quail_adult_whole", 90)]),
        ("3x mice", (), [("mouse_adult", 75)]),
        ("quail; chick", (60.0, 40.0), [("quail_adult_whole", 60), ("doc_with_yolk", 40)]),
        ("beef + chick", (50.0,), [("beef_lean", 25), ("doc_with_yolk", 25)]),
        ("1 mouse & 1 chick", (65.0,), [("mouse_adult", 25), ("doc_with_yolk", 40)]),
    ],
)
def test_foods_in_keepers_words(food, grams, want):
    assert [(one.food.id, round(one.grams, 6)) for one in fed(food, grams)] == want


def test_every_word_for_a_food_names_one():
    for row in handbook.table("food_words").rows:
        assert food_called(row["word"]).id == row["food"]
        assert food_called(row["word"] + "s").id == row["food"]
    for food in handbook.foods():
        assert food_called(food.name) is food_called(food.id)


def test_semicolons_and_decimal_commas():
    row = read_log("time;weight_g;crop(0-4);food;food_g\n12.11.2026 8:00;901,5;0;beef;42,5\n")[0]
    assert (row.weight_g, row.fed[0].grams) == (901.5, 42.5)


def test_blank_zero_and_none_are_three_things():
    rows = ("12,900,,", "13,900,,0", "14,900,none,", "15,900,chick,")
    text = "time,weight_g,food,food_g\n" + "\n".join(f"2026-11-{row}" for row in rows)
    assert [(row.fed, row.feeding_known) for row in read_log(text)] == [
        ((), False), ((), True), ((), True), ((), False),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("time,mass\n", "has a column 'mass'"),
        ("time,crop\n", "no column 'weight_g'"),
        ("time,weight_g,time\n", "two columns 'time'"),
        ("time,weight_g,note\n2026-11-12,900,thin, tired\n", "in double quotes"),
        ("time,weight_g,food\n2026-11-12,900,chick; unicorn\n", "row 2: no food 'unicorn'"),
        ("time,weight_g,food,food_g\n2026-11-12,900,chick; quail,1;2;3\n", "one figure"),
        ("time,weight_g,food,food_g\n2026-11-12,900,none,30\n", "correct one of them"),
        ("time,weight_g,temp_c\n2026-11-12,900,99\n", "temp_c is 99; it may be -50 to 55"),
    ],
)
def test_what_cannot_be_read_is_refused(text, says):
    with pytest.raises(Problem) as problem:
        read_log(text)
    assert says in str(problem.value)


@pytest.mark.parametrize(
    ("note", "is_ill"),
    [("off her food", True), ("vomited", True), ("looks ill", True), ("not ill at all", False),
     ("no sign of illness", False), ("killed a rabbit", False), ("still fit, chilly", False),
     ("bumblefoot left", True), ("flew well", False), ("will fly tomorrow", False),
     ("flew poorly", False), ("looks poorly", True)],
)  # fmt: skip
def test_notes_of_illness(note, is_ill):
    assert ill(note) is is_ill


def test_other_notes():
    assert well("recovered, flew well")
    assert not well("not recovered")
    assert [casting(n) for n in ("cast at 7", "not cast yet", "no pellet", "flew")] == [
        True,
        False,
        False,
        None,
    ]
    assert [keel_score(n) for n in ("keel 3", "Keel: 2.5/5", "good")] == [3, 2.5, None]


@given(st.text(max_size=200))
def test_no_text_makes_it_fall_over(text):
    """Whatever stands in the file: rows, or a sentence."""
    try:
        told = repr(read_log(f"{HEADER}\n{text}"))
    except Problem as problem:
        told = str(problem)
    assert told
