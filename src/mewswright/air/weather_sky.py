"""The sky of a weather file: how warm it is, and how dull."""

from collections.abc import Mapping
from typing import TYPE_CHECKING

from mewswright.air.sun_hours import SunHours, clear_sky_w_m2
from mewswright.air.weather import KELVIN, STEFAN, sky_temp_c

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray


def sky_of(
    read: Mapping[str, "NDArray[np.float64]"],
    dew: "NDArray[np.float64]",
    cloud: "NDArray[np.float64]",
    sun: SunHours,
) -> "NDArray[np.float64]":
    """Temperature of the sky: as measured, else by its cloud, else by how dull the days are."""
    import numpy as np

    infrared = read.get("infrared_w_m2", np.full(len(dew), np.nan))
    told = np.where(np.isnan(cloud), dullness(read, sun), cloud)
    made = sky_temp_c(read["temp_c"], dew, told)
    measured = ~np.isnan(infrared) & (infrared > 50)
    with np.errstate(invalid="ignore"):
        seen = (np.where(measured, infrared, 300.0) / STEFAN) ** 0.25 - KELVIN
    return np.where(measured, seen, made)


def dullness(read: Mapping[str, "NDArray[np.float64]"], sun: SunHours) -> "NDArray[np.float64]":
    """Cloud of each day from what is missing of its beam (8760,)."""
    import numpy as np

    clear, _ = clear_sky_w_m2(sun)
    day = [line.reshape(-1, 24).sum(axis=1) for line in (read["beam_w_m2"], clear)]
    share = np.divide(day[0], day[1], out=np.full(len(day[0]), 0.5), where=day[1] > 0)
    told: NDArray[np.float64] = np.repeat(1 - np.clip(share, 0, 1), 24)
    return told
