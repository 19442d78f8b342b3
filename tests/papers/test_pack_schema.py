"""`pack.json` against its published schema, by the rules of JSON Schema 2020-12."""

import json
from pathlib import Path

import jsonschema
import pytest

from mewswright.papers.record import pack_schema

PUBLISHED = Path(__file__).parents[2] / "docs" / "pack.schema.json"


def test_the_published_schema_is_the_one_in_use():
    """A change here is a promise broken or widened: say so in CHANGELOG.md.

    Write it anew with `json.dumps(pack_schema(), indent=1, ensure_ascii=False, sort_keys=True)`.
    """
    assert json.loads(PUBLISHED.read_text(encoding="utf-8")) == pack_schema()


def test_the_demo_pack_keeps_to_the_schema(demo_record):
    validator = jsonschema.Draft202012Validator
    validator.check_schema(pack_schema())
    validator(pack_schema()).validate(demo_record)


def test_a_key_that_nobody_promised_is_refused(demo_record):
    with pytest.raises(jsonschema.ValidationError, match="surprise"):
        jsonschema.validate({**demo_record, "surprise": 1}, pack_schema())
