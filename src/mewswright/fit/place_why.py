"""Why a place is refused, and what would make room where nothing fits."""

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from mewswright.fit.place_candidates import Choice, Ground, choices_of, counts
from mewswright.fit.place_fears import afraid_mask
from mewswright.fit.place_ground import RULES, Rule, Site, outline
from mewswright.fit.place_piece import Piece, Placed
from mewswright.fit.place_plan import Plan, missed_points, score_of
from mewswright.fit.place_report import Reason, Refusal, Relax, WhyPiece, WhyTold
from mewswright.fit.place_search import Found, Limits, Table, search, table_of
from mewswright.fit.place_wishes import WISHES, misses

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

TRIED: tuple[Rule, ...] = (
    "quarters", "boundary", "hazard", "way", "roots", "suspect_tree", "power_line", "apart",
    "sight", "access",
)  # fmt: skip
REMEDY: dict[Rule, str] = {
    "quarters": "if other quarters made way: give some of them with --move",
    "boundary": "with no set-back from the boundary: --set-back 0, if the law allows",
    "hazard": "nearer to what stands on the ground: give a smaller --passage, or move a thing",
    "way": "nearer to roads, paths, gates and taps: move one of these",
    "roots": "within the roots of trees, on feet that spare them: ask who knows trees",
    "suspect_tree": "if the suspect trees were made safe: have them looked at first",
    "power_line": "nearer to the power line: ask its owner",
    "apart": "with isolation nearer to other birds: a disease then travels more easily",
    "sight": "in sight of birds that are feared: screens would have to stand between",
    "access": "if a way were opened to the ground that nobody reaches now",
}
RELAX_ROUNDS = 1000
TELL_DEARER = 0.5  # points


def refusals(site: Site, ground: Ground, piece: Piece, x_m: float, y_m: float, heading_deg: float
             ) -> list[Refusal]:  # fmt: skip
    """Every rule of the ground that a piece breaks where it is set down.

    Args:
        site: The site.
        ground: Who must not see whom.
        piece: The piece.
        x_m: East of the middle of its outside.
        y_m: North of it.
        heading_deg: Bearing of its front.
    """
    import numpy as np
    import shapely

    placed = Placed(piece, x_m, y_m, heading_deg)
    shape = outline(placed)
    found = []
    inside = site.boundary.buffer(-site.set_back_m, join_style="mitre")
    if not inside.covers(shape):
        edge = float(site.boundary.exterior.distance(shape))
        out = not site.boundary.covers(shape)
        found.append(
            Refusal(
                rule="boundary", thing="boundary", measured_m=0.0 if out else round(edge, 2),
                asked_m=site.set_back_m, headings=1,
                words="it lies over the boundary" if out
                else f"{edge:.2f} m from the boundary, {site.set_back_m:g} m asked",
            )
        )  # fmt: skip
    for off in site.off(piece.living_kind):
        if not off.area.intersects(shape) or off.area.touches(shape):
            continue
        away = float(off.own.distance(shape))
        found.append(
            Refusal(
                rule=off.rule, thing=off.thing, measured_m=round(away, 2),
                asked_m=round(off.away_m, 2), headings=1,
                words=f"{away:.2f} m from {off.thing}, {off.away_m:.2f} m asked: {RULES[off.rule]}",
            )
        )  # fmt: skip
    if not site.at_hand_today.intersects(shapely.Point(placed.door_m)):
        found.append(
            Refusal(rule="access", thing="door", measured_m=None, asked_m=None, headings=1,
                    words="nobody gets to its door there on foot with the barrow")
        )  # fmt: skip
    if afraid_mask(ground.fears, site, piece, heading_deg, np.array([x_m]), np.array([y_m]))[0]:
        found.append(
            Refusal(rule="sight", thing="birds", measured_m=None, asked_m=None, headings=1,
                    words="a bird there would see one that it fears, or be feared")
        )  # fmt: skip
    return found


def why(table: Table, plan: Plan | None, spot: tuple[float, float]) -> WhyTold:
    """Say of a place what refuses each kind of piece, or why it is not taken."""
    return WhyTold(
        x_m=spot[0], y_m=spot[1],
        pieces=tuple(_why_piece(table, plan, choice, spot) for choice in table.ground.choices),
    )  # fmt: skip


def _why_piece(table: Table, plan: Plan | None, choice: Choice, spot: tuple[float, float]
               ) -> WhyPiece:  # fmt: skip
    import numpy as np

    ground, piece = table.ground, choice.piece
    x, y = np.array([spot[0]]), np.array([spot[1]])
    by_thing: dict[tuple[str, str], list[Refusal]] = {}
    best: tuple[float, int] | None = None
    fewest: int | None = None
    headings = range(len(ground.fields.headings))
    for h in headings:
        deg = float(ground.fields.headings[h])
        found = refusals(ground.site, ground, piece, *spot, deg)
        fewest = len(found) if fewest is None else min(fewest, len(found))
        for one in found:
            by_thing.setdefault((one.rule, one.thing), []).append(one)
        if not found:
            points = float((misses(piece, ground.fields, h, x, y)[0] * choice.weights).sum())
            if best is None or points < best[0]:
                best = points, h
    told = tuple(
        sorted((_worst(ones) for ones in by_thing.values()), key=lambda r: (-r.headings, r.rule))
    )
    if best is None:
        return WhyPiece(
            piece=piece.name, kind=piece.kind, allowed=False, heading_deg=None, score=None,
            instead=None, dearer={}, in_the_way=(), refused=told,
            words=f"{piece.name} cannot stand there: " + "; ".join(r.words for r in told[:4]),
        )  # fmt: skip
    points, h = best
    deg = float(ground.fields.headings[h])
    here = misses(piece, ground.fields, h, x, y)[0] * choice.weights
    instead: float | None = None
    dearer: dict[str, float] = {}
    way: tuple[str, ...] = ()
    words = f"{piece.name} may stand there, facing {deg:.0f} deg"
    if plan is not None:
        instead, dearer = _beside(table, plan, choice, here)
        way = _in_the_way(table, plan, piece, spot, deg)
        more = ", ".join(f"{wish.replace('_', ' ')} {p:+.1f}" for wish, p in dearer.items())
        words += f"; it would miss {points:.1f} points against {instead:.1f} in the plan"
        words += f" ({more})" if more else ""
        words += f"; {', '.join(way)} would be in the way" if way else ""
    return WhyPiece(
        piece=piece.name, kind=piece.kind, allowed=True, heading_deg=round(deg, 3),
        score=round(points, 2), instead=None if instead is None else round(instead, 2),
        dearer=dearer, in_the_way=way, refused=told, words=words,
    )  # fmt: skip


