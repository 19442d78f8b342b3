"""The demo yard, and its units that have a frame."""

import tomllib
from importlib.resources import files

from mewswright.model.yard import Yard

TEXT = (files("mewswright") / "examples" / "alder-close.yard.toml").read_text(encoding="utf-8")
YARD = Yard.model_validate(tomllib.loads(TEXT))
UNITS = [q for q in YARD.quarters if q.kind != "pitch"]
