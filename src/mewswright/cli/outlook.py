"""`mewswright outlook`: what reaches the quarters from round about, and how they are watched."""

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from mewswright.cli.problems import refusing
from mewswright.cli.saying import say

if TYPE_CHECKING:
    from mewswright.checks.outlook_told import OutlookReport
    from mewswright.model.yard import Yard


def command(
    yard_file: Annotated[Path, typer.Argument(metavar="YARD", help="The yard file.")],
    quarters: Annotated[
        str | None, typer.Option("--quarters", help="Only these; cameras and walks stay whole.")
    ] = None,
    out: Annotated[
        Path | None, typer.Option("--out", metavar="DIR", help="Folder for a plan of each part.")
    ] = None,
    as_json: Annotated[bool, typer.Option("--json", help="Print the answer as JSON.")] = False,
) -> None:
    """Tell sound, spores, falls, water, fire, cameras, doors and walks. Exit 0 or 2."""
    with refusing():
        from mewswright.checks.open import open_yard
        from mewswright.checks.outlook_report import outlook_report

        yard = open_yard(yard_file)
        report = outlook_report(yard, quarters)
        if out is not None:
            _draw(yard, report, out)
    say(report, as_json, _spoken)


def _draw(yard: "Yard", report: "OutlookReport", out: Path) -> None:
    from mewswright.checks.outlook_layers import outlook_layers
    from mewswright.cli.layers import drawn_layers, write_scenes
    from mewswright.drawing.door_graph import door_graph_plan

    scenes = drawn_layers(yard, outlook_layers(yard, report))
    write_scenes(scenes | {"doors": door_graph_plan(yard, report)}, out)


def _spoken(report: "OutlookReport") -> Iterator[str]:
    parts = {
        "Sound": ("sound", _sound), "Spores": ("spores", _spores), "Falls": ("falls", _falls),
        "Overhead lines": ("overhead", _overhead), "Water down the slope": ("water", _water),
        "Fire": ("fire", _fire), "Cameras": ("cameras", _cameras), "Doors": ("doors", _doors),
        "Walks": ("walks", _walks),
    }  # fmt: skip
    yield f"Outlook of {report.yard}"
    for title, (key, told) in parts.items():
        yield ""
        yield title
        lines = list(told(report))
        yield from (f"  {line}" for line in lines or ("nothing to tell",))
        yield f"  How: {report.how[key]}"
        yield f"  How sure: {report.sure[key]}"


def _sound(report: "OutlookReport") -> Iterator[str]:
    for one in report.sound:
        level = "loudness not given" if one.level_db is None else f"{one.level_db:.0f} dB"
        wall = f", wall takes {one.loss_db:.0f} dB" if one.detour_m is not None else ""
        minds = ", ".join(bird.bird for bird in one.birds if bird.minds)
        yield (
            f"{one.quarters}: {one.source}, {one.distance_m:.1f} m, {level}, {one.loudness}{wall}"
            + (f"; minded by {minds}" if minds else "")
        )


def _spores(report: "OutlookReport") -> Iterator[str]:
    for one in report.spores:
        if not one.near and not one.carried:
            continue
        wind = "" if one.wind_share_pct is None else f", wind {one.wind_share_pct:.0f} % of hours"
        when = "" if one.months is None else f", months {', '.join(map(str, one.months))}"
        prone = f"; prone: {', '.join(one.prone_birds)}" if one.prone_birds else ""
        yield (
            f"{one.quarters}: {one.source}, {one.distance_m:.1f} m of {one.limit_m:g} m{wind}"
            f"{when}{prone}"
        )


def _falls(report: "OutlookReport") -> Iterator[str]:
    for one in report.falls:
        if one.reaches or one.crown_may_reach or one.branch_overhangs:
            what = "reaches it" if one.reaches else "its broken crown may reach it"
            lean = ", leans this way" if one.leans_here else ""
            over = ", a branch hangs over it" if one.branch_overhangs else ""
            yield (
                f"{one.quarters}: {one.tree} ({one.condition}), {one.height_m:g} m high, "
                f"{one.distance_m:.1f} m off: {what}{lean}{over}"
            )


def _overhead(report: "OutlookReport") -> Iterator[str]:
    for one in report.overhead:
        if one.near or one.falls_on:
            yield f"{one.quarters}: {one.line}, {one.distance_m:.1f} m of {one.clear_m:.1f} m"


def _water(report: "OutlookReport") -> Iterator[str]:
    for one in report.water:
        if one.from_above:
            yield f"{one.quarters}: water comes from {', '.join(one.from_above)}"
        for pond in one.ponds:
            high, away = f"{pond.above_m:.2f} m over", f"{pond.distance_m:.1f} m off"
            yield f"{one.quarters}: {high} {pond.pond}, {away}"


def _fire(report: "OutlookReport") -> Iterator[str]:
    for one in report.fire:
        if one.near:
            yield f"{one.quarters}: {one.thing}, {one.distance_m:.1f} m of {one.wanted_m:g} m"


def _cameras(report: "OutlookReport") -> Iterator[str]:
    cover = report.cameras
    for one in cover.cover:
        by = f" by {', '.join(one.cameras)}" if one.cameras else ""
        yield f"{one.kind} {one.name}: {one.shown_pct:.0f} %{by}"
    yield f"blind ground: {cover.blind_m2:.0f} of {cover.ground_m2:.0f} m2"


def _doors(report: "OutlookReport") -> Iterator[str]:
    for one in report.doors:
        way = f", {' to '.join(one.rooms)}" if one.rooms else ""
        count = "no way out" if one.doors is None else _counted(one.doors)
        yield f"{one.quarters}: {'WEAK, ' if one.weak else ''}{count}{way}: {one.why}"


def _walks(report: "OutlookReport") -> Iterator[str]:
    walks = report.walks
    if walks.round_m is not None:
        proven = "proven shortest" if walks.proven else "best found"
        yield f"daily round from {walks.start or walks.order[0]}: {walks.round_m:.0f} m ({proven})"
        yield f"  {', '.join(walks.order)}"
    for name in walks.unreached:
        yield f"no way leads to {name}"
    for one in walks.barrow:
        length = "no way for a barrow" if one.length_m is None else f"{one.length_m:.0f} m"
        yield f"barrow from {one.start} to {one.end}: {length}"
    if (flight := walks.to_flying_ground) is not None:
        length = "no way" if flight.length_m is None else f"{flight.length_m:.0f} m"
        yield f"{flight.start} to {flight.end}: {length}, {flight.straight_m:.0f} m straight"
    if walks.missing:
        yield f"not in the file: {', '.join(walks.missing)}"


def _counted(doors: int) -> str:
    return "1 door" if doors == 1 else f"{doors} doors"
