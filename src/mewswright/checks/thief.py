"""Against thieves: locks on outer doors, and what the cameras show."""

from collections.abc import Iterator, Mapping, Sequence

from mewswright.checks import asked
from mewswright.checks.asked import verdict
from mewswright.checks.case import Case
from mewswright.checks.doorways import door_between, door_graph, door_to, listed
from mewswright.checks.finding import Evidence, Finding, Status
from mewswright.checks.registry import yard_check
from mewswright.checks.roof import is_open_to_the_sky
from mewswright.ground.camera_cover import View, front_spots, views_of, within_reach
from mewswright.ground.distances import feature_edges
from mewswright.ground.doors import beyond, open_places
from mewswright.ground.sight import Eye, feature_screens
from mewswright.model.place import Feature
from mewswright.model.quantity import Quantity
from mewswright.model.ways import Door
from mewswright.model.yard import Yard

# What a camera is taken to show where the file does not say. All are judgements.
VIEW_DEG = 90.0
RANGE_M = 15.0
HANGS_M = 2.5
SHARE_PCT = 50.0  # of a front or a gate in some camera's view: a judgement
GATES = ("gate", "flying_ground_gate")
GATE_EYE_M = 1.0
GATE_IN_WALL_M = 0.5  # a gate stands in its wall, and is not hidden by it


@yard_check("N104", "Outer doors locked against thieves")
def locked_outside(yard: Yard, cases: Sequence[Case]) -> Iterator[Finding]:
    """A door to the open, with birds behind it, opens by key or code alone."""
    open_air = open_places(
        yard.space, (case.quarters.name for case in cases if is_open_to_the_sky(case))
    )
    homes = {case.quarters.name for case in cases if case.residents}
    graph = door_graph(yard)
    for door in yard.door:
        inner = [name for name in door.between if name not in open_air]
        if len(inner) != 1 or not _leads_to(inner[0], homes, graph, open_air):
            continue
        own = inner[0] if any(q.name == inner[0] for q in yard.quarters) else None
        sound = door.locks in ("key", "code")
        yield Finding(
            code="N104", status="sound" if sound else "short", quarters=own,
            fitting=door_to(own, door) if own else door_between(door),
            measured=Quantity(value=f"lock: {door.locks}"),
            why="" if sound else "whoever comes over the wall opens it and takes a bird",
            remedy="" if sound else "fit a lock with a key or a code that opens freely from inside",
            sources=asked.of_rule(*asked.of_standard("us-ut", "entry")),
        )  # fmt: skip


def _leads_to(
    start: str, homes: set[str], graph: Mapping[str, Sequence[Door]], open_air: frozenset[str]
) -> bool:
    """Whether birds live in a room, or behind it without going through the open."""
    seen, left = {start}, [start]
    while left:
        here = left.pop()
        if here in homes:
            return True
        for door in graph.get(here, ()):
            there = beyond(door, here)
            if there not in seen and there not in open_air:
                seen.add(there)
                left.append(there)
    return False


class Cover:
    """The cameras of a yard that can be judged, and what stands in their way."""

    def __init__(self, yard: Yard, cases: Sequence[Case]) -> None:
        cameras = [f for f in yard.feature if f.kind == "camera" and f.at_m is not None]
        self.blind = [camera for camera in cameras if camera.looks_deg is None]
        self.cameras = [camera for camera in cameras if camera.looks_deg is not None]
        self.views = [_view(camera) for camera in self.cameras]
        every = [case.body for case in cases]
        self.bodies = [within_reach(view, every) for view in self.views]
        self.screens = feature_screens(yard.feature) if cameras else ()

    def shown(self, spots: Sequence[Eye], stands_in_m: float = 0.0) -> tuple[float, list[Feature]]:
        """Share of some spots that is shown [%], and the cameras that show any of them."""
        by = views_of(spots, self.views, self.bodies, self.screens, stands_in_m)
        seen = {i for cameras in by for i in cameras}
        share_pct = 100 * sum(bool(cameras) for cameras in by) / len(spots)
        return share_pct, [self.cameras[i] for i in sorted(seen)]


