"""A pack of a whole yard holds its rows and corridors beside their units."""

import json

import pytest

from mewswright.papers.chosen import chosen
from mewswright.papers.pack import build_pack
from support.corridor_yard import corridor_yard
from support.row_yard import row_yard


def names(yard, asked=None):
    choices, left_out = chosen(yard, asked)
    return [choice.quarters.name for choice in choices], {x.quarters: x.why for x in left_out}


def test_rows_and_corridors_follow_the_units_of_a_whole_yard():
    assert names(row_yard()) == (["A", "B", "C", "Row"], {})
    assert names(corridor_yard())[0] == ["A", "B", "C", "Row", "Way and Lobby"]
    assert names(corridor_yard(lobby=False))[0] == ["A", "B", "C", "Row", "Way"]


def test_a_row_is_no_neighbour_to_its_own_units():
    choices, _ = chosen(row_yard(), None)
    for choice in choices[:3]:
        assert [q.name for q in choice.yard.quarters] == ["A", "B", "C"]


def test_a_row_that_does_not_fit_is_left_out_with_its_reason():
    yard = corridor_yard(change={"corridor_height_mm": 5000})
    found, left_out = names(yard)
    assert found == ["A", "B", "C"]
    assert list(left_out) == ["Row", "Way and Lobby"]
    assert left_out["Row"].startswith("row 'Row' does not fit together: the corridor's roof")


def test_what_is_asked_for_by_name_comes_in_the_order_of_the_file():
    found, left_out = names(corridor_yard(), ["Way and Lobby", "B", "Row", "A", "B"])
    assert found == ["A", "B", "Way and Lobby", "Row"]
    assert left_out == {"C": "not asked for"}


@pytest.fixture(scope="module")
def pack():
    yard = corridor_yard(lobby=False, units=("A", "B"), door=())
    keep = tuple(q for q in yard.quarters if q.name != "C")
    return build_pack(yard.model_copy(update={"quarters": keep}))


def test_the_pack_has_the_sheets_and_lists_of_a_row_and_its_corridor(pack):
    record = json.loads(pack.files["pack.json"])
    assert [unit["quarters"] for unit in record["units"]] == ["A", "B", "Row", "Way"]
    for stem in ("row", "way"):
        for name in ("plan", "section", "foundation", "framing-back", "exploded"):
            assert {f"{stem}-{name}.svg", f"{stem}-{name}.dxf"} <= set(pack.files)
        assert {f"{stem}.glb", f"takeoff-{stem}.csv", f"cut-{stem}.csv"} <= set(pack.files)
    row = record["units"][2]
    assert row["cautions"][0] == (
        "The lists of Row hold every part of A and B, shared walls once, and all of Way behind "
        "them: buy and saw by them or by the lists of each, never by both."
    )


def test_a_wall_that_the_next_unit_builds_has_no_framing_sheet(pack):
    """The wall between A and B is A's; a sheet of B without timber would be empty."""
    assert "a-framing-right.svg" in pack.files
    assert "b-framing-left.svg" not in pack.files
    assert "b-framing-right.svg" in pack.files
    assert "way-framing-front.svg" not in pack.files  # the row's back wall
