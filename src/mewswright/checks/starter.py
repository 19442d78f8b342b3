"""The text of a first yard file: small, commented, and sound where we placed something.

What we assume and nobody measured says so in its own line. Prices are never assumed.
"""

import json
from math import floor

from mewswright.checks import asked
from mewswright.checks.case import Known
from mewswright.checks.first_yard import FirstUnit, FirstYard
from mewswright.checks.starter_layout import loose_fittings, tethered_fittings
from mewswright.handbook import bar_gap_max, housing_mode, species
from mewswright.model.fitting import Bath, Hatch, Perch
from mewswright.model.problem import Problem
from mewswright.model.quarters import Quarters
from mewswright.model.telling import as_toml

ASSUMED = "  # assumed: measure it, or decide"
GAP_SHARE = 0.92  # of the widest gap of its class: a little less, for bars are never true
DOOR_MM, DOOR_HEIGHT_MM, DOOR_SILL_MM = 750.0, 1900.0, 150.0  # a judgement
HATCH_MM, HATCH_HEIGHT_MM, HATCH_SILL_MM, LEDGE_MM = 300.0, 220.0, 1200.0, 250.0  # a judgement
CORNER_MM = 250.0  # of wall between an opening and the corner; a judgement
UPSTAND_MM = 600.0  # a judgement: wind and litter stay off the floor


def starter_text(first: FirstYard) -> str:
    """Write a yard file from a keeper's answers.

    The first bird lives in the unit: loose, or on a leash where unit and kind of bird are
    for that. The others have no quarters yet, and a line says so.

    Args:
        first: The answers.

    Returns:
        TOML, whole and valid.

    Raises:
        Problem: If two birds share a name, or there is no bird.
    """
    names = [bird.name for bird in first.birds]
    twice = next((name for name in names if names.count(name) > 1), None)
    if twice is not None:
        raise Problem(f"two birds are called {twice!r}: give each its own name")
    if not names:
        raise Problem("no bird: name the one that the unit is for")
    return "\n".join(block(first) for block in (_head, _birds, _unit, _ways, _stay, _prices))


def is_loose(first: FirstYard) -> bool:
    """Whether the bird goes loose in the unit."""
    if first.unit.kind in ("loft", "isolation"):
        return True
    return first.unit.kind == "shelter" and _goes_loose(first)


def _goes_loose(first: FirstYard) -> bool:
    return housing_mode(_known(first).species).mode == "loose"


def _known(first: FirstYard) -> Known:
    bird = first.birds[0]
    return Known(bird, species(bird.species))


def _head(first: FirstYard) -> str:
    standards = ", ".join(as_toml(key) for key in first.standards)
    return f"""\
# {first.name}
#
# Lengths inside quarters are millimetres, on the ground metres. Positions on the ground
# are [east, north] of a point that you choose. Inside quarters look at the front from
# outside: x runs along the front from its left, y from the front to the back.
#
# "assumed" marks a figure that nobody measured here. Every key and what it may hold:
# docs/yard-file.md. Now run: mewswright check THIS-FILE

format = 1

[yard]
name = {_text(first.name)}
latitude_deg = {_number(first.latitude_deg)}  # north is positive
longitude_deg = {_number(first.longitude_deg)}  # east is positive
altitude_m = {_number(first.altitude_m)}
time_zone = {_text(first.time_zone)}
currency = {_text(first.currency)}
standards = [{standards}]  # what binds you: mewswright handbook standard_names
# boundary_m = [[0, 0], [30, 0], [30, 20], [0, 20]]  # corners of the ground, once measured
"""


def _birds(first: FirstYard) -> str:
    lines = [
        "# --- Birds ---", "#",
        "# Without measurements the handbook's sizes of the species stand in. Your own are better:",
        "# take the # off a line and give what you measured.", "",
    ]  # fmt: skip
    for bird in first.birds:
        lines += [
            "[[bird]]", f"name = {_text(bird.name)}",
            f"species = {_text(bird.species)}  # {species(bird.species).common_name}",
            f"sex = {_text(bird.sex)}",
            "# wing_span_mm =    # tip to tip",
            "# tail_mm =         # its longest feather",
            "# mass_g =          # full weight, out of moult",
            "# body_width_mm =   # wings closed; bars must be closer than this",
        ]  # fmt: skip
        if bird is first.birds[0] and first.unit.kind == "isolation":
            lines.append("# arrives_on = 2027-03-01  # its first day here")
        lines.append("")
    return "\n".join(lines)


