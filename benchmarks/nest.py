"""Nest plans beside a plain model in the same solver, shelves, and the best known answers.

A keeper waits for a plan and pays for its sheets, so both are measured: seconds, and sheets
above the best known. The open instances are read from the folder that MEWSWRIGHT_BENCH names;
the generated jobs are always there. Bin cases are stretched tenfold and 4 mm is
taken off every side and given to the saw, so that the kerf works in every one of them and the best
known number of sheets stays what it is.

    MEWSWRIGHT_BENCH=/path/to/bench python benchmarks/nest.py [--plain-s 20] [--cpu] [NAME ...]

--cpu counts the processor's seconds of this process instead of the wall's: for a machine that is
busy with other work, and says nothing of how long a keeper waits there.
"""

import argparse
import csv
import os
from decimal import Decimal
from pathlib import Path
from statistics import median
from time import perf_counter, process_time

import numpy as np

from mewswright.build.cut.effort import Effort
from mewswright.build.cut.solver import quiet_solver
from mewswright.build.nest.plan import SheetPart, StockSheet
from mewswright.build.nest.solve import nest_plan
from mewswright.build.nest.strips import best_strips

ALLOWED_S = 5
KERF_MM = 4
GOAL_SHEETS = 1.003
clock = perf_counter


def rows(file: Path) -> list[dict[str, str]]:
    return list(csv.DictReader(file.read_text(encoding="utf-8").splitlines()))


def instance(folder: Path, name: str) -> tuple[int, int, list[tuple[int, int, int, int]]]:
    """Width and height of the bin; width, height, profit and copies of the items."""
    bin_ = rows(folder / f"{name}_bins.csv")[0]
    items = []
    for row in rows(folder / f"{name}_items.csv"):
        wide, high = int(row["WIDTH"]), int(row["HEIGHT"])
        profit = int(row.get("PROFIT") or wide * high)
        items.append((wide, high, profit, int(row.get("COPIES") or 1)))
    return int(bin_["WIDTH"]), int(bin_["HEIGHT"]), items


