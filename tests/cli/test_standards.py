"""`mewswright standards`, `check --on` and `check --compare` at the terminal."""

import json
from pathlib import Path

import pytest
from typer.testing import CliRunner

from mewswright.cli import app
from support.standards import HEAD, rule, size

DEMO = Path(__file__).parents[2] / "src/mewswright/examples/alder-close.yard.toml"
OWN = HEAD + size(value=31, valid_from=None) + rule(topic="leash_total_mm", number=900, unit="mm")


def run(*words):
    return CliRunner().invoke(app, [str(word) for word in words])


@pytest.fixture
def own_yard(tmp_path):
    (tmp_path / "standards").mkdir()
    (tmp_path / "standards" / "hills.toml").write_text(OWN, encoding="utf-8")
    text = DEMO.read_text(encoding="utf-8")
    path = tmp_path / "alder.yard.toml"
    named = 'standards = ["ch-tschv", "hollow-hills", "house"]'
    path.write_text(text.replace('standards = ["ch-tschv", "house"]', named), encoding="utf-8")
    return path


def test_all_standards_are_listed_with_their_state():
    done = run("standards", "--on", "2026-11-25")
    assert done.exit_code == 0
    assert "35 standards, as they bind on 2026-11-25" in done.output
    swiss = done.output[done.output.index("ch-tschv") :].splitlines()
    assert swiss[:4] == [
        "ch-tschv  Swiss Animal Protection Ordinance (law; CH)",
        "    Binding floor area and volume by class of bird, for a group of up to two.",
        "    18 sizes and 4 rules: 3 derived, 19 law; 3 derived, 19 read",
        "    a miss of 19 of them is harm by law",
    ]
    flemish = done.output[done.output.index("be-vlg") :].splitlines()
    assert "    a miss of none of them is harm by law" in flemish[:6]
    assert max(len(line) for line in done.output.splitlines()) <= 100


def test_a_day_before_a_standard_began_says_so():
    given = json.loads(run("standards", "--on", "2019-06-30", "--json").output)
    flemish = next(one for one in given["standards"] if one["key"] == "be-vlg")
    assert (flemish["in_force"], flemish["not_yet"], flemish["ended"]) == (2, 3, 0)
    given = json.loads(run("standards", "--on", "2019-07-01", "--json").output)
    flemish = next(one for one in given["standards"] if one["key"] == "be-vlg")
    assert (flemish["in_force"], flemish["not_yet"], flemish["ended"]) == (5, 0, 0)


def test_a_yard_says_which_bind_and_brings_its_own(own_yard):
    given = json.loads(run("standards", own_yard, "--json").output)
    assert given["yard"] == "Alder Close"
    assert [one["key"] for one in given["standards"] if one["binds"]] == [
        "ch-tschv", "hollow-hills", "house",
    ]  # fmt: skip
    own = next(one for one in given["standards"] if one["own"])
    assert (own["key"], own["sizes"], own["rules"], own["unlawful"]) == ("hollow-hills", 1, 1, 2)
    assert own["unasked"] == ["leash_total_mm"]
    said = run("standards", own_yard).output
    assert "Alder Close is bound by ch-tschv, hollow-hills, house" in said
    assert "no check asks these of a standard yet: leash_total_mm" in said


def test_a_file_of_ones_own_is_checked(own_yard, tmp_path):
    done = run("standards", "--file", own_yard.parent / "standards" / "hills.toml")
    assert (done.exit_code, done.output.splitlines()[-1]) == (0, "hills.toml can be used")
    bad = tmp_path / "bad.toml"
    bad.write_text(OWN.replace('unit = "m2"', 'unit = "m"'), encoding="utf-8")
    done = run("standards", "--file", bad)
    assert done.exit_code == 2
    assert done.output == (
        'error: bad.toml:24: size[0].unit: given "m"; this quantity is in m2; allowed: m2; '
        "did you mean m2?\n"
    )


