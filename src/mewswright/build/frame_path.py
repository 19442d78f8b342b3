"""What passes through a frame: down to the ground under a post, and up from it in wind.

Both follow the reactions of the beams that were analysed, so that a post between two long
bays is asked for what it really carries.
"""

from collections.abc import Mapping
from dataclasses import replace

from mewswright import handbook
from mewswright.build.actions.combine import Factors
from mewswright.build.actions.result import Actions
from mewswright.build.base import PAD_MM
from mewswright.build.frame_uprights import Carried, Down
from mewswright.build.ground_line import PAD_HIGH_MM
from mewswright.build.holding.anchors import Holding
from mewswright.build.holding.ground import bearing_check, under_post_m2
from mewswright.build.holding.spreading import SPREADING, pressures_kn_m2
from mewswright.build.holding.stability import Stability
from mewswright.build.holding.standing import Standing
from mewswright.build.hung import hangers
from mewswright.build.lines import Lines, Stand, UprightLine
from mewswright.build.member_forces import DEAD, LEAST_DEAD
from mewswright.build.rafters import LEDGER
from mewswright.build.ridge import GABLE_POST, INNER_POST
from mewswright.build.shell import breadth_depth_mm
from mewswright.build.strength.uplift_path import Anchor, Joint, PathTimber, uplift_path
from mewswright.build.tube import tube_of
from mewswright.handbook.holding import holding_figure
from mewswright.model.quantity import m_from_mm
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard

LIFTING = "wind, lifting"


def pressed_kn(down: Mapping[str, Down], using: Factors, wind_share: float = 1.0) -> float:
    """Greatest characteristic load on one upright [kN]: weight and what leads, no factors.

    Snow and wind bring their share of the other along.

    Args:
        down: What comes down on it.
        using: For the shares.
        wind_share: Of the wind in it, which is that of the roof's fiercest zone [-].
    """
    down = _with_wind(down, wind_share)
    weight = max(0.0, down[DEAD].kn if DEAD in down else 0.0)
    passing = [one for one in down.values() if one.kind != "dead"]
    most = 0.0
    for one in passing:
        beside = (
            using.psi0.get(other.kind, 0.0) * other.kn
            for other in passing
            if {one.kind, other.kind} == {"snow", "wind"}
        )
        most = max(most, one.kn + max((0.0, *beside)))
    return weight + most


def lifted_kn(down: Mapping[str, Down], using: Factors) -> float:
    """Design lift at the head of one upright [kN], less the weight that is sure; 0 or more."""
    if LIFTING not in down:
        return 0.0
    sure = down[LEAST_DEAD].kn if LEAST_DEAD in down else 0.0
    return max(0.0, -using.gamma_q * down[LIFTING].kn - using.gamma_g_favourable * sure)


def _carrying(lines: Lines) -> list[UprightLine]:
    """Uprights of the front and the back, and the posts of a ridge beam."""
    of_ridge = (GABLE_POST, INNER_POST)
    return [one for one in lines.uprights if one.side in ("front", "back") or one.what in of_ridge]


