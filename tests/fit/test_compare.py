"""Variants of one unit: sums by hand, the unit itself, refusals, and one answer for any jobs."""

import json
import re
from collections import Counter
from decimal import Decimal
from importlib.resources import as_file, files

import pytest
from typer.testing import CliRunner

from mewswright.build.frame_report import frame_report
from mewswright.build.masses import part_mass
from mewswright.build.report import worked_out
from mewswright.checks.finding import Finding
from mewswright.checks.open import open_yard
from mewswright.checks.registry import run_checks
from mewswright.cli import app
from mewswright.fit.compare import changed, standing, table, variant
from mewswright.fit.compare_fields import axes_of, combinations
from mewswright.handbook.upkeep import build_hours, upkeep
from mewswright.model.problem import Problem

run = CliRunner()

# Four open sides under ribbed sheets, 3 m x 2 m, with 0.6 m3 of floor and one covered perch.
SMALL = """
format = 1
[yard]
name = "Small"
latitude_deg = 47
longitude_deg = 7
altitude_m = 400
time_zone = "Europe/Zurich"
currency = "CHF"
[[quarters]]
name = "Stand"
kind = "shelter"
at_m = [0, 0]
facing_deg = 180
width_mm = 3000
depth_mm = 2000
front_height_mm = 2400
back_height_mm = 2200
[quarters.faces]
front = {infill = "open"}
back = {infill = "open"}
left = {infill = "open"}
right = {infill = "open"}
[quarters.roof]
cover = "corrugated"
deck = "none"
overhang_front_mm = 0
overhang_back_mm = 0
overhang_side_mm = 0
[quarters.frame]
coating = "none"
[quarters.floor]
substrate = "sand"
depth_mm = 100
membrane = false
[[quarters.fitting]]
kind = "perch"
name = "Bar.1"
form = "round"
at_mm = [1500, 1000]
height_mm = 1000
length_mm = 1000
diameter_mm = 40
cover = "turf"
[[price]]
item = "dry_sand_loose"
unit = "m3"
price = 50
priced = "keeper"
"""


@pytest.fixture(scope="module")
def small(tmp_path_factory):
    path = tmp_path_factory.mktemp("compare") / "small.yard.toml"
    path.write_text(SMALL, encoding="utf-8")
    return path


@pytest.fixture(scope="module")
def alder():
    with as_file(files("mewswright.examples") / "alder-close.yard.toml") as path:
        return open_yard(path)


def compared(path, *vary, years=10.0, name="Stand"):
    yard = open_yard(path)
    axes = axes_of(yard.quarters_named(name), vary)
    stands = standing(yard, name, axes, years)
    found = (variant(yard, name, axes, years, None, values) for values in combinations(axes))
    return table(yard, name, axes, years, stands, found)


def lines_of(one):
    return {(line.subject, line.kind): line for line in one.upkeep.lines}


