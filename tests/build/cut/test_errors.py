"""Every sentence that a cut plan refuses with, whole."""

import re
from decimal import Decimal

import pytest

from mewswright.build.cut.plan import CutPart, StockBar
from mewswright.build.cut.solve import cut_plan
from mewswright.build.cut.tables import parts_from_csv, stock_from_csv
from mewswright.model.problem import Problem

PARTS = "mark,section,length_mm,count\n"
STOCK = "section,length_mm,price,available\n"


def says(sentence):
    return pytest.raises(Problem, match=f"^{re.escape(sentence)}$")


def planned(parts, stock, **limits):
    return cut_plan(
        parts_from_csv(PARTS + parts, "parts.csv"),
        stock_from_csv(STOCK + stock, "stock.csv"),
        **limits,
    )


def test_a_piece_longer_than_any_stock_is_refused():
    with says(
        "parts.csv row 3: part 'B' is 6000.5 mm long and the longest stock of 's' is 6000 mm: "
        "offer longer bars, or joint the part"
    ):
        planned("A,s,10,1\nB,s,6000.5,1\n", "s,6000,10,\ns,3000,5,\n")


def test_a_section_without_stock_is_refused():
    with says(
        "parts.csv row 2: part 'A' is of section 't', of which there is no stock; there is stock "
        "of: 's', 'u'; add a row for it to the stock"
    ):
        planned("A,t,10,1\n", "s,6000,10,\nu,6000,10,\ns,3000,4,\n")


def test_stock_that_is_too_short_in_all_is_refused():
    with says(
        "section 's': the stock runs out: 7 pieces, 17500 mm in all before kerfs, against "
        "3 of 6000 mm (stock.csv row 2); raise 'available', or leave it blank where more can "
        "be bought"
    ):
        planned("A,s,2500,7\n", "s,6000,10,3\n")


def test_stock_that_is_long_enough_but_cannot_be_sawn_so_is_shown_to_run_out():
    """Three pieces of 2500 in 6000 + 2000: 7500 of 8000 mm, and still it does not go."""
    with says(
        "section 's': the stock runs out: 3 pieces, 7500 mm in all before kerfs, against "
        "1 of 6000 mm (stock.csv row 2), 1 of 2000 mm (stock.csv row 3); raise 'available', or "
        "leave it blank where more can be bought"
    ):
        planned("A,s,2500,3\n", "s,6000,10,1\ns,2000,4,1\n")


def test_stock_of_which_nothing_is_left_runs_out():
    with pytest.raises(Problem, match=r"^section 's': the stock runs out: 1 pieces, 10 mm in all"):
        planned("A,s,10,1\n", "s,6000,10,0\n")


def test_one_mark_with_two_lengths_is_refused():
    with says(
        "parts.csv row 4: mark 'A' is 20 mm long here and 10 mm in parts.csv row 2: "
        "give each length a mark of its own"
    ):
        planned("A,s,10,1\nB,s,10,1\nA,s,20,1\n", "s,6000,10,\n")


@pytest.mark.parametrize("kerf_mm", [-1, float("nan"), float("inf"), 100, Decimal("0.0001")])
def test_a_kerf_that_no_saw_has_is_refused(kerf_mm):
    with says(
        f"the kerf is {kerf_mm} mm: give the width of the cut, from 0 to below 100 mm, at most "
        "three places behind the point"
    ):
        planned("A,s,10,1\n", "s,6000,10,\n", kerf_mm=kerf_mm)


@pytest.mark.parametrize("seconds", [0, -1, float("nan"), float("inf")])
def test_a_time_that_is_no_time_is_refused(seconds):
    with says(f"seconds is {seconds}: give a number above 0"):
        planned("A,s,10,1\n", "s,6000,10,\n", seconds=seconds)


def test_a_length_finer_than_the_saw_is_refused():
    parts = [CutPart(mark="A", section="s", length_mm=Decimal("10.0001"), count=1)]
    stock = [StockBar(section="s", length_mm=Decimal(20), price=Decimal(1))]
    with says("length 10.0001 mm is finer than a thousandth of a millimetre: round it"):
        cut_plan(parts, stock)


LENGTH = "give millimetres above 0, digits with a point at most three places, for example 1234.5"


