"""Every table, walked from the first row to the last."""

import math
import re

import pytest

from mewswright import handbook
from mewswright.handbook.evidence import BASES, CONFIDENCES, HOW_KNOWN
from mewswright.handbook.tables import EVIDENCE, rows, table, table_names
from mewswright.model.problem import Problem

WITHOUT_EVIDENCE = {"standard_names", "standard_gaps"}  # what a standard is, not what it says
TABLES = [name for name in table_names() if name not in WITHOUT_EVIDENCE]

# Columns that always hold a number, by their ending. Empty cells are allowed.
NUMBER = re.compile(
    r"(_mm|_g|_kg|_pct|_pct_wet|_deg|_c|_kj_g_wet|_m|_min|_month|mu1_from|mu1_to|solidity|"
    r"cpe_10|cpe_1|cpe_up|cf|zone_[abc]|distance_m|mass_ratio_min|median|low|high)$"
)
TEXT = {"materials": {"waste_pct", "stock_lengths_mm"}}  # these hold a range or a list

UNITS = {
    "mm",
    "m",
    "m2",
    "m3",
    "m/s",
    "km",
    "g",
    "kg",
    "degC",
    "spans",
    "birds",
    "count",
    "rule",
    "date",
    "h",
    "days",
    "day",
    "kJ/g",
    "kJ",
    "kN",
    "kN/m",
    "N/mm2",
    "kN/m2",
    "kN/m3",
    "l/s m2",
    "kPa",
    "kg/m2",
    "kg/m3",
    "%",
    "%RH",
    "ppm",
    "fraction",
    "class",
    "trait",
    "kind",
    "years",
    "deg",
    "ratio",
    "W/m2 K",
    "mm/h",
} | {
    "-",
    "per week",
    "per h",
    "of circumference",
    "ml per litre of water",
    "parts water to 1",
}


@pytest.mark.parametrize("name", TABLES)
def test_every_row_names_a_known_source(name):
    """A number without a source is a rumour."""
    unknown = [row for row in rows(name) if row["source"] not in handbook.sources()]
    assert unknown == []


@pytest.mark.parametrize("name", TABLES)
def test_every_row_says_how_it_is_known(name):
    odd = [
        row
        for row in rows(name)
        if row["how_known"] not in HOW_KNOWN
        or row["basis"] not in BASES
        or row["confidence"] not in CONFIDENCES
    ]
    assert odd == []


@pytest.mark.parametrize("name", TABLES)
def test_columns_of_evidence_come_last(name):
    assert table(name).columns[-len(EVIDENCE) :] == EVIDENCE


@pytest.mark.parametrize("name", table_names())
def test_head_names_the_table_and_its_order_and_rows_keep_it(name):
    heading = table(name).heading
    assert heading[0] == f"handbook/{name}.csv"
    order = re.match(r"Sorted by (.+)\. Sources: handbook/sources\.toml$", heading[-1])
    assert order, heading[-1]
    columns = order[1].split(", ")
    keys = [tuple(row[column] for column in columns) for row in rows(name)]
    assert keys == sorted(keys)


@pytest.mark.parametrize("name", table_names())
def test_no_row_stands_twice(name):
    whole = [tuple(row.values()) for row in rows(name)]
    assert len(whole) == len(set(whole))


# These keep the unit as published; their SI and typed columns are tested below.
AS_PUBLISHED = {"standards", "allometry", "materials"}


@pytest.mark.parametrize("name", [name for name in TABLES if name not in AS_PUBLISHED])
def test_units_are_known(name):
    odd = {row["unit"] for row in rows(name) if "unit" in row} - UNITS
    assert odd == set()


@pytest.mark.parametrize("name", TABLES)
def test_number_columns_hold_finite_numbers(name):
    texts = TEXT.get(name, set())
    for column in table(name).columns:
        if NUMBER.search(column) and column not in texts:
            cells = [row[column] for row in rows(name) if row[column]]
            assert all(math.isfinite(float(cell)) for cell in cells), column


def test_si_values_of_published_rows_have_si_units():
    units = {row["unit_si"] for row in rows("standards")}
    assert units.isdisjoint({"ft", "in", "oz", "degF", "kcal/g", "km"})


def test_every_source_has_a_cite_and_a_word_of_trust():
    named = handbook.sources().values()
    assert all(source.cite and source.trust for source in named)
    cites = [source.cite for source in named]
    assert len(cites) == len(set(cites))  # a finding is traced back by its cite


def test_every_source_is_called_by_some_row():
    called = {row["source"] for name in TABLES for row in rows(name)}
    called |= {row["reason_source"] for row in rows("spore_sources")}
    assert set(handbook.sources()) - called == set()


def test_what_was_recalled_is_never_called_read():
    """Keys that begin with m- are the sources that were recalled, not re-read."""
    raised = [
        (name, row)
        for name in TABLES
        for row in rows(name)
        if row["source"].startswith("m-") and row["how_known"] == "read"
    ]
    assert raised == []


def test_unknown_table_names_the_nearest():
    with pytest.raises(
        Problem, match=r"^no table 'specis'; nearest: species, species_sizes, species_moult$"
    ):
        table("specis")
