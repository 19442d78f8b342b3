"""Every worked example that was collected is tested beside its source.

The list is copied by hand: a new example goes here first, then into a test whose name, first
words or parameter carry its id.
"""

import re
from pathlib import Path

import pytest

HERE = Path(__file__).parent
REPRODUCED = [
    "SNOW-01",
    "SNOW-02",
    "SNOW-03",
    "SNOW-05",
    "SNOW-07",
    "SNOW-09",
    "WIND-01",
    "WIND-04",
    "WIND-05",
    "WIND-06",
    "WIND-07",
    "WIND-09",
    "WIND-10",
    "WIND-11",
    "COMB-01",
    "TIM-01",
    "TIM-03",
    "TIM-04",
    "TIM-05",
    "TIM-07",
    "TIM-08",
    "TIM-10",
    "TIM-12",
    "TIM-13",
    "TIM-15",
    "TIM-18",
    "TIM-19",
    "TIM-21",
    "TIM-22",
    "SPAN-US-1",
    "SPAN-US-2",
    "SPAN-US-4",
    "SPAN-UK-1",
    "SPAN-UK-3",
    "SPAN-EC5-1",
    "SPAN-EC5-4",
    "DECK-01",
    "FE-01",
    "FE-02",
    "FE-03",
    "FE-05",
    "FE-07",
    "DRAIN-01",
    "DRAIN-02",
    "DRAIN-05",
    "DRAIN-07",
    "DRAIN-09",
    "DRAIN-10",
    "GEO-01",
    "GEO-03",
    "PHYS-14",
    "PHYS-16",
    "GND-01",
    "GND-02",
    "GND-03",
    "PHYS-01",
    "PHYS-03",
    "PHYS-04",
    "PHYS-06",
    "PHYS-07",
    "PHYS-09",
    "PHYS-10",
    "PHYS-11",
    "PHYS-13",
    "PHYS-17",
    "PHYS-18",
    "PHYS-19",
    "PHYS-20",
]
# Not reproduced by whoever collected them: a plain table, and two that differ from their source.
TOLD_APART = ("TIM-14", "SPAN-US-5", "DRAIN-04")


def text_of_all() -> str:
    return "\n".join(
        path.read_text(encoding="utf-8")
        for path in sorted(HERE.glob("test_*.py"))
        if path.name != Path(__file__).name
    )


def is_named(example: str, text: str) -> bool:
    family, _, number = example.partition("-")
    forms = [
        re.escape(example),
        rf"test_{family.lower()}_?{number.lower().replace('-', '_')}(?!\d)",
    ]
    return any(re.search(rf"{form}(?!\d)", text) for form in forms)


@pytest.mark.parametrize("example", [*REPRODUCED, *TOLD_APART])
def test_an_example_has_a_test_that_names_it(example):
    assert is_named(example, text_of_all()), f"{example}: no test in tests/published carries its id"


def test_no_example_stands_in_two_lists():
    whole = [*REPRODUCED, *TOLD_APART]
    assert len(whole) == len(set(whole)) == 71
