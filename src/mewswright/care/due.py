"""Which chores are due on a day, for whom, and since when."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from mewswright.handbook.chores import Chore, chores
from mewswright.handbook.places import substrates
from mewswright.handbook.species import species
from mewswright.model.bird import Bird, Stay
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard

FIRM = ("hose", "lift and wash")  # how a floor is cleaned that nobody can sieve

# Day on which a chore was last done: by its name, and the bird, the quarters or "" for the yard.
Done = Mapping[tuple[str, str], date]


@dataclass(frozen=True)
class Due:
    """One chore that is due.

    Args:
        chore: Which.
        quarters: Where.
        bird: For which bird, None for quarters.
        last: When it was last done, None where nothing says so.
        due_on: The day from which it is due.
        overdue_days: Days past that day; 0 on it.
    """

    chore: Chore
    quarters: str
    bird: str | None
    last: date | None
    due_on: date
    overdue_days: int

    @property
    def why(self) -> str:
        """Why it is due."""
        each = "each day" if self.chore.every_days == 1 else f"every {self.chore.every_days} days"
        if self.last is None:
            return each
        late = f", {self.overdue_days} days late" if self.overdue_days > 1 else ""
        late = ", one day late" if self.overdue_days == 1 else late
        return f"{each}; last on {self.last}{late}"


def stays_on(yard: Yard, day: date) -> tuple[Stay, ...]:
    """Stays that hold on a day, day and night."""
    return tuple(
        s
        for s in yard.stay
        if (s.starts_on or date.min) <= day <= (s.ends_on or date.max) and not s.daytime_only
    )


def due_on(
    yard: Yard,
    day: date,
    done: Done,
    stays: Sequence[Stay],
    own_days: Mapping[str, int] | None = None,
) -> list[Due]:
    """Chores due on a day.

    Args:
        yard: The yard.
        day: The day.
        done: When what was last done.
        stays: Who lives where on that day.
        own_days: The keeper's own days by chore, before the handbook's.
    """
    birds = {b.name: b for b in yard.bird}
    homes = {q.name: q for q in yard.quarters}
    residents: dict[str, list[Bird]] = {}
    for stay in stays:
        if stay.bird in birds and stay.quarters in homes:
            residents.setdefault(stay.quarters, []).append(birds[stay.bird])
    found: list[Due] = []
    for chore in chores():
        every = (own_days or {}).get(chore.id, chore.every_days)
        for quarters, bird in _whose(chore, day, homes, residents):
            name = bird or ("" if chore.per == "yard" else quarters)
            last = done.get((chore.id, name))
            when = day if last is None else last + timedelta(days=every)
            if when <= day:
                found.append(Due(chore, quarters, bird, last, when, (day - when).days))
    return found


def _whose(
    chore: Chore, day: date, homes: Mapping[str, Quarters], residents: Mapping[str, list[Bird]]
) -> Iterator[tuple[str, str | None]]:
    if chore.per == "bird":
        for name, birds in residents.items():
            for bird in birds:
                if _bird_has(bird, chore.needs):
                    yield name, bird.name
        return
    for name, birds in residents.items():
        if _quarters_have(homes[name], birds, chore.needs, day):
            yield name, None
            if chore.per == "yard":
                return


def _bird_has(bird: Bird, needs: str) -> bool:
    flown = bird.use == "flown"
    return {"": True, "flown": flown, "not_flown": not flown}[needs]


def _quarters_have(home: Quarters, birds: Sequence[Bird], needs: str, day: date) -> bool:
    if needs in ("bath", "camera", "perch"):
        return any(f.kind == needs for f in home.fitting)
    if needs == "isolation":
        return home.kind == "isolation"
    if needs == "moulting":
        return any(moults(b, day) for b in birds)
    if needs == "loose_floor":
        return any(s.id == home.floor.substrate and s.cleans not in FIRM for s in substrates())
    if needs == "door":
        return home.kind in ("loft", "isolation")
    return needs in ("", "floor")


def moults(bird: Bird, day: date) -> bool:
    """Whether a bird is in moult: by its file, or by the months of its kind."""
    if bird.feather_state == "moulting":
        return True
    kind = species(bird.species)
    first, last = kind.moult_start_month, kind.moult_end_month
    if first is None or last is None:
        return False
    return first <= day.month <= last if first <= last else day.month >= first or day.month <= last
