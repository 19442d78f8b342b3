"""Pieces as they are set out one by one, and the parts that alike pieces make."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from mewswright.build.parts import Panel, Part, PartKind, Place, Stick

PREFIX: dict[PartKind, str] = {
    "post": "P", "sole": "S", "head": "H", "ridge": "RB", "rafter": "R", "stud": "W",
    "nogging": "N", "batten": "B", "trim": "T", "bar": "BR", "door": "DR", "perch": "PE",
    "board": "BD", "deck": "DK", "covering": "CV", "mesh": "ME", "net": "NE", "base": "BA",
    "membrane": "MB", "substrate": "SU", "fixing": "FX", "bath": "BT", "hatch": "HT",
    "finish": "FN", "rain": "RW",
}  # fmt: skip


@dataclass(frozen=True)
class Piece:
    """One piece where it stands. Lengths are millimetres, longest along the piece."""

    kind: PartKind
    what: str
    place: str
    material: str
    length_mm: float = 0
    section: str = ""
    width_mm: float = 0
    cut_start_deg: float = 0
    cut_end_deg: float = 0
    amount: float = 0
    unit: str = "piece"
    sawn: bool = False
    note: str = ""
    packs: int = 0
    stick: Stick | None = None
    panel: Panel | None = None
    panels: tuple[Panel, ...] = ()  # of a piece that no one panel gives


def moved(piece: Piece, right_mm: float = 0, back_mm: float = 0, place: str = "") -> Piece:
    """Set a piece elsewhere, with all that shows where it stands.

    Args:
        piece: The piece.
        right_mm: How far to the right, seen from in front.
        back_mm: How far to the back.
        place: Its place in words; blank: as before.
    """

    def at(spot: Place) -> Place:
        return spot[0] + right_mm, spot[1] + back_mm, spot[2]

    def panel_at(panel: Panel) -> Panel:
        return panel.model_copy(update={"corners_mm": tuple(at(c) for c in panel.corners_mm)})

    stick = piece.stick
    if stick is not None:
        ends = {"start_mm": at(stick.start_mm), "end_mm": at(stick.end_mm)}
        stick = stick.model_copy(update=ends)
    return replace(
        piece,
        place=place or piece.place,
        stick=stick,
        panel=None if piece.panel is None else panel_at(piece.panel),
        panels=tuple(panel_at(panel) for panel in piece.panels),
    )


def marked_after(parts: Iterable[Part], pieces: Iterable[Piece]) -> tuple[Part, ...]:
    """Gather further pieces into parts whose marks count on from those of `parts`."""
    used: dict[str, int] = {}
    for part in parts:
        used[PREFIX[part.kind]] = used.get(PREFIX[part.kind], 0) + 1
    return parts_of(pieces, used)


def parts_of(pieces: Iterable[Piece], used: Mapping[str, int] | None = None) -> tuple[Part, ...]:
    """Gather alike pieces into marked parts.

    Pieces are alike when all but their place agrees, lengths to the millimetre. Marks
    count up within a kind, in the order of the pieces.

    Args:
        pieces: Pieces in the order of building.
        used: How many marks of each prefix are taken already.

    Returns:
        Parts, each with the sticks and panels of its pieces.
    """
    groups: dict[tuple[object, ...], list[Piece]] = {}
    for piece in pieces:
        key = (
            piece.kind, piece.what, piece.material, piece.section, round(piece.length_mm),
            round(piece.width_mm), piece.cut_start_deg, piece.cut_end_deg, piece.unit,
            piece.sawn, piece.note,
        )  # fmt: skip
        groups.setdefault(key, []).append(piece)
    counted: dict[str, int] = dict(used or {})
    parts = []
    for group in groups.values():
        first = group[0]
        prefix = PREFIX[first.kind]
        counted[prefix] = counted.get(prefix, 0) + 1
        parts.append(
            Part(
                mark=f"{prefix}{counted[prefix]}",
                kind=first.kind,
                what=first.what,
                place=_together(piece.place for piece in group),
                material=first.material,
                section=first.section,
                length_mm=round(first.length_mm),
                width_mm=round(first.width_mm),
                cut_start_deg=first.cut_start_deg,
                cut_end_deg=first.cut_end_deg,
                count=len(group),
                amount=round(sum(piece.amount for piece in group), 4),
                unit=first.unit,
                packs=sum(piece.packs for piece in group),
                sawn=first.sawn,
                note=first.note,
                sticks=tuple(piece.stick for piece in group if piece.stick is not None),
                panels=tuple(
                    panel
                    for piece in group
                    for panel in (*((piece.panel,) if piece.panel else ()), *piece.panels)
                ),
            )
        )
    return tuple(parts)


def _together(places: Iterable[str]) -> str:
    different = list(dict.fromkeys(places))
    if len(different) < 2:
        return "".join(different)
    return f"{', '.join(different[:-1])} and {different[-1]}"
