"""The day's round: what is due, in walking order, and the sums for the bucket."""

import json
from dataclasses import replace
from datetime import UTC, date, datetime
from itertools import pairwise, permutations
from uuid import UUID
from zoneinfo import ZoneInfo

import pytest
from typer.testing import CliRunner

from mewswright.book.kinds import NewEntry
from mewswright.book.lasts import last_done
from mewswright.book.open import Book, make_book
from mewswright.book.write import add_entries
from mewswright.care.bucket import bucket
from mewswright.care.due import due_on, moults, stays_on
from mewswright.care.round import round_on
from mewswright.checks.walks_told import middle_m
from mewswright.cli import app
from mewswright.ground.paths import Ways, door_step_m
from mewswright.handbook.places import disinfectants
from mewswright.model.problem import Problem
from support.alder_close import TEXT, YARD

SPRING = date(2027, 3, 15)


@pytest.fixture(scope="module")
def sheet():
    return round_on(YARD, SPRING, {})


def test_weighed_birds_come_first_and_isolation_last(sheet):
    parts = [stop.part for stop in sheet.stops]
    assert parts == sorted(parts, key=["weighed", "others", "isolation"].index)
    assert parts[0] == "weighed"
    assert sheet.stops[-1].quarters == "Isolation"
    assert any(t.chore == "footbath" for t in sheet.stops[-1].tasks)


def test_every_bird_is_visited_once_and_fed(sheet):
    yard = YARD
    visited = [b for stop in sheet.stops for b in stop.birds]
    assert sorted(visited) == sorted(b.name for b in yard.bird)
    fed = [t.bird for stop in sheet.stops for t in stop.tasks if t.chore == "feed"]
    assert sorted(fed) == sorted(visited)
    assert sheet.without_place == ()


def test_the_walk_of_each_part_is_the_shortest_closed_one(sheet):
    """By trying every order, on the lengths of the same walks."""
    yard = YARD
    room = next(f for f in yard.feature if f.kind == "weighing_room")
    names = [s.quarters for s in sheet.stops if s.part == "weighed"]
    homes = {q.name: q for q in yard.quarters}
    table = Ways(yard, [middle_m(room), *(door_step_m(yard, homes[n]) for n in names)]).table()

    def closed(order):
        return sum(table[a][b] for a, b in pairwise((0, *order, 0)))

    own = range(1, len(names) + 1)
    assert closed(own) == pytest.approx(min(map(closed, permutations(own))))
    assert table[0][1] == pytest.approx(sheet.stops[0].walk_m)


def test_what_was_done_is_not_asked_for_and_what_is_late_says_so():
    yard = YARD
    done = {("bath", "North loft"): date(2027, 3, 12), ("weigh_flown", "Bramble"): SPRING}
    tasks = {
        (t.chore, t.bird or s.quarters): t
        for s in round_on(yard, SPRING, done).stops
        for t in s.tasks
    }
    assert ("weigh_flown", "Bramble") not in tasks
    late = tasks["bath", "North loft"]
    assert (late.overdue_days, late.last_on) == (2, date(2027, 3, 12))
    assert "2 days late" in late.why


def test_rare_work_that_the_book_does_not_know_is_told_not_ordered(sheet):
    assert not any(t.chore == "disinfect" for s in sheet.stops for t in s.tasks)
    assert any("disinfect" in line for line in sheet.never_noted)
    done = {("disinfect", "Barn loft"): date(2026, 12, 1)}
    stops = round_on(YARD, SPRING, done).stops
    assert [s.quarters for s in stops for t in s.tasks if t.chore == "disinfect"] == ["Barn loft"]


def test_the_keepers_own_days_come_first():
    yard = YARD
    done = {("bath", "Barn loft"): date(2027, 3, 13)}
    stays = stays_on(yard, SPRING)
    own = {
        d.quarters for d in due_on(yard, SPRING, done, stays, {"bath": 3}) if d.chore.id == "bath"
    }
    assert "Barn loft" not in own


def test_moves_of_the_day_are_named(sheet):
    (move,) = sheet.moves
    assert (move.bird, move.was, move.now) == ("Sleet", "Slate shelter", "North loft")


def test_an_empty_yard_has_no_round():
    yard = YARD.model_copy(update={"bird": (), "stay": (), "quarters": ()})
    sheet = round_on(yard, SPRING, {})
    assert sheet.stops == ()
    assert "nobody lives" in sheet.notes[0]


def test_moult_over_the_turn_of_the_year():
    bird = YARD.bird[0]
    assert moults(bird.model_copy(update={"feather_state": "moulting"}), date(2027, 1, 1))
    assert moults(bird, date(2027, 6, 1))
    assert not moults(bird, date(2027, 1, 1))


