"""On the rafters: deck, covering, edge trim, and what closes an open top."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from math import ceil, floor

from mewswright import handbook
from mewswright.build.boarding import bars_filled, board_of
from mewswright.build.infill import mesh_material
from mewswright.build.materials import material_of
from mewswright.build.parts import Panel, Place, Stick
from mewswright.build.pieces import Piece
from mewswright.build.rafters import rafter_ends_mm, rafter_middles_mm, roof_of
from mewswright.build.roof_sheets import SHEETS, sheet_rows
from mewswright.build.shell import Shell, Slope, breadth_depth_mm
from mewswright.build.walls import evenly_mm, lengths_mm
from mewswright.handbook.materials import Material
from mewswright.model.problem import Problem

TURN_DOWN_MM = 50.0  # judgement: felt turned down over every edge
PURLINS_MM = 600.0  # judgement: battens under ribbed sheets at most so far apart
FELT = "shed_felt"
EDGE_TRIM = "drip_edge"
CAPPING = "ridge_capping"
FELT_MM = 3.0  # a sheet so thick stands for all layers and laps


def covered_mm(shell: Shell) -> tuple[float, float]:
    """Where the covered part of the roof starts and ends, front to back [mm]."""
    front, back = rafter_ends_mm(shell)
    if shell.leans:
        return 0.0, back  # over the ledger, up to the wall
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


@dataclass(frozen=True)
class Face:
    """The covered part of one slope: where it starts and ends, front to back [mm].

    Ends are measured on the underside of the rafters. At a ridge every layer runs on to
    the plumb line over it, so that the two slopes meet.
    """

    shell: Shell
    slope: Slope
    front_mm: float
    back_mm: float

    def ends_mm(self, over_mm: float) -> tuple[float, float]:
        """Where a layer whose lower face is so far above the rafters' undersides ends [mm]."""
        if self.shell.ridge_mm is None:
            return self.front_mm, self.back_mm
        at = self.slope.ridge_end_mm(self.shell.ridge_mm[0], over_mm)
        return (self.front_mm, at) if self.slope.rise > 0 else (at, self.back_mm)

    def slope_mm(self, over_mm: float) -> float:
        """Length of that layer along the slope [mm]."""
        front, back = self.ends_mm(over_mm)
        return (back - front) / self.slope.cos_pitch

    def place(self, x: float, y: float, over: float) -> Place:
        """A place above the undersides of the rafters, at right angles to the slope."""
        up = self.slope.up
        return (x, y + up[1] * over, self.slope.ceiling_mm(y) + up[2] * over)

    def panel(
        self, x: tuple[float, float], y: tuple[float, float], over: float, thick: float
    ) -> Panel:
        """A flat piece on it, its lower face `over` above the undersides of the rafters."""
        middle = over + thick / 2
        return Panel(
            corners_mm=tuple(
                self.place(*corner, middle)
                for corner in ((x[0], y[0]), (x[1], y[0]), (x[1], y[1]), (x[0], y[1]))
            ),
            thickness_mm=thick,
        )

    @property
    def where(self) -> str:
        """The roof, or which slope of it, in words."""
        return f"roof, {self.slope.name}" if self.slope.name else "roof"


def faces_of(shell: Shell) -> tuple[Face, ...]:
    """The covered part of each slope."""
    front, back = covered_mm(shell)
    return tuple(
        Face(shell, slope, max(front, slope.from_mm), min(back, slope.to_mm))
        for slope in shell.slopes
    )


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
    pieces = [
        piece for face in faces_of(shell) for piece in _deck_of(face, sheet, long, wide, thick)
    ]
    sheets = sheets_filled([(p.length_mm, p.width_mm) for p in pieces], long, wide)
    yield replace(pieces[0], packs=sheets)
    yield from pieces[1:]


