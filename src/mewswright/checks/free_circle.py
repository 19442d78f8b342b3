"""The free circle of one bird: its radius, term by term, each with its source."""

from dataclasses import dataclass

from mewswright.build.circle import free_radius_mm
from mewswright.checks.case import Known, Resident, evidence
from mewswright.checks.finding import Evidence
from mewswright.handbook import Figure, leash_lengths
from mewswright.model.fitting import Perch
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard


@dataclass(frozen=True)
class Term:
    """One term of the radius [mm], and whether it was measured on this bird."""

    name: str
    value_mm: float
    measured: bool
    source: Evidence


@dataclass(frozen=True)
class FreeCircle:
    """The circle that a tethered bird needs free of all that it could strike [mm].

    `tip_mm` is where its wing tips come to, `feet_mm` where its feet do.
    """

    radius_mm: float
    tip_mm: float
    feet_mm: float
    terms: tuple[Term, ...]

    @property
    def sources(self) -> tuple[Evidence, ...]:
        """The witnesses of all terms, each once; the margin's first, for it is the rule."""
        return tuple(dict.fromkeys(term.source for term in reversed(self.terms)))

    @property
    def assumed(self) -> tuple[Term, ...]:
        """Terms that were taken from the handbook for want of a measurement."""
        return tuple(term for term in self.terms if not term.measured)


def free_circle(yard: Yard, known: Known) -> FreeCircle:
    """Work out the free circle of a bird; its own measurements go before the handbook's."""
    lengths, bird = leash_lengths(), known.bird
    half_span = Term("half the wing span", known.span.value / 2, known.span.measured,
                     known.span.source)  # fmt: skip
    leash = _term("leash, as it is tied", bird.leash_working_mm, bird.name, lengths.working_mm)
    jess = _term("swivel and jesses", bird.jess_swivel_mm, bird.name, lengths.swivel_jess_mm)
    margin = _term("margin", yard.house.tether_margin_mm, "", lengths.margin_mm)
    radius_mm = free_radius_mm(leash.value_mm, jess.value_mm, known.span.value, margin.value_mm)
    return FreeCircle(
        radius_mm,
        radius_mm - margin.value_mm,
        leash.value_mm + jess.value_mm,
        (leash, jess, half_span, margin),
    )


def _term(name: str, own_mm: float | None, bird: str, figure: Figure) -> Term:
    if own_mm is None:
        # The margin is a rule, not a size of the bird: nothing was left unmeasured.
        return Term(name, figure.value, name == "margin", evidence(figure.source)[0])
    own = (
        Evidence(name="measured on the bird", locator=bird, how_known="read")
        if bird
        else Evidence(
            name="the keeper's own limit", locator="house.tether_margin_mm", how_known="read"
        )
    )
    return Term(name, own_mm, True, own)


def tether_perches(quarters: Quarters, resident: Resident) -> tuple[Perch, ...]:
    """Perches that a tethered bird may be tied to: the named one, or else all there are."""
    if resident.stay.perch is None:
        return quarters.perches
    return tuple(p for p in quarters.perches if p.name == resident.stay.perch)
