"""The DXF of a ridged unit, read back and measured, against the model and closed forms.

4000 x 4000 mm clear, eaves at 2300 mm, ridge at 3000 mm in the middle: both slopes rise 700 in
2000 mm. Walls are 95 mm thick, overhangs 200 mm in front, 150 behind and 100 at the sides.
"""

import io
from math import atan2, degrees, hypot

import ezdxf
import pytest

from build.test_duopitch import duo_yard
from mewswright.build.takeoff import take_off
from mewswright.drawing.dxf import APP, to_dxf
from mewswright.papers.sheets import sheets_of

SLOPE = hypot(700, 2000) / 2000  # length along the roof for one along the level
TOP = 3000 - 0.35 * 45 / 2 + 145 * SLOPE  # of the ridge beam: the rafters' tops at its faces


@pytest.fixture(scope="module")
def read():
    yard = duo_yard()
    unit = yard.quarters[0]
    scenes = sheets_of(yard, unit, take_off(yard, unit))
    return {s.name: ezdxf.read(io.StringIO(to_dxf(s).decode())) for s in scenes}


def lengths(document):
    """Words before the figure and length of each plain dimension, as the entities measure."""
    return [
        (d.dxf.text.replace("<>", "").strip(), round(d.get_measurement(), 3))
        for d in document.modelspace().query("DIMENSION")
        if d.dimtype == 0
    ]


def corners(document, item):
    """Corners of what bears a part's mark, blocks laid where they are inserted."""
    found = []
    for entity in document.modelspace():
        if not entity.has_xdata(APP) or entity.get_xdata(APP)[0].value != item:
            continue
        inner = entity.virtual_entities() if entity.dxftype() == "INSERT" else [entity]
        found += [
            [(x, y) for x, y, *_ in one.get_points()]
            for one in inner
            if one.dxftype() == "LWPOLYLINE"
        ]
    return found


def test_no_sheet_has_a_fault(read):
    assert len(read) >= 13
    for name, document in read.items():
        audit = document.audit()
        assert (name, [f.message for f in (*audit.errors, *audit.fixes)]) == (name, [])


def test_the_section_measures_what_the_yard_file_says(read):
    found = lengths(read["section"])
    for wanted in (
        ("clear", 2300), ("ridge", 3000), ("to the ridge", 2000), ("clear", 4000), ("outer", 4190),
        ("roof, level", 4190 + 200 + 150), ("under beam", round(TOP - 195, 3)),
    ):  # fmt: skip
        assert wanted in [(words, pytest.approx(length, abs=0.006)) for words, length in found]


def test_plan_roof_and_foundation_agree(read):
    assert lengths(read["plan"]) == [
        ("clear", 4000), ("clear", 4000), ("outer", 4190), ("outer", 4190),
    ]  # fmt: skip
    roof = lengths(read["roof"])
    assert roof[-3:] == [("", 2095), ("", 2095), ("frame", 4190)]  # frame to ridge, both ways
    assert ("roof", 4190 + 2 * 100) in roof
    ground = lengths(read["foundation"])
    assert {("A to B", 4190), ("A to D", 4190)} <= set(ground)


def test_chains_of_each_sheet_add_up_to_their_overall(read):
    """Overhang, frame, overhang make the roof; base, frame, base the base."""
    roof = [length for words, length in lengths(read["roof"]) if not words]
    assert roof[:3] == [4190, 100, 100]
    assert sum(roof[:3]) == dict(lengths(read["roof"]))["roof"]
    assert sum(roof[3:6]) == dict(lengths(read["roof"]))["roof, level"]
    base = [length for words, length in lengths(read["foundation"]) if not words]
    assert [sum(base[:3]), sum(base[3:])] == [
        length for words, length in lengths(read["foundation"]) if words == "base"
    ]


@pytest.mark.parametrize("mark", ["R1", "R2"])
def test_rafters_lie_at_the_slope_of_the_model(read, mark):
    """Undersides of both slopes go through the eaves at the clear lines and meet at the ridge."""
    (outline,) = corners(read["section"], f"part:{mark}")
    sides = list(zip(outline, (*outline[1:], outline[0]), strict=True))
    long = sorted(sides, key=lambda s: -hypot(s[1][0] - s[0][0], s[1][1] - s[0][1]))[:2]
    for (x, y), (u, v) in long:
        assert degrees(atan2(abs(v - y), abs(u - x))) == pytest.approx(
            degrees(atan2(700, 2000)), abs=0.01
        )
    low = min(long, key=lambda s: s[0][1] + s[1][1])
    (x, y), (u, v) = sorted(low)
    at = x if mark == "R1" else u
    slope = (v - y) / (u - x)
    # On the section the clear front lies at 0 and heights start at the finished floor.
    assert y + slope * (2000 - x) == pytest.approx(3000, abs=0.02)
    assert y + slope * ((0 if mark == "R1" else 4000) - x) == pytest.approx(2300, abs=0.02)
    assert at == pytest.approx(-295 if mark == "R1" else 4245, abs=0.02)
