"""All loads of one unit: sums by hand from its parts, and what is refused."""

import pytest

from mewswright.build.actions import Action, actions_on, combinations
from mewswright.build.frame import built_frame
from mewswright.model.problem import Problem
from mewswright.model.yard import Yard
from support.units import unit_yard

MESHED = {"infill": "meshed", "gap_mm": 23, "bar_mm": 2, "mesh_kind": "welded"}
LOADS = {
    "source": "test map", "ground_snow_kn_m2": 1.0, "basic_wind_m_s": 26, "terrain": "II",
}  # fmt: skip


def yard_with(loads=None, features=(), birds=(), altitude_m=600, **unit):
    made = unit_yard(**({"front": MESHED} | unit))
    raw = made.model_dump(mode="json", exclude_none=True, exclude_unset=True)
    raw["yard"]["altitude_m"] = altitude_m
    raw["loads"] = LOADS | (loads or {})
    raw["feature"] = list(features)
    raw["bird"] = list(birds)
    raw["stay"] = [{"bird": b["name"], "quarters": "Unit", "mode": "loose"} for b in birds]
    return Yard.model_validate(raw)


def on(**changes):
    yard = yard_with(**changes)
    return actions_on(yard, yard.quarters[0])


def test_loads_of_a_plain_unit_by_hand():
    found = on()
    assert found.refusals == ()
    # EN 1991-1-3, (5.1): 0.8 x 1 x 1 x 1.0
    assert found.snow.uniform_kn_m2 == found.snow.peak_kn_m2 == pytest.approx(0.8)
    assert found.snow.eave_kn_m is None
    # front eave: 2400 + 295 / 8 under the rafter, 145 / cos 7.1 deg over it, 22 of deck
    assert found.height_m == pytest.approx(2.605, abs=0.001)
    # EN 1991-1-4: ln(2.605 / 0.05) = 3.953, v_m = 0.19 x 3.953 x 26 = 19.53 m/s,
    # I_v = 0.253, (1 + 1.771) x 0.625 x 381.4 = 660.5 Pa
    assert found.peak.qp_kn_m2 == pytest.approx(0.6605, abs=0.0005)
    # plan: 3000 + 2 x 95 + 2 x 100 by 2400 + 2 x 95 + 200 + 150
    assert found.roof_plan_m2 == pytest.approx(3.39 * 2.94)
    assert found.bird is None
    lifts = 1.5 * found.wind.roof_up.kn_m2 - 0.9 * found.dead.roof_up_kn_m2
    assert found.net_uplift_kn == pytest.approx(lifts * 3.39 * 2.94)


def test_dead_weight_never_holds_an_open_unit_down():
    """The reference case's lesson: 9 kN lift a roof that weighs 1.6 kN."""
    assert on().net_uplift_kn > 5


def test_a_frame_that_is_built_already_gives_the_same():
    yard = yard_with()
    unit = yard.quarters[0]
    assert actions_on(yard, unit, built_frame(yard, unit)) == actions_on(yard, unit)


def test_every_figure_has_its_clause_and_mark():
    found = on(birds=[{"name": "Flint", "species": "peregrine_falcon", "sex": "m", "mass_g": 600}])
    marks = {"read", "from memory", "derived", "judgement", "given"}
    assert all(figure.clause and figure.how_known in marks for figure in found.figures)
    names = [figure.name for figure in found.figures]
    assert len(names) == len(set(names))


def test_national_values_and_edition_are_told():
    found = on(loads={"edition": "EN 1991 with the Swiss annex", "gamma_q": 1.4, "psi0_snow": 0.9})
    told = " / ".join(found.assumptions)
    assert "loads by EN 1991 with the Swiss annex, snow and wind from test map" in told
    assert "1.4 on snow, wind and people" in told
    assert found.factors.psi0["snow"] == 0.9
    actions = [Action("g", "dead", 1), Action("s", "snow", 1)]
    sums = [one.total(actions) for one in combinations(actions, found.factors)]
    assert max(sums) == pytest.approx(1.35 + 1.4)


HOUSE = {
    "name": "House", "kind": "building", "height_m": 6.0,
    "outline_m": [[-5, 3.0], [10, 3.0], [10, 12.0], [-5, 12.0]],
}  # fmt: skip


