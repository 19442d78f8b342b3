"""What a unit stands on, and its floor: base, dig barrier, membrane and substrate."""

from collections.abc import Iterable, Sequence
from math import ceil

from mewswright import handbook
from mewswright.build.footings import (
    edge_boards,
    fill_under_floor,
    leg,
    posts_in_concrete,
    support_places,
)
from mewswright.build.ground_line import PAD_HIGH_MM, SLEEPER_HIGH_MM, GroundLine, Spot
from mewswright.build.longest import longest_mm
from mewswright.build.materials import known_material
from mewswright.build.parts import Panel
from mewswright.build.pieces import Piece
from mewswright.build.shell import Shell
from mewswright.build.walls import WallFrame
from mewswright.model.yard import Yard

SLEEPER_WIDE_MM = 200.0  # the smaller of the handbook's sleepers
PAD_MM = 450.0  # the handbook's smaller paving slab
PADS_MM = 1800.0  # judgement: pads under a sole plate at most so far apart
SLAB_MM = 100.0  # judgement: thickness of a slab
SLEEPER = "sleeper_softwood"
DIG_MESH = "weld_25.4x25.4x2.5"  # judgement: thick wire, for it lies in soil
PACKED_MM = 20.0  # judgement: a drop so small is packed with stone under what is there
SHORT_SLEEPER_MM = 300.0  # judgement: no shorter piece is laid as a course
PADS_HIGH = 4  # judgement: so many slabs lie on each other; above that a leg stands on one


def base(
    yard: Yard, shell: Shell, walls: Sequence[WallFrame], ground: GroundLine
) -> Iterable[Piece]:
    """What the sole plates stand on."""
    kind = shell.quarters.frame.base
    longest = longest_mm(yard, shell.quarters.frame.edge_board)
    if kind == "sleepers":
        yield from _sleepers(shell, ground)
    elif kind == "slab":
        yield _slab(shell)
    elif kind == "pads":
        yield from _pads(shell, walls, ground)
        if not ground.is_plain:
            yield from edge_boards(shell, walls, ground, longest)
    else:
        yield from posts_in_concrete(shell, walls, ground)
        yield from edge_boards(shell, walls, ground, longest)
    if not ground.is_plain:
        laid = shell.quarters.floor.depth_mm + (SLAB_MM if kind == "slab" else 0.0)
        yield from fill_under_floor(shell, ground, laid)


def flat(x: tuple[float, float], y: tuple[float, float], z: float, thick: float) -> Panel:
    """A level panel by its edges and the height of its middle [mm]."""
    return Panel(
        corners_mm=((x[0], y[0], z), (x[1], y[0], z), (x[1], y[1], z), (x[0], y[1], z)),
        thickness_mm=thick,
    )


