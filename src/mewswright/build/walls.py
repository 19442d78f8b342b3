"""Walls: plates, posts or studs, noggings and the trimming of openings.

A boarded wall is framed with studs, any other with posts. Each wall is a panel of its
own, whole with its end uprights, and is bolted to its neighbours at the corners.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil

from mewswright.build.openings import Opening, openings_in, overlaps
from mewswright.build.pieces import Piece
from mewswright.build.ridge import GABLE_POST, Ridge, ridge_of
from mewswright.build.shell import Wall, breadth_depth_mm
from mewswright.build.tube import stuff_of
from mewswright.model.problem import Problem
from mewswright.model.yard import Yard

BAY_MM = 1800.0  # judgement: posts of an open face at most so far apart, middle to middle
SHORTEST_NOGGING_MM = 60.0  # judgement: nearer uprights are screwed to each other
NOGGING_ROWS_MM = 1350.0  # judgement: noggings at most so far apart, and from plate to plate


@dataclass(frozen=True)
class Upright:
    """A post, stud or jamb in a wall: its middle and thickness along the wall [mm]."""

    middle_mm: float
    breadth_mm: float
    is_post: bool
    opening: str = ""  # the opening that it is a jamb of
    top_mm: float | None = None  # of a gable post, which carries the ridge beam

    @property
    def from_mm(self) -> float:
        return self.middle_mm - self.breadth_mm / 2

    @property
    def to_mm(self) -> float:
        return self.middle_mm + self.breadth_mm / 2


@dataclass(frozen=True)
class WallFrame:
    """One wall framed: its uprights in order, its openings and its pieces."""

    wall: Wall
    uprights: tuple[Upright, ...]
    openings: tuple[Opening, ...]
    pieces: tuple[Piece, ...]
    cautions: tuple[str, ...]
    joints_mm: tuple[float, ...] = ()  # where its panels are bolted to each other

    @property
    def spans(self) -> tuple[tuple[float, float], ...]:
        """Where each of its panels begins and ends [mm]."""
        start, end = self.wall.ends_mm
        return tuple(pairwise((start, *self.joints_mm, end)))

    def carried(self, from_mm: float, to_mm: float) -> Iterable[tuple[float, float]]:
        """Part a run of cladding at the joints, where it is carried on the panels [mm]."""
        cuts = self.joints_mm if self.wall.shell.quarters.frame.carry_clad else ()
        return pairwise((from_mm, *(j for j in cuts if from_mm < j < to_mm), to_mm))

    def bays(self) -> tuple[tuple[float, float], ...]:
        """Clear gaps between uprights, along the wall [mm]."""
        gaps = []
        for left, right in pairwise(self.uprights):
            if right.from_mm - left.to_mm > 1e-6:
                gaps.append((left.to_mm, right.from_mm))
        return tuple(gaps)

    @property
    def sole_cuts(self) -> tuple[Opening, ...]:
        """Openings at which the sole plate ends: what slides in would run against it."""
        return sole_cuts(self.wall, self.uprights, self.openings)

    def opening_over(self, from_mm: float, to_mm: float) -> Opening | None:
        """The opening that a bay belongs to, if any."""
        middle = (from_mm + to_mm) / 2
        for opening in self.openings:
            if opening.from_mm <= middle <= opening.to_mm:
                return opening
        return None


def evenly_mm(first: float, last: float, at_most: float, bays: int | None = None) -> list[float]:
    """Spread middles evenly from first to last, no further apart than `at_most` [mm].

    Args:
        first: First middle.
        last: Last middle.
        at_most: Greatest distance, middle to middle.
        bays: Number of bays, instead of the fewest that `at_most` allows.
    """
    count = bays if bays is not None else max(1, ceil((last - first) / at_most - 1e-9))
    return [first + (last - first) * i / count for i in range(count + 1)]


def framed(
    yard: Yard, wall: Wall, longest_sole_mm: float, longest_head_mm: float,
    joints_mm: Sequence[float] = (),
) -> WallFrame:  # fmt: skip
    """Frame one wall.

    Args:
        yard: For the doors.
        wall: The wall.
        longest_sole_mm: Longest length of sole plate to be had.
        longest_head_mm: The same of head plate. Longer plates are joined over an upright.
        joints_mm: Where it is parted into panels: each gets an end upright of its own there.
    """
    openings = openings_in(yard, wall)
    uprights = _paired(uprights_of(wall, openings), joints_mm)
    pieces: list[Piece] = []
    cautions: list[str] = []
    for from_mm, to_mm in pairwise((wall.ends_mm[0], *joints_mm, wall.ends_mm[1])):
        inside = [u for u in uprights if from_mm < u.middle_mm < to_mm]
        cuts = [(o.from_mm, o.to_mm) for o in sole_cuts(wall, uprights, openings)]
        pieces += _soles(wall, inside, longest_sole_mm, (from_mm, to_mm), cuts)
        pieces += _heads(wall, inside, longest_head_mm, (from_mm, to_mm))
    pieces += [_upright_piece(wall, upright) for upright in uprights]
    frame = WallFrame(wall, uprights, openings, (), (), tuple(joints_mm))
    if wall.face.infill == "boarded":
        pieces += _noggings(frame)
    else:
        pieces += _upstand(frame)
    for opening in openings:
        found, said = _trimming(frame, opening)
        pieces += found
        cautions += said
    cautions += overlaps(wall.side, openings)
    return WallFrame(wall, uprights, openings, tuple(pieces), tuple(cautions), tuple(joints_mm))


def _paired(uprights: tuple[Upright, ...], joints_mm: Sequence[float]) -> tuple[Upright, ...]:
    """Set two uprights side by side at each joint, in the place of one that stands there."""
    if not joints_mm:
        return uprights
    like = uprights[0]
    kept = [u for u in uprights if not any(abs(u.middle_mm - j) < 1e-6 for j in joints_mm)]
    half = like.breadth_mm / 2
    kept += [
        Upright(joint + side, like.breadth_mm, like.is_post)
        for joint in joints_mm
        for side in (-half, half)
    ]
    return tuple(sorted(kept, key=lambda upright: upright.middle_mm))


def foot_mm(wall: Wall) -> float:
    """Top of the sole plate, where uprights stand [mm]."""
    return wall.shell.size_mm("sole")[0]


def sole_cuts(
    wall: Wall, uprights: Sequence[Upright], openings: Sequence[Opening]
) -> tuple[Opening, ...]:
    """Openings of baths and hatches that reach down into the sole plate, trimmed by uprights.

    A door's is sawn out once the wall stands, for its plate keeps the panel square until then.
    """
    return tuple(
        o
        for o in openings
        if not o.is_door
        and o.sill_mm < foot_mm(wall) - 1e-6
        and any(u.to_mm <= o.from_mm + 1e-6 for u in uprights)
        and any(u.from_mm >= o.to_mm - 1e-6 for u in uprights)
    )


def uprights_of(wall: Wall, openings: Sequence[Opening]) -> tuple[Upright, ...]:
    """Give the uprights of a wall in one panel, in order."""
    frame = wall.shell.quarters.frame
    is_open = wall.face.infill != "boarded"
    section = frame.post if is_open else frame.stud
    breadth = breadth_depth_mm(section)[0]
    start, end = wall.ends_mm
    if is_open and wall.is_level:  # corner posts stand close to the clear line
        start, end = max(start, -breadth), min(end, wall.shell.width_mm + breadth)
    at_most = BAY_MM if is_open else frame.stud_spacing_mm
    count = frame.post_count - 1 if is_open and wall.side == "front" and frame.post_count else None
    middles = evenly_mm(start + breadth / 2, end - breadth / 2, at_most, count)
    ridge = None if wall.is_level else ridge_of(wall.shell)
    if ridge is not None:
        front = evenly_mm(start + breadth / 2, ridge.at_mm, at_most)
        middles = [*front[:-1], *evenly_mm(ridge.at_mm, end - breadth / 2, at_most)[1:]]
    ordinary = [Upright(middle, breadth, is_open) for middle in middles]
    if ridge is not None:
        ordinary = _with_gable_post(wall, ordinary, openings, ridge)
    jamb = breadth_depth_mm(frame.stud)[0]
    kept = [
        upright
        for i, upright in enumerate(ordinary)
        if i in (0, len(ordinary) - 1)
        or upright.top_mm is not None
        or not any(
            upright.from_mm < o.to_mm + jamb and upright.to_mm > o.from_mm - jamb for o in openings
        )
    ]
    ends = (kept[0], kept[-1])
    for opening in openings:
        for middle in (opening.from_mm - jamb / 2, opening.to_mm + jamb / 2):
            new = Upright(middle, jamb, False, opening.name)
            meets_end = new.from_mm < ends[0].to_mm or new.to_mm > ends[1].from_mm
            meets_jamb = any(
                new.from_mm < other.to_mm and new.to_mm > other.from_mm for other in kept
            )
            if not meets_end and not meets_jamb:
                kept.append(new)
    return tuple(sorted(kept, key=lambda upright: upright.middle_mm))


def _with_gable_post(
    wall: Wall, ordinary: Sequence[Upright], openings: Sequence[Opening], ridge: Ridge
) -> list[Upright]:
    """Put the post of the ridge beam among the uprights of a gable.

    Raises:
        Problem: If an opening, or the end of the wall, takes its place.
    """
    post = Upright(ridge.at_mm, wall.shell.size_mm("post")[0], True, top_mm=ridge.under_mm)
    name = wall.shell.quarters.name
    for opening in openings:
        if opening.from_mm < post.to_mm and opening.to_mm > post.from_mm:
            raise Problem(
                f"the ridge beam of {name!r} stands on a post in the {wall.side} gable, "
                f"{ridge.at_mm:.0f} mm behind the front, and the {opening.name} is in its way: "
                "move the opening, or the ridge (roof.ridge_at_mm)"
            )
    if ordinary[0].to_mm > post.from_mm or ordinary[-1].from_mm < post.to_mm:
        raise Problem(
            f"the ridge of {name!r} stands {ridge.at_mm:.0f} mm behind the front, too near the end "
            f"of the {wall.side} gable for a post of its own: move it (roof.ridge_at_mm)"
        )
    beside = [u for u in ordinary if u.to_mm <= post.from_mm or u.from_mm >= post.to_mm]
    return sorted([*beside, post], key=lambda upright: upright.middle_mm)


def _upright_piece(wall: Wall, upright: Upright) -> Piece:
    shell = wall.shell
    frame = shell.quarters.frame
    section = frame.post if upright.is_post else frame.stud
    foot = foot_mm(wall)
    if upright.top_mm is not None:
        return Piece(
            kind="post",
            what=GABLE_POST,
            place=wall.side,
            material=stuff_of(section, frame.strength_class),
            section=section,
            length_mm=upright.top_mm - foot,
            sawn=True,
            note="carries the ridge beam",
            stick=wall.upright(section, upright.middle_mm, foot, upright.top_mm),
        )
    top = max(wall.head_under_mm(upright.from_mm), wall.head_under_mm(upright.to_mm))
    cut = 0.0 if wall.is_level else shell.slope_at(upright.middle_mm).cut_deg
    return Piece(
        kind="post" if upright.is_post else "stud",
        what="jamb" if upright.opening else "post" if upright.is_post else "stud",
        place=f"{wall.side}, {upright.opening}" if upright.opening else wall.side,
        material=stuff_of(section, frame.strength_class),
        section=section,
        length_mm=top - foot,
        cut_end_deg=cut,
        sawn=True,
        note="top cut to the pitch, length to its long point" if cut else "",
        stick=wall.upright(section, upright.middle_mm, foot, wall.head_under_mm(upright.middle_mm)),
    )


def gable_gap_mm(wall: Wall) -> float:
    """Half of the gap that the ridge leaves between the raked plates of a gable [mm].

    They end at the beam where it hangs below them, else at the post under it.
    """
    ridge = ridge_of(wall.shell)
    assert ridge is not None
    post = max(wall.shell.size_mm("post")[0], ridge.breadth_mm) / 2
    lowest = wall.lowest_head_mm(ridge.at_mm - post, ridge.at_mm + post)
    return ridge.breadth_mm / 2 if ridge.under_mm <= lowest else post


def head_parts_mm(wall: Wall) -> tuple[tuple[float, float], ...]:
    """Where the head plates of a wall run, before joints: two in a gable with a ridge [mm]."""
    parts = wall.parts_mm
    if len(parts) == 1:
        return parts
    gap = gable_gap_mm(wall)
    return (parts[0][0], parts[0][1] - gap), (parts[1][0] + gap, parts[1][1])


def _soles(
    wall: Wall, uprights: Sequence[Upright], longest_mm: float, span_mm: tuple[float, float],
    cuts_mm: Sequence[tuple[float, float]],
) -> Iterable[Piece]:  # fmt: skip
    frame = wall.shell.quarters.frame
    joints = [upright.middle_mm for upright in uprights]
    for start, end in _left_of(span_mm, cuts_mm):
        for from_mm, to_mm in lengths_mm(start, end, longest_mm, joints):
            notes = [_joined(from_mm, to_mm, start, end)]
            if (from_mm, to_mm) != span_mm and (start, end) != span_mm:
                notes.append("ends at the jamb of an opening: bear and hold that end on the base")
            yield Piece(
                kind="sole",
                what="sole plate",
                place=wall.side,
                material=frame.strength_class,
                section=frame.sole,
                length_mm=to_mm - from_mm,
                sawn=True,
                note="; ".join(note for note in notes if note),
                stick=wall.level(frame.sole, from_mm, to_mm, 0),
            )


def _left_of(
    span_mm: tuple[float, float], cuts_mm: Sequence[tuple[float, float]]
) -> Iterable[tuple[float, float]]:
    """What of a run is left between cuts [mm]."""
    here, end = span_mm
    for from_mm, to_mm in sorted(cuts_mm):
        if to_mm <= here or from_mm >= end:
            continue
        if from_mm > here:
            yield here, from_mm
        here = max(here, to_mm)
    if here < end:
        yield here, end


def _heads(
    wall: Wall, uprights: Sequence[Upright], longest_head_mm: float, span_mm: tuple[float, float]
) -> Iterable[Piece]:
    start, end = span_mm
    joints = [upright.middle_mm for upright in uprights]
    for from_mm, to_mm in head_parts_mm(wall):
        low, high = max(from_mm, start), min(to_mm, end)
        if low < high:
            yield from _head_plates(wall, low, high, joints, longest_head_mm)


def _head_plates(
    wall: Wall, start: float, end: float, joints: Sequence[float], longest_mm: float
) -> Iterable[Piece]:
    shell = wall.shell
    frame = shell.quarters.frame
    thickness, depth = shell.size_mm("head")
    slope = shell.slope_at((start + end) / 2)
    # A raked plate's plumb ends set its edges off from each other; a level plate's do not.
    slant = 0 if wall.is_level else thickness * abs(slope.rise)
    per_run = 1 if wall.is_level else 1 / slope.cos_pitch
    cut = 0 if wall.is_level else slope.cut_deg
    run_mm = (longest_mm - slant) / per_run
    for from_mm, to_mm in lengths_mm(start, end, run_mm, joints):
        stick = wall.head_plate(from_mm, to_mm, wall.head_under_mm(from_mm))
        if not wall.is_level:
            half = thickness / 2 / slope.cos_pitch
            stick = stick.model_copy(
                update={
                    "start_mm": wall.at(from_mm, depth / 2, wall.head_top_mm(from_mm) - half),
                    "end_mm": wall.at(to_mm, depth / 2, wall.head_top_mm(to_mm) - half),
                }
            )
        notes = [_joined(from_mm, to_mm, start, end)]
        if frame.head_on_edge:
            notes.append("stands on edge")
        if cut:
            notes.append("plumb cuts, parallel; length long point to long point")
        yield Piece(
            kind="head",
            what="head plate" if wall.is_level else "raked head plate",
            place=wall.side,
            material=stuff_of(frame.head, frame.strength_class),
            section=frame.head,
            length_mm=(to_mm - from_mm) * per_run + slant,
            cut_start_deg=cut,
            cut_end_deg=cut,
            sawn=True,
            note="; ".join(note for note in notes if note),
            stick=stick,
        )


def _joined(from_mm: float, to_mm: float, start: float, end: float) -> str:
    if from_mm > start or to_mm < end:
        return "joined over an upright"
    return ""


def lengths_mm(
    start: float, end: float, longest: float, joints: Sequence[float]
) -> list[tuple[float, float]]:
    """Part a run into lengths that can be bought, joined at given places [mm].

    Each length reaches as far as it may. Where no joint lies within reach the length is
    left whole: it is then longer than the stock, and the cut plan says so.
    """
    parts: list[tuple[float, float]] = []
    here = start
    while end - here > longest + 1e-6:
        within = [joint for joint in joints if here < joint <= here + longest and joint < end]
        if not within:
            break
        parts.append((here, within[-1]))
        here = within[-1]
    parts.append((here, end))
    return parts


def _level_piece(
    wall: Wall, what: str, span_mm: tuple[float, float], under_mm: float, opening: str = ""
) -> Piece:
    """A nogging, rail, lintel or sill that lies flat between two uprights."""
    section = wall.shell.quarters.frame.nogging
    return Piece(
        kind="trim" if opening else "nogging",
        what=what,
        place=f"{wall.side}, {opening}" if opening else wall.side,
        material=wall.shell.quarters.frame.strength_class,
        section=section,
        length_mm=span_mm[1] - span_mm[0],
        sawn=True,
        stick=wall.level(section, *span_mm, under_mm),
    )


def _noggings(frame: WallFrame) -> Iterable[Piece]:
    wall = frame.wall
    thickness = wall.shell.size_mm("nogging")[0]
    foot = foot_mm(wall)
    start, end = wall.ends_mm
    highest = wall.highest_head_mm(start, end)
    rows = ceil((highest - foot) / NOGGING_ROWS_MM) - 1
    for row in range(1, rows + 1):
        under = foot + (highest - foot) * row / (rows + 1) - thickness / 2
        for from_mm, to_mm in frame.bays():
            if to_mm - from_mm < SHORTEST_NOGGING_MM:
                continue
            opening = frame.opening_over(from_mm, to_mm)
            if opening is not None and (
                opening.sill_mm - 2 * thickness < under < opening.top_mm + thickness
            ):
                continue
            if under + thickness > wall.lowest_head_mm(from_mm, to_mm):
                continue
            yield _level_piece(wall, "nogging", (from_mm, to_mm), under)


def _upstand(frame: WallFrame) -> Iterable[Piece]:
    """Rails of an open face: on top of its solid part, and at mid-height for long bars."""
    wall = frame.wall
    sizes = wall.shell.quarters.frame
    thickness = breadth_depth_mm(sizes.nogging)[0]
    stud = breadth_depth_mm(sizes.stud)[0]
    foot = foot_mm(wall)
    upstand = wall.face.upstand_mm
    for from_mm, to_mm in frame.bays():
        if to_mm - from_mm < SHORTEST_NOGGING_MM:
            continue
        opening = frame.opening_over(from_mm, to_mm)
        low = opening is not None and opening.is_under(upstand, thickness)
        if (opening is None or low) and upstand > foot + thickness:
            under = upstand - thickness
            yield _level_piece(wall, "upstand rail", (from_mm, to_mm), under)
            if low:
                continue  # its lintel lies there
            middles = evenly_mm(from_mm - stud / 2, to_mm + stud / 2, sizes.stud_spacing_mm)[1:-1]
            for middle in middles:
                yield Piece(
                    kind="stud",
                    what="upstand stud",
                    place=wall.side,
                    material=sizes.strength_class,
                    section=sizes.stud,
                    length_mm=under - foot,
                    sawn=True,
                    stick=wall.upright(sizes.stud, middle, foot, under),
                )
        for under in rails_mm(wall, from_mm, to_mm, opening):
            yield _level_piece(wall, "face rail", (from_mm, to_mm), under)


def infill_foot_mm(wall: Wall, opening: Opening | None) -> float:
    """Where the infill of a bay begins: on the sole, the upstand or a door's lintel [mm]."""
    plain = max(foot_mm(wall), wall.face.upstand_mm)
    if opening is None or opening.is_under(wall.face.upstand_mm, wall.shell.size_mm("nogging")[0]):
        return plain
    return opening.top_mm + wall.shell.size_mm("nogging")[0]


