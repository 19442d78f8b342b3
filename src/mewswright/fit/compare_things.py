"""What of a unit wears out and is cleaned, counted from its take-off."""

from collections.abc import Iterator
from dataclasses import dataclass, field

from mewswright.build.coating import boards_m2, open_timber_m2
from mewswright.build.fitments import GROWN
from mewswright.build.gutter_parts import BUTT, GUTTER, PIPE, STONE
from mewswright.build.materials import known_material
from mewswright.build.takeoff import TakeOff
from mewswright.build.work import DIG, area_m2, lining_m2
from mewswright.handbook.upkeep import upkeep
from mewswright.model.fitting import Perch
from mewswright.model.quantity import m_from_mm
from mewswright.model.quarters import SIDES, Quarters


@dataclass(frozen=True)
class Thing:
    """One subject of handbook/upkeep.csv, with how much of it there is by unit.

    `item` is the material that it is bought as, whose price in the yard file serves.
    """

    subject: str
    what: str
    amounts: dict[str, float] = field(default_factory=dict)
    item: str = ""


def worn(quarters: Quarters, takeoff: TakeOff) -> Iterator[Thing]:
    """What wears out and is renewed."""
    yield from _covers(quarters)
    yield from _floor(quarters, takeoff)
    roof = quarters.roof
    laid = [part for part in takeoff.parts if part.kind == "covering"]
    if roof is not None and laid:
        unit = laid[0].unit
        amounts = {unit: sum(part.amount for part in laid)}
        yield Thing(f"roof_{roof.cover}", f"roof of {roof.cover}", amounts, laid[0].material)
    for kind, subject in (("bar", "barred"), ("mesh", "meshed"), ("net", "netted")):
        by_item: dict[str, float] = {}
        for part in takeoff.parts:
            if part.kind == kind and not part.what.startswith(DIG):
                by_item[part.material] = by_item.get(part.material, 0) + part.amount
        for item, amount in by_item.items():
            yield Thing(f"infill_{subject}", f"{subject} faces, {item}", {"m2": amount}, item)
    yield from _lining(quarters, takeoff)
    yield from _paint(quarters, takeoff)
    yield from rain_goods(takeoff)


def rain_goods(takeoff: TakeOff) -> Iterator[Thing]:
    """Gutters, butt and soakaway, each with its own life and its own cleaning."""
    by_item: dict[str, float] = {}
    for part in takeoff.parts:
        if part.what in (GUTTER, PIPE):
            by_item[part.material] = by_item.get(part.material, 0) + part.amount
    for item, amount in by_item.items():
        yield Thing("gutter", f"gutters and downpipes, {item}", {"m": amount}, item)
    for subject, what, unit in (("butt", BUTT, "count"), ("soakaway", STONE, "m3")):
        for part in takeoff.parts:
            if part.what == what:
                amounts = {unit: part.amount, part.unit: part.amount}
                yield Thing(subject, what, amounts, part.material)


def lining_subject(quarters: Quarters) -> str:
    """Subject of handbook/upkeep.csv that a lining falls under: osb3, ply, plastic, none."""
    name = quarters.frame.lining
    row = known_material(name)
    return f"lining_{'plastic' if row and row.kind == 'plastic' else name.split('_')[0]}"


def _lining(quarters: Quarters, takeoff: TakeOff) -> Iterator[Thing]:
    area = lining_m2(quarters, takeoff)
    subject = lining_subject(quarters)
    if area and (subject, "life_years") in upkeep():
        name = quarters.frame.lining
        yield Thing(subject, f"walls lined with {name}", {"m2": area}, name)


def _covers(quarters: Quarters) -> Iterator[Thing]:
    by_cover: dict[str, list[Perch]] = {}
    for perch in quarters.perches:
        if perch.form in GROWN and perch.cover in ("bare", "bark"):
            item = f"perch_{perch.form}"
            unit = "m" if perch.length_mm else "piece"
            amounts = {"count": 1.0, unit: m_from_mm(perch.length_mm or 1000)}
            yield Thing("perch_branch", f"{perch.form} perch {perch.name!r}", amounts, item)
        elif perch.cover != "bare":
            by_cover.setdefault(perch.cover, []).append(perch)
    for cover, perches in by_cover.items():
        names = ", ".join(perch.name for perch in perches)
        amounts = {"count": float(len(perches)), "piece": float(len(perches))}
        item = f"cover_{cover}"
        yield Thing(item, f"covers of {cover}: {names}", amounts, item)


def _floor(quarters: Quarters, takeoff: TakeOff) -> Iterator[Thing]:
    laid = [part for part in takeoff.parts if part.kind == "substrate"]
    subject = f"floor_{quarters.floor.substrate}"
    if (subject, "life_years") in upkeep():
        amounts = {"m2": quarters.floor_area_m2, "m3": sum(part.amount for part in laid)}
        item = laid[0].material if laid else quarters.floor.substrate
        yield Thing(subject, f"floor of {quarters.floor.substrate}", amounts, item)


def _paint(quarters: Quarters, takeoff: TakeOff) -> Iterator[Thing]:
    """What is brushed on, as many coats again as at first."""
    laid = [part for part in takeoff.parts if part.material == quarters.frame.coating]
    if laid:
        area = boards_m2(takeoff.parts) + open_timber_m2(takeoff.parts)
        amounts = {
            "m2": area, "m2 and coat": area * quarters.frame.coats,
            "l": sum(part.amount for part in laid),
        }  # fmt: skip
        yield Thing("paint_boards", "stain on boards and open timber", amounts, laid[0].material)


def cleaned(quarters: Quarters, takeoff: TakeOff) -> Iterator[Thing]:
    """What is cleaned week by week."""
    yield from rain_goods(takeoff)
    floor = quarters.floor.substrate
    yield Thing(f"floor_{floor}", f"floor of {floor}", {"m2": quarters.floor_area_m2})
    infills: dict[str, float] = {}
    if quarters.faces is not None:
        for side in SIDES:
            face = quarters.faces.side(side)
            run = quarters.width_mm if side in ("front", "back") else quarters.depth_mm
            whole = area_m2(quarters, side)
            solid = whole if face.is_solid else min(whole, run * face.upstand_mm / 1e6)
            infills["boarded"] = infills.get("boarded", 0) + solid
            if not face.is_solid:
                infills[face.infill] = infills.get(face.infill, 0) + whole - solid
    for infill, amount in infills.items():
        if amount and infill != "open":
            subject, what = f"infill_{infill}", f"{infill} faces"
            lining = lining_subject(quarters)
            if infill == "boarded" and (lining, "clean_min_week") in upkeep():
                subject, what = lining, f"walls lined with {quarters.frame.lining}"
            yield Thing(subject, what, {"m2": amount})
    for drains, subject in ((False, "bath"), (True, "bath_drained")):
        count = sum(bath.drains is drains for bath in quarters.baths)
        if count:
            how = "that drain" if drains else "that are lifted to empty"
            yield Thing(subject, f"baths {how}", {"count": float(count)})
    if quarters.perches:
        yield Thing("perch", "perches", {"count": float(len(quarters.perches))})
