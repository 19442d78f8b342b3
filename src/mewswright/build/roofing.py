"""On the rafters: deck, covering, edge trim, and what closes an open top."""

from collections.abc import Iterable
from dataclasses import replace
from math import ceil, floor

from mewswright import handbook
from mewswright.build.boarding import bars_filled, board_of
from mewswright.build.infill import mesh_material
from mewswright.build.materials import material_of
from mewswright.build.parts import Panel, Place, Stick
from mewswright.build.pieces import Piece
from mewswright.build.rafters import rafter_ends_mm, rafter_middles_mm, roof_of
from mewswright.build.roof_sheets import SHEETS, sheet_rows
from mewswright.build.shell import Shell, breadth_depth_mm
from mewswright.build.walls import evenly_mm, lengths_mm
from mewswright.model.problem import Problem

TURN_DOWN_MM = 50.0  # judgement: felt turned down over every edge
PURLINS_MM = 600.0  # judgement: battens under ribbed sheets at most so far apart
FELT = "shed_felt"
EDGE_TRIM = "drip_edge"


def covered_mm(shell: Shell) -> tuple[float, float]:
    """Where the covered part of the roof starts and ends, front to back [mm]."""
    front, back = rafter_ends_mm(shell)
    share = roof_of(shell).covered_share
    return (front if share == 1 else shell.depth_mm * (1 - share)), back


def across_mm(shell: Shell) -> tuple[float, float]:
    """Left and right edge of the roof [mm]."""
    over = shell.wall_mm + roof_of(shell).overhang_side_mm
    half = shell.size_mm("rafter")[0] / 2
    left, right = shell.join("left"), shell.join("right")
    return (
        -over if left is None else -left.skin_mm - half,
        shell.width_mm + (over if right is None else shell.wall_mm - half),
    )


def roofing(shell: Shell) -> Iterable[Piece]:
    """Deck, covering and edges of the roof."""
    roof = roof_of(shell)
    if roof.covered_share > 0:
        if roof.deck is not None:
            yield from _deck(shell)
        if roof.cover == "felt":
            yield from _felt(shell)
        elif roof.cover == "boards":
            yield from _roof_boards(shell)
        else:
            yield from _sheets(shell)
        yield _edge_trim(shell)
    if roof.covered_share < 1:
        yield from _open_top(shell)


def _slope_place(shell: Shell, x: float, y: float, over: float) -> Place:
    """A place above the undersides of the rafters, at right angles to the roof."""
    up = shell.up
    return (x, y + up[1] * over, shell.ceiling_mm(y) + up[2] * over)


def _panel(
    shell: Shell, x: tuple[float, float], y: tuple[float, float], over: float, thick: float
) -> Panel:
    middle = over + thick / 2
    return Panel(
        corners_mm=tuple(
            _slope_place(shell, *corner, middle)
            for corner in ((x[0], y[0]), (x[1], y[0]), (x[1], y[1]), (x[0], y[1]))
        ),
        thickness_mm=thick,
    )


def _slope_mm(shell: Shell) -> float:
    front, back = covered_mm(shell)
    return (back - front) / shell.cos_pitch


def _deck(shell: Shell) -> Iterable[Piece]:
    """Sheets across the rafters, joined on them; rows start at the low edge."""
    deck = roof_of(shell).deck
    assert deck is not None
    sheet = material_of(deck, f"roof deck of {shell.quarters.name!r}")
    long, wide, thick = sheet.sheet_length_mm, sheet.sheet_width_mm, sheet.thickness_mm
    if long is None or wide is None or thick is None:
        raise Problem(
            f"roof deck of {shell.quarters.name!r} is {deck!r}, which is no sheet of known size; "
            "choose a sheet of the handbook, for example osb3_18, or leave deck out"
        )
    gap = handbook.fixing_rule("sheet_gap").figure.value
    front, back = covered_mm(shell)
    slope = _slope_mm(shell)
    columns = lengths_mm(*across_mm(shell), long + gap, rafter_middles_mm(shell))
    # What is left at the high edge, if no wider than a gap, lies under the edge trim.
    rows = max(1, ceil((slope - gap) / (wide + gap) - 1e-9))
    over = shell.size_mm("rafter")[1]
    pieces = []
    for row in range(rows):
        low, high = row * (wide + gap), min(slope, row * (wide + gap) + wide)
        # Rows start at the low edge, so that the narrow strip ends up at the high one.
        if shell.pitch_deg >= 0:
            ends = (back - high * shell.cos_pitch, back - low * shell.cos_pitch)
        else:
            ends = (front + low * shell.cos_pitch, front + high * shell.cos_pitch)
        for left, right in columns:
            half = gap / 2
            x = (
                left + (half if left > columns[0][0] else 0),
                right - (half if right < columns[-1][1] else 0),
            )
            pieces.append(
                Piece(
                    kind="deck",
                    what="roof deck",
                    place="roof",
                    material=sheet.id,
                    length_mm=x[1] - x[0],
                    width_mm=high - low,
                    amount=(x[1] - x[0]) * (high - low) / 1e6,
                    unit="m2",
                    note=f"long side across the rafters, joints on rafters, {gap:g} mm gaps",
                    panel=_panel(shell, x, ends, over, thick),
                )
            )
    sheets = sheets_filled([(p.length_mm, p.width_mm) for p in pieces], long, wide)
    yield replace(pieces[0], packs=sheets)
    yield from pieces[1:]


