"""What the standards ask beside sizes: tethering, perches, baths, doors, gaps, quarantine."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from mewswright.handbook.evidence import Figure, SourceRef, reference
from mewswright.handbook.species import Species
from mewswright.handbook.standard_tables import standard, standards
from mewswright.handbook.tables import rows

STATES = ("tethered", "loose", "flown", "trained", "frost_tender", "weak", "imported", "moulting")


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

    def as_figure(self) -> Figure:
        """The rule's number with its witness.

        Raises:
            ValueError: If the rule is in words.
        """
        if self.number is None:
            raise ValueError(f"rule {self.topic!r} of {self.standard!r} is words: {self.value}")
        place = f"standard_rules.csv, {self.standard} {self.topic}"
        return Figure(
            self.number,
            self.unit,
            self.source,
            self.condition,
            self.basis,
            self.confidence,
            place,
        )


@cache
def _rules() -> Mapping[str, tuple[Rule, ...]]:
    found: dict[str, list[Rule]] = {one.key: [] for one in standards()}
    for row in rows("standard_rules"):
        place = f"standard_rules.csv, {row['standard']} {row['topic']} {row['applies_to']}"
        found[row["standard"]].append(
            Rule(
                row["standard"],
                row["topic"],
                row["applies_to"],
                row["place"],
                row["value"],
                None if row["unit"] in ("rule", "date") else float(row["value"]),
                row["unit"],
                row["basis"],
                row["condition"],
                reference(row, place),
                row["confidence"],
                row["note"],
            )
        )
    return {key: tuple(of) for key, of in found.items()}


def rules(
    standard_key: str,
    topic: str | None = None,
    species: Species | None = None,
    place: str | None = None,
) -> tuple[Rule, ...]:
    """Rules of one standard, narrowed as asked; none found gives an empty tuple.

    Args:
        standard_key: Such as `dk`.
        topic: Such as `perches_min`; every topic if left out.
        species: Keep what applies to this species: rules for any bird, for its group,
            its genus, itself, or for a state that a bird may be in (tethered, loose...),
            which the caller must judge by `applies_to`.
        place: Keep what applies there: `loft`, `shelter`, `pitch`, `isolation`,
            `flight_cage` or `house`; rules for any place are kept too.

    Raises:
        Problem: If there is no such standard.
    """
    standard(standard_key)
    return tuple(
        rule
        for rule in _rules()[standard_key]
        if topic in (None, rule.topic)
        and (place is None or rule.place in ("any", place))
        and (species is None or applies(rule.applies_to, species))
    )


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
