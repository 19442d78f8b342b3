"""Shapes in which sun and shade are told: of one spot, of quarters, of a yard."""

from pydantic import BaseModel, ConfigDict

from mewswright.ground.sun_spots import Kind


class _Told(BaseModel):
    model_config = ConfigDict(frozen=True)


class SunSpot(_Told):
    """One perch, bath, floor cell or place on the back wall. Hours of a clear sky.

    `sun_times` says, by month and day, when the sun comes and goes by the yard's clock: each day of
    the year for perches and baths, the 21st of each month for the rest.
    """

    name: str
    kind: Kind
    at_mm: tuple[float, float, float]
    hours_year: float
    hours_by_month: tuple[float, ...]
    hours_by_month_and_hour: tuple[tuple[float, ...], ...]
    expected_h_year: float | None
    hot_sun_share: float
    sun_times: dict[str, tuple[tuple[str, str], ...]]


class HourChoice(_Told):
    """Which perch has sun and which shade, at one hour of one month. Shares of that hour."""

    month: int
    hour: int
    sun: str | None
    sun_share: float
    shade: str | None
    shade_share: float


class QuartersSun(_Told):
    """Sun and shade in one quarters."""

    name: str
    spots: tuple[SunSpot, ...]
    floor_h_by_month: tuple[float, ...]
    back_wall_h_by_month: tuple[float, ...]
    choices: tuple[HourChoice, ...]
    words: tuple[str, ...]


class SunError(_Told):
    """How far the answer was found to be from looking more closely, in this run.

    Attributes:
        rays_asked: Rays that were asked of every solid, one by one.
        rays_differing: How many of them gave another answer.
        share_most: The largest difference of a ray's share.
        step_h_year_mean: Hours a year by steps less those by exact times, mean size over the
            perches and baths; None where there are none.
        step_h_year_most: The largest of these.
        how: In words.
    """

    rays_asked: int
    rays_differing: int
    share_most: float
    step_h_year_mean: float | None
    step_h_year_most: float | None
    how: str


class SunReport(_Told):
    """Sun and shade of a yard over one year."""

    yard: str
    step_min: float
    possible_h_by_month: tuple[float, ...]
    hot_months: tuple[int, ...]
    hot_hours: tuple[int, ...]
    horizon_deg: tuple[tuple[float, float], ...]
    quarters: tuple[QuartersSun, ...]
    method: str
    error: SunError
    assumptions: tuple[str, ...]
