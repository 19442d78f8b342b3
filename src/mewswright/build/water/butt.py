"""Water butts: how big, how much a roof gives, and how long a full one lasts."""

from collections.abc import Sequence

from mewswright.handbook.water import drain_figure

DAYS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
YEAR_DAYS = 365


def yearly_catch_l(area_m2: float, rain_mm: float, share: float) -> float:
    """Rain that a roof gives in a year [l].

    Args:
        area_m2: Roof in plan [m2].
        rain_mm: Rain of a year [mm].
        share: What of it reaches the butt, filter and all [-].

    Raises:
        ValueError: If a value is less than 0, or the share over 1.
    """
    if area_m2 < 0 or rain_mm < 0 or not 0 <= share <= 1:
        raise ValueError(
            f"roof and rain must be 0 or more and the share 0 to 1, got {area_m2:g} m2, "
            f"{rain_mm:g} mm and {share:g}"
        )
    return area_m2 * rain_mm * share


def butt_l(area_m2: float, rain_mm: float, share: float, demand_l: float | None = None) -> float:
    """Size of a butt by the 5 % rule [l].

    Args:
        area_m2: Roof in plan [m2].
        rain_mm: Rain of a year [mm].
        share: What of it reaches the butt [-].
        demand_l: Water wanted in a year [l]; None: not known, the catch alone decides.

    Returns:
        5 % of the year's catch or of the year's demand, whichever is less.

    Source:
        BS 8515:2009, as worked in a published example.
    """
    catch = yearly_catch_l(area_m2, rain_mm, share)
    least = catch if demand_l is None else min(catch, demand_l)
    return drain_figure("butt_share").value * least


def days_to_fill(
    butt: float, area_m2: float, monthly_mm: Sequence[float], share: float
) -> tuple[float | None, float | None]:
    """Days of mean rain that fill a butt, in the wettest and the driest month.

    Args:
        butt: Size [l].
        area_m2: Roof in plan [m2].
        monthly_mm: Rain of each month, January first [mm].
        share: What of it reaches the butt [-].

    Returns:
        Wettest, driest [days]; None where no rain falls.

    Raises:
        ValueError: If there are not twelve months.
    """
    if len(monthly_mm) != len(DAYS):
        raise ValueError(f"a year has 12 months, got {len(monthly_mm)}")
    daily = [area_m2 * rain * share / days for rain, days in zip(monthly_mm, DAYS, strict=True)]
    wet, dry = max(daily), min(daily)
    return (butt / wet if wet else None), (butt / dry if dry else None)
