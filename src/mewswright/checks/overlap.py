"""Fittings that cannot be where the yard file puts them."""

from collections.abc import Iterator
from itertools import combinations

from mewswright.build.overlaps import between_mm, body_of, past_wall_mm
from mewswright.checks import asked
from mewswright.checks.asked import verdict
from mewswright.checks.case import Case
from mewswright.checks.finding import TAPE_MM, Finding
from mewswright.checks.limits import whole_mm
from mewswright.checks.registry import quarters_check
from mewswright.model.fitting import Shelf, Upright
from mewswright.model.quantity import millimetres

HELD = (Shelf, Upright)  # a perch may be fixed to one of these: touching is no fault


@quarters_check("P118", "Room for each fitting")
def room_for_each(case: Case) -> Iterator[Finding]:
    """P118: no fitting reaches through a wall, and no two are in one place."""
    q = case.quarters
    by_name = sorted(q.fitting, key=lambda f: f.name)
    bodies = [(f, body) for f in by_name if (body := body_of(q, f)) is not None]
    if not bodies:
        return
    bad = False
    for fitting, _ in bodies if q.kind != "pitch" else ():
        past_mm = past_wall_mm(q, fitting)
        if past_mm > TAPE_MM:
            bad = True
            yield verdict(
                "P118", case, False, "short", measured=millimetres(past_mm), limit=millimetres(0),
                fitting=fitting.name, why="it reaches through a side of the room",
                remedy=f"move it {whole_mm(past_mm)} in, or take a shorter one",
                sources=asked.judgement("two things cannot be in one place"),
            )  # fmt: skip
    for (one, body), (other, other_body) in combinations(bodies, 2):
        if isinstance(one, HELD) or isinstance(other, HELD):
            continue
        gap_mm = between_mm(body, other_body)
        if gap_mm < -TAPE_MM:
            bad = True
            yield verdict(
                "P118", case, False, "short", measured=millimetres(gap_mm), limit=millimetres(0),
                fitting=other.name, why=f"it is where {one.name} is",
                remedy=f"move one of the two {whole_mm(max(1.0, -gap_mm))} or more",
                sources=asked.judgement("two things cannot be in one place"),
            )  # fmt: skip
    if not bad:
        yield verdict(
            "P118", case, True, "short", limit=millimetres(0),
            sources=asked.judgement("two things cannot be in one place"),
        )  # fmt: skip
