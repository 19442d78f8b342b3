"""How long a search may go on: by a clock that the shell lends, or by counted work.

The core has no clock. A pack must give the same bytes each time, so there the search
stops after a counted amount of work; a command that someone waits for stops by the clock.
One unit of work is about one microsecond on a desk computer of 2024 (judgement: it only
decides when to give up, never what is right).
"""

from __future__ import annotations

from collections.abc import Callable

UNITS_PER_SECOND = 1_000_000.0


class Effort:
    """An allowance of work, of time, or of both."""

    def __init__(
        self,
        units: float | None,
        clock: Callable[[], float] | None = None,
        until: float | None = None,
        parent: Effort | None = None,
    ) -> None:
        """Open an allowance.

        Args:
            units: Work allowed [about 1 us each], or None for no limit.
            clock: Gives the time now [s], or None where only work is counted.
            until: Time of `clock` at which to stop [s].
            parent: Allowance that this one is part of; work is charged to both.
        """
        self.units = units
        self.clock = clock
        self.until = until
        self.parent = parent
        self.spent = 0.0

    def spend(self, units: float) -> None:
        """Charge work that was done [units]."""
        self.spent += units
        if self.parent is not None:
            self.parent.spend(units)

    def used_up(self) -> bool:
        """True once the search must stop."""
        if self.units is not None and self.spent >= self.units:
            return True
        return self.clock is not None and self.until is not None and self.clock() >= self.until

    def seconds_left(self) -> float:
        """Time that a solver may still take [s]; endless where only work is counted."""
        if self.clock is None or self.until is None:
            return float("inf")
        return max(0.0, self.until - self.clock())

    def share(self, fraction: float) -> Effort:
        """A part of what is left, for one section of several.

        Args:
            fraction: Share of the remaining work and time [-], 0 to 1.
        """
        units = None if self.units is None else max(0.0, self.units - self.spent) * fraction
        until = self.until
        if self.clock is not None and self.until is not None:
            now = self.clock()
            until = now + max(0.0, self.until - now) * fraction
        return Effort(units, self.clock, until, self)
