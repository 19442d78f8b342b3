"""Finding places: a walk through layouts that heeds what is asked first, then the wishes.

The walk is simulated annealing from several starts, seeded, bounded by a count of steps;
a clock may stop it earlier. It holds nothing that the screen and the score do not say.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from math import exp, hypot

import numpy as np

from mewswright.build import room
from mewswright.build.clear_height import clear_height_mm
from mewswright.checks.finding import Finding
from mewswright.fit.score import Scorer, total
from mewswright.fit.screen import Layout, Screen
from mewswright.fit.specs import ON_THE_FLOOR, PerchSpec, Specs
from mewswright.model.fitting import Bath, Hatch, Perch, Side
from mewswright.model.quarters import Quarters

Clock = Callable[[], float]
Judging = Callable[[Layout], Sequence[Finding]]
TURNS = (0.0, 90.0)
FAULT_WEIGHT = 25.0  # a fault outweighs a quarter of all the wishes
HOT, COLD = 12.0, 0.15
LOW_MM = 60.0
STANDING_MOST_MM = 1200.0  # a block that stands higher than this wants to be hung: a judgement
GRID_MM = 10.0  # places that a carpenter can mark


@dataclass(frozen=True)
class Found:
    """A layout, what it still misses, and its score."""

    layout: Layout
    fault: float
    score: float

    @property
    def worth(self) -> float:
        """Larger is better."""
        return self.score - FAULT_WEIGHT * self.fault


@dataclass(frozen=True)
class Budget:
    """How long a walk may go on: steps in all, starts, and a clock's limit [s]."""

    steps: int
    starts: int
    clock: Clock | None = None
    until_s: float = 0.0

    def is_over(self) -> bool:
        """The clock has run out; without a clock, never."""
        return self.clock is not None and self.clock() >= self.until_s


