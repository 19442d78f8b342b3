"""Facilities that published guidance sizes, held against that guidance and against others.

The yard files are in tests/published/yards; each names the text its size comes from. The
figures beside the checks were typed from the texts that the standards cite:
Utah DWR guidelines (6 x 8 x 7 ft, goshawk), Ontario falconry-club norms (8 x 8 x 7 ft,
red-tailed hawk), Danish aviary guidelines (3 x 5 x 3 m, eagle owl), Swiss Animal Protection
Ordinance Annex 2 Table 2 (20 m2 and 60 m3, pair of large falcons; 30 m2 and 90 m3, goshawk),
the Flemish decision (12 m2, goshawk), and the North American rehabilitation standards
(10 x 30 x 12 ft, owls of barn-owl size).
"""

from pathlib import Path

import pytest

from mewswright.checks.open import open_yard
from mewswright.checks.registry import run_checks

YARDS = Path(__file__).parent / "yards"
SIZES = ("S101", "S102", "S103", "S104", "S109")  # by a standard; the others go by the span

OWN = {
    "us-ut-goshawk": ("us-ut", {"S103": 2133.6, "S104": 1828.8, "S109": 2438.4}),
    "ca-on-red-tail": ("ca-on", {"S103": 2133.6, "S104": 2438.4, "S109": 2438.4}),
    "dk-eagle-owl": ("dk", {"S103": 3000, "S104": 3000, "S109": 5000}),
    "ch-falcon-pair": ("ch-tschv", {"S101": 20, "S102": 60}),
    "rehab-us-barn-owl": ("rehab-us", {"S103": 3657.6, "S104": 3048, "S109": 9144}),
    "be-vlg-goshawk": ("be-vlg", {"S101": 12}),
}


def sizes(name, standard):
    """Findings on size by one standard: {code: finding}."""
    yard = open_yard(YARDS / f"{name}.yard.toml")
    found = [f for f in run_checks(yard, standards=[standard]) if f.code in SIZES]
    assert len({f.code for f in found}) == len(found)  # one a code, whoever lives there
    return {f.code: f for f in found}


@pytest.mark.parametrize("name", OWN)
def test_a_facility_meets_the_standard_that_it_comes_from(name):
    standard, limits = OWN[name]
    found = sizes(name, standard)
    for code, limit in limits.items():
        assert found[code].status == "sound", str(found[code])
        assert found[code].limit.value == pytest.approx(limit)
        assert found[code].measured.value == pytest.approx(limit)  # built to the limit itself


@pytest.mark.parametrize("name", OWN)
def test_a_hand_less_and_it_no_longer_does(name, tmp_path):
    """100 mm off the width (or off the area it gives) must be seen."""
    standard, _ = OWN[name]
    text = (YARDS / f"{name}.yard.toml").read_text(encoding="utf-8")
    width = next(line for line in text.splitlines() if line.startswith("width_mm"))
    narrower = float(width.split("=")[1]) - 100
    path = tmp_path / "narrow.yard.toml"
    path.write_text(text.replace(width, f"width_mm = {narrower}"), encoding="utf-8")
    found = run_checks(open_yard(path), standards=[standard])
    worse = {f.code for f in found if f.code in SIZES and f.status in ("harm", "short")}
    assert worse & {"S101", "S102", "S104"}


def test_utah_mews_against_the_laws_of_other_countries():
    swiss = sizes("us-ut-goshawk", "ch-tschv")
    assert swiss["S101"].status == "harm"  # law: 30 m2 for up to two large hawks
    assert swiss["S101"].limit.value == 30
    assert swiss["S101"].measured.value == pytest.approx(6 * 8 * 0.3048**2)
    assert swiss["S102"].status == "harm"
    assert swiss["S102"].limit.value == 90
    assert swiss["S102"].measured.value == pytest.approx(6 * 8 * 7 * 0.3048**3)
    flemish = sizes("us-ut-goshawk", "be-vlg")
    assert (flemish["S101"].status, flemish["S101"].limit.value) == ("short", 12)  # a press summary
    danish = sizes("us-ut-goshawk", "dk")  # guidance, not law
    assert {danish[c].status for c in ("S103", "S104", "S109")} == {"short"}


def test_the_federal_rule_gives_no_metres():
    """50 CFR 21.82 as mirrored by Montana: room to fly, and no size; nothing is made up."""
    assert sizes("us-ut-goshawk", "us-50cfr21") == {}
    yard = open_yard(YARDS / "us-ut-goshawk.yard.toml")
    said = [f for f in run_checks(yard, standards=["us-50cfr21"]) if f.code == "S110"]
    assert [f.status for f in said] == ["mind"]


def test_eagle_owl_aviary_where_the_text_was_not_read():
    """The Swiss rows for owls were not read: the program says so instead of passing it."""
    yard = open_yard(YARDS / "dk-eagle-owl.yard.toml")
    found = run_checks(yard, standards=["ch-tschv"])
    assert not [f for f in found if f.code in ("S101", "S102")]
    unknown = [f for f in found if f.code == "S108"]
    assert [f.status for f in unknown] == ["mind"]


def test_a_third_falcon_needs_four_more_square_metres(tmp_path):
    """Annex 2 Table 2: 4 m2 for each large falcon beyond two."""
    text = (YARDS / "ch-falcon-pair.yard.toml").read_text(encoding="utf-8")
    third = (
        '\n[[bird]]\nname = "Third"\nspecies = "peregrine_falcon"\nsex = "f"\n'
        '\n[[stay]]\nbird = "Third"\nquarters = "Aviary"\nmode = "loose"\n'
    )
    path = tmp_path / "three.yard.toml"
    path.write_text(text + third, encoding="utf-8")
    found = {f.code: f for f in run_checks(open_yard(path)) if f.code == "S101"}
    assert found["S101"].status == "harm"
    assert found["S101"].limit.value == 24
