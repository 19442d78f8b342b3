"""What a ration is asked for, and what is refused before anything is worked out."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from mewswright import handbook
from mewswright.care.fed import foods_named
from mewswright.care.log import LogRow
from mewswright.care.log_times import moment
from mewswright.care.notes import ill, well
from mewswright.care.tidy import KIND_HIGH, KIND_LOW, mass_ends_g
from mewswright.handbook.foods import Food
from mewswright.handbook.species import Species
from mewswright.model.problem import Problem

WINDOW_SHARE = 0.015  # either side of a target that is one weight
ILL_DAYS = 14.0  # a note of illness stands so long: a judgement
AIR_C = (-50.0, 55.0)
WIND_M_S = (0.0, 40.0)


@dataclass(frozen=True)
class Asked:
    """A question as it is put; see `mewswright ration --help`."""

    log: str
    species: str
    sex: str
    target_g: str
    at: str
    food: str
    temp_c: float | None = None
    wind_m_s: float = 0.0
    by: str | None = None
    floor_g: float | None = None
    fed_up_g: float | None = None
    ill: bool = False

    @property
    def kind(self) -> Species:
        """The bird's species."""
        return handbook.species(self.species)

    @property
    def foods(self) -> tuple[Food, ...]:
        """Foods of the ration, in equal parts.

        Raises:
            Problem: For none, or one that is unknown.
        """
        found = tuple(dict.fromkeys(food for food, _ in foods_named(self.food)))
        if not found:
            raise Problem("--food names no food; see 'mewswright handbook foods'")
        return found

    @property
    def hour(self) -> tuple[datetime, bool]:
        """The hour that is asked for, and whether it names one."""
        return moment(self.at, "--at")

    def last_hour(self, at: datetime) -> datetime:
        """The end of the plan on the log's clock: `--by` at the hour of `at`, or `at` itself."""
        if self.by is None:
            return at
        by, has_hour = moment(self.by, "--by")
        plain = by.replace(tzinfo=None)
        end = plain if has_hour else plain.replace(hour=at.hour, minute=at.minute)
        if end < at:
            raise Problem(f"--by {self.by} is before --at {self.at}; give a later day")
        return end

    def check(self) -> None:
        """Refuse what cannot be meant.

        Raises:
            Problem: Naming the option and what it may be.
        """
        if self.sex not in ("m", "f"):
            raise Problem(f"--sex is {self.sex!r}; give m or f")
        for name, value, ends in (
            ("--temp-c", self.temp_c, AIR_C), ("--wind-m-s", self.wind_m_s, WIND_M_S),
        ):  # fmt: skip
            if value is not None and not ends[0] <= value <= ends[1]:
                raise Problem(f"{name} is {value:g}; it may be {ends[0]:g} to {ends[1]:g}")
        for name, value in (("--floor-g", self.floor_g), ("--fed-up-g", self.fed_up_g)):
            if value is not None and not 0 < value < 20_000:
                raise Problem(f"{name} is {value:g}; give grams above 0")

    def window_g(self) -> tuple[float, float]:
        """The target as a window [g].

        Raises:
            Problem: If it is no weight that such a bird can have.
        """
        parts = [
            part.strip().lower().removesuffix("g").strip() for part in self.target_g.split(":")
        ]
        try:
            ends = [float(part.replace(",", ".")) for part in parts]
        except ValueError:
            ends = []
        if len(ends) not in (1, 2) or not all(0 < end < 1e5 for end in ends):
            raise Problem(
                f"--target-g is {self.target_g!r}; give grams, such as 905, or a window, such as "
                "890:920"
            )
        low, high = (
            (ends[0] * (1 - WINDOW_SHARE), ends[0] * (1 + WINDOW_SHARE)) if len(ends) == 1 else ends
        )
        if low > high:
            raise Problem(
                f"--target-g is {self.target_g!r}; give the lower end first: {high:g}:{low:g}"
            )
        least, most = mass_ends_g(self.kind, ("m", "f"))
        if not KIND_LOW * least <= (low + high) / 2 <= KIND_HIGH * most:
            kilos = KIND_LOW * least <= (low + high) * 500 <= KIND_HIGH * most
            raise Problem(
                f"--target-g is {self.target_g}, and a {self.kind.common_name} weighs {least:g} to "
                f"{most:g} g: {'was that kilograms? ' if kilos else ''}give grams"
            )
        if low == high:
            low, high = low - 0.5, high + 0.5
        return low, high


def refuse_ill(asked: Asked, rows: tuple[LogRow, ...], at: datetime) -> None:
    """Refuse a bird that is flagged ill, by the question or by a note that nothing has cleared.

    Raises:
        Problem: With the note and what to do.
    """
    if asked.ill:
        raise Problem(
            "the bird is flagged ill: no ration towards a target. Feed it as the vet says, keep "
            "it warm, and "
            "ask again without --ill when it is well"
        )
    last = None
    for row in rows:
        if well(row.note):
            last = None
        elif ill(row.note):
            last = row
    if last is not None and at - last.at <= timedelta(days=ILL_DAYS):
        raise Problem(
            f"row {last.line}: the note {last.note!r} says that the bird is ill or hurt: no "
            "ration towards a "
            "target. Feed it as the vet says; when it is well, note 'recovered' in a later row"
        )