def _sleepers(shell: Shell, ground: GroundLine) -> Iterable[Piece]:
    """A ring of sleepers whose inner edge is the clear line, joined butt to butt.

    Where the ground lies deeper, further courses lie under it, stepped along the slope.
    """
    long = handbook.material(SLEEPER).stock_lengths_mm[0]
    wide, high = SLEEPER_WIDE_MM, SLEEPER_HIGH_MM
    w, d = shell.width_mm, shell.depth_mm
    x0 = -wide if shell.join("left") is None else -shell.edge_mm("left")
    x1 = w + (wide if shell.join("right") is None else shell.wall_mm)
    # Under a shared wall the sleepers lie in its middle.
    under = 0.0 if shell.join("right") is None else (wide - shell.wall_mm) / 2
    start = _past_row_mm(shell, wide)
    runs = [
        ("front", (x0, x1), (-wide, 0.0)),
        ("back", (x0, x1), (d, d + wide)),
        ("left", (-wide, 0.0), (start, d)),
        ("right", (w - under, w - under + wide), (start, d)),
    ]
    lent = [join.side for join in shell.joins if join.lent]
    runs = [run for run in runs if run[0] not in lent]
    laid = [
        (place, course, *_stretch(x, y, start, end))
        for place, x, y in runs
        for course, start, end in ground.courses(
            *_middle_line(x, y), high, PACKED_MM, SHORT_SLEEPER_MM
        )
    ]
    whole = ceil(sum(max(x[1] - x[0], y[1] - y[0]) for *_, x, y in laid) / long - 1e-9)
    for place, course, x, y in laid:
        length = max(x[1] - x[0], y[1] - y[0])
        pinned = f"; pin it through to course {course}" if course else ""
        yield Piece(
            kind="base",
            what=f"sleepers, course {course + 1} down"
            if course
            else "sleepers under the sole plate",
            place=place,
            material=SLEEPER,
            length_mm=length,
            width_mm=wide,
            amount=length / long,
            unit="piece",
            packs=whole if place == runs[0][0] and not course else 0,
            note=(
                f"{wide:g} x {high:g} mm in lengths of {long:g} mm; inner edge on the clear line; "
                f"offcuts run on round the corners{pinned}"
            ),
            panel=flat(x, y, -high * (course + 0.5), high),
        )


def _past_row_mm(shell: Shell, reach_mm: float) -> float:
    """Where the base of a lean-to begins: past the row's, which reaches so far out [mm]."""
    row = shell.join("front")
    return 0.0 if row is None else max(0.0, reach_mm - shell.wall_mm - row.skin_mm)


def _middle_line(x: Spot, y: Spot) -> tuple[Spot, Spot]:
    """Both ends of the middle line of a run."""
    if x[1] - x[0] >= y[1] - y[0]:
        middle = (y[0] + y[1]) / 2
        return (x[0], middle), (x[1], middle)
    middle = (x[0] + x[1]) / 2
    return (middle, y[0]), (middle, y[1])


def _stretch(x: Spot, y: Spot, start: float, end: float) -> tuple[Spot, Spot]:
    """What of a run lies between two shares of its length."""
    if x[1] - x[0] >= y[1] - y[0]:
        long = x[1] - x[0]
        return (x[0] + start * long, x[0] + end * long), y
    long = y[1] - y[0]
    return x, (y[0] + start * long, y[0] + end * long)


def _slab(shell: Shell) -> Piece:
    """A slab with a tray for the substrate, so that the plates stand at floor level."""
    out = shell.wall_mm + 100
    x = (-out, shell.width_mm + out)
    y = (_past_row_mm(shell, out) if shell.leans else -out, shell.depth_mm + out)
    area = (x[1] - x[0]) * (y[1] - y[0])
    deep = shell.quarters.floor.depth_mm
    rim = area - shell.width_mm * shell.depth_mm
    return Piece(
        kind="base",
        what="concrete slab",
        place="under the whole unit",
        material="concrete",
        length_mm=x[1] - x[0],
        width_mm=y[1] - y[0],
        amount=(area * SLAB_MM + rim * deep) / 1e9,
        unit="m3",
        note=(
            f"{SLAB_MM:g} mm thick, 100 mm beyond the frame; inside it lies {deep:g} mm lower, a "
            "tray for the substrate, which needs a drain"
        ),
        panel=flat(x, y, -deep - SLAB_MM / 2, SLAB_MM),
    )


def pad_places(shell: Shell, walls: Sequence[WallFrame]) -> list[Spot]:
    """Middles of the pads of a unit."""
    return support_places(walls, PAD_MM, PADS_MM, shell.wall_mm / 2)


def _slabs_high(ground: GroundLine, spot: Spot) -> int:
    """Slabs on each other that reach from the ground to the sole plate."""
    return max(1, ceil((ground.below_mm(*spot) - PACKED_MM) / PAD_HIGH_MM - 1e-9))


