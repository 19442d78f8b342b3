"""Tethered birds at their perches, and what a thing near them means."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from mewswright.build.circle import Spot, in_quarters_mm, side_crossed
from mewswright.checks.case import Case, Resident, evidence
from mewswright.checks.finding import TAPE_MM, Evidence, Finding, Status
from mewswright.checks.free_circle import FreeCircle, free_circle, tether_perches
from mewswright.model.fitting import Perch, Side
from mewswright.model.quantity import millimetres
from mewswright.model.quarters import Quarters

UNCLEAR = "the yard file does not name the perch that it is tied to"


@dataclass(frozen=True)
class Tether:
    """One tethered bird at one perch. `sure` is False where the perch is a guess."""

    resident: Resident
    quarters: Quarters
    perch: Perch
    circle: FreeCircle
    sure: bool

    @property
    def key(self) -> tuple[str, str, str]:
        """Bird, quarters and perch."""
        return self.resident.bird.name, self.quarters.name, self.perch.name

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


def tethers(case: Case, each_stay: bool = False) -> Iterator[Tether]:
    """Every tethered bird of a case at every perch that it may be tied to.

    Args:
        case: The case.
        each_stay: True for one of each stay, where dates matter; else a bird at a perch
            comes once, for its circle is the same on all its days.
    """
    seen = set()
    for resident in case.tethered:
        perches = tether_perches(case.quarters, resident)
        circle = free_circle(case.yard, resident)
        for perch in perches:
            if each_stay or (resident.bird.name, perch.name) not in seen:
                seen.add((resident.bird.name, perch.name))
                yield Tether(resident, case.quarters, perch, circle, len(perches) == 1)


def contact_rules(case: Case) -> tuple[Evidence, ...]:
    """Witnesses among the binding laws that ask for room to bate without contact."""
    found = [
        rule.source
        for key in case.standards
        for rule in case.shelf.rules(key, "clear_space")
        if rule.applies_to == "tethered"
    ]
    return evidence(*found)


def too_near(tether: Tether, distance_mm: float) -> Status:
    """A thing that the wing tips reach is harm; one that only eats the margin is short."""
    if tether.circle.radius_mm - distance_mm <= TAPE_MM:
        return "sound"
    return "harm" if tether.circle.tip_mm - distance_mm > TAPE_MM else "short"


def circle_finding(
    tether: Tether, case: Case, code: str, distance_mm: float, thing: str, remedy: str,
    fitting: str | None = None,
) -> Finding:  # fmt: skip
    """Judge a distance from the middle of the circle to a thing that stands there."""
    status = too_near(tether, distance_mm)
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
            "sources": tuple(dict.fromkeys((*tether.circle.sources, *contact_rules(case)))),
        }
    )


def is_open(quarters: Quarters, side: Side) -> bool:
    """Nothing stands in a face: open, without an upstand. A pitch has no faces at all."""
    if quarters.faces is None:
        return True
    face = quarters.faces.side(side)
    return face.infill == "open" and face.upstand_mm == 0 and face.outer is None


def is_behind_a_face(tether: Tether, point_m: Spot) -> bool:
    """A face that is not open stands between the perch and a point on the ground."""
    quarters = tether.quarters
    outside = in_quarters_mm(quarters, point_m)
    side = side_crossed(quarters.width_mm, quarters.depth_mm, tether.perch.at_mm, outside)
    return side is not None and not is_open(quarters, side)
