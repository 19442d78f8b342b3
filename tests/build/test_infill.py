"""Bars, boards, mesh, deck and felt: gaps that hold and areas that are covered."""

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis.strategies import floats, integers

from mewswright.build.boarding import bars_filled
from mewswright.build.frame import built_frame
from mewswright.build.infill import bars_in
from mewswright.build.materials import welded_mesh
from mewswright.build.roofing import felt_strips, sheets_filled
from mewswright.model.problem import Problem
from support.units import BARRED, BOARDED, polygon_mm2, unit_yard


def _frame(yard):
    return built_frame(yard, yard.quarters[0])


def _part(frame, what):
    return next(part for part in frame.parts if part.what == what)


@given(clear=floats(1, 5000), bar=floats(2, 60), gap=floats(5, 120))
def test_bars_leave_no_gap_wider_than_asked_and_one_less_would(clear, bar, gap):
    count, left = bars_in(clear, bar, gap)
    assert left <= gap + 1e-6
    assert count * bar + (count + 1) * left == pytest.approx(clear)
    if count:
        assert (clear - (count - 1) * bar) / count > gap - 1e-6


def test_bars_of_one_bay_counted_by_hand():
    """1000 mm, bars of 12 mm, gaps of 38 mm at most: 20 bars leave 21 gaps of 36.19 mm."""
    count, gap = bars_in(1000, 12, 38)
    assert count == 20
    assert gap == pytest.approx(760 / 21)


@given(width=integers(900, 5000), gap=integers(15, 60))
@settings(max_examples=25)
def test_no_gap_in_a_barred_front_is_too_wide(width, gap):
    """Measured across the whole front, from post to bar to post."""
    frame = _frame(unit_yard(front={**BARRED, "gap_mm": gap}, width_mm=width))
    edges = sorted(
        (stick.start_mm[0] - half, stick.start_mm[0] + half)
        for part in frame.parts
        if part.kind == "bar" or (part.kind == "post" and part.place == "front")
        for stick in part.sticks
        for half in [stick.breadth_mm / 2]
    )
    assert edges[0][1] == pytest.approx(0)  # corner posts end at the clear width
    assert edges[-1][0] == pytest.approx(width)
    assert max(right[0] - left[1] for left, right in pairwise(edges)) <= gap + 1e-6


@given(
    width=integers(1200, 6000), depth=integers(1500, 5000),
    front=floats(1900, 3000), back=floats(1900, 3000),
)  # fmt: skip
@settings(max_examples=20)
def test_boards_cover_the_walls_and_no_more(width, depth, front, back):
    """The boards as they lie have the walls' own areas; as they are bought, no less."""
    yard = unit_yard(
        front=BOARDED, width_mm=width, depth_mm=depth, front_height_mm=front, back_height_mm=back
    )
    frame = _frame(yard)
    boards = [part for part in frame.parts if part.kind == "board"]
    rise = (back - front) / depth
    outer_width, outer_depth = width + 190, depth + 190
    walls = (
        outer_width * (front - 95 * rise)
        + outer_width * (back + 95 * rise)
        + 2 * outer_depth * (front + back) / 2
    )
    lying = sum(polygon_mm2(panel.corners_mm) for part in boards for panel in part.panels)
    assert lying == pytest.approx(walls, rel=1e-9)
    bought = sum(part.amount for part in boards) * 1000 * 125  # featheredge covers 125 mm
    assert bought >= walls - 1


def test_a_door_is_left_out_of_the_boarding():
    door = {
        "between": ["Unit", "Lobby"], "width_mm": 750, "height_mm": 1875, "sill_mm": 125,
        "face": "back", "at_mm": 1200,
    }  # fmt: skip

    def area(yard):
        return sum(
            polygon_mm2(panel.corners_mm)
            for part in _frame(yard).parts
            if part.kind == "board"
            for panel in part.panels
        )

    # Fifteen courses of 125 mm lie wholly between its sill and its top.
    assert area(unit_yard()) - area(unit_yard(door=[door])) == pytest.approx(750 * 1875)


def test_boarding_of_unknown_cover_is_refused():
    with pytest.raises(
        Problem,
        match=r"^boarding of 'Unit' is 'board_any', whose cover width is not on record; "
        r"choose shiplap_12x125 or featheredge_22x150$",
    ):
        _frame(unit_yard(frame={"boarding": "board_any"}))


