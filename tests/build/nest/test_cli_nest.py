"""`mewswright nest` as it is called."""

import json
import subprocess
import sys

import pytest

PARTS = "mark,length_mm,width_mm,count,grain\nFloor,1200,600,4,along\nLid,605,505,1,\n"
SHEETS = "name,length_mm,width_mm,price,available\nply,2440,1220,42.5,\nrack,700,700,0,1\n"


@pytest.fixture
def nest(tmp_path):
    def call(*options, parts=PARTS, sheets=SHEETS):
        (tmp_path / "parts.csv").write_text(parts, encoding="utf-8")
        (tmp_path / "sheets.csv").write_text(sheets, encoding="utf-8")
        return subprocess.run(
            [sys.executable, "-m", "mewswright", "nest", "parts.csv", "sheets.csv", *options],
            cwd=tmp_path,
            capture_output=True,
            text=True,
            check=False,
            timeout=120,
        )

    return call


def test_json_holds_the_plan_and_nothing_else_is_printed(nest):
    done = nest("--json")
    assert (done.returncode, done.stderr) == (0, "")
    plan = json.loads(done.stdout)
    # Four floors fill one sheet (1200 + 4 + 1200 of 2440, 600 + 4 + 600 of 1220) and the lid
    # goes on what lies in the rack: one bought sheet is the least that holds 4 x 0.72 m2.
    assert (plan["cost"], plan["lower_bound"], plan["proven"]) == (42.5, 42.5, True)
    assert (plan["gap"], plan["unplaced"]) == (0, [])
    assert [(s["sheet"], s["count"], s["price"]) for s in plan["sheets"]] == [
        ("rack", 1, 0),
        ("ply", 1, 42.5),
    ]
    rack, ply = plan["sheets"]
    assert [p["mark"] for p in ply["parts"]] == ["Floor"] * 4
    assert set(ply["parts"][0]) == {
        "mark",
        "x_mm",
        "y_mm",
        "length_mm",
        "width_mm",
        "rotated",
    }
    assert set(ply["cuts"][0]) == {"number", "stage", "along", "at_mm", "from_mm", "to_mm"}
    assert not any(p["rotated"] for p in ply["parts"])  # their grain runs along the sheet
    assert [p["mark"] for p in rack["parts"]] == ["Lid"]
    assert rack["offcuts"][0]["length_mm"] * rack["offcuts"][0]["width_mm"] >= 91 * 605


def test_the_plan_is_told_in_words_and_drawn(nest, tmp_path):
    done = nest("--svg", "drawn")
    assert done.returncode == 0
    assert done.stdout.endswith(
        "In all: 2 sheets, cost 42.5, proven the least; no plan of 3 stages costs less than "
        "42.5 (by area)\n"
    )
    assert "Floor: 1200 x 600 at 0, 0" in done.stdout
    drawn = (tmp_path / "drawn" / "sheet-2.svg").read_text(encoding="utf-8")
    assert drawn.count('data-part="Floor"') >= 1
    assert "Sheet 2 of 2: ply" in drawn
    assert (tmp_path / "drawn" / "sheet-1.svg").exists()


def test_a_rack_that_runs_out_leaves_parts_over(nest):
    sheets = "name,length_mm,width_mm,price,available\nply,2440,1220,42.5,1\n"
    done = nest(
        "--json", "--seconds", "1", parts=PARTS.replace("4,along", "6,along"), sheets=sheets
    )
    plan = json.loads(done.stdout)
    assert done.returncode == 1
    assert not plan["proven"]
    assert sum(u["count"] for u in plan["unplaced"]) == 3  # six floors and a lid, room for four
    assert {u["mark"] for u in plan["unplaced"]} <= {"Floor", "Lid"}


def test_bad_input_ends_with_two_and_a_sentence(nest):
    done = nest(parts=PARTS + "Roof,3000,100,1,\n")
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr == (
        "error: parts.csv row 4: part 'Roof' is 3000 x 100 mm, grain none, and fits none of the "
        "sheets (ply 2440 x 1220 mm, rack 700 x 700 mm): offer a larger sheet, or join the part "
        "from two\n"
    )


def test_a_part_that_only_fits_against_its_grain_is_told_so(nest):
    done = nest(parts="mark,length_mm,width_mm,count,grain\nDoor,2000,500,1,across\n")
    assert done.returncode == 2
    assert done.stderr.endswith(
        "it would fit with its grain the other way: let its grain be none, or offer more\n"
    )


def test_all_that_is_wrong_with_a_file_is_said_at_once(nest):
    done = nest(parts="mark,length_mm,width_mm,count,grain\nA,0,5,1,up\n")
    assert done.stderr == (
        "error: parts.csv row 2: length_mm is '0': give millimetres above 0, digits with a point "
        "at most three places, for example 1234.5\n"
        "parts.csv row 2: grain is 'up': give none, along or across\n"
    )


@pytest.mark.parametrize(
    ("options", "sentence"),
    [
        (
            ("--kerf-mm", "4,5"),
            "--kerf-mm is '4,5': give millimetres of 0 or more, for example 3.2",
        ),
        (
            ("--kerf-mm", "200"),
            "the kerf is 200 mm: give millimetres from 0 to below 100, at most three places "
            "behind the point",
        ),
        (("--first-cut", "saw"), "--first-cut is 'saw': give rip, cross or either"),
        (("--stages", "4"), "stages is 4: give 2 or 3"),
        (("--seconds", "0"), "seconds is 0.0: give a number above 0"),
    ],
)
def test_an_option_that_makes_no_sense_is_refused(nest, options, sentence):
    done = nest(*options)
    assert (done.returncode, done.stderr) == (2, f"error: {sentence}\n")
