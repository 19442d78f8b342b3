"""The pages judge by the standards beside the yard file, and by today."""

from datetime import date

import pytest
from fastapi.testclient import TestClient

from mewswright.web.app import create_app
from mewswright.web.shown import ShownYard
from support.standards import HEAD, size

YARD = """\
format = 1
[yard]
name = "Alder Close"
latitude_deg = 47.12
longitude_deg = 6.88
altitude_m = 640
time_zone = "Europe/Zurich"
standards = ["hollow-hills"]
[[bird]]
name = "Thistle"
species = "common_kestrel"
sex = "m"
[[quarters]]
name = "Owl loft"
kind = "loft"
at_m = [0, 0]
facing_deg = 180
width_mm = 2000
depth_mm = 2500
front_height_mm = 2500
back_height_mm = 2250
[quarters.faces.front]
infill = "barred"
gap_mm = 25
bar_mm = 12
[quarters.roof]
[[stay]]
bird = "Thistle"
quarters = "Owl loft"
mode = "loose"
"""


@pytest.fixture
def path(tmp_path):
    (tmp_path / "standards").mkdir()
    (tmp_path / "standards" / "hills.toml").write_text(HEAD + size(value=5), encoding="utf-8")
    (tmp_path / "a.yard.toml").write_text(YARD, encoding="utf-8")
    return tmp_path / "a.yard.toml"


def areas(shown):
    return [(f.status, f.limit.value) for f in shown.reading().findings if f.code == "S101"]


def test_the_pages_name_the_keepers_own_standard(path):
    client = TestClient(create_app(path), base_url="http://127.0.0.1")
    for page in ("/quarters/Owl loft", "/birds/Thistle"):
        answer = client.get(page)
        assert answer.status_code == 200
        assert "Hollow Hills" in answer.text


def test_a_changed_standard_is_read_again(path):
    shown = ShownYard(path)
    assert areas(shown) == [("sound", 5)]
    before = shown.mark()
    text = HEAD + size(value=60)
    (path.parent / "standards" / "hills.toml").write_text(text, encoding="utf-8")
    assert shown.mark() != before
    assert areas(shown) == [("harm", 60)]


def test_a_standard_with_a_fault_keeps_the_last_good_reading(path):
    shown = ShownYard(path)
    assert areas(shown) == [("sound", 5)]
    (path.parent / "standards" / "hills.toml").write_text("[oops", encoding="utf-8")
    assert areas(shown) == [("sound", 5)]
    assert shown.problem.startswith("hills.toml:1: the file: not TOML")


def test_the_day_turns_the_page(path, monkeypatch):
    text = HEAD + size(value=5, valid_to=date(2026, 12, 31))
    text += size(value=60, valid_from=date(2027, 1, 1))
    (path.parent / "standards" / "hills.toml").write_text(text, encoding="utf-8")

    class Day(date):
        now = date(2026, 12, 31)

        @classmethod
        def today(cls):
            return cls.now

    monkeypatch.setattr("mewswright.web.shown.date", Day)
    shown = ShownYard(path)
    assert areas(shown) == [("sound", 5)]
    Day.now = date(2027, 1, 1)
    assert areas(shown) == [("harm", 60)]
