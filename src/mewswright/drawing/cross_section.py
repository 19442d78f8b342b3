"""The cross section of one unit: cut from left to right, looking to the back."""

from collections.abc import Sequence

from mewswright.build.clear_height import clear_height_mm
from mewswright.build.parts import BuiltFrame, Part
from mewswright.build.solids import solids_of
from mewswright.drawing.fitting_marks import fitting_title, item_of
from mewswright.drawing.front import Span
from mewswright.drawing.paper import Paper, at_scale
from mewswright.drawing.placing import Lettering, avoid_marks
from mewswright.drawing.projection import cut, hull, middle, reach, seen
from mewswright.drawing.rows import Rows, notes_below
from mewswright.drawing.scene import Mark, Point, Polygon, Scene, box_of, extent, whole
from mewswright.drawing.section_fittings import headroom, section_marks, section_spot
from mewswright.drawing.section_room import clear_cut_mm, doors_in, floor_marks
from mewswright.drawing.slab_rim import rim_in_section
from mewswright.drawing.timber import Piece, distinct, part_marks, piece_mark
from mewswright.model.fitting import Hatch
from mewswright.model.problem import Problem
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard

_FURNISHING = ("perch", "bath", "hatch", "door", "membrane", "substrate", "fixing")
_STANDING = ("sole", "head", "post", "stud", "nogging", "trim")
_UNMARKED = ("bar", "mesh", "net", "board")


def cross_section(
    yard: Yard, quarters: Quarters, frame: BuiltFrame | None, *, scale: int | None = None,
    paper: Paper = "A3",
) -> Scene:  # fmt: skip
    """Draw a unit cut from left to right, left at the left, looking to the back.

    Timber that the plane cuts is dark; the back wall stands behind it. All perches are
    shown, wherever they are between front and back.

    Args:
        yard: The yard, for the doors.
        quarters: The unit.
        frame: Its timber; None draws the room alone.
        scale: N of 1:N; the largest that fits on the paper, if blank.
        paper: The paper.

    Returns:
        A scene named "cross" with items "part:MARK", "perch:NAME", "bath:NAME",
        "hatch:NAME", "door:A|B".

    Raises:
        Problem: For a pitch, which has no height to cut through.
    """
    if quarters.front_height_mm is None or quarters.back_height_mm is None:
        raise Problem(f"{quarters.name!r} is a pitch and has no height: draw its plan alone")
    at = cut_behind_front_mm(quarters, frame)
    least = (quarters.width_mm, clear_height_mm(quarters, at))
    return at_scale(lambda n: _laid_out(yard, quarters, frame, at, n), scale, paper, least)


def cut_behind_front_mm(quarters: Quarters, frame: BuiltFrame | None) -> float:
    """Give where the section is cut [mm behind the clear front].

    The middle, or the nearest place to it where the plane does not run lengthwise through
    a stud, a batten or another piece of timber.
    """
    if frame is None:
        return quarters.depth_mm / 2
    blocked = [
        reach(solid.places_mm, 1)
        for part in frame.parts
        if part.sticks and part.kind not in ("perch", "bar")
        for stick, solid in zip(part.sticks, solids_of(part, frame), strict=False)
        if abs(stick.end_mm[1] - stick.start_mm[1]) < 1
    ]
    return clear_cut_mm(quarters.depth_mm, blocked)


def _laid_out(
    yard: Yard, quarters: Quarters, frame: BuiltFrame | None, at: float, scale: int
) -> Scene:
    letters = Lettering(scale, boxed=True)
    behind, through = _pieces(frame, at)
    room = _room(quarters, at)
    marks: list[Mark] = [piece_mark(p, layer="behind", pen="hair") for p in behind]
    marks += [piece_mark(p, cut=True) for p in through]
    marks += rim_in_section(quarters, frame, "front")
    openings = doors_in(yard, quarters, "back")
    marks += [mark for mark, _ in openings]
    for fitting in quarters.fitting:
        marks += section_marks(fitting, quarters, frame, scale, "front")
    rows = Rows(letters, box_of(p for m in room + marks for p in extent(m, scale)))
    _dimension(rows, quarters, frame, at, behind, through, [span for _, span in openings])
    rows.finish()

    lines = [m for m in [*room, *marks] if m.layer in ("fittings", "timber", "room")]
    avoid_marks(letters, lines + rows.marks)
    names = headroom(quarters, letters, "front")
    for fitting in quarters.fitting:
        if isinstance(fitting, Hatch) and fitting.face == "front":
            continue
        title = fitting_title(fitting)
        names += letters.label(
            section_spot(fitting, quarters, "front"), title, item=item_of(fitting), title=title,
            gap_mm=2.5, prefer=(90, 0, 180),
        )  # fmt: skip
    names += part_marks([p for p in [*through, *behind] if p.part.kind not in _UNMARKED], letters)
    notes = notes_below(letters, rows.box.left, rows.box.bottom, _notes(at))
    return Scene(
        name="cross",
        title=f"Cross section of {quarters.name}",
        description=(
            f"Cut left to right {whole(at)} mm behind the clear front, looking to the back: "
            f"{whole(quarters.width_mm)} mm clear wide, "
            f"{whole(clear_height_mm(quarters, at))} mm clear high there."
        ),
        scale=scale,
        marks=(*room, *rows.marks, *marks, *names, *notes),
    )


