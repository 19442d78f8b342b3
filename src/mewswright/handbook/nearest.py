"""The sentence for a name that is not in a table."""

from collections.abc import Iterable, Mapping
from difflib import get_close_matches

from mewswright.model.problem import Problem

FEW = 12  # so many names still read as a list; more of them need the nearest picked out


def unknown(
    kind: str,
    given: str,
    known: Iterable[str],
    advice: str = "",
    other_names: Mapping[str, str] | None = None,
) -> Problem:
    """A problem that names what was given and what comes nearest.

    Args:
        kind: What was looked for, in the singular: `species`, `standard`.
        given: The name as given.
        known: Every name there is.
        advice: What to do when no name comes near.
        other_names: Further names, in small letters, and the known name of each.
    """
    names = sorted(set(known))
    wanted = _plain(given)
    called = {_plain(name): name for name in names}
    for other, name in (other_names or {}).items():
        called.setdefault(_plain(other), name)
    near = [called[name] for name in get_close_matches(wanted, called, n=5, cutoff=0.6)]
    if not near and wanted:
        near = [name for key, name in called.items() if wanted in key]
    near = list(dict.fromkeys(near))[:3]
    if near:
        return Problem(f"no {kind} {given!r}; nearest: {', '.join(near)}")
    if len(names) <= FEW:
        return Problem(f"no {kind} {given!r}; there are: {', '.join(names)}")
    tail = advice or "see the tables with 'mewswright handbook'"
    return Problem(f"no {kind} {given!r} and no name near it among {len(names)}; {tail}")


def _plain(name: str) -> str:
    return name.strip().lower().replace(" ", "_").replace("-", "_")