def _unit(first: FirstYard) -> str:
    unit = first.unit
    lines = [
        "# --- Quarters ---", "", "[[quarters]]", f"name = {_text(unit.name)}",
        f"kind = {_text(unit.kind)}",
        f"at_m = [0, 0]{ASSUMED}: its front left corner on the ground",
        f"facing_deg = {_number(unit.facing_deg)}  # where the front looks: 0 north, 90 east",
        f"width_mm = {_number(unit.width_mm)}  # along the front, clear inside",
        f"depth_mm = {_number(unit.depth_mm)}  # front to back, clear inside",
    ]  # fmt: skip
    bare = _bare_unit(first)
    hatch = _hatch(first)
    if unit.kind == "pitch":
        lines += ["", "[quarters.floor]", f'substrate = "grass"{ASSUMED}', "depth_mm = 0",
                  "membrane = false", ""]  # fmt: skip
    else:
        lines += _shell(first)
    known = _known(first)
    if is_loose(first):
        fittings = loose_fittings(bare, known, hatch)
    else:
        fittings = tethered_fittings(bare, known)
    lines += _said_of_fittings(first, fittings)
    for fitting in fittings:
        lines += _perch(fitting) if isinstance(fitting, Perch) else _bath(fitting)
    if hatch is not None:
        lines += _hatch_lines(hatch)
    return "\n".join(lines)


def _bare_unit(first: FirstYard) -> Quarters:
    """Give the unit as the file describes it, without fittings."""
    unit = first.unit
    data = {
        "name": unit.name, "kind": unit.kind, "at_m": (0, 0), "facing_deg": unit.facing_deg,
        "width_mm": unit.width_mm, "depth_mm": unit.depth_mm,
    }  # fmt: skip
    if unit.kind != "pitch":
        data |= {
            "front_height_mm": unit.front_height_mm, "back_height_mm": unit.back_height_mm,
            "faces": {"front": {"infill": "barred", "gap_mm": _gap_mm(first)}}, "roof": {},
        }  # fmt: skip
    return Quarters.model_validate(data)


def _gap_mm(first: FirstYard) -> float:
    kind = species(first.birds[0].species)
    return float(floor(bar_gap_max(kind).value * GAP_SHARE))


def _shell(first: FirstYard) -> list[str]:
    unit = first.unit
    dig_mm = asked.number(asked.house_rule("dig_depth_mm"))
    gravel_mm = asked.number(asked.house_rule("floor_gravel_mm"))
    upstand_mm = min(UPSTAND_MM, floor(unit.front_height_mm / 4))
    return [
        f"front_height_mm = {_number(unit.front_height_mm)}  # floor to roof at the front",
        f"back_height_mm = {_number(unit.back_height_mm)}  # and at the back",
        "# built = false  # for quarters that are only planned",
        "",
        "# The front has upright bars, and mesh outside them against rats and weasels. The other",
        "# three sides are boarded; give [quarters.faces.left] and so on where they are not.",
        "[quarters.faces.front]",
        'infill = "barred"',
        f"gap_mm = {_number(_gap_mm(first))}  # clear, between bars; by its kind: measure the bird",
        f"bar_mm = 12{ASSUMED}",
        'direction = "vertical"',
        f"upstand_mm = {_number(upstand_mm)}{ASSUMED}: the solid part at the bottom",
        "",
        "[quarters.faces.front.outer]",
        'infill = "meshed"',
        'mesh_kind = "welded"',
        "gap_mm = 11  # clear: half-inch mesh less its wire",
        f"stand_off_mm = 130{ASSUMED}: from bars to mesh",
        "",
        "# All of it roofed. The roof falls from the higher to the lower of the two heights.",
        "[quarters.roof]",
        f'cover = "felt"{ASSUMED}',
        "covered_share = 1",
        "",
        "# Timber, breadth x depth. A first sizing: local code and an engineer decide.",
        "[quarters.frame]",
        f'post = "95x95"{ASSUMED}',
        f'rafter = "45x145"{ASSUMED}',
        "",
        "[quarters.floor]",
        f'substrate = "pea_gravel"{ASSUMED}',
        f"depth_mm = {_number(gravel_mm)}",
        "membrane = true",
        'dig_barrier = "buried"  # mesh round the foot, against what digs',
        f"dig_barrier_mm = {_number(dig_mm)}  # so deep",
        "",
    ]


