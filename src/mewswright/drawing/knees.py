"""Knee braces of an open front, for the sheets that show a wall's timber."""

from mewswright.build.parts import BuiltFrame
from mewswright.build.pieces import marked_after
from mewswright.build.solids import KNEE
from mewswright.build.takeoff import braced_by
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard


def with_knees(yard: Yard, quarters: Quarters, frame: BuiltFrame) -> BuiltFrame:
    """Add the knee braces to a unit's timber, marked as in its take-off.

    Args:
        yard: The yard.
        quarters: The unit.
        frame: Its timber.
    """
    if quarters.frame.brace != "knee":
        return frame
    braced = [p for p in braced_by(yard, quarters) if p.amount or p.sawn]
    knees = tuple(p for p in marked_after(frame.parts, braced) if p.what == KNEE)
    return frame.model_copy(update={"parts": (*frame.parts, *knees)})
