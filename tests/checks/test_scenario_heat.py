"""The hottest day, on both sides of its limits.

By hand: a goshawk is of class B, watched from 25 °C, a Harris's hawk of class D, from 32 °C;
the house checks temperate birds from 27 °C and sounds its alarm for all from 32 °C. The room of
`support.yards.quarters` is 5 x 6 m: a quarter of its floor is 7.5 m2, a twentieth 1.5 m2.
"""

import pytest

from mewswright.checks.registry import run_checks
from support.yards import bird, perch, quarters, stay, yard

BOARDED = {"infill": "boarded"}
OPEN = {"infill": "open"}
HARRIS = bird("Tansy", "harris_hawk")


def run(of, code, temp_c=34, **where):
    found = [f for f in run_checks(of, scenario="heat", temp_c=temp_c) if f.code == code]
    return [f for f in found if all(getattr(f, k) == v for k, v in where.items())]


def only(of, code, temp_c=34, **where):
    found = run(of, code, temp_c, **where)
    assert len(found) == 1, [str(f) for f in found]
    return found[0]


def loft(birds=None, stays=None, **more):
    birds = birds or [bird()]
    room = quarters(fitting=[perch()], **more)
    return yard(bird=birds, quarters=[room], stay=stays or [stay(b["name"]) for b in birds])


def tied(*, leash_mm=400, daytime_only=False, **tables):
    """A hawk on a block in the middle of a pitch of 6 x 6 m."""
    hawk = bird(leash_working_mm=leash_mm, jess_swivel_mm=200)
    lawn = quarters("Lawn", "pitch", width_mm=6000, depth_mm=6000, fitting=[perch("b", 3000, 3000)])
    out = stay(quarters="Lawn", mode="tethered", perch="b", daytime_only=daytime_only)
    rooms = [lawn, *tables.pop("more_quarters", [])]
    stays = [out, *tables.pop("more_stays", [])]
    return yard(bird=[hawk], quarters=rooms, stay=stays, **tables)


@pytest.mark.parametrize(
    ("of", "temp_c", "status", "limit_c"),
    [(bird(), 24.9, "sound", 25), (bird(), 25, "mind", 25), (bird(), 27, "mind", 27),
     (bird(), 31.9, "mind", 27), (bird(), 32, "mind", 32),
     (HARRIS, 31.9, "sound", 32), (HARRIS, 32, "mind", 32)],
)  # fmt: skip
def test_e101_the_highest_limit_that_is_reached(of, temp_c, status, limit_c):
    found = only(loft([of]), "E101", temp_c)
    assert (found.status, found.limit.value) == (status, limit_c)
    assert ("no handling" in found.why) == (temp_c >= 32)


def test_e101_without_climate_or_temperature():
    found = only(loft(), "E101", None)
    assert (found.status, found.remedy) == ("mind", "give [climate], or --temp-c")


def test_e101_a_bird_of_two_places_is_told_of_once():
    of = tied(daytime_only=True, more_quarters=[quarters(at_m=[20, 0])], more_stays=[stay()])
    assert only(of, "E101").quarters == "North loft"


@pytest.mark.parametrize(
    ("starts_on", "ends_on", "count"),
    [("2027-10-01", "2028-03-31", 0), ("2027-07-31", "2028-03-31", 1)],
)
def test_a_bird_that_is_elsewhere_in_july_is_not_asked_after(starts_on, ends_on, count):
    of = loft(stays=[stay(starts_on=starts_on, ends_on=ends_on)])
    assert len(run(of, "E101")) == len(run(of, "E102")) == count


@pytest.mark.parametrize(("temp_c", "status"), [(25, "harm"), (24.9, "short"), (None, "short")])
def test_e102_a_bird_on_the_leash_in_the_sun(temp_c, status):
    assert only(tied(), "E102", temp_c).status == status


def test_e102_a_roofed_shelter_has_shade_all_day():
    room = quarters(kind="shelter", fitting=[perch("b", 2500, 4000)])
    of = yard(bird=[bird()], quarters=[room], stay=[stay(mode="tethered", perch="b")])
    assert only(of, "E102").status == "sound"


def test_e102_cleared_by_bringing_it_under_a_roof():
    """What the remedy says: the same bird, the same leash, a solid roof."""
    assert "bring it under a solid roof" in only(tied(), "E102").remedy
    room = quarters(kind="shelter", fitting=[perch("b", 2500, 4000)])
    hawk = bird(leash_working_mm=400, jess_swivel_mm=200)
    of = yard(bird=[hawk], quarters=[room], stay=[stay(mode="tethered", perch="b")])
    assert only(of, "E102").status == "sound"


