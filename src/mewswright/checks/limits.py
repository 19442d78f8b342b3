"""How a missed limit is judged, and how far a remedy must go."""

from math import ceil

from mewswright.checks.finding import Evidence, Status
from mewswright.handbook import Rule, SizeLimit, source

ABOVE_A_HAIR = 1e-6  # a float's hair must not round a remedy up by a whole millimetre


def missed(row: Rule | SizeLimit, doubtful: bool = False) -> Status:
    """Give the status of a limit that is missed: a law that was read is harm, the rest short.

    A law that was recalled, or read where somebody tells of it, may say something else:
    nobody is told on such a word that what he does is unlawful. Harm that comes of the
    thing itself (injury, escape) is not asked here.

    Args:
        row: The row of a standard.
        doubtful: Whether the row means this bird at all is a judgement of low confidence.
    """
    was_read = row.source.how_known == "read" and not doubtful
    return "harm" if row.basis == "law" and was_read and is_in_force(row) else "short"


def unproven(row: Rule | SizeLimit, doubtful: bool = False) -> str:
    """Say why a law is no verdict of harm here; blank where it is one, and for the rest."""
    if row.basis != "law" or missed(row, doubtful) == "harm":
        return ""
    if not is_in_force(row):
        return "a law no longer in force: advice"
    if row.source.how_known != "read":
        return f"a law known {_by(row.source.how_known)}: ask for its text"
    return "whether the law means this bird is doubtful: ask whoever enforces it"


def _by(how_known: str) -> str:
    return how_known if how_known == "from memory" else f"by {how_known.replace(' ', '-')} account"


def whole_mm(short_mm: float) -> str:
    """Say how far to go to cure a shortfall: whole millimetres, rounded up."""
    return f"{ceil(short_mm - ABOVE_A_HAIR)} mm"


def whole_cm(short_m: float) -> str:
    """Say how far to go on the ground: metres to the centimetre, rounded up."""
    return f"{ceil(short_m * 100 - ABOVE_A_HAIR) / 100:g} m"


def judgement(locator: str) -> Evidence:
    """Give the evidence of a working judgement of ours."""
    return Evidence(name=source("judgement").cite, locator=locator, how_known="judgement")


def is_in_force(row: Rule | SizeLimit) -> bool:
    """The row is not marked as repealed. Rows of other days never reach a check."""
    return not row.lapsed
