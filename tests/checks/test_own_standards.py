"""A keeper's own standards, from files in the folder beside the yard file."""

from datetime import date
from pathlib import Path

import pytest

from mewswright.checks.brief import briefs
from mewswright.checks.open import open_yard
from mewswright.checks.registry import run_checks
from mewswright.handbook.shelf import shelf_of
from mewswright.model.fault import YardProblem
from mewswright.model.problem import Problem
from mewswright.model.yard import Yard
from mewswright.model.yard_file import parse_yard, yard_schema
from support.standards import HEAD, bird_class, rule, size, standard
from support.yards import bird, perch, quarters, stay, yard

TEXT = (
    HEAD
    + bird_class(["common_kestrel", "genus:Accipiter"])
    + bird_class(["group:owl"], id_="owls", how_known="judgement", confidence="low")
    + size(class_="small")
    + size(class_="small", quantity="height_mm", value=2100, unit="mm", valid_to=date(2026, 12, 31))
    + size(class_="small", quantity="height_mm", value=2400, unit="mm", valid_from=date(2027, 1, 1))
    + size(class_="owls", quantity="each_side_spans", value=3, unit="spans")
    + rule()
    + rule(
        topic="perch_height_mm", number=2500, unit="mm", how_known="second hand", source="letter"
    )
)
OWN = standard(TEXT.removeprefix(HEAD))
THISTLE = {"name": "Thistle", "species": "common_kestrel"}


def holding(species="common_kestrel", standards=("hollow-hills",), **sizes) -> Yard:
    place = quarters(**{"width_mm": 2000, "depth_mm": 3000, "fitting": [perch()]} | sizes)
    of = yard(standards, bird=[bird("Thistle", species)], quarters=[place], stay=[stay("Thistle")])
    return of.with_own_standards([OWN])


def said(of, code, on=None):
    return [f for f in run_checks(of, on=on) if f.code == code]


@pytest.mark.parametrize(("depth_mm", "status"), [(3000, "sound"), (2999, "harm")])
def test_an_own_law_binds_like_a_shipped_one(depth_mm, status):
    (found,) = said(holding(depth_mm=depth_mm), "S101")
    assert (found.status, found.limit.value) == (status, 6)
    assert found.sources[0].name == "Hollow Hills, Norms for members"
    assert found.sources[0].locator == "standards/hollow-hills.toml, small floor_area_m2"


@pytest.mark.parametrize(
    ("height_mm", "on", "status"),
    [
        (2100, date(2026, 12, 31), "sound"),
        (2099, date(2026, 12, 31), "harm"),
        (2399, date(2027, 1, 1), "harm"),
        (2400, date(2027, 1, 1), "sound"),
        (2399, None, "harm"),  # no day in mind: the row that has no end
    ],
)
def test_a_row_binds_on_its_days(height_mm, on, status):
    of = holding(front_height_mm=height_mm, back_height_mm=height_mm)
    (found,) = said(of, "S103", on)
    assert found.status == status


@pytest.mark.parametrize(
    ("species", "speaks"),
    [("eurasian_sparrowhawk", True), ("common_kestrel", True), ("red_tailed_hawk", False)],
)
def test_a_class_takes_its_birds_by_name_and_by_genus(species, speaks):
    assert bool(said(holding(species), "S101")) is speaks
    assert bool(said(holding(species), "S108")) is not speaks


def test_a_second_hand_row_of_ones_own_is_short():
    (found,) = said(holding(), "P111")
    assert (found.status, found.limit.value) == ("short", 2500)


def test_spans_of_an_own_standard_are_asked_and_a_doubtful_class_is_short():
    of = holding("western_barn_owl", width_mm=2500, depth_mm=2500)
    spans = [f for f in said(of, "S106") if "Hollow Hills" in f.sources[0].name]
    assert [f.status for f in spans] == ["short"]


def test_the_brief_asks_the_own_standard_too():
    (one,) = briefs(holding(), on=date(2027, 1, 1))
    loft = next(loft for loft in one.lofts if loft.standard == "hollow-hills")
    assert (loft.name, loft.floor_area_m2, loft.height_mm) == ("Hollow Hills norms", 6, 2400)
    (one,) = briefs(holding(), on=date(2026, 1, 1))
    assert next(x for x in one.lofts if x.standard == "hollow-hills").height_mm == 2100
    number = [n.value for n in one.perches if n.standard == "hollow-hills" and n.what == "number"]
    assert number == [3]