def _said_of_fittings(first: FirstYard, fittings: list[Perch | Bath]) -> list[str]:
    """Say how the perches were placed, and what found no room."""
    bird = first.birds[0]
    perches = [one for one in fittings if isinstance(one, Perch)]
    lines = []
    if perches:
        lines += [
            f"# Placed for {bird.name}, by the sizes of its kind: wings and tail stay clear",
            "# of walls and roof, and no perch stands over another, the bath or the hatch.",
            "# Move them as you like, then run the checks.",
        ]  # fmt: skip
    if is_loose(first) and len(perches) < 2:
        lines.append(
            f"# The room is too small for {'a second' if perches else 'a sound'} perch: "
            "make it larger and add one."
        )
    if not is_loose(first) and not perches:
        lines.append("# The roof is too low over the middle for a perch: raise it and add one.")
    if not any(isinstance(one, Bath) for one in fittings):
        lines.append("# No bath found room: the bird needs one. Make room, or carry one in.")
    return lines


def _perch(perch: Perch) -> list[str]:
    lines = [
        "[[quarters.fitting]]", 'kind = "perch"', f"name = {_text(perch.name)}",
        f"form = {_text(perch.form)}", f"at_mm = {_spot(perch.at_mm)}  # its middle: [x, y]",
        f"height_mm = {_number(perch.height_mm)}  # its top, over the floor",
    ]  # fmt: skip
    if perch.length_mm is not None:
        lines.append(f"length_mm = {_number(perch.length_mm)}")
    if perch.turn_deg:
        lines.append(f"turn_deg = {_number(perch.turn_deg)}  # it runs from front to back")
    if perch.diameter_mm is not None:
        lines.append(f"diameter_mm = {_number(perch.diameter_mm)}  # over its cover")
    if perch.width_mm is not None:
        lines.append(f"width_mm = {_number(perch.width_mm)}")
    lines.append(f"cover = {_text(perch.cover)}")
    if perch.free_standing:
        lines.append("free_standing = true  # on its own spike or stand")
    return [*lines, ""]


def _bath(bath: Bath) -> list[str]:
    assert bath.diameter_mm is not None
    return [
        "[[quarters.fitting]]", 'kind = "bath"', f"name = {_text(bath.name)}",
        f"at_mm = {_spot(bath.at_mm)}",
        f"diameter_mm = {_number(bath.diameter_mm)}  # half its span, and wider than it is long",
        f"depth_mm = {_number(bath.depth_mm)}  # of water",
        f"rim_height_mm = {_number(bath.rim_height_mm)}  # so that litter stays out",
        'filled_from = "inside"  # or "corridor", which spares the bird a visit', "",
    ]  # fmt: skip


def _hatch(first: FirstYard) -> Hatch | None:
    """Give the food hatch in the boarded back, where it is high and wide enough."""
    unit = first.unit
    at_mm = CORNER_MM + HATCH_MM / 2
    beside_mm = at_mm + HATCH_MM / 2 + CORNER_MM
    if (
        not is_loose(first)
        or unit.back_height_mm < HATCH_SILL_MM + HATCH_HEIGHT_MM + CORNER_MM
        or unit.depth_mm < 2 * LEDGE_MM
        or beside_mm > _door_at_mm(unit) - _door_size_mm(unit)[0] / 2
    ):
        return None
    return Hatch(
        kind="hatch", name="Hatch", face="back", at_mm=at_mm, sill_mm=HATCH_SILL_MM,
        width_mm=HATCH_MM, height_mm=HATCH_HEIGHT_MM, ledge_mm=LEDGE_MM,
    )  # fmt: skip


def _hatch_lines(hatch: Hatch) -> list[str]:
    return [
        "# Food comes in unseen, through the back.", "[[quarters.fitting]]", 'kind = "hatch"',
        f"name = {_text(hatch.name)}", 'face = "back"',
        f"at_mm = {_number(hatch.at_mm)}  # its middle along the back",
        f"sill_mm = {_number(hatch.sill_mm)}", f"width_mm = {_number(hatch.width_mm)}",
        f"height_mm = {_number(hatch.height_mm)}", f"ledge_mm = {_number(hatch.ledge_mm)}", "",
    ]  # fmt: skip


