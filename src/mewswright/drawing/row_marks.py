"""What a row shows that a single unit does not: the walls between its units."""

from mewswright.build.parts import BuiltFrame
from mewswright.build.row import row_named, units_in
from mewswright.drawing.scene import Mark, Point, Polygon
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard


def shared_walls(yard: Yard, quarters: Quarters, frame: BuiltFrame) -> list[Mark]:
    """Draw the shared walls of a row in plan; nothing for a single unit."""
    row = row_named(yard, quarters.name)
    if row is None:
        return []
    marks: list[Mark] = []
    for unit, (left, right) in zip(units_in(yard, row), frame.between_mm, strict=False):
        assert unit.faces is not None
        face, deep = unit.faces.right, quarters.depth_mm
        marks.append(
            Polygon(
                layer="walls", pen="thin" if face.is_solid else "hair", item=f"wall:{unit.name}",
                fill="boards" if face.is_solid else "paper",
                points=((left, 0), (right, 0), (right, deep), (left, deep)),
                title=f"Shared wall right of {unit.name}: {face.infill}",
            )
        )  # fmt: skip
    return marks


def clear_edges(quarters: Quarters, frame: BuiltFrame) -> list[Point]:
    """Give where the clear width of each unit and each wall between begins and ends [mm]."""
    edges = [0.0, *(x for wall in frame.between_mm for x in wall), quarters.width_mm]
    return [(x, 0.0) for x in edges]


def row_notes(frame: BuiltFrame) -> list[str]:
    """Say where the timber of the shared walls is drawn; nothing for a single unit."""
    if not frame.between_mm:
        return []
    return [
        "A wall between two units is shared. Its framing is drawn on the sheets of the unit left "
        "of it, as that unit's right wall."
    ]