def test_two_yards_with_the_same_key_do_not_meet():
    """Two federations may choose one key; each yard has its own shelf."""
    strict = standard(TEXT.removeprefix(HEAD).replace("value = 6", "value = 60"))
    mild, hard = holding(), holding().with_own_standards([strict])
    assert said(mild, "S101")[0].limit.value == 6
    assert said(hard, "S101")[0].limit.value == 60
    assert said(mild, "S101")[0].limit.value == 6


def test_a_changed_yard_keeps_its_standards_and_its_file_never_names_them():
    of = holding()
    assert of.model_copy(update={"stay": ()}).own_standards == (OWN,)
    assert "own" not in str(sorted(yard_schema()["properties"]))
    assert "_own_standards" not in of.model_dump()


@pytest.mark.parametrize("kind", ["loft", "shelter", "pitch", "isolation"])
@pytest.mark.parametrize("species", ["common_kestrel", "eurasian_goshawk", "western_barn_owl"])
@pytest.mark.parametrize("mode", ["loose", "tethered"])
def test_no_check_asks_the_shipped_shelf_for_an_own_key(kind, species, mode):
    """A check that goes round the case's shelf would know no standard of that key."""
    place = quarters(kind=kind, fitting=[perch()])
    newcomer = bird("Sorrel", species, arrives_on="2026-03-01", use="flown")
    of = yard(
        ("hollow-hills",), bird=[bird("Thistle", species), newcomer], quarters=[place],
        stay=[stay("Thistle", mode=mode), stay("Sorrel", mode=mode)],
    ).with_own_standards([OWN])  # fmt: skip
    assert run_checks(of)
    assert briefs(of)


YARD = """\
format = 1
[yard]
name = "Alder Close"
latitude_deg = 47.12
longitude_deg = 6.88
altitude_m = 640
time_zone = "Europe/Zurich"
standards = ["hollow-hills"]
"""


@pytest.fixture
def folder(tmp_path) -> Path:
    (tmp_path / "standards").mkdir()
    (tmp_path / "standards" / "hills.toml").write_text(TEXT, encoding="utf-8")
    (tmp_path / "a.yard.toml").write_text(YARD, encoding="utf-8")
    return tmp_path


def test_files_beside_the_yard_are_read_with_it(folder):
    assert open_yard(folder / "a.yard.toml").own_standards == (OWN,)


def test_an_unknown_standard_names_the_nearest_own_one(folder):
    path = folder / "a.yard.toml"
    path.write_text(YARD.replace("hollow-hills", "holow-hills"), encoding="utf-8")
    with pytest.raises(YardProblem) as raised:
        open_yard(path)
    assert str(raised.value) == (
        'a.yard.toml:8: yard.standards[0]: given "holow-hills"; not in the handbook\'s standards '
        "(mewswright standards); did you mean hollow-hills?"
    )


def test_the_key_of_a_shipped_standard_is_refused(folder):
    path = folder / "standards" / "hills.toml"
    path.write_text(TEXT.replace('key = "hollow-hills"', 'key = "dk"'), encoding="utf-8")
    with pytest.raises(Problem) as raised:
        open_yard(folder / "a.yard.toml")
    assert str(raised.value) == (
        "standards/hills.toml: the key 'dk' is that of a shipped standard (Danish aviary "
        "guidelines); give 'Hollow Hills norms' another key"
    )


def test_a_key_that_two_own_files_have_is_refused(folder):
    (folder / "standards" / "again.toml").write_text(TEXT, encoding="utf-8")
    with pytest.raises(Problem) as raised:
        open_yard(folder / "a.yard.toml")
    assert str(raised.value) == (
        "standards/hills.toml: the key 'hollow-hills' is that of standards/again.toml too; give "
        "one of them another key"
    )


def test_a_shelf_of_values_refuses_a_taken_key_as_well():
    dk = standard(head=HEAD.replace("hollow-hills", "dk"))
    for own in ((dk,), (OWN, OWN)):
        with pytest.raises(Problem, match=r"^two standards have the key '.+': .+ and .+; give the"):
            shelf_of(own)


def test_an_own_file_with_a_fault_keeps_the_yard_shut(folder):
    (folder / "standards" / "hills.toml").write_text(TEXT + "\n[oops]\n", encoding="utf-8")
    with pytest.raises(Problem, match=r"^hills\.toml:\d+: oops: there is no such key; allowed: "):
        open_yard(folder / "a.yard.toml")


def test_a_yard_without_the_folder_is_read_as_ever(tmp_path):
    path = tmp_path / "a.yard.toml"
    path.write_text(YARD.replace("hollow-hills", "dk"), encoding="utf-8")
    assert open_yard(path) == parse_yard(path.read_text(encoding="utf-8"), "a.yard.toml")
