"""One change to what stands: in words, at a price, and as edits of the yard.

The same edits make the new yard that the checks judge and the new text of the yard file,
so what is promised is what gets written.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any, Literal

from pydantic import ValidationError

from mewswright.checks.finding import Finding
from mewswright.model.bird import Bird
from mewswright.model.place import Feature
from mewswright.model.quarters import Quarters
from mewswright.model.shape import Shape
from mewswright.model.ways import Door, Space
from mewswright.model.yard import Yard

Steps = tuple[str | int, ...]
Priced = Literal["keeper", "assumption", "nothing to buy", "missing"]

# Building order: what carries before what is hung on it.
STRUCTURE, ROOF, FACES, DOORS, FLOOR, FITTINGS = range(6)

_TABLES: Mapping[str, type[Shape]] = {
    "quarters": Quarters, "space": Space, "door": Door, "bird": Bird, "feature": Feature,
}  # fmt: skip


@dataclass(frozen=True)
class Edit:
    """One edit of a yard.

    `path` names tables by their name, ("quarters", "Long loft", "fitting", "High round",
    "height_mm"), and doors by their place in the file, ("door", 3, "locks"). `put` sets a
    value (None takes the key away), `add` adds a table to the list at `path`, `drop` takes
    the table at `path` away.
    """

    path: Steps
    value: Any = None
    how: Literal["put", "add", "drop"] = "put"


@dataclass(frozen=True)
class Cost:
    """What a change costs: goods to buy, and hours of work."""

    price: Decimal | None  # in the yard's currency; None: no price is known
    priced: Priced
    hours: float
    weight: float  # price and hours as one figure, to compare changes by


def together(*costs: Cost) -> Cost:
    """Add up costs: the sum is the keeper's only where every part of it is."""
    priced: list[Priced] = [cost.priced for cost in costs if cost.priced != "nothing to buy"]
    worst: Priced = next(
        (mark for mark in ("missing", "assumption", "keeper") if mark in priced), "nothing to buy"
    )
    known = [cost.price for cost in costs if cost.price is not None]
    return Cost(
        sum(known, Decimal(0)) if len(known) == len(costs) else None,
        worst,
        round(sum(cost.hours for cost in costs), 2),
        sum(cost.weight for cost in costs),
    )


@dataclass(frozen=True)
class Change:
    """One change that a keeper can make.

    `codes` are the codes that it aims at; with `things`, only where a finding speaks of
    one of these fittings. `mm` is how far things move, to choose between equal costs.
    """

    id: str
    words: str
    codes: frozenset[str]
    edits: tuple[Edit, ...]
    cost: Cost
    order: int = FITTINGS
    things: frozenset[str] = frozenset()
    mm: float = field(default=0.0, compare=False)

    def aims_at(self, finding: Finding) -> bool:
        """It was offered against this kind of finding, at this thing."""
        return finding.code in self.codes and (
            not self.things or finding.fitting is None or finding.fitting in self.things
        )

    @property
    def paths(self) -> frozenset[Steps]:
        """The places that it writes to; two changes that share one exclude each other."""
        return frozenset(
            (*edit.path, str(edit.value.get("name", edit.value.get("between"))))
            if edit.how == "add"
            else edit.path
            for edit in self.edits
        )

    def apply(self, yard: Yard) -> Yard | None:
        """Give the yard as it would be, or None where it cannot be so.

        A model refuses what cannot exist, such as a perch above the ceiling.
        """
        return edited(yard, self.edits)


def edited(yard: Yard, edits: Iterable[Edit]) -> Yard | None:
    """Make edits in a yard; only the tables that they touch are built and validated anew.

    Returns:
        The new yard, or None where a model refuses it or a place is not there.
    """
    by_table: dict[str, list[Edit]] = {}
    for edit in edits:
        by_table.setdefault(str(edit.path[0]), []).append(edit)
    update: dict[str, object] = {}
    for table, of_table in by_table.items():
        old = getattr(yard, table)
        touched = {edit.path[1] for edit in of_table if len(edit.path) > 1}
        rows: list[Any] = [
            one.model_dump() if _is_touched(one, i, touched) else one for i, one in enumerate(old)
        ]
        model = _TABLES[table]
        try:
            make(rows, of_table)
            update[table] = tuple(
                one if isinstance(one, Shape) else model.model_validate(one) for one in rows
            )
        except (ValidationError, LookupError):
            return None
    return yard.model_copy(update=update)


def _is_touched(one: Shape, index: int, touched: set[str | int]) -> bool:
    return index in touched or getattr(one, "name", None) in touched


def make(rows: list[Any], edits: Sequence[Edit]) -> None:
    """Make the edits of one list of tables, in place. Serves plain tables and TOML alike.

    Raises:
        LookupError: Where a table is not there.
    """
    for edit in edits:
        if edit.how == "add":
            steps = edit.path[1:]
            target = step_to(rows, steps[:-1]).setdefault(steps[-1], []) if steps else rows
            if isinstance(target, tuple):  # a model's dump: lists are tuples there
                step_to(rows, steps[:-1])[steps[-1]] = target = list(target)
            target.append(edit.value)
        elif edit.how == "put":
            here = step_to(rows, edit.path[1:-1])
            if edit.value is None:
                here.pop(edit.path[-1], None)
            else:
                here[edit.path[-1]] = edit.value
    # Last, and from the end, for a door is named by its place in the list.
    dropped = [edit.path for edit in edits if edit.how == "drop"]
    for path in sorted(dropped, key=lambda path: str(path[-1]).zfill(6), reverse=True):
        parent = step_to(rows, path[1:-2])[path[-2]] if len(path) > 2 else rows
        del parent[index_of(parent, path[-1])]


def step_to(here: Any, steps: Sequence[str | int]) -> Any:
    """Walk to a table; one that is not there yet is made.

    Raises:
        LookupError: Where a list has no table of that name or place.
    """
    for step in steps:
        if hasattr(here, "keys"):
            if here.get(step) is None:
                here[step] = {}
            if isinstance(here[step], tuple):
                here[step] = list(here[step])
            here = here[step]
        else:
            here = here[index_of(here, step)]
    return here


def index_of(rows: Sequence[Any], step: str | int) -> int:
    """Give the place of a table in a list, by its name or its place.

    Raises:
        LookupError: Where there is none.
    """
    if isinstance(step, int):
        if not 0 <= step < len(rows):
            raise LookupError(step)
        return step
    for i, one in enumerate(rows):
        name = one.get("name") if hasattr(one, "get") else getattr(one, "name", None)
        if name == step:
            return i
    raise LookupError(step)
