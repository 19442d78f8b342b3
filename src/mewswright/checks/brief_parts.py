"""What a brief is made of, and how a row of the handbook becomes a need."""

from pydantic import BaseModel, ConfigDict

from mewswright.checks.case import evidence
from mewswright.checks.finding import Evidence
from mewswright.handbook import Figure, Rule


class Need(BaseModel):
    """One thing that a bird needs. `to` is the upper end, where the need is a range."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    what: str
    value: float | str
    to: float | None = None
    unit: str = ""
    standard: str | None = None
    reason: str = ""
    sources: tuple[Evidence, ...] = ()


class Verdict(BaseModel):
    """What one standard says of a tether.

    `tether`: allowed, conditional, exceptional, avoid, not_accepted, forbidden or unknown.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")
    standard: str
    name: str
    tether: str
    reason: str
    sources: tuple[Evidence, ...]


class Term(BaseModel):
    """One term of the free circle's radius [mm]."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    what: str
    value_mm: float
    measured: bool
    source: Evidence


class Tether(BaseModel):
    """The free circle: its radius is the sum of its terms."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    radius_mm: float
    terms: tuple[Term, ...]
    overhead_mm: float
    reason: str
    sources: tuple[Evidence, ...]


class Loft(BaseModel):
    """The smallest loft by one standard, or by the bird's own wing span.

    `standard` is `own-span` for the latter. A size that the standard does not give is
    None. `known` is False where the standard was not read for this bird. `birds` is how
    many live in it.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")
    standard: str
    name: str
    known: bool
    purpose: str
    birds: int
    floor_area_m2: float | None = None
    volume_m3: float | None = None
    height_mm: float | None = None
    shortest_side_mm: float | None = None
    longest_side_mm: float | None = None
    reason: str
    sources: tuple[Evidence, ...] = ()


def need_of(what: str, rule: Rule, key: str | None = None) -> Need:
    """Turn a rule of a standard into a need, with the state of the bird that it speaks of."""
    state = f"{rule.applies_to}: " if rule.applies_to in ("loose", "tethered", "imported") else ""
    return Need(
        what=what,
        value=rule.value if rule.number is None else rule.number,
        unit="" if rule.number is None else rule.unit,
        standard=key or rule.standard,
        reason=f"{state}{rule.condition}".removesuffix(": "),
        sources=evidence(rule.source),
    )


def need_of_figure(what: str, figure: Figure, reason: str) -> Need:
    """Turn a figure of the handbook into a need."""
    why = f"{reason}; {figure.note}" if figure.note else reason
    return Need(
        what=what, value=figure.value, unit=figure.unit, reason=why, sources=evidence(figure.source)
    )
