"""Parts as solids: every stick with its end cuts, every panel with its thickness.

Places are millimetres in the quarters' own frame (build/parts.py). A solid is convex:
its corners, and faces that run counter-clockwise seen from outside.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import acos, cos, degrees, pi, sin, sqrt

from mewswright.build.materials import known_material
from mewswright.build.parts import BuiltFrame, Panel, Part, Place, Stick

Vector = tuple[float, float, float]
KNEE = "knee brace"
_SIDES = 16  # of a round bar or perch
_ANGLE_DEG = 0.05  # end cuts are rounded to a hundredth of a degree


@dataclass(frozen=True)
class Axes:
    """Where a piece stands: its middle, and three unit vectors at right angles."""

    origin: Vector
    x: Vector
    y: Vector
    z: Vector


@dataclass(frozen=True)
class Solid:
    """One piece: corners in its own axes [mm], faces as indices, and where it stands."""

    axes: Axes
    corners: tuple[Vector, ...]
    faces: tuple[tuple[int, ...], ...]

    @property
    def places_mm(self) -> tuple[Place, ...]:
        """Its corners in the quarters' own frame."""
        (ox, oy, oz), (xx, xy, xz) = self.axes.origin, self.axes.x
        (yx, yy, yz), (zx, zy, zz) = self.axes.y, self.axes.z
        return tuple(
            (
                ox + u * xx + v * yx + w * zx,
                oy + u * xy + v * yy + w * zy,
                oz + u * xz + v * yz + w * zz,
            )
            for u, v, w in self.corners
        )

    @property
    def volume_m3(self) -> float:
        """Volume [m3]. Source: the divergence theorem over its triangles."""
        six = 0.0
        for a, b, c in triangles(self.faces):
            six += _dot(self.corners[a], _cross(self.corners[b], self.corners[c]))
        return six / 6e9


def triangles(faces: Sequence[tuple[int, ...]]) -> Iterator[tuple[int, int, int]]:
    """Part convex faces into triangles that fan out from their first corner."""
    for face in faces:
        for i in range(1, len(face) - 1):
            yield face[0], face[i], face[i + 1]


def in_axes(axes: Axes, place: Place) -> Vector:
    """Give a place of the quarters in the axes of a piece [mm]."""
    off = _minus(place, axes.origin)
    return _dot(off, axes.x), _dot(off, axes.y), _dot(off, axes.z)


def solids_of(part: Part, frame: BuiltFrame) -> tuple[Solid, ...]:
    """Give every piece of a part as a solid.

    Boards are as wide as they are bought: a course laps the one below. Notches, holes and
    the wires of mesh are not cut out; mesh and net are thin sheets.

    Args:
        part: One line of a take-off.
        frame: Its unit, for the slope that a slanting end follows.

    Returns:
        Solids in the order of its pieces; none for what has no place (fixings, membrane,
        edge trim, packings).

    Raises:
        ValueError: If a stick has no length, a panel spans no plane, or an end is cut by
            an angle that no plane of the unit gives.
    """
    lap = _lap_mm(part)
    feet = min((z for panel in part.panels for *_, z in panel.corners_mm), default=0)
    return (
        *(_stick(part, stick, frame) for stick in part.sticks),
        *(_panel(_lapped(panel, lap, feet) if lap else panel) for panel in part.panels),
    )


def why_not_whole(part: Part) -> str:
    """Say why the solids of a part are not all the stuff that its line counts; blank if they are.

    Then volume times density is not its mass.
    """
    if not part.sticks and not part.panels:
        return "counted only: it has no place of its own"
    if part.kind in ("mesh", "net"):
        return "a sheet stands for its wires; the line counts overlaps as well"
    if part.kind == "bar":
        return "bought as made-up panels, counted by area with their rails"
    if part.kind == "covering":
        return "one sheet stands for all strips; the line counts laps and turned edges as well"
    if part.kind == "perch":
        return "the handbook has no density of perches; its cover is not told apart"
    if part.kind == "door":
        return "the leaf is not designed: a plain sheet stands for it"
    if part.what in ("water butt", "stand of the butt"):
        return "the handbook has no mass of it; thin plates stand for a bought vessel"
    if part.what == "concrete slab":
        return "the rim around the tray of the floor is counted and not drawn"
    return ""


