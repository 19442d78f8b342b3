"""`mewswright year --replan`, `--ics` and `--chart`, as a keeper calls them."""

import json
import re
from importlib.resources import files

import icalendar
import pypdf
import pytest
from typer.testing import CliRunner

from mewswright.cli import app

DEMO = (files("mewswright.examples") / "alder-close.yard.toml").read_text(encoding="utf-8")
ROOMY = "".join(  # full, the demo yard has no room for a shelter less
    part
    for part in re.split(r"(?m)^(?=\[\[)", DEMO)
    if not re.search(r'(?m)\A\[\[(?:bird|stay)\]\]\n(name|bird) = "(Ember|Sorrel|Thistle)"', part)
)


def run(*words):
    return CliRunner().invoke(app, ["year", *map(str, words)])


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    """A folder with the yard, its plan, calendar and charts."""
    folder = tmp_path_factory.mktemp("year")
    (folder / "roomy.yard.toml").write_text(ROOMY, encoding="utf-8")
    done = run(
        folder / "roomy.yard.toml", "--from", "2027-03-01", "--weeks", 20, "--json",
        "--ics", folder / "plan.ics", "--chart", folder / "plan.pdf",
    )  # fmt: skip
    assert done.exit_code == 0, done.output
    (folder / "plan.json").write_text(done.stdout, encoding="utf-8")
    return folder


def test_calendar_and_chart_are_of_the_plan(made):
    plan = json.loads((made / "plan.json").read_text())
    events = icalendar.Calendar.from_ical((made / "plan.ics").read_bytes()).walk("VEVENT")
    assert sum(e["CATEGORIES"].to_ical() == b"Cleaning" for e in events) == len(plan["cleaned"])
    assert {e["DTSTART"].dt.isoformat() for e in events} >= {c["from"] for c in plan["cleaned"]}
    pages = pypdf.PdfReader(made / "plan.pdf").pages
    assert round(float(pages[0].mediabox.width) * 25.4 / 72) == 420
    assert "Slate shelter" in pages[0].extract_text()


def test_a_plan_made_anew_says_what_moved_and_why(made):
    plan = json.loads((made / "plan.json").read_text())
    room = next(s["quarters"] for s in plan["stays"]
                if s["bird"] == "Bramble" and s["from"] <= "2027-05-12" <= s["to"])  # fmt: skip
    done = run(
        made / "roomy.yard.toml", "--replan", made / "plan.json", "--from", "2027-05-12",
        "--broken", f"{room} 2027-05-12..2027-06-06", "--gone", "Moth", "--json",
        "--chart", made / "anew.svg",
    )  # fmt: skip
    assert done.exit_code == 0, done.output
    told = json.loads(done.stdout)
    assert set(plan) <= set(told)
    assert set(told["changes"][0]) == {"bird", "from", "to", "was", "now", "why"}
    why = {c["bird"]: c["why"] for c in told["changes"]}
    assert why["Moth"] == "Moth is gone from 12 May 2027"
    assert why["Bramble"].startswith(
        f"{room} is closed from 12 May 2027 to 6 June 2027 (broken): Bramble "
    )
    assert 0.5 < told["kept_share"] < 1
    assert (made / "anew.svg").read_text(encoding="utf-8").startswith("<svg")
    said = run(
        made / "roomy.yard.toml", "--replan", made / "plan.json", "--from", "2027-05-12",
        "--gone", "Moth",
    ).stdout  # fmt: skip
    assert "Planned anew from 2027-05-12: 100.0 % of the bird-days" in said
    assert "Moth is gone from 12 May 2027." in said


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--gone", "Moth"], "error: --gone 'Moth' tells what changed in a plan"),
        (
            ["--replan", "none.json", "--from", "2027-05-12"],
            "--replan none.json: it cannot be read",
        ),
        (["--chart", "plan.png"], "--chart plan.png: name a file that ends in .svg or .pdf"),
        (["--ics", "no/where/plan.ics"], "there is no folder no/where: make it first"),
    ],
)
def test_what_cannot_be_is_refused(made, words, said):
    done = run(made / "roomy.yard.toml", *words)
    assert done.exit_code == 2
    assert said in done.stderr


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ([], "--replan asks for --from DATE, the day from which to plan anew"),
        (["--from", "2027-05-12", "--arrives", "Fern"], "--arrives 'Fern': write NAME:SPECIES"),
        (["--from", "2027-05-12", "--arrives", "Fern:common_kestrel:x"], "sex is 'x'"),
        (["--from", "2027-05-12", "--broken", "Nowhere"], "no quarters 'Nowhere'"),
        (["--from", "2027-05-12", "--broken", "Long loft 2027-06-01..2027-05-01"],
         "it ends before it starts"),
        (["--from", "2029-05-12"], "--from 2029-05-12 is not in the plan"),
    ],
)  # fmt: skip
def test_what_cannot_have_happened_is_refused(made, words, said):
    done = run(made / "roomy.yard.toml", "--replan", made / "plan.json", *words)
    assert done.exit_code == 2
    assert said in done.stderr
