"""Cut plans beside first-fit decreasing and a plain assignment model in the same solver.

A keeper waits for a plan and pays for its bars, so both are measured: seconds, and bars or
money above the best known. The open instances are read from the folder that MEWSWRIGHT_BENCH
names (their licence does not let them be shipped); the generated ones are always there.

    MEWSWRIGHT_BENCH=/path/to/bench python benchmarks/cut.py [--assignment-s 5] [NAME ...]
"""

import argparse
import csv
import os
from decimal import Decimal
from pathlib import Path
from time import perf_counter

import numpy as np

from mewswright.build.cut.plan import CutPart, StockBar
from mewswright.build.cut.solve import cut_plan
from mewswright.build.cut.solver import quiet_solver

ALLOWED_S = 20
KERF_MM = 3
GOAL = 0.7


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


def equal_bars(chosen: list[str], assignment_s: float) -> None:
    """The count of bars, one stock length."""
    folder = os.environ.get("MEWSWRIGHT_BENCH")
    instances = open_instances(Path(folder)) if folder else []
    if not folder:
        print("MEWSWRIGHT_BENCH is not set: the open instances are left out")
    shipped = [planted(seed, bars) for bars in (20, 60) for seed in range(3)]
    print(f"{'instance':28} best ours bound proven      s | ffd  1/s | assigned proven  x time")
    tally = {"open": [0, 0], "planted": [0, 0]}
    for name, room, sizes, best in instances + shipped:
        if chosen and not any(part in name for part in chosen):
            continue
        parts = [
            CutPart(mark=f"P{size}", section="s", length_mm=Decimal(size), count=count)
            for size, count in sizes.items()
        ]
        stock = [StockBar(section="s", length_mm=Decimal(room), price=Decimal(1))]
        start = perf_counter()
        plan = cut_plan(parts, stock, 0, ALLOWED_S, clock=perf_counter)
        ours_s = perf_counter() - start
        assert plan.lower_bound <= best <= plan.cost, f"{name}: a bound or a plan is wrong"
        assert not plan.proven or plan.cost == best, f"{name}: a false proof"
        start = perf_counter()
        ffd = first_fit_decreasing([s for s, n in sizes.items() for _ in range(n)], room)
        ffd_s = perf_counter() - start
        beside = ""
        if assignment_s:
            start = perf_counter()
            bars, sure = assignment(sizes, room, ffd, assignment_s)
            took = perf_counter() - start
            beside = f"{bars or '-':>8} {'yes' if sure else 'no':>6} {took / ours_s:7.1f}"
        kind = "planted" if name.startswith("planted") else "open"
        tally[kind][0] += plan.proven
        tally[kind][1] += 1
        print(
            f"{name:28} {best:4} {plan.cost:4} {plan.lower_bound:5} "
            f"{'yes' if plan.proven else 'no':>6} {ours_s:6.2f} | {ffd:3} {ours_s / ffd_s:4.0f} | "
            + beside,
            flush=True,
        )
    for kind, (proven, all_of) in tally.items():
        if all_of:
            print(f"{kind}: {proven} of {all_of} proven within {ALLOWED_S} s, none falsely")
    if folder and not chosen:
        assert tally["open"][0] >= GOAL * tally["open"][1], "fewer proofs than the goal"


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


def several_stocks() -> None:
    """Money, five stock lengths; first-fit decreasing with the best single length."""
    print(f"\n{'prices':12} seed      ours     bound proven      s | ffd, best length")
    for kind in ("by metre", "cents"):
        proven, seeds = 0, 8
        for seed in range(seeds):
            parts, stock = priced(kind, seed)
            start = perf_counter()
            plan = cut_plan(parts, stock, KERF_MM, ALLOWED_S, clock=perf_counter)
            ours_s = perf_counter() - start
            pieces = [int(p.length_mm) + KERF_MM for p in parts for _ in range(p.count)]
            ffd = min(
                bar.price * first_fit_decreasing(pieces, int(bar.length_mm) + KERF_MM)
                for bar in stock
            )
            proven += plan.proven
            print(
                f"{kind:12} {seed:4} {plan.cost:9} {plan.lower_bound:9} "
                f"{'yes' if plan.proven else 'no':>6} {ours_s:6.2f} | "
                f"+{float(ffd / plan.cost - 1):.1%}",
                flush=True,
            )
        print(f"{kind}: {proven} of {seeds} proven within {ALLOWED_S} s")


if __name__ == "__main__":
    given = argparse.ArgumentParser(description=__doc__)
    given.add_argument("names", nargs="*", help="only instances whose names hold one of these")
    given.add_argument("--assignment-s", type=float, default=5, help="0: leave that model out")
    options = given.parse_args()
    equal_bars(options.names, options.assignment_s)
    if not options.names:
        several_stocks()