def _lap_mm(part: Part) -> float:
    row = known_material(part.material)
    if part.kind != "board" or row is None or not row.cover_width_mm or not part.width_mm:
        return 0.0
    return max(0.0, part.width_mm - row.cover_width_mm)


def _lapped(panel: Panel, lap_mm: float, foot_mm: float) -> Panel:
    """Carry the lower edge of a board down over the course below; the lowest has none below."""
    low = min(z for *_, z in panel.corners_mm)
    if low <= foot_mm + 1e-6 and low <= 1e-6:
        return panel
    corners: list[Place] = []
    for here, after in zip(
        panel.corners_mm, [*panel.corners_mm[1:], panel.corners_mm[0]], strict=True
    ):
        corners.append(here)
        if max(here[2], after[2]) <= low + 1e-6:  # the lower edge: its strip hangs below it
            corners += [(x, y, z - lap_mm) for x, y, z in (here, after)]
    return panel.model_copy(update={"corners_mm": tuple(corners)})


def _panel(panel: Panel) -> Solid:
    points = _distinct(panel.corners_mm)
    if len(points) < 3:
        raise ValueError(f"a panel at {panel.corners_mm[0]} spans no plane")
    normal = _newell(points)
    x = _unit(_minus(points[1], points[0]))
    z = _unit(normal)
    y = _cross(z, x)
    origin = _scaled(_sum(points), 1 / len(points))
    flat = [(_dot(_minus(p, origin), x), _dot(_minus(p, origin), y)) for p in points]
    half = panel.thickness_mm / 2
    n = len(flat)
    corners = (*((u, v, half) for u, v in flat), *((u, v, -half) for u, v in flat))
    return Solid(Axes(origin, x, y, z), corners, _prism_faces(n))


def _prism_faces(n: int) -> tuple[tuple[int, ...], ...]:
    """Faces of a prism whose first n corners run counter-clockwise round its +z (or +x) end."""
    return (
        tuple(range(n)),
        tuple(range(2 * n - 1, n - 1, -1)),
        *((i + n, (i + 1) % n + n, (i + 1) % n, i) for i in range(n)),
    )


def _stick(part: Part, stick: Stick, frame: BuiltFrame) -> Solid:
    run = _minus(stick.end_mm, stick.start_mm)
    length = sqrt(_dot(run, run))
    if length == 0:
        raise ValueError(f"a stick of {part.mark} at {stick.start_mm} has no length")
    x = _scaled(run, 1 / length)
    y = stick.depth_axis
    z = _cross(x, y)
    origin = _scaled(_sum((stick.start_mm, stick.end_mm)), 0.5)
    axes = Axes(origin, x, y, z)
    ends = []
    for sign, cut, at in (
        (1, part.cut_end_deg, stick.end_mm), (-1, part.cut_start_deg, stick.start_mm),
    ):  # fmt: skip
        normal = _end_normal(part, x, cut, at, frame, min(stick.start_mm[2], stick.end_mm[2]))
        local = (_dot(normal, x), _dot(normal, y), _dot(normal, z))
        ends.append(
            [
                (sign * length / 2 - (local[1] * v + local[2] * w) / local[0], v, w)
                for v, w in _outline(part, stick)
            ]
        )
    n = len(ends[0])
    return Solid(axes, (*ends[0], *ends[1]), _prism_faces(n))


def _outline(part: Part, stick: Stick) -> list[tuple[float, float]]:
    """Cross section (along depth, across), counter-clockwise seen from the end."""
    half_d, half_b = stick.depth_mm / 2, stick.breadth_mm / 2
    if is_round(part, stick):
        # A polygon of the circle's own area, so that its volume is the bar's.
        radius = half_d * sqrt(2 * pi / (_SIDES * sin(2 * pi / _SIDES)))
        turns = [2 * pi * (i + 0.5) / _SIDES for i in range(_SIDES)]
        return [(radius * cos(t), radius * sin(t)) for t in turns]
    return [(-half_d, -half_b), (half_d, -half_b), (half_d, half_b), (-half_d, half_b)]


