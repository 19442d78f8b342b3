"""One wall's timber, laid down as it is nailed together: a panel with every part's mark.

Everything is measured from the panel's own left end and from the underside of its sole
plate, which lies at the finished floor.
"""

from collections.abc import Iterable, Sequence
from math import hypot

from mewswright.build.panels import WallPanel
from mewswright.build.parts import BuiltFrame, Part
from mewswright.build.solids import KNEE
from mewswright.drawing.elevation import opening_marks
from mewswright.drawing.knees import with_knees
from mewswright.drawing.lettering import text_width
from mewswright.drawing.outside import FLUSH_MM, Opening, Outside, openings_seen, outside, placed
from mewswright.drawing.panel_marks import (
    joint_marks,
    joints_u_mm,
    panel_names,
    panel_notes,
    side_panels,
)
from mewswright.drawing.paper import Paper, at_scale
from mewswright.drawing.placing import Lettering, avoid_marks
from mewswright.drawing.projection import middle
from mewswright.drawing.rows import NOTE_MM, Rows, notes_below
from mewswright.drawing.scene import TEXT_MM, Mark, Point, Scene, box_of, extent, whole
from mewswright.drawing.timber import Piece, part_title, piece_mark
from mewswright.model.fitting import Side
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard

TIMBER = ("sole", "head", "post", "stud", "nogging", "trim")


def wall_framing(
    yard: Yard, quarters: Quarters, frame: BuiltFrame, side: Side, *, scale: int | None = None,
    paper: Paper = "A3",
) -> Scene:  # fmt: skip
    """Draw the timber of one wall, seen from outside.

    Args:
        yard: The yard, for the doors.
        quarters: The unit.
        frame: Its timber.
        side: Which wall.
        scale: N of 1:N; the largest that fits on the paper, if blank.
        paper: The paper.

    Returns:
        A scene named "framing-SIDE" with items "part:MARK", "door:A|B", "hatch:NAME".

    Raises:
        Problem: For a pitch, which has no walls.
    """
    view = outside(quarters, side)
    pieces = wall_pieces(with_knees(yard, quarters, frame), view)
    tops = [z for p in pieces for _, z in p.points]
    least = (view.run_mm, max(tops, default=0))
    panels = side_panels(yard, view, frame)
    return at_scale(lambda n: _laid_out(yard, view, pieces, panels, n), scale, paper, least)


def wall_pieces(frame: BuiltFrame, view: Outside) -> list[Piece]:
    """Give the timber of one wall: what stands in its thickness, between its own ends.

    Front and back run through to the outer corners, the sides stand between them.
    """
    t = frame.wall_mm
    over = t if view.side in ("front", "back") else 0.0
    parts = [p for p in frame.parts if p.kind in TIMBER and p.section and _in_wall(p)]
    return [
        one.piece
        for one in placed(parts, frame, view)
        if one.far_mm >= -FLUSH_MM
        and one.near_mm <= t + FLUSH_MM
        and min(u for u, _ in one.piece.points) >= -over - FLUSH_MM
        and max(u for u, _ in one.piece.points) <= view.run_mm + over + FLUSH_MM
    ]


def _in_wall(part: Part) -> bool:
    return not part.what.startswith(("blocking", "stand-off", "tapered"))


def _laid_out(
    yard: Yard, view: Outside, pieces: Sequence[Piece], panels: Sequence[WallPanel], scale: int
) -> Scene:
    letters = Lettering(scale)
    openings = openings_seen(yard, view)
    marks: list[Mark] = [piece_mark(p) for p in pieces]
    marks += [m for o in openings for m in opening_marks(o)]
    marks += joint_marks(panels, view)
    rows = Rows(letters, box_of(p for m in marks for p in extent(m, scale)))
    left, right = _ends(pieces, view)
    _dimension(rows, pieces, openings, left, right, joints_u_mm(panels, view))
    rows.finish()
    avoid_marks(letters, marks + rows.marks)
    names: list[Mark] = []
    for one in openings:
        at = ((one.low[0] + one.high[0]) / 2, (one.low[1] + one.high[1]) / 2)
        names += letters.label(at, one.words, item=one.item, title=one.title, centred=True)
    names += panel_names(panels, view, letters)
    names += _marks(pieces, letters)
    box = rows.box
    sizes = view.quarters.frame
    notes = notes_below(
        letters,
        box.left,
        box.bottom,
        _notes(view, pieces, left, right) + panel_notes(panels, sizes.bay_bolt, sizes.bay_bolt_mm),
    )
    return Scene(
        name=f"framing-{view.side}",
        title=f"Framing of the {view.side} wall of {view.quarters.name}",
        description=(
            f"Timber of the {view.side} wall seen from outside, the {view.left_hand} at the left: "
            f"{whole(right - left)} mm long."
        ),
        scale=scale,
        marks=(*rows.marks, *marks, *names, *notes),
    )


