"""Nails, screws, straps and angles, to size by.

What a maker declares for a product goes before every figure here.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from mewswright.handbook.evidence import Figure, SourceRef, figure, reference
from mewswright.handbook.nearest import unknown
from mewswright.handbook.tables import number, rows


@dataclass(frozen=True)
class Fastener:
    """A nail or screw [mm], its wire [N/mm2]; `shank` is round, square or screw.

    `root_mm` and `thread_mm`, the threaded length, are None for a nail.
    """

    id: str
    what: str
    shank: str
    diameter_mm: float
    root_mm: float | None
    length_mm: float
    thread_mm: float | None
    head_mm: float
    fu: float
    source: SourceRef

    @property
    def effective_mm(self) -> float:
        """Diameter to reckon with: 1.1 times the root of a screw [mm].

        Source:
            EN 1995-1-1:2004, 8.7.1(3), recalled.
        """
        return self.diameter_mm if self.root_mm is None else 1.1 * self.root_mm


@dataclass(frozen=True)
class Connector:
    """A strap, angle or hanger: what it carries, and the fasteners in each of its legs."""

    id: str
    what: str
    capacity: Figure
    fastener: Fastener
    each_leg: int


@cache
def fasteners() -> Mapping[str, Fastener]:
    """Nails and screws by id."""
    return {
        row["id"]: Fastener(
            row["id"],
            row["what"],
            row["shank"],
            float(row["diameter_mm"]),
            number(row["root_mm"]),
            float(row["length_mm"]),
            number(row["thread_mm"]),
            float(row["head_mm"]),
            float(row["fu_n_per_mm2"]),
            reference(row, f"fasteners.csv, {row['id']}"),
        )
        for row in rows("fasteners")
    }


def fastener(name: str) -> Fastener:
    """The nail or screw with this id.

    Raises:
        Problem: If there is none; the sentence names the nearest.
    """
    if name not in fasteners():
        raise unknown("fastener", name, fasteners())
    return fasteners()[name]


@cache
def connectors() -> Mapping[str, Connector]:
    """Straps, angles and hangers by id."""
    return {
        row["id"]: Connector(
            row["id"],
            row["what"],
            figure(row, f"connectors.csv, {row['id']}"),
            fastener(row["fastener"]),
            int(row["each_leg"]),
        )
        for row in rows("connectors")
    }


def connector(name: str) -> Connector:
    """The strap, angle or hanger with this id.

    Raises:
        Problem: If there is none; the sentence names the nearest.
    """
    if name not in connectors():
        raise unknown("connector", name, connectors())
    return connectors()[name]