def is_round(part: Part, stick: Stick) -> bool:
    """Say whether a stick is a round bar or a round perch."""
    if stick.breadth_mm != stick.depth_mm:
        return False
    return part.kind == "bar" or (part.kind == "perch" and not part.section)


def _end_normal(
    part: Part, x: Vector, cut_deg: float, at: Place, frame: BuiltFrame, foot_mm: float
) -> Vector:
    """Normal of an end's plane.

    A sloping piece is cut plumb, or level; an upright one along the slope that it carries.
    """
    if not cut_deg:
        return x
    level = sqrt(x[0] ** 2 + x[1] ** 2)
    tries: list[Vector] = []
    if level > 1e-9:
        tries.append((x[0] / level, x[1] / level, 0.0))
    if abs(x[2]) > 1e-9:
        tries.append((0.0, 0.0, 1.0 if x[2] > 0 else -1.0))
    if part.what == KNEE and at[2] > foot_mm:  # at 45 deg both cuts would do: the head is level
        tries.reverse()
    for slope in _slopes_near(at, frame):
        across = _unit(_cross((0.0, 0.0, 1.0), slope))
        tries.append(_cross(slope, across))
    for normal in tries:
        turn = degrees(acos(min(1.0, abs(_dot(normal, x)))))
        if abs(turn - cut_deg) <= _ANGLE_DEG:
            return normal
    raise ValueError(
        f"an end of {part.mark} ({part.what}) is cut {cut_deg:g} deg from square, and neither a "
        "plumb nor a level cut nor the roof's slope gives that angle"
    )


def _slopes_near(at: Place, frame: BuiltFrame) -> list[Vector]:
    """Directions of the frame's sloping plates and rafters, those nearest to a place first."""
    found: list[tuple[float, Vector]] = []
    for part in frame.parts:
        if part.kind not in ("head", "rafter"):
            continue
        for stick in part.sticks:
            run = _minus(stick.end_mm, stick.start_mm)
            if abs(run[2]) < 1e-6:
                continue
            long = _dot(run, run)
            share = min(1.0, max(0.0, _dot(_minus(at, stick.start_mm), run) / long))
            foot = _minus(at, _sum((stick.start_mm, _scaled(run, share))))
            found.append((_dot(foot, foot), _scaled(run, 1 / sqrt(long))))
    return [slope for _, slope in sorted(found)]


def _distinct(points: Sequence[Place]) -> list[Place]:
    """Drop corners that lie on the one before, or on the first."""
    kept: list[Place] = []
    for point in points:
        if not kept or max(abs(a - b) for a, b in zip(point, kept[-1], strict=True)) > 1e-6:
            kept.append(point)
    if len(kept) > 1 and max(abs(a - b) for a, b in zip(kept[0], kept[-1], strict=True)) <= 1e-6:
        kept.pop()
    return kept


def _newell(points: Sequence[Place]) -> Vector:
    """Normal of a flat outline, twice its area long. Source: Newell's sum."""
    total = (0.0, 0.0, 0.0)
    for a, b in zip(points, [*points[1:], points[0]], strict=True):
        total = _sum((total, _cross(a, b)))
    return total


def _unit(v: Vector) -> Vector:
    long = sqrt(_dot(v, v))
    if long < 1e-12:
        raise ValueError("a direction without length")
    return _scaled(v, 1 / long)


def _minus(a: Vector, b: Vector) -> Vector:
    return a[0] - b[0], a[1] - b[1], a[2] - b[2]


def _sum(vectors: Sequence[Vector]) -> Vector:
    return (
        sum(v[0] for v in vectors),
        sum(v[1] for v in vectors),
        sum(v[2] for v in vectors),
    )


def _scaled(v: Vector, by: float) -> Vector:
    return v[0] * by, v[1] * by, v[2] * by


def _dot(a: Vector, b: Vector) -> float:
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def _cross(a: Vector, b: Vector) -> Vector:
    return (
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    )
