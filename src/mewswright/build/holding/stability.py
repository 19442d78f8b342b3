"""Does a whole unit stand? Lift, slide, tip, rack and sway in one frozen answer."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from mewswright.build.holding.anchors import Holding, hold_down
from mewswright.build.holding.bracing import Bracing, Racking, racking
from mewswright.build.holding.ground import slab_kn
from mewswright.build.holding.standing import Standing, WindCase, holds_down, lifts
from mewswright.build.holding.uplift import net_uplift_kn

ASSUMPTIONS = (
    "0.9 of the dead weight holds down and 1.5 times the wind works against it "
    "(EN 1990, Table A1.2(A), EQU)",
    "bond of the floor, soil heaped against walls, stored goods and birds hold nothing",
    "friction under an unbolted base is 0.3 of what weight the lift leaves; anchors and "
    "friction are not added up",
    "anchors stand at the corners first, then evenly where the edge is longest",
    "the base is stiff: anchors share the tipping by their distance from the leeward edge",
    "racking by sheets nailed on all edges (EN 1995-1-1, 9.2.4.2, Method A, from memory); "
    "boards and mesh brace nothing",
    "sway is that of the bare frame, with no slip in its joints",
)
CAUTIONS = (
    "This is a first sizing, not a design for approval: the local code and a licensed engineer "
    "decide.",
    "The path from the roof to the ground must be whole: deck to rafter, rafter to plate, plate "
    "to post, post to anchor, each by a strap or an angle, none by skew nails alone.",
)
SOURCES = (
    "EN 1990:2002, Table A1.2(A) (from memory)",
    "EN 1995-1-1:2004, 9.2.4.2 (from memory)",
    "handbook/holding.csv and anchors.csv, each row with its own mark",
)


@dataclass(frozen=True)
class FrameFacts:
    """What of the unit bears on how it stands.

    Args:
        bracing: Walls with sheets or frames; a side that is left out braces nothing.
        deck_nailed: True for a whole roof of sheets nailed on all edges.
        base: sleepers, pads or slab.
        anchor: none, slab_anchor, concrete_hole or ground_anchor.
        anchor_count: How many.
        hole_mm: Across and deep of holes of concrete [mm]; None: the usual ones.
        tested_kn: Pull that every ground anchor held in a test on the spot [kN].
        above_m: How far above the ground holes of concrete are pushed [m].
        under_ridge: Anchors more, under posts inside under a ridge beam; they hold those alone.
    """

    bracing: tuple[Bracing, ...] = ()
    deck_nailed: bool = False
    base: str = "sleepers"
    anchor: str = "none"
    anchor_count: int = 0
    hole_mm: tuple[float, float] | None = None
    tested_kn: float | None = None
    above_m: float = 0.0
    under_ridge: int = 0


@dataclass(frozen=True)
class Stability:
    """How a unit stands. `uplift_kn` is the greatest net uplift, factored; 0 or less: none."""

    uplift_kn: float
    uplift: tuple[Standing, ...]
    sliding: tuple[Standing, ...]
    overturning: tuple[Standing, ...]
    racking: tuple[Racking, ...]
    sway_mm: float | None
    sway_limit_mm: float | None
    holding: Holding
    assumptions: tuple[str, ...] = ASSUMPTIONS
    cautions: tuple[str, ...] = CAUTIONS
    sources: tuple[str, ...] = SOURCES

    @property
    def sound(self) -> bool:
        """Nothing lifts, slides, tips or racks."""
        return self.holding.sound and all(one.sound for one in self.racking)

    @property
    def weakest(self) -> Standing:
        """The check that is used most; one that nothing resists comes first."""
        checks = [*self.holding.checks, *(c for one in self.racking for c in one.checks)]
        return max(checks, key=_used)

    def as_dict(self) -> dict[str, object]:
        """JSON-ready, with the keys uplift_kn, sliding, overturning, racking and sway_mm."""
        return {
            "uplift_kn": round(self.uplift_kn, 3),
            "uplift": [one.as_dict() for one in self.uplift],
            "sliding": [one.as_dict() for one in self.sliding],
            "overturning": [one.as_dict() for one in self.overturning],
            "racking": [one.as_dict() for one in self.racking],
            "sway_mm": None if self.sway_mm is None else round(self.sway_mm, 2),
            "sway_limit_mm": self.sway_limit_mm,
            "sound": self.sound,
            "weakest": self.weakest.as_dict(),
            "assumptions": list(self.assumptions),
            "cautions": list(self.cautions),
            "sources": list(self.sources),
        }


def _used(check: Standing) -> float:
    used = check.utilisation
    return float("inf") if used is None else used


def stability(
    width_m: float,
    depth_m: float,
    dead_kn: float,
    wind: Sequence[WindCase],
    facts: FrameFacts,
    *,
    offer: bool = True,
) -> Stability:
    """Judge how a unit stands in wind from every direction.

    Args:
        width_m: Width over the frame [m].
        depth_m: Depth over the frame [m].
        dead_kn: Dead weight that is sure to be there, without slab or floor [kN].
        wind: Wind from each direction, characteristic. One wind may give two cases, one
            for the greatest push and one for the greatest lift.
        facts: Bracing, base and anchors.
        offer: Whether a unit that nothing holds is told what would.

    Returns:
        The verdicts; `as_dict()` is ready for JSON.

    Raises:
        Problem: For an anchor that is not in the handbook.
        ValueError: For no wind, sizes of 0 or less, or slab anchors without a slab.
    """
    edge = 0.1  # a slab reaches 100 mm beyond the frame (build/base.py)
    slab = slab_kn(width_m + 2 * edge, depth_m + 2 * edge) if facts.base == "slab" else 0.0
    holding = hold_down(
        wind,
        dead_kn,
        width_m,
        depth_m,
        facts.anchor,
        facts.anchor_count,
        slab_kn=slab,
        hole_mm=facts.hole_mm,
        tested_kn=facts.tested_kn,
        above_m=facts.above_m,
        offer=offer,
    )
    racked = tuple(
        racking(case, facts.bracing, width_m, depth_m, deck_nailed=facts.deck_nailed)
        for case in wind
    )
    swaying = [
        (one.sway_mm, one.sway_limit_mm)
        for one in racked
        if one.sway_mm is not None and one.sway_limit_mm is not None
    ]
    sway, limit = max(swaying, key=lambda each: each[0] / each[1], default=(None, None))
    return Stability(
        uplift_kn=max(
            net_uplift_kn(case.uplift_kn, dead_kn, holds_down(), lifts()) for case in wind
        ),
        uplift=tuple(c for c in holding.checks if c.name.startswith("uplift")),
        sliding=tuple(c for c in holding.checks if c.name.startswith("sliding")),
        overturning=tuple(c for c in holding.checks if c.name.startswith("overturning")),
        racking=racked,
        sway_mm=sway,
        sway_limit_mm=limit,
        holding=replace(holding, under_ridge=facts.under_ridge),
    )
