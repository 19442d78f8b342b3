"""A ridged roof: its beam is chosen too, and what is chosen stands by the whole report."""

import pytest

from mewswright.build.frame_report import frame_report
from mewswright.build.size import size
from mewswright.build.size_ridge import ridge_members, ridged
from support.alder_close import YARD
from support.loaded_units import loaded

STOCK = ("45x95", "95x95", "95x195")


def loft(*stock, **frame):
    yard = loaded(
        "loft", snow=0.8, size=(4000, 3600, 2300, 2300),
        faces={"front": "meshed", "left": "boarded", "right": "boarded", "back": "boarded"},
        roof={"form": "duopitch", "ridge_height_mm": 3000, "deck": "osb3_18", "cover": "felt"},
        loads={"soil_bearing_kn_m2": 150},
    )  # fmt: skip
    bars = tuple(bar for bar in YARD.stock if bar.section in stock)
    yard = yard.model_copy(update={"stock": bars, "price": YARD.price})
    unit = yard.quarters[0]
    unit = unit.model_copy(update={"frame": unit.frame.model_copy(update=frame)})
    return yard.model_copy(update={"quarters": (unit,)}), unit


def test_the_chosen_ridge_stands_and_no_cheaper_beam_carries():
    yard, unit = loft(*STOCK)
    found = size(yard, unit)
    assert found.report.found
    assert set(found.report.frame) >= {"ridge", "ridge_posts"}
    chosen = unit.model_copy(update={"frame": found.frame})
    assert frame_report(yard, chosen).sound
    posts = found.frame.ridge_posts
    for section in STOCK[: STOCK.index(found.frame.ridge)]:
        weaker = found.frame.model_copy(update={"ridge": section, "ridge_posts": posts})
        beams = ridge_members(yard, unit.model_copy(update={"frame": weaker}), "ridge beam")
        assert max(one.utilisation for one in beams) > 1


def test_a_post_inside_comes_only_where_no_beam_carries_without():
    yard, unit = loft(*STOCK)
    one, said = ridged(yard, unit, STOCK)
    assert one.frame.ridge_posts == 1
    assert any("without one more post inside" in words for words in said)
    for section in STOCK:
        keys = {"ridge": section, "ridge_posts": 0}
        bare = unit.model_copy(update={"frame": unit.frame.model_copy(update=keys)})
        beams = ridge_members(yard, bare, "ridge beam")
        assert max(beam.utilisation for beam in beams) > 1


def test_a_roof_without_a_ridge_is_left_alone():
    unit = YARD.quarters_named("Isolation")
    assert ridged(YARD, unit, STOCK) == (unit, ())


@pytest.mark.parametrize("stock", [("45x95",)])
def test_where_nothing_carries_the_answer_names_the_part(stock):
    found = size(*loft(*stock)).report
    assert not found.found
    assert found.reasons
    assert found.frame == {}
