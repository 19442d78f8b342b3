"""Checks of the free circle of a tethered bird against walls and fittings."""

from collections.abc import Iterator, Sequence

from mewswright.build.circle import (
    Spot,
    box_distance,
    point_distance,
    segment_distance,
    wall_distances_mm,
)
from mewswright.build.room import half_width_mm
from mewswright.checks.case import Case
from mewswright.checks.finding import TAPE_MM, Finding, Status
from mewswright.checks.limits import judgement, whole_mm
from mewswright.checks.registry import quarters_check
from mewswright.checks.tethered import Tether, circle_finding, is_open, tethers, too_near
from mewswright.model.fitting import AnyFitting, Bath, Hatch, Perch, Shelf, Side, Upright
from mewswright.model.quantity import millimetres
from mewswright.model.quarters import SIDES, Quarters, perch_ends_mm

OTHER: dict[Side, Side] = {"front": "back", "back": "front", "left": "right", "right": "left"}
LOW_BATH_RIM_MM = 200  # a judgement: a bird on the ground steps over it, and no leash wraps round


@quarters_check("T101", "Free circle against the walls")
def circle_and_walls(case: Case) -> Iterator[Finding]:
    """T101: no wall, bars or mesh inside the free circle; an open face may be crossed."""
    for tether in tethers(case):
        width_mm, depth_mm = case.quarters.width_mm, case.quarters.depth_mm
        distances = wall_distances_mm(width_mm, depth_mm, tether.perch.at_mm)
        walls = [side for side in SIDES if not is_open(case.quarters, side)]
        bad = [s for s in walls if too_near(tether, distances[s]) != "sound"]
        if walls:
            nearest = min(walls, key=lambda side: distances[side])
            for side in bad or [nearest]:
                yield circle_finding(
                    tether, case, "T101", distances[side], f"the {side} face",
                    _away_from(tether, side, distances, walls),
                )  # fmt: skip
        opened = sorted((s for s in SIDES if s not in walls), key=lambda side: distances[side])
        found = [_open_side(tether, case, side, distances, walls) for side in opened]
        out = [finding for finding in found if finding.status != "sound"]
        yield from out or found[:1]


def _away_from(
    tether: Tether, side: Side, distances: dict[Side, float], walls: Sequence[Side]
) -> str:
    """Say how far to move the perch, or how much larger the room must be."""
    other = OTHER[side]
    radius_mm = tether.circle.radius_mm
    by_mm = radius_mm - distances[side]
    size_mm = distances[side] + distances[other]
    room_mm = size_mm - 2 * radius_mm
    way = "deeper" if side in ("front", "back") else "wider"
    if other in walls and room_mm < -TAPE_MM:
        return (
            f"make it {whole_mm(-room_mm)} {way} and set the perch in the middle, or tie it shorter"
        )
    if other not in walls and radius_mm - size_mm > TAPE_MM:  # it would stand out in the open
        return (
            f"make it {whole_mm(radius_mm - size_mm)} {way} and set the perch at the open {other} "
            "face, or tie it shorter"
        )
    return f"move the perch {whole_mm(by_mm)} away from the {side} face"


def _open_side(
    tether: Tether, case: Case, side: Side, distances: dict[Side, float], walls: Sequence[Side]
) -> Finding:
    distance_mm = distances[side]
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
        behind_mm = tether.circle.radius_mm if OTHER[side] in walls else limit_mm
        lacks_mm = limit_mm + behind_mm - distance_mm - distances[OTHER[side]]
        if lacks_mm > TAPE_MM:
            larger = "deeper" if side in ("front", "back") else "wider"
            remedy = (
                f"make it {whole_mm(lacks_mm)} {larger} and set the perch {whole_mm(limit_mm)} "
                f"from the {edge}, or tie it shorter"
            )
        status: Status = "mind"
    else:
        why, remedy, status = f"it stays inside the {edge}", "", "sound"
    return tether.found("T101", status, why).model_copy(
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
            if too_near(tether, distance_mm) == "sound":
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
            near.append(
                circle_finding(
                    tether, case, "T102", distance_mm, f"the {fitting.kind} {fitting.name}",
                    _out_of_the_circle(tether, fitting, distance_mm), fitting.name,
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


def _out_of_the_circle(tether: Tether, fitting: AnyFitting, distance_mm: float) -> str:
    """Move a fitting away, or take it out where the room has no place so far off."""
    q, spot = tether.quarters, tether.perch.at_mm
    if isinstance(fitting, Hatch):
        run_mm = q.width_mm if fitting.face in ("front", "back") else q.depth_mm
        ends: Sequence[object] = (0.0, run_mm)
    else:
        ends = [(x, y) for x in (0.0, q.width_mm) for y in (0.0, q.depth_mm)]
    places = (fitting.model_copy(update={"at_mm": end}) for end in ends)
    farthest_mm = max(fitting_distance_mm(q, spot, place) for place in places)
    if too_near(tether, farthest_mm) != "sound":
        return "take it out, or tie the bird shorter"
    by_mm = tether.circle.radius_mm - distance_mm
    return f"move it {whole_mm(by_mm)} away from the perch {tether.perch.name}"


def _is_out_of_reach(tether: Tether, fitting: AnyFitting) -> bool:
    """A thing so high over the perch that the bird on its leash cannot come near it."""
    if isinstance(fitting, Upright | Bath | Perch):
        return False  # these start at the floor, or the leash can wrap round their legs
    foot_mm = fitting.sill_mm if isinstance(fitting, Hatch) else fitting.height_mm
    return foot_mm > tether.perch.height_mm + tether.circle.radius_mm


def fitting_distance_mm(quarters: Quarters, spot: Spot, fitting: AnyFitting) -> float:
    """Level distance from a spot to the nearest side of a fitting [mm], 0 inside it."""
    if isinstance(fitting, Perch):
        away_mm = segment_distance(spot, *perch_ends_mm(fitting))
        return max(0.0, away_mm - half_width_mm(fitting))
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
    if too_near(tether, tether.perch.at_mm[1]) == "sound":
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
        if too_near(tether, distance_mm) != "sound":
            by_mm = tether.circle.radius_mm - distance_mm
            corners = [(x, y) for x in (0.0, quarters.width_mm) for y in (0.0, quarters.depth_mm)]
            has_place = tether.circle.radius_mm < max(
                point_distance(corner, (x_mm, 0)) for corner in corners
            )
            found.append(
                circle_finding(
                    tether, case, "T102", distance_mm, f"the {name}",
                    f"move the perch {whole_mm(by_mm)} away from it" if has_place
                    else "tie the bird shorter, or keep it elsewhere", name,
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
