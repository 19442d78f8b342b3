"""What passes through a frame: down to the ground under a post, and up from it in wind.

Both follow the reactions of the beams that were analysed, so that a post between two long
bays is asked for what it really carries.
"""

from collections.abc import Mapping

from mewswright import handbook
from mewswright.build.actions.combine import Factors
from mewswright.build.actions.result import Actions
from mewswright.build.frame_uprights import Carried, Down
from mewswright.build.holding.ground import bearing_check, under_post_m2
from mewswright.build.holding.stability import Stability
from mewswright.build.holding.standing import Standing
from mewswright.build.lines import Lines, UprightLine
from mewswright.build.member_forces import DEAD, LEAST_DEAD
from mewswright.build.ridge import GABLE_POST, INNER_POST
from mewswright.build.shell import breadth_depth_mm
from mewswright.build.strength.uplift_path import Anchor, Joint, PathTimber, uplift_path
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard

LIFTING = "wind, lifting"


def pressed_kn(down: Mapping[str, Down], using: Factors) -> float:
    """Greatest characteristic load on one upright [kN]: weight and what leads, no factors.

    Snow and wind bring their share of the other along.
    """
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

    The weight of its own length of wall is counted too.

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
    across = frame.hole_mm[0] if frame.hole_mm else None
    found = []
    for one in _carrying(lines):
        load = pressed_kn(carried.on(one), loads.factors) + wall_kn_m * one.width_m
        area = under_post_m2(frame.base, breadth_depth_mm(one.section), across)
        found.append(bearing_check(f"{one.what}, {one.side}", load, area, allowed))
    if not found:
        return bearing_check("the base", 0.0, 1.0, allowed)
    return max(found, key=lambda check: check.demand)


def joints_of(
    quarters: Quarters, loads: Actions, lines: Lines, carried: Carried, stands: Stability
) -> list[Joint]:
    """The fasteners of one rafter and one post along the path from the deck to the ground.

    The deck is torn off by the fierce gusts on a square metre of sheet, its own weight left
    out; the rest by the reactions of rafters and head plates. Where anchors stand farther
    apart than posts, each holds as much of the wall as lies between two of them.

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
    on_plate = max(
        lifted_kn(
            {name: Down(kind, case.reactions_kn[end]) for name, (kind, case) in cases.items()},
            using,
        )
        for _, cases in carried.slopes
        for end in (0, 1)
    )
    lifts = [(lifted_kn(carried.on(one), using), one.width_m) for one in _carrying(lines)]
    on_post, bay = max(lifts, default=(0.0, 0.0))
    held = stands.holding
    apart = max(1.0, held.spacing_m / bay) if held.spacing_m and bay else 1.0
    force = {
        "deck-rafter": on_deck, "rafter-plate": on_plate, "plate-post": on_post,
        "post-base": on_post, "base-ground": on_post * apart,
    }  # fmt: skip
    deck = quarters.roof.deck if quarters.roof else None
    thick = handbook.material(deck).thickness_mm if deck else None
    timber = PathTimber(strength_class=quarters.frame.strength_class, deck_mm=thick or 18.0)
    anchor = None
    if held.count and held.per_anchor_kn > 0 and held.credited:
        source = handbook.SourceRef(
            held.anchor.replace("_", " "), "handbook/anchors.csv", "derived"
        )
        anchor = Anchor(held.anchor, 1, held.per_anchor_kn, source)
    return uplift_path(force, timber, anchor)