def test_a_house_behind_loads_the_roof():
    plain, beside = on(), on(features=[HOUSE])
    assert beside.refusals == ()
    assert beside.snow.peak_kn_m2 > beside.snow.mean_kn_m2 > plain.snow.mean_kn_m2
    drifted = next(f for f in beside.figures if f.name == "snow drifted against House")
    assert drifted.value == pytest.approx(beside.snow.peak_kn_m2)
    assert "5.3.6" in drifted.clause


def test_a_windswept_roof_keeps_its_drift():
    windy = on(loads={"snow_exposure": "windswept"}, features=[HOUSE])
    normal = on(features=[HOUSE])
    assert windy.snow.uniform_kn_m2 == pytest.approx(0.8 * normal.snow.uniform_kn_m2)
    assert windy.snow.peak_kn_m2 == pytest.approx(normal.snow.peak_kn_m2)


def test_the_heaviest_bird_bates():
    birds = [
        {"name": "Flint", "species": "peregrine_falcon", "sex": "m", "mass_g": 600},
        {"name": "Slate", "species": "peregrine_falcon", "sex": "f", "mass_g": 900},
    ]
    found = on(birds=birds).bird
    assert (found.name, found.mass_kg, found.weighed) == ("Slate", 0.9, True)
    unweighed = on(birds=[{"name": "Sleet", "species": "peregrine_falcon", "sex": "f"}]).bird
    assert not unweighed.weighed
    assert 0.6 < unweighed.mass_kg < 1.5


def test_snow_hangs_over_eaves_in_high_places():
    # EN 1991-1-3, 6.3: recommended above 800 m
    assert on(altitude_m=800).snow.eave_kn_m is None
    assert on(altitude_m=801).snow.eave_kn_m > 0


def test_without_a_roof_there_is_no_snow_on_it():
    found = on(roof={"form": "none"})
    assert found.snow.uniform_kn_m2 == found.dead.roof_down_kn_m2 == 0
    assert found.wind.roof_up.kn_m2 == 0


def test_a_yard_without_loads_is_told_who_has_them():
    yard = unit_yard()
    with pytest.raises(
        Problem,
        match=r"^'Test yard' gives no \[loads\], so nothing can be sized: ask the local building "
        r"office or an engineer for the ground snow load, the basic wind speed and the terrain "
        r"category here, and write them under \[loads\] as source, ground_snow_kn_m2, "
        r"basic_wind_m_s and terrain$",
    ):
        actions_on(yard, yard.quarters[0])


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        (
            {"altitude_m": 1200},
            "the yard lies 1200 m up, above 1000 m: snow loads and factors differ",
        ),
        (
            {"loads": {"basic_wind_m_s": 29, "altitude_factor": 1.1}},
            "the basic wind of 31.9 m/s is above 30 m/s",
        ),
        (
            {"loads": {"terrain": "0"}},
            "terrain 0, the sea coast, needs the local rule for wind",
        ),
        ({"depth_mm": 5000}, "the rafters span 5.00 m, more than 4.8 m"),
        (
            {"front_height_mm": 3600, "back_height_mm": 3400},
            "the unit is 3.79 m high at its roof and over 3.5 m clear inside",
        ),
        (
            {"front_height_mm": 3400, "back_height_mm": 2400},
            "a roof of 22.6 deg over an open side: the canopy case is known up to 20 deg and was "
            "left out",
        ),
        (
            {"features": [{"name": "Barn", "kind": "building", "height_m": 2.0,
                           "outline_m": [[-5, 2.6], [9, 2.6], [9, 8], [-5, 8]]}]},
            "it touches 'Barn': what a unit that is attached gives to the other, and takes from "
            "it, is not reckoned",
        ),
        (
            {"features": [{"name": "Shed", "kind": "kennel", "at_m": [1.5, 4.645]}]},
            "no height is known of Shed, 2.0 m away: give height_m, for snow may drift against it",
        ),
    ],
)  # fmt: skip
def test_an_engineer_must_decide(changes, sentence):
    assert sentence in on(**changes).refusals


def test_a_pitch_and_a_steep_roof_are_refused():
    with pytest.raises(Problem, match=r"^a roof of 64\.99 deg: wind coefficients are known"):
        on(front_height_mm=7245, back_height_mm=2100)
    yard = yard_with()
    pitch = yard.quarters[0].model_copy(update={"kind": "pitch"})
    with pytest.raises(Problem, match=r"^'Unit' is a pitch, and a pitch has no frame"):
        actions_on(yard, pitch)
