"""Which quarters suit which birds, loose or tethered: what the checks say of them there, alone.

Each check of quarters is run on the quarters with these birds and no others in them, and once on
the quarters without a bird. What is found only with the birds is theirs; what is found without
them belongs to the building and keeps nobody out.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import Literal

from mewswright.checks.brief import brief_of
from mewswright.checks.case import Case, Resident
from mewswright.checks.finding import Finding
from mewswright.checks.free_circle import tether_perches
from mewswright.checks.registry import Check, catalogue
from mewswright.handbook import species
from mewswright.handbook.shelf import Shelf, shelf_of
from mewswright.model.bird import Bird, Stay
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard
from mewswright.year.tether_clock import tether_limit

Mode = Literal["loose", "tethered"]
RANK = {"sound": 0, "mind": 1, "short": 2, "harm": 3}
# Checks whose answer hangs on the ground and not on who lives there, or on how a bird is jessed,
# flown or counted and not on where: they neither bar quarters nor make them worse.
NOT_OURS = frozenset({
    "A102", "A104", "B102", "B104", "F103", "F110", "G101", "G102", "G105", "G106", "G107",
    "G108", "K106", "K108", "N101", "N102", "R101", "R102", "T106", "T107", "T108", "K115",
})  # fmt: skip
YARD_CHECKS = ("T105",)  # of all stays of a bird; here it has the one alone
SOON = ("F101", "P104", "T101", "T102")  # where harm is found most often: it spares the rest
FITTINGS = ("P", "L", "W", "B")  # first letters of what `fit` can mend
A_DAY = date(2000, 1, 1)


@dataclass(frozen=True)
class Fit:
    """How quarters suit some birds.

    Args:
        harms: What does harm there, or breaks a standard, in words; none where they suit. Where
            several things do, the one found first.
        shorts: What falls short there, in words.
        perch: The perch that a tethered bird is best tied to.
        mendable: What does harm is a perch, a bath or a hatch that can be moved.
        unlawful: A standard that binds or the brief forbids it: no present home excuses that.
    """

    harms: tuple[str, ...] = ()
    shorts: tuple[str, ...] = ()
    perch: str | None = None
    unlawful: bool = False
    mendable: bool = False

    @property
    def suits(self) -> bool:
        """Nothing there does harm."""
        return not self.harms


def serves(quarters: Quarters, mode: Mode) -> bool:
    """Whether quarters are meant for birds kept in a mode, day and night."""
    if quarters.kind == "pitch" or not quarters.built:
        return False
    if mode == "loose":
        return quarters.kind in ("loft", "isolation") or quarters.double_use
    return quarters.kind == "shelter" or quarters.double_use


@dataclass
class Suitability:
    """A yard, ready to be asked; alike birds in alike quarters are looked at once.

    Args:
        yard: The yard.
        step_days: Shortest time that a bird is tied day and night [days].
    """

    yard: Yard
    step_days: int = 7
    shelf: Shelf = field(init=False)
    _checks: tuple[Check, ...] = field(init=False)
    _fits: dict[tuple[object, ...], Fit] = field(default_factory=dict)
    _empty: dict[object, dict[tuple[str, str | None], int]] = field(default_factory=dict)
    _kinds: dict[str, object] = field(default_factory=dict)
    _loose_only: dict[object, str] = field(default_factory=dict)

    def __post_init__(self) -> None:
        """Choose the checks once."""
        self.shelf = shelf_of(self.yard.own_standards, None)
        ours = [c for c in catalogue() if c.of_quarters is not None and c.code not in NOT_OURS]
        self._checks = tuple(sorted(ours, key=_rank))

    def loose_only(self, bird: Bird) -> str:
        """Why a bird may only be kept loose, by practice or a standard that binds; else blank."""
        key = _alike(bird)
        if key not in self._loose_only:
            housing = brief_of(self.yard, bird).housing
            self._loose_only[key] = housing.reason if housing.advice == "loose" else ""
        return self._loose_only[key]

    def fit(self, birds: Sequence[Bird], quarters: Quarters, mode: Mode, isolated: bool) -> Fit:
        """Say how quarters suit some birds that live there together, and nobody else.

        Args:
            birds: The birds.
            quarters: The quarters.
            mode: Loose or tethered; birds that share quarters as one go loose.
            isolated: True while they are kept apart there.
        """
        who = tuple(b.name for b in birds) if birds[1:] else _alike(birds[0])
        key = (who, self._kind(quarters), mode, isolated)
        if key not in self._fits:
            self._fits[key] = self._asked(birds, quarters, mode, isolated)
        return self._fits[key]

    def _kind(self, quarters: Quarters) -> object:
        """What alike quarters share: all but their name and where they stand."""
        if quarters.name not in self._kinds:
            plain = quarters.model_copy(update={"name": "x", "at_m": (0, 0), "note": ""})
            self._kinds[quarters.name] = plain.model_dump_json()
        return self._kinds[quarters.name]

    def _asked(self, birds: Sequence[Bird], q: Quarters, mode: Mode, isolated: bool) -> Fit:
        if mode == "tethered" and len(birds) > 1:
            names = " and ".join(b.name for b in birds)
            return Fit((f"{names} move as one, and no two are tied at one perch",), unlawful=True)
        if mode == "loose":
            return self._judged(birds, q, mode, isolated, None)
        bird = birds[0]
        reason = self.loose_only(bird)
        if reason:
            return Fit((f"{bird.name} is to be kept loose: {reason}",), unlawful=True)
        limit = tether_limit(self.yard, bird, self.shelf)
        if limit is not None and limit.days < self.step_days:
            return Fit(
                (f"{bird.name} may be tethered {limit.days:g} days on end ({limit.why})",),
                unlawful=True,
            )
        tied = Resident(bird, species(bird.species), _stay(bird, q, mode, isolated, None))
        perches = [p.name for p in tether_perches(q, tied)]
        fits = [self._judged(birds, q, mode, isolated, name) for name in perches]
        if not fits:
            return Fit((f"{q.name} has no perch to tie {bird.name} to",))
        return min(fits, key=lambda fit: (len(fit.harms), len(fit.shorts)))

    def _judged(
        self, birds: Sequence[Bird], q: Quarters, mode: Mode, isolated: bool, perch: str | None
    ) -> Fit:
        residents = tuple(
            Resident(b, species(b.species), _stay(b, q, mode, isolated, perch)) for b in birds
        )
        empty = self._of_empty(q)
        # What is wrong with perches that it is not tied to is not its own.
        others = frozenset(p.name for p in q.perches if perch not in (None, p.name))
        shorts = []
        for f in self._findings(q, residents):
            worse = RANK[f.status] > max(RANK["mind"], empty.get((f.code, f.fitting), 0))
            if not worse or (f.code[0] == "P" and f.fitting in others):
                continue
            if f.status == "harm":  # one is enough: the gravest were asked first
                return Fit(
                    (_words(f),), perch=perch, unlawful=_is_law(f.code),
                    mendable=f.code[0] in FITTINGS,
                )  # fmt: skip
            shorts.append(_words(f))
        return Fit(shorts=tuple(shorts), perch=perch)

    def at_stand(self, birds: Sequence[Bird], quarters: Quarters, stand: str) -> Fit:
        """Say how one perch of quarters suits one tethered bird."""
        key = ("at", _alike(birds[0]), len(birds), self._kind(quarters), stand)
        if key not in self._fits:
            plain = self.fit(birds, quarters, "tethered", False)
            if plain.perch is None:
                return plain  # it is not tied at any
            self._fits[key] = self._judged(birds, quarters, "tethered", False, stand)
        return self._fits[key]

    def _of_empty(self, quarters: Quarters) -> dict[tuple[str, str | None], int]:
        key = self._kind(quarters)
        if key not in self._empty:
            worst: dict[tuple[str, str | None], int] = {}
            for f in self._findings(quarters, ()):
                worst[f.code, f.fitting] = max(RANK[f.status], worst.get((f.code, f.fitting), 0))
            self._empty[key] = worst
        return self._empty[key]

    def _findings(self, q: Quarters, residents: tuple[Resident, ...]) -> Iterator[Finding]:
        case = Case(self.yard, q, self.yard.yard.standards, residents, self.shelf)
        if residents:
            yield from _on_the_leash(self.yard, case)
        for check in self._checks:
            assert check.of_quarters is not None
            yield from check.of_quarters(case)


def _on_the_leash(yard: Yard, case: Case) -> Iterable[Finding]:
    """What is asked of the time on a leash, for a stay of one step; a longer one has a clock."""
    tied = tuple(
        Resident(
            r.bird, r.species, r.stay.model_copy(update={"starts_on": A_DAY, "ends_on": A_DAY})
        )
        for r in case.tethered
    )
    short = Case(yard, case.quarters, case.standards, tied, case.shelf)
    for check in catalogue():
        if check.code in YARD_CHECKS and check.of_yard is not None:
            yield from check.of_yard(yard, (short,))


def _rank(check: Check) -> tuple[bool, bool, bool]:
    """What a law asks first, then the building, then what can be moved about in it."""
    return not _is_law(check.code), check.code[0] in FITTINGS, check.code not in SOON


def _is_law(code: str) -> bool:
    """Whether a check asks what standards say of size, of company or of the tether itself."""
    return code[0] == "S" or code in ("K101", "K102", "K104", "K105", "T105", "T120")


def _alike(bird: Bird) -> object:
    """What alike birds share: all that a check of quarters asks of them."""
    return bird.model_copy(
        update={
            "name": "x", "companions": (), "fears": (), "used_to": (), "note": "",
            "arrives_on": None, "leaves_on": None, "year": type(bird.year)(), "hatched_year": None,
        }
    )  # fmt: skip


def _stay(bird: Bird, q: Quarters, mode: Mode, isolated: bool, perch: str | None) -> Stay:
    return Stay(bird=bird.name, quarters=q.name, mode=mode, perch=perch, isolated=isolated)


def _words(finding: Finding) -> str:
    """What is wrong, in few words: the thing, the measure and the limit."""
    thing = f"{finding.fitting}: " if finding.fitting else ""
    against = f" against {finding.limit}" if finding.limit else ""
    measured = f"{finding.measured}{against}" if finding.measured else ""
    return f"{finding.code} {thing}{', '.join(p for p in (measured, finding.why) if p)}"
