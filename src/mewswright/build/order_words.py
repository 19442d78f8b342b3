"""What the steps of a build are called, what is done in them, with what, and where to stop.

Tools and hold points are our judgement; figures in a hold point come from the take-off.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from mewswright.build.gutter_parts import BUTT, GUTTER
from mewswright.build.parts import Part
from mewswright.build.takeoff import TakeOff

PLUMB_MM = 5.0  # judgement: out of plumb at most, over the height of a wall
SET_DAYS = 2  # judgement: concrete is left alone so long at the least


@dataclass(frozen=True)
class StepWords:
    """The words of one step."""

    key: str
    title: str
    do: str
    people: int  # at the least
    tools: tuple[str, ...]


_ALL = (
    StepWords(
        "set_out", "Set out",
        "Peg the four corners from the two fixed points of the foundation sheet, string the "
        "lines and measure both diagonals.", 2, (),
    ),
    StepWords(
        "ground", "Ready the ground",
        "Strip the topsoil under the whole unit and level or step the ground as the foundation "
        "sheet has it.", 1, (),
    ),
    StepWords(
        "base", "Base",
        "Lay the base to the lines and level it; measure the diagonals over it again.",
        1, ("spirit level", "straight edge", "string line"),
    ),
    StepWords(
        "coat", "Coat",
        "Saw and drill what will stand open, treat fresh cuts, and coat boards and open timber "
        "before they are fixed. Let them dry.", 1, (),
    ),
    StepWords(
        "frame", "Frame the walls, lying flat",
        "Saw by the cut plan, label each piece, and screw each panel together on flat ground.",
        1, ("trestles",),
    ),
    StepWords(
        "clad", "Clad and fill the walls",
        "Board what is boarded; fix bars, mesh, net or slats in the open faces.",
        1, (),
    ),
    StepWords(
        "stand", "Stand the walls up",
        "Stand each wall on the base, plumb it, prop it, and bolt the corners and joints.",
        2, ("spanners", "long spirit level", "props and clamps", "stepladder"),
    ),
    StepWords(
        "brace", "Brace and anchor",
        "Fix lining, knee braces and anchors. Where there are none, leave a diagonal prop on "
        "every wall until the deck and the boards are on.",
        2, ("spanners", "drill driver and bits", "long spirit level"),
    ),
    StepWords(
        "rafters", "Rafters and deck",
        "Set the ridge beam if there is one, then rafters, packings and blocking; strap each "
        "rafter before the next is set, then lay the deck or the battens.",
        2, ("stepladder",),
    ),
    StepWords(
        "cover", "Cover the roof",
        "From the low edge up: sheets, felt or boards, then the edge trims, and what closes an "
        "open top.", 2, ("stepladder",),
    ),
    StepWords(
        "rain", "Gutters and downpipes",
        "Screw the brackets to the rafters to a string that falls to the outlet, the highest "
        "first; hang the gutter, then the pipe, from the outlet down. Set the butt on its stand, "
        "or dig the soakaway and its drain.", 2, ("stepladder", "string line", "spirit level"),
    ),
    StepWords(
        "doors", "Doors and hatches",
        "Hang leaves and flaps with their bolts, releases and closers.", 1, (),
    ),
    StepWords(
        "floor", "Dig barrier and floor",
        "Lay the dig barrier, roll out the membrane, bring in the floor.", 1, (),
    ),
    StepWords(
        "fit", "Perches, covers and baths",
        "Fix perches at their heights, put on every cover, set the bath. Look for splinters, "
        "nail points and wire ends from the height of the bird.", 1, ("tape", "gap gauge"),
    ),
)  # fmt: skip
STEPS: Mapping[str, StepWords] = MappingProxyType({words.key: words for words in _ALL})

_DIG_TOOLS = ("spade", "barrow", "gloves")
_SHEET_TOOLS = ("drill driver and bits", "saw", "chalk line")
TOOLS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "setting_out": ("tape", "pegs and lump hammer", "string line", "spirit level"),
        "ground_prep": (*_DIG_TOOLS, "rake", "tamper"),
        "base_concrete": ("shutter boards", "barrow", "mixer", "float", "gloves and goggles"),
        "base_hole": ("post spade", "tamper", "long spirit level", "mixer", "gloves and goggles"),
        "base_pad": ("spade", "tamper", "rubber mallet"),
        "base_sleeper": ("saw", "lump hammer", "drill driver and bits"),
        "coating": ("brushes", "gloves", "drop cloth"),
        "stud_wall": ("tape", "drill driver and bits", "saw", "square"),
        "post": ("tape", "drill driver and bits", "saw", "square"),
        "boarding": ("hammer", "saw", "tape", "spirit level"),
        "sheathing": (*_SHEET_TOOLS, "hammer"),
        "rafters_deck": ("drill driver and bits", "hammer", "saw", "sliding bevel", "chalk line"),
        "roof_boards": ("hammer", "saw", "chalk line"),
        "roof_corrugated": ("drill driver and bits", "tin snips", "gloves", "string line"),
        "roof_felt": ("knife", "hammer", "straight edge"),
        "roof_polycarbonate": (*_SHEET_TOOLS, "knife"),
        "bars": ("drill driver and bits", "hacksaw", "file", "gap gauge"),
        "mesh": ("tin snips", "staple hammer", "gloves", "goggles"),
        "net": ("knife", "staple hammer", "stepladder"),
        "slats": ("drill driver and bits", "saw", "spacer block"),
        "gutter": ("drill driver and bits", "hacksaw", "file", "tape"),
        "butt": ("spade", "hacksaw"),
        "rain_drain": _DIG_TOOLS,
        "soakaway": (*_DIG_TOOLS, "knife"),
        "door": ("drill driver and bits", "chisel", "plane", "spirit level"),
        "flap": ("drill driver and bits", "saw"),
        "hatch": ("drill driver and bits", "chisel", "saw"),
        "dig_barrier": (*_DIG_TOOLS, "tin snips"),
        "membrane": ("knife", "tape"),
        "substrate": ("barrow", "shovel", "rake"),
        "bath": ("spade", "spirit level"),
        "perch": ("drill driver and bits", "spirit level", "knife", "staple hammer"),
    }
)  # fmt: skip


def is_coat(part: Part) -> bool:
    """Whether a finish is brushed on, rather than a cover of a perch."""
    return part.kind == "finish" and part.unit == "l"


def _square(takeoff: TakeOff) -> Iterator[str]:
    out = takeoff.setting_out
    yield (
        f"square: the diagonals measure {out.frame_diagonal_mm:.0f} mm over the sole plates and "
        f"{out.inner_diagonal_mm:.0f} mm clear inside, and the two of a pair agree within "
        f"{out.diagonals_agree_mm:g} mm"
    )


def _based(takeoff: TakeOff) -> Iterator[str]:
    out = takeoff.setting_out
    yield (
        f"level and square still: the diagonals over the base's lines agree within "
        f"{out.diagonals_agree_mm:g} mm"
    )
    if any(part.kind == "base" and part.material == "concrete" for part in takeoff.parts):
        yield (
            f"set: concrete is left alone for {SET_DAYS} days at the least, longer in the cold "
            "(our judgement; the bag decides)"
        )


def _dry(takeoff: TakeOff) -> Iterator[str]:
    if any(is_coat(part) for part in takeoff.parts):
        yield "dry: no coat is tacky, and ends that were sawn are treated"


def _plumb(takeoff: TakeOff) -> Iterator[str]:
    out = takeoff.setting_out
    yield f"plumb: each corner within {PLUMB_MM:g} mm over its height, both ways (our judgement)"
    yield (
        f"square: the diagonals over the sole plates are {out.frame_diagonal_mm:.0f} mm, within "
        f"{out.diagonals_agree_mm:g} mm of each other"
    )


def _braced(takeoff: TakeOff) -> Iterator[str]:
    whats = {part.what for part in takeoff.parts}
    means = [
        words
        for words, is_there in (
            ("the lining is nailed all round", "lining sheet" in whats),
            ("both ends of every knee brace are bolted", "knee brace" in whats),
        )
        if is_there
    ]
    how = " and ".join(means) or "a diagonal prop stands on every wall"
    yield f"braced before roofing: {how}"
    anchors = sum(p.amount for p in takeoff.parts if p.what in ("anchor", "strap cast into a hole"))
    yield (
        f"anchored before the roof sheets: {anchors:g} anchors and straps hold the sole plates"
        if anchors
        else "anchored before the roof sheets: the yard file has no anchors; see what the check "
        "of the frame asks, and lay no sheet in wind before they hold"
    )


def _strapped(takeoff: TakeOff) -> Iterator[str]:
    straps = sum(part.amount for part in takeoff.parts if part.what == "restraint strap")
    if straps:
        yield f"tied: all {straps:g} rafter straps are nailed in every hole before a sheet goes on"


def _runs(takeoff: TakeOff) -> Iterator[str]:
    if any(part.what == GUTTER for part in takeoff.parts):
        yield "runs: a can of water poured in at the high end all leaves by the outlet"
    if any(part.what == BUTT for part in takeoff.parts):
        yield "shut: the lid of the butt locks before it fills, and no bird or child opens it"


def _shut(takeoff: TakeOff) -> Iterator[str]:
    if any(part.kind in ("door", "hatch") for part in takeoff.parts):
        yield "shut: every door and hatch latches by itself or by its bolt, and opens from inside"


def _safe(takeoff: TakeOff) -> Iterator[str]:
    covers = sum(part.kind == "finish" and not is_coat(part) for part in takeoff.parts)
    if covers:
        yield f"covers on before the bird: all {covers} perch covers sit without a fold or a tack"
    yield "gauged: no gap of bars, mesh or doors lets the gauge through"
    yield "swept with a magnet: no nail, screw or wire end lies on the ground or the floor"


HOLDS_AFTER: Mapping[str, Callable[[TakeOff], Iterator[str]]] = MappingProxyType(
    {
        "set_out": _square, "base": _based, "coat": _dry, "stand": _plumb, "brace": _braced,
        "rafters": _strapped, "rain": _runs, "doors": _shut, "fit": _safe,
    }
)  # fmt: skip
