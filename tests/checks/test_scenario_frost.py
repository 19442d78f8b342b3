"""The coldest night, on both sides of its limits.

By hand, from the handbook: a peregrine is of class C, watched below -5 °C; a Harris's hawk of
class D, frost-free below 0 °C, and tender to frost; a goshawk of class B needs shelter alone. A
bird in moult, or tied near the ground, is moved below 2 °C (UK veterinary texts, from memory).
The room of `support.yards.quarters` is 5 x 6 m, its front barred.
"""

import pytest

from mewswright.checks.registry import run_checks
from support.yards import bird, perch, quarters, stay, yard

PEREGRINE, HARRIS = bird("Flint", "peregrine_falcon"), bird("Tansy", "harris_hawk")
HEATER = {"kind": "heater", "name": "warm", "at_mm": [2500, 3000], "height_mm": 2000,
          "shielded": True}  # fmt: skip
BARS = {"infill": "barred", "gap_mm": 25}


def run(of, code, temp_c=-10, **where):
    found = [f for f in run_checks(of, scenario="frost", temp_c=temp_c) if f.code == code]
    return [f for f in found if all(getattr(f, k) == v for k, v in where.items())]


def only(of, code, temp_c=-10, **where):
    found = run(of, code, temp_c, **where)
    assert len(found) == 1, [str(f) for f in found]
    return found[0]


def loft(who=None, fittings=None, here=None, **more):
    who = who or bird()
    room = quarters(fitting=[perch()] if fittings is None else fittings, **more)
    return yard(bird=[who], quarters=[room], stay=[stay(who["name"]) | (here or {})])


@pytest.mark.parametrize(
    ("who", "temp_c", "status"),
    [(PEREGRINE, -5, "sound"), (PEREGRINE, -5.1, "mind"),
     (HARRIS, 0, "sound"), (HARRIS, -0.1, "short"),
     (PEREGRINE | {"feather_state": "moulting"}, 2, "sound"),
     (PEREGRINE | {"feather_state": "moulting"}, 1.9, "short"),
     (bird(), -30, "sound"), (HARRIS, None, "mind")],
)  # fmt: skip
def test_e131_what_each_kind_bears(who, temp_c, status):
    assert only(loft(who), "E131", temp_c).status == status


def test_e131_says_why():
    assert "wing-tip oedema" in only(loft(HARRIS), "E131").why
    assert only(loft(HARRIS), "E131", None).remedy == "give [climate], or --temp-c"


def test_e131_a_heater_leaves_the_thermometer_to_be_read():
    found = only(loft(HARRIS), "E131")
    assert "fit a shielded heater" in found.remedy
    found = only(loft(HARRIS, [perch(), HEATER]), "E131")
    assert (found.status, found.remedy) == (
        "mind", "read a minimum thermometer at its perch on a cold night",
    )  # fmt: skip


def test_e131_a_cross_goes_by_its_less_hardy_parent():
    """Gyr x saker: A and C; below -5 it is watched, as a bird of class C is."""
    assert only(loft(bird(species="gyr_x_saker")), "E131").status == "mind"


@pytest.mark.parametrize(("y", "status"), [(3000, "sound"), (2999, "short")])
def test_e132_a_perch_by_boards(y, status):
    """The front is barred, the back boarded: the middle is as near to both, and boards count."""
    assert only(loft(fittings=[perch(y=y)]), "E132").status == status


@pytest.mark.parametrize(("share", "status"), [(0.5, "sound"), (0.49, "short")])
def test_e132_a_perch_under_the_roof(share, status):
    of = loft(fittings=[perch(y=3000)], roof={"covered_share": share})
    assert only(of, "E132").status == status


def test_e132_cleared_by_its_remedy():
    faces = {"front": BARS, "left": BARS}
    of = loft(fittings=[perch("low", y=1000), perch("high", y=4000)], faces=faces)
    assert only(of, "E132").remedy == "board the left face, by high"
    of = loft(fittings=[perch("low", y=1000), perch("high", y=4000)])
    assert only(of, "E132").status == "sound"


def test_e132_without_a_perch_it_is_asked_for():
    assert only(loft(fittings=[]), "E132").status == "mind"


def test_e132_above_freezing_it_is_minded():
    of = loft(fittings=[perch(y=1000)])
    assert [only(of, "E132", c).status for c in (-0.1, 0)] == ["short", "mind"]


