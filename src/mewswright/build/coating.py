"""Paint by coats: what of a unit is brushed, how many square metres, and how many litres.

Brushed are the outside of boards, and all round the timber that stands open to the weather:
posts, rails and battens of open faces, slats, roof battens. What is hidden in a wall, sheets,
plastic and steel are not.
"""

from collections.abc import Iterable, Sequence

from mewswright.build.materials import known_material
from mewswright.build.parts import Part
from mewswright.build.pieces import Piece
from mewswright.build.shell import breadth_depth_mm
from mewswright.build.tube import tube_of
from mewswright.handbook.coatings import coating
from mewswright.model.problem import Problem
from mewswright.model.quarters import Frame

NO_COAT = "none"
OPEN_TIMBER = ("post", "batten")  # kinds that stand open wherever they stand
OPEN_RAILS = ("face rail", "upstand rail")


def boards_m2(parts: Iterable[Part]) -> float:
    """Outside area of boarded walls and upstands [m2]: length times what a board covers."""
    found = 0.0
    for part in parts:
        row = known_material(part.material)
        if part.kind == "board" and part.unit == "m" and row is not None:
            found += part.amount * (row.cover_width_mm or part.width_mm) / 1000
    return found


def open_timber_m2(parts: Iterable[Part]) -> float:
    """Area of timber that stands open, all four sides of it [m2]; the ends are left out."""
    found = 0.0
    for part in parts:
        if (
            part.sawn
            and tube_of(part.section) is None
            and (part.kind in OPEN_TIMBER or part.what in OPEN_RAILS)
        ):
            breadth, depth = breadth_depth_mm(part.section)
            found += 2 * (breadth + depth) * part.length_mm * part.count / 1e6
    return found


def coats_of(parts: Sequence[Part], frame: Frame, quarters: str) -> Iterable[Piece]:
    """The coats of a unit, one line; nothing where none is wanted or nothing takes it.

    Args:
        parts: The unit's parts.
        frame: Its `coating` and `coats`.
        quarters: Name of the unit, for the sentence that refuses.

    Raises:
        Problem: If the handbook does not say how far a litre of it goes.
    """
    if frame.coating == NO_COAT:
        return
    try:
        paint = coating(frame.coating)
    except Problem as problem:
        raise Problem(f"coating of {quarters!r}: {problem}") from problem
    boards, timber = boards_m2(parts), open_timber_m2(parts)
    area = boards + timber
    if area <= 0:
        return
    row = known_material(frame.coating)
    yield Piece(
        kind="finish",
        what=f"{row.name if row else frame.coating}, {frame.coats} coats",
        place="boards outside and open timber all round, before they are fixed",
        material=frame.coating,
        amount=area * frame.coats / paint.middle_m2_l,
        unit="l",
        note=(
            f"{boards:.1f} m2 of boards and {timber:.1f} m2 of timber at {paint.middle_m2_l:g} m2 "
            f"a litre; let it dry wholly before a bird comes in"
        ),
    )
