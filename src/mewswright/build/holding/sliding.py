"""Sliding: the level push of wind against friction or anchors.

Bond of the floor, stored goods and soil heaped against the walls count for nothing.
"""

from mewswright.build.holding.standing import Standing, WindCase, holds_down, lifts
from mewswright.handbook.holding import holding_figure


def friction_kn(uplift_kn: float, dead_kn: float) -> float:
    """Level force that friction under the base holds [kN].

    Args:
        uplift_kn: Net upward wind, characteristic [kN].
        dead_kn: Dead weight, characteristic [kN].

    Returns:
        0.3 of what is left of 0.9 G less 1.5 times the uplift; 0 where nothing is left.

    Source:
        Friction of unbolted sleepers or pads: handbook/holding.csv, from memory.
    """
    left = holds_down() * dead_kn - lifts() * max(0.0, uplift_kn)
    return holding_figure("friction").value * max(0.0, left)


def sliding_check(case: WindCase, dead_kn: float, anchors_kn: float) -> Standing:
    """Whether the unit slides.

    Friction and anchors are not added up: an anchor takes load only once the base has
    moved, and a base that the wind lifts has no friction left.

    Args:
        case: The wind.
        dead_kn: Dead weight of the unit [kN].
        anchors_kn: What all anchors together hold across, design value [kN].
    """
    friction = friction_kn(case.uplift_kn, dead_kn)
    by = "friction" if friction >= anchors_kn else "anchors"
    return Standing(
        "sliding", case.name, lifts() * case.push_kn, max(friction, anchors_kn), "kN", f"by {by}"
    )
