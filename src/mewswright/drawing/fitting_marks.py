"""Perches, baths and the other fittings, as they look from above."""

from math import cos, inf, radians, sin

from mewswright.drawing.scene import Circle, Line, Mark, Point, Polygon
from mewswright.model.fitting import AnyFitting, Bath, Device, Hatch, Perch, Shelf, Upright
from mewswright.model.quarters import Quarters, perch_ends_mm


def item_of(fitting: AnyFitting) -> str:
    """Give the item name that links and tests use."""
    return f"{fitting.kind}:{fitting.name}"


def size_text(fitting: AnyFitting) -> str:
    """Say a fitting's size and height as a label does: 'top 2000, Ø45 × 1400'."""
    match fitting:
        case Perch():
            if fitting.form in ("flat", "shelf"):
                size = f"{fitting.length_mm:.0f} × {fitting.width_mm:.0f}"
            elif fitting.length_mm is not None:
                size = f"Ø{fitting.diameter_mm:.0f} × {fitting.length_mm:.0f}"
            else:
                size = f"Ø{fitting.diameter_mm:.0f}"
            return f"top {fitting.height_mm:.0f}, {size}"
        case Bath():
            w, d = fitting.size_mm
            size = f"Ø{w:.0f}" if fitting.diameter_mm is not None else f"{w:.0f} × {d:.0f}"
            return f"{size}, {fitting.depth_mm:.0f} deep, rim {fitting.rim_height_mm:.0f}"
        case Hatch():
            return f"{fitting.width_mm:.0f} × {fitting.height_mm:.0f}, sill {fitting.sill_mm:.0f}"
        case Shelf():
            return f"{fitting.length_mm:.0f} × {fitting.width_mm:.0f}, at {fitting.height_mm:.0f}"
        case Upright():
            return f"{fitting.size_mm:.0f} × {fitting.size_mm:.0f}"
        case Device():
            return f"{fitting.kind}, at {fitting.height_mm:.0f}"


def fitting_title(fitting: AnyFitting) -> str:
    """Say a fitting in one line."""
    return f"{fitting.name}: {size_text(fitting)}"


def rectangle(middle: Point, along: float, across: float, turn_deg: float = 0) -> tuple[Point, ...]:
    """Give the corners of a turned rectangle."""
    c, s = cos(radians(turn_deg)), sin(radians(turn_deg))
    return tuple(
        (middle[0] + u * along / 2 * c - v * across / 2 * s,
         middle[1] + u * along / 2 * s + v * across / 2 * c)
        for u, v in ((-1, -1), (1, -1), (1, 1), (-1, 1))
    )  # fmt: skip


def top_mm(fitting: AnyFitting) -> float:
    """Give the height of a fitting's top above the floor [mm]; a post counts as the highest."""
    match fitting:
        case Bath():
            return fitting.rim_height_mm
        case Hatch():
            return fitting.sill_mm + fitting.height_mm
        case Upright():
            return fitting.top_mm if fitting.top_mm is not None else inf
        case _:
            return fitting.height_mm


def plan_marks(fitting: AnyFitting, quarters: Quarters, scale: int) -> list[Mark]:
    """Draw one fitting from above.

    Args:
        fitting: The fitting.
        quarters: Where it is.
        scale: N of 1:N.

    Returns:
        Its marks, without lettering.
    """
    item, title = item_of(fitting), fitting_title(fitting)
    match fitting:
        case Perch():
            return _perch(fitting, item, title, scale)
        case Bath() if fitting.diameter_mm is not None:
            r = fitting.diameter_mm / 2
            return [
                Circle(
                    layer="fittings", centre=fitting.at_mm, radius=r, fill="water", item=item,
                    title=title,
                ),
                Circle(
                    layer="fittings", pen="hair", centre=fitting.at_mm, radius=r * 0.88, item=item
                ),
            ]  # fmt: skip
        case Bath():
            return [_box(fitting.at_mm, *fitting.size_mm, item, title, water=True)]
        case Shelf():
            return [_box(fitting.at_mm, fitting.length_mm, fitting.width_mm, item, title)]
        case Upright():
            return [_box(fitting.at_mm, fitting.size_mm, fitting.size_mm, item, title)]
        case Hatch():
            return _hatch(fitting, quarters, item, title)
        case Device():
            return [
                Circle(
                    layer="fittings", centre=fitting.at_mm, radius=1.5 * scale, fill="paper",
                    item=item, title=title,
                )
            ]  # fmt: skip


def _box(
    at: Point, along: float, across: float, item: str, title: str, *, water: bool = False
) -> Mark:
    return Polygon(
        layer="fittings", points=rectangle(at, along, across), item=item, title=title,
        fill="water" if water else "timber",
    )  # fmt: skip


def _cross(at: Point, scale: int, item: str) -> list[Mark]:
    (x, y), arm = at, 1.2 * scale
    arms = (((x - arm, y), (x + arm, y)), ((x, y - arm), (x, y + arm)))
    return [Line(layer="fittings", pen="hair", item=item, a=a, b=b) for a, b in arms]


def _perch(perch: Perch, item: str, title: str, scale: int) -> list[Mark]:
    thick = perch.width_mm or perch.diameter_mm or 0
    if perch.length_mm is None:
        marks: list[Mark] = [
            Circle(
                layer="fittings", pen="medium", centre=perch.at_mm, radius=thick / 2,
                fill="timber", item=item, title=title,
            )
        ]  # fmt: skip
        return marks + _cross(perch.at_mm, scale, item)
    a, b = perch_ends_mm(perch)
    length = ((b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2) ** 0.5
    body = Polygon(
        layer="fittings", pen="medium", fill="timber", item=item, title=title,
        points=rectangle(perch.at_mm, length, thick, perch.turn_deg),
    )  # fmt: skip
    return [body, *_cross(perch.at_mm, scale, item)]


def hatch_spot(hatch: Hatch, quarters: Quarters) -> Point:
    """Give the middle of a hatch on the inner face of its wall [x, y]."""
    return {
        "front": (hatch.at_mm, 0.0),
        "back": (hatch.at_mm, quarters.depth_mm),
        "left": (0.0, hatch.at_mm),
        "right": (quarters.width_mm, hatch.at_mm),
    }[hatch.face]


def _hatch(hatch: Hatch, quarters: Quarters, item: str, title: str) -> list[Mark]:
    x, y = hatch_spot(hatch, quarters)
    ledge = max(hatch.ledge_mm, 20.0)
    along_x = hatch.face in ("front", "back")
    inwards = {"front": (0, 1), "back": (0, -1), "left": (1, 0), "right": (-1, 0)}[hatch.face]
    middle = (x + inwards[0] * ledge / 2, y + inwards[1] * ledge / 2)
    size = (hatch.width_mm, ledge) if along_x else (ledge, hatch.width_mm)
    return [
        Polygon(
            layer="fittings", points=rectangle(middle, *size), fill="timber", item=item,
            title=title,
        )
    ]  # fmt: skip
