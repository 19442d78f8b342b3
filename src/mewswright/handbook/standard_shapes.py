"""What a standard is made of: sizes by class of bird, and rules that are not sizes.

A standard's own text decides over this summary of it.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from mewswright.handbook.evidence import Figure, SourceRef
from mewswright.handbook.species import Species

PURPOSES = ("loft", "flight_cage", "isolation")
STATES = ("tethered", "loose", "flown", "trained", "frost_tender", "weak", "imported", "moulting")


@dataclass(frozen=True)
class Standard:
    """A set of limits that a yard may name."""

    key: str
    name: str
    jurisdiction: str
    strength: str
    summary: str
    gaps: tuple[str, ...]
    own: bool = False  # the keeper's, from a file beside the yard


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
    valid_from: date | None = None
    valid_to: date | None = None
    lapsed: bool = False

    @property
    def source(self) -> SourceRef:
        """The witness of the size."""
        return self.figure.source


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
    membership_confidence: str = ""

    @property
    def class_is_doubtful(self) -> bool:
        """That the bird belongs here is our judgement, and of low confidence."""
        return self.membership.how_known != "read" and self.membership_confidence == "low"

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
class Rule:
    """One rule of a standard that is not a size."""

    standard: str
    topic: str
    applies_to: str
    place: str
    value: str
    number: float | None
    unit: str
    basis: str
    condition: str
    source: SourceRef
    confidence: str
    note: str
    valid_from: date | None = None
    valid_to: date | None = None
    lapsed: bool = False

    def as_figure(self) -> Figure:
        """The rule's number with its witness.

        Raises:
            ValueError: If the rule is in words.
        """
        if self.number is None:
            raise ValueError(f"rule {self.topic!r} of {self.standard!r} is words: {self.value}")
        place = f"standards/{self.standard}.toml, {self.topic}"
        return Figure(
            self.number,
            self.unit,
            self.source,
            self.condition,
            self.basis,
            self.confidence,
            place,
        )


def in_force(row: Rule | SizeLimit, on: date | None) -> bool:
    """Whether a row binds on a day.

    Args:
        row: A row of a standard.
        on: The day. None = no day in mind: a row without an end binds, and one that ends
            on some day does not.
    """
    if on is None:
        return row.valid_to is None
    return (row.valid_from or on) <= on <= (row.valid_to or on)


def applies(applies_to: str, species: Species) -> bool:
    """Whether a row for these birds can hold for the species.

    A row for a state of the bird (tethered, loose...) can: the caller knows the state.

    Args:
        applies_to: `any`, a species id, `group:NAME`, `genus:NAME`,
            `skin_above_foot:GROUP`, or one of `STATES`.
        species: The bird's species.
    """
    kind, _, name = applies_to.partition(":")
    if kind == "skin_above_foot":
        return species.skin_above_foot and name == species.group
    genus = species.scientific_name.split()[0]
    return applies_to in ("any", species.id, f"group:{species.group}", f"genus:{genus}", *STATES)
