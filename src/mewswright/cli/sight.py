"""`mewswright sight`: who sees whom and what, and the screens that would hide it."""

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from mewswright.cli.problems import refusing
from mewswright.cli.saying import say

if TYPE_CHECKING:
    from mewswright.checks.sight_told import ScreenPlan, SeenThing, SightReport
    from mewswright.model.yard import Yard


def command(
    yard_file: Annotated[Path, typer.Argument(metavar="YARD", help="The yard file.")],
    quarters: Annotated[
        str | None, typer.Option("--quarters", help="Only birds that look out of these.")
    ] = None,
    bird: Annotated[str | None, typer.Option("--bird", help="Only this bird.")] = None,
    screens: Annotated[
        bool, typer.Option("--screens", help="Propose screens for all that is feared and seen.")
    ] = False,
    hide: Annotated[
        list[str] | None,
        typer.Option(
            "--hide",
            metavar="BIRD:TARGET",
            help="Propose screens that hide a bird, feature or quarters; may be given again.",
        ),
    ] = None,
    out: Annotated[
        Path | None,
        typer.Option("--out", metavar="DIR", help="Folder for a plan of what each bird sees."),
    ] = None,
    as_json: Annotated[bool, typer.Option("--json", help="Print the answer as JSON.")] = False,
) -> None:
    """Tell who sees whom, lanes, dogs, windows and food, in three dimensions. Exit 0 or 2."""
    with refusing():
        from mewswright.checks.open import open_yard
        from mewswright.checks.sight_report import sight_report

        yard = open_yard(yard_file)
        report = sight_report(
            yard, quarters, bird, screens, [_pair(yard, one) for one in hide or ()]
        )
        if out is not None:
            _draw(yard, report, out)
    say(report, as_json, _spoken)


def _pair(yard: "Yard", text: str) -> tuple[str, str]:
    """A bird and a target; names may hold colons of their own."""
    from mewswright.model.problem import Problem

    names = {bird.name for bird in yard.bird}
    for i, letter in enumerate(text):
        if letter == ":" and text[:i] in names:
            return text[:i], text[i + 1 :]
    known = ", ".join(sorted(names)) or "none at all"
    raise Problem(f"--hide {text!r}: write BIRD:TARGET; birds are: {known}")


def _draw(yard: "Yard", report: "SightReport", out: Path) -> None:
    from mewswright.checks.sight_layer import sight_layer
    from mewswright.checks.sight_report import sight_report
    from mewswright.cli.layers import write_layers

    birds = tuple(dict.fromkeys(one.bird for one in report.birds))
    whole = sight_report(yard)  # who sees a bird may live elsewhere
    write_layers(yard, {f"sight {bird}": sight_layer(yard, whole, bird) for bird in birds}, out)


def _spoken(report: "SightReport") -> Iterator[str]:
    yield f"Who sees whom and what in {report.yard}"
    if not report.birds:
        yield "No bird is housed here"
    for look in report.birds:
        seen = [s for s in report.sees if (s.bird, s.quarters) == (look.bird, look.quarters)]
        yield ""
        yield f"{look.bird} in {look.quarters}, from {len(look.eyes_m)} places"
        yield from (f"  {_line(one)}" for one in seen if one.seen)
        hidden = ", ".join(one.target for one in seen if not one.seen)
        if hidden:
            yield f"  out of sight: {hidden}"
    if report.screens or report.no_screen:
        yield ""
        yield "Screens"
        yield from (f"  {_screen(one)}" for one in report.screens)
        for lost in report.no_screen:
            yield f"  {lost.bird}, {_listed(lost.targets)}: none; {lost.why}"
    yield ""
    yield f"How: {report.method}"
    yield f"How sure: {report.sure}"
    yield "Assumed"
    yield from (f"  {line}" for line in report.assumptions)


def _line(one: "SeenThing") -> str:
    where = f" in {one.place}" if one.kind == "bird" else ""
    perch = f" from {one.from_perch}" if one.from_perch else ""
    some = "" if len(one.months) == 12 else f", in months {', '.join(map(str, one.months))}"
    feared = f"; forbidden: {one.why}" if one.forbidden else ""
    return f"sees {one.target}{where}, {one.distance_m:.1f} m{perch}{some}{feared}"


def _screen(one: "ScreenPlan") -> str:
    parts = "; ".join(
        f"[{p.from_m[0]:.2f}, {p.from_m[1]:.2f}] to [{p.to_m[0]:.2f}, {p.to_m[1]:.2f}], "
        f"{p.height_m:.2f} m high"
        for p in one.parts
    )
    where = f"on the faces of {one.at}" if one.at else "on the ground"
    held = "STILL SEEN" if one.still_seen else "asked again: hidden"
    return f"{one.bird} from {_listed(one.targets)}: {one.length_m:.2f} m {where}, {parts} ({held})"


def _listed(names: Sequence[str]) -> str:
    return " and ".join(names)
