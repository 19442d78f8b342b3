"""How the roof of a unit falls, in words: ratio, angle and height."""

from math import atan2, degrees

from mewswright.drawing.scene import whole
from mewswright.model.quarters import Quarters


def fall_text(quarters: Quarters) -> str:
    """Say the fall of the roof as a ratio, an angle and a height."""
    if quarters.ridge_mm is not None:
        at = whole(quarters.ridge_mm[0])
        return f"has its ridge {at} behind the front; {'; '.join(slope_texts(quarters))}"
    assert quarters.front_height_mm is not None
    assert quarters.back_height_mm is not None
    fall = quarters.front_height_mm - quarters.back_height_mm
    if fall == 0:
        return "roof level: no fall"
    return _fall("back" if fall > 0 else "front", quarters.depth_mm, fall)


def slope_texts(quarters: Quarters) -> tuple[str, ...]:
    """Say the fall of each slope, the front one first."""
    if quarters.ridge_mm is None:
        return (fall_text(quarters),)
    (y0, front), (at, ridge), (y1, back) = quarters.ceiling_line_mm
    return _fall("front", at - y0, ridge - front), _fall("back", y1 - at, ridge - back)


def _fall(to: str, run: float, fall: float) -> str:
    return (
        f"falls to the {to} 1:{run / abs(fall):.1f}, {degrees(atan2(abs(fall), run)):.1f}°, "
        f"{whole(abs(fall))} in {whole(run)}"
    )
