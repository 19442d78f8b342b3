"""The narrowest loose bird of a case: what every gap is measured against."""

from dataclasses import dataclass

from mewswright.checks import asked
from mewswright.checks.case import Case, Resident
from mewswright.checks.finding import Evidence
from mewswright.handbook import body_width_estimate


@dataclass(frozen=True)
class Narrowest:
    """A loose bird, its body width [mm], and whether that was measured on the bird."""

    resident: Resident
    width_mm: float
    measured: bool
    sources: tuple[Evidence, ...]

    @property
    def name(self) -> str:
        """Name of the bird."""
        return self.resident.bird.name


def narrowest(case: Case) -> Narrowest | None:
    """The loose bird with the least body width, or None where none is loose."""
    return min((_of(bird) for bird in case.loose), key=lambda found: found.width_mm, default=None)


def _of(resident: Resident) -> Narrowest:
    own = resident.bird.body_width_mm
    if own is not None:
        measured = Evidence(
            name="measured on the bird", locator=resident.bird.name, how_known="read"
        )
        return Narrowest(resident, own, True, (measured,))
    estimate = body_width_estimate(resident.species, _grams(resident))
    return Narrowest(resident, estimate.value, False, asked.witnesses(estimate.source))


def _grams(resident: Resident) -> float | None:
    """Mass to class a bird by [g]; None = by the lighter sex of its species."""
    if resident.bird.mass_g is None and resident.bird.sex == "unknown":
        return None
    return resident.mass.value
