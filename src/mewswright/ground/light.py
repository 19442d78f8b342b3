"""How much of the sun reaches spots in the yard, over a year or at one moment.

Spots are metres east, north and up. `ray_light` does the rays; this module turns solids into its
rows, the sun's year into its order, and shares back into hours. Transmittance follows the angle:
bars of thickness t (and as deep) with a pitch p let 1 - (t + t tan b) / p through, b the angle in
the plane across them; a mesh of wires w lets (1 - w / (p cos a)) (1 - w / (p cos b)) through.
"""

from collections.abc import Sequence
from copy import copy
from dataclasses import dataclass
from typing import TYPE_CHECKING

from mewswright.ground.solids import Grille, Leaves, Solid, SolidBox, Thin
from mewswright.ground.sun_path import SunYear

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

Spot = tuple[float, float, float]
HALF = 0.5  # of the sun: what lets less through counts as dense where that is asked
BLOCK = 64  # spots cast at once: what is put in order after them stays small


@dataclass(frozen=True, eq=False)
class Rows:
    """Solids as the kernel reads them, and the thin things that their last column counts."""

    boxes: "NDArray[np.float64]"
    crowns: "NDArray[np.float64]"
    thin: tuple[Thin, ...]


def rows_of(solids: Sequence[Solid]) -> Rows:
    """Turn solids into rows of numbers; things that are thin in the same way share a row."""
    import numpy as np

    thin: dict[Thin, int] = {}
    boxes, crowns = [], []
    for solid in solids:
        kind = -1 if solid.thin is None else thin.setdefault(solid.thin, len(thin))
        if isinstance(solid, SolidBox):
            boxes.append((*solid.at_m, *solid.turn, *solid.half_m, *solid.bottom, *solid.top, kind))
        else:
            crowns.append((*solid.at_m, solid.radius_m, solid.squash, kind))
    return Rows(
        np.array(boxes, float).reshape(-1, 13), np.array(crowns, float).reshape(-1, 6), tuple(thin)
    )


@dataclass(frozen=True, eq=False)
class Rays:
    """The sun of many moments in the kernel's order: by sector, then by height.

    Attributes:
        suns: East and north of the unit bearing, tangent of the height (3, rays).
        starts: First ray of each sector (sectors + 1,).
        order: Which moment each ray is (rays,).
    """

    suns: "NDArray[np.float64]"
    starts: "NDArray[np.int64]"
    order: "NDArray[np.int64]"

    @property
    def count(self) -> int:
        """How many rays there are."""
        return int(self.suns.shape[1])

    @property
    def ways(self) -> "NDArray[np.float64]":
        """Unit vectors towards the sun: east, north, up (3, rays)."""
        import numpy as np

        told: NDArray[np.float64] = self.suns / np.hypot(1.0, self.suns[2])
        return told


def rays_of(height_deg: "NDArray[np.float64]", bearing_deg: "NDArray[np.float64]") -> Rays:
    """Put suns over the horizon into the kernel's order."""
    import numpy as np

    from mewswright.ground.ray_cones import SECTORS

    bearing = np.radians(bearing_deg % 360)
    tangent = np.tan(np.radians(np.minimum(height_deg, 89.999)))
    sector = np.minimum((bearing * (SECTORS / (2 * np.pi))).astype(np.int64), SECTORS - 1)
    order = np.lexsort((tangent, sector))
    suns = np.stack((np.sin(bearing), np.cos(bearing), tangent))[:, order]
    starts = np.searchsorted(sector[order], np.arange(SECTORS + 1))
    return Rays(np.ascontiguousarray(suns), starts.astype(np.int64), order)


def through(thin: Sequence[Thin], rays: Rays, month: "NDArray[np.int64]") -> "NDArray[np.float32]":
    """Share of each ray that passes each thin thing (things, rays); at least one row."""
    return passing(thin, rays.ways.T, month[rays.order])


def passing(
    thin: Sequence[Thin], ways: "NDArray[np.float64]", month: "NDArray[np.int64]"
) -> "NDArray[np.float32]":
    """The same for unit vectors towards the sun (rays, 3), each in a month from 1 to 12."""
    import numpy as np

    told = np.ones((max(1, len(thin)), len(ways)), np.float32)
    for row, one in enumerate(thin):
        if isinstance(one, Leaves):
            told[row] = np.array(one.share, np.float32)[month - 1]
            continue
        for grille in one if isinstance(one, tuple) else (one,):
            told[row] *= _passes(grille, ways).astype(np.float32)
    return told


