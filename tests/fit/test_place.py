"""`place`: plans held against shapely, networkx and full enumeration; odd yards; refusals."""

from itertools import combinations, product
from time import process_time

import networkx as nx
import numpy as np
import pytest
import shapely
from shapely import Point, Polygon

from mewswright.checks.registry import run_checks
from mewswright.fit.place import Asked, place
from mewswright.fit.place_ask import pieces_asked
from mewswright.fit.place_candidates import ground_of
from mewswright.fit.place_fears import Fears
from mewswright.fit.place_ground import site_of
from mewswright.fit.place_search import Limits, search, table_of
from mewswright.fit.place_verify import yard_with
from mewswright.fit.place_why import refusals
from mewswright.model.problem import Problem
from support.placing import COMPOST, HEAP, ROSE, WALL, plain_yard, shelter

QUICK = Asked(seconds=5)
SMALL = "shelter:{}:2000x2000x2300x2200"
GATE = {"name": "Gate", "kind": "gate", "at_m": [8, 0]}


def outlines(plan):
    return {piece.name: Polygon(piece.corners_m) for piece in plan.pieces}


def test_no_outline_meets_another_a_hazard_or_the_set_back():
    yard = plain_yard(features=[WALL, COMPOST, HEAP, GATE], wind_rose=ROSE)
    report = place(yard, ["loft:1:2500x2000x2500x2300", SMALL.format(2), "pitch:1:2400x2400"])
    inside = Polygon(yard.yard.boundary_m).buffer(-report.set_back_m, join_style="mitre")
    hazards = [Polygon(f.outline_m) for f in yard.feature if f.outline_m]
    hazards.append(shapely.LineString(WALL["line_m"]).buffer(0.2, cap_style="flat"))
    assert len(report.plans) > 1
    for plan in report.plans:
        shapes = list(outlines(plan).values())
        assert all(inside.buffer(1e-3).covers(shape) for shape in shapes)
        assert all(s.distance(h) >= report.passage_m - 2e-3 for s in shapes for h in hazards)
        assert all(a.distance(b) >= report.passage_m - 2e-3 for a, b in combinations(shapes, 2))


def test_corners_and_yard_file_positions_tell_one_place():
    plan = place(plain_yard(wind_rose=ROSE), [SMALL.format(1)]).plans[0]
    piece = plan.pieces[0]
    turn = np.radians(piece.heading_deg)
    # Seen from in front the right is (-cos, sin), and walls of 0.15 m stand outside the clear size.
    right, back = np.array([-np.cos(turn), np.sin(turn)]), np.array([-np.sin(turn), -np.cos(turn)])
    clear = np.array(piece.corners_m[0]) + 0.15 * right + 0.15 * back
    assert (piece.x_m, piece.y_m) == pytest.approx(tuple(clear), abs=2e-3)


def on_a_grid(yard, plan, start, side=0.2, half=0.3):
    """Which doors of a plan a walk over a grid of squares reaches from a start."""
    solid = [*outlines(plan).values(), *(Polygon(f.outline_m) for f in yard.feature if f.outline_m)]
    solid += [shapely.LineString(f.line_m).buffer(f.width_m / 2, cap_style="flat")
              for f in yard.feature if f.line_m]  # fmt: skip
    blocked = shapely.union_all(solid).buffer(half)
    ground = Polygon(yard.yard.boundary_m)
    xs, ys = np.arange(0.1, 16, side), np.arange(0.1, 14, side)
    walk = nx.grid_2d_graph(len(xs), len(ys))
    walk.remove_nodes_from(
        [(i, j) for i, j in walk.nodes
         if blocked.contains(Point(xs[i], ys[j])) or not ground.contains(Point(xs[i], ys[j]))]
    )  # fmt: skip
    near = min(walk.nodes, key=lambda n: np.hypot(xs[n[0]] - start[0], ys[n[1]] - start[1]))
    reach = nx.node_connected_component(walk, near)
    return [
        any(
            np.hypot(xs[i] - p.door_m[0], ys[j] - p.door_m[1]) < half + 1.5 * side for i, j in reach
        )
        for p in plan.pieces
    ]


