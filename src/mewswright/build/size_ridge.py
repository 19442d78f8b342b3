"""The ridge of a duopitch: its beam is chosen before the rest, its posts with the rest.

A beam under the ridge carries the same roof whatever the walls are made of, so the cheapest that
carries it as the unit stands is kept. Posts under it take their section from `frame.post`, and are
judged with every frame.
"""

from collections.abc import Sequence

from mewswright.build.frame_report import MemberLine, frame_report
from mewswright.model.problem import Problem
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard

RIDGE_KEYS = ("ridge", "ridge_posts")
MORE_POSTS = 3  # posts inside that are tried beyond those of the yard file


def ridged(
    yard: Yard, quarters: Quarters, sections: Sequence[str]
) -> tuple[Quarters, tuple[str, ...]]:
    """The unit with the cheapest ridge beam in stock that carries, and what was taken for granted.

    Posts inside stand in the birds' room: more of them than the yard file has are only taken where
    no beam in stock carries without.

    Args:
        yard: Its loads.
        quarters: The unit; without a ridge it comes back as it is.
        sections: Sections in stock, the cheapest first.
    """
    if quarters.ridge_mm is None:
        return quarters, ()
    said = (
        "the ridge beam is chosen first, under the roof as it stands, and the rest under it: a "
        "roof of other rafters might do with another beam",
    )
    own = quarters.frame.ridge_posts
    for posts in range(own, own + MORE_POSTS + 1):
        for section in sections:
            keys = {"ridge": section, "ridge_posts": posts}
            unit = quarters.model_copy(update={"frame": quarters.frame.model_copy(update=keys)})
            if all(one.utilisation <= 1 for one in ridge_members(yard, unit, "ridge beam")):
                more = posts - own
                inside = f"no beam in stock carries the ridge without {counted(more)} inside"
                return unit, (*said, inside) if more else said
    return quarters, said


def ridge_members(yard: Yard, quarters: Quarters, *whats: str) -> tuple[MemberLine, ...]:
    """The members of a ridge that are so called, as the whole report tells them.

    A ridge that cannot be set out is used without end.
    """
    try:
        report = frame_report(yard, quarters)
    except Problem as problem:
        return (
            MemberLine(
                mark="ridge", what=whats[0], section=quarters.frame.ridge, strength_class="",
                length_mm=0, governing=str(problem), utilisation=float("inf"), combination="",
                checks=(),
            ),
        )  # fmt: skip
    return tuple(one for one in report.members if one.what.startswith(whats))


def counted(posts: int) -> str:
    """So many more posts, in words."""
    return "one more post" if posts == 1 else f"{posts} more posts"
