"""What a log teaches of one bird: its own factors and its three noises, worked out exactly.

The noises (scale, mass from day to day, walk of the factor) lie on a grid; the filter gives the
likelihood of every point, and that times the prior is the posterior. Nothing is sampled. With one
weighing
the priors speak, which are the species' figures; after some weeks the bird does.
"""

from dataclasses import dataclass
from functools import cache
from math import log

import numpy as np
from numpy.typing import NDArray

from mewswright.care.record import Record
from mewswright.handbook.care import care_figure

Line = NDArray[np.float64]
CLIP = 3.0  # spreads at which a reading is held: a judgement
# Ends of the grid, as shares of the mass: scale; mass in a day; factor in a day.
GRID_ENDS = ((0.0015, 0.04), (0.0008, 0.03), (0.002, 0.08))
GRID_POINTS = 8
# Log SD of the priors on the three: a factor of about two either way. Judgements.
PRIOR_SPREAD = (0.6, 0.7, 0.7)


@dataclass(frozen=True, eq=False)
class Learnt:
    """The posterior of one bird after its last weighing.

    Attributes:
        weight: Of each setting of the noises, summing to one (settings,).
        grid: Variances of scale, level in a day, factor in a day (3, settings).
        state: Mass, factor, gain, and covariances 00, 01, 02, 11, 12, 22 (9, settings).
        fit: Log-likelihood of each setting (settings,).
        prior: Of factor and gain: means, variance, covariance, variance (5,).
    """

    weight: Line
    grid: Line
    state: Line
    fit: Line
    prior: Line

    def mean(self, row: int) -> float:
        """Mean of a row of the state: 0 mass, 1 factor, 2 gain."""
        return float(self.weight @ self.state[row])

    def sd(self, row: int) -> float:
        """Its spread, over the settings too."""
        own = self.state[(3, 6, 8)[row]]
        mean = self.mean(row)
        return float(np.sqrt(self.weight @ (own + (self.state[row] - mean) ** 2)))

    @property
    def need(self) -> float:
        """Times what the equations say that this bird needs of what the table says of its food."""
        return self.mean(1) / self.mean(2)

    @property
    def unknown_share(self) -> float:
        """How far its own need is still as unknown as before its first weighing: 1 quite, 0 not."""
        *_, p11, p12, p22 = self.state
        own = self.weight @ (p11 - 2 * p12 + p22)
        off = self.state[1] - self.state[2]
        spread = self.weight @ (off - self.weight @ off) ** 2
        before = self.prior[2] - 2 * self.prior[3] + self.prior[4]
        return float(np.sqrt((own + spread) / before))

    @property
    def noises(self) -> tuple[float, float, float]:
        """Middle of scale, level in a day and factor in a day, as shares."""
        middle = np.exp(np.log(self.grid) @ self.weight / 2)
        return float(middle[0]), float(middle[1]), float(middle[2])

    @property
    def setting(self) -> Line:
        """The setting in the middle of the posterior, as variances (3,)."""
        return np.array(self.noises) ** 2


@cache
def settings() -> Line:
    """Every setting of the three noises, as variances (3, settings)."""
    axes = [np.geomspace(low, high, GRID_POINTS) ** 2 for low, high in GRID_ENDS]
    return np.array(np.meshgrid(*axes, indexing="ij")).reshape(3, -1).copy()


def scale_noise_prior(mass_g: float) -> float:
    """Day-to-day noise of a cast, empty morning weight, as a share; a line in log mass between.

    Source: about 1 % over 1 kg, 1.5 to 2 % under 300 g (from memory, low).
    """
    small, large = (care_figure(f"scale_noise_{size}").value for size in ("small", "large"))
    along = (log(min(max(mass_g, 300.0), 1000.0)) - log(300)) / (log(1000) - log(300))
    return float(small ** (1 - along) * large**along)


def factor_prior() -> Line:
    """Factor and gain of a bird that nobody knows: means, variance, covariance, variance (5,).

    Both hold the unknown energy of a gram of bird, so they go together.
    """
    own, change, food = (
        care_figure(f"{name}_spread").value ** 2 for name in ("individual", "change_energy", "food")
    )
    return np.array([1.0, 1.0, change + own, change, change + food])


def log_prior(mass_g: float) -> Line:
    """Log of the prior of each setting, for a bird of this mass (settings,)."""
    centres = (
        scale_noise_prior(mass_g), care_figure("level_noise").value,
        care_figure("factor_drift").value,
    )  # fmt: skip
    off = [
        (0.5 * np.log(row) - log(centre)) / spread
        for row, centre, spread in zip(settings(), centres, PRIOR_SPREAD, strict=True)
    ]
    told: Line = -0.5 * (off[0] ** 2 + off[1] ** 2 + off[2] ** 2)
    return told


def steps_of(record: Record) -> Line:
    """The rows that the kernel takes (6, weighings)."""
    return np.vstack(
        [record.body, record.days, record.spent, record.taken, record.unsure, record.blur]
    )


def learn(record: Record) -> Learnt:
    """The posterior of one bird, over the whole grid."""
    from mewswright.care.filter_kernel import STATE, weigh

    grid, prior = settings(), factor_prior()
    fit, state = np.empty(grid.shape[1]), np.empty((STATE, grid.shape[1]))
    weigh(steps_of(record), prior, CLIP, grid, fit, state)
    told = fit + log_prior(record.mass_g)
    weight = np.exp(told - told.max())
    return Learnt(weight / weight.sum(), grid, state, fit, prior)


@dataclass(frozen=True, eq=False)
class Tracked:
    """One bird's way through its log under the middle setting, by weighing (n,).

    Attributes:
        seen_g: Reading foreseen before it was taken, content included [g].
        spread_g: SD of that [g].
        mass_g: Smoothed mass without content [g].
        mass_sd_g: Its spread [g].
        factor: Smoothed factor on spending.
        factor_sd: Its spread.
    """

    seen_g: Line
    spread_g: Line
    mass_g: Line
    mass_sd_g: Line
    factor: Line
    factor_sd: Line


def tracked(record: Record, learnt: Learnt) -> Tracked:
    """Filter and smoother through the whole log."""
    from mewswright.care.filter_kernel import track

    _, _, _, seen, spread, back, B = track(steps_of(record), learnt.prior, CLIP, learnt.setting)
    per = record.mass_g
    return Tracked(
        seen * per + record.content_g, np.sqrt(spread) * per, back[:, 0] * per,
        np.sqrt(np.maximum(B[:, 0, 0], 0)) * per, back[:, 1],
        np.sqrt(np.maximum(B[:, 1, 1], 0)),
    )  # fmt: skip
