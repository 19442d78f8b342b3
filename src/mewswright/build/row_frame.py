"""The frame of a row: its units' walls side by side, each shared wall once, under one roof."""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from mewswright.build.boarding import bars_filled, board_of
from mewswright.build.frame import roof_frame, unit_pieces
from mewswright.build.ground_line import LEVEL_MM, ground_line
from mewswright.build.pieces import Piece, moved
from mewswright.build.row import fitting_row, shell_in, starts_mm
from mewswright.model.problem import Problem
from mewswright.model.quarters import Quarters
from mewswright.model.row import Row
from mewswright.model.yard import Yard


def row_pieces(yard: Yard, row: Row, whole: Quarters) -> list[Piece]:
    """Set out every piece of a row but its fixings.

    Args:
        yard: The yard.
        row: The row.
        whole: The same as one unit, for its roof.

    Raises:
        Problem: If its units do not fit together, the ground falls along the row, or a material
            is not known.
    """
    pieces: list[Piece] = []
    units = fitting_row(yard, row)
    for i, (unit, start) in enumerate(zip(units, starts_mm(yard, row), strict=True)):
        shell = shell_in(yard, unit)
        falls_mm = ground_line(yard, shell).right_mm
        if abs(falls_mm) >= LEVEL_MM:
            raise Problem(
                f"row {row.name!r}: the ground falls {abs(falls_mm):.0f} mm along {unit.name!r}, "
                "and how the floors of a row step is not worked out: level it along the row and "
                "give ground_fall_right_mm = 0 in [quarters.frame], or leave the row out"
            )
        lent = [f"door to {join.other}" for join in shell.joins if join.lent]
        own = [p for p in unit_pieces(yard, shell, roofed=False) if p.what not in lent]
        pieces += placed(own, start, units, i)
    if whole.has_roof:
        pieces += roof_frame(shell_in(yard, whole))
    return _boards_counted(pieces, max(board_of(shell_in(yard, whole)).stock_lengths_mm))


def placed(
    pieces: Iterable[Piece], start_mm: float, units: Sequence[Quarters], i: int
) -> Iterable[Piece]:
    """Move the pieces of a unit to where they stand in the row, and name its shared wall."""
    for piece in pieces:
        place = piece.place
        if i + 1 < len(units) and (place == "right" or place.startswith("right,")):
            between = f"between {units[i].name} and {units[i + 1].name}"
            place = between + place.removeprefix("right")
        yield moved(piece, right_mm=start_mm, place=place)


def _boards_counted(pieces: list[Piece], stock_mm: float) -> list[Piece]:
    """Count the boards to buy for the whole row at once; its first board carries them."""
    boards = [i for i, piece in enumerate(pieces) if piece.kind == "board" and piece.sawn is False]
    count = bars_filled([pieces[i].length_mm for i in boards], stock_mm)
    for n, i in enumerate(boards):
        pieces[i] = replace(pieces[i], packs=count if n == 0 else 0)
    return pieces
