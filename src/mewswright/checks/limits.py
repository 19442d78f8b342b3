"""How a missed limit is judged, and how far a remedy must go."""

from math import ceil

from mewswright.checks.finding import Evidence, Status
from mewswright.handbook import Rule, source

ABOVE_A_HAIR = 1e-6  # a float's hair must not round a remedy up by a whole millimetre


def missed(basis: str, condition: str = "") -> Status:
    """Give the status of a limit that is missed: a law in force is harm, the rest short.

    Args:
        basis: The row's basis: law, standard, study, guide, practice, derived, judgement.
        condition: The row's condition, which says of some laws that they are repealed.
    """
    return "harm" if basis == "law" and "no longer in force" not in condition else "short"


def whole_mm(short_mm: float) -> str:
    """Say how far to go to cure a shortfall: whole millimetres, rounded up."""
    return f"{ceil(short_mm - ABOVE_A_HAIR)} mm"


def whole_cm(short_m: float) -> str:
    """Say how far to go on the ground: metres to the centimetre, rounded up."""
    return f"{ceil(short_m * 100 - ABOVE_A_HAIR) / 100:g} m"


def judgement(locator: str) -> Evidence:
    """Give the evidence of a working judgement of ours."""
    return Evidence(name=source("judgement").cite, locator=locator, how_known="judgement")


def is_in_force(rule: Rule) -> bool:
    """The rule is not marked as repealed."""
    return "no longer in force" not in rule.condition
