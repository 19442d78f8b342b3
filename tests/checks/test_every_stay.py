"""A bird with several stays or perches is judged in each, whichever the file gives first."""

import pytest

from support.yards import bird, only, perch, quarters, stay, yard

OPEN = {side: {"infill": "open"} for side in ("front", "back", "left", "right")}
MARCH = {"starts_on": "2027-03-01", "ends_on": "2027-03-31"}
JULY = {"starts_on": "2027-07-01", "ends_on": "2027-07-31"}
HATCH = {"kind": "hatch", "name": "hatch", "face": "right", "at_mm": 1000, "sill_mm": 900,
         "width_mm": 300, "height_mm": 200, "ledge_mm": 250}  # fmt: skip


def place(name, east, *fittings, **more):
    size = {"width_mm": 2000, "depth_mm": 2000, "faces": OPEN, "at_m": [east, 0]}
    return quarters(name, fitting=list(fittings), **(size | more))


@pytest.mark.parametrize("order", [(0, 1), (1, 0)])
def test_g109_and_g111_look_at_all_stays_of_a_bird(order):
    """Flint has a neighbour only in July, and is here in March too."""
    stays = [stay("Flint", "Here", **MARCH), stay("Flint", "Here", **JULY)]
    of = yard(
        bird=[bird("Flint", "peregrine_falcon"), bird("Tansy", "harris_hawk")],
        quarters=[place("Here", 0, perch(x=1000, y=1000)),
                  place("There", 6, perch(x=1000, y=1000), HATCH)],
        stay=[*(stays[i] for i in order), stay("Tansy", "There", **JULY)],
    )  # fmt: skip
    assert only(of, "G109", bird="Flint").status == "mind"
    assert only(of, "G111", bird="Flint").why == "in sight: Tansy 6 m; out of sight: nobody"


@pytest.mark.parametrize("order", [(0, 1), (1, 0)])
@pytest.mark.parametrize("backwards", [False, True])
def test_g103_tells_where_a_feared_bird_is_nearest(order, backwards):
    """From its two perches Thistle has 11 m and 10 m to the nearer of Ember's two places."""
    perches = [perch("near", 500, 1000), perch("far", 1500, 1000)]
    here = place("Here", 0, *(perches[i] for i in order))
    places = [place("By the gate", -10, perch(x=500, y=1000)),
              place("Behind", -20, perch(x=500, y=1000))]  # fmt: skip
    of = yard(
        bird=[bird("Thistle", "common_kestrel", fears=["Ember"]),
              bird("Ember", "eurasian_eagle_owl")],
        quarters=[here, *places[:: -1 if backwards else 1]],
        stay=[stay("Thistle", "Here"), stay("Ember", "Behind", **MARCH),
              stay("Ember", "By the gate", **JULY)],
    )  # fmt: skip
    found = only(of, "G103", bird="Thistle")
    assert found.measured.value == pytest.approx(10)
    assert "By the gate" in found.why


def test_t116_speaks_of_a_bird_that_stands_on_the_lawn_in_september_alone():
    lawn = quarters("Lawn", "pitch", fitting=[perch()])
    of = yard(
        bird=[bird("Flint", "peregrine_falcon")], quarters=[lawn],
        stay=[stay("Flint", "Lawn", "tethered", starts_on="2027-09-01", ends_on="2027-09-30")],
    )  # fmt: skip
    found = only(of, "T116")
    assert (found.status, found.why) == ("sound", "it is not tied here at midsummer")