def _deck_of(
    face: Face, sheet: Material, long: float, wide: float, thick: float
) -> Iterable[Piece]:
    shell, slope = face.shell, face.slope
    gap = handbook.fixing_rule("sheet_gap").figure.value
    over = shell.size_mm("rafter")[1]
    front, back = face.ends_mm(over)
    up_slope = face.slope_mm(over)
    columns = lengths_mm(*across_mm(shell), long + gap, rafter_middles_mm(shell))
    # What is left at the high edge, if no wider than a gap, lies under the edge trim.
    rows = max(1, ceil((up_slope - gap) / (wide + gap) - 1e-9))
    for row in range(rows):
        low, high = row * (wide + gap), min(up_slope, row * (wide + gap) + wide)
        # Rows start at the low edge, so that the narrow strip ends up at the high one.
        if slope.pitch_deg >= 0:
            ends = (back - high * slope.cos_pitch, back - low * slope.cos_pitch)
        else:
            ends = (front + low * slope.cos_pitch, front + high * slope.cos_pitch)
        for left, right in columns:
            half = gap / 2
            x = (
                left + (half if left > columns[0][0] else 0),
                right - (half if right < columns[-1][1] else 0),
            )
            yield Piece(
                kind="deck",
                what="roof deck",
                place=face.where,
                material=sheet.id,
                length_mm=x[1] - x[0],
                width_mm=high - low,
                amount=(x[1] - x[0]) * (high - low) / 1e6,
                unit="m2",
                note=f"long side across the rafters, joints on rafters, {gap:g} mm gaps",
                panel=face.panel(x, ends, over, thick),
            )


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
    if length > roll_length_mm:
        # Strips run on from roll to roll; each roll's end costs a lap.
        joints = ceil((length - roll_length_mm) / (roll_length_mm - end_lap) - 1e-9)
        length += (joints + 1) * end_lap
    return strips, length, rolls_of(strips, across_mm, roll_length_mm)


def rolls_of(strips: int, across_mm: float, roll_length_mm: float) -> int:
    """Whole rolls that so many strips along the eaves are cut from, laps at their ends too."""
    end_lap = handbook.fixing_rule("felt_end_lap").figure.value
    length = across_mm + 2 * TURN_DOWN_MM
    if length <= roll_length_mm:
        return ceil(strips / floor(roll_length_mm / length))
    joints = ceil((length - roll_length_mm) / (roll_length_mm - end_lap) - 1e-9)
    return ceil(strips * (length + (joints + 1) * end_lap) / roll_length_mm)


def _felt(shell: Shell) -> Iterable[Piece]:
    felt = handbook.material(FELT)
    assert felt.roll_width_mm is not None
    assert felt.roll_length_mm is not None
    left, right = across_mm(shell)
    over = _over_deck_mm(shell)
    faces = faces_of(shell)
    strips, length = 0, 0.0
    for face in faces:
        # Over a ridge it is turned as far as at an edge, under the strip that caps it.
        more, length, _ = felt_strips(
            face.slope_mm(over), right - left, felt.roll_width_mm, felt.roll_length_mm
        )
        strips += more
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
    if shell.ridge_mm is not None:
        strips += 1
        piece = replace(
            piece,
            place="roof, from the low edges up; the last one over the ridge",
            note=f"{piece.note} and over the ridge, where the last strip caps both slopes",
        )
    rolls = rolls_of(strips, right - left, felt.roll_length_mm)
    covers = [face.panel((left, right), face.ends_mm(over), over, FELT_MM) for face in faces]
    yield replace(piece, packs=rolls, panel=covers[0])
    for i in range(1, strips):
        yield replace(piece, panel=covers[i]) if i < len(covers) else piece


def _sheets(shell: Shell) -> Iterable[Piece]:
    roof = roof_of(shell)
    left, right = across_mm(shell)
    over = _over_deck_mm(shell)
    if roof.deck is None:
        for face in faces_of(shell):
            yield from _purlins(face)
        over += breadth_depth_mm(shell.quarters.frame.batten)[0]
    sheet = handbook.material(SHEETS[roof.cover])
    for face in faces_of(shell):
        laid = sheet_rows(sheet, face.slope_mm(over), right - left, face.slope.pitch_deg)
        laps = f"side lap {laid.side_lap_mm:g} mm"
        if laid.end_lap_mm:
            laps += f", end lap {laid.end_lap_mm:.0f} mm"
        piece = Piece(
            kind="covering",
            what=f"{roof.cover} sheet",
            place=f"{face.where}, from the low edge up, the open edges away from the wind",
            material=sheet.id,
            length_mm=laid.length_mm,
            width_mm=laid.breadth_mm,
            amount=laid.length_mm * laid.breadth_mm / 1e6,
            unit="m2",
            note=f"{laps}; each cut from {laid.bought_mm:g} mm",
        )
        cover = face.panel((left, right), face.ends_mm(over), over, 3)
        yield replace(piece, packs=ceil(laid.bought_m2 - 1e-6), panel=cover)
        yield from [piece] * (laid.count - 1)
    if shell.ridge_mm is not None:
        yield _capping(shell)


