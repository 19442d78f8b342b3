"""Briefs against the texts that they quote, and against sums by hand."""

import json
import re
from importlib import resources
from pathlib import Path

import pytest
from typer.testing import CliRunner

from mewswright import examples
from mewswright.checks.brief import BirdBrief, Briefs, Housing, brief_of, briefs
from mewswright.checks.brief_parts import Loft, Need, Term, Tether, Verdict
from mewswright.checks.finding import Evidence
from mewswright.cli import app
from support.yards import bird, perch, quarters, stay, yard


def brief(species, standards=("house",), others=(), **more):
    of = yard(standards, bird=[bird("Flint", species) | more, *others])
    return brief_of(of, of.bird_named("Flint"))


def need(needs, what, standard=None):
    found = [n for n in needs if n.what == what and standard in (None, n.standard)]
    assert len(found) == 1, found
    return found[0]


@pytest.mark.parametrize(
    ("species", "practice", "advice"),
    [
        ("western_barn_owl", "loose", "loose"),
        ("snowy_owl", "loose", "loose"),
        ("peregrine_falcon", "either_tether_calmer", "either"),
        ("harris_hawk", "either", "either"),
        ("red_tailed_hawk", "either", "either"),
        ("common_buzzard", "either", "either"),
    ],
)
def test_common_practice(species, practice, advice):
    housing = brief(species).housing
    assert (housing.practice, housing.advice) == (practice, advice)
    assert housing.sources


@pytest.mark.parametrize(
    ("standard", "tether", "advice"),
    [
        ("at-thv", "forbidden", "loose"),
        ("be-vlg", "exceptional", "loose"),
        ("ca-qc", "conditional", "either"),
        ("us-50cfr21", "allowed", "either"),
        ("ch-tschv", "unknown", "either"),
    ],
)
def test_a_standard_speaks_beside_practice(standard, tether, advice):
    housing = brief("peregrine_falcon", (standard,)).housing
    assert [said.tether for said in housing.standards] == [tether]
    assert housing.advice == advice
    assert bool(housing.disagreements) == (advice == "loose")


def test_a_standard_that_allows_what_practice_does_not():
    housing = brief("western_barn_owl", ("us-50cfr21",)).housing
    assert housing.advice == "loose"
    assert housing.disagreements[0].startswith(
        "US federal falconry rule allows a tether; practice does not"
    )


def test_how_long_on_the_tether():
    limits = brief("peregrine_falcon", ("ca-qc",)).housing.time_limits
    assert (need(limits, "tether_hours_max").value, limits[0].unit) == (24, "h")


def test_free_circle_is_the_sum_of_its_terms():
    tether = brief("peregrine_falcon", wing_span_mm=1000, leash_working_mm=350).tether
    terms = {term.what: (term.value_mm, term.measured) for term in tether.terms}
    assert terms == {
        "leash": (350, True),
        "swivel_and_jesses": (200, False),  # the handbook's judgement
        "half_span": (500, True),
        "margin": (150, True),
    }
    assert tether.radius_mm == 1200
    assert tether.overhead_mm == 500


def test_an_owl_has_a_circle_only_if_it_is_tethered_all_the_same():
    assert brief("western_barn_owl").tether is None
    of = yard(
        bird=[bird("Moth", "western_barn_owl")],
        quarters=[quarters(fitting=[perch()])],
        stay=[stay("Moth", mode="tethered")],
    )
    assert brief_of(of, of.bird[0]).tether is not None


def lofts(*args, **more):
    return {loft.standard: loft for loft in brief(*args, **more).lofts}


def test_smallest_loft_by_the_swiss_table():
    # Annex 2, Table 2: large falcons 20 m2, 60 m3 for up to 2 birds; 4 m2 for each further one.
    loft = lofts("peregrine_falcon", ("ch-tschv",))["ch-tschv"]
    assert (loft.floor_area_m2, loft.volume_m3, loft.height_mm) == (20, 60, 3000)
    mates = [bird(name, "peregrine_falcon") for name in ("Rook", "Tansy")]
    loft = lofts("peregrine_falcon", ("ch-tschv",), others=mates, companions=["Rook", "Tansy"])[
        "ch-tschv"
    ]
    assert (loft.floor_area_m2, loft.volume_m3, loft.birds) == (24, 72, 3)


def test_smallest_loft_by_sides():
    # Danish guidelines: eagle owls 3 x 5 x 3 m.
    loft = lofts("eurasian_eagle_owl", ("dk",))["dk"]
    assert (loft.shortest_side_mm, loft.longest_side_mm, loft.height_mm) == (3000, 5000, 3000)
    assert loft.floor_area_m2 == 15


def test_smallest_loft_by_its_own_span():
    loft = lofts("peregrine_falcon", ("dk",), wing_span_mm=1000)["own-span"]
    assert (loft.shortest_side_mm, loft.height_mm) == (2000, 1000)


def test_a_size_that_was_not_read_is_not_known():
    loft = lofts("western_barn_owl", ("ch-tschv",))["ch-tschv"]
    assert not loft.known
    assert loft.floor_area_m2 is None
    assert "was not read" in loft.reason or "were not read" in loft.reason


def test_a_flight_cage_is_named_as_such():
    loft = lofts("great_horned_owl", ("rehab-us",))["rehab-us"]
    assert loft.purpose == "flight_cage"
    assert "before release" in loft.reason


