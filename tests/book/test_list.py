"""A keeper's list of weights and feeds: as people write them, all or nothing, once."""

import json
from datetime import UTC, date, datetime, time
from uuid import UUID
from zoneinfo import ZoneInfo

import pytest
from typer.testing import CliRunner

from mewswright.book.csv_mass import grams_of
from mewswright.book.csv_rows import Asked, preview
from mewswright.book.csv_when import day_of, hour_of, order_shown
from mewswright.book.open import Book, make_book
from mewswright.book.read import entries
from mewswright.cli import app
from mewswright.model.problem import Problem

BOOK = UUID(int=7)
ASKED = Asked(ZoneInfo("Europe/Zurich"), date(2026, 11, 25), bird="Bramble", unit="g")


@pytest.mark.parametrize(
    ("text", "order", "day"),
    [
        ("2026-03-01", None, date(2026, 3, 1)),
        ("1.3.2026", "dmy", date(2026, 3, 1)),
        ("01/03/26", "dmy", date(2026, 3, 1)),
        ("01/03/26", "mdy", date(2026, 1, 3)),
        ("3/3/2026", None, date(2026, 3, 3)),
        ("1 Mar 2026", None, date(2026, 3, 1)),
        ("1st March 2026", None, date(2026, 3, 1)),
        ("March 1, 2026", None, date(2026, 3, 1)),
        ("Sun 1 Mar 2026", None, date(2026, 3, 1)),
        ("1. März 2026", None, date(2026, 3, 1)),
        ("29.2.2024", "dmy", date(2024, 2, 29)),
    ],
)
def test_days_as_people_write_them(text, order, day):
    assert day_of(text, order) == day


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("01/03/26", "day or month first"),
        ("31.2.2026", "no such day"),
        ("29.2.2026", "no such day"),
        ("yesterday", "no day that is understood"),
        ("1 Foo 2026", "no such day"),
    ],
)
def test_days_that_are_none_say_why(text, says):
    assert says in day_of(text, "dmy" if "." in text else None)


@pytest.mark.parametrize(
    ("texts", "told"),
    [
        (["1/3/2026", "13/3/2026"], ("dmy", False)),
        (["3/1/2026", "3/13/2026"], ("mdy", False)),
        (["1.3.2026"], ("dmy", False)),
        (["1/3/2026"], (None, False)),
        (["13/3/2026", "3/13/2026"], (None, True)),
        (["2026-03-01"], (None, False)),
    ],
)
def test_a_column_gives_its_order_away(texts, told):
    assert order_shown(texts) == told


@pytest.mark.parametrize(
    ("text", "hour"),
    [("7:05", time(7, 5)), ("07.05", time(7, 5)), ("7h30", time(7, 30)), ("0705", time(7, 5)),
     ("7 am", time(7)), ("12:10 am", time(0, 10)), ("12 p.m.", time(12)),
     ("19:05:30", time(19, 5, 30))],
)  # fmt: skip
def test_hours_as_people_write_them(text, hour):
    assert hour_of(text) == hour


def test_hours_that_are_none_say_why():
    assert "no such time" in hour_of("25:00")
    assert "no such time" in hour_of("13 pm")
    assert "understood" in hour_of("morning")


# One pound is 453.59237 g and has 16 ounces (international yard and pound agreement, 1959).
@pytest.mark.parametrize(
    ("text", "unit", "grams"),
    [
        ("905", "g", 905),
        ("905,5", "g", 905.5),
        ("905 g", None, 905),
        ("0.905 kg", None, 905),
        ("32 oz", None, 907.18),
        ("32", "oz", 907.18),
        ("2 lb 0 oz", None, 907.18),
        ("2lb 3 1/2oz", None, 1006.41),
        ("1 lb 15.5 ozs", "g", 893.01),
        ("2 pounds and 3 ounces", None, 992.23),
        ("1/2 oz", None, 14.17),
    ],
)
def test_masses_as_people_write_them(text, unit, grams):
    assert grams_of(text, unit) == pytest.approx(grams, abs=0.006)


@pytest.mark.parametrize(
    ("text", "unit", "says"),
    [
        ("905", None, "in which unit"),
        ("1,050", "g", "thousands or a decimal"),
        ("2 lb 17 oz", None, "16 ounces"),
        ("9 stone", "g", "not known"),
        ("about 900", "g", "no mass"),
        ("-5", "g", "no mass"),
    ],
)
def test_masses_that_are_none_say_why(text, unit, says):
    assert says in grams_of(text, unit)


def read(text, asked=ASKED):
    return preview(text, "list.csv", BOOK, asked)


def test_a_list_with_semicolons_and_decimal_commas():
    found = read(
        "Datum;Zeit;Gewicht (g);Futter;Futtermenge;Bemerkung\n"
        "1.3.2026;7:05;905,5;quail;60,5;keen\n"
        "2.3.2026;;;;;\n"
        "3.3.2026;7:10;907;;;\n"
    )
    assert found.doubts == []
    assert found.blank == 1
    said = [(r["kind"], r["grams"], r["at"]) for r in found.rows]
    seven = datetime(2026, 3, 1, 6, 5, tzinfo=UTC)  # 7:05 of winter in Zurich
    assert said == [
        ("weight", 905.5, seven),
        ("feed", 60.5, seven),
        ("weight", 907.0, datetime(2026, 3, 3, 6, 10, tzinfo=UTC)),
    ]
    assert json.loads(found.rows[0]["detail"]) == {"note": "keen"}