def test_networkx_walks_to_every_door():
    yard = plain_yard(features=[WALL, GATE], wind_rose=ROSE)
    for plan in place(yard, [SMALL.format(3)], asked=QUICK).plans:
        assert all(on_a_grid(yard, plan, (8, 0)))


def table_for(yard, new, step_m):
    pieces = pieces_asked(yard, new, [])
    site = site_of(yard, pieces, None, None)
    return table_of(ground_of(site, pieces, Fears(frozenset()), step_m))


def cheapest_of_all(table):
    """Every pair of candidates, held apart by shapely on the grown outlines."""
    from mewswright.fit.place_candidates import boxes

    ground = table.ground
    x, y = table.middles
    shapes, costs = [], []
    for m, choice in enumerate(ground.choices):
        grow = table.gap[m, 1 - m if len(ground.choices) > 1 else m]
        half = [h + grow - 1e-6 for h in choice.piece.half_m]
        shapes.append([
            boxes(x[[s]], y[[s]], float(ground.fields.headings[h]), *half)[0]
            for s, h in zip(choice.square, choice.heading, strict=True)
        ])  # fmt: skip
        costs.append(choice.costs())
    first, second = table.mark
    best = None
    for i, j in product(range(len(shapes[first])), range(len(shapes[second]))):
        cost = int(costs[first][i] + costs[second][j])
        if (best is None or cost < best) and not shapes[first][i].intersects(shapes[second][j]):
            best = cost
    return best


@pytest.mark.parametrize("new", [
    [SMALL.format(2)],
    ["loft:1:2400x2000x2400x2200", "pitch:1:2400x2400"],
    ["isolation:1:2000x2000x2400x2200", SMALL.format(1)],
])  # fmt: skip
def test_full_enumeration_finds_nothing_better(new):
    compost = {**COMPOST, "outline_m": [[8, 6], [9, 6], [9, 7], [8, 7]]}
    yard = plain_yard([[0, 0], [13, 0], [12, 12], [0, 11]], [compost], wind_rose=ROSE)
    table = table_for(yard, new, 1.0)
    found = search(table, 1, Limits(300, lambda _: False))
    assert found.is_proven
    assert found.cost == cheapest_of_all(table)


def test_a_bound_never_lies_above_the_best():
    yard = plain_yard(features=[COMPOST, HEAP], wind_rose=ROSE)
    table = table_for(yard, [SMALL.format(3)], 1.0)
    best = search(table, 1, Limits(400, lambda _: False))
    hasty = search(table, 2, Limits(5, lambda share: share < 0.95))  # no time but for the bound
    assert best.is_proven
    assert hasty.bound <= best.cost <= hasty.cost


def test_the_new_yard_has_no_new_harm():
    yard = plain_yard(
        features=[WALL, GATE], wind_rose=ROSE,
        birds=[{"name": "Wren", "species": "harris_hawk", "sex": "f"}],
        quarters=[shelter("Old", (8, 1.5))],
        stays=[{"bird": "Wren", "quarters": "Old", "mode": "tethered"}],
    )  # fmt: skip
    pieces = pieces_asked(yard, [SMALL.format(1)], ["Old"])
    site = site_of(yard, pieces, None, None)
    table = table_of(ground_of(site, pieces, Fears(frozenset())))
    found = search(table, 1, Limits(300, lambda _: False))
    from mewswright.fit.place_plan import placed_by

    def harm(one):
        return sorted((f.code, f.quarters or "") for f in run_checks(one) if f.status == "harm")

    assert set(harm(yard_with(yard, placed_by(table, found.chosen)))) <= set(harm(yard))


