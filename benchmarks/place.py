"""Plans for generated yards beside the best of random search in the same time; what is proven.

A keeper waits at the table. For six pieces it is told how many plans are proven and how long that
took; for twelve how near the plan of 20 s comes to that of a long run, and how high the bound
lies. Random search throws the same pieces at the same candidates, whole plans that the rules
allow, as fast as the same compiled test of two pieces lets it; its best counts. Each plan was
held against the checks. Compiling is done before. Processor seconds: others use the machine too.
"""

import argparse
from statistics import mean, median
from time import process_time

import numpy as np
from numba import njit
from place_yards import SIX, TWELVE, placing_yard

from mewswright.fit.place import Asked, place
from mewswright.fit.place_ask import pieces_asked
from mewswright.fit.place_candidates import POINT, ground_of
from mewswright.fit.place_fears import fears_of
from mewswright.fit.place_ground import site_of
from mewswright.fit.place_kernel import fits
from mewswright.fit.place_report import PlaceReport
from mewswright.fit.place_search import table_of
from mewswright.model.yard import Yard

TRIES = 400  # places thrown for one piece before a plan is given up


@njit
def _thrown(seed, plans, group, starts, cand, cost, rules, best):
    np.random.seed(seed)
    n = len(group)
    out = np.zeros(n, np.bool_)
    for _ in range(plans):
        state = np.full(n, -1, np.int64)
        told = 0
        for p in range(n):
            g = group[p]
            for _ in range(TRIES):
                i = starts[g] + int(np.random.random() * (starts[g + 1] - starts[g]))
                if fits(i, p, state, group, out, cand, rules):
                    state[p] = i
                    told += cost[i]
                    break
            if state[p] < 0:
                break
        if state[n - 1] >= 0 and told < best:
            best = told
    return best


def thrown(yard: Yard, new: tuple[str, ...], seconds: float, seed: int) -> float | None:
    """Score of the best plan thrown in so many processor seconds, the ground's set-up included."""
    begun = process_time()
    pieces = pieces_asked(yard, new, ())
    table = table_of(ground_of(site_of(yard, pieces, None, None), pieces, fears_of(yard, ())))
    every = [np.arange(len(c.square)) for c in table.ground.choices]
    cand, starts = table.rows(list(enumerate(every)))
    cost = np.concatenate([c.costs() for c in table.ground.choices])
    rules = table.rules(range(len(every)))
    none = 10**9
    best, turn = none, 0
    while process_time() - begun < seconds:
        best = _thrown(seed * 1000 + turn, 200, table.mark, starts, cand, cost, rules, best)
        turn += 1
    return None if best == none else best / POINT / len(pieces)


def planned(yard: Yard, new: tuple[str, ...], seconds: float) -> tuple[PlaceReport, float]:
    """The report, and the processor seconds that it took."""
    begun = process_time()
    report = place(yard, new, asked=Asked(seconds=seconds), clock=process_time)
    return report, process_time() - begun


def six(yards: int, seconds: float) -> None:
    """Six pieces: proven, and against random search."""
    proven, took, ratios, harm = 0, [], [], 0
    for seed in range(yards):
        yard = placing_yard(seed)
        report, used = planned(yard, SIX, seconds)
        if not report.plans:
            print(f"  yard {seed}: no plan")
            continue
        proven += report.proven
        took.append(used)
        harm += sum(plan.harm for plan in report.plans)
        other = thrown(yard, SIX, used, seed)
        ratios.append(report.plans[0].score / other if other else 0.0)
        print(f"  yard {seed}: {report.score:.3f}, bound {report.bound:.3f}, {len(report.plans)} "
              f"plans, {used:.1f} s; random {other or float('nan'):.3f}")  # fmt: skip
    print(f"six pieces, {seconds:g} s: {proven} of {yards} proven, median {median(took):.1f} s, "
          f"worst {max(took):.1f} s; score {mean(ratios):.3f} of random's, at the most "
          f"{max(ratios):.3f}; {harm} harms")  # fmt: skip


def twelve(yards: int, seconds: float, long_s: float) -> None:
    """Twelve pieces: against random search, a bound, and a long run."""
    above, bounds, ratios = [], [], []
    for seed in range(yards):
        yard = placing_yard(seed, 60, 45)
        report, used = planned(yard, TWELVE, seconds)
        if report.score is None or report.bound is None:
            print(f"  yard {seed}: no plan")
            continue
        other = thrown(yard, TWELVE, used, seed)
        ratios.append(report.score / other if other else 0.0)
        bounds.append(report.bound / report.score)
        told = ""
        if long_s:
            best = planned(yard, TWELVE, long_s)[0].score or report.score
            above.append(report.score / best - 1)
            told = f"; long run {best:.3f}"
        print(f"  yard {seed}: {report.score:.3f}, bound {bounds[-1]:.1%} of it, {used:.1f} s; "
              f"random {other or float('nan'):.3f}{told}", flush=True)  # fmt: skip
    print(f"twelve pieces, {seconds:g} s: bound {min(bounds):.1%} of the plan at the least; score "
          f"{mean(ratios):.3f} of random's, at the most {max(ratios):.3f}")  # fmt: skip
    if above:
        print(f"  above a run of {long_s:g} s: worst {max(above):.2%}, mean {mean(above):.2%}")


def main() -> None:
    """Print the shares, the seconds and the ratios."""
    ask = argparse.ArgumentParser(description=__doc__)
    ask.add_argument("--six", type=int, default=20)
    ask.add_argument("--six-seconds", type=float, default=5)
    ask.add_argument("--twelve", type=int, default=10)
    ask.add_argument("--twelve-seconds", type=float, default=20)
    ask.add_argument("--long", type=float, default=0, help="Seconds of the long runs; 0 = none.")
    given = ask.parse_args()
    planned(placing_yard(0), SIX, 30)  # compiles
    thrown(placing_yard(0), SIX, 0.1, 0)
    if given.six:
        six(given.six, given.six_seconds)
    if given.twelve:
        twelve(given.twelve, given.twelve_seconds, given.long)


if __name__ == "__main__":
    main()
