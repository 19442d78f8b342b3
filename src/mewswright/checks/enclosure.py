"""What the four sides make together: solid corners, open sides, light, neighbours, lamps."""

from collections.abc import Iterator, Sequence

from mewswright.build import room
from mewswright.checks import asked
from mewswright.checks.asked import verdict
from mewswright.checks.case import Case
from mewswright.checks.faces import face_name, sides
from mewswright.checks.finding import Finding
from mewswright.checks.registry import quarters_check, yard_check
from mewswright.ground.distances import box_squares, is_inside
from mewswright.model.fitting import Device, Side
from mewswright.model.quantity import Quantity
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard

CORNERS: tuple[tuple[Side, Side, bool], ...] = (  # two faces, and whether it lies at the back
    ("back", "left", True), ("back", "right", True),
    ("front", "left", False), ("front", "right", False),
)  # fmt: skip
# Two quarters share a wall where no more than this lies between them: a judgement.
NEIGHBOUR_MM = 300.0
SQUARE_M = 10.0


@quarters_check("F106", "A solid corner")
def solid_corner(case: Case) -> Iterator[Finding]:
    """One corner has two boarded walls and a roof, to rest out of wind and sight."""
    faces = case.quarters.faces
    if faces is None or not case.residents:
        return
    rule = asked.strictest(
        r for bird in case.residents for r in asked.named(case, "solid_corners_min", bird)
    )
    have = sum(
        faces.side(a).is_solid and faces.side(b).is_solid
        and room.is_covered(case.quarters, case.quarters.depth_mm if at_back else 0)
        for a, b, at_back in CORNERS
    )  # fmt: skip
    need = asked.number(rule) if rule else 1
    yield verdict(
        "F106", case, have >= need, asked.miss(rule) if rule else "mind",
        measured=Quantity(value=have, unit="corners"), limit=Quantity(value=need, unit="corners"),
        why="no corner is solid on both sides and roofed",
        remedy="board two faces that meet, and roof that corner",
        sources=asked.of_rule(rule) if rule else asked.judgement("one solid corner"),
    )  # fmt: skip


@quarters_check("F108", "Open faces")
def open_face(case: Case) -> Iterator[Finding]:
    """Nothing stands open where a bird goes loose."""
    if case.quarters.faces is None:
        if case.loose:
            yield verdict(
                "F108", case, False, "harm", measured=Quantity(value="no faces"),
                bird=case.loose[0].bird.name, why="a loose bird on a pitch flies away",
                remedy="tether it, or give it a loft", sources=asked.judgement("escape"),
            )  # fmt: skip
        return
    kept_loose = bool(case.loose) or case.quarters.kind in ("loft", "isolation")
    for side, face in sides(case):
        outer = face.outer.infill if face.outer is not None else "open"
        shut = face.infill != "open" or outer != "open"
        if shut and not kept_loose:
            continue
        finding = verdict(
            "F108", case, shut or not kept_loose, "harm",
            measured=Quantity(value=face.infill), fitting=face_name(side),
            bird=case.loose[0].bird.name if case.loose else None,
            why="a bird that is loose here, or gets loose, is gone",
            remedy="close it with upright bars", sources=asked.judgement("escape"),
        )  # fmt: skip
        if not shut and not kept_loose:
            told = "birds are tethered here, so the face may stand open"
            finding = finding.model_copy(update={"why": told})
        yield finding


@quarters_check("F109", "Solid sides of a shelter")
def shelter_sides(case: Case) -> Iterator[Finding]:
    """A shelter for a tethered bird has a solid back and two solid sides."""
    if case.quarters.kind != "shelter" or not case.tethered:
        return
    rules = [r for bird in case.tethered for r in asked.named(case, "solid_sides_min", bird)]
    rule = asked.strictest(rules) or asked.of_standard("uk-hawk-board", "solid_sides_min")[0]
    have = sum(face.is_solid for _, face in sides(case))
    need = asked.number(rule)
    yield verdict(
        "F109", case, have >= need, asked.miss(rule) if rules else "mind",
        measured=Quantity(value=have, unit="sides"), limit=Quantity(value=need, unit="sides"),
        why="wind, rain and neighbours reach the bird from more than one side",
        remedy=f"board {need - have:g} more", sources=asked.of_rule(rule),
    )  # fmt: skip


