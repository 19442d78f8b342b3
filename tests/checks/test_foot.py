"""What the feet bear on, and the score of it.

Outside: Barboza et al. 2020 (peregrine foot model at 250, 500 and 1000 g: turf and neoprene
load the pad less than bare wood); the Spanish rescue centre's hazard ratios against hawks and
eagles (falcons 0.31, owls 0.13); the review of 2021 (gyr and saker most prone). By hand: 80 %
of 24 h is 19.2 h. Points are judgements, told term by term.
"""

import re

import pytest

from mewswright.handbook import foot_risks, species
from support.yards import bird, findings, only, perch, quarters, stay, yard


def rod(name, diameter_mm=40, cover="turf", x=1500, form="round", **more):
    return perch(
        name, x, form=form, length_mm=800, diameter_mm=diameter_mm, cover=cover,
        cover_age_months=1, height_mm=1000, **more,
    )  # fmt: skip


def loft(*perches, birds=None, mode="loose", kind="loft", more=()):
    birds = birds or [bird(mass_g=1000, flights_per_week=3)]
    return yard(
        bird=birds,
        quarters=[quarters(kind=kind, fitting=list(perches)),
                  quarters("Lawn", "pitch", at_m=[20, 0], fitting=[perch("bow", cover="cork")])],
        stay=[*(stay(b["name"], mode=mode) for b in birds), *more],
    )  # fmt: skip


def by_day(hours=None, mode="tethered"):
    day = {} if hours is None else {"hours_a_day": hours}
    return stay(quarters="Lawn", mode=mode, perch="bow", daytime_only=True, **day)


# --- B101


@pytest.mark.parametrize(
    ("covers", "status"),
    [(("turf", "turf"), "mind"), (("turf", "rope"), "sound"), (("bare", "bare"), "mind")],
)
def test_b101_a_loose_bird_has_a_choice(covers, status):
    of = loft(rod("a", cover=covers[0]), rod("b", cover=covers[1], x=3000))
    assert only(of, "B101").status == status


@pytest.mark.parametrize(
    ("hours", "status", "share"), [(4.8, "sound", 80), (4.7, "mind", 80.4167), (None, "mind", 100)]
)
def test_b101_hours_on_another_cover(hours, status, share):
    """24 less 4.8 h are 80 % of the day."""
    found = only(loft(rod("a"), mode="tethered", more=[by_day(hours)]), "B101")
    assert (found.status, found.measured.value) == (status, pytest.approx(share, abs=1e-3))
    if hours is None:
        assert found.remedy == "give hours_a_day of its stays by day"


def test_b101_the_hours_it_asks_for_clear_it():
    found = only(loft(rod("a"), mode="tethered"), "B101")
    hours = int(re.search(r"for (\d+) h a day more", found.remedy).group(1))
    assert hours == 5
    assert only(loft(rod("a"), mode="tethered", more=[by_day(hours)]), "B101").status == "sound"


def test_b101_the_same_cover_elsewhere_is_no_change():
    of = loft(rod("a", cover="cork"), mode="tethered", more=[by_day()])
    found = only(of, "B101")
    assert (found.status, found.measured.value) == ("mind", 100)
    assert "something other than cork" in found.remedy


@pytest.mark.parametrize(
    ("kind", "birds", "status"),
    [("gyr_x_saker", 1, "short"), ("gyr_x_peregrine", 1, "short"), ("peregrine_falcon", 1, "mind"),
     ("harris_hawk", 2, "short")],
)  # fmt: skip
def test_b101_prone_kinds_and_several_birds(kind, birds, status):
    flock = [bird(f"B{i}", kind) for i in range(birds)]
    found = findings(loft(rod("a"), rod("b", x=3000), birds=flock), "B101")
    assert [f.status for f in found] == [status] * birds
    cured = loft(rod("a"), rod("b", x=3000, cover="rope"), birds=flock)
    assert {f.status for f in findings(cured, "B101")} == {"sound"}


def test_b101_a_bare_branch_is_not_a_planed_bar():
    of = loft(rod("a", cover="bare"), rod("b", cover="bare", form="branch", x=3000))
    assert only(of, "B101").status == "sound"


# --- B102


@pytest.mark.parametrize(("months", "status"), [(12, "sound"), (12.1, "short"), (0, "sound")])
def test_b102_age(months, status):
    old = rod("a") | {"cover_age_months": months}
    assert only(loft(old), "B102", quarters="North loft").status == status


def test_b102_ages_not_given_are_asked_for_once():
    new = [rod(n, x=x) | {"cover_age_months": None} for n, x in (("b", 1000), ("a", 3000))]
    found = only(loft(*new, rod("c", cover="bare")), "B102", quarters="North loft")
    assert (found.status, found.why) == ("mind", "how old the cover is on a, b is not given")


# --- B103


@pytest.mark.parametrize(
    ("cover", "form", "status"),
    [("turf", "round", "sound"), ("neoprene", "round", "sound"), ("rope", "round", "mind"),
     ("bark", "branch", "mind"), ("bare", "branch", "short"), ("bare", "round", "short"),
     ("sandpaper", "round", "short")],
)  # fmt: skip
def test_b103_covers_that_were_tested(cover, form, status):
    assert only(loft(rod("a", cover=cover, form=form)), "B103").status == status


def test_b103_one_good_perch_is_enough():
    of = loft(rod("a", cover="bare"), rod("b", cover="turf", x=3000))
    assert only(of, "B103").status == "sound"


