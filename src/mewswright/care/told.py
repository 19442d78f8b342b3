"""What `ration` tells: the models of its JSON."""

from datetime import datetime

from pydantic import BaseModel, ConfigDict


class _Told(BaseModel):
    model_config = ConfigDict(frozen=True)


class ItemTold(_Told):
    """One line of a ration. `count` is of whole items; null where it is weighed off or cut."""

    food: str
    name: str
    grams: int
    count: int | None
    given: bool  # eaten already, since the last weighing

    def __str__(self) -> str:
        what = f"{self.count} x {self.name}" if self.count else self.name
        return f"{what}, {self.grams} g" + (" (given already)" if self.given else "")


class DayTold(_Told):
    """One day of a plan: what is fed at `fed_at`, and the scale at `at`."""

    fed_at: datetime
    ration_g: int
    items: tuple[ItemTold, ...]
    at: datetime
    expected_g: float
    interval_90_g: tuple[float, float]
    p_in_window: float


class AlarmTold(_Told):
    """Something that should give pause."""

    code: str
    words: str
    stop: bool  # stop work, feed, vet


class BasisTold(_Told):
    """What the answer rests on. Grams, kilojoules, days; noises as shares of the weight."""

    species: str
    sex: str
    weighings: int
    record_days: float
    last_weighed: datetime
    mass_now_g: float
    content_now_g: float
    leans_on: str  # species, both, or the bird
    need_factor: float  # what it needs, in terms of the equations: own_factor / food_factor
    own_factor: float
    own_factor_sd: float
    food_factor: float
    food_factor_sd: float
    scale_noise: float
    level_noise: float
    factor_drift: float
    spends_kj_day: float
    holds_weight_g: int
    temp_c: float
    temp_from: str
    window_g: tuple[float, float]
    floor_g: float
    floor_why: str
    safe_loss_pct_day: float
    meals: str
    assumed: tuple[str, ...]
    sources: tuple[str, ...]


class RationReport(_Told):
    """Tonight's ration and what it should lead to.

    `ration_g` is all food from the last weighing until the hour, what was given already included;
    for
    several days it is the ration of each meal.
    """

    ration_g: int
    items: tuple[ItemTold, ...]
    expected_g: float
    interval_90_g: tuple[float, float]
    p_in_window: float
    basis: BasisTold
    cautions: tuple[str, ...]
    give_g: int
    at: datetime
    plan: tuple[DayTold, ...]
    alarms: tuple[AlarmTold, ...]
