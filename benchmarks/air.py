"""A year of air in every quarters of the demo yard, and in yards of many.

A keeper who tries a net or a heater on paper waits for a year of each. Told in processor seconds,
for wall seconds hang on what else the machine does: the demo yard, each of its quarters and helps;
a yard of lofts, small and large, whose ratio says how the time grows; and one year of one room in
the compiled kernel beside the same lines run by Python itself. Compiling is not timed.

    python benchmarks/air.py [--goes 3] [--lofts 12 96]
"""

import argparse
import tomllib
from importlib.resources import files
from time import process_time
from typing import Any

import numpy as np

from mewswright.air.hours_kernel import hours
from mewswright.air.report import air_report
from mewswright.air.weather import HOURS
from mewswright.model.yard import Yard

DEMO = Yard.model_validate(
    tomllib.loads(
        (files("mewswright") / "examples" / "alder-close.yard.toml").read_text(encoding="utf-8")
    )
)


def lofts(count: int) -> Yard:
    """The demo yard with copies of its first loft on a wide grid, and nothing else to live in."""
    tables = DEMO.model_dump()
    one = tables["quarters"][0]
    tables["quarters"] = [
        one | {"name": f"Loft {n}", "at_m": (n % 10 * 20.0, n // 10 * 20.0)} for n in range(count)
    ]
    for key in ("stay", "door", "row", "space"):
        tables[key] = []
    return Yard.model_validate(tables)


def least_s(run: Any, goes: int) -> float:
    """Least processor seconds of some goes."""
    found = []
    for _ in range(goes):
        start = process_time()
        run()
        found.append(process_time() - start)
    return min(found)


def _lofts_s(count: int, goes: int) -> float:
    of = lofts(count)
    return least_s(lambda: air_report(of), goes)


def one_room() -> tuple[Any, ...]:
    """What the kernel is given for a room of middling size."""
    chance = np.random.default_rng(0)
    line = [chance.uniform(low, high, HOURS) for low, high in (
        (-10, 30), (0, 0.5), (-2000, 6000), (5, 12), (-30, 20), (0, 500), (0, 900), (0, 10),
    )]  # fmt: skip
    return (*line[:7], 100.0, 0.8, 90.0, 8.0, 12.0, 2e6, line[7], 0.0, 0.0)


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--goes", type=int, default=3)
    asked.add_argument("--lofts", type=int, nargs=2, default=(12, 96))
    words = asked.parse_args()
    air_report(DEMO, [DEMO.quarters[0].name])  # compiles, and reads the sun's year
    demo = least_s(lambda: air_report(DEMO), words.goes)
    print(f"demo yard, {len(DEMO.quarters)} quarters: {demo:.2f} processor s")
    few, many = words.lofts
    times = {n: _lofts_s(n, words.goes) for n in (few, many)}
    for n, seconds in times.items():
        print(f"{n} lofts: {seconds:.2f} processor s, {1000 * seconds / n:.0f} ms each")
    growth = times[many] / times[few] / (many / few)
    print(f"time grows {growth:.2f} times as fast as the lofts")
    room = one_room()
    compiled = least_s(lambda: hours(*room), words.goes)
    plain = least_s(lambda: hours.py_func(*room), 1)
    print(
        f"one year of one room: {1000 * compiled:.1f} ms, plain Python {plain / compiled:.0f} times"
    )


if __name__ == "__main__":
    main()
