"""The corridor of a row under its loads, and what its ledger brings to the row's back wall.

Metres and kN. The corridor is loaded as a unit of its own whose rafters hang on the ledger,
under the row's roof beside it; the ledger is a beam over the uprights that it is bolted to.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from mewswright.build.actions.of_unit import actions_on
from mewswright.build.actions.result import Actions
from mewswright.build.corridor import corridor_behind, ledger_upright_mm
from mewswright.build.frame import built_frame
from mewswright.build.frame_path import joints_of
from mewswright.build.frame_uprights import Carried
from mewswright.build.holding.stability import Stability
from mewswright.build.hung import ledger_bolts
from mewswright.build.lines import Lines, lines_of
from mewswright.build.member_loads import MemberResult
from mewswright.build.parts import BuiltFrame
from mewswright.build.rafters import LEDGER
from mewswright.build.row import row_named, row_with, unit_or_row
from mewswright.build.shell import breadth_depth_mm
from mewswright.build.strength.uplift_path import Joint
from mewswright.model.problem import Problem
from mewswright.model.quarters import Quarters
from mewswright.model.row import Row
from mewswright.model.yard import Yard


@dataclass(frozen=True)
class LoadedCorridor:
    """A corridor with its loads and lines of force; marks are those of the whole row."""

    yard: Yard
    whole: Quarters
    built: BuiltFrame
    loads: Actions
    lines: Lines
    marks: Mapping[str, str]


def loaded_corridor(yard: Yard, quarters: Quarters) -> LoadedCorridor | None:
    """Load the corridor of a row; None for a unit, or a row without one.

    Raises:
        Problem: For a corridor by itself: it is checked with what it leans on.
    """
    leant_on = next((row for row in yard.row if quarters.name in row.leaning), None)
    if leant_on is not None:
        raise Problem(
            f"{quarters.name!r} leans on row {leant_on.name!r} and is checked with it: ask for "
            f"the frame of {leant_on.name!r}"
        )
    row = row_named(yard, quarters.name)
    found = corridor_behind(yard, row) if row is not None else None
    if row is None or found is None:
        return None
    seen, whole = corridor_as_one(yard, row)
    built = built_frame(seen, whole)
    places = {
        tuple(round(at) for at in stick.start_mm): part.mark
        for part in built_frame(yard, quarters).parts
        for stick in part.sticks
    }
    marks = {}
    for part in built.parts:
        for x, y, z in (stick.start_mm for stick in part.sticks[:1]):
            at = (round(x), round(y + found.behind_mm), round(z))
            marks[part.mark] = places.get(at, part.mark)
    loads = actions_on(seen, whole, built)
    return LoadedCorridor(seen, whole, built, loads, lines_of(built, whole.depth_mm), marks)


def corridor_as_one(yard: Yard, row: Row) -> tuple[Yard, Quarters]:
    """The corridor of a row as one unit, in the yard that it is seen in."""
    # Without the row seen as one, which would stand as a neighbour beside its own units.
    plain = yard.model_copy(
        update={"quarters": tuple(q for q in yard.quarters if q.name != row.name)}
    ).with_own_standards(yard.own_standards)
    return unit_or_row(plain, row.corridor_name)


def as_of_row(one: MemberResult, corridor: LoadedCorridor) -> MemberResult:
    """A result by the row's marks and in the row's words."""
    what = one.what.removesuffix(", front") if one.what == f"{LEDGER}, front" else one.what
    return replace(one, mark=corridor.marks.get(one.mark, one.mark), what=f"corridor, {what}")


def corridor_told(yard: Yard, quarters: Quarters) -> Iterator[str]:
    """What was assumed in loading the corridor of a row, or left out for one of its units."""
    row = row_named(yard, quarters.name)
    beside = row_with(yard, quarters.name)
    if row is None and beside is not None and beside.corridor_mm is not None:
        yield (
            f"the corridor that leans on it is not counted here: its load on the back wall is in "
            f"the frame check of row {beside.name!r}"
        )
    if row is None or row.corridor_mm is None:
        return
    yield (
        "the corridor carries snow and wind as a unit of its own, with the drift that the row's "
        "roof throws on it; snow that slides off the row's roof onto it is not reckoned"
    )
    yield (
        "its ledger is a beam over the uprights of the back wall, pieces of it joined there count "
        "as one; what it brings down is added to those uprights in their middle, and not to the "
        "head plate above; its bolts and the hangers of its rafters are checked by those reactions"
    )
    yield (
        "the corridor must stand as though it stood alone; the row stands without its weight and "
        "takes the wind on its back wall as though there were none"
    )
    yield (
        "rain off the corridor's roof, and off the row's roof onto it, is not in the drainage: "
        "give its outer eave a gutter of its own"
    )


def corridor_joints(
    yard: Yard, quarters: Quarters, corridor: LoadedCorridor, brought: Carried, stands: Stability
) -> list[Joint]:
    """The joints of a corridor: its path to the ground, its hangers, and its ledger's bolts.

    Args:
        yard: The yard.
        quarters: The row.
        corridor: Its corridor under load.
        brought: What the corridor's beams bring down.
        stands: What holds the corridor down.
    """
    row = row_named(yard, quarters.name)
    assert row is not None
    loads, frame = corridor.loads, corridor.whole.frame
    found = joints_of(corridor.whole, loads, corridor.lines, brought, stands)
    found += ledger_bolts(
        brought.down["front"], loads.factors, frame.strength_class,
        breadth_depth_mm(frame.rafter), ledger_upright_mm(yard, row),
    )  # fmt: skip
    return [replace(joint, name=f"corridor, {joint.name}") for joint in found]