def test_candidates_are_what_the_exact_rules_let_stand():
    tree = {"name": "Ash", "kind": "tree", "at_m": [5, 5], "height_m": 4, "crown_radius_m": 1.5}
    old = {**tree, "name": "Old elm", "at_m": [14, 2], "height_m": 5, "condition": "suspect"}
    yard = plain_yard([[0, 0], [16, 0], [16, 14], [8, 14], [8, 9], [0, 9]], [tree, old, GATE])
    table = table_for(yard, [SMALL.format(1)], 1.0)
    ground, choice = table.ground, table.ground.choices[0]
    taken = set(zip(choice.square.tolist(), choice.heading.tolist(), strict=True))
    assert 0 < len(taken) < ground.grid.nx * ground.grid.ny * len(ground.fields.headings)
    x, y = table.middles
    for h in range(0, len(ground.fields.headings), 3):
        deg = float(ground.fields.headings[h])
        for square in range(len(x)):
            found = refusals(ground.site, ground, choice.piece, x[square], y[square], deg)
            assert ((square, h) in taken) == (not found), (x[square], y[square], deg, found)


def test_the_same_seed_gives_the_same_plans():
    yard = plain_yard(features=[COMPOST, GATE], wind_rose=ROSE)
    one, other = (place(yard, [SMALL.format(2)], asked=Asked(seed=3, seconds=5)) for _ in range(2))
    assert one.plans == other.plans


def test_the_clock_stops_the_search():
    ticks = iter(range(10_000))
    report = place(plain_yard(wind_rose=ROSE), [SMALL.format(4)], asked=Asked(seconds=3),
                   clock=lambda: float(next(ticks)))  # fmt: skip
    assert report.plans  # whatever was found by then
    assert next(ticks) < 100


def test_plans_differ_and_none_is_beaten_in_every_wish():
    yard = plain_yard(features=[COMPOST, GATE], wind_rose=ROSE)
    plans = place(yard, [SMALL.format(2)], asked=QUICK).plans
    assert [plan.rank for plan in plans] == list(range(1, len(plans) + 1))
    assert plans[0].proven
    for one, other in combinations(plans, 2):
        a, b = ([part.points for part in plan.parts] for plan in (one, other))
        assert any(p < q for p, q in zip(a, b, strict=True))
        assert any(p > q for p, q in zip(a, b, strict=True))
        assert one.score <= other.score


def test_parts_add_up_to_the_score():
    plan = place(plain_yard(features=[COMPOST], wind_rose=ROSE), [SMALL.format(2)]).plans[0]
    assert sum(part.points for part in plan.parts) == pytest.approx(plan.score, abs=0.06)
    assert sum(part.of for part in plan.parts) == pytest.approx(100, abs=0.1)


def test_why_names_what_refuses_a_place():
    yard = plain_yard(features=[COMPOST, GATE])
    report = place(yard, asked=Asked(why=(13, 11)))
    loft = next(piece for piece in report.why.pieces if piece.kind == "loft")
    assert not loft.allowed
    assert ("hazard", "Compost") in {(r.rule, r.thing) for r in loft.refused}
    outside = place(yard, asked=Asked(why=(-20, 3))).why.pieces[0]
    assert "it lies over the boundary" in [r.words for r in outside.refused]


def test_why_tells_what_a_free_place_would_cost():
    report = place(plain_yard(wind_rose=ROSE), [SMALL.format(1)], asked=Asked(why=(4, 10)))
    piece = report.why.pieces[0]
    assert piece.allowed
    assert piece.score >= piece.instead - 0.6  # off the squares it may be a hair better


def test_no_room_gives_reasons_and_what_would_help():
    yard = plain_yard([[0, 0], [5, 0], [5, 5], [0, 5]])
    report = place(yard, ["loft:2:3000x3000x2500x2300"], asked=QUICK)
    assert report.plans == ()
    assert not report.proven
    assert report.unplaced
    assert report.reasons[0].rule == "room"
    tight = plain_yard([[0, 0], [5, 0], [5, 6.5], [0, 6.5]])
    report = place(tight, ["shelter:1:3500x3500x2500x2300"], asked=QUICK)
    assert "boundary" in {relax.change for relax in report.relax}


@pytest.mark.parametrize("boundary", [
    None,
    [[0, 0], [20, 0], [20, 8], [8, 8], [8, 20], [0, 20]],
])  # fmt: skip
def test_without_a_boundary_and_in_a_corner(boundary):
    report = place(plain_yard(boundary), [SMALL.format(2)], asked=QUICK)
    assert report.plans[0].harm == 0
    assert any("gives no boundary" in said for said in report.cautions) == (boundary is None)


