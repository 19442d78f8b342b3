"""The application without a browser: odd yards, wrong names, headers, wrong hosts."""

import shutil
from importlib.resources import files
from pathlib import Path

import pytest
from fastapi.testclient import TestClient

from mewswright.web.app import create_app

DEMO = Path(str(files("mewswright.examples") / "alder-close.yard.toml"))
EMPTY = """format = 1

[yard]
name = "Bare ground"
latitude_deg = 47.12
longitude_deg = 6.88
altitude_m = 640
time_zone = "Europe/Zurich"
"""


@pytest.fixture(scope="module")
def demo(tmp_path_factory):
    path = Path(shutil.copy(DEMO, tmp_path_factory.mktemp("yard")))
    return TestClient(create_app(path), base_url="http://127.0.0.1")


def client(tmp_path, text):
    path = tmp_path / "some.yard.toml"
    path.write_text(text, encoding="utf-8")
    return TestClient(create_app(path), base_url="http://127.0.0.1")


def test_every_quarters_and_every_bird_has_its_page(demo):
    import tomllib

    yard = tomllib.loads(DEMO.read_text(encoding="utf-8"))
    for quarters in yard["quarters"]:
        answer = demo.get(f"/quarters/{quarters['name']}")
        assert answer.status_code == 200
        assert quarters["name"] in answer.text
    for bird in yard["bird"]:
        assert demo.get(f"/birds/{bird['name']}").status_code == 200


def test_a_name_that_is_not_there_says_which_are(demo):
    answer = demo.get("/quarters/Long barn")
    assert answer.status_code == 404
    assert "no quarters &#39;Long barn&#39;" in answer.text
    assert "Long loft" in answer.text


def test_no_page_may_load_from_elsewhere(demo):
    headers = demo.get("/ground").headers
    assert "default-src 'self'" in headers["content-security-policy"]
    assert "unsafe" not in headers["content-security-policy"]
    assert headers["x-content-type-options"] == "nosniff"


def test_another_host_name_is_refused(demo):
    assert demo.get("/ground", headers={"host": "mews.example"}).status_code == 400


def test_an_empty_yard_says_what_to_do(tmp_path):
    pages = client(tmp_path, EMPTY)
    assert "[[quarters]]" in pages.get("/ground").text
    assert "mewswright new" in pages.get("/quarters").text
    assert "[[bird]]" in pages.get("/birds").text


def test_a_file_that_was_never_good_is_shown_with_its_fault(tmp_path):
    answer = client(tmp_path, "format = 1\n[yard\n").get("/ground")
    assert answer.status_code == 503
    assert "some.yard.toml" in answer.text


def test_markup_in_a_name_stays_text(tmp_path):
    pages = client(tmp_path, EMPTY.replace("Bare ground", "<script>alert(1)</script>"))
    for path in ("/ground", "/quarters", "/birds", "/checks"):
        assert "<script>alert" not in pages.get(path).text


def test_pulse_is_quiet_until_the_file_changes(tmp_path):
    pages = client(tmp_path, EMPTY)
    mark = pages.get("/ground").text.split("/pulse?mark=")[1].split('"')[0]
    assert pages.get(f"/pulse?mark={mark}").status_code == 204
    (tmp_path / "some.yard.toml").write_text(EMPTY + "\n# one more line\n", encoding="utf-8")
    answer = pages.get(f"/pulse?mark={mark}")
    assert answer.status_code == 200
    assert answer.headers["hx-refresh"] == "true"
