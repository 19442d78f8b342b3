"""Bars of a face under a sloping roof: each is cut to its own length and has its own mark.

So many marks would cover the face: they are listed under the drawing in their order.
"""

from collections.abc import Sequence
from itertools import groupby

from mewswright.drawing.placing import Lettering
from mewswright.drawing.projection import middle
from mewswright.drawing.scene import Mark, whole
from mewswright.drawing.timber import Piece

_MOST = 4  # marks of bars that are written at the bars
_LISTED = 150  # bars that are listed; more are left to the take-off


def crowded_bars(pieces: Sequence[Piece]) -> list[Piece]:
    """Give the bars of a drawing from left to right, or none where a few marks tell them all."""
    bars = [piece for piece in pieces if piece.part.kind == "bar"]
    if len({piece.part.mark for piece in bars}) <= _MOST:
        return []
    return sorted(bars, key=lambda piece: middle(piece.points))


def bars_label(bars: Sequence[Piece], letters: Lettering) -> list[Mark]:
    """Write the first and the last mark of crowded bars at the middle one; nothing for none."""
    if not bars:
        return []
    first, last = bars[0].part, bars[-1].part
    return letters.label(
        middle(bars[len(bars) // 2].points), f"{first.mark} to {last.mark}, listed below",
        item=f"part:{first.mark}", title="Bars, each to its own length", layer="part-marks",
        css="part-mark", gap_mm=2.0,
    )  # fmt: skip


def bars_notes(bars: Sequence[Piece]) -> list[str]:
    """List crowded bars with their lengths from the left of the drawing; nothing for none."""
    if not bars:
        return []
    if len(bars) > _LISTED:
        shortest, longest = (pick(p.part.length_mm for p in bars) for pick in (min, max))
        return [
            f"{len(bars)} bars of {whole(shortest)} to {whole(longest)}: their marks and lengths "
            "are in the take-off."
        ]
    told = []
    for _, run in groupby(bars, key=lambda piece: piece.part.mark):
        same = list(run)
        part, count = same[0].part, len(same)
        told.append(f"{f'{count} × ' if count > 1 else ''}{part.mark} {whole(part.length_mm)}")
    return [f"Bars from the left, mark and length: {', '.join(told)}."]
