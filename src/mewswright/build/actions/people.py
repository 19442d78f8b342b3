"""Who else loads a unit: a bird that bates into a face, a person who leans on it or mends a roof.

kN, kN/m and kN/m2. The bird's force is a judgement: no published one was found.
"""

from dataclasses import dataclass

from mewswright.handbook import load_factor


@dataclass(frozen=True)
class Bate:
    """Force of a bird that flies into a face, and what was assumed of it."""

    force_kn: float
    speed_m_s: float
    stop_m: float
    peak: float


def bate(mass_kg: float) -> Bate:
    """Peak force of a bird that is stopped by mesh, bars or boards (our judgement).

    The stop is taken as even braking over a short way, the peak as a multiple of its mean.

    Args:
        mass_kg: Mass of the bird, fed up [kg].

    Raises:
        ValueError: If the mass is not above 0.

    Source:
        Mechanics, m v^2 / 2 = F s; speed, way and peak are judgements, rows bate_* of
        handbook/load_factors.csv.
    """
    if not mass_kg > 0:
        raise ValueError(f"a bird has a mass above 0 kg, got {mass_kg:g}")
    speed = load_factor("bate_speed_m_s").value
    stop = load_factor("bate_stop_m").value
    peak = load_factor("bate_peak").value
    mean_n = mass_kg * speed**2 / (2 * stop)
    return Bate(peak * mean_n / 1000, speed, stop, peak)


@dataclass(frozen=True)
class Lean:
    """A person against a face: a line load at a height, or a point anywhere, not both."""

    line_kn_m: float
    point_kn: float
    height_m: float


def lean() -> Lean:
    """Push of a person, or a large animal, on mesh, bars and doors.

    Source:
        EN 1991-1-1, order of Table 6.12, from memory: 0.36 to 0.74 kN/m at 1.1 m, here the
        higher, or 0.5 kN at one spot.
    """
    return Lean(
        load_factor("lean_line_high_kn_m").value,
        load_factor("lean_point_kn").value,
        load_factor("lean_height_m").value,
    )


@dataclass(frozen=True)
class Maintenance:
    """People who maintain a roof: spread out, or on one spot; never with snow or wind."""

    spread_kn_m2: float
    point_kn: float


def maintenance(spread_kn_m2: float | None = None, point_kn: float | None = None) -> Maintenance:
    """Load of people who maintain a roof (category H).

    Args:
        spread_kn_m2: The local value [kN/m2]; None = the handbook's.
        point_kn: The local value on 50 x 50 mm [kN]; None = the handbook's.

    Raises:
        ValueError: If a value is negative.

    Source:
        EN 1991-1-1, 6.3.4, and its UK annex; from memory.
    """
    spread = load_factor("roof_imposed_kn_m2").value if spread_kn_m2 is None else spread_kn_m2
    point = load_factor("roof_point_kn").value if point_kn is None else point_kn
    if min(spread, point) < 0:
        raise ValueError(f"a load is 0 or more, got {spread:g} kN/m2 and {point:g} kN")
    return Maintenance(spread, point)