def plain_strips(
    wide: int, high: int, items: list[tuple[int, int, int, int]], seconds: float
) -> tuple[int, bool]:
    """The richest two-stage fill by the usual model: strips opened by an item, and copies.

    Source:
        Lodi and Monaci, Mathematical Programming 94 (2003).
    """
    import highspy

    items = sorted((i for i in items if i[0] <= wide and i[1] <= high), key=lambda i: -i[1])
    upper: list[float] = []
    worth: list[float] = []
    lines: list[tuple[dict[int, float], float]] = []
    tall: dict[int, float] = {}
    copies: list[dict[int, float]] = [{} for _ in items]
    for k, (w, h, p, d) in enumerate(items):
        before = None
        for _ in range(min(d, high // h)):
            opened = len(upper)
            upper.append(1)
            worth.append(p)
            tall[opened], copies[k][opened] = h, 1
            run: dict[int, float] = {opened: w - wide}
            if before is not None:
                lines.append(({opened: 1, before: -1}, 0))
            before = opened
            for i in range(k, len(items)):
                wi, _, pi, di = items[i]
                most = min(di - (i == k), (wide - w) // wi)
                if most > 0:
                    copy = len(upper)
                    upper.append(most)
                    worth.append(pi)
                    run[copy], copies[i][copy] = wi, 1
                    lines.append(({copy: 1, opened: -most}, 0))
            lines.append((run, 0))
    lines.append((tall, high))
    lines += [(c, items[i][3]) for i, c in enumerate(copies)]
    model = quiet_solver(time_limit=seconds, mip_rel_gap=0.0, mip_abs_gap=0.999)
    lp = highspy.HighsLp()
    lp.num_col_, lp.num_row_ = len(upper), len(lines)
    lp.col_cost_ = -np.array(worth, dtype=float)
    lp.col_lower_, lp.col_upper_ = np.zeros(len(upper)), np.array(upper, dtype=float)
    lp.integrality_ = [highspy.HighsVarType.kInteger] * len(upper)
    lp.row_lower_ = np.full(len(lines), -highspy.kHighsInf)
    lp.row_upper_ = np.array([limit for _, limit in lines], dtype=float)
    lp.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
    ends = np.cumsum([0, *(len(line) for line, _ in lines)])
    lp.a_matrix_.start_ = ends.astype(np.int32)
    lp.a_matrix_.index_ = np.array([c for line, _ in lines for c in line], dtype=np.int32)
    lp.a_matrix_.value_ = np.array([v for line, _ in lines for v in line.values()], dtype=float)
    model.passModel(lp)
    model.run()
    found = round(-model.getInfo().objective_function_value)
    return found, model.getModelStatus() == highspy.HighsModelStatus.kOptimal


def shelves(wide: int, high: int, items: list[tuple[int, int, int, int]]) -> int:
    """Sheets by first-fit decreasing height on shelves, each item lying with its longer side."""
    sizes = []
    for w, h, _, d in items:
        flat = (max(w, h), min(w, h))
        sizes += [flat if flat[0] <= wide and flat[1] <= high else flat[::-1]] * d
    sheets: list[list[list[int]]] = []  # shelves: height, free run
    for w, h in sorted(sizes, key=lambda s: (-s[1], -s[0])):
        shelf = next((s for sheet in sheets for s in sheet if s[0] >= h and s[1] >= w), None)
        if shelf:
            shelf[1] -= w
            continue
        sheet = next((s for s in sheets if sum(x[0] for x in s) + h <= high), None)
        if sheet is None:
            sheets.append(sheet := [])
        sheet.append([h, wide - w])
    return len(sheets)


def two_stage(folder: Path, chosen: list[str], plain_s: float) -> None:
    """One sheet in two stages, to proof, beside the plain model."""
    took, beside, proven, plain_proven = [], [], 0, 0
    for row in rows(folder / "solutions.csv"):
        name = row["instance"]
        if not row["pattern_type"].startswith("2-stage"):
            continue
        if chosen and not any(part in name for part in chosen):
            continue
        wide, high, items = instance(folder, name)
        if "vertical" in row["pattern_type"]:
            wide, high, items = high, wide, [(h, w, p, d) for w, h, p, d in items]
        table = np.array(items)
        start = clock()
        effort = Effort(None, clock, start + 60)
        fill = best_strips(
            table[:, 0], table[:, 1], table[:, 2].astype(float), np.arange(len(table)),
            table[:, 3], wide, high, effort, whole=True,
        )  # fmt: skip
        took.append(clock() - start)
        best = int(row["best_known_value"])
        assert fill.worth <= best <= fill.bound, f"{name}: a fill or a bound is wrong"
        proven += fill.proven
        told = ""
        if plain_s:
            start = clock()
            value, sure = plain_strips(wide, high, items, plain_s)
            beside.append((clock() - start) / took[-1])
            plain_proven += sure
            told = (
                f"| plain {value:6} {'yes' if sure else 'no':>3}, {beside[-1]:5.1f} times as long"
            )
        print(f"{name:24} {best:6} {fill.worth:6.0f} {took[-1]:6.2f} s {told}", flush=True)
    if took:
        print(
            f"two-stage fills: {proven} of {len(took)} proven, median {median(took):.2f} s, "
            f"longest {max(took):.2f} s"
        )
        if beside:
            print(
                f"  the plain model in the same solver proves {plain_proven} within {plain_s:g} s "
                f"and takes {median(beside):.1f} times as long (median)"
            )
        if not chosen:
            assert proven == len(took), "a two-stage case is left open"


def bins(folder: Path, chosen: list[str]) -> None:
    """Turned three-stage bin cases with a kerf, and again with grain on every third part."""
    ours = known = bounds = shelved = proven = grained = grain_bound = count = 0
    longest = 0.0
    for row in rows(folder / "solutions.csv"):
        name = row["instance"]
        if row["objective"] != "bin packing" or row["rotation"] != "yes":
            continue
        if chosen and not any(part in name for part in chosen):
            continue
        wide, high, items = instance(folder, name)
        stock = [
            StockSheet(
                name="bin", price=Decimal(1), grain="along",
                length_mm=Decimal(10 * wide - KERF_MM), width_mm=Decimal(10 * high - KERF_MM),
            )
        ]  # fmt: skip
        parts = [
            SheetPart(
                mark=f"P{n}", count=d,
                length_mm=Decimal(10 * w - KERF_MM), width_mm=Decimal(10 * h - KERF_MM),
            )
            for n, (w, h, _, d) in enumerate(items)
        ]  # fmt: skip
        start = clock()
        plan = nest_plan(parts, stock, KERF_MM, ALLOWED_S, clock=clock)
        seconds = clock() - start
        best = int(row["best_known_value"])
        assert plan.lower_bound <= best, f"{name}: a bound is wrong"
        grain = [
            p.model_copy(update={"grain": "along" if n % 2 else "across"}) if n % 3 == 0 else p
            for n, p in enumerate(parts)
        ]
        held = nest_plan(grain, stock, KERF_MM, ALLOWED_S, clock=clock)
        shelf = shelves(wide, high, items)
        ours, known, shelved = ours + int(plan.cost), known + best, shelved + shelf
        bounds, proven, count = bounds + int(plan.lower_bound), proven + plan.proven, count + 1
        grained, grain_bound = grained + int(held.cost), grain_bound + int(held.lower_bound)
        longest = max(longest, seconds)
        print(
            f"{name:32} best {best:3} ours {plan.cost:3} bound {plan.lower_bound:3} "
            f"({plan.bound_by}) {seconds:5.2f} s | shelves {shelf:3} | with grain {held.cost:3}, "
            f"bound {held.lower_bound}",
            flush=True,
        )
    if count:
        print(
            f"bins: {ours} sheets, {ours / known:.4f} times the best known ({known}) and "
            f"{ours / bounds:.3f} times our bound, {proven} of {count} proven, at most "
            f"{longest:.1f} s each; shelves need {shelved / known:.3f} times the best known"
        )
        print(
            f"  with grain on every third part: {grained} sheets, "
            f"{grained / grain_bound:.3f} times their bound"
        )
        if not chosen:
            assert ours <= GOAL_SHEETS * known, "more sheets than the goal"


def household() -> None:
    """Ply for a few lofts: 8 sizes, some with grain, two sheets and an offcut."""
    proven, gaps, seeds = 0, [], 6
    for seed in range(seeds):
        chance = np.random.default_rng(seed)
        parts = [
            SheetPart(
                mark=f"P{n}",
                length_mm=Decimal(int(chance.integers(250, 1200))),
                width_mm=Decimal(int(chance.integers(100, 700))),
                count=int(chance.integers(2, 9)),
                grain=str(chance.choice(["none", "along", "across"])),
            )
            for n in range(8)
        ]
        stock = [
            StockSheet(
                name=name, length_mm=Decimal(long), width_mm=Decimal(short),
                price=Decimal(price), available=some,
            )
            for name, long, short, price, some in (
                ("ply", 2440, 1220, "42.50", None),
                ("half", 1220, 1220, "23.00", None),
                ("offcut", 1100, 800, "0", 1),
            )
        ]  # fmt: skip
        start = clock()
        plan = nest_plan(parts, stock, KERF_MM, ALLOWED_S, clock=clock)
        proven += plan.proven
        gaps.append(plan.gap)
        print(
            f"household {seed}: cost {plan.cost}, bound {plan.lower_bound} ({plan.bound_by}), "
            f"gap {plan.gap:.1%}, {clock() - start:.2f} s",
            flush=True,
        )
    print(f"household: {proven} of {seeds} proven, mean gap {sum(gaps) / seeds:.1%}")


if __name__ == "__main__":
    given = argparse.ArgumentParser(description=__doc__)
    given.add_argument("names", nargs="*", help="only instances whose names hold one of these")
    given.add_argument("--plain-s", type=float, default=20, help="0: leave that model out")
    given.add_argument("--cpu", action="store_true", help="count the processor's seconds")
    options = given.parse_args()
    clock = process_time if options.cpu else perf_counter
    named = os.environ.get("MEWSWRIGHT_BENCH")
    if named:
        two_stage(Path(named) / "guillotine2d", options.names, options.plain_s)
        bins(Path(named) / "guillotine2d", options.names)
    else:
        print("MEWSWRIGHT_BENCH is not set: the open instances are left out")
    if not options.names:
        household()
