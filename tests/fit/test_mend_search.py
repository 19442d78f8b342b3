"""The search for the cheapest set, against every subset of the same changes.

Finding the cheapest sets that cover everything is the textbook's weighted set cover
(Cormen, Leiserson, Rivest, Stein, Introduction to Algorithms, set-covering problem); on
small cases all subsets can be tried, and that is the answer to agree with.
"""

from dataclasses import dataclass
from itertools import combinations

from hypothesis import given
from hypothesis import strategies as st

from mewswright.checks.finding import Finding
from mewswright.fit.change import Change, Cost, Edit
from mewswright.fit.mend_search import cheapest
from support.yards import quarters, yard

FAULTS = "abcdef"


def _change(name, weight, clears):
    """A change that writes its mark into the unit's note field of its own door."""
    cost = Cost(None, "missing", weight, weight)
    edit = Edit(("space",), {"name": name, "kind": "room", "length_mm": 1.0, "width_mm": 1.0,
                             "height_mm": 1.0}, "add")  # fmt: skip
    return Change(name, name, frozenset(clears), (edit,), cost)


def _finding(code):
    return Finding(code=code, status="short", quarters="North loft")


@dataclass
class Cover:
    """Wants every fault covered by some change that has been made."""

    changes: tuple
    never: frozenset = frozenset()  # changes that must not both be made

    def _made(self, of):
        return {space.name for space in of.space}

    def wanted(self, of):
        made = self._made(of)
        covered = {code for c in self.changes if c.id in made for code in c.codes}
        return tuple(_finding(code) for code in FAULTS if code not in covered)

    def is_allowed(self, of):
        return not self.never <= self._made(of) if self.never else True

    def is_accepted(self, of):
        return self.is_allowed(of)


def _by_every_subset(changes, never):
    best = None
    for n in range(len(changes) + 1):
        for some in combinations(changes, n):
            names = {change.id for change in some}
            if never and never <= names:
                continue
            covered = {code for change in some for code in change.codes}
            weight = sum(change.cost.weight for change in some)
            if set(FAULTS) <= covered and (best is None or weight < best):
                best = weight
    return best


offered = st.lists(
    st.tuples(st.integers(1, 20), st.sets(st.sampled_from(FAULTS), min_size=1)),
    min_size=1, max_size=8,
)  # fmt: skip


def _search(changes, never=frozenset(), most_yards=10_000):
    start = yard(quarters=[quarters()])
    judge = Cover(changes, never)

    def offers(_of, finding):
        return [change for change in changes if finding.code in change.codes]

    return cheapest(start, judge, offers, most_yards)


@given(offered, st.sets(st.integers(0, 7), min_size=2, max_size=2) | st.just(set()))
def test_the_set_is_as_cheap_as_the_best_of_all_subsets(rows, pair):
    changes = tuple(_change(f"c{i}", weight, codes) for i, (weight, codes) in enumerate(rows))
    never = frozenset(f"c{i}" for i in pair)
    best = _by_every_subset(changes, never)
    found = _search(changes, never)
    assert found.proven
    if best is None:
        assert found.left
    else:
        assert not found.left
        assert sum(change.cost.weight for change in found.changes) == best


def test_one_change_for_all_is_taken_when_it_costs_less_than_one_for_each():
    each = [_change(f"only {code}", 5, [code]) for code in FAULTS]
    found = _search((*each, _change("all", 29, FAULTS)))
    assert [change.id for change in found.changes] == ["all"]
    dear = _search((*each, _change("all", 31, FAULTS)))
    assert len(dear.changes) == len(FAULTS)


def test_a_search_that_is_stopped_says_so_and_gives_the_best_so_far():
    each = tuple(_change(f"only {code}", 5, [code]) for code in FAULTS)
    found = _search(each, most_yards=8)
    assert not found.proven
    assert found.left


def test_what_nothing_covers_is_left():
    found = _search(tuple(_change(f"only {code}", 5, [code]) for code in FAULTS[1:]))
    assert found.proven
    assert "a" in {finding.code for finding in found.left}
