"""The skins of a side, one behind the other, and what their gaps let through.

Millimetres. What passes a side passes every skin of it.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import inf

from mewswright.model.quarters import Face, Layer, Quarters


@dataclass(frozen=True)
class Skin:
    """One skin: its clear gap, 0 where it is solid, infinite where it stands open.

    A gap of None is not known. `kind` is the kind of mesh or net, where there is one.
    """

    gap_mm: float | None
    kind: str | None = None


def skins_of_face(face: Face) -> tuple[Skin, ...]:
    """The skins of a face; its solid upstand is left out, for nothing passes that."""
    return tuple(_skin(part) for part in (face, face.outer) if part is not None)


def skins_of_top(quarters: Quarters) -> tuple[Skin, ...]:
    """The skin of what is not roofed; none where all is roofed."""
    roof = quarters.roof
    if roof is None or not quarters.has_roof or roof.open_infill == "open":
        whole = roof is not None and quarters.has_roof and roof.covered_share == 1
        return () if whole else (Skin(inf),)
    if roof.covered_share == 1:
        return ()
    return (Skin(roof.open_gap_mm, "knotted_net" if roof.open_infill == "netted" else None),)


def _skin(part: Face | Layer) -> Skin:
    if part.infill == "boarded":
        return Skin(0.0)
    if part.infill == "open":
        return Skin(inf)
    return Skin(part.gap_mm, part.mesh_kind)


def widest_gap_mm(skins: Sequence[Skin]) -> float | None:
    """The widest thing that passes all skins [mm]; None where no skin's gap is known."""
    return min((skin.gap_mm for skin in skins if skin.gap_mm is not None), default=None)
