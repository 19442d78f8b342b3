"""What a tethered bird finds within its leash: headroom, edges, footing, water, shade, dryness.

By hand: leash 400 + swivel and jesses 200: its feet come to 600 mm, its wing tips (half of
1000 more) to 1100 mm, and with the margin of 150 its free circle is 1250 mm.
"""

import re

import pytest

from support.yards import bird, findings, only, perch, quarters, stay, yard

FEET = 600
TIP = 1100
R = 1250
FLINT = bird(
    "Flint", "peregrine_falcon", wing_span_mm=1000, leash_working_mm=400, jess_swivel_mm=200,
    tail_mm=140,
)  # fmt: skip


def place(*fittings, kind="shelter", standards=("house",), more=None, latitude=None, **of):
    size = {"width_mm": 4000, "depth_mm": 4000} | of
    tied = stay("Flint", "Yard", "tethered", perch="perch") | (more or {})
    made = yard(
        standards, bird=[FLINT], quarters=[quarters("Yard", kind, fitting=list(fittings), **size)],
        stay=[tied],
    )  # fmt: skip
    if latitude is not None:
        made = made.model_copy(
            update={"yard": made.yard.model_copy(update={"latitude_deg": latitude})}
        )
    return made


def said(remedy, words):
    return float(re.search(rf"{words} (\d+) mm", remedy).group(1))


# --- T112: perch 300 + half the span 500 = 800 mm wanted; the roof falls 1 in 10 to the back.

FALL = {"front_height_mm": 1000, "back_height_mm": 600}


@pytest.mark.parametrize(
    ("y", "standards", "status"),
    [(1400, ("house",), "sound"), (1410, ("house",), "short"), (1410, ("us-50cfr21",), "harm"),
     (1400, ("us-50cfr21",), "sound")],
)  # fmt: skip
def test_t112_the_lowest_place_in_the_circle_counts(y, standards, status):
    found = only(place(perch(x=2000, y=y), standards=standards, **FALL), "T112")
    assert (found.status, found.measured.value, found.limit.value) == (
        status, pytest.approx(1000 - (y + FEET) / 10), 800,
    )  # fmt: skip


def test_t112_lower_perch_clears_it():
    tied = perch(x=2000, y=1500)
    by = said(only(place(tied, **FALL), "T112").remedy, "lower the perch")
    assert by == 10
    assert only(place(tied | {"height_mm": 300 - by}, **FALL), "T112").status == "sound"


def test_t112_a_low_perch_asks_for_a_higher_roof():
    """Tail 140 and 50 behind it: at 190 mm the perch is as low as it may be."""
    tied = perch(x=2000, y=2610, height_mm=190)
    by = said(only(place(tied, **FALL), "T112").remedy, "raise the whole roof")
    assert by == 11
    raised = {"front_height_mm": 1000 + by, "back_height_mm": 600 + by}
    assert only(place(tied, **raised), "T112").status == "sound"


def test_t112_open_sky_in_front_is_not_a_roof():
    low = {"front_height_mm": 600, "back_height_mm": 1000, "roof": {"covered_share": 0.25}}
    low["roof"]["open_infill"] = "open"
    assert "open sky" in only(place(perch(x=2000, y=1000), **low), "T112").why
    # Roof begins 3000 mm behind the front, where it is 900 high.
    assert only(place(perch(x=2000, y=2500), **low), "T112").measured.value == 900
    meshed = low | {"roof": {"covered_share": 0.25, "open_infill": "meshed"}}
    assert only(place(perch(x=2000, y=2500), **meshed), "T112").measured.value == 790
    assert findings(place(perch(x=2000, y=2000), kind="pitch"), "T112") == []


# --- T113


@pytest.mark.parametrize(("x", "status"), [(FEET, "sound"), (FEET - 1, "harm")])
def test_t113_the_end_of_a_wall_at_the_open_front(x, status):
    of = place(perch(x=x, y=0))
    found = only(of, "T113")
    assert found.status == status
    if status != "sound":
        assert found.remedy == (
            "move the perch 1 mm away from the end of the left face, or tie it shorter"
        )


def test_t113_is_the_same_in_the_mirror():
    left, right = (only(place(perch(x=x, y=0)), "T113") for x in (500, 3500))
    assert (left.status, left.measured) == (right.status, right.measured)


@pytest.mark.parametrize(
    ("y", "up_mm", "status"),
    [(FEET, 300, "sound"), (FEET - 1, 300, "harm"), (FEET - 1, 899, "harm"),
     (FEET - 1, 900, "sound")],
)  # fmt: skip
def test_t113_a_sill_that_it_gets_over(y, up_mm, status):
    """The perch is 300 mm high and the feet reach 600 mm: 900 mm up they come no more."""
    faces = {"front": {"infill": "open", "upstand_mm": up_mm}}
    assert only(place(perch(x=2000, y=y), faces=faces), "T113").status == status


