"""What the standards ask beside sizes: tethering, perches, baths, doors, gaps, quarantine."""

from mewswright.handbook.shelf import SHIPPED
from mewswright.handbook.species import Species
from mewswright.handbook.standard_shapes import STATES, Rule, applies

__all__ = ["STATES", "Rule", "applies", "rules"]


def rules(
    standard_key: str,
    topic: str | None = None,
    species: Species | None = None,
    place: str | None = None,
) -> tuple[Rule, ...]:
    """Rules of one shipped standard, narrowed as asked; none found gives an empty tuple.

    A check that goes through the standards of a yard asks the yard's shelf instead, which
    holds the keeper's own standards too: see `Shelf.rules`.

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
    return SHIPPED.rules(standard_key, topic, species, place)
