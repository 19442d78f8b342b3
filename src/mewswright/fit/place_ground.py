"""The ground that pieces may stand on: the boundary, and everything that keeps them off.

Metres, level ground. Every rule is an area that the outside of a piece must keep clear of; areas
that overlap are merged before anything is placed. The same areas say why a place is refused.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from math import cos, hypot, pi
from typing import TYPE_CHECKING, Literal

from mewswright.checks import asked
from mewswright.fit.place_piece import Piece, Placed, Spot, as_placed, pieces_that_stand
from mewswright.model.place import Feature
from mewswright.model.problem import Problem
from mewswright.model.quantity import m_from_mm
from mewswright.model.yard import Yard

if TYPE_CHECKING:
    from shapely import Polygon
    from shapely.geometry.base import BaseGeometry

# Judgements, each shown in docs/place.md.
PASSAGE_M = 0.8  # between two things: a person with a barrow passes
HAND_M = 0.1  # a door is reached from so much beyond half a way
HANDS_M = 0.2  # more than the barrow's width, where that is wider
BESIDE_WAY_M = 0.5  # between quarters and a road, lane or path
APART_M = 3.0  # between isolation and other birds
ROOT_SHARE = 0.2  # of a tree's height, where its crown is not given
GATE_M, TAP_M, MAST_M, THING_M = 1.5, 0.8, 0.3, 0.5  # kept free round things of one point
THIN_M = 0.3  # of a line whose width is not given
ROUND_YARD_M = 10.0  # ground taken round everything, where there is no boundary
BARE_YARD_M = 20.0
ARC = 12  # corners of a quarter of a circle; circles are drawn round, never inside

WAYS = ("road", "lane", "path")
NO_GROUND = ("gate", "flying_ground_gate", "tap", "camera", "weighing_room", "tree", "power_line")
BLOCKS_WALK = (
    "building", "wall", "hedge", "fence", "compost", "leaf_mould", "hay", "straw", "log_stack",
    "rotting_timber", "dog_run", "kennel", "pond",
)  # fmt: skip

Rule = Literal[
    "boundary", "hazard", "way", "roots", "suspect_tree", "power_line", "quarters", "apart",
    "sight", "access",
]  # fmt: skip
RULES: dict[Rule, str] = {
    "boundary": "inside the boundary, less the set-back",
    "hazard": "a passage clear of what stands on the ground",
    "way": "clear of roads, paths, gates and taps",
    "roots": "foundations outside the roots of trees",
    "suspect_tree": "out of reach of trees that are not sound",
    "power_line": "far enough from a power line",
    "quarters": "a passage clear of other quarters",
    "apart": "isolation apart from other birds",
    "sight": "no sight of a bird that it fears",
    "access": "its door can be reached on foot, with the barrow",
}


@dataclass(frozen=True)
class KeepOff:
    """An area that pieces keep off: by which rule, of what, and how far from it [m]."""

    rule: Rule
    thing: str
    area: "BaseGeometry"  # all the ground within that distance
    own: "BaseGeometry"
    away_m: float
    kinds: tuple[str, ...]  # kinds of quarters that it holds for


def _off(rule: Rule, thing: str, own: "BaseGeometry", away_m: float, kinds: tuple[str, ...]
         ) -> KeepOff:  # fmt: skip
    return KeepOff(rule, thing, grown(own, away_m), own, away_m, kinds)


ALL = ("loft", "shelter", "pitch", "isolation")
BUILT = ("loft", "shelter", "isolation")


@dataclass(frozen=True)
class Site:
    """The ground to place on.

    Attributes:
        yard: The yard.
        boundary: The ground; assumed where the file gives no boundary.
        is_assumed: Whether it is.
        set_back_m: Free strip along the boundary.
        passage_m: Free way between any two things.
        keep_offs: Everything that pieces keep off.
        standing: What stays where it is.
    """

    yard: Yard
    boundary: "Polygon"
    is_assumed: bool
    set_back_m: float
    passage_m: float
    keep_offs: tuple[KeepOff, ...]
    standing: tuple[Placed, ...]
    _free: dict[tuple[str, ...], "BaseGeometry"] = field(default_factory=dict, repr=False)

    def off(self, kind: str, without: Sequence[Rule] = ()) -> list[KeepOff]:
        """What a kind of quarters keeps off."""
        return [k for k in self.keep_offs if kind in k.kinds and k.rule not in without]

    def free(self, kind: str, without: Sequence[Rule] = ()) -> "BaseGeometry":
        """Ground that the outside of a kind of quarters may cover, hazards merged."""
        import shapely

        key = (kind, *without)
        if key not in self._free:
            ground = self.boundary
            if "boundary" not in without and self.set_back_m > 0:
                ground = self.boundary.buffer(-self.set_back_m, join_style="mitre")
            off = shapely.union_all([k.area for k in self.off(kind, without)])
            self._free[key] = ground.difference(off)
            shapely.prepare(self._free[key])
        return self._free[key]

    @cached_property
    def reached_today(self) -> "BaseGeometry":
        """Where somebody with a barrow gets to as things stand."""
        return reached(self, ())

    @cached_property
    def at_hand_today(self) -> "BaseGeometry":
        """Ground that is at hand from there: a door on it can be opened."""
        import shapely

        found = grown(self.reached_today, self.at_hand_m)
        shapely.prepare(found)
        return found

    @property
    def at_hand_m(self) -> float:
        """How far off the middle of a barrow's way a door may be that is reached from it [m]."""
        return half_way_m(self) + HAND_M

    @cached_property
    def starts(self) -> tuple[Spot, ...]:
        """Where walks begin: weighing rooms and gates; () where the file has none."""
        return tuple(
            _middle(f)
            for f in self.yard.feature
            if f.kind in ("weighing_room", "gate", "flying_ground_gate")
        )

    @cached_property
    def stops_walk(self) -> "BaseGeometry":
        """What nobody walks through, as it stands."""
        import shapely

        areas = [_ground_of(f) for f in self.yard.feature if f.kind in BLOCKS_WALK]
        areas += [shapely.Point(f.at_m).buffer(0.3) for f in self.yard.feature
                  if f.kind == "tree" and f.at_m]  # fmt: skip
        return shapely.union_all([*areas, *(outline(placed) for placed in self.standing
                                            if placed.piece.kind != "pitch")])  # fmt: skip


