"""The page of the yard file: written from the models, and whole."""

import re
import tomllib
from importlib.resources import files
from pathlib import Path

from typer.testing import CliRunner

from mewswright.cli import app
from mewswright.model.yard_file import yard_schema
from mewswright.model.yard_page import yard_page

PAGE = Path(__file__).parents[2] / "docs" / "yard-file.md"
DEMO = (files("mewswright.examples") / "alder-close.yard.toml").read_text(encoding="utf-8")


def test_the_page_is_the_one_that_the_models_give():
    again = "run `mewswright schema --page docs/yard-file.md`"
    assert PAGE.read_text(encoding="utf-8") == yard_page(), again


def test_the_command_writes_the_page(tmp_path):
    out = tmp_path / "yard-file.md"
    done = CliRunner().invoke(app, ["schema", "--page", str(out)])
    assert (done.exit_code, done.stdout) == (0, "")
    assert out.read_text(encoding="utf-8") == yard_page()


def test_every_key_says_what_it_is():
    """What the page shows in its second column must not be empty anywhere."""
    silent = [
        f"{name}.{key}"
        for name, shape in yard_schema()["$defs"].items()
        for key, one in shape["properties"].items()
        if not one.get("description") and "$ref" not in one
    ]
    assert silent == []


def tables(data, path=()):
    """Every table of a file with its keys, named as its header names it."""
    for key, value in data.items():
        many = isinstance(value, list) and bool(value) and isinstance(value[0], dict)
        for one in value if many else [value]:
            if isinstance(one, dict):
                name = ".".join((*path, key))
                plain = {k for k, v in one.items() if not holds_tables(v)}
                yield (f"[[{name}]]" if many else f"[{name}]"), plain, one.get("kind")
                yield from tables(one, (*path, key))


def holds_tables(value):
    return isinstance(value, dict) or (
        isinstance(value, list) and bool(value) and isinstance(value[0], dict)
    )


def test_every_key_of_the_demo_yard_stands_under_its_table():
    """The file names tables and keys in its own way, apart from the models."""
    parts = re.split(r"^#+ (.+)$", yard_page(), flags=re.MULTILINE)
    body = dict(zip(parts[1::2], parts[2::2], strict=True))
    seen = 0
    for header, keys, kind in tables(tomllib.loads(DEMO)):
        place = f"`{header}`"
        if header == "[[quarters.fitting]]":
            place = next(title for title in body if f'`kind = "{kind}"`' in title)
        missing = [key for key in keys if f"| `{key}` |" not in body[place]]
        assert missing == [], header
        seen += len(keys)
    assert seen > 500


def test_units_and_limits_are_told():
    page = yard_page()
    for line in (
        "| `mass_g` | Full weight, fed up, out of moult. | number, more than 0 | grams | – |",
        "| `format` | Version of the file's shape; 1. | `1` |  | needed |",
        '| `sex` | Sex. | `"m"`, `"f"`, `"unknown"` |  | `"unknown"` |',
        "| `rain_mm` | Rain and melted snow in each month [mm]. | list of 12: number "
        "| millimetres | needed |",
    ):
        assert line in page


def test_the_answer_to_the_wrong_file_is_real():
    assert (
        'alder-close.yard.toml:13: bird "Flint".sex: given "male"; allowed: m, f, unknown; '
        "did you mean m?\n" in yard_page()
    )
