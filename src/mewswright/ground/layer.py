"""One layer over the plan of the yard: shapes on the ground, and how they were worked out.

Metres east and north. A drawing gives each tone its own fill, line and word, so that no meaning
hangs on colour alone.
"""

from collections.abc import Iterator
from typing import TYPE_CHECKING, Literal

from pydantic import BaseModel, ConfigDict

from mewswright.model.place import Point

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

# The steps grow from little to much, for what is measured rather than judged.
Tone = Literal[
    "good", "mind", "bad", "plain", "quiet", "shade", "halfshade",
    "step1", "step2", "step3", "step4", "step5",
]  # fmt: skip


class Shape(BaseModel):
    """An area, a run of lines, a circle or a word on the ground."""

    model_config = ConfigDict(frozen=True)
    kind: Literal["area", "line", "arrow", "circle", "word"]
    points_m: tuple[Point, ...]  # corners; of a circle its centre, of a word its place
    tone: Tone = "plain"
    radius_m: float = 0.0
    word: str = ""
    title: str = ""


class Layer(BaseModel):
    """One layer with its legend."""

    model_config = ConfigDict(frozen=True)
    name: str  # short, for a file or an address
    title: str
    shapes: tuple[Shape, ...]
    legend: tuple[tuple[Tone, str], ...]
    how: str  # how it was worked out
    sure: str  # and how far to trust it


def areas(found: "BaseGeometry", tone: Tone, title: str = "") -> Iterator[Shape]:
    """The areas of a geometry, cut so that none has a hole."""
    from shapely import Polygon

    for part in without_holes(found):
        assert isinstance(part, Polygon)
        corners = tuple((round(x, 3), round(y, 3)) for x, y in part.exterior.coords[:-1])
        yield Shape(kind="area", points_m=corners, tone=tone, title=title)


def without_holes(found: "BaseGeometry") -> Iterator["BaseGeometry"]:
    """Polygons that make up an area, none with a hole: cut upright through each hole."""
    from shapely import Polygon, box

    for part in getattr(found, "geoms", (found,)):
        if not isinstance(part, Polygon):
            if hasattr(part, "geoms"):
                yield from without_holes(part)
            continue
        if part.is_empty or part.area < 1e-6:
            continue
        if not part.interiors:
            yield part
            continue
        west, south, east, north = part.bounds
        hole = part.interiors[0].bounds
        cut = (hole[0] + hole[2]) / 2
        yield from without_holes(part.intersection(box(west, south, cut, north)))
        yield from without_holes(part.intersection(box(cut, south, east, north)))