def _door_size_mm(unit: FirstUnit) -> tuple[float, float, float]:
    """Width, height and sill of the unit's door [mm]: less where the wall is smaller."""
    sill_mm = min(DOOR_SILL_MM, floor(unit.back_height_mm / 10))
    height_mm = min(DOOR_HEIGHT_MM, unit.back_height_mm - 2 * sill_mm)
    return min(DOOR_MM, floor(unit.width_mm * 0.8)), height_mm, sill_mm


def _door_at_mm(unit: FirstUnit) -> float:
    half = _door_size_mm(unit)[0] / 2
    return max(unit.width_mm / 2, unit.width_mm - CORNER_MM - half)


def _ways(first: FirstYard) -> str:
    """Give a lobby, and two doors between a loose bird and the open air."""
    unit = first.unit
    if unit.kind == "pitch":
        return ""
    width_mm, height_mm, sill_mm = _door_size_mm(unit)
    loose = is_loose(first)
    lobby = f"{unit.name} lobby"
    there = lobby if loose else "outside"
    said = (
        "# Two doors on every way out: one is shut before the other opens."
        if loose
        else "# A tethered bird is safe behind one door. A loose one needs a lobby and a second."
    )
    lines = ["# --- Ways in and out ---", "#", said, ""]
    if loose:
        lines += [
            "[[space]]", f"name = {_text(lobby)}", 'kind = "lobby"',
            f"length_mm = 1500{ASSUMED}: from door to door", f"width_mm = 1200{ASSUMED}",
            f"height_mm = 2100{ASSUMED}", "closed_in = true  # no bird flies out of it", "",
        ]  # fmt: skip
    lines += [
        "[[door]]", f"between = [{_text(unit.name)}, {_text(there)}]",
        f"width_mm = {_number(width_mm)}{ASSUMED}", f"height_mm = {_number(height_mm)}{ASSUMED}",
        f"sill_mm = {_number(sill_mm)}{ASSUMED}", "self_closing = true",
        f"locks = {_text('bolt' if loose else 'key')}", f"opens_into = {_text(there)}",
        'face = "back"', f"at_mm = {_number(_door_at_mm(unit))}  # its middle along the back", "",
    ]  # fmt: skip
    if loose:
        lines += [
            "[[door]]", f'between = [{_text(lobby)}, "outside"]', f"width_mm = 750{ASSUMED}",
            f"height_mm = 1900{ASSUMED}", "self_closing = true", 'locks = "key"', "",
        ]  # fmt: skip
    return "\n".join(lines)


def _stay(first: FirstYard) -> str:
    bird, unit = first.birds[0], first.unit
    lines = ["# --- Who lives where ---", ""]
    if unit.kind == "pitch" and _goes_loose(first):
        kind = species(bird.species).common_name
        lines += [
            f"# {bird.name} is not put here: a {kind} goes loose, and on a pitch it would be",
            "# tethered. Describe a loft for it.", "",
        ]  # fmt: skip
    else:
        lines += [
            "[[stay]]", f"bird = {_text(bird.name)}", f"quarters = {_text(unit.name)}",
            f"mode = {_text('loose' if is_loose(first) else 'tethered')}",
        ]  # fmt: skip
        if unit.kind == "pitch":
            lines.append("daytime_only = true  # for the night it needs quarters with a roof")
        if unit.kind == "isolation":
            lines.append("isolated = true  # apart from all others")
        lines.append("")
    for other in first.birds[1:]:
        lines += [f"# {other.name} has no quarters yet.", ""]
    return "\n".join(lines)


def _prices(first: FirstYard) -> str:
    return f"""\
# --- What timber and material cost ---
#
# Nothing is priced, for no price is known here. Ask, fill in and take off the #: one such
# table for each length of each section, and one for each material (handbook materials).
# Prices are in {first.currency}.
#
# [[stock]]
# section = "45x95"
# length_mm = 3000
# price =             # of one piece
# priced = "keeper"
#
# [[price]]
# item = "pea_gravel"
# unit = "m3"
# price =             # of one m3
# priced = "keeper"
"""


def _text(text: str) -> str:
    return json.dumps(text, ensure_ascii=False)


def _number(value: float) -> str:
    """Write a number in full: no exponent, and no point where it is whole."""
    return str(int(value)) if value == int(value) else repr(round(value, 6))


def _spot(at_mm: tuple[float, float]) -> str:
    return f"[{_number(at_mm[0])}, {_number(at_mm[1])}]"
