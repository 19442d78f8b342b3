"""Combinations: which loads come together, with which factors, and for how long.

Values keep the unit that they come in. Down and up are signs of the values: wind that
lifts is negative where weight is positive.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Literal

from mewswright.build.parts import PartKind
from mewswright.handbook import load_factor
from mewswright.handbook.timber import DURATIONS

ActionKind = Literal["dead", "snow", "wind", "maintenance", "person", "bird", "accident"]
Limit = Literal["STR", "EQU", "accidental", "characteristic", "quasi-permanent"]
DeadShare = Literal["most", "least"]
# Snow and wind may come together; people and a bird come alone with the weight.
TOGETHER: tuple[ActionKind, ...] = ("snow", "wind")
HIGH_M = 1000.0  # EN 1990, Table A1.1: above it more of the snow lies on
ROOF_KINDS: tuple[PartKind, ...] = ("rafter", "deck")


@dataclass(frozen=True)
class Action:
    """One load with its characteristic value. Several of one kind exclude each other."""

    name: str
    kind: ActionKind
    value: float


@dataclass(frozen=True)
class Factors:
    """Partial factors and shares; those of a yard come from its own code."""

    gamma_g: float
    gamma_g_favourable: float
    gamma_q: float
    equ_gamma_g: float
    equ_gamma_g_favourable: float
    equ_gamma_q: float
    psi0: Mapping[ActionKind, float]
    psi2: Mapping[ActionKind, float]
    duration: Mapping[ActionKind, str]


def factors(
    gamma_g: float | None = None,
    gamma_q: float | None = None,
    psi0_snow: float | None = None,
    psi0_wind: float | None = None,
    altitude_m: float = 0,
    wind_duration: str = "short",
) -> Factors:
    """Factors of combination, the handbook's where none is given.

    Above 1000 m the shares of snow are never below those of the table for high places, and
    snow lies for a medium time.

    Args:
        gamma_g: On weight that works against (STR) [-].
        gamma_q: On snow, wind and people [-].
        psi0_snow: Share of snow beside leading wind [-].
        psi0_wind: Share of wind beside leading snow [-].
        altitude_m: Height above the sea [m].
        wind_duration: `short`, the safe one, or `instantaneous` where the annex allows it.

    Raises:
        ValueError: For another duration of wind.

    Source:
        EN 1990:2002, Tables A1.1, A1.2(A), A1.2(B); EN 1995-1-1, Table 2.2.
    """
    if wind_duration not in ("short", "instantaneous"):
        raise ValueError(f"wind is short or instantaneous, got {wind_duration!r}")

    def ours(given: float | None, name: str) -> float:
        return load_factor(name).value if given is None else given

    high = altitude_m > HIGH_M
    snow_0, snow_2 = ours(psi0_snow, "psi0_snow"), load_factor("psi2_snow").value
    if high:
        snow_0 = max(snow_0, load_factor("psi0_snow_high").value)
        snow_2 = load_factor("psi2_snow_high").value
    return Factors(
        gamma_g=ours(gamma_g, "gamma_g_unfavourable"),
        gamma_g_favourable=load_factor("gamma_g_favourable").value,
        gamma_q=ours(gamma_q, "gamma_q"),
        equ_gamma_g=load_factor("equ_gamma_g_unfavourable").value,
        equ_gamma_g_favourable=load_factor("equ_gamma_g_favourable").value,
        equ_gamma_q=ours(gamma_q, "equ_gamma_q"),
        psi0={"snow": snow_0, "wind": ours(psi0_wind, "psi0_wind")},
        psi2={"snow": snow_2, "wind": load_factor("psi2_wind").value},
        duration={
            "dead": "permanent",
            "snow": "medium" if high else "short",
            "wind": wind_duration,
            "maintenance": "short",
            "person": "short",
            "bird": "instantaneous",
            "accident": "short",  # an exceptional drift; annexes that let it off are not used
        },
    )


@dataclass(frozen=True)
class Combination:
    """One sum of loads: the factor on each of its actions, and how long it lasts.

    `duration` is that of the briefest load in it, as timber takes it. `dead` says which end
    of the weight belongs to it: the most that can be there, or the least, where it helps.
    """

    name: str
    limit: Limit
    factors: tuple[tuple[str, float], ...]
    duration: str
    dead: DeadShare = "most"

    def total(self, actions: Iterable[Action]) -> float:
        """The sum of the factored values, in the unit of the actions."""
        values = {action.name: action.value for action in actions}
        return sum(factor * values[name] for name, factor in self.factors)


def combinations(
    actions: Iterable[Action], using: Factors | None = None, limits: tuple[Limit, ...] = ("STR",)
) -> tuple[Combination, ...]:
    """Every combination that these loads ask for.

    All weight goes with the same factor, once as what works against and once as what
    helps. A variable load leads with its full factor; snow and wind bring a share of the
    other along, or leave it out where it would help. Maintenance, a person and a bird
    come with weight alone. Loads of one kind are cases of it and never come together. An
    accident, such as an exceptional drift, comes with weight alone in `accidental`, all
    factors 1, and nowhere else.

    Args:
        actions: The loads; names differ.
        using: Factors; None = the handbook's.
        limits: Which limit states: `STR` strength, `EQU` tipping and lifting, `accidental`,
            `characteristic` and `quasi-permanent` for bending and sway.

    Raises:
        ValueError: If two actions share a name.

    Source:
        EN 1990:2002, (6.10), (6.11b), (6.14b), (6.16b), Tables A1.2(A) and (B). That roof
        maintenance does not come with snow or wind: EN 1991-1-1, 3.3.2(1).
    """
    listed = tuple(actions)
    names = [action.name for action in listed]
    if len(set(names)) < len(names):
        raise ValueError(f"two actions share a name among {', '.join(names)}: rename one")
    given = using or factors()
    dead = tuple(action for action in listed if action.kind == "dead")
    passing = tuple(action for action in listed if action.kind not in ("dead", "accident"))
    found: list[Combination] = []
    for limit in limits:
        leads = passing
        if limit == "accidental":
            leads = tuple(action for action in listed if action.kind == "accident")
        ends: tuple[DeadShare, ...] = ("most", "least")
        for end, on_dead in zip(ends, _dead_factors(limit, given), strict=False):
            found += [replace(one, dead=end) for one in _sums(limit, given, dead, on_dead, leads)]
    return tuple(found)


def _sums(
    limit: Limit,
    given: Factors,
    dead: tuple[Action, ...],
    on_dead: float,
    leads: tuple[Action, ...],
) -> Iterator[Combination]:
    yield _combination(limit, given, dead, on_dead, ())
    if limit == "quasi-permanent":
        yield from _lasting(given, dead, leads)
        return
    on_lead = _lead_factor(limit, given)
    for lead in leads:
        yield _combination(limit, given, dead, on_dead, ((lead, on_lead),))
        for other in leads:
            if _beside(lead, other):
                pair = ((lead, on_lead), (other, on_lead * given.psi0[other.kind]))
                yield _combination(limit, given, dead, on_dead, pair)


def _dead_factors(limit: Limit, given: Factors) -> tuple[float, ...]:
    if limit == "STR":
        return given.gamma_g, given.gamma_g_favourable
    if limit == "EQU":
        return given.equ_gamma_g, given.equ_gamma_g_favourable
    return (1.0,)


def _lead_factor(limit: Limit, given: Factors) -> float:
    return {"STR": given.gamma_q, "EQU": given.equ_gamma_q}.get(limit, 1.0)


def _beside(lead: Action, other: Action) -> bool:
    return lead.kind in TOGETHER and other.kind in TOGETHER and lead.kind != other.kind


def _lasting(
    given: Factors, dead: tuple[Action, ...], leads: tuple[Action, ...]
) -> list[Combination]:
    return [
        _combination("quasi-permanent", given, dead, 1.0, ((lead, given.psi2[lead.kind]),))
        for lead in leads
        if given.psi2.get(lead.kind, 0) > 0
    ]


def _combination(
    limit: Limit,
    given: Factors,
    dead: tuple[Action, ...],
    on_dead: float,
    others: tuple[tuple[Action, float], ...],
) -> Combination:
    whole = tuple((action, on_dead) for action in dead) + others
    kinds: list[ActionKind] = ["dead", *(action.kind for action, _ in others)]
    told = " + ".join(f"{factor:.4g} {action.name}" for action, factor in whole)
    return Combination(
        name=f"{limit}: {told}",
        limit=limit,
        factors=tuple((action.name, factor) for action, factor in whole),
        duration=max((given.duration[kind] for kind in kinds), key=DURATIONS.index),
    )


def service_class(kind: PartKind, covered: bool) -> int:
    """Service class of a part of the frame: 2 under a roof's cover, 3 for all that gets wet.

    Args:
        kind: Kind of the part.
        covered: True where the whole roof is covered.

    Returns:
        2 for rafters and deck of a covered roof; 3 for posts, plates, studs and all else,
        which rain or the hose reaches.

    Source:
        EN 1995-1-1, 2.3.1.3; which part belongs where is a judgement on the safe side.
    """
    return 2 if covered and kind in ROOF_KINDS else 3
