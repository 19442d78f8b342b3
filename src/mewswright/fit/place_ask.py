"""What a keeper asks to be placed, read from words: new quarters by kind, standing ones by name."""

from collections.abc import Sequence
from dataclasses import replace
from math import ceil, floor

from mewswright.checks.case import Known
from mewswright.checks.first_yard import Kind, choice_from, number_from, sizes_from
from mewswright.checks.starter import ample_sizes
from mewswright.checks.starter_unit import CORNER_MM, DOOR_HEIGHT_MM, DOOR_MM, DOOR_SILL_MM
from mewswright.fit.place_piece import ROW, WALL_M, Piece, piece_of, piece_to_move
from mewswright.handbook import bar_gap_max, species
from mewswright.model.bird import Bird
from mewswright.model.problem import Problem
from mewswright.model.quantity import m_from_mm, mm_from_m
from mewswright.model.quarters import Quarters
from mewswright.model.ways import OUTSIDE, Door, Space
from mewswright.model.yard import Yard

KINDS: tuple[Kind, ...] = ("loft", "shelter", "pitch", "isolation")
MOST_PIECES = 60
# For a bird of 1.2 m span, where the yard has none: clear sizes [mm], as `ample_sizes` gives them.
USUAL: dict[Kind, str] = {
    "loft": "4200x3000x2550x2400", "isolation": "4200x3000x2550x2400",
    "shelter": "3000x3000x2550x2400", "pitch": "3600x3600",
}  # fmt: skip
USUAL_GAP_MM = 25.0
LOBBY_M = 1.2  # between two doors, behind new quarters in which a bird goes loose
CORRIDOR_M = 1.2
GAP_SHARE = 0.92  # of the widest gap of the smallest bird: bars are never true
NEW = "KIND:COUNT or KIND:COUNT:WIDTHxDEPTHxFRONTxBACK"


def pieces_asked(
    yard: Yard, new: Sequence[str], move: Sequence[str], share: Sequence[str] = ()
) -> tuple[Piece, ...]:
    """Read what is to be placed.

    Args:
        yard: The yard.
        new: Texts KIND:COUNT, each with its clear sizes in millimetres if wanted.
        move: Names of quarters, or of rows, that may be set down elsewhere.
        share: Kinds whose new quarters stand in one row, with one corridor behind.

    Raises:
        Problem: If a text cannot be read, a name is not of the yard, or nothing or too much is
            asked for.
    """
    pieces: list[Piece] = []
    taken = {q.name for q in yard.quarters} | {r.name for r in yard.row}
    taken |= {s.name for s in yard.space}
    shared = {choice_from("--corridor", one, KINDS) for one in share}
    if "pitch" in shared:
        raise Problem("--corridor pitch: pitches have no walls and no corridor; leave it out")
    for text in new:
        pieces += _new_pieces(yard, text, taken, shared)
    missing = sorted(shared - {text.split(":")[0].strip().lower() for text in new})
    if missing:
        raise Problem(f"--corridor {missing[0]}: no such quarters are new; give --new too")
    for name in dict.fromkeys(move):
        pieces.append(piece_to_move(yard, name))
    if not pieces:
        raise Problem(f"nothing to place: give --new {NEW}, or --move and a name of the yard")
    if len(pieces) > MOST_PIECES:
        raise Problem(f"{len(pieces)} pieces to place: give {MOST_PIECES} or fewer at a time")
    return tuple(pieces)


def _new_pieces(yard: Yard, text: str, taken: set[str], shared: set[str]) -> list[Piece]:
    parts = [part.strip() for part in text.split(":")]
    if not 2 <= len(parts) <= 3:
        raise Problem(f"--new {text!r}: give {NEW}, such as loft:2 or pitch:3:3600x3600")
    kind: Kind = next(k for k in KINDS if k == choice_from("--new", parts[0], KINDS))
    count = number_from(f"count of --new {text!r}", parts[1], 1, MOST_PIECES, "pieces", "2")
    if count != int(count):
        raise Problem(f"count of --new {text!r} is {parts[1]!r}: give a whole number")
    sizes = sizes_from(kind, parts[2] if len(parts) > 2 else usual_sizes(yard, kind))
    names = []
    for _ in range(int(count)):
        number = 1
        while (name := f"New {kind} {number}") in taken:
            number += 1
        taken.add(name)
        names.append(name)
    units = [new_quarters(yard, name, kind, sizes) for name in names]
    if kind in shared:
        return [_in_a_row(yard, kind, units)]
    alike = f"new {kind} {'x'.join(f'{size:g}' for size in sizes)}"
    behind = LOBBY_M if kind in ("loft", "isolation") else 0.0
    return [
        piece_of(unit.name, (unit,), yard, behind_m=behind, is_new=True, alike=alike)
        for unit in units
    ]


