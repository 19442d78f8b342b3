"""The order of building: steps with their parts, tools, people and hours, and where to stop.

Every part of the take-off is taken up in one step, a fixing where it is first needed. Hours
are those of build/work.py, so that they sum to what `compare` gives.
"""

from collections.abc import Iterable, Iterator, Sequence
from math import ceil

from pydantic import BaseModel, ConfigDict

from mewswright.build.masses import part_mass
from mewswright.build.order_words import HOLDS_AFTER, STEPS, TOOLS, StepWords, is_coat
from mewswright.build.parts import Part
from mewswright.build.takeoff import TakeOff
from mewswright.build.work import DIG, Work, hours_of, works_of
from mewswright.model.quarters import Quarters

LIFT_KG = 25.0  # judgement: what one person lifts and sets by hand, where carry_kg is not given
TILTED_SHARE = 0.5  # derived: of a wall that turns on its foot, hands carry half at the start
OPEN_TOP = "open top"

# Where a kind of part is taken up; what is named below goes before its kind.
_KIND = {
    "base": "base", "sole": "frame", "head": "frame", "post": "frame", "stud": "frame",
    "nogging": "frame", "trim": "frame", "board": "clad", "bar": "clad", "mesh": "clad",
    "net": "clad", "batten": "clad", "ridge": "rafters", "rafter": "rafters", "deck": "rafters",
    "covering": "cover", "door": "doors", "hatch": "doors", "membrane": "floor",
    "substrate": "floor", "perch": "fit", "bath": "fit", "finish": "fit", "fixing": "stand",
    "rain": "rain",
}  # fmt: skip
_NAMED = {
    "ridge post inside": "stand",
    "knee brace": "brace",
    "lining sheet": "brace",
    "tapered packing under a rafter": "rafters",
    "blocking between rafters": "rafters",
    "roof batten": "rafters",
    "ridge capping": "cover",
    "edge trim of the roof": "cover",
    "stand-off block of outer mesh": "clad",
    "structural screw": "frame",
    "angle bracket": "frame",
    "end plate": "frame",
    "self-drilling screw": "frame",
    "coach bolt": "stand",
    "bolt between panels": "stand",
    "washer of a bolt between panels": "stand",
    "tie strap over a joint of head plates": "stand",
    "bolt of the ledger": "rafters",
    "hanger of a rafter": "rafters",
    "ledger": "rafters",
    "lining nail": "brace",
    "lining screw": "brace",
    "anchor": "brace",
    "concrete of the anchors": "brace",
    "strap cast into a hole": "brace",
    "restraint strap": "rafters",
    "joist hanger": "rafters",
    "board nail": "clad",
    "staple": "clad",
    "clout nail": "cover",
    "roofing screw": "cover",
    "hinge and bolt set": "doors",
    "hinges, no bolt": "doors",
    "key lock": "doors",
    "code lock": "doors",
    "release from inside": "doors",
    "closer": "doors",
    "hatch hinges and catch": "doors",
}
_WORK = {
    "setting_out": "set_out", "ground_prep": "ground", "base_concrete": "base",
    "base_hole": "base", "base_pad": "base", "base_sleeper": "base", "coating": "coat",
    "stud_wall": "frame", "post": "frame", "boarding": "clad", "bars": "clad", "mesh": "clad",
    "net": "clad", "slats": "clad", "sheathing": "brace", "rafters_deck": "rafters",
    "roof_boards": "cover", "roof_corrugated": "cover", "roof_felt": "cover",
    "roof_polycarbonate": "cover", "door": "doors", "hatch": "doors", "flap": "doors",
    "dig_barrier": "floor", "membrane": "floor", "substrate": "floor", "bath": "fit",
    "perch": "fit", "gutter": "rain", "butt": "rain", "rain_drain": "rain", "soakaway": "rain",
}  # fmt: skip


class WorkLine(BaseModel):
    """One kind of work within a step."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    id: str  # of handbook/build_hours.csv
    what: str
    amount: float
    per: str  # of what the amount is: m2, m3, m, count
    hours: float  # of one person, at the middle of the band


class Step(BaseModel):
    """One step of the building."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    number: int
    key: str  # stays the same for good
    title: str
    do: str
    marks: tuple[str, ...]  # parts that are taken up, as the take-off marks them
    tools: tuple[str, ...]
    people: int
    heaviest: str  # what the people are for; blank: nothing heavy
    heaviest_kg: float | None
    hours: float
    works: tuple[WorkLine, ...]
    holds: tuple[str, ...]  # do not go on before each of these is so


