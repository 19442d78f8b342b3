"""The tables of a first unit: its shell, its fittings, its hatch.

What we assume and nobody measured says so in its own line.
"""

from math import floor

from mewswright.checks import asked
from mewswright.checks.case import Known
from mewswright.checks.first_yard import FirstUnit, FirstYard
from mewswright.checks.starter_layout import loose_fittings, tethered_fittings
from mewswright.handbook import bar_gap_max, housing_mode, species
from mewswright.model.fitting import Bath, Hatch, Perch
from mewswright.model.quarters import Quarters
from mewswright.model.telling import as_toml

ASSUMED = "  # assumed"
GAP_SHARE = 0.92  # of the widest gap of its class: a little less, for bars are never true
DOOR_MM, DOOR_HEIGHT_MM, DOOR_SILL_MM = 750.0, 1900.0, 150.0  # a judgement
HATCH_MM, HATCH_HEIGHT_MM, HATCH_SILL_MM, LEDGE_MM = 300.0, 220.0, 1200.0, 250.0  # a judgement
CORNER_MM = 250.0  # of wall between an opening and the corner; a judgement
UPSTAND_MM = 600.0  # a judgement: wind and litter stay off the floor


def is_loose(first: FirstYard) -> bool:
    """Whether the bird goes loose in the unit."""
    if first.unit.kind in ("loft", "isolation"):
        return True
    return first.unit.kind == "shelter" and goes_loose(first)


def goes_loose(first: FirstYard) -> bool:
    """Whether the kind of the first bird is only ever kept loose."""
    return housing_mode(known_first(first).species).mode == "loose"


def known_first(first: FirstYard) -> Known:
    """The first bird, with its species."""
    bird = first.birds[0]
    return Known(bird, species(bird.species))


def unit_text(first: FirstYard) -> str:
    """Write the unit with its fittings."""
    unit = first.unit
    lines = [
        "# --- Quarters ---", "", "[[quarters]]", f"name = {as_toml(unit.name)}",
        f"kind = {as_toml(unit.kind)}",
        f"at_m = [0, 0]{ASSUMED}: its front left corner on the ground",
        f"facing_deg = {number(unit.facing_deg)}  # where the front looks: 0 north, 90 east",
        f"width_mm = {number(unit.width_mm)}  # along the front, clear inside",
        f"depth_mm = {number(unit.depth_mm)}  # front to back, clear inside",
    ]  # fmt: skip
    bare = _bare_unit(first)
    hatch = _hatch(first)
    if unit.kind == "pitch":
        lines += ["", "[quarters.floor]", f'substrate = "grass"{ASSUMED}', "depth_mm = 0",
                  "membrane = false", ""]  # fmt: skip
    else:
        lines += _shell(first)
    known = known_first(first)
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
        f"front_height_mm = {number(unit.front_height_mm)}  # floor to roof at the front",
        f"back_height_mm = {number(unit.back_height_mm)}  # and at the back",
        "# built = false  # for quarters that are only planned",
        "",
        "# The front has upright bars, and mesh outside them against rats and weasels. The other",
        "# three sides are boarded; give [quarters.faces.left] and so on where they are not.",
        "[quarters.faces.front]",
        'infill = "barred"',
        f"gap_mm = {number(_gap_mm(first))}  # clear, between bars; by its kind: measure the bird",
        f"bar_mm = 12{ASSUMED}",
        'direction = "vertical"',
        f"upstand_mm = {number(upstand_mm)}{ASSUMED}: the solid part at the bottom",
        "",
        "[quarters.faces.front.outer]",
        'infill = "meshed"',
        'mesh_kind = "welded"',
        f"gap_mm = 11{ASSUMED}: clear, of half-inch mesh less its wire",
        f"stand_off_mm = 130{ASSUMED}: from bars to mesh",
        "",
        "# All of it roofed. The roof falls from the higher to the lower of the two heights.",
        "[quarters.roof]",
        f'cover = "felt"{ASSUMED}',
        f"covered_share = 1{ASSUMED}",
        "",
        "# Timber, breadth x depth. A first sizing: local code and an engineer decide.",
        "[quarters.frame]",
        f'post = "95x95"{ASSUMED}',
        f'rafter = "45x145"{ASSUMED}',
        "",
        "[quarters.floor]",
        f'substrate = "pea_gravel"{ASSUMED}',
        f"depth_mm = {number(gravel_mm)}{ASSUMED}",
        f"membrane = true{ASSUMED}",
        f'dig_barrier = "buried"{ASSUMED}: mesh round the foot, against what digs',
        f"dig_barrier_mm = {number(dig_mm)}{ASSUMED}: so deep",
        "",
    ]


