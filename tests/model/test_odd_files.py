"""Files that a slip of the pen or of a program makes odd: refused in a sentence, never read."""

import tomllib
from decimal import Decimal
from importlib.resources import files

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mewswright.checks.open import known_names
from mewswright.model.fault import YardProblem
from mewswright.model.yard_file import parse_yard

DEMO = (files("mewswright.examples") / "alder-close.yard.toml").read_text(encoding="utf-8")
LINES = DEMO.splitlines(keepends=True)
HEAD = """format = 1

[yard]
name = "Bare ground"
latitude_deg = 47.12
longitude_deg = 6.88
altitude_m = 640
time_zone = "Europe/Zurich"
"""
FLINT = '\n[[bird]]\nname = "Flint"\nspecies = "peregrine_falcon"\n'
PITCH = """
[[quarters]]
name = "Lawn"
kind = "pitch"
at_m = [0, 0]
facing_deg = 0
width_mm = 3000
depth_mm = 3000
"""
BATH = '[[quarters.fitting]]\nkind = "bath"\nname = "Tub"\n'
BAR = '\n[[stock]]\nsection = "45x95"\nlength_mm = 2400\n'
TOO_MUCH = (
    "odd: the file: it holds a number with thousands of digits, or brackets within brackets, "
    "deeper than any key of a yard needs: take that out"
)


def faults(text):
    with pytest.raises(YardProblem) as raised:
        parse_yard(text, "odd", known_names())
    return [str(fault) for fault in raised.value.faults]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (HEAD.replace("= 1\n", "= true\n"), "odd:1: format: given true; allowed: 1"),
        (
            HEAD.replace("= 1\n", "= 1.0\n"),
            "odd:1: format: given 1.0; allowed: 1; did you mean 1?",
        ),
        (
            HEAD.replace("Zurich", "Zuerich"),
            "odd:8: yard.time_zone: 'Europe/Zuerich' is no time zone: give an IANA name, such as "
            "Europe/Zurich; did you mean Europe/Zurich?",
        ),
        (
            HEAD.replace("Europe/Zurich", "../etc"),
            "odd:8: yard.time_zone: '../etc' is no time zone: give an IANA name, such as "
            "Europe/Zurich",
        ),
        (
            HEAD + BAR + 'price = "8.6"\n',
            'odd:13: stock[0].price: given "8.6"; allowed: a number, written without quotes',
        ),
        (
            HEAD + BAR + "price = true\n",
            "odd:13: stock[0].price: given true; allowed: a number, written without quotes",
        ),
        (
            HEAD + BAR + "price = nan\n",
            "odd:13: stock[0].price: given nan; allowed: a number that can be measured",
        ),
        (HEAD + BAR + "price = -1\n", "odd:13: stock[0].price: given -1; allowed: 0 or more"),
        (
            HEAD + FLINT + PITCH + '[[stay]]\nbird = "Flint"\nquarters = "Lawn"\nmode = "loose"\n'
            "starts_on = 2027-03-02\nends_on = 2027-03-01\n",
            "odd:21: stay[0]: the stay ends on 2027-03-01, before it starts on 2027-03-02: "
            "change one of the days",
        ),
        (
            HEAD + FLINT.replace("[[bird]]", "[bird]"),
            "odd:10: bird: given a table; allowed: one table for each, headed [[bird]]",
        ),
        (
            HEAD.replace("[yard]", "[[yard]]"),
            "odd:3: yard: given a list; allowed: one table, headed [yard]",
        ),
        (
            HEAD + PITCH + BATH.replace("[[", "[").replace("]]", "]"),
            'odd:17: quarters "Lawn".fitting: given a table; allowed: one table for each, '
            "headed [[quarters.fitting]]",
        ),
        (
            HEAD + PITCH + 'fitting = ["bath"]\n',
            'odd:17: quarters "Lawn".fitting[0]: given "bath"; allowed: a table of its own',
        ),
        (
            HEAD + PITCH.replace("[0, 0]", "[0]"),
            'odd:13: quarters "Lawn".at_m: number 2 of the list is missing: give it',
        ),
        (
            HEAD + PITCH.replace("width_mm = 3000", "width_mm = 3e12"),
            'odd:15: quarters "Lawn".width_mm: given 3000000000000.0; allowed: 1000000 or less',
        ),
        (
            HEAD + FLINT.replace('"Flint"', '["Flint"]'),
            'odd:11: bird[0].name: given a list; allowed: text, in quotes: "..."',
        ),
        (
            HEAD + FLINT + 'sex = ["m"]\n',
            'odd:13: bird "Flint".sex: given a list; allowed: m, f, unknown',
        ),
        (
            HEAD + FLINT + 'sex = "' + "q" * 3000 + '"\n',
            'odd:13: bird "Flint".sex: given "' + "q" * 55 + " ...; allowed: m, f, unknown",
        ),
        (HEAD + FLINT + "mass_g = " + "9" * 5000 + "\n", TOO_MUCH),
        (HEAD + FLINT + "mass_g = 0x" + "f" * 5000 + "\n", TOO_MUCH),
        ("x = " + "[" * 3000 + "]" * 3000 + "\n", TOO_MUCH),
        ("x = " + "[" * 25 + "]" * 25 + "\n", TOO_MUCH),
        (HEAD + "a" + ".a" * 3000 + " = 1\n", TOO_MUCH),
    ],
)
def test_an_odd_file_is_refused_in_one_sentence(text, said):
    assert faults(text) == [said]


