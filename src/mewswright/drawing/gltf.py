"""A unit in three dimensions as one GLB file: every part of the take-off by its mark.

Metres, y up, as glTF 2.0 has it; the front looks along +z. The same unit gives the same
bytes. Normals are left out, so that a viewer shades flat and solids stay watertight.
"""

import json
import struct
from typing import Any

from mewswright import __version__
from mewswright.build.masses import density_kg_m3, part_mass
from mewswright.build.notches import cut_solids_of
from mewswright.build.parts import Part, PartKind
from mewswright.build.solids import Solid, Vector, triangles, why_not_whole
from mewswright.build.takeoff import TakeOff

# Linear base colour and alpha by kind of part. Sheets that stand for wires let light through.
_COLOUR: dict[PartKind, tuple[float, float, float, float]] = {
    "post": (0.52, 0.33, 0.16, 1), "sole": (0.45, 0.29, 0.15, 1), "head": (0.55, 0.36, 0.18, 1),
    "ridge": (0.58, 0.38, 0.2, 1), "rafter": (0.62, 0.42, 0.22, 1), "stud": (0.64, 0.46, 0.27, 1),
    "nogging": (0.70, 0.52, 0.32, 1), "batten": (0.74, 0.58, 0.38, 1),
    "trim": (0.66, 0.44, 0.20, 1), "bar": (0.10, 0.11, 0.12, 1), "door": (0.20, 0.32, 0.26, 1),
    "perch": (0.30, 0.18, 0.09, 1), "board": (0.58, 0.50, 0.36, 1), "deck": (0.66, 0.53, 0.30, 1),
    "covering": (0.10, 0.13, 0.12, 1), "mesh": (0.45, 0.48, 0.50, 0.25),
    "net": (0.20, 0.24, 0.22, 0.25), "base": (0.30, 0.28, 0.26, 1),
    "membrane": (0.05, 0.05, 0.06, 1), "substrate": (0.52, 0.48, 0.40, 1),
    "fixing": (0.35, 0.36, 0.38, 1), "bath": (0.35, 0.45, 0.50, 1), "hatch": (0.20, 0.32, 0.26, 1),
    "rain": (0.28, 0.30, 0.32, 1),
}  # fmt: skip
_GREY = (0.5, 0.5, 0.5, 1.0)
_MAGIC, _VERSION, _JSON, _BIN = 0x46546C67, 2, 0x4E4F534A, 0x004E4942
_FLOAT, _SHORT, _VERTICES, _INDICES = 5126, 5123, 34962, 34963


def to_glb(takeoff: TakeOff) -> bytes:
    """Write a unit as GLB.

    Each part is a node named by its mark, with extras `kind`, `what`, `place`, `material`,
    `section`, `length_mm`, `width_mm`, `count`, `cut_start_deg`, `cut_end_deg`, `amount`,
    `unit`, `mass_kg` and `mass_how` of all its pieces as the take-off counts them,
    `volume_m3` and `density_kg_m3` of its solids, and `not_whole`, which says why those two
    do not make the mass. Its pieces are nodes below it, named "R1 1", "R1 2"... A part
    without a place has no pieces.

    Args:
        takeoff: The unit.

    Returns:
        The file.

    Raises:
        ValueError: If a piece cannot be made solid; see build/solids.py.
    """
    return _Writer().file(takeoff)


