"""Fixings by count, from the joints, edges and laps of the parts."""

from collections.abc import Iterable, Sequence
from math import ceil

from mewswright import handbook
from mewswright.build.coating import OPEN_RAILS
from mewswright.build.parts import Part
from mewswright.build.pieces import Piece
from mewswright.build.roof_sheets import screws
from mewswright.build.tube import tube_of

# Judgement, all four: the handbook gives spacings, not how many bolts hold a corner.
BOLTS_PER_CORNER = 3
BRACKETS_PER_POST = 2
STRAPS_PER_RAFTER = 2
NAILS_PER_BOARD_AND_STUD = 2
BATTEN_SCREWS_MM = 300.0
SCREWS_PER_BRACKET = 2  # judgement: into the wall of a tube
SCREWS_PER_PLATE = 4  # judgement: one through each hole of an end plate
RIBBED = ("corrugated sheet", "polycarbonate sheet")


def fixings(parts: Sequence[Part], stud_spacing_mm: float, units: int = 1) -> Iterable[Piece]:
    """Count the fixings of a unit. Holding it down to the ground is not among them.

    Args:
        parts: The unit's parts.
        stud_spacing_mm: Studs, centre to centre at most, for the nails of the boarding.
        units: Units of a row, each with four corners.

    Source:
        Spacings and counts per joint: handbook fixing_rules; the rest is our judgement.
    """
    per_joint = _rule("screws_per_joint")
    studs = _count(parts, "stud")
    between = _count(parts, "nogging") + sum(
        part.count for part in parts if part.kind == "trim" and part.what in ("lintel", "sill")
    )
    blocks = sum(part.count for part in parts if part.what.startswith("stand-off block"))
    yield _fixing(
        "structural screw", "studs, noggings, lintels and sills", "structural_screw_5x80",
        per_joint * (studs + between) + 2 * blocks + 2 * SCREWS_PER_PLATE * _tubes(parts),
        f"{per_joint:g} for both ends of a piece",
    )  # fmt: skip
    tubes = _tubes(parts)
    rails = sum(p.count for p in parts if p.what in OPEN_RAILS) if tubes else 0
    yield _fixing(
        "angle bracket", "timber posts, foot and head; rails to tubes" if tubes
        else "posts, foot and head", "angle_bracket_90",
        BRACKETS_PER_POST * (_count(parts, "post") - tubes) + 2 * rails, "",
    )  # fmt: skip
    yield _fixing(
        "end plate", "steel posts, foot and head", "tube_end_plate", 2 * tubes,
        "welded, screwed to the timber through its holes",
    )  # fmt: skip
    yield _fixing(
        "self-drilling screw", "rails and brackets to steel posts", "self_drilling_screw_55x25",
        SCREWS_PER_BRACKET * 2 * rails, "no hole is notched or sawn in a tube",
    )  # fmt: skip
    hung = any(part.kind == "ridge" for part in parts)  # each rafter then has one plate
    rafters = _count(parts, "rafter")
    yield _fixing(
        "restraint strap", "rafter to plate, front and back", "strap_30",
        STRAPS_PER_RAFTER * rafters / (2 if hung else 1),
        "its nails govern; use the maker's figures",
    )  # fmt: skip
    yield _fixing(
        "joist hanger", "rafter to ridge beam", "joist_hanger_47", rafters if hung else 0,
        "of the sloped kind, or with a seat cut level; all holes nailed",
    )  # fmt: skip
    yield _fixing(
        "coach bolt", "corners of the walls", "m10_coach_bolt",
        4 * units * BOLTS_PER_CORNER, "",
    )  # fmt: skip
    battens = sum(
        part.count * (ceil(part.length_mm / BATTEN_SCREWS_MM) + 1)
        for part in parts
        if part.kind == "batten"
    )
    deck = sum(part.count * deck_screws(part) for part in parts if part.kind == "deck")
    on_steel = deck if any(p.kind == "rafter" and tube_of(p.section) for p in parts) else 0
    yield _fixing(
        "self-drilling screw with wings", "roof deck to rafters of tube",
        "self_drilling_screw_55x25", on_steel, "long enough for deck and wall: see its maker",
    )  # fmt: skip
    yield _fixing(
        "sheet screw", "roof deck and battens", "screw_4x40", deck - on_steel + battens, ""
    )
    nails = sum(
        part.count * NAILS_PER_BOARD_AND_STUD * (ceil(part.length_mm / stud_spacing_mm) + 1)
        for part in parts
        if part.material and part.unit == "m" and part.kind in ("board", "covering")
    )
    yield _fixing("board nail", "boarding", "ring_shank_nail", nails, "two at each stud")
    staples = sum(
        part.count * ceil(2 * (part.length_mm + part.width_mm) / _rule("mesh_staple_spacing"))
        for part in parts
        if part.kind in ("mesh", "net") and part.place != "around the unit"
    )
    yield _fixing("staple", "mesh, all round", "staple_14", staples, "")
    felt = [part for part in parts if part.kind == "covering" and part.what == "felt strip"]
    verges = max((p.length_mm for p in parts if p.kind == "rafter"), default=0) if felt else 0
    clouts = sum(
        ceil(part.length_mm / _rule("clout_spacing")) * (part.count + 1) for part in felt
    ) + ceil(2 * verges / _rule("clout_spacing"))
    yield _fixing("clout nail", "felt, laps and edges", "clout_nail_13", clouts, "")
    ribbed = sum(part.amount for part in parts if part.what in RIBBED)
    yield _fixing(
        "roofing screw", "ribbed sheets of the roof", "roof_screw_65", screws(ribbed),
        "more along the edges in wind: the maker of the sheets decides",
    )  # fmt: skip


def deck_screws(part: Part) -> int:
    """Screws of one sheet: all round its edges, and in rows along the rafters between [pieces].

    Source:
        handbook fixing_rules sheet_edge_spacing and sheet_field_spacing.
    """
    edge, field = _rule("sheet_edge_spacing"), _rule("sheet_field_spacing")
    around = 2 * (ceil(part.length_mm / edge) + ceil(part.width_mm / edge))
    rows = max(0, ceil(part.length_mm / 600) - 1)
    return around + rows * max(0, ceil(part.width_mm / field) - 1)


def _tubes(parts: Sequence[Part]) -> int:
    return sum(p.count for p in parts if p.kind == "post" and tube_of(p.section))


def _rule(name: str) -> float:
    return handbook.fixing_rule(name).figure.value


def _count(parts: Sequence[Part], kind: str) -> int:
    return sum(part.count for part in parts if part.kind == kind)


def _fixing(what: str, place: str, material: str, count: float, note: str) -> Piece:
    return Piece(
        kind="fixing", what=what, place=place, material=material, amount=ceil(count), note=note
    )
