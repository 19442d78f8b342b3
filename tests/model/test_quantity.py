"""How quantities read, and the one crossing between our two units of length."""

import pytest
from hypothesis import given
from hypothesis.strategies import floats

from mewswright.model.quantity import Quantity, m_from_mm, millimetres, mm_from_m


@pytest.mark.parametrize(
    ("value", "unit", "text"),
    [
        (120.4, "mm", "120 mm"),
        (4.4593, "m2", "4.46 m²"),
        (30, "m2", "30 m²"),
        (95, "deg", "95°"),
        (2.5, "pct", "2.5 %"),
        (1, "doors", "1 door"),
        (1, "perches", "1 perch"),
        (2, "doors", "2 doors"),
        (1, "mm", "1 mm"),
        (-0.2, "mm", "0 mm"),
        (-1e-15, "m", "0 m"),
        (-2, "mm", "-2 mm"),
        ("tethered", "", "tethered"),
    ],
)
def test_a_quantity_reads_as_a_tape_does(value, unit, text):
    assert str(Quantity(value=value, unit=unit)) == text


@given(floats(0, 1e6))
def test_millimetres_come_back_from_metres(value_mm):
    assert mm_from_m(m_from_mm(value_mm)) == pytest.approx(value_mm)


def test_millimetres_name_their_unit():
    assert millimetres(600).unit == "mm"
