"""What is wrong in a file of the keeper's, said so that it can be found and mended."""

from collections.abc import Iterable
from dataclasses import dataclass
from difflib import get_close_matches

from mewswright.model.problem import Problem

MOST_NAMES = 12  # more names than this in one sentence nobody reads
LONGEST = 60  # letters of a value that a sentence can bear


@dataclass(frozen=True)
class Fault:
    """One thing that is wrong.

    Attributes:
        file: Name of the file.
        line: Line of the key, or of the table that lacks it; None where no line is known.
        key: Where it is, in the keeper's words: `bird "Flint".sex`.
        given: What stands there, as TOML writes it; blank where something is missing.
        wrong: What is the matter with it.
        allowed: What may stand there.
        nearest: The right name that comes nearest to the one given.
    """

    file: str
    line: int | None
    key: str
    given: str = ""
    wrong: str = ""
    allowed: str = ""
    nearest: str = ""

    def __str__(self) -> str:
        """One line: place, what was given, what is allowed, the nearest right name."""
        place = f"{self.file}:{self.line}" if self.line else self.file
        said = [f"given {shortened(self.given)}"] if self.given else []
        said += [self.wrong] if self.wrong else []
        said += [f"allowed: {self.allowed}"] if self.allowed else []
        said += [f"did you mean {self.nearest}?"] if self.nearest else []
        return f"{place}: {self.key}: {'; '.join(said)}"


class FileProblem(Problem):
    """A file with faults, all of them."""

    def __init__(self, faults: Iterable[Fault]) -> None:
        """Put the faults in the order of the file."""
        self.faults = tuple(sorted(faults, key=lambda f: (f.line or 0, f.key)))
        super().__init__("\n".join(str(fault) for fault in self.faults))


class YardProblem(FileProblem):
    """A yard file with faults."""


class StandardProblem(FileProblem):
    """A standard's file with faults."""


def nearest_name(given: str, names: Iterable[str]) -> str:
    """Give the name that comes nearest to one that is not there, or blank."""
    by_lower = {name.lower(): _on_one_line(name) for name in names}
    close = get_close_matches(given.lower().replace(" ", "_"), by_lower, n=1, cutoff=0.6)
    close = close or get_close_matches(given.lower(), by_lower, n=1, cutoff=0.5)
    if close:
        return by_lower[close[0]]
    starts = [
        name
        for low, name in by_lower.items()
        if given and (low.startswith(given.lower()) or given.lower().startswith(low))
    ]
    return starts[0] if len(starts) == 1 else ""


def _on_one_line(name: str) -> str:
    """A name as it stands in a sentence: one that breaks the line is written as TOML would."""
    return name if name.isprintable() else repr(name)


def shortened(text: str) -> str:
    """Cut a long value, so that the sentence round it can still be read."""
    return text if len(text) <= LONGEST else f"{text[: LONGEST - 4]} ..."


def listed(names: Iterable[str], most: int = MOST_NAMES) -> str:
    """List names, or the first of them and how many more there are."""
    every = [_on_one_line(name) for name in names]
    if not every:
        return "nothing yet: there is none"
    more = f" and {len(every) - most} more" if len(every) > most else ""
    return ", ".join(every[:most]) + more
