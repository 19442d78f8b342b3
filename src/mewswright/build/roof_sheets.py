"""Corrugated sheets on a roof: how many by their cover width, how long, and their laps."""

from dataclasses import dataclass
from math import ceil

from mewswright import handbook
from mewswright.handbook.materials import Material
from mewswright.model.quarters import Quarters

SHEETS = {"corrugated": "corrugated_sheet", "polycarbonate": "polycarbonate_sheet"}
STEEP_DEG, FLAT_DEG = 15.0, 10.0  # between them the end lap grows; see fixing_rules
HAIR = 1e-9


@dataclass(frozen=True)
class SheetRows:
    """Sheets of one roof: side by side, one above the other, and each one's size [mm]."""

    beside: int
    above: int
    length_mm: float  # of each, laps in it
    bought_mm: float  # the stock length it is cut from
    breadth_mm: float
    end_lap_mm: float  # 0: one sheet reaches from edge to edge
    side_lap_mm: float

    @property
    def count(self) -> int:
        """How many sheets."""
        return self.beside * self.above

    @property
    def bought_m2(self) -> float:
        """What is paid for: whole sheets of a stock length [m2]."""
        return self.count * self.bought_mm * self.breadth_mm / 1e6


def end_lap_mm(pitch_deg: float) -> float:
    """Lap of one sheet over the next below it [mm]: longer on a flat roof.

    Source:
        handbook fixing_rules roof_sheet_end_lap: its low end from 15 deg, its high end below
        10 deg; between them a straight line (our judgement).
    """
    rule = handbook.fixing_rule("roof_sheet_end_lap")
    low, high = rule.figure.value, (rule.high or rule.figure).value
    share = min(1.0, max(0.0, (STEEP_DEG - pitch_deg) / (STEEP_DEG - FLAT_DEG)))
    return low + share * (high - low)


def sheet_rows(sheet: Material, slope_mm: float, across_mm: float, pitch_deg: float) -> SheetRows:
    """Lay out the sheets of a roof.

    Args:
        sheet: The sheet, with its breadth, its cover width and its stock lengths.
        slope_mm: Length of the slope [mm].
        across_mm: Width of the roof [mm].
        pitch_deg: Pitch [deg], either way.

    Returns:
        The fewest rows, of the shortest stock length that serves; n sheets cover n times
        their cover width and one side lap.
    """
    assert sheet.breadth_mm is not None
    assert sheet.cover_width_mm is not None
    side = sheet.breadth_mm - sheet.cover_width_mm
    beside = max(1, ceil((across_mm - side) / sheet.cover_width_mm - HAIR))
    longest = max(sheet.stock_lengths_mm)
    lap = end_lap_mm(abs(pitch_deg))
    above = max(1, ceil((slope_mm - lap) / (longest - lap) - HAIR)) if slope_mm > longest else 1
    length = (slope_mm + (above - 1) * lap) / above
    bought = min(stock for stock in sheet.stock_lengths_mm if stock >= length - 1e-6)
    return SheetRows(
        beside, above, length, bought, sheet.breadth_mm, lap if above > 1 else 0.0, side
    )


def too_flat(quarters: Quarters, pitch_deg: float) -> tuple[str, ...]:
    """Say so where ribbed sheets lie flatter than they should.

    Source:
        handbook fixing_rules roof_sheet_least_pitch, from memory.
    """
    roof = quarters.roof
    rule = handbook.fixing_rule("roof_sheet_least_pitch")
    least, safe = rule.figure.value, (rule.high or rule.figure).value
    if roof is None or not quarters.has_roof or roof.cover not in SHEETS:
        return ()
    pitch = abs(pitch_deg)
    if pitch >= safe - HAIR:
        return ()
    told = f"ribbed sheets lie at {pitch:.1f} deg: "
    if pitch < least - HAIR:
        return (
            f"{told}below {least:g} deg water stands in their laps; raise the front, or take felt",
        )
    return (
        f"{told}under {safe:g} deg seal the laps, and ask the maker whether that pitch will do",
    )


def screws(sheet_m2: float) -> int:
    """Screws of so many square metres of sheets [pieces]: the middle of the handbook's range."""
    rule = handbook.fixing_rule("roof_sheet_screws")
    return ceil(sheet_m2 * (rule.figure.value + (rule.high or rule.figure).value) / 2)
