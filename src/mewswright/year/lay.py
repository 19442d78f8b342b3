"""The abstract year of a yard, with or without some of its rules."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date, timedelta
from typing import TYPE_CHECKING, Literal

from mewswright.checks.isolation import quarantine_limits
from mewswright.model.bird import Bird, Stay
from mewswright.model.problem import Problem
from mewswright.year import charges as costs
from mewswright.year.charges import Charge
from mewswright.year.flock import Group, Member, casts, here, home_before, members
from mewswright.year.instance import Before, Entry, Instance, Place, Sight, Unit
from mewswright.year.laid import Laid, Rule
from mewswright.year.pins import Pin
from mewswright.year.seasons import flying_season, moult_season
from mewswright.year.spots import Spot, spots
from mewswright.year.suits import Fit
from mewswright.year.tether_clock import tether_limit

if TYPE_CHECKING:
    from mewswright.year.problem import YearProblem

Kind = Literal["wish", "fact", "standard"]


def lay(problem: YearProblem, without: frozenset[str]) -> Laid:
    """Make the abstract year.

    Args:
        problem: The yard and the days.
        without: Keys of rules that do not hold.
    """
    return _Layer(problem, without).laid()


class _Layer:
    """One making of the abstract year."""

    def __init__(self, problem: YearProblem, without: frozenset[str]) -> None:
        self.problem, self.without = problem, without
        self.yard, self.steps = problem.yard, problem.calendar
        self.birds = {b.name: b for b in self.yard.bird}
        self.rules: dict[str, Rule] = {}
        self.assumed: dict[str, None] = {}
        self.cautions: dict[str, None] = {}
        self.charges: list[Charge] = []
        self.days = self.isolation_days()

    def keeps(self, key: str, says: str, kind: Kind, price: int | None) -> bool:
        """Enter a rule, and say whether it holds."""
        if key in self.without:
            return False
        self.rules.setdefault(key, Rule(key, says, kind, price))
        return True

    # --- Who is there, and who moves with whom ------------------------------------------

    def isolation_days(self) -> int:
        """Days that a newcomer is kept apart: the most that any standard that binds asks."""
        yard = self.yard
        limits = quarantine_limits(
            yard, yard.yard.standards or ("house",), self.problem.suitability.shelf
        )
        return int(max(days for _, days, _, _ in limits) + 0.999)

    def isolations(self) -> dict[str, range]:
        """Steps of isolation of each newcomer; those of a past arrival run out."""
        found = {}
        kinds = {q.name: q.kind for q in self.yard.quarters}
        for bird in self.yard.bird:
            if bird.arrives_on is None or not here(bird, self.steps):
                continue
            last = bird.arrives_on + timedelta(days=self.days - 1)
            for pin in self.problem.locks:
                if pin.bird == bird.name and kinds[pin.quarters] == "isolation":
                    last = max(last, pin.last) if pin.first <= last else last
            if last < self.steps.start:
                continue
            home = home_before(self.yard, bird, self.steps.start)
            if bird.arrives_on < self.steps.start and not (
                home and (kinds[home.quarters] == "isolation" or home.isolated)
            ):
                self.cautions[
                    f"{bird.name} came on {bird.arrives_on} and is not in isolation as the plan "
                    f"begins: the plan does not make up for it ({self.days} days)."
                ] = None
                continue
            span = self.steps.touched(bird.arrives_on, last)
            span = range(span.start, min(span.stop, here(bird, self.steps).stop))
            if len(span) and self.keeps(
                f"isolation:{bird.name}",
                f"{bird.name} is kept apart for {self.days} days, to {last}",
                "standard", 400,
            ):  # fmt: skip
                found[bird.name] = span
        return found

    def sick_times(self, isolated: dict[str, range]) -> Iterator[tuple[str, range]]:
        """Steps in which a bird is alone in isolation, after its days as a newcomer."""
        kinds = {q.name: q.kind for q in self.yard.quarters}
        spans = [(b.name, s.starts_on, s.ends_on) for b in self.yard.bird for s in b.year.sick]
        spans += [
            (p.bird, p.first, p.last)
            for p in self.problem.locks
            if kinds[p.quarters] == "isolation"
        ]
        for name, first, last in spans:
            span = self.steps.touched(first, last)
            new = isolated.get(name, range(0))
            left = range(max(span.start, new.stop) if new else span.start, span.stop)
            if len(left) and self.keeps(
                f"sick:{name}:{first}", f"{name} is alone in isolation from {first} to {last}",
                "wish", 400,
            ):  # fmt: skip
                yield name, left

    def groups(self) -> Iterator[Group]:
        """Casts first, then what the keeper names."""
        for cast in casts(self.yard, self.steps):
            names = " and ".join(cast.birds)
            if self.keeps(f"cast:{'+'.join(cast.birds)}", f"{names} move as one: {cast.why}",
                          "wish", 90):  # fmt: skip
                yield cast
        named = [("together", g) for g in self.yard.year.together]
        named += [("breeding", g) for g in self.yard.year.breeding]
        for what, group in named:
            span = self.steps.touched(group.starts_on, group.ends_on)
            names = " and ".join(group.birds)
            why = "breeding" if what == "breeding" else "together"
            if len(span) and self.keeps(
                f"{what}:{'+'.join(group.birds)}:{group.starts_on}",
                f"{names} live in one place from {group.starts_on} to {group.ends_on}"
                + (", undisturbed: they breed" if what == "breeding" else ""),
                "wish", 80,
            ):  # fmt: skip
                order = list(self.birds)
                yield Group(tuple(sorted(group.birds, key=order.index)), span, why, True)

    # --- Places ---------------------------------------------------------------------------

    def laid(self) -> Laid:
        """Put it all together."""
        steps = self.steps
        self.isolated = self.isolations()
        sick = tuple(self.sick_times(self.isolated))
        every = members(self.yard, steps, tuple(self.groups()), sick, self.isolated)
        self.members = tuple(m for m in every if self.wanted(m))
        self.spots = spots(self.yard, steps.start, bool(sick))
        self.copied()
        self.stays = self.stays_then()
        self.may = [self.suitable(i, m) for i, m in enumerate(self.members)]
        sights = tuple(self.sights())
        units = tuple(self.unit(i, member) for i, member in enumerate(self.members))
        instance = Instance(
            weeks=steps.count,
            places=tuple(self.place(spot) for spot in self.spots),
            units=units,
            adjacent=self.neighbours() if costs.weight(self.yard.year, "neighbours") else
            frozenset(),
            sights=sights,
            kin=frozenset(
                (i, j)
                for i, one in enumerate(self.members)
                for j, other in enumerate(self.members)
                if i < j and set(one.birds) & set(other.birds)
            ),
            extras=costs.extras(self.yard.year, steps.days, self.sharing(units)),
        )  # fmt: skip
        return Laid(
            instance, self.members, self.spots, tuple(self.charges), tuple(self.rules.values()),
            tuple(self.assumed), tuple(self.cautions),
        )  # fmt: skip

    def stays_then(self) -> dict[str, list[Stay]]:
        """Stays of the file by day and night that touch the plan or its eve, by bird."""
        eve = self.steps.start - timedelta(days=1)
        found: dict[str, list[Stay]] = {}
        for stay in self.yard.stay:
            begins, ends = stay.starts_on or date.min, stay.ends_on or date.max
            if not stay.daytime_only and begins <= self.steps.last and ends >= eve:
                found.setdefault(stay.bird, []).append(stay)
        return found

    def wanted(self, member: Member) -> bool:
        """Whether all of its birds are in the plan, and so need a place."""
        kept = [
            self.keeps(f"bird:{name}", f"{name} lives in the yard and needs a place", "fact", None)
            for name in member.birds
        ]
        return all(kept)

    def copied(self) -> None:
        """Where quarters may hold more than one unit, add a room for each unit."""
        cells = 1 + max((spot.cell for spot in self.spots), default=-1)
        more: list[Spot] = []
        for name in dict.fromkeys(spot.quarters for spot in self.spots):
            if self.keeps(f"quarters:{name}", f"{name} holds one at a time", "fact", None):
                continue
            mine = [spot for spot in self.spots if spot.quarters == name]
            rooms = {cell: i for i, cell in enumerate(sorted({s.cell for s in mine}))}
            for _ in self.members[1:]:
                more += [
                    Spot(s.quarters, s.mode, s.use, s.stand, cells + rooms[s.cell]) for s in mine
                ]
                cells += len(rooms)
        self.spots = (*self.spots, *more)

    def place(self, spot: Spot) -> Place:
        """The place of the instance that a spot is."""
        quarters, steps = self.yard.quarters_named(spot.quarters), self.steps
        year, name = quarters.year, spot.quarters
        closed: set[int] = set()
        for span in year.closed:
            touched = steps.touched(span.starts_on, span.ends_on)
            note = f" ({span.note})" if span.note else ""
            if touched and self.keeps(
                f"closed:{name}:{span.starts_on}",
                f"{name} is closed from {span.starts_on} to {span.ends_on}{note}", "wish", 60,
            ):  # fmt: skip
                closed |= set(touched)
        most = None
        if year.clean_every_weeks is not None and self.keeps(
            f"clean_every:{name}", f"{name} is emptied and cleaned every "
            f"{year.clean_every_weeks} weeks", "wish", 50,
        ):  # fmt: skip
            most = max(1, year.clean_every_weeks * 7 // steps.days)
        rest = 0
        if year.rest_weeks:
            wanted = steps.whole(year.rest_weeks * 7)
            if wanted > steps.count:
                self.cautions[
                    f"{name} is to rest {year.rest_weeks} weeks, longer than the plan: left out."
                ] = None
            elif self.keeps(
                f"rest:{name}", f"{name} lies empty {year.rest_weeks} weeks on end", "wish", 70
            ):
                rest = wanted
        return Place(
            name=str(spot), clean_weeks=self.cleaning(spot), rest_weeks=rest,
            closed=frozenset(closed), cell=spot.cell, tethered=spot.mode == "tethered",
            most_weeks=most,
        )  # fmt: skip

    def cleaning(self, spot: Spot) -> int:
        """Steps that a room stays empty between two units."""
        own = self.yard.quarters_named(spot.quarters).year.clean_days
        days = self.yard.year.clean_days if own is None else own
        if not days or not self.keeps(
            f"clean:{spot.quarters}",
            f"{spot.quarters} stays empty {days} days between two birds, to be cleaned and to dry",
            "standard", 150,
        ):  # fmt: skip
            return 0
        return self.steps.whole(days)

    # --- Units ----------------------------------------------------------------------------

    def unit(self, i: int, member: Member) -> Unit:
        """The unit of the instance that a member is."""
        steps, count = self.steps, self.steps.count
        birds = [self.birds[name] for name in member.birds]
        span = range(member.first, member.after)
        name = " and ".join(member.birds)
        suitable, use = self.may[i], "sick" if member.sick else "home"
        new = self.isolated.get(birds[0].name, range(0))
        entry = None
        if not member.sick and new and new.start <= member.first < new.stop:
            entry = Entry(
                frozenset(p for p, s in enumerate(self.spots)
                          if s.use == "newcomer" and self.suits(birds, s, True).suits),
                min(new.stop, member.after) - member.first,
            )  # fmt: skip
        barred = list(self.pinned(member, suitable, use))
        undisturbed = [*self.calm(member, birds)]
        before = self.before(member, birds)
        barred += self.moults(i, member, birds, suitable, undisturbed)
        shortest = 1
        if self.keeps(f"stay:{name}", self.shortest_words(name, birds), "wish", 15):
            shortest = self.shortest(birds)
        least = max([shortest, *(self.cleaning(self.spots[p]) for p in suitable)])
        self.more_charges(i, member, birds, suitable)
        clock = self.clock(birds)
        weekly, on_top = costs.dearer((c for c in self.charges if c.unit == i), count)
        if before is not None:
            before = Before(
                before.place,
                self.so_far(before, least),
                before.tethered_weeks if clock is None else min(before.tethered_weeks, clock),
            )
        return Unit(
            name=name,
            suitable=frozenset(suitable),
            weekly_cost=tuple(weekly.get(p, 0) for p in range(len(self.spots))),
            arrival=member.first,
            departure=None if member.after >= count else member.after,
            min_stay=least,
            max_stay=max(least, count) + (before.weeks if before else 0),
            move_cost=costs.move_cost(self.yard.year, steps.days),
            entry=entry,
            undisturbed=tuple(dict.fromkeys(undisturbed)),
            dearer=on_top,
            barred=tuple(barred),
            before=before,
            tether_most=clock,
            free_least=self.free_weeks(birds, span, member),
        )

    def suits(self, birds: list[Bird], spot: Spot, isolated: bool) -> Fit:
        """How a spot suits birds."""
        quarters = self.yard.quarters_named(spot.quarters)
        fit = self.problem.suitability.fit(birds, quarters, spot.mode, isolated)
        if spot.stand is not None and fit.perch != spot.stand:
            return self.problem.suitability.at_stand(birds, quarters, spot.stand)
        return fit

    def suitable(self, i: int, member: Member) -> set[int]:
        """Places in which a unit may live, with what falls short there entered as its cost."""
        birds = [self.birds[name] for name in member.birds]
        use: Literal["home", "sick"] = "sick" if member.sick else "home"
        wanted = [p for p, spot in enumerate(self.spots) if spot.use == use]
        who = " and ".join(member.birds)
        fits = {p: self.suits(birds, self.spots[p], member.sick) for p in wanted}
        found = {p for p in wanted if fits[p].suits}
        home = self.home_spot(member, birds)
        if home in fits and home not in found and not fits[home].unlawful:
            found.add(home)
            self.charges.append(Charge("harm", i, range(self.steps.count), {home: costs.HARM}))
            self.cautions[
                f"{who} may stay in {self.spots[home].quarters} only for want of a better place: "
                f"{fits[home].harms[0]}."
            ] = None
        names = ", ".join(dict.fromkeys(str(self.spots[p]) for p in sorted(found)))
        if not found:
            found_not = "; ".join(
                dict.fromkeys(f"{self.spots[p].quarters}, {self.spots[p].mode}: {fits[p].harms[0]}"
                              for p in wanted if fits[p].harms)
            )  # fmt: skip
            names = f"nothing that stands ({found_not})" if found_not else "nothing that stands"
        if not self.keeps(f"suits:{who}{':sick' if member.sick else ''}",
                          f"what suits {who} is {names}", "standard", None):  # fmt: skip
            found = set(wanted)
        shorts = {
            p: costs.SHORT * min(costs.MOST_SHORTS, len(fits[p].shorts))
            for p in found
            if fits[p].shorts
        }
        if shorts:
            self.charges.append(Charge("falls_short", i, range(self.steps.count), shorts))
        for bird in birds if use == "home" else ():
            for name in bird.year.never_in:
                if self.keeps(f"never:{bird.name}:{name}", f"{bird.name} never lives in {name}",
                              "wish", 30):  # fmt: skip
                    found -= {p for p in found if self.spots[p].quarters == name}
        return found

    def home_spot(self, member: Member, birds: Iterable[Bird]) -> int | None:
        """Where all of a unit's birds live as the plan begins."""
        homes = [home_before(self.yard, b, self.steps.start) for b in birds]
        if None in homes or len({(h.quarters, h.mode) for h in homes if h}) != 1:
            return None
        home = homes[0]
        assert home is not None
        new = member.birds[0] in self.isolated and self.isolated[member.birds[0]].start == 0
        uses = (
            ("sick", "home")
            if member.sick
            else ("newcomer", "home")
            if new
            else ("home", "newcomer")
        )
        for use in uses:
            for p, spot in enumerate(self.spots):
                there = spot.quarters == home.quarters and spot.mode == home.mode
                if there and spot.use == use and spot.stand in (None, home.perch):
                    return p
        return None

    def before(self, member: Member, birds: list[Bird]) -> Before | None:
        """Where a unit was before the plan; of several in one room the first of the file."""
        if member.first:
            return None
        place = self.home_spot(member, birds)
        if place is None:
            return None
        cell = self.spots[place].cell
        for other in self.members:
            if other is member:
                break
            if other.first == 0 and (at := self.home_spot(
                other, [self.birds[n] for n in other.birds]
            )) is not None and self.spots[at].cell == cell:  # fmt: skip
                self.cautions[
                    f"{' and '.join(member.birds)} and {' and '.join(other.birds)} share "
                    f"{self.spots[place].quarters} today and are not named as companions: the "
                    "plan parts them."
                ] = None
                return None
        return Before(place, self.weeks_in(birds[0]), self.tied_weeks(birds[0]))

    def weeks_in(self, bird: Bird) -> int:
        """Whole steps that a bird has lived where it lives; many, where nobody says since when."""
        home = home_before(self.yard, bird, self.steps.start)
        if home is None or home.starts_on is None:
            return 10_000
        return max(1, (self.steps.start - home.starts_on).days // self.steps.days)

    def so_far(self, before: Before, least: int) -> int:
        """Steps of the stay so far, no more of them than matter."""
        most = self.place(self.spots[before.place]).most_weeks
        if most is None:
            return min(before.weeks, least)
        if before.weeks >= 10_000:
            self.assumed[
                f"{self.spots[before.place].quarters}: nobody says when it was last cleaned; "
                "it is taken as cleaned just before the plan."
            ] = None
            return min(least, most)
        return min(before.weeks, most)

    def tied_weeks(self, bird: Bird) -> int:
        """Steps on end that a bird has been tied as the plan begins, as far as the file tells."""
        home = home_before(self.yard, bird, self.steps.start)
        if home is None or home.mode != "tethered" or home.starts_on is None:
            return 0
        return max(0, (self.steps.start - home.starts_on).days // self.steps.days)

    def shortest(self, birds: Iterable[Bird]) -> int:
        """Shortest stay [steps]."""
        own = [b.year.shortest_stay_weeks for b in birds]
        weeks = max((w for w in own if w is not None), default=self.yard.year.shortest_stay_weeks)
        return self.steps.whole(weeks * 7)

    def shortest_words(self, name: str, birds: list[Bird]) -> str:
        """The shortest stay in words."""
        days = self.shortest(birds) * self.steps.days
        return f"{name} stays {days} days in one place at the least"

    def pinned(
        self, member: Member, suitable: set[int], use: str
    ) -> Iterator[tuple[int, int, frozenset[int]]]:
        """Steps in which places are barred by what the keeper locks or forbids."""
        every = frozenset(range(len(self.spots)))
        kinds = {q.name: q.kind for q in self.yard.quarters}
        for pin, locks in [(p, True) for p in self.problem.locks] + [
            (p, False) for p in self.problem.forbids
        ]:
            if pin.bird not in member.birds:
                continue
            there = self.there(pin)
            if not there:
                raise Problem(self.no_spot(pin))
            touched = self.steps.touched(pin.first, pin.last)
            first, last = max(touched.start, member.first), min(touched.stop, member.after) - 1
            if first > last:
                continue
            what = "lock" if locks else "forbid"
            says = f"{pin.words} is {'locked' if locks else 'forbidden'}"
            if not self.keeps(f"{what}:{pin.key}", says, "wish", 20):
                continue
            if locks and use == "home" and kinds[pin.quarters] != "isolation":
                homes = {p for p in there if self.spots[p].use == "home"}
                if not homes & suitable:  # the keeper's word goes before the checks'
                    suitable |= homes
                    self.cautions[
                        f"{pin.words} is locked, and the checks say that it does not suit: see "
                        "mewswright check."
                    ] = None
                    for a, b in ((member.first, first - 1), (last + 1, member.after - 1)):
                        if a <= b:
                            yield a, b, frozenset(homes)
            yield first, last, every - there if locks else there

    def there(self, pin: Pin) -> frozenset[int]:
        """Places that a pin speaks of."""
        return frozenset(
            p
            for p, spot in enumerate(self.spots)
            if spot.quarters == pin.quarters and pin.mode in (None, spot.mode)
        )

    def no_spot(self, pin: Pin) -> str:
        """Why a pin speaks of no place."""
        quarters = self.yard.quarters_named(pin.quarters)
        if quarters.kind == "pitch" or not quarters.built:
            why = "a pitch, for the day alone" if quarters.kind == "pitch" else "not built"
            return f"{pin.words}: {pin.quarters} is {why}: name quarters for the night"
        ways = sorted({s.mode for s in self.spots if s.quarters == pin.quarters})
        return (
            f"{pin.words}: {pin.quarters} serves birds that are {' or '.join(ways)}: change the "
            "way, or say double_use = true"
        )

    def calm(self, member: Member, birds: list[Bird]) -> Iterator[tuple[int, int]]:
        """Times in which a unit is not moved, beside its moult."""
        steps = self.steps
        for group in self.yard.year.breeding:
            key = f"breeding:{'+'.join(group.birds)}:{group.starts_on}"
            if set(group.birds) <= set(member.birds) and key in self.rules:
                yield self.between(group.starts_on, group.ends_on)
        for bird in birds:
            first, last = bird.year.moves_from, bird.year.moves_until
            if first is None and last is None:
                continue
            words = " nor ".join(
                w
                for w in (f"before {first}" if first else "", f"after {last}" if last else "")
                if w
            )
            if not self.keeps(
                f"moves:{bird.name}", f"{bird.name} is not moved {words}", "wish", 25
            ):
                continue
            if first is not None and first > steps.start:
                yield -1, min(steps.count, steps.of(first - timedelta(days=1)) + 1) - 1
            if last is not None and last < steps.last:
                yield max(-1, steps.of(last)), steps.count - 1

    def between(self, first: date, last: date) -> tuple[int, int]:
        """A span in which nobody is moved, as steps; one that began before holds at once."""
        return max(-1, self.steps.of(first)), min(self.steps.count - 1, self.steps.of(last))

    def moults(
        self,
        i: int,
        member: Member,
        birds: list[Bird],
        suitable: set[int],
        undisturbed: list[tuple[int, int]],
    ) -> Iterator[tuple[int, int, frozenset[int]]]:
        """Barred tethers in a moult that must be heeded; a wish is a cost."""
        if member.sick:
            return
        tied = frozenset(
            p for p, s in enumerate(self.spots) if s.mode == "tethered" and s.use == "home"
        )
        for bird in birds:
            wants = bird.year.moult or ("wish" if bird.use == "flown" else "none")
            if wants == "none":
                continue
            for first, last in moult_season(self.yard, bird, self.steps, self.assumed):
                touched = self.steps.touched(first, last)
                begin, end = max(touched.start, member.first), min(touched.stop, member.after)
                if begin >= end:
                    continue
                asks = bird.year.moult_asks
                if wants == "wish":
                    if tied & suitable and asks != "undisturbed":
                        self.charges.append(
                            Charge(
                                "moult",
                                i,
                                range(begin, end),
                                dict.fromkeys(tied & suitable, costs.MOULT),
                            )
                        )
                    continue
                how = {"loose": "loose", "undisturbed": "undisturbed",
                       "both": "loose and undisturbed"}[asks]  # fmt: skip
                if not self.keeps(f"moult:{bird.name}",
                                  f"{bird.name} is {how} in its moult, {first} to {last}",
                                  "wish", 60):  # fmt: skip
                    continue
                if asks != "undisturbed" and tied:
                    yield begin, end - 1, tied
                if asks != "loose":
                    undisturbed.append(self.between(first, last))

    def clock(self, birds: list[Bird]) -> int | None:
        """Most steps on end on a tether."""
        found = None
        for bird in birds:
            weeks = bird.year.tether_most_weeks or self.yard.year.tether_most_weeks
            law = tether_limit(self.yard, bird, self.problem.suitability.shelf)
            limits = [w * 7 // self.steps.days for w in (weeks,) if w is not None]
            limits += [int(law.days // self.steps.days)] if law else []
            if not limits:
                continue
            most = max(1, min(limits))
            says = f"{bird.name} is tethered {most * self.steps.days} days on end at the most"
            if law and law.days // self.steps.days <= most:
                says += f" ({law.why})"
            if self.keeps(f"tether:{bird.name}", says, "standard" if law else "wish", 100):
                found = most if found is None else min(found, most)
        return found

    def free_weeks(self, birds: list[Bird], span: range, member: Member) -> int:
        """Fewest steps loose, in proportion to a year."""
        found = 0
        for bird in birds:
            own = bird.year.free_least_weeks
            weeks = self.yard.year.free_least_weeks if own is None else own
            steps = int(weeks / 52 * len(span))
            if weeks and not member.sick and self.keeps(
                f"free:{bird.name}", f"{bird.name} is loose {weeks} weeks of a year at the least",
                "wish", 90,
            ):  # fmt: skip
                found = max(found, min(steps, len(span)))
        return found

    # --- What it costs --------------------------------------------------------------------

    def more_charges(self, i: int, member: Member, birds: list[Bird], suitable: set[int]) -> None:
        """Enter what the keeper's aims cost one unit, step by step."""
        if member.sick:
            return
        wishes = self.yard.year
        wished = [set(b.year.wished) for b in birds if b.year.wished]
        weight = costs.NOT_WISHED * costs.weight(wishes, "wished")
        if wished and weight:
            out = {
                p: weight * sum(self.spots[p].quarters not in names for names in wished)
                for p in suitable
            }
            self.charges.append(
                Charge("wished", i, range(self.steps.count), {p: c for p, c in out.items() if c})
            )
        weight = costs.weight(wishes, "round")
        if weight and any(b.use == "flown" for b in birds):
            walk = {p: c for p in suitable if (c := int(weight * self.walk(p)))}
            for first, last in flying_season(self.yard, self.steps):
                if walk:
                    self.charges.append(Charge("round", i, self.steps.touched(first, last), walk))

    def walk(self, place: int) -> int:
        """How much farther from the scale than the nearest quarters, in tens of metres."""
        away = self.problem.walks
        return (
            int((away[self.spots[place].quarters] - min(away.values())) / costs.WALK_M)
            if away
            else 0
        )

    def sharing(self, units: tuple[Unit, ...]) -> Iterator[int]:
        """Units that share the free time: all of the plan there, and kept in either way."""
        for i, unit in enumerate(units):
            modes = {self.spots[p].mode for p in unit.suitable}
            if len(modes) == 2 and unit.arrival == 0 and unit.departure is None:
                yield i

    # --- Who sees whom ----------------------------------------------------------------------

    def neighbours(self) -> frozenset[tuple[int, int]]:
        """Pairs of places whose quarters stand next to each other."""
        near = self.problem.neighbours
        return frozenset(
            (p, q)
            for p, one in enumerate(self.spots)
            for q, other in enumerate(self.spots)
            if p < q and (one.quarters, other.quarters) in near
        )

    def sights(self) -> Iterator[Sight]:
        """Rules of sight, by classes: who fears the same birds shares a rule."""
        seen = self.problem.seen(self.spots)
        last = self.steps.count - 1
        classes: dict[tuple[frozenset[int], frozenset[tuple[int, int]]], set[int]] = {}
        for i in range(len(self.members)) if seen else ():
            feared: dict[frozenset[tuple[int, int]], set[int]] = {}
            for j in range(len(self.members)):
                if self.is_afraid(i, j):
                    feared.setdefault(self.as_it_is(i, j, seen), set()).add(j)
            for as_it_is, dreaded in feared.items():
                classes.setdefault((frozenset(dreaded), as_it_is), set()).add(i)
        for (dreaded_by, as_it_is), afraid in classes.items():
            yield Sight(frozenset(afraid), dreaded_by, seen - as_it_is, 0, last)
        if self.yard.year.feeding_in_sight == "never" and self.members:
            fed = self.problem.fed(self.spots)
            if fed and self.keeps(
                "feeding", "no bird lives where it sees another being fed", "wish", 20
            ):
                every = frozenset(range(len(self.members)))
                yield Sight(every, every, fed, 0, last)

    def is_afraid(self, i: int, j: int) -> bool:
        """Whether some bird of one unit must not see some bird of another, there at one time."""
        one, other = self.members[i], self.members[j]
        if i == j or set(one.birds) & set(other.birds):
            return False
        if min(one.after, other.after) <= max(one.first, other.first):
            return False
        found = [
            self.keeps(f"sight:{a}:{b}", f"{a} must not see {b}: {why}", "standard", 200)
            for a in one.birds
            for b in other.birds
            if b not in self.birds[a].year.may_see and (why := self.problem.fear(a, b)) is not None
        ]
        return any(found)

    def as_it_is(
        self, i: int, j: int, seen: frozenset[tuple[int, int]]
    ) -> frozenset[tuple[int, int]]:
        """Pairs of places in which the yard file itself has a bird in sight of one that it fears.

        No plan can mend on its first day what stands so today. Where the file puts both, they may
        be, at a price that makes the plan mend it as soon as anything else can be.
        """
        one, other = self.members[i], self.members[j]
        found = frozenset(
            (p, q)
            for a in one.birds
            for b in other.birds
            for s in self.stays.get(a, ())
            for t in self.stays.get(b, ())
            if s.overlaps(t)
            for p in self.spots_of(s)
            for q in self.spots_of(t)
            if (p, q) in seen
        )
        for p, q in found:
            self.dearly(i, j, p, q)
        return found

    def dearly(self, i: int, j: int, p: int, q: int) -> None:
        """Let the one that can move away pay for what is in sight as the file has it."""
        one, other = self.members[i], self.members[j]
        stuck = len({self.spots[k].cell for k in self.may[i]}) < 2
        payer, place = (j, q) if stuck and len(self.may[j]) > 1 else (i, p)
        span = range(self.members[payer].first, self.members[payer].after)
        charge = Charge("in_sight", payer, span, {place: costs.IN_SIGHT})
        if charge not in self.charges:
            self.charges.append(charge)
        self.cautions[
            f"{' and '.join(one.birds)} in {self.spots[p].quarters} sees "
            f"{' and '.join(other.birds)} in {self.spots[q].quarters}, which it fears: the yard "
            "file has it so, and the plan keeps it only where nothing else can be."
        ] = None

    def spots_of(self, stay: Stay) -> Iterator[int]:
        """Places that a stay of the file may mean."""
        for p, spot in enumerate(self.spots):
            there = spot.quarters == stay.quarters and spot.mode == stay.mode
            if there and spot.stand in (None, stay.perch):
                yield p
