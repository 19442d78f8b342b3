"""What a check says."""

from typing import Literal

from pydantic import BaseModel, ConfigDict

from mewswright.model.quantity import Quantity

Status = Literal["harm", "short", "mind", "sound"]
STATUSES: tuple[Status, ...] = ("harm", "short", "mind", "sound")  # worst first
# Status is never colour alone: a mark that a colour-blind eye and a printer keep apart.
MARKS: dict[Status, str] = {"harm": "✕", "short": "▼", "mind": "?", "sound": "✓"}

# A tape reads to the millimetre, and a computed length carries a float's hair:
# nothing must fail on a hair that no tape can show.
TAPE_MM = 0.5


class Evidence(BaseModel):
    """Where a limit comes from."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    name: str
    locator: str = ""
    how_known: str


class Finding(BaseModel):
    """What one check says of one thing."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    code: str  # stays the same for good: people quote it
    status: Status
    quarters: str | None = None
    bird: str | None = None
    fitting: str | None = None
    measured: Quantity | None = None
    limit: Quantity | None = None
    why: str = ""
    remedy: str = ""
    sources: tuple[Evidence, ...] = ()

    @property
    def subject(self) -> str:
        """Name what it speaks of, from the place down to the thing."""
        return ", ".join(p for p in (self.quarters, self.bird, self.fitting) if p) or "the yard"

    def __str__(self) -> str:
        """One sentence, the same on screen, on paper and in the terminal."""
        text = f"{self.subject}: {self.status}"
        measured, limit = self._told_apart()
        if measured:
            text += f", {measured}"
        if limit:
            text += f" against {limit}"
            if self.sources:
                text += f" ({self.sources[0].name})"
        if self.why:
            text += f"; {self.why}"
        if self.remedy:
            text += f"; {self.remedy}"
        return text

    def _told_apart(self) -> tuple[str, str]:
        """Measured and limit in words; a miss too small for a rounded figure gets more digits."""
        measured = "" if self.measured is None else str(self.measured)
        limit = "" if self.limit is None else str(self.limit)
        value = self.measured.value if self.measured else None
        same = measured == limit and " " in measured
        if same and self.status in ("harm", "short") and isinstance(value, float):
            _, unit = measured.split(" ", 1)
            measured = f"{value:.6g} {unit}"
        return measured, limit
