"""The text of a first yard file: small, commented, and sound where we placed something.

What we assume and nobody measured says so in its own line. Prices are never assumed.
"""

from math import ceil

from mewswright.checks.case import Known
from mewswright.checks.first_yard import FirstYard, Kind
from mewswright.checks.starter_unit import (
    ASSUMED,
    door_at_mm,
    door_size_mm,
    goes_loose,
    is_loose,
    number,
    unit_text,
)
from mewswright.handbook import leash_lengths, species
from mewswright.model.bird import Bird
from mewswright.model.problem import Problem
from mewswright.model.telling import as_toml

FALL = 0.05  # of the roof, front to back: twice what felt wants at least


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
    return "\n".join(block(first) for block in (_head, _birds, unit_text, _ways, _stay, _prices))


def ample_sizes(bird: Bird, kind: Kind) -> str:
    """Suggest sizes for a unit in which the bird has ample room, as `sizes_from` reads them.

    For a loose bird three and a half by two and a half spans, which is more than the house rule's
    shortest side; for a tethered one its whole free circle. A judgement, to be offered.
    """
    span_mm = Known(bird, species(bird.species)).span.value
    if kind in ("loft", "isolation"):
        width_mm, depth_mm = max(3000.0, 3.5 * span_mm), max(2400.0, 2.5 * span_mm)
    else:
        lengths = leash_lengths()
        parts = (lengths.working_mm, lengths.swivel_jess_mm, lengths.margin_mm)
        width_mm = depth_mm = 2 * (span_mm / 2 + sum(part.value for part in parts))
    width, depth = ceil(width_mm / 100) * 100, ceil(depth_mm / 100) * 100
    if kind == "pitch":
        return f"{width}x{depth}"
    back = max(2300, ceil(2 * span_mm / 100) * 100)
    return f"{width}x{depth}x{back + ceil(depth * FALL / 50) * 50}x{back}"


def _head(first: FirstYard) -> str:
    standards = ", ".join(as_toml(key) for key in first.standards)
    return f"""\
# {first.name}
#
# Lengths inside quarters are millimetres, on the ground metres. Positions on the ground
# are [east, north] of a point that you choose. Inside quarters look at the front from
# outside: x runs along the front from its left, y from the front to the back.
#
# "assumed" marks what nobody measured or decided here: measure it, decide it, or build it
# so, then take the word away. Sizes of perches and bath follow from the kind of bird.
# `mewswright check` says what does harm, `mewswright schema` what every key may hold.

format = 1

[yard]
name = {as_toml(first.name)}
latitude_deg = {number(first.latitude_deg)}  # north is positive
longitude_deg = {number(first.longitude_deg)}  # east is positive
altitude_m = {number(first.altitude_m)}
time_zone = {as_toml(first.time_zone)}
currency = {as_toml(first.currency)}
standards = [{standards}]  # what binds you: mewswright standards
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
            "[[bird]]", f"name = {as_toml(bird.name)}",
            f"species = {as_toml(bird.species)}  # {species(bird.species).common_name}",
            f"sex = {as_toml(bird.sex)}",
            "# wing_span_mm =    # tip to tip",
            "# tail_mm =         # its longest feather",
            "# mass_g =          # full weight, out of moult",
            "# body_width_mm =   # wings closed; bars must be closer than this",
        ]  # fmt: skip
        if bird is first.birds[0] and first.unit.kind == "isolation":
            lines.append("# arrives_on = 2027-03-01  # its first day here")
        lines.append("")
    return "\n".join(lines)


def _ways(first: FirstYard) -> str:
    """Give a lobby, and two doors between a loose bird and the open air."""
    unit = first.unit
    if unit.kind == "pitch":
        return ""
    width_mm, height_mm, sill_mm = door_size_mm(unit)
    loose = is_loose(first)
    lobby = f"{unit.name} lobby"
    there = lobby if loose else "outside"
    said = (
        "# Two doors on every way out: one is shut before the other opens."
        if loose
        else "# Its leash keeps a tethered bird. A loose one needs a lobby and a second door."
    )
    lines = ["# --- Ways in and out ---", "#", said, ""]
    if loose:
        lines += [
            "[[space]]", f"name = {as_toml(lobby)}", 'kind = "lobby"',
            f"length_mm = 1500{ASSUMED}: from door to door", f"width_mm = 1200{ASSUMED}",
            f"height_mm = 2100{ASSUMED}", f"closed_in = true{ASSUMED}: no bird flies out of it", "",
        ]  # fmt: skip
    lines += [
        "[[door]]", f"between = [{as_toml(unit.name)}, {as_toml(there)}]",
        f"width_mm = {number(width_mm)}{ASSUMED}", f"height_mm = {number(height_mm)}{ASSUMED}",
        f"sill_mm = {number(sill_mm)}{ASSUMED}", f"self_closing = true{ASSUMED}",
        f"locks = {as_toml('bolt' if loose else 'key')}{ASSUMED}", f"opens_into = {as_toml(there)}",
        'face = "back"', f"at_mm = {number(door_at_mm(unit))}  # its middle along the back", "",
    ]  # fmt: skip
    if loose:
        lines += [
            "[[door]]", f'between = [{as_toml(lobby)}, "outside"]', f"width_mm = 750{ASSUMED}",
            f"height_mm = 1900{ASSUMED}", f"self_closing = true{ASSUMED}",
            f'locks = "key"{ASSUMED}', "",
        ]  # fmt: skip
    return "\n".join(lines)


def _stay(first: FirstYard) -> str:
    bird, unit = first.birds[0], first.unit
    lines = ["# --- Who lives where ---", ""]
    if unit.kind == "pitch" and goes_loose(first):
        kind = species(bird.species).common_name
        lines += [
            f"# {bird.name} is not put here: a {kind} goes loose, and on a pitch it would be",
            "# tethered. Describe a loft for it.", "",
        ]  # fmt: skip
    else:
        lines += [
            "[[stay]]", f"bird = {as_toml(bird.name)}", f"quarters = {as_toml(unit.name)}",
            f"mode = {as_toml('loose' if is_loose(first) else 'tethered')}",
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
