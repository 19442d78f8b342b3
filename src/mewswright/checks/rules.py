"""Every module of checks, loaded so that its checks enter the catalogue.

A new module of checks is a new line here.
"""

from importlib import import_module

MODULES: tuple[str, ...] = (
    "company",
    "water",
    "perches",
    "perch_choice",
    "floors",
    "faces",
    "isolation",
    "kind",
    "size",
    "tether",
    "tether_rules",
)

for _name in MODULES:
    import_module(f"mewswright.checks.{_name}")
