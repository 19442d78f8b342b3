"""Floor and bath drains: falls, pipes, and how long a bath takes to empty."""

from math import pi, sqrt

from mewswright.handbook.water import drain_figure

GRAVITY = 9.81  # m/s2
ORIFICE = 0.6  # discharge of a sharp outlet; textbook, memory


def rise_mm(run_m: float, one_in: float) -> float:
    """Height that a fall of one in so many takes over a run [mm].

    Raises:
        ValueError: If the run is less than 0 or the fall is none.
    """
    if run_m < 0 or one_in <= 0:
        raise ValueError(f"a fall needs a run and a slope, got {run_m:g} m at 1:{one_in:g}")
    return run_m * 1000 / one_in


def one_in(fall_pct: float) -> float | None:
    """Run for a fall of one, from a fall in percent; None for a level floor."""
    return 100 / fall_pct if fall_pct > 0 else None


def branch_fall_mm(run_m: float) -> tuple[float, float]:
    """Least and most fall of a bath's waste over a run [mm]: 18 to 90 mm/m.

    Source:
        Approved Document H, as quoted.
    """
    return (
        run_m * drain_figure("waste_low_mm_m").value,
        run_m * drain_figure("waste_high_mm_m").value,
    )


def emptying_s(area_m2: float, depth_m: float, outlet_mm: float) -> float:
    """Time in which a straight-sided bath empties through a hole in its floor [s].

    Holds for a free outlet; a long or level waste pipe is slower.

    Args:
        area_m2: Water surface [m2].
        depth_m: Depth of water [m].
        outlet_mm: Diameter of the hole [mm].

    Raises:
        ValueError: If a value is 0 or less.

    Source:
        Torricelli: A / (Cd a) sqrt(2 h / g), Cd 0.6.
    """
    if min(area_m2, depth_m, outlet_mm) <= 0:
        raise ValueError(
            f"a bath and its outlet need sizes, got {area_m2:g} m2, {depth_m:g} m and "
            f"{outlet_mm:g} mm"
        )
    return area_m2 / (ORIFICE * hole_m2(outlet_mm)) * sqrt(2 * depth_m / GRAVITY)


def hole_m2(diameter_mm: float) -> float:
    """Area of a round hole [m2]."""
    return pi * (diameter_mm / 1000) ** 2 / 4


def overflow_l_s(diameter_mm: float, head_mm: float) -> float:
    """Water that leaves through an overflow under a head over its middle [l/s].

    Source:
        Orifice: Cd a sqrt(2 g h), Cd 0.6. It holds once the hole is drowned.
    """
    if diameter_mm <= 0 or head_mm < diameter_mm / 2:
        raise ValueError(
            f"an overflow of {diameter_mm:g} mm must be drowned: its head is at least half of it, "
            f"got {head_mm:g} mm"
        )
    return ORIFICE * hole_m2(diameter_mm) * sqrt(2 * GRAVITY * head_mm / 1000) * 1000
