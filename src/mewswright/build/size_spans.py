"""How far rafters of a section reach between their plates on this site, by their spacing."""

from collections.abc import Sequence
from dataclasses import replace

from pydantic import BaseModel, ConfigDict

from mewswright.build.frame_members import rafter_result
from mewswright.build.lines import RafterLine
from mewswright.build.member_loads import MemberResult
from mewswright.build.shell import head_mm
from mewswright.build.size_judge import Judge
from mewswright.model.quarters import Frame

SPACINGS_MM = (600.0, 400.0, 300.0)
STEP_MM = 100  # spans are told to the step below
SHORTEST_MM = 300  # judgement: no roof spans less
LONGEST_MM = 6000  # judgement: farther is no household's roof


class Reach(BaseModel):
    """The longest span of one section at one spacing, and what fails beyond it."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    section: str
    spacing_mm: float
    span_mm: int  # 0: not even the shortest that is asked
    overhang: bool  # False: its overhangs fail at any span, so that the span is without them
    then: str  # the check that fails one step farther; blank: nothing up to the longest asked
    here_mm: int  # what rafters span on this unit, along the slope

    @property
    def words(self) -> str:
        """In words."""
        then = f", then {self.then} fails" if self.then else ""
        how_far = f"up to {self.span_mm / 1000:.1f} m" if self.span_mm else "at no span"
        how_far += "" if self.overhang else " without an overhang, and none with the unit's"
        return f"rafters of {self.section} at {self.spacing_mm:g} mm hold {how_far}{then}"


def reaches(judge: Judge, base: Frame, sections: Sequence[str]) -> tuple[Reach, ...]:
    """How far rafters of some sections reach under this unit's loads.

    Overhangs, pitch and loads are the unit's; only the distance between the supports changes.
    Where its overhang fails by itself, under a person at the eave, it is left off and told so.

    Args:
        judge: Of the unit; beams of one shape are solved once.
        base: Its frame.
        sections: Sections of rafters.
    """
    found = []
    for section in sections:
        frame = base.model_copy(update={"rafter": section})
        line = max(judge.lines(frame).rafters, key=lambda one: one.supports_m[1])
        found += [_reach(judge, frame, line, spacing) for spacing in SPACINGS_MM]
    return tuple(found)


def _reach(
    judge: Judge, frame: Frame, line: RafterLine, spacing_mm: float, *, overhang: bool = True
) -> Reach:
    roof = judge.quarters.roof
    decked = roof is not None and roof.deck is not None
    loads = judge.roof(frame).loads

    def at(span_mm: int) -> MemberResult:
        first, last = line.supports_m
        before = first if overhang else 0.0
        beyond = line.length_m - last if overhang else 0.0
        span_m = span_mm / 1000
        asked = replace(
            line, spacing_m=spacing_mm / 1000, length_m=before + span_m + beyond,
            supports_m=(before, before + span_m),
            run_m=line.run_m * span_mm / 1000 / (last - first),
        )  # fmt: skip
        return rafter_result(asked, loads, head_mm(frame)[1], decked, judge.shelf.solve)[0]

    low, high = SHORTEST_MM - STEP_MM, LONGEST_MM + STEP_MM  # holds, fails
    fails = ""
    while high - low > STEP_MM:
        middle = (low + high) // 2 // STEP_MM * STEP_MM
        worst = at(middle).worst
        if worst.utilisation <= 1:
            low = middle
        else:
            high, fails = middle, worst.check.name
    if low < SHORTEST_MM and overhang:
        return _reach(judge, frame, line, spacing_mm, overhang=False)
    first, last = line.supports_m
    return Reach(
        section=frame.rafter, spacing_mm=spacing_mm, span_mm=low if low >= SHORTEST_MM else 0,
        overhang=overhang, then=fails, here_mm=round(1000 * (last - first)),
    )  # fmt: skip
