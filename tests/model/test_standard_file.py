"""A standard's file: read whole or not at all, every fault with its line and a remedy."""

from datetime import date

import pytest

from mewswright.handbook.standard_files import own_standard
from mewswright.model.fault import StandardProblem
from mewswright.model.problem import Problem
from support.standards import HEAD, bird_class, rule, size, standard, table

LINE = HEAD.count("\n") + 2  # line of the first table after the head


def faults(*tables, head=HEAD):
    with pytest.raises(StandardProblem) as raised:
        standard(*tables, head=head)
    return [str(fault) for fault in raised.value.faults]


def test_a_good_file_is_read_whole():
    file = standard(
        bird_class(["common_kestrel", "group:owl", "genus:Falco"]),
        size(class_="small"),
        size(class_="small", quantity="height_mm", value=2438.4, unit="mm", original_value=8,
             original_unit="ft", valid_from=date(2027, 1, 1)),
        rule(),
        rule(topic="tether", applies_to="group:owl", number=None, unit=None, value="forbidden"),
    )  # fmt: skip
    assert file.key == "hollow-hills"
    assert [one.value for one in file.size] == [6, 2438.4]
    assert file.size[1].valid_from == date(2027, 1, 1)
    assert [one.unit for one in file.rule] == ["count", "rule"]
    assert hash(file) == hash(file.model_copy())  # frozen all the way down


SIZE_FAULTS = [
    ({"class_": "smal"}, 'size[0].class: given "smal"; no such class; allowed: any', 1),
    (
        {"purpose": "home"},
        'size[0].purpose: given "home"; allowed: loft, flight_cage, isolation',
        2,
    ),
    (
        {"quantity": "floor_aera_m2"},
        'size[0].quantity: given "floor_aera_m2"; no check asks it; allowed: floor_area_m2, '
        "volume_m3, "
        "height_mm, mean_height_mm, length_mm, width_mm, each_side_spans, shortest_side_spans, "
        "group_size, extra_bird_area_m2, indoor_area_m2_per_bird; did you mean floor_area_m2?",
        3,
    ),
    ({"value": 0}, "size[0].value: given 0; allowed: more than 0", 4),
    ({"value": "6"}, 'size[0].value: given "6"; allowed: a number, written without quotes', 4),
    ({"unit": "ft2"}, 'size[0].unit: given "ft2"; this quantity is in m2; allowed: m2', 5),
    (
        {"original_value": 70, "original_unit": "ft2"},
        "size[0].value: given 6; 70 ft2 are 6.50321 m2: mend one of the two",
        4,
    ),
    (
        {"original_value": 70, "original_unit": "yards"},
        'size[0].original_unit: given "yards"; not known how to turn it into m2; allowed: m2, ft2',
        10,
    ),
    (
        {"basis": "custom"},
        'size[0].basis: given "custom"; allowed: law, standard, study, guide, practice, '
        "derived, judgement",
        6,
    ),
    (
        {"how_known": "second_hand"},
        'size[0].how_known: given "second_hand"; allowed: read, second hand, from memory, derived, '
        "judgement; did you mean second hand?",
        7,
    ),
    ({"how_known": None}, "size[0].how_known: how_known is missing: give it", 0),
    (
        {"source": "norm"},
        'size[0].source: given "norm"; no such source: give it a [[source]] in this file; '
        "allowed: norms, letter; did you mean norms?",
        8,
    ),
    (
        {"source": "letter"},
        "size[0].how_known: given \"read\"; its source 'letter' only tells what another text says: "
        'write "second hand"',
        7,
    ),
    (
        {"valid_from": date(2027, 1, 2), "valid_to": date(2027, 1, 1)},
        "size[0]: it ends on 2027-01-01, before it begins on 2027-01-02: give the first day "
        "and the "
        "last",
        0,
    ),
    ({"valid_from": "soon"}, 'size[0].valid_from: given "soon"; allowed: a date: 2027-03-01', 9),
    (
        {"sauce": "red"},
        "size[0].sauce: there is no such key; allowed: basis, how_known, confidence, "
        "source, where, note, valid_from, valid_to, lapsed, class, purpose, quantity, value, unit, "
        "original_value, original_unit, condition; did you mean source?",
        9,
    ),
    (
        {"quantity": "width_mm", "value": 2000, "unit": "mm"},
        'size[0].quantity: given "width_mm"; give length_mm of the same class and purpose too: '
        "a room is judged by both of its sides",
        3,
    ),
]


@pytest.mark.parametrize(("keys", "sentence", "below"), SIZE_FAULTS)
def test_a_fault_of_a_size_is_told_whole(keys, sentence, below):
    assert faults(size(**keys)) == [f"hollow-hills.toml:{LINE + below}: {sentence}"]


def test_an_area_for_more_birds_needs_the_group_that_it_comes_on_top_of():
    found = faults(size(), size(quantity="extra_bird_area_m2", value=2))
    assert found == [
        f'hollow-hills.toml:{LINE + 10 + 3}: size[1].quantity: given "extra_bird_area_m2"; give '
        "group_size of the same class and purpose too: it says beyond how many birds the area grows"
    ]


def test_a_size_stands_once_unless_its_days_part_it():
    days = {"valid_to": date(2026, 12, 31)}
    assert standard(size(**days), size(valid_from=date(2027, 1, 1)))
    assert faults(size(), size()) == [
        f'hollow-hills.toml:{LINE + 10 + 3}: size[1].quantity: given "floor_area_m2"; the class '
        f"has "
        "this size twice; leave one out, or give each its own days"
    ]