def _passes(grille: Grille, way: "NDArray[np.float64]") -> "NDArray[np.float64]":
    import numpy as np

    into = np.maximum(np.abs(way @ np.array(grille.normal)), 1e-9)
    t, p = grille.thick_m, grille.pitch_m
    slant = np.abs(way @ np.array(grille.across)) / into
    if grille.along is not None:
        told: NDArray[np.float64] = np.maximum(0.0, 1 - (t + t * slant) / p)
        return told
    normal = np.array(grille.normal)
    other = np.cross(normal, np.array(grille.across))
    slant2 = np.abs(way @ other) / into
    wires = [np.maximum(0.0, 1 - t / p * np.hypot(1.0, one)) for one in (slant, slant2)]
    both: NDArray[np.float64] = wires[0] * wires[1]
    return both


def points_of(spots: "Sequence[Spot] | NDArray[np.float64]") -> "NDArray[np.float64]":
    """Spots as the kernels read them (spots, 3)."""
    import numpy as np

    return np.ascontiguousarray(np.asarray(spots, float).reshape(-1, 3))


class Caster:
    """Solids and a year of the sun, made ready to cast rays to spots."""

    def __init__(self, solids: Sequence[Solid], year: SunYear) -> None:
        """Turn both into rows of numbers."""
        self.rows = rows_of(solids)
        self.rays = rays_of(year.height_deg, year.bearing_deg)
        self.passes = through(self.rows.thin, self.rays, year.month)

    def whole(self) -> "Caster":
        """The same with thin things that stop the sun where they let less than half through."""
        told = copy(self)
        told.passes = (self.passes >= HALF).astype(self.passes.dtype)
        return told

    def light(self, spots: "Sequence[Spot] | NDArray[np.float64]") -> "NDArray[np.float32]":
        """Share of the direct sun that reaches each spot at each step, in the order of the year.

        Args:
            spots: Where [m east, m north, m up] (spots, 3).

        Returns:
            Shares 0 to 1 (spots, steps).
        """
        import numpy as np

        told = np.empty((len(spots), self.rays.count), np.float32)
        for start in range(0, len(spots), BLOCK):
            block = self.cast(spots[start : start + BLOCK])
            told[start : start + BLOCK, self.rays.order] = block
        return told

    def cast(self, spots: "Sequence[Spot] | NDArray[np.float64]") -> "NDArray[np.float32]":
        """The same in the order of the rays."""
        import numpy as np

        from mewswright.ground.ray_light import light_of

        points = points_of(spots)
        out = np.empty((len(points), self.rays.count), np.float32)
        if out.size:
            light_of(
                self.rows.boxes, self.rows.crowns, self.passes, points, self.rays.suns,
                self.rays.starts, out,
            )  # fmt: skip
        return out

    def differences(self, spots: Sequence[Spot], each: int) -> "NDArray[np.float32]":
        """Size of the difference from asking every solid, for one ray in so many (spots, rays)."""
        import numpy as np

        from mewswright.ground.ray_kernel import light_of_each

        points, suns = points_of(spots), np.ascontiguousarray(self.rays.suns[:, ::each])
        passes = np.ascontiguousarray(self.passes[:, ::each])
        slow = np.empty((len(points), suns.shape[1]), np.float32)
        if slow.size:
            light_of_each(self.rows.boxes, self.rows.crowns, passes, points, suns, slow)
        told: NDArray[np.float32] = np.abs(self.cast(spots)[:, ::each] - slow)
        return told


def light(
    solids: Sequence[Solid], spots: "Sequence[Spot] | NDArray[np.float64]", year: SunYear
) -> "NDArray[np.float32]":
    """Share of the sun that reaches spots over a year: `Caster` for one question."""
    return Caster(solids, year).light(spots)


def hours(shares: "NDArray[np.float32]", year: SunYear) -> "NDArray[np.float64]":
    """Sun hours in each month at each hour of the clock (spots, 12, 24) [h a month]."""
    import numpy as np

    slot = (year.month - 1) * 24 + year.hour
    told = np.zeros((len(shares), 288))
    for row, one in enumerate(shares):
        told[row] = np.bincount(slot, one, minlength=288)
    return (told * year.step_min / 60).reshape(-1, 12, 24)
