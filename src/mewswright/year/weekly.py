"""The year as one weekly model for a constraint solver (OR-Tools' CP-SAT).

A truth for every unit, place and week. Good for small and tight yards, for a few units among
others that stay as they are, and for the proof that nothing fits; slow at a centre's size
(`solve.py` is for that). One worker, a seed and a counted limit give the same answer each time.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Literal

from mewswright.year.cost import plan_cost
from mewswright.year.instance import Instance, Rows

if TYPE_CHECKING:
    from collections.abc import Callable

Found = Literal["plan", "none", "unknown"]


@dataclass(frozen=True)
class Weekly:
    """What the weekly model found.

    Args:
        verdict: "plan", "none" (proven), or "unknown" where it ran out of time.
        rows: The plan, or None.
        cost: Its cost, or None.
        bound: No plan costs less; None where there is none.
        seconds: Time it took [s].
    """

    verdict: Found
    rows: Rows | None
    cost: int | None
    bound: int | None
    seconds: float

    @property
    def proven(self) -> bool:
        """Whether no plan is cheaper, or there is none."""
        return self.verdict == "none" or (self.cost is not None and self.cost == self.bound)


def weekly(
    instance: Instance,
    seconds: float | None,
    seed: int,
    workers: int = 1,
    first_only: bool = False,
    work: float | None = None,
    start: Rows | None = None,
    free: frozenset[int] | None = None,
    below: int | None = None,
    tell: Callable[[Rows, int], bool] | None = None,
) -> Weekly:
    """Solve the weekly model.

    Args:
        instance: What is to be planned.
        seconds: Time allowed [s], None for no end.
        seed: Of the solver.
        workers: Threads; more than one and the answer may differ from run to run.
        first_only: Whether any plan will do: nothing is said of cost, and the bound is 0.
        work: Work allowed, in the solver's own count (about a second each), None for no end.
        start: A plan to begin from, or None.
        free: With `start`: the units that may be planned anew; None for all.
        below: Only plans cheaper than this are asked for.
        tell: Given each better plan and its cost; a True answer ends the search.
    """
    from ortools.sat.python import cp_model

    from mewswright.year.weekly_model import Model

    model = Model(instance, start, free, costs=not first_only)
    if below is not None:
        model.cp.add(model.total <= below - 1)
    solver: Any = cp_model.CpSolver()
    solver.parameters.num_workers = workers
    solver.parameters.random_seed = seed & 0x7FFFFFFF
    if seconds is not None:
        solver.parameters.max_time_in_seconds = max(0.01, seconds)
    if work is not None:
        solver.parameters.max_deterministic_time = max(1e-3, work)
    solver.parameters.stop_after_first_solution = first_only
    if first_only:  # whether there is any plan is mostly told sooner than probing is done
        solver.parameters.cp_model_probing_level = 0

    class Heard(cp_model.CpSolverSolutionCallback):
        def on_solution_callback(self) -> None:
            if tell is not None:
                rows = model.rows(self.value)
                if tell(rows, plan_cost(instance, rows)):
                    self.stop_search()

    status = solver.solve(model.cp, Heard())
    spent = float(solver.wall_time)
    if status == cp_model.INFEASIBLE:
        return Weekly("none", None, None, None, spent)
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        bound = None if first_only else _whole(solver.best_objective_bound)
        return Weekly("unknown", None, None, bound, spent)
    rows = model.rows(solver.value)
    cost = plan_cost(instance, rows)
    bound = 0 if first_only else min(cost, _whole(solver.best_objective_bound))
    return Weekly("plan", rows, cost, bound, spent)


def _whole(bound: float) -> int:
    from math import ceil, isfinite

    return max(0, ceil(bound - 1e-6)) if isfinite(bound) else 0
