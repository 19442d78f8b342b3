"""Checks of a tethered bird against its neighbours: other birds, and people and dogs."""

from collections.abc import Iterator, Sequence
from itertools import pairwise

from mewswright.build.circle import (
    Spot,
    is_inside,
    nearest_on_line,
    point_distance,
    segments_cross,
)
from mewswright.checks.case import Case, evidence
from mewswright.checks.finding import TAPE_MM, Finding, Status
from mewswright.checks.limits import whole_mm
from mewswright.checks.registry import yard_check
from mewswright.checks.tethered import UNCLEAR, Tether, is_behind_a_face, tethers
from mewswright.handbook import rules
from mewswright.model.place import Feature
from mewswright.model.quantity import m_from_mm, metres, millimetres, mm_from_m
from mewswright.model.yard import Yard

PEOPLE = ("road", "path", "lane", "playground", "dog_run", "kennel")
BARRIERS = ("wall", "hedge", "fence", "building")
PAST_M = 0.3  # a wall that bounds the yard is drawn on the boundary, give or take its thickness


@yard_check("T103", "Free circles of two tethered birds")
def circle_and_circle(yard: Yard, every: Sequence[Case]) -> Iterator[Finding]:
    """T103: two tethered birds stand at least the sum of their circles apart."""
    del yard
    standing = sorted(
        (t for case in every for t in tethers(case, each_stay=True)), key=lambda t: t.at_m
    )  # by east, so that only near ones are compared
    if not standing:
        return
    widest_m = max(m_from_mm(t.circle.radius_mm) for t in standing)
    near: dict[frozenset[tuple[str, str, str]], Finding] = {}
    for i, one in enumerate(standing):
        for other in standing[i + 1 :]:
            if other.at_m[0] - one.at_m[0] > m_from_mm(one.circle.radius_mm) + widest_m:
                break
            if one.resident.bird.name == other.resident.bird.name:
                continue
            if not one.resident.stay.overlaps(other.resident.stay) or _walled_off(one, other):
                continue
            first, second = sorted((one, other), key=lambda tether: tether.key)
            if finding := _pair(first, second):
                near[frozenset((one.key, other.key))] = finding
    yield from near.values()
    met = frozenset().union(*near)
    rule = rules("house", "perch_spacing")[0]
    for tether in {t.key: t for t in standing}.values():
        if tether.key not in met:
            yield tether.found("T103", "sound", "no other circle cuts its own").model_copy(
                update={
                    "limit": millimetres(tether.circle.radius_mm),
                    "sources": evidence(rule.source),
                }
            )


def _walled_off(one: Tether, other: Tether) -> bool:
    """Some face stands on the straight line between two perches of different quarters."""
    if one.quarters.name == other.quarters.name:
        return False
    return is_behind_a_face(one, other.at_m) or is_behind_a_face(other, one.at_m)


def _pair(one: Tether, other: Tether) -> Finding | None:
    apart_mm = mm_from_m(point_distance(one.at_m, other.at_m))
    limit_mm = one.circle.radius_mm + other.circle.radius_mm
    short_mm = limit_mm - apart_mm
    if short_mm <= TAPE_MM:
        return None
    tips_mm = one.circle.tip_mm + other.circle.tip_mm
    status: Status = "harm" if tips_mm - apart_mm > TAPE_MM else "short"
    here, there = one.resident.bird.name, other.resident.bird.name
    why = (
        f"{here} and {there} can touch"
        if status == "harm"
        else f"the margins of {here} and {there} overlap"
    )
    if not other.sure and one.sure:
        status, why = "mind", f"{why}; {UNCLEAR} of {there}"
    far = one.quarters.name != other.quarters.name
    rule = rules("house", "perch_spacing")[0]
    return one.found("T103", status, why).model_copy(
        update={
            "measured": metres(m_from_mm(apart_mm)) if far else millimetres(apart_mm),
            "limit": metres(m_from_mm(limit_mm)) if far else millimetres(limit_mm),
            "remedy": f"set the perches of {here} and {there} {whole_mm(short_mm)} further apart",
            "sources": (*evidence(rule.source), *one.circle.sources),
        }
    )


