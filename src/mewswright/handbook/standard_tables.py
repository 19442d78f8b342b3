"""What the standards ask: sizes by class of bird, and rules that are not sizes.

A standard's own text decides over this summary of it. Where the class of a bird was
not read, the answer is `Unknown` with the reason: silence is not permission.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from mewswright.handbook.evidence import Figure, SourceRef, Unknown, figure, reference
from mewswright.handbook.nearest import unknown
from mewswright.handbook.species import Species
from mewswright.handbook.tables import Row, number, rows

PURPOSES = ("loft", "flight_cage", "isolation")


@dataclass(frozen=True)
class Standard:
    """A set of limits that a yard may name."""

    key: str
    name: str
    jurisdiction: str
    strength: str
    summary: str
    gaps: tuple[str, ...]


@dataclass(frozen=True)
class SizeLimit:
    """One smallest size, in SI, beside the value as published."""

    quantity: str
    value: float
    unit: str
    figure: Figure
    basis: str
    condition: str
    original_value: str
    original_unit: str


@dataclass(frozen=True)
class ClassLimits:
    """All sizes that one standard asks for one class of bird and one purpose.

    `membership` says how we know that the bird belongs to the class.
    """

    standard: str
    bird_class: str
    class_name: str
    purpose: str
    membership: SourceRef
    limits: Mapping[str, SizeLimit]
    note: str = ""

    def get(self, quantity: str) -> SizeLimit | None:
        """The limit of one quantity, such as `floor_area_m2`, or None."""
        return self.limits.get(quantity)

    def required_floor_area_m2(self, birds: int) -> Figure | None:
        """Floor area for so many birds of the class, or None where none is asked [m2].

        The area for the group, and the increment for each bird beyond it. Where the
        standard gives no increment, the area of the group is all that it asks.
        """
        area = self.get("floor_area_m2")
        if area is None:
            return None
        return self._with_extra(area, self._extra_area_m2(birds), birds, area.condition)

    def required_volume_m3(self, birds: int) -> Figure | None:
        """Volume for so many birds of the class, or None where none is asked [m3].

        A standard that adds area for further birds and no volume still means the same
        height over it: the mean height is kept over the added area, marked derived.
        """
        volume, area = self.get("volume_m3"), self.get("floor_area_m2")
        if volume is None:
            return None
        mean_height_m = 0.0 if area is None else volume.value / area.value
        note = "no volume is given for further birds: the mean height is kept over their area"
        return self._with_extra(volume, self._extra_area_m2(birds) * mean_height_m, birds, note)

    def required_indoor_area_m2(self, birds: int) -> Figure | None:
        """Indoor floor area for so many birds, or None where none is asked [m2]."""
        each = self.get("indoor_area_m2_per_bird")
        if each is None:
            return None
        return self._with_extra(each, each.value * (birds - 1), birds, each.condition)

    def _extra_area_m2(self, birds: int) -> float:
        group, extra = self.get("group_size"), self.get("extra_bird_area_m2")
        if birds < 1:
            raise ValueError(f"a room is for 1 bird or more, got {birds}")
        if group is None or extra is None:
            return 0.0
        return extra.value * max(0, birds - int(group.value))

    def _with_extra(self, limit: SizeLimit, extra: float, birds: int, note: str) -> Figure:
        if not extra:
            return limit.figure
        ref = limit.figure.source
        locator = f"{ref.locator}; {limit.value:g} + {extra:g} {limit.unit} for {birds} birds"
        return Figure(
            limit.value + extra,
            limit.unit,
            SourceRef(ref.name, locator, "derived"),
            note,
            "derived",
            limit.figure.confidence,
            limit.figure.row,
        )


@dataclass(frozen=True)
class PublishedRow:
    """One figure as it was collected: original value and unit beside SI."""

    standard: str
    topic: str
    subject: str
    quantity: str
    value: str
    unit: str
    value_si: float | None
    unit_si: str
    condition: str
    jurisdiction: str
    basis: str
    source: SourceRef
    confidence: str


@cache
def _standards() -> Mapping[str, Standard]:
    gaps: dict[str, list[str]] = {}
    for row in rows("standard_gaps"):
        gaps.setdefault(row["standard"], []).append(f"{row['missing']} ({row['matters_for']})")
    return {
        (key := row["standard"]): Standard(
            key,
            row["name"],
            row["jurisdiction"],
            row["strength"],
            row["summary"],
            tuple(gaps.get(key, ())),
        )
        for row in rows("standard_names")
    }


def standards() -> tuple[Standard, ...]:
    """Every standard that a yard may name, sorted by key."""
    return tuple(_standards().values())


def standard(key: str) -> Standard:
    """The standard with this key.

    Raises:
        Problem: If there is none; the sentence names the nearest keys.
    """
    found = _standards().get(key)
    if found is None:
        raise unknown("standard", key, _standards())
    return found


@cache
def _limits() -> Mapping[tuple[str, str, str], Mapping[str, SizeLimit]]:
    found: dict[tuple[str, str, str], dict[str, SizeLimit]] = {}
    for row in rows("size_limits"):
        place = f"size_limits.csv, {row['standard']} {row['bird_class']} {row['quantity']}"
        by_quantity = found.setdefault((row["standard"], row["bird_class"], row["purpose"]), {})
        by_quantity[row["quantity"]] = SizeLimit(
            row["quantity"],
            float(row["value"]),
            row["unit"],
            figure(row, place),
            row["basis"],
            row["condition"],
            row["original_value"],
            row["original_unit"],
        )
    return {key: MappingProxyType(limits) for key, limits in found.items()}


@cache
def _memberships() -> Mapping[tuple[str, str], tuple[Row, ...]]:
    found: dict[tuple[str, str], list[Row]] = {}
    for row in rows("bird_classes"):
        found.setdefault((row["standard"], row["species"]), []).append(row)
    return {key: tuple(of) for key, of in found.items()}


@cache
def size_limits(
    standard_key: str, species: Species, purpose: str = "loft"
) -> ClassLimits | Unknown:
    """Smallest sizes that a standard asks for a bird, or why they are not known.

    Args:
        standard_key: Such as `ch-tschv`.
        species: The bird's species.
        purpose: `loft`, `flight_cage` (before release) or `isolation`.

    Raises:
        Problem: If there is no such standard.
        ValueError: If the purpose is none of the three.
    """
    if purpose not in PURPOSES:
        raise ValueError(f"{purpose!r} is none of {', '.join(PURPOSES)}")
    named = standard(standard_key)
    purposes = [p for key, _, p in _limits() if key == standard_key]
    if not purposes:
        return Unknown(f"{named.name} gives no sizes that were read: {named.summary}")
    mine = _memberships().get((standard_key, species.id), ())
    for row in mine:
        if limits := _limits().get((standard_key, row["bird_class"], purpose)):
            place = f"bird_classes.csv, {standard_key} {species.id}"
            return ClassLimits(
                standard_key,
                row["bird_class"],
                row["class_name"],
                purpose,
                reference(row, place),
                limits,
                row["note"],
            )
    if limits := _limits().get((standard_key, "any", purpose)):
        ref = next(iter(limits.values())).figure.source
        return ClassLimits(standard_key, "any", "any bird", purpose, ref, limits)
    if purpose not in purposes:
        return Unknown(f"{named.name} gives no sizes for the purpose {_words(purpose)}")
    classes = {row["bird_class"] for row in mine}
    if other := [p for key, c, p in _limits() if key == standard_key and c in classes]:
        return Unknown(f"{named.name} sizes only a {_words(other[0])} for {species.common_name}")
    return Unknown(
        f"the class of {species.common_name} in {named.name} is not known{_gap_tail(named)}"
    )


def _words(purpose: str) -> str:
    return purpose.replace("_", " ")


def _gap_tail(named: Standard) -> str:
    return f": {'; '.join(named.gaps)}" if named.gaps else " from what was read"


@cache
def _published() -> tuple[PublishedRow, ...]:
    return tuple(
        PublishedRow(
            row["standard"],
            row["topic"],
            row["subject"],
            row["quantity"],
            row["value"],
            row["unit"],
            number(row["value_si"]),
            row["unit_si"],
            row["condition"],
            row["jurisdiction"],
            row["basis"],
            reference(row, f"standards.csv, {row['standard']} {row['quantity']}"),
            row["confidence"],
        )
        for row in rows("standards")
    )


def published_rows(
    topic: str | None = None, standard_key: str | None = None
) -> tuple[PublishedRow, ...]:
    """Figures as collected, of one topic or standard or both."""
    return tuple(
        row
        for row in _published()
        if topic in (None, row.topic) and standard_key in (None, row.standard)
    )