def _said_of_fittings(first: FirstYard, fittings: list[Perch | Bath]) -> list[str]:
    """Say how the perches were placed, and what found no room."""
    bird = first.birds[0]
    perches = [one for one in fittings if isinstance(one, Perch)]
    lines = []
    if perches and is_loose(first):
        lines += [
            f"# Placed for {bird.name}, by the sizes of its kind: wings and tail stay clear",
            "# of walls and roof, and no perch stands over another, the bath or the hatch.",
            "# Move them as you like, then run the checks.",
        ]
    elif perches:
        lines += [
            f"# {bird.name} is tied in the middle, with most room all round: the checks say if",
            "# the circle that leash, jesses and wings need is free. Measure all three.",
        ]
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
        "[[quarters.fitting]]", 'kind = "perch"', f"name = {as_toml(perch.name)}",
        f"form = {as_toml(perch.form)}", f"at_mm = {_spot(perch.at_mm)}  # its middle: [x, y]",
        f"height_mm = {number(perch.height_mm)}  # its top, over the floor",
    ]  # fmt: skip
    if perch.length_mm is not None:
        lines.append(f"length_mm = {number(perch.length_mm)}")
    if perch.turn_deg:
        lines.append(f"turn_deg = {number(perch.turn_deg)}  # it runs from front to back")
    if perch.diameter_mm is not None:
        lines.append(f"diameter_mm = {number(perch.diameter_mm)}  # over its cover")
    if perch.width_mm is not None:
        lines.append(f"width_mm = {number(perch.width_mm)}")
    lines.append(f"cover = {as_toml(perch.cover)}")
    if perch.cover_age_months is not None:
        lines.append(f"cover_age_months = {number(perch.cover_age_months)}  # new")
    if perch.free_standing:
        lines.append("free_standing = true  # on its own spike or stand")
    return [*lines, ""]


def _bath(bath: Bath) -> list[str]:
    assert bath.diameter_mm is not None
    return [
        "[[quarters.fitting]]", 'kind = "bath"', f"name = {as_toml(bath.name)}",
        f"at_mm = {_spot(bath.at_mm)}",
        f"diameter_mm = {number(bath.diameter_mm)}  # half its span, and wider than it is long",
        f"depth_mm = {number(bath.depth_mm)}  # of water",
        f"rim_height_mm = {number(bath.rim_height_mm)}  # so that litter stays out",
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
        or beside_mm > door_at_mm(unit) - door_size_mm(unit)[0] / 2
    ):
        return None
    return Hatch(
        kind="hatch", name="Hatch", face="back", at_mm=at_mm, sill_mm=HATCH_SILL_MM,
        width_mm=HATCH_MM, height_mm=HATCH_HEIGHT_MM, ledge_mm=LEDGE_MM,
    )  # fmt: skip


def _hatch_lines(hatch: Hatch) -> list[str]:
    return [
        "# Food comes in unseen, through the back. Its place and sizes are assumed.",
        "[[quarters.fitting]]", 'kind = "hatch"', f"name = {as_toml(hatch.name)}", 'face = "back"',
        f"at_mm = {number(hatch.at_mm)}  # its middle along the back",
        f"sill_mm = {number(hatch.sill_mm)}  # over the floor",
        f"width_mm = {number(hatch.width_mm)}",
        f"height_mm = {number(hatch.height_mm)}", f"ledge_mm = {number(hatch.ledge_mm)}", "",
    ]  # fmt: skip


def door_size_mm(unit: FirstUnit) -> tuple[float, float, float]:
    """Width, height and sill of the unit's door [mm]: less where the wall is smaller."""
    sill_mm = min(DOOR_SILL_MM, floor(unit.back_height_mm / 10))
    height_mm = min(DOOR_HEIGHT_MM, unit.back_height_mm - 2 * sill_mm)
    return min(DOOR_MM, floor(unit.width_mm * 0.8)), height_mm, sill_mm


def door_at_mm(unit: FirstUnit) -> float:
    """Middle of the unit's door along its back [mm]: near the right, seen from in front."""
    half = door_size_mm(unit)[0] / 2
    return max(unit.width_mm / 2, unit.width_mm - CORNER_MM - half)


def number(value: float) -> str:
    """Write a number in full: no exponent, and no point where it is whole."""
    return str(int(value)) if value == int(value) else repr(round(value, 6))


def _spot(at_mm: tuple[float, float]) -> str:
    return f"[{number(at_mm[0])}, {number(at_mm[1])}]"