@pytest.mark.parametrize(
    ("mass_g", "inside"), [(250, True), (1000, True), (249, False), (1001, False)]
)
def test_b103_says_where_the_test_stops(mass_g, inside):
    of = loft(rod("a"), birds=[bird(mass_g=mass_g)])
    assert ("the test stood for 250 to 1000 g" not in only(of, "B103").why) == inside


# --- B105


@pytest.mark.parametrize(
    ("thin_mm", "thick_mm", "form", "status"),
    [(40, 45, "round", "sound"), (40, 44, "round", "mind"), (40, 40, "branch", "sound")],
)
def test_b105_thickness(thin_mm, thick_mm, form, status):
    of = loft(rod("a", thin_mm), rod("b", thick_mm, x=3000, form=form))
    assert only(of, "B105").status == status


@pytest.mark.parametrize(
    ("size_mm", "said"), [(40, "take b 5 mm thicker"), (53, "take a 5 mm thinner")]
)
def test_b105_the_remedy_stays_within_what_fits(size_mm, said):
    """A bird of 1000 g takes 35 to 55 mm (handbook, from memory)."""
    of = loft(rod("a", size_mm), rod("b", size_mm, x=3000))
    assert only(of, "B105").remedy == said
    a, b = (size_mm, size_mm + 5) if "thicker" in said else (size_mm - 5, size_mm)
    cured = loft(rod("a", a), rod("b", b, x=3000))
    assert only(cured, "B105").status == "sound"
    assert {f.status for f in findings(cured, "P113", quarters="North loft")} == {"sound"}


def test_b105_one_round_perch_is_not_judged():
    assert findings(loft(rod("a")), "B105") == []


# --- B104


def test_b104_every_term_is_told():
    """Gyr 2 + one texture 1 + hard 1 + misfit 1 + one thickness 1 + unflown 1 + heavy 1."""
    sleet = bird("Sleet", "gyr_x_saker", mass_g=2000, flights_per_week=0)
    bad = [rod(n, 30, "bare", x=x) for n, x in (("a", 1000), ("b", 3000))]
    found = only(loft(*bad, birds=[sleet]), "B104")
    assert (found.status, found.measured.value, found.limit.value) == ("short", 8, 2)
    for term in ("gyr or saker", "one texture", "hard cover", "does not fit", "one thickness",
                 "unflown", "heavy"):  # fmt: skip
        assert term in found.why
    assert "avian vet" in found.remedy
    points = [int(n) for n in re.findall(r" (\d)(?: \+|$)", found.why)]
    assert sum(points) == found.measured.value


def test_b104_doing_what_it_says_clears_it():
    """Two points stay with the kind of bird, and 2 is what is borne."""
    sleet = bird("Sleet", "gyr_x_saker", mass_g=1290, flights_per_week=4)
    good = [rod("a", 40), rod("b", 48, "rope", x=3000)]
    found = only(loft(*good, birds=[sleet]), "B104")
    assert (found.status, found.measured.value, found.remedy) == ("sound", 2, "")
    assert found.why == "gyr or saker (Gyrfalcon x saker hybrid) 2"


@pytest.mark.parametrize(
    ("kind", "points"),
    [("gyrfalcon", 2), ("peregrine_x_saker", 2), ("peregrine_falcon", 0), ("eurasian_goshawk", 1),
     ("golden_eagle", 1), ("griffon_vulture", 1), ("eurasian_eagle_owl", 0)],
)  # fmt: skip
def test_b104_kinds(kind, points):
    flown = bird("Flint", kind, flights_per_week=3)
    of = loft(rod("a", 40), perch("b", 3000, cover="rope"), birds=[flown])
    assert only(of, "B104").measured.value == points


@pytest.mark.parametrize(
    ("flights", "use", "mode", "points"),
    [(3, "flown", "tethered", 0), (0, "flown", "tethered", 2), (None, "display", "tethered", 2),
     (None, "display", "loose", 1), (None, "flown", "loose", 0)],
)  # fmt: skip
def test_b104_idleness(flights, use, mode, points):
    flint = bird("Flint", "peregrine_falcon", flights_per_week=flights, use=use)
    perches = [rod("a", 40), perch("b", 3000, cover="rope")]
    found = only(loft(*perches, birds=[flint], mode=mode), "B104")
    assert found.measured.value == points
    assert ("its flights a week" in found.why) == (flights is None and use == "flown")


@pytest.mark.parametrize(("more_g", "heavy"), [(-0.1, False), (0.1, True)])
def test_b104_weight_against_the_mean_of_its_kind(more_g, heavy):
    """1.15 times the mean of a female goshawk; the factor is a judgement."""
    grams = 1.15 * species("eurasian_goshawk").mass("f").value + more_g
    of = loft(rod("a"), birds=[bird(mass_g=grams, flights_per_week=3)])
    assert ("heavy" in only(of, "B104").why) == heavy


def test_b104_one_leg_and_an_old_cover_count():
    plain = bird("Flint", "peregrine_falcon", flights_per_week=3)
    old = rod("a") | {"cover_age_months": 13}
    one = only(loft(old, birds=[plain | {"tethered_by": "one_leg"}], mode="tethered"), "B104")
    assert "tied by one leg 1" in one.why
    assert "old cover (a) 1" in one.why


def test_every_point_has_a_reason_and_a_witness():
    for risk in foot_risks().values():
        assert risk.points >= 1
        assert risk.reason
        assert risk.source.name


def test_nobody_home_nothing_said():
    of = yard(quarters=[quarters(fitting=[rod("a")])])
    assert not [f for code in ("B101", "B102", "B103", "B104", "B105") for f in findings(of, code)]