def outline(placed: Placed) -> "Polygon":
    """The outside of a piece on the ground."""
    from shapely import Polygon

    return Polygon(placed.corners_m)


def site_of(
    yard: Yard, pieces: Sequence[Piece], set_back_m: float | None, passage_m: float | None
) -> Site:
    """Set out the ground for pieces; those of them that stand in the yard make way.

    Args:
        yard: The yard.
        pieces: What is to be placed.
        set_back_m: Free strip along the boundary [m]; None = the passage.
        passage_m: Free way between things [m]; None = 0.8 m, or the barrow and 0.2 m.

    Raises:
        Problem: For a boundary that crosses itself or holds no ground.
    """
    import shapely

    barrow = yard.service.barrow_mm
    usual = max(PASSAGE_M, m_from_mm(barrow) + HANDS_M if barrow else 0.0)
    passage = usual if passage_m is None else passage_m
    moving = {unit.quarters.name for piece in pieces for unit in piece.units}
    standing = tuple(
        as_placed(piece)
        for piece in pieces_that_stand(yard)
        if piece.units[0].quarters.name not in moving
    )
    boundary = _boundary(yard)
    assumed = boundary is None
    if boundary is None:
        boundary = _assumed_ground(yard, pieces, standing)
    keep = [k for k in _keep_offs(yard, standing, passage) if k.area.intersects(boundary)]
    shapely.prepare(boundary)
    return Site(yard, boundary, assumed, passage if set_back_m is None else set_back_m, passage,
                tuple(keep), standing)  # fmt: skip


def _boundary(yard: Yard) -> "Polygon | None":
    from shapely import Polygon
    from shapely.validation import explain_validity

    corners = yard.yard.boundary_m
    if not corners:
        return None
    if len(set(corners)) < 3:
        raise Problem(
            f"boundary_m has {len(corners)} corners: give three or more, in order round the ground"
        )
    ground = Polygon(corners)
    if not ground.is_valid:
        raise Problem(
            f"boundary_m crosses itself ({explain_validity(ground)}): give its corners in order "
            "round the ground"
        )
    if ground.area <= 0:
        raise Problem("boundary_m encloses no ground: give its corners in order round the ground")
    return ground


def _assumed_ground(yard: Yard, pieces: Sequence[Piece], standing: Iterable[Placed]) -> "Polygon":
    """A box round everything of the yard, wide enough for what is to be placed."""
    from shapely import box

    spots: list[Spot] = [corner for placed in standing for corner in placed.corners_m]
    for feature in yard.feature:
        points = feature.outline_m or feature.line_m or ((feature.at_m,) if feature.at_m else ())
        spots += [(p[0], p[1]) for p in points]
    for piece in pieces:
        if not piece.is_new:
            spots += as_placed(piece).corners_m
    wide = 2 * max((hypot(*p.half_m) for p in pieces), default=0.0) + PASSAGE_M
    round_m = max(ROUND_YARD_M, wide)
    if not spots:
        spots, round_m = [(0.0, 0.0)], max(BARE_YARD_M, wide * len(pieces) ** 0.5)
    xs, ys = [x for x, _ in spots], [y for _, y in spots]
    ground: Polygon = box(
        min(xs) - round_m, min(ys) - round_m, max(xs) + round_m, max(ys) + round_m
    )  # fmt: skip
    return ground