def test_a_name_over_two_lines_keeps_its_fault_on_one():
    assert faults(HEAD + FLINT.replace("Flint", r"Fl\nint") + 'sex = "q"\n') == [
        r'odd:13: bird "Fl\nint".sex: given "q"; allowed: m, f, unknown'
    ]


def test_a_name_over_two_lines_is_offered_on_one():
    text = HEAD + FLINT.replace("Flint", r"Fl\nint") + PITCH
    stay = '[[stay]]\nbird = "Sleet"\nquarters = "Lawn"\nmode = "loose"\n'
    assert faults(text + stay) == [
        r"""odd:22: stay[0].bird: given "Sleet"; no such bird; allowed: 'Fl\nint'"""
    ]


def test_a_key_without_a_name_is_told_as_it_is_written():
    (said,) = faults(HEAD + '"" = 3\n')
    assert said.startswith('odd:9: yard."": there is no such key; allowed: name, latitude_deg')


def test_a_key_called_like_its_fitting_is_told_at_its_own_line():
    said = faults(HEAD + PITCH + BATH + "bath = 3\n")
    assert [one for one in said if "no such key" in one] == [
        'odd:20: quarters "Lawn".fitting "Tub".bath: there is no such key; '
        + said[-1].split("; ", 1)[1]
    ]
    assert all('Tub".bath.' not in one and "None" not in one for one in said)


def test_a_price_keeps_its_digits():
    yard = parse_yard(HEAD + BAR + "price = 8.60\n" + BAR + "price = 9\n", "even")
    assert [bar.price for bar in yard.stock] == [Decimal("8.6"), Decimal(9)]


def test_a_stay_of_one_day_is_a_stay():
    text = HEAD + FLINT + PITCH + '[[stay]]\nbird = "Flint"\nquarters = "Lawn"\nmode = "loose"\n'
    yard = parse_yard(text + "starts_on = 2027-03-01\nends_on = 2027-03-01\n", "even")
    assert yard.stay[0].starts_on == yard.stay[0].ends_on


ODD = st.sampled_from(
    ["true", "1", "-1", "1.5", "nan", "inf", '""', '"x"', "[]", "[1]", '["x"]', "{}", "{kind = 1}",
     "[[1, 2], [3, 4]]", "2027-03-01", "10:00:00", "2027-03-01T00:00:00Z", "1e400",
     "0x" + "f" * 300, "[{}]", '[{name = "x"}]', '"\\n"']
)  # fmt: skip


@settings(max_examples=150, deadline=None)
@given(st.integers(0, len(LINES) - 1), st.integers(0, len(LINES) - 1), ODD, st.integers(0, 3))
def test_any_line_may_be_lost_doubled_swapped_or_given_another_value(at, other, odd, what):
    """Such a file is read whole, or refused with faults that each name a place and a matter."""
    lines = list(LINES)
    if what == 0:
        del lines[at]
    elif what == 1:
        lines.insert(other, lines[at])
    elif what == 2:
        lines[at], lines[other] = lines[other], lines[at]
    else:
        key = lines[at].split("=")[0] if "=" in lines[at] else "odd "
        lines[at] = f"{key}= {odd}\n"
    text = "".join(lines)
    try:
        yard = parse_yard(text, "odd", known_names())
    except YardProblem as problem:
        said = [str(fault) for fault in problem.faults]
    else:
        data = tomllib.loads(text)
        held = (len(data.get("bird", ())), len(data.get("quarters", ())), len(data.get("stay", ())))
        assert (len(yard.bird), len(yard.quarters), len(yard.stay)) == held
        return
    assert said
    for fault in said:
        place, _, matter = fault.partition(": ")
        assert place.removeprefix("odd").removeprefix(":").isdigit() or place == "odd", fault
        assert ": " in matter, fault
        assert "\n" not in fault, fault
        assert "None" not in fault, fault
