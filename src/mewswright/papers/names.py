"""File names for quarters: plain letters, and never the same name twice."""

import re
import unicodedata
from collections.abc import Sequence


def file_stems(names: Sequence[str]) -> dict[str, str]:
    """Give each name a stem for its files.

    Args:
        names: Names as the keeper writes them, each once.

    Returns:
        Stem by name: lower-case ASCII letters, digits and hyphens, at most 40 of them;
        where two names would share one, the later gets -2, -3 and so on.
    """
    stems: dict[str, str] = {}
    taken: set[str] = set()
    for name in names:
        plain = unicodedata.normalize("NFKD", name.replace("ß", "ss"))
        letters = plain.encode("ascii", "ignore").decode().lower()
        stem = re.sub(r"[^a-z0-9]+", "-", letters).strip("-")[:40].strip("-") or "quarters"
        base, turn = stem, 1
        while stem in taken:
            turn += 1
            stem = f"{base}-{turn}"
        taken.add(stem)
        stems[name] = stem
    return stems