RULE_FAULTS = [
    (
        {"topic": "perch_min"},
        'rule[0].topic: given "perch_min"; no such topic (mewswright handbook standard_rules); '
        "did you mean perches_min?",
        1,
    ),
    ({"unit": "mm"}, 'rule[0].unit: given "mm"; this topic is in count; allowed: count', 4),
    (
        {"applies_to": "losse"},
        'rule[0].applies_to: given "losse"; no such bird (mewswright handbook species); '
        "did you mean loose?",
        2,
    ),
    (
        {"applies_to": "genus:Falko"},
        'rule[0].applies_to: given "genus:Falko"; no such genus; did you mean genus:Falco?',
        2,
    ),
    (
        {"place": "barn"},
        'rule[0].place: given "barn"; allowed: any, loft, shelter, pitch, isolation, flight_cage, '
        "house; "
        "did you mean any?",
        8,
    ),
    (
        {"number": None, "unit": None},
        "rule[0]: give either number with its unit or value in words",
        0,
    ),
    ({"value": "three"}, "rule[0]: give either number with its unit or value in words", 0),
    (
        {"unit": None},
        "rule[0]: a number needs a unit and words need none: give one pair of the two",
        0,
    ),
]


@pytest.mark.parametrize(("keys", "sentence", "below"), RULE_FAULTS)
def test_a_fault_of_a_rule_is_told_whole(keys, sentence, below):
    found = faults(rule(**keys))
    assert f"hollow-hills.toml:{LINE + below}: {sentence}" in found


CLASS_FAULTS = [
    (
        bird_class(["comon_kestrel"]) + size(class_="small"),
        'class "small birds".members[0].of[0]: given "comon_kestrel"; no such bird '
        "(mewswright handbook species); did you mean common_kestrel?",
    ),
    (
        bird_class(["group:owls"]) + size(class_="small"),
        'class "small birds".members[0].of[0]: given "group:owls"; no such group; allowed: '
        "group:caracara, group:eagle, group:falcon, group:harrier, group:hawk, group:kite, "
        "group:osprey, group:owl, group:secretarybird, group:vulture; did you mean group:owl?",
    ),
    (
        bird_class(["merlin", "merlin"]) + size(class_="small"),
        'class "small birds".members[0].of[1]: given "merlin"; it stands in this file twice; '
        "a bird has one class",
    ),
    (
        bird_class(["merlin"]),
        'class "small birds".id: given "small"; no [[size]] is for it; give one, or leave it out',
    ),
    (
        bird_class(["merlin"], id_="Small") + size(class_="Small"),
        'class "small birds".id: given "Small"; allowed: small letters, digits and low lines, '
        "such as "
        '"large_falcons"',
    ),
    (
        bird_class(["merlin"], id_="any") + size(),
        'class "small birds".id: given "any"; any is every bird, and needs no class; choose '
        "another id",
    ),
]


@pytest.mark.parametrize(("text", "sentence"), CLASS_FAULTS)
def test_a_fault_of_a_class_is_told_whole(text, sentence):
    assert [one.split(": ", 1)[1] for one in faults(text)] == [sentence]


HEAD_FAULTS = [
    (
        'key = "hollow-hills"',
        'key = "Hollow Hills"',
        'hollow-hills.toml:2: standard.key: given "Hollow Hills"; allowed: small letters, '
        "digits and "
        'hyphens, such as "hollow-hills"',
    ),
    (
        'strength = "law"',
        'strength = "lawful"',
        'hollow-hills.toml:5: standard.strength: given "lawful"; allowed: law, guide, '
        "practice, house; "
        "did you mean law?",
    ),
    (
        'summary = "Invented for tests."\n',
        "",
        "hollow-hills.toml:1: standard.summary: summary is missing: give it",
    ),
    (
        'key = "letter"',
        'key = "norms"',
        'hollow-hills.toml:14: source[1].key: given "norms"; this key is used twice; give each '
        "its own",
    ),
    (
        'key = "letter"',
        'key = "ch-t2"',
        'hollow-hills.toml:14: source[1].key: given "ch-t2"; the handbook has a source of this '
        "key; "
        "choose another",
    ),
]


@pytest.mark.parametrize(("old", "new", "sentence"), HEAD_FAULTS)
def test_a_fault_of_the_head_is_told_whole(old, new, sentence):
    assert faults(head=HEAD.replace(old, new)) == [sentence]


def test_all_faults_are_told_at_once_in_the_order_of_the_file():
    found = faults(size(value=0), rule(topic="perch_min"), table("gap", missing="x"))
    places = [one.split(": ")[1] for one in found]
    assert places == ["size[0].value", "rule[0].topic", "gap[0].matters_for"]


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("", "x.toml: the file: it is empty: begin with a table [standard] (docs/standards.md)"),
        (
            "[standard",
            "x.toml:1: the file: not TOML: expected ']' at the end of a table declaration",
        ),
    ],
)
def test_a_text_that_is_no_standard(tmp_path, text, sentence):
    path = tmp_path / "x.toml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(StandardProblem) as raised:
        own_standard(path)
    assert str(raised.value) == sentence


def test_a_file_that_cannot_be_read(tmp_path):
    with pytest.raises(
        Problem, match=r"cannot be read \(No such file or directory\): name the file"
    ):
        own_standard(tmp_path / "none.toml")
