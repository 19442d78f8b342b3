"""Cut plans beside first-fit decreasing and a plain assignment model in the same solver.

A keeper waits for a plan and pays for its bars, so both are measured: seconds, and bars or
money above the best known. The open instances are read from the folder that MEWSWRIGHT_BENCH
names (their licence does not let them be shipped); the generated ones are always there.
Seconds are of the processor (`--wall`: of the clock on the wall, as a keeper waits them), so
that a busy machine tells the same. Each section prints its goal beside what was reached.

    MEWSWRIGHT_BENCH=/path/to/bench python benchmarks/cut.py [--quick] [--wall]
        [--sections open,planted,metre,one,cents,centre,patterns] [--assignment-s 90] [NAME ...]
"""

import argparse
import csv
import os
from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path
from statistics import mean, median
from time import perf_counter, process_time
from unittest import mock

import numpy as np

from mewswright.build.cut.plan import CutPart, StockBar
from mewswright.build.cut.solve import cut_plan
from mewswright.build.cut.solver import quiet_solver

KERF_MM = 3
OPEN_S, HOUSEHOLD_S, CENTS_S, CENTRE_S = 10, 5, 5, 20  # allowed, as the goals say
ASSIGNMENT_PIECES = 400  # larger assignment models are not built
SECTIONS = ("open", "planted", "metre", "one", "cents", "centre", "patterns")


@dataclass(frozen=True)
class Run:
    """How to measure."""

    clock: Callable[[], float]
    quick: bool
    assignment_s: float

    def seeds(self, whole: int) -> range:
        """All seeds, or a few."""
        return range(min(3, whole) if self.quick else whole)


def first_fit_decreasing(lengths: list[int], room: int) -> int:
    """Number of bars when each piece, longest first, goes into the first bar with room."""
    left: list[int] = []
    for length in sorted(lengths, reverse=True):
        for b, free in enumerate(left):
            if free >= length:
                left[b] -= length
                break
        else:
            left.append(room - length)
    return len(left)


