"""A year of air in quarters: heat closes, orders hold, and odd yards are told or refused."""

from functools import cache

import numpy as np
import pytest

from mewswright.air.birds import lodgers, nights_with
from mewswright.air.report import air_report
from mewswright.air.weather import HOURS
from mewswright.model.problem import Problem
from mewswright.model.yard import Yard
from support.alder_close import YARD
from support.turned_yards import mirrored, shuffled
from support.yards import BOARDED, bird, perch, quarters, stay, yard

CLIMATE = YARD.climate.model_dump()
ROSE = [sector.model_dump() for sector in YARD.wind_rose]
MESH = {"infill": "meshed", "mesh_kind": "welded", "gap_mm": 24, "bar_mm": 2}


@cache
def demo():
    return air_report(YARD)


def in_demo(name):
    return next(q for q in demo().quarters if q.name == name)


def in_jura(*units, **tables):
    more = {"climate": CLIMATE, "wind_rose": ROSE} | tables
    return yard(quarters=list(units), **more)


def loft(**more):
    return quarters(fitting=[perch("high", 2500, 4500, height_mm=1800), perch("low")]) | more


def told(of: Yard, name="North loft", seed=0):
    return next(q for q in air_report(of, (name,), None, seed).quarters)


# --- Heat ----------------------------------------------------------------------------------


@pytest.mark.parametrize("name", [q.name for q in YARD.quarters if q.faces is not None])
def test_heat_in_is_heat_out_and_what_is_stored(name):
    heat = in_demo(name).air.heat_kwh
    total = sum(value for key, value in heat.items() if key != "stored")
    assert total == pytest.approx(heat["stored"], abs=0.5)  # each told to a tenth of a kWh
    assert sum(abs(value) for value in heat.values()) > 100


def test_the_kernel_closes_to_a_hair():
    from mewswright.air.hours_kernel import STORED, hours

    rng = np.random.default_rng(0)
    line = lambda low, high: rng.uniform(low, high, HOURS)  # noqa: E731
    air, change, heat, sums = hours(
        line(-10, 30), line(0, 0.5), 100 * line(-20, 60), line(5, 12), line(-30, 20), line(0, 500),
        line(0, 900), 100.0, 0.8, 90.0, 8.0, 12.0, 2e6, line(0, 10), 5.0, 400.0,
    )  # fmt: skip
    assert sums[:STORED].sum() == pytest.approx(sums[STORED], abs=1e-6)
    assert np.isfinite(air).all()
    assert (change >= 0).all()
    assert heat.max() <= 400


def test_a_room_with_nothing_in_it_is_as_warm_as_outside():
    from mewswright.air.hours_kernel import hours

    flat, none = np.full(HOURS, 7.0), np.zeros(HOURS)
    air, *_ = hours(flat, np.full(HOURS, 0.2), 50 * flat, flat, flat, none, none, 50.0, 1.0, 90.0,
                    8.0, 12.0, 2e6, none, 0.0, 0.0)  # fmt: skip
    assert air == pytest.approx(7.0)


def test_the_steady_state_is_that_of_the_sum_by_hand():
    """PHYS-18 the long way: 500 W into 60 W/K of walls and 0.1 m3/s of air."""
    from mewswright.air.change import warmer_by_k
    from mewswright.air.hours_kernel import hours

    flat, none = np.zeros(HOURS), np.zeros(HOURS)
    air, *_ = hours(flat, np.full(HOURS, 0.1), 60 * flat, flat, flat, np.full(HOURS, 500.0), none,
                    60.0, 0.0, 90.0, 0.0, 0.0, 2e6, none, 0.0, 0.0)  # fmt: skip
    assert air[-1] == pytest.approx(warmer_by_k(500, 60, 3600 * 0.1 / 20, 20), rel=1e-6)


# --- Orders that must hold -----------------------------------------------------------------


