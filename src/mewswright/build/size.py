"""`size`: the cheapest sections, spacings, bracing and anchors that pass, or why none do."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import product
from typing import Any

from pydantic import BaseModel, ConfigDict

from mewswright.build.frame_report import FrameReport, frame_report
from mewswright.build.size_choices import (
    RAFTER_SPACINGS_MM,
    Choices,
    choices_for,
    strongest,
)
from mewswright.build.size_judge import Judge, Verdict
from mewswright.build.size_price import Price, Pricer
from mewswright.build.size_search import STAGES, Trail, search
from mewswright.build.size_stock import own_sections, stocked, usual_sections
from mewswright.build.tube import tube_of
from mewswright.model.problem import Problem
from mewswright.model.quarters import Frame, Quarters
from mewswright.model.yard import Yard

# Keys of the frame that are chosen, in the order of the yard file.
CHOSEN = (
    "post", "post_count", "head", "head_on_edge", "stud", "stud_spacing_mm", "rafter",
    "rafter_spacing_mm", "brace", "brace_leg_mm", "lining", "lining_nail_mm", "anchor",
    "anchor_count", "hole_mm",
)  # fmt: skip
PART_OF_STAGE = {
    "rafters": "rafters", "front plate": "heads", "back plate": "heads",
    "front uprights": "posts", "back uprights": "studs", "sides": "studs",
}  # fmt: skip
CLOSER_MM = 200.0  # closer than what is usual: told as a help, never chosen
SHALLOWER = 0.75  # of the depth, tried as a help
THICKER_MM = 145.0  # walls, tried as a help


class Costed(BaseModel):
    """What a frame costs with all that the take-off counts for its unit."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    currency: str
    total: float
    timber: float
    timber_kg: float
    timber_waste_pct: float
    assumed: tuple[str, ...]  # priced by assumption
    missing: tuple[str, ...]  # without any price: not in the total


