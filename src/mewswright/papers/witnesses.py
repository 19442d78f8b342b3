"""Which sources a pack leans on, and how far to trust each."""

from collections.abc import Iterable, Iterator

from pydantic import BaseModel

from mewswright import handbook
from mewswright.checks.finding import Evidence
from mewswright.papers.record import SourceLine


def evidence_in(value: object) -> Iterator[Evidence]:
    """Give every piece of evidence inside a model, however deep it lies."""
    if isinstance(value, Evidence):
        yield value
    elif isinstance(value, BaseModel):
        for name in type(value).model_fields:
            yield from evidence_in(getattr(value, name))
    elif isinstance(value, (list, tuple)):
        for item in value:
            yield from evidence_in(item)


def source_lines(parts: Iterable[object]) -> tuple[SourceLine, ...]:
    """Give each source that findings and briefs name, by name, with the handbook's word on it.

    Args:
        parts: Findings, briefs, or anything that holds evidence.
    """
    known = {source.cite: source for source in handbook.sources().values()}
    ways: dict[str, set[str]] = {}
    for part in parts:
        for one in evidence_in(part):
            ways.setdefault(one.name, set()).add(one.how_known)
    return tuple(
        SourceLine(
            name=name,
            how_known=tuple(sorted(ways[name])),
            trust=known[name].trust if name in known else _trust(name),
            address=(known[name].address or "") if name in known else "",
        )
        for name in sorted(ways, key=lambda n: (n.lower(), n))
    )


# Names that findings and briefs give to what the keeper wrote, not to a source of the handbook.
OF_THE_YARD = (
    "measured on the bird",
    "the yard file",
    "the keeper's own limit",
    "house limits of the yard file",
)


def _trust(name: str) -> str:
    """Say how far to trust what is not in the handbook's list of sources."""
    if name in OF_THE_YARD:
        return "Given by the yard file."
    if any(name == standard.name for standard in handbook.standards()):
        return "The standard as a whole, in our summary. Its own text decides."
    return "Not in the handbook's list of sources: the finding says what it rests on."
