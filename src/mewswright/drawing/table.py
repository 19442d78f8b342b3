"""A table on a drawing: ruled rows of short cells, as wide as their lettering."""

from collections.abc import Sequence

from mewswright.drawing.lettering import text_width
from mewswright.drawing.placing import Lettering
from mewswright.drawing.scene import TEXT_MM, Line, Mark, Pen, Text

LAYER = "table"
_ROW_MM = 5.0  # on paper
_AIR_MM = 2.0  # beside a cell's lettering


def table(
    letters: Lettering, left: float, top: float, head: Sequence[str],
    rows: Sequence[Sequence[str]], *, items: Sequence[str] = (),
) -> list[Mark]:  # fmt: skip
    """Write a table with its upper left corner at a place.

    Figures stand at the right of their column, words at the left.

    Args:
        letters: Lettering so far; every cell is added to it.
        left: Left edge [full-size mm].
        top: Upper edge.
        head: Words over the columns.
        rows: Cells, as many a row as there are columns.
        items: Thing that each row tells of, or nothing.

    Returns:
        Its lines and lettering; nothing for no rows.

    Raises:
        ValueError: If a row has more or fewer cells than there are columns.
    """
    if not rows:
        return []
    for row in rows:
        if len(row) != len(head):
            raise ValueError(f"a row of {len(row)} cells in a table of {len(head)} columns: {row}")
    n = letters.scale
    wide = [
        max(
            text_width(word, TEXT_MM, bold=True), *(text_width(row[i], TEXT_MM) for row in rows)
        )
        + 2 * _AIR_MM
        for i, word in enumerate(head)
    ]  # fmt: skip
    edges = [left]
    for column in wide:
        edges.append(edges[-1] + column * n)
    figures = [all(_is_figure(row[i]) for row in rows) for i in range(len(head))]
    marks: list[Mark] = []
    for k, cells in enumerate([head, *rows]):
        y = top - (k + 0.5) * _ROW_MM * n
        item = items[k - 1] if items and k > 0 else ""
        for i, cell in enumerate(cells):
            if not cell:
                continue
            at_right = figures[i]
            x = edges[i + 1] - _AIR_MM * n if at_right else edges[i] + _AIR_MM * n
            written = letters.write(
                (x, y), cell, layer=LAYER, anchor="end" if at_right else "start", bold=k == 0,
                item=item,
            )  # fmt: skip
            marks.append(written)
    for k in range(len(rows) + 2):
        y = top - k * _ROW_MM * n
        pen: Pen = "medium" if k in (0, 1, len(rows) + 1) else "hair"
        marks.append(Line(layer=LAYER, pen=pen, a=(left, y), b=(edges[-1], y)))
    return marks


def _is_figure(cell: str) -> bool:
    return cell.strip("-0123456789°.") == "" or cell == ""


def cells_of(marks: Sequence[Mark]) -> list[str]:
    """Give the lettering of a drawing's tables, in reading order."""
    return [mark.text for mark in marks if isinstance(mark, Text) and mark.layer == LAYER]
