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
            trust=known[name].trust if name in known else "Given by the yard file.",
            address=(known[name].address or "") if name in known else "",
        )
        for name in sorted(ways, key=lambda n: (n.lower(), n))
    )
