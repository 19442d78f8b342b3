"""How hard posts press the ground through a sleeper or the edge of a slab.

A base bends as a beam on springs of soil: the stiffer the base and the softer the ground,
the farther it spreads a load, and the more of its neighbours' a post feels. Metres, kN.
"""

from collections.abc import Sequence
from math import cos, exp, sin, sqrt

from mewswright.build.base import SLAB_MM, SLEEPER_WIDE_MM
from mewswright.build.ground_line import SLEEPER_HIGH_MM
from mewswright.handbook.holding import holding_figure
from mewswright.model.quantity import m_from_mm

SPREADING = ("sleepers", "slab")


def strip_m(kind: str, post_depth_mm: float) -> tuple[float, float]:
    """Width of the base that carries a wall, and the length over which it spreads a load [m].

    Args:
        kind: sleepers or slab.
        post_depth_mm: Depth of a post across the wall [mm].

    Returns:
        Width *b*, a slab's at 45 deg through its thickness, and *L* = (4 E I / k b)^(1/4).

    Raises:
        ValueError: For a base that spreads nothing.

    Source:
        Winkler's beam, from memory; stiffness of soil and base: handbook/holding.csv.
    """
    if kind not in SPREADING:
        raise ValueError(f"{kind!r} spreads nothing along a wall; {', '.join(SPREADING)} do")
    if kind == "sleepers":
        wide, high = SLEEPER_WIDE_MM, SLEEPER_HIGH_MM
        stiff = holding_figure("sleeper_e_kn_m2").value
    else:
        wide, high = post_depth_mm + 2 * SLAB_MM, SLAB_MM
        stiff = holding_figure("slab_e_kn_m2").value
    soil = holding_figure("subgrade_kn_m3").value
    return m_from_mm(wide), sqrt(sqrt(4 * stiff * m_from_mm(high) ** 3 / 12 / soil))


def pressures_kn_m2(
    kind: str,
    post_depth_mm: float,
    loads: Sequence[tuple[float, float]],
    wall_m: tuple[float, float],
) -> list[float]:
    """Pressure on the ground under each post of one wall [kN/m2].

    Args:
        kind: sleepers or slab.
        post_depth_mm: Depth of a post across the wall [mm].
        loads: Place along the wall [m] and load [kN] of each post.
        wall_m: Where the wall begins and ends [m].

    Source:
        Winkler's beam, from memory: P / (2 b L) e^-z (cos z + sin z), z = distance / L, of
        every post added up. At a corner half of a load goes into the base of the other wall:
        that is an image of each load behind both ends.
    """
    wide, reach = strip_m(kind, post_depth_mm)
    start, end = wall_m
    images = [
        (place, kn)
        for at, kn in loads
        for place in (at, 2 * start - at, 2 * end - at)
    ]  # fmt: skip

    def felt(away_m: float) -> float:
        z = abs(away_m) / reach
        return exp(-z) * (cos(z) + sin(z))

    return [
        sum(kn * felt(at - place) for place, kn in images) / (2 * wide * reach) for at, _ in loads
    ]
