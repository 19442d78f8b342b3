"""A whole frame under its loads: the contract, and what must hold for every unit.

The parts are held to published examples in tests/published; here the sums are made by hand
from the report's own figures, and what is heavier must never be easier to carry.
"""

import json
from importlib.resources import as_file, files

import pytest
from typer.testing import CliRunner

from mewswright.build.actions.of_unit import actions_on
from mewswright.build.frame import built_frame
from mewswright.build.frame_members import rafter_cases
from mewswright.build.frame_report import frame_report, member_loads
from mewswright.build.lines import lines_of
from mewswright.checks.open import open_yard
from mewswright.cli import app
from mewswright.model.problem import Problem

KEYS = {
    "assumptions", "actions", "members", "stability", "anchors", "drainage", "sound", "weakest",
}  # fmt: skip
MEMBER = {"mark", "section", "class", "length_mm", "governing", "utilisation", "combination"}
STABILITY = {"uplift_kn", "sliding", "overturning", "racking", "sway_mm"}


@pytest.fixture(scope="module")
def alder():
    with as_file(files("mewswright.examples") / "alder-close.yard.toml") as path:
        return open_yard(path)


@pytest.fixture(scope="module")
def north(alder):
    return frame_report(alder, alder.quarters_named("North loft"))


def changed(yard, name, **frame):
    unit = yard.quarters_named(name)
    new = unit.model_copy(update={"frame": unit.frame.model_copy(update=frame)})
    return yard.model_copy(
        update={"quarters": tuple(new if q.name == name else q for q in yard.quarters)}
    ), new


def shares(report):
    return {member.mark: member.utilisation for member in report.members}


def test_the_command_keeps_its_contract(tmp_path):
    with as_file(files("mewswright.examples") / "alder-close.yard.toml") as path:
        done = CliRunner().invoke(app, ["frame", str(path), "Long loft", "--json"])
        sound = CliRunner().invoke(app, ["frame", str(path), "North loft", "--json"])
    assert sound.exit_code == 0, sound.output
    assert json.loads(sound.output)["sound"] is True
    assert done.exit_code == 1, done.output  # the one that the demo leaves unsound on purpose
    found = json.loads(done.output)
    assert set(found) >= KEYS
    assert all(set(member) >= MEMBER for member in found["members"])
    assert set(found["stability"]) >= STABILITY
    assert found["sound"] is False
    assert found["weakest"]


def test_rafters_by_hand(alder, north):
    """North loft: 4.3255 m between the plates, a bay of 571.7 mm, snow 0.8 x 2.4 = 1.92 kN/m2."""
    unit = alder.quarters_named("North loft")
    built = built_frame(alder, unit)
    line = lines_of(built, unit.depth_mm).rafters[0]
    loads = member_loads(unit, actions_on(alder, unit, built))
    assert loads.snow_kn_m2 == pytest.approx(1.92)
    span = line.supports_m[1] - line.supports_m[0]
    assert span == pytest.approx(4.295 / 0.99299, rel=1e-4)
    snow = rafter_cases(line, loads)["snow"][1]
    w = 1.92 * line.spacing_m
    # w L2/8 less half of each overhang's w a2/2, at mid span
    overhang = (w * line.supports_m[0] ** 2 + w * (line.length_m - line.supports_m[1]) ** 2) / 4
    assert snow.moment_kn_m.max() == pytest.approx(w * span**2 / 8 - overhang, rel=0.01)
    assert sum(snow.reactions_kn) == pytest.approx(w * line.length_m, rel=1e-6)


def test_what_is_used_over_wholly_is_not_sound(alder, north):
    long = frame_report(alder, alder.quarters_named("Long loft"))
    assert not long.sound
    assert max(shares(long).values()) > 1
    assert any("first sizing" in caution for caution in long.cautions)
    assert north.sound
    assert max(shares(north).values()) <= 1


def test_only_the_frame_that_the_demo_says_is_unsound_is_unsound(alder):
    units = [unit for unit in alder.quarters if unit.kind != "pitch"]
    assert [u.name for u in units if not frame_report(alder, u).sound] == ["Long loft"]


def test_a_deeper_rafter_and_a_closer_bay_carry_more(alder):
    found = [
        shares(frame_report(*changed(alder, "North loft", **keys)))["R1"]
        for keys in (
            {"rafter_spacing_mm": 600},
            {"rafter_spacing_mm": 600, "rafter": "45x220"},
            {"rafter_spacing_mm": 400},
        )
    ]
    assert found[1] < found[0]
    assert found[2] < found[0]


def test_more_snow_and_more_wind_are_never_easier(alder, north):
    for key, value in (("ground_snow_kn_m2", 4.0), ("basic_wind_m_s", 29.0)):
        loads = alder.loads.model_copy(update={key: value})
        harder = alder.model_copy(update={"loads": loads})
        found = frame_report(harder, harder.quarters_named("North loft"))
        for mark, share in shares(north).items():
            assert shares(found)[mark] >= share - 1e-6, (key, mark)


def test_holes_of_concrete_hold_it_down(alder, north):
    """Each hole adds its weight: the share of the lift that is used falls."""
    held, unit = changed(alder, "North loft", anchor="concrete_hole", anchor_count=20)
    found = frame_report(held, unit)
    worst = max(one["utilisation"] for one in north.stability["uplift"])
    assert max(one["utilisation"] for one in found.stability["uplift"]) < worst


def test_knee_braces_give_the_open_front_a_sway(alder, north):
    assert north.stability["sway_mm"] is None
    braced, unit = changed(alder, "North loft", brace="knee", brace_leg_mm=250, lining="none")
    found = frame_report(braced, unit)
    assert found.stability["sway_mm"] > 0


def test_osb_beside_an_open_part_of_the_roof_fails(alder):
    """OSB/3 has no values for service class 3 (EN 1995-1-1, Table 3.1)."""
    unit = alder.quarters_named("North loft")
    half = unit.model_copy(update={"roof": unit.roof.model_copy(update={"covered_share": 0.5})})
    (deck,) = frame_report(alder, half).deck
    assert (deck["name"], deck["utilisation"]) == ("OSB in the wet", 1.5)


def test_a_pitch_and_a_yard_without_loads_are_refused(alder):
    with pytest.raises(Problem, match=r"^'First pitch' has no roof to carry: "):
        frame_report(alder, alder.quarters_named("First pitch"))
    bare = alder.model_copy(update={"loads": None})
    with pytest.raises(Problem, match=r"\[loads\]"):
        frame_report(bare, bare.quarters_named("North loft"))