def test_more_that_stands_open_changes_more_air_and_is_nearer_to_the_weather():
    some, all_open = (
        told(in_jura(loft(faces={"front": front})))
        for front in ({"infill": "boarded"}, {"infill": "open"})
    )
    assert some.change.median_per_h < all_open.change.median_per_h
    assert abs(all_open.air.warmer_than_outside_k) < abs(some.air.warmer_than_outside_k)


def test_a_roof_keeps_frost_off_a_perch():
    bare = told(in_jura(loft(roof={"covered_share": 0}, faces={"front": MESH})))
    roofed = told(in_jura(loft(faces={"front": MESH})))
    assert bare.perches[1].min_c < roofed.perches[1].min_c
    assert bare.perches[1].wet_hours > roofed.perches[1].wet_hours


def test_the_bird_of_the_south_is_colder_and_that_of_the_north_hotter():
    def hours(species):
        q = told(in_jura(loft(), bird=[bird(species=species)], stay=[stay()]))
        return q.birds[0].heat_hours, q.birds[0].cold_hours

    gyr, hawk = hours("gyrfalcon"), hours("harris_hawk")
    assert gyr[0] > hawk[0]
    assert gyr[1] < hawk[1]


def test_a_hedge_calms_the_perch_on_the_lawn():
    pitch = quarters("Lawn", "pitch", fitting=[perch()])
    hedge = {"name": "Hedge", "kind": "hedge", "height_m": 2.5, "porosity": 0.4,
             "line_m": [[-40, -14], [40, -14]]}  # fmt: skip
    open_, calm = (told(in_jura(pitch, feature=f), "Lawn").perches[0] for f in ([], [hedge]))
    assert calm.mean_wind_m_s < open_.mean_wind_m_s
    assert calm.coldest_feels_c > open_.coldest_feels_c


def test_a_heater_warms_and_costs_and_more_so_where_it_is_open():
    def heater(front):
        of = in_jura(
            loft(faces={"front": front}), bird=[bird(species="harris_hawk")], stay=[stay()]
        )
        return next(h for h in told(of).helps if h.help == "heater")

    shut, open_ = heater({"infill": "boarded"}), heater({"infill": "open"})
    assert shut.cold_saved_h >= open_.cold_saved_h
    assert 0 < shut.energy_kwh < open_.energy_kwh


def test_a_heater_that_is_there_is_counted_and_not_offered():
    device = {"kind": "heater", "name": "Bar", "at_mm": [2500, 5900], "height_mm": 2000,
              "power_w": 800, "shielded": True}  # fmt: skip
    unit = loft(faces={"front": BOARDED})
    bare = told(in_jura(unit))
    warm = told(in_jura(unit | {"fitting": [*unit["fitting"], device]}))
    assert warm.air.min_c > bare.air.min_c
    assert warm.air.heat_kwh["heater"] > 0
    assert "heater" not in {h.help for h in warm.helps}


def test_a_net_shades_and_a_tree_does():
    tree = {"name": "Lime", "kind": "tree", "at_m": [2, -3], "height_m": 14, "crown_radius_m": 5}
    bare, shaded = (
        told(in_jura(quarters("Lawn", "pitch", fitting=[perch()], at_m=[0, 0]), feature=f), "Lawn")
        for f in ([], [tree])
    )
    assert shaded.perches[0].sun_hours < bare.perches[0].sun_hours
    net = next(h for h in bare.helps if h.help == "shade_net")
    assert net.heat_saved_h >= 0


def test_hours_of_months_are_hours_of_the_year():
    for q in demo().quarters:
        for one in q.birds:
            assert sum(one.no_comfort_hours_by_month) == one.no_comfort_hours
            assert one.no_comfort_hours <= one.hours_there <= HOURS
            most = one.heat_hours + one.cold_hours + (one.wet_cold_hours or 0)
            assert one.no_comfort_hours >= max(one.heat_hours, one.cold_hours)
            if len(one.perches) == 1:
                assert one.no_comfort_hours <= most
        assert sum(q.damp.drip_hours_by_month) == q.damp.drip_hours