class Search:
    """A search for the layouts of one unit."""

    def __init__(
        self, screen: Screen, scorer: Scorer, specs: Specs, seed: int,
        ignored: frozenset[str] = frozenset(), judge: Judging | None = None,
    ) -> None:  # fmt: skip
        self.screen, self.scorer, self.specs, self.ignored = screen, scorer, specs, ignored
        self.judge = judge
        self.rng = np.random.default_rng(seed)
        self.q = screen.kept
        self.tried = 0

    def run(
        self, budget: Budget, enough: bool = False, begin: Sequence[Layout] = ()
    ) -> list[Found]:
        """Walk, and give every layout worth keeping, the best first.

        Args:
            budget: How long.
            enough: Stop at the first layout without a fault.
            begin: Layouts to start from, before starts of its own.
        """
        pool: list[Found] = []
        per_start = max(1, budget.steps // budget.starts)
        for start in range(budget.starts):
            first = begin[start] if start < len(begin) else self._start(start)
            for found in self._walk(first, per_start, budget):
                pool.append(found)
                if enough and found.fault == 0:
                    return [found]
            if budget.is_over():
                break
        pool.sort(key=lambda found: -found.worth)
        return pool

    def look(self, layout: Layout) -> Found:
        """Screen and score one layout."""
        self.tried += 1
        seen = self.screen.look(layout, self.ignored)
        fault = sum(seen.faults.values())
        if fault:  # the wishes wait until nothing is missed
            return Found(layout, fault, 0.0)
        score = total(self.scorer.parts(layout, seen.longest_mm))
        if self.judge is not None:
            fault = sum(_weight(f) for f in self.judge(layout) if f.code not in self.ignored)
        return Found(layout, fault, score)

    def _walk(self, start: Layout, steps: int, budget: Budget) -> Iterator[Found]:
        here = self.look(start)
        best = here
        cooling = (COLD / HOT) ** (1 / max(1, steps - 1))
        heat = HOT
        for step in range(steps):
            there = self.look(self._moved(here.layout, heat))
            gain = there.worth - here.worth
            if gain >= 0 or self.rng.random() < exp(max(-60.0, gain / heat)):
                here = there
                if here.worth > best.worth:
                    best = here
                    if best.fault == 0:
                        yield best
            heat *= cooling
            if step % 16 == 0 and budget.is_over():
                break
            if step % 128 == 127 and here.worth < best.worth - 5:
                here = best
        yield best

    # --- where to begin -----------------------------------------------------------

    def _start(self, number: int) -> Layout:
        """High at the back, front at the open side, low aside; mirrored at every other start."""
        mirrored = bool(number % 2)
        perches = tuple(
            self._at(spec, i, mirrored, loose=number > 1)
            for i, spec in enumerate(self.specs.perches)
        )
        wanted = (*((self.specs.bath,) if self.specs.bath else ()), *self.specs.more_baths)
        spots = [p.at_mm for p in perches if p.name in self.screen.circles]
        baths = tuple(
            self._bath_at(bath, self._beside(bath, spots[i]) if i < len(spots) else
                          self._anywhere(300.0))
            for i, bath in enumerate(wanted)
        )  # fmt: skip
        first, rest = (baths[0], baths[1:]) if self.specs.bath else (None, baths)
        return Layout(perches, first, self._any_hatch(), self.specs.count, rest)

    def _beside(self, bath: Bath, spot: tuple[float, float]) -> tuple[float, float]:
        """Behind a perch for a tethered bird, or before it, where its leash reaches."""
        away = bath.size_mm[1] / 2 + 300.0
        return spot[0], spot[1] + (away if self.rng.random() < 0.5 else -away)

    def _at(self, spec: PerchSpec, i: int, mirrored: bool, loose: bool) -> Perch:
        q, turn = self.q, 0.0
        if spec.role == "tether":
            spot = (q.width_mm * (i + 1) / (len(self.specs.perches) + 1), q.depth_mm / 2)
            return self._put(spec.template, spot, 0.0, 0.0)
        if loose or spec.role == "more":
            turn = float(self.rng.choice(TURNS))
            low, high = self._box(spec.template, turn)
            spot = tuple(self.rng.uniform(low, high))
            return self._put(spec.template, (spot[0], spot[1]), float(self.rng.uniform(0, 1)), turn)
        low, high = self._box(spec.template, turn)
        x = {"high": low[0], "front": high[0], "low": (low[0] + high[0]) / 2}[spec.role]
        y = {"high": high[1], "front": low[1], "low": (low[1] + high[1]) / 2}[spec.role]
        share = {"high": 1.0, "front": 0.5, "low": 0.0}[spec.role]
        return self._put(spec.template, (q.width_mm - x if mirrored else x, y), share, turn)

    def _box(self, perch: Perch, turn: float) -> tuple[tuple[float, float], tuple[float, float]]:
        """Where the middle of a perch may lie by its own needs alone [mm]."""
        need, q = self.screen.asks[perch.name], self.q
        wing = 0.0 if "P102" in self.ignored else need.wing_mm or 0.0
        tail = 0.0 if "P103" in self.ignored else need.tail_mm or 0.0
        along = (wing, tail) if turn == 0 else (tail, wing)
        if room.faces_any_way(perch):
            along = (max(wing, tail), max(wing, tail))
        half = (perch.length_mm or 0) / 2
        reach = (half, 0.0) if turn == 0 else (0.0, half)
        edges = []
        sides: tuple[tuple[Side, Side, float], ...] = (
            ("left", "right", q.width_mm), ("front", "back", q.depth_mm),
        )  # fmt: skip
        for axis, (low_side, high_side, size) in enumerate(sides):
            low = along[axis] if room.is_wall(q, low_side) else reach[axis]
            high = size - (along[axis] if room.is_wall(q, high_side) else reach[axis])
            edges.append((low, high) if low <= high else (size / 2, size / 2))
        return (edges[0][0], edges[1][0]), (edges[0][1], edges[1][1])

    def _heights(self, perch: Perch, y_mm: float) -> tuple[float, float]:
        """Lowest and highest top of a perch there by its own needs [mm]."""
        need = self.screen.asks[perch.name]
        low = 50.0 if "P101" in self.ignored else max(need.tail_mm or 0.0, 50.0)
        if perch.name in self.screen.circles:  # a bird on a leash stands low: it bates from there
            return low, low + LOW_MM
        if self.q.front_height_mm is None:
            return low, low
        roof = 50.0 if "P104" in self.ignored else need.roof_mm or 0.0
        high = clear_height_mm(self.q, y_mm) - roof
        if perch.form in ON_THE_FLOOR:
            high = min(high, max(low, STANDING_MOST_MM))
        return (low, high) if low <= high else (low, low)

    def _put(self, perch: Perch, spot: tuple[float, float], share: float, turn: float) -> Perch:
        """A perch at a place, at a share of the height that it may have there."""
        low, high = self._heights(perch, min(max(spot[1], 0.0), self.q.depth_mm))
        return self._set(perch, *spot, low + share * (high - low), turn)

    def _set(self, perch: Perch, x: float, y: float, z: float, turn: float) -> Perch:
        turn = 0.0 if perch.length_mm is None else turn
        start, end = self._box(perch, turn)
        x, y = _on_grid(x, start[0], end[0]), _on_grid(y, start[1], end[1])
        z = _on_grid(z, *self._heights(perch, y))
        return perch.model_copy(update={"at_mm": (x, y), "height_mm": z, "turn_deg": turn})

    def _anywhere(self, edge_mm: float) -> tuple[float, float]:
        q = self.q
        return (
            float(
                self.rng.uniform(
                    min(edge_mm, q.width_mm / 2), max(q.width_mm - edge_mm, q.width_mm / 2)
                )
            ),
            float(
                self.rng.uniform(
                    min(edge_mm, q.depth_mm / 2), max(q.depth_mm - edge_mm, q.depth_mm / 2)
                )
            ),
        )

    def _bath_at(self, bath: Bath, spot: tuple[float, float]) -> Bath:
        half_x, half_y = bath.size_mm[0] / 2, bath.size_mm[1] / 2
        q = self.q
        x = min(max(spot[0], half_x), max(q.width_mm - half_x, half_x))
        y = min(max(spot[1], half_y), max(q.depth_mm - half_y, half_y))
        inside = (min(_near(x), q.width_mm), min(_near(y), q.depth_mm))
        return bath.model_copy(update={"at_mm": inside})

    def _any_hatch(self) -> Hatch | None:
        hatch = self.specs.hatch
        if hatch is None:
            return None
        face = self.specs.hatch_faces[0]
        if len(self.specs.hatch_faces) > 1 and self.rng.random() < 0.3:
            face = self.specs.hatch_faces[int(self.rng.integers(len(self.specs.hatch_faces)))]
        return self._hatch_at(hatch.model_copy(update={"face": face}), float(self.rng.random()))

    def _hatch_at(self, hatch: Hatch, share: float) -> Hatch:
        run = self.q.width_mm if hatch.face in ("front", "back") else self.q.depth_mm
        half = hatch.width_mm / 2 + 50
        at = half + share * (run - 2 * half) if run > 2 * half else run / 2
        return hatch.model_copy(update={"at_mm": min(max(_near(at), 0.0), run)})

    # --- where to go next ---------------------------------------------------------

    def _moved(self, layout: Layout, heat: float) -> Layout:
        """One fitting moved: far while it is hot, near when it is cold."""
        movable = len(layout.perches)
        parts = list(range(movable)) * 2
        parts += [movable] if self.specs.bath else []
        parts += [movable + 1] if self.specs.hatch else []
        parts += [movable + 2 + i for i in range(len(layout.more_baths))]
        if not parts:
            return layout
        which = parts[int(self.rng.integers(len(parts)))]
        if which == movable and layout.bath is not None:
            return replace(layout, bath=self._bath_moved(layout.bath, heat))
        if which == movable + 1 and layout.hatch is not None:
            return replace(layout, hatch=self._hatch_moved(layout.hatch))
        if which >= movable + 2:
            i = which - movable - 2
            moved = self._bath_moved(layout.more_baths[i], heat)
            baths = (*layout.more_baths[:i], moved, *layout.more_baths[i + 1 :])
            return replace(layout, more_baths=baths)
        perch = self._perch_moved(self.specs.perches[which], layout.perches[which], heat)
        perches = (*layout.perches[:which], perch, *layout.perches[which + 1 :])
        return replace(layout, perches=perches)

    def _stride(self, heat: float) -> float:
        far = hypot(self.q.width_mm, self.q.depth_mm)
        return max(30.0, 0.35 * far * float((heat / HOT) ** 0.5))

    def _perch_moved(self, spec: PerchSpec, perch: Perch, heat: float) -> Perch:
        kind = self.rng.random()
        x, y = perch.at_mm
        low, high = self._heights(perch, y)
        if kind < 0.12:
            turn = 90.0 - perch.turn_deg if spec.role != "tether" else perch.turn_deg
            return self._set(perch, x, y, perch.height_mm, turn)
        if kind < 0.30:
            z = (low, high, (low + high) / 2)[int(self.rng.integers(3))]
            return self._set(perch, x, y, z, perch.turn_deg)
        if kind < 0.42:
            z = perch.height_mm + self.rng.normal() * max(20.0, 0.3 * (high - low) * heat / HOT)
            return self._set(perch, x, y, z, perch.turn_deg)
        if kind < 0.55:  # to an edge or a corner of where it may be
            start, end = self._box(perch, perch.turn_deg)
            x = (start[0], end[0], x)[int(self.rng.integers(3))]
            y = (start[1], end[1], y)[int(self.rng.integers(3))]
            return self._set(perch, x, y, perch.height_mm, perch.turn_deg)
        step = self._stride(heat)
        x, y = x + self.rng.normal() * step, y + self.rng.normal() * step
        return self._set(perch, x, y, perch.height_mm, perch.turn_deg)

    def _bath_moved(self, bath: Bath, heat: float) -> Bath:
        if self.rng.random() < 0.2:
            return self._bath_at(bath, self._anywhere(0.0))
        step = self._stride(heat)
        x, y = bath.at_mm
        return self._bath_at(bath, (x + self.rng.normal() * step, y + self.rng.normal() * step))

    def _hatch_moved(self, hatch: Hatch) -> Hatch:
        faces: Sequence[str] = self.specs.hatch_faces
        if len(faces) > 1 and self.rng.random() < 0.25:
            other = faces[int(self.rng.integers(len(faces)))]
            hatch = hatch.model_copy(update={"face": other})
        return self._hatch_at(hatch, float(self.rng.random()))


def _weight(finding: Finding) -> float:
    """A finding as the screen counts a miss: 1, and 1 more for each tenth of a metre."""
    measured = finding.measured.value if finding.measured else None
    limit = finding.limit.value if finding.limit else None
    if isinstance(measured, float) and isinstance(limit, float):
        return 1 + min(abs(limit - measured), 3000.0) / 100
    return 3.0


def _near(value_mm: float) -> float:
    return round(value_mm / GRID_MM) * GRID_MM


def _on_grid(value_mm: float, low_mm: float, high_mm: float) -> float:
    """The nearest place on the grid within two limits; between them where none lies."""
    at = _near(min(max(value_mm, low_mm), high_mm))
    if at < low_mm:
        at += GRID_MM
    if at > high_mm:
        at -= GRID_MM
    return at if low_mm <= at <= high_mm else (low_mm + high_mm) / 2


def fitted(kept: Quarters, layout: Layout) -> Quarters:
    """The unit with what stays and a layout; places are taken as given."""
    return kept.model_copy(update={"fitting": (*kept.fitting, *layout.fittings())})
