"""Every published size, typed by hand from its text, on both sides of its limit.

Each size goes through all checks in a room of just that size and in one a millimetre (or a
hair of floor) smaller. The texts, as they were collected:

- Swiss Animal Protection Ordinance SR 455.1, Annex 2 Table 2: floor and volume for up to two
  birds, so much floor for each further one. Law, read; it names peregrine and gyrfalcon,
  buzzards, kites, harriers and osprey, and large eagles and vultures without a limit between
  large and small: where one ends is our judgement, and a bird near that line only falls short.
- Danish aviary guidelines for birds of prey and owls, English summary page: length x width x
  height in metres. Guidance, at second hand.
- Flemish decision on captive raptors, by the press (Nieuwsblad, May 2018): 6, 12, 40 m2.
- Kurier: 5 m2 for a kestrel and 1 m2 for each further one, presumably the German opinion of 1995.
- Utah DWR guidelines, Ontario falconry-club norms, California apprentice checklist, Vermont
  raptor-centre cage design (pp. 30-39), Hand-Rearing Birds 2nd ed. 2020 after Miller 2012: width
  x length x height in feet.
"""

import pytest

from mewswright import handbook
from mewswright.checks.registry import run_checks
from mewswright.handbook.shelf import SHIPPED
from support.yards import bird, quarters, stay, yard

FT, M = 304.8, 1000.0
HAIR_M2 = 0.01  # more than the half millimetre of tape that a floor may miss

# standard, species, floor [m2] and volume [m3] for the first birds, how many those are,
# floor for each further bird [m2], what a miss is.
FLOORS = [
    ("ch-tschv", "peregrine_falcon", 20, 60, 2, 4, "harm"),
    ("ch-tschv", "gyrfalcon", 20, 60, 2, 4, "harm"),
    ("ch-tschv", "common_buzzard", 30, 90, 2, 10, "harm"),
    ("ch-tschv", "red_kite", 30, 90, 2, 10, "harm"),
    ("ch-tschv", "hen_harrier", 30, 90, 2, 10, "harm"),
    ("ch-tschv", "osprey", 30, 90, 2, 10, "harm"),
    ("ch-tschv", "eurasian_goshawk", 30, 90, 2, 10, "harm"),
    ("ch-tschv", "golden_eagle", 60, 240, 2, 15, "harm"),
    ("ch-tschv", "griffon_vulture", 60, 240, 2, 15, "harm"),
    ("ch-tschv", "black_sparrowhawk", 30, 90, 2, 10, "short"),
    ("be-vlg", "merlin", 6, None, None, None, "short"),
    ("be-vlg", "little_owl", 6, None, None, None, "short"),
    ("be-vlg", "eurasian_goshawk", 12, None, None, None, "short"),
    ("be-vlg", "peregrine_falcon", 12, None, None, None, "short"),
    ("be-vlg", "common_buzzard", 12, None, None, None, "short"),
    ("be-vlg", "golden_eagle", 40, None, None, None, "short"),
    ("be-vlg", "griffon_vulture", 40, None, None, None, "short"),
    ("de-1995", "common_kestrel", 5, None, 1, 1, "short"),
]

# standard, species, quarters, sides and height as published, unit, what a miss is. A flight
# cage before release is not asked of a home: a smaller loft is only minded.
ROOMS = [
    ("dk", "merlin", "loft", (2, 3, 2.5), M, "short"),
    ("dk", "eurasian_sparrowhawk", "loft", (2, 3, 2.5), M, "short"),
    ("dk", "western_barn_owl", "loft", (2, 3, 2.5), M, "short"),
    ("dk", "peregrine_falcon", "loft", (3, 5, 3), M, "short"),
    ("dk", "eurasian_eagle_owl", "loft", (3, 5, 3), M, "short"),
    ("dk", "red_kite", "loft", (3, 5, 3), M, "short"),
    ("dk", "eurasian_goshawk", "loft", (3, 5, 3), M, "short"),
    ("dk", "golden_eagle", "loft", (5, 8, 3), M, "short"),
    ("dk", "griffon_vulture", "loft", (5, 8, 3), M, "short"),
    ("rehab-us", "merlin", "loft", (8, 16, 8), FT, "mind"),
    ("rehab-us", "american_kestrel", "loft", (8, 16, 8), FT, "mind"),
    ("rehab-us", "peregrine_falcon", "loft", (20, 100, 16), FT, "mind"),
    ("rehab-us", "prairie_falcon", "loft", (20, 100, 16), FT, "mind"),
    ("rehab-us", "ferruginous_hawk", "loft", (20, 100, 16), FT, "mind"),
    ("rehab-us", "turkey_vulture", "loft", (20, 100, 16), FT, "mind"),
    ("rehab-us", "eastern_screech_owl", "loft", (8, 8, 8), FT, "short"),
    ("rehab-us", "american_barn_owl", "loft", (10, 30, 12), FT, "short"),
    ("rehab-us", "great_horned_owl", "loft", (10, 50, 12), FT, "mind"),
    ("us-ut", "american_goshawk", "loft", (6, 8, 7), FT, "short"),
    ("us-ut", "rough_legged_buzzard", "loft", (6, 8, 7), FT, "short"),
    ("us-ut", "ferruginous_hawk", "loft", (6, 8, 7), FT, "short"),
    ("ca-on", "american_kestrel", "loft", (6, 6, 6), FT, "short"),
    ("ca-on", "peregrine_falcon", "loft", (6, 8, 7), FT, "short"),
    ("ca-on", "red_tailed_hawk", "loft", (8, 8, 7), FT, "short"),
    ("ca-on", "golden_eagle", "loft", (10, 10, 8), FT, "short"),
    ("us-ca", "red_tailed_hawk", "loft", (8, 8, 8), FT, "short"),
    ("us-vt", "common_buzzard", "isolation", (2.5, 2.5, 4), FT, "short"),
    ("us-vt", "american_kestrel", "isolation", (1.5, 2, 2), FT, "short"),
]


