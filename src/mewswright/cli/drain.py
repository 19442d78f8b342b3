"""`mewswright drain`: where all water of one unit goes."""

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from mewswright.cli.problems import refusing
from mewswright.cli.saying import say

if TYPE_CHECKING:
    from mewswright.build.water.answers import (
        BathAnswer,
        Drainage,
        GutterAnswer,
        RoofWater,
        SoakawayAnswer,
    )


def command(
    yard_file: Annotated[Path, typer.Argument(metavar="YARD", help="The yard file.")],
    quarters: Annotated[
        str, typer.Argument(metavar="QUARTERS", help="Name of the quarters, or of a row.")
    ],
    as_json: Annotated[bool, typer.Option("--json", help="Print the answer as JSON.")] = False,
) -> None:
    """Say where rain and wash water of one unit go, and size what leads them. Exit 0 or 2."""
    with refusing():
        from mewswright.build.row import unit_or_row
        from mewswright.build.water.report import drainage
        from mewswright.checks.open import open_yard

        answer = drainage(*unit_or_row(open_yard(yard_file), quarters))
    say(answer, as_json, _spoken)


def _spoken(answer: "Drainage") -> Iterator[str]:
    yield f"Water of {answer.quarters}, {answer.yard}"
    yield ""
    if answer.roof is None:
        yield "Roof: none, so no rain to lead away"
    else:
        yield from _roof(answer.roof)
    if answer.gutter:
        yield _gutter(answer.gutter)
    if butt := answer.butt:
        yield f"Butt: {butt.size_l:.0f} l, {butt.words}"
        if butt.days_to_fill_wettest is not None and butt.days_to_fill_driest is not None:
            yield (
                f"  mean rain fills it in {butt.days_to_fill_wettest:.0f} days of the wettest "
                f"month, {butt.days_to_fill_driest:.0f} of the driest"
            )
    if answer.soakaway:
        yield _soakaway(answer.soakaway)
    for name, second in (("", answer.second), ("Corridor", answer.corridor)):
        if second is None:
            continue
        if name:
            yield name
        yield from _roof(second.roof)
        if second.gutter:
            yield _gutter(second.gutter)
        if second.soakaway:
            yield _soakaway(second.soakaway)
    ground = answer.ground
    yield (
        f"Ground: {ground.fall_soft_mm:g} mm down over {ground.over_m:g} m of soil, "
        f"{ground.fall_paved_mm:g} mm of paving; {ground.words}"
    )
    floor = answer.floor
    asked = f", {floor.wanted_pct:g} % wanted" if floor.wanted_pct is not None else ""
    yield (
        f"Floor: falls {floor.fall_pct:g} %{asked}; {floor.words}; drain {floor.drain_mm:g} mm "
        f"with {floor.drain_fall_mm_per_m:g} mm a metre"
    )
    for bath in answer.baths:
        yield from _bath(bath)
    for head, lines in (
        ("Assumed", answer.assumptions), ("Mind", answer.cautions), ("Sources", answer.sources)
    ):  # fmt: skip
        yield ""
        yield head
        yield from (f"  {line}" for line in lines)


def _gutter(gutter: "GutterAnswer") -> str:
    return (
        f"Gutter: half-round {gutter.diameter_mm:g} mm, {gutter.length_m:.2f} m, "
        f"outlet {gutter.outlet_mm:g} mm at {gutter.downpipe_at}; "
        f"{gutter.utilisation:.0%} of {gutter.capacity_l_s:.2f} l/s used; fall "
        f"{gutter.least_fall_mm:.0f} mm at least, {gutter.wished_fall_mm:.0f} mm wished; full "
        f"it holds {gutter.water_kg:.0f} kg"
    )


def _soakaway(soak: "SoakawayAnswer") -> str:
    size = f"{soak.store_m3:.2f} m3 of water, {soak.rubble_m3:.1f} m3 of rubble" if (
        soak.store_m3 is not None
    ) else "not sized"  # fmt: skip
    at = f" at {soak.place_m}, {soak.from_downpipe_m} m from the downpipe" if (
        soak.place_m
    ) else ""  # fmt: skip
    return f"Soakaway: {size}{at}: {soak.words}"


def _roof(roof: "RoofWater") -> Iterator[str]:
    fall = f"1:{roof.falls_one_in:g}" if roof.falls_one_in else "level"
    yield (
        f"Roof: {roof.plan_area_m2:.1f} m2 of {roof.cover}, {fall} to the {roof.falls_to}; "
        f"{roof.flow_l_s:.2f} l/s in the rain that gutters are sized for; {roof.fall_words}"
    )
    for met in roof.meets:
        yield f"  before its eave: {met.name}, {met.why}"
    if roof.falls_to != "nowhere":
        yield (
            "  a gutter is needed"
            if roof.gutter_needed
            else ("  nothing lies before its eave: it may drip on a strip of stone")
        )


def _bath(bath: "BathAnswer") -> Iterator[str]:
    yield (
        f"Bath {bath.name}: {bath.volume_l:.0f} l, empties in {bath.empties_min:.1f} min through "
        f"{bath.outlet_mm:g} mm"
        + (", as it drains" if bath.drains else ", if it had a drain")
        + f"; waste falls {bath.waste_fall_mm_per_m[0]:g} to {bath.waste_fall_mm_per_m[1]:g} mm a "
        "metre"
    )
    if (auto := bath.automatic) is not None:
        months = ", ".join(str(month) for month in auto.drain_down_months) or "none known"
        yield (
            f"  by itself (an option): {auto.pipe_m:g} m of {auto.pipe_inner_mm:g} mm pipe from "
            f"{auto.from_tap}, {auto.flow_l_s:.2f} l/s, full in {auto.fill_min:.1f} min; "
            f"{auto.words}; drained down in months {months}"
        )
