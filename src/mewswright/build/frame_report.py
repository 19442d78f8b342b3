"""A frame under its loads, from the roof to the ground: what `frame --json` prints."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from math import isfinite
from typing import Any

from pydantic import BaseModel, ConfigDict

from mewswright import handbook
from mewswright.build.actions.combine import service_class
from mewswright.build.actions.of_unit import actions_on
from mewswright.build.actions.result import Actions
from mewswright.build.corridor_frame import (
    as_of_row,
    corridor_joints,
    corridor_told,
    loaded_corridor,
)
from mewswright.build.footing_checks import (
    footing_assumptions,
    footing_refusals,
    footing_results,
    pressure_of,
)
from mewswright.build.frame import built_frame, framed_walls
from mewswright.build.frame_members import members
from mewswright.build.frame_path import joints_of
from mewswright.build.frame_uprights import Carried, Down
from mewswright.build.ground_line import ground_line
from mewswright.build.ground_words import ground_cautions
from mewswright.build.holding.facts import frame_facts
from mewswright.build.holding.stability import Stability, stability
from mewswright.build.holding.standing import Run, Standing, WindCase
from mewswright.build.lines import Lines, lines_of
from mewswright.build.lining import braces
from mewswright.build.member_loads import FacePush, MemberLoads, MemberResult
from mewswright.build.panel_joints import panel_joints
from mewswright.build.parts import BuiltFrame
from mewswright.build.row import row_named, same_front, shell_in, units_in
from mewswright.build.row_units import shared_walls
from mewswright.build.shell import breadth_depth_mm, head_mm
from mewswright.build.soles import sole_results
from mewswright.build.steel_beams import beam_assumptions, beam_cautions, beam_refusals
from mewswright.build.steel_posts import steel_assumptions, steel_cautions, steel_refusals
from mewswright.build.strength.check import Check, check
from mewswright.build.strength.deck import Deck, deck_checks
from mewswright.build.strength.design import connection_kmod
from mewswright.build.strength.fasteners import Grip, lateral
from mewswright.build.strength.uplift_path import Joint
from mewswright.build.water.report import drainage
from mewswright.handbook.fasteners import fastener
from mewswright.model.fitting import Side
from mewswright.model.problem import Problem
from mewswright.model.quantity import m_from_mm
from mewswright.model.quarters import SIDES, Quarters
from mewswright.model.yard import Yard

OSB_SERVICE_CLASS = 2  # OSB/3 has no strength on record for class 3
LINING_NAIL = "nail_2.8x65"  # through a lining of sheets into the studs
CAUTIONS = (
    "This is a first sizing, not a design for approval: the local code and a licensed engineer "
    "decide, and they see the place.",
    "Snow, wind and factors are the yard file's. Have them confirmed by whoever issues them.",
    "Timber is taken as graded, sound and dry where it says so; a knot in the wrong place is not.",
    "What is not checked: footings in slopes or made ground, doors and their hinges, mesh and "
    "bars themselves, fire, earthquakes.",
)


class MemberLine(BaseModel):
    """One mark of the frame and what governs it."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    mark: str
    what: str
    section: str
    strength_class: str
    length_mm: float
    governing: str
    utilisation: float
    combination: str
    checks: tuple[str, ...]

    def contract(self) -> dict[str, Any]:
        """The keys that are promised: `class` is no name for a field in Python."""
        found = self.model_dump()
        found["class"] = found.pop("strength_class")
        return found