def test_the_log_of_a_ration_is_a_list_too():
    found = read(
        "time,weight_g,crop(0-4),food,food_g,temp_c,flown_min,note\n"
        "2026-03-01T07:05,905,1,quail,60,-3,20,\n"
        "2026-03-02T07:05:00+01:00,906,,,,,,\n"
    )
    assert found.doubts == []
    assert json.loads(found.rows[0]["detail"]) == {"crop": 1, "flown_min": 20, "temp_c": -3}
    assert found.rows[2]["at"] == datetime(2026, 3, 2, 6, 5, tzinfo=UTC)


@pytest.mark.parametrize(
    ("row", "says", "readable"),
    [
        (",905", "no day", False),
        ("2026-03-40,905", "no such day", False),
        ("2026-03-02,9x5", "no mass", False),
        ("2026-03-02,0", "is no bird", False),
        ("2026-03-02,90500", "is no bird", False),
        ("2027-03-02,905", "has not come yet", True),
        ("1926-03-02,905", "so long ago", True),
        ("2026-03-29 02:30,905", "clock jumped", False),
    ],
)
def test_a_doubted_row_is_named_by_its_line(row, says, readable):
    found = read(f"date,weight\n2026-03-01,904\n{row}\n")
    (doubt,) = found.doubts
    assert (doubt.line, doubt.readable) == (3, readable)
    assert says in str(doubt)
    assert len(found.rows) == 1 + readable


def test_slips_of_digit_and_unit_stand_out():
    days = [f"2026-03-{d:02d},{905 + d}" for d in range(1, 20)]
    days[9], days[14] = "2026-03-10,9150", "2026-03-15,32"
    found = read("date,weight\n" + "\n".join(days))
    assert [(d.line, d.readable) for d in found.doubts] == [(11, True), (16, True)]
    assert "far from the 9" in str(found.doubts[0])


def test_two_weighings_of_one_moment_are_doubted():
    found = read("date,weight\n2026-03-01,904\n2026-03-01,905\n")
    assert "in line 2 too" in str(found.doubts[0])


def test_a_bird_that_the_yard_does_not_have_is_doubted():
    asked = Asked(ASKED.zone, ASKED.today, unit="g", birds=frozenset({"Bramble", "Flint"}))
    found = read("date,bird,weight\n2026-03-01,flint,600\n2026-03-01,Flnt,600\n", asked)
    assert [r["bird"] for r in found.rows] == ["Flint", "Flnt"]
    assert "no such bird (it has Bramble, Flint)" in str(found.doubts[0])


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "the list is empty"),
        ("bird,weight\nFlint,600\n", "it needs a date"),
        ("date,weight,gewicht\n", "both mean the weight"),
        ("date,weight\n13/3/2026,900\n3/13/2026,900\n", "some the month"),
    ],
)
def test_what_is_no_list_is_refused(text, says):
    with pytest.raises(Problem, match=says):
        read(text)


@pytest.fixture
def run(tmp_path):
    make_book(str(tmp_path / "a.book"), "Alder Close", BOOK, datetime(2026, 1, 1, tzinfo=UTC))

    def command(name, text, *more, encoding="utf-8"):
        (tmp_path / "list.csv").write_bytes(text.encode(encoding))
        where = [str(tmp_path / "a.book"), str(tmp_path / "list.csv")]
        asked = ["--bird", "Bramble", "--zone", "Europe/Zurich", "--unit", "g", "--json"]
        result = CliRunner().invoke(app, ["book", name, *where, *asked, *more])
        with Book(str(tmp_path / "a.book")) as book:
            kept = entries(book)
        return result, kept

    return command


GOOD = "date,weight,food,food_g\n2026-03-01,904,quail,60\n2026-03-02,906,,\n"


def test_a_preview_writes_nothing(run):
    result, kept = run("import", GOOD)
    assert (result.exit_code, kept) == (0, [])
    assert json.loads(result.stdout)["added"] is None


def test_the_same_list_twice_adds_nothing(run):
    first, _ = run("import", GOOD, "--write")
    again, kept = run("import", GOOD + "2026-03-03,907,,\n", "--write")
    assert json.loads(first.stdout)["added"] == 3
    answer = json.loads(again.stdout)
    assert (answer["added"], answer["known"]) == (1, 3)
    assert [e.grams for e in kept] == [904, 60, 906, 907]


def test_one_bad_row_keeps_all_out(run):
    result, kept = run("import", GOOD + "2026-03-03,9x7,,\n", "--write")
    assert (result.exit_code, kept) == (2, [])
    assert "line 4, weight '9x7'" in result.stderr
    result, kept = run("import", GOOD + "2027-03-03,907,,\n", "--write")
    assert (result.exit_code, kept) == (2, [])
    result, kept = run("import", GOOD + "2027-03-03,907,,\n", "--write", "--doubted-too")
    assert (result.exit_code, len(kept)) == (0, 4)


def test_a_line_may_be_left_out(run):
    result, kept = run("import", GOOD + "2026-03-03,9x7,,\n", "--write", "--skip", "4")
    assert (result.exit_code, len(kept)) == (0, 3)


@pytest.mark.parametrize("encoding", ["utf-8-sig", "cp1252", "utf-16"])
def test_lists_of_other_programs_are_read(run, encoding):
    text = "date,weight,note\n2026-03-01,904,Mäuse übrig\n"
    _, kept = run("import", text, "--write", encoding=encoding)
    assert kept[0].detail == {"note": "Mäuse übrig"}