def has_legs(shell: Shell, walls: Sequence[WallFrame], ground: GroundLine) -> bool:
    """Whether a pad lies so deep that a leg stands on it."""
    return any(_slabs_high(ground, spot) > PADS_HIGH for spot in pad_places(shell, walls))


def _pads(shell: Shell, walls: Sequence[WallFrame], ground: GroundLine) -> Iterable[Piece]:
    """Slabs under every post, and along the plates between; legs where the drop is great."""
    half = PAD_MM / 2
    for x, y in pad_places(shell, walls):
        slabs = _slabs_high(ground, (x, y))
        tops = [-i * PAD_HIGH_MM for i in range(slabs)]
        if slabs > PADS_HIGH:
            tops = [PAD_HIGH_MM - ground.below_mm(x, y)]
            yield leg(shell, (x, y), tops[0])
        for top in tops:
            yield Piece(
                kind="base",
                what="paving slab as a pad",
                place="under the posts and sole plates",
                material="paving_slab",
                length_mm=PAD_MM,
                width_mm=PAD_MM,
                amount=1,
                note="bedded level; the gaps between the pads need an edge against digging",
                panel=flat(
                    (x - half, x + half), (y - half, y + half), top - PAD_HIGH_MM / 2, PAD_HIGH_MM
                ),
            )


def floor(shell: Shell, ground: GroundLine) -> Iterable[Piece]:
    """Dig barrier, membrane and substrate.

    The barrier hangs from the sole plates: where the floor is raised it reaches down to the
    ground as well.
    """
    laid = shell.quarters.floor
    area = shell.width_mm * shell.depth_mm
    shared = len(shell.joins)
    ends = shell.edge_mm("left") + shell.edge_mm("right")
    around = 2 * (shell.width_mm + ends) + (2 - shared) * shell.outer_depth_mm
    if laid.dig_barrier in ("buried", "apron") and laid.dig_barrier_mm > 0:
        down = 0.0 if ground.is_plain else ground.deepest_mm - ground.usual_mm
        wide = laid.dig_barrier_mm + down
        corners = (4 - 2 * shared) * laid.dig_barrier_mm if laid.dig_barrier == "apron" else 0
        yield Piece(
            kind="mesh",
            what="dig barrier, buried" if laid.dig_barrier == "buried" else "dig barrier, apron",
            place="around the unit",
            material=DIG_MESH,
            length_mm=around + corners,
            width_mm=wide,
            amount=(around + corners) * wide / 1e6,
            unit="m2",
            note=f"of it {down:.0f} mm down to the lowest ground" if down >= 1 else "",
        )
    if laid.membrane:
        yield _membrane(shell)
    if laid.depth_mm > 0:
        known = known_material(laid.substrate)
        yield Piece(
            kind="substrate",
            what=f"floor, {laid.substrate}",
            place="inside",
            material=known.id if known else laid.substrate,
            length_mm=shell.width_mm,
            width_mm=shell.depth_mm,
            amount=area * laid.depth_mm / 1e9,
            unit="m3",
            note=f"{laid.depth_mm:g} mm deep, loose as delivered settles lower",
            panel=flat((0, shell.width_mm), (0, shell.depth_mm), -laid.depth_mm / 2, laid.depth_mm),
        )


def _membrane(shell: Shell) -> Piece:
    material = handbook.material("ground_membrane")
    assert material.roll_width_mm is not None
    lap = handbook.fixing_rule("dpm_lap").figure.value
    short, long = sorted((shell.width_mm, shell.depth_mm))
    strips = max(1, ceil((short - lap) / (material.roll_width_mm - lap) - 1e-9))
    return Piece(
        kind="membrane",
        what="membrane under the floor",
        place="inside",
        material=material.id,
        length_mm=long,
        width_mm=strips * material.roll_width_mm,
        amount=strips * material.roll_width_mm * long / 1e6,
        unit="m2",
        note=f"{strips} strips of {material.roll_width_mm:g} mm, {lap:g} mm laps",
    )
