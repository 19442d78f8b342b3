"""Weight and ration on 200 simulated birds, and the filter beside a general Kalman library.

The birds (`ration_birds.py`) share nothing with the filter. A keeper's log of each is forecast a
day
ahead and held against the last reading and the mean of seven; then the same bird is fed on by the
keeper's fixed ration and by ours, and how often each has it in the window is counted. Ratios
are of one run; seconds are of the processor.
"""

import argparse
from copy import deepcopy
from datetime import timedelta
from time import process_time

import numpy as np
from filterpy.kalman import KalmanFilter
from ration_birds import LARDER, SimBird, day_mean, moment, sim_bird, weather

from mewswright import handbook
from mewswright.care.choose import best_grams, bounds
from mewswright.care.filter_kernel import STATE, track, weigh
from mewswright.care.forecast import Coming, foresee
from mewswright.care.learnt import CLIP, factor_prior, learn, settings, steps_of, tracked
from mewswright.care.log import read_log
from mewswright.care.log_times import days
from mewswright.care.rations import rations
from mewswright.care.record import Record, record
from mewswright.care.tidy import tidy
from mewswright.handbook.care import food_called

HEADER = "time,weight_g,crop(0-4),food,food_g,temp_c,flown_min,note"
WINDOW = 0.015
WARM_UP, FORECAST, FED_ON = 35, 40, 40  # days


class Keeper:
    """A keeper with a log and a fixed ration.

    In pieces as they are cut, whatever the food: one piece less above the window, one more below.
    Once a week the bird is fed up and rests the next day.
    """

    by_half = False  # corrects by half the ration, not by a piece
    to_the_lure = False  # nothing is killed: every meal is the keeper's

    def __init__(self, bird: SimBird, air, luck: np.random.Generator):
        self.bird, self.air, self.luck = bird, air, luck
        self.target = bird.heft
        need = 2.95 * (bird.body / 1000) ** 0.72 * bird.thrift * 1.55 * 86.4
        self.base = need / LARDER["chick"][0] * luck.uniform(0.9, 1.15)
        self.larder = list(luck.choice(list(LARDER), 2, replace=False, p=[0.55, 0.2, 0.15, 0.1]))
        self.rows: list[str] = []

    def piece(self, food: str) -> float:
        usual = LARDER[food][2]
        return usual / np.ceil(usual / (0.5 * self.base))  # cut smaller for a small bird

    def fixed(self, reading: float, food: str) -> float:
        step = 0.5 * self.base if self.by_half else self.piece(food)
        if reading > self.target * (1 + WINDOW):
            return self.base - step
        return self.base + step if reading < self.target * (1 - WINDOW) else self.base

    def cut(self, food: str, grams: float) -> float:
        return float(self.piece(food) * max(round(grams / self.piece(food)), 1))

    def day(self, choose=None, rests: bool = False) -> float:
        """One day from weighing to weighing: weigh, fly, feed. Gives the reading."""
        bird, luck = self.bird, self.luck
        reading, at, hour = bird.weighed(), moment(bird.hour), bird.hour
        weekday = bird.hour // 24 % 7
        flown = 0.0 if rests and weekday == 6 else float(luck.choice([0, 10, 20, 40]))
        food = str(luck.choice(self.larder, p=[0.75, 0.25]))
        killed, lost, blank = luck.random() < 0.06, luck.random() < 0.06, luck.random() < 0.15
        late, slip = luck.integers(-1, 2), luck.random() < 0.02
        about = day_mean(self.air, hour) + 1.5 * luck.normal()
        temp = "" if blank else f"{about:.0f}"
        row = f"{at:%Y-%m-%d %H:%M},{reading:.0f},,"
        if choose is not None:
            grams = choose(self, row, food, about)
        else:
            fed_up = {5: 1.8, 6: 0.6}.get(weekday, 0.0) if rests else 0.0
            grams = self.cut(food, self.base * fed_up if fed_up else self.fixed(reading, food))
        if killed and not self.to_the_lure:  # it takes its own, and eats up on it
            grams, food = 1.9 * self.base, "mouse"
        wrote = round(grams) if luck.random() < 0.5 else 5 * round(grams / 5)
        wrote = round(wrote * 1.5) if slip else wrote
        if not lost:
            self.rows.append(f"{row}{food},{wrote},{temp},{flown:.0f},")
        bird.live(2, self.air, flown)
        bird.eat(food, grams)
        bird.live(max(22 + int(late) - (bird.hour - hour - 2), 1), self.air)
        return reading

    def log(self, also: str = "") -> str:
        return "\n".join([HEADER, *self.rows, *([also] if also else [])])


