"""Simulated birds for `ration.py`: another physiology than the filter's, hour by hour.

Shares no line and no figure with `mewswright.care`. A body of fat and lean, a crop that empties
into a stomach
that works at its own pace, pellets that come when they come, heat kept up below a critical
temperature through plumage that insulates better or worse (the filter has a straight line), days of
unrest, water that comes and goes, food that is leaner or fatter by the box, scraps left on the
perch,
rounded figures, lost rows and slips of the pen. What the filter assumes is wrong here on purpose:
model error.

Energy kJ, mass g, time h. Figures are of the right size for birds of prey and nothing more.
"""

from dataclasses import dataclass, field
from datetime import datetime, timedelta

import numpy as np

START = datetime(2025, 9, 1)
# What the logs call a bird of this size, its sex and its usual mass.
KINDS = (
    ("common_kestrel", "m", 205.0), ("merlin", "f", 215.0), ("eurasian_sparrowhawk", "f", 265.0),
    ("peregrine_falcon", "m", 600.0), ("harris_hawk", "m", 640.0), ("peregrine_falcon", "f", 900.0),
    ("harris_hawk", "f", 930.0), ("eurasian_goshawk", "f", 1150.0),
    ("red_tailed_hawk", "f", 1150.0),
    ("western_barn_owl", "f", 340.0),
)  # fmt: skip
# Foods of the larder: the name, energy taken up from a gram [kJ], share that is cast, and what a
# keeper cuts it to [g]: half a chick, a quarter of a quail, a strip of beef, a mouse.
LARDER = {
    "chick": (4.9, 0.02, 20.0), "quail": (7.3, 0.05, 45.0), "beef": (5.9, 0.0, 10.0),
    "mouse": (5.5, 0.05, 25.0),
}  # fmt: skip


@dataclass
class SimBird:
    """One bird; `rng` is its own luck."""

    kind: str
    sex: str
    rng: np.random.Generator
    fat: float
    lean: float
    thrift: float  # its own factor on all that it spends; walks
    insulation: float
    pace: float  # of the stomach [g/h]
    hold: float  # hours from a meal to its pellet
    scale_sd: float
    slosh: float  # SD of its water, as a share
    box: dict[str, float] = field(default_factory=dict)  # energy of the box now thawed, as a factor
    crop: float = 0.0
    stomach: float = 0.0
    content_kj: float = 0.0
    content_cast: float = 0.0
    water: float = 0.0
    unrest: float = 1.0
    pellets: list[tuple[int, float]] = field(default_factory=list)
    hour: int = 8

    @property
    def body(self) -> float:
        return self.fat + self.lean

    @property
    def heft(self) -> float:
        """What an exact scale shows."""
        return (
            self.body * (1 + self.water)
            + self.crop
            + self.stomach
            + sum(p for _, p in self.pellets)
        )

    def live(self, hours: int, air, flown_min: float = 0.0) -> None:
        for n in range(hours):
            clock = self.hour % 24
            mass_kg = self.body / 1000
            rest = 2.95 * mass_kg**0.72 * self.thrift  # W
            awake = 1.55 * self.unrest if 7 <= clock < 20 else 1.05
            critical = 40 - 11.7 * self.body**0.09
            cold = max(critical - air(self.hour), 0.0)
            heat = 0.12 * mass_kg**0.53 * cold * self.insulation
            watts = max(rest * awake + 0.35 * heat, rest * 1.0 + heat)  # moving warms too
            if n == 0 and flown_min:
                watts += 7.5 * rest * flown_min / 60
            moved = min(self.crop, 6 * self.pace)
            self.crop -= moved
            self.stomach += moved
            digested = min(self.stomach, self.pace * (0.6 + 0.4 * self.stomach / (8 * self.pace)))
            taken = 0.0
            if self.stomach + self.crop > 1e-9:
                taken = self.content_kj * digested / (self.stomach + self.crop)
            self.content_kj -= taken
            self.stomach -= digested
            self._store(taken - watts * 3.6)
            self.water += -0.06 * self.water + 0.34 * self.slosh * self.rng.normal()
            self.hour += 1
            self.pellets = [(due, p) for due, p in self.pellets if due > self.hour]
            if self.hour % 24 == 0:
                self.thrift *= np.exp(0.010 * self.rng.normal())
                self.unrest = 1 + 0.12 * self.rng.normal()

    def _store(self, gained: float) -> None:
        share = np.clip(self.fat / self.body * 7.5, 0.4, 0.9)  # of the energy, in fat
        self.fat = max(self.fat + share * gained / 37.0, 0.5)
        self.lean += (1 - share) * gained / (9.0 if gained > 0 else 7.5)

    def eat(self, name: str, grams: float) -> None:
        energy, cast, _ = LARDER[name]
        if self.rng.random() < 0.1 or name not in self.box:
            self.box[name] = float(np.exp(0.09 * self.rng.normal()))
        eaten = grams * (1 - min(abs(0.03 * self.rng.normal()), 0.3))
        self.crop += eaten * (1 - cast)
        self.content_kj += eaten * energy * self.box[name]
        if cast:
            self.pellets.append(
                (self.hour + int(self.hold * self.rng.uniform(0.8, 1.25)), eaten * cast)
            )

    def weighed(self) -> float:
        """What the keeper writes down, to the gram: the scale's own noise, and fidgets."""
        fidget = self.rng.standard_t(4) / np.sqrt(2)
        return float(round(self.heft * (1 + self.scale_sd * fidget)))


def sim_bird(n: int, seed: int) -> SimBird:
    """Bird `n` of a run."""
    rng = np.random.default_rng([seed, n])
    kind, sex, usual = KINDS[n % len(KINDS)]
    mass = usual * np.exp(0.08 * rng.normal())
    fat = mass * rng.uniform(0.06, 0.11)
    return SimBird(
        kind, sex, rng, fat, mass - fat, float(np.exp(0.2 * rng.normal())),
        float(np.exp(0.15 * rng.normal())), 0.010 * mass**0.93 * float(np.exp(0.15 * rng.normal())),
        11.0 if kind == "western_barn_owl" else 20.0, float(0.004 * np.exp(0.4 * rng.normal())),
        0.007 * (mass / 1000) ** -0.33,
    )  # fmt: skip


def weather(seed: int, n: int):
    """Air by the hour: a season, spells of days, a day's swing."""
    rng = np.random.default_rng([seed, n, 7])
    spell = np.zeros(420)
    for day in range(1, 420):
        spell[day] = 0.75 * spell[day - 1] + 2.6 * rng.normal()
    warm = rng.uniform(4, 14)

    def air(hour: int) -> float:
        day = hour / 24
        season = 8 * np.cos(2 * np.pi * (day - 320) / 365)
        return float(
            warm + season + spell[hour // 24] + 3.5 * np.sin(2 * np.pi * (hour % 24 - 9) / 24)
        )

    return air


def day_mean(air, hour: int) -> float:
    """Mean air of the day to come, as a forecast knows it: about."""
    return float(np.mean([air(h) for h in range(hour, hour + 24)]))


def moment(hour: int) -> datetime:
    return START + timedelta(hours=hour)