def _ends(pieces: Sequence[Piece], view: Outside) -> tuple[float, float]:
    us = [u for p in pieces for u, _ in p.points]
    return min(us, default=0.0), max(us, default=view.run_mm)


def _marks(pieces: Sequence[Piece], letters: Lettering) -> list[Mark]:
    """Write every piece's mark at the piece: a panel is put together from these."""
    marks: list[Mark] = []
    for piece in pieces:
        us, zs = [u for u, _ in piece.points], [z for _, z in piece.points]
        upright = max(zs) - min(zs) > max(us) - min(us)
        # Uprights are marked below the middle, where few level pieces cross.
        at = middle(piece.points)
        if upright:
            at = (at[0], min(zs) + 0.3 * (max(zs) - min(zs)))
        marks += letters.label(
            at, piece.part.mark, item=f"part:{piece.part.mark}", title=part_title(piece.part),
            layer="part-marks", css="part-mark", gap_mm=1.2,
            prefer=(0, 180) if upright else (90, 270),
        )  # fmt: skip
    return marks


def _dimension(
    rows: Rows, pieces: Sequence[Piece], openings: Sequence[Opening], left: float, right: float,
    bolted: Sequence[float],
) -> None:  # fmt: skip
    foot = min((z for p in pieces for _, z in p.points), default=0.0)
    jambs: list[Point] = [(u, o.low[1]) for o in openings for u in (o.low[0], o.high[0])]
    rows.running("bottom", "openings, from left end", left, jambs)
    uprights = [p for p in pieces if p.part.kind in ("post", "stud")]
    whole_height = [p for p in uprights if p.part.what != "upstand stud"]
    short = [p for p in uprights if p.part.what == "upstand stud"]
    for name, run in (("upright middles", whole_height), ("upstand studs", short)):
        points: list[Point] = [(middle(p.points)[0], foot) for p in run]
        rows.running("bottom", f"{name}, from left end", left, points, witness=False)
    rows.single("bottom", (left, foot), (right, foot), prefix="panel ", title="Length of the panel")
    joints = sorted(
        {round(u, 1) for p in pieces if p.part.kind in ("sole", "head") for u, _ in p.points}
    )
    inner = [u for u in joints if left + 1 < u < right - 1]
    top = max((z for p in pieces for _, z in p.points), default=0.0)
    # Plates part where panels do: one row tells both, but for joints of plates alone.
    if all(any(abs(u - at) < 1 for at in bolted) for u in inner):
        rows.running("top", "joints of panels, from left end", left, [(u, top) for u in bolted])
    else:
        rows.running("top", "joints of plates, from left end", left, [(u, top) for u in inner])
        rows.running("top", "joints of panels, from left end", left, [(u, top) for u in bolted])
    level = [
        p for p in pieces if p.part.kind in ("sole", "nogging", "trim") and p.part.what != KNEE
    ]
    edges = [(left, z) for p in level for z in (min(q[1] for q in p.points),
                                                max(q[1] for q in p.points))]  # fmt: skip
    rows.running("left", "level timber, from underside of sole", foot, edges, witness=False)
    heights: list[Point] = [(right, z) for o in openings for z in (o.low[1], o.high[1])]
    rows.running("right", "openings, from underside of sole", foot, heights)
    for edge, u in (("left", left), ("right", right)):
        head = max((z for p in pieces for x, z in p.points if abs(x - u) < FLUSH_MM), default=top)
        rows.single(
            "left" if edge == "left" else "right", (u, foot), (u, head), prefix="panel ",
            title="Height of the panel at this end",
        )  # fmt: skip


def _notes(view: Outside, pieces: Sequence[Piece], left: float, right: float) -> list[str]:
    corners = [
        max((z for p in pieces for x, z in p.points if abs(x - u) < FLUSH_MM), default=0.0)
        for u in (left, right)
    ]
    rising, falling = (hypot(right - left, z) for z in (corners[1], corners[0]))
    square = (
        f"both diagonals {whole(rising)}"
        if whole(rising) == whole(falling)
        else f"diagonal {whole(rising)} from the left foot, {whole(falling)} from the right foot"
    )
    lines = [
        f"Seen from outside, the {view.left_hand} at the left. Square the wall, long point to "
        f"long point: {square}. Brace each panel before it is lifted."
    ]
    counted: dict[str, tuple[Part, int]] = {}
    for piece in pieces:
        part, count = counted.get(piece.part.mark, (piece.part, 0))
        counted[part.mark] = (part, count + 1)
    return lines + counted_parts(counted.values())


def counted_parts(counted: Iterable[tuple[Part, int]]) -> list[str]:
    """List parts with how many a drawing shows, several in one line; 0 leaves the number out."""
    lines: list[str] = []
    line = ""
    for part, count in counted:
        word = f"{count} × {part_title(part)}" if count else part_title(part)
        if line and text_width(f"{line}; {word}", TEXT_MM) > NOTE_MM:
            lines.append(line)
            line = ""
        line = f"{line}; {word}" if line else word
    return [*lines, line] if line else lines
