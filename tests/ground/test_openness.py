"""Open areas against published shares and sums by hand.

Mesh: (1 - d/p)^2 with p from centre to centre, the usual open-area rule of wire cloth; for
25.4 mm with 1.6 mm wire 0.878, for 12.7 mm with 1.02 mm 0.846, for 25.4 mm with 2.5 mm 0.813.
"""

import pytest
from hypothesis import given
from hypothesis.strategies import floats

from mewswright.ground.openness import (
    area_over_m2,
    face_open_share,
    free_area_m2,
    open_share,
    opens_low,
    still_air_area_m2,
    top_open_share,
)
from mewswright.model.quarters import Face
from support.yards import quarters, yard


@pytest.mark.parametrize(
    ("pitch_mm", "wire_mm", "share"),
    [(25.4, 1.6, 0.878), (12.7, 1.02, 0.846), (25.4, 2.5, 0.813)],
)
def test_wire_cloth(pitch_mm, wire_mm, share):
    found = open_share("meshed", pitch_mm - wire_mm, wire_mm, "welded")
    assert found == pytest.approx(share, abs=0.001)


def test_bars_of_12_mm_at_50_mm_are_the_handbooks_76_percent():
    """mesh_kinds.csv gives vertical bars a solid share of 0.24, "of 12 mm bars at 50 mm"."""
    assert open_share("barred", 38, 12, None) == pytest.approx(0.76)
    assert open_share("barred", 38, None, None) == pytest.approx(0.76)


@pytest.mark.parametrize(("infill", "share"), [("open", 1), ("boarded", 0)])
def test_all_or_nothing(infill, share):
    assert open_share(infill, None, None, None) == share


@pytest.mark.parametrize("kind", ["welded", "chain_link", "hexagonal", "woven", "knotted_net"])
def test_every_kind_of_mesh_has_a_share(kind):
    assert 0 < open_share("meshed", 20, None, kind) < 1


def test_two_skins_multiply():
    """Bars 0.5 open, welded mesh outside 0.88 open."""
    face = Face.model_validate(
        {"infill": "barred", "gap_mm": 20, "bar_mm": 20,
         "outer": {"infill": "meshed", "mesh_kind": "welded", "gap_mm": 12, "stand_off_mm": 100}}
    )  # fmt: skip
    assert face_open_share(face) == pytest.approx(0.44)


@pytest.mark.parametrize(
    ("ends_mm", "upstand_mm", "area_m2"),
    [((2000, 3000), 0, 10), ((2000, 3000), 1000, 6), ((2000, 3000), 3000, 0),
     ((2000, 3000), 2500, 0.5), ((3000, 2000), 2500, 0.5)],
)  # fmt: skip
def test_a_side_under_a_sloping_roof(ends_mm, upstand_mm, area_m2):
    """4 m long, 2 to 3 m high: 2.5 m on average; over 2.5 m a triangle of 2 m by 0.5 m."""
    assert area_over_m2(4000, *ends_mm, upstand_mm) == pytest.approx(area_m2)


def room(**more):
    return yard(quarters=[quarters(**more)]).quarters[0]


def test_a_room_by_hand():
    """5 x 6 m, 3 m high. Front: half open over 0.6 m, 5 x 2.4 x 0.5 = 6 m2. Vents 1000 cm2."""
    front = {"infill": "barred", "gap_mm": 20, "bar_mm": 20, "upstand_mm": 600}
    assert free_area_m2(room(faces={"front": front}, vent_cm2=1000)) == pytest.approx(6.1)


def test_the_open_part_of_the_top_counts():
    """A third of 30 m2 under welded mesh, 0.88 open."""
    top = room(faces={"front": {"infill": "boarded"}}, roof={"covered_share": 2 / 3})
    assert top_open_share(top) == pytest.approx(0.88 / 3)
    assert free_area_m2(top) == pytest.approx(8.8)
    assert top_open_share(room(roof={"form": "none"})) == 1


@pytest.mark.parametrize(("upstand_mm", "low"), [(1499, True), (1500, False)])
def test_low_is_below_half_the_height(upstand_mm, low):
    front = {"infill": "open", "upstand_mm": upstand_mm}
    assert opens_low(room(faces={"front": front})) is low


def test_a_still_day_by_hand():
    """90 m3, 4 changes an hour: 0.1 m3/s, 1 m2 in at 0.1 m/s and 1 m2 out."""
    assert still_air_area_m2(90, 4, 0.1) == pytest.approx(2)


@given(floats(1, 500), floats(0.1, 20), floats(0.01, 3))
def test_what_goes_in_comes_out(volume_m3, per_h, speed_m_s):
    area = still_air_area_m2(volume_m3, per_h, speed_m_s)
    assert area / 2 * speed_m_s * 3600 / volume_m3 == pytest.approx(per_h)


def test_air_that_stands_still_is_refused():
    with pytest.raises(ValueError, match=r"^air must move: got 0 m/s, 90 m3, 4 per h$"):
        still_air_area_m2(90, 4, 0)
