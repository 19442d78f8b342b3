"""`mewswright new`: asks or takes options, writes a whole file or none."""

import pytest
from typer.testing import CliRunner

from mewswright.checks.open import open_yard
from mewswright.cli import app, new

OPTIONS = {
    "--name": "Alder Close", "--latitude": "47.12", "--longitude": "-6.88", "--altitude": "640",
    "--time-zone": "Europe/Zurich", "--currency": "CHF", "--standard": "house",
    "--bird": "Tansy:Harris's hawk:f", "--unit": "Long loft:loft:6000x3000x2800x2500:180",
}  # fmt: skip


def run(path, options, typed=None):
    words = [word for option, value in options.items() for word in (option, value)]
    return CliRunner().invoke(app, ["new", str(path), *words], input=typed)


@pytest.fixture
def terminal(monkeypatch):
    monkeypatch.setattr(new, "_is_at_a_terminal", lambda: True)


def test_options_alone_write_a_yard_that_does_no_harm(tmp_path):
    path = tmp_path / "my.yard.toml"
    done = run(path, OPTIONS)
    assert done.exit_code == 0, done.output
    yard = open_yard(path)
    assert (yard.yard.name, yard.yard.longitude_deg, yard.yard.currency) == (
        "Alder Close", -6.88, "CHF",
    )  # fmt: skip
    assert (yard.bird[0].species, yard.bird[0].sex) == ("harris_hawk", "f")
    checked = CliRunner().invoke(app, ["check", str(path)])
    assert checked.exit_code == 0, checked.output
    assert "0 harm, 0 short" in checked.output


def test_several_birds_and_standards(tmp_path):
    path = tmp_path / "my.yard.toml"
    words = [word for option, value in OPTIONS.items() for word in (option, value)]
    done = CliRunner().invoke(
        app,
        ["new", str(path), *words, "--bird", "Flint:peregrine_falcon", "--standard", "ch-tschv"],
    )
    assert done.exit_code == 0, done.output
    assert "Without quarters yet: Flint." in done.stdout
    yard = open_yard(path)
    assert yard.yard.standards == ("house", "ch-tschv")
    assert [bird.name for bird in yard.bird] == ["Tansy", "Flint"]


def test_without_a_terminal_what_is_missing_is_named(tmp_path):
    path = tmp_path / "my.yard.toml"
    done = run(path, {k: v for k, v in OPTIONS.items() if k not in ("--altitude", "--bird")})
    assert done.exit_code == 2
    assert "nothing says --altitude, --bird, and there is no terminal" in done.stderr
    assert list(tmp_path.iterdir()) == []


def test_a_file_that_is_there_stays(tmp_path):
    path = tmp_path / "my.yard.toml"
    path.write_text("mine", encoding="utf-8")
    done = run(path, OPTIONS)
    assert (done.exit_code, path.read_text(encoding="utf-8")) == (2, "mine")
    assert "is there already" in done.stderr


@pytest.mark.parametrize(
    ("option", "value", "said"),
    [
        ("--latitude", "97", "-90 to 90"),
        ("--altitude", "high", "give a number in metres"),
        ("--time-zone", "Europe/Zurch", "did you mean Europe/Zurich?"),
        ("--currency", "francs", "three letters"),
        ("--standard", "hous", "house"),
        ("--bird", "Flint:peregrin_falcon", "peregrine_falcon"),
        ("--unit", "Loft:loft:6000x3000:0", "WIDTHxDEPTHxFRONTxBACK"),
    ],
)
def test_a_wrong_option_is_refused_and_nothing_is_written(tmp_path, option, value, said):
    done = run(tmp_path / "my.yard.toml", OPTIONS | {option: value})
    assert done.exit_code == 2
    assert said in done.stderr
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_is_not_there_is_refused(tmp_path):
    done = run(tmp_path / "no" / "my.yard.toml", OPTIONS)
    assert done.exit_code == 2
    assert "cannot be written" in done.stderr


def test_at_a_terminal_all_is_asked(tmp_path, terminal):
    """A wrong answer is asked again; Enter takes what stands in brackets."""
    path = tmp_path / "my.yard.toml"
    typed = [
        "Alder Close", "north", "47.12", "6.88", "640", "", "", "",  # the place
        "Flint", "peregrin falcon", "peregrine falcon", "m",  # a bird, its species on second try
        "y", "Flint", "Moth", "western_barn_owl", "", "n",  # another; the name was taken
        "Chalk shelter", "shelter", "", "",  # the unit, in the size and facing offered
    ]  # fmt: skip
    done = run(path, {}, "\n".join(typed) + "\n")
    assert done.exit_code == 0, done.output
    assert "error: latitude is 'north'" in done.stderr
    assert "peregrine_falcon" in done.stderr
    assert "a bird is called 'Flint' already" in done.stderr
    yard = open_yard(path)
    assert (yard.yard.time_zone, yard.yard.currency, yard.yard.standards) == (
        "UTC", "EUR", ("house",),
    )  # fmt: skip
    assert [(bird.name, bird.sex) for bird in yard.bird] == [("Flint", "m"), ("Moth", "unknown")]
    unit = yard.quarters[0]
    assert (unit.name, unit.kind, unit.facing_deg) == ("Chalk shelter", "shelter", 180)
    checked = CliRunner().invoke(app, ["check", str(path), "--quarters", "Chalk shelter"])
    assert "0 harm" in checked.output


def test_at_a_terminal_only_the_missing_is_asked(tmp_path, terminal):
    path = tmp_path / "my.yard.toml"
    given = {k: v for k, v in OPTIONS.items() if k != "--unit"} | {"--latitude": "-37"}
    done = run(path, given, "\nloft\n\n\n")
    assert done.exit_code == 0, done.output
    assert "Latitude" not in done.stdout
    assert open_yard(path).quarters[0].facing_deg == 0  # towards the sun, south of the equator


def test_leaving_off_half_way_leaves_no_file(tmp_path, terminal):
    done = run(tmp_path / "my.yard.toml", {}, "Alder Close\n47.12\n")
    assert done.exit_code == 1
    assert list(tmp_path.iterdir()) == []
