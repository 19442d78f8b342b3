"""Open a yard file for a command or a page, its names held against the handbook."""

from collections.abc import Collection, Mapping
from functools import cache
from pathlib import Path

from mewswright.handbook import all_species, materials, substrates
from mewswright.handbook.shelf import SHIPPED
from mewswright.model.yard import Yard
from mewswright.model.yard_file import read_yard


@cache
def known_names() -> Mapping[str, Collection[str]]:
    """Give the names that the handbook has, for `read_yard`."""
    return {
        "species": tuple(species.id for species in all_species()),
        "standards": SHIPPED.keys(),
        "substrates": tuple(substrate.id for substrate in substrates()),
        "materials": tuple(material.id for material in materials()),
    }


def open_yard(path: Path) -> Yard:
    """Read a yard file.

    Raises:
        Problem: If it cannot be read, or is not a yard; then with all its faults.
    """
    return read_yard(path, known_names())