def with_feature(of, **feature):
    data = of.model_dump(mode="json", exclude_none=True)
    return type(of).model_validate(data | {"feature": [feature]})


@pytest.mark.parametrize(
    ("east_mm", "status"),
    [(R + 1, "sound"), (R, "sound"), (R - 1, "short"), (TIP, "short"), (TIP - 1, "harm")],
)
def test_t113_a_tree_beside_the_pitch(east_mm, status):
    pitch = place(perch(x=2000, y=2000), kind="pitch")
    tree = {"name": "Ash", "kind": "tree", "at_m": [2 + east_mm / 1000, 2], "height_m": 9}
    found = only(with_feature(pitch, **tree), "T113")
    assert found.status == status
    if status != "sound":
        assert found.remedy == f"move the perch {R - east_mm} mm away from Ash"


@pytest.mark.parametrize(("front", "status"), [("open", "harm"), ("barred", "sound")])
def test_t113_a_closed_face_keeps_the_bird_from_what_stands_outside(front, status):
    faces = {"front": {"infill": front} | ({} if front == "open" else {"gap_mm": 25})}
    shelter = place(perch(x=2000, y=500), faces=faces)
    tap = {"name": "Tap", "kind": "tap", "at_m": [2, -0.4]}
    assert only(with_feature(shelter, **tap), "T113").status == status


def test_t113_the_wall_of_other_quarters():
    pitch = quarters("Yard", "pitch", fitting=[perch(x=2000, y=2000)])
    for gap_mm, status in ((R, "sound"), (R - 1, "short")):
        loft = quarters("Loft", at_m=[2 + gap_mm / 1000, 0])
        of = yard(bird=[FLINT], quarters=[pitch, loft], stay=[stay("Flint", "Yard", "tethered")])
        assert only(of, "T113").status == status


# --- T114


@pytest.mark.parametrize(
    ("y", "step_mm", "status"),
    [(FEET, None, "sound"), (FEET - 1, None, "mind"), (300, 50, "sound"), (300, 51, "short"),
     (300, 300, "short"), (300, 301, "harm"), (FEET - 1, 51, "harm")],
)  # fmt: skip
def test_t114_the_step_at_an_open_front(y, step_mm, status):
    """At 300 mm behind the edge 300 mm of the leash are left: a deeper step leaves it hanging."""
    floor = {} if step_mm is None else {"edge_step_mm": step_mm}
    assert only(place(perch(x=2000, y=y), floor=floor), "T114").status == status


def test_t114_either_remedy_clears_it():
    remedy = only(place(perch(x=2000, y=300), floor={"edge_step_mm": 120}), "T114").remedy
    step = 120 - said(remedy, "raise the ground outside")
    y = 300 + said(remedy, "move the perch")
    assert only(place(perch(x=2000, y=300), floor={"edge_step_mm": step}), "T114").status == "sound"
    assert only(place(perch(x=2000, y=y), floor={"edge_step_mm": 120}), "T114").status == "sound"


def tub(y=2600, **more):
    return {"kind": "bath", "name": "tub", "at_mm": [2000, y], "diameter_mm": 700,
            "depth_mm": 100, "rim_height_mm": 150} | more  # fmt: skip


@pytest.mark.parametrize(("platform_mm", "status"), [(50, "sound"), (51, "mind")])
def test_t114_the_platform_of_a_low_bath(platform_mm, status):
    of = place(perch(x=2000, y=2000), tub(platform_mm=platform_mm))
    found = only(of, "T114", fitting="tub")
    assert (found.status, found.remedy) == (
        status,
        "" if status == "sound" else "set it 1 mm lower",
    )


def test_t114_a_platform_out_of_reach_says_nothing():
    of = place(perch(x=2000, y=2000), tub(y=2950, platform_mm=90))
    assert only(of, "T114").fitting == "perch"


def test_t114_the_edge_of_a_pitch():
    assert only(place(perch(x=2000, y=2000), kind="pitch"), "T114").status == "sound"
    assert only(place(perch(x=500, y=2000), kind="pitch"), "T114").status == "mind"


# --- T115: the bath is 700 across, so its edge lies 350 mm nearer than its middle.


@pytest.mark.parametrize(
    ("standards", "y", "status"),
    [(("house",), 2950, "sound"), (("house",), 2951, "short"), (("uk-hawk-board",), 2951, "short"),
     (("us-50cfr21",), 2951, "harm"), (("us-50cfr21",), 2950, "sound")],
)  # fmt: skip
def test_t115_the_leash_reaches_the_water(standards, y, status):
    found = only(place(perch(x=2000, y=2000), tub(y), standards=standards), "T115")
    assert found.status == status
    if status != "sound":
        assert found.remedy == "move it 1 mm towards the perch"


def test_t115_the_nearest_bath_counts_and_none_is_w101s():
    far = tub(3600) | {"name": "far"}
    assert only(place(perch(x=2000, y=2000), far, tub(2900)), "T115").fitting == "tub"
    assert findings(place(perch(x=2000, y=2000)), "T115") == []