def usual_sizes(yard: Yard, kind: Kind) -> str:
    """Clear sizes of new quarters, ample for the widest bird of the yard [mm]."""
    widest = max(yard.bird, key=_span_mm, default=None)
    return USUAL[kind] if widest is None else ample_sizes(widest, kind)


def _span_mm(bird: Bird) -> float:
    return Known(bird, species(bird.species)).span.value


def new_quarters(
    yard: Yard, name: str, kind: Kind, sizes: tuple[float, float, float, float]
) -> Quarters:
    """Quarters to build, bare: boarded but for barred fronts that no bird of the yard gets out of.

    Args:
        yard: The yard.
        name: Of the quarters.
        kind: Their kind.
        sizes: Clear width, depth, front and back height [mm].
    """
    width, depth, front, back = sizes
    data: dict[str, object] = {
        "name": name, "kind": kind, "at_m": (0, 0), "facing_deg": 0, "width_mm": width,
        "depth_mm": depth, "built": False,
    }  # fmt: skip
    if kind == "pitch":
        data["floor"] = {"substrate": "grass", "depth_mm": 0, "membrane": False}
    else:
        gaps = [bar_gap_max(species(bird.species)).value for bird in yard.bird]
        gap_mm = floor(min(gaps) * GAP_SHARE) if gaps else USUAL_GAP_MM
        data |= {
            "front_height_mm": front, "back_height_mm": back, "roof": {},
            "faces": {
                "front": {
                    "infill": "barred", "gap_mm": gap_mm, "bar_mm": 12, "upstand_mm": 600,
                    "outer": {"infill": "meshed", "mesh_kind": "welded", "gap_mm": 11,
                              "stand_off_mm": 130},
                }
            },
            "floor": {"dig_barrier": "buried", "dig_barrier_mm": 450},
        }  # fmt: skip
    return Quarters.model_validate(data)


def _in_a_row(yard: Yard, kind: Kind, units: Sequence[Quarters]) -> Piece:
    """New quarters side by side, a corridor behind them, as one piece."""
    placed, along = [], 0.0
    for unit in units:
        # Facing north, right as seen from in front is west.
        placed.append(unit.model_copy(update={"at_m": (-along, 0.0)}))
        along += m_from_mm(unit.width_mm) + WALL_M
    name = units[0].name if len(units) == 1 else f"New {kind} row"
    piece = piece_of(name, placed, yard, behind_m=CORRIDOR_M + WALL_M, is_new=True)
    return replace(piece, kind=ROW)


def ways_of_new(piece: Piece) -> tuple[tuple[Space, ...], tuple[Door, ...]]:
    """Lobby or corridor of a new piece, and its doors: two on the way of every loose bird."""
    if not piece.is_new or piece.living_kind == "pitch":
        return (), ()
    loose = piece.living_kind in ("loft", "isolation") or piece.kind == ROW
    if not loose:
        return (), tuple(_door(unit.quarters, OUTSIDE) for unit in piece.units)
    corridor = piece.kind == ROW
    name = f"{piece.name} {'corridor' if corridor else 'lobby'}"
    space = Space(
        name=name, kind="corridor" if corridor else "lobby",
        length_mm=max(1500.0, mm_from_m(2 * piece.half_m[0])) if corridor else 1500.0,
        width_mm=mm_from_m(LOBBY_M), height_mm=2100, closed_in=True,
    )  # fmt: skip
    out = Door(between=(name, OUTSIDE), width_mm=DOOR_MM, height_mm=DOOR_HEIGHT_MM,
               self_closing=True, locks="key")  # fmt: skip
    return (space,), (*(_door(unit.quarters, name) for unit in piece.units), out)


def _door(quarters: Quarters, beyond: str) -> Door:
    """The door in the back wall of new quarters, near its right end."""
    back = quarters.back_height_mm or 0.0
    width = min(DOOR_MM, floor(quarters.width_mm * 0.8))
    height = min(DOOR_HEIGHT_MM, max(1.0, back - 2 * DOOR_SILL_MM))
    at = max(quarters.width_mm / 2, quarters.width_mm - CORNER_MM - ceil(width / 2))
    return Door(
        between=(quarters.name, beyond), width_mm=width, height_mm=height, sill_mm=DOOR_SILL_MM,
        self_closing=True, locks="bolt", opens_into=beyond, face="back", at_mm=at,
    )  # fmt: skip