def sheets_filled(sizes: Iterable[tuple[float, float]], long_mm: float, wide_mm: float) -> int:
    """How many sheets the pieces are cut from, by rows across the sheet.

    Widest pieces first, each into the first row with room, else a new row in the first
    sheet with room. Never too few; no piece is turned, so the faces all run one way.

    Args:
        sizes: Length and width of each piece [mm].
        long_mm: Length of a sheet [mm].
        wide_mm: Width of a sheet [mm].
    """
    hair = 1e-6
    rows: list[list[float]] = []  # [height, length left]
    left: list[float] = []  # width left of each sheet
    for length, width in sorted(sizes, key=lambda size: (-size[1], -size[0])):
        for row in rows:
            if width <= row[0] + hair and length <= row[1] + hair:
                row[1] -= length
                break
        else:
            sheet = next((i for i, free in enumerate(left) if width <= free + hair), len(left))
            if sheet == len(left):
                left.append(wide_mm)
            left[sheet] -= width
            rows.append([width, long_mm - length])
    return len(left)


def _over_deck_mm(shell: Shell) -> float:
    over = shell.size_mm("rafter")[1]
    deck = roof_of(shell).deck
    if deck is not None:
        over += material_of(deck, f"roof deck of {shell.quarters.name!r}").thickness_mm or 0
    return over


def felt_strips(
    slope_mm: float, across_mm: float, roll_mm: float, roll_length_mm: float
) -> tuple[int, float, int]:
    """Strips of felt along the eaves, from the low edge up.

    Args:
        slope_mm: Length of the slope [mm].
        across_mm: Width of the roof [mm].
        roll_mm: Width of a roll [mm].
        roll_length_mm: Length of a roll [mm].

    Returns:
        Strips, length of each with its turn-downs and end laps [mm], whole rolls.
    """
    side_lap = handbook.fixing_rule("felt_side_lap").figure.value
    end_lap = handbook.fixing_rule("felt_end_lap").figure.value
    strips = ceil((slope_mm + 2 * TURN_DOWN_MM - side_lap) / (roll_mm - side_lap) - 1e-9)
    length = across_mm + 2 * TURN_DOWN_MM
    if length <= roll_length_mm:
        rolls = ceil(strips / floor(roll_length_mm / length))
    else:
        # Strips run on from roll to roll; each roll's end costs a lap.
        joints = ceil((length - roll_length_mm) / (roll_length_mm - end_lap) - 1e-9)
        length += (joints + 1) * end_lap
        rolls = ceil(strips * length / roll_length_mm)
    return strips, length, rolls


def _felt(shell: Shell) -> Iterable[Piece]:
    felt = handbook.material(FELT)
    assert felt.roll_width_mm is not None
    assert felt.roll_length_mm is not None
    left, right = across_mm(shell)
    strips, length, rolls = felt_strips(
        _slope_mm(shell), right - left, felt.roll_width_mm, felt.roll_length_mm
    )
    side_lap = handbook.fixing_rule("felt_side_lap").figure.value
    piece = Piece(
        kind="covering",
        what="felt strip",
        place="roof, from the low edge up",
        material=felt.id,
        length_mm=length,
        width_mm=felt.roll_width_mm,
        amount=length * felt.roll_width_mm / 1e6,
        unit="m2",
        note=(
            f"one layer, {side_lap:g} mm side laps, {TURN_DOWN_MM:g} mm turned down at the edges"
        ),
    )
    cover = _panel(shell, (left, right), covered_mm(shell), _over_deck_mm(shell), 3)
    yield replace(piece, packs=rolls, panel=cover)
    yield from [piece] * (strips - 1)


def _sheets(shell: Shell) -> Iterable[Piece]:
    roof = roof_of(shell)
    left, right = across_mm(shell)
    front, back = covered_mm(shell)
    over = _over_deck_mm(shell)
    if roof.deck is None:
        yield from _purlins(shell)
        over += breadth_depth_mm(shell.quarters.frame.batten)[0]
    sheet = handbook.material(SHEETS[roof.cover])
    laid = sheet_rows(sheet, _slope_mm(shell), right - left, shell.pitch_deg)
    laps = f"side lap {laid.side_lap_mm:g} mm"
    if laid.end_lap_mm:
        laps += f", end lap {laid.end_lap_mm:.0f} mm"
    piece = Piece(
        kind="covering",
        what=f"{roof.cover} sheet",
        place="roof, from the low edge up, the open edges away from the wind",
        material=sheet.id,
        length_mm=laid.length_mm,
        width_mm=laid.breadth_mm,
        amount=laid.length_mm * laid.breadth_mm / 1e6,
        unit="m2",
        note=f"{laps}; each cut from {laid.bought_mm:g} mm",
    )
    cover = _panel(shell, (left, right), (front, back), over, 3)
    yield replace(piece, packs=ceil(laid.bought_m2 - 1e-6), panel=cover)
    yield from [piece] * (laid.count - 1)


