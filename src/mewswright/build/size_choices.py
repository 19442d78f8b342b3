"""What `size` may choose from: sections, spacings, bracing and anchors."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import product
from math import ceil
from typing import Any

from mewswright.build.lining import NO_SHEET
from mewswright.build.shell import breadth_depth_mm, head_mm, shell_of
from mewswright.build.size_stock import area_mm2
from mewswright.build.walls import BAY_MM
from mewswright.model.problem import Problem
from mewswright.model.quarters import Frame, Quarters
from mewswright.model.yard import Yard

RAFTER_SPACINGS_MM = (600.0, 450.0, 400.0, 300.0)
STUD_SPACINGS_MM = (600.0, 400.0, 300.0)
NAILS_MM = (150.0, 100.0, 75.0, 50.0)
LININGS = ("osb3_9", "osb3_11")  # what is nailed to walls; thicker only where the yard has it
CLOSEST_POSTS_MM = 600.0  # judgement: closer posts are a wall
MOST_POSTS = 20  # as many as a yard file may state
HOLES_MM = (
    (350.0, 700.0),
    (450.0, 900.0),
    (600.0, 900.0),
    (600.0, 1200.0),
)  # judgement: dug by hand
LEGS_MM = (600.0, 400.0, 250.0)  # judgement: knee braces for wide and for narrow bays


@dataclass(frozen=True)
class Brace:
    """How a frame is braced: sheets on its boarded walls, knee braces in its open front."""

    lining: str = NO_SHEET
    nail_mm: float = 150.0
    brace: str = "none"
    leg_mm: float = 600.0

    @property
    def keys(self) -> dict[str, Any]:
        """As keys of the yard file."""
        return {
            "lining": self.lining, "lining_nail_mm": self.nail_mm,
            "brace": self.brace, "brace_leg_mm": self.leg_mm,
        }  # fmt: skip


@dataclass(frozen=True)
class Anchor:
    """One kind of anchor; of a hole of concrete how wide and deep [mm], None for the usual."""

    kind: str
    hole_mm: tuple[float, float] | None = None

    @property
    def keys(self) -> dict[str, Any]:
        """As keys of the yard file."""
        return {"anchor": self.kind, "hole_mm": self.hole_mm}


@dataclass(frozen=True)
class Choices:
    """Everything that may be chosen; one of each makes a frame.

    Attributes:
        rafters: Section and greatest spacing [mm].
        heads: Section of the head plates, and whether they stand on edge.
        posts: Section and how many along the front.
        studs: Section and greatest spacing [mm].
        braces: Ways of bracing.
        anchors: Kinds of anchors; of holes of concrete with their size.
        counts: How many anchors there may be.
    """

    rafters: tuple[tuple[str, float], ...]
    heads: tuple[tuple[str, bool], ...]
    posts: tuple[tuple[str, int | None], ...]
    studs: tuple[tuple[str, float], ...]
    braces: tuple[Brace, ...]
    anchors: tuple[Anchor, ...]
    counts: tuple[int, ...] = tuple(range(101))

    @property
    def combinations(self) -> int:
        """How many frames these choices make."""
        sizes = map(len, (self.rafters, self.heads, self.posts, self.studs, self.braces))
        total = 1
        for size in sizes:
            total *= size
        return total * max(
            1, sum(1 if a.kind == "none" else len(self.counts) for a in self.anchors)
        )

    def frames(self, base: Frame) -> Iterator[Frame]:
        """Every frame that these choices make."""
        timber = product(self.rafters, self.heads, self.posts, self.studs, self.braces)
        for rafter, head, post, stud, brace in timber:
            for anchor in self.anchors:
                for count in (0,) if anchor.kind == "none" else self.counts:
                    yield framed_as(base, rafter, head, post, stud).model_copy(
                        update={**brace.keys, **anchor.keys, "anchor_count": count}
                    )


def framed_as(
    base: Frame, rafter: tuple[str, float], head: tuple[str, bool],
    post: tuple[str, int | None], stud: tuple[str, float],
) -> Frame:  # fmt: skip
    """A frame with other timbers; the rest stays."""
    return base.model_copy(
        update={
            "rafter": rafter[0], "rafter_spacing_mm": rafter[1],
            "head": head[0], "head_on_edge": head[1],
            "post": post[0], "post_count": post[1],
            "stud": stud[0], "stud_spacing_mm": stud[1],
        }
    )  # fmt: skip


def choices_for(yard: Yard, quarters: Quarters, sections: Sequence[str]) -> Choices:
    """What may be chosen for a unit from some sections of timber.

    Walls get no thicker than they are, for units stand side by side. Sole plates and
    noggings stay: on most bases nothing is asked of them that would tell a lighter one.

    Args:
        yard: For the sheets that it has prices of.
        quarters: The unit.
        sections: Sections that can be had.

    Raises:
        Problem: If no section is left that fits its walls.
    """
    frame, wall_mm = quarters.frame, wall_limit_mm(quarters, sections)
    fits = [s for s in sections if breadth_depth_mm(s)[1] <= wall_mm]
    heads = []
    for section in sections:
        breadth, depth = breadth_depth_mm(section)
        heads += [(section, False)] if depth <= wall_mm else []
        heads += [(section, True)] if breadth <= wall_mm and depth > breadth else []
    if not fits or not heads:
        raise Problem(
            f"no section of the stock fits a wall {wall_mm:g} mm thick of {quarters.name!r}: "
            "add [[stock]] no deeper than that"
        )
    return Choices(
        rafters=tuple(product(sections, RAFTER_SPACINGS_MM)),
        heads=tuple(heads),
        posts=tuple(product(fits, post_counts(quarters))),
        studs=tuple(product(fits, STUD_SPACINGS_MM)),
        braces=braces_for(yard, frame),
        anchors=anchors_for(yard, frame),
    )


def wall_limit_mm(quarters: Quarters, sections: Sequence[str]) -> float:
    """How thick walls may get: as they are, or as the thinnest that the sections make [mm]."""
    return max(shell_of(quarters).wall_mm, min(breadth_depth_mm(s)[1] for s in sections))


def on_stock(quarters: Quarters, sections: Sequence[str]) -> tuple[Quarters, tuple[str, ...]]:
    """The unit with sole plates and noggings that can be had, and what that changed.

    Args:
        quarters: The unit.
        sections: Sections that can be had, the cheapest first.
    """
    limit_mm = wall_limit_mm(quarters, sections)
    cheapest = next(s for s in sections if breadth_depth_mm(s)[1] <= limit_mm)
    keys: tuple[tuple[str, str], ...] = (("sole", "sole plates"), ("nogging", "noggings"))
    swapped = [
        (key, name, has)
        for key, name in keys
        if (has := getattr(quarters.frame, key)) not in sections
    ]
    frame = quarters.frame.model_copy(update={key: cheapest for key, _, _ in swapped})
    said = [f"{name} of {cheapest}: {has} is not in stock" for _, name, has in swapped]
    now_mm = shell_of(quarters).wall_mm
    if limit_mm > now_mm:
        said.append(
            f"walls {limit_mm:g} mm thick: nothing in stock fits the {now_mm:g} mm that they are; "
            "see that what stands beside has room"
        )
    return quarters.model_copy(update={"frame": frame}), tuple(said)


def post_counts(quarters: Quarters) -> tuple[int | None, ...]:
    """How many posts a front may have, few to many; None where it has none to choose."""
    if quarters.faces is None or quarters.faces.front.is_solid:
        return (quarters.frame.post_count,)
    fewest = max(2, ceil(quarters.width_mm / BAY_MM) + 1)
    most = min(MOST_POSTS, max(fewest, int(quarters.width_mm // CLOSEST_POSTS_MM) + 1))
    return tuple(range(fewest, most + 1))


def sheets_for(yard: Yard, frame: Frame) -> tuple[str, ...]:
    """Sheets that may line walls: those that the yard has a price of, else the usual ones."""
    priced = [one.item for one in yard.price if one.item.startswith("osb3_")]
    now = [frame.lining] if frame.lining.startswith("osb3_") else []
    return tuple(dict.fromkeys((*now, *(priced or LININGS))))


def braces_for(yard: Yard, frame: Frame) -> tuple[Brace, ...]:
    """Ways of bracing: none, sheets on the boarded walls, knee braces in an open front."""
    sheets = sheets_for(yard, frame)
    legs = dict.fromkeys((frame.brace_leg_mm, *LEGS_MM))
    knees = [("none", frame.brace_leg_mm), *(("knee", leg) for leg in legs)]
    ways = [Brace(NO_SHEET, frame.lining_nail_mm, *knee) for knee in knees]
    ways += [Brace(sheet, nail, *knee) for sheet in sheets for nail in NAILS_MM for knee in knees]
    return tuple(ways)


def anchors_for(yard: Yard, frame: Frame) -> tuple[Anchor, ...]:
    """Anchors that count without a test on the spot: none, slab anchors, holes of concrete.

    Holes reach below the frost where the yard says how deep that is.
    """
    if frame.base == "posts_in_concrete":
        return (Anchor("none", frame.hole_mm),)  # its posts are its anchors
    frost = yard.loads.frost_depth_mm if yard.loads else None
    sizes = [(across, max(deep, frost or 0.0)) for across, deep in HOLES_MM]
    holes = dict.fromkeys((None, *((frame.hole_mm,) if frame.hole_mm else ()), *sizes))
    slab = [Anchor("slab_anchor")] if frame.base == "slab" else []
    return (Anchor("none"), *slab, *(Anchor("concrete_hole", size) for size in holes))


def strongest(choices: Choices) -> Choices:
    """The few choices that carry most: to learn quickly whether anything at all would pass."""

    def most(sections: Sequence[str]) -> list[str]:
        whole = list(dict.fromkeys(sections))
        by_depth = sorted(whole, key=lambda s: (breadth_depth_mm(s)[1], area_mm2(s)))[-1:]
        return list(dict.fromkeys((*by_depth, *sorted(whole, key=area_mm2)[-1:])))

    counts = sorted({count or 0 for _, count in choices.posts})[-3:]
    closest = min(spacing for _, spacing in choices.rafters)
    near = min(spacing for _, spacing in choices.studs)
    return replace(
        choices,
        rafters=tuple((s, closest) for s in most([s for s, _ in choices.rafters])),
        heads=tuple(h for h in choices.heads if h[0] in most([s for s, _ in choices.heads])),
        posts=tuple(
            (s, count or None) for s in most([s for s, _ in choices.posts]) for count in counts
        ),
        studs=tuple((s, near) for s in most([s for s, _ in choices.studs])),
        braces=tuple(b for b in choices.braces if b.nail_mm == min(NAILS_MM)) or choices.braces,
    )


def wall_of_mm(frame: Frame) -> float:
    """Thickness of the walls: the deepest of their timbers [mm]."""
    return max(
        head_mm(frame)[1], *(breadth_depth_mm(s)[1] for s in (frame.post, frame.sole, frame.stud))
    )
