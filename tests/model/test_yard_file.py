"""Reading a yard file: all its faults at once, each with its line, and nothing half-read."""

import re
import tomllib
from importlib.resources import files

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mewswright.checks.open import known_names, open_yard
from mewswright.model.fault import YardProblem
from mewswright.model.positions import line_of_each_key
from mewswright.model.problem import Problem
from mewswright.model.yard_file import parse_yard, read_yard, rewritten, save_text, set_value

DEMO = (files("mewswright.examples") / "alder-close.yard.toml").read_text(encoding="utf-8")
HEAD = """format = 1

[yard]
name = "Bare ground"
latitude_deg = 47.12
longitude_deg = 6.88
altitude_m = 640
time_zone = "Europe/Zurich"
"""
FLINT = '\n[[bird]]\nname = "Flint"\nspecies = "peregrine_falcon"\n'


def faults(text):
    with pytest.raises(YardProblem) as raised:
        parse_yard(text, "some.yard.toml", known_names())
    return [str(fault) for fault in raised.value.faults]


def test_the_demo_yard_is_whole():
    """Counted by hand in DESIGN's own list: four lofts, four shelters, one isolation..."""
    yard = parse_yard(DEMO, "demo", known_names())
    kinds = [q.kind for q in yard.quarters]
    assert [kinds.count(k) for k in ("loft", "shelter", "isolation", "pitch")] == [4, 4, 1, 4]
    assert len(yard.bird) == 9


@pytest.mark.parametrize(
    ("more", "said"),
    [
        (
            FLINT + 'sex = "male"\n',
            'some.yard.toml:13: bird "Flint".sex: given "male"; allowed: m, f, unknown; '
            "did you mean m?",
        ),
        (
            FLINT + 'mass_g = "610"\n',
            'some.yard.toml:13: bird "Flint".mass_g: given "610"; allowed: a number, written '
            "without quotes",
        ),
        (
            FLINT + "mass_g = -610\n",
            'some.yard.toml:13: bird "Flint".mass_g: given -610; allowed: more than 0',
        ),
        (
            FLINT + "mass_g = true\n",
            'some.yard.toml:13: bird "Flint".mass_g: given true; allowed: a number, written '
            "without quotes",
        ),
        (
            FLINT + "nervous = 1\n",
            'some.yard.toml:13: bird "Flint".nervous: given 1; allowed: true or false, written '
            "without quotes",
        ),
        (
            FLINT + "arrives_on = 2027-03-01T10:00:00\n",
            'some.yard.toml:13: bird "Flint".arrives_on: given 2027-03-01T10:00:00; allowed: '
            "a date: 2027-03-01",
        ),
        (
            FLINT.replace("peregrine_falcon", "peregrine falcn"),
            'some.yard.toml:12: bird "Flint".species: given "peregrine falcn"; not in the '
            "handbook's species (mewswright handbook species); did you mean peregrine_falcon?",
        ),
        (
            FLINT + 'fears = ["Embr"]\n' + FLINT.replace("Flint", "Ember"),
            'some.yard.toml:13: bird "Flint".fears[0]: given "Embr"; no such bird; allowed: '
            "Flint, Ember; did you mean Ember?",
        ),
        (
            FLINT + FLINT,
            'some.yard.toml:15: bird "Flint".name: given "Flint"; this name is used twice; '
            "give each its own",
        ),
        (
            '\n[[stock]]\nsection = "45 x 95"\nlength_mm = 2400\nprice = 8.6\n',
            'some.yard.toml:11: stock[0].section: given "45 x 95"; allowed: breadth x depth in '
            'millimetres, such as "45x95", or a steel tube with its wall, such as "60x60x3"',
        ),
        (
            '\n[[stay]]\nbird = "Flint"\nquarters = "Loft"\nmode = "loose"\n',
            'some.yard.toml:11: stay[0].bird: given "Flint"; no such bird',
        ),
        (
            '\n[[bird]]\nname = "Flint"\n',
            'some.yard.toml:10: bird "Flint".species: species is missing: give it',
        ),
    ],
)
def test_a_fault_is_told_in_one_sentence(more, said):
    assert said in faults(HEAD + more)


def test_an_unknown_key_names_the_keys_and_the_nearest():
    (said,) = faults(HEAD + FLINT + "wing_spam_mm = 930\n")
    assert said.startswith('some.yard.toml:13: bird "Flint".wing_spam_mm: there is no such key; ')
    assert said.endswith("; did you mean wing_span_mm?")


def test_an_unknown_fitting_names_the_kinds():
    loft = '\n[[quarters]]\nname = "L"\nkind = "pitch"\nat_m = [0, 0]\nfacing_deg = 0\n'
    loft += 'width_mm = 3000\ndepth_mm = 3000\n[[quarters.fitting]]\nkind = "prch"\nname = "P"\n'
    assert faults(HEAD + loft) == [
        'some.yard.toml:18: quarters "L".fitting "P".kind: given "prch"; allowed: perch, bath, '
        "hatch, shelf, nest_box, post, camera, heater, light; did you mean perch?"
    ]


def test_all_faults_come_at_once_and_in_order():
    text = HEAD.replace("47.12", "147.12").replace("640", '"high"')
    text += FLINT + 'sex = "male"\ncompanions = ["Nobody"]\n'
    said = faults(text)
    assert len(said) == 4
    lines = [int(one.split(":")[1]) for one in said]
    assert lines == sorted(lines) == [5, 7, 13, 14]


