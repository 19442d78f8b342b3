"""Packs that several tests look at, made once."""

import io
import json
from importlib.resources import files
from pathlib import Path

import pytest
from pypdf import PdfReader

from mewswright.checks.open import open_yard
from mewswright.papers.pack import build_pack

DEMO = Path(str(files("mewswright.examples") / "alder-close.yard.toml"))


@pytest.fixture(scope="session")
def demo_yard():
    return open_yard(DEMO)


@pytest.fixture(scope="session")
def demo_pack(demo_yard):
    return build_pack(demo_yard)


@pytest.fixture(scope="session")
def demo_record(demo_pack):
    return json.loads(demo_pack.files["pack.json"])


@pytest.fixture(scope="session")
def demo_pages(demo_pack):
    """The printed pages."""
    return list(PdfReader(io.BytesIO(demo_pack.files["pack.pdf"])).pages)


@pytest.fixture(scope="session")
def demo_sheets(demo_pages):
    """The A3 pages: the ground, then the drawings in the order of pack.json."""
    return [page for page in demo_pages if page.mediabox.width > 600]


@pytest.fixture(scope="session")
def demo_texts(demo_pages):
    """Text of each A4 page, by its number. Lettering of drawings is slow to read."""
    return {
        number: page.extract_text()
        for number, page in enumerate(demo_pages, start=1)
        if page.mediabox.width < 600
    }


@pytest.fixture(scope="session")
def demo_text(demo_texts):
    return "\n".join(demo_texts.values())
