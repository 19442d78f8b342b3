"""What holds for every scenario: the demo yard, odd yards, order and turn of the file, docs."""

from importlib import resources
from math import cos, radians, sin
from pathlib import Path

import pytest

from mewswright import examples
from mewswright.checks.open import open_yard
from mewswright.checks.registry import catalogue, run_checks
from mewswright.checks.scenario import SCENARIOS
from support.yards import bird, perch, quarters, stay, yard

DOC = Path(__file__).parents[2] / "docs" / "scenarios.md"
NAMES = tuple(SCENARIOS)


@pytest.fixture(scope="module")
def alder_close():
    with resources.as_file(resources.files(examples) / "alder-close.yard.toml") as path:
        return open_yard(path)


def told(findings):
    """Findings of a scenario's own checks, without a float's hair that a turn may move."""

    def figure(quantity):
        value = quantity.value if quantity else None
        return round(value, 3) if isinstance(value, float) else value

    return sorted(
        str((f.code, f.status, f.quarters, f.bird, f.fitting, figure(f.measured), figure(f.limit)))
        for f in findings
        if f.code[0] == "E"
    )


@pytest.mark.parametrize("name", NAMES)
def test_every_check_of_a_scenario_speaks_on_the_demo_yard(alder_close, name):
    found = run_checks(alder_close, scenario=name)
    own = {check.code for check in catalogue() if check.scenario == name}
    assert own <= {f.code for f in found}
    mute = [f for f in found if f.status != "sound" and not (f.why and f.remedy)]
    assert [str(f) for f in mute if f.code in own] == []
    assert [str(f) for f in found if f.code in own and not f.sources] == []


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("kind", ["loft", "shelter", "pitch", "isolation"])
@pytest.mark.parametrize("mode", ["loose", "tethered"])
def test_bare_quarters_of_each_kind(name, kind, mode):
    of = yard(bird=[bird()], quarters=[quarters(kind=kind)], stay=[stay(mode=mode)])
    assert run_checks(of, scenario=name)


@pytest.mark.parametrize("name", NAMES)
def test_quarters_without_birds_are_not_asked_after(name):
    of = yard(quarters=[quarters(fitting=[perch()])])
    assert [f for f in run_checks(of, scenario=name) if f.code[0] == "E"] == []


@pytest.mark.parametrize("name", NAMES)
def test_nothing_hangs_on_the_order_of_the_file(alder_close, name):
    backwards = alder_close.model_copy(update={
        "quarters": tuple(
            q.model_copy(update={"fitting": q.fitting[::-1]}) for q in alder_close.quarters[::-1]
        ),
        **{key: getattr(alder_close, key)[::-1]
           for key in ("feature", "bird", "stay", "wind_rose", "door")},
    })  # fmt: skip
    assert told(run_checks(backwards, scenario=name)) == told(
        run_checks(alder_close, scenario=name)
    )


@pytest.mark.parametrize("name", [name for name in NAMES if name != "heat"])
def test_nothing_hangs_on_how_the_yard_is_turned(alder_close, name):
    """The whole yard and its wind, a third of a turn; the sun alone would notice."""
    east, north = cos(radians(120)), sin(radians(120))

    def turned(point):
        return point[0] * east + point[1] * north, point[1] * east - point[0] * north

    def moved(thing, *keys):
        return {
            key: turned(value) if key == "at_m" else tuple(map(turned, value))
            for key in keys
            if (value := getattr(thing, key)) is not None
        }

    other = alder_close.model_copy(update={
        "yard": alder_close.yard.model_copy(
            update={"boundary_m": tuple(map(turned, alder_close.yard.boundary_m))}
        ),
        "quarters": tuple(
            q.model_copy(update=moved(q, "at_m") | {"facing_deg": (q.facing_deg + 120) % 360})
            for q in alder_close.quarters
        ),
        "feature": tuple(
            f.model_copy(update=moved(f, "at_m", "line_m", "outline_m"))
            for f in alder_close.feature
        ),
        "wind_rose": tuple(
            w.model_copy(update={"from_deg": (w.from_deg + 120) % 360})
            for w in alder_close.wind_rose
        ),
    })  # fmt: skip
    assert told(run_checks(other, scenario=name)) == told(run_checks(alder_close, scenario=name))


def test_the_manual_lists_the_same_ordinary_checks():
    text = DOC.read_text(encoding="utf-8").splitlines()
    listed = [tuple(line.strip("| ").split(" | ")) for line in text if "](checks/" in line]
    rows = [row for row in listed if len(row) == 3]
    assert rows == [
        (name, f"[{code}](checks/{code}.md)", reason)
        for name, scenario in SCENARIOS.items()
        for code, reason in scenario.also
    ]
    named = "\n".join(" ".join(row) for row in listed if len(row) == 2)
    assert all(f"[{c.code}](checks/{c.code}.md)" in named for c in catalogue() if c.scenario)