# By hand, ten years, from handbook/upkeep.csv (middles of its bands) and the prices above:
#   sand    1 m3 is bought for 0.6 m3 + 10 %: 50.00; lasts 1.5 years: 50 x 10/1.5   = 333.33
#   gravel  no price, so 67.50 a m3: 67.5 x 0.6 x 1.1 = 44.55; lasts 4.5: x 10/4.5  =  99.00
#   turf    12.50 a cover, lasts 1 year                                             = 125.00
#   roof    3.19 m across: 5 sheets of 836 mm that cover 762, each 2.19 x sqrt(1 + 0.1^2) = 2.201 m
#           long: 9.200 m2, no price: 17.5 x 1.05 x 9.2, lasts 27.5 years: x 10/27.5 =  61.48
#   hours   floor 6 h/m3: sand 0.6 x 6 x 6.667 = 24.00, gravel 0.6 x 6 x 2.222 = 8.00;
#           cover 0.5 x 10 = 5.00; roof 0.45 x 9.2 x 0.3636 = 1.51;
#           weekly: sand 1.5 x 6 = 9, gravel 1.0 x 6 = 6, perch 2 minutes;
#           9 min = 78.27 h, 6 min = 52.18 h, 2 min = 17.39 h in 521.786 weeks
def test_upkeep_of_sand_and_of_gravel_agrees_with_sums_by_hand(small):
    sand, gravel = compared(small, "floor.substrate=sand,pea_gravel").variants
    of_sand, of_gravel = lines_of(sand), lines_of(gravel)
    assert of_sand["floor_sand", "renewal"].cost == Decimal("333.33")
    assert of_sand["floor_sand", "renewal"].priced == "keeper"
    assert of_gravel["floor_pea_gravel", "renewal"].cost == Decimal("99.00")
    assert of_gravel["floor_pea_gravel", "renewal"].priced == "assumption"
    for lines in (of_sand, of_gravel):
        assert lines["cover_turf", "renewal"].cost == Decimal("125.00")
        assert float(lines["roof_corrugated", "renewal"].cost) == pytest.approx(61.48, abs=0.01)
        assert {subject for subject, _ in lines if not subject.startswith("floor_")} == {
            "cover_turf", "roof_corrugated", "perch",
        }  # fmt: skip
    assert float(sand.upkeep.cost) == pytest.approx(333.33 + 125 + 61.48, abs=0.02)
    assert float(gravel.upkeep.cost) == pytest.approx(99 + 125 + 61.48, abs=0.02)
    assert sand.upkeep.hours == pytest.approx(24 + 5 + 1.51 + 78.27 + 17.39, abs=0.05)
    assert gravel.upkeep.hours == pytest.approx(8 + 5 + 1.51 + 52.18 + 17.39, abs=0.05)
    assert sand.life_cost == sand.purchase + sand.upkeep.cost


def test_hours_to_build_agree_with_a_sum_by_hand(small):
    """Set out 6; ground 2.19 x 3.19 m at 1.15; 4.9 sleepers... each count times its middle."""
    yard = open_yard(small)
    takeoff, _, _ = worked_out(yard, yard.quarters_named("Stand"))
    posts = sum(part.count for part in takeoff.parts if part.kind == "post")
    ring_m = 2 * 3.4 + 2 * 2.0  # sleepers run 200 mm past each end of the front and the back
    by_hand = (
        6 + 2.19 * 3.19 * 1.15 + ring_m / 2.4 * 0.75 + posts * 2.7
        + 7.021 * 0.6 + 9.2 * 0.3 + 0.6 * 2.25 + 1.5
    )  # fmt: skip
    assert compared(small, "floor.substrate=sand").baseline.hours_to_build == pytest.approx(
        by_hand, abs=0.06
    )


def test_upkeep_grows_evenly_with_the_years(small):
    five = compared(small, "floor.substrate=sand", years=5).baseline.upkeep
    ten = compared(small, "floor.substrate=sand", years=10).baseline.upkeep
    none = compared(small, "floor.substrate=sand", years=0).baseline.upkeep
    assert float(ten.cost) == pytest.approx(2 * float(five.cost), abs=0.03)
    assert (none.cost, none.hours) == (0, 0)


def test_a_missing_price_is_told_and_never_counted_as_nothing(small):
    found = compared(small, "floor.substrate=sand")
    assert found.baseline.priced == "missing"  # the yard has no stock of timber at all
    assert any(line.startswith("as it stands: not the whole price") for line in found.cautions)


def test_every_figure_of_the_table_is_named(small):
    """Each line of upkeep has its life or minutes, and its row, among the assumptions."""
    found = compared(small, "floor.substrate=sand,pea_gravel")
    told = "\n".join(found.assumptions)
    for one in found.variants:
        for line in one.upkeep.lines:
            quantity = "life_years" if line.kind == "renewal" else "clean_min_week"
            assert f"(upkeep.csv, {line.subject} {quantity}; judgement)" in told
    for work in ("setting_out", "ground_prep", "post", "rafters_deck", "substrate", "perch"):
        band = build_hours(work)
        assert f"(build_hours.csv, {work}; {band.source.how_known})" in told


