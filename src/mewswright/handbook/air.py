"""Numbers of wind near the ground, driving rain, air change, warmth and damp."""

from collections.abc import Mapping
from functools import cache

from mewswright.handbook.evidence import Figure, SourceRef, figure, reference
from mewswright.handbook.nearest import unknown
from mewswright.handbook.tables import rows


@cache
def _air_figures() -> Mapping[str, Figure]:
    return {
        row["name"]: figure(row, f"air_figures.csv, {row['name']}") for row in rows("air_figures")
    }


def air_figure(name: str) -> Figure:
    """One number of wind, rain, warmth or damp.

    Raises:
        Problem: If there is none; the sentence names the nearest.
    """
    if name not in _air_figures():
        raise unknown("figure of air", name, _air_figures(), "see air_figures.csv")
    return _air_figures()[name]


@cache
def windbreaks() -> Mapping[float, tuple[tuple[float, float], ...]]:
    """By density [%]: distances behind a windbreak in its heights, and the wind left there [-]."""
    found: dict[float, list[tuple[float, float]]] = {}
    for row in rows("windbreaks"):
        at = (float(row["distance_heights"]), float(row["wind_left"]))
        found.setdefault(float(row["density_pct"]), []).append(at)
    return {density: tuple(sorted(line)) for density, line in sorted(found.items())}


def windbreak_source() -> SourceRef:
    """The witness of the table of windbreaks."""
    return reference(rows("windbreaks")[0], "windbreaks.csv")