def bearing_of(
    yard: Yard, quarters: Quarters, loads: Actions, lines: Lines, carried: Carried
) -> Standing:
    """Pressure on the ground under the post that presses most, without factors; presumed.

    The weight of its own length of wall is counted too, and of the wind the mean over the
    roof: the ground settles under a season, not under a gust at one edge.

    Args:
        yard: For what the ground bears.
        quarters: For its base.
        loads: Loads of the unit.
        lines: Its uprights.
        carried: What comes down on each.
    """
    allowed = yard.loads.soil_bearing_kn_m2 if yard.loads else 0.0
    round_m = 2 * (loads.roof_width_m + loads.roof_depth_m)
    wall_kn_m = loads.dead.walls_high_kn / round_m
    frame = quarters.frame
    fiercest = loads.wind.roof_down_edge.kn_m2
    mean = loads.wind.roof_down.kn_m2 / fiercest if fiercest else 1.0
    across = frame.hole_mm[0] if frame.hole_mm else None
    found: list[Standing] = []
    for group in _walls(lines):
        kns = [
            pressed_kn(carried.on(one), loads.factors, mean) + wall_kn_m * one.width_m
            for one in group
        ]
        if frame.base in SPREADING and group[0].side != "inside":
            places = [one.at_m for one in group]
            depth_mm = min(breadth_depth_mm(one.section)[1] for one in group)
            pressures = pressures_kn_m2(
                frame.base, depth_mm, list(zip(places, kns, strict=True)),
                (min(places), max(places)),
            )  # fmt: skip
        else:
            base = "pads" if group[0].side == "inside" else frame.base  # a slab of their own
            pressures = [
                kn / under_post_m2(base, breadth_depth_mm(one.section), across)
                for one, kn in zip(group, kns, strict=True)
            ]
        found += [
            bearing_check(f"{one.what}, {one.side}", pressure, 1.0, allowed)
            for one, pressure in zip(group, pressures, strict=True)
        ]
    if not found:
        return bearing_check("the base", 0.0, 1.0, allowed)
    return max(found, key=lambda check: check.demand)


def _walls(lines: Lines) -> list[list[UprightLine]]:
    """The uprights that carry a roof, wall by wall, with all the rest of their wall."""
    carrying = _carrying(lines)
    groups: dict[Stand, list[UprightLine]] = {}
    for one in lines.uprights:
        if any(one.side == other.side for other in carrying):
            groups.setdefault(one.side, []).append(one)
    return list(groups.values())


def _lift_kn_m(loads: Actions, lines: Lines, carried: Carried) -> float:
    """Design lift on a metre of the wall that is lifted most, by the roof's mean wind [kN/m]."""
    fiercest = loads.wind.roof_up_edge.kn_m2
    mean = loads.wind.roof_up.kn_m2 / fiercest if fiercest else 1.0
    by_wall = []
    for group in _walls(lines):
        long_m = sum(one.width_m for one in group)
        downs = [carried.on(one) for one in group]
        lift = -mean * sum(down[LIFTING].kn for down in downs if LIFTING in down)
        sure = sum(down[LEAST_DEAD].kn for down in downs if LEAST_DEAD in down)
        if long_m > 0:
            using = loads.factors
            by_wall.append((using.gamma_q * lift - using.gamma_g_favourable * sure) / long_m)
    return max(0.0, *by_wall) if by_wall else 0.0


def joints_of(
    quarters: Quarters, loads: Actions, lines: Lines, carried: Carried, stands: Stability
) -> list[Joint]:
    """The fasteners of one rafter and one post along the path from the deck to the ground.

    The deck is torn off by the fierce gusts on a square metre of sheet, its own weight left
    out; posts and rafters by the reactions of the fiercest zone. An anchor is asked for the
    most that the whole unit asks of one, or for the mean lift on the length of wall between
    two of them: the sole plate carries it there.

    Args:
        quarters: For the deck and the strength class.
        loads: Loads of the unit.
        lines: Its rafters and uprights.
        carried: What the beams bring down, and what lifts them.
        stands: What holds the unit down.
    """
    if not lines.rafters:
        return []
    using = loads.factors
    gust = max(loads.wind.roof_up_sheet.kn_m2, loads.wind.overhang_up_kn_m2)
    on_deck = max(using.gamma_q * gust * one.spacing_m * one.length_m for one in lines.rafters)
    plates, hung = _rafter_ends(lines, carried)
    on_plate = max((lifted_kn(end, using) for end in plates), default=0.0)
    of_timber = [one for one in _carrying(lines) if tube_of(one.section) is None]
    on_post = max((lifted_kn(carried.on(one), using) for one in of_timber), default=0.0)
    held = stands.holding
    on_anchor = asked_of_anchor_kn(loads, lines, carried, held)
    force = {
        "deck-rafter": on_deck, "rafter-plate": on_plate, "plate-post": on_post,
        "post-base": on_post, "base-ground": on_anchor,
    }  # fmt: skip
    deck = quarters.roof.deck if quarters.roof else None
    thick = handbook.material(deck).thickness_mm if deck else None
    timber = PathTimber(strength_class=quarters.frame.strength_class, deck_mm=thick or 18.0)
    anchor = one_anchor(held)
    found = uplift_path(force, timber, anchor)
    for where, ends in hung.items():
        found += hangers(f"rafter-{where}", ends, using, timber.strength_class)
    if quarters.frame.base == "posts_in_concrete":  # the holes are under the walls alone
        anchor = None
    return [*found, *inner_posts(loads, lines, carried, anchor)]


