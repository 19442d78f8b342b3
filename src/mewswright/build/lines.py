"""The lines of force of a unit: its rafters, plates and uprights as beams and columns.

Read off the pieces as they were set out, so that what is analysed is what is built.
Metres; x along the front, y to the back.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import atan2, degrees, hypot
from typing import Literal

from mewswright.build.parts import BuiltFrame, Part, Stick
from mewswright.build.rafters import LEDGER
from mewswright.build.ridge import INNER_POST
from mewswright.build.shell import breadth_depth_mm, seat_mm
from mewswright.build.tube import tube_of
from mewswright.model.fitting import Side
from mewswright.model.quantity import m_from_mm

Support = Side | Literal["ridge"]  # a wall's head plate, or the ridge beam
Stand = Side | Literal["inside"]  # the wall that an upright stands in, or none
NEAR_M = 0.02  # pieces so near a wall's line belong to it
END_M = 0.001  # an upright on the end of a plate holds it; the one beside it holds the next panel


@dataclass(frozen=True)
class RafterLine:
    """All rafters of one mark: the developed line and where its two plates hold it [m].

    `spacing_m` is the widest distance between neighbours, `at_m` where each stands along
    the front. `run_m` is the level distance between the supports, `seat_mm` the level seat
    of a birdsmouth, 0 where the rafter is not notched.
    """

    mark: str
    section: str
    strength_class: str
    length_m: float
    supports_m: tuple[float, float]
    run_m: float
    pitch_deg: float
    spacing_m: float
    at_m: tuple[float, ...]
    held_by: tuple[Support, Support] = ("front", "back")
    seat_mm: float = 0.0


@dataclass(frozen=True)
class PlateLine:
    """One head plate over its uprights [m], and where rafters come down on it.

    `start_m` is where it begins along its wall; the rest counts from there.
    """

    mark: str
    side: Side
    section: str
    strength_class: str
    start_m: float
    length_m: float
    supports_m: tuple[float, ...]
    rafters_m: tuple[float, ...]
    on_edge: bool = False  # its depth stands upright
    # Whether the first and the last rafter on it are the roof's outermost, which carry half a bay.
    outermost: tuple[bool, bool] = (True, True)
    what: str = "head plate"


@dataclass(frozen=True)
class RidgeLine:
    """One length of the ridge beam over its posts [m], and where rafters hang on it.

    `stands` says for each support which gable it is, or that it is inside.
    """

    mark: str
    section: str
    strength_class: str
    start_m: float
    length_m: float
    supports_m: tuple[float, ...]
    stands: tuple[Stand, ...]
    rafters_m: tuple[float, ...]


@dataclass(frozen=True)
class UprightLine:
    """One post or stud: its height, and the width of wall that leans on it [m]."""

    mark: str
    what: str
    side: Stand
    section: str
    strength_class: str
    height_m: float
    at_m: float  # along its wall
    width_m: float
    sheltered: bool = False  # in a wall between two units: no wind from outside
    between: tuple[str, str] = ("", "")  # slightest plate at head and foot: section, class


@dataclass(frozen=True)
class Lines:
    """All lines of one unit."""

    rafters: tuple[RafterLine, ...]
    plates: tuple[PlateLine, ...]
    uprights: tuple[UprightLine, ...]
    ridges: tuple[RidgeLine, ...] = ()


def lines_of(frame: BuiltFrame, depth_mm: float) -> Lines:
    """Read the lines of force off a frame.

    Args:
        frame: The unit as it was set out.
        depth_mm: Clear depth of the unit [mm].
    """
    uprights = list(_uprights(frame, depth_mm))
    rafters = list(_rafters(frame, depth_mm))
    plates = tuple(_plates(frame, depth_mm, uprights, rafters))
    ridges = tuple(_ridges(frame, uprights, rafters))
    return Lines(tuple(rafters), plates, tuple(uprights), ridges)


def _sticks(frame: BuiltFrame, kind: str) -> Iterable[tuple[Part, Stick]]:
    for part in frame.parts:
        if part.kind == kind:
            for stick in part.sticks:
                yield part, stick


def _side(stick: Stick, frame: BuiltFrame, depth_mm: float) -> Side | None:
    """The wall that a piece stands in, by its middle line."""
    x = m_from_mm((stick.start_mm[0] + stick.end_mm[0]) / 2)
    y = m_from_mm((stick.start_mm[1] + stick.end_mm[1]) / 2)
    width, depth = m_from_mm(frame.outer_width_mm - 2 * frame.wall_mm), m_from_mm(depth_mm)
    if y < 0:
        return "front"
    if y > depth:
        return "back"
    if x < 0:
        return "left"
    return "right" if x > width else None


def _rafters(frame: BuiltFrame, depth_mm: float) -> Iterable[RafterLine]:
    for part in frame.parts:
        if part.kind != "rafter" or not part.sticks:
            continue
        # Alike rafters share a mark, on both sides of a ridge too.
        slopes: dict[float, list[Stick]] = {}
        for stick in part.sticks:
            slopes.setdefault(round(min(stick.start_mm[1], stick.end_mm[1]), 3), []).append(stick)
        for sticks in slopes.values():
            yield _rafter_line(part, sticks, frame, depth_mm)


def _rafter_line(
    part: Part, sticks: Sequence[Stick], frame: BuiltFrame, depth_mm: float
) -> RafterLine:
    stick = sticks[0]
    ends = sorted((stick.start_mm, stick.end_mm), key=lambda place: place[1])
    (_, start_y, start_z), (_, end_y, end_z) = ends
    length = m_from_mm(hypot(end_y - start_y, end_z - start_z))
    tilt = (end_y - start_y) / hypot(end_y - start_y, end_z - start_z)
    held_by: tuple[Support, Support] = ("front", "back")
    plates = [-frame.wall_mm / 2, depth_mm + frame.wall_mm / 2]
    if "front" in frame.shared:  # hung on a ledger
        plates[0] = start_y
    if frame.roof_ridge_mm is not None:
        if end_z > start_z:
            held_by, plates[1] = ("front", "ridge"), end_y
        else:
            held_by, plates[0] = ("ridge", "back"), start_y
    held = tuple(min(max(m_from_mm((y - start_y) / tilt), 0.0), length) for y in plates)
    at = sorted(m_from_mm(s.start_mm[0]) for s in sticks)
    gaps = [b - a for a, b in pairwise(at)]
    pitch = degrees(atan2(start_z - end_z, end_y - start_y))
    return RafterLine(
        part.mark, part.section, part.material, length, (held[0], held[1]),
        m_from_mm(plates[1] - plates[0]), pitch, max(gaps, default=length), tuple(at), held_by,
        seat_mm(pitch, frame.wall_mm, breadth_depth_mm(part.section)[1]),
    )  # fmt: skip


def _ridges(
    frame: BuiltFrame, uprights: Sequence[UprightLine], rafters: Sequence[RafterLine]
) -> Iterable[RidgeLine]:
    width = m_from_mm(frame.outer_width_mm - 2 * frame.wall_mm)
    half = m_from_mm(frame.wall_mm) / 2
    posts: list[tuple[float, Stand]] = [(-half, "left"), (width + half, "right")]
    posts += [(u.at_m, "inside") for u in uprights if u.side == "inside"]
    hung = sorted({round(x, 6) for line in rafters if "ridge" in line.held_by for x in line.at_m})
    for part, stick in _sticks(frame, "ridge"):
        start, end = sorted((m_from_mm(stick.start_mm[0]), m_from_mm(stick.end_mm[0])))
        held = [
            (min(max(x - start, 0.0), end - start), stand)
            for x, stand in sorted(posts)
            if start - NEAR_M <= x <= end + NEAR_M
        ]
        if len(held) >= 2:
            yield RidgeLine(
                part.mark, part.section, part.material, start, end - start,
                tuple(x for x, _ in held), tuple(stand for _, stand in held),
                tuple(x - start for x in hung if start - NEAR_M <= x <= end + NEAR_M),
            )  # fmt: skip


def _along(stick: Stick, side: Side) -> float:
    axis = 0 if side in ("front", "back") else 1
    return m_from_mm((stick.start_mm[axis] + stick.end_mm[axis]) / 2)


def _is_upright(stick: Stick) -> bool:
    level = hypot(stick.end_mm[0] - stick.start_mm[0], stick.end_mm[1] - stick.start_mm[1])
    return level < 1.0


def _uprights(frame: BuiltFrame, depth_mm: float) -> Iterable[UprightLine]:
    found: dict[tuple[Side, int], list[tuple[float, Part, Stick]]] = {}
    for kind in ("post", "stud"):
        for part, stick in _sticks(frame, kind):
            side = _side(stick, frame, depth_mm)
            tall = abs(stick.end_mm[2] - stick.start_mm[2])
            inside = 0
            if side is None and frame.of_row:  # each wall between two units by itself
                side, inside = "right", round(stick.start_mm[0])
            if side is None or not _is_upright(stick) or part.what == INNER_POST:
                continue
            if not _carries(frame, side, tall):
                continue
            found.setdefault((side, inside), []).append((_along(stick, side), part, stick))
    between = _between(frame)
    for (side, inside), of_side in found.items():
        of_side.sort(key=lambda one: one[0])
        places = [at for at, _, _ in of_side]
        for i, (at, part, stick) in enumerate(of_side):
            left = (at - places[i - 1]) / 2 if i else 0.0
            right = (places[i + 1] - at) / 2 if i + 1 < len(places) else 0.0
            height = m_from_mm(abs(stick.end_mm[2] - stick.start_mm[2]))
            yield UprightLine(
                part.mark, part.what + (" of a shared wall" if inside else ""), side,
                part.section, part.material, height, at, left + right,
                bool(inside) or side in frame.shared, between,
            )  # fmt: skip
    for part, stick in _sticks(frame, "post"):
        if part.what == INNER_POST:
            yield UprightLine(
                part.mark, part.what, "inside", part.section, part.material,
                m_from_mm(stick.end_mm[2] - stick.start_mm[2]), m_from_mm(stick.start_mm[0]), 0.0,
            )  # fmt: skip


def _between(frame: BuiltFrame) -> tuple[str, str]:
    """Section and class of the slightest of sole and head plates, by breadth and by depth."""
    plates = [
        part
        for part in frame.parts
        if part.kind in ("sole", "head") and part.section and tube_of(part.section) is None
    ]
    if not plates:
        return "", ""
    sizes = [breadth_depth_mm(part.section) for part in plates]
    thin, narrow = min(b for b, _ in sizes), min(d for _, d in sizes)
    return f"{thin:g}x{narrow:g}", plates[0].material


def _carries(frame: BuiltFrame, side: Side, tall_mm: float) -> bool:
    """Whether an upright of that height reaches from sole to head plate of its wall."""
    tallest = max(
        (
            abs(stick.end_mm[2] - stick.start_mm[2])
            for kind in ("post", "stud")
            for _, stick in _sticks(frame, kind)
            if _is_upright(stick)
        ),
        default=tall_mm,
    )
    # The back and the sides are lower than the front; of a duopitch both are than the gables.
    share = 0.95 if side == "front" and frame.roof_ridge_mm is None else 0.6
    return tall_mm >= share * tallest


def _plates(
    frame: BuiltFrame, depth_mm: float, uprights: Sequence[UprightLine],
    rafters: Sequence[RafterLine],
) -> Iterable[PlateLine]:  # fmt: skip
    yield from _ledgers(frame, rafters)
    for part, stick in _sticks(frame, "head"):
        side = _side(stick, frame, depth_mm)
        if side not in ("front", "back"):
            continue  # rafters run along the sides and put nothing on them but their own edge
        start, end = sorted((m_from_mm(stick.start_mm[0]), m_from_mm(stick.end_mm[0])))
        held = [u.at_m - start for u in uprights if u.side == side and start - END_M <= u.at_m]
        held = [at for at in held if at <= end - start + END_M]
        rafters_m = [x for line in rafters if side in line.held_by for x in line.at_m]
        loads = [x - start for x in rafters_m if start - NEAR_M <= x <= end + NEAR_M]
        edges = _outermost(frame, rafters_m, [x + start for x in loads])
        if len(held) >= 2:
            yield PlateLine(
                part.mark, side, part.section, part.material, start, end - start,
                tuple(sorted(held)), tuple(sorted(min(max(x, 0.0), end - start) for x in loads)),
                stick.breadth_mm == breadth_depth_mm(part.section)[1], edges,
            )  # fmt: skip


def _ledgers(frame: BuiltFrame, rafters: Sequence[RafterLine]) -> Iterable[PlateLine]:
    """The ledger of a lean-to over the uprights that it is bolted to, as a plate in front."""
    for part, stick in _sticks(frame, "trim"):
        if part.what != LEDGER:
            continue
        start, end = m_from_mm(stick.start_mm[0]), m_from_mm(stick.end_mm[0])
        loads = [x - start for line in rafters for x in line.at_m]
        yield PlateLine(
            part.mark, "front", part.section, part.material, start, end - start,
            tuple(sorted({round(m_from_mm(x) - start, 6) for x in frame.ledger_bolts_mm})),
            tuple(sorted(loads)), True, what=LEDGER,
        )  # fmt: skip


def _outermost(
    frame: BuiltFrame, all_m: Sequence[float], on_plate_m: Sequence[float]
) -> tuple[bool, bool]:
    """Whether a plate's end rafters carry half a bay: not where the roof runs on past it."""
    if not on_plate_m:
        return True, True
    first = min(on_plate_m) <= min(all_m) + NEAR_M and "left" not in frame.shared
    last = max(on_plate_m) >= max(all_m) - NEAR_M and "right" not in frame.shared
    return first, last


def upright_kind(line: UprightLine) -> Literal["post", "stud"]:
    """Whether it is a post of an open face or a stud of a boarded one."""
    return "post" if "post" in line.what else "stud"