class BuildOrder(BaseModel):
    """The steps of one unit, in the order of building."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    yard: str
    quarters: str
    hours: float  # of one person; as `compare` gives them
    steps: tuple[Step, ...]
    assumptions: tuple[str, ...]

    def step_of(self, mark: str) -> Step:
        """Give the step that a part is taken up in; KeyError if there is none."""
        for step in self.steps:
            if mark in step.marks:
                return step
        raise KeyError(mark)


def build_order(quarters: Quarters, takeoff: TakeOff) -> BuildOrder:
    """Put the building of a unit in order.

    Args:
        quarters: The unit, or a row seen as one.
        takeoff: Its take-off.

    Returns:
        The steps; one that has neither part nor work nor hold point is left out.
    """
    works = works_of(quarters, takeoff)
    frame = quarters.frame
    carried = frame.bay_max_mm is not None or frame.carry_kg is not None
    keys = _keys(carried and frame.carry_clad)
    at = {part.mark: _step_of(part, takeoff.parts, keys) for part in takeoff.parts}
    steps: list[Step] = []
    for key in keys:
        words = STEPS[key]
        own = [part for part in takeoff.parts if at[part.mark] == key]
        work = list(_shared(works, takeoff.parts, key))
        holds = tuple(HOLDS_AFTER[key](takeoff)) if key in HOLDS_AFTER else ()
        if own or work or holds:
            lifted = [*_lifted(own)]
            if key == "stand":
                share = 1.0 if carried else TILTED_SHARE
                lifted += ((what, share * kg) for what, kg in _walls(takeoff, keys))
            steps.append(
                _step(len(steps) + 1, words, own, work, holds, lifted, frame.carry_kg or LIFT_KG)
            )
    lift = (
        f"{frame.carry_kg:g} kg, as carry_kg says"
        if frame.carry_kg
        else f"{LIFT_KG:g} kg (our judgement)"
    )
    return BuildOrder(
        yard=takeoff.yard,
        quarters=takeoff.quarters,
        hours=hours_of(works),
        steps=tuple(steps),
        assumptions=(
            "hours are those of one person, the middle of each band in handbook/build_hours.csv, "
            "without weather, fetching and waiting; sawing is in the hours of what is sawn",
            f"people are counted so that none lifts more than {lift}; what has no mass on record "
            "is not counted",
            "panels are carried, and each is lifted whole"
            if carried
            else "walls are made beside the base and tilted up on their sole plates, so that half "
            "their mass is lifted (derived); no panel is carried, for neither bay_max_mm nor "
            "carry_kg is given",
        ),
    )


def _keys(clad_first: bool) -> tuple[str, ...]:
    """Keys of the steps in order; walls are clad before they are stood up, or under the roof."""
    start, rest = ("set_out", "ground", "base", "coat", "frame"), ("rafters", "cover")
    after = ("rain", "doors", "floor", "fit")
    if clad_first:
        return (*start, "clad", "stand", "brace", *rest, *after)
    return (*start, "stand", "brace", *rest, "clad", *after)


def _step_of(part: Part, parts: Sequence[Part], keys: Sequence[str]) -> str:
    if part.what.startswith(DIG):
        return "floor"
    if part.what.startswith(OPEN_TOP):
        return "cover"
    if is_coat(part):
        return "coat"
    if part.what == "sheet screw":  # of decks and of battens: it goes with the first of these
        fixed = {_step_of(p, (), keys) for p in parts if p.kind in ("deck", "batten")}
        return min(fixed, key=keys.index, default="rafters")
    if part.what == "staple" and not any(
        p.kind in ("mesh", "net") and _step_of(p, (), keys) == "clad" for p in parts
    ):
        return "cover"
    return _NAMED.get(part.what) or _KIND[part.kind]


def _shared(works: Iterable[Work], parts: Sequence[Part], key: str) -> Iterator[Work]:
    """Work of a step. Mesh and net of an open top are fixed with the roof, the rest on walls."""
    for work in works:
        if work.id in ("mesh", "net"):
            top = sum(p.amount for p in parts if p.kind == work.id and p.what.startswith(OPEN_TOP))
            amount = {"cover": top, "clad": work.amount - top}.get(key, 0.0)
            if amount > 0:
                yield Work(work.id, amount, work.band)
        elif _WORK[work.id] == key:
            yield work


def _step(
    number: int, words: StepWords, parts: Sequence[Part], works: Sequence[Work],
    holds: tuple[str, ...], lifted: Sequence[tuple[str, float]], lift_kg: float,
) -> Step:  # fmt: skip
    heavy, kg = max(lifted, key=lambda one: one[1], default=("", None))
    tools = [*words.tools, *(tool for work in works for tool in TOOLS[work.id])]
    if any(part.sawn for part in parts):
        tools += ("saw", "square")
    return Step(
        number=number,
        key=words.key,
        title=words.title,
        do=words.do,
        marks=tuple(part.mark for part in parts),
        tools=tuple(dict.fromkeys(tools)),
        people=max(words.people, ceil((kg or 0.0) / lift_kg - 1e-9)),
        heaviest=heavy,
        heaviest_kg=None if kg is None else round(kg, 1),
        hours=round(sum(work.hours for work in works), 2),
        works=tuple(
            WorkLine(
                id=work.id, what=work.band.what, amount=round(work.amount, 3), per=work.band.per,
                hours=round(work.hours, 3),
            )
            for work in works
        ),
        holds=holds,
    )  # fmt: skip


def _lifted(parts: Iterable[Part]) -> Iterator[tuple[str, float]]:
    """What is lifted in one, and its mass [kg]; what is poured does not count."""
    for part in parts:
        mass = part_mass(part)
        if mass is not None and part.unit not in ("m3", "l"):
            # A part in running pieces is bought and lifted in stock pieces, at the most.
            pieces = max(part.count, ceil(part.amount) if part.unit == "piece" else 0)
            yield f"{part.what}, {part.mark}", mass.kg / pieces


def _walls(takeoff: TakeOff, keys: Sequence[str]) -> Iterator[tuple[str, float]]:
    """Panels, and the mass of what each holds when it is stood up [kg]."""
    before = keys[: keys.index("stand")]
    parts = takeoff.parts
    made = {p.mark: p for p in parts if _step_of(p, parts, keys) in before}
    for panel in takeoff.panels:
        masses = (
            mass.kg / made[own.mark].count * own.count
            for own in panel.parts
            if own.mark in made and (mass := part_mass(made[own.mark])) is not None
        )
        yield f"panel {panel.mark}", sum(masses)
