"""Every module of checks, loaded so that its checks enter the catalogue.

A new module of checks is a new line here.
"""

from importlib import import_module

MODULES: tuple[str, ...] = (
    "air_lung",
    "company",
    "company_more",
    "enclosure",
    "faces",
    "feather",
    "fire",
    "floors",
    "foot",
    "foot_risk",
    "isolation",
    "kind",
    "loft_edges",
    "loft_flight",
    "loft_places",
    "outlook",
    "overlap",
    "perch_choice",
    "perches",
    "predators",
    "roof",
    "scenario_fire",
    "scenario_flu",
    "scenario_frost",
    "scenario_heat",
    "scenario_storm",
    "shelter",
    "sightlines",
    "site",
    "size",
    "size_in_spans",
    "store",
    "tether",
    "tether_gear",
    "tether_ground",
    "tether_neighbours",
    "tether_nights",
    "tether_roof",
    "tether_rules",
    "tether_shade",
    "thief",
    "walks",
    "water",
    "water_more",
    "ways",
    "ways_more",
)

for _name in MODULES:
    import_module(f"mewswright.checks.{_name}")