def test_e102_out_by_day_alone_it_can_stay_in():
    room = quarters(at_m=[20, 0])
    of = tied(daytime_only=True, more_quarters=[room], more_stays=[stay()])
    assert only(of, "E102", quarters="Lawn").status == "mind"
    bare = quarters(at_m=[20, 0], roof={"form": "none"})
    of = tied(daytime_only=True, more_quarters=[bare], more_stays=[stay()])
    assert only(of, "E102", quarters="Lawn").status == "harm"


def test_e102_shade_at_noon_alone_is_not_enough():
    """At 47 N in mid-July the sun stands 64.5 deg high at noon, in the south: a wall 6 m high
    on the south edge throws 6 / tan 64.5 = 2.9 m, and the bird 3 m behind it is within its
    leash of that. At three it stands at 45 deg in the west-south-west (bearing 250), and the
    wall throws 6 x cos 70 = 2.1 m north: with 0.3 m of leash it is out of reach."""
    wall = {"name": "Wall", "kind": "wall", "line_m": [[-30, 0], [30, 0]], "height_m": 6}
    lawn = {"at_m": [0, 0], "facing_deg": 180}
    hawk = bird(leash_working_mm=200, jess_swivel_mm=100)
    room = quarters("Lawn", "pitch", width_mm=6000, depth_mm=6000,
                    fitting=[perch("b", 3000, 3000)], **lawn)  # fmt: skip
    of = yard(bird=[hawk], quarters=[room], feature=[wall],
              stay=[stay(quarters="Lawn", mode="tethered", perch="b")])  # fmt: skip
    found = only(of, "E102")
    assert found.status == "harm"
    assert "at the hottest hour" in found.why
    assert "at noon" not in found.why


@pytest.mark.parametrize(
    ("roof", "status"),
    [({}, "sound"), ({"covered_share": 0.3}, "sound"), ({"form": "none"}, "harm"),
     ({"cover": "polycarbonate"}, "harm")],
)  # fmt: skip
def test_e102_a_loose_bird(roof, status):
    """Only the front is open to the sky beside the roof: walls of netting throw no shade here."""
    net = {"infill": "netted", "gap_mm": 20, "mesh_kind": "knotted_net"}
    faces = dict.fromkeys(("front", "back", "left", "right"), net)
    assert only(loft(roof=roof, faces=faces), "E102").status == status


@pytest.mark.parametrize(
    ("faces", "vent_cm2", "status"),
    [
        ({"front": BOARDED}, 74_999, "short"), ({"front": BOARDED}, 75_000, "sound"),
        ({"front": OPEN}, 0, "sound"),
    ],
)  # fmt: skip
def test_e103_a_quarter_of_the_floor(faces, vent_cm2, status):
    assert only(loft(faces=faces, vent_cm2=vent_cm2), "E103").status == status


@pytest.mark.parametrize(("upstand_mm", "status"), [(2700, "sound"), (2701, "short")])
def test_e103_a_twentieth_in_each_of_two_sides(upstand_mm, status):
    """0.3 m of an open front of 5 m are 1.5 m2; of the open back as well."""
    gap = {"infill": "open", "upstand_mm": upstand_mm}
    assert only(loft(faces={"front": gap, "back": gap}), "E103").status == status


def test_e103_cleared_by_its_remedy():
    found = only(loft(faces={"front": BOARDED}), "E103")
    assert found.remedy.startswith("open 75000 cm² more, half low and half high, or 15000 cm²")
    assert only(loft(faces={"front": BOARDED}, vent_cm2=75_000), "E103").status == "sound"


def test_e103_below_what_the_bird_bears_it_is_minded():
    assert only(loft(faces={"front": BOARDED}), "E103", 24.9).status == "mind"


@pytest.mark.parametrize(
    ("roof", "temp_c", "status"),
    [({"cover": "polycarbonate"}, 25, "short"), ({"cover": "polycarbonate"}, 24.9, "mind"),
     ({"cover": "corrugated", "deck": "none"}, 34, "mind"), ({"cover": "corrugated"}, 34, "sound"),
     ({}, 34, "sound")],
)  # fmt: skip
def test_e104_the_roof(roof, temp_c, status):
    assert only(loft(roof=roof), "E104", temp_c).status == status


def test_e105_the_leash_in_the_sun_goes_first():
    hawk, harris = bird(), HARRIS
    lawn = quarters("Lawn", "pitch", at_m=[20, 0], fitting=[perch("b")])
    of = yard(
        bird=[hawk, harris], quarters=[quarters(), lawn],
        stay=[stay(), stay("Tansy", "Lawn", "tethered", perch="b")],
    )  # fmt: skip
    assert only(of, "E105").remedy == (
        "first on the leash in the sun: Tansy; then in the shade, by what they bear: Bramble"
    )
    assert only(of, "E105", 24).status == "sound"


def test_an_empty_yard_has_nothing_to_say():
    assert run_checks(yard(), scenario="heat") == ()
