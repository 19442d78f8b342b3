"""What the ground bears and holds: bearing, soil cones, holes of concrete, frost."""

from math import pi, radians, tan

from mewswright.build.base import PAD_MM, SLAB_MM, SLEEPER_WIDE_MM
from mewswright.build.footings import hole_of
from mewswright.build.ground_line import SLEEPER_HIGH_MM
from mewswright.build.holding.standing import Standing, holds_down
from mewswright.build.shell import Shell
from mewswright.handbook.holding import holding_figure
from mewswright.model.quantity import m_from_mm


def soil_cone_kn(
    depth_m: float,
    radius_m: float,
    cone_deg: float | None = None,
    soil_kn_m3: float | None = None,
    *,
    wet: bool = False,
) -> float:
    """Weight of the soil that an anchor lifts with it: its ultimate pull [kN].

    Holds only for soil that was not dug up, and for anchors whose cones do not meet.

    Args:
        depth_m: Depth of the plate [m].
        radius_m: Radius of the plate [m].
        cone_deg: Half angle of the cone [deg], 0 to 45; None: loose soil.
        soil_kn_m3: Weight of the soil [kN/m3]; None: the handbook's.
        wet: True where it may be waterlogged: it then weighs half.

    Returns:
        gamma pi D / 3 (R^2 + R r + r^2) with R = r + D tan a. Divide by 2 for a working pull.

    Raises:
        ValueError: For a depth or radius of 0 or less, or an angle out of range.

    Source:
        Cone method of structural anchor pages; soil values from memory (holding.csv).
    """
    angle = holding_figure("cone_loose_deg").value if cone_deg is None else cone_deg
    soil = holding_figure("soil_kn_m3").value if soil_kn_m3 is None else soil_kn_m3
    if depth_m <= 0 or radius_m <= 0:
        raise ValueError(f"an anchor needs depth and radius, got {depth_m:g} and {radius_m:g} m")
    if not 0 <= angle <= 45:
        raise ValueError(f"a soil cone opens 0 to 45 deg from the upright, got {angle:g}")
    top = radius_m + depth_m * tan(radians(angle))
    weight = soil * pi * depth_m / 3 * (top**2 + top * radius_m + radius_m**2)
    return weight * holding_figure("soil_wet_factor").value if wet else weight


def cone_spacing_m(depth_m: float, radius_m: float, cone_deg: float | None = None) -> float:
    """Least distance between two anchors whose soil cones do not meet [m]. Source: geometry."""
    angle = holding_figure("cone_loose_deg").value if cone_deg is None else cone_deg
    return 2 * (radius_m + depth_m * tan(radians(angle)))


def hole_volume_m3(diameter_m: float, depth_m: float) -> float:
    """Volume of a round hole [m3]. Source: geometry."""
    if diameter_m <= 0 or depth_m <= 0:
        raise ValueError(f"a hole needs size, got {diameter_m:g} m across and {depth_m:g} m deep")
    return pi / 4 * diameter_m**2 * depth_m


def hole_pull_kn(diameter_m: float, depth_m: float) -> float:
    """Pull that a hole filled with concrete holds by its weight alone, design value [kN].

    Args:
        diameter_m: Across [m].
        depth_m: Deep [m].

    Returns:
        0.9 of its weight; friction of the soil counts for nothing.

    Source:
        Geometry, 24 kN/m3; EN 1990, Table A1.2(A).
    """
    weight = holding_figure("concrete_kn_m3").value * hole_volume_m3(diameter_m, depth_m)
    return holds_down() * weight


def hole_shear_kn(diameter_m: float, depth_m: float, above_m: float = 0.0) -> float:
    """Level working force on a short hole filled with concrete [kN].

    Args:
        diameter_m: Across [m].
        depth_m: Deep [m].
        above_m: How far above the ground it is pushed [m].

    Returns:
        Half of 0.5 Kp gamma D L^3 / (e + L) for waterlogged soil.

    Raises:
        ValueError: If it is pushed below the ground.

    Source:
        Broms (1964) for a short free-headed pile in sand, from memory; Kp, soil and safety from
        holding.csv.
    """
    if not above_m >= 0:
        raise ValueError(f"a hole is pushed 0 m or more above the ground, got {above_m:g}")
    soil = holding_figure("soil_kn_m3").value * holding_figure("soil_wet_factor").value
    last = (
        0.5
        * holding_figure("passive_kp").value
        * soil
        * diameter_m
        * depth_m**3
        / (above_m + depth_m)
    )
    return last / holding_figure("anchor_safety").value


def slab_kn(width_m: float, depth_m: float, thickness_m: float = m_from_mm(SLAB_MM)) -> float:
    """Weight of a slab, characteristic [kN]: 2.4 kN/m2 at 100 mm. Source: 24 kN/m3."""
    return holding_figure("concrete_kn_m3").value * width_m * depth_m * thickness_m


