"""Spending, for every kind, month and weather."""

from math import isfinite

import pytest

from mewswright import handbook
from mewswright.care.spend import cold_from_c, day_kj, moult_months


@pytest.mark.parametrize("kind", handbook.all_species(), ids=lambda kind: kind.id)
def test_every_kind_spends_more_in_cold_and_wind_and_no_less_in_moult(kind):
    mass = kind.mass().value
    months = moult_months(kind)
    for month in range(1, 13):
        told = [day_kj(mass, air_c, kind, month) for air_c in (-30, -5, 10, 25, 40)]
        assert all(isfinite(kj) for kj in told)
        assert told == sorted(told, reverse=True)
        assert day_kj(mass, -5, kind, month, wind_m_s=4) > day_kj(mass, -5, kind, month)
        plain = day_kj(mass, 10, kind)
        assert (day_kj(mass, 10, kind, month) > plain) is (month in months)


def test_a_moult_over_the_new_year_keeps_its_months():
    kinds = [kind for kind in handbook.all_species() if kind.moult_start_month is not None]
    wrapped = [k for k in kinds if k.moult_end_month < k.moult_start_month]
    for kind in wrapped:
        assert moult_months(kind)[0] == kind.moult_start_month
        assert moult_months(kind)[-1] == kind.moult_end_month
    assert all(1 <= month <= 12 for kind in kinds for month in moult_months(kind))


def test_arctic_kinds_feel_the_cold_later():
    snowy, barn = (handbook.species(name) for name in ("snowy_owl", "western_barn_owl"))
    assert cold_from_c(snowy) < cold_from_c(barn)
