"""On the ground round a tethered bird: edges for the leash, footing, and the bath.

Posts and fittings in the circle are T102's; this looks at the ends of the walls, at sills,
and at what stands outside.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from mewswright.build.circle import is_inside, nearest_on_line, point_distance, wall_distances_mm
from mewswright.build.leash_edges import hangs_over_edge, sills_mm, wall_ends_mm
from mewswright.checks import asked
from mewswright.checks.case import Case, evidence
from mewswright.checks.finding import TAPE_MM, Finding, Status
from mewswright.checks.limits import judgement, whole_mm
from mewswright.checks.registry import quarters_check, yard_check
from mewswright.checks.tether import LOW_BATH_RIM_MM, fitting_distance_mm
from mewswright.checks.tethered import Tether, circle_finding, is_behind_a_face, is_open, tethers
from mewswright.ground.squares import Squares
from mewswright.model.quantity import m_from_mm, millimetres, mm_from_m
from mewswright.model.quarters import SIDES, Quarters
from mewswright.model.yard import Yard

Spot = tuple[float, float]
# Things on the ground that a leash winds round or a wing strikes.
STANDING = (
    "tree", "wall", "hedge", "fence", "building", "weighing_room", "compost", "leaf_mould", "hay",
    "straw", "log_stack", "rotting_timber", "tap", "gate", "flying_ground_gate",
)  # fmt: skip
# A step that a bird on a leash takes on foot: a judgement.
EASY_STEP_MM = 50.0


@dataclass(frozen=True)
class Standing:
    """A thing that stands on the ground."""

    name: str
    owner: str | None  # quarters that it is the wall of
    corners_m: tuple[Spot, ...]
    is_closed: bool
    half_width_m: float

    def from_m(self, spot_m: Spot) -> tuple[float, Spot]:
        """Distance from a spot to its nearest side, and the place there [m]."""
        if self.is_closed and is_inside(spot_m, self.corners_m):
            return 0.0, spot_m
        point = (
            self.corners_m[0]
            if len(self.corners_m) == 1
            else nearest_on_line(spot_m, self.corners_m, closed=self.is_closed)
        )
        return max(0.0, point_distance(spot_m, point) - self.half_width_m), point


def _things(yard: Yard) -> Squares[Standing]:
    """All that stands on the ground, quarters among it."""
    found: Squares[Standing] = Squares()
    for feature in yard.feature:
        if feature.kind in STANDING:
            corners = feature.line_m or feature.outline_m or (feature.at_m or (0.0, 0.0),)
            half_m = (feature.width_m or 0) / 2
            closed = feature.outline_m is not None
            found.add(Standing(feature.name, None, corners, closed, half_m), corners, half_m)
    for q in yard.quarters:
        if q.kind != "pitch":
            found.add(Standing(q.name, q.name, q.corners_m, True, 0.0), q.corners_m)
    return found


@yard_check("T113", "Edges that the leash can wrap round")
def edges(yard: Yard, every: Sequence[Case]) -> Iterator[Finding]:
    """T113: no wall's end, no sill and nothing on the ground outside for the leash."""
    tied = [(case, tether) for case in every for tether in tethers(case)]
    if not tied:
        return
    things = _things(yard)
    for case, tether in tied:
        found = [*_own_edges(tether), *_outside(case, tether, things)]
        if not found:
            found = [
                tether.found("T113", "sound", "its leash meets no edge").model_copy(
                    update={
                        "limit": millimetres(tether.circle.radius_mm),
                        "sources": tether.circle.sources,
                    }
                )
            ]
        yield from found


def _own_edges(tether: Tether) -> Iterator[Finding]:
    """Ends of the walls of its own quarters, and sills that it gets over."""
    q, perch, feet_mm = tether.quarters, tether.perch, tether.circle.feet_mm
    for wall, opening, at_mm in wall_ends_mm(q):
        away_mm = point_distance(perch.at_mm, at_mm)
        if not asked.reaches(away_mm, feet_mm):
            yield _edge(
                tether, away_mm, f"the end of the {wall} face",
                f"at the open {opening} its leash winds round the end of the {wall} face",
            )  # fmt: skip
    distances = wall_distances_mm(q.width_mm, q.depth_mm, perch.at_mm)
    for side, up_mm in sills_mm(q):
        past_mm = feet_mm - distances[side]
        if past_mm > TAPE_MM and up_mm < perch.height_mm + feet_mm:
            yield _edge(
                tether, distances[side], f"the sill of the {side} face",
                f"it gets over the sill of the {side} face and hangs from its leash beyond",
            )  # fmt: skip


def _edge(tether: Tether, away_mm: float, edge: str, why: str) -> Finding:
    by_mm = tether.circle.feet_mm - away_mm
    return tether.found("T113", "harm", why, edge.removeprefix("the ")).model_copy(
        update={
            "measured": millimetres(away_mm),
            "limit": millimetres(tether.circle.feet_mm),
            "remedy": f"move the perch {whole_mm(by_mm)} away from {edge}, or tie it shorter",
            "sources": (judgement("edges for a leash"), *tether.circle.sources),
        }
    )