@quarters_check("F113", "An opening for sunlight")
def sunlight(case: Case) -> Iterator[Finding]:
    """Daylight comes in through a face or the top."""
    q = case.quarters
    if q.faces is None or q.roof is None:
        return
    open_sides = [side for side, face in sides(case) if not face.is_solid]
    top = not q.has_roof or q.roof.covered_share < 1 or q.roof.cover == "polycarbonate"
    lit = any(fitting.kind == "light" for fitting in q.fitting)
    named = (*asked.named(case, "windows_min"), *(() if lit else asked.named(case, "light")))
    rule = (named or asked.of_standard("us-50cfr21", "windows_min"))[0]
    yield verdict(
        "F113", case, bool(open_sides) or top, asked.miss(rule) if named else "short",
        measured=Quantity(value=len(open_sides) + top, unit="openings"),
        limit=Quantity(value=1, unit="openings"),
        why="no daylight comes in", remedy="open one face with bars, or part of the roof",
        sources=asked.of_rule(rule),
    )  # fmt: skip


@quarters_check("F117", "Lamps and heaters out of reach")
def shielded(case: Case) -> Iterator[Finding]:
    """No bird touches a lamp or a heater."""
    rules = asked.named(case, "lamp_shielding")
    shown = rules or asked.of_standard("us-nc", "lamp_shielding")
    for device in case.quarters.fitting:
        if not isinstance(device, Device) or device.kind == "camera":
            continue
        yield verdict(
            "F117", case, device.shielded, asked.miss(rules[0]) if rules else "short",
            measured=Quantity(value="shielded" if device.shielded else "bare"),
            fitting=device.name, why="a bird that lands on it is burnt, or pulls at its flex",
            remedy="put it behind a guard", sources=asked.of_rule(*shown),
        )  # fmt: skip


@yard_check("F114", "Solid walls between neighbours")
def partitions(_yard: Yard, cases: Sequence[Case]) -> Iterator[Finding]:
    """Birds in adjoining quarters neither see nor touch each other through the wall."""
    lived_in = [c for c in cases if c.residents and c.quarters.kind != "pitch"]
    outlines = [case.quarters.corners_m for case in lived_in]
    cells: dict[tuple[int, int], list[int]] = {}
    for i, corners in enumerate(outlines):
        for square in box_squares(corners, SQUARE_M):
            cells.setdefault(square, []).append(i)
    for i, case in enumerate(lived_in):
        for side, face in sides(case):
            other = next(
                (
                    lived_in[j]
                    for spot in _beyond(case.quarters, side)
                    for j in cells.get((int(spot[0] // SQUARE_M), int(spot[1] // SQUARE_M)), ())
                    if j != i and is_inside(spot, outlines[j])
                ),
                None,
            )
            if other is None:
                continue
            rules = asked.named(case, "partition")
            shared = {r.bird.name for r in other.residents}
            friends = all(shared <= {*r.bird.companions, r.bird.name} for r in case.residents)
            shown = asked.of_standard("us-vt", "partition")
            yield verdict(
                "F114", case, face.is_solid or friends, "short",
                measured=Quantity(value=face.infill), fitting=face_name(side),
                why=f"birds meet {other.quarters.name} through it, and feet are bitten",
                remedy="board it, or screen it", sources=asked.of_rule(*(rules or shown)),
            )  # fmt: skip


def _beyond(quarters: Quarters, side: Side) -> tuple[tuple[float, float], ...]:
    """Three spots on the ground just outside a side: at its quarters and its middle."""
    width, depth = quarters.width_mm, quarters.depth_mm
    shares = (0.25, 0.5, 0.75)
    out = {"front": -NEIGHBOUR_MM, "back": depth + NEIGHBOUR_MM, "left": -NEIGHBOUR_MM}
    if side in ("front", "back"):
        return tuple(quarters.on_ground_m(width * share, out[side]) for share in shares)
    x = out.get(side, width + NEIGHBOUR_MM)
    return tuple(quarters.on_ground_m(x, depth * share) for share in shares)