def test_perches():
    perches = brief("peregrine_falcon", ("dk",), mass_g=700).perches
    assert next(n.value for n in perches if n.what == "kind") == "block"
    diameter = need(perches, "round_diameter")
    assert (diameter.value, diameter.to, diameter.unit) == (30, 45, "mm")  # 400 to 900 g
    assert need(perches, "number", "dk").value == 2
    assert need(perches, "under_cover", "dk").value == 1
    assert need(perches, "one_at_height", "dk").value == 2000


def test_bath():
    bath = brief("peregrine_falcon", ("dk",), wing_span_mm=1000, body_length_mm=450).bath
    assert need(bath, "diameter_min", "dk").value == 500  # half a wing span
    depth = need(bath, "depth", "us-pre2008")
    assert (depth.value, depth.to) == (50.8, 152.4)  # 2 to 6 inches
    assert need(bath, "wider_than").value == 450


def test_gap_goes_by_the_narrower_of_the_bird_and_its_class():
    """Practice gives a kestrel 25 mm; a broad body must not widen that for its head."""
    assert need(brief("common_kestrel").faces, "gap_max").value == 25
    assert need(brief("common_kestrel", body_width_mm=60).faces, "gap_max").value == 25
    own = need(brief("common_kestrel", body_width_mm=60, head_width_mm=22).faces, "gap_max")
    assert own.value == 22
    assert own.sources[0].name == "measured on the bird"


def test_warmth():
    warmth = brief("harris_hawk").warmth
    assert need(warmth, "class").value == "D"
    assert need(warmth, "cold_limit").value == 0
    assert need(warmth, "frost_tender").value == "yes"
    assert need(brief("gyrfalcon").warmth, "cold_limit").value == "none"


def test_who_it_must_not_see():
    ember, kestrel = bird("Ember", "eurasian_eagle_owl"), bird("Thistle", "common_kestrel")
    seen = brief("harris_hawk", others=[ember, kestrel]).must_not_see
    assert [n.value for n in seen] == ["Ember"]
    told = brief("harris_hawk", others=[kestrel], fears=["Thistle"]).must_not_see
    assert [n.value for n in told] == ["Thistle"]


def test_company():
    assert need(brief("harris_hawk").company, "social").value == "yes"
    assert need(brief("eurasian_goshawk").company, "alone").value == "yes"
    days = brief("red_tailed_hawk", ("wsava",), arrives_on="2026-03-01").company
    assert need(days, "isolation_days", "wsava").value == 42


def test_every_assumption_is_named():
    assumed = brief("peregrine_falcon").assumed
    for what in ("wing span", "tail", "body length", "full weight", "leash", "swivel"):
        assert any(text.startswith(what) for text in assumed), what
    measured = {
        "wing_span_mm": 1000, "tail_mm": 150, "body_length_mm": 450, "mass_g": 700,
        "body_width_mm": 90, "leash_working_mm": 400, "jess_swivel_mm": 200,
    }  # fmt: skip
    assert brief("peregrine_falcon", **measured).assumed == ()


def test_every_need_says_why_and_on_whose_word():
    of = yard(
        ("ch-tschv", "house", "dk", "ca-qc"),
        bird=[bird("Flint", "peregrine_falcon"), bird("Ember", "eurasian_eagle_owl")],
    )
    for one in briefs(of):
        for needs in (one.perches, one.bath, one.faces, one.warmth, one.company):
            for n in needs:
                assert n.sources, n
                assert n.reason or n.standard, n


YARD = """\
format = 1
[yard]
name = "Alder Close"
latitude_deg = 47.12
longitude_deg = 6.88
altitude_m = 640
time_zone = "Europe/Zurich"
standards = ["ch-tschv", "house"]
[[bird]]
name = "Flint"
species = "peregrine_falcon"
sex = "m"
"""


@pytest.fixture
def yard_file(tmp_path):
    path = tmp_path / "alder-close.yard.toml"
    path.write_text(YARD, encoding="utf-8")
    return path


def test_command_prints_a_brief(yard_file):
    done = CliRunner().invoke(app, ["brief", str(yard_file)])
    assert done.exit_code == 0
    assert done.output.startswith("Flint (Peregrine falcon, male)\n  Housing: either\n")
    assert "swivel and jesses, assumed" in done.output


def test_command_prints_json(yard_file):
    done = CliRunner().invoke(app, ["brief", str(yard_file), "--bird", "Flint", "--json"])
    given = json.loads(done.output)
    assert set(given) == {"yard", "standards", "birds"}
    assert given["birds"][0]["bird"] == "Flint"


def test_command_refuses_a_bird_that_is_not_there(yard_file):
    done = CliRunner().invoke(app, ["brief", str(yard_file), "--bird", "Sleet"])
    assert done.exit_code == 2
    assert "no bird 'Sleet' in 'Alder Close'; there are: Flint" in done.output


def test_the_manual_names_every_key():
    page = (Path(__file__).parents[2] / "docs" / "brief.md").read_text(encoding="utf-8")
    for shape in (Briefs, BirdBrief, Housing, Verdict, Tether, Term, Loft, Need, Evidence):
        for key in shape.model_fields:
            assert re.search(rf"[`.]{key}\b", page), f"{shape.__name__}.{key}"


def test_the_text_has_degrees_as_they_are_written_and_no_line_for_what_no_standard_limits():
    """At Alder Close no standard that binds limits the time of an owl, which goes loose."""
    demo = str(resources.files(examples) / "alder-close.yard.toml")
    text = CliRunner().invoke(app, ["brief", demo, "--bird", "Moth"]).stdout
    assert "cold limit: -5 °C;" in text
    housing = text.split("  Free circle")[0]
    assert "    none" not in housing.splitlines()
