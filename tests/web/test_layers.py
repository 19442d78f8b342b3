"""Layers over the plan of the ground: each is drawn, says how, and prints."""

import re
import shutil
from importlib.resources import files
from pathlib import Path

import pytest
from fastapi.testclient import TestClient

from mewswright.drawing.scene import SCALES
from mewswright.web.app import create_app
from mewswright.web.ground_layers import LAYERS

DEMO = Path(str(files("mewswright.examples") / "alder-close.yard.toml"))
BARE = """format = 1

[yard]
name = "Bare ground"
latitude_deg = -33.5
longitude_deg = 151.2
altitude_m = 20
time_zone = "Australia/Sydney"
boundary_m = [[0, 0], [20, 0], [20, 12], [0, 12]]
"""


@pytest.fixture(scope="module")
def demo(tmp_path_factory):
    path = Path(shutil.copy(DEMO, tmp_path_factory.mktemp("yard")))
    return TestClient(create_app(path), base_url="http://127.0.0.1")


@pytest.fixture(scope="module")
def bare(tmp_path_factory):
    path = tmp_path_factory.mktemp("yard") / "bare.yard.toml"
    path.write_text(BARE, encoding="utf-8")
    return TestClient(create_app(path), base_url="http://127.0.0.1")


@pytest.mark.parametrize("key", [one.key for one in LAYERS])
def test_each_layer_is_drawn_and_says_how_and_how_sure(demo, key):
    answer = demo.get(f"/ground?layer={key}")
    assert answer.status_code == 200
    assert f"drawing-ground-{key}" in answer.text
    assert "How:" in answer.text
    assert "How sure:" in answer.text


@pytest.mark.parametrize("key", [one.key for one in LAYERS])
def test_each_layer_prints_at_true_scale_with_its_legend(demo, key):
    answer = demo.get(f"/ground.svg?layer={key}")
    assert answer.status_code == 200
    assert answer.headers["content-type"].startswith("image/svg+xml")
    assert "How sure:" in answer.text
    wide, paper_mm = re.search(
        r'viewBox="0 0 ([\d.]+) .*? width="([\d.]+)mm"', answer.text
    ).groups()
    scale = float(wide) / float(paper_mm)
    assert any(scale == pytest.approx(n, rel=1e-3) for n in (1, *SCALES))


@pytest.mark.parametrize("key", [one.key for one in LAYERS])
def test_a_yard_with_nothing_on_it_has_layers_or_a_reason(bare, key):
    answer = bare.get(f"/ground?layer={key}")
    assert answer.status_code == 200
    if key == "sight":  # of which bird?
        assert "No bird lives here yet" in answer.text


@pytest.mark.parametrize(
    ("query", "said"),
    [
        ("layer=nope", "there is no layer"),
        ("layer=shade&day=soon", "write it as 2026-06-21"),
        ("layer=shade&hour=25", "is not a number from 0 to 23.75"),
        ("layer=shade&hour=nan", "is not a number"),
        ("layer=sun-hours&month=13", "is not a number from 0 to 12"),
        ("layer=sight&bird=Nobody", "birds are: "),
    ],
)
def test_what_cannot_be_is_refused_by_name(demo, query, said):
    answer = demo.get(f"/ground?{query}")
    assert answer.status_code == 404
    assert said in answer.text


def test_shade_lies_north_at_noon_in_the_north_and_gone_at_night(demo):
    noon = demo.get("/ground?layer=shade&day=2026-06-21&hour=13.5").text
    night = demo.get("/ground?layer=shade&day=2026-06-21&hour=0").text
    assert "Shade, 21 June, 13:30" in noon
    assert "fill-shade" in noon
    assert "the sun is down" in night
