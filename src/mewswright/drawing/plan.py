"""The plan of one unit: cut level through walls and doors, front at the bottom.

Fittings and openings are measured from the clear inside faces, timber from the outer
front left corner: that is where a tape is hooked for each.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot

from mewswright.build.parts import BuiltFrame, Part, Stick
from mewswright.drawing.corridor_marks import (
    corridor_notes,
    corridor_plan_rows,
    corridor_walls,
    in_corridor,
)
from mewswright.drawing.fitting_marks import (
    fitting_title,
    hatch_spot,
    item_of,
    plan_marks,
    top_mm,
)
from mewswright.drawing.openings import (
    along,
    door_marks,
    door_middle_mm,
    door_title,
    doors_of,
    item_of_door,
    opening_points,
)
from mewswright.drawing.panel_marks import plan_joints
from mewswright.drawing.paper import Paper, at_scale
from mewswright.drawing.placing import Lettering, avoid_marks
from mewswright.drawing.projection import cut, middle, stick_corners
from mewswright.drawing.row_marks import clear_edges, row_notes, shared_walls
from mewswright.drawing.rows import EDGE_OF_FACE, Rows, notes_below
from mewswright.drawing.scene import (
    Circle,
    Line,
    Mark,
    Point,
    Polygon,
    Scene,
    box_of,
    extent,
    whole,
)
from mewswright.model.fitting import Hatch, Side
from mewswright.model.quarters import SIDES, Quarters
from mewswright.model.yard import Yard


@dataclass(frozen=True, slots=True)
class FreeCircle:
    """The ground that a tethered bird needs free around its perch [mm]."""

    at_mm: Point
    radius_mm: float
    bird: str


def quarters_plan(
    yard: Yard, quarters: Quarters, frame: BuiltFrame | None, circles: Sequence[FreeCircle] = (),
    *, scale: int | None = None, paper: Paper = "A3",
) -> Scene:  # fmt: skip
    """Draw a unit from above.

    Args:
        yard: The yard, for the doors.
        quarters: The unit.
        frame: Its timber; None for a pitch, or for one that cannot be framed.
        circles: Free circles of tethered birds.
        scale: N of 1:N; the largest that fits on the paper, if blank.
        paper: The paper.

    Returns:
        A scene with items "part:MARK", "perch:NAME", "bath:NAME", "hatch:NAME",
        "door:A|B", "face:SIDE".
    """
    least = (quarters.width_mm, quarters.depth_mm)
    return at_scale(lambda n: _laid_out(yard, quarters, frame, circles, n), scale, paper, least)


def _laid_out(
    yard: Yard, quarters: Quarters, frame: BuiltFrame | None, circles: Sequence[FreeCircle],
    scale: int,
) -> Scene:  # fmt: skip
    w, d = quarters.width_mm, quarters.depth_mm
    wall = frame.wall_mm if frame is not None else 0.0
    letters = Lettering(scale)
    floor = _floor(quarters)
    marks: list[Mark] = []
    marks += wall_marks(quarters, wall)
    if frame is not None:
        marks += shared_walls(yard, quarters, frame)
        marks += corridor_walls(yard, quarters, frame)
    sticks = _cut_sticks(frame, cut_height_mm(quarters))
    marks += [mark for _, _, mark in sticks]
    marks += _bars(frame, cut_height_mm(quarters))
    marks += [m for door in doors_of(yard, quarters) for m in door_marks(door, quarters, wall)]
    # From the floor up: a perch over a bath hides it.
    for fitting in sorted(quarters.fitting, key=top_mm):
        marks += plan_marks(fitting, quarters, scale)
    for circle in circles:
        marks += free_circle_marks(circle, letters)
    marks += _roof_edge(quarters, frame, wall)

    rows = Rows(letters, box_of(p for m in floor + marks for p in extent(m, scale)))
    _dimension(rows, yard, quarters, frame, sticks)
    rows.finish()

    bars = [p for m in marks if m.layer == "bars" for p in extent(m, scale)]
    if bars:
        letters.keep_clear(bars)
    avoid_marks(
        letters,
        rows.marks + [m for m in marks if m.layer in ("fittings", "timber", "walls", "roof")],
    )
    names: list[Mark] = []
    joints, panel_marks = plan_joints(yard, quarters, frame, letters)
    marks += joints
    names += panel_marks
    for fitting in quarters.fitting:
        target = hatch_spot(fitting, quarters) if isinstance(fitting, Hatch) else fitting.at_mm
        names += letters.label(
            target, fitting_title(fitting), item=item_of(fitting), title=fitting_title(fitting),
            gap_mm=3.0, prefer=(90, 270),
        )  # fmt: skip
    for door in doors_of(yard, quarters):
        if door.face is not None and door.at_mm is not None:
            title = door_title(door, quarters)
            target = along(door.face, quarters, door.at_mm, door_middle_mm(door, quarters, wall))
            names += letters.label(
                target, title.partition(",")[0], item=item_of_door(door), title=title, centred=True
            )
    names += _part_marks(sticks, letters, quarters)
    box = rows.box
    notes = notes_below(letters, box.left, box.bottom, plan_notes(yard, quarters, frame))
    return Scene(
        name="plan",
        title=f"Plan of {quarters.name}",
        description=(
            f"Cut {whole(cut_height_mm(quarters))} mm above the floor, front at the bottom: "
            f"{whole(w)} by {whole(d)} mm clear inside."
        ),
        scale=scale,
        marks=tuple(floor + rows.marks + marks + names + notes),
        north_deg=(180 - quarters.facing_deg) % 360,
    )


def cut_height_mm(quarters: Quarters) -> float:
    """Give the height above the floor at which the plan is cut [mm].

    Through the middle of a door, but above a solid upstand where there is room.
    """
    if quarters.front_height_mm is None or quarters.back_height_mm is None:
        return 1000.0
    lowest = min(quarters.front_height_mm, quarters.back_height_mm)
    return min(1050.0, lowest / 2)


def plan_notes(yard: Yard, quarters: Quarters, frame: BuiltFrame | None) -> list[str]:
    """Give the sentences under the plan."""
    edges = "left and front edge" if quarters.kind == "pitch" else "clear inside faces"
    area_m2 = quarters.floor_area_m2
    if frame is not None:
        area_m2 -= sum(b - a for a, b in frame.between_mm) * quarters.depth_mm / 1e6
    lines = [
        f"{area_m2:.2f} m² of floor, clear inside. Front looks towards "
        f"{quarters.facing_deg:g}°. Fittings and openings are measured from the {edges}, "
        "to their middles or jambs."
    ]
    if frame is not None:
        diagonal = hypot(frame.outer_width_mm, frame.outer_depth_mm)
        lines.append(
            f"Timber is measured from the outer left and outer front face, to its middle. "
            f"Setting out: both diagonals of the outer frame {whole(diagonal)}."
        )
    elif quarters.kind != "pitch":
        lines.append("No frame has been worked out for this unit: walls are shown by one line.")
    if frame is not None:
        lines += row_notes(frame)
        lines += corridor_notes(yard, quarters)
    unplaced = [
        door for door in doors_of(yard, quarters) if door.face is None or door.at_mm is None
    ]
    for door in unplaced:
        other = door.between[0] if door.between[1] == quarters.name else door.between[1]
        lines.append(
            f"Door to {other}, {whole(door.width_mm)} × {whole(door.height_mm)}: the yard file "
            "does not say where it is (face, at_mm), so it is not drawn."
        )
    return lines


def _floor(quarters: Quarters) -> list[Mark]:
    w, d = quarters.width_mm, quarters.depth_mm
    return [
        Polygon(
            layer="floor", pen="hair", points=((0, 0), (w, 0), (w, d), (0, d)), item="floor:all",
            fill="paper", dash="dashed" if quarters.kind == "pitch" else "solid",
            title=f"Floor: {quarters.floor.substrate}, {quarters.floor.depth_mm:.0f} mm deep",
        )
    ]  # fmt: skip


def wall_strips(quarters: Quarters, wall: float) -> dict[Side, tuple[Point, ...]]:
    """Give the ground that each wall covers, corners counted to front and back."""
    w, d = quarters.width_mm, quarters.depth_mm
    return {
        "front": ((-wall, -wall), (w + wall, -wall), (w + wall, 0), (-wall, 0)),
        "back": ((-wall, d), (w + wall, d), (w + wall, d + wall), (-wall, d + wall)),
        "left": ((-wall, 0), (0, 0), (0, d), (-wall, d)),
        "right": ((w, 0), (w + wall, 0), (w + wall, d), (w, d)),
    }


def wall_marks(quarters: Quarters, wall: float) -> list[Mark]:
    """Draw the ground that the four walls cover, and their outer skins."""
    if quarters.faces is None:
        return []
    w, d = quarters.width_mm, quarters.depth_mm
    inner = {
        "front": ((0.0, 0.0), (w, 0.0)), "back": ((0.0, d), (w, d)),
        "left": ((0.0, 0.0), (0.0, d)), "right": ((w, 0.0), (w, d)),
    }  # fmt: skip
    out = {"front": (0, -1), "back": (0, 1), "left": (-1, 0), "right": (1, 0)}
    marks: list[Mark] = []
    for side in SIDES:
        face = quarters.faces.side(side)
        item = f"face:{side}"
        gap = f", gap {face.gap_mm:g} mm" if face.gap_mm is not None else ""
        title = f"{side.capitalize()} face: {face.infill}{gap}"
        if wall > 0:
            marks.append(
                Polygon(
                    layer="walls", points=wall_strips(quarters, wall)[side], item=item,
                    title=title, fill="boards" if face.is_solid else "paper",
                    pen="thin" if face.is_solid else "hair",
                    dash="solid" if face.infill != "open" else "dashed",
                )
            )  # fmt: skip
        else:
            a, b = inner[side]
            marks.append(
                Line(
                    layer="walls", pen="heavy" if face.is_solid else "thin", a=a, b=b, item=item,
                    title=title, dash="solid" if face.is_solid else "dashed",
                )
            )  # fmt: skip
        if face.outer is not None:
            a, b = inner[side]
            off = wall + face.outer.stand_off_mm
            (ox, oy) = out[side]
            shift = (ox * off, oy * off)
            marks.append(
                Line(
                    layer="walls", pen="thin", dash="dotted", item=item,
                    a=(a[0] + shift[0], a[1] + shift[1]), b=(b[0] + shift[0], b[1] + shift[1]),
                    title=f"Outer skin: {face.outer.infill}",
                )
            )  # fmt: skip
    return marks


def _cut_sticks(frame: BuiltFrame | None, at: float) -> list[tuple[Part, Stick, Polygon]]:
    """Give the upright timber that the plane cuts."""
    if frame is None:
        return []
    found: list[tuple[Part, Stick, Polygon]] = []
    for part in frame.parts:
        if part.kind not in ("post", "stud", "trim", "door"):
            continue
        for stick in part.sticks:
            points = cut(stick_corners(stick), "plan", at)
            if points and abs(stick.end_mm[2] - stick.start_mm[2]) > stick.depth_mm:
                mark = Polygon(
                    layer="timber", pen="medium", points=points, fill="cut",
                    item=f"part:{part.mark}", title=f"{part.mark} {part.what}, {part.section}",
                )  # fmt: skip
                found.append((part, stick, mark))
    return found


def _bars(frame: BuiltFrame | None, at: float) -> list[Mark]:
    if frame is None:
        return []
    return [
        Polygon(
            layer="bars", pen="hair", points=points, fill="ink", item=f"part:{part.mark}",
            title=f"{part.mark} {part.what}",
        )
        for part in frame.parts
        if part.kind == "bar"
        for stick in part.sticks
        if (points := cut(stick_corners(stick), "plan", at))
    ]  # fmt: skip


def free_circle_marks(circle: FreeCircle, letters: Lettering) -> list[Mark]:
    """Draw the free circle of a tethered bird, with its radius."""
    item = f"circle:{circle.bird}"
    title = f"Free circle of {circle.bird}: radius {whole(circle.radius_mm)} mm"
    slant = circle.radius_mm / 2**0.5
    rim = (circle.at_mm[0] + slant, circle.at_mm[1] - slant)
    return [
        Circle(
            layer="circles", dash="dashed", centre=circle.at_mm, radius=circle.radius_mm,
            item=item, title=title,
        ),
        *letters.label(
            rim, f"free circle of {circle.bird}, radius {whole(circle.radius_mm)}", item=item,
            title=title, prefer=(315, 225),
        ),
    ]  # fmt: skip


def _roof_edge(quarters: Quarters, frame: BuiltFrame | None, wall: float) -> list[Mark]:
    roof = quarters.roof
    if frame is None or roof is None or roof.form == "none":
        return []
    front, back = frame.roof_front_edge_mm[1], frame.roof_back_edge_mm[1]
    left = -wall - roof.overhang_side_mm
    right = quarters.width_mm + wall + roof.overhang_side_mm
    return [
        Polygon(
            layer="roof", pen="thin", dash="dashed", item="roof:all", title="Edge of the roof",
            points=((left, front), (right, front), (right, back), (left, back)),
        )
    ]  # fmt: skip


def _side_of(stick: Stick, quarters: Quarters) -> Side | None:
    """Say which wall an upright stands in; corners count to front and back."""
    x, y = stick.start_mm[:2]
    if y < 0:
        return "front"
    if y > quarters.depth_mm:
        return "back"
    if x < 0:
        return "left"
    return "right" if x > quarters.width_mm else None


def _dimension(
    rows: Rows, yard: Yard, quarters: Quarters, frame: BuiltFrame | None,
    sticks: Sequence[tuple[Part, Stick, Polygon]],
) -> None:  # fmt: skip
    w, d = quarters.width_mm, quarters.depth_mm
    placed = [f for f in quarters.fitting if not isinstance(f, Hatch)]
    spots = [f.at_mm for f in placed]
    items, titles = [item_of(f) for f in placed], [fitting_title(f) for f in placed]
    rows.running("bottom", "fittings, from left", 0, spots, items=items, titles=titles)
    rows.running("left", "fittings, from front", 0, spots, items=items, titles=titles)
    for side in SIDES:
        edge = EDGE_OF_FACE[side]
        what = "openings, from left" if side in ("front", "back") else "openings, from front"
        rows.running(edge, what, 0, opening_points(yard, quarters, side))
        inside = [
            (s, p)
            for _, s, p in sticks
            if _side_of(s, quarters) == side and not in_corridor(frame, s.start_mm[:2])
        ]
        if frame is not None and inside:
            what = "timber, from outer left" if side in ("front", "back") else "timber, outer front"
            points = [middle(p.points) for _, p in inside]
            rows.running(edge, what, -frame.wall_mm, points, witness=False)
    corridor_plan_rows(rows, yard, quarters)
    if frame is not None and frame.between_mm:
        rows.parts("bottom", clear_edges(quarters, frame), whole="clear ",
                   title="Clear widths and shared walls")  # fmt: skip
    else:
        rows.single(
            "bottom", (0, 0), (w, 0), prefix="clear ", item="floor:all", title="Clear width"
        )
    rows.single("left", (0, 0), (0, d), prefix="clear ", item="floor:all", title="Clear depth")
    if frame is not None:
        wall = frame.wall_mm
        x0, x1 = (w - frame.outer_width_mm) / 2, (w + frame.outer_width_mm) / 2
        y0, y1 = -wall, frame.outer_depth_mm - wall
        rows.single("bottom", (x0, y0), (x1, y0), prefix="outer ", title="Outer width of the frame")
        rows.single("left", (x0, y0), (x0, y1), prefix="outer ", title="Outer depth of the frame")


def _part_marks(
    sticks: Sequence[tuple[Part, Stick, Polygon]], letters: Lettering, quarters: Quarters
) -> list[Mark]:
    """Write the mark of each part once a wall, at the piece in the middle of its run."""
    runs: dict[tuple[str, Side | None], list[tuple[Part, Polygon]]] = {}
    for part, stick, mark in sticks:
        runs.setdefault((part.mark, _side_of(stick, quarters)), []).append((part, mark))
    marks: list[Mark] = []
    for (name, _), run in runs.items():
        part, mark = run[len(run) // 2]
        text = name if len(run) == 1 else f"{name} × {len(run)}"
        marks += letters.label(
            middle(mark.points), text, item=f"part:{name}", gap_mm=2.5, layer="part-marks",
            title=f"{name} {part.what}, {part.section}", css="part-mark",
        )  # fmt: skip
    return marks