def _view(camera: Feature) -> View:
    east, north = camera.at_m or (0.0, 0.0)
    return View(
        (east, north, HANGS_M if camera.height_m is None else camera.height_m),
        camera.looks_deg or 0.0,
        VIEW_DEG if camera.view_deg is None else camera.view_deg,
        RANGE_M if camera.range_m is None else camera.range_m,
    )


@yard_check("N105", "Fronts in a camera's view")
def fronts_in_view(yard: Yard, cases: Sequence[Case]) -> Iterator[Finding]:
    """Half of each front, or more, is in the view of some camera."""
    homes = [c for c in cases if c.residents and c.quarters.kind != "pitch"]
    if not homes:
        return
    cover = Cover(yard, cases)
    for camera in cover.blind:
        yield Finding(
            code="N105", status="mind", fitting=camera.name,
            measured=Quantity(value="direction not given"),
            why="the file does not say where it looks, so it counts for nothing",
            remedy="give looks_deg of the camera", sources=_witness(),
        )  # fmt: skip
    if not cover.cameras and not cover.blind:
        yield Finding(
            code="N105", status="mind", measured=Quantity(value=0, unit="cameras"),
            why="nobody sees who stands before a front by night",
            remedy="hang a camera that shows the fronts, and give it as a feature",
            sources=_witness(),
        )  # fmt: skip
    for case in homes if cover.cameras else ():
        share_pct, by = cover.shown(front_spots(case.quarters))
        status, why, remedy = _judged(share_pct, by, "a front")
        finding = verdict(
            "N105", case, status == "sound", status,
            measured=Quantity(value=share_pct, unit="pct"),
            limit=Quantity(value=SHARE_PCT, unit="pct"), fitting="front face",
            why=why, remedy=remedy, sources=_witness(),
        )  # fmt: skip
        yield finding.model_copy(update={"why": why})


@yard_check("N106", "Gates in a camera's view")
def gates_in_view(yard: Yard, cases: Sequence[Case]) -> Iterator[Finding]:
    """Whoever comes in by a gate is shown by some camera."""
    if not any(case.residents for case in cases):
        return
    cover = Cover(yard, cases)
    for gate in yard.feature:
        if gate.kind not in GATES:
            continue
        share_pct, by = cover.shown(gate_spots(gate), GATE_IN_WALL_M)
        status, why, remedy = _judged(share_pct, by, "a gate")
        yield Finding(
            code="N106", status=status, fitting=gate.name,
            measured=Quantity(value=share_pct, unit="pct"),
            limit=Quantity(value=SHARE_PCT, unit="pct"),
            why=why, remedy=remedy, sources=_witness(),
        )  # fmt: skip


def gate_spots(gate: Feature) -> list[Eye]:
    """Middle of every edge of a gate; a point is its own middle."""
    return [
        ((ax + bx) / 2, (ay + by) / 2, GATE_EYE_M) for (ax, ay), (bx, by) in feature_edges(gate)
    ]


def _judged(share_pct: float, by: Sequence[Feature], what: str) -> tuple[Status, str, str]:
    """Status, why and remedy of a share in view; what is assumed is said, and minded."""
    assumed = [camera for camera in by if assumed_keys(camera)]
    if share_pct < SHARE_PCT - 1e-9:
        why = f"who stands at {what} that no camera shows is not seen"
        return "mind", why, "turn a camera to it, or hang one more"
    if assumed:
        names = listed([camera.name for camera in assumed])
        keys = listed([key for camera in assumed for key in assumed_keys(camera)])
        return (
            "mind",
            f"taken to show {VIEW_DEG:g} degrees, {RANGE_M:g} m far, where the file says "
            f"nothing: {names}",
            f"give {keys} of the camera",
        )
    return "sound", "", ""


def assumed_keys(camera: Feature) -> list[str]:
    """Keys of a camera that the file leaves out and its view hangs on."""
    return [key for key in ("range_m", "view_deg") if getattr(camera, key) is None]


def _witness() -> tuple[Evidence, ...]:
    return asked.judgement("half of it in some camera's view")
