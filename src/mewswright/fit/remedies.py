"""Every module of remedies, loaded so that its generators enter the list.

A new module of remedies is a new line here.
"""

from collections.abc import Sequence
from importlib import import_module

from mewswright.checks.finding import Finding
from mewswright.fit.change import Change
from mewswright.fit.remedy import REMEDIES, Standing

MODULES: tuple[str, ...] = (
    "remedies_faces",
    "remedies_floor",
    "remedies_perches",
    "remedies_roof",
    "remedies_water",
    "remedies_ways",
)

for _name in MODULES:
    import_module(f"mewswright.fit.{_name}")


def offers(standing: Standing, finding: Finding) -> Sequence[Change]:
    """Give the changes that may clear a finding; none for a code without a remedy here.

    Whether a change does clear it, the checks say.
    """
    found = {
        change.id: change
        for generator in REMEDIES.get(finding.code, ())
        for change in generator(standing, finding)
    }
    return tuple(found.values())


def mendable_codes() -> frozenset[str]:
    """Codes against which some change can be offered."""
    return frozenset(REMEDIES)
