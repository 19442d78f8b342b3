"""Whole bars from given patterns: a set-cover program for the integer solver."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil

import numpy as np

from mewswright.build.cut.effort import Effort
from mewswright.build.cut.sawing import Bars, Counts, Sawing
from mewswright.build.cut.solver import quiet_solver


@dataclass(frozen=True)
class Chosen:
    """What the solver found: bars (None: nothing within the target), and whether it is sure."""

    plan: list[Bars] | None
    exhausted: bool  # the solver says that the patterns given allow nothing better
    bound: int = 0  # no plan made of the patterns given costs less, says the solver


def choose_bars(
    sawing: Sawing,
    stock: Counts,
    pieces: Counts,
    demand: Counts,
    available: Counts,
    most_cost: int,
    nodes: int,
    effort: Effort,
    only_within: bool = True,
) -> Chosen:
    """Cheapest way to cut the demand with given patterns.

    The solver works in floating point with a feasibility tolerance of 1e-6. Whatever plan
    it gives is counted again in whole numbers; its word that none exists is taken.

    Args:
        sawing: The problem.
        stock: Stock of each pattern.
        pieces: Patterns, one a row.
        demand: Pieces wanted; a plan may cut more.
        available: Bars available, -1 for no limit.
        most_cost: Highest cost of interest [price units].
        nodes: Branching nodes allowed.
        effort: Its remaining time is the solver's limit.
        only_within: Forbid plans above `most_cost` by a row of the program: quick to show
            that there is none. Without the row dearer plans are found and given too.
    """
    import highspy

    seconds = effort.seconds_left()
    options: dict[str, bool | int | float | str] = {
        "mip_max_nodes": nodes,
        "mip_rel_gap": 0.0,
        "mip_abs_gap": 0.999,
        # Measured on the short lists of tight open instances: these three only cost time.
        "mip_allow_restart": False,
        "mip_detect_symmetry": False,
        "mip_heuristic_run_feasibility_jump": False,
    }
    if np.isfinite(seconds):
        options["time_limit"] = max(0.05, seconds)
    highs = quiet_solver(**options)
    limited = np.flatnonzero(available >= 0)
    endless = highspy.kHighsInf
    rows = len(demand) + len(limited) + 1
    price = sawing.price[stock]
    body = np.concatenate(
        [pieces.T, (stock[None, :] == limited[:, None]).astype(np.int64), price[None, :]]
    )
    lp = highspy.HighsLp()
    lp.num_col_, lp.num_row_ = len(stock), rows
    lp.col_cost_ = price.astype(float)
    lp.col_lower_ = np.zeros(len(stock))
    wanted = np.where(pieces > 0, -(-demand // np.maximum(pieces, 1)), 0)
    lp.col_upper_ = wanted.max(axis=1).astype(float)
    lp.row_lower_ = np.concatenate([demand, np.full(len(limited) + 1, -endless)]).astype(float)
    lp.row_upper_ = np.concatenate(
        [
            np.full(len(demand), endless),
            available[limited],
            [most_cost + 0.5 if only_within else endless],
        ]
    ).astype(float)
    lp.integrality_ = [highspy.HighsVarType.kInteger] * len(stock)
    lp.a_matrix_.format_ = highspy.MatrixFormat.kColwise
    column, row = np.nonzero(body.T)
    lp.a_matrix_.start_ = np.searchsorted(column, np.arange(len(stock) + 1)).astype(np.int32)
    lp.a_matrix_.index_ = row.astype(np.int32)
    lp.a_matrix_.value_ = body.T[column, row].astype(float)
    highs.passModel(lp)
    highs.run()
    info = highs.getInfo()
    steps = max(0, info.simplex_iteration_count)
    effort.spend(20_000 + 20 * len(stock) + steps * (10 + 0.2 * rows + 0.02 * len(stock)))
    status = highs.getModelStatus()
    if status == highspy.HighsModelStatus.kInfeasible:
        return Chosen(None, True)
    exhausted = status == highspy.HighsModelStatus.kOptimal
    below = info.mip_dual_bound
    bound = ceil(below - 1e-6 * max(1.0, abs(below))) if 0 < below < 1e15 else 0
    if info.primal_solution_status != 2:  # 2: a feasible point
        return Chosen(None, False, bound)
    count = np.rint(np.array(highs.getSolution().col_value)).astype(np.int64)
    plan = [Bars(int(stock[c]), pieces[c], int(count[c])) for c in np.flatnonzero(count > 0)]
    cut = sum((b.count * b.pieces for b in plan), np.zeros_like(demand))
    used = np.bincount(stock, weights=count, minlength=len(sawing.room)).astype(np.int64)
    sound = (cut >= demand).all() and (used <= available)[available >= 0].all()
    if not sound:
        return Chosen(None, False, bound)
    return Chosen(plan, exhausted, bound)
