"""`mewswright ration` from the terminal: its JSON, its words and what it refuses."""

import json
from datetime import datetime, timedelta
from itertools import pairwise

import pytest
from typer.testing import CliRunner

from mewswright.cli import app

run = CliRunner()
HEADER = "time,weight_g,crop(0-4),food,food_g,temp_c,flown_min,note"
# Six weeks of a Harris's hawk of 920 g: what the scale said, in grams off 920, by a table of
# chance.
OFF = (3, -6, 1, 8, -2, -9, 4, 5, -3, 7, -1, -8, 2, 6, -5, 0, 9, -4, 3, -7, 5)


@pytest.fixture
def log(tmp_path):
    def write(*more, rows=42, blank_last=True):
        start = datetime(2026, 10, 1, 8)
        lines = [HEADER]
        for n in range(rows):
            food = "" if blank_last and n == rows - 1 else "chick"
            grams = 105 + OFF[n % 21] if food else ""
            day = f"{start + timedelta(days=n):%Y-%m-%dT%H:%M}"
            lines.append(f"{day},{920 + OFF[(n * 5) % 21]},0,{food},{grams},9,15,")
        path = tmp_path / "tansy.csv"
        path.write_text("\n".join([*lines, *more]) + "\n", encoding="utf-8")
        return str(path)

    return write


def ask(log, *more, target="920", at="2026-11-12T08:00", food="chick", bird=("harris_hawk", "f")):
    words = ["ration", "--log", log, "--species", bird[0], "--sex", bird[1]]
    return run.invoke(app, [*words, "--target-g", target, "--at", at, "--food", food, *more])


def told(done):
    assert done.exit_code == 0, done.output
    return json.loads(done.stdout)


def test_json_has_the_ration_its_items_and_an_honest_interval(log):
    report = told(ask(log(), "--json"))
    keys = ["ration_g", "items", "expected_g", "interval_90_g", "p_in_window", "basis", "cautions"]
    assert list(report)[:7] == keys
    low, high = report["interval_90_g"]
    assert low < report["expected_g"] < high
    assert 906 <= report["expected_g"] <= 934
    assert 0.5 < report["p_in_window"] <= 1
    assert 60 <= report["ration_g"] <= 140  # a tenth of its mass, give or take a third
    assert sum(item["grams"] for item in report["items"]) == report["ration_g"]
    whole = [item for item in report["items"] if item["count"]]
    assert whole[0]["food"] == "doc_with_yolk"
    assert whole[0]["grams"] == 40 * whole[0]["count"]
    assert report["cautions"][-1].startswith("advice only: the hand on the keel decides")


def test_cold_wind_and_a_higher_target_take_more_food(log):
    path = log()
    mild = told(ask(path, "--temp-c", "15", "--json"))["ration_g"]
    frost = told(ask(path, "--temp-c", "-8", "--json"))["ration_g"]
    windy = told(ask(path, "--temp-c", "-8", "--wind-m-s", "4", "--json"))["ration_g"]
    assert mild + 15 < frost
    assert frost + 10 < windy
    lower, higher = (told(ask(path, "--json", target=t))["ration_g"] for t in ("915", "930"))
    assert lower < higher


def test_a_richer_food_takes_fewer_grams(log):
    path = log()
    assert (
        told(ask(path, "--json", food="quail"))["ration_g"] < told(ask(path, "--json"))["ration_g"]
    )


def test_two_foods_are_given_in_equal_parts(log):
    items = told(ask(log(), "--json", food="quail; beef"))["items"]
    grams = {name: sum(i["grams"] for i in items if i["food"] == name)
             for name in ("quail_adult_whole", "beef_lean")}  # fmt: skip
    assert abs(grams["quail_adult_whole"] - grams["beef_lean"]) <= 1


def test_what_was_given_after_the_last_weighing_counts(log):
    report = told(ask(log(blank_last=False), "--json"))
    given = sum(item["grams"] for item in report["items"] if item["given"])
    assert given == 105 + OFF[41 % 21]
    assert report["ration_g"] == given + report["give_g"]
    assert "given since the last weighing are counted in" in report["cautions"][0]


def test_a_plan_brings_it_down_no_faster_than_is_safe(log):
    report = told(ask(log(), "--by", "2026-11-18", "--json", target="860"))
    plan = report["plan"]
    assert len(plan) == 7
    weights = [day["expected_g"] for day in plan]
    assert 847 <= weights[-1] <= 873
    assert all(a - b <= 0.015 * a + 1 for a, b in pairwise(weights))
    assert plan[-1]["p_in_window"] > 0.3


