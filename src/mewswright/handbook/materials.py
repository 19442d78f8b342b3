"""What is bought to build, and the spacings, laps and allowances of fixing it."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from mewswright.handbook.evidence import Figure, SourceRef, figure, reference
from mewswright.handbook.nearest import unknown
from mewswright.handbook.tables import number, rows


@dataclass(frozen=True)
class Material:
    """One thing to buy. Lengths are millimetres, masses kilograms.

    `mass_kg` is per `mass_per` (m, m2, sheet, roll...), with `mass_high_kg` the other
    end of a range. `stock_lengths_mm` are the lengths usually on sale. None stands for
    a value that does not apply or is not on record.
    """

    id: str
    kind: str
    name: str
    spec: str
    unit: str
    pack: str
    breadth_mm: float | None
    depth_mm: float | None
    thickness_mm: float | None
    sheet_length_mm: float | None
    sheet_width_mm: float | None
    cover_width_mm: float | None
    roll_width_mm: float | None
    roll_length_mm: float | None
    stock_lengths_mm: tuple[float, ...]
    mass_kg: float | None
    mass_high_kg: float | None
    mass_per: str
    density_kg_m3: float | None
    density_high_kg_m3: float | None
    aperture_mm: float | None
    aperture_long_mm: float | None
    wire_mm: float | None
    solidity: float | None
    waste_pct: str
    mass_text: str
    source: SourceRef
    confidence: str
    note: str

    @property
    def clear_gap_mm(self) -> float | None:
        """Clear gap of a mesh [mm]: apertures are quoted from wire centre to centre."""
        if self.aperture_mm is None or self.wire_mm is None:
            return None
        return self.aperture_mm - self.wire_mm


@dataclass(frozen=True)
class FixingRule:
    """A spacing, lap or allowance; `high` is the other end of its usual range."""

    id: str
    what: str
    figure: Figure
    high: Figure | None


@cache
def _materials() -> Mapping[str, Material]:
    return {
        row["id"]: Material(
            id=row["id"],
            kind=row["kind"],
            name=row["name"],
            spec=row["spec"],
            unit=row["unit"],
            pack=row["pack"],
            breadth_mm=number(row["breadth_mm"]),
            depth_mm=number(row["depth_mm"]),
            thickness_mm=number(row["thickness_mm"]),
            sheet_length_mm=number(row["sheet_length_mm"]),
            sheet_width_mm=number(row["sheet_width_mm"]),
            cover_width_mm=number(row["cover_width_mm"]),
            roll_width_mm=number(row["roll_width_mm"]),
            roll_length_mm=number(row["roll_length_mm"]),
            stock_lengths_mm=tuple(float(length) for length in row["stock_lengths_mm"].split()),
            mass_kg=number(row["mass_kg"]),
            mass_high_kg=number(row["mass_high_kg"]),
            mass_per=row["mass_per"],
            density_kg_m3=number(row["density_kg_m3"]),
            density_high_kg_m3=number(row["density_high_kg_m3"]),
            aperture_mm=number(row["aperture_mm"]),
            aperture_long_mm=number(row["aperture_long_mm"]),
            wire_mm=number(row["wire_mm"]),
            solidity=number(row["solidity"]),
            waste_pct=row["waste_pct"],
            mass_text=row["mass_text"],
            source=reference(row, f"materials.csv, {row['id']}"),
            confidence=row["confidence"],
            note=row["note"],
        )
        for row in rows("materials")
    }


def materials(kind: str | None = None) -> tuple[Material, ...]:
    """Every material, or those of one kind: timber, sheet, board, felt, mesh, fixing...

    Raises:
        Problem: If there is no such kind; the sentence names the nearest.
    """
    found = tuple(one for one in _materials().values() if kind in (None, one.kind))
    if not found and kind is not None:
        raise unknown("kind of material", kind, {one.kind for one in _materials().values()})
    return found


def material(name: str) -> Material:
    """The material with this id.

    Raises:
        Problem: If there is none; the sentence names the nearest.
    """
    if name not in _materials():
        raise unknown("material", name, _materials(), "see 'mewswright handbook materials'")
    return _materials()[name]


@cache
def _fixing_rules() -> Mapping[str, FixingRule]:
    found = {}
    for row in rows("fixing_rules"):
        place = f"fixing_rules.csv, {row['id']}"
        high = figure(row, place, "value_high") if row["value_high"] else None
        found[row["id"]] = FixingRule(row["id"], row["what"], figure(row, place), high)
    return found


def fixing_rules() -> tuple[FixingRule, ...]:
    """Every spacing, lap and allowance, sorted by id."""
    return tuple(_fixing_rules().values())


def fixing_rule(name: str) -> FixingRule:
    """The spacing, lap or allowance with this id.

    Raises:
        Problem: If there is none; the sentence names the nearest.
    """
    if name not in _fixing_rules():
        raise unknown("fixing rule", name, _fixing_rules())
    return _fixing_rules()[name]
