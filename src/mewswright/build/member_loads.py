"""Characteristic loads on the members of one unit, and what is said of each member."""

from collections.abc import Mapping
from dataclasses import dataclass

from mewswright.build.actions.combine import ActionKind, Factors
from mewswright.build.analysis import BeamCase
from mewswright.build.member_forces import Worst
from mewswright.build.shell import breadth_depth_mm
from mewswright.build.strength.section import Rect
from mewswright.model.fitting import Side

Cases = Mapping[str, tuple[ActionKind, BeamCase]]


@dataclass(frozen=True)
class FacePush:
    """Wind on a wall [kN/m2], inwards and outwards, both as sizes."""

    into_kn_m2: float
    out_kn_m2: float


@dataclass(frozen=True)
class MemberLoads:
    """Characteristic loads on the members of one unit.

    Roof loads are on the slope for dead load and wind, on the plan for snow: taken on the
    slope as well, which is safe. `wind_up` is a size.
    """

    dead_kn_m2: float
    dead_least_kn_m2: float
    snow_kn_m2: float
    wind_up_kn_m2: float
    wind_down_kn_m2: float
    eave_up_kn_m2: float
    maintenance_kn_m2: float
    maintenance_kn: float
    faces: Mapping[Side, FacePush]
    lean_kn: float
    lean_height_m: float
    bate_kn: float
    factors: Factors
    roof_service_class: int
    lean_kn_m: float = 0.0  # the same person, or two, spread along the face
    eave_snow_kn_m: float = 0.0  # that hangs over an eave, along it
    exceptional_snow_kn_m2: float = 0.0


@dataclass(frozen=True)
class MemberResult:
    """One mark of the frame, and what governs it."""

    mark: str
    what: str
    section: str
    strength_class: str
    length_mm: float
    worst: Worst


def rect(section: str, lies_flat: bool = False) -> Rect:
    """A section as it stands to what bends it: `lies_flat` for plates under rafters."""
    breadth, depth = breadth_depth_mm(section)
    return Rect(depth, breadth) if lies_flat else Rect(breadth, depth)
