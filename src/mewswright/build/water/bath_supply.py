"""Automatic bath water: pipe, valve, air gap, overflow, frost, and the time to fill."""

from math import log, pi, sqrt

from mewswright.build.water.floor_drain import GRAVITY, overflow_l_s
from mewswright.handbook.water import drain_figure
from mewswright.model.quantity import m_from_mm

WATER_VISCOSITY = 1.31e-6  # m2/s at 10 C; textbook, memory
SMOOTH_PIPE_MM = 0.01  # roughness of plastic pipe; textbook, memory
PIPES_MM = (15.0, 20.0, 26.0)  # inner diameters of 20, 25 and 32 mm plastic pipe; memory
OVERFLOWS_MM = (19.0, 28.0, 36.0, 44.0)  # inner diameters of usual overflow pipes; memory


def pipe_flow_l_s(inner_mm: float, length_m: float, pressure_kpa: float) -> float:
    """Flow of water through a straight plastic pipe under a pressure drop [l/s].

    Holds for turbulent flow, which any useful pipe has.

    Args:
        inner_mm: Inner diameter [mm].
        length_m: Length [m].
        pressure_kpa: Pressure that is lost along it [kPa].

    Raises:
        ValueError: If a value is 0 or less.

    Source:
        Swamee and Jain (1976), from memory; within 3 % of Colebrook and White.
    """
    if min(inner_mm, length_m, pressure_kpa) <= 0:
        raise ValueError(
            f"a pipe needs width, length and pressure, got {inner_mm:g} mm, {length_m:g} m and "
            f"{pressure_kpa:g} kPa"
        )
    d = m_from_mm(inner_mm)
    head = pressure_kpa / GRAVITY
    drop = GRAVITY * d**3 * head / length_m
    rough = m_from_mm(SMOOTH_PIPE_MM) / (3.7 * d)
    thick = sqrt(3.17 * WATER_VISCOSITY**2 / drop)
    return -0.965 * d * sqrt(drop) * log(rough + thick) * 1000


def fill_s(volume_l: float, flow_l_s: float) -> float:
    """Time to fill a bath [s].

    Raises:
        ValueError: If nothing flows.
    """
    if flow_l_s <= 0:
        raise ValueError(f"a bath fills only where water flows, got {flow_l_s:g} l/s")
    return volume_l / flow_l_s


def air_gap_mm(inlet_mm: float) -> float:
    """Clear drop from an inlet to the highest level that water can reach [mm].

    Source:
        EN 1717 and national water rules, from memory: 20 mm, or two bores if that is more.
    """
    return max(drain_figure("air_gap_mm").value, drain_figure("air_gap_bore").value * inlet_mm)


def overflow_for_mm(inflow_l_s: float) -> float | None:
    """The smallest usual overflow pipe that lets out all that a stuck valve lets in [mm].

    The water may stand as high over the pipe's middle as the pipe is wide. None where no
    usual pipe is enough: then throttle the inlet.
    """
    for size in OVERFLOWS_MM:
        if overflow_l_s(size, size) >= inflow_l_s:
            return size
    return None


def pipe_depth_mm(frost_depth_mm: float | None) -> float:
    """Least depth of a water pipe in the ground [mm].

    Source:
        The yard's own frost depth; where none is known 750 mm, as UK rules have it (memory).
    """
    least = drain_figure("pipe_cover_mm").value
    return least if frost_depth_mm is None else max(frost_depth_mm, least)


def round_l(diameter_mm: float, depth_mm: float) -> float:
    """Water in a round bath with straight sides [l]."""
    return pi * m_from_mm(diameter_mm) ** 2 / 4 * m_from_mm(depth_mm) * 1000
