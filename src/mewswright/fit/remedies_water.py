"""Remedies for the bath and the hatch."""

from collections.abc import Iterator
from itertools import product

from mewswright.checks.finding import Finding
from mewswright.fit.change import Change
from mewswright.fit.remedy import Standing, figure, remedy, up_mm
from mewswright.fit.remedy_places import places
from mewswright.model.fitting import Bath, Hatch

# What a first new bath is like; the checks of the unit then say what must be otherwise.
DEPTHS_MM = (80.0, 60.0, 100.0, 120.0, 40.0, 150.0)
SPANS = (0.5, 0.6, 0.7)
RIM_OVER_MM = 40.0
PLATFORM_MM = 300.0  # first height tried; the checks then judge it


@remedy("W101")
def add_a_bath(standing: Standing, finding: Finding) -> Iterator[Change]:
    """Set a bath where no droppings fall into it."""
    del finding
    birds = standing.case.residents
    if not birds:
        return
    span, long = (
        max(bird.span.value for bird in birds), max(bird.body_length.value for bird in birds),
    )  # fmt: skip
    q = standing.quarters
    name = standing.free_name("New bath")
    for share, depth in product(SPANS, DEPTHS_MM[:3]):
        across = max(up_mm(span * share), up_mm(long))
        across = min(across, up_mm(min(q.width_mm, q.depth_mm)))
        bath = Bath.model_validate(
            {
                "kind": "bath", "name": name,
                # Not from the middle, where a perch that is missing too is looked for.
                "at_mm": (round(q.width_mm * 0.03) * 10.0, round(q.depth_mm * 0.03) * 10.0),
                "diameter_mm": across, "depth_mm": depth, "rim_height_mm": depth + RIM_OVER_MM,
            }
        )  # fmt: skip
        spot = next(iter(places(standing, bath)), None)
        if spot is None:
            continue
        x, y = dict(spot.keys)["at_mm"]
        table = {
            "kind": "bath", "name": name, "at_mm": (x, y), "diameter_mm": float(across),
            "depth_mm": depth, "rim_height_mm": depth + RIM_OVER_MM,
        }  # fmt: skip
        yield standing.change(
            f"set a bath at {x:g}, {y:g}: {across:g} mm across, {depth:g} mm deep",
            ("W101",), [standing.add(table)], standing.prices.of("bath", 1, "bath"),
        )  # fmt: skip
        if not spot.of_its_place:
            return


@remedy("W102", "W103", "W105")
def other_bath(standing: Standing, finding: Finding) -> Iterator[Change]:
    """Line or fill the bath, or take another."""
    bath = standing.fitting(finding.fitting)
    limit = figure(finding)
    if not isinstance(bath, Bath) or limit is None:
        return
    if finding.code == "W103":
        way = "line it to" if limit < bath.depth_mm else "let it fill to"
        yield standing.change(
            f"{bath.name}: {way} {limit:g} mm of water", ("W103",),
            [standing.put("fitting", bath.name, "depth_mm", limit)],
            standing.prices.of("line_bath"), things=(bath.name,),
        )  # fmt: skip
    across = max(float(up_mm(limit)), *bath.size_mm) if finding.code != "W103" else None
    for depth in (bath.depth_mm, *DEPTHS_MM):
        size = across or max(bath.size_mm)
        keys = {"diameter_mm": size, "width_mm": None, "length_mm": None, "depth_mm": depth}
        if all(getattr(bath, key) == value for key, value in keys.items()):
            continue
        yield standing.change(
            f"{bath.name}: take a bath {size:g} mm across, {depth:g} mm deep",
            ("W102", "W103", "W105"),
            [standing.put("fitting", bath.name, key, value) for key, value in keys.items()],
            standing.prices.of("bath", 1, "bath"), things=(bath.name,),
        )  # fmt: skip


@remedy("W107")
def latch_the_hatch(standing: Standing, finding: Finding) -> Iterator[Change]:
    """Give a hatch a flap that latches."""
    hatch = standing.fitting(finding.fitting)
    if isinstance(hatch, Hatch):
        yield standing.change(
            f"{hatch.name}: fit a flap that latches", ("W107",),
            [standing.put("fitting", hatch.name, "closes", True)],
            standing.prices.of("latch_hatch"), things=(hatch.name,),
        )  # fmt: skip


@remedy("W110")
def keep_from_frost(standing: Standing, finding: Finding) -> Iterator[Change]:
    """Warm the bath so that it does not freeze."""
    bath = standing.fitting(finding.fitting)
    if isinstance(bath, Bath):
        yield standing.change(
            f"{bath.name}: warm it, so that it does not freeze", ("W110",),
            [standing.put("fitting", bath.name, "frost_free", True)],
            standing.prices.of("warm_bath"), things=(bath.name,),
        )  # fmt: skip


@remedy("W109", "W112")
def drain_the_bath(standing: Standing, finding: Finding) -> Iterator[Change]:
    """Lead a tap and a drain to the bath, and set it on a platform."""
    for bath in standing.quarters.baths:
        if finding.fitting not in (None, bath.name):
            continue
        platform = max(bath.platform_mm, PLATFORM_MM)
        raised = platform - bath.platform_mm
        edits = [
            standing.put("fitting", bath.name, "drains", True),
            standing.put("fitting", bath.name, "filled_from", "corridor"),
        ]
        yield standing.change(
            f"{bath.name}: lead a tap and a drain to it from the corridor", ("W112", "W108"),
            edits, standing.prices.of("bath_tap"), things=(bath.name,),
        )  # fmt: skip
        if finding.code == "W109":
            edits += [
                standing.put("fitting", bath.name, "platform_mm", platform),
                standing.put("fitting", bath.name, "rim_height_mm", bath.rim_height_mm + raised),
            ]
            yield standing.change(
                f"{bath.name}: set it on a platform {platform:g} mm high, with a tap and a drain",
                ("W109", "W112"), edits, standing.prices.of("bath_tap"), things=(bath.name,),
            )  # fmt: skip


@remedy("W111")
def hide_who_fills_it(standing: Standing, finding: Finding) -> Iterator[Change]:
    """Hang a second flap or a sleeve in a hatch."""
    hatch = standing.fitting(finding.fitting)
    if isinstance(hatch, Hatch):
        yield standing.change(
            f"{hatch.name}: hang a second flap or a sleeve in it", ("W111",),
            [standing.put("fitting", hatch.name, "blind", True)],
            standing.prices.of("latch_hatch"), things=(hatch.name,),
        )  # fmt: skip
