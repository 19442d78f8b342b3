"""The constraints of the weekly model: every rule of `instance.py` as rows over truths.

`at[u, p, w]` unit u lives in place p in week w; `inside[u, c, w]` it lives in cell c; `gone[u, c,
w]` it left cell c for another, or for good, to begin with week w. What is not in these tables is
false.
"""

from __future__ import annotations

from collections import defaultdict
from typing import Any

from mewswright.year.allowed import allowed, may_change, settled_week
from mewswright.year.instance import Instance, Rows


class Model:
    """One model; `cp` is the solver's."""

    def __init__(
        self, instance: Instance, start: Rows | None, free: frozenset[int] | None, costs: bool
    ) -> None:
        """Build the model.

        Args:
            instance: The year.
            start: A plan to begin from, or None.
            free: The units that may leave that plan; None for all.
            costs: Whether the cheapest plan is asked for, or any.
        """
        from ortools.sat.python import cp_model

        self.cp: Any = cp_model.CpModel()
        self.instance = instance
        self.at: dict[tuple[int, int, int], Any] = {}
        self.inside: dict[tuple[int, int, int], Any] = {}
        self.gone: dict[tuple[int, int, int], Any] = {}
        self.places_of: list[list[int]] = [[] for _ in set(instance.cell_of)]
        for p, cell in enumerate(instance.cell_of):
            self.places_of[cell].append(p)
        held = None if start is None or free is None else free
        for u in range(len(instance.units)):
            fixed = None if held is None or u in held else start
            self._live(u, None if fixed is None else fixed[u])
            self._leave(u)
            self._stay(u)
            self._clocks(u)
        self._cells()
        self._rests()
        self._sights()
        self.total: Any = 0
        if costs:
            from mewswright.year.weekly_cost import total_cost

            self.total = total_cost(self)
            self.cp.minimize(self.total)
        if start is not None:
            for (u, p, w), x in self.at.items():
                self.cp.add_hint(x, start[u][w] == p)

    def rows(self, value: Any) -> Rows:
        """The plan, told by the solver's values."""
        rows: list[list[int | None]] = [[None] * self.instance.weeks for _ in self.instance.units]
        for (u, p, w), x in self.at.items():
            if value(x):
                rows[u][w] = p
        return tuple(tuple(row) for row in rows)

    def _live(self, u: int, row: tuple[int | None, ...] | None) -> None:
        may = allowed(self.instance, u)
        if row is not None:
            may = [
                places & {row[w]} if row[w] is not None else frozenset()
                for w, places in enumerate(may)
            ]
        for w in self.instance.weeks_of(u):
            here: dict[int, list[Any]] = defaultdict(list)
            for p in sorted(may[w]):
                x = self.at[u, p, w] = self.cp.new_bool_var("")
                here[self.instance.cell_of[p]].append(x)
            self.cp.add_exactly_one([x for xs in here.values() for x in xs])
            for cell, xs in here.items():
                self.inside[u, cell, w] = xs[0]
                if len(xs) > 1:
                    self.inside[u, cell, w] = self.cp.new_bool_var("")
                    self.cp.add(sum(xs) == self.inside[u, cell, w])
        change = may_change(self.instance, u)
        for w in self.instance.weeks_of(u):
            if change[w] or w < self._first_move(u):
                continue
            for p in range(len(self.instance.places)):
                one, other = self._at(u, p, w - 1), self.at.get((u, p, w), 0)
                if one is not other:
                    self.cp.add(one == other)

    def _first_move(self, u: int) -> int:
        """The first week in which a move may take effect."""
        unit = self.instance.units[u]
        return unit.arrival + (1 if unit.before is None else 0)

    def _at(self, u: int, p: int, w: int) -> Any:
        """Whether a unit lives in a place; week -1 is what was before."""
        before = self.instance.units[u].before
        if w < 0:
            return int(before is not None and before.place == p)
        return self.at.get((u, p, w), 0)

    def _inside(self, u: int, cell: int, w: int) -> Any:
        """Whether a unit lives in a cell; below 0, what was before."""
        before = self.instance.units[u].before
        if w >= 0:
            return self.inside.get((u, cell, w), 0)
        here = before is not None and self.instance.cell_of[before.place] == cell
        return int(before is not None and here and w >= -before.weeks)

    def _leave(self, u: int) -> None:
        """When a unit leaves a cell."""
        there = self.instance.weeks_of(u)
        for cell in range(len(self.places_of)):
            for w in range(self._first_move(u), there.stop):
                was, now = self._inside(u, cell, w - 1), self._inside(u, cell, w)
                if isinstance(was, int) and not was:
                    continue
                gone = self.gone[u, cell, w] = self.cp.new_bool_var("")
                self.cp.add(gone >= was - now)
                self.cp.add(gone <= was)
                self.cp.add(gone + now <= 1)
            if there.stop < self.instance.weeks:
                was = self._inside(u, cell, there.stop - 1)
                if not isinstance(was, int):
                    self.gone[u, cell, there.stop] = was

    def _stay(self, u: int) -> None:
        """How long a stay lasts, at least and at most."""
        unit, there = self.instance.units[u], self.instance.weeks_of(u)
        settled = settled_week(unit)
        past = 0 if unit.before is None else unit.before.weeks
        known = there.start if unit.before is None else -(10**9)
        if unit.entry is not None:
            known = settled - 1  # what began before the entry ended may be short
        for (v, cell, w), gone in self.gone.items():
            if v != u or w >= there.stop or (unit.entry is not None and w <= settled):
                continue
            for back in range(2, unit.min_stay + 1):
                if w - back >= known:
                    was = self._inside(u, cell, w - back)
                    if isinstance(was, int):
                        if not was:
                            self.cp.add(gone == 0)
                    else:
                        self.cp.add_implication(gone, was)
        for cell, places in enumerate(self.places_of):
            begin = settled if unit.entry is not None else there.start - past
            self._window(u, cell, begin, unit.max_stay)
            most = self.instance.places[places[0]].most_weeks
            if most is not None:
                self._window(u, cell, there.start - past, most)

    def _window(self, u: int, cell: int, begin: int, most: int) -> None:
        there = self.instance.weeks_of(u)
        for last in range(max(there.start, begin + most), there.stop):
            weeks = [self._inside(u, cell, w) for w in range(last - most, last + 1)]
            if all(not isinstance(x, int) or x for x in weeks):
                self.cp.add(sum(weeks) <= most)

    def _clocks(self, u: int) -> None:
        """Weeks on the tether, and free weeks."""
        unit, there = self.instance.units[u], self.instance.weeks_of(u)
        if unit.tether_most is not None:
            tied = [
                [x for p, x in self._places(u, w) if self.instance.places[p].tethered]
                for w in there
            ]
            past = min(unit.tether_most, unit.before.tethered_weeks if unit.before else 0)
            runs = [(0, unit.tether_most - past)] if past else []
            runs += [(first, unit.tether_most) for first in range(len(tied) - unit.tether_most)]
            for first, most in runs:
                window = tied[first : first + most + 1]
                if len(window) == most + 1:
                    self.cp.add(sum(x for xs in window for x in xs) <= most)
        if unit.free_least > 0:
            self.cp.add(sum(self.free_weeks(u)) >= unit.free_least)

    def free_weeks(self, u: int) -> list[Any]:
        """Truths of the weeks in which a unit is free."""
        return [
            x
            for w in self.instance.weeks_of(u)
            for p, x in self._places(u, w)
            if not self.instance.places[p].tethered
        ]

    def _places(self, u: int, w: int) -> list[tuple[int, Any]]:
        return [
            (p, self.at[u, p, w]) for p in range(len(self.instance.places)) if (u, p, w) in self.at
        ]

    def left(self, u: int, cell: int, w: int) -> list[tuple[int, Any]]:
        """When a unit may have left a cell so that it is being cleaned in week w, and its truth."""
        clean = self.instance.places[self.places_of[cell][0]].clean_weeks
        return [
            (v, self.gone[u, cell, v])
            for v in range(w - clean + 1, w + 1)
            if (u, cell, v) in self.gone
        ]

    def _cells(self) -> None:
        """One unit a week in a cell, and nobody while it is cleaned, but the kin of who left."""
        units = range(len(self.instance.units))
        kin = self.instance.kin_of
        for cell in range(len(self.places_of)):
            for w in range(self.instance.weeks):
                living = {u: x for u in units if (x := self.inside.get((u, cell, w))) is not None}
                if not living:
                    continue
                # Who leaves no heir is in the way of everybody: one row for all of them.
                row = []
                for u in units:
                    for v, gone in self.left(u, cell, w):
                        heirs = kin[u] | (self.instance.mates_of[u] - {u} if v == 0 else kin[u])
                        if not heirs:
                            row.append(gone)
                        else:
                            others = [x for other, x in living.items() if other not in heirs]
                            self._most_one([gone, *others])
                self._most_one([*living.values(), *row])

    def _most_one(self, truths: list[Any]) -> None:
        if len(truths) > 1:
            self.cp.add_at_most_one(truths)

    def _rests(self) -> None:
        """Weeks in a row that a cell lies empty once."""
        for cell, places in enumerate(self.places_of):
            rest = self.instance.places[places[0]].rest_weeks
            if not rest:
                continue
            begins = [self.cp.new_bool_var("") for _ in range(self.instance.weeks - rest + 1)]
            self.cp.add_exactly_one(begins)
            for w in range(self.instance.weeks):
                resting = begins[max(0, w - rest + 1) : w + 1]
                living = [
                    x
                    for u in range(len(self.instance.units))
                    if (x := self.inside.get((u, cell, w))) is not None
                ]
                if living:
                    self._most_one([*resting, *living])

    def _sights(self) -> None:
        """Who may not be side by side, and who may not see whom."""
        near = {(p, q) for p, q in self.instance.beside if p < q}
        for apart in self.instance.apart:
            self._unseen(apart.units, apart.units, near, apart.first_week, apart.last_week)
        for sight in self.instance.sights:
            self._unseen(sight.afraid, sight.feared, sight.pairs, sight.first_week, sight.last_week)

    def _unseen(self, here: Any, there: Any, pairs: Any, first: int, last: int) -> None:
        for w in range(max(0, first), min(last + 1, self.instance.weeks)):
            for p, q in sorted(pairs):
                one = {u: self.at[u, p, w] for u in sorted(here) if (u, p, w) in self.at}
                other = {u: self.at[u, q, w] for u in sorted(there) if (u, q, w) in self.at}
                if one and other:
                    self._most_one([*one.values(), *other.values()])

    def side_by_side(self, one: int, other: int, w: int) -> Any:
        """A truth that two units live in adjacent places in a week; 0 where they cannot."""
        beside: dict[int, list[Any]] = defaultdict(list)
        for a, b in sorted(self.instance.beside):
            if (one, a, w) in self.at and (other, b, w) in self.at:
                beside[a].append(self.at[other, b, w])
        if not beside:
            return 0
        near = self.cp.new_bool_var("")
        for p, x in self._places(one, w):
            self.cp.add(near + x <= 1 + sum(beside.get(p, [])))
            for y in beside.get(p, []):
                self.cp.add(near >= x + y - 1)
        return near
