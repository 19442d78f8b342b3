"""`mewswright brief`: what each bird needs of its quarters, and why."""

from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from mewswright.cli.days import On, day_of
from mewswright.cli.problems import refusing

if TYPE_CHECKING:
    from mewswright.checks.brief import BirdBrief, Housing
    from mewswright.checks.brief_parts import Loft, Need, Tether
    from mewswright.checks.finding import Evidence


def command(
    yard_file: Annotated[Path, typer.Argument(metavar="YARD", help="The yard file.")],
    bird: Annotated[str | None, typer.Option(help="Only this bird.")] = None,
    on: On = None,
    as_json: Annotated[bool, typer.Option("--json", help="Print the briefs as JSON.")] = False,
) -> None:
    """Say what each bird needs of its quarters, and why. Exit 0: briefed. 2: bad input."""
    with refusing():
        from mewswright.checks.brief import yard_briefs
        from mewswright.checks.open import open_yard

        found = yard_briefs(open_yard(yard_file), bird, day_of(on))
    if as_json:
        typer.echo(found.model_dump_json(indent=2))
    else:
        typer.echo("\n\n".join("\n".join(_lines(one)) for one in found.birds))


SHOWN = {"degC": "°C", "m2": "m²", "m3": "m³"}  # units as a sentence has them


def _lines(brief: "BirdBrief") -> Iterator[str]:
    sex = {"m": ", male", "f": ", female", "unknown": ""}[brief.sex]
    yield f"{brief.bird} ({brief.common_name}{sex})"
    yield from _housing(brief.housing)
    yield from _tether(brief.tether)
    yield "  Smallest loft"
    yield from (_loft(loft) for loft in brief.lofts)
    for title, needs in (
        ("Perches", brief.perches),
        ("Bath", brief.bath),
        ("Faces", brief.faces),
        ("Warmth", brief.warmth),
        ("Must not see", brief.must_not_see),
        ("Company", brief.company),
    ):
        yield f"  {title}"
        yield from _needs(needs)
    yield "  Assumed"
    yield from (f"    {text}" for text in brief.assumed or ("nothing: all was measured",))


def _housing(housing: "Housing") -> Iterator[str]:
    yield f"  Housing: {housing.advice}"
    yield f"    practice: {housing.reason}{_from(housing.sources)}"
    for said in housing.standards:
        word = said.tether.replace("_", " ")
        yield f"    {said.name}: tether {word}; {said.reason}{_from(said.sources)}"
    if housing.time_limits:
        yield from _needs(housing.time_limits)
    yield from (f"    mind: {text}" for text in housing.disagreements)


def _tether(tether: "Tether | None") -> Iterator[str]:
    if tether is None:
        yield "  Free circle: none, for it goes loose"
        return
    yield f"  Free circle: {tether.radius_mm:.0f} mm from the perch, all round"
    for term in tether.terms:
        how = "" if term.measured else ", assumed"
        yield f"    {term.value_mm:.0f} mm {term.what.replace('_', ' ')}{how}{_from([term.source])}"
    yield f"    {tether.overhead_mm:.0f} mm of air over the perch"


def _loft(loft: "Loft") -> str:
    if not loft.known:
        return f"    {loft.name}: not known; {loft.reason}"
    sizes = [
        (loft.floor_area_m2, "{:.2f} m² floor"),
        (loft.volume_m3, "{:.1f} m³"),
        (loft.height_mm, "{:.0f} mm high"),
        (loft.shortest_side_mm, "shortest side {:.0f} mm"),
        (loft.longest_side_mm, "longest side {:.0f} mm"),
    ]
    text = ", ".join(form.format(value) for value, form in sizes if value is not None)
    many = "" if loft.birds == 1 else f" for {loft.birds} birds"
    return f"    {loft.name}{many}: {text}; {loft.reason}{_from(loft.sources)}"


def _needs(needs: "Iterable[Need]") -> Iterator[str]:
    empty = True
    for need in needs:
        empty = False
        value = need.value if isinstance(need.value, str) else f"{need.value:.6g}"
        value += f" to {need.to:.6g}" if need.to is not None else ""
        unit = f" {SHOWN.get(need.unit, need.unit)}" if need.unit else ""
        standard = f" [{need.standard}]" if need.standard else ""
        reason = f"; {need.reason}" if need.reason else ""
        what = need.what.replace("_", " ")
        yield f"    {what}: {value}{unit}{standard}{reason}{_from(need.sources)}"
    if empty:
        yield "    none"


def _from(sources: "Iterable[Evidence]") -> str:
    names = [f"{s.name}, {s.how_known}" for s in sources]
    return f" ({names[0]}{' and others' if len(names) > 1 else ''})" if names else ""
