"""Boxes and crowns round the origin, at random, for tests of sun and shade."""

from collections.abc import Iterator

import numpy as np

from mewswright.ground.solids import Leaves, Solid, SolidBox, SolidCrown

LEAVES = Leaves((0.6,) * 5 + (0.2,) * 7)


def some_solids(chance: np.random.Generator) -> Iterator[Solid]:
    """Eleven boxes and three crowns; some boxes hang in the air, some have leaves."""
    for number in range(14):
        turn = chance.uniform(0, np.pi)
        thin = (None, None, LEAVES, None)[number % 4]
        at = chance.normal(size=2) * 6
        if number % 4 == 3:
            radius = chance.uniform(0.5, 2.5)
            yield SolidCrown("", (*at, 1.3 * radius + chance.uniform(0, 4)), radius, 1.3, thin)
        else:
            foot = chance.choice([0.0, 2.2])
            yield SolidBox(
                "", tuple(at), (np.cos(turn), np.sin(turn)), tuple(chance.uniform(0.1, 2, 2)),
                (foot, 0, 0), (foot + chance.uniform(0.3, 3), 0, 0.1), thin,
            )  # fmt: skip
