"""What a unit must stand: snow, wind, its own weight, people and a bird that bates."""

from mewswright.build.actions.combine import (
    Action,
    Combination,
    Factors,
    combinations,
    factors,
    service_class,
)
from mewswright.build.actions.of_unit import actions_on
from mewswright.build.actions.result import ActionFigure, Actions, SnowOn

__all__ = [
    "Action", "ActionFigure", "Actions", "Combination", "Factors", "SnowOn", "actions_on",
    "combinations", "factors", "service_class",
]  # fmt: skip