def test_quarters_that_stand_outside_come_in():
    yard = plain_yard(quarters=[shelter("Stray", (40, 40))])
    plan = place(yard, move=["Stray"], asked=QUICK).plans[0]
    assert Polygon(yard.yard.boundary_m).covers(outlines(plan)["Stray"])


def test_twenty_pieces_find_places():
    yard = plain_yard([[0, 0], [40, 0], [40, 30], [0, 30]], [COMPOST, GATE], wind_rose=ROSE)
    new = [SMALL.format(12), "pitch:8:2400x2400"]
    report = place(yard, new, asked=Asked(seconds=4), clock=process_time)
    assert len(report.plans[0].pieces) == 20


def test_birds_that_fear_each_other_are_not_face_to_face():
    birds = [{"name": "Thistle", "species": "common_kestrel", "sex": "m"},
             {"name": "Ember", "species": "eurasian_eagle_owl", "sex": "m"}]  # fmt: skip
    quarters = [shelter("Small", (6, 3), 0), shelter("Great", (10, 11), 180)]
    stays = [{"bird": "Thistle", "quarters": "Small", "mode": "loose"},
             {"bird": "Ember", "quarters": "Great", "mode": "loose"}]  # fmt: skip
    yard = plain_yard(quarters=quarters, birds=birds, stays=stays, wind_rose=ROSE)
    seen = [f for f in run_checks(yard) if f.code == "G103" and f.status == "short"]
    assert seen
    report = place(yard, move=["Small", "Great"], asked=QUICK)
    told = [said for plan in report.plans for said in plan.new_findings]
    assert report.plans
    assert not any(said.startswith("G103") for said in told)


def test_new_quarters_share_a_corridor():
    yard = plain_yard([[0, 0], [30, 0], [30, 20], [0, 20]])
    plan = place(yard, ["loft:3:3000x2500x2500x2300"], share=["loft"], asked=QUICK).plans[0]
    assert len(plan.pieces) == 1
    (row,) = plan.pieces
    assert [unit.name for unit in row.units] == ["New loft 1", "New loft 2", "New loft 3"]
    a, b = row.units[:2]
    assert np.hypot(a.x_m - b.x_m, a.y_m - b.y_m) == pytest.approx(3.15, abs=2e-3)


@pytest.mark.parametrize(("new", "move", "said"), [
    ((), (), r"^nothing to place: give --new"),
    (("loft:0",), (), r"^count of --new 'loft:0' is '0': give pieces from 1 to 60"),
    (("castle:1",), (), r"^--new is 'castle': give loft, shelter, pitch or isolation"),
    (("loft",), (), r"^--new 'loft': give KIND:COUNT"),
    (("loft:1.5",), (), r"^count of --new 'loft:1.5' is '1.5': give a whole number"),
    ((), ("Nowhere",), r"^no quarters 'Nowhere' in 'Plain'; there are: Old$"),
    (("loft:40", "pitch:40"), (), r"^80 pieces to place: give 60 or fewer at a time$"),
])  # fmt: skip
def test_what_cannot_be_asked_is_refused(new, move, said):
    with pytest.raises(Problem, match=said):
        place(plain_yard(quarters=[shelter("Old", (8, 5))]), new, move)


def test_a_boundary_that_crosses_itself_is_refused():
    yard = plain_yard([[0, 0], [10, 10], [10, 0], [0, 10]])
    with pytest.raises(Problem, match=r"^boundary_m crosses itself"):
        place(yard, ["pitch:1"])


@pytest.mark.parametrize("asked", [
    Asked(seconds=0), Asked(seconds=float("nan")), Asked(seed=-1), Asked(set_back_m=-1),
    Asked(passage_m=0), Asked(why=(float("inf"), 0)),
])  # fmt: skip
def test_numbers_that_cannot_be_are_refused(asked):
    with pytest.raises(Problem, match=r"^--(seconds|seed|set-back|passage|why) "):
        place(plain_yard(), ["pitch:1"], asked=asked)
