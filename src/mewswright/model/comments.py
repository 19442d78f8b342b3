"""Comments that head a table, kept at that table when others before it change.

A TOML writer counts a comment before a header among the table above it: a key or a table
put at the end of that one would land below the comment, and a table taken away would take
the comment with it. So such comments are lifted out, and set back before their own header.
"""

import tomllib
from dataclasses import dataclass
from typing import Any

from mewswright.model.positions import Path, line_of_each_key

Identity = tuple[str, ...]


@dataclass(frozen=True)
class Heading:
    """Lines that stand before the header of a table, from the first comment on."""

    lines: tuple[str, ...]
    before: tuple[Identity, ...]  # the table that it heads, and those that follow it


def lifted(text: str) -> tuple[str, tuple[Heading, ...]]:
    """Take the comments that head tables out of a TOML text.

    Args:
        text: A text that a TOML reader takes.

    Returns:
        The text without them, and what was taken, in order. `set_back` undoes it.
    """
    lines = text.splitlines(keepends=True)
    headers = _headers(text)
    order = [identity for _, identity in headers]
    kept, taken, done = [], [], 0
    for n, (line, _) in enumerate(headers):
        first = _first_comment(lines, line - 1)
        kept += lines[done : first if first is not None else line - 1]
        if first is not None:
            taken.append(Heading(tuple(lines[first : line - 1]), tuple(order[n:])))
        done = line - 1
    kept += lines[done:]
    return "".join(kept), tuple(taken)


def set_back(text: str, headings: tuple[Heading, ...]) -> str:
    """Put comments back before their tables.

    A comment whose table is gone goes before the next one that is there, or to the end.
    """
    lines = text.splitlines(keepends=True)
    places: dict[Identity, int] = {}
    for line, identity in _headers(text):
        places.setdefault(identity, line - 1)
    inserts: dict[int, list[str]] = {}
    for heading in headings:
        at = next((places[one] for one in heading.before if one in places), len(lines))
        inserts.setdefault(at, []).extend(heading.lines)
    out: list[str] = []
    for i in range(len(lines) + 1):
        new = inserts.get(i, [])
        if new and out and not out[-1].endswith("\n"):
            out[-1] += "\n"
        out += new
        out += lines[i : i + 1]
    return "".join(out)


def _first_comment(lines: list[str], header: int) -> int | None:
    """First line of the comments right before a header, blank lines among them; or None."""
    first, i = None, header - 1
    while i >= 0 and (not lines[i].strip() or lines[i].lstrip().startswith("#")):
        if lines[i].strip():
            first = i
        i -= 1
    return first if i >= 0 else None  # what heads the whole file stays where it is


def _headers(text: str) -> list[tuple[int, Identity]]:
    """Line of each header, 1 = first, with what its table is called."""
    data = tomllib.loads(text)
    lines = text.splitlines()
    found = [
        (line, _identity(data, path))
        for path, line in line_of_each_key(text).items()
        if lines[line - 1].lstrip().startswith("[")
        and (not isinstance(path[-1], str) or not isinstance(_at(data, path), list))
        and isinstance(_at(data, path), dict)
    ]
    return sorted(dict(found).items())


def _at(data: Any, path: Path) -> Any:
    for step in path:
        data = data[step]
    return data


def _identity(data: Any, path: Path) -> Identity:
    """The path of a table with names where a list has them, so that places may shift."""
    here, steps = data, []
    for step in path:
        here = here[step]
        name = here.get("name") if isinstance(step, int) and isinstance(here, dict) else None
        steps.append(f"={name}" if isinstance(name, str) else str(step))
    return tuple(steps)
