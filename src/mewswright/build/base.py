"""What a unit stands on, and its floor: base, dig barrier, membrane and substrate."""

from collections.abc import Iterable
from math import ceil

from mewswright import handbook
from mewswright.build.materials import known_material
from mewswright.build.parts import Panel
from mewswright.build.pieces import Piece
from mewswright.build.shell import Shell
from mewswright.build.walls import WallFrame, evenly_mm

SLEEPER_WIDE_MM, SLEEPER_HIGH_MM = 200.0, 100.0  # the smaller of the handbook's sleepers
PAD_MM = 450.0  # the handbook's smaller paving slab
PADS_MM = 1800.0  # judgement: pads under a sole plate at most so far apart
SLAB_MM = 100.0  # judgement: thickness of a slab
SLEEPER = "sleeper_softwood"
DIG_MESH = "weld_25.4x25.4x2.5"  # judgement: thick wire, for it lies in soil


def base(shell: Shell, walls: Iterable[WallFrame]) -> Iterable[Piece]:
    """What the sole plates stand on."""
    kind = shell.quarters.frame.base
    if kind == "sleepers":
        yield from _sleepers(shell)
    elif kind == "slab":
        yield _slab(shell)
    else:
        yield from _pads(shell, walls)


def _flat(x: tuple[float, float], y: tuple[float, float], z: float, thick: float) -> Panel:
    return Panel(
        corners_mm=((x[0], y[0], z), (x[1], y[0], z), (x[1], y[1], z), (x[0], y[1], z)),
        thickness_mm=thick,
    )


def _sleepers(shell: Shell) -> Iterable[Piece]:
    """A ring of sleepers whose inner edge is the clear line, joined butt to butt."""
    long = handbook.material(SLEEPER).stock_lengths_mm[0]
    wide, high = SLEEPER_WIDE_MM, SLEEPER_HIGH_MM
    w, d = shell.width_mm, shell.depth_mm
    runs = (
        ("front", (-wide, w + wide), (-wide, 0.0)),
        ("back", (-wide, w + wide), (d, d + wide)),
        ("left", (-wide, 0.0), (0.0, d)),
        ("right", (w, w + wide), (0.0, d)),
    )
    whole = ceil(sum(max(x[1] - x[0], y[1] - y[0]) for _, x, y in runs) / long - 1e-9)
    for place, x, y in runs:
        length = max(x[1] - x[0], y[1] - y[0])
        yield Piece(
            kind="base",
            what="sleepers under the sole plate",
            place=place,
            material=SLEEPER,
            length_mm=length,
            width_mm=wide,
            amount=length / long,
            unit="piece",
            packs=whole if place == "front" else 0,
            note=(
                f"{wide:g} x {high:g} mm in lengths of {long:g} mm; inner edge on the clear line; "
                "offcuts run on round the corners"
            ),
            panel=_flat(x, y, -high / 2, high),
        )


def _slab(shell: Shell) -> Piece:
    """A slab with a tray for the substrate, so that the plates stand at floor level."""
    out = shell.wall_mm + 100
    x = (-out, shell.width_mm + out)
    y = (-out, shell.depth_mm + out)
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
        panel=_flat(x, y, -deep - SLAB_MM / 2, SLAB_MM),
    )


def _pads(shell: Shell, walls: Iterable[WallFrame]) -> Iterable[Piece]:
    """Slabs under every post, and along the plates between."""
    places: list[tuple[float, float, float]] = []
    for frame in walls:
        wall = frame.wall
        start, end = wall.ends_mm
        middles = [u.middle_mm for u in frame.uprights if u.is_post]
        middles = middles or evenly_mm(start, end, PADS_MM)
        for s in middles:
            at = wall.at(s, shell.wall_mm / 2, 0)
            if all(max(abs(at[0] - p[0]), abs(at[1] - p[1])) >= PAD_MM for p in places):
                places.append(at)
    half = PAD_MM / 2
    for x, y, _ in places:
        yield Piece(
            kind="base",
            what="paving slab as a pad",
            place="under the posts and sole plates",
            material="paving_slab",
            length_mm=PAD_MM,
            width_mm=PAD_MM,
            amount=1,
            note="bedded level; the gaps between the pads need an edge against digging",
            panel=_flat((x - half, x + half), (y - half, y + half), -19, 38),
        )


def floor(shell: Shell) -> Iterable[Piece]:
    """Dig barrier, membrane and substrate."""
    laid = shell.quarters.floor
    area = shell.width_mm * shell.depth_mm
    around = 2 * (shell.outer_width_mm + shell.outer_depth_mm)
    if laid.dig_barrier in ("buried", "apron") and laid.dig_barrier_mm > 0:
        corners = 4 * laid.dig_barrier_mm if laid.dig_barrier == "apron" else 0
        yield Piece(
            kind="mesh",
            what="dig barrier, buried" if laid.dig_barrier == "buried" else "dig barrier, apron",
            place="around the unit",
            material=DIG_MESH,
            length_mm=around + corners,
            width_mm=laid.dig_barrier_mm,
            amount=(around + corners) * laid.dig_barrier_mm / 1e6,
            unit="m2",
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
            panel=_flat(
                (0, shell.width_mm), (0, shell.depth_mm), -laid.depth_mm / 2, laid.depth_mm
            ),
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