def _outside(case: Case, tether: Tether, things: Squares[Standing]) -> Iterator[Finding]:
    """What stands on the ground inside the free circle, unless a face lies between."""
    reach_m = m_from_mm(tether.circle.radius_mm - TAPE_MM)
    for thing in things.near(tether.at_m, reach_m):
        if thing.owner == tether.quarters.name:
            continue
        away_m, point_m = thing.from_m(tether.at_m)
        if away_m >= reach_m or is_behind_a_face(tether, point_m):
            continue
        away_mm = mm_from_m(away_m)
        by_mm = tether.circle.radius_mm - away_mm
        yield circle_finding(
            tether, case, "T113", away_mm, thing.name,
            f"move the perch {whole_mm(by_mm)} away from {thing.name}", thing.name,
        )  # fmt: skip


@quarters_check("T114", "Even footing under the circle")
def footing(case: Case) -> Iterator[Finding]:
    """T114: no edge to step off, and no platform, within the reach of its feet."""
    for tether in tethers(case):
        found = [*_off_the_floor(case.quarters, tether), *_platforms(case.quarters, tether)]
        if not found:
            found = [
                tether.found("T114", "sound", "its feet stay on one level").model_copy(
                    update={
                        "limit": millimetres(tether.circle.feet_mm),
                        "sources": tether.circle.sources,
                    }
                )
            ]
        yield from found


def _off_the_floor(q: Quarters, tether: Tether) -> Iterator[Finding]:
    """The step at an open edge of the floor that its feet pass."""
    distances = wall_distances_mm(q.width_mm, q.depth_mm, tether.perch.at_mm)
    past = {
        side: tether.circle.feet_mm - distances[side]
        for side in SIDES
        if is_open(q, side) and tether.circle.feet_mm - distances[side] > TAPE_MM
    }
    if not past:
        return
    step_mm = q.floor.edge_step_mm
    side = min(past, key=lambda one: past[one])  # where least of the leash is left
    furthest_mm = max(past.values())
    edge = f"open {side} edge"
    status: Status = "mind"
    if step_mm is None:
        why = f"its feet pass the {edge}, and the step there is not given"
        remedy = "measure it and give floor.edge_step_mm, 0 for none"
    elif asked.stays_within(step_mm, EASY_STEP_MM):
        status, why, remedy = "sound", "it steps out on nearly the same level", ""
    elif hangs_over_edge(step_mm, past[side]):
        status, why = "harm", f"off the {edge} its feet do not come down to the ground: it hangs"
        remedy = _less_step(step_mm, furthest_mm)
    else:
        status, why = "short", f"it drops off the {edge}, and its leash is drawn over the edge"
        remedy = _less_step(step_mm, furthest_mm)
    yield tether.found("T114", status, why).model_copy(
        update={
            "measured": None if step_mm is None else millimetres(step_mm),
            "limit": millimetres(EASY_STEP_MM),
            "remedy": remedy,
            "sources": (judgement("a step within the leash"), *tether.circle.sources),
        }
    )


def _less_step(step_mm: float, furthest_mm: float) -> str:
    return (
        f"raise the ground outside {whole_mm(step_mm - EASY_STEP_MM)}, or move the perch "
        f"{whole_mm(furthest_mm)} in from the edge"
    )


def _platforms(q: Quarters, tether: Tether) -> Iterator[Finding]:
    """Platforms of low baths, which may stand in the circle."""
    for bath in q.baths:
        away_mm = fitting_distance_mm(q, tether.perch.at_mm, bath)
        near = tether.circle.feet_mm - away_mm > TAPE_MM
        if not near or bath.platform_mm == 0 or bath.rim_height_mm > LOW_BATH_RIM_MM:
            continue  # T102 speaks of a high rim
        high_mm = bath.platform_mm - EASY_STEP_MM
        sound = asked.stays_within(high_mm, 0)
        yield tether.found(
            "T114", "sound" if sound else "mind",
            "its platform is low" if sound else "its leash catches under the edge of the platform",
            bath.name,
        ).model_copy(
            update={
                "measured": millimetres(bath.platform_mm),
                "limit": millimetres(EASY_STEP_MM),
                "remedy": "" if sound else f"set it {whole_mm(high_mm)} lower",
                "sources": (judgement("a platform within the leash"), *tether.circle.sources),
            }
        )  # fmt: skip


@quarters_check("T115", "Bath within the leash")
def bath(case: Case) -> Iterator[Finding]:
    """T115: the leash lets the bird come to the edge of a bath."""
    if not case.quarters.baths:
        return  # W101 asks whether there is one
    for tether in tethers(case):
        resident, feet_mm = tether.resident, tether.circle.feet_mm
        rules = [
            rule for topic in ("water_pan", "bath") for rule in asked.named(case, topic, resident)
        ]
        rules.sort(key=lambda rule: asked.miss(rule) != "harm")
        shown = rules or [*asked.of_standard("uk-hawk-board", "bath")]
        away_mm, tub = min(
            (fitting_distance_mm(case.quarters, tether.perch.at_mm, tub), tub.name)
            for tub in case.quarters.baths
        )
        sound = asked.stays_within(away_mm, feet_mm)
        missed = asked.miss(rules[0]) if rules else "short"
        yield tether.found(
            "T115", "sound" if sound else missed,
            "it comes to the water" if sound else "its leash does not let it come to the water",
            tub,
        ).model_copy(
            update={
                "measured": millimetres(away_mm),
                "limit": millimetres(feet_mm),
                "remedy": ""
                if sound
                else f"move it {whole_mm(away_mm - feet_mm)} towards the perch",
                "sources": (*tether.circle.sources, *evidence(*(r.source for r in shown))),
            }
        )  # fmt: skip