def known(keeper: Keeper, text: str) -> tuple[Record, object]:
    species = handbook.species(keeper.bird.kind)
    whole = tidy(read_log(text), moment(keeper.bird.hour + 48), True, species)
    return record(whole, species, food_called("chick")), species


def forecast_errors(keeper: Keeper) -> list[tuple[float, ...]]:
    """Days of the keeper's own log, each forecast from what was written before."""
    found, before = [], []
    for n in range(WARM_UP + FORECAST):
        foreseen = None
        if n >= WARM_UP and len(keeper.rows) > 7:
            rec, species = known(keeper, keeper.log())
            learnt = learn(rec)
            air_c = day_mean(keeper.air, keeper.bird.hour - 24) + 1.5 * keeper.luck.normal()
            foreseen = foresee(
                rec, learnt, species, Coming(air_c, tells_all=False), days(moment(keeper.bird.hour))
            )
        written = len(keeper.rows)
        reading = keeper.day(rests=True)
        if foreseen is not None:
            low, high = foreseen.interval_g()
            found.append((
                abs(foreseen.expected_g - reading) / reading,
                abs(before[-1] - reading) / reading, abs(np.mean(before[-7:]) - reading) / reading,
                float(low <= reading <= high), (high - low) / reading,
            ))  # fmt: skip
        if len(keeper.rows) > written:
            before.append(reading)
    return found


def ours(keeper: Keeper, row: str, food: str, air_c: float) -> float:
    """Grams by the ration of this morning, for the same hour tomorrow."""
    rec, species = known(keeper, keeper.log(f"{row},,,,"))
    at = days(moment(keeper.bird.hour) + timedelta(days=1))
    every = rations(rec, learn(rec), species, (food_called(food),), (at,), air_c)
    low, high = keeper.target * (1 - WINDOW), keeper.target * (1 + WINDOW)
    return float(best_grams(every, low, high, bounds(every, air_c)))


def in_window(keeper: Keeper, choose, by_half: bool = False) -> list[bool]:
    arm = deepcopy(keeper)
    arm.by_half, arm.to_the_lure = by_half, True
    readings = [arm.day(choose) for _ in range(FED_ON + 1)][1:]
    return [abs(reading / arm.target - 1) <= WINDOW for reading in readings]


def birds(count: int, seed: int) -> None:
    errors, fixed, half, fed = [], [], [], []
    for n in range(count):
        keeper = Keeper(sim_bird(n, seed), weather(seed, n), np.random.default_rng([seed, n, 3]))
        errors += forecast_errors(keeper)
        fixed += in_window(keeper, None)
        half += in_window(keeper, None, by_half=True)
        fed += in_window(keeper, ours)
    told = np.array(errors)
    mean = told.mean(axis=0)
    print(
        f"{count} birds, seed {seed}: {len(errors)} forecasts of one day, mean miss {mean[0]:.2%}"
    )
    print(f"  last reading {mean[1]:.2%}, mean of seven {mean[2]:.2%}: "
          f"{mean[0] / min(mean[1], mean[2]):.3f} times the better")  # fmt: skip
    print(f"  90 % intervals hold {mean[3]:.1%}, mean width {mean[4]:.1%} of the weight")
    print(f"  in the window of +-1.5 %: fixed ration {np.mean(fixed):.1%}, ours "
        f"{np.mean(fed):.1%}: "
          f"{np.mean(fed) / np.mean(fixed):.2f} times as often")  # fmt: skip
    print(f"  a keeper who corrects by half the ration: {np.mean(half):.1%}, "
          f"{np.mean(fed) / np.mean(half):.2f} times as often")  # fmt: skip


