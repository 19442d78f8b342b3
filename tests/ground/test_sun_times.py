"""When the sun comes and goes, beside rays asked solid by solid at moments in between.

Outside: the sun's place at each moment by pvlib; sunrise and sunset of the same library's own
rise-and-set routine (NREL/TP-560-34302, A.2), which is not what the times are worked out with.
"""

from datetime import timedelta
from zoneinfo import ZoneInfo

import numpy as np
import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis.strategies import integers
from pvlib.solarposition import sun_rise_set_transit_spa

from mewswright.ground.light import passing, points_of, rays_of, rows_of
from mewswright.ground.ray_kernel import light_of_each
from mewswright.ground.solids import Grille, SolidBox
from mewswright.ground.sun_path import horizon_at, sun_now, sun_way
from mewswright.ground.sun_pieces import sun_pieces
from mewswright.ground.sun_times import by_day, clock_times, midnights, sun_times
from support.solids import some_solids

PLACES = [
    (47.4, 8.5, 500.0, "Europe/Zurich"),
    (-34.6, -58.4, 20.0, "America/Argentina/Buenos_Aires"),
    (0.0, 32.6, 1150.0, "Africa/Kampala"),
    (69.65, 18.96, 10.0, "Europe/Oslo"),
    (-17.7, 178.1, 5.0, "Pacific/Fiji"),
    (-77.8, 166.7, 10.0, "Antarctica/McMurdo"),
]


def shines(solids, spot, place, minute, way):
    """Asked of every solid at one moment, the sun's place worked out for that moment."""
    at = way.start + timedelta(minutes=float(minute))
    now = sun_now(at, *place[:3])
    if now.height_deg <= 0:
        return False
    rows = rows_of(solids)
    rays = rays_of(np.array([now.height_deg]), np.array([now.azimuth_deg]))
    month = np.array([at.astimezone(ZoneInfo(place[3])).month])
    shares = (passing(rows.thin, rays.ways.T, month) >= 0.5).astype(np.float32)
    out = np.empty((1, 1), np.float32)
    light_of_each(rows.boxes, rows.crowns, shares, points_of([spot]), rays.suns, out)
    return bool(out[0, 0])


@settings(max_examples=12, deadline=None)
@given(integers(0, 2**32 - 1), integers(0, len(PLACES) - 1))
def test_at_any_moment_the_times_say_what_every_solid_says(seed, number):
    """Half a minute is left on both sides of each coming and going."""
    chance, place = np.random.default_rng(seed), PLACES[number]
    way = sun_way(*place)
    solids, spot = list(some_solids(chance)), (0.0, 0.0, chance.uniform(0.2, 3))
    (times,) = sun_times(solids, [spot], sun_pieces(way, place[3]))
    assert (np.diff(times.ravel()) > 0).all()
    for minute in chance.uniform(0, way.minutes, 40):
        if np.abs(times - minute).min(initial=9) > 0.5:
            said = bool(((times[:, 0] < minute) & (minute < times[:, 1])).any())
            assert said == shines(solids, spot, place, minute, way), (minute, place)


@pytest.mark.parametrize("place", PLACES[:3])
def test_in_the_open_they_are_sunrise_and_sunset(place):
    """Of the sun's middle: the almanac's edge comes over 16 arc minutes earlier."""
    way = sun_way(*place)
    (times,) = sun_times([], [(0, 0, 1)], sun_pieces(way, place[3]))
    assert len(times) == pytest.approx(365, abs=1)
    days = pd.date_range("2023-01-02", "2023-12-30", tz="UTC")
    found = sun_rise_set_transit_spa(days, place[0], place[1], delta_t=67)
    start = pd.Timestamp(way.start)
    for column, side, sign in (("sunrise", 0, 1), ("sunset", 1, -1)):
        minutes = ((found[column] - start).dt.total_seconds() / 60).to_numpy()
        nearest = np.abs(times[:, side][None, :] - minutes[:, None]).argmin(axis=1)
        later = sign * (times[nearest, side] - minutes)
        # 0.27 deg of half a sun and some of the air's bend, at 4 min a degree and the way's slant
        assert (later > 0).all()
        assert (later < 4.5).all()


def test_polar_night_has_no_sun_and_polar_day_no_end():
    place = PLACES[3]
    way = sun_way(*place)
    (times,) = sun_times([], [(0, 0, 1)], sun_pieces(way, place[3]))
    days = list(clock_times(by_day(times, way, place[3]), range(365), way, place[3]))
    assert len(days) == 365
    assert days[0] == ()
    assert days[354] == ()
    assert days[171] == (("00:00:00", "24:00:00"),)


@pytest.mark.parametrize("zone", ["Europe/Zurich", "America/New_York", "Australia/Lord_Howe"])
def test_days_on_which_the_clock_changes_are_as_long_as_they_are(zone):
    way = sun_way(47.0, 8.0, 0.0, zone)
    starts = midnights(way, zone)
    lengths = np.diff(starts)
    assert len(lengths) == 365
    assert lengths.sum() == way.minutes
    assert sorted(set(lengths)) in ([1380, 1440, 1500], [1410, 1440, 1470])


def test_the_clock_of_a_changed_day_runs_on_summer_time_after_the_change():
    """26 March 2023, 2:00 becomes 3:00: noon comes ten hours after 1:00."""
    zone = "Europe/Zurich"
    way = sun_way(47.0, 8.0, 0.0, zone)
    midnight = midnights(way, zone)[84]
    days = [[] for _ in range(365)]
    days[84] = [(midnight + 60, midnight + 11 * 60)]
    assert next(clock_times(days, [84], way, zone)) == (("01:00:00", "12:00:00"),)


def test_a_ridge_on_the_horizon_delays_the_sun():
    """Land 10 deg high in the east half: the sun comes when it stands over it."""
    place = PLACES[0]
    way, horizon = sun_way(*place), ((0.0, 10.0), (179.9, 10.0), (180.0, 0.0), (359.9, 0.0))
    (free,) = sun_times([], [(0, 0, 1)], sun_pieces(way, place[3]))
    (ridge,) = sun_times([], [(0, 0, 1)], sun_pieces(way, place[3], horizon))
    height, bearing = way.at(ridge[:, 0])
    assert height == pytest.approx(horizon_at(horizon, bearing), abs=0.01)
    assert ridge[:, 1] == pytest.approx(free[:, 1], abs=0.01)


def test_slats_stop_the_sun_from_where_they_let_half_through():
    """Level slats of 20 mm in 90 mm: 1 - (t + t tan b) / p is a half at tan b = 1.25."""
    place = PLACES[0]
    way = sun_way(*place)
    slats = (Grille((0, 1, 0), (1, 0, 0), (0, 0, 1), 0.09, 0.02),)
    screen = SolidBox("", (0, -5), (1, 0), (5000, 0.01), (0, 0, 0), (5000, 0, 0), slats)
    (times,) = sun_times([screen], [(0, 0, 1)], sun_pieces(way, place[3]))
    noon = midnights(way, place[3])[92] + 13.5 * 60  # 3 April: under 48 deg high in the south
    (day,) = times[(times[:, 0] < noon) & (noon < times[:, 1])]
    height, bearing = way.at(day)
    slant = np.tan(np.radians(height)) / np.abs(np.cos(np.radians(bearing)))
    assert slant == pytest.approx(1.25, rel=0.01)
