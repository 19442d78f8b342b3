"""A score of what raises the risk of sore feet, told term by term.

Not veterinary advice. The points are a judgement: they order what to change, they do not
foretell. Whoever sees a pink, shiny or swollen pad calls an avian vet.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from mewswright.checks import asked
from mewswright.checks.case import Case
from mewswright.checks.finding import Finding, Status
from mewswright.checks.foot import is_prone
from mewswright.checks.foot_stand import (
    Home,
    ages,
    hardness_only,
    homes,
    is_worn,
    missing_spread_mm,
    one_texture,
    round_ones,
)
from mewswright.checks.registry import yard_check
from mewswright.handbook import FootRisk, foot_risks, perch_diameter
from mewswright.model.quantity import Quantity
from mewswright.model.yard import Yard

MOST_POINTS = 2  # more is minded, from SHORT_POINTS on it is short: judgements
SHORT_POINTS = 6
HEAVY = 1.15  # times the mean of its kind and sex: a judgement
VET = "look at its feet each week, and see an avian vet at the first pink or shiny patch"


@dataclass
class Score:
    """The terms of one bird's score, what to change in each, and what is not known."""

    terms: list[tuple[FootRisk, str]] = field(default_factory=list)
    remedies: list[str] = field(default_factory=list)
    unknown: list[str] = field(default_factory=list)

    def add(self, risk: str, told: str = "", remedy: str = "") -> None:
        """Enter a term; a remedy of "" means that nothing can be done about it."""
        self.terms.append((foot_risks()[risk], told))
        if remedy:
            self.remedies.append(remedy)

    @property
    def points(self) -> int:
        """The sum of all terms."""
        return sum(risk.points for risk, _ in self.terms)

    def __str__(self) -> str:
        """Every term with its points: the score is never told alone."""
        told = [
            f"{risk.name}{f' ({what})' if what else ''} {risk.points}" for risk, what in self.terms
        ]
        text = " + ".join(told) if told else "nothing that is known here raises the risk"
        return f"{text}; not known: {', '.join(self.unknown)}" if self.unknown else text


def foot_score(home: Home) -> Score:
    """Add up what raises the risk of sore feet for one bird where it lives."""
    score = Score()
    bird, kind = home.resident.bird, home.resident.species
    if is_prone(kind):
        score.add("kind_gyr_saker", kind.common_name)
    elif kind.family == "Accipitridae":
        score.add("kind_hawk", kind.common_name)
    felt = one_texture(home)
    if felt is not None and felt.too_long and felt.sure:
        score.add("one_texture", felt.texture, f"give it something other than {felt.texture}")
    if hardness_only(home.perches):
        score.add("bare_cover", "", "cover its perches")
    _covers(score, home)
    _thickness(score, home)
    _exercise(score, home)
    if bird.mass_g is None:
        score.unknown.append("its weight")
    elif bird.mass_g > HEAVY * (mean_g := kind.mass(home.sex).value):
        score.add(
            "heavy", f"{bird.mass_g:.0f} g against {mean_g:.0f} g",
            f"bring it down to {HEAVY * mean_g:.0f} g with care",
        )  # fmt: skip
    if home.resident.tethered and bird.tethered_by == "one_leg":
        score.add("one_leg", "", "jess both legs")
    return score


def _covers(score: Score, home: Home) -> None:
    worn = sorted(perch.name for perch in home.perches if is_worn(perch))
    if worn:
        score.add("worn_cover", ", ".join(worn), f"renew the cover of {', '.join(worn)}")
    if any(ages(perch) and perch.cover_age_months is None for perch in home.perches):
        score.unknown.append("the age of a cover")


def _thickness(score: Score, home: Home) -> None:
    gripped = round_ones(home.perches)
    low, high = perch_diameter(home.resident.mass.value)
    fits = [
        p for p in gripped
        if asked.reaches(p.diameter_mm or 0, low.value)
        and asked.stays_within(p.diameter_mm or 0, high.value)
    ]  # fmt: skip
    if gripped and not fits and len(gripped) == len(home.perches):
        score.add("misfit", "", f"give it a round perch of {low.value:g} to {high.value:g} mm")
    if not home.resident.tethered and missing_spread_mm(home.perches):
        score.add("one_thickness", "", "give it round perches of two thicknesses")


def _exercise(score: Score, home: Home) -> None:
    bird, tied = home.resident.bird, home.resident.tethered
    if bird.flights_per_week is None and bird.use == "flown":
        score.unknown.append("its flights a week")
    elif not bird.flights_per_week:
        risk = "idle_tethered" if tied else "idle_loose"
        score.add(risk, "", "fly it, or let it go loose and make it move" if tied else "fly it")


@yard_check("B104", "What raises the risk of sore feet")
def risk(yard: Yard, every: Sequence[Case]) -> Iterator[Finding]:
    """B104: each bird's score, with every term of it."""
    del yard
    yield from dict.fromkeys(_told(home) for home in homes(every))


def _told(home: Home) -> Finding:
    score = foot_score(home)
    status: Status = "sound"
    if score.points > MOST_POINTS:
        status = "short" if score.points >= SHORT_POINTS else "mind"
    refs = [term.source for term, _ in score.terms]
    return Finding(
        code="B104",
        status=status,
        quarters=home.case.quarters.name,
        bird=home.resident.bird.name,
        measured=Quantity(value=score.points, unit="points"),
        limit=Quantity(value=MOST_POINTS, unit="points"),
        why=str(score),
        remedy="" if status == "sound" else "; ".join((*score.remedies, VET)),
        sources=(*asked.judgement("points of the foot score"), *asked.witnesses(*refs)),
    )