class FrameReport(BaseModel):
    """How a frame stands. `sound` is False where anything is used more than wholly."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    yard: str
    quarters: str
    edition: str
    assumptions: tuple[str, ...]
    actions: tuple[dict[str, Any], ...]
    members: tuple[MemberLine, ...]
    deck: tuple[dict[str, Any], ...]
    joints: tuple[dict[str, Any], ...]
    stability: dict[str, Any]
    anchors: dict[str, Any]
    bearing: dict[str, Any]
    drainage: dict[str, Any]
    sound: bool
    weakest: str
    refusals: tuple[str, ...]
    cautions: tuple[str, ...]

    def contract(self) -> dict[str, Any]:
        """What `--json` prints. A share without end, of what resists nothing, is null."""
        told = self.model_dump() | {"members": [member.contract() for member in self.members]}
        return {key: _finite(value) for key, value in told.items()}


def _finite(value: Any) -> Any:
    """The same without numbers that JSON cannot hold."""
    if isinstance(value, float):
        return value if isfinite(value) else None
    if isinstance(value, dict):
        return {key: _finite(one) for key, one in value.items()}
    return [_finite(one) for one in value] if isinstance(value, list | tuple) else value


def frame_report(yard: Yard, quarters: Quarters) -> FrameReport:
    """Check the frame of a unit from its roof to the ground.

    Args:
        yard: The yard, with its loads.
        quarters: The unit.

    Raises:
        Problem: For a pitch, a yard without loads, or a roof whose rules end here.
    """
    if quarters.kind == "pitch" or not quarters.has_roof:
        raise Problem(
            f"{quarters.name!r} has no roof to carry: a frame is checked for a loft, a shelter or "
            "an isolation with one"
        )
    row = row_named(yard, quarters.name)
    if row is not None and not same_front(units_in(yard, row)):
        raise Problem(
            f"the fronts or backs of row {row.name!r} are not all alike, and the wind on it is not "
            f"reckoned then: check each unit, {', '.join(row.quarters)}, and ask an engineer"
        )
    from mewswright.build.anchoring import anchored  # it holds frames against their wind

    leans = loaded_corridor(yard, quarters)
    if leans is not None:
        told = anchored(leans.yard, leans.whole)
        leans = replace(leans, whole=told.quarters)
        words = [f"corridor: {told.why}"] if told.why else []
    else:
        words = []
    chosen = anchored(yard, quarters)
    quarters = chosen.quarters
    words = [*([chosen.why] if chosen.why else []), *words]
    built = built_frame(yard, quarters, corridor=False)
    shell = shell_in(yard, quarters)
    loads = actions_on(yard, quarters, built)
    lines = lines_of(built, quarters.depth_mm)
    behind: Mapping[float, Mapping[str, Down]] = {}
    of_corridor: tuple[MemberResult, ...] = ()
    brought: Carried | None = None
    if leans is not None:
        of_corridor, brought = member_results(leans.whole, leans.loads, leans.lines)
        behind = brought.down["front"]
    found, carried = member_results(quarters, loads, lines, behind)
    if leans is not None:
        found += tuple(as_of_row(one, leans) for one in of_corridor)
    wind = wind_cases(built, loads)
    felt = member_loads(quarters, loads)
    found += tuple(sole_results(yard, quarters, lines, felt, carried, built.parts))
    found += tuple(footing_results(yard, quarters, loads, wind, lines, carried, built.parts))
    feet = footing_refusals(yard, quarters)
    decks = deck_lines(quarters, loads, lines)
    stands = stability_of(yard, quarters, built, loads)
    walls = framed_walls(yard, shell)
    joints = joints_of(quarters, loads, lines, carried, stands)
    joints += panel_joints(quarters.frame, (*walls, *shared_walls(yard, quarters)), wind)
    steel = (*steel_refusals(quarters, lines), *beam_refusals(quarters))
    bearing = pressure_of(yard, quarters, loads, lines, carried)
    shares = [
        (one.worst.utilisation, f"{one.mark}, {one.what}: {one.worst.check}") for one in found
    ]
    shares += [(one.utilisation, f"roof deck: {one}") for one in decks]
    shares += [(joint.utilisation, f"{joint.name}: {joint.means}") for joint in joints]
    shares.append((_share(bearing), f"the ground under {bearing.direction}: {bearing.name}"))
    weak = stands.weakest
    shares.append((_share(weak), f"standing: {weak.name}, {weak.direction}"))
    alone = stands
    if leans is not None and brought is not None:
        alone = stability_of(leans.yard, leans.whole, leans.built, leans.loads)
        weak = alone.weakest
        shares.append((_share(weak), f"corridor, standing: {weak.name}, {weak.direction}"))
        below = deck_lines(leans.whole, leans.loads, leans.lines)
        shares += [(one.utilisation, f"corridor, roof deck: {one}") for one in below]
        decks += below
        more = corridor_joints(yard, quarters, leans, brought, alone)
        shares += [(joint.utilisation, f"{joint.name}: {joint.means}") for joint in more]
        joints += more
    most, weakest = max(shares, key=lambda one: one[0])
    return FrameReport(
        yard=yard.yard.name,
        quarters=quarters.name,
        edition=loads.edition,
        assumptions=(*loads.assumptions, *stands.assumptions, *_own_assumptions(quarters, built),
                     *steel_assumptions(quarters, lines), *beam_assumptions(quarters),
                     *corridor_told(yard, quarters),
                     *footing_assumptions(quarters, walls), *words),
        actions=tuple(
            {
                "name": f.name, "value": f.value, "unit": f.unit, "clause": f.clause,
                "how_known": f.how_known, "why": f.why,
            }
            for f in loads.figures
        ),
        members=tuple(_line(one) for one in found),
        deck=tuple(_check(one) for one in decks),
        joints=tuple(_joint(joint) for joint in joints),
        stability=stands.as_dict(),
        anchors=stands.holding.as_dict() | {"chosen": chosen.why},
        bearing=bearing.as_dict(),
        drainage=drainage(yard, quarters).model_dump(mode="json"),
        sound=most <= 1 and stands.sound and alone.sound and not steel and not feet,
        weakest=weakest if most > 0 else "",
        refusals=(*loads.refusals, *(leans.loads.refusals if leans else ()), *steel, *feet),
        cautions=(*CAUTIONS, *steel_cautions(lines), *beam_cautions(quarters),
                  *ground_cautions(yard, shell, ground_line(yard, shell))),
    )  # fmt: skip


def _share(check: Standing) -> float:
    return float("inf") if check.utilisation is None else check.utilisation


def member_loads(quarters: Quarters, loads: Actions) -> MemberLoads:
    """The loads of a unit as its members feel them: the fiercest zone, for safety."""
    roof = quarters.roof
    covered = roof is not None and roof.covered_share == 1
    faces: dict[Side, FacePush] = {}
    for side in SIDES:
        face = loads.wind.face(side)
        faces[side] = FacePush(face.into_edge_kn_m2, face.out_edge_kn_m2)
    return MemberLoads(
        dead_kn_m2=loads.dead.roof_down_kn_m2,
        dead_least_kn_m2=loads.dead.roof_up_kn_m2,
        snow_kn_m2=max(loads.snow.peak_kn_m2, loads.snow.uniform_kn_m2),
        wind_up_kn_m2=loads.wind.roof_up_edge.kn_m2,
        wind_down_kn_m2=loads.wind.roof_down_edge.kn_m2,
        eave_up_kn_m2=loads.wind.overhang_up_kn_m2,
        maintenance_kn_m2=loads.maintenance.spread_kn_m2,
        maintenance_kn=loads.maintenance.point_kn,
        faces=faces,
        lean_kn=loads.person.point_kn,
        lean_height_m=loads.person.height_m,
        bate_kn=loads.bird.bate.force_kn if loads.bird else 0.0,
        factors=loads.factors,
        roof_service_class=service_class("rafter", covered),
        lean_kn_m=loads.person.line_kn_m,
        eave_snow_kn_m=loads.snow.eave_kn_m or 0.0,
        exceptional_snow_kn_m2=loads.snow.exceptional_kn_m2,
    )


def member_results(
    quarters: Quarters, loads: Actions, lines: Lines,
    behind: Mapping[float, Mapping[str, Down]] | None = None,
) -> tuple[tuple[MemberResult, ...], Carried]:  # fmt: skip
    """Every mark once, by its worst place; and what its beams bring down."""
    decked = quarters.roof is not None and quarters.roof.deck is not None
    plate_mm = head_mm(quarters.frame)[1]
    worst: dict[str, MemberResult] = {}
    found, carried = members(lines, member_loads(quarters, loads), plate_mm, decked, behind)
    for one in found:
        seen = worst.get(one.mark)
        if seen is None or one.worst.utilisation > seen.worst.utilisation:
            worst[one.mark] = one
    return tuple(worst.values()), carried


def deck_lines(quarters: Quarters, loads: Actions, lines: Lines) -> list[Check]:
    """The deck under a foot and under its spread loads; nothing without a deck of sheets."""
    roof = quarters.roof
    if roof is None or roof.deck is None or not lines.rafters:
        return []
    thick = handbook.material(roof.deck).thickness_mm
    if thick is None:
        return []
    spacing_mm = max(line.spacing_m for line in lines.rafters) * 1000
    wet = member_loads(quarters, loads).roof_service_class
    if wet > OSB_SERVICE_CLASS and roof.deck.startswith("osb"):
        note = "beside an open part it gets wet: roof all of it, or take boards"
        return [
            check("OSB in the wet", "EN 300, EN 1995-1-1, Table 3.1", wet, OSB_SERVICE_CLASS,
                  "service class", note)
        ]  # fmt: skip
    deck = Deck(thick, spacing_mm, wet)
    snow = max(loads.snow.peak_kn_m2, loads.snow.uniform_kn_m2)
    variable = max(
        snow, loads.maintenance.spread_kn_m2, loads.wind.roof_down_edge.kn_m2,
        loads.snow.exceptional_kn_m2 / loads.factors.gamma_q,  # which carries no factor
    )  # fmt: skip
    return deck_checks(deck, loads.dead.roof_down_kn_m2, variable, loads.maintenance.point_kn)


def wind_cases(built: BuiltFrame, loads: Actions) -> list[WindCase]:
    """Wind on the whole unit from each side; half of its push comes to the head plates."""
    width, depth = m_from_mm(built.outer_width_mm), m_from_mm(built.outer_depth_mm)
    found = []
    for case in loads.wind.cases:
        sides: Sequence[Side] = SIDES if case.wind_from == "canopy" else (_side(case.wind_from),)
        for side in sides:
            along: Run = "depth" if side in ("front", "back") else "width"
            across = width if along == "depth" else depth
            arm = (loads.roof_depth_m if along == "depth" else loads.roof_width_m) / 2
            push = loads.wind.drag(side) * loads.peak.qp_kn_m2 * across * loads.height_m
            lift = case.roof_up_kn_m2 * loads.roof_plan_m2
            told = case.name(True)
            name = told if len(sides) == 1 else f"{told}, from the {side}"
            found.append(WindCase(name, along, push, loads.height_m / 2, lift, arm, push / 2))
    return found


def _side(name: str) -> Side:
    return next(side for side in SIDES if side == name)


def stability_of(
    yard: Yard, quarters: Quarters, built: BuiltFrame, loads: Actions, *, offer: bool = True
) -> Stability:
    """Lift, sliding, tipping, racking and sway of the whole unit; anchors offered, if wished."""
    dead_kn = loads.dead.roof_up_kn_m2 * loads.roof_plan_m2 + loads.dead.walls_low_kn
    nail_n = lining_nail_n(quarters) if braces(quarters.frame.lining) else None
    return stability(
        m_from_mm(built.outer_width_mm), m_from_mm(built.outer_depth_mm), dead_kn,
        wind_cases(built, loads), frame_facts(yard, quarters, nail_n), offer=offer,
    )  # fmt: skip


def lining_nail_n(quarters: Quarters) -> float:
    """Design lateral strength of one nail of the lining [N], for wind that lasts a moment.

    Source:
        EN 1995-1-1:2004, 8.2.2, 8.3.1; kmod between two materials by 2.3.2.1.
    """
    sheet = handbook.material(quarters.frame.lining)
    timber = handbook.timber_class(quarters.frame.strength_class)
    _, depth = breadth_depth_mm(quarters.frame.stud)
    osb = handbook.osb_class(sheet.thickness_mm or 0.0)
    found = lateral(
        fastener(LINING_NAIL),
        Grip("osb3", sheet.thickness_mm or 0.0, osb.rho_k),
        Grip("timber", depth, timber.rho_k),
    )
    kmod = connection_kmod(
        handbook.timber_kmod("osb3", 2, "short").value,
        handbook.timber_kmod("solid", 2, "short").value,
    )
    return found.capacity_n * kmod / handbook.gamma_m("connection").value


def _own_assumptions(quarters: Quarters, built: BuiltFrame) -> Iterator[str]:
    yield "members are checked one by one: plates and rafters as beams on simple supports"
    yield "snow and wind of the fiercest zone and edge are taken all over: safe, and heavy"
    if quarters.ridge_mm is not None:
        yield "the joint of the ridge beam and its post is held as a plate's is, by the same ties"
    lies = "stands on edge" if quarters.frame.head_on_edge else "lies flat"
    yield f"a head plate {lies} on its posts, as it is set out"
    if built.of_row or built.shared:
        yield (
            "no wind is put on a shared wall, but a person who leans and a bird that bates are; a "
            "draught from one open front to the next is not reckoned"
        )
    if built.shared:
        yield (
            "it is loaded and must stand as though it stood alone, without what braces it next "
            "door: that is harder; check the row as a whole too"
        )
    if built.of_row:
        yield (
            "the row stands as one, its units bolted together; shared walls are counted as weight "
            "and do not brace it"
        )
    yield f"timber {quarters.frame.strength_class}; posts, plates and studs in service class 3"


def _line(one: MemberResult) -> MemberLine:
    return MemberLine(
        mark=one.mark, what=one.what, section=one.section, strength_class=one.strength_class,
        length_mm=round(one.length_mm), governing=one.worst.check.name,
        utilisation=round(one.worst.utilisation, 3), combination=one.worst.combination,
        checks=tuple(str(check) for check in one.worst.checks),
    )  # fmt: skip


def _check(one: Check) -> dict[str, Any]:
    return {
        "name": one.name, "clause": one.clause, "demand": one.demand,
        "capacity": one.capacity, "unit": one.unit,
        "utilisation": round(one.utilisation, 3), "note": one.note,
    }  # fmt: skip


def _joint(joint: Joint) -> dict[str, Any]:
    return {
        "name": joint.name, "means": joint.means, "count": joint.count,
        "capacity_kn": round(joint.capacity_kn, 3),
        "utilisation": None if joint.utilisation == float("inf") else round(joint.utilisation, 3),
        "source": joint.source.name, "how_known": joint.source.how_known, "note": joint.note,
    }  # fmt: skip
