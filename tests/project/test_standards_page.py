"""docs/standards.md: its example is read, and does what the page says of it."""

import re
from datetime import date
from pathlib import Path

import pytest

from mewswright.checks.registry import run_checks
from mewswright.checks.standard_states import state_of_file
from mewswright.handbook.standard_files import known_in_rows, own_standard
from mewswright.model.standard_file import StandardFile
from mewswright.model.standard_names import QUANTITIES
from support.yards import bird, perch, quarters, stay, yard

PAGE = (Path(__file__).parents[2] / "docs" / "standards.md").read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def hills(tmp_path_factory):
    (block,) = re.findall(r"```toml\n(.+?)```", PAGE, re.DOTALL)
    path = tmp_path_factory.mktemp("standards") / "hollow-hills.toml"
    path.write_text(block, encoding="utf-8")
    return own_standard(path)


def said(hills, code, name, species, mode="loose", on=date(2026, 5, 1), **place):
    of = yard(
        ("hollow-hills",),
        bird=[bird(name, species)],
        quarters=[quarters(**{"fitting": [perch(), perch("b", 500)]} | place)],
        stay=[stay(name, mode=mode)],
    ).with_own_standards([hills])
    (found,) = [f for f in run_checks(of, on=on) if f.code == code]
    return found.status


def test_the_example_does_what_the_page_says(hills):
    kestrel, owl = ("Thistle", "common_kestrel"), ("Moth", "western_barn_owl")
    floor = {"width_mm": 2000, "depth_mm": 2950}  # 5.9 m2
    assert said(hills, "S101", *kestrel, **floor) == "harm"
    low = {"front_height_mm": 2200, "back_height_mm": 2200}
    assert said(hills, "S103", *kestrel, **low, on=date(2026, 12, 31)) == "sound"
    assert said(hills, "S103", *kestrel, **low, on=date(2027, 1, 1)) == "harm"
    assert said(hills, "S101", *owl, width_mm=3400, depth_mm=3500) == "short"  # 11.9 m2
    assert said(hills, "P109", *kestrel) == "short"
    assert said(hills, "K102", *owl, mode="tethered") == "harm"
    assert said(hills, "S108", "Bramble", "eurasian_goshawk") == "mind"


def test_every_rule_of_the_example_is_asked(hills):
    assert state_of_file(hills, None).unasked == ()


def test_the_page_names_every_table_and_key_of_the_file():
    schema = StandardFile.model_json_schema(by_alias=True)
    tables = set(schema["properties"])
    assert {name for name in tables if f"[[{name}]]" in PAGE or f"[{name}]" in PAGE} == tables
    keys = {key for shape in schema["$defs"].values() for key in shape.get("properties", {})}
    missing = {key for key in keys - tables - {"members"} if f"`{key}`" not in PAGE}
    assert missing == set()


def test_the_page_names_every_quantity_and_no_more():
    block = PAGE[PAGE.index("Quantities: ") : PAGE.index("A bird that stands in a class itself")]
    assert set(re.findall(r"`(\w+)`", block)) == set(QUANTITIES)


def test_the_handbooks_topics_are_those_that_files_may_use():
    assert len(known_in_rows().topics) > 100
