"""Open a yard file for a command or a page, its names held against the handbook."""

from collections.abc import Collection, Mapping
from functools import cache
from pathlib import Path

from mewswright.build.row import fitting_row
from mewswright.handbook import all_species, materials, substrates
from mewswright.handbook.shelf import SHIPPED, shelf_of
from mewswright.handbook.standard_files import own_standard, shipped_keys
from mewswright.model.problem import Problem
from mewswright.model.standard_file import StandardFile
from mewswright.model.yard import Yard
from mewswright.model.yard_file import read_yard

OWN = "standards"  # folder beside a yard file that holds the keeper's own standards


@cache
def known_names() -> Mapping[str, Collection[str]]:
    """Give the names that the handbook has, for `read_yard`."""
    return {
        "species": tuple(species.id for species in all_species()),
        "standards": SHIPPED.keys(),
        "substrates": tuple(substrate.id for substrate in substrates()),
        "materials": tuple(material.id for material in materials()),
    }


def own_standard_paths(yard_file: Path) -> tuple[Path, ...]:
    """Give the files of the keeper's own standards that lie beside a yard file, by name."""
    return tuple(sorted((yard_file.parent / OWN).glob("*.toml")))


def own_standards(yard_file: Path) -> tuple[StandardFile, ...]:
    """Read the keeper's own standards that lie beside a yard file.

    Raises:
        Problem: If one is no standard, or if two standards have the same key; the
            sentence names both.
    """
    paths = own_standard_paths(yard_file)
    found: dict[str, Path] = {}
    files = []
    for path in paths:
        file = own_standard(path)
        if file.key in shipped_keys():
            shipped = SHIPPED.standard(file.key).name
            raise Problem(
                f"{OWN}/{path.name}: the key {file.key!r} is that of a shipped standard "
                f"({shipped}); give {file.standard.name!r} another key"
            )
        if file.key in found:
            raise Problem(
                f"{OWN}/{path.name}: the key {file.key!r} is that of "
                f"{OWN}/{found[file.key].name} too; give one of them another key"
            )
        found[file.key] = path
        files.append(file)
    return tuple(files)


def open_yard(path: Path) -> Yard:
    """Read a yard file, and the keeper's own standards in the folder `standards` beside it.

    Raises:
        Problem: If it cannot be read, or is not a yard; then with all its faults. If the
            units of a row do not fit together.
    """
    own = own_standards(path)
    known = {**known_names(), "standards": shelf_of(own).keys()} if own else known_names()
    yard = read_yard(path, known)
    for row in yard.row:
        fitting_row(yard, row)
    return yard.with_own_standards(own) if own else yard
