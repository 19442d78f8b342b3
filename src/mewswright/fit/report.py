"""What `fit --json` prints, and the edits that write a layout into a yard file."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from pydantic import BaseModel, ConfigDict

from mewswright.checks.finding import Finding
from mewswright.checks.registry import catalogue
from mewswright.fit.change import Edit, edited
from mewswright.fit.conflict import Clash, Least, clash, least, room_itself
from mewswright.fit.judged import bad
from mewswright.fit.layout import Laid, Room, best_layouts, room_for
from mewswright.fit.score import WEIGHTS, WHAT
from mewswright.fit.search import Clock
from mewswright.model.fitting import AnyFitting, Bath, Hatch, Perch
from mewswright.model.problem import Problem
from mewswright.model.quantity import millimetres
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard

PLACED = "PLWBTK"  # letters of the codes that places of fittings can meet
SHARE_FOR_WHY = 0.5  # of the time, kept for saying why where no layout is found
CAUTION = (
    "The checks judge places and sizes. Look at each bird on its new perches, and lower, pad or "
    "move what it takes badly: its feet and feathers decide."
)
IN_A_DOORWAY = (
    "No layout was found that leaves every doorway free: look where you will step in, and let the "
    "leaf swing outward."
)


class Part(BaseModel):
    """One soft wish: how far it is met, 0 to 1, its weight, and the points that makes."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    wish: str
    what: str
    share: float
    weight: float
    points: float


class Proposal(BaseModel):
    """One layout: fittings with their places, its score, and what no fitting can cure."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    rank: int
    score: float
    parts: tuple[Part, ...]
    fittings: tuple[AnyFitting, ...]
    kept: tuple[str, ...]
    harm: int
    short: int
    mind: int
    left: tuple[Finding, ...]


class Requirement(BaseModel):
    """One requirement of a clash: its code, title, and what the nearest layout misses."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    code: str
    title: str
    said: tuple[str, ...]


class LeastRoom(BaseModel):
    """Least dimensions at which a layout was found [mm]; None where none was."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    width_mm: float | None
    depth_mm: float | None
    front_height_mm: float | None
    back_height_mm: float | None
    ridge_height_mm: float | None = None  # of a duopitch
    together: dict[str, float] | None


class Conflict(BaseModel):
    """Why there is no layout."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    requirements: tuple[Requirement, ...]
    smallest: bool
    least: LeastRoom
    words: str