@pytest.mark.parametrize(
    ("row", "sentence"),
    [
        (",s,10,1", "mark is blank: give each part a mark, for example P1"),
        ("A,,10,1", "section is blank: give the section as the stock names it, for example 45x95"),
        ("A,s,,1", f"length_mm is blank: {LENGTH}"),
        ("A,s,0,1", f"length_mm is '0': {LENGTH}"),
        ("A,s,-5,1", f"length_mm is '-5': {LENGTH}"),
        ("A,s,nan,1", f"length_mm is 'nan': {LENGTH}"),
        ("A,s,inf,1", f"length_mm is 'inf': {LENGTH}"),
        ("A,s,1e3,1", f"length_mm is '1e3': {LENGTH}"),
        ("A,s,1_000,1", f"length_mm is '1_000': {LENGTH}"),
        ('A,s,"12,5",1', f"length_mm is '12,5': {LENGTH}"),
        ("A,s,long,1", f"length_mm is 'long': {LENGTH}"),
        ("A,s,10,", "count is blank: give a whole number from 1 to 999999"),
        ("A,s,10,0", "count is '0': give a whole number from 1 to 999999"),
        ("A,s,10,-2", "count is '-2': give a whole number from 1 to 999999"),
        ("A,s,10,1.5", "count is '1.5': give a whole number from 1 to 999999"),
    ],
)
def test_a_part_that_makes_no_sense_is_refused(row, sentence):
    with says(f"parts.csv row 3: {sentence}"):
        parts_from_csv(f"{PARTS}Z,s,10,1\n{row}\n", "parts.csv")


PRICE = "give a price of 0 or more, digits with a point, for example 12.35"
AVAILABLE = "give a whole number from 0 to 999999, or leave it blank for no limit"


@pytest.mark.parametrize(
    ("row", "sentence"),
    [
        ("s,6000,,", f"price is blank: {PRICE}"),
        ("s,6000,-1,", f"price is '-1': {PRICE}"),
        ("s,6000,NaN,", f"price is 'NaN': {PRICE}"),
        ("s,6000,1,-1", f"available is '-1': {AVAILABLE}"),
        ("s,6000,1,many", f"available is 'many': {AVAILABLE}"),
        ("s,6000,1,2.5", f"available is '2.5': {AVAILABLE}"),
    ],
)
def test_stock_that_makes_no_sense_is_refused(row, sentence):
    with says(f"stock.csv row 2: {sentence}"):
        stock_from_csv(f"{STOCK}{row}\n", "stock.csv")


def test_all_that_is_wrong_is_said_at_once():
    with says(
        "p.csv row 2: count is '0': give a whole number from 1 to 999999\n"
        f"p.csv row 3: length_mm is 'x': {LENGTH}"
    ):
        parts_from_csv(f"{PARTS}A,s,10,0\nB,s,x,1\n", "p.csv")


def test_a_missing_column_is_named_with_what_may_be_meant():
    with says(
        "p.csv row 1: no column 'length_mm'; it has: mark, section, lenght_mm, count (is "
        "'lenght_mm' meant for 'length_mm'?); the first row must name mark,section,length_mm,count"
    ):
        parts_from_csv("mark,section,lenght_mm,count\nA,s,10,1\n", "p.csv")


def test_an_empty_file_is_refused():
    with pytest.raises(Problem, match=r"^p.csv row 1: no column 'mark' .* it has: nothing;"):
        parts_from_csv("", "p.csv")


def test_a_row_with_a_value_too_many_is_refused():
    with says(
        "p.csv row 2: 5 values for 4 columns: give one value a column, and put a value that "
        "holds a comma in double quotes"
    ):
        parts_from_csv(f"{PARTS}A,b,s,10,1\n", "p.csv")


def test_an_unclosed_quote_is_refused():
    with pytest.raises(Problem, match=r"^p.csv row 2: not a row of comma-separated values"):
        parts_from_csv(f'{PARTS}"A,s,10,1\n', "p.csv")


def test_a_file_from_a_spreadsheet_is_read_as_it_is():
    """A byte-order mark, CRLF, spaces, quotes, blank rows, columns in another order."""
    text = '\ufeffcount, note,length_mm,mark ,section\r\n 2 ,x, 1234.50 ,"post, left",s\r\n,,,,\r\n'
    (part,) = parts_from_csv(text, "p.csv")
    assert (part.mark, part.section, part.length_mm, part.count, part.origin) == (
        "post, left",
        "s",
        Decimal("1234.5"),
        2,
        "p.csv row 2",
    )


def test_blank_available_is_no_limit_and_nought_is_none():
    one, other = stock_from_csv(f"{STOCK}s,6000,12.35,\ns,2000,0,0\n", "s.csv")
    assert (one.available, one.price, other.available, other.price) == (
        None,
        Decimal("12.35"),
        0,
        0,
    )


def test_semicolons_and_decimal_commas_read_as_commas_and_points():
    """A spreadsheet set to a language with decimal commas writes both so."""
    commas = parts_from_csv("mark,section,length_mm,count\nA,45x95,1234.5,3\n", "parts.csv")
    text = "\ufeffmark;section;length_mm;count\r\nA;45x95;1234,5;3\r\n"
    assert parts_from_csv(text, "parts.csv") == commas
    (bar,) = stock_from_csv("section;length_mm;price;available\n45x95;3000;9,50;\n", "stock.csv")
    assert float(bar.price) == 9.5
