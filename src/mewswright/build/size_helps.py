"""What would help where nothing passes: each way is tried, and told with its outcome."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import product

from mewswright.build.size_choices import RAFTER_SPACINGS_MM, Choices, choices_for, strongest
from mewswright.build.size_judge import Judge
from mewswright.build.size_price import Pricer
from mewswright.build.size_search import failing, search, told
from mewswright.build.size_stock import stocked, usual_sections
from mewswright.model.fitting import Side
from mewswright.model.problem import Problem
from mewswright.model.quarters import Face, Frame, Quarters
from mewswright.model.yard import Yard

CLOSER_MM = 200.0  # closer than what is usual: told as a help, never chosen
SHALLOWER = 0.75  # of the depth, tried as a help
THICKER_MM = 145.0  # walls, tried as a help
PART_OF_STAGE = {
    "rafters": "rafters", "front plate": "heads", "back plate": "heads",
    "front uprights": "posts", "back uprights": "studs", "sides": "studs",
}  # fmt: skip
SECTION_KEYS = ("rafter", "head", "post", "stud", "sole", "nogging")


@dataclass(frozen=True)
class Asked:
    """A question to `search`: the yard, the unit, what is offered, and the sections in stock."""

    yard: Yard
    unit: Quarters
    choices: Choices
    sections: tuple[str, ...]


def helps(asked: Asked, stage: str) -> Iterator[str]:
    """What would help where nothing in stock passes.

    Args:
        asked: What was asked in vain.
        stage: The first stage that nothing passed.
    """
    alone = list(_ways_out(asked, stage))
    any_stands = False
    for words, way in alone:
        outcome, stands = _tried(words, way, asked.sections)
        any_stands |= stands
        if outcome:
            yield outcome
    if not any_stands and len(alone) > 1:
        every = asked
        for change in ("closer", "stock", "slab", "thick"):
            every = _widened(every, change, stage) or every
        yield from filter(None, [_tried("all of these but the depth", every, asked.sections)[0]])


def _tried(words: str, way: Asked, own: tuple[str, ...]) -> tuple[str, bool]:
    try:
        found, trail = search(
            Judge(way.yard, way.unit), Pricer(way.yard, way.unit), strongest(way.choices),
            way.unit.frame, first=True,
        )  # fmt: skip
    except Problem:
        return "", False
    if found is not None:
        used = dict.fromkeys(getattr(found.frame, key) for key in SECTION_KEYS)
        bought = [section for section in used if section not in own]
        more = f", with {' and '.join(bought)} in stock" if bought else ""
        return f"{words}: then a frame stands, such as {_short(found.frame)}{more}", True
    stage = failing(trail)
    near = trail.best.get(stage)
    why = f": {stage}, {told(near[0])}" if near and not near[0].sound else ""
    return f"{words} alone is not enough{why}", False


def _ways_out(asked: Asked, stage: str) -> Iterator[tuple[str, Asked]]:
    for words, way in (
        ("the usual sections in stock", "stock"),
        (f"rafters every {CLOSER_MM:g} mm", "closer"),
        (f"a unit {_shallow_mm(asked.unit):g} mm deep", "shallow"),
        ("a slab", "slab"),
        (f"walls {THICKER_MM:g} mm thick", "thick"),
        (f"boards on the open {_named(_open_walls(asked.unit))}", "boarded"),
    ):
        wider = _widened(asked, way, stage)
        if wider is not None:
            yield words, wider


def _shallow_mm(unit: Quarters) -> float:
    return round(unit.depth_mm * SHALLOWER, -1)


def _widened(asked: Asked, way: str, stage: str) -> Asked | None:
    """The question with one thing changed; None where that changes nothing."""
    unit, choices = asked.unit, asked.choices
    if way == "stock":
        more = tuple(dict.fromkeys((*asked.sections, *usual_sections())))
        part = PART_OF_STAGE.get(stage)
        if part is None or more == asked.sections:
            return None
        yard = stocked(asked.yard, more)
        wide = choices_for(yard, unit, more)
        if getattr(wide, part) == getattr(choices, part):
            return None
        return Asked(yard, unit, replace(choices, **{part: getattr(wide, part)}), more)
    if way == "boarded":
        return _boarded(asked)
    if way == "closer":
        sections = tuple(dict.fromkeys(section for section, _ in choices.rafters))
        spaced = tuple(product(sections, (*RAFTER_SPACINGS_MM, CLOSER_MM)))
        return replace(asked, choices=replace(choices, rafters=spaced))
    if way == "shallow":
        return replace(
            asked,
            unit=unit.model_copy(update={"depth_mm": _shallow_mm(unit), "fitting": ()}),
        )
    if way == "slab":
        if unit.frame.base == "slab":
            return None
        slab = _framed(unit, base="slab")
        anchors = choices_for(asked.yard, slab, asked.sections).anchors
        return replace(asked, unit=slab, choices=replace(choices, anchors=anchors))
    thick = _framed(unit, sole=f"{unit.frame.sole.split('x')[0]}x{THICKER_MM:g}")
    wide = choices_for(asked.yard, thick, asked.sections)
    if len(wide.posts) <= len(choices.posts) and len(wide.heads) <= len(choices.heads):
        return None
    chosen = replace(choices, heads=wide.heads, posts=wide.posts, studs=wide.studs)
    return replace(asked, unit=thick, choices=chosen)


def _open_walls(unit: Quarters) -> tuple[Side, ...]:
    """Walls but the front that are not boarded, so that no sheet can brace them."""
    faces = unit.faces
    walls: tuple[Side, ...] = ("left", "right", "back")
    return () if faces is None else tuple(s for s in walls if not faces.side(s).is_solid)


def _named(walls: Sequence[Side]) -> str:
    *before, last = walls or ("",)
    together = f"{', '.join(before)} and {last}" if before else last
    return f"{together} {'wall' if len(walls) == 1 else 'walls'}"


def _boarded(asked: Asked) -> Asked | None:
    """The question with boards on all walls but the front; sheets that line them may brace."""
    walls, faces = _open_walls(asked.unit), asked.unit.faces
    if not walls or faces is None:
        return None
    closed = faces.model_copy(update=dict.fromkeys(walls, Face(infill="boarded")))
    unit = asked.unit.model_copy(update={"faces": closed})
    return replace(asked, unit=unit, choices=choices_for(asked.yard, unit, asked.sections))


def unbraced(unit: Quarters) -> Iterator[str]:
    """What is missing where no wall from front to back can be braced by what is reckoned here."""
    if {"left", "right"} <= set(_open_walls(unit)):
        yield (
            "the sides: neither the left nor the right wall is boarded, so that no sheet braces "
            "them against wind from the front; mesh and bars brace nothing, and knee braces are "
            "reckoned in the front alone. Board a side wall and line it with sheets (faces.left, "
            'infill = "boarded"; frame.lining), or have an engineer set out crossed straps of '
            "steel or diagonals of timber with their joints, which are not reckoned here"
        )


def _framed(unit: Quarters, **keys: object) -> Quarters:
    return unit.model_copy(update={"frame": unit.frame.model_copy(update=keys)})


def _short(frame: Frame) -> str:
    posts = f"{frame.post_count} posts {frame.post}" if frame.post_count else f"posts {frame.post}"
    return (
        f"rafters {frame.rafter} at {frame.rafter_spacing_mm:g} mm, head {frame.head} "
        f"{'on edge' if frame.head_on_edge else 'flat'}, {posts}, studs {frame.stud}"
    )
