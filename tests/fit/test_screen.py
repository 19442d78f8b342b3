"""The screen and the checks say the same of every layout: one geometry, one set of limits."""

import pytest
from hypothesis import given, settings
from hypothesis.strategies import composite, floats, sampled_from

from mewswright.checks.registry import run_checks
from mewswright.fit.layout import room_for
from mewswright.fit.screen import Layout
from mewswright.fit.search import fitted
from support.yards import bird, quarters, stay, yard

# Codes that the screen speaks in. P117 is minded only where one bird lives alone.
CODES = {
    "P101", "P102", "P103", "P104", "P105", "P106", "P107", "P108", "P110", "P111", "P112",
    "P118", "L101", "L102", "L103", "L104", "T101", "T102",
}  # fmt: skip
POST = {"kind": "post", "name": "post", "at_mm": [2600, 3100], "size_mm": 90}
SHELF = {
    "kind": "shelf", "name": "shelf", "at_mm": [700, 5000], "height_mm": 900, "length_mm": 600,
    "width_mm": 400,
}  # fmt: skip
LOOSE = {"hawk": ("eurasian_goshawk", ["house"]), "falcon": ("peregrine_falcon", ["house", "dk"]),
         "owl": ("tawny_owl", ["house"])}  # fmt: skip


def loft(kind, fittings=(), **more):
    species, standards = LOOSE[kind]
    return yard(
        tuple(standards),
        bird=[bird(species=species)],
        quarters=[quarters(fitting=list(fittings), back_height_mm=2600, **more)],
        stay=[stay()],
    )


@composite
def layouts(draw, room, count):
    specs, q = room.screen(count).specs, room.kept
    perches = []
    for spec in specs.perches:
        at = (draw(floats(0, q.width_mm)), draw(floats(0, q.depth_mm)))
        high = q.ceiling_mm(at[1]) - 20
        turn = draw(sampled_from([0.0, 90.0, 30.0])) if spec.template.length_mm else 0.0
        update = {"at_mm": at, "height_mm": draw(floats(50, high)), "turn_deg": turn}
        perches.append(spec.template.model_copy(update=update))
    bath, hatch = specs.bath, specs.hatch
    if bath is not None:
        half = bath.size_mm[0] / 2
        at = (draw(floats(half, q.width_mm - half)), draw(floats(half, q.depth_mm - half)))
        bath = bath.model_copy(update={"at_mm": at})
    if hatch is not None:
        hatch = hatch.model_copy(update={"at_mm": draw(floats(200, q.width_mm - 200))})
    return Layout(tuple(perches), bath, hatch, count)


def misses(room, layout):
    """Codes of harm and short by the checks, and all codes that are not sound."""
    unit = fitted(room.kept, layout)
    found = run_checks(room.judge.with_unit(unit), None, "North loft")
    bad = {f.code for f in found if f.status in ("harm", "short")} & CODES
    return bad, {f.code for f in found if f.status != "sound"} & CODES


@pytest.mark.parametrize("kind", sorted(LOOSE))
@pytest.mark.parametrize("things", [(), (POST,), (SHELF,), (POST, SHELF)], ids=len)
@pytest.mark.parametrize("count", [2, 3])
def test_the_screen_passes_what_the_checks_pass(kind, things, count):
    room = room_for(loft(kind, things), "North loft", (), 1, None, None)
    strategy = layouts(room, count)

    @settings(max_examples=25, deadline=None, derandomize=True)
    @given(layout=strategy)
    def holds(layout):
        seen = {c: m for c, m in room.screen(count).look(layout).faults.items() if c in CODES}
        bad, not_sound = misses(room, layout)
        assert bad <= set(seen), (bad, seen)
        # A miss of less than 2 mm may be the screen's own hair; and it lets no bath stand
        # in a post, of which no check speaks.
        plain = {code for code, miss in seen.items() if miss > 1.02}
        assert plain - {"P118"} <= not_sound, (plain, not_sound)

    holds()


def test_the_screen_and_the_checks_agree_on_a_free_circle():
    """A shelter with a tethered hawk: the perch drawn over the floor on a grid."""
    shelter = yard(
        bird=[bird(wing_span_mm=1100, leash_working_mm=400, jess_swivel_mm=190)],
        quarters=[quarters(kind="shelter", width_mm=4200, depth_mm=3600, fitting=[POST])],
        stay=[stay(mode="tethered")],
    )
    room = room_for(shelter, "North loft", (), 1, None, None)
    specs = room.screen(0).specs
    assert [spec.role for spec in specs.perches] == ["tether"]
    compared = set()
    for x in range(100, 4200, 410):
        for y in range(100, 3600, 350):
            perch = specs.perches[0].template.model_copy(
                update={"at_mm": (float(x), float(y)), "height_mm": 450.0}
            )
            layout = Layout((perch,), None, None, 0)
            seen = set(room.screen(0).look(layout).faults) & {"T101", "T102"}
            bad, not_sound = misses(room, layout)
            assert bad & {"T101", "T102"} <= seen
            assert seen <= not_sound
            compared |= seen
    assert compared == {"T101", "T102"}
