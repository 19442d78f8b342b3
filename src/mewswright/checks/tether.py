"""Checks of the free circle of a tethered bird: walls, fittings, roof, neighbours, people."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

from mewswright.build.circle import (
    Spot,
    box_distance,
    in_quarters_mm,
    is_inside,
    nearest_on_line,
    point_distance,
    segment_distance,
    segments_cross,
    side_crossed,
    wall_distances_mm,
)
from mewswright.checks.case import Case, Resident, evidence
from mewswright.checks.finding import TAPE_MM, Evidence, Finding, Status
from mewswright.checks.free_circle import FreeCircle, free_circle, tether_perches
from mewswright.checks.limits import judgement, whole_mm
from mewswright.checks.registry import quarters_check, yard_check
from mewswright.handbook import rules
from mewswright.model.fitting import AnyFitting, Bath, Hatch, Perch, Shelf, Side, Upright
from mewswright.model.place import Feature
from mewswright.model.quantity import m_from_mm, metres, millimetres, mm_from_m
from mewswright.model.quarters import SIDES, Quarters, perch_ends_mm
from mewswright.model.yard import Yard

LOW_BATH_RIM_MM = 200  # a judgement: a bird on the ground steps over it, and no leash wraps round
PEOPLE = ("road", "path", "lane", "playground", "dog_run", "kennel")
BARRIERS = ("wall", "hedge", "fence", "building")
UNCLEAR = "the yard file does not name the perch that it is tied to"


@dataclass(frozen=True)
class Tether:
    """One tethered bird at one perch. `sure` is False where the perch is a guess."""

    resident: Resident
    quarters: Quarters
    perch: Perch
    circle: FreeCircle
    sure: bool

    @cached_property
    def at_m(self) -> Spot:
        """Middle of the circle on the ground [m]."""
        return self.quarters.on_ground_m(*self.perch.at_mm)

    def found(self, code: str, status: Status, why: str, fitting: str | None = None) -> Finding:
        """Give a finding of this bird here; a guessed perch can only be minded."""
        unclear = not self.sure and status != "sound"
        return Finding(
            code=code,
            status="mind" if unclear else status,
            quarters=self.quarters.name,
            bird=self.resident.bird.name,
            fitting=fitting or self.perch.name,
            why=f"{why}; {UNCLEAR}" if unclear else why,
        )


def tethers(case: Case) -> Iterator[Tether]:
    """Every tethered bird of a case at every perch that it may be tied to."""
    seen = set()
    for resident in case.tethered:
        perches = tether_perches(case.quarters, resident)
        circle = free_circle(case.yard, resident)
        for perch in perches:
            if (resident.bird.name, perch.name) not in seen:
                seen.add((resident.bird.name, perch.name))
                yield Tether(resident, case.quarters, perch, circle, len(perches) == 1)


def _contact_rules(case: Case) -> tuple[Evidence, ...]:
    """Witnesses among the binding laws that ask for room to bate without contact."""
    found = [
        rule.source
        for key in case.standards
        for rule in rules(key, "clear_space")
        if rule.applies_to == "tethered"
    ]
    return evidence(*found)


def _too_near(tether: Tether, distance_mm: float) -> Status:
    """A thing that the wing tips reach is harm; one that only eats the margin is short."""
    if tether.circle.radius_mm - distance_mm <= TAPE_MM:
        return "sound"
    return "harm" if tether.circle.tip_mm - distance_mm > TAPE_MM else "short"


def _circle_finding(
    tether: Tether, case: Case, code: str, distance_mm: float, thing: str, remedy: str,
    fitting: str | None = None,
) -> Finding:  # fmt: skip
    status = _too_near(tether, distance_mm)
    why = {
        "harm": f"its wing tips reach {thing}",
        "short": f"{thing} stands in the margin round its wing tips",
        "sound": f"its free circle stays clear of {thing}",
    }[status]
    finding = tether.found(code, status, why, fitting)
    return finding.model_copy(
        update={
            "measured": millimetres(distance_mm),
            "limit": millimetres(tether.circle.radius_mm),
            "remedy": "" if status == "sound" else remedy,
            "sources": tuple(dict.fromkeys((*tether.circle.sources, *_contact_rules(case)))),
        }
    )


def is_open(quarters: Quarters, side: Side) -> bool:
    """Nothing stands in a face: open, without an upstand. A pitch has no faces at all."""
    if quarters.faces is None:
        return True
    face = quarters.faces.side(side)
    return face.infill == "open" and face.upstand_mm == 0 and face.outer is None


@quarters_check("T101", "Free circle against the walls")
def circle_and_walls(case: Case) -> Iterator[Finding]:
    """T101: no wall, bars or mesh inside the free circle; an open face may be crossed."""
    for tether in tethers(case):
        width_mm, depth_mm = case.quarters.width_mm, case.quarters.depth_mm
        distances = wall_distances_mm(width_mm, depth_mm, tether.perch.at_mm)
        walls = [side for side in SIDES if not is_open(case.quarters, side)]
        bad = [s for s in walls if _too_near(tether, distances[s]) != "sound"]
        if walls:
            nearest = min(walls, key=lambda side: distances[side])
            for side in bad or [nearest]:
                yield _circle_finding(
                    tether, case, "T101", distances[side], f"the {side} face",
                    _away_from(tether, side, distances, walls),
                )  # fmt: skip
        for side in SIDES:
            if side not in walls:
                yield from _open_side(tether, case, side, distances[side])


def _away_from(
    tether: Tether, side: Side, distances: dict[Side, float], walls: Sequence[Side]
) -> str:
    """Say how far to move the perch, or how much larger the room must be."""
    other: Side = {"front": "back", "back": "front", "left": "right", "right": "left"}[side]  # type: ignore[assignment]
    radius_mm = tether.circle.radius_mm
    by_mm = radius_mm - distances[side]
    room_mm = distances[side] + distances[other] - 2 * radius_mm
    if other in walls and room_mm < -TAPE_MM:
        way = "deeper" if side in ("front", "back") else "wider"
        return (
            f"make it {whole_mm(-room_mm)} {way} and set the perch in the middle, or tie it shorter"
        )
    return f"move the perch {whole_mm(by_mm)} away from the {side} face"


def _open_side(tether: Tether, case: Case, side: Side, distance_mm: float) -> Iterator[Finding]:
    pitch = case.quarters.kind == "pitch"
    limit_mm = tether.circle.radius_mm if pitch else tether.circle.feet_mm
    short_mm = limit_mm - distance_mm
    edge = f"{side} edge of the pitch" if pitch else f"open {side} face"
    if short_mm > TAPE_MM:
        why = (
            f"its free circle passes the {edge}, and the yard file does not say what lies there"
            if pitch
            else f"its leash lets it out through the {edge}, from under the roof"
        )
        remedy = f"move the perch {whole_mm(short_mm)} away from the {edge}"
        status: Status = "mind"
    else:
        why, remedy, status = f"it stays inside the {edge}", "", "sound"
    yield tether.found("T101", status, why).model_copy(
        update={
            "measured": millimetres(distance_mm),
            "limit": millimetres(limit_mm),
            "remedy": remedy,
            "sources": tether.circle.sources,
        }
    )


@quarters_check("T102", "Free circle against posts and fittings")
def circle_and_fittings(case: Case) -> Iterator[Finding]:
    """T102: no post, other perch, shelf or device inside the free circle; a low bath may be."""
    for tether in tethers(case):
        near: list[Finding] = []
        for fitting in case.quarters.fitting:
            if fitting.name == tether.perch.name or _is_out_of_reach(tether, fitting):
                continue
            distance_mm = fitting_distance_mm(case.quarters, tether.perch.at_mm, fitting)
            if _too_near(tether, distance_mm) == "sound":
                continue
            if isinstance(fitting, Bath) and fitting.rim_height_mm <= LOW_BATH_RIM_MM:
                near.append(
                    tether.found("T102", "sound", "a low bath may stand inside", fitting.name)
                    .model_copy(update={
                        "measured": millimetres(fitting.rim_height_mm),
                        "limit": millimetres(LOW_BATH_RIM_MM),
                        "sources": (judgement("rim of a low bath"), *tether.circle.sources),
                    })
                )  # fmt: skip
                continue
            by_mm = tether.circle.radius_mm - distance_mm
            near.append(
                _circle_finding(
                    tether, case, "T102", distance_mm, f"the {fitting.kind} {fitting.name}",
                    f"move it {whole_mm(by_mm)} away from the perch {tether.perch.name}",
                    fitting.name,
                )
            )  # fmt: skip
        near += _front_posts(tether, case)
        if all(finding.status == "sound" for finding in near):
            yield tether.found("T102", "sound", "nothing stands in its free circle").model_copy(
                update={
                    "limit": millimetres(tether.circle.radius_mm),
                    "sources": tether.circle.sources,
                }
            )
        yield from near


def _is_out_of_reach(tether: Tether, fitting: AnyFitting) -> bool:
    """A thing so high over the perch that the bird on its leash cannot come near it."""
    if isinstance(fitting, Upright | Bath | Perch):
        return False  # these start at the floor, or the leash can wrap round their legs
    foot_mm = fitting.sill_mm if isinstance(fitting, Hatch) else fitting.height_mm
    return foot_mm > tether.perch.height_mm + tether.circle.radius_mm


def fitting_distance_mm(quarters: Quarters, spot: Spot, fitting: AnyFitting) -> float:
    """Level distance from a spot to the nearest side of a fitting [mm], 0 inside it."""
    if isinstance(fitting, Perch):
        thick_mm = fitting.width_mm or fitting.diameter_mm or 0
        if fitting.form in ("bow", "ring") and fitting.length_mm is None:
            thick_mm = fitting.diameter_mm or 0
        return max(0.0, segment_distance(spot, *perch_ends_mm(fitting)) - thick_mm / 2)
    if isinstance(fitting, Bath):
        if fitting.diameter_mm is not None:
            return max(0.0, point_distance(spot, fitting.at_mm) - fitting.diameter_mm / 2)
        return box_distance(spot, fitting.at_mm, fitting.size_mm)
    if isinstance(fitting, Shelf):
        return box_distance(spot, fitting.at_mm, (fitting.length_mm, fitting.width_mm))
    if isinstance(fitting, Upright):
        return box_distance(spot, fitting.at_mm, (fitting.size_mm, fitting.size_mm))
    if isinstance(fitting, Hatch):
        return _ledge_distance_mm(quarters, spot, fitting)
    return point_distance(spot, fitting.at_mm)


def _ledge_distance_mm(quarters: Quarters, spot: Spot, hatch: Hatch) -> float:
    """Distance to the ledge of a hatch; without a ledge the wall itself is what counts."""
    if not hatch.ledge_mm:
        return float("inf")
    half = hatch.ledge_mm / 2
    middle, size = {
        "front": ((hatch.at_mm, half), (hatch.width_mm, hatch.ledge_mm)),
        "back": ((hatch.at_mm, quarters.depth_mm - half), (hatch.width_mm, hatch.ledge_mm)),
        "left": ((half, hatch.at_mm), (hatch.ledge_mm, hatch.width_mm)),
        "right": ((quarters.width_mm - half, hatch.at_mm), (hatch.ledge_mm, hatch.width_mm)),
    }[hatch.face]
    return box_distance(spot, middle, size)


def _front_posts(tether: Tether, case: Case) -> list[Finding]:
    """Posts of the frame in an open front, as far as the yard file says where they stand."""
    quarters = case.quarters
    if quarters.kind == "pitch" or not is_open(quarters, "front"):
        return []
    if _too_near(tether, tether.perch.at_mm[1]) == "sound":
        return []
    # Where a side is walled, its own finding covers the post at its end.
    posts = [("left front post", 0.0)] if is_open(quarters, "left") else []
    posts += [("right front post", quarters.width_mm)] if is_open(quarters, "right") else []
    count = quarters.frame.post_count
    if count is not None:
        step_mm = quarters.width_mm / (count - 1)
        posts += [(f"front post {i + 1}", i * step_mm) for i in range(1, count - 1)]
    found = []
    for name, x_mm in posts:
        distance_mm = point_distance(tether.perch.at_mm, (x_mm, 0))
        if _too_near(tether, distance_mm) != "sound":
            by_mm = tether.circle.radius_mm - distance_mm
            found.append(
                _circle_finding(
                    tether, case, "T102", distance_mm, f"the {name}",
                    f"move the perch {whole_mm(by_mm)} away from it", name,
                )
            )  # fmt: skip
    if count is None:
        found.append(
            tether.found(
                "T102", "mind",
                "its free circle passes the open front, and the number of front posts is not given",
            ).model_copy(
                update={"remedy": "give frame.post_count", "sources": tether.circle.sources}
            )
        )  # fmt: skip
    return found


@yard_check("T103", "Free circles of two tethered birds")
def circle_and_circle(yard: Yard, every: Sequence[Case]) -> Iterator[Finding]:
    """T103: two tethered birds stand at least the sum of their circles apart."""
    del yard
    standing = sorted(
        (t for case in every for t in tethers(case)), key=lambda t: t.at_m
    )  # by east, so that only near ones are compared
    if not standing:
        return
    widest_m = max(m_from_mm(t.circle.radius_mm) for t in standing)
    clear = {id(t) for t in standing}
    for i, one in enumerate(standing):
        for other in standing[i + 1 :]:
            if other.at_m[0] - one.at_m[0] > m_from_mm(one.circle.radius_mm) + widest_m:
                break
            if one.resident.bird.name == other.resident.bird.name:
                continue
            if not one.resident.stay.overlaps(other.resident.stay) or _walled_off(one, other):
                continue
            if finding := _pair(one, other):
                clear -= {id(one), id(other)}
                yield finding
    rule = rules("house", "perch_spacing")[0]
    for tether in standing:
        if id(tether) in clear:
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


def is_behind_a_face(tether: Tether, point_m: Spot) -> bool:
    """A face that is not open stands between the perch and a point on the ground."""
    quarters = tether.quarters
    outside = in_quarters_mm(quarters, point_m)
    side = side_crossed(quarters.width_mm, quarters.depth_mm, tether.perch.at_mm, outside)
    return side is not None and not is_open(quarters, side)


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


@quarters_check("T104", "Room over the perch of a tethered bird")
def room_overhead(case: Case) -> Iterator[Finding]:
    """T104: half a wing span of air between the perch and the roof over it."""
    rule = rules("house", "perch_roof_spans")[0]
    assert rule.number is not None
    for tether in tethers(case):
        quarters, span = case.quarters, tether.resident.span
        if not _is_roofed_at(quarters, tether.perch.at_mm[1]):
            yield tether.found("T104", "sound", "nothing is over the perch")
            continue
        air_mm = quarters.ceiling_mm(tether.perch.at_mm[1]) - tether.perch.height_mm
        limit_mm = rule.number * span.value
        short_mm = limit_mm - air_mm
        laws = _contact_rules(case)
        status: Status = "sound" if short_mm <= TAPE_MM else "harm" if laws else "short"
        why = "a raised wing " + ("strikes the roof" if status != "sound" else "clears the roof")
        yield tether.found("T104", status, why).model_copy(
            update={
                "measured": millimetres(air_mm),
                "limit": millimetres(limit_mm),
                "remedy": ""
                if status == "sound"
                else f"lower the perch or raise the roof {whole_mm(short_mm)}",
                "sources": (*evidence(rule.source), span.source, *laws),
            }
        )


def _is_roofed_at(quarters: Quarters, y_mm: float) -> bool:
    roof = quarters.roof
    if roof is None or roof.form == "none":
        return False
    covered_from_mm = quarters.depth_mm * (1 - roof.covered_share)
    return roof.open_infill != "open" or y_mm >= covered_from_mm


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
                if is_behind_a_face(tether, point_m) or any(
                    segments_cross(tether.at_m, point_m, a, b) for a, b in barriers
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


def _pieces(feature: Feature) -> list[tuple[Spot, Spot]]:
    """Straight pieces of a barrier on the ground."""
    corners = feature.line_m or feature.outline_m or ()
    pieces = list(pairwise(corners))
    if feature.outline_m is not None:
        pieces.append((corners[-1], corners[0]))
    return pieces