def _purlins(shell: Shell) -> Iterable[Piece]:
    frame = shell.quarters.frame
    breadth, depth = breadth_depth_mm(frame.batten)
    front, back = covered_mm(shell)
    half = depth / 2 * shell.cos_pitch
    over = shell.size_mm("rafter")[1] + breadth / 2
    longest = 4200.0
    for y in evenly_mm(front + half, back - half, PURLINS_MM * shell.cos_pitch):
        for left, right in lengths_mm(*across_mm(shell), longest, rafter_middles_mm(shell)):
            yield Piece(
                kind="batten",
                what="roof batten",
                place="roof, across the rafters",
                material=frame.strength_class,
                section=frame.batten,
                length_mm=right - left,
                sawn=True,
                stick=Stick(
                    start_mm=_slope_place(shell, left, y, over),
                    end_mm=_slope_place(shell, right, y, over),
                    breadth_mm=depth,
                    depth_mm=breadth,
                    depth_axis=shell.up,
                ),
            )


def _roof_boards(shell: Shell) -> Iterable[Piece]:
    board = board_of(shell)
    assert board.cover_width_mm is not None
    courses = ceil(_slope_mm(shell) / board.cover_width_mm - 1e-9)
    runs = lengths_mm(*across_mm(shell), max(board.stock_lengths_mm), rafter_middles_mm(shell))
    pieces = [
        Piece(
            kind="covering",
            what="roof board",
            place="roof",
            material=board.id,
            length_mm=right - left,
            width_mm=board.breadth_mm or 0,
            amount=(right - left) / 1000,
            unit="m",
        )
        for _ in range(courses)
        for left, right in runs
    ]
    stock = max(board.stock_lengths_mm)
    cover = _panel(
        shell, across_mm(shell), covered_mm(shell), _over_deck_mm(shell), board.thickness_mm or 0
    )
    packs = bars_filled([piece.length_mm for piece in pieces], stock)
    yield replace(pieces[0], packs=packs, panel=cover)
    yield from pieces[1:]


def _edge_trim(shell: Shell) -> Piece:
    trim = handbook.material(EDGE_TRIM)
    left, right = across_mm(shell)
    around = 2 * (right - left) + 2 * _slope_mm(shell)
    longest = max(trim.stock_lengths_mm)
    edges = [right - left, right - left, _slope_mm(shell), _slope_mm(shell)]
    return Piece(
        kind="trim",
        what="edge trim of the roof",
        place="roof, all four edges",
        material=trim.id,
        length_mm=around,
        amount=around / 1000,
        unit="m",
        packs=sum(ceil(edge / longest - 1e-9) for edge in edges),
        note=f"lengths of {longest:g} mm, each edge from its own lengths",
    )


def _open_top(shell: Shell) -> Iterable[Piece]:
    roof = roof_of(shell)
    if roof.open_infill == "open":
        return
    front = -shell.wall_mm
    back = shell.depth_mm + shell.wall_mm
    if roof.covered_share > 0:
        back = covered_mm(shell)[0]
    x = (-shell.edge_mm("left"), shell.width_mm + shell.edge_mm("right"))
    slope = (back - front) / shell.cos_pitch
    kinds = {"meshed": "welded", "netted": "knotted_net", "barred": None}
    if roof.open_infill == "barred":
        material, note = (
            "bar_panel",
            f"made to size, clear gap {roof.open_gap_mm:g} mm"
            if roof.open_gap_mm
            else "made to size",
        )
    elif roof.open_gap_mm is None:
        material = "welded_mesh" if roof.open_infill == "meshed" else "knotted_net"
        note = "no gap is given: set open_gap_mm so that a mesh can be chosen"
    else:
        material, note = mesh_material(kinds[roof.open_infill], roof.open_gap_mm)
    yield Piece(
        kind="net" if roof.open_infill == "netted" else "mesh",
        what=f"open top, {roof.open_infill}",
        place="roof, the part that is not covered",
        material=material,
        length_mm=slope,
        width_mm=x[1] - x[0],
        amount=slope * (x[1] - x[0]) / 1e6,
        unit="m2",
        note=note,
        panel=_panel(shell, x, (front, back), shell.size_mm("rafter")[1], 2),
    )