def _notes(at: float) -> list[str]:
    return [
        f"Cut {whole(at)} behind the clear front, looking to the back. Heights are from the "
        "finished floor; a perch's height is its top.",
        "Perches are shown wherever they stand between front and back; the figure over each is "
        "its clear height up to the rafters, or to a ridge beam that hangs lower.",
    ]


def _pieces(frame: BuiltFrame | None, at: float) -> tuple[list[Piece], list[Piece]]:
    """Give the timber of the back wall, far pieces first, and what the plane cuts."""
    if frame is None:
        return [], []
    behind: list[Piece] = []
    through: list[Piece] = []
    for part in frame.parts:
        if part.kind in _FURNISHING:
            continue
        for solid in solids_of(part, frame):
            places = solid.places_mm
            points = cut(places, "front", at)
            if points:
                through.append(Piece(part, places, points))
            elif reach(places, 1)[0] >= at and _stands(part):
                behind.append(Piece(part, places, hull(seen(p, "front") for p in places)))
    behind.sort(key=lambda p: -reach(p.corners, 1)[0])
    return distinct(behind), through


def _stands(part: Part) -> bool:
    """Say whether a part belongs to a wall that is looked at: not to the roof or its edge."""
    return part.kind in _STANDING and not part.what.startswith(("blocking", "tapered"))


def _room(quarters: Quarters, at: float) -> list[Mark]:
    w, ceiling = quarters.width_mm, clear_height_mm(quarters, at)
    face = quarters.faces.back if quarters.faces is not None else None
    back = min(ceiling, quarters.ceiling_mm(quarters.depth_mm))
    marks: list[Mark] = [
        Polygon(
            layer="room", pen="hair", points=((0, 0), (w, 0), (w, back), (0, back)),
            item="face:back", fill="boards" if face is not None and face.is_solid else "paper",
            title=f"Back face: {face.infill}" if face is not None else "",
        ),
        Polygon(
            layer="room", pen="hair", points=((0, 0), (w, 0), (w, ceiling), (0, ceiling)),
            item="room:all", title="Clear inside where it is cut",
        ),
    ]  # fmt: skip
    marks += floor_marks(w, quarters)
    return marks


def _dimension(
    rows: Rows, quarters: Quarters, frame: BuiltFrame | None, at: float,
    behind: Sequence[Piece], through: Sequence[Piece], openings: Sequence[Span],
) -> None:  # fmt: skip
    w, ceiling = quarters.width_mm, clear_height_mm(quarters, at)
    inside = [f for f in quarters.fitting if not isinstance(f, Hatch)]
    spots = [section_spot(f, quarters, "front") for f in inside]
    items, titles = [item_of(f) for f in inside], [fitting_title(f) for f in inside]
    rows.running("bottom", "fittings, from left", 0, spots, items=items, titles=titles)
    jambs: list[Point] = [(p[0], low[1]) for low, high in openings for p in (low, high)]
    rows.running("bottom", "door, from left", 0, jambs)
    rows.running("right", "fittings, from floor", 0, spots, items=items, titles=titles)
    heights: list[Point] = [(low[0], z[1]) for low, high in openings for z in (low, high)]
    for f in quarters.hatches:
        if f.face != "front":
            u = section_spot(f, quarters, "front")[0]
            heights += [(u, f.sill_mm), (u, f.sill_mm + f.height_mm)]
    rows.running("right", "openings, from floor", 0, heights)
    rows.single("left", (0, 0), (0, ceiling), prefix="clear ", title="Clear height where it is cut")
    deep = quarters.floor.depth_mm
    if deep > 0:
        rows.single("right", (w, -deep), (w, 0), item="floor:all", title="Depth of the substrate")
    rows.single("bottom", (0, 0), (w, 0), prefix="clear ", title="Clear width")
    if frame is None:
        return
    t = frame.wall_mm
    studs = [p for p in behind if p.part.kind in ("stud", "post")]
    rows.running(
        "top", "back wall timber, from outer left", -t, [middle(p.points) for p in studs],
        witness=False,
    )  # fmt: skip
    rafters = [p for p in through if p.part.kind == "rafter"]
    rows.running(
        "top", "rafters, from outer left", -t, [middle(p.points) for p in rafters], witness=False
    )
    rows.single("bottom", (-t, 0), (w + t, 0), prefix="outer ", title="Outer width of the frame")
    tops = [reach(p.corners, 2)[1] for p in behind if p.part.kind == "head"]
    highest = [max(v for _, v in p.points) for p in through]
    levels = [*tops, *([max(highest)] if highest else [])]
    rows.running("left", "plate and roof, from floor", 0, [(-t, z) for z in levels], witness=False)