def _keep_offs(yard: Yard, standing: Sequence[Placed], passage: float) -> Iterator[KeepOff]:
    line_m = m_from_mm(asked.number(asked.of_standard("us-guide", "power_line_clear_level_mm")[0]))
    fall = asked.number(asked.house_rule("tree_fall_heights"))
    for f in yard.feature:
        ground = _ground_of(f)
        if f.kind == "power_line":
            yield _off("power_line", f.name, ground, line_m, ALL)
        elif f.kind == "tree":
            assert f.height_m is not None
            roots = f.crown_radius_m or ROOT_SHARE * f.height_m
            yield _off("hazard", f.name, ground, THIN_M, ALL)
            yield _off("roots", f.name, ground, roots, BUILT)
            if f.condition != "sound":
                away = fall * f.height_m
                yield _off("suspect_tree", f.name, ground, away, ALL)
        elif f.kind in WAYS:
            yield _off("way", f.name, ground, BESIDE_WAY_M, ALL)
        elif f.kind in ("gate", "flying_ground_gate"):
            yield _off("way", f.name, ground, GATE_M, ALL)
        elif f.kind == "tap":
            yield _off("way", f.name, ground, TAP_M, ALL)
        elif f.kind == "camera":
            yield _off("hazard", f.name, ground, MAST_M, ALL)
        elif f.at_m is not None:
            if f.kind != "weighing_room":
                yield _off("hazard", f.name, ground, THING_M, ALL)
        else:
            yield _off("hazard", f.name, ground, passage, ALL)
    for placed in standing:
        area = outline(placed)
        yield _off("quarters", placed.piece.name, area, passage, ALL)
        other = ("loft", "shelter", "pitch") if placed.piece.living_kind == "isolation" else ()
        apart = other or ("isolation",)
        yield _off("apart", placed.piece.name, area, APART_M, apart)


def _ground_of(feature: Feature) -> "BaseGeometry":
    """The ground that a feature itself takes up."""
    from shapely import LineString, Point
    from shapely.geometry import Polygon

    if feature.at_m is not None:
        return Point(feature.at_m)
    if feature.line_m is not None:
        wide = feature.width_m or THIN_M
        return LineString(feature.line_m).buffer(wide / 2, cap_style="flat", join_style="mitre")
    shape: BaseGeometry = Polygon(feature.outline_m or ())
    return shape if shape.is_valid else shape.buffer(0).union(LineString(feature.outline_m or ()))


def grown(area: "BaseGeometry", by_m: float) -> "BaseGeometry":
    """An area and everything within a distance of it; its round corners are drawn outside."""
    return area.buffer(by_m / cos(pi / 4 / ARC), quad_segs=ARC) if by_m > 0 else area


def _middle(feature: Feature) -> Spot:
    if feature.at_m is not None:
        return feature.at_m
    points = feature.outline_m or feature.line_m or ()
    return sum(p[0] for p in points) / len(points), sum(p[1] for p in points) / len(points)


def reached(site: Site, placed: Sequence[Placed]) -> "BaseGeometry":
    """Where somebody with a barrow gets to from the gates and the weighing room.

    Exact on the outlines: the middle of a barrow keeps half its way clear of everything. Where
    the file has neither gate nor weighing room, the largest connected ground counts.
    """
    import shapely

    half = half_way_m(site)
    solid = [outline(one) for one in placed if one.piece.living_kind != "pitch"]
    stops = grown(shapely.union_all([site.stops_walk, *solid]), half)
    walk = site.boundary.difference(stops)
    parts = [part for part in shapely.get_parts(walk) if part.area > half * half]
    if not parts:
        return shapely.Polygon()
    if not site.starts:
        widest: BaseGeometry = max(parts, key=lambda part: float(part.area))
        return widest
    near = []
    for start in site.starts:
        spot = shapely.Point(start)
        near.append(min(parts, key=lambda part: float(part.distance(spot))))
    return shapely.union_all(near)


def half_way_m(site: Site) -> float:
    """Half the width that somebody with the barrow needs between two things [m]."""
    barrow = site.yard.service.barrow_mm
    walk = m_from_mm(barrow) + HANDS_M / 2 if barrow else PASSAGE_M - HANDS_M / 2
    return min(site.passage_m, walk) / 2
