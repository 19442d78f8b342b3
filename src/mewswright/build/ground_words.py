"""What is said of the ground and of the footings of a unit: levels, limits and cautions."""

from collections.abc import Iterator

from mewswright.build.footings import hole_of
from mewswright.build.ground_line import PAD_HIGH_MM, SLEEPER_HIGH_MM, GroundLine
from mewswright.build.holding.ground import frost_word
from mewswright.build.shell import Shell
from mewswright.model.yard import Yard

STACK_MM = 300.0  # judgement: sleepers laid on each other, or slabs, no higher than this
STANDS_OUT_MM = 600.0  # judgement: legs and short posts that stand out further sway
STEP_MM = 200.0  # judgement: a higher step wants a tread of its own
CORNER_NAMES = ("A, front left", "B, front right", "C, back right", "D, back left")


def ground_words(shell: Shell, ground: GroundLine) -> Iterator[str]:
    """Say how the ground was taken, where it is not plain."""
    kind = shell.quarters.frame.base
    if kind == "posts_in_concrete":
        hole = hole_of(shell)
        yield (
            f"each short post stands {hole.embed_mm:.0f} mm in concrete on {hole.gravel_mm:.0f} mm "
            f"of gravel, in a hole {hole.across_mm:.0f} mm across and {hole.deep_mm:.0f} mm deep; "
            "the posts are the anchors, by the weight of their concrete alone"
        )
    if ground.is_plain:
        return
    levels = ", ".join(
        f"{name} {ground.below_mm(*corner):.0f}"
        for name, corner in zip(CORNER_NAMES, ground.corners_mm, strict=True)
    )
    yield f"the ground lies below the finished floor by [mm]: {levels}; one even slope is taken"
    yield f"the step at the front, from the ground to the floor, is {ground.step_mm:.0f} mm"


def ground_cautions(yard: Yard, shell: Shell, ground: GroundLine) -> Iterator[str]:
    """Say what of the ground and the footings somebody must look at."""
    frame = shell.quarters.frame
    deepest = ground.deepest_mm
    if frame.base == "sleepers" and deepest > STACK_MM + SLEEPER_HIGH_MM / 5:
        yield (
            f"Sleepers would lie {deepest:.0f} mm high at the lowest corner, over "
            f"{STACK_MM:.0f} mm (our judgement): cut a level terrace into the slope, or set base "
            "to posts_in_concrete."
        )
    if frame.base == "pads" and deepest > STANDS_OUT_MM + PAD_HIGH_MM:
        yield _stands_out("Legs on pads", deepest - PAD_HIGH_MM)
    if frame.base == "posts_in_concrete" and deepest > STANDS_OUT_MM:
        yield _stands_out("Short posts", deepest)
    if frame.base == "slab" and not ground.is_plain:
        yield (
            f"The slab's low edge lies {deepest:.0f} mm above the ground: it needs a downstand or "
            "a retaining edge, which is not counted."
        )
    if ground.step_mm > STEP_MM and not ground.is_plain:
        yield (
            f"The step at the front is {ground.step_mm:.0f} mm: whoever carries a bird needs a "
            f"tread every {STEP_MM:.0f} mm at most, and a tethered bird must not hang over it."
        )
    if not ground.is_level:
        yield (
            f"{water_from_above(ground)} Nothing here holds soil back: where the slope is cut, a "
            "retaining wall is a matter for an engineer."
        )
    if frame.base == "posts_in_concrete":
        yield from _frost(yard, shell)


def water_from_above(ground: GroundLine) -> str:
    """Say where water comes down a slope to the unit, and what keeps it off."""
    sides = " and the ".join(ground.uphill)
    return (
        f"Water comes down the slope to the {sides}: lead it round the unit by a ditch or a drain "
        "above it."
    )


def _stands_out(what: str, by_mm: float) -> str:
    return (
        f"{what} stand up to {by_mm:.0f} mm out of the ground, over {STANDS_OUT_MM:.0f} mm (our "
        "judgement): their sway is not checked; brace them both ways, or cut a "
        "terrace."
    )


def _frost(yard: Yard, shell: Shell) -> Iterator[str]:
    frost = yard.loads.frost_depth_mm if yard.loads else None
    deep = hole_of(shell).deep_mm
    if frost is None or deep < frost:
        said = frost_word("posts in concrete", frost, deep)
        yield f"{said[0].upper()}{said[1:]}."
