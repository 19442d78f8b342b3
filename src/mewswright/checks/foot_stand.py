"""What a bird stands on through the day: its perches, their textures, and for how long."""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from mewswright.checks.case import Case, Resident
from mewswright.checks.free_circle import tether_perches
from mewswright.checks.tether_rules import WHOLE_DAY_H
from mewswright.model.fitting import Perch

# Longest share of the day on one texture, and longest age of a cover: judgements.
TEXTURE_SHARE = 0.8
COVER_MONTHS = 12.0
# Perches whose thickness differs by less feel the same: a judgement.
THICKNESS_MM = 5.0
GRIPPED = ("round", "branch", "bow", "ring")
GROWN = ("branch", "stump")  # without a cover they are grown wood, not a planed bar
HARD = ("planed wood", "sandpaper")


@dataclass(frozen=True)
class Home:
    """One bird where it lives, with its other stays that share a day."""

    case: Case
    resident: Resident
    together: tuple[tuple[Case, Resident], ...]  # this stay among them

    @property
    def perches(self) -> tuple[Perch, ...]:
        """What it can stand on here."""
        return perches_of(self.case, self.resident)

    @property
    def sex(self) -> str:
        """Sex as the handbook asks for it."""
        sex = self.resident.bird.sex
        return "any" if sex == "unknown" else sex


@dataclass(frozen=True)
class OneTexture:
    """The texture that a bird stands on longest without a choice [h a day].

    `sure` is False where hours that are not given would change the figure.
    """

    texture: str
    hours: float
    sure: bool

    @property
    def too_long(self) -> bool:
        """Longer than a foot should bear on one texture."""
        return self.hours > TEXTURE_SHARE * WHOLE_DAY_H


def homes(every: Sequence[Case]) -> Iterator[Home]:
    """Every bird where it lives; a place for the day alone counts if it has no other."""
    by_bird: dict[str, list[tuple[Case, Resident]]] = defaultdict(list)
    for case in every:
        for resident in case.residents:
            by_bird[resident.bird.name].append((case, resident))
    for case in every:
        for resident in case.residents:
            stay = resident.stay
            together = tuple(
                (c, r) for c, r in by_bird[resident.bird.name] if r.stay.overlaps(stay)
            )
            if stay.daytime_only and not all(r.stay.daytime_only for _, r in together):
                continue
            yield Home(case, resident, together)


def perches_of(case: Case, resident: Resident) -> tuple[Perch, ...]:
    """What a bird can stand on: what it is tied to, or all that there is."""
    return tether_perches(case.quarters, resident) if resident.tethered else case.quarters.perches


def texture(perch: Perch) -> str:
    """What the foot feels on a perch, in words."""
    if perch.cover != "bare":
        return perch.cover
    return "grown wood" if perch.form in GROWN else "planed wood"


def one_texture(home: Home) -> OneTexture | None:
    """How long a bird stands on one texture without a choice; None without perches.

    Stays whose hours are given take those; what is left of the day is spent where the bird
    lives. Where there is more than one texture it chooses, and nothing is counted.
    """
    felt: dict[str, float] = defaultdict(float)
    rest: set[str] = set()
    unsure: list[set[str]] = []
    left_h = float(WHOLE_DAY_H)
    for case, resident in home.together:
        textures = {texture(perch) for perch in perches_of(case, resident)}
        hours = resident.stay.hours_a_day
        if hours is not None:
            left_h -= hours
            if len(textures) == 1:
                felt[min(textures)] += hours
        elif resident.stay.daytime_only and resident is not home.resident:
            unsure.append(textures)
        else:
            rest |= textures
    if len(rest) == 1:
        felt[min(rest)] += max(0.0, left_h)
    if not felt:
        return OneTexture("", 0.0, True) if rest else None
    name = max(sorted(felt), key=lambda one: felt[one])
    hours = min(felt[name], float(WHOLE_DAY_H))
    return OneTexture(name, hours, all(other == {name} for other in unsure))


def hardness_only(perches: Sequence[Perch]) -> bool:
    """All there is to stand on is hard."""
    return bool(perches) and all(texture(perch) in HARD for perch in perches)


def is_worn(perch: Perch) -> bool:
    """Its cover is older than covers should grow."""
    return perch.cover_age_months is not None and perch.cover_age_months > COVER_MONTHS


def ages(perch: Perch) -> bool:
    """It has a cover that wears out."""
    return perch.cover not in ("bare", "bark", "sandpaper")


def round_ones(perches: Sequence[Perch]) -> tuple[Perch, ...]:
    """Perches that a foot closes round, the thinnest first."""
    found = [p for p in perches if p.form in GRIPPED and p.diameter_mm is not None]
    return tuple(sorted(found, key=lambda p: (p.diameter_mm or 0.0, p.name)))


def missing_spread_mm(perches: Sequence[Perch]) -> float | None:
    """How much more round perches should differ in thickness [mm]; 0 where they do.

    None with fewer than two. A branch differs along itself.
    """
    found = round_ones(perches)
    if len(found) < 2:
        return None
    if any(perch.form == "branch" for perch in found):
        return 0.0
    spread = (found[-1].diameter_mm or 0.0) - (found[0].diameter_mm or 0.0)
    return max(0.0, THICKNESS_MM - spread)
