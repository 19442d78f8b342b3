"""Which animals a gap lets in, and what they do to a bird."""

from dataclasses import dataclass
from functools import cache

from mewswright.handbook.evidence import Figure, figure
from mewswright.handbook.tables import rows


@dataclass(frozen=True)
class Predator:
    """An animal that a narrow enough gap keeps out.

    `gap` is the widest gap that does [mm], with its witness; `danger` is none, some or
    high. Danger and `bites_net` are judgements.
    """

    id: str
    name: str
    plural: str
    gap: Figure
    danger: str
    bites_net: bool
    does: str


@cache
def predators() -> tuple[Predator, ...]:
    """Every animal, the one that needs the widest gap first."""
    found = (
        Predator(
            row["id"],
            row["name"],
            row["plural"],
            figure(row, f"predator_gaps.csv, {row['id']}", "gap_mm", "mm"),
            row["danger"],
            row["bites_net"] == "yes",
            row["does"],
        )
        for row in rows("predator_gaps")
    )
    return tuple(sorted(found, key=lambda one: -one.gap.value))
