"""Posts of steel tube in a unit: set out, sawn, weighed, priced, checked, and refused where due."""

import pytest
from pydantic import ValidationError

from mewswright.build.actions.dead import part_mass_kg
from mewswright.build.frame_report import frame_report
from mewswright.build.masses import part_mass
from mewswright.build.report import worked_out
from mewswright.build.size import size
from mewswright.model.place import Loads
from mewswright.model.problem import Problem
from support.units import unit_yard

TUBE = [{"section": "60x60x3", "length_mm": 6000, "price": "50", "priced": "keeper"}]
LOADS = Loads(source="test", ground_snow_kn_m2=1.0, basic_wind_m_s=22, terrain="III")


def steel(**more):
    yard = unit_yard(frame={"post": "60x60x3"}, **more)
    return yard.model_copy(update={"loads": LOADS})


def test_a_steel_post_is_sawn_from_tube_and_weighed_by_its_steel():
    yard = steel(stock=TUBE)
    takeoff, sawing, costing = worked_out(yard, yard.quarters[0])
    (posts,) = [part for part in takeoff.parts if part.kind == "post"]
    assert (posts.section, posts.material, posts.sawn) == ("60x60x3", "S235", True)
    # 6.61 cm2 at 7850 kg/m3 are 5.19 kg a metre.
    assert part_mass(posts).kg == pytest.approx(
        5.19 * posts.length_mm / 1000 * posts.count, rel=0.005
    )
    assert part_mass_kg(posts)[0] == part_mass(posts).kg
    assert "60x60x3" in {section.section for section in sawing.plan.sections}
    line = next(one for one in costing.lines if one.item == "60x60x3")
    assert (line.what, line.priced) == ("steel tube 60x60x3", "keeper")


def test_a_steel_post_has_plates_and_self_drilling_screws_and_takes_no_stain():
    yard = steel()
    takeoff, _, _ = worked_out(yard, yard.quarters[0])
    of = {part.material: part.amount for part in takeoff.parts if part.kind == "fixing"}
    posts = sum(part.count for part in takeoff.parts if part.kind == "post")
    rails = sum(part.count for part in takeoff.parts if part.what in ("face rail", "upstand rail"))
    assert of["tube_end_plate"] == 2 * posts
    assert of["self_drilling_screw_55x25"] == 4 * rails
    assert of["angle_bracket_90"] == 2 * rails
    timber = unit_yard()
    stained = {p.material: p.amount for p in worked_out(timber, timber.quarters[0])[0].parts}
    now = {part.material: part.amount for part in takeoff.parts}
    stain = "wood_stain_preservative_sawn"
    assert now[stain] < stained[stain]


STANDS = {
    "post": "60x60x3", "lining": "osb3_11", "base": "slab", "anchor": "slab_anchor",
    "anchor_count": 10, "head": "95x95", "post_count": 4,
}  # fmt: skip


def standing(*, roof=None, **frame):
    yard = unit_yard(frame=STANDS | frame, **({"roof": roof} if roof else {}))
    return yard.model_copy(update={"loads": LOADS.model_copy(update={"basic_wind_m_s": 16.0})})


def test_a_unit_on_steel_posts_can_stand_and_says_who_must_confirm():
    yard = standing()
    found = frame_report(yard, yard.quarters[0])
    (post,) = [one for one in found.members if one.section == "60x60x3"]
    assert post.strength_class == "S235"
    assert 0 < post.utilisation < 1
    named = {check.split(" (")[0] for check in post.checks}
    assert {
        "section", "buckling", "shear", "weld of its end plates", "bending of its end plates",
        "screws of its end plates", "timber under its end plates",
    } <= named  # fmt: skip
    assert found.sound, found.weakest
    assert found.refusals == ()
    assert any("160 x 95 x 6 mm" in one and "throat" in one for one in found.assumptions)
    assert any(one.startswith("The fabricator of the steel posts") for one in found.cautions)


@pytest.mark.parametrize(
    ("frame", "roof", "sentence"),
    [({"brace": "knee"}, None, "how a knee brace is held to a tube"),
     ({"head_on_edge": True}, None, "an end plate under a head plate on edge"),
     ({"post": "60x60x2"}, None, "a weld on a wall under 2.5 mm"),
     ({"post": "60x120x4"}, None, "wider than the 95 mm of sole and head plate"),
     ({}, {"form": "duopitch", "ridge_height_mm": 2900}, "how a ridge beam is held on a tube")],
)  # fmt: skip
def test_what_of_steel_posts_is_not_worked_out_is_refused(frame, roof, sentence):
    yard = standing(roof=roof, **frame)
    found = frame_report(yard, yard.quarters[0])
    assert not found.sound
    assert any(sentence in one and "before an engineer" in one for one in found.refusals)


def test_timber_has_no_word_of_steel():
    yard = unit_yard().model_copy(update={"loads": LOADS})
    found = frame_report(yard, yard.quarters[0])
    assert not any("fabricator" in one for one in found.cautions)


def test_size_refuses_to_choose_steel():
    yard = steel()
    with pytest.raises(Problem, match=r"^'Unit' has posts of steel tube 60x60x3, and only timber"):
        size(yard, yard.quarters[0])


@pytest.mark.parametrize("post", ["60x60x30", "60x60x0"])
def test_a_tube_without_a_hollow_is_refused(post):
    with pytest.raises(ValidationError, match="leave no hollow: write 60x60x3"):
        unit_yard(frame={"post": post})


@pytest.mark.parametrize("key", ["sole", "stud", "nogging", "batten", "foot_post", "edge_board"])
def test_what_is_nailed_to_takes_no_tube(key):
    with pytest.raises(ValidationError, match=f"{key} is the steel tube 60x60x3, and boards"):
        unit_yard(frame={key: "60x60x3"})


def test_steel_does_not_go_into_the_ground():
    frame = {"post": "60x60x3", "base": "posts_in_concrete"}
    with pytest.raises(ValidationError, match="give foot_post a timber section"):
        unit_yard(frame=frame)
    yard = unit_yard(frame={**frame, "foot_post": "100x100"})
    takeoff, _, _ = worked_out(yard, yard.quarters[0])
    assert {p.section for p in takeoff.parts if p.what.startswith("short post")} == {"100x100"}
    assert takeoff.floor_load.unit_kn_m2 > 0