def test_e132_out_by_night_on_a_lawn():
    lawn = quarters("Lawn", "pitch", fitting=[perch("b")])
    of = yard(bird=[bird()], quarters=[lawn], stay=[stay(quarters="Lawn", mode="tethered")])
    assert only(of, "E132").remedy == "bring it into roofed quarters for the night"
    by_day = stay(quarters="Lawn", mode="tethered", daytime_only=True)
    assert run(yard(bird=[bird()], quarters=[lawn], stay=[by_day]), "E132") == []


@pytest.mark.parametrize(
    ("who", "height_mm", "status"),
    [(bird(), 1000, "sound"), (bird(), 999, "mind"), (HARRIS, 999, "short"),
     (bird(feather_state="moulting"), 999, "short")],
)  # fmt: skip
@pytest.mark.parametrize("mode", ["loose", "tethered"])
def test_e133_off_the_ground(who, height_mm, status, mode):
    of = loft(who, [perch(height_mm=height_mm)], {"mode": mode})
    assert only(of, "E133").status == status


@pytest.mark.parametrize(("temp_c", "status"), [(2, "sound"), (1.9, "short"), (None, "mind")])
def test_e133_below_two_degrees(temp_c, status):
    assert only(loft(HARRIS, [perch(height_mm=300)]), "E133", temp_c).status == status


def test_e133_cleared_by_its_remedy():
    low, high = perch("low", height_mm=300), perch("high", height_mm=999.5 - 1)
    assert only(loft(HARRIS, [low, high]), "E133").remedy == "hang one of them 2 mm higher"
    assert only(loft(HARRIS, [low, high | {"height_mm": 1000.5}]), "E133").status == "sound"


def test_e133_a_bird_on_the_leash_goes_by_the_perch_it_is_tied_to():
    two = [perch("low", height_mm=300), perch("high", height_mm=1500)]
    here = {"mode": "tethered", "perch": "high"}
    assert only(loft(HARRIS, two, here), "E133").status == "sound"
    assert only(loft(HARRIS, two, {"mode": "tethered"}), "E133").status == "short"


def test_e133_cold_air_that_a_wall_dams_asks_for_a_higher_perch():
    room = quarters(at_m=[0, 0], fitting=[perch("low"), perch("high", height_mm=1400)])
    wall = {"name": "Lower wall", "kind": "wall", "line_m": [[-90, -2], [90, -2]], "height_m": 2.1}
    level = yard(bird=[HARRIS], quarters=[room], stay=[stay(HARRIS["name"])], feature=[wall])
    slope = {"ground_fall_pct": 10, "ground_falls_to_deg": 180}
    of = level.model_copy(update={"yard": level.yard.model_copy(update=slope)})
    assert only(level, "E133").status == "sound"
    # The middle lies 5 m up the slope: 2.1 m less 0.5 m.
    found = only(of, "E133")
    assert (found.status, found.limit.value) == ("short", 1600)
    assert found.why == "every perch stands low, where the cold air lies, which Lower wall dams"
    assert found.remedy == (
        "hang one of them 200 mm higher, or open a gap in Lower wall for it to run off"
    )


def test_e134_the_tender_ones_that_are_tied_low_go_first():
    rooms = [quarters(name, at_m=[20 * i, 0], fitting=[perch("b", height_mm=300)])
             for i, name in enumerate(("A", "B", "C"))]  # fmt: skip
    of = yard(
        bird=[bird(), HARRIS, PEREGRINE], quarters=rooms,
        stay=[stay(quarters="A", mode="tethered"), stay("Tansy", "B", "tethered"),
              stay("Flint", "C")],
    )  # fmt: skip
    assert only(of, "E134").remedy == (
        "first frost-tender or in moult, and tied low: Tansy; then tied low: Bramble; then "
        "the rest, by what they bear: Flint"
    )
    assert only(of, "E134", 5).status == "sound"


@pytest.mark.parametrize(
    ("starts_on", "ends_on", "count"),
    [("2027-02-01", "2027-12-31", 0), ("2027-01-31", "2027-12-30", 1)],
)
def test_a_bird_that_is_elsewhere_in_january_is_not_asked_after(starts_on, ends_on, count):
    here = {"starts_on": starts_on, "ends_on": ends_on}
    assert len(run(loft(here=here), "E131")) == count


def test_an_empty_yard_has_nothing_to_say():
    assert run_checks(yard(), scenario="frost") == ()