def test_the_baseline_is_the_unit_itself(alder):
    name = "North loft"
    axes = axes_of(alder.quarters_named(name), ["frame.rafter_spacing_mm=300"])
    stands = standing(alder, name, axes)
    one = stands.variant
    quarters = alder.quarters_named(name)
    takeoff, sawing, costing = worked_out(alder, quarters)
    assert one.purchase >= costing.total  # the handbook's prices stand in for some
    masses = [part_mass(part) for part in takeoff.parts]
    assert one.mass_kg == pytest.approx(sum(m.kg for m in masses if m), abs=0.05)
    of = Counter(f.status for f in run_checks(alder, quarters=name))
    assert (one.findings.harm, one.findings.short, one.findings.mind) == (
        of["harm"], of["short"], of["mind"],
    )  # fmt: skip
    frame = frame_report(alder, quarters)
    assert (one.frame.sound, one.frame.weakest) == (frame.sound, frame.weakest)
    assert sawing.plan is not None
    # A variant with the value that stands is the unit itself.
    same = variant(alder, name, axes, 10.0, None, (axes[0].stands,))
    found = table(alder, name, axes, 10.0, stands, [same])
    assert found.variants[0] == found.baseline
    assert found.baseline.values == {"frame.rafter_spacing_mm": 300}


def test_a_variant_that_cannot_be_leaves_the_others_be(small):
    found = compared(small, 'fitting."Bar.1".height_mm=900,2900', "floor.substrate=sand,gravl")
    faults = [one.fault for one in found.variants]
    assert faults[0] is None
    assert faults[1] == (
        'floor.substrate: given "gravl"; not in the handbook\'s substrates '
        "(mewswright handbook substrates); did you mean pea_gravel?"
    )
    assert faults[2] == (
        "perch 'Bar.1' is 2900 mm up and the ceiling there is 2300 mm: lower it or raise the roof"
    )
    assert found.variants[1].purchase is None
    assert found.variants[1].upkeep is None
    assert [one.values["floor.substrate"] for one in found.variants] == ["sand", "gravl"] * 2


def test_values_are_of_their_own_kind(small):
    quarters = open_yard(small).quarters_named("Stand")
    axes = axes_of(
        quarters,
        [
            "fitting.0.at_mm=[1500,900],[1400,900]",
            "roof.padded=true",
            "frame.post_count=none,4",
            'faces.front={infill="barred",gap_mm=30},{infill="boarded"}',
            "frame.brace=none,knee",
        ],
    )
    assert [axis.values for axis in axes] == [
        ([1500, 900], [1400, 900]), (True,), (None, 4),
        ({"infill": "barred", "gap_mm": 30}, {"infill": "boarded"}), ("none", "knee"),
    ]  # fmt: skip
    assert axes[0].steps == ("fitting", 0, "at_mm")


def test_a_code_is_gained_by_more_or_worse_and_lost_by_less():
    def of(code, status):
        return Finding(code=code, status=status)

    before = [of("A1", "mind"), of("B1", "short"), of("B1", "short"), of("C1", "mind")]
    now = [of("A1", "harm"), of("B1", "short"), of("C1", "mind"), of("D1", "mind")]
    assert changed(now, before) == (("A1", "D1"), ("B1",))


WRONG = {
    "floor.substrat=sand": (
        "--vary floor.substrat: no 'substrat' in floor of 'Stand'; there are: substrate, depth_mm, "
        "membrane, fall_pct, drained, dig_barrier, dig_barrier_mm, edge_step_mm; did you mean "
        "substrate?"
    ),
    "fitting.Bar.cover=turf": (
        "--vary fitting.Bar.cover: no 'Bar' in fitting of 'Stand'; there are: Bar.1; did you mean "
        "Bar.1?"
    ),
    "width_mm.x=1": "--vary width_mm.x: no 'x' in width_mm of 'Stand'; it holds no others",
    "name=Other": "--vary name: a name is what doors and stays call a thing by",
    "floor.substrate": "--vary 'floor.substrate' names no field and values: write it as",
    "floor.substrate=sand,sand": '--vary floor.substrate has the value "sand" twice',
    "floor.substrate=sand,": "--vary: a value is empty",
    "fitting.0.at_mm=[1,": "--vary: the value [1, is not TOML",
}


@pytest.mark.parametrize("vary", WRONG)
def test_a_wrong_field_is_refused_in_a_sentence(small, vary):
    with pytest.raises(Problem, match=re.escape(WRONG[vary])):
        axes_of(open_yard(small).quarters_named("Stand"), [vary])


