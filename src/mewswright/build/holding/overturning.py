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


def windward_pull_kn(case: WindCase, dead_kn: float, base_m: float) -> float:
    """Pull on all anchors of the windward edge together, to keep the unit from tipping [kN].

    Args:
        case: The wind.
        dead_kn: Dead weight of the unit [kN].
        base_m: Length of the base along the wind [m].
    """
    return max(0.0, (tipping_knm(case) - righting_knm(dead_kn, base_m)) / base_m)


def overturning_check(case: WindCase, dead_kn: float, base_m: float, row_kn: float) -> Standing:
    """Whether the unit tips over.

    Args:
        case: The wind.
        dead_kn: Dead weight of the unit [kN].
        base_m: Length of the base along the wind [m].
        row_kn: What the anchors of the windward edge together hold, design value [kN].
    """
    return Standing(
        "overturning",
        case.name,
        tipping_knm(case),
        righting_knm(dead_kn, base_m) + row_kn * base_m,
        "kNm",
        "about the leeward edge; dead weight and the windward row of anchors",
    )
