"""Write changes into the text of a yard file; comments and order stay."""

from collections.abc import Iterable, Mapping
from typing import Any

from mewswright.fit.change import Edit, make, step_to
from mewswright.model.comments import lifted, set_back
from mewswright.model.problem import Problem
from mewswright.model.yard import Yard
from mewswright.model.yard_file import parse_yard


def written(text: str, edits: Iterable[Edit], promised: Yard, name: str) -> str:
    """Make edits in the text of a yard file.

    Args:
        text: The text that `promised` came from before the edits.
        edits: The edits, in order.
        promised: The yard that the text must then give.
        name: Name of the file, for a refusal.

    Returns:
        The new text.

    Raises:
        Problem: If the text does not give the yard that was promised; nothing is lost by it.
    """
    import tomlkit

    bare, headings = lifted(text)
    document = tomlkit.parse(bare)
    by_table: dict[str, list[Edit]] = {}
    for edit in edits:
        plain = _plain(edit.value)
        plain = Edit(edit.path, plain, edit.how)
        by_table.setdefault(str(edit.path[0]), []).append(plain)
    for table, of_table in by_table.items():
        if table not in document:
            document[table] = tomlkit.aot()
        _make_in(document, table, of_table)
    new = set_back(tomlkit.dumps(document), headings)
    # The keeper's own standards are no part of the text, and of the comparison neither.
    if parse_yard(new, name).with_own_standards(promised.own_standards) != promised:
        raise Problem(
            f"{name}: the changes cannot be written into it without losing something: "
            "make them by hand, from the steps"
        )
    return new


def _make_in(document: Any, table: str, edits: list[Edit]) -> None:
    import tomlkit

    rows = document[table]
    ready: list[Edit] = []
    try:
        for edit in edits:
            if edit.how == "add":
                target = rows
                if len(edit.path) > 2:
                    parent = step_to(rows, edit.path[1:-1])
                    braced = isinstance(parent, tomlkit.items.InlineTable)
                    empty = tomlkit.array() if braced else tomlkit.aot()
                    target = parent.setdefault(edit.path[-1], empty)
                in_line = isinstance(target, tomlkit.items.Array)
                ready.append(Edit(edit.path, _table(edit.value, in_line), "add"))
            else:
                ready.append(edit)
        make(rows, ready)
    except LookupError as error:
        raise Problem(f"no {table} {error.args[0]!r} in this text: read the file again") from error


def _table(values: Mapping[str, Any], in_line: bool) -> Any:
    """A table as its neighbours are written: under its own heading, or within braces."""
    import tomlkit

    table = tomlkit.inline_table() if in_line else tomlkit.table()
    for key, value in values.items():
        table[key] = value
    if not in_line:
        table.add(tomlkit.nl())  # a blank line before whatever comes next
    return table


def _plain(value: Any) -> Any:
    """Values as TOML writes them best: 1816, not 1816.0, and lists for tuples."""
    if isinstance(value, float) and value == int(value):
        return int(value)
    if isinstance(value, (tuple, list)):
        return [_plain(one) for one in value]
    if isinstance(value, Mapping):
        return {key: _plain(one) for key, one in value.items() if one is not None}
    return value
