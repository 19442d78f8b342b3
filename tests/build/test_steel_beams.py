"""Rafters, head plates and ridge beams of steel tube: bought, checked, refused where due."""

import pytest

from mewswright.build.frame import built_frame
from mewswright.build.frame_report import frame_report
from mewswright.build.masses import part_mass
from mewswright.build.report import worked_out
from mewswright.build.size import size
from mewswright.build.takeoff import take_off
from mewswright.drawing.gltf import to_glb
from mewswright.model.problem import Problem
from mewswright.model.stock import StockBar
from support.loaded_units import loaded

DUO = {"form": "duopitch", "ridge_height_mm": 3200, "deck": "osb3_18", "cover": "felt"}
# What of the frame is of tube, the roof beside it, and the part that shows it.
STEEL = {
    "rafter": ({"rafter": "60x100x3"}, None, "rafter"),
    "head": ({"head": "60x80x3", "post": "80x80"}, None, "head"),
    "ridge": ({"ridge": "60x120x4"}, DUO, "ridge"),
}


def steel(name, **more):
    frame, roof, kind = STEEL[name]
    yard = loaded("loft", frame=frame | more, roof=roof, size=(3600.0, 3000.0, 2500.0, 2350.0))
    tube = StockBar(section=frame[name], length_mm=6000, price="50", priced="keeper")
    return yard.model_copy(update={"stock": (tube,)}), yard.quarters[0], kind


@pytest.mark.parametrize("name", STEEL)
def test_a_steel_beam_is_sawn_from_tube_weighed_and_drawn(name):
    yard, unit, kind = steel(name)
    takeoff, sawing, costing = worked_out(yard, unit)
    found = [p for p in takeoff.parts if p.kind == kind]
    assert found
    assert {(p.material, p.sawn) for p in found} == {("S235", True)}
    section = found[0].section
    assert section in {one.section for one in sawing.plan.sections}
    line = next(one for one in costing.lines if one.item == section)
    assert (line.what, line.priced) == (f"steel tube {section}", "keeper")
    b, h, t = (float(size) for size in section.split("x"))
    # Four walls less the corners, for 7850 kg/m3: within a hundredth of the closed form.
    kg_m = (2 * t * (b + h - 2 * t) - 0.858 * 3 * t**2) * 7850e-6
    for part in found:
        assert part_mass(part).kg == pytest.approx(
            kg_m * part.length_mm * part.count / 1e3, rel=0.01
        )
    assert to_glb(takeoff)


@pytest.mark.parametrize("name", STEEL)
def test_a_steel_beam_is_checked_by_the_rules_of_steel(name):
    yard, unit, _ = steel(name)
    report = frame_report(yard, unit)
    found = [m for m in report.members if m.section == STEEL[name][0][name]]
    assert found
    assert {m.strength_class for m in found} == {"S235"}
    for member in found:
        named = {check.split(" (")[0] for check in member.checks}
        assert {
            "bending",
            "shear",
            "deflection",
            "wall of the tube",
            "timber under the seat",
        } <= named
        assert not any("kmod" in check or "lateral torsional" in check for check in member.checks)
    assert report.refusals == ()
    told = " ".join(report.assumptions)
    assert f"{name} {STEEL[name][0][name]}" in told
    assert "self-drilling screws of 5.5 mm" in told
    assert any("galvanized after all cutting" in one for one in report.cautions)


def test_a_ridge_of_tube_sags_less_than_one_of_timber_as_deep():
    def most(section):
        yard = loaded(
            "loft", frame={"ridge": section}, roof=DUO, size=(3600.0, 3000.0, 2500.0, 2350.0)
        )
        report = frame_report(yard, yard.quarters[0])
        (beam,) = [m for m in report.members if m.what == "ridge beam"]
        return beam.utilisation

    assert most("60x120x5") < most("60x120")


@pytest.mark.parametrize(
    ("frame", "roof", "sentence"),
    [({"head": "60x80x3", "lining": "osb3_11"}, None, "nails of a lining"),
     ({"head": "60x80x3", "brace": "knee"}, None, "how a knee brace is held to it"),
     ({"head": "60x80x3", "post": "60x60x3"}, None, "how posts of tube are held to it"),
     ({"rafter": "60x100x3"}, {"deck": "none", "cover": "corrugated"}, "give the roof a deck"),
     ({"rafter": "60x100x1.5"}, None, "screws in a wall under 2 mm")],
)  # fmt: skip
def test_what_of_steel_beams_is_not_worked_out_is_refused(frame, roof, sentence):
    yard = loaded("shelter", frame=frame, roof=roof)
    report = frame_report(yard, yard.quarters[0])
    assert not report.sound
    assert any(sentence in one and "before an engineer" in one for one in report.refusals)


@pytest.mark.parametrize(
    ("size_mm", "roof", "sentence"),
    [((3000.0, 2000.0, 2900.0, 2200.0), None, "a tube is not notched"),
     ((3600.0, 3000.0, 2500.0, 2350.0), DUO, "hang on the ridge beam")],
)  # fmt: skip
def test_rafters_of_tube_are_neither_notched_nor_hung(size_mm, roof, sentence):
    yard = loaded("shelter", frame={"rafter": "60x100x3"}, roof=roof, size=size_mm)
    with pytest.raises(Problem, match=sentence):
        built_frame(yard, yard.quarters[0])


def test_blocking_between_tubes_is_of_timber_and_the_deck_is_screwed_to_steel():
    yard, unit, _ = steel("rafter")
    parts = take_off(yard, unit).parts
    blocking = [p for p in parts if p.what == "blocking between rafters"]
    assert {(p.section, p.material) for p in blocking} == {("60x100", "C24")}
    (screws,) = [p for p in parts if p.what == "self-drilling screw with wings"]
    assert screws.amount > 0


@pytest.mark.parametrize("name", STEEL)
def test_size_refuses_to_choose_beside_steel(name):
    yard, unit, _ = steel(name)
    with pytest.raises(Problem, match=f"has frame.{name} of steel tube"):
        size(yard, unit)