class SizeReport(BaseModel):
    """The cheapest frame that passes everything, or why none does."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    yard: str
    quarters: str
    found: bool
    frame: dict[str, Any]  # the chosen keys
    changes: dict[str, Any]  # those that the yard file says otherwise
    cost: Costed | None
    cost_now: Costed | None
    weakest: str
    reasons: tuple[str, ...]
    helps: tuple[str, ...]
    combinations: int
    judged: int
    full_analyses: int
    assumptions: tuple[str, ...]
    cautions: tuple[str, ...]


@dataclass(frozen=True)
class Sized:
    """A report with the frame that it chose, and how that one stands."""

    report: SizeReport
    frame: Frame | None
    stands: FrameReport | None


def size(yard: Yard, quarters: Quarters, choices: Choices | None = None) -> Sized:
    """Choose the cheapest frame of a unit that passes everything in its report.

    Args:
        yard: Its stock, prices and loads.
        quarters: The unit; of its frame, what is not chosen stays.
        choices: What may be chosen; None: the yard's stock, and for a part for which
            none of it is enough, the handbook's usual sections.

    Raises:
        Problem: As `frame_report` does, and where no section fits the walls.
    """
    if tube_of(quarters.frame.post) is not None:
        raise Problem(
            f"{quarters.name!r} has posts of steel tube {quarters.frame.post}, and only timber is "
            "chosen here: give frame.post a timber section, or let an engineer size the tube"
        )
    now = frame_report(yard, quarters)  # refuses what cannot be sized
    sections = own_sections(yard)
    widened: list[str] = []
    using = yard if sections else stocked(yard, usual_sections())
    offered = choices or choices_for(using, quarters, sections or usual_sections())
    judge = Judge(using, quarters)
    judged = full = 0
    while True:
        best, trail = search(judge, Pricer(using, quarters), offered, quarters.frame)
        judged += trail.met
        full += trail.confirmed
        stage = failing(trail)
        part = PART_OF_STAGE.get(stage, "")
        if best is not None or choices is not None or not part or part in widened or not sections:
            break
        widened.append(part)
        using = stocked(yard, usual_sections())
        wide = choices_for(using, quarters, tuple(dict.fromkeys((*sections, *usual_sections()))))
        offered = replace(offered, **{part: getattr(wide, part)})
        judge.yard = using
    assumptions = _assumptions(yard, sections, widened, now)
    report = SizeReport(
        yard=yard.yard.name,
        quarters=quarters.name,
        found=best is not None,
        frame=_keys(best.frame) if best else {},
        changes=_changes(quarters.frame, best.frame) if best else {},
        cost=_costed(using, best.price) if best else None,
        cost_now=_costed(using, Pricer(using, quarters).price(quarters.frame)),
        weakest=best.report.weakest if best else "",
        reasons=() if best else tuple(reasons(trail, stage)),
        helps=() if best else tuple(_helps(using, quarters, offered)),
        combinations=trail.combinations,
        judged=judged,
        full_analyses=full,
        assumptions=assumptions,
        cautions=now.cautions,
    )
    return Sized(report, best.frame if best else None, best.report if best else None)


def failing(trail: Trail) -> str:
    """The first stage that nothing passed; where each was passed by something, the last."""
    seen = [stage for stage in STAGES if stage in trail.best]
    return next((s for s in seen if not trail.best[s][0].sound), seen[-1] if seen else "")


def reasons(trail: Trail, stage: str) -> Iterator[str]:
    """Why nothing passes: the part for which nothing is enough, and by how much."""
    if stage not in trail.best:
        yield "no combination could be set out"
        return
    verdict, _ = trail.best[stage]
    if verdict.sound:
        yield (
            f"each part has something that is enough, but no one frame passes them all; the last "
            f"that was asked is {stage}: {_told(verdict)}"
        )
        return
    over = verdict.share - 1
    by = "nothing resists" if over == float("inf") else f"{100 * over:.0f} % too much"
    yield f"{stage}: none is enough; the nearest is {_told(verdict)}, {by}"


def _told(verdict: Verdict) -> str:
    if verdict.share == float("inf"):
        return verdict.words
    return f"{verdict.words}, used to {100 * verdict.share:.0f} %"


def _helps(yard: Yard, quarters: Quarters, offered: Choices) -> Iterator[str]:
    """What would help: each is tried, and told with its outcome."""
    for words, unit, choices in _ways_out(yard, quarters, offered):
        try:
            found, trail = search(
                Judge(yard, unit), Pricer(yard, unit), strongest(choices), unit.frame, first=True
            )
        except Problem:
            continue
        if found is not None:
            yield f"{words}: then a frame stands, such as {_short(found.frame)}"
        else:
            stage = failing(trail)
            near = trail.best.get(stage)
            yield f"{words} alone is not enough" + (
                f": {stage}, {_told(near[0])}" if near and not near[0].sound else ""
            )


def _ways_out(
    yard: Yard, quarters: Quarters, offered: Choices
) -> Iterator[tuple[str, Quarters, Choices]]:
    sections = tuple(dict.fromkeys(section for section, _ in offered.rafters))
    spacings = (*RAFTER_SPACINGS_MM, CLOSER_MM)
    yield (
        f"rafters every {CLOSER_MM:g} mm", quarters,
        replace(offered, rafters=tuple(product(sections, spacings))),
    )  # fmt: skip
    shallow = quarters.model_copy(
        update={"depth_mm": round(quarters.depth_mm * SHALLOWER, -1), "fitting": ()}
    )
    yield f"a unit {shallow.depth_mm:g} mm deep", shallow, offered
    if quarters.frame.base != "slab":
        slab = quarters.model_copy(
            update={"frame": quarters.frame.model_copy(update={"base": "slab"})}
        )
        yield "a slab", slab, replace(offered, anchors=choices_for(yard, slab, sections).anchors)
    thick = quarters.model_copy(
        update={"frame": quarters.frame.model_copy(update={"sole": f"45x{THICKER_MM:g}"})}
    )
    wide = choices_for(yard, thick, sections)
    if len(wide.posts) > len(offered.posts) or len(wide.heads) > len(offered.heads):
        yield f"walls {THICKER_MM:g} mm thick", thick, replace(
            offered, heads=wide.heads, posts=wide.posts, studs=wide.studs
        )  # fmt: skip


def _short(frame: Frame) -> str:
    posts = f"{frame.post_count} posts {frame.post}" if frame.post_count else f"posts {frame.post}"
    return (
        f"rafters {frame.rafter} at {frame.rafter_spacing_mm:g} mm, head {frame.head} "
        f"{'on edge' if frame.head_on_edge else 'flat'}, {posts}, studs {frame.stud}"
    )


def _keys(frame: Frame) -> dict[str, Any]:
    return {key: getattr(frame, key) for key in CHOSEN}


def _changes(now: Frame, then: Frame) -> dict[str, Any]:
    return {key: value for key, value in _keys(then).items() if value != getattr(now, key)}


def _costed(yard: Yard, price: Price) -> Costed:
    sawn = [line for line in price.costing.lines if line.what.startswith(("sawn", "timber for"))]
    return Costed(
        currency=yard.yard.currency,
        total=float(price.total),
        timber=float(sum(line.total for line in sawn if line.total is not None)),
        timber_kg=price.timber_kg,
        timber_waste_pct=price.timber_waste_pct,
        assumed=tuple(
            dict.fromkeys(line.item for line in price.costing.lines if line.priced == "assumption")
        ),
        missing=price.missing,
    )


def _assumptions(
    yard: Yard, sections: Sequence[str], widened: Sequence[str], now: FrameReport
) -> tuple[str, ...]:
    said = [
        "walls get no thicker than they are; sole plates and noggings stay, for nothing is asked "
        "of them that would tell a lighter one",
        "prices are of the whole unit: sawn by its cut plan, fixings, lining and anchors with it; "
        "ties go by the mass of the timber",
        "ground anchors are not offered: they count for nothing until they were pulled on the spot",
    ]
    if not sections:
        said.append(
            "the yard has no timber in stock: the handbook's usual sections are taken, and their "
            "price goes by volume alone, 1000 a cubic metre"
        )
    elif widened:
        said.append(
            f"no section of the yard's stock is enough for the {' and the '.join(widened)}: the "
            "handbook's usual sections are offered there, at the dearest price per volume of the "
            "yard's own (assumed)"
        )
    if yard.price and not any(one.item == "concrete" for one in yard.price):
        said.append("the yard has no price of concrete: holes for anchors cost nothing here")
    return (*said, *now.assumptions)