REFUSED = {
    "too fast": (
        ["--target-g", "860"],
        r"may lose 1.5% a day (loss_rates.csv, a judgement): ask for a plan with --by 2026-11-1",
    ),
    "under its floor": (["--target-g", "650"], "is below the bird's floor of "),
    "ill": (["--ill"], "the bird is flagged ill: no ration towards a target"),
    "kilograms": (["--target-g", "0.92"], "was that kilograms? give grams"),
    "turned round": (["--target-g", "930:900"], "give the lower end first: 900:930"),
    "a food unknown": (["--food", "quial"], "no food 'quial'; nearest: quail_adult_whole"),
    "a species unknown": (
        ["--species", "haris hawk"],
        "no species 'haris hawk'; nearest: harris_hawk",
    ),
    "a day with slashes": (["--at", "11/12/2026"], "could be day/month or month/day"),
    "a sex unknown": (["--sex", "x"], "--sex is 'x'; give m or f"),
    "no number": (["--temp-c", "nan"], "--temp-c is nan; it may be -50 to 55"),
}


@pytest.mark.parametrize("case", REFUSED)
def test_refusals_say_why_and_what_next(log, case):
    words, sentence = REFUSED[case]
    done = ask(log(), "--json", *words)
    assert (done.exit_code, done.stdout) == (2, "")
    assert done.stderr.startswith("error: ")
    assert sentence in done.stderr


BAD_ROWS = {
    "2026-11-11T09:00,92,0,,,,,": "row 44: weight_g is 92, and a Harris's hawk weighs",
    "2026-11-11T09:00,1600,0,,,,,": "row 44: weight_g is 1600, and the weighings round it are "
    "near 9",
    "2026-11-11T09:00,0.92,0,,,,,": "was that kilograms?",
    "2026-11-11T09:00,abc,0,,,,,": "row 44: weight_g is 'abc'; give a number, or leave it blank",
    "2026-11-11T09:00,-5,0,,,,,": "row 44: weight_g is -5; give grams above 0",
    "2026-11-11T09:00,920,7,,,,,": "row 44: crop is 7; it may be 0 to 4",
    "2026-13-11T09:00,920,0,,,,,": "row 44: cannot read the time '2026-13-11T09:00'",
    "2026-11-11T09:00,920,0,unicorn,20,,,": "row 44: no food 'unicorn'",
    "2026-11-11T09:00,920,0,,,,,vomited twice": "says that the bird is ill or hurt",
}


@pytest.mark.parametrize("row", BAD_ROWS)
def test_a_bad_row_is_named_with_its_remedy(log, row):
    done = ask(log(row), "--json")
    assert done.exit_code == 2
    assert BAD_ROWS[row] in done.stderr


def test_one_row_is_enough_and_leans_on_the_species(tmp_path):
    path = tmp_path / "one.csv"
    path.write_text("time,weight_g\n2026-11-11,640\n", encoding="utf-8")
    bird = ("peregrine falcon", "m")
    done = ask(str(path), "--json", target="640", at="2026-11-12", food="quail", bird=bird)
    report = told(done)
    assert report["basis"]["leans_on"] == "the species"
    assert report["interval_90_g"][1] - report["interval_90_g"][0] > 40
    assert any("the answer leans on the species" in line for line in report["cautions"])


@pytest.mark.parametrize("text", ["", HEADER + "\n", HEADER + "\n2026-11-11,,,chick,40,,,\n"])
def test_a_log_without_a_weight_is_refused(tmp_path, text):
    path = tmp_path / "empty.csv"
    path.write_text(text, encoding="utf-8")
    done = ask(str(path), "--json")
    assert done.exit_code == 2
    assert "weigh the bird" in done.stderr or "the log is empty" in done.stderr


def test_a_small_bird_is_never_left_to_fast_in_frost(tmp_path):
    """However far over its window: at the least three quarters of what it spends."""
    path = tmp_path / "thistle.csv"
    rows = [f"2026-12-{d:02d}T09:00,{215 + d % 3},mouse,30,-2" for d in range(1, 20)]
    last = "2026-12-20T09:00,216,,,-2"
    path.write_text("\n".join(["time,weight_g,food,food_g,temp_c", *rows, last]), encoding="utf-8")
    bird = ("common_kestrel", "m")
    done = ask(str(path), "--temp-c", "-6", "--json", target="205:212", at="2026-12-21T09:00",
               food="mouse", bird=bird)  # fmt: skip
    report = told(done)
    spent = report["basis"]["spends_kj_day"]
    assert report["ration_g"] * 5.53 >= 0.75 * spent - 3
    assert any("frost" in line for line in report["cautions"])


def test_the_words_say_what_the_json_says(log):
    done = ask(log())
    assert done.exit_code == 0
    assert done.stdout.startswith("Ration: ")
    assert "x Day-old chick, whole, " in done.stdout
    assert "the hand on the keel decides" in done.stdout
