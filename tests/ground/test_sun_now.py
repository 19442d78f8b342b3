"""Where the sun stands, through the command.

Outside: the worked example of NREL/TP-560-34302 (zenith and azimuth read in pvlib's
tests/test_spa.py; sunrise and sunset as printed with NREL's own spa_tester.c, from memory);
sunrise and sunset of 35 S in the same report, read in pvlib's tests/test_solarposition.py, from
memory; minutes of London and Sydney as almanacs print them, from memory.
"""

import json
from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis.strategies import datetimes, floats
from typer.testing import CliRunner

from mewswright.cli import app
from mewswright.ground.sun import declination_deg
from mewswright.ground.sun_path import sun_now, sun_year


def ask(at, lat, lon, alt=0.0):
    words = ["sun", "--at", at, f"--lat={lat}", f"--lon={lon}", f"--alt={alt}", "--json"]
    return CliRunner().invoke(app, words)


def told(at, lat, lon, alt=0.0):
    done = ask(at, lat, lon, alt)
    assert done.exit_code == 0, done.output
    answer = json.loads(done.stdout)
    assert set(answer) == {"zenith_deg", "azimuth_deg", "sunrise", "sunset"}
    return answer


def is_near(moment, wanted, seconds):
    return abs(datetime.fromisoformat(moment) - datetime.fromisoformat(wanted)) <= timedelta(
        seconds=seconds
    )


def test_the_worked_example_of_nrel():
    answer = told("2003-10-17T12:30:30-07:00", 39.742476, -105.1786, 1830.14)
    assert answer["zenith_deg"] == pytest.approx(50.11162, abs=0.0005)
    assert answer["azimuth_deg"] == pytest.approx(194.34024, abs=0.0005)
    assert is_near(answer["sunrise"], "2003-10-17T06:12:43-07:00", 2)
    assert is_near(answer["sunset"], "2003-10-17T17:20:19-07:00", 2)


@pytest.mark.parametrize(
    ("day", "lat", "lon", "rise", "down", "seconds"),
    [
        ("1996-07-05T12:00:00+00:00", -35, 0, "07:08:15", "17:01:04", 3),
        ("2004-12-04T12:00:00+00:00", -35, 0, "04:38:57", "19:02:02", 3),
        ("2024-06-20T12:00:00+01:00", 51.507, -0.128, "04:43", "21:21", 60),
        ("2024-12-21T12:00:00+11:00", -33.869, 151.209, "05:41", "20:05", 60),
    ],
)
def test_sunrise_and_sunset_of_almanacs(day, lat, lon, rise, down, seconds):
    answer = told(day, lat, lon)
    date, offset = day[:11], day[19:]
    assert is_near(answer["sunrise"], date + rise + offset, seconds), answer
    assert is_near(answer["sunset"], date + down + offset, seconds), answer


@pytest.mark.parametrize(("day", "up"), [("2024-12-21", False), ("2024-06-21", True)])
def test_polar_night_and_day_have_neither(day, up):
    answer = told(f"{day}T12:00:00+01:00", 69.65, 18.96)  # Tromso's parallel
    assert (answer["sunrise"], answer["sunset"]) == (None, None)
    assert (answer["zenith_deg"] < 90) is up


@pytest.mark.parametrize(
    ("at", "lon"),
    [
        ("2024-03-05T01:00:00+13:00", 174.76), ("2024-03-05T23:30:00+13:00", 174.76),
        ("2024-03-05T01:00:00-10:00", -157.86), ("2024-03-05T23:30:00-10:00", -157.86),
    ],
)  # fmt: skip
def test_rise_and_set_are_those_of_the_day_of_the_offset(at, lon):
    """Far from Greenwich too, whatever the hour: up around its own noon."""
    answer = told(at, -20, lon)
    assert answer["sunrise"].startswith("2024-03-05T0")
    assert answer["sunset"].startswith("2024-03-05T1")
    assert answer["sunrise"].endswith(at[-6:])


def test_a_moment_without_offset_is_refused():
    done = ask("2024-06-21T12:00:00", 47, 7)
    assert done.exit_code == 2
    assert "2024-06-21T12:00:00 has no offset: write it with one, as in +01:00 or Z" in done.output


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--at", "noon", "--lat=47", "--lon=7"], "--at 'noon' is no ISO 8601 moment"),
        (["--at", "2024-06-21T12:00:00Z", "--lat=47"], "--lon is missing"),
        (["--at", "2024-06-21T12:00:00Z", "--lat=97", "--lon=7"], "latitude must be -90 to 90"),
        (["--at", "0001-01-01T00:00:00Z", "--lat=9", "--lon=7"], "the year must be 1700 to 2250"),
        (["--at", "9999-12-31T23:00:00Z", "--lat=9", "--lon=7"], "the year must be 1700 to 2250"),
        ([], "no yard file is given"),
    ],
)
def test_what_is_missing_or_wrong_is_named(words, said):
    done = CliRunner().invoke(app, ["sun", *words])
    assert done.exit_code == 2
    assert said in " ".join(done.output.split())


@given(datetimes(datetime(2000, 1, 1), datetime(2049, 12, 31)), floats(-66, 66), floats(-180, 180))
def test_height_follows_the_declination(at, lat, lon):
    """The highest sun of a day stands 90 - |latitude - declination| high, within its degree."""
    noon = at.replace(hour=12, minute=0, second=0, microsecond=0, tzinfo=UTC)
    noon -= timedelta(hours=lon / 15)
    highest = 90 - abs(lat - declination_deg(noon.timetuple().tm_yday))
    # The equation of time turns the sun by 4 deg at most: steep suns fall a little short.
    assert sun_now(noon, lat, lon, 0).height_deg == pytest.approx(highest, abs=4.6)


def test_steps_of_a_minute_lie_on_the_suns_way():
    """The cubic between tenth minutes stays within 0.001 deg of the algorithm itself."""
    year = sun_year(47.12, 6.88, 640.0, "Europe/Zurich", 1)
    start = datetime(2022, 12, 31, 23, tzinfo=UTC)
    for step in range(0, len(year.minute), 9973):
        at = start + timedelta(minutes=int(year.minute[step]), seconds=30)
        now = sun_now(at, 47.12, 6.88, 640.0)
        assert year.height_deg[step] == pytest.approx(now.height_deg, abs=0.001)
        assert year.bearing_deg[step] == pytest.approx(now.azimuth_deg, abs=0.001)
