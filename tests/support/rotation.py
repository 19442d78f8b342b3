"""Rotations for tests and benchmarks: read from bench files, planted, or solved the slow way."""

import json
from itertools import product

import numpy as np

from mewswright.year.instance import Apart, Entry, Instance, Place, Unit
from mewswright.year.verify import breaches, plan_cost


def instance_of(text):
    """A file of the planted rotations, as its README says that it is to be read."""
    data = json.loads(text)
    quarantine, soil = frozenset(data["quarantine"]), set(data["soil"])
    places = tuple(
        Place(f"place {p}", data["clean_weeks"], data["rest_weeks"] if p in soil else 0)
        for p in range(data["n_spaces"])
    )
    units = tuple(
        Unit(
            f"unit {u}",
            frozenset(unit["spaces"]),
            tuple(unit["cost"]),
            unit["arrival"],
            data["min_stay"],
            data["max_stay"],
            data["move_cost"],
            Entry(quarantine, 4) if unit["arrival"] > 0 else None,
            # No move takes effect in weeks a + 1 to b - 1: a to b - 1 are spent in one place.
            ((unit["moult"][0], unit["moult"][1] - 1),),
        )
        for u, unit in enumerate(data["units"])
    )
    return Instance(
        data["weeks"],
        places,
        units,
        frozenset((p, q) for p, q in data["adjacent"]),
        tuple(Apart(frozenset(units), *data["sight_weeks"]) for units in data["classes"]),
    )
