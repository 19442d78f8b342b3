"""Overturning about the leeward edge of the base."""

from mewswright.build.holding.standing import Standing, WindCase, holds_down, lifts


def tipping_knm(case: WindCase) -> float:
    """Moment that tips the unit about its leeward edge, factored [kNm].

    Source:
        Statics; 1.5 W by EN 1990, Table A1.2(A). Wind that presses down is left out.
    """
    lift = max(0.0, case.uplift_kn) * case.uplift_arm_m
    return lifts() * (case.push_kn * case.push_height_m + lift)


def righting_knm(dead_kn: float, base_m: float) -> float:
    """Moment of the dead weight about the edge, its middle over the middle of the base [kNm].

    Args:
        dead_kn: Dead weight, characteristic [kN].
        base_m: Length of the base along the wind [m].

    Raises:
        ValueError: If the base has no length.
    """
    if base_m <= 0:
        raise ValueError(f"the base must be longer than 0 m along the wind, got {base_m:g}")
    return holds_down() * dead_kn * base_m / 2


def overturning_check(case: WindCase, dead_kn: float, base_m: float, held_knm: float) -> Standing:
    """Whether the unit tips over.

    Args:
        case: The wind.
        dead_kn: Dead weight of the unit [kN].
        base_m: Length of the base along the wind [m].
        held_knm: Moment about the edge that the anchors hold, design value [kNm].
    """
    return Standing(
        "overturning",
        case.name,
        tipping_knm(case),
        righting_knm(dead_kn, base_m) + held_knm,
        "kNm",
        "about the leeward edge; dead weight, and anchors by their distance from it",
    )
