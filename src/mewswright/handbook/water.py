"""Numbers of rain, gutters, drains, soakaways and water for baths."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from mewswright.handbook.evidence import Figure, SourceRef, figure, reference
from mewswright.handbook.nearest import unknown
from mewswright.handbook.tables import rows


@dataclass(frozen=True)
class GutterSize:
    """A half-round gutter laid level with an outlet at one end, as published."""

    diameter_mm: float
    area_m2: float  # greatest roof at 75 mm/h
    flow_l_s: float
    outlet_mm: float
    source: SourceRef


@cache
def _drain_figures() -> Mapping[str, Figure]:
    return {row["name"]: figure(row, f"drainage.csv, {row['name']}") for row in rows("drainage")}


def drain_figure(name: str) -> Figure:
    """One number of rain or drains.

    Raises:
        Problem: If there is none; the sentence names the nearest.
    """
    if name not in _drain_figures():
        raise unknown("drainage figure", name, _drain_figures(), "see drainage.csv")
    return _drain_figures()[name]


@cache
def gutter_sizes() -> tuple[GutterSize, ...]:
    """Half-round gutters, the smallest first."""
    return tuple(
        GutterSize(
            float(row["diameter_mm"]),
            float(row["area_m2"]),
            float(row["flow_l_s"]),
            float(row["outlet_mm"]),
            reference(row, f"gutter_sizes.csv, {row['diameter_mm']}"),
        )
        for row in rows("gutter_sizes")
    )


@dataclass(frozen=True)
class ButtSize:
    """A round water butt as it is sold."""

    litres: int
    diameter_mm: float
    height_mm: float
    source: SourceRef

    @property
    def material(self) -> str:
        """Id of its material."""
        return f"butt_{self.litres}"


@cache
def butt_sizes() -> tuple[ButtSize, ...]:
    """Water butts, the smallest first."""
    return tuple(
        ButtSize(
            int(row["litres"]),
            float(row["diameter_mm"]),
            float(row["height_mm"]),
            reference(row, f"butt_sizes.csv, {row['litres']}"),
        )
        for row in rows("butt_sizes")
    )


@cache
def gutter_length_factors() -> tuple[tuple[float, float], ...]:
    """Drained length over depth, and the share that a gutter of that length still carries."""
    return tuple(
        (float(row["length_over_depth"]), float(row["factor"]))
        for row in rows("gutter_length_factors")
    )