class FitReport(BaseModel):
    """Layouts for one unit, the best first, or why there is none. The keys are stable.

    `clean` is True where the first layout leaves no harm and no short in the unit at all.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")
    yard: str
    quarters: str
    standards: tuple[str, ...]
    birds: tuple[str, ...]
    layouts: tuple[Proposal, ...]
    clean: bool
    conflict: Conflict | None
    tried: int
    seed: int
    cautions: tuple[str, ...]


@dataclass(frozen=True)
class Fitting:
    """The report, and the edits and the yard of the best layout."""

    report: FitReport
    edits: tuple[Edit, ...]
    yard: Yard


def fit(
    yard: Yard,
    quarters: str,
    keep: Sequence[str] = (),
    seed: int = 1,
    seconds: float = 6.0,
    clock: Clock | None = None,
    standards: Sequence[str] | None = None,
    on: date | None = None,
) -> Fitting:
    """Lay out perches, bath and hatch in a unit for the birds that live there.

    Args:
        yard: The yard.
        quarters: Name of the unit.
        keep: Names of fittings that stay as they are.
        seed: Of the search; the same seed gives the same layouts while time is enough.
        seconds: When to stop, at the latest, by the clock [s].
        clock: Gives seconds; None = no limit but the count of steps.
        standards: Standards to judge by; None = those that bind the yard.
        on: Day on which the rows of the standards must bind; None = rows without an end.

    Raises:
        Problem: For unknown quarters or fittings, a pitch, a unit without birds, or a kept
            fitting that the checks are against already.
    """
    if not seconds > 0:
        raise Problem(f"the time to search is {seconds:g} s: give more than 0")
    if seed < 0:
        raise Problem(f"the seed of the search is {seed}: give 0 or more")
    room = room_for(yard, quarters, keep, seed, standards, on)
    end_s = clock() + seconds if clock is not None else 0.0
    layouts_s = end_s - seconds * SHARE_FOR_WHY
    too_small = room_itself(room)
    laid, pool = ([], []) if too_small else best_layouts(room, clock, layouts_s)
    conflict = None
    if not laid:
        half_s = end_s - seconds * SHARE_FOR_WHY / 2
        reasons = too_small or clash(room, pool, clock, half_s)
        conflict = _conflict(room, reasons, least(room, clock, end_s))
    report = FitReport(
        yard=yard.yard.name,
        quarters=quarters,
        standards=tuple(standards or yard.yard.standards),
        birds=tuple(dict.fromkeys(r.bird.name for r in room.case.residents)),
        layouts=tuple(_proposal(i, one, keep) for i, one in enumerate(laid, start=1)),
        clean=bool(laid) and laid[0].left == 0,
        conflict=conflict,
        tried=room.tried,
        seed=seed,
        cautions=(CAUTION, IN_A_DOORWAY) if any(x.blocks_a_door for x in laid) else (CAUTION,),
    )
    edits = _edits(room.quarters, laid[0].quarters) if laid else ()
    return Fitting(report, edits, edited(yard, edits) or yard)


def _proposal(rank: int, laid: Laid, keep: Sequence[str]) -> Proposal:
    parts = tuple(
        Part(
            wish=name, what=WHAT[name], share=round(share, 3), weight=WEIGHTS[name],
            points=round(WEIGHTS[name] * share, 1),
        )
        for name, share in laid.parts.items()
    )  # fmt: skip
    of = [finding.status for finding in laid.findings]
    return Proposal(
        rank=rank,
        score=round(laid.score, 1),
        parts=parts,
        fittings=laid.layout.fittings(),
        kept=tuple(keep),
        harm=of.count("harm"),
        short=of.count("short"),
        mind=of.count("mind"),
        left=tuple(bad(laid.findings)),
    )


def _conflict(room: Room, why: Clash, sizes: Least) -> Conflict:
    titles = {check.code: check.title for check in catalogue()}
    requirements = tuple(
        Requirement(
            code=code,
            title=titles.get(code, ""),
            said=tuple(str(finding) for finding in why.told if finding.code == code),
        )
        for code in why.codes
    )
    q = room.quarters
    higher = sizes.higher_mm
    front, back = q.front_height_mm or 0.0, q.back_height_mm or 0.0
    together = None
    if sizes.together is not None:
        width, depth, raised = sizes.together
        together = {
            "width_mm": width, "depth_mm": depth,
            "front_height_mm": front + raised, "back_height_mm": back + raised,
        }  # fmt: skip
        if q.ridge_mm is not None:
            together["ridge_height_mm"] = q.ridge_mm[1] + raised
    room_words = LeastRoom(
        width_mm=sizes.width_mm,
        depth_mm=sizes.depth_mm,
        front_height_mm=None if higher is None else front + higher,
        back_height_mm=None if higher is None else back + higher,
        ridge_height_mm=None if higher is None or q.ridge_mm is None else q.ridge_mm[1] + higher,
        together=together,
    )
    return Conflict(
        requirements=requirements, smallest=why.smallest, least=room_words,
        words=_words(q, requirements, room_words),
    )  # fmt: skip


def _words(q: Quarters, asked: Sequence[Requirement], sizes: LeastRoom) -> str:
    names = "; ".join(f"{one.code} {one.title.lower()}" for one in asked) or "nothing named"
    alone = []
    if sizes.width_mm is not None:
        alone.append(f"{millimetres(sizes.width_mm)} wide instead of {millimetres(q.width_mm)}")
    if sizes.depth_mm is not None:
        alone.append(f"{millimetres(sizes.depth_mm)} deep instead of {millimetres(q.depth_mm)}")
    if sizes.front_height_mm is not None and q.front_height_mm is not None:
        higher = sizes.front_height_mm - q.front_height_mm
        ends = "front and back" if q.ridge_mm is None else "front, back and ridge"
        alone.append(f"{millimetres(higher)} higher, {ends}")
    if alone:
        ways = f"a layout was found at: {', or '.join(alone)}"
    elif sizes.together is not None:
        all_three = ", ".join(
            f"{key.removesuffix('_mm').replace('_', ' ')} {millimetres(value)}"
            for key, value in sizes.together.items()
        )
        ways = f"no one dimension is enough; a layout was found with {all_three}"
    else:
        ways = "no size was found that helps: fewer birds, or another unit"
    if all(one.code[0] not in PLACED for one in asked):
        return f"no fitting cures what the room itself lacks: {names}; {ways}"
    return f"no layout meets these together: {names}; {ways}"


def _edits(old: Quarters, new: Quarters) -> tuple[Edit, ...]:
    """What turns the fittings of one unit into those of another, in a yard file."""
    where = ("quarters", old.name, "fitting")
    before = {fitting.name: fitting for fitting in old.fitting}
    after = {fitting.name: fitting for fitting in new.fitting}
    found: list[Edit] = []
    for name, fitting in before.items():
        other = after.get(name)
        if other is None or other.kind != fitting.kind:
            found.append(Edit((*where, name), how="drop"))
        elif other != fitting:
            found += _puts((*where, name), fitting, other)
    for name, fitting in after.items():
        if name not in before or before[name].kind != fitting.kind:
            values = fitting.model_dump(exclude_defaults=True) | {
                "kind": fitting.kind, "name": name,
            }  # fmt: skip
            found.append(Edit(where, values, "add"))
    return tuple(found)


def _puts(
    where: tuple[str, ...], old: Perch | Bath | Hatch | AnyFitting, new: AnyFitting
) -> list[Edit]:
    before, after = old.model_dump(), new.model_dump()
    return [Edit((*where, key), after[key]) for key in after if after[key] != before.get(key)]
