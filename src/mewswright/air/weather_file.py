"""Reading a year of weather from a file's text: EPW, or a CSV.

Strict: what is missing or cannot be is refused with its line, not guessed. What a file may leave
out (rain, bearing of the wind, cloud) is told in the notes.
"""

from mewswright.air.weather import Weather
from mewswright.air.weather_csv import read_csv
from mewswright.air.weather_epw import read_epw
from mewswright.model.problem import Problem
from mewswright.model.yard import Yard


def read_weather(name: str, text: str, yard: Yard) -> Weather:
    """Read a year of weather.

    Args:
        name: The file's name, for sentences; `.epw` says what it is.
        text: All of it.
        yard: The yard, for its clock and its sun.

    Raises:
        Problem: Names the line, what stands there, and what is wanted.
    """
    if "\0" in text:
        raise Problem(f"{name} is no text: give an EPW file, or a CSV as docs/air.md has it")
    if not text.strip():
        raise Problem(f"{name} is empty: give an EPW file, or a CSV as docs/air.md has it")
    if name.lower().endswith(".epw") or text.lstrip("\ufeff").startswith("LOCATION,"):
        return read_epw(name, text.lstrip("\ufeff"), yard)
    return read_csv(name, text.lstrip("\ufeff"), yard)
