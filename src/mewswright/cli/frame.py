"""`mewswright frame`: how a unit stands in this yard's snow and wind."""

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from mewswright.cli.problems import refusing

if TYPE_CHECKING:
    from mewswright.build.frame_report import FrameReport

NOT_SOUND = 1


def command(
    yard_file: Annotated[Path, typer.Argument(metavar="YARD", help="The yard file.")],
    quarters: Annotated[
        str, typer.Argument(metavar="QUARTERS", help="Name of the quarters, or of a row.")
    ],
    as_json: Annotated[bool, typer.Option("--json", help="Print the result as JSON.")] = False,
) -> None:
    """Check the frame of a unit, from its roof to the ground.

    A first sizing, not an approval. Exit 0: sound. 1: not. 2: bad input.
    """
    with refusing():
        from mewswright.build.frame_report import frame_report
        from mewswright.build.row import unit_or_row
        from mewswright.checks.open import open_yard

        yard, unit = unit_or_row(open_yard(yard_file), quarters)
        report = frame_report(yard, unit)
    if as_json:
        import json

        typer.echo(json.dumps(report.contract(), ensure_ascii=False, indent=2))
    else:
        typer.echo("\n".join(_spoken(report)))
    raise typer.Exit(0 if report.sound else NOT_SOUND)


def _mark(share: float | None) -> str:
    return "✓" if share is not None and share <= 1 else "✕"


def _pct(share: float | None) -> str:
    if share is None or share == float("inf"):
        return "nothing resists"
    return f"{100 * share:.0f} %"


def _spoken(report: "FrameReport") -> Iterator[str]:
    yield f"{report.quarters}, {report.yard}, by {report.edition}"
    yield from (f"An engineer must decide: {reason}" for reason in report.refusals)
    yield ""
    yield "Loads"
    for one in report.actions:
        yield f"  {one['name']}: {one['value']:.3g} {one['unit']} ({one['clause']})"
    yield ""
    yield "Members, by what each uses most"
    for member in report.members:
        yield (
            f"{_mark(member.utilisation)} {member.mark} {member.what}, {member.section} "
            f"{member.strength_class}, {member.length_mm:g} mm: {_pct(member.utilisation)}, "
            f"{member.governing} under {member.combination}"
        )
    for check in report.deck:
        yield f"{_mark(check['utilisation'])} {check['name']}: {_pct(check['utilisation'])}"
    yield ""
    yield "Fastened from the roof to the ground, at one rafter and one post"
    for joint in report.joints:
        yield (
            f"{_mark(joint['utilisation'])} {joint['name']}: {joint['count']} x {joint['means']}, "
            f"{_pct(joint['utilisation'])}"
        )
    yield ""
    yield "Standing"
    stands = report.stability
    for key in ("uplift", "sliding", "overturning", "racking"):
        worst = max(
            stands[key],
            key=lambda one: float("inf") if one["utilisation"] is None else one["utilisation"],
            default=None,
        )
        if worst is not None:
            yield (
                f"{_mark(worst['utilisation'])} {key}: {_pct(worst['utilisation'])}, "
                f"{worst['direction']}"
            )
    if stands["sway_mm"] is not None:
        yield f"  sway {stands['sway_mm']:g} mm, limit {stands['sway_limit_mm']:g} mm"
    bearing = report.bearing
    yield f"{_mark(bearing['utilisation'])} ground under {bearing['direction']}: " + _pct(
        bearing["utilisation"]
    )
    anchors = report.anchors
    yield f"  anchors: {anchors['count']} x {anchors['anchor'].replace('_', ' ')}" + (
        f", needed {anchors['needed']}" if anchors["needed"] is not None else ""
    )
    yield from (f"    {note}" for note in anchors["notes"] if anchors["offers"])
    if anchors["chosen"]:
        yield f"    {anchors['chosen']}"
    yield ""
    yield "Sound." if report.sound else f"Not sound. Weakest: {report.weakest}"
    yield ""
    yield from report.cautions