def asked_of_anchor_kn(loads: Actions, lines: Lines, carried: Carried, held: Holding) -> float:
    """Most that one anchor is asked to pull: of the whole unit, or of its length of wall [kN]."""
    return max(_lift_kn_m(loads, lines, carried) * (held.spacing_m or 0.0), held.pull_each_kn)


def one_anchor(held: Holding) -> Anchor | None:
    """One of the anchors that hold a unit down; None where there are none that count."""
    if not held.count or held.per_anchor_kn <= 0 or not held.credited:
        return None
    source = handbook.SourceRef(held.anchor.replace("_", " "), "handbook/anchors.csv", "derived")
    return Anchor(held.anchor, 1, held.per_anchor_kn, source)


def _rafter_ends(
    lines: Lines, carried: Carried
) -> tuple[list[dict[str, Down]], dict[str, list[dict[str, Down]]]]:
    """What rafters bring to the plates, and what they bring to where they hang."""
    plates: list[dict[str, Down]] = []
    hung: dict[str, list[dict[str, Down]]] = {}
    ledger = any(one.what == LEDGER for one in lines.plates)
    for rafter, cases in carried.slopes:
        for end, support in enumerate(rafter.held_by):
            on = {name: Down(kind, case.reactions_kn[end]) for name, (kind, case) in cases.items()}
            if support == "ridge":
                hung.setdefault("ridge", []).append(on)
            elif ledger and support == "front":
                hung.setdefault("ledger", []).append(on)
            else:
                plates.append(on)
    return plates, hung


def inner_posts(
    loads: Actions, lines: Lines, carried: Carried, anchor: Anchor | None
) -> list[Joint]:
    """Whether the posts inside under a ridge beam are held down; none without them.

    By the roof's mean wind, as an anchor; the slab below hangs on the post, and an anchor
    like those of the walls where there are some.
    """
    posts = [one for one in lines.uprights if one.what == INNER_POST]
    if not posts or not lines.rafters:
        return []
    fiercest = loads.wind.roof_up_edge.kn_m2
    mean = loads.wind.roof_up.kn_m2 / fiercest if fiercest else 1.0
    using = loads.factors
    lift = max(lifted_kn(_with_wind(carried.on(one), mean), using) for one in posts)
    slab = using.gamma_g_favourable * (
        holding_figure("concrete_kn_m3").value * m_from_mm(PAD_MM) ** 2 * m_from_mm(PAD_HIGH_MM)
    )
    capacity = slab + (anchor.capacity_each_kn if anchor else 0.0)
    note = "its paving slab alone: give anchors that count, a heavier roof, or a stronger beam"
    if anchor:
        note = f"one {anchor.means} more under each post inside, beside those of the walls"
    source = handbook.SourceRef("weight of the slab, and the anchor", "geometry", "derived")
    means = anchor.means if anchor else "paving slab"
    return [Joint("ridge post-ground", means, 1, capacity, lift / capacity, source, note)]


def _with_wind(down: Mapping[str, Down], share: float) -> dict[str, Down]:
    """The same with a share of its wind, which is that of the roof's fiercest zone."""
    return {
        name: replace(one, kn=one.kn * share) if one.kind == "wind" else one
        for name, one in down.items()
    }
