"""How far a layout is from one that the checks have nothing against.

It asks the same geometry and the same limits as the checks, in numbers alone, for a
search looks at thousands of layouts. What it passes is put before the checks
themselves: they are the judge, and a test holds the two to each other.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations
from math import inf

from mewswright.build import flight, landing, room
from mewswright.build.circle import point_distance, wall_distances_mm
from mewswright.build.overlaps import between_mm, body_of, past_wall_mm
from mewswright.checks import asked
from mewswright.checks.case import Case
from mewswright.checks.finding import TAPE_MM
from mewswright.checks.free_circle import free_circle
from mewswright.checks.loft_flight import FLIGHT_SPANS_LEAST, LANDING_SPANS, stride_of
from mewswright.checks.perches import (
    DROP_MM,
    asks,
    loose_spans_mm,
    post_clear_mm,
    spacing_mm,
)
from mewswright.checks.tether import LOW_BATH_RIM_MM, fitting_distance_mm
from mewswright.checks.tethered import is_open
from mewswright.fit.doorway import DOORWAY, doorways
from mewswright.fit.specs import Specs
from mewswright.model.fitting import AnyFitting, Bath, Hatch, Perch, Shelf
from mewswright.model.quarters import SIDES, Quarters, perch_ends_mm

HAIR_MM = 1.0  # a search must not stop on the edge of a limit, where a tape may differ


@dataclass(frozen=True)
class Layout:
    """Fittings with their places: one perch for each spec, in order.

    `count` is how many perches for loose birds it was laid out for.
    """

    perches: tuple[Perch, ...]
    bath: Bath | None
    hatch: Hatch | None
    count: int = 0
    more_baths: tuple[Bath, ...] = ()

    @property
    def baths(self) -> tuple[Bath, ...]:
        """All baths; more than one where several birds are tethered."""
        return (*((self.bath,) if self.bath else ()), *self.more_baths)

    def fittings(self) -> tuple[Perch | Bath | Hatch, ...]:
        """All of them, perches first."""
        return (*self.perches, *self.baths, *((self.hatch,) if self.hatch else ()))


@dataclass(frozen=True)
class Circle:
    """The free circle of a bird that is tied to one perch [mm]."""

    radius_mm: float
    feet_mm: float


OF_FLIGHT = ("L101", "L102", "P108")


@dataclass(frozen=True)
class Way:
    """A flight past all but posts, and how far each post stands from it [mm]."""

    flight: flight.Flight
    post_mm: float  # the nearest one
    past_mm: Sequence[float]


@dataclass(frozen=True)
class Seen:
    """What a layout misses, by code, and its longest clear flight [mm]."""

    faults: Mapping[str, float]
    longest_mm: float


def _apart_mm(one: room.Rectangle, other: room.Rectangle) -> float:
    """How far two rectangles lie apart along the axes [mm]; what is in them lies no nearer."""
    return max(one[0] - other[2], other[0] - one[2], one[1] - other[3], other[1] - one[3])


def _near(one: room.Rectangle, other: room.Rectangle) -> bool:
    """Whether droppings from one could fall on the other."""
    return _apart_mm(one, other) < DROP_MM + HAIR_MM


class Screen:
    """What the birds of one unit ask of its fittings, ready to be asked often."""

    def __init__(self, case: Case, kept: Quarters, specs: Specs) -> None:
        self.case, self.kept, self.specs = case, kept, specs
        self.spans = loose_spans_mm(case)
        self.half_mm = self.spans[0] / 2 if self.spans else 0.0
        self.spacing_mm = spacing_mm(self.spans) if self.spans else 0.0
        # A bird whose stay names no perch may be tied to any of those for tethered birds.
        own = {spec.template.name for spec in specs.perches if spec.bird}
        own |= {r.stay.perch for r in case.tethered if r.stay.perch}
        self.circles: dict[str, Circle] = {}
        for perch_name in sorted(own):
            tied = [r for r in case.tethered if r.stay.perch in (None, perch_name)]
            found = [free_circle(case.yard, r) for r in tied]
            if found:
                self.circles[perch_name] = Circle(
                    max(f.radius_mm for f in found), max(f.feet_mm for f in found)
                )
        self.asks = {
            perch.name: asks(case, perch)
            for perch in (*kept.perches, *(spec.template for spec in specs.perches))
        }
        self.strides = [stride_of(r) for r in {r.bird.name: r for r in case.loose}.values()]
        self.high_mm = self._strictest("perch_height_mm", named=True)
        self.covered = self._strictest("perch_under_cover_min", named=False)
        self.shelves = [f for f in kept.fitting if isinstance(f, Shelf)]
        own = {perch.name for perch in kept.perches}
        self.fixed = tuple(t for t in flight.things(kept) if t.name not in own)
        posts = {post.name for post in kept.uprights}
        self.unposted = tuple(t for t in self.fixed if t.name not in posts)
        self.doorways = doorways(case.yard, kept)
        self._alone: dict[object, tuple[tuple[str, float], ...]] = {}

    def _strictest(self, topic: str, named: bool) -> float:
        ask = asked.named if named else asked.asked
        rule = asked.strictest(r for bird in self.case.loose for r in ask(self.case, topic, bird))
        return asked.number(rule) if rule else 0.0

    def look(self, layout: Layout, ignored: frozenset[str] = frozenset()) -> Seen:
        """How far a layout misses what is asked.

        A miss counts 1, and 1 more for each tenth of a metre, up to three metres.
        """
        found: dict[str, float] = {}
        perches = (*self.kept.perches, *layout.perches)
        flights: tuple[Way, ...] = ()
        if self.spans and not ignored.issuperset(OF_FLIGHT):
            flights = tuple(self._flights(perches))
        for code, miss_mm in self._misses(layout, perches, flights, ignored):
            if code not in ignored and miss_mm > 0:
                found[code] = found.get(code, 0.0) + 1 + min(miss_mm, 3000.0) / 100
        clear = (
            way.flight.length_mm
            for way in flights
            if way.flight.clear_mm >= self.half_mm and way.post_mm >= self.half_mm
        )
        return Seen(found, max(clear, default=0.0))

    def _flights(self, perches: Sequence[Perch]) -> Iterator[Way]:
        around = (*self.unposted, *(flight.perch_thing(perch) for perch in perches))
        for one, other in combinations(perches, 2):
            past = [post_clear_mm(post, one, other, self.half_mm) for post in self.kept.uprights]
            yield Way(flight.flight(one, other, around), min(past, default=inf), past)

    def around(self, perches: Sequence[Perch]) -> tuple[flight.Thing, ...]:
        """All that stands in the room with these perches."""
        placed = [flight.perch_thing(perch) for perch in perches]
        return (*self.fixed, *placed)

    def _misses(
        self, layout: Layout, perches: Sequence[Perch], flights: Sequence[Way],
        ignored: frozenset[str],
    ) -> Iterator[tuple[str, float]]:  # fmt: skip
        kept = self.kept
        plans = [room.perch_plan(perch) for perch in perches]
        for perch in perches:
            yield from self._of_perch(perch)
        baths = (*kept.baths, *layout.baths)
        hatches = (*kept.hatches, *((layout.hatch,) if layout.hatch else ()))
        if self.doorways and DOORWAY not in ignored:
            yield from self._of_doorways(layout)
        for bath in baths:
            yield from self._of_bath(bath, perches, plans)
        for bath, other_bath in combinations(baths, 2):
            apart = _apart_mm(room.bath_plan(bath), room.bath_plan(other_bath))
            yield "P118", HAIR_MM - apart
        if "P107" not in ignored:
            yield from self._of_ledges(hatches, perches, plans)
        for (one, plan), (other, other_plan) in combinations(zip(perches, plans, strict=True), 2):
            yield from self._of_pair(one, other, _apart_mm(plan, other_plan))
        if self.spans:
            yield from self._of_flights(perches, flights)
            yield from self._of_group(perches, ignored)
        for perch in perches:
            if perch.name in self.circles:
                yield from self._of_circle(perch, perches, baths, hatches)

    def _of_perch(self, perch: Perch) -> Sequence[tuple[str, float]]:
        """P101 to P104: what a perch misses by itself; remembered by its place."""
        key = (perch.name, perch.at_mm, perch.height_mm, perch.turn_deg, perch.length_mm)
        if key not in self._alone:
            if len(self._alone) > 200_000:
                self._alone.clear()
            self._alone[key] = tuple(self._alone_misses(perch))
        return self._alone[key]

    def _alone_misses(self, perch: Perch) -> Iterator[tuple[str, float]]:
        need, q = self.asks[perch.name], self.kept
        if need.tail_mm is not None:
            yield "P101", need.tail_mm - perch.height_mm
            yield "P103", need.tail_mm - room.tail_room_mm(q, perch)[0]
        if need.wing_mm is not None:
            yield "P102", need.wing_mm - room.wing_room_mm(q, perch)[0]
        if need.roof_mm is not None:
            yield "P104", need.roof_mm - room.roof_room_mm(q, perch)
        yield "P118", past_wall_mm(q, perch)

    def _of_bath(
        self, bath: Bath, perches: Sequence[Perch], plans: Sequence[room.Rectangle]
    ) -> Iterator[tuple[str, float]]:
        plan, q = room.bath_plan(bath), self.kept
        yield "P118", past_wall_mm(q, bath)
        for post in q.uprights:  # no check says so: a post may carry something, but not a bath
            gap_mm = fitting_distance_mm(q, post.at_mm, bath) - post.size_mm / 2
            yield "P118", -gap_mm
        for perch, around in zip(perches, plans, strict=True):
            if not _near(plan, around):
                continue
            body = body_of(q, bath)
            if body is not None:
                yield "P118", HAIR_MM - between_mm(flight.perch_thing(perch), body)
            if perch.height_mm - bath.rim_height_mm > TAPE_MM:
                gap = room.rectangle_to_perch_mm(plan, perch)
                yield "P106", DROP_MM + HAIR_MM - max(0.0, gap)

    def _of_doorways(self, layout: Layout) -> Iterator[tuple[str, float]]:
        """No check says so: what is laid out anew stands in no doorway, where one can help it."""
        hatch = layout.hatch
        ledge = room.ledge_plan(self.kept, hatch) if hatch is not None else None
        for door in self.doorways:
            for perch in layout.perches:
                if perch.height_mm < door.top_mm:
                    yield DOORWAY, -_apart_mm(door.floor, room.perch_plan(perch))
            for bath in layout.baths:
                yield DOORWAY, -_apart_mm(door.floor, room.bath_plan(bath))
            if hatch is not None:
                yield DOORWAY, door.in_hatch_mm(hatch)
            if ledge is not None:
                yield DOORWAY, -_apart_mm(door.floor, ledge)

    def _of_ledges(
        self, hatches: Sequence[Hatch], perches: Sequence[Perch], plans: Sequence[room.Rectangle]
    ) -> Iterator[tuple[str, float]]:
        ledges = [
            (hatch.sill_mm, plan)
            for hatch in hatches
            if (plan := room.ledge_plan(self.kept, hatch)) is not None
        ]
        ledges += [(s.height_mm + (s.box_height_mm or 0), room.shelf_plan(s)) for s in self.shelves]
        for top_mm, plan in ledges:
            for perch, around in zip(perches, plans, strict=True):
                if perch.height_mm - top_mm > TAPE_MM and _near(plan, around):
                    gap = room.rectangle_to_perch_mm(plan, perch)
                    yield "P107", DROP_MM + HAIR_MM - max(0.0, gap)

    def _of_pair(self, one: Perch, other: Perch, boxes_mm: float) -> Iterator[tuple[str, float]]:
        """P105, P117 and T103; `boxes_mm` is how far the rectangles round both lie apart."""
        apart_mm = abs(one.height_mm - other.height_mm)
        if boxes_mm < DROP_MM + HAIR_MM:
            if apart_mm > TAPE_MM:
                yield "P105", DROP_MM + HAIR_MM - max(0.0, room.perch_gap_mm(one, other))
            gap_mm = between_mm(flight.perch_thing(one), flight.perch_thing(other))
            yield "P118", HAIR_MM - gap_mm
        if self.spans and apart_mm < self.half_mm and boxes_mm < self.spacing_mm + HAIR_MM:
            level_mm = room.segment_gap_mm(perch_ends_mm(one), perch_ends_mm(other))
            yield "P117", self.spacing_mm + HAIR_MM - level_mm
        if one.name in self.circles and other.name in self.circles:
            limit = self.circles[one.name].radius_mm + self.circles[other.name].radius_mm
            yield "T103", limit + HAIR_MM - point_distance(one.at_mm, other.at_mm)

    def _of_flights(
        self, perches: Sequence[Perch], flights: Sequence[Way]
    ) -> Iterator[tuple[str, float]]:
        """L101, L102 and P108."""
        limit_mm, longest = self.half_mm + HAIR_MM, 0.0
        for way in flights:
            free = way.flight.clear_mm >= limit_mm
            if not free:
                yield "L102", limit_mm - way.flight.clear_mm
            if free and way.post_mm >= limit_mm:
                longest = max(longest, way.flight.length_mm)
            for past_mm in way.past_mm:
                yield "P108", limit_mm - past_mm
        if len(perches) > 1:
            yield "L101", FLIGHT_SPANS_LEAST * 2 * self.half_mm + HAIR_MM - longest

    def _of_group(
        self, perches: Sequence[Perch], ignored: frozenset[str]
    ) -> Iterator[tuple[str, float]]:
        around = self.around(perches)
        for perch in perches if "L104" not in ignored else ():
            found = landing.landing_room_mm(self.kept, perch, around)
            yield "L104", LANDING_SPANS * 2 * self.half_mm + HAIR_MM - found
        heights = [perch.height_mm for perch in perches]
        if len(heights) > 1:
            yield "P110", 2.0 - (max(heights) - min(heights))
        if self.high_mm:
            yield "P111", self.high_mm - max(heights, default=0.0)
        if self.covered:
            dry = sum(room.is_covered(self.kept, perch.at_mm[1]) for perch in perches)
            yield "P112", 100.0 * (self.covered - dry)
        for stride in self.strides if "L103" not in ignored else ():
            got = flight.reached(self.kept, stride, perches)
            for perch in perches:
                if perch.name not in got:
                    yield "L103", 50.0 + perch.height_mm / 10

    def _of_circle(
        self, perch: Perch, perches: Sequence[Perch], baths: Sequence[Bath],
        hatches: Sequence[Hatch],
    ) -> Iterator[tuple[str, float]]:  # fmt: skip
        q, circle = self.kept, self.circles[perch.name]
        away = wall_distances_mm(q.width_mm, q.depth_mm, perch.at_mm)
        for side in SIDES:
            need = circle.feet_mm if is_open(q, side) else circle.radius_mm
            yield "T101", need - away[side]
        rest: list[AnyFitting] = [f for f in q.fitting if not isinstance(f, Perch)]
        rest += [p for p in perches if p is not perch]
        rest += [b for b in baths if b.rim_height_mm > LOW_BATH_RIM_MM and b not in q.baths]
        rest += [h for h in hatches if h not in q.hatches]
        for fitting in rest:
            if isinstance(fitting, Bath) and fitting.rim_height_mm <= LOW_BATH_RIM_MM:
                continue
            if isinstance(fitting, Hatch) and fitting.sill_mm > perch.height_mm + circle.radius_mm:
                continue
            yield "T102", circle.radius_mm - fitting_distance_mm(q, perch.at_mm, fitting)
        if baths:  # one of them within reach of the feet
            edge = min(fitting_distance_mm(q, perch.at_mm, bath) for bath in baths)
            yield "T115", edge + 50.0 - circle.feet_mm
