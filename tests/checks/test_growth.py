"""More room never harms: a unit made wider, deeper or higher is judged no worse for room.

Fittings stay where they are from the front and the left, or the room grows by as much on both
sides of them. Where the roof rises to the back, a deeper room has a lower ceiling over a place
that stays where it is, so for that the roof is level or falls to the back. And a wing or a way
in that runs aslant may leave a small room by an open side and meet a wall in a larger one, so
beside an open side perches stand square.
"""

from collections import Counter

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis.strategies import booleans, composite, integers, lists, sampled_from

from mewswright.checks.case import cases
from mewswright.checks.finding import STATUSES
from mewswright.checks.registry import catalogue
from mewswright.model.quarters import Quarters
from support.drawn_yards import STANDARDS, birds, fittings, whole
from support.yards import bird, perch, quarters, stay, yard

# Room: sizes by standard and span, room round perches, flight and landing, the free circle.
ROOM = tuple(
    check for check in catalogue()
    if check.of_quarters is not None
    and (check.code.startswith("S1") or check.code in {
        "P101", "P102", "P103", "P104", "P117", "L101", "L102", "L103", "L104", "T101", "T102",
    })
)  # fmt: skip
DRAWN = settings(max_examples=60, suppress_health_check=[HealthCheck.too_slow])
FACES = ({"infill": "boarded"}, {"infill": "barred", "gap_mm": 25}, {"infill": "open"})


@composite
def units(draw, level=False):
    """A unit for one to three birds, with a roof that is level or falls to the back."""
    kind = draw(sampled_from(["loft", "shelter", "isolation", "pitch"]))
    width, depth = draw(whole(500, 7000)), draw(whole(500, 7000))
    made, low = {"width_mm": width, "depth_mm": depth}, 3000.0
    if kind != "pitch":
        front = draw(whole(500, 4000))
        low = front if level else min(front, draw(whole(500, 4000)))
        faces = {side: draw(sampled_from(FACES)) for side in ("front", "back", "left", "right")}
        made |= {"front_height_mm": front, "back_height_mm": low, "faces": faces}
    made["fitting"] = draw(fittings(width, depth, low))
    if any(face["infill"] == "open" for face in made.get("faces", {}).values()):
        for one in made["fitting"]:
            if "turn_deg" in one:
                one["turn_deg"] = 90 * round(one["turn_deg"] / 90)
    kept = [draw(birds(f"B{i}", i)) for i in range(draw(integers(1, 3)))]
    mode = draw(sampled_from(["loose", "loose", "tethered"]))
    keys = draw(lists(sampled_from(STANDARDS), min_size=1, max_size=4, unique=True))
    return yard(tuple(keys), bird=kept, quarters=[quarters("Unit", kind, **made)],
                stay=[stay(b["name"], "Unit", mode) for b in kept])  # fmt: skip


def grown(of, across=0.0, deep=0.0, high=0.0, both_sides=False):
    """The yard with its one unit so much larger [mm]."""
    raw = of.quarters[0].model_dump()
    raw["width_mm"] += across
    raw["depth_mm"] += deep
    if raw["kind"] != "pitch":
        raw["front_height_mm"] += high
        raw["back_height_mm"] += high
    for one in raw["fitting"]:
        shift = (across / 2, deep / 2) if both_sides else (0, 0)
        if one["kind"] != "hatch":
            one["at_mm"] = (one["at_mm"][0] + shift[0], one["at_mm"][1] + shift[1])
        elif both_sides:
            one["at_mm"] += shift[0] if one["face"] in ("front", "back") else shift[1]
    return of.model_copy(update={"quarters": (Quarters.model_validate(raw),)})


def worst(of):
    """The worst that is said of each thing: how bad, by code, bird, thing and standard."""
    (case,) = cases(of)
    found = [f for check in ROOM for f in check.of_quarters(case)]
    return {
        subject: min(STATUSES.index(f.status) for f in found if _subject(f) == subject)
        for subject in {_subject(f) for f in found}
    }


def _subject(finding):
    source = finding.sources[0].name if finding.code.startswith("S") and finding.sources else ""
    side = next(
        (s for s in ("front", "back", "left", "right") if f"the {s} face" in finding.why), ""
    )
    return finding.code, finding.bird, finding.fitting, source, side


def newly_bad(before, after):
    """What is said to be harm or short after, and was less bad or not said before."""
    sound = STATUSES.index("sound")
    there, here = worst(before), worst(after)
    return {
        subject: STATUSES[rank]
        for subject, rank in here.items()
        if rank < STATUSES.index("mind") and rank < there.get(subject, sound)
    }


@DRAWN
@given(of=units(), across=whole(10, 3000), both_sides=booleans())
def test_a_wider_unit_is_no_worse(of, across, both_sides):
    assert newly_bad(of, grown(of, across=across, both_sides=both_sides)) == {}


@DRAWN
@given(of=units(), deep=whole(10, 3000))
def test_a_deeper_unit_is_no_worse(of, deep):
    assert newly_bad(of, grown(of, deep=deep)) == {}


@DRAWN
@given(of=units(level=True), deep=whole(10, 3000))
def test_a_unit_deeper_on_both_sides_is_no_worse(of, deep):
    assert newly_bad(of, grown(of, deep=deep, both_sides=True)) == {}


@DRAWN
@given(of=units(), high=whole(10, 2000))
def test_a_higher_unit_is_no_worse(of, high):
    assert newly_bad(of, grown(of, high=high)) == {}


@pytest.mark.parametrize("more", [{"across": 600}, {"deep": 600}, {"high": 600}])
def test_less_room_is_worse_so_the_comparison_sees_harm(more):
    """The same growth undone adds harm: a loft of two spans and a perch just clear of its walls."""
    hawk = bird("B0", wing_span_mm=1000, tail_mm=250)
    inside = [perch("p", 900, 900, height_mm=1800, form="round", length_mm=300, diameter_mm=40)]
    small = quarters("Unit", width_mm=1300, depth_mm=1300, front_height_mm=2000,
                     back_height_mm=2000, fitting=inside)  # fmt: skip
    of = yard(bird=[hawk], quarters=[small], stay=[stay("B0", "Unit")])
    larger = grown(of, **more)
    assert newly_bad(of, larger) == {}
    assert newly_bad(larger, of) != {}
    assert Counter(worst(larger).values())[STATUSES.index("sound")] > 0
