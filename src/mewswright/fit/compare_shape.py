"""What a comparison says: the shape that `compare --json` prints."""

from typing import Any

from pydantic import BaseModel, ConfigDict

from mewswright.build.cost import Marked
from mewswright.checks.finding import Finding
from mewswright.fit.compare_upkeep import Money, Upkeep


class Findings(BaseModel):
    """What the checks say of the unit.

    `gained` are codes that say more or worse than of the unit as it stands, `lost` codes
    that say less.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")
    harm: int
    short: int
    mind: int
    gained: tuple[str, ...] = ()
    lost: tuple[str, ...] = ()


class FrameVerdict(BaseModel):
    """How the frame stands; `utilisation` of the weakest, None where nothing resists."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    sound: bool
    weakest: str
    utilisation: float | None


class Variant(BaseModel):
    """One variant. With a `fault` it cannot be, and every figure is None."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    values: dict[str, Any]
    purchase: Money | None = None
    currency: str
    priced: Marked | None = None
    hours_to_build: float | None = None
    upkeep: Upkeep | None = None
    life_cost: Money | None = None  # purchase and upkeep
    life_hours: float | None = None  # to build and to keep up
    mass_kg: float | None = None
    waste_pct: float | None = None  # of the sawn timber bought; None: nothing could be planned
    findings: Findings | None = None
    frame: FrameVerdict | None = None
    fault: str | None = None


class Comparison(BaseModel):
    """All variants beside the unit as it stands. The keys are stable."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    yard: str
    quarters: str
    years: float
    vary: dict[str, tuple[Any, ...]]
    variants: tuple[Variant, ...]
    baseline: Variant
    assumptions: tuple[str, ...]
    cautions: tuple[str, ...]


class Outcome(BaseModel):
    """One variant worked out, with what only the table needs."""

    model_config = ConfigDict(frozen=True)
    variant: Variant
    here: tuple[Finding, ...] = ()  # harm, short and mind of the unit
    elsewhere: tuple[Finding, ...] = ()  # and of the rest of the yard
    assumptions: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
