"""Half-round gutters: what they carry, which one serves, its outlet and its fall."""

from dataclasses import dataclass
from math import pi
from typing import Literal

from mewswright.handbook.water import (
    GutterSize,
    drain_figure,
    gutter_length_factors,
    gutter_sizes,
)
from mewswright.model.quantity import m_from_mm


def half_round_flow_l_s(diameter_mm: float) -> float:
    """Flow of a level half-round gutter with its outlet at one end [l/s].

    Holds for gutters that run free at the outlet and are no longer than 50 times their
    depth; see `length_factor`.

    Args:
        diameter_mm: Inner diameter [mm].

    Returns:
        0.9 x 2.78e-5 A^1.25, A the whole half circle [mm2].

    Raises:
        ValueError: If the diameter is 0 or less.

    Source:
        BS EN 12056-3, 5.1, from memory; it gives the table of Approved Document H3.
    """
    if diameter_mm <= 0:
        raise ValueError(f"a gutter must be wider than 0 mm, got {diameter_mm:g}")
    area_mm2 = pi * diameter_mm**2 / 8
    return float(0.9 * 2.78e-5 * area_mm2**1.25)


def length_factor(length_m: float, depth_mm: float) -> float:
    """Share of its flow that a long gutter still carries [-].

    Args:
        length_m: Length drained to one outlet [m].
        depth_mm: Depth of the gutter [mm]; half of the diameter for a half-round one.

    Raises:
        ValueError: If the gutter is longer than the table knows, 200 times its depth.

    Source:
        BS EN 12056-3 as gutter makers quote it (handbook/gutter_length_factors.csv); a
        straight line between rows.
    """
    slender = length_m * 1000 / depth_mm
    table = gutter_length_factors()
    if slender > table[-1][0]:
        raise ValueError(
            f"a gutter of {length_m:g} m is over {table[-1][0]:g} times its depth of "
            f"{depth_mm:g} mm: give it one more outlet"
        )
    before, share = table[0]
    for at, factor in table:
        if slender <= at:
            if at == before:
                return factor
            return share + (factor - share) * (slender - before) / (at - before)
        before, share = at, factor
    return share


def corner_factor(distance_m: float | None) -> float:
    """Share of its flow that a gutter with a corner carries [-].

    Args:
        distance_m: Distance of the corner from the outlet [m]; None: no corner.

    Source:
        Gutter makers' pages within 2 m; from memory from 2 to 4 m.
    """
    if distance_m is None:
        return 1.0
    if distance_m < drain_figure("corner_near_m").value:
        return drain_figure("corner_near_factor").value
    if distance_m <= drain_figure("corner_far_m").value:
        return drain_figure("corner_far_factor").value
    return 1.0


def drop_mm(length_m: float, one_in: float) -> float:
    """Fall over a length [mm]. Source: geometry."""
    return length_m * 1000 / one_in


@dataclass(frozen=True)
class Gutter:
    """The smallest gutter that carries the rain of one eave."""

    size: GutterSize
    length_m: float
    outlets: int
    outlet_at: Literal["one end", "the middle", "spread evenly"]
    flow_l_s: float  # rain that comes to it
    capacity_l_s: float  # all its outlets together, level

    @property
    def utilisation(self) -> float:
        """Share of its capacity that the rain takes [-]."""
        return self.flow_l_s / self.capacity_l_s

    @property
    def run_m(self) -> float:
        """Length that drains one way to an outlet [m]."""
        return self.length_m if self.outlet_at == "one end" else self.length_m / (2 * self.outlets)

    @property
    def least_fall_mm(self) -> float:
        """Fall along one run, at the least [mm]."""
        return drop_mm(self.run_m, drain_figure("gutter_least_one_in").value)

    @property
    def wished_fall_mm(self) -> float:
        """Fall along one run, as wished [mm]."""
        return drop_mm(self.run_m, drain_figure("gutter_one_in").value)

    @property
    def water_kg(self) -> float:
        """Water in a full gutter [kg], from half its circle."""
        return pi * m_from_mm(self.size.diameter_mm) ** 2 / 8 * self.length_m * 1000


def gutter_for(flow_l_s: float, length_m: float, corner_m: float | None = None) -> Gutter:
    """Choose the smallest half-round gutter with the fewest outlets.

    One outlet at an end is tried in every size, then one in the middle (it is fed from
    both sides and so carries double), then more of them, spread evenly.

    Args:
        flow_l_s: Rain that comes to it [l/s].
        length_m: Length [m].
        corner_m: Distance of a corner from the outlet [m]; None: no corner.

    Raises:
        ValueError: If the flow is less than 0 or the length 0 or less, or no gutter of the
            handbook carries it with 8 outlets.
    """
    if flow_l_s < 0 or length_m <= 0:
        raise ValueError(
            f"a gutter needs rain of 0 l/s or more and length, got {flow_l_s:g} l/s on "
            f"{length_m:g} m"
        )
    bend = corner_factor(corner_m)
    ways: list[tuple[int, Literal["one end", "the middle", "spread evenly"], int]] = [
        (1, "one end", 1), (1, "the middle", 2),
    ]  # fmt: skip
    ways += [(outlets, "spread evenly", 2 * outlets) for outlets in range(2, 9)]
    for outlets, place, runs in ways:
        for size in gutter_sizes():
            try:
                long = length_factor(length_m / runs, size.diameter_mm / 2)
            except ValueError:
                continue  # too long for this size and place: the next one may do
            capacity = runs * half_round_flow_l_s(size.diameter_mm) * long * bend
            if capacity >= flow_l_s:
                return Gutter(size, length_m, outlets, place, flow_l_s, capacity)
    raise ValueError(
        f"no half-round gutter of the handbook carries {flow_l_s:.2f} l/s over {length_m:g} m: "
        "drain the roof to both sides, or have a box gutter designed"
    )
