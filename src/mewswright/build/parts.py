"""Parts of a frame: what is cut, how often, and where each piece stands.

Places are millimetres in the quarters' own frame (model/quarters.py): x along the
front from its left inner corner, y from the front to the back, z up from the finished
floor. The timber stands outside the clear inside sizes, so x and y can be negative.
"""

from typing import Literal

from pydantic import BaseModel, ConfigDict

from mewswright.model.fitting import Side

Place = tuple[float, float, float]


class Stick(BaseModel):
    """One straight piece where it stands: its centre line and its cross section.

    `depth_mm` is along `depth_axis`, a unit vector at right angles to the line;
    `breadth_mm` is at right angles to both. A plate lies flat: its depth is level.
    The line ends in the middle of the end cut, so a slanting cut reaches past it.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")
    start_mm: Place
    end_mm: Place
    breadth_mm: float
    depth_mm: float
    depth_axis: Place


class Panel(BaseModel):
    """One flat piece where it lies: corners of its middle plane in order, and thickness."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    corners_mm: tuple[Place, ...]
    thickness_mm: float


PartKind = Literal[
    "post", "sole", "head", "ridge", "rafter", "stud", "nogging", "batten", "trim", "bar", "door",
    "perch", "board", "deck", "covering", "mesh", "net", "base", "membrane", "substrate", "fixing",
    "bath", "hatch", "finish", "rain",
]  # fmt: skip


class Part(BaseModel):
    """One line of the take-off.

    `length_mm` is the longest length along the piece, so that stock can be sawn to it.
    `cut_start_deg` and `cut_end_deg` are the end cuts from square, 0 = square.
    `amount` and `unit` serve parts that are not bought by the sawn piece (m2, m3, m,
    piece): what is laid, before waste. `packs` is how many whole sheets, rolls or boards
    a counted layout needs, 0 where only the amount is known.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")
    mark: str  # P1, S1, R1...: also on the drawings
    kind: PartKind
    what: str  # "front post", in the carpenter's words
    place: str  # "front, left and right"
    material: str  # handbook material id, or the strength class of sawn timber
    section: str = ""  # "45x95" for sawn timber, else blank
    length_mm: float = 0
    width_mm: float = 0  # for sheets and boards
    cut_start_deg: float = 0
    cut_end_deg: float = 0
    count: int = 1
    amount: float = 0
    unit: str = "piece"
    packs: int = 0
    sawn: bool = False  # True: goes into the cut plan
    note: str = ""
    sticks: tuple[Stick, ...] = ()
    panels: tuple[Panel, ...] = ()

    @property
    def how_many(self) -> float:
        """How many there are: what is bought by the piece by its amount, all else by its count."""
        by_piece = self.kind in ("fixing", "rain") and self.unit == "piece"
        return self.amount if by_piece else self.count


class BuiltFrame(BaseModel):
    """All parts of one unit, and the outer sizes that a drawing shows."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    quarters: str
    parts: tuple[Part, ...]
    outer_width_mm: float
    outer_depth_mm: float
    wall_mm: float  # thickness of a wall, inner face to outer face of the frame
    roof_pitch_deg: float  # positive: falls to the back; of a duopitch its front slope
    roof_front_edge_mm: Place  # underside of the roof at its front eave, left end
    roof_back_edge_mm: Place
    roof_ridge_mm: Place | None = None  # underside of the roof under a ridge, left end
    assumptions: tuple[str, ...]
    shared: tuple[Side, ...] = ()  # sides that another unit of its row stands at
    # Of a whole row: where its shared walls are along the front, clear side to clear side.
    between_mm: tuple[tuple[float, float], ...] = ()

    # Of a row with a corridor: where that begins, behind the clear front. Its parts are here too.
    corridor_from_mm: float | None = None
    ledger_bolts_mm: tuple[float, ...] = ()  # of a corridor: uprights that hold its ledger

    @property
    def of_row(self) -> bool:
        """It is a whole row, with walls between its ends."""
        return bool(self.between_mm)

    def part(self, mark: str) -> Part:
        """Give the part of a mark; KeyError if there is none."""
        for part in self.parts:
            if part.mark == mark:
                return part
        raise KeyError(mark)
