"""What a note says of illness and of pellets. Words only; who doubts it asks the keeper."""

import re

_ILL = re.compile(
    r"\b(ill|illness|sick|sickness|unwell|(?:is|was|looks?|seems?|feels?) poorly|diseased?|"
    r"injur(?:y|ed)|wound(?:ed)?|"
    r"vomit\w*|regurgitat\w*|threw up|lethargic|listless|fluffed up|off (?:its|his|her|the)? ?food|"
    r"not eating|won'?t eat|refus(?:ed|es|ing) food|laboured breath\w*|tail bob\w*|frounce|"
    r"aspergillosis|bumblefoot|infection|infected|green mutes|on antibiotics|quarantined? sick)\b",
    re.IGNORECASE,
)
_WELL = re.compile(
    r"\b(recovered|well again|fit again|cleared by (?:the )?vet|vet (?:has )?cleared|healthy again|"
    r"back to (?:health|normal)|all clear)\b",
    re.IGNORECASE,
)
_NO = re.compile(
    r"\b(?:not|no|never|nothing|isn'?t|wasn'?t|without|no signs? of|free of|no longer)"
    r"(?:\s+\w+){0,2}\s*$",
    re.IGNORECASE,
)
_CAST = re.compile(r"\b(cast|casted|casting|pellet)\b", re.IGNORECASE)
_NOT_CAST = re.compile(
    r"\b(?:no|not|without|hasn'?t|hadn'?t|didn'?t|has not|did not|yet to)\b(?:\s+\w+){0,2}\s+"
    r"(?:cast|casted|casting|pellet)\b|\buncast\b|\bcast(?:ing)? (?:missing|late|overdue)\b",
    re.IGNORECASE,
)


def ill(note: str) -> bool:
    """Whether a note says that the bird is ill or hurt: such a word with no `not` before it."""
    return any(not _NO.search(note[: found.start()]) for found in _ILL.finditer(note))


def well(note: str) -> bool:
    """Whether a note says that it is well again."""
    return bool(_WELL.search(note)) and not re.search(r"\bnot\b", note, re.IGNORECASE)


def casting(note: str) -> bool | None:
    """True if the note says that a pellet came, False if it did not come, None if neither."""
    if _NOT_CAST.search(note):
        return False
    return True if _CAST.search(note) else None


def keel_score(note: str) -> float | None:
    """The keel score in a note, such as `keel 2` or `keel: 2.5/5`; None where there is none."""
    found = re.search(r"\bkeel\s*(?:score)?\s*[:=]?\s*([0-5](?:[.,]\d)?)\b", note, re.IGNORECASE)
    return float(found[1].replace(",", ".")) if found else None
