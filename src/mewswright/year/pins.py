"""Stays that a keeper locks or forbids, from the command line or the yard file."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from re import fullmatch

from mewswright.model.problem import Problem
from mewswright.model.yard import Yard
from mewswright.year.flock import here
from mewswright.year.steps import Steps

FORM = (
    'BIRD@QUARTERS[:loose|tethered] [FROM..TO], as in "Moth@Barn loft:loose 2027-03-01..2027-04-30"'
)


@dataclass(frozen=True)
class Pin:
    """A bird in quarters from one day to another: to be kept to, or never to be.

    Args:
        bird: Name of the bird.
        quarters: Name of the quarters.
        mode: Loose or tethered; None = one way or the other.
        first: First day.
        last: Last day.
    """

    bird: str
    quarters: str
    mode: str | None
    first: date
    last: date

    @property
    def key(self) -> str:
        """Its part of the key of a rule."""
        return f"{self.bird}:{self.quarters}:{self.first}"

    @property
    def words(self) -> str:
        """It in words."""
        mode = f", {self.mode}," if self.mode else ""
        return f"{self.bird} in {self.quarters}{mode} from {self.first} to {self.last}"


def read_pin(option: str, text: str, yard: Yard, steps: Steps) -> Pin:
    """Read one stay of `--lock` or `--forbid`.

    Args:
        option: Name of the option, for errors.
        text: What was given.
        yard: The yard.
        steps: The plan, whose days stand in where none are given.

    Raises:
        Problem: If it has another form, or a name or a day that is not there.
    """
    found = fullmatch(
        r"\s*(?P<bird>[^@]+?)\s*@\s*(?P<place>.+?)\s*(:\s*(?P<mode>loose|tethered))?"
        r"(\s+(?P<first>[\d-]+)\s*\.\.\s*(?P<last>[\d-]+))?\s*",
        text,
    )
    if found is None:
        raise Problem(f"{option} is {text!r}: write {FORM}")
    bird, quarters = found["bird"], found["place"]
    yard.bird_named(bird)
    home = yard.quarters_named(quarters)
    if home.kind == "pitch":
        raise Problem(
            f"{option} {text!r}: {quarters!r} is a pitch, where a bird stands by day alone: name "
            "quarters for the night"
        )
    if not home.built:
        raise Problem(
            f"{option} {text!r}: {quarters!r} is not built: leave it out, or say built = true once "
            "it stands"
        )
    first, last = steps.start, steps.last
    if found["first"]:
        first, last = _day(option, text, found["first"]), _day(option, text, found["last"])
    if last < first:
        raise Problem(f"{option} {text!r}: it ends on {last}, before it starts: change one day")
    if last < steps.start or first > steps.last:
        raise Problem(
            f"{option} {text!r}: the plan runs from {steps.start} to {steps.last}: change the days"
        )
    return Pin(bird, quarters, found["mode"], first, last)


def _day(option: str, text: str, day: str) -> date:
    try:
        return date.fromisoformat(day)
    except ValueError:
        raise Problem(f"{option} {text!r}: no day {day!r}: write it as 2027-03-01") from None


def locked_stays(yard: Yard, steps: Steps) -> Iterator[Pin]:
    """Stays of the yard file that are locked and lie in the plan, if only in part."""
    for stay in yard.stay:
        first, last = stay.starts_on or date.min, stay.ends_on or date.max
        if stay.locked and not stay.daytime_only and steps.touched(first, last):
            yield Pin(
                stay.bird, stay.quarters, stay.mode,
                max(first, steps.start), min(last, steps.last),
            )  # fmt: skip


def refuse_odd_locks(yard: Yard, steps: Steps, pins: Iterable[Pin]) -> None:
    """Refuse locks that no plan can keep for want of a bird or of a day to move on.

    Args:
        yard: The yard.
        steps: The plan.
        pins: Stays that are locked.

    Raises:
        Problem: If a bird is not there, or two of its locks meet inside one step.
    """
    taken: dict[tuple[str, int], Pin] = {}
    for pin in sorted(pins, key=lambda one: one.first):
        bird = yard.bird_named(pin.bird)
        there = here(bird, steps)
        touched = [step for step in steps.touched(pin.first, pin.last) if step in there]
        if not touched:
            since = f" from {bird.arrives_on}" if bird.arrives_on else ""
            until = f" to {bird.leaves_on}" if bird.leaves_on else ""
            raise Problem(
                f"{pin.words} is locked, and {pin.bird} is in the yard{since}{until}: change the "
                "days"
            )
        for step in touched:
            other = taken.setdefault((pin.bird, step), pin)
            if other.last < pin.first:
                raise Problem(
                    f"{other.words} and {pin.words} are locked, and both touch the week from "
                    f"{steps.first_of(step)}: plan by days, or let them meet on the first day of "
                    "a week of the plan"
                )