def test_pieces_are_filled_into_lengths_by_hand():
    assert bars_filled([2000, 1600, 1600, 1900], 3600) == 2  # 2000 + 1600 and 1900 + 1600
    assert bars_filled([3600, 3600], 3600) == 2
    assert bars_filled([7300], 3600) == 3


def test_pieces_are_filled_into_sheets_by_hand():
    """Two halves of a sheet's width lie in one; what is past its width needs another."""
    assert sheets_filled([(2440, 610), (2440, 610)], 2440, 1220) == 1
    assert sheets_filled([(1220, 1220), (1220, 1220), (10, 10)], 2440, 1220) == 2
    assert sheets_filled([(2440, 1220)] * 3 + [(2440, 300)] * 4, 2440, 1220) == 4


def test_felt_strips_by_hand():
    """A 2981 mm slope and 2 x 50 mm turned down: four strips of 925 mm cover, 3400 mm long."""
    strips, length, rolls = felt_strips(2981, 3390, 1000, 10000)
    assert (strips, length, rolls) == (4, 3490, 2)
    # Past the roll's length each joint costs a lap of 150 mm.
    strips, length, rolls = felt_strips(900, 12000, 1000, 10000)
    assert (strips, length, rolls) == (1, 12400, 2)


@given(width=integers(1200, 6000), depth=integers(1500, 5000), back=floats(1900, 2400))
@settings(max_examples=20)
def test_the_deck_covers_the_roof_but_for_its_gaps(width, depth, back):
    yard = unit_yard(width_mm=width, depth_mm=depth, back_height_mm=back)
    frame = _frame(yard)
    deck = [part for part in frame.parts if part.kind == "deck"]
    rise = (back - 2400) / depth
    slope = (depth + 190 + 350) * (1 + rise * rise) ** 0.5
    roof = slope * (width + 190 + 200)
    laid = sum(polygon_mm2(panel.corners_mm) for part in deck for panel in part.panels)
    assert laid == pytest.approx(sum(part.amount for part in deck) * 1e6, abs=1000)
    seams = roof - laid
    assert 0 <= seams <= 3 * (slope + width + 390) * 6  # no more than six seams each way
    assert sum(part.packs for part in deck) * 2440 * 1220 >= laid
    assert all(part.length_mm <= 2440 and part.width_mm <= 1220 for part in deck)


def test_the_mesh_chosen_is_no_wider_than_asked():
    """25.4 mm mesh of 2.5 mm wire is 22.9 mm clear, of 1.63 mm wire 23.8 mm."""
    assert welded_mesh(25).id == "weld_25.4x25.4x1.63"
    assert welded_mesh(23).id == "weld_25.4x25.4x2.5"
    assert welded_mesh(11).id == "weld_12.7x25.4x1.63"  # 11.07 mm: a tape reads 11
    assert welded_mesh(5) is None


def test_a_mesh_that_nobody_sells_is_said():
    front = {"infill": "meshed", "gap_mm": 5, "mesh_kind": "welded"}
    mesh = _part(_frame(unit_yard(front=front)), "mesh panel")
    assert mesh.material == "welded_mesh"
    assert mesh.note == "the handbook has no welded mesh with a clear gap of 5 mm or less"


@pytest.mark.parametrize("base", ["sleepers", "pads", "slab"])
def test_every_base_is_counted(base):
    frame = _frame(unit_yard(frame={"base": base}, floor={"depth_mm": 100}))
    part = next(part for part in frame.parts if part.kind == "base")
    if base == "sleepers":  # 3400 + 3400 + 2400 + 2400 mm from lengths of 2400 mm
        assert sum(p.packs for p in frame.parts if p.kind == "base") == 5
    elif base == "slab":  # 3390 x 2790 mm, 100 mm thick, and its rim 100 mm higher
        assert part.amount == pytest.approx(
            3.39 * 2.79 * 0.1 + (3.39 * 2.79 - 3.0 * 2.4) * 0.1, abs=1e-4
        )
    else:  # three posts in front; corners, and one between on a run over 1800 mm
        assert part.count == 8


def test_the_floor_is_the_clear_area():
    frame = _frame(unit_yard(floor={"depth_mm": 100, "substrate": "pea_gravel"}))
    assert _part(frame, "floor, pea_gravel").amount == pytest.approx(0.72)  # 3.0 x 2.4 x 0.1
    assert _part(frame, "membrane under the floor").amount == 12  # two strips of 2 m, 3 m long