def test_the_order_of_the_file_changes_nothing():
    other = {q.name: q for q in air_report(shuffled(YARD, 5)).quarters}
    for q in demo().quarters:
        assert q.air.mean_c == pytest.approx(other[q.name].air.mean_c, abs=0.02)
        mine = {b.bird: b.no_comfort_hours for b in q.birds}
        theirs = {b.bird: b.no_comfort_hours for b in other[q.name].birds}
        assert mine == pytest.approx(theirs, abs=3)


def test_the_mirror_of_a_yard_open_to_the_south_in_even_winds_is_as_warm():
    even = in_jura(loft(at_m=[0, 0], facing_deg=180), wind_rose=[])
    here, there = told(even), told(mirrored(even))
    assert here.change.median_per_h == pytest.approx(there.change.median_per_h, rel=0.02)
    assert here.air.mean_c == pytest.approx(there.air.mean_c, abs=0.1)


def test_one_seed_one_answer():
    of = in_jura(loft())
    assert told(of, seed=4) == told(of, seed=4)
    assert told(of, seed=4) != told(of, seed=5)


# --- Who is there --------------------------------------------------------------------------


def test_days_and_hours_of_stays_are_counted():
    of = in_jura(
        loft(), bird=[bird(), bird("Flint", "peregrine_falcon")],
        stay=[
            stay(starts_on="2027-01-01", ends_on="2027-01-31"),
            stay("Flint", daytime_only=True, hours_a_day=6),
        ],
    )  # fmt: skip
    bramble, flint = lodgers(of, of.quarters[0])
    assert bramble.there.sum() == 31 * 24
    assert flint.there.sum() == 365 * 6
    assert set(np.flatnonzero(flint.there) % 24) == {10, 11, 12, 13, 14, 15}


def test_a_stay_over_new_year_and_a_leap_day():
    of = in_jura(loft(), bird=[bird()], stay=[stay(starts_on="2027-12-20", ends_on="2028-03-10")])
    (one,) = lodgers(of, of.quarters[0])
    days = np.flatnonzero(one.there.reshape(365, 24)[:, 0])
    assert set(days) == {*range(353, 365), *range(31 + 28 + 10)}


def test_a_tied_bird_has_one_perch():
    of = in_jura(loft(), bird=[bird()], stay=[stay(mode="tethered", perch="low")])
    assert lodgers(of, of.quarters[0])[0].perches == (1,)
    assert told(of).birds[0].perches == ("low",)


def test_nights_are_counted_once_from_evening_to_morning():
    cold = np.zeros(HOURS, bool)
    cold[20:24] = cold[24:30] = True  # one night, over midnight
    cold[24 + 12] = True  # noon is no night
    assert nights_with(cold) == 1


# --- Odd yards -----------------------------------------------------------------------------


def test_without_climate_and_weather_it_is_refused():
    with pytest.raises(Problem) as refusal:
        air_report(yard(quarters=[quarters()]))
    assert str(refusal.value) == (
        "'Alder Close' has no [climate], and no weather is given: give [climate], or --weather "
        "with an EPW file or a CSV of a year's hours"
    )


def test_an_empty_yard_has_an_empty_answer():
    assert air_report(yard(climate=CLIMATE)).quarters == ()


def test_no_rose_no_birds_and_no_perches():
    q = told(yard(quarters=[quarters()], climate=CLIMATE))
    assert q.no_comfort_hours is None
    assert q.helps == ()
    assert [b.stand_in for b in q.birds] == [True]
    assert "no perch, so no bird's comfort was asked for" in q.words


def test_a_box_without_a_front_breathes_by_its_cracks():
    q = told(in_jura(loft(faces={"front": BOARDED})))
    assert 0 < q.change.median_per_h < 4
    assert q.change.hours_below_wanted > 4000
    assert any("nearly closed" in line for line in q.validity)


