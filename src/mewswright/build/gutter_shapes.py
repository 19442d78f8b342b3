"""Gutters, downpipes and butts as thin plates round an axis, as long round as the real ones.

Millimetres in the quarters' own frame (build/parts.py).
"""

from itertools import pairwise
from math import cos, pi, sin, sqrt, tau

from mewswright.build.parts import Panel, Place

SIDES = 8  # plates of a whole round; a half-round gutter has half of them
Vector = tuple[float, float, float]


def half_round(
    from_mm: Place, to_mm: Place, diameter_mm: float, thickness_mm: float
) -> list[Panel]:
    """A gutter along x: `from_mm` and `to_mm` are the middles of its open top at both ends."""
    plates, arc = SIDES // 2, pi
    radius = _radius_mm(diameter_mm, arc, plates)
    spots = [
        (radius * cos(pi + arc * i / plates), radius * sin(pi + arc * i / plates))
        for i in range(plates + 1)
    ]
    return [
        Panel(
            corners_mm=tuple(
                (x, y + spot[0], z + spot[1])
                for (x, y, z), spot in ((from_mm, a), (to_mm, a), (to_mm, b), (from_mm, b))
            ),
            thickness_mm=thickness_mm,
        )
        for a, b in pairwise(spots)
    ]


def tube(from_mm: Place, to_mm: Place, diameter_mm: float, thickness_mm: float) -> list[Panel]:
    """A pipe or a vessel from place to place; its ends are square to it.

    Raises:
        ValueError: If it has no length.
    """
    run = tuple(b - a for a, b in zip(from_mm, to_mm, strict=True))
    long = sqrt(sum(r * r for r in run))
    if long == 0:
        raise ValueError(f"a pipe at {from_mm} has no length")
    along: Vector = (run[0] / long, run[1] / long, run[2] / long)
    least = min(range(3), key=lambda k: abs(along[k]))
    u = _unit(_cross(along, (float(least == 0), float(least == 1), float(least == 2))))
    v = _cross(along, u)
    radius = _radius_mm(diameter_mm, tau, SIDES)
    ring = [
        tuple(
            radius * (cos(tau * (i + 0.5) / SIDES) * u[k] + sin(tau * (i + 0.5) / SIDES) * v[k])
            for k in range(3)
        )
        for i in range(SIDES + 1)
    ]
    return [
        Panel(
            corners_mm=tuple(
                (end[0] + off[0], end[1] + off[1], end[2] + off[2])
                for end, off in ((from_mm, a), (to_mm, a), (to_mm, b), (from_mm, b))
            ),
            thickness_mm=thickness_mm,
        )
        for a, b in pairwise(ring)
    ]


def disc(middle_mm: Place, diameter_mm: float, thickness_mm: float) -> Panel:
    """A round lid or a round bottom, level."""
    radius = _radius_mm(diameter_mm, tau, 2 * SIDES)
    x, y, z = middle_mm
    return Panel(
        corners_mm=tuple(
            (x + radius * cos(tau * i / 16), y + radius * sin(tau * i / 16), z) for i in range(16)
        ),
        thickness_mm=thickness_mm,
    )


def _radius_mm(diameter_mm: float, arc: float, plates: int) -> float:
    """Radius at which plates between corners are together as long as the arc. Source: geometry."""
    return diameter_mm / 2 * arc / (2 * plates * sin(arc / (2 * plates)))


def _cross(a: Vector, b: Vector) -> Vector:
    return (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])


def _unit(v: Vector) -> Vector:
    long = sqrt(v[0] ** 2 + v[1] ** 2 + v[2] ** 2)
    return (v[0] / long, v[1] / long, v[2] / long)
