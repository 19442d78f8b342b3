"""Pins on a drawing: a number at the thing that a finding measures."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from mewswright.checks.finding import Status
from mewswright.drawing.scene import Circle, Mark, Point, Scene, Text
from mewswright.model.fitting import Hatch
from mewswright.model.quarters import SIDES, Quarters

_RADIUS_MM = 2.6  # on paper
_LETTER_MM = 2.8
_OUT_MM = 3.4  # beside the thing, so that the thing stays to be seen


@dataclass(frozen=True)
class Pin:
    """A number at a place of the scene [mm], with the worst status it stands for."""

    at_mm: Point
    number: int
    status: Status
    title: str


def pinned(scene: Scene, pins: Sequence[Pin]) -> Scene:
    """Put pins on a scene, above everything else.

    Args:
        scene: The drawing.
        pins: Each becomes the item "pin:NUMBER".
    """
    marks: list[Mark] = list(scene.marks)
    n = scene.scale
    for pin in pins:
        at = (pin.at_mm[0] + _OUT_MM * n, pin.at_mm[1] + _OUT_MM * n)
        item, css = f"pin:{pin.number}", f"pin pin-{pin.status}"
        marks.append(
            Circle(
                layer="pins", pen="medium", centre=at, radius=_RADIUS_MM * n, fill="paper",
                item=item, title=f"{pin.number}: {pin.title}, {pin.status}", css=css,
            )
        )  # fmt: skip
        marks.append(
            Text(
                layer="pins", at=at, text=str(pin.number), anchor="middle", height_mm=_LETTER_MM,
                bold=True, item=item, css=f"pin-{pin.status}",
            )
        )  # fmt: skip
    return replace(scene, marks=tuple(marks))


def spot_in_plan_mm(quarters: Quarters, subject: str) -> Point | None:
    """Give where a thing that a finding names lies in the plan [mm].

    Args:
        quarters: The unit.
        subject: Name of a fitting, or "front face", "back face" and so on.

    Returns:
        Its middle in the unit's own frame, or None for what has no one place.
    """
    w, d = quarters.width_mm, quarters.depth_mm
    sides = {"front": (w / 2, 0.0), "back": (w / 2, d), "left": (0.0, d / 2), "right": (w, d / 2)}
    for fitting in quarters.fitting:
        if fitting.name == subject:
            if isinstance(fitting, Hatch):
                x, y = sides[fitting.face]
                return (
                    (fitting.at_mm, y) if fitting.face in ("front", "back") else (x, fitting.at_mm)
                )
            return fitting.at_mm
    for side in SIDES:
        if subject.startswith(side):
            return sides[side]
    return None