def test_a_pit_without_wind_breathes_through_its_top():
    """Walled in all round under an open top: warm air still rises out of it."""
    around = {"name": "Barn", "kind": "building", "height_m": 9,
              "outline_m": [[-60, -60], [60, -60], [60, 60], [-60, 60]]}  # fmt: skip
    still = [{"from_deg": 0, "share_pct": 0, "speed_m_s": 0}]
    pit = loft(roof={"form": "none"}, at_m=[0, 0], faces={"front": BOARDED})
    q = told(
        in_jura(pit, feature=[around], wind_rose=still, climate=CLIMATE | {"wind_m_s": [0] * 12})
    )
    assert q.change.median_per_h > 0.5
    assert q.air.max_c < 60


def test_a_cage_of_mesh_and_a_ridged_roof():
    cage = loft(faces=dict.fromkeys(("front", "back", "left", "right"), MESH),
                roof={"form": "none"})  # fmt: skip
    ridged = loft(roof={"form": "duopitch", "ridge_height_mm": 3900})
    assert told(in_jura(cage)).change.median_per_h > 20
    assert np.isfinite(told(in_jura(ridged)).air.mean_c)


def test_polycarbonate_and_bare_sheets_are_hotter_than_a_deck():
    def warmest(**roof):
        return told(in_jura(loft(roof=roof, faces={"front": BOARDED}))).air.max_c

    assert warmest(cover="polycarbonate", deck="none") > warmest(cover="boards")
    assert warmest(cover="corrugated", deck="none") > warmest(cover="boards")


@pytest.mark.parametrize(
    ("latitude", "longitude", "zone"),
    [(-34, 151, "Australia/Sydney"), (0.2, 36.8, "Africa/Nairobi"), (70, 25, "Europe/Oslo"),
     (28.6, 77.2, "Asia/Kolkata"), (-31.5, 159, "Australia/Lord_Howe"), (90, 0, "UTC")],
)  # fmt: skip
def test_the_whole_earth_has_air(latitude, longitude, zone):
    of = in_jura(loft())
    place = of.yard.model_copy(
        update={"latitude_deg": latitude, "longitude_deg": longitude, "time_zone": zone}
    )
    q = told(of.model_copy(update={"yard": place}))
    assert np.isfinite(q.air.mean_c)
    assert q.perches[0].sun_hours >= 0


def test_south_of_the_line_the_sun_comes_from_the_north():
    def sun(facing_deg):
        of = in_jura(loft(facing_deg=facing_deg, at_m=[0, 0], fitting=[perch("p", 2500, 300)]))
        place = of.yard.model_copy(
            update={"latitude_deg": -34, "longitude_deg": 18, "time_zone": "Africa/Johannesburg"}
        )
        return told(of.model_copy(update={"yard": place})).perches[0].sun_hours

    assert sun(0) > sun(180)


def test_a_hundred_units_are_told():
    many = [loft(name=f"Q{n}", at_m=[n % 10 * 14, n // 10 * 14]) for n in range(100)]
    report = air_report(in_jura(*many))
    assert len(report.quarters) == 100
    assert all(np.isfinite(q.air.mean_c) for q in report.quarters)


def test_quarters_that_are_not_there_are_named():
    with pytest.raises(Problem, match="no quarters 'Loft 9' in 'Alder Close'; there are: "):
        air_report(YARD, ["Loft 9"])


def test_validity_is_told_of_every_quarters():
    assert all(q.validity for q in demo().quarters)
    assert all("made weather" in q.validity[0] for q in demo().quarters)


def test_a_heater_that_heats_the_garden_is_no_advice():
    of = in_jura(loft(faces={"front": {"infill": "open"}}), bird=[bird("Moth", "western_barn_owl")],
                 stay=[stay("Moth")])  # fmt: skip
    q = told(of)
    heater = next(h for h in q.helps if h.help == "heater")
    dear = heater.energy_kwh > 5 * max(heater.no_comfort_saved_h, 0)
    assert dear
    assert not any(line.startswith("most worth: a heater") for line in q.words)
