"""When the sun comes and goes at 500 points in a crowded yard, beside a look every second.

The year's times are worked out on straight pieces of the sun's way (`ground/ray_times.py`). The
truth here is the sun's position by the algorithm itself at every second of some days, each ray
asked of the solids. A point's day is right if it has as many times of sun as the truth, and each of
them begins and ends within 60 s of it. Times and gaps shorter than the second are left out.

    python benchmarks/sun_times.py [--days 20] [--points 100] [--goes 5]

Compiling is not timed. CPU seconds, of two threads, stand beside the wall's for a machine that is
busy with other work.
"""

import argparse
from datetime import UTC, datetime, timedelta

import numpy as np
import pandas as pd
from pvlib.atmosphere import alt2pres
from pvlib.solarposition import spa_python
from sun import best, free_points, thinned, yard

from mewswright.ground.light import passing, rays_of, rows_of
from mewswright.ground.ray_kernel import light_of_each
from mewswright.ground.ray_light import light_of
from mewswright.ground.solids import Solid
from mewswright.ground.sun_path import AIR_C, DELTA_T_S, sun_way
from mewswright.ground.sun_pieces import sun_pieces
from mewswright.ground.sun_times import sun_times

PLACE = (47.4, 8.5, 500.0)
ZONE = "Etc/GMT-1"
SECOND_MIN = 1 / 60


def seconds_of(day: int) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Minute of the year, height and bearing at each second of a day with the sun up."""
    start = datetime(2022, 12, 31, 23, tzinfo=UTC) + timedelta(days=day)
    moments = pd.date_range(start, periods=86400, freq="s")
    low, high, up = PLACE[0], PLACE[1], PLACE[2]
    found = spa_python(moments, low, high, up, alt2pres(up), AIR_C, DELTA_T_S)
    height = found["apparent_elevation"].to_numpy(float)
    shines = height > 0
    minute = day * 1440 + np.arange(86400) / 60
    return minute[shines], height[shines], found["azimuth"].to_numpy(float)[shines]


def truth(solids: list[Solid], points: np.ndarray, day: int, brute: int) -> list[np.ndarray]:
    """Times of sun at points on one day; as many points as `brute` are asked the slow way too."""
    minute, height, bearing = seconds_of(day)
    rows, rays = rows_of(solids), rays_of(height, bearing)
    month = (datetime(2023, 1, 1, tzinfo=UTC) + timedelta(days=day)).month
    shares = passing(rows.thin, rays.ways.T, np.full(rays.count, month))
    shares = (shares >= 0.5).astype(np.float32)  # a thin thing stops the sun, or it does not
    out = np.empty((len(points), rays.count), np.float32)
    light_of(rows.boxes, rows.crowns, shares, points, rays.suns, rays.starts, out)
    slow = np.empty((brute, rays.count), np.float32)
    light_of_each(rows.boxes, rows.crowns, shares, points[:brute], rays.suns, slow)
    assert (slow == out[:brute]).all()
    told = []
    for one in out:
        shines = np.zeros(len(minute) + 2, np.int8)
        shines[1 + rays.order] = one > 0
        turns = np.diff(shines)
        told.append(
            np.column_stack((minute[turns[:-1] == 1], minute[np.flatnonzero(turns == -1) - 1]))
        )
    return told


def seen(times: np.ndarray, day: int) -> np.ndarray:
    """Times of one day, those and the gaps of less than a second left out."""
    some = times[(times[:, 0] >= day * 1440) & (times[:, 0] < (day + 1) * 1440)]
    told: list[list[float]] = []
    for come, gone in some:
        if told and come - told[-1][1] < SECOND_MIN:
            told[-1][1] = gone
        else:
            told.append([come, gone])
    return np.array([one for one in told if one[1] - one[0] >= SECOND_MIN]).reshape(-1, 2)


def main() -> None:
    reader = argparse.ArgumentParser()
    reader.add_argument("--days", type=int, default=20)
    reader.add_argument("--points", type=int, default=100)
    reader.add_argument("--goes", type=int, default=5)
    told = reader.parse_args()
    bare = yard(1, 200, 12)
    points = free_points(2, 500, rows_of(bare))
    sun_way.cache_clear()
    seconds, cpu, way = best(lambda: sun_way.__wrapped__(*PLACE, ZONE), told.goes)
    more, more_cpu, pieces = best(lambda: sun_pieces(way, ZONE), told.goes)
    print(f"the sun's way: {seconds + more:.2f} s, {cpu + more_cpu:.2f} CPU s; "
          f"{len(pieces.sector)} pieces")  # fmt: skip
    days = np.linspace(3, 361, told.days).astype(int)
    for name, solids in (("bare", bare), ("slats and leaves", thinned(bare, 60))):
        sun_times(solids, points[:2], pieces)
        wall, cpu_s, times = best(lambda some=solids: sun_times(some, points, pieces), told.goes)
        print(f"{name}: a year of {len(points)} points in {wall:.2f} s, {cpu_s:.2f} CPU s")
        apart, odd, right = [], 0, 0
        for day in days:
            for n, wanted in enumerate(truth(solids, points[: told.points], int(day), 2)):
                found = seen(times[n], int(day))
                if len(found) != len(wanted):
                    odd += 1
                    continue
                far = 60 * np.abs(found - wanted).max() if len(found) else 0.0
                apart.append(far)
                right += far <= 60
        count = told.days * told.points
        print(
            f"{name}: {right / count:.2%} of {count} point-days within 60 s; {odd} have another "
            f"count of times; the worst edge of a day: median {np.median(apart):.1f} s, 99 % "
            f"{np.quantile(apart, 0.99):.1f} s, most {max(apart):.1f} s",
            flush=True,
        )


if __name__ == "__main__":
    main()