@yard_check("T111", "People and dogs kept off the free circle")
def stand_off(yard: Yard, every: Sequence[Case]) -> Iterator[Finding]:
    """T111: lane, path, dog run and boundary lie a metre beyond the free circle."""
    rule = rules("house", "standoff_mm")[0]
    assert rule.number is not None
    public = [f for f in yard.feature if f.kind in PEOPLE]
    barriers = [piece for f in yard.feature if f.kind in BARRIERS for piece in _pieces(f)]
    for case in every:
        for tether in tethers(case):
            limit_mm = tether.circle.radius_mm + rule.number
            near = []
            for name, point_m, distance_m in _nearest(yard, public, tether.at_m):
                past_m = _past(tether.at_m, point_m)
                if is_behind_a_face(tether, point_m) or any(
                    segments_cross(tether.at_m, past_m, a, b) for a, b in barriers
                ):
                    continue
                near.append((distance_m, name))
            if not near:
                yield tether.found("T111", "sound", "nobody from outside comes near it")
                continue
            for distance_m, name in sorted(near):
                short_mm = limit_mm - mm_from_m(distance_m)
                if short_mm <= TAPE_MM and distance_m != min(near)[0]:
                    continue
                inside = tether.circle.radius_mm - mm_from_m(distance_m) > TAPE_MM
                status: Status = "harm" if inside else "short"
                yield tether.found(
                    "T111",
                    "sound" if short_mm <= TAPE_MM else status,
                    f"{name} lies inside its free circle"
                    if inside
                    else f"an arm or a dog from {name} reaches for it"
                    if short_mm > TAPE_MM
                    else f"{name} is far enough off",
                ).model_copy(
                    update={
                        "measured": metres(distance_m),
                        "limit": metres(m_from_mm(limit_mm)),
                        "remedy": ""
                        if short_mm <= TAPE_MM
                        else f"move the perch {whole_mm(short_mm)} away from {name}, "
                        "or fence it off",
                        "sources": (*evidence(rule.source), *tether.circle.sources),
                    }
                )


def _nearest(
    yard: Yard, public: Sequence[Feature], spot_m: Spot
) -> Iterator[tuple[str, Spot, float]]:
    """Nearest point of the boundary and of each place where people or dogs are."""
    if len(yard.yard.boundary_m) >= 3:
        point = nearest_on_line(spot_m, yard.yard.boundary_m, closed=True)
        yield "the boundary", point, point_distance(spot_m, point)
    for feature in public:
        corners = feature.line_m or feature.outline_m or (feature.at_m or (0.0, 0.0),)
        if feature.outline_m is not None and is_inside(spot_m, corners):
            yield feature.name, spot_m, 0.0
            continue
        point = (
            corners[0]
            if len(corners) == 1
            else nearest_on_line(spot_m, corners, closed=feature.outline_m is not None)
        )
        away_m = point_distance(spot_m, point) - (feature.width_m or 0) / 2
        yield feature.name, point, max(0.0, away_m)


def _past(start_m: Spot, end_m: Spot) -> Spot:
    """Go a little past the end of a straight line, so that a wall right on it counts."""
    length_m = point_distance(start_m, end_m)
    if length_m == 0:
        return end_m
    more = (length_m + PAST_M) / length_m
    return (
        start_m[0] + (end_m[0] - start_m[0]) * more,
        start_m[1] + (end_m[1] - start_m[1]) * more,
    )


def _pieces(feature: Feature) -> list[tuple[Spot, Spot]]:
    """Straight pieces of a barrier on the ground."""
    corners = feature.line_m or feature.outline_m or ()
    pieces = list(pairwise(corners))
    if feature.outline_m is not None:
        pieces.append((corners[-1], corners[0]))
    return pieces
