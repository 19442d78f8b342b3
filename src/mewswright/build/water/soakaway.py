"""Soakaways for clean rain: how big, how fast they empty, how far from what."""

from collections.abc import Mapping
from dataclasses import dataclass

from mewswright.handbook.water import drain_figure


def small_store_m3(area_m2: float) -> float:
    """Room for water that a soakaway of a small roof needs [m3].

    Holds only up to 25 m2; a larger roof needs a trial pit and `soakaway`.

    Args:
        area_m2: Roof in plan [m2].

    Returns:
        10 mm on the roof, which falls in 5 minutes.

    Raises:
        ValueError: If the roof is over 25 m2, or less than 0.

    Source:
        Approved Document H, as a council's building control quotes it.
    """
    most = drain_figure("soakaway_small_m2").value
    if not 0 <= area_m2 <= most:
        raise ValueError(
            f"the rule of small roofs holds from 0 to {most:g} m2, got {area_m2:g}: dig a trial "
            "pit and size the soakaway from it"
        )
    return area_m2 * drain_figure("soakaway_small_mm").value / 1000


def infiltration_m_s(length_m: float, width_m: float, depth_m: float, fall_s: float) -> float:
    """How fast the ground takes water, from a trial pit that fell from 75 to 25 % [m/s].

    Args:
        length_m: Length of the pit [m].
        width_m: Width of the pit [m].
        depth_m: Depth of water in the full pit [m].
        fall_s: Time of the fall from 75 to 25 % of that depth [s]; the slowest of three.

    Returns:
        f = V / (a t): half of the volume, over the base and half of the sides.

    Raises:
        ValueError: If a value is 0 or less.

    Source:
        BRE Digest 365, as worked on a published sheet.
    """
    if min(length_m, width_m, depth_m, fall_s) <= 0:
        raise ValueError(
            f"a trial pit needs sizes and a time of more than 0, got {length_m:g} x {width_m:g} x "
            f"{depth_m:g} m in {fall_s:g} s"
        )
    volume = length_m * width_m * depth_m / 2
    return volume / ((length_m * width_m + half_sides_m2(length_m, width_m, depth_m)) * fall_s)


def half_sides_m2(length_m: float, width_m: float, depth_m: float) -> float:
    """Sides of a pit to half of its depth, without its base, a_s50 [m2]."""
    return 2 * (length_m + width_m) * depth_m / 2


def half_empty_s(store_m3: float, as50_m2: float, f_m_s: float) -> float:
    """Time in which a full soakaway becomes half empty [s].

    Args:
        store_m3: Water in it when full [m3].
        as50_m2: Its sides to half depth [m2].
        f_m_s: How fast the ground takes water [m/s].

    Raises:
        ValueError: If sides or ground take no water.

    Source:
        BRE Digest 365: 0.5 S / (a_s50 f).
    """
    if as50_m2 <= 0 or f_m_s <= 0:
        raise ValueError(
            f"a soakaway needs sides and ground that takes water, got {as50_m2:g} m2 at "
            f"{f_m_s:g} m/s"
        )
    return 0.5 * store_m3 / (as50_m2 * f_m_s)


@dataclass(frozen=True)
class Pit:
    """A soakaway that was judged by every storm: what it must store and what it can."""

    needs_m3: float
    holds_m3: float
    worst_storm_s: float
    half_empty_s: float

    @property
    def sound(self) -> bool:
        """It holds the worst storm and is half empty within a day."""
        day_s = drain_figure("soakaway_half_empty_h").value * 3600
        return self.holds_m3 >= self.needs_m3 and self.half_empty_s <= day_s


def soakaway(
    area_m2: float,
    storms_mm: Mapping[float, float],
    f_m_s: float,
    size_m: tuple[float, float, float],
    voids: float,
) -> Pit:
    """Judge a soakaway by storms of every length.

    Args:
        area_m2: Roof in plan [m2].
        storms_mm: Rain of the ten-year storm of each length, seconds: millimetres. From
            the local weather service: they differ from place to place.
        f_m_s: How fast the ground takes water [m/s], from a trial pit.
        size_m: Length, width and depth below the inlet [m].
        voids: Share of the pit that is room for water [-]: 1 empty, about 0.3 rubble.

    Raises:
        ValueError: If there are no storms, or voids outside 0 to 1.

    Source:
        BRE Digest 365: S = I - O, O = a_s50 f D, the base left out.
    """
    if not storms_mm:
        raise ValueError("give the rain of at least one storm")
    if not 0 < voids <= 1:
        raise ValueError(f"voids are a share from 0 to 1, got {voids:g}")
    length, width, depth = size_m
    sides = half_sides_m2(length, width, depth)
    needs = {s: area_m2 * mm / 1000 - sides * f_m_s * s for s, mm in storms_mm.items()}
    worst = max(needs, key=lambda storm: needs[storm])
    store = max(0.0, needs[worst])
    return Pit(store, length * width * depth * voids, worst, half_empty_s(store, sides, f_m_s))
