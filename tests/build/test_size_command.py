"""`mewswright size`: what it refuses, what its comparison says, and what has no price."""

import json
import re
from decimal import Decimal
from importlib.resources import files

import pytest
from typer.testing import CliRunner

from mewswright.build.size_choices import on_stock, sheets_for
from mewswright.build.size_price import ENDLESS, Pricer
from mewswright.build.size_stock import fully_priced, own_sections
from mewswright.cli import app
from mewswright.model.quarters import Frame
from mewswright.model.stock import StockBar
from support.alder_close import YARD

TEXT = (files("mewswright") / "examples" / "alder-close.yard.toml").read_text(encoding="utf-8")


def run(tmp_path, text, *args):
    path = tmp_path / "a.yard.toml"
    path.write_text(text, encoding="utf-8")
    return CliRunner().invoke(app, ["size", str(path), *args])


def without(text, table):
    """The text without every table of a name."""
    return re.sub(rf"(?ms)^\[+{table}\]+\n.*?(?=^\[|\Z)", "", text)


@pytest.mark.parametrize(
    ("text", "args", "said"),
    [
        (TEXT, ["No loft"], "error: no quarters 'No loft' in 'Alder Close'; there are: "),
        (TEXT, ["First pitch"], "error: 'First pitch' has no roof to carry: "),
        (TEXT, ["Isolation", "45x95"], "error: sections are for --compare: 45x95"),
        (TEXT, ["Isolation", "4", "--compare"], "error: section '4': give breadth x depth in mm"),
        (without(TEXT, "stock"), ["Isolation"], "error: 'Alder Close' has no timber of 35 mm or"),
    ],
)  # fmt: skip
def test_bad_input_is_told_and_exits_2(tmp_path, text, args, said):
    done = run(tmp_path, text, *args)
    assert done.exit_code == 2
    assert done.stderr.startswith(said)


def test_a_yard_without_loads_is_refused(tmp_path):
    done = run(tmp_path, without(TEXT, "loads"), "Isolation")
    assert done.exit_code == 2
    assert "[loads]" in done.stderr


def test_the_comparison_says_where_light_square_timber_fails(tmp_path):
    done = run(tmp_path, TEXT, "Isolation", "47x47", "45x195", "--compare", "--json")
    assert done.exit_code == 0, done.output
    found = json.loads(done.stdout)
    square, deep = found["families"]
    assert (square["section"], deep["section"]) == ("47x47", "45x195")
    assert square["roles"]["rafters"] > 1 > deep["roles"]["rafters"]
    assert all(
        {"utilisation", "sway_mm", "cost", "waste_pct"} <= set(one) for one in (square, deep)
    )
    assert "rafters (47x47 used to" in found["answer"]
    claim = found["claim"]
    assert claim["holds"] is False
    of_rafters = next(one for one in claim["roles"] if one["role"] == "rafters")
    assert not of_rafters["holds"]
    assert of_rafters["deep_holds"]
    assert "rafter" in of_rafters["where"]
    spans = {(one["section"], one["spacing_mm"]): one for one in claim["rafter_spans"]}
    assert set(spans) == {(s, at) for s in ("47x47", "45x195") for at in (600, 400, 300)}
    for section in ("47x47", "45x195"):  # closer rafters carry farther, or as far
        reach = [spans[section, at]["span_mm"] for at in (600, 400, 300)]
        assert reach == sorted(reach)
    here = spans["47x47", 600]["here_mm"]
    assert spans["47x47", 600]["span_mm"] < here <= spans["45x195", 400]["span_mm"]


def bar(section, length, price, **keys):
    return StockBar(section=section, length_mm=length, price=Decimal(price), **keys)


def test_what_has_no_price_counts_by_the_dearest_volume():
    """50x50 at 2400 mm for 6.00 is 1000 a cubic metre: 100x50 at 3000 mm is 0.015 m3, so 15.00."""
    bars = (
        bar("50x50", 2400, "6.00"),
        bar("50x100", 3000, "0"),
        bar("50x95", 900, "0", available=2),
    )
    yard, said = fully_priced(
        YARD.model_copy(update={"stock": bars, "price": ()}), sheets_for(YARD, Frame())
    )
    assert [one.price for one in yard.stock] == [Decimal("6.00"), Decimal("15.00"), Decimal(0)]
    assert next(one.price for one in yard.price if one.item == "concrete") == Decimal("250.00")
    assert said[0] == "no price of 50x100 in stock: 1000 a cubic metre (assumed)"


def test_sole_plates_and_noggings_that_are_not_in_stock_are_swapped():
    yard = YARD.model_copy(update={"stock": (bar("50x100", 4800, "20.00"),)})
    unit = YARD.quarters_named("Isolation").model_copy(update={"frame": Frame()})
    swapped, said = on_stock(unit, own_sections(yard))
    assert (swapped.frame.sole, swapped.frame.nogging) == ("50x100", "50x100")
    assert said[-1].startswith("walls 100 mm thick: nothing in stock fits the 95 mm that they are")


def test_a_piece_longer_than_any_bar_can_never_be_the_cheapest():
    unit = YARD.quarters_named("Isolation")
    yard = YARD.model_copy(update={"stock": (bar("45x145", 1200, "5.00"),)})
    pricer = Pricer(yard, unit)
    rafters = [part for part in pricer.parts(unit.frame) if part.kind == "rafter"]
    assert pricer.timber_bound(rafters) == ENDLESS
    assert any("the longest in stock is 1200 mm" in words for words in pricer.too_long)