def best_s(work, goes: int = 5) -> float:
    """Shortest of some goes, processor seconds; the first compiles and does not count."""
    work()
    found = []
    for _ in range(goes):
        begun = process_time()
        work()
        found.append(process_time() - begun)
    return min(found)


def general(steps, prior, setting) -> float:
    """The same likelihood by filterpy, a general library: its own objects, one step a call."""
    body, days_, spent, taken, unsure, blur = steps
    known = KalmanFilter(dim_x=3, dim_z=1)
    known.x = np.array([[body[0]], [prior[0]], [prior[1]]])
    known.P = np.diag([setting[0] + blur[0], prior[2], prior[4]])
    known.P[1, 2] = known.P[2, 1] = prior[3]
    known.H = np.array([[1.0, 0, 0]])
    total = 0.0
    for i in range(1, len(body)):
        F = np.array([[1, -spent[i], taken[i]], [0, 1, 0], [0, 0, 1.0]])
        Q = np.diag([setting[1] * days_[i] + unsure[i], setting[2] * days_[i], 0])
        known.predict(F=F, Q=Q)
        known.update(body[i], R=setting[0] + blur[i])
        total += known.log_likelihood
    return total


def speed(seed: int) -> None:
    year, five_years = log_of(seed, 365), log_of(seed + 1, 5 * 365)
    species = handbook.species("harris_hawk")

    def rows_of(text: str) -> Record:
        end = moment(24 * 3000)
        return record(tidy(read_log(text), end, True, species), species, food_called("chick"))

    steps, prior, grid = steps_of(rows_of(year)), factor_prior(), settings()
    fit, state = np.empty(grid.shape[1]), np.empty((STATE, grid.shape[1]))
    weigh(steps, prior, np.inf, grid, fit, state)
    picked = range(0, grid.shape[1], 101)
    want = [general(steps, prior, grid[:, n]) for n in picked]
    apart = max(abs(fit[n] - w) for n, w in zip(picked, want, strict=True))
    library = best_s(lambda: general(steps, prior, grid[:, 0]), 2)
    every = best_s(lambda: weigh(steps, prior, np.inf, grid, fit, state))
    one = best_s(lambda: track(steps, prior, np.inf, grid[:, 0].copy()))
    print(f"log-likelihood of a year, {steps.shape[1]} weighings: {apart:.1e} from the "
        "library's; a pass on the "
          f"grid is {library / (every / grid.shape[1]):,.0f} times as fast")  # fmt: skip
    print(
        f"  one setting alone, filter and smoother: {library / one:,.0f} times the library's filter"
    )

    def birds_150() -> None:
        for _ in range(150):
            weigh(steps, prior, CLIP, grid, fit, state)

    print(
        f"posterior of 150 birds of a year on {grid.shape[1]} settings: {best_s(birds_150):.3f} s"
    )
    long = rows_of(five_years)
    print(f"one bird's five years, {len(long.day)} weighings: posterior and smoother "
          f"{best_s(lambda: tracked(long, learn(long))):.4f} s, the log read and brought in "
          "order too "
          f"{best_s(lambda: (lambda r: tracked(r, learn(r)))(rows_of(five_years))):.3f} "
          "s")  # fmt: skip


def log_of(seed: int, count: int) -> str:
    """A steady log of so many days, one weighing each."""
    luck = np.random.default_rng(seed)
    weight, lines = 900.0, [HEADER]
    for n in range(count):
        grams = 40 * luck.integers(1, 5)
        reading = weight + 8 * luck.normal()
        at = moment(8 + 24 * n)
        lines.append(
            f"{at:%Y-%m-%d %H:%M},{reading:.0f},,chick,{grams},{5 + 5 * luck.normal():.0f},20,"
        )
        weight += (4.84 * grams - 484) / 19 + 0.1 * (900 - weight)
    return "\n".join(lines)


def main() -> None:
    told = argparse.ArgumentParser(description=__doc__)
    told.add_argument("--birds", type=int, default=200)
    told.add_argument("--seed", type=int, default=1)
    asked = told.parse_args()
    speed(asked.seed)
    if asked.birds:
        birds(asked.birds, asked.seed)


if __name__ == "__main__":
    main()
