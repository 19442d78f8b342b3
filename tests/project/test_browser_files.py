"""What the build brings for pages and paper is there, whole, and with its licences."""

from importlib.resources import files

import pytest

VENDOR = files("mewswright") / "static" / "vendor"


@pytest.mark.parametrize("face", ["Regular", "It", "Semibold", "Bold"])
def test_each_face_is_there_for_paper_and_for_the_browser(face):
    # First four bytes, OpenType specification "Organization of an OpenType font" and WOFF2 4.1.
    assert (VENDOR / f"fonts/SourceSans3-{face}.ttf").read_bytes()[:4] == b"\x00\x01\x00\x00"
    assert (VENDOR / f"fonts/SourceSans3-{face}.woff2").read_bytes()[:4] == b"wOF2"


def test_the_script_is_the_version_that_package_json_pins():
    assert 'version:"2.0.11"' in (VENDOR / "htmx/htmx.min.js").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    "name", ["fonts/SourceSans3-LICENSE.md", "fonts/DejaVu-LICENSE.txt", "htmx/LICENSE.txt"]
)
def test_licences_lie_beside_what_they_license(name):
    assert len((VENDOR / name).read_text(encoding="utf-8")) > 300
