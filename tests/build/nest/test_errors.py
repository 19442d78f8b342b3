"""What a nest plan refuses, in whole sentences."""

from decimal import Decimal

import pytest

from mewswright.build.nest.plan import SheetPart, StockSheet
from mewswright.build.nest.solve import nest_plan
from mewswright.model.problem import Problem


def part(mark="P", length=100, width=50, count=1, grain="none", origin=""):
    return SheetPart(
        mark=mark,
        length_mm=Decimal(str(length)),
        width_mm=Decimal(str(width)),
        count=count,
        grain=grain,
        origin=origin,
    )


def sheet(name="ply", length=1000, width=500, price=1, available=None, origin=""):
    return StockSheet(
        name=name,
        length_mm=Decimal(str(length)),
        width_mm=Decimal(str(width)),
        price=Decimal(str(price)),
        available=available,
        origin=origin,
    )


def refusal(*args, **options):
    with pytest.raises(Problem) as refused:
        nest_plan(*args, **options)
    return str(refused.value)


def test_one_mark_has_one_size():
    said = refusal([part(origin="p.csv row 2"), part(length=90, origin="p.csv row 3")], [sheet()])
    assert said == (
        "p.csv row 3: mark 'P' is 90 x 50 mm, grain none, here and 100 x 50 mm, grain none, in "
        "p.csv row 2: give each size a mark of its own"
    )


def test_one_name_is_one_sheet():
    said = refusal([part()], [sheet(origin="s.csv row 2"), sheet(price=2, origin="s.csv row 3")])
    assert said == (
        "s.csv row 3: sheet 'ply' is there twice, first in s.csv row 2: give each row a name of "
        "its own"
    )


def test_a_trim_that_leaves_nothing_is_refused():
    said = refusal([part()], [sheet(width=60, origin="s.csv row 2")], trim_mm=30)
    assert said == (
        "s.csv row 2: sheet 'ply' is 1000 x 60 mm, and 30 mm off every edge leave nothing: trim "
        "less, or leave the sheet out"
    )


def test_a_length_finer_than_a_saw_is_refused():
    said = refusal([part(length="99.99999")], [sheet()])
    assert said == "99.99999 mm is finer than a thousandth of a millimetre: round it"


def test_a_trim_can_make_a_sheet_too_small():
    said = refusal([part(length=1000)], [sheet()], trim_mm=5)
    assert said == (
        "part 'P' is 1000 x 50 mm, grain none, and fits none of the sheets (ply 1000 x 500 mm "
        "less 5 mm off every edge): offer a larger sheet, or join the part from two"
    )


def test_too_many_pieces_are_refused():
    said = refusal([part(count=6000)], [sheet()])
    assert said == (
        "there are 6000 pieces and at most 5000 are nested at once: nest one building at a time"
    )
