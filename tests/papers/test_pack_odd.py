"""Yards that a pack must not stumble over."""

import hashlib
import io
import json
import os
import subprocess
import sys
import tomllib

import pytest
from pypdf import PdfReader

from mewswright.model.problem import Problem
from mewswright.model.yard import Yard
from mewswright.papers.pack import build_pack

HEAD = """format = 1
[yard]
name = {name}
latitude_deg = 47
longitude_deg = 7
altitude_m = 400
time_zone = "Europe/Zurich"
"""
UNIT = """
[[quarters]]
name = {name}
kind = "loft"
at_m = [0, 0]
facing_deg = 180
width_mm = 3000
depth_mm = 3000
front_height_mm = 2500
back_height_mm = 2250
[quarters.faces.front]
infill = "barred"
gap_mm = 35
bar_mm = 12
[quarters.roof]
[[quarters.fitting]]
kind = "perch"
name = {perch}
form = "flat"
at_mm = [1500, 2000]
height_mm = 1500
length_mm = 900
width_mm = 100
"""
PITCH = """
[[quarters]]
name = "Lawn"
kind = "pitch"
at_m = [0, 0]
facing_deg = 180
width_mm = 4000
depth_mm = 4000
"""
MARKUP = "#let $x$ *bold* _it_ <label> @ref `raw` = [c] {d} \\ // no /* c */ \"q\" 'a' & Ümläut ß"


def yard_of(*parts, **words):
    quoted = {key: json.dumps(word, ensure_ascii=False) for key, word in words.items()}
    return Yard.model_validate(tomllib.loads("".join(parts).format(**quoted)))


def pages_of(pack):
    """Text of the A4 pages, each on one line. Lettering of drawings is slow to read."""
    pages = PdfReader(io.BytesIO(pack.files["pack.pdf"])).pages
    return [" ".join(p.extract_text().split()) for p in pages if p.mediabox.width < 600]


def test_a_yard_with_nothing_in_it_still_has_a_pack():
    pack = build_pack(yard_of(HEAD, name="Bare"))
    assert sorted(pack.files) == ["findings.csv", "pack.json", "pack.pdf"]
    text = "\n".join(pages_of(pack))
    assert "nothing was judged here" in text
    assert "there is nothing to saw" in text


def test_a_pitch_has_no_drawings_of_its_own():
    pack = build_pack(yard_of(HEAD, PITCH, name="Lawn only"))
    assert sorted(pack.files) == [
        "findings.csv", "pack.json", "pack.pdf", "yard.dxf", "yard.svg",
    ]  # fmt: skip
    assert "Lawn: a pitch on the lawn: it has no frame" in "\n".join(pages_of(pack))


def test_a_pitch_that_was_asked_for_is_refused():
    yard = yard_of(HEAD, PITCH, UNIT, name="Y", perch="P")
    wanted = "^--quarters 'Lawn' is a pitch: it has no frame to draw or take off; there are: Y$"
    with pytest.raises(Problem, match=wanted):
        build_pack(yard, ["Lawn"])


def test_unknown_quarters_are_refused():
    with pytest.raises(Problem, match=r"^no quarters 'Loft' in 'Y'; there are: Y$"):
        build_pack(yard_of(HEAD, UNIT, name="Y", perch="P"), ["Loft"])


@pytest.fixture(scope="module")
def marked_up():
    return build_pack(yard_of(HEAD, UNIT, name=MARKUP, perch=MARKUP))


def test_words_of_markup_are_printed_as_they_stand(marked_up):
    assert MARKUP in pages_of(marked_up)[0]
    record = json.loads(marked_up.files["pack.json"])
    assert record["yard"]["name"] == MARKUP
    assert record["units"][0]["quarters"] == MARKUP


def test_without_stock_the_cut_plan_says_that_it_has_no_prices(marked_up):
    record = json.loads(marked_up.files["pack.json"])
    (unit,) = record["units"]
    assert unit["cut_plan"] is None
    assert unit["unpriced_cut_plan"]["sections"]
    assert unit["costing"]["is_whole"] is False
    assert {line["priced"] for line in unit["costing"]["lines"]} == {"missing"}
    text = "\n".join(pages_of(marked_up))
    assert "the yard has no stock of it: usual lengths, no price" in text
    assert "no price known" in text


def test_a_very_long_word_does_not_break_a_page():
    word = "Donaudampfschifffahrtsgesellschaft" * 6
    pack = build_pack(yard_of(HEAD, UNIT, name=word, perch=word))
    assert "Donaudampfschifffahrt" in pages_of(pack)[0]


def test_letters_that_no_face_holds_are_stood_in_for_and_said():
    pack = build_pack(yard_of(HEAD, name="梟 Mews 🦉 Ωλ Ж"))
    text = "\n".join(pages_of(pack))
    assert "▯ Mews ▯ Ωλ Ж" in text
    assert "print ▯ in their place" in text
    assert json.loads(pack.files["pack.json"])["yard"]["name"] == "梟 Mews 🦉 Ωλ Ж"


def test_missing_faces_are_named_with_the_remedy(tmp_path):
    wanted = (
        r"^the pack cannot be typeset: its faces are missing \(SourceSans3-Regular\.ttf, .*"
        r"'\./mewswright test' or 'pip install \.' in the project's folder fetches them$"
    )
    with pytest.raises(Problem, match=wanted):
        build_pack(yard_of(HEAD, name="Y"), fonts=tmp_path)


SCRIPT = """
import hashlib, sys
from mewswright.checks.open import open_yard
from mewswright.papers.pack import build_pack
from pathlib import Path
pack = build_pack(open_yard(Path(sys.argv[1])), ["Isolation"])
for name, content in pack.files.items():
    print(name, hashlib.sha256(content).hexdigest())
"""


def test_the_same_yard_gives_the_same_bytes_in_any_process(demo_yard, tmp_path):
    from papers.conftest import DEMO

    here = build_pack(demo_yard, ["Isolation"])
    assert here.files == build_pack(demo_yard, ["Isolation"]).files
    told = "".join(
        f"{name} {hashlib.sha256(content).hexdigest()}\n" for name, content in here.files.items()
    )
    other = subprocess.run(
        [sys.executable, "-c", SCRIPT, str(DEMO)],
        env={**os.environ, "PYTHONHASHSEED": "4711", "TZ": "Asia/Tokyo", "LC_ALL": "C"},
        cwd=tmp_path,
        capture_output=True,
        text=True,
        check=True,
    )
    assert other.stdout == told


def test_the_document_bears_no_date_and_passes_as_accessible(demo_pack):
    reader = PdfReader(io.BytesIO(demo_pack.files["pack.pdf"]))
    assert reader.metadata.title == "Alder Close, build pack"
    assert "/CreationDate" not in reader.metadata
    assert b"<pdfuaid:part>1</pdfuaid:part>" in demo_pack.files["pack.pdf"]
    assert reader.trailer["/Root"]["/MarkInfo"]["/Marked"].value is True
    assert reader.trailer["/Root"]["/Lang"] == "en"