# One part in N parts of water is N + 1 parts of solution: 1:32 in ten litres is about 300 ml;
# and that of 47 ml a litre about 0.27 per cent of available chlorine, as the row's source prints it
# (handbook/disinfectants.csv, bleach_ca; household bleach of 6 per cent).
@pytest.mark.parametrize(
    ("agent", "litres", "product_ml", "water_ml"),
    [
        ("bleach_32", 10, 303.03, 9696.97),
        ("bleach_10", 11, 1000, 10_000),
        ("bleach_ca", 5, 235, 5000),
        ("peroxygen_1", 5, 50, 4950),
        ("peroxygen_2", 5, 100, 4900),
        ("quat_biguanide_250", 2.51, 10, 2500),
    ],
)
def test_buckets_by_hand(agent, litres, product_ml, water_ml):
    one = bucket(agent, litres)
    assert (one.product_ml, one.water_ml) == pytest.approx((product_ml, water_ml), abs=0.01)


def test_the_bleach_of_the_guide_has_the_chlorine_that_it_prints():
    one = bucket("bleach_ca", 1)
    assert 6 * one.product_ml / (one.product_ml + one.water_ml) == pytest.approx(0.27, abs=0.005)


def test_every_disinfectant_has_a_sum():
    for row in disinfectants():
        one = bucket(row.id, 5)
        assert 0 < one.product_ml < one.water_ml


@pytest.mark.parametrize(("agent", "litres"), [("soap", 5), ("bleach_10", 0), ("bleach_10", -1)])
def test_a_bad_bucket_is_refused(agent, litres):
    with pytest.raises(Problem, match=r"give litres|the handbook has"):
        bucket(agent, litres)


def test_the_book_says_when_each_chore_was_last_done(tmp_path):
    path = str(tmp_path / "a.book")
    make_book(path, "Alder Close", UUID(int=7), datetime(2027, 1, 1, tzinfo=UTC))
    late = datetime(2027, 3, 14, 23, 30, tzinfo=UTC)  # half past midnight of the 15th in Zurich
    rows = [
        NewEntry(kind="bath", at=datetime(2027, 3, 13, 8, tzinfo=UTC), quarters="Barn loft"),
        NewEntry(kind="clean", at=late, quarters="Barn loft", what="scooped"),
        NewEntry(kind="clean", at=late, quarters="Barn loft", what="sieved", uid=UUID(int=1)),
        NewEntry(kind="weight", at=late, bird="Moth", grams=300),
        NewEntry(kind="weight", at=datetime(2027, 3, 20, 8, tzinfo=UTC), bird="Moth", grams=300),
    ]
    with Book(path) as book:
        add_entries(book, rows, "Keeper", late)
        gone = NewEntry(kind="clean", at=late, quarters="Barn loft", corrects=UUID(int=1),
                        withdrawn=True)  # fmt: skip
        add_entries(book, [gone], "Keeper", late)
        done = last_done(book, ["Moth"], ["Barn loft"], SPRING, ZoneInfo("Europe/Zurich"))
    assert done == {
        ("bath", "Barn loft"): date(2027, 3, 13),
        ("scoop", "Barn loft"): SPRING,
        ("weigh_flown", "Moth"): SPRING,
        ("weigh_other", "Moth"): SPRING,
    }


def test_the_command_reads_yard_and_book(tmp_path):
    yard = tmp_path / "alder.yard.toml"
    yard.write_text(TEXT, encoding="utf-8")
    path = str(tmp_path / "a.book")
    make_book(path, "Alder Close", UUID(int=7), datetime(2027, 1, 1, tzinfo=UTC))
    with Book(path) as book:
        at = datetime(2027, 3, 15, 6, tzinfo=UTC)
        entry = NewEntry(kind="weight", at=at, bird="Bramble", grams=905)
        add_entries(book, [entry], "Keeper", at)
    run = CliRunner().invoke(
        app, ["round", str(yard), "--book", path, "--on", "2027-03-15", "--json"]
    )
    answer = json.loads(run.stdout)
    weighed = [
        t["bird"] for s in answer["stops"] for t in s["tasks"] if t["chore"] == "weigh_flown"
    ]
    assert "Bramble" not in weighed
    assert "Flint" in weighed
    spoken = CliRunner().invoke(app, ["round", str(yard), "--on", "2027-03-15"])
    assert "the round of Monday 2027-03-15" in spoken.stdout
    bad = CliRunner().invoke(app, ["round", str(yard), "--on", "15.3.2027"])
    assert bad.exit_code == 2


def test_all_shapes_of_done_are_values():
    one = due_on(YARD, SPRING, {}, stays_on(YARD, SPRING))[0]
    assert replace(one, overdue_days=1, last=SPRING).why.endswith("one day late")
