"""Why a finding is beyond mending: no building in this unit clears it."""

from collections.abc import Mapping

from mewswright.checks.finding import Finding

# By the first letters of a code, longest first.
REASONS: Mapping[str, str] = {
    "G103": "nothing that can be boarded here keeps it out of sight: it or the other bird must "
    "live elsewhere",
    "G101": "what stands on the ground is at fault, not the unit",
    "G102": "what stands on the ground is at fault, not the unit",
    "G": "it lies in the ground or the place, and mending the unit does not move it",
    "K108": "the unit itself is not built yet",
    "K": "it lies in which bird lives here and how, not in the building",
    "T1": "the tether, its time or its neighbours are at fault, and no place in this unit cures it",
    "S": "the room cannot grow by so much where it stands: it takes a new unit",
    "L": "no place that was tried in this room cures it",
    "R109": "the bird needs a second unit beside this one",
    "A": "it lies in what is kept here and how, or in the air from outside",
}
NO_CHANGE = "none of the changes that can be tried here clears it"
NOT_TOGETHER = "what clears it brings back another fault: no set of the changes tried clears both"


def why_beyond(finding: Finding, tried: bool) -> str:
    """Say why a finding stays, and what its own remedy is.

    Args:
        finding: The finding.
        tried: Some change clears it alone, but not along with the rest.
    """
    code = finding.code
    reason = NOT_TOGETHER if tried else next(
        (REASONS[code[:n]] for n in (4, 3, 2, 1) if code[:n] in REASONS), NO_CHANGE
    )  # fmt: skip
    remedy = f"; the check itself says: {finding.remedy}" if finding.remedy else ""
    return f"{finding.subject}: {reason}{remedy}"
