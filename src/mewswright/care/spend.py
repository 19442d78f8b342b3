"""What a bird spends in a day: upkeep, cold, wind, moult and flight.

Equations of raptors and of caged birds at large; a bird may sit a third off, so its own factor is
learnt from its log. Upkeep is that of a captive bird at 18 to 22 C.
"""

from functools import cache

from mewswright import handbook
from mewswright.air.birds import basal_w, feels_c
from mewswright.handbook.care import care_figure
from mewswright.handbook.species import Species

KJ_PER_KCAL = 4.184
DAYS_A_MONTH = 30.4
PLUMAGE_KJ_G = 110.0  # energy of a gram of dry feather: table allometry, moult_energy_total


@cache
def _power(name: str) -> tuple[float, float]:
    found = handbook.equation(name)
    return float(found.a), float(found.b)


def maintenance_kj(mass_g: float) -> float:
    """Energy that holds a captive bird of prey at its weight for a day [kJ].

    Source: 110 M^0.679 kcal, M in kg, Kirkwood 1981 (from memory, medium).
    """
    a, b = _power("maintenance_raptor_kirkwood")
    return float(KJ_PER_KCAL * a * (mass_g / 1000) ** b)


def existence_kj(mass_g: float, air_c: float) -> float:
    """What a caged bird that is no songbird spends in a day [kJ], between 0 and 30 C; a line.

    Source: Kendeigh, Dolnik & Gavrilov 1977 (from memory, medium).
    """
    a30, b30 = _power("existence_30C_nonpasserine_kendeigh1977")
    a0, b0 = _power("existence_0C_nonpasserine_kendeigh1977")
    warm, cold = a30 * mass_g**b30, a0 * mass_g**b0
    return float(KJ_PER_KCAL * (warm + (cold - warm) * (30 - air_c) / 30))


def cold_factor(mass_g: float, felt_c: float, from_c: float) -> float:
    """Times its upkeep that a bird spends in air of `felt_c` [-]: 1 from `from_c` up."""
    if felt_c >= from_c:
        return 1.0
    return existence_kj(mass_g, felt_c) / existence_kj(mass_g, from_c)


def cold_from_c(species: Species) -> float:
    """Air under which this kind of bird spends more [C]."""
    arctic = species.temp_class.startswith("A") and "/" not in species.temp_class
    return care_figure("cold_from_arctic" if arctic else "cold_from").value


def moult_months(species: Species) -> tuple[int, ...]:
    """Months of the moult, January as 1, in the north; empty where no months are known."""
    first, last = species.moult_start_month, species.moult_end_month
    if first is None or last is None:
        return ()
    return tuple((first - 1 + n) % 12 + 1 for n in range((last - first) % 12 + 1))


def moult_kj(mass_g: float, months: int) -> float:
    """What new feathers cost in a day of a moult of so many months [kJ].

    Source: 110 kJ for a gram of dry feather (Dietz, Daan & Masman 1992, read); plumage
    0.09 M^0.95 g (Turcek 1966, from memory).
    """
    a, b = _power("plumage_dry_mass_turcek")
    return float(PLUMAGE_KJ_G * a * mass_g**b / (months * DAYS_A_MONTH)) if months else 0.0


@cache
def _moult_cold() -> float:
    """Times the cost of cold in early moult, from two measured slopes of kestrels [-]."""
    moult, other = (
        handbook.equation(f"smr_slope_kestrel_{when}").a for when in ("moult", "nonmoult")
    )
    return float(moult) / float(other)


def day_kj(
    mass_g: float,
    air_c: float,
    species: Species,
    month: int = 0,
    wind_m_s: float = 0.0,
) -> float:
    """What a bird of this kind spends in a day without flying [kJ].

    Args:
        mass_g: Its mass [g].
        air_c: Mean temperature at its perch [C].
        species: Its species; says when it moults and where cold begins.
        month: 1 to 12; 0 leaves the moult out.
        wind_m_s: Wind at its perch [m/s].

    Returns:
        Energy [kJ], mean of the kind. Beyond 30 degrees under `cold_from_c` it is extended by
        the same line, which nobody measured.
    """
    felt = float(feels_c(air_c, wind_m_s)) if wind_m_s > 0 and air_c < 40 else air_c  # type: ignore[arg-type]
    extra = cold_factor(mass_g, felt, cold_from_c(species)) - 1
    months = moult_months(species)
    feathers = 0.0
    if month in months:
        feathers = moult_kj(mass_g, len(months))
        if months.index(month) < len(months) / 2:
            extra *= _moult_cold()
    return maintenance_kj(mass_g) * (1 + extra) + feathers


def flight_kj(mass_g: float, minutes: float) -> float:
    """What flying costs above sitting [kJ]; a judgement, see care_figures.csv."""
    over = care_figure("flight_times_basal").value - 1
    return over * basal_w(mass_g) * 60 * minutes / 1000