def rails_mm(wall: Wall, from_mm: float, to_mm: float, opening: Opening | None) -> list[float]:
    """Undersides of the rails that hold the infill of a bay between its ends [mm]."""
    if wall.face.infill not in ("barred", "meshed", "slatted"):
        return []
    thickness = wall.shell.size_mm("nogging")[0]
    low = infill_foot_mm(wall, opening)
    high = wall.lowest_head_mm(from_mm, to_mm)
    rows = ceil((high - low) / NOGGING_ROWS_MM) - 1
    return [low + (high - low) * row / (rows + 1) - thickness / 2 for row in range(1, rows + 1)]


def _trimming(frame: WallFrame, opening: Opening) -> tuple[list[Piece], list[str]]:
    wall = frame.wall
    sizes = wall.shell.quarters.frame
    thickness = breadth_depth_mm(sizes.nogging)[0]
    foot = foot_mm(wall)
    start, end = wall.ends_mm
    under = wall.lowest_head_mm(opening.from_mm, opening.to_mm)
    if opening.from_mm < max(start, 0) or opening.to_mm > (
        wall.shell.width_mm if wall.is_level else end
    ):
        return [], [f"{opening.name}: it reaches past the {wall.side} face; move or narrow it"]
    pieces = []
    said = []
    left = [u.to_mm for u in frame.uprights if u.to_mm <= opening.from_mm + 1e-6]
    right = [u.from_mm for u in frame.uprights if u.from_mm >= opening.to_mm - 1e-6]
    if not left or not right:
        return [], [f"{opening.name}: a corner of the {wall.side} face is in its way; move it"]
    from_mm, to_mm = max(left), min(right)
    if opening.top_mm > under + 1e-6:
        said.append(
            f"{opening.name}: its top is {opening.top_mm:.0f} mm up and the head plate of the "
            f"{wall.side} face leaves {under:.0f} mm; make it {opening.top_mm - under:.0f} mm lower"
        )
    elif opening.top_mm + thickness <= under:
        pieces.append(_level_piece(wall, "lintel", (from_mm, to_mm), opening.top_mm, opening.name))
    else:
        said.append(f"{opening.name}: the head plate of the {wall.side} face serves as its lintel")
    if opening.sill_mm >= foot + thickness:
        sill = opening.sill_mm - thickness
        pieces.append(_level_piece(wall, "sill", (from_mm, to_mm), sill, opening.name))
    elif opening in frame.sole_cuts:
        said.append(
            f"{opening.name}: the sole plate ends at its jambs; both ends are borne by the base "
            "and held down to it"
        )
    elif opening.sill_mm < foot:
        said.append(
            f"{opening.name}: saw the sole plate out between its jambs once the wall stands"
        )
    if wall.face.infill != "boarded" and opening.sill_mm > wall.face.upstand_mm + thickness:
        said.append(
            f"{opening.name}: the {wall.side} face is boarded from its sole plate or upstand up to "
            "the sill"
        )
    return pieces, said