def under_post_m2(
    kind: str, post_mm: tuple[float, float], hole_across_mm: float | None = None
) -> float:
    """Ground that one post presses on [m2].

    Args:
        kind: What the unit stands on: sleepers, pads, slab or posts_in_concrete.
        post_mm: Breadth and depth of the post [mm].
        hole_across_mm: Across the holes of posts in concrete [mm]; None: the usual ones.

    Returns:
        A sleeper or slab spreads the load at 45 deg through its thickness, a sleeper over
        no more than its width; a pad and a hole of concrete over their whole area.

    Raises:
        ValueError: For another kind of base.
    """
    breadth, depth = post_mm
    if kind == "pads":
        return m_from_mm(PAD_MM) ** 2
    if kind == "sleepers":
        along = breadth + 2 * SLEEPER_HIGH_MM
        return m_from_mm(along) * m_from_mm(min(SLEEPER_WIDE_MM, depth + 2 * SLEEPER_HIGH_MM))
    if kind == "slab":
        return m_from_mm(breadth + 2 * SLAB_MM) * m_from_mm(depth + 2 * SLAB_MM)
    if kind == "posts_in_concrete":
        across = hole_across_mm or holding_figure("hole_diameter_mm").value
        return pi / 4 * m_from_mm(across) ** 2
    raise ValueError(f"no base {kind!r}; there are sleepers, pads, slab and posts_in_concrete")


def under_unit_m2(shell: Shell, pads: int = 0) -> float:
    """Ground that the whole unit presses on [m2].

    Args:
        shell: The unit.
        pads: How many pads or holes there are, where it stands on those.

    Raises:
        ValueError: If it stands on pads or holes and none are counted.
    """
    width, depth = m_from_mm(shell.width_mm), m_from_mm(shell.depth_mm)
    kind = shell.quarters.frame.base
    if kind == "sleepers":
        wide = m_from_mm(SLEEPER_WIDE_MM)
        return 2 * wide * (width + 2 * wide) + 2 * wide * depth
    if kind == "slab":
        edge = m_from_mm(shell.wall_mm + 100)
        return (width + 2 * edge) * (depth + 2 * edge)
    if pads < 1:
        what = kind.replace("_", " ")
        raise ValueError(f"{shell.quarters.name!r} stands on {what}: say how many, 1 or more")
    if kind == "posts_in_concrete":
        return pads * pi / 4 * m_from_mm(hole_of(shell).across_mm) ** 2
    return pads * m_from_mm(PAD_MM) ** 2


def bearing_check(what: str, load_kn: float, area_m2: float, allowed_kn_m2: float) -> Standing:
    """Whether the ground bears a load.

    Args:
        what: What stands there, in words.
        load_kn: Downward load, characteristic, for presumed bearing is a working value [kN].
        area_m2: Ground that it presses on [m2].
        allowed_kn_m2: Presumed bearing [kN/m2].

    Raises:
        ValueError: If area or bearing is 0 or less.
    """
    if area_m2 <= 0 or allowed_kn_m2 <= 0:
        raise ValueError(
            f"{what}: area and bearing must be more than 0, got {area_m2:g} m2 and "
            f"{allowed_kn_m2:g} kN/m2"
        )
    return Standing(
        "bearing",
        what,
        max(0.0, load_kn) / area_m2,
        allowed_kn_m2,
        "kN/m2",
        "presumed bearing of firm ground, topsoil stripped; soft or filled ground bears less",
    )


def frost_word(kind: str, frost_depth_mm: float | None, hole_mm: float | None = None) -> str:
    """What frost does to this base, in a sentence.

    Args:
        kind: What the unit stands on: sleepers, pads or slab.
        frost_depth_mm: Depth that frost reaches [mm]; None: not known.
        hole_mm: Depth of holes filled with concrete, where there are some [mm].
    """
    if frost_depth_mm is None:
        return "how deep frost reaches here is not known: ask, for frost lifts shallow bases"
    if frost_depth_mm == 0:
        return "no frost in the ground here"
    if hole_mm is not None and hole_mm < frost_depth_mm:
        return (
            f"holes of {hole_mm:g} mm end above frost at {frost_depth_mm:g} mm and can be lifted: "
            f"dig to {frost_depth_mm:g} mm, or drain the ground round them"
        )
    if hole_mm is not None:
        return f"holes of {hole_mm:g} mm reach below frost at {frost_depth_mm:g} mm"
    return (
        f"{kind} lie above frost at {frost_depth_mm:g} mm and move with it: lay them on "
        "free-draining stone, and look at doors and gaps each spring"
    )
