"""Cut labels: as many as there are sawn pieces, each with its place in the cut plan."""

from collections import Counter

import pytest

from mewswright.build.labels import labels_of
from mewswright.build.report import worked_out
from mewswright.build.sawing import Sawing
from support.units import unit_yard

STOCK = [{"section": "45x95", "length_mm": 4800, "price": 12, "priced": "keeper"}]


@pytest.fixture(scope="module")
def unit():
    yard = unit_yard(stock=STOCK)
    takeoff, sawing, _ = worked_out(yard, yard.quarters[0])
    return takeoff, sawing, labels_of(takeoff.parts, sawing)


def test_each_sawn_piece_has_one_label(unit):
    takeoff, _, labels = unit
    sawn = {part.mark: part.count for part in takeoff.parts if part.sawn}
    assert Counter(label.mark for label in labels) == sawn
    for mark, count in sawn.items():
        assert [x.number for x in labels if x.mark == mark] == list(range(1, count + 1))
        assert {x.of for x in labels if x.mark == mark} == {count}


def test_the_pieces_of_a_bar_are_no_longer_than_it(unit):
    _, sawing, labels = unit
    bars = {}
    for label in labels:
        bars.setdefault((label.section, label.bar), []).append(label)
    for (section, bar), pieces in bars.items():
        if not bar:
            assert any(section in reason for reason in sawing.refused)
            continue
        assert bar <= pieces[0].bars
        assert sum(piece.length_mm for piece in pieces) <= pieces[0].stock_mm


def test_what_no_plan_saws_is_labelled_without_a_bar(unit):
    takeoff, _, _ = unit
    labels = labels_of(takeoff.parts, Sawing(plan=None, unpriced=None, refused=()))
    assert len(labels) == sum(part.count for part in takeoff.parts if part.sawn)
    assert {label.bar for label in labels} == {0}
