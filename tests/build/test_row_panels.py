"""Walls of a row in panels: each unit's own, and every one once."""

import pytest

from mewswright.build.frame import framed_walls
from mewswright.build.row import shell_in, starts_mm, unit_or_row
from mewswright.build.row_units import shared_walls
from mewswright.build.takeoff import take_off
from support.row_yard import row_yard
from support.units import BARRED

SPLIT = {"bay_max_mm": 1700}


def _yard():
    return row_yard(frame=SPLIT)


def _row(yard):
    return take_off(*unit_or_row(yard, "Row"))


def test_the_panels_of_a_row_are_those_of_its_units():
    yard = _yard()
    alone = [
        (f"{q.name} {p.mark}", p.mass_kg) for q in yard.quarters for p in take_off(yard, q).panels
    ]
    assert [(p.mark, p.mass_kg) for p in _row(yard).panels] == alone


def test_a_shared_wall_is_in_its_owners_panels_alone():
    """A and B own their right walls, C both its outer ones but the left, which B lends."""
    sides = {}
    for panel in _row(_yard()).panels:
        sides.setdefault(panel.mark.split()[0], set()).add((panel.side, panel.shared))
    level = {("front", False), ("back", False)}
    assert sides == {
        "A": level | {("left", False), ("right", True)},
        "B": level | {("right", True)},
        "C": level | {("right", False)},
    }


def test_every_front_panel_stands_where_its_unit_does():
    yard = _yard()
    firsts = {p.mark: p.from_mm for p in _row(yard).panels if p.mark.endswith("F1")}
    alone = {q.name: take_off(yard, q).panels[0].from_mm for q in yard.quarters}
    for (name, from_mm), start in zip(alone.items(), starts_mm(yard, yard.row[0]), strict=True):
        assert firsts[f"{name} F1"] == pytest.approx(from_mm + start, abs=0.2)


@pytest.mark.parametrize("shared", [None, {**BARRED, "upstand_mm": 500}])
def test_no_piece_of_a_row_is_in_two_panels(shared):
    yard = row_yard(frame=SPLIT, shared=shared)
    taken = _row(yard)
    held = {}
    for panel in taken.panels:
        assert panel.parts, panel.mark
        for one in panel.parts:
            held[one.mark] = held.get(one.mark, 0) + one.count
    for part in taken.parts:
        if part.kind in ("post", "stud", "sole", "head"):
            assert held.get(part.mark) == part.count, part.what


def test_a_panel_of_a_row_that_is_too_heavy_names_its_unit():
    said = _row(row_yard(frame={"carry_kg": 5})).cautions
    assert any(c.startswith("Panel A F1: it weighs") for c in said)
    assert any(c.startswith("Panel C R1: it weighs") for c in said)


def test_the_joints_of_shared_walls_are_checked_too():
    """Three units share two walls, each as deep as an outer side and split as that is."""
    yard, whole = unit_or_row(_yard(), "Row")
    walls = shared_walls(yard, whole)
    assert [(wall.wall.side, wall.wall.shell.quarters.name) for wall in walls] == [
        ("right", "A"), ("right", "B"),
    ]  # fmt: skip
    outer = next(w for w in framed_walls(yard, shell_in(yard, whole)) if w.wall.side == "right")
    assert [wall.joints_mm for wall in walls] == [outer.joints_mm] * 2
    assert len(outer.joints_mm) > 0
    assert shared_walls(yard, yard.quarters[0]) == []