def test_a_file_with_a_shipped_key_is_refused(tmp_path):
    path = tmp_path / "dk.toml"
    path.write_text(HEAD.replace("hollow-hills", "dk"), encoding="utf-8")
    done = run("standards", "--file", path)
    assert done.exit_code == 2
    assert done.output == (
        "error: two standards have the key 'dk': Danish aviary guidelines and Hollow Hills norms; "
        "give the own one another key\n"
    )


@pytest.mark.parametrize("words", [("standards",), ("check", DEMO), ("brief", DEMO)])
def test_a_day_that_is_none_is_refused(words):
    done = run(*words, "--on", "2027-13-01")
    assert done.exit_code == 2
    assert done.output == "error: --on '2027-13-01' is no day: write it as 2027-03-01\n"


def test_check_tells_the_day_and_the_own_standard(own_yard):
    given = json.loads(run("check", own_yard, "--json", "--on", "2026-05-01").output)
    assert given["on"] == "2026-05-01"
    own = [
        f
        for f in given["findings"]
        if f["code"] == "S101" and f["sources"][0]["name"].startswith("Hollow Hills")
    ]
    assert own
    assert {f["limit"]["value"] for f in own} == {31}


def test_compare_puts_the_binding_and_the_own_standard_first(own_yard):
    done = run("check", own_yard, "--compare", "Long loft", "--on", "2026-05-01")
    assert done.exit_code == 0
    lines = done.output.splitlines()
    assert lines[0] == "Long loft of Alder Close against every standard, on 2026-05-01"
    assert lines[3].split()[:3] == ["hollow-hills*", "house*", "ch-tschv*"]
    assert max(len(line) for line in lines) <= 100
    area = next(i for i, line in enumerate(lines) if line.startswith("S101"))
    # The row's three lines, cut where the columns are: asked, measured, verdict.
    own = [line[24:42].strip() for line in lines[area : area + 3]]
    swiss = [line[62:80].strip() for line in lines[area : area + 3]]
    assert own == ["asks 31 m²", "has 30.24 m²", "✕ harm, read"]
    assert swiss == ["asks 30 m²", "has 30.24 m²", "✓ sound, read"]


def test_compare_as_json_holds_every_cell(own_yard):
    done = run("check", own_yard, "--compare", "Long loft", "--on", "2026-05-01", "--json")
    given = json.loads(done.output)
    assert list(given) == ["yard", "quarters", "on", "standards", "rows", "silent"]
    area = next(row for row in given["rows"] if row["code"] == "S101")
    cells = {cell["standard"]: cell for cell in area["cells"]}
    # 4.2 x 7.2 m of floor; Annex 2 Table 2 asks 30 m2, the Flemish press summary 12 m2.
    assert {
        key: (c["limit"]["value"], c["verdict"], c["how_known"]) for key, c in cells.items()
    } == {
        "be-vlg": (12, "sound", "second hand"),
        "ch-tschv": (30, "sound", "read"),
        "hollow-hills": (31, "harm", "read"),
    }
    assert {round(c["measured"]["value"], 2) for c in cells.values()} == {30.24}
    columns = {one["key"] for one in given["standards"]}
    assert not columns & set(given["silent"])
    assert len(columns) + len(given["silent"]) == 36


def test_compare_refuses_what_does_not_go_with_it():
    done = run("check", DEMO, "--compare", "Long loft", "--standard", "dk")
    assert done.exit_code == 2
    assert done.output == (
        "error: --compare takes every standard, and one unit: give only --on beside it\n"
    )
    done = run("check", DEMO, "--compare", "Log loft")
    assert done.exit_code == 2
    assert done.output.startswith("error: no quarters 'Log loft' in 'Alder Close'; there are: ")


def test_compare_may_stand_alone_beside_the_quarters():
    named = run("check", DEMO, "--compare", "Long loft", "--on", "2026-05-01")
    alone = run("check", DEMO, "--quarters", "Long loft", "--compare", "--on", "2026-05-01")
    last = run("check", DEMO, "--on", "2026-05-01", "--quarters", "Long loft", "--compare")
    assert named.output == alone.output == last.output
    assert run("check", DEMO, "--compare").output == (
        "error: --compare holds one unit against every standard: name it\n"
    )
