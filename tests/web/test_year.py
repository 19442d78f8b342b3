"""The Year page without a browser: what it asks, its searches, and what it gives to take along."""

import shutil
import time
from importlib.resources import files
from pathlib import Path

import icalendar
import pytest
from fastapi.testclient import TestClient

from mewswright.web.app import create_app

DEMO = Path(str(files("mewswright.examples") / "alder-close.yard.toml"))
ASK = "from=2027-03-01&weeks=8&seconds=15"


@pytest.fixture(scope="module")
def yard_file(tmp_path_factory):
    return Path(shutil.copy(DEMO, tmp_path_factory.mktemp("yard")))


@pytest.fixture(scope="module")
def pages(yard_file):
    app = create_app(yard_file)
    with TestClient(app, base_url="http://127.0.0.1") as client:
        yield client
    assert all(job.child.poll() is not None for job in app.state.year_jobs._jobs.values())


def settled(pages, query, give_up_s=90.0):
    """The page once its search is over."""
    end = time.monotonic() + give_up_s
    while 'hx-get="/year/progress' in (text := pages.get(f"/year?{query}").text):
        assert time.monotonic() < end, text
        time.sleep(0.2)
    return text


@pytest.fixture(scope="module")
def solved(pages):
    answer = pages.post("/year/solve", content=ASK, follow_redirects=False)
    assert answer.status_code == 303
    assert answer.headers["location"] == f"/year?{ASK}"
    return settled(pages, ASK)


def test_before_anything_is_asked_the_stays_of_the_file_are_shown(pages):
    text = pages.get("/year?from=2027-02-22").text
    assert "the stays of alder-close.yard.toml" in text
    assert "drawing-year" in text
    assert "Sorrel arrives: Isolation" in text


def test_a_plan_is_worked_out_and_shown(solved):
    assert "worked out" in solved
    assert "moves" in solved
    assert "drawing-year" in solved


def test_a_plan_can_be_taken_along(pages, solved):
    told = pages.get(f"/year/plan.json?{ASK}").json()
    assert told["from"] == "2027-03-01"
    assert told["stays"]
    calendar = pages.get(f"/year/plan.ics?{ASK}")
    assert calendar.headers["content-type"].startswith("text/calendar")
    assert icalendar.Calendar.from_ical(calendar.content).walk("VEVENT")
    chart = pages.get(f"/year/plan.svg?{ASK}")
    assert 'filename="alder-close-year.svg"' in chart.headers["content-disposition"]
    assert chart.text.startswith("<svg")


def test_a_locked_stay_stands_in_the_address_and_is_kept(pages, solved):
    form = (
        f"{ASK}&pin_bird=Flint&pin_quarters=Chalk shelter&pin_mode=tethered"
        "&pin_from=2027-03-08&pin_to=2027-03-21"
    )
    answer = pages.post("/year/lock", content=form, follow_redirects=False)
    query = answer.headers["location"].removeprefix("/year?")
    assert "lock=Flint%40Chalk+shelter%3Atethered+2027-03-08..2027-03-21" in query
    text = settled(pages, query)
    assert "item-pin" in text
    if told := pages.get(f"/year/plan.json?{query}"):
        stays = told.json().get("stays", [])
        assert any(
            s["bird"] == "Flint" and s["quarters"] == "Chalk shelter" and s["from"] <= "2027-03-08"
            and s["to"] >= "2027-03-21"
            for s in stays
        )  # fmt: skip


def test_what_clashes_is_told_in_words(pages):
    days = "2027-03-08..2027-03-21"
    pins = f"&lock=Flint%40Chalk shelter {days}&lock=Bramble%40Chalk shelter {days}"
    answer = pages.post("/year/solve", content=ASK + pins, follow_redirects=False)
    query = answer.headers["location"].removeprefix("/year?")
    text = settled(pages, query)
    assert "No plan" in text
    assert pages.get(f"/year/plan.json?{query}").status_code == 404


def test_cancel_ends_a_search_at_once(pages):
    ask = "from=2027-03-01&weeks=52&seconds=300"
    pages.post("/year/solve", content=ask)
    job = next(j for j in pages.app.state.year_jobs._jobs.values() if j.ask.seconds == 300)
    pages.post("/year/cancel", content=ask)
    job.child.wait(10)
    assert "Cancelled: nothing was kept of it." in settled(pages, ask)


def test_a_changed_file_ends_its_searches(tmp_path):
    path = Path(shutil.copy(DEMO, tmp_path))
    app = create_app(path)
    with TestClient(app, base_url="http://127.0.0.1") as client:
        client.post("/year/solve", content="from=2027-03-01&weeks=52&seconds=300")
        (job,) = app.state.year_jobs._jobs.values()
        path.write_text(path.read_text() + "\n# a word more\n")
        client.post("/year/solve", content=ASK)
        job.child.wait(10)
        assert job not in app.state.year_jobs._jobs.values()


@pytest.mark.parametrize(
    ("query", "said"),
    [
        ("from=soon", "is no day; write it as 2027-03-01"),
        ("from=1200-01-01", "is not a day from 1900 to 2200"),
        ("weeks=0", "is not a number from 1 to 157"),
        ("seconds=nan", "is not a number from 1 to 600"),
        ("lock=Moth", "lock is &#39;Moth&#39;: write BIRD@QUARTERS"),
        ("lock=" + "x" * 400, "of 300 letters each"),
    ],
)
def test_what_cannot_be_is_refused(pages, query, said):
    answer = pages.get(f"/year?{query}")
    assert answer.status_code == 404
    assert said in answer.text


@pytest.mark.parametrize(
    "headers",
    [{"origin": "http://mews.example"}, {"origin": "null", "sec-fetch-site": "cross-site"}],
)
def test_a_page_from_elsewhere_may_not_start_a_search(pages, headers):
    answer = pages.post("/year/solve", content=ASK, headers=headers)
    assert answer.status_code == 404
    assert "is another page: open the Year page itself" in answer.text


def test_an_empty_yard_says_what_to_do(tmp_path):
    path = tmp_path / "bare.yard.toml"
    path.write_text(
        'format = 1\n\n[yard]\nname = "Bare"\nlatitude_deg = -33.5\nlongitude_deg = 151.2\n'
        'altitude_m = 20\ntime_zone = "Australia/Sydney"\n'
    )
    with TestClient(create_app(path), base_url="http://127.0.0.1") as client:
        assert "[[bird]]" in client.get("/year").text
