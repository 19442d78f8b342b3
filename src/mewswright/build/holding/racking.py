"""Racking of sheathed walls: what nailed sheets resist (EN 1995-1-1, 9.2.4.2, Method A)."""

from dataclasses import dataclass

from mewswright.handbook.holding import holding_figure
from mewswright.model.fitting import Side


def panel_factor(width_m: float, height_m: float) -> float:
    """Share of its nails that a sheet may count, c_i [-].

    Args:
        width_m: Width of the sheet [m].
        height_m: Height of the wall [m].

    Returns:
        1 for a sheet as wide as half the height; less in proportion; 0 under a quarter.

    Raises:
        ValueError: If a size is 0 or less.

    Source:
        EN 1995-1-1:2004, 9.2.4.2(4) and (7), from memory (holding.csv).
    """
    if width_m <= 0 or height_m <= 0:
        raise ValueError(f"a sheet needs width and height, got {width_m:g} x {height_m:g} m")
    if width_m < height_m / holding_figure("panel_least_share").value:
        return 0.0
    return min(1.0, width_m / (height_m / holding_figure("panel_full_share").value))


def panel_racking_kn(nail_n: float, width_m: float, height_m: float, spacing_mm: float) -> float:
    """Racking that one sheet resists, F_i,v,Rd [kN].

    The increase of nail strength along edges is left out, which is safe.

    Args:
        nail_n: Design lateral strength of one nail, F_f,Rd [N].
        width_m: Width of the sheet [m].
        height_m: Height of the wall [m].
        spacing_mm: Nails along its edges, centre to centre [mm].

    Raises:
        ValueError: If a value is 0 or less.

    Source:
        EN 1995-1-1:2004, equation 9.21, from memory.
    """
    if nail_n <= 0 or spacing_mm <= 0:
        raise ValueError(f"nails need strength and spacing, got {nail_n:g} N at {spacing_mm:g} mm")
    return nail_n / spacing_mm * width_m * panel_factor(width_m, height_m)


def end_tie_kn(racking_kn: float, height_m: float, width_m: float) -> float:
    """Pull at one end of a sheet and press at the other [kN]. Source: statics, F h / b."""
    return racking_kn * height_m / width_m


def sheet_buckles(stud_clear_mm: float, thickness_mm: float) -> bool:
    """Whether a sheet is too thin between its studs. Source: b_net / t at most 100."""
    return stud_clear_mm / thickness_mm > holding_figure("panel_net_over_thick").value


@dataclass(frozen=True)
class SheathedWall:
    """A wall of nailed sheets. `panels_m` are the widths of sheets that run its full height."""

    side: Side
    height_m: float
    panels_m: tuple[float, ...]
    nail_n: float
    spacing_mm: float
    thickness_mm: float
    stud_clear_mm: float

    @property
    def capacity_kn(self) -> float:
        """Sum over its sheets [kN]; 0 where the sheet could buckle between the studs."""
        if sheet_buckles(self.stud_clear_mm, self.thickness_mm):
            return 0.0
        return sum(
            panel_racking_kn(self.nail_n, width, self.height_m, self.spacing_mm)
            for width in self.panels_m
        )

    @property
    def end_tie_per_kn(self) -> float:
        """Pull at the end of its most slender counting sheet for 1 kN of racking on the wall."""
        shares = [
            panel_racking_kn(self.nail_n, width, self.height_m, self.spacing_mm) / width
            for width in self.panels_m
        ]
        total = self.capacity_kn
        return max(shares, default=0.0) * self.height_m / total if total else 0.0
