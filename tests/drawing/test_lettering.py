"""Widths of lettering against the font file itself."""

import struct
from importlib.resources import files

import pytest

from mewswright.drawing.lettering import ADVANCES, text_width


def advances_in(data: bytes, chars: str) -> dict[str, int]:
    """Read advance widths from a TrueType file: cmap format 4, then hmtx (OpenType 1.9)."""
    count = struct.unpack(">H", data[4:6])[0]
    table = {
        data[12 + 16 * i : 16 + 16 * i].decode(): struct.unpack(
            ">I", data[20 + 16 * i : 24 + 16 * i]
        )[0]
        for i in range(count)
    }
    em = struct.unpack(">H", data[table["head"] + 18 : table["head"] + 20])[0]
    longs = struct.unpack(">H", data[table["hhea"] + 34 : table["hhea"] + 36])[0]
    cmap = table["cmap"]
    subtables = struct.unpack(">H", data[cmap + 2 : cmap + 4])[0]
    for i in range(subtables):
        offset = struct.unpack(">I", data[cmap + 8 + 8 * i : cmap + 12 + 8 * i])[0]
        base = cmap + offset
        if struct.unpack(">H", data[base : base + 2])[0] == 4:
            break
    segments = struct.unpack(">H", data[base + 6 : base + 8])[0] // 2

    def column(start, code="H"):
        return struct.unpack(f">{segments}{code}", data[start : start + 2 * segments])

    ends = column(base + 14)
    starts = column(base + 16 + 2 * segments)
    deltas = column(base + 16 + 4 * segments, "h")
    ranges_at = base + 16 + 6 * segments
    ranges = column(ranges_at)
    found = {}
    for char in chars:
        code = ord(char)
        k = next(i for i, end in enumerate(ends) if end >= code)
        assert starts[k] <= code, f"the face has no {char!r}"
        if ranges[k] == 0:
            glyph = (code + deltas[k]) & 0xFFFF
        else:
            place = ranges_at + 2 * k + ranges[k] + 2 * (code - starts[k])
            glyph = (struct.unpack(">H", data[place : place + 2])[0] + deltas[k]) & 0xFFFF
        place = table["hmtx"] + 4 * min(glyph, longs - 1)
        found[char] = round(struct.unpack(">H", data[place : place + 2])[0] * 1000 / em)
    return found


@pytest.fixture(scope="module")
def fonts():
    return files("mewswright") / "static" / "vendor" / "fonts"


def test_every_width_is_that_of_the_face(fonts):
    data = (fonts / "SourceSans3-Regular.ttf").read_bytes()
    assert advances_in(data, "".join(ADVANCES)) == ADVANCES


def test_bold_is_never_wider_than_we_allow(fonts):
    data = (fonts / "SourceSans3-Semibold.ttf").read_bytes()
    line = "Roof falls to the back 1:12.0, 250 in 3000"
    real = sum(advances_in(data, "".join(set(line)))[c] for c in line) / 1000 * 2.5
    assert real <= text_width(line, 2.5, bold=True) <= real * 1.12