class _Writer:
    def __init__(self) -> None:
        self.nodes: list[dict[str, Any]] = []
        self.meshes: list[dict[str, Any]] = []
        self.accessors: list[dict[str, Any]] = []
        self.materials: list[dict[str, Any]] = []
        self.points, self.indices = bytearray(), bytearray()
        self.known: dict[tuple[Any, ...], int] = {}  # alike pieces share one mesh
        self.coloured: dict[PartKind, int] = {}

    def file(self, takeoff: TakeOff) -> bytes:
        self.nodes.append({"name": takeoff.quarters, "children": []})
        root = self.nodes[0]
        for part in takeoff.parts:
            root["children"].append(len(self.nodes))
            self.part(part, takeoff)
        return _framed(self.document(takeoff), bytes(self.points + self.indices))

    def part(self, part: Part, takeoff: TakeOff) -> None:
        solids = cut_solids_of(part, takeoff.frame)
        node: dict[str, Any] = {"name": part.mark, "extras": _extras(part, solids)}
        self.nodes.append(node)
        if not solids:
            return
        node["children"] = []
        for number, solid in enumerate(solids, start=1):
            node["children"].append(len(self.nodes))
            self.nodes.append(
                {
                    "name": f"{part.mark} {number}",
                    "mesh": self.mesh(part, solid),
                    "matrix": _matrix(solid),
                }
            )

    def mesh(self, part: Part, solid: Solid) -> int:
        corners = tuple(tuple(round(v, 3) + 0.0 for v in corner) for corner in solid.corners)
        key = (part.kind, corners, solid.faces)
        if key not in self.known:
            self.known[key] = len(self.meshes)
            primitive = {
                "attributes": {"POSITION": self.positions(corners)},
                "indices": self.triangles(solid),
                "material": self.material(part.kind),
            }
            self.meshes.append({"name": part.mark, "primitives": [primitive]})
        return self.known[key]

    def positions(self, corners: tuple[tuple[float, ...], ...]) -> int:
        start = len(self.points)
        for corner in corners:
            self.points += struct.pack("<3f", *(v / 1000 for v in corner))
        stored = list(struct.iter_unpack("<3f", self.points[start:]))
        self.accessors.append(
            {
                "bufferView": 0,
                "byteOffset": start,
                "componentType": _FLOAT,
                "count": len(stored),
                "type": "VEC3",
                "min": [min(p[k] for p in stored) for k in range(3)],
                "max": [max(p[k] for p in stored) for k in range(3)],
            }
        )
        return len(self.accessors) - 1

    def triangles(self, solid: Solid) -> int:
        start = len(self.indices)
        listed = [i for triangle in triangles(solid.faces) for i in triangle]
        self.indices += struct.pack(f"<{len(listed)}H", *listed)
        self.accessors.append(
            {
                "bufferView": 1,
                "byteOffset": start,
                "componentType": _SHORT,
                "count": len(listed),
                "type": "SCALAR",
            }
        )
        return len(self.accessors) - 1

    def material(self, kind: PartKind) -> int:
        if kind not in self.coloured:
            self.coloured[kind] = len(self.materials)
            colour = _COLOUR.get(kind, _GREY)
            clear = {"alphaMode": "BLEND", "doubleSided": True} if colour[3] < 1 else {}
            self.materials.append(
                {
                    "name": kind,
                    "pbrMetallicRoughness": {
                        "baseColorFactor": list(colour),
                        "metallicFactor": 0,
                        "roughnessFactor": 0.9,
                    },
                    **clear,
                }
            )
        return self.coloured[kind]

    def document(self, takeoff: TakeOff) -> dict[str, Any]:
        document: dict[str, Any] = {
            "asset": {"version": "2.0", "generator": f"mewswright {__version__}"},
            "scene": 0,
            "scenes": [
                {
                    "name": f"{takeoff.yard}, {takeoff.quarters}",
                    "nodes": [0],
                    "extras": {"cautions": list(takeoff.cautions)},
                }
            ],
            "nodes": self.nodes,
        }
        if self.meshes:
            split = len(self.points)
            document |= {
                "meshes": self.meshes,
                "materials": self.materials,
                "accessors": self.accessors,
                "bufferViews": [
                    {
                        "buffer": 0,
                        "byteOffset": 0,
                        "byteLength": split,
                        "byteStride": 12,  # asked for where several accessors share a view
                        "target": _VERTICES,
                    },
                    {
                        "buffer": 0,
                        "byteOffset": split,
                        "byteLength": len(self.indices),
                        "target": _INDICES,
                    },
                ],
                "buffers": [{"byteLength": split + len(self.indices)}],
            }
        return document


def _extras(part: Part, solids: tuple[Solid, ...]) -> dict[str, Any]:
    mass, density = part_mass(part), density_kg_m3(part)
    said = part.model_dump(
        include={
            "kind", "what", "place", "material", "section", "length_mm", "width_mm", "count",
            "cut_start_deg", "cut_end_deg", "amount", "unit", "note",
        }
    )  # fmt: skip
    return {
        **said,
        "mass_kg": round(mass.kg, 3) if mass else None,
        "mass_how": mass.how if mass else "the handbook has no mass of it",
        "volume_m3": round(sum(solid.volume_m3 for solid in solids), 6),
        "density_kg_m3": round(density, 1) if density is not None else None,
        "not_whole": why_not_whole(part),
    }


def _matrix(solid: Solid) -> list[float]:
    """Node matrix, column by column: the piece's axes and its middle, z up turned to y up."""
    axes = solid.axes
    columns = [_turned(v) for v in (axes.x, axes.y, axes.z)]
    x, y, z = _turned(axes.origin)
    flat = [v for column in columns for v in (*column, 0.0)]
    return [round(v, 9) + 0.0 for v in (*flat, x / 1000, y / 1000, z / 1000, 1.0)]


def _turned(v: Vector) -> Vector:
    return v[0], v[2], -v[1]


def _framed(document: dict[str, Any], binary: bytes) -> bytes:
    """Frame JSON and buffer as chunks, each padded to four bytes."""
    text = json.dumps(document, ensure_ascii=False, allow_nan=False, separators=(",", ":"))
    head = text.encode()
    chunks = [(_JSON, head + b" " * (-len(head) % 4))]
    if binary:
        chunks.append((_BIN, binary + bytes(-len(binary) % 4)))
    body = b"".join(struct.pack("<II", len(data), kind) + data for kind, data in chunks)
    return struct.pack("<III", _MAGIC, _VERSION, 12 + len(body)) + body
