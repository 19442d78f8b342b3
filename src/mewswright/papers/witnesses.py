"""Which sources a pack leans on, and how far to trust each."""

from collections.abc import Iterable, Iterator

from pydantic import BaseModel

from mewswright import handbook
from mewswright.checks.finding import Evidence
from mewswright.model.standard_file import StandardFile
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


def source_lines(
    parts: Iterable[object], own: Iterable[StandardFile] = ()
) -> tuple[SourceLine, ...]:
    """Give each source that findings and briefs name, by name, with the handbook's word on it.

    Args:
        parts: Findings, briefs, or anything that holds evidence.
        own: The keeper's own standards, which bring sources of their own.
    """
    known = {source.cite: source for source in handbook.sources().values()}
    named = [standard.name for standard in handbook.standards()]
    for file in own:
        named.append(file.standard.name)
        for source in file.source:
            own_source = handbook.Source(source.key, source.cite, source.trust, source.address)
            known.setdefault(source.cite, own_source)
    ways: dict[str, set[str]] = {}
    for part in parts:
        for one in evidence_in(part):
            ways.setdefault(one.name, set()).add(one.how_known)
    return tuple(
        SourceLine(
            name=name,
            how_known=tuple(sorted(ways[name])),
            trust=known[name].trust if name in known else _trust(name, named),
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


def _trust(name: str, standards: Iterable[str]) -> str:
    """Say how far to trust what is not in the handbook's list of sources."""
    if name in OF_THE_YARD:
        return "Given by the yard file."
    if name in standards:
        return "The standard as a whole, in our summary. Its own text decides."
    return "Not in the handbook's list of sources: the finding says what it rests on."
