"""Where quarters should stand: several good plans, the trade between wishes, or why there is none.

Hard rules keep places out; wishes are weighed over what is left. Every plan that is told has been
held against the exact ground and against the checks of the yard that it makes.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from math import isfinite
from typing import TYPE_CHECKING

from mewswright.fit.place_ask import KINDS, pieces_asked
from mewswright.fit.place_candidates import POINT, Choice, Ground, counts, ground_of
from mewswright.fit.place_fears import fears_of, names_of
from mewswright.fit.place_ground import RULES, Site, site_of
from mewswright.fit.place_piece import Piece
from mewswright.fit.place_plan import Plan, differ_m, is_beaten, plan_of, score_of, told
from mewswright.fit.place_report import GridTold, PlaceReport, PlanTold
from mewswright.fit.place_search import Found, Limits, Table, search, table_of
from mewswright.fit.place_verify import Judge, Verdict
from mewswright.fit.place_why import reasons, relaxations, why
from mewswright.fit.place_wishes import SIDES, WISHES
from mewswright.model.problem import Problem
from mewswright.model.yard import Yard

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

Clock = Callable[[], float]

SHARE_OF_BEST = 0.72  # of the time, for the best plan and its proof
LEAST_ROUNDS, ROUNDS_A_SECOND = 1500, 100  # of ruin and rebuild: at least, and for each piece
LEAST_PARTS, PARTS_A_SECOND = 60, 100  # of all plans, for the proof
TRADE_ROUNDS = 1500
LEAN = 6.0  # how many times more a side weighs in the plan that leans to it
ELSEWHERE_M = 4.0  # so far from the best plan's spots is elsewhere
APART_PLANS_M = 1.5  # two plans differ where some piece stands so far from its like
MOST_PLANS = 6
MOST_CUTS = 6
BEST = "best by the weights"
CAUTIONS = (
    "Distances, weights and the passage are judgements where no law is on record; local rules on "
    "set-backs and building decide.",
    "Sun, wind and noise are reckoned with what stands today: what is placed together does not "
    "shade or shelter each other. The ground is taken as level.",
)
ASSUMED = (
    "The yard file gives no boundary: a box round everything in it was taken as the ground. Give "
    "boundary_m."
)


@dataclass(frozen=True)
class Asked:
    """Numbers of a run, as given."""

    seed: int = 1
    seconds: float = 20.0
    set_back_m: float | None = None
    passage_m: float | None = None
    why: tuple[float, float] | None = None

    def checked(self) -> "Asked":
        """The same, if all of it can be.

        Raises:
            Problem: For a number that cannot be.
        """
        if not (self.seconds > 0 and isfinite(self.seconds)):
            raise Problem(f"--seconds is {self.seconds:g}: give more than 0")
        if self.seed < 0:
            raise Problem(f"--seed is {self.seed}: give 0 or more")
        for name, value, least in (("--set-back", self.set_back_m, 0.0),
                                   ("--passage", self.passage_m, 0.1)):  # fmt: skip
            if value is not None and not (least <= value <= 50):
                raise Problem(f"{name} is {value:g} m: give {least:g} to 50")
        if self.why is not None and not all(isfinite(v) for v in self.why):
            raise Problem("--why needs two numbers, east and north in metres: --why 12.5,8")
        return self


def place(
    yard: Yard,
    new: Sequence[str] = (),
    move: Sequence[str] = (),
    asked: Asked | None = None,
    share: Sequence[str] = (),
    clock: Clock | None = None,
    standards: Sequence[str] | None = None,
) -> PlaceReport:
    """Find places for new and movable quarters.

    Args:
        yard: The yard.
        new: Texts KIND:COUNT or KIND:COUNT:WIDTHxDEPTHxFRONTxBACK.
        move: Names of quarters or rows that may be set down elsewhere.
        asked: Seed, time, set-back, passage, and a place to explain.
        share: Kinds whose new quarters stand in one row with a corridor.
        clock: Gives seconds; None = no limit but counts of steps.
        standards: Standards that the checks judge by; None = the yard's own.

    Raises:
        Problem: For what cannot be asked; says what can.
    """
    given = (asked or Asked()).checked()
    begun = clock() if clock is not None else 0.0

    def used() -> float:
        return 0.0 if clock is None else (clock() - begun) / given.seconds

    def late(share_of: float) -> bool:
        return used() > share_of

    only_why = given.why is not None and not new and not move
    pieces = pieces_asked(yard, [f"{kind}:1" for kind in KINDS] if only_why else new, move, share)
    site = site_of(yard, pieces, given.set_back_m, given.passage_m)
    fears = fears_of(yard, [name for piece in pieces for name in names_of(piece)])
    ground = ground_of(site, pieces, fears)
    table = table_of(ground)
    if only_why:
        return _report(table, given, (), None, 0, late, clock, begun)
    before = used()
    judge = Judge(site, standards)
    check = used() - before  # what one run of the checks takes of the time
    found, plan, verdict, bound = _best(table, given, late, judge, check)
    plans: tuple[PlanTold, ...] = ()
    if plan is not None and verdict is not None:
        plans = (told(table, plan, 1, bound, verdict),
                 *_trade(table, plan, bound, given, late, judge, check))  # fmt: skip
    return _report(table, given, plans, plan, bound, late, clock, begun, found)


def _best(
    table: Table, given: Asked, late: Callable[[float], bool], judge: Judge, check: float
) -> tuple[Found, Plan | None, Verdict | None, int]:  # fmt: skip
    """The best plan that the ground and the checks have nothing against, and a bound on all.

    Where a plan shuts off a door or brings harm, the candidate that does it is taken out and the
    search goes on; the bound stays that of all candidates, so nothing is called proven then.
    """
    bound: int | None = None
    until = max(0.2, min(SHARE_OF_BEST, 0.95 - check))
    here = table
    found = Found((), 0, 0, 0, 0)
    for _ in range(MOST_CUTS):
        n = len(table.mark)
        rounds = max(LEAST_ROUNDS, int(ROUNDS_A_SECOND * n * given.seconds))
        parts = max(LEAST_PARTS, int(PARTS_A_SECOND * given.seconds))
        limits = Limits(rounds, lambda share: late(share * until), parts)
        found = search(here, given.seed, limits)
        if not found.is_whole:
            return found, None, None, bound or 0
        if bound is None:
            bound = found.bound
        plan = plan_of(here, BEST, found.chosen)
        verdict = judge.verdict(plan.placed)
        if verdict.is_sound:
            # Told with the candidates of the first table, which the others are cut from.
            return found, _in(table, here, plan), verdict, bound
        here = _without(here, found, plan, verdict)
        if any(not len(choice.square) for choice in here.ground.choices):
            break
    return replace(found, chosen=(-1,) * len(table.mark)), None, None, bound or 0


def _in(table: Table, here: Table, plan: Plan) -> Plan:
    """A plan of a cut table with the candidates of the whole one."""
    import numpy as np

    if here is table:
        return plan
    chosen = []
    for p, i in enumerate(plan.chosen):
        cut, whole = (t.ground.choices[int(t.mark[p])] for t in (here, table))
        same = (whole.square == cut.square[i]) & (whole.heading == cut.heading[i])
        chosen.append(int(np.flatnonzero(same)[0]))
    return replace(plan, chosen=tuple(chosen))


def _without(table: Table, found: Found, plan: Plan, verdict: Verdict) -> Table:
    """The table without the candidates that a verdict is against."""
    import numpy as np

    blamed = {*verdict.cut_off, *verdict.outside, *(name for pair in verdict.meet for name in pair)}
    blamed |= {f.quarters for f in verdict.harm if f.quarters}
    names = [set(names_of(one.piece)) | {one.piece.name} for one in plan.placed]
    guilty = [p for p, of in enumerate(names) if of & blamed] or list(range(len(names)))
    choices = list(table.ground.choices)
    for p in guilty:
        m = int(table.mark[p])
        square = table.ground.choices[m].square[found.chosen[p]]
        heading = table.ground.choices[m].heading[found.chosen[p]]
        c = choices[m]
        keep = np.flatnonzero((c.square != square) | (c.heading != heading))
        choices[m] = Choice(c.alike, c.piece, c.square[keep], c.heading[keep], c.missed[keep],
                            c.weights)  # fmt: skip
    old = table.ground
    return table_of(Ground(old.site, old.grid, old.fields, old.pieces, tuple(choices), old.fears))


def _trade(table: Table, best: Plan, bound: int, given: Asked, late: Callable[[float], bool],
           judge: Judge, check: float) -> tuple[PlanTold, ...]:  # fmt: skip
    """Other plans: some lean to one side of the wishes, some keep off the best plan's spots.

    None is beaten by another in every wish, and in each some piece stands elsewhere.
    """
    found: list[Plan] = []
    for aim, costs in _aims(table, best):
        if late(0.92 - check):
            break
        limits = Limits(TRADE_ROUNDS, lambda share: late(0.75 + 0.2 * share))
        other = search(table, given.seed, limits, costs, prove=False)
        if other.is_whole:
            found.append(plan_of(table, aim, other.chosen))
    kept: list[Plan] = [best]
    for plan in sorted(found, key=lambda p: p.cost):
        rest = [p for p in (best, *found) if p is not plan]
        if is_beaten(plan, rest) or any(differ_m(plan, one) < APART_PLANS_M for one in kept):
            continue
        kept.append(plan)
    plans: list[PlanTold] = []
    for plan in kept[1:]:
        if len(plans) + 1 >= MOST_PLANS or late(1.0 - 1.2 * check):
            break
        verdict = judge.verdict(plan.placed)
        if verdict.is_sound:
            plans.append(told(table, plan, len(plans) + 2, bound, verdict))
    return tuple(plans)


def _aims(table: Table, best: Plan) -> Iterator[tuple[str, "tuple[NDArray[np.int64], ...]"]]:
    """What other plans are searched for: a name, and costs of the candidates by mark."""
    import numpy as np

    choices = table.ground.choices
    for side, wishes in SIDES.items():
        lean = np.array([LEAN if wish in wishes else 1.0 for wish in WISHES])
        yield (
            f"more for {side}",
            tuple(
                c.costs(c.weights * lean * (100 / max(1e-9, float((c.weights * lean).sum()))))
                for c in choices
            ),
        )
    x, y = table.middles
    for m, choice in enumerate(choices):
        away = np.full(len(choice.square), np.inf)
        for one in best.placed:
            if one.piece.alike == choice.alike:
                away = np.minimum(
                    away, np.hypot(x[choice.square] - one.x_m, y[choice.square] - one.y_m)
                )
        costs = [c.costs() for c in choices]
        costs[m] = costs[m] + np.where(away < ELSEWHERE_M, POINT * 100, 0)
        yield f"{choice.piece.name.removesuffix(' 1')} elsewhere", tuple(costs)


def _report(table: Table, given: Asked, plans: tuple[PlanTold, ...], plan: Plan | None, bound: int,
            late: Callable[[float], bool], clock: Clock | None, begun: float,
            found: Found | None = None) -> PlaceReport:  # fmt: skip
    ground, site = table.ground, table.ground.site
    lacking = found is not None and plan is None
    n = len(ground.pieces)
    names = [piece.name for piece in ground.pieces]
    unplaced = tuple(
        name for name, i in zip(names, found.chosen, strict=True) if i < 0
    ) if lacking and found is not None else ()  # fmt: skip
    first = plans[0] if plans else None
    return PlaceReport(
        yard=site.yard.yard.name,
        asked=tuple(names),
        plans=plans,
        score=first.score if first else None,
        bound=score_of(bound, n) if first else None,
        gap=_gap(first),
        proven=bool(first and first.proven),
        placed=n - len(unplaced) if first or lacking else 0,
        unplaced=unplaced,
        reasons=reasons(ground, found, late) if lacking and found is not None else (),
        relax=relaxations(ground, found, given.seed, late) if lacking and found is not None else (),
        why=None if given.why is None else why(table, plan, given.why),
        grid=GridTold(
            step_m=ground.grid.step_m,
            squares=ground.grid.nx * ground.grid.ny,
            headings_deg=tuple(round(float(h), 3) for h in ground.fields.headings),
            candidates=dict(counts(ground)),
        ),
        rules={str(rule): words for rule, words in RULES.items()},
        set_back_m=site.set_back_m,
        passage_m=site.passage_m,
        seed=given.seed,
        seconds=round(clock() - begun, 2) if clock is not None else 0.0,
        cautions=(*CAUTIONS, *_about(site, ground.pieces)),
    )  # fmt: skip


def _gap(first: PlanTold | None) -> float | None:
    """How far a plan may lie above the best, as a share of it."""
    if first is None:
        return None
    return 0.0 if first.score <= 0 else round(max(0.0, 1 - first.bound / first.score), 4)


def _about(site: Site, pieces: Sequence[Piece]) -> tuple[str, ...]:
    """What the yard file does not say, and what stands in for it."""
    yard, told = site.yard, [ASSUMED] if site.is_assumed else []
    if not yard.wind_rose:
        told.append("The yard file has no wind_rose: no place is better out of the wind here.")
    if not site.starts:
        told.append(
            "The yard file has no weighing room and no gate: walks begin in the widest open ground."
        )
    if not any(f.kind == "camera" for f in yard.feature):
        told.append("The yard file has no camera: no place is better in view.")
    if any(piece.is_new for piece in pieces):
        told.append(
            "New quarters are bare boxes of ample size for the widest bird of the yard unless a "
            "size is given; `mewswright fit` lays them out."
        )
    return tuple(told)
