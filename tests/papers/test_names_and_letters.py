"""File names from keepers' names, and letters from font files."""

import unicodedata
from importlib.resources import files

import pytest
from hypothesis import given
from hypothesis.strategies import lists, text

from mewswright.papers.letters import STAND_IN, letters_of, printable
from mewswright.papers.names import file_stems

FONTS = files("mewswright") / "static" / "vendor" / "fonts"


@pytest.mark.parametrize(
    ("name", "stem"),
    [
        ("Long loft", "long-loft"),
        ("Große Öffnung", "grosse-offnung"),
        ("../../etc/passwd", "etc-passwd"),
        ("梟", "quarters"),
        ("CON  .txt", "con-txt"),
    ],
)
def test_a_stem_is_plain(name, stem):
    assert file_stems([name]) == {name: stem}


def test_names_that_look_alike_get_files_of_their_own():
    names = ["North loft", "North-loft", "north loft!", "梟", "鷹"]
    assert list(file_stems(names).values()) == [
        "north-loft", "north-loft-2", "north-loft-3", "quarters", "quarters-2",
    ]  # fmt: skip


@given(lists(text(min_size=1), unique=True))
def test_stems_never_clash(names):
    stems = file_stems(names)
    assert len(set(stems.values())) == len(names)
    assert all(stem and set(stem) <= set("abcdefghijklmnopqrstuvwxyz0123456789-")
               for stem in stems.values())  # fmt: skip


def test_the_faces_hold_the_letters_that_their_makers_list():
    """Adobe's and DejaVu's own coverage: Latin, Greek and Cyrillic in both, a raptor in none."""
    sans = letters_of((FONTS / "SourceSans3-Regular.ttf").read_bytes())
    second = letters_of((FONTS / "DejaVuSans.ttf").read_bytes())
    for letter in "AzÄßéøłΩλЖя0≤≥€":
        assert ord(letter) in sans
        assert ord(letter) in second
    assert ord(STAND_IN) in second
    assert ord("✕") in second
    for letter in "梟🦉":
        assert ord(letter) not in sans | second


def test_every_letter_that_the_pack_draws_its_statuses_with_can_be_printed():
    second = letters_of((FONTS / "DejaVuSans.ttf").read_bytes())
    assert printable("✕▼?✓", second) == ("✕▼?✓", "")


def test_what_is_no_font_is_refused():
    with pytest.raises(ValueError, match=r"^a font file without a cmap table$"):
        letters_of(bytes(200))


@given(lists(text()))
def test_only_unknown_letters_are_replaced(words):
    latin = frozenset(range(0x20, 0x250)) | {ord(STAND_IN)}
    shown, lost = printable({"words": words}, latin)
    for before, after in zip(words, shown["words"], strict=True):
        assert len(before) == len(after)
        for old, new in zip(before, after, strict=True):
            assert new == (STAND_IN if old in lost else old)
    assert not any(ord(c) in latin for c in lost)
    assert unicodedata.name(STAND_IN) == "WHITE VERTICAL RECTANGLE"
