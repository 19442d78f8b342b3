"""`mewswright cut` as it is called."""

import json
import subprocess
import sys

import pytest

PARTS = "mark,section,length_mm,count\nA,45x95,2400,3\nB,45x95,1197,2\nC,38x38,900.5,2\n"
STOCK = "section,length_mm,price,available\n45x95,4800,14.35,\n45x95,2400,7.2,1\n38x38,2000,3,\n"


@pytest.fixture
def cut(tmp_path):
    def call(*options, parts=PARTS, stock=STOCK):
        (tmp_path / "parts.csv").write_text(parts, encoding="utf-8")
        (tmp_path / "stock.csv").write_text(stock, encoding="utf-8")
        return subprocess.run(
            [sys.executable, "-m", "mewswright", "cut", "parts.csv", "stock.csv", *options],
            cwd=tmp_path,
            capture_output=True,
            text=True,
            check=False,
            timeout=60,
        )

    return call


def test_json_holds_the_plan_and_nothing_else_is_printed(cut):
    done = cut("--json")
    assert (done.returncode, done.stderr) == (0, "")
    plan = json.loads(done.stdout)
    assert set(plan) == {"sections", "cost", "lower_bound", "proven", "seconds"}
    first, second = plan["sections"]
    assert set(first) == {"section", "patterns", "cost", "lower_bound", "proven"}
    # A 2400 bar holds one A; 2 A + kerf do not fit 4800; A + 2 x 1197 + 2 kerfs = 4800 does.
    assert (first["section"], first["cost"], first["proven"]) == ("45x95", 35.9, True)
    assert (second["section"], second["cost"], second["proven"]) == ("38x38", 3, True)
    assert plan["cost"] == plan["lower_bound"] == 38.9
    (pattern,) = second["patterns"]
    assert pattern == {
        "stock_mm": 2000,
        "price": 3,
        "count": 1,
        "cuts": [{"mark": "C", "length_mm": 900.5, "count": 2}],
        "offcut_mm": 193,
    }


def test_the_kerf_is_the_keepers(cut):
    done = cut("--json", "--kerf-mm", "0", "--seconds", "5")
    # Without a kerf two bars do: 4800 = 2 A, and A + 2 B = 4794.
    assert json.loads(done.stdout)["sections"][0]["cost"] == 28.7


def test_the_plan_is_told_in_words(cut):
    done = cut()
    assert done.returncode == 0
    assert "1 x 2000 mm: 2 x C (900.5); offcut 193 mm" in done.stdout
    assert done.stdout.endswith("In all: cost 38.90, proven the least\n")


def test_bad_input_ends_with_two_and_a_sentence(cut):
    done = cut(parts=PARTS + "D,45x95,5000,1\n")
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr == (
        "error: parts.csv row 5: part 'D' is 5000 mm long and the longest stock of '45x95' is "
        "4800 mm: offer longer bars, or joint the part\n"
    )


def test_a_kerf_that_is_no_number_is_refused(cut):
    done = cut("--kerf-mm", "3,2")
    assert done.returncode == 2
    assert done.stderr == (
        "error: --kerf-mm is '3,2': give millimetres of 0 or more, for example 3.2\n"
    )


def test_a_file_that_is_not_there_is_named(tmp_path):
    done = subprocess.run(
        [sys.executable, "-m", "mewswright", "cut", "no.csv", "no.csv"],
        cwd=tmp_path,
        capture_output=True,
        text=True,
        check=False,
        timeout=60,
    )
    assert done.returncode == 2
    assert done.stderr.startswith("error: no.csv: cannot be read (No such file or directory)")


def test_parts_without_rows_make_an_empty_plan(cut):
    plan = json.loads(cut("--json", parts="mark,section,length_mm,count\n").stdout)
    assert (plan["sections"], plan["cost"], plan["proven"]) == ([], 0, True)
