"""One unit against all standards: the same words as when each binds alone."""

import pytest

from mewswright.checks.compare import compare
from mewswright.checks.registry import run_checks
from mewswright.checks.standard_topics import ASKED_OF_ALL
from mewswright.handbook.standard_files import known_in_rows
from support.yards import bird, perch, quarters, stay, yard


@pytest.fixture(scope="module")
def of():
    loft = quarters(fitting=[perch(), perch("high", 2500, 2500, height_mm=1500)])
    shelter = quarters("Herb shelter", "shelter", at_m=[20, 0], fitting=[perch("block")])
    return yard(
        ("house",),
        bird=[bird("Flint", "peregrine_falcon"), bird("Bramble", use="flown", flights_per_week=1)],
        quarters=[loft, shelter],
        stay=[stay("Flint"), stay(quarters="Herb shelter", mode="tethered")],
    )


@pytest.mark.parametrize("unit", ["North loft", "Herb shelter"])
def test_a_cell_holds_what_the_standard_says_when_it_binds_alone(of, unit):
    found = compare(of, unit)
    house = set(run_checks(of, ["house"], unit))
    for one in found.standards:
        if one.key == "house":
            continue
        alone = {f for f in run_checks(of, [one.key], unit) if f not in house}
        told = {f for row in found.rows for c in row.cells if c.standard == one.key
                for f in c.findings}  # fmt: skip
        assert told == alone
    for key in found.silent:
        assert set(run_checks(of, [key], unit)) <= house


def test_a_cell_shows_the_worst_of_its_findings(of):
    row = next(row for row in compare(of, "North loft").rows if row.code == "S103")
    for cell in row.cells:
        worst = min(cell.findings, key=lambda f: ["harm", "short", "mind", "sound"].index(f.status))
        assert (cell.verdict, cell.limit) == (worst.status, worst.limit)


def test_topics_that_are_asked_are_topics_of_the_handbook():
    assert set(known_in_rows().topics) >= ASKED_OF_ALL
