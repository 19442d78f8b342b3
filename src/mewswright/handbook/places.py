"""What lies in, round and near quarters: infills, floors, spore sources, disinfectants."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from mewswright.handbook.evidence import Figure, SourceRef, figure, reference, sources
from mewswright.handbook.nearest import unknown
from mewswright.handbook.tables import number, rows


@dataclass(frozen=True)
class MeshKind:
    """A kind of infill. `reach` is good, care or bad where a bird can touch it."""

    id: str
    name: str
    reach: str
    stops_predators: str
    solidity: Figure
    reason: str
    source: SourceRef


@dataclass(frozen=True)
class Substrate:
    """A floor or litter. `use` is good, care or bad."""

    id: str
    name: str
    use: str
    drains: str
    cleans: str
    reason: str
    source: SourceRef


@dataclass(frozen=True)
class SporeSource:
    """Something that gives off mould spores.

    `distance_m` is a judgement throughout: no published distance was found. `source`
    is the witness of the reason.
    """

    id: str
    name: str
    severity: str
    distance_m: Figure
    reason: str
    source: SourceRef


@dataclass(frozen=True)
class Disinfectant:
    """A disinfectant at one strength, on cleaned surfaces. Labels and a vet decide."""

    id: str
    agent: str
    chemistry: str
    use: str
    strength: Figure
    contact_min: float | None
    works_on_fungal_spores: bool | None
    works_on_viruses: bool | None
    source: SourceRef


@cache
def _mesh_kinds() -> Mapping[str, MeshKind]:
    return {
        row["id"]: MeshKind(
            row["id"],
            row["name"],
            row["where_bird_reaches"],
            row["stops_predators"],
            figure(row, f"mesh_kinds.csv, {row['id']}", "solidity", "-"),
            row["reason"],
            reference(row, f"mesh_kinds.csv, {row['id']}"),
        )
        for row in rows("mesh_kinds")
    }


def mesh_kinds() -> tuple[MeshKind, ...]:
    """Every kind of infill."""
    return tuple(_mesh_kinds().values())


def mesh_kind(name: str) -> MeshKind:
    """The infill with this id.

    Raises:
        Problem: If there is none; the sentence names the nearest.
    """
    if name not in _mesh_kinds():
        raise unknown("mesh kind", name, _mesh_kinds())
    return _mesh_kinds()[name]


@cache
def substrates() -> tuple[Substrate, ...]:
    """Every floor and litter."""
    return tuple(
        Substrate(
            row["id"],
            row["name"],
            row["use"],
            row["drains"],
            row["cleans"],
            row["reason"],
            reference(row, f"substrates.csv, {row['id']}"),
        )
        for row in rows("substrates")
    )


def substrate(name: str) -> Substrate:
    """The floor or litter with this id.

    Raises:
        Problem: If there is none; the sentence names the nearest.
    """
    known = {one.id: one for one in substrates()}
    if name not in known:
        raise unknown("substrate", name, known)
    return known[name]


@cache
def spore_sources() -> tuple[SporeSource, ...]:
    """Every kind of thing that gives off mould spores."""
    return tuple(
        SporeSource(
            row["id"],
            row["name"],
            row["severity"],
            figure(row, f"spore_sources.csv, {row['id']}", "distance_m", "m"),
            row["reason"],
            SourceRef(
                sources()[row["reason_source"]].cite,
                f"spore_sources.csv, {row['id']}",
                _how_reason_is_known(row["reason_source"]),
            ),
        )
        for row in rows("spore_sources")
    )


@cache
def sun_transmittances() -> Mapping[str, Figure]:
    """Share of the direct sun that passes things that are not dense, by id [-]."""
    return {
        row["id"]: figure(row, f"sun_transmittances.csv, {row['id']}", "share", "-")
        for row in rows("sun_transmittances")
    }


def sun_transmittance(name: str) -> Figure:
    """Share of the direct sun that passes one such thing [-].

    Raises:
        Problem: If there is none; the sentence names the nearest.
    """
    known = sun_transmittances()
    if name not in known:
        raise unknown("thing that lets sun through", name, known)
    return known[name]


def _how_reason_is_known(source_key: str) -> str:
    if source_key == "judgement":
        return "judgement"
    return "from memory" if source_key.startswith("m-") else "read"


@cache
def disinfectants() -> tuple[Disinfectant, ...]:
    """Every disinfectant, one strength a row."""
    said: dict[str, bool | None] = {"yes": True, "no": False, "": None}
    return tuple(
        Disinfectant(
            row["id"],
            row["agent"],
            row["chemistry"],
            row["use"],
            figure(row, f"disinfectants.csv, {row['id']}", "strength"),
            number(row["contact_min"]),
            said[row["fungal_spores"]],
            said[row["viruses"]],
            reference(row, f"disinfectants.csv, {row['id']}"),
        )
        for row in rows("disinfectants")
    )