def _capping(shell: Shell) -> Piece:
    """What covers the joint at the ridge, over boards and ribbed sheets; felt caps itself."""
    left, right = across_mm(shell)
    return Piece(
        kind="trim",
        what="ridge capping",
        place="roof, over the ridge",
        material=CAPPING,
        length_mm=right - left,
        amount=(right - left) / 1000,
        unit="m",
        note="bent to the two slopes, with its own foam or filler under the ribs of sheets",
    )


def _purlins(face: Face) -> Iterable[Piece]:
    shell, slope = face.shell, face.slope
    frame = shell.quarters.frame
    breadth, depth = breadth_depth_mm(frame.batten)
    front, back = face.ends_mm(shell.size_mm("rafter")[1])
    half = depth / 2 * slope.cos_pitch
    over = shell.size_mm("rafter")[1] + breadth / 2
    longest = 4200.0
    for y in evenly_mm(front + half, back - half, PURLINS_MM * slope.cos_pitch):
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
                    start_mm=face.place(left, y, over),
                    end_mm=face.place(right, y, over),
                    breadth_mm=depth,
                    depth_mm=breadth,
                    depth_axis=slope.up,
                ),
            )


def _roof_boards(shell: Shell) -> Iterable[Piece]:
    board = board_of(shell)
    assert board.cover_width_mm is not None
    over, thick = _over_deck_mm(shell), board.thickness_mm or 0
    runs = lengths_mm(*across_mm(shell), max(board.stock_lengths_mm), rafter_middles_mm(shell))
    pieces: list[Piece] = []
    for face in faces_of(shell):
        courses = ceil(face.slope_mm(over) / board.cover_width_mm - 1e-9)
        cover = face.panel(across_mm(shell), face.ends_mm(over), over, thick)
        laid = [
            Piece(
                kind="covering",
                what="roof board",
                place=face.where,
                material=board.id,
                length_mm=right - left,
                width_mm=board.breadth_mm or 0,
                amount=(right - left) / 1000,
                unit="m",
            )
            for _ in range(courses)
            for left, right in runs
        ]
        pieces += [replace(laid[0], panel=cover), *laid[1:]]
    stock = max(board.stock_lengths_mm)
    packs = bars_filled([piece.length_mm for piece in pieces], stock)
    yield replace(pieces[0], packs=packs)
    yield from pieces[1:]
    if shell.ridge_mm is not None:
        yield _capping(shell)


def _edge_trim(shell: Shell) -> Piece:
    trim = handbook.material(EDGE_TRIM)
    left, right = across_mm(shell)
    over = _over_deck_mm(shell)
    verges = [face.slope_mm(over) for face in faces_of(shell) for _ in range(2)]
    edges = [right - left, right - left, *verges]
    around = sum(edges)
    longest = max(trim.stock_lengths_mm)
    return Piece(
        kind="trim",
        what="edge trim of the roof",
        place=_edges(shell),
        material=trim.id,
        length_mm=around,
        amount=around / 1000,
        unit="m",
        packs=sum(ceil(edge / longest - 1e-9) for edge in edges),
        note=f"lengths of {longest:g} mm, each edge from its own lengths",
    )


def _edges(shell: Shell) -> str:
    if shell.leans:
        return "roof, eave and verges, and as a flashing along the wall above"
    return "roof, all four edges" if shell.ridge_mm is None else "roof, both eaves and verges"


def _open_top(shell: Shell) -> Iterable[Piece]:
    roof = roof_of(shell)
    if roof.open_infill == "open":
        return
    front = -shell.wall_mm
    back = shell.depth_mm + shell.wall_mm
    if roof.covered_share > 0:
        back = covered_mm(shell)[0]
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
    x = (-shell.edge_mm("left"), shell.width_mm + shell.edge_mm("right"))
    over = shell.size_mm("rafter")[1]
    for slope in shell.slopes:
        face = Face(shell, slope, max(front, slope.from_mm), min(back, slope.to_mm))
        slope_mm = face.slope_mm(over)
        yield Piece(
            kind="net" if roof.open_infill == "netted" else "mesh",
            what=f"open top, {roof.open_infill}",
            place="roof, the part that is not covered" if not slope.name else face.where,
            material=material,
            length_mm=slope_mm,
            width_mm=x[1] - x[0],
            amount=slope_mm * (x[1] - x[0]) / 1e6,
            unit="m2",
            note=note,
            panel=face.panel(x, face.ends_mm(over), over, 2),
        )