def found(standard, species, code, count=1, kind="loft", **sizes):
    names = [f"Thistle{i}" for i in range(count)]
    birds = [bird(n, species, companions=[m for m in names if m != n]) for n in names]
    place = quarters(kind=kind, **sizes)
    of = yard((standard,), bird=birds, quarters=[place], stay=[stay(name) for name in names])
    said = [f for f in run_checks(of) if f.code == code]
    assert len(said) == 1, [str(f) for f in said]
    return said[0]


def room(floor_m2, height_mm=3000.0):
    """A room of so much floor, 5 m wide."""
    high = {"front_height_mm": height_mm, "back_height_mm": height_mm}
    return {"width_mm": 5000, "depth_mm": floor_m2 / 5 * 1000} | high


@pytest.mark.parametrize(
    ("standard", "species", "area", "volume", "group", "extra", "miss"), FLOORS
)
def test_floor(standard, species, area, volume, group, extra, miss):
    del volume, group, extra
    enough = found(standard, species, "S101", **room(area))
    assert (enough.status, enough.limit.value) == ("sound", area)
    assert found(standard, species, "S101", **room(area - HAIR_M2)).status == miss


@pytest.mark.parametrize(
    ("standard", "species", "area", "volume", "group", "extra", "miss"),
    [row for row in FLOORS if row[5] is not None],
)
def test_floor_for_more_birds_than_the_group(standard, species, area, volume, group, extra, miss):
    del volume
    for count in (group, group + 1, group + 3):
        asks = area + extra * (count - group)
        enough = found(standard, species, "S101", count, **room(asks))
        assert (enough.status, enough.limit.value) == ("sound", asks)
        assert found(standard, species, "S101", count, **room(asks - HAIR_M2)).status == miss


@pytest.mark.parametrize(
    ("standard", "species", "area", "volume", "group", "extra", "miss"),
    [row for row in FLOORS if row[3] is not None],
)
def test_volume(standard, species, area, volume, group, extra, miss):
    del group, extra
    high_mm = volume / area * 1000
    enough = found(standard, species, "S102", **room(area, high_mm))
    assert (enough.status, enough.limit.value) == ("sound", volume)
    assert found(standard, species, "S102", **room(area, high_mm - 1)).status == miss


@pytest.mark.parametrize(("standard", "species", "kind", "published", "unit", "miss"), ROOMS)
def test_sides_and_height(standard, species, kind, published, unit, miss):
    width, length, high = (side * unit for side in published)
    high_mm = {"front_height_mm": high, "back_height_mm": high}
    whole = {"kind": kind, "width_mm": width, "depth_mm": length} | high_mm
    low = {"front_height_mm": high - 1, "back_height_mm": high}
    for code, limit, smaller in (
        ("S104", min(width, length), {"width_mm": width - 1}),
        ("S109", max(width, length), {"depth_mm": length - 1, "width_mm": min(width, length - 1)}),
        ("S103", high, low),
    ):
        enough = found(standard, species, code, **whole)
        assert enough.status == "sound", str(enough)
        assert enough.limit.value == pytest.approx(limit, abs=1e-9)
        assert found(standard, species, code, **whole | smaller).status == miss


def test_every_size_that_was_read_or_told_is_typed_here():
    """A size that no line above holds would be a size that only the file has."""
    typed = {(row[0], row[1]) for row in FLOORS} | {(row[0], row[1]) for row in ROOMS}
    classes = set()
    for standard, name in typed:
        for purpose in ("loft", "flight_cage", "isolation"):
            limits = handbook.size_limits(standard, handbook.species(name), purpose)
            if limits:
                classes.add((standard, limits.bird_class))
    sized = {
        (row["standard"], row["bird_class"])
        for row in handbook.table("size_limits").rows
        if row["how_known"] in ("read", "second hand")
    }
    assert sized - classes == set()
    assert all(key in SHIPPED.keys() for key, _ in typed)  # noqa: SIM118