def assignment(sizes: dict[int, int], room: int, bars: int, seconds: float) -> tuple[int, bool]:
    """Bars by the model that says how many of each length come from each bar.

    Args:
        sizes: Count of each length.
        room: Length of a bar.
        bars: Bars to choose among (first-fit decreasing's).
        seconds: Time allowed [s].

    Returns:
        Bars used (0: none found), and whether the solver proved it.
    """
    import highspy

    model = quiet_solver(time_limit=seconds, mip_rel_gap=0.0, mip_abs_gap=0.999)
    count = len(sizes)
    lp = highspy.HighsLp()
    lp.num_col_ = bars * (count + 1)
    lp.num_row_ = bars + count
    lp.col_cost_ = np.concatenate([np.ones(bars), np.zeros(bars * count)])
    lp.col_lower_ = np.zeros(lp.num_col_)
    upper = [min(n, room // size) for size, n in sizes.items()]
    lp.col_upper_ = np.concatenate([np.ones(bars), np.tile(upper, bars)]).astype(float)
    lp.integrality_ = [highspy.HighsVarType.kInteger] * lp.num_col_
    endless = highspy.kHighsInf
    lp.row_lower_ = np.array([-endless] * bars + list(sizes.values()), dtype=float)
    lp.row_upper_ = np.array([0.0] * bars + [endless] * count)
    lp.a_matrix_.format_ = highspy.MatrixFormat.kColwise
    rows, values, starts = list(range(bars)), [-float(room)] * bars, list(range(bars))
    for b in range(bars):
        for i, size in enumerate(sizes):
            starts.append(len(rows))
            rows += [b, bars + i]
            values += [float(size), 1.0]
    lp.a_matrix_.start_ = np.array([*starts, len(rows)], dtype=np.int32)
    lp.a_matrix_.index_ = np.array(rows, dtype=np.int32)
    lp.a_matrix_.value_ = np.array(values)
    model.passModel(lp)
    model.run()
    info = model.getInfo()
    found = round(info.objective_function_value) if info.primal_solution_status == 2 else 0
    return found, model.getModelStatus() == highspy.HighsModelStatus.kOptimal


def open_instances(folder: Path) -> list[tuple[str, int, dict[int, int], int]]:
    """Name, bar length, count of each length, least number of bars."""
    table = folder / "stock1d" / "optimum.csv"
    instances = []
    for row in csv.DictReader(table.read_text(encoding="utf-8").splitlines()):
        text = (folder / "stock1d" / f"{row['instance']}.txt").read_text(encoding="utf-8")
        _, room, *rest = map(int, text.split())
        sizes: dict[int, int] = {}
        for size, count in zip(rest[::2], rest[1::2], strict=True):
            sizes[size] = sizes.get(size, 0) + count
        instances.append((row["instance"], room, sizes, int(row["stocks_needed"])))
    return instances


def planted(seed: int, bars: int) -> tuple[str, int, dict[int, int], int]:
    """Bars sawn up without waste: they are the least number that can do."""
    rng = np.random.default_rng(seed)
    sizes: dict[int, int] = {}
    for _ in range(bars):
        room = 6000
        while room > 1500:
            size = int(rng.integers(400, min(room - 400, 2400)))
            sizes[size] = sizes.get(size, 0) + 1
            room -= size
        sizes[room] = sizes.get(room, 0) + 1
    return f"planted {bars} bars, seed {seed}", 6000, sizes, bars


def equal_bars(run: Run, instances: list[tuple[str, int, dict[int, int], int]]) -> None:
    """The count of bars, one stock length, beside first-fit decreasing and the assignment."""
    print(f"{'instance':28} best ours bound proven      s | ffd | assigned proven  x time")
    proofs, ratios, beaten = [], [], []
    ours_over = ffd_over = 0
    for name, room, sizes, best in instances:
        parts = [
            CutPart(mark=f"P{size}", section="s", length_mm=Decimal(size), count=count)
            for size, count in sizes.items()
        ]
        stock = [StockBar(section="s", length_mm=Decimal(room), price=Decimal(1))]
        start = run.clock()
        plan = cut_plan(parts, stock, 0, OPEN_S, clock=run.clock)
        ours_s = run.clock() - start
        assert plan.lower_bound <= best <= plan.cost, f"{name}: a bound or a plan is wrong"
        assert not plan.proven or plan.cost == best, f"{name}: a false proof"
        ffd = first_fit_decreasing([s for s, n in sizes.items() for _ in range(n)], room)
        proofs.append(plan.proven)
        ours_over += int(plan.cost - best)
        ffd_over += ffd - best
        beside = ""
        if run.assignment_s and sum(sizes.values()) <= ASSIGNMENT_PIECES:
            start = run.clock()
            bars, sure = assignment(sizes, room, ffd, run.assignment_s)
            took = run.clock() - start
            beside = f"{bars or '-':>8} {'yes' if sure else 'no':>6} {took / ours_s:7.1f}"
            if plan.proven and sure:
                ratios.append(took / ours_s)
            beaten.append(plan.proven and (not sure or took >= 20 * ours_s))
        print(
            f"{name:28} {best:4} {plan.cost:4} {plan.lower_bound:5} "
            f"{'yes' if plan.proven else 'no':>6} {ours_s:6.2f} | {ffd:3} | " + beside,
            flush=True,
        )
    print(
        f"proven {sum(proofs)} of {len(proofs)} in {OPEN_S} s (goal 95 %), none falsely; bars over "
        f"the optimum: ours {ours_over}, first fit {ffd_over} (goal: at most a fifth)"
    )
    if beaten:
        print(
            f"assignment, {run.assignment_s:g} s: out of time, or 20 times slower, on "
            f"{sum(beaten)} of {len(beaten)}; where both proved, median {median(ratios or [0]):.1f}"
            " times slower"
        )


def priced(kind: str, seed: int) -> tuple[list[CutPart], list[StockBar]]:
    """25 lengths, 150 pieces of 180 to 2350 mm, five stock lengths."""
    rng = np.random.default_rng(seed)
    lengths = rng.integers(180, 2351, size=25)
    counts = rng.multinomial(125, [1 / 25] * 25) + 1
    parts = [
        CutPart(mark=f"P{n}", section="s", length_mm=Decimal(int(a)), count=int(c))
        for n, (a, c) in enumerate(zip(lengths, counts, strict=True))
    ]
    stock = []
    for length in (2400, 3000, 3600, 4800, 6000):
        cents = 400 * length / 1000
        if kind == "cents":
            cents *= 1 + rng.uniform(-0.08, 0.08)
        price = Decimal(int(cents)) / 100
        stock.append(StockBar(section="s", length_mm=Decimal(length), price=price))
    return parts, stock


def centre(seed: int) -> tuple[list[CutPart], list[StockBar]]:
    """60 lengths, 1500 pieces, six stock lengths at arbitrary prices."""
    rng = np.random.default_rng(1000 + seed)
    lengths = rng.integers(180, 2351, size=60)
    counts = rng.multinomial(1440, [1 / 60] * 60) + 1
    parts = [
        CutPart(mark=f"P{n}", section="s", length_mm=Decimal(int(a)), count=int(c))
        for n, (a, c) in enumerate(zip(lengths, counts, strict=True))
    ]
    stock = []
    for length in (2400, 3000, 3600, 4200, 4800, 6000):
        cents = int(400 * length / 1000 * (1 + rng.uniform(-0.08, 0.08)))
        stock.append(StockBar(section="s", length_mm=Decimal(length), price=Decimal(cents) / 100))
    return parts, stock


def build_of(kind: str, seed: int) -> tuple[list[CutPart], list[StockBar]]:
    """Parts and stock of a made-up build."""
    if kind == "centre":
        return centre(seed)
    parts, stock = priced("cents" if kind == "cents" else "by metre", seed)
    return parts, stock[-1:] if kind == "one" else stock


def builds(run: Run, kind: str, seeds: range, allowed_s: float, goal: str) -> None:
    """Money above the bound; first-fit decreasing with the best single length beside it."""
    print(f"\n{kind:8} seed      cost     bound  above % proven      s | first fit above %")
    above, ffd_above, took, proofs = [], [], [], []
    for seed in seeds:
        parts, stock = build_of(kind, seed)
        start = run.clock()
        plan = cut_plan(parts, stock, KERF_MM, allowed_s, clock=run.clock)
        took.append(run.clock() - start)
        pieces = [int(p.length_mm) + KERF_MM for p in parts for _ in range(p.count)]
        ffd = min(
            bar.price * first_fit_decreasing(pieces, int(bar.length_mm) + KERF_MM)
            for bar in stock
            if bar.length_mm >= max(part.length_mm for part in parts)
        )
        above.append(100 * float(plan.cost / plan.lower_bound - 1))
        ffd_above.append(100 * float(ffd / plan.lower_bound - 1))
        proofs.append(plan.proven)
        print(
            f"{kind:8} {seed:4} {plan.cost:9} {plan.lower_bound:9} {above[-1]:8.3f} "
            f"{'yes' if plan.proven else 'no':>6} {took[-1]:6.2f} | {ffd_above[-1]:.2f}",
            flush=True,
        )
    print(
        f"{kind}: proven {sum(proofs)} of {len(proofs)} in {allowed_s} s; median "
        f"{median(took):.2f} s, longest {max(took):.2f} s; above the bound: mean "
        f"{mean(above):.3f} %, most {max(above):.3f} %; first fit {mean(ffd_above):.2f} %. "
        f"Goal: {goal}"
    )


def pattern_counts(run: Run) -> None:
    """Different patterns with the second wish and without, at the same cost."""
    import mewswright.build.cut.few as few

    plain = wished = 0
    for kind in ("metre", "one", "cents"):
        for seed in run.seeds(10):
            parts, stock = build_of(kind, seed)
            with_it = cut_plan(parts, stock, KERF_MM, HOUSEHOLD_S)
            with mock.patch.object(few, "WORK", 0.0):
                without = cut_plan(parts, stock, KERF_MM, HOUSEHOLD_S)
            assert not with_it.proven or with_it.cost <= without.cost, "the wish cost money"
            plain += len(without.sections[0].patterns)
            wished += len(with_it.sections[0].patterns)
    print(f"\npatterns of all builds: {wished} wished for, {plain} not")


def main() -> None:
    """Run the sections asked for."""
    given = argparse.ArgumentParser(description=__doc__)
    given.add_argument("names", nargs="*", help="only instances whose names hold one of these")
    given.add_argument("--sections", default=",".join(SECTIONS), help="some, with commas")
    given.add_argument("--assignment-s", type=float, help="0: leave that model out; 90, quick 0")
    given.add_argument("--quick", action="store_true", help="three seeds, a few instances")
    given.add_argument("--wall", action="store_true", help="time by the clock on the wall")
    options = given.parse_args()
    seconds = options.assignment_s
    if seconds is None:
        seconds = 0 if options.quick else 90
    run = Run(perf_counter if options.wall else process_time, options.quick, seconds)
    chosen = options.sections.split(",")
    folder = os.environ.get("MEWSWRIGHT_BENCH")
    if "open" in chosen and not folder:
        print("MEWSWRIGHT_BENCH is not set: the open instances are left out")
    elif "open" in chosen:
        instances = open_instances(Path(folder or ""))
        if options.names:
            instances = [i for i in instances if any(part in i[0] for part in options.names)]
        equal_bars(run, instances[:: 7 if options.quick else 1])
    if "planted" in chosen and not options.names:
        equal_bars(run, [planted(seed, bars) for bars in (20, 60) for seed in run.seeds(3)])
    if "metre" in chosen:
        builds(run, "metre", run.seeds(50), HOUSEHOLD_S, "98 % proven, median 0.5 s")
    if "one" in chosen:
        builds(run, "one", run.seeds(50), HOUSEHOLD_S, "98 % proven, median 0.5 s")
    if "cents" in chosen:
        builds(run, "cents", run.seeds(50), CENTS_S, "mean 0.25 %, most 0.5 %")
    if "centre" in chosen:
        builds(run, "centre", run.seeds(5), CENTRE_S, "most 0.1 %")
    if "patterns" in chosen:
        pattern_counts(run)


if __name__ == "__main__":
    main()
