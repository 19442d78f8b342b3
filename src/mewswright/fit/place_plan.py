"""From candidates to plans: set down, weighed wish by wish, and told."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from mewswright.fit.place_candidates import POINT, Choice
from mewswright.fit.place_piece import Placed
from mewswright.fit.place_report import PiecePlace, PlanTold, ScorePart, UnitPlace
from mewswright.fit.place_search import Table
from mewswright.fit.place_verify import Verdict
from mewswright.fit.place_wishes import WHAT, WISHES

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

MOST_TOLD = 12  # new findings of a plan that are told


@dataclass(frozen=True, eq=False)
class Plan:
    """A plan: the aim it was searched for, candidates by piece, cost, and where things stand."""

    aim: str
    chosen: tuple[int, ...]
    cost: int
    placed: tuple[Placed, ...]
    points: tuple[float, ...]  # missed of each wish, mean over the pieces


def choice_of(table: Table, piece: int) -> Choice:
    """The candidates that a piece chooses from."""
    return table.ground.choices[int(table.mark[piece])]


def placed_by(table: Table, chosen: Sequence[int]) -> tuple[Placed, ...]:
    """Set the pieces down where their candidates are; those without are left out."""
    x, y = table.middles
    headings = table.ground.fields.headings
    told = []
    for p, i in enumerate(chosen):
        if i < 0:
            continue
        choice = choice_of(table, p)
        square = int(choice.square[i])
        told.append(Placed(table.ground.pieces[p], float(x[square]), float(y[square]),
                           float(headings[int(choice.heading[i])])))  # fmt: skip
    return tuple(told)


def missed_points(table: Table, chosen: Sequence[int]) -> "NDArray[np.float64]":
    """Points missed by each piece that has a place, wish by wish (pieces, wishes)."""
    import numpy as np

    rows = [choice_of(table, p).missed[i] * choice_of(table, p).weights
            for p, i in enumerate(chosen) if i >= 0]  # fmt: skip
    return np.array(rows).reshape(-1, len(WISHES))


def plan_of(table: Table, aim: str, chosen: Sequence[int]) -> Plan:
    """Weigh candidates as a plan, by the pieces' own weights."""
    points = tuple(float(p) for p in missed_points(table, chosen).mean(axis=0))
    cost = sum(int(choice_of(table, p).costs()[i]) for p, i in enumerate(chosen) if i >= 0)
    return Plan(aim, tuple(chosen), cost, placed_by(table, chosen), points)


def told(table: Table, plan: Plan, rank: int, bound: int, verdict: Verdict) -> PlanTold:
    """Tell a plan."""
    n = len(plan.placed)
    chosen = [(p, i) for p, i in enumerate(plan.chosen) if i >= 0]
    points = missed_points(table, plan.chosen)
    weights = [choice_of(table, p).weights for p, _ in chosen]
    parts = []
    for k, wish in enumerate(WISHES):
        of = sum(float(w[k]) for w in weights) / n
        got = float(points[:, k].mean())
        parts.append(ScorePart(wish=wish, what=WHAT[wish], points=round(got, 2), of=round(of, 2),
                               share=round(got / of, 3) if of else 0.0))  # fmt: skip
    pieces = tuple(
        _piece(one, float(row.sum()), choice_of(table, p).missed[i])
        for one, row, (p, i) in zip(plan.placed, points, chosen, strict=True)
    )
    bad = (*verdict.harm, *verdict.short)
    return PlanTold(
        rank=rank, aim=plan.aim, score=score_of(plan.cost, n), bound=score_of(bound, n),
        proven=bound >= plan.cost, parts=tuple(parts), pieces=pieces, harm=len(verdict.harm),
        short=len(verdict.short), new_findings=tuple(f"{f.code} {f}" for f in bad[:MOST_TOLD]),
    )  # fmt: skip


def score_of(cost: int, pieces: int) -> float:
    """Points missed in the mean of the pieces."""
    return round(cost / POINT / max(1, pieces), 4)


def _piece(one: Placed, score: float, missed: "NDArray[np.float64]") -> PiecePlace:
    first = one.quarters[0]
    return PiecePlace(
        name=one.piece.name, kind=one.piece.kind, x_m=first.at_m[0], y_m=first.at_m[1],
        heading_deg=first.facing_deg, middle_m=_round(one.x_m, one.y_m),
        corners_m=tuple(_round(*c) for c in one.corners_m), door_m=_round(*one.door_m),
        score=round(score, 2),
        missed={wish: round(float(m), 3) for wish, m in zip(WISHES, missed, strict=True)},
        units=tuple(
            UnitPlace(name=q.name, kind=q.kind, x_m=q.at_m[0], y_m=q.at_m[1],
                      heading_deg=q.facing_deg)
            for q in one.quarters
        ),
    )  # fmt: skip


def _round(x: float, y: float) -> tuple[float, float]:
    return round(x, 3), round(y, 3)


def differ_m(one: Plan, other: Plan) -> float:
    """How far the piece that moves farthest between two plans moves [m]; alike ones may swap."""
    worst = 0.0
    marks = {p.piece.alike for p in one.placed}
    for mark in marks:
        a = [(p.x_m, p.y_m) for p in one.placed if p.piece.alike == mark]
        b = [(p.x_m, p.y_m) for p in other.placed if p.piece.alike == mark]
        for x, y in a:
            near = min((((x - u) ** 2 + (y - v) ** 2) ** 0.5 for u, v in b), default=99.0)
            worst = max(worst, near)
    return worst


def is_beaten(one: Plan, others: Sequence[Plan]) -> bool:
    """Whether another plan misses as little of every wish, and less of one."""
    return any(
        all(b <= a + 1e-9 for a, b in zip(one.points, other.points, strict=True))
        and any(b < a - 1e-6 for a, b in zip(one.points, other.points, strict=True))
        for other in others
    )
