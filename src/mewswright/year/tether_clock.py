"""How long on end the standards that bind let a bird be tethered."""

from dataclasses import dataclass

from mewswright.checks.limits import is_in_force
from mewswright.handbook import species
from mewswright.handbook.shelf import Shelf
from mewswright.model.bird import Bird
from mewswright.model.yard import Yard

HOURS = 24.0


@dataclass(frozen=True)
class TetherLimit:
    """The most days on end, and which standard says so."""

    days: float
    why: str


def tether_limit(yard: Yard, bird: Bird, shelf: Shelf) -> TetherLimit | None:
    """The shortest limit of the standards that bind; None where none does.

    A limit that a weekly flight lifts does not hold for a bird that is flown each week.
    """
    found = None
    kind = species(bird.species)
    for key in yard.yard.standards:
        for rule in shelf.rules(key, "tether_hours_max", kind):
            if rule.number is None or not is_in_force(rule):
                continue
            if shelf.rules(key, "tether_weekly_flight_lifts_limit") and bird.flights_per_week:
                continue
            days = rule.number / HOURS
            if found is None or days < found.days:
                found = TetherLimit(days, shelf.standard(key).name)
    return found