# --- T116: roof 3000 mm high, front to the south at 47.12 N. At the equinox the sun stands at
# 90 - 47.12 = 42.88 deg: shade begins 3000 / tan 42.88 = 3231 mm behind the front, and 600 mm
# before that the leash still reaches it. At midsummer, at 66.32 deg, it begins at 1316 mm.

JUNE = {"starts_on": "2027-06-01", "ends_on": "2027-07-31"}
WINTER = {"starts_on": "2026-10-01", "ends_on": "2027-03-14"}


@pytest.mark.parametrize(
    ("y", "more", "status"),
    [(2631, {}, "sound"), (2630, {}, "mind"), (716, {}, "mind"), (715, {}, "short"),
     (715, {"daytime_only": True}, "mind"), (716, JUNE, "sound"), (715, JUNE, "short"),
     (100, WINTER, "sound")],
)  # fmt: skip
def test_t116_shade_at_noon(y, more, status):
    assert only(place(perch(x=2000, y=y), more=more), "T116").status == status


def test_t116_where_the_law_asks_shelter_from_the_sun():
    for y, status in ((716, "mind"), (715, "harm")):
        of = place(perch(x=2000, y=y), standards=("ch-tschv",))
        assert only(of, "T116").status == status


def test_t116_the_move_clears_it():
    found = only(place(perch(x=2000, y=1000)), "T116")
    by, towards = re.search(
        r"perch (\d+) mm straight towards \[2000, (\d+)\]", found.remedy
    ).groups()
    assert int(towards) == 3231
    assert only(place(perch(x=2000, y=1000 + int(by))), "T116").status == "sound"


@pytest.mark.parametrize(("y", "status"), [(2631, "sound"), (2630, "mind"), (715, "short")])
def test_t116_the_southern_half_is_the_mirror(y, status):
    """As far south, with the front to the north."""
    of = place(perch(x=2000, y=y), facing_deg=0, latitude=-47.12)
    assert only(of, "T116").status == status


def test_t116_a_roof_of_clear_sheets_is_no_shade():
    of = place(perch(x=2000, y=3000), roof={"cover": "polycarbonate"})
    found = only(of, "T116")
    assert (found.status, str(found.measured)) == ("short", "no shade")


@pytest.mark.parametrize(
    ("north_m", "leaf", "status"),
    [(-2.354, [6], "sound"), (-2.356, [6], "short"), (-2.354, [5], "short")],
)
def test_t116_a_tree_shades_a_pitch(north_m, leaf, status):
    """The crown's middle is 4 m up: 4 / tan 66.32 = 1.754 m north of the stem, and 2 m wide.

    The perch is 2 m north, so the stem may stand 2 - 0.6 - 2 - 1.754 = -2.354 m.
    """
    tree = {"name": "Walnut", "kind": "tree", "at_m": [2, north_m], "height_m": 6,
            "crown_radius_m": 2, "leaf_months": leaf}  # fmt: skip
    of = with_feature(place(perch(x=2000, y=2000), kind="pitch"), **tree)
    assert only(of, "T116").status == status


# --- T117: roofed from 2000 mm on; rain drives in 300 mm.

HALF = {"roof": {"covered_share": 0.5}}


@pytest.mark.parametrize(
    ("y", "standards", "more", "status"),
    [(1700, ("house",), {}, "sound"), (1699, ("house",), {}, "short"),
     (1699, ("ch-tschv",), {}, "harm"), (1699, ("ch-tschv",), {"daytime_only": True}, "mind")],
)  # fmt: skip
def test_t117_a_dry_place(y, standards, more, status):
    found = only(place(perch(x=2000, y=y), standards=standards, more=more, **HALF), "T117")
    assert found.status == status
    if status != "sound":
        assert found.remedy == "move the perch 1 mm towards the back"


def test_t117_a_roof_that_keeps_nothing_dry():
    of = place(perch(x=2000, y=3900), roof={"covered_share": 0.05})
    found = only(of, "T117")
    assert (found.status, found.remedy) == ("short", "bring the roof 101 mm forward")
    assert only(
        place(perch(x=2000, y=3900), roof={"covered_share": 301 / 4000}), "T117"
    ).status == ("sound")
    assert findings(place(perch(x=2000, y=2000), kind="pitch"), "T117") == []


def test_a_guessed_perch_is_only_minded():
    two = [perch(x=2000, y=599), perch("other", x=2100, y=599)]
    assert {f.status for f in findings(place(*two, more={"perch": None}), "T114")} == {"mind"}


def test_loose_birds_are_not_asked():
    of = place(perch(x=2000, y=2000), more={"mode": "loose", "perch": None})
    codes = {f"T11{i}" for i in (2, 3, 4, 5, 6, 7)}
    assert not [f for code in codes for f in findings(of, code)]
