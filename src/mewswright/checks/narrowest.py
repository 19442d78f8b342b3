"""The narrowest loose bird of a case: what every gap is measured against."""

from dataclasses import dataclass

from mewswright.checks import asked
from mewswright.checks.case import Case, Resident
from mewswright.checks.finding import Evidence
from mewswright.handbook import bar_gap_max, body_width_estimate


@dataclass(frozen=True)
class Narrowest:
    """A loose bird, its body width [mm], and whether that was measured on the bird.

    `usual_gap_mm` is the narrowest of its body, its head if that was measured, and the bar
    gap that is usual for its class.
    """

    resident: Resident
    width_mm: float
    measured: bool
    sources: tuple[Evidence, ...]
    usual_gap_mm: float
    usual_sources: tuple[Evidence, ...]

    @property
    def name(self) -> str:
        """Name of the bird."""
        return self.resident.bird.name


def narrowest(case: Case) -> Narrowest | None:
    """The loose bird with the least body width, or None where none is loose."""
    return min((_of(bird) for bird in case.loose), key=lambda found: found.width_mm, default=None)


def _of(resident: Resident) -> Narrowest:
    own, head = resident.bird.body_width_mm, resident.bird.head_width_mm
    gap = bar_gap_max(resident.species, _grams(resident))
    by_hand = Evidence(name="measured on the bird", locator=resident.bird.name, how_known="read")
    usual_mm, usual = gap.value, asked.witnesses(gap.source)
    if head is not None and head < usual_mm:
        usual_mm, usual = head, (by_hand,)
    if own is None:
        estimate = body_width_estimate(resident.species, _grams(resident))
        sources = asked.witnesses(estimate.source)
        return Narrowest(
            resident,
            estimate.value,
            False,
            sources,
            min(usual_mm, estimate.value),
            usual if usual_mm < estimate.value else sources,
        )
    if own < usual_mm:
        usual_mm, usual = own, (by_hand,)
    return Narrowest(resident, own, True, (by_hand,), usual_mm, usual)


def _grams(resident: Resident) -> float | None:
    """Mass to class a bird by [g]; None = by the lighter sex of its species."""
    if resident.bird.mass_g is None and resident.bird.sex == "unknown":
        return None
    return resident.mass.value
