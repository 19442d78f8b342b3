"""How low and how fast a bird may be brought down, and what it is fed at the least.

All judgements of the handbook: no published limit was found for any of them.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from mewswright.care.tidy import mass_ends_g
from mewswright.handbook.care import care_figure, loss_rate
from mewswright.handbook.species import Species

LONG_RECORD_DAYS = 60.0  # a record of so many days and weighings speaks for the bird itself
LONG_RECORD = 30
FROST_C = 2.0  # air about the night's frost: a mean this low means frost by morning


@dataclass(frozen=True)
class Floor:
    """The lowest weight that is aimed for [g], and why."""

    grams: float
    why: str


def floor_of(species: Species, sex: str, day: NDArray[np.float64], mass_g: NDArray[np.float64],
             given_g: float | None = None, fed_up_g: float | None = None) -> Floor:  # fmt: skip
    """The bird's floor.

    Four fifths of its fed-up weight, which is the highest on its record where nobody gives one. A
    bird
    without a long record stays over the low end of its sex's range too, if it is over it now.

    Args:
        species: Of the bird.
        sex: `m` or `f`.
        day: Times of its weighings [days].
        mass_g: Its smoothed mass at each [g].
        given_g: The keeper's own floor; taken as it is where it is higher.
        fed_up_g: Its fed-up weight, if it is known [g].
    """
    highest = float(np.max(mass_g)) if fed_up_g is None else fed_up_g
    share = care_figure("fed_up_floor").value
    told = "fed-up weight" if fed_up_g is not None else "highest weight on record"
    found = Floor(share * highest, f"{share:.0%} of its {told}, {highest:.0f} g")
    low, _ = mass_ends_g(species, (sex,))
    kept = care_figure("species_floor").value * low
    long_record = len(day) >= LONG_RECORD and day[-1] - day[0] >= LONG_RECORD_DAYS
    if not long_record and mass_g[-1] >= low and kept > found.grams:
        whose = {"m": "male", "f": "female"}[sex]
        found = Floor(
            kept, f"near the lightest {whose} {species.common_name} on record, {low:.0f} g"
        )
    if given_g is not None and given_g > found.grams:
        found = Floor(given_g, "the floor that was given")
    return found


def safe_share(mass_g: float) -> float:
    """What a bird of this mass may lose in a day, as a share."""
    return loss_rate(mass_g).safe_pct / 100


def least_share(mass_g: float, air_c: float | None) -> float:
    """Share of a day's spending that a bird is fed at the least.

    A small bird is never left to fast in frost; where no temperature is known, frost is not ruled
    out.
    """
    small = mass_g < care_figure("small_bird").value
    if small and (air_c is None or air_c <= FROST_C):
        return care_figure("frost_least").value
    return 0.0
