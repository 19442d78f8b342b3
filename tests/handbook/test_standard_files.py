"""The shipped files of standards: read as strictly as a keeper's own, and complete."""

import csv
import tomllib
from datetime import date
from importlib.resources import files
from pathlib import Path

import pytest

from mewswright import handbook
from mewswright.handbook.shelf import SHIPPED, Shelf, shelf_of
from mewswright.handbook.standard_files import known_in_rows, shipped_file, shipped_keys
from mewswright.handbook.standard_shapes import in_force
from mewswright.handbook.tables import rows
from mewswright.model.standard_file import parse_standard
from mewswright.model.standard_names import broken_rows

KEYS = shipped_keys()
NOT_THERE = Path(__file__).with_name("not_in_a_standard.csv")


@pytest.mark.parametrize("key", KEYS)
def test_a_shipped_file_is_read_as_strictly_as_an_own_one(key):
    text = (files("mewswright") / "standards" / f"{key}.toml").read_text(encoding="utf-8")
    assert list(broken_rows(tomllib.loads(text), known_in_rows())) == []
    assert parse_standard(text, f"{key}.toml").key == key  # the file is found by its key


def test_no_row_was_lost_on_the_way_from_the_tables():
    assert len(KEYS) == 35
    assert len(rows("size_limits")) == 83
    assert len(rows("standard_rules")) == 140 + 1  # 9 CFR 3.151 on light came later
    assert len(rows("bird_classes")) == 596


def test_no_row_that_another_text_tells_of_is_called_read():
    raised = [
        (key, row)
        for key in KEYS
        for row in shipped_file(key).rows()
        if handbook.source(row.source).second_hand and row.how_known == "read"
    ]
    assert raised == []


@pytest.mark.parametrize(
    "key", ["vl-news", "de-press", "at-thv", "fr", "de-2024s", "uk-teth", "vl-info"]
)
def test_press_quotations_and_charities_are_second_hand(key):
    assert handbook.source(key).second_hand


def _stands_in(row, standard):
    """Whether a size or rule of the standard holds the same figure from the same source."""
    numbers = [float(row[c]) for c in ("value", "value_si") if _is_number(row[c])]
    for of in shipped_file(standard).rows():
        if of.source != row["source"]:
            continue
        if hasattr(of, "quantity"):
            held = [of.value, of.value / 1000, of.original_value]
        elif of.number is None:
            if of.value == row["value"]:
                return True
            continue
        else:
            held = [of.number, of.number / 1000]
        # A value that was collected in SI may be rounded to two places.
        if any(
            abs(h - n) <= 0.006 * max(1, abs(n)) for h in held if h is not None for n in numbers
        ):
            return True
    return False


def _is_number(text):
    try:
        float(text)
    except ValueError:
        return False
    return True


def test_every_collected_figure_is_in_a_standard_or_is_no_housing_limit():
    lines = NOT_THERE.read_text(encoding="utf-8").splitlines()
    listed = {
        (row["standard"], row["subject"], row["quantity"]): row for row in csv.DictReader(lines[3:])
    }
    missing = []
    for row in rows("standards"):
        said = listed.get((row["standard"], row["subject"], row["quantity"]))
        if said is None:
            if not _stands_in(row, row["standard"]):
                missing.append(row)
        elif said["rule"]:
            assert handbook.rules(row["standard"], said["rule"]), said
        else:
            assert len(said["why"]) > 20, said
    assert missing == []
    collected = {(row["standard"], row["subject"], row["quantity"]) for row in rows("standards")}
    assert set(listed) <= collected


def test_every_size_of_the_flemish_decision_binds_from_its_first_day():
    """In force from 1 July 2019: Flemish pet-information page on the decision of 15 June 2018."""
    merlin = handbook.species("merlin")
    assert not Shelf(on=date(2019, 6, 30)).size_limits("be-vlg", merlin)
    on = Shelf(on=date(2019, 7, 1)).size_limits("be-vlg", merlin)
    assert on.required_floor_area_m2(1).value == 6
    assert SHIPPED.size_limits("be-vlg", merlin).required_floor_area_m2(1).value == 6
    before = Shelf(on=date(2019, 6, 30)).size_limits("be-vlg", merlin)
    assert before.reason == (
        "the sizes of Flemish decision on captive raptors do not bind on 2019-06-30"
    )


def test_the_rule_of_before_2008_is_marked_and_no_other():
    lapsed = {key for key in KEYS for row in shipped_file(key).rows() if row.lapsed}
    assert lapsed == {"us-pre2008"}
    assert all(row.lapsed for row in shipped_file("us-pre2008").rows())


class Row:
    def __init__(self, first=None, last=None):
        self.valid_from, self.valid_to = first, last


NEW_YEAR = date(2027, 1, 1)


@pytest.mark.parametrize(
    ("row", "on", "binds"),
    [
        (Row(), None, True),
        (Row(), NEW_YEAR, True),
        (Row(first=NEW_YEAR), None, True),  # it has no end
        (Row(first=NEW_YEAR), date(2026, 12, 31), False),
        (Row(first=NEW_YEAR), NEW_YEAR, True),
        (Row(last=NEW_YEAR), None, False),
        (Row(last=NEW_YEAR), NEW_YEAR, True),
        (Row(last=NEW_YEAR), date(2027, 1, 2), False),
        (Row(NEW_YEAR, NEW_YEAR), NEW_YEAR, True),
        (Row(NEW_YEAR, NEW_YEAR), date(2026, 12, 31), False),
    ],
)
def test_a_row_binds_from_its_first_day_to_its_last(row, on, binds):
    assert in_force(row, on) is binds


def test_the_same_files_and_day_give_the_same_shelf():
    assert shelf_of() is SHIPPED
    assert shelf_of((), NEW_YEAR) is shelf_of((), NEW_YEAR)
    assert shelf_of((), NEW_YEAR) is not shelf_of((), date(2027, 1, 2))
