"""Layouts for units with one planted, beside random restart; and units that hold none.

A keeper waits for `fit` at the table. What is counted: in how many planted units a layout
with no harm and no short is found, how long that takes, and how its score compares with
the best that random restart finds in the same seconds of the same run: fittings of the
same kinds thrown anywhere in the room, judged by the same screen and score. A unit in
which random restart finds none counts 0 for it. Of the impossible units none may get a
layout, and each must get a reason.

Seconds depend on the machine and on what else it does; ratios and shares do not.
"""

import argparse
import sys
from statistics import mean, median
from time import monotonic, perf_counter

from fit_units import NAME, Unit, impossible, planted, random_layout

from mewswright.fit.layout import room_for
from mewswright.fit.report import FitReport, fit
from mewswright.fit.score import total


def timed(unit: Unit, seconds: float) -> tuple[FitReport, float]:
    """A report and how long it took [s]."""
    start = perf_counter()
    report = fit(unit.yard, NAME, seconds=seconds, clock=monotonic).report
    return report, perf_counter() - start


def random_restart(unit: Unit, seconds: float) -> float:
    """Best score of layouts thrown at random for so long; 0 where none has no fault."""
    import numpy as np

    rng = np.random.default_rng(unit.seed)
    room = room_for(unit.yard, NAME, (), unit.seed, None, None)
    counts = room.counts()
    best, end = 0.0, perf_counter() + seconds
    while perf_counter() < end:
        count = counts[int(rng.integers(len(counts)))]
        layout = random_layout(room, count, rng)
        seen = room.screen(count).look(layout)
        if not seen.faults:
            best = max(best, total(room.scorer(count).parts(layout, seen.longest_mm)))
    return best


def main() -> None:
    """Print the shares, the seconds and the ratio."""
    ask = argparse.ArgumentParser(description=__doc__)
    ask.add_argument("--units", type=int, default=300)
    ask.add_argument("--impossible", type=int, default=50)
    ask.add_argument("--seconds", type=float, default=8.0)
    given = ask.parse_args()

    clean, took, ours, theirs = 0, [], [], []
    for seed in range(given.units):
        unit = planted(seed)
        report, seconds = timed(unit, given.seconds)
        took.append(seconds)
        good = bool(report.layouts) and not (report.layouts[0].harm or report.layouts[0].short)
        clean += good
        ours.append(report.layouts[0].score if good else 0.0)
        theirs.append(random_restart(unit, seconds))
        if not good:
            words = report.conflict.words if report.conflict else "harm or short left"
            print(f"  unit {seed}: {words}", file=sys.stderr)
    print(f"{given.units} planted units: no harm and no short in {clean / given.units:.1%}")
    print(f"  seconds: median {median(took):.2f}, worst {max(took):.2f}")
    found = sum(score > 0 for score in theirs)
    print(f"  mean score {mean(ours):.1f}; random restart {mean(theirs):.1f}, none in "
          f"{given.units - found}; ratio {mean(ours) / max(mean(theirs), 1e-9):.2f}")  # fmt: skip
    both = [(a, b) for a, b in zip(ours, theirs, strict=True) if b > 0]
    if both:
        ratio = mean(a for a, _ in both) / mean(b for _, b in both)
        print(f"  where random restart finds one: ratio {ratio:.2f}")

    if not given.impossible:
        return
    took, wrong, silent = [], 0, 0
    for seed in range(given.impossible):
        report, seconds = timed(impossible(seed), given.seconds)
        took.append(seconds)
        wrong += bool(report.layouts)
        silent += report.conflict is None or not report.conflict.requirements
    print(f"{given.impossible} impossible units: a layout in {wrong}, no reason in {silent}; "
          f"seconds: median {median(took):.2f}, worst {max(took):.2f}")  # fmt: skip


if __name__ == "__main__":
    main()
