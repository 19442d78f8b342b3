"""Uplift: what is left of the wind's lift once the dead weight is taken off."""

from mewswright.build.holding.standing import Standing, WindCase, holds_down, lifts


def net_uplift_kn(
    uplift_kn: float, dead_kn: float, gamma_g: float = 0.9, gamma_q: float = 1.5
) -> float:
    """Upward force that something must hold, by static equilibrium [kN].

    Args:
        uplift_kn: Net upward wind on the roof, characteristic [kN]; less than 0 presses
            down and then counts for nothing, for favourable wind is left out.
        dead_kn: Dead weight that is sure to be there, characteristic [kN].
        gamma_g: Factor on dead weight that holds down.
        gamma_q: Factor on wind.

    Returns:
        1.5 W - 0.9 G; less than 0 means that the weight alone holds.

    Raises:
        ValueError: If the dead weight is less than 0.

    Source:
        EN 1990:2002, Table A1.2(A), EQU.
    """
    if dead_kn < 0:
        raise ValueError(f"dead weight must be 0 kN or more, got {dead_kn:g}")
    return gamma_q * max(0.0, uplift_kn) - gamma_g * dead_kn


def uplift_check(case: WindCase, dead_kn: float, held_kn: float) -> Standing:
    """Whether weight and anchors hold the roof's lift.

    Args:
        case: The wind.
        dead_kn: Dead weight of the unit [kN].
        held_kn: What all anchors together hold, design value [kN].
    """
    return Standing(
        "uplift",
        case.name,
        lifts() * max(0.0, case.uplift_kn),
        holds_down() * dead_kn + held_kn,
        "kN",
        "0.9 of the dead weight and the anchors against 1.5 of the lift",
    )