def test_what_lies_in_another_field_is_refused(small):
    quarters = open_yard(small).quarters_named("Stand")
    with pytest.raises(Problem, match=r"^--vary floor.depth_mm is given twice"):
        axes_of(quarters, ["floor.depth_mm=100", "floor.depth_mm=120"])
    with pytest.raises(Problem, match=r"one lies in the other"):
        axes_of(quarters, ['faces.front={infill="open"}', "faces.front.upstand_mm=300"])


def test_too_many_combinations_are_refused(small):
    done = run.invoke(
        app,
        ["compare", str(small), "Stand", "--vary", "floor.depth_mm=80,90,100,110,120",
         "--vary", f"frame.rafter_spacing_mm={','.join(str(400 + 10 * i) for i in range(13))}"],
    )  # fmt: skip
    assert done.exit_code == 2
    assert done.output == (
        "error: --vary asks for 5 x 13 = 65 variants, and at most 64 are worked out in one run: "
        "give fewer values, or one field after the other\n"
    )


def test_nothing_to_vary_is_refused(small):
    done = run.invoke(app, ["compare", str(small), "Stand"])
    assert (done.exit_code, done.output.startswith("error: nothing is varied: give --vary")) == (
        2, True,
    )  # fmt: skip


def test_the_table_is_the_same_for_any_number_of_jobs(small):
    asked = ["compare", str(small), "Stand", "--vary", "floor.substrate=sand,pea_gravel,gravl",
             "--vary", "roof.cover=felt,corrugated", "--on", "2027-03-01"]  # fmt: skip
    one = run.invoke(app, [*asked, "--json", "--jobs", "1"])
    two = run.invoke(app, [*asked, "--json", "--jobs", "2"])
    assert one.exit_code == two.exit_code == 0, one.output + two.output
    assert one.output == two.output
    found = json.loads(one.output)
    assert len(found["variants"]) == 6
    assert {"values", "purchase", "currency", "priced", "hours_to_build", "upkeep", "life_cost",
            "mass_kg", "findings", "frame", "fault"} <= set(found["baseline"])  # fmt: skip
    assert set(found["baseline"]["findings"]) == {"harm", "short", "mind", "gained", "lost"}
    assert {"years", "cost", "hours", "lines"} == set(found["baseline"]["upkeep"])
    assert found["baseline"]["frame"] is None  # the yard has no loads
    assert isinstance(found["baseline"]["purchase"], float)


def test_the_terminal_shows_every_variant(small):
    done = run.invoke(
        app,
        ["compare", str(small), "Stand", "--vary", "floor.substrate=sand,gravl", "--jobs", "1"],
    )
    assert done.exit_code == 0, done.output
    assert "(1) floor.substrate = sand" in done.output
    assert '    cannot be: floor.substrate: given "gravl"' in done.output
    assert re.search(r"^upkeep \[CHF\] +519\.8\d\*", done.output, re.MULTILINE)


def test_a_pitch_is_refused(alder):
    with pytest.raises(Problem, match="First pitch"):
        standing(alder, "First pitch", axes_of(alder.quarters_named("First pitch"),
                                               ["floor.substrate=grass"]))  # fmt: skip


def test_every_subject_of_upkeep_can_be_renewed_or_cleaned():
    """A life without its work, or a price without its life, would never be counted."""
    subjects = {subject for subject, _ in upkeep()}
    for subject in subjects:
        has = {quantity for of, quantity in upkeep() if of == subject}
        assert ("life_years" in has) == ("work_h" in has) == ("price" in has), subject
        assert "clean_min_week" in has or "life_years" in has, subject
    assert all(0 <= band.low <= band.high for band in upkeep().values())
    assert all(band.low > 0 for (_, quantity), band in upkeep().items() if quantity == "life_years")


def test_a_frame_whose_rules_end_leaves_the_rest_of_the_variant_be(alder):
    """EN 1991-1-4 gives this roof no coefficients: that is said, and the other figures stand."""
    axes = axes_of(alder.quarters_named("Chalk shelter"), ["front_height_mm=9000"])
    stands = standing(alder, "Chalk shelter", axes)
    steep = variant(alder, "Chalk shelter", axes, 10.0, None, (9000,))
    found = table(alder, "Chalk shelter", axes, 10.0, stands, [steep])
    assert (found.variants[0].fault, found.variants[0].frame) == (None, None)
    assert found.variants[0].purchase > found.baseline.purchase
    assert any(
        line.startswith("front_height_mm 9000: the frame is not checked: a roof of 66.04 deg")
        for line in found.cautions
    )


