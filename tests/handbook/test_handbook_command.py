"""`mewswright handbook` as a person at the terminal sees it."""

import json

import pytest
import typer
from typer.testing import CliRunner

from mewswright.cli.handbook import command
from mewswright.handbook.tables import table_names

app = typer.Typer()
app.command()(command)


def run(*words):
    return CliRunner().invoke(app, [*words])


def test_without_a_table_all_are_listed():
    result = run()
    assert result.exit_code == 0
    assert [line.split()[0] for line in result.stdout.splitlines()] == list(table_names())


def test_a_row_comes_with_its_source():
    result = run("size_limits", "--standard", "dk", "--species", "Eurasian eagle-owl")
    assert result.exit_code == 0
    assert "quantity length_mm; value 5000; unit mm" in result.stdout
    assert "Danish aviary guidelines for birds of prey and owls" in result.stdout
    assert result.stdout.endswith("3 rows\n")


def test_json_carries_sources_as_findings_do():
    result = run("species_sizes", "--species", "merlin", "--json")
    rows = json.loads(result.stdout)["rows"]
    assert {row["species"] for row in rows} == {"merlin"}
    assert all(set(row["sources"][0]) == {"name", "locator", "how_known"} for row in rows)


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (["specis"], "error: no table 'specis'; nearest: species, species_sizes, species_moult"),
        (["species", "--species", "merln"], "error: no species 'merln'; nearest: merlin"),
        (
            ["size_limits", "--standard", "chtschv"],
            "error: no standard 'chtschv'; nearest: ch-tsch",
        ),
        (["foods", "--standard", "dk"], "error: table 'foods' has no rows by standard; "),
        (["foods", "--species", "merlin"], "error: table 'foods' has no rows by species; "),
    ],
)
def test_a_wrong_name_is_refused(words, sentence):
    result = run(*words)
    assert result.exit_code == 2
    assert result.stderr.startswith(sentence)
    assert result.stdout == ""


def test_every_table_prints():
    for name in table_names():
        assert run(name).exit_code == 0
        assert run(name, "--json").exit_code == 0
