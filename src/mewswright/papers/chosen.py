"""Which units a pack draws and takes off: quarters, rows of them, and corridors behind rows."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from mewswright.build.row import row_named, unit_or_row
from mewswright.model.problem import Problem
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard
from mewswright.papers.record import LeftOut


@dataclass(frozen=True)
class Choice:
    """One unit of a pack, in the yard that it is worked out in.

    A row seen as one unit stands in a yard of its own, so that it is no neighbour to its units.
    """

    yard: Yard
    quarters: Quarters
    twice: str = ""  # where other lists of the pack hold the same parts: which


def chosen(
    yard: Yard, names: Sequence[str] | None
) -> tuple[tuple[Choice, ...], tuple[LeftOut, ...]]:
    """Choose what to build, in the order of the yard file: quarters, then rows and corridors.

    Args:
        yard: The yard.
        names: Names of quarters, rows and corridors; all that have a frame, if None.

    Returns:
        The units, and what is left out of the pack and why.

    Raises:
        Problem: For an unknown name, or quarters without a frame that were asked for by name.
    """
    if names is None:
        found, broken = _all_rows(yard)
        built = [q for q in yard.quarters if q.kind != "pitch"]
        choices = (*(Choice(yard, q) for q in built), *found)
        return choices, (*_left_out(yard, built), *broken)
    wanted = [_asked(yard, name) for name in dict.fromkeys(names)]
    for choice in wanted:
        if choice.quarters.kind == "pitch":
            can = ", ".join(q.name for q in yard.quarters if q.kind != "pitch") or "none at all"
            raise Problem(
                f"--quarters {choice.quarters.name!r} is a pitch: it has no frame to draw or take "
                f"off; there are: {can}"
            )
    order = [q.name for q in yard.quarters]
    wanted.sort(key=lambda c: order.index(c.quarters.name) if c.quarters.name in order else 1000)
    return tuple(wanted), _left_out(yard, [choice.quarters for choice in wanted])


def _left_out(yard: Yard, built: Sequence[Quarters]) -> tuple[LeftOut, ...]:
    names = {quarters.name for quarters in built}
    return tuple(
        LeftOut(
            quarters=q.name,
            why="a pitch on the lawn: it has no frame" if q.kind == "pitch" else "not asked for",
        )
        for q in yard.quarters
        if q.name not in names
    )


def _all_rows(yard: Yard) -> tuple[list[Choice], list[LeftOut]]:
    """Give each row and each corridor; a row that does not fit together leaves its reason."""
    found, broken = [], []
    for name in _row_names(yard):
        try:
            found.append(_asked(yard, name))
        except Problem as problem:
            broken.append(LeftOut(quarters=name, why=str(problem)))
    return found, broken


def _row_names(yard: Yard) -> Iterator[str]:
    for row in yard.row:
        yield row.name
        if row.leaning:
            yield row.corridor_name


def _asked(yard: Yard, name: str) -> Choice:
    seen, quarters = unit_or_row(yard, name)
    row = row_named(yard, name)
    if row is not None:
        behind = f", and all of {row.corridor_name} behind them" if row.leaning else ""
        units = " and ".join(filter(None, (", ".join(row.quarters[:-1]), row.quarters[-1])))
        return Choice(
            seen, quarters,
            f"The lists of {name} hold every part of {units}, shared walls once{behind}: buy and "
            "saw by them or by the lists of each, never by both.",
        )  # fmt: skip
    return Choice(seen, quarters)