def test_a_keepers_word_is_read_as_the_handbooks(small):
    """There is one gravel; of OSB there are five, and which one decides the price."""
    quarters = open_yard(small).quarters_named("Stand")
    assert axes_of(quarters, ["floor.substrate=sand,gravel,rubber"])[0].values == (
        "sand", "pea_gravel", "matting",
    )  # fmt: skip
    assert axes_of(quarters, ["frame.lining=none,pvc"])[0].values == ("none", "pvc_wall_2.5")
    with pytest.raises(Problem, match=r"'osb' may be any of osb3_11, osb3_15, .*; name the one"):
        axes_of(quarters, ["frame.lining=osb"])
    with pytest.raises(Problem, match=r"'plastic' may be any of hdpe_10, hdpe_6, pvc_wall_2.5;"):
        axes_of(quarters, ["frame.lining=plastic"])


def test_bars_against_mesh_is_one_word_each(alder):
    axes = axes_of(alder.quarters_named("North loft"), ["faces.front.infill=barred,meshed"])
    stands = standing(alder, "North loft", axes)
    found = table(
        alder, "North loft", axes, 10.0, stands,
        [variant(alder, "North loft", axes, 10.0, None, v) for v in combinations(axes)],
    )  # fmt: skip
    bars, mesh = found.variants
    assert (bars.fault, mesh.fault) == (None, None)
    assert mesh.purchase < bars.purchase
    assert ("infill_meshed", "renewal") in lines_of(mesh)
    assert any("front face without mesh_kind is taken as welded" in line
               for line in found.assumptions)  # fmt: skip


def test_a_coat_that_is_left_out_is_neither_bought_nor_renewed(small):
    """Open posts and rails of the stand, four sides of each, two coats by 5 m2 a litre."""
    bare, stained = compared(small, "frame.coating=none,wood_stain_preservative_sawn").variants
    assert ("paint_boards", "renewal") not in lines_of(bare)
    assert stained.upkeep.cost > bare.upkeep.cost
    assert stained.hours_to_build > bare.hours_to_build


def test_a_plus_asks_for_more_than_stands_there(small):
    """A metre deeper: 2000 mm and 1000 mm; a plus on what is no number is refused."""
    quarters = open_yard(small).quarters_named("Stand")
    (axis,) = axes_of(quarters, ["depth_mm=+1000,+0.5,2500"])
    assert axis.values == (3000, 2000.5, 2500)
    for field in ("roof.cover", "frame.post_count"):
        with pytest.raises(Problem, match="give the value itself"):
            axes_of(quarters, [f"{field}=+1"])


def test_gutters_are_cleared_and_renewed_and_a_butt_scrubbed(small):
    """By hand: 3.19 m of gutter and its pipe, 0.2 minutes a metre and week; a butt 0.9 a week.

    They last 20 and 15 years by the middles of the handbook's bands.
    """
    none, butt, pit = compared(small, "roof.gutter=none,butt,soakaway").variants
    assert not {s for s, _ in lines_of(none)} & {"gutter", "butt", "soakaway"}
    cleared = [x for x in butt.upkeep.lines if (x.subject, x.kind) == ("gutter", "cleaning")]
    assert cleared[0].amount == pytest.approx(3.19)
    for one in cleared:
        assert one.minutes_week == pytest.approx(0.2 * one.amount, abs=0.01)
    assert lines_of(butt)["butt", "cleaning"].minutes_week == pytest.approx(0.9)
    metres = [x.amount for x in butt.upkeep.lines if (x.subject, x.kind) == ("gutter", "renewal")]
    assert len(metres) == 2  # gutter and pipe are bought as different things
    assert metres[0] == pytest.approx(3.19)
    assert lines_of(butt)["gutter", "renewal"].times == pytest.approx(10 / 20)
    assert lines_of(butt)["butt", "renewal"].times == pytest.approx(10 / 15, abs=1e-3)
    assert ("butt", "renewal") not in lines_of(pit)
    assert lines_of(pit)["soakaway", "renewal"].unit == "m3"
    assert none.hours_to_build < butt.hours_to_build
    assert none.hours_to_build < pit.hours_to_build
