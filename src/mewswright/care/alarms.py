"""What in a record should give pause: pure functions, each one question.

They read weights that a keeper can read too. None is a diagnosis.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import sqrt

import numpy as np
from numpy.typing import NDArray

from mewswright.handbook.care import care_figure, loss_rate

Line = NDArray[np.float64]
WEEK = 7.0
SURE = 2.0  # spreads from nothing at which a change is told: a judgement
LEAST_DRIFT = 0.12  # of the factor in a fortnight, smaller ones are the weather's: a judgement
BIRDS_FOR_SCALE = 3


@dataclass(frozen=True)
class Alarm:
    """One alarm.

    Attributes:
        code: Its name in data.
        words: A sentence.
        stop: Whether work should stop: feed, and see a vet.
    """

    code: str
    words: str
    stop: bool = False


def fast_loss(day: Line, body_g: Line, noise_share: float) -> Alarm | None:
    """More lost in a day than the alarm rate of its mass, the scale's noise allowed for.

    Args:
        day: Times of the weighings [days].
        body_g: Weights without crop and gut content [g].
        noise_share: SD of one weighing as a share.
    """
    earlier = np.flatnonzero(day <= day[-1] - 0.75)
    if len(earlier) == 0 or day[-1] - day[earlier[-1]] > 2.5:
        return None
    before, length = float(body_g[earlier[-1]]), float(day[-1] - day[earlier[-1]])
    lost = (before - float(body_g[-1])) / before * 100
    limit = loss_rate(before).alarm_pct
    if lost / length <= limit or lost < 1.3 * sqrt(2) * noise_share * 100:
        return None
    return Alarm(
        "fast_loss",
        f"it lost {lost:.1f} % in {length:.1f} days; over {limit:g} % a day stop work, feed it, "
        "and "
        "ask a vet",
        stop=True,
    )


def week_loss(day: Line, mass_g: Line) -> Alarm | None:
    """More lost in a week than the alarm; `mass_g` is smoothed."""
    within = day >= day[-1] - WEEK - 0.5
    if int(within.sum()) < 3:
        return None
    highest = float(mass_g[within].max())
    lost, limit = (
        (highest - float(mass_g[-1])) / highest * 100,
        care_figure("alarm_week_loss").value,
    )
    if lost <= limit:
        return None
    return Alarm("week_loss", f"it lost {lost:.0f} % within a week; if that was not planned, "
        "stop work, feed "
                 "it, and ask a vet", stop=True)  # fmt: skip


def far_below(mass_g: Line, fed_up_g: float | None = None) -> Alarm | None:
    """Further under its fed-up weight than the alarm; `mass_g` is smoothed."""
    highest = float(mass_g.max()) if fed_up_g is None else fed_up_g
    under, limit = (
        (highest - float(mass_g[-1])) / highest * 100,
        care_figure("alarm_fed_up_loss").value,
    )
    if under <= limit:
        return None
    return Alarm("far_below", f"it is {under:.0f} % below {highest:.0f} g, its highest; over "
        f"{limit:g} % stop "
                 "work, feed it, and ask a vet", stop=True)  # fmt: skip


def factor_drift(day: Line, factor: Line, factor_sd: Line) -> Alarm | None:
    """A bird that spends more, or less, than a fortnight ago on what the equations allow for.

    Args:
        day: Times of the weighings [days].
        factor: Smoothed factor on its spending.
        factor_sd: Its spread.
    """
    back = np.flatnonzero(day <= day[-1] - 2 * WEEK)
    if len(back) == 0:
        return None
    then = back[-1]
    change = float(factor[-1] / factor[then] - 1)
    spread = sqrt(float(factor_sd[-1]) ** 2 + float(factor_sd[then]) ** 2) / float(factor[then])
    if abs(change) < max(LEAST_DRIFT, SURE * spread * 0.7):
        return None
    if change > 0:
        return Alarm("drift", f"it needs {change:.0%} more to hold its weight than two weeks "
            "ago, weather and moult "
                     "allowed for: look for worms, illness, cold or a food that "
                     "changed")  # fmt: skip
    return Alarm("drift", f"it needs {-change:.0%} less to hold its weight than two weeks ago, "
        "weather and moult "
                 "allowed for: idle, fed by somebody else, or a food that changed")  # fmt: skip


def not_casting(
    hours_since_meal: float | None, usual_hours: float, noted_before: int
) -> Alarm | None:
    """A pellet that is late, in a log that notes pellets.

    Args:
        hours_since_meal: From the oldest meal with casting that no pellet followed [h]; None if
        none.
        usual_hours: From meal to pellet [h].
        noted_before: Pellets noted in this log; under three say nothing.
    """
    late = care_figure("cast_wait").value * usual_hours
    if hours_since_meal is None or noted_before < 3 or hours_since_meal <= late:
        return None
    return Alarm("not_casting", f"no pellet in {hours_since_meal:.0f} h since it ate fur or "
        f"feather; {usual_hours:.0f} h are "
                 "usual: no full meal before it has cast, and a vet if it does not")  # fmt: skip


def keel_against_weight(
    keel: Sequence[tuple[float, float]], weight_g: Sequence[float]
) -> Alarm | None:
    """A keel that is sharp, or has sharpened, though the weight says nothing of it.

    Args:
        keel: Day and score (1 sharp to 5 fat) of each score in the log, the earliest first.
        weight_g: Weight at each [g].
    """
    if not keel:
        return None
    if keel[-1][1] <= 2:
        return Alarm("keel", f"keel score {keel[-1][1]:g} of 5: thin whatever the scale says; "
            "feed it, and ask a vet",
                     stop=True)  # fmt: skip
    if len(keel) < 2:
        return None
    points = keel[-2][1] - keel[-1][1]
    fell = 1 - weight_g[-1] / weight_g[-2]
    if points >= 1 and fell < 0.5 * points * care_figure("keel_point_share").value:
        return Alarm("keel", f"the keel sharpened by {points:g} while the weight held: muscle "
            "may be going, or "
                     "the scale may be off; ask a vet")  # fmt: skip
    return None


def scale_drift(misses: Mapping[str, tuple[float, float]]) -> Alarm | None:
    """A scale that is off: several birds miss what was foreseen on one day, all to one side.

    Args:
        misses: By bird: reading less what was foreseen, and the spread of that, as shares.
    """
    if len(misses) < BIRDS_FOR_SCALE:
        return None
    weights = [1 / spread**2 for _, spread in misses.values()]
    shift = sum(w * miss for w, (miss, _) in zip(weights, misses.values(), strict=True)) / sum(
        weights
    )
    to_one_side = sum((miss > 0) == (shift > 0) for miss, _ in misses.values())
    if abs(shift) * sqrt(sum(weights)) < 1.5 * SURE or to_one_side < 0.8 * len(misses):
        return None
    return Alarm("scale", f"{len(misses)} birds weigh {shift:+.1%} on the same day against what "
        "was foreseen: check "
                 "the scale with a known mass before any ration is changed")  # fmt: skip
