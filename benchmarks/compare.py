"""Variants of one unit with two processes, beside the same with one.

A keeper waits for `compare` at the table, and every variant is worked out by itself. What
is counted is the ratio of both times of the whole command, start of the processes included,
each the shortest of several goes in turn: the others measure what else the machine did. Two
cores, no other work and no start would give 2. Both must print the same table.
"""

import argparse
import subprocess
import sys
from importlib.resources import as_file, files
from pathlib import Path
from statistics import median
from time import perf_counter

VARY = (
    "floor.substrate=sand,gravel,bark", "faces.front.infill=barred,meshed",
    "frame.lining=none,osb3_11,hdpe_6",
)  # fmt: skip


def go(yard: Path, unit: str, jobs: int) -> tuple[float, str]:
    """One run of the command [s], and what it printed."""
    words = [sys.executable, "-m", "mewswright", "compare", str(yard), unit, "--json"]
    words += [word for vary in VARY for word in ("--vary", vary)]
    start = perf_counter()
    done = subprocess.run([*words, "--jobs", str(jobs)], capture_output=True, text=True, check=True)
    return perf_counter() - start, done.stdout


def main() -> None:
    """Print the times and their ratio."""
    asked = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    asked.add_argument("--unit", default="North loft")
    asked.add_argument("--goes", type=int, default=5)
    given = asked.parse_args()
    times: dict[int, list[float]] = {1: [], 2: []}
    with as_file(files("mewswright.examples") / "alder-close.yard.toml") as yard:
        for _ in range(given.goes):  # in turn, so that both meet the same neighbours
            printed = set()
            for jobs in times:
                seconds, text = go(yard, given.unit, jobs)
                times[jobs].append(seconds)
                printed.add(text)
            assert len(printed) == 1, "a fast other answer is no answer"
    ratios = [one / two for one, two in zip(times[1], times[2], strict=True)]
    print(f"{given.unit}, 18 variants, {given.goes} goes in turn")
    print(f"one process {min(times[1]):.1f} s, two {min(times[2]):.1f} s, the shortest of each")
    print(
        f"two processes are {min(times[1]) / min(times[2]):.2f} times as fast; "
        f"go by go {min(ratios):.2f} to {max(ratios):.2f}, median {median(ratios):.2f}"
    )


if __name__ == "__main__":
    main()
