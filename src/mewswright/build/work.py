"""The building work of a unit: how much of each kind there is, and how many hours it takes."""

from collections.abc import Iterator
from dataclasses import dataclass

from mewswright.build.coating import boards_m2, open_timber_m2
from mewswright.build.fitments import INNER_FLAP
from mewswright.build.gutter_parts import BUTT, DRAIN, GUTTER, PIPE, STONE
from mewswright.build.parts import Part
from mewswright.build.takeoff import TakeOff
from mewswright.handbook.upkeep import Band, build_hours
from mewswright.model.quantity import m_from_mm
from mewswright.model.quarters import SIDES, Quarters

DIG = "dig barrier"


@dataclass(frozen=True)
class Work:
    """One kind of building work: how much of it, and what one of it takes."""

    id: str  # of handbook/build_hours.csv
    amount: float
    band: Band

    @property
    def hours(self) -> float:
        """Hours of one person [h], at the middle of the band."""
        return self.band.middle * self.amount


def works_of(quarters: Quarters, takeoff: TakeOff) -> tuple[Work, ...]:
    """Give all building work of a unit, what there is none of left out."""
    return tuple(
        Work(name, amount, build_hours(name))
        for name, amount in worked(quarters, takeoff)
        if amount
    )


def hours_of(works: tuple[Work, ...]) -> float:
    """Hours of one person for all of it [h]."""
    return round(sum(work.hours for work in works), 1)


def area_m2(quarters: Quarters, side: str) -> float:
    """Clear inside area of a side [m2]: its length times its height, on a side the mean one."""
    front = m_from_mm(quarters.front_height_mm or 0)
    back = m_from_mm(quarters.back_height_mm or 0)
    if side in ("front", "back"):
        return m_from_mm(quarters.width_mm) * (front if side == "front" else back)
    return 0.0 if quarters.front_height_mm is None else quarters.gable_area_m2


def lining_m2(quarters: Quarters, takeoff: TakeOff) -> float:
    """Sheets of the lining in the take-off [m2]; the roof deck may be of the same sheets."""
    return sum(
        part.amount
        for part in takeoff.parts
        if part.material == quarters.frame.lining and part.kind != "deck" and part.unit == "m2"
    )


def worked(quarters: Quarters, takeoff: TakeOff) -> Iterator[tuple[str, float]]:
    """Pieces of building work: id of handbook/build_hours.csv, and how much of it."""
    frame = takeoff.frame
    parts = takeoff.parts
    yield "setting_out", 1
    yield "ground_prep", m_from_mm(frame.outer_width_mm) * m_from_mm(frame.outer_depth_mm)
    yield from _base_work(quarters.frame.base, parts)
    boarded = boards_m2(parts)
    yield "stud_wall", boarded
    yield "boarding", boarded
    yield "sheathing", lining_m2(quarters, takeoff)
    yield "post", sum(part.count for part in parts if part.kind == "post")
    roof = quarters.roof
    if roof is not None and quarters.has_roof:
        over_mm = frame.outer_width_mm + 2 * roof.overhang_side_mm
        yield "rafters_deck", m_from_mm(takeoff.setting_out.rafter_edge_mm) * m_from_mm(over_mm)
        yield f"roof_{roof.cover}", _sum(parts, "covering")
    yield "bars", _sum(parts, "bar")
    yield "mesh", sum(p.amount for p in parts if p.kind == "mesh" and not p.what.startswith(DIG))
    yield "net", _sum(parts, "net")
    if quarters.faces is not None:
        slatted = [side for side in SIDES if quarters.faces.side(side).infill == "slatted"]
        yield "slats", sum(area_m2(quarters, side) for side in slatted)
    yield (
        "dig_barrier",
        sum(part.count * m_from_mm(part.length_mm) for part in parts if part.what.startswith(DIG)),
    )
    yield "membrane", _sum(parts, "membrane")
    yield "substrate", _sum(parts, "substrate")
    painted = [part for part in parts if part.material == quarters.frame.coating]
    if painted:
        yield "coating", (boards_m2(parts) + open_timber_m2(parts)) * quarters.frame.coats
    yield "gutter", sum(p.amount for p in parts if p.what in (GUTTER, PIPE))
    yield "butt", sum(p.amount for p in parts if p.what == BUTT)
    yield "rain_drain", sum(p.amount for p in parts if p.what == DRAIN)
    yield "soakaway", sum(p.amount for p in parts if p.what == STONE)
    for kind in ("door", "hatch", "bath", "perch"):
        hung = [p for p in parts if p.kind == kind and not p.what.startswith(INNER_FLAP)]
        yield kind, sum(part.count for part in hung)
    yield "flap", sum(part.count for part in parts if part.what.startswith(INNER_FLAP))


def _base_work(base: str, parts: tuple[Part, ...]) -> Iterator[tuple[str, float]]:
    laid = [part for part in parts if part.kind == "base"]

    def amount(material: str) -> float:
        return sum(part.amount for part in laid if part.material == material)

    if base == "sleepers":
        yield "base_sleeper", amount("sleeper_softwood")
    elif base == "pads":
        yield "base_pad", amount("paving_slab")
    elif base == "slab":
        yield "base_concrete", amount("concrete")
    else:
        yield "base_hole", sum(p.count for p in laid if p.what == "short post in concrete")


def _sum(parts: tuple[Part, ...], kind: str) -> float:
    return sum(part.amount for part in parts if part.kind == kind)