def test_what_is_not_toml_is_told_with_its_line():
    assert faults("format = 1\n[yard\n") == [
        "some.yard.toml:2: the file: not TOML: expected ']' at the end of a table declaration"
    ]


def test_an_empty_file_says_how_to_start():
    assert faults("# nothing\n") == [
        "some.yard.toml: the file: it is empty: start one with `mewswright new`"
    ]


def test_files_that_cannot_be_read(tmp_path):
    with pytest.raises(Problem, match=r"cannot be read .No such file or directory.: name a yard"):
        read_yard(tmp_path / "none.yard.toml")
    with pytest.raises(Problem, match="cannot be read"):
        read_yard(tmp_path)
    latin = tmp_path / "latin.yard.toml"
    latin.write_bytes(HEAD.encode() + "# Jura, ü".encode("latin-1"))
    with pytest.raises(YardProblem, match=r"latin.yard.toml:9: the file: not UTF-8: save it as"):
        read_yard(latin)


def test_a_byte_order_mark_is_no_fault(tmp_path):
    path = tmp_path / "bom.yard.toml"
    path.write_bytes(b"\xef\xbb\xbf" + HEAD.encode())
    assert open_yard(path).yard.name == "Bare ground"


def test_every_key_of_the_demo_has_its_line():
    """Each line found must really hold the last name of its path."""
    lines = DEMO.splitlines()
    found = line_of_each_key(DEMO)

    def walk(here, path):
        if isinstance(here, dict):
            for key, value in here.items():
                walk(value, (*path, key))
        elif isinstance(here, list) and here and isinstance(here[0], dict):
            for i, value in enumerate(here):
                walk(value, (*path, i))
        else:
            assert re.match(rf"{path[-1]}\s*=", lines[found[path] - 1]), path

    walk(tomllib.loads(DEMO), ())


@given(st.integers(0, len(DEMO) - 1), st.text("\x00=[]\"'#.,0a-\n ", min_size=0, max_size=3))
def test_a_spoilt_file_is_read_or_refused_and_nothing_else(at, instead):
    text = DEMO[:at] + instead + DEMO[at + 1 :]
    told = []
    try:
        parse_yard(text, "spoilt", known_names())
    except YardProblem as problem:
        told = [str(fault) for fault in problem.faults] or ["a refusal without a fault"]
    assert all(fault.startswith("spoilt") for fault in told)


def test_reading_and_writing_gives_the_same_bytes():
    assert rewritten(DEMO) == DEMO


def test_a_change_touches_its_line_alone():
    changed = set_value(DEMO, ("bird", 0, "mass_g"), 1095)
    before, after = DEMO.splitlines(), changed.splitlines()
    assert len(before) == len(after)
    assert [(a, b) for a, b in zip(before, after, strict=True) if a != b] == [
        ("mass_g = 1080", "mass_g = 1095")
    ]


@pytest.mark.parametrize(
    ("path", "value", "said"),
    [
        (("bird", 99, "mass_g"), 1, "no bird[99].mass_g in this yard file"),
        (("bird", "mass_g"), 1, "no bird.mass_g in this yard file"),
        (("yard", "name", "first"), "x", "no yard.name.first in this yard file"),
        ((), 1, "no place is named: name a key"),
        (("bird", 0, "mass_g"), None, "TOML cannot hold None: give text, a number, a date or a "
         "list"),
    ],
)  # fmt: skip
def test_a_change_that_cannot_be_made_is_refused(path, value, said):
    with pytest.raises(Problem) as raised:
        set_value(DEMO, path, value)
    assert str(raised.value) == said


def test_a_change_to_what_is_not_toml_is_refused():
    with pytest.raises(Problem, match=r"^this is not TOML \(.*line 1.*\): mend that first$"):
        set_value("broken [", ("bird", 0, "mass_g"), 1)


def test_a_new_key_comes_before_the_tables_inside_its_table():
    changed = set_value(DEMO, ("quarters", 0, "built"), False)
    assert parse_yard(changed, "changed").quarters[0].built is False
    assert changed.replace("built = false\n", "", 1) == DEMO.replace("built = false\n", "", 1)


def test_line_ends_of_another_system_stay():
    text = DEMO.replace("\n", "\r\n")
    assert rewritten(text) == text
    changed = set_value(text, ("bird", 0, "mass_g"), 1095)
    assert changed == text.replace("mass_g = 1080\r\n", "mass_g = 1095\r\n", 1)


def test_saving_replaces_whole_or_not_at_all(tmp_path, monkeypatch):
    path = tmp_path / "a.yard.toml"
    save_text(path, "old\n")
    monkeypatch.setattr("os.fsync", lambda _: (_ for _ in ()).throw(OSError(28, "No space left")))
    with pytest.raises(Problem, match="cannot be written"):
        save_text(path, "new\n")
    assert path.read_text() == "old\n"
    assert list(tmp_path.iterdir()) == [path]


def test_a_new_file_never_replaces_an_old_one(tmp_path):
    path = tmp_path / "a.yard.toml"
    save_text(path, "old\n", new=True)
    with pytest.raises(Problem, match="is there already: name a new file"):
        save_text(path, "new\n", new=True)
    assert path.read_text() == "old\n"


def test_a_roof_without_a_deck_can_be_said():
    yard = parse_yard(DEMO.replace('deck = "osb3_18"', 'deck = "none"'), "demo", known_names())
    assert {q.roof.deck for q in yard.quarters if q.roof} == {None}