def _worst(ones: Sequence[Refusal]) -> Refusal:
    """One refusal for all headings: told at the heading where the least is missing."""
    best = max(ones, key=lambda r: -1.0 if r.measured_m is None else r.measured_m)
    return best.model_copy(update={"headings": len(ones)})


def _beside(table: Table, plan: Plan, choice: Choice, here: "NDArray[np.float64]"
            ) -> tuple[float, dict[str, float]]:  # fmt: skip
    """Points that the dearest of its like misses in a plan, and wishes that differ most."""
    points = missed_points(table, plan.chosen)
    alike = [k for k, one in enumerate(plan.placed) if one.piece.alike == choice.alike]
    row = max((points[k] for k in alike), key=lambda r: float(r.sum()))
    change = {w: round(float(a - b), 2) for w, a, b in zip(WISHES, here, row, strict=True)
              if abs(a - b) >= TELL_DEARER}  # fmt: skip
    return float(row.sum()), dict(sorted(change.items(), key=lambda kv: -abs(kv[1]))[:4])


def _in_the_way(table: Table, plan: Plan, piece: Piece, spot: tuple[float, float], deg: float
                ) -> tuple[str, ...]:  # fmt: skip
    shape = outline(Placed(piece, *spot, deg))
    passage = table.ground.site.passage_m
    return tuple(
        one.piece.name for one in plan.placed if outline(one).distance(shape) < passage - 1e-6
    )


def reasons(ground: Ground, found: Found, late: Callable[[float], bool]) -> tuple[Reason, ...]:
    """What each rule takes from the kinds of pieces that lack a place."""
    have = counts(ground)
    lacking = {p.alike for p, i in zip(ground.pieces, found.chosen, strict=True) if i < 0}
    pieces = [c.piece for c in ground.choices if c.alike in lacking]
    told = []
    for piece in pieces:
        told.append(
            Reason(
                piece=piece.name, rule="room", places=have[piece.alike],
                places_without=have[piece.alike],
                words=f"{have[piece.alike]} places and headings pass every rule for {piece.name}, "
                f"which with its walls is {2 * piece.half_m[0]:.2f} x {2 * piece.half_m[1]:.2f} m"
                + ("" if have[piece.alike] == 0 else "; together with the others none was found"),
            )
        )  # fmt: skip
    for rule in TRIED:
        if late(0.85):
            break
        wider = choices_of(ground.site, ground.grid, ground.fields, pieces, ground.fears, (rule,))
        for choice in wider:
            more = len(choice.square)
            if more > have[choice.alike]:
                told.append(
                    Reason(
                        piece=choice.piece.name, rule=rule, places=have[choice.alike],
                        places_without=more,
                        words=f"{RULES[rule]}: {more - have[choice.alike]} more places for "
                        f"{choice.piece.name} without it",
                    )
                )  # fmt: skip
    return tuple(told)


def relaxations(ground: Ground, found: Found, seed: int, late: Callable[[float], bool]
                ) -> tuple[Relax, ...]:  # fmt: skip
    """Rules that, left out one at a time, make room for everything; and how many fit as it is."""
    told = []
    got = sum(i >= 0 for i in found.chosen)
    if got:
        left = [p.name for p, i in zip(ground.pieces, found.chosen, strict=True) if i < 0]
        told.append(
            Relax(change="fewer", words=f"place {got} of {len(found.chosen)}: leave out "
                  f"{', '.join(left)}, or make them smaller",
                  score=score_of(found.cost, got))
        )  # fmt: skip
    have = counts(ground)
    for rule in TRIED:
        if late(0.97):
            break
        wider = choices_of(ground.site, ground.grid, ground.fields, ground.pieces, ground.fears,
                           (rule,))  # fmt: skip
        if all(len(c.square) == have[c.alike] for c in wider):
            continue
        if any(not len(c.square) for c in wider):
            continue
        trial = Ground(ground.site, ground.grid, ground.fields, ground.pieces, wider, ground.fears)
        plan = search(table_of(trial), seed, Limits(RELAX_ROUNDS, late), prove=False)
        if plan.is_whole:
            told.append(
                Relax(change=rule, words=f"all would find a place {REMEDY[rule]}",
                      score=score_of(plan.cost, len(plan.chosen)))
            )  # fmt: skip
    return tuple(told)
