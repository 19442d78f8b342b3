"""Wind inside: a closed room, one face that stands open, or a canopy on posts."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from mewswright.handbook import canopy_pressures, load_factor
from mewswright.model.problem import Problem

MostOpen = Literal["closed", "dominant", "canopy"]


@dataclass(frozen=True)
class Inside:
    """How the wind gets in. `share` is the part of the outer pressure at `opening` felt inside."""

    case: MostOpen
    opening: str = ""
    share: float = 0


def inside(open_m2: Mapping[str, float], open_share: Mapping[str, float]) -> Inside:
    """Which case of inner pressure holds for these openings.

    Args:
        open_m2: Open area of each side, of the roof and of vents [m2].
        open_share: Open share of each side and of the roof [-].

    Returns:
        `canopy` where two sides or more are open by over 30 %; `dominant` where one side's
        opening is at least twice all the others together; else `closed`, which stands for
        openings that nobody knows.

    Raises:
        ValueError: If an area or share is negative.

    Source:
        EN 1991-1-4:2005, 7.2.9(2), (5), (6); (5) from memory.
    """
    if any(area < 0 for area in (*open_m2.values(), *open_share.values())):
        raise ValueError("an opening has an area of 0 m2 or more")
    limit = load_factor("canopy_open_share").value
    if sum(share > limit for share in open_share.values()) >= 2:
        return Inside("canopy")
    widest = max(open_m2, key=lambda side: open_m2[side], default="")
    if not widest or open_m2[widest] == 0:
        return Inside("closed")
    others = sum(area for side, area in open_m2.items() if side != widest)
    share = dominant_share(open_m2[widest] / others if others else 3)
    return Inside("dominant", widest, share) if share else Inside("closed")


def dominant_share(times: float) -> float:
    """Share of the outer pressure at the opening that is felt inside [-]; 0 below twice.

    Args:
        times: Open area of that side over that of all others [-].

    Source:
        EN 1991-1-4:2005, 7.2.9(5), (7.1) and (7.2): 0.75 at twice, 0.90 from three times
        on, straight between; from memory.
    """
    low, high = load_factor("cpi_dominant_2").value, load_factor("cpi_dominant_3").value
    if times < 2:
        return 0.0
    return low + (high - low) * (min(times, 3) - 2)


def closed_cpi() -> tuple[float, float]:
    """Inner coefficients of a closed room, pressing and sucking [-].

    Source:
        EN 1991-1-4:2005, 7.2.9(6) note 2.
    """
    return load_factor("cpi_closed_high").value, load_factor("cpi_closed_low").value


@dataclass(frozen=True)
class Canopy:
    """Net coefficients of a canopy: overall, and by zone: A middle, B verges, C eaves, D ridge.

    Positive presses down, negative lifts.
    """

    overall_down: float
    overall_up: float
    zones_down: Mapping[str, float]
    zones_up: Mapping[str, float]


def canopy_up_to_deg(form: str = "monopitch") -> float:
    """Steepest canopy whose coefficients are known [deg]."""
    return max(row.pitch_deg for row in canopy_pressures(form))


def canopy(pitch_deg: float, blockage: float = 1, form: str = "monopitch") -> Canopy:
    """Net coefficients of a canopy.

    Args:
        pitch_deg: Pitch from level, either way [deg], 0 to 20; of a duopitch 5 to 30, and
            below 5 as at 5.
        blockage: Blocked share of the space below (*phi*), 0 to 1; with any solid wall, 1.
        form: `monopitch` or `duopitch`.

    Raises:
        Problem: For a steeper pitch, of which the handbook has no rows.
        ValueError: For a blockage that is not from 0 to 1.

    Source:
        EN 1991-1-4:2005, 7.3, Tables 7.6 and 7.7, straight between pitches and blockages.
        The zone values of blockage 1 and all of Table 7.7 are from memory.
    """
    if not 0 <= blockage <= 1:
        raise ValueError(f"blockage is a share from 0 to 1, got {blockage:g}")
    rows = canopy_pressures(form)
    known = sorted({row.pitch_deg for row in rows})
    if not 0 <= pitch_deg <= known[-1]:
        raise Problem(
            f"a canopy of {pitch_deg:.2f} deg: wind coefficients are known from 0 to "
            f"{known[-1]:g} deg; an engineer must set them, or make the roof flatter"
        )
    pitch_deg = max(pitch_deg, known[0])
    low = max(p for p in known if p <= pitch_deg)
    high = min(p for p in known if p >= pitch_deg)
    way = (pitch_deg - low) / (high - low) if high > low else 0.0
    found = {(row.pitch_deg, row.case): row for row in rows}

    def read(case: str, what: str) -> float:
        at_low: float = getattr(found[low, case], what)
        at_high: float = getattr(found[high, case], what)
        return at_low + way * (at_high - at_low)

    def up(what: str) -> float:
        free, blocked = read("min blockage 0", what), read("min blockage 1", what)
        return free + blockage * (blocked - free)

    names = {"A": "zone_a", "B": "zone_b", "C": "zone_c"}
    if form == "duopitch":
        names["D"] = "zone_d"
    return Canopy(
        overall_down=read("max all blockage", "cf"),
        overall_up=up("cf"),
        zones_down={zone: read("max all blockage", key) for zone, key in names.items()},
        zones_up={zone: up(key) for zone, key in names.items()},
    )
