"""What raises the risk of sore feet (bumblefoot). A vet judges the foot; this judges the perch."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from mewswright.handbook.evidence import SourceRef, reference
from mewswright.handbook.tables import rows


@dataclass(frozen=True)
class FootRisk:
    """One thing that raises the risk. `points` is a judgement, `source` the reason's witness."""

    id: str
    name: str
    points: int
    reason: str
    source: SourceRef


@cache
def foot_risks() -> Mapping[str, FootRisk]:
    """Everything that raises the risk of sore feet, by id."""
    return {
        row["id"]: FootRisk(
            row["id"],
            row["name"],
            int(row["points"]),
            row["reason"],
            reference(row, f"foot_risks.csv, {row['id']}"),
        )
        for row in rows("foot_risks")
    }
