"""Names in a row: units that are there, each in one row, and a name of its own."""

import pytest

from mewswright.model.fault import YardProblem
from mewswright.model.yard_file import parse_yard

HEAD = """
format = 1
[yard]
name = "Alder Close"
latitude_deg = 47.12
longitude_deg = 6.88
altitude_m = 640
time_zone = "Europe/Zurich"
"""
UNIT = """
[[quarters]]
name = "{name}"
kind = "pitch"
at_m = [0, 0]
facing_deg = 180
width_mm = 2000
depth_mm = 2000
"""
UNITS = "".join(UNIT.format(name=name) for name in ("First", "Second"))


@pytest.mark.parametrize(
    ("row", "wrong"),
    [
        ('name = "Row"\nquarters = ["First", "Secnd"]', "no such quarters"),
        ('name = "Row"\nquarters = ["First", "First"]', "it stands in a row already"),
        ('name = "First"\nquarters = ["First", "Second"]', "this name is used twice"),
        ('name = "Row"\nquarters = ["First"]', "quarters"),
    ],
)
def test_a_row_of_wrong_names_is_refused(row, wrong):
    with pytest.raises(YardProblem) as told:
        parse_yard(f"{HEAD}{UNITS}[[row]]\n{row}\n", "yard.toml")
    assert wrong in str(told.value)


def test_a_file_without_a_row_has_none():
    assert parse_yard(HEAD + UNITS, "yard.toml").row == ()
