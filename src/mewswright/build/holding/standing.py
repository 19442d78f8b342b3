"""What the wind asks of a whole unit, and what one check of standing fast says."""

from dataclasses import dataclass
from math import isfinite
from typing import Literal

from mewswright.handbook.loads import load_factor

Run = Literal["depth", "width"]


@dataclass(frozen=True)
class WindCase:
    """Wind on a whole unit from one direction. Characteristic values.

    Args:
        name: In words, such as "wind onto the front".
        along: The way it pushes: along the depth (front or back), or along the width.
        push_kn: Level force on the unit [kN], 0 or more.
        push_height_m: Height of that force above the foot of the frame [m].
        uplift_kn: Net force on the roof, upwards [kN]; less than 0 presses down.
        uplift_arm_m: Level distance of that force from the leeward edge [m].
        head_kn: Share of the push that comes to the head plates [kN]; None takes the
            whole push, which is safe.
    """

    name: str
    along: Run
    push_kn: float
    push_height_m: float
    uplift_kn: float
    uplift_arm_m: float
    head_kn: float | None = None

    def __post_init__(self) -> None:
        """Refuse what no wind does."""
        head = self.push_kn if self.head_kn is None else self.head_kn
        values = (self.push_kn, self.push_height_m, self.uplift_kn, self.uplift_arm_m, head)
        if not all(isfinite(value) for value in values):
            raise ValueError(f"{self.name}: forces and heights must be finite numbers")
        if self.push_kn < 0 or head < 0:
            raise ValueError(f"{self.name}: a push must be 0 or more; turn the direction instead")
        if self.push_height_m < 0 or self.uplift_arm_m < 0:
            raise ValueError(f"{self.name}: heights and arms must be 0 m or more")


@dataclass(frozen=True)
class Standing:
    """One check: what is asked, what resists, and the share that is used.

    `utilisation` is None where nothing resists what is asked.
    """

    name: str
    direction: str
    demand: float
    capacity: float
    unit: str
    note: str = ""

    @property
    def utilisation(self) -> float | None:
        """Demand over capacity [-]; 0 where nothing is asked."""
        if self.demand <= 0:
            return 0.0
        return self.demand / self.capacity if self.capacity > 0 else None

    @property
    def sound(self) -> bool:
        """What resists is at least what is asked."""
        return self.demand <= max(self.capacity, 0.0) * (1 + 1e-9)

    def as_dict(self) -> dict[str, object]:
        """JSON-ready."""
        used = self.utilisation
        return {
            "name": self.name,
            "direction": self.direction,
            "demand": round(self.demand, 4),
            "capacity": round(self.capacity, 4),
            "unit": self.unit,
            "utilisation": None if used is None else round(used, 4),
            "sound": self.sound,
            "note": self.note,
        }


def holds_down() -> float:
    """Factor on dead load that holds down [-]. Source: EN 1990, Table A1.2(A)."""
    return load_factor("equ_gamma_g_favourable").value


def lifts() -> float:
    """Factor on wind that lifts, pushes or tips [-]. Source: EN 1990, Table A1.2(A)."""
    return load_factor("equ_gamma_q").value
