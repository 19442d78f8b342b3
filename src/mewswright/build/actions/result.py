"""What `actions_on` gives: every load of one unit, with its witness. kN and metres."""

from dataclasses import dataclass

from mewswright.build.actions.combine import Factors
from mewswright.build.actions.dead import Dead
from mewswright.build.actions.neighbours import DriftOnRoof
from mewswright.build.actions.people import Bate, Lean, Maintenance
from mewswright.build.actions.snow_duopitch import SlopeSnow
from mewswright.build.actions.wind import PeakPressure
from mewswright.build.actions.wind_on import WindOn


@dataclass(frozen=True)
class SnowOn:
    """Snow on the roof of one unit [kN/m2 of plan]. Without a roof all is 0."""

    ground_kn_m2: float
    mu1: float
    ce: float
    ct: float
    uniform_kn_m2: float
    drifts: tuple[DriftOnRoof, ...]  # heaviest mean first
    drift_ce: float  # exposure where a drift lies: never that of a windswept roof
    peak_kn_m2: float  # at the edge under the heaviest drift; the uniform load without one
    mean_kn_m2: float  # over the roof, under the drift with the heaviest mean
    eave_kn_m: float | None  # snow that hangs over an eave; None below its altitude
    slopes: tuple[SlopeSnow, ...] = ()  # arrangements on the slopes of a duopitch
    # An exceptional drift at the edge of the roof, where the yard's annex asks for it; else 0.
    exceptional_kn_m2: float = 0.0


@dataclass(frozen=True)
class HeaviestBird:
    """The heaviest bird that lives in the unit, and its bate."""

    name: str
    mass_kg: float
    weighed: bool
    bate: Bate


@dataclass(frozen=True)
class ActionFigure:
    """One figure, where it comes from and how far that is known."""

    name: str
    value: float
    unit: str
    clause: str
    how_known: str
    why: str = ""


@dataclass(frozen=True)
class Actions:
    """All that loads one unit."""

    yard: str
    quarters: str
    edition: str
    loads_source: str
    peak: PeakPressure
    snow: SnowOn
    wind: WindOn
    dead: Dead
    maintenance: Maintenance
    person: Lean
    bird: HeaviestBird | None
    factors: Factors
    roof_width_m: float  # plan, overhangs included; of the frame where there is no roof
    roof_depth_m: float
    height_m: float  # top of the roof
    figures: tuple[ActionFigure, ...]
    assumptions: tuple[str, ...]
    refusals: tuple[str, ...]

    @property
    def roof_plan_m2(self) -> float:
        """Plan area of the roof, overhangs included [m2]."""
        return self.roof_width_m * self.roof_depth_m

    @property
    def net_uplift_kn(self) -> float:
        """What lifts the roof when wind leads, less the weight that counts (EQU) [kN].

        Source:
            EN 1990, Table A1.2(A): 1.5 W - 0.9 G on the whole roof, before any walls.
        """
        lifts = self.factors.equ_gamma_q * self.wind.roof_up.kn_m2
        holds = self.factors.equ_gamma_g_favourable * self.dead.roof_up_kn_m2
        return (lifts - holds) * self.roof_plan_m2
