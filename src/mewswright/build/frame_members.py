"""Rafters, head plates, posts, studs and sole plates of a unit under its loads.

Each line of force is analysed by itself: rafters on two plates, plates over their uprights
with the rafters' reactions on them, uprights from plate to plate under what comes down and
what the wind, a person or a bird pushes. Walls are held level at head and foot; whether
they can be is a question of racking and sway, asked elsewhere.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import pairwise
from typing import Protocol

from mewswright import handbook
from mewswright.build.actions.combine import ActionKind
from mewswright.build.actions.dead import weight_kn
from mewswright.build.analysis import BeamCase, BeamLoads, LineLoad, PointLoad, beam
from mewswright.build.frame_uprights import SAME_M, Carried, Down, upright_results
from mewswright.build.lines import NEAR_M, Lines, PlateLine, RafterLine, RidgeLine, Stand
from mewswright.build.member_forces import (
    DEAD,
    LEAST_DEAD,
    Case,
    beam_worst,
)
from mewswright.build.member_loads import Cases, MemberLoads, MemberResult, rect
from mewswright.build.ridge import GABLE_POST, INNER_POST
from mewswright.build.shell import birdsmouth_mm, breadth_depth_mm
from mewswright.build.strength.deflection import fall_mm
from mewswright.build.strength.member import Member
from mewswright.build.strength.section import Rect
from mewswright.build.strength.support import Notch
from mewswright.build.tube import Tube, lying, tube_of
from mewswright.handbook.steel import steel_grade
from mewswright.model.fitting import Side
from mewswright.model.quantity import mm_from_m
from mewswright.model.quarters import SIDES

OWN_KN_M3 = 6.0  # a heavy, wet beam; practice, memory


class Solve(Protocol):
    """A solver of beams, as `analysis.beam`; it may remember those that it has met."""

    def __call__(
        self, length_m: float, supports_m: Sequence[float], stiffness_kn_m2: float,
        cases: Mapping[str, BeamLoads], read_m: Sequence[float] = (),
    ) -> Mapping[str, BeamCase]:  # fmt: skip
        """Forces by case."""
        ...


def stiffness_kn_m2(section: Rect, strength_class: str) -> float:
    """Modulus of elasticity times second moment of area about the bending axis [kN m2]."""
    return handbook.timber_class(strength_class).e_mean * section.inertia_y_mm4 * 1e-9


def stiffness_of(section: str, strength_class: str, *, lies_flat: bool = False) -> float:
    """The same of a section of timber or a steel tube [kN m2]."""
    tube = tube_lying(section, lies_flat=lies_flat)
    if tube is not None:
        return steel_grade(strength_class).e_n_mm2 * tube.inertia_mm4() * 1e-9
    return stiffness_kn_m2(rect(section, lies_flat=lies_flat), strength_class)


def tube_lying(section: str, *, lies_flat: bool) -> Tube | None:
    """The tube that a section names, as it stands to what bends it; None for timber."""
    tube = tube_of(section)
    return lying(tube) if tube is not None and lies_flat else tube


def rafter_cases(
    line: RafterLine, loads: MemberLoads, solve: Solve = beam
) -> dict[str, tuple[ActionKind, BeamCase]]:
    """What each load does to one rafter, which carries the whole width of a bay."""
    length, width = line.length_m, line.spacing_m
    first, last = line.supports_m
    middle = (first + last) / 2

    def over(kn_m2: float) -> BeamLoads:
        return BeamLoads((LineLoad(kn_m2 * width, 0.0, length),))

    wind_up = BeamLoads(
        (
            LineLoad(-loads.wind_up_kn_m2 * width, first, last),
            *(
                LineLoad(-loads.eave_up_kn_m2 * width, a, b)
                for a, b in ((0.0, first), (last, length))
                if b - a > 1e-6
            ),
        )
    )
    asked: dict[str, tuple[ActionKind, BeamLoads]] = {
        DEAD: ("dead", over(loads.dead_kn_m2)),
        LEAST_DEAD: ("dead", over(loads.dead_least_kn_m2)),
        "snow": ("snow", over(loads.snow_kn_m2)),
        "wind, lifting": ("wind", wind_up),
        "wind, pressing": ("wind", over(loads.wind_down_kn_m2)),
        "maintenance": ("maintenance", over(loads.maintenance_kn_m2)),
        "a person at mid span": (
            "maintenance", BeamLoads(points=(PointLoad(loads.maintenance_kn, middle),)),
        ),
        "a person at the eave": (
            "maintenance", BeamLoads(points=(PointLoad(loads.maintenance_kn, 0.0),)),
        ),
        "a person at the back eave": (
            "maintenance", BeamLoads(points=(PointLoad(loads.maintenance_kn, length),)),
        ),
    }  # fmt: skip
    if loads.eave_snow_kn_m:
        hanging = PointLoad(loads.eave_snow_kn_m * width, length if line.pitch_deg >= 0 else 0.0)
        lying = over(loads.snow_kn_m2).lines
        asked["snow that hangs over the eave"] = ("snow", BeamLoads(lying, (hanging,)))
    if loads.exceptional_snow_kn_m2:
        asked["exceptional drift"] = ("accident", over(loads.exceptional_snow_kn_m2))
    solved = solve(
        length, line.supports_m, stiffness_of(line.section, line.strength_class),
        {name: load for name, (_, load) in asked.items()},
    )  # fmt: skip
    return {name: (asked[name][0], case) for name, case in solved.items()}


def rafter_result(
    line: RafterLine, loads: MemberLoads, bearing_mm: float, decked: bool, solve: Solve = beam
) -> tuple[MemberResult, dict[str, tuple[ActionKind, BeamCase]]]:
    """Check the rafters of one mark.

    Args:
        line: The rafters.
        loads: Loads of the unit.
        bearing_mm: Width of the plate that they bear on, or less at a birdsmouth [mm].
        decked: True where a nailed deck holds their top edge and shares loads.
        solve: A solver that may remember beams it has met.
    """
    cases = rafter_cases(line, loads, solve)
    span_m = line.supports_m[1] - line.supports_m[0]
    member = Member(
        rect(line.section), line.strength_class, mm_from_m(span_m), loads.roof_service_class,
        top_held_mm=0.0 if decked else None, bearing_mm=_seat_mm(line, bearing_mm),
        notch=_birdsmouth(line), fall_mm=fall_mm(mm_from_m(line.run_m), abs(line.pitch_deg)),
        tube=tube_of(line.section),
    )  # fmt: skip
    worst = beam_worst(member, _listed(cases), loads.factors, decked)
    result = MemberResult(
        line.mark, "rafter", line.section, line.strength_class, mm_from_m(line.length_m), worst
    )
    return result, cases


def _seat_mm(line: RafterLine, plate_mm: float) -> float:
    return min(line.seat_mm, plate_mm) if line.seat_mm else plate_mm


def _birdsmouth(line: RafterLine) -> Notch | None:
    """The cut over a plate: a slope of the pitch, from the middle of the plate to its corner."""
    if not line.seat_mm:
        return None
    _, deep = birdsmouth_mm(line.seat_mm, abs(line.pitch_deg))
    return Notch(breadth_depth_mm(line.section)[1] - deep, line.seat_mm / 2)


def _listed(cases: Mapping[str, tuple[ActionKind, BeamCase]]) -> list[Case]:
    return [Case(kind, name, case) for name, (kind, case) in cases.items()]


def plate_cases(
    line: PlateLine, rafter: Mapping[str, tuple[ActionKind, BeamCase]], solve: Solve = beam
) -> dict[str, tuple[ActionKind, BeamCase]]:
    """What comes down a head plate from the rafters; those at the ends carry half."""
    return _under_rafters(
        line.length_m, line.supports_m, line.rafters_m, line.outermost,
        stiffness_of(line.section, line.strength_class, lies_flat=not line.on_edge),
        rafter, 0 if line.side == "front" else 1, solve,
    )  # fmt: skip


def _under_rafters(
    length_m: float, supports_m: Sequence[float], places: Sequence[float],
    outermost: tuple[bool, bool], stiffness: float,
    rafter: Mapping[str, tuple[ActionKind, BeamCase]], end: int, solve: Solve,
) -> dict[str, tuple[ActionKind, BeamCase]]:  # fmt: skip
    """A beam under one end of the rafters of a slope; those at its ends carry half.

    Args:
        length_m: Its length [m].
        supports_m: Its supports [m].
        places: Where rafters come down on it [m].
        outermost: Whether the first and the last of them are the roof's outermost.
        stiffness: Modulus times second moment [kN m2].
        rafter: What each load does to one rafter.
        end: Which support of the rafter it is, 0 or 1.
        solve: The solver.
    """
    shares = [1.0] * len(places)
    if places:
        first, last = outermost
        shares[0] = 0.5 if first else 1.0
        shares[-1] = 0.5 if last else shares[-1]
    asked = {
        name: BeamLoads(
            points=tuple(
                PointLoad(case.reactions_kn[end] * share, at)
                for at, share in zip(places, shares, strict=True)
            )
        )
        for name, (_, case) in rafter.items()
    }
    # One person stands over one rafter: the one farthest from any upright.
    lone = max(places, key=lambda at: min(abs(at - s) for s in supports_m), default=None)
    for name, (_, case) in rafter.items():
        if name.startswith("a person") and lone is not None:
            asked[name] = BeamLoads(points=(PointLoad(case.reactions_kn[end], lone),))
    solved = solve(length_m, supports_m, stiffness, asked)
    return {name: (rafter[name][0], case) for name, case in solved.items()}


def _with_own(line: PlateLine, cases: Mapping[str, tuple[ActionKind, BeamCase]]) -> dict[
    str, tuple[ActionKind, BeamCase]
]:  # fmt: skip
    """The loads on a head plate of steel with its own weight; that of timber is in the roof's."""
    if tube_of(line.section) is None or DEAD not in cases:
        return dict(cases)
    own_kn_m = _own_kn_m(line.section, line.strength_class)
    own = beam(
        line.length_m, line.supports_m,
        stiffness_of(line.section, line.strength_class, lies_flat=not line.on_edge),
        {DEAD: BeamLoads((LineLoad(own_kn_m, 0.0, line.length_m),))}, line.rafters_m,
    )[DEAD]  # fmt: skip
    return {**cases, DEAD: (cases[DEAD][0], _added(cases[DEAD][1], own))}


def plate_result(
    line: PlateLine, loads: MemberLoads, rafter: Mapping[str, tuple[ActionKind, BeamCase]],
    bearing_mm: float, solve: Solve = beam,
) -> tuple[MemberResult, dict[str, tuple[ActionKind, BeamCase]]]:  # fmt: skip
    """Check one head plate; `solve` may be a solver that remembers beams it has met."""
    cases = _with_own(line, plate_cases(line, rafter, solve))
    gaps = [b - a for a, b in pairwise(line.supports_m)]
    spaces = [b - a for a, b in pairwise(line.rafters_m)]
    held_mm = mm_from_m(max(spaces, default=line.length_m))
    member = Member(
        rect(line.section, lies_flat=not line.on_edge), line.strength_class,
        mm_from_m(max(gaps)), 3,
        top_held_mm=held_mm, bottom_held_mm=held_mm, bearing_mm=bearing_mm,
        tube=tube_lying(line.section, lies_flat=not line.on_edge),
    )  # fmt: skip
    worst = beam_worst(member, _listed(cases), loads.factors, shares_deck=False)
    result = MemberResult(
        line.mark, f"{line.what}, {line.side}", line.section, line.strength_class,
        mm_from_m(line.length_m), worst,
    )  # fmt: skip
    return result, cases


def ridge_result(
    line: RidgeLine, loads: MemberLoads, slopes: Sequence[tuple[RafterLine, Cases]],
    bearing_mm: float, solve: Solve = beam,
) -> tuple[MemberResult, dict[str, tuple[ActionKind, BeamCase]]]:  # fmt: skip
    """Check one length of the ridge beam under the rafters of both slopes.

    Every rafter counts whole, those at the gables too: a length may end at a post inside.
    Rafters at its sides hold both its edges, so that it cannot twist between them. One
    person stands on one slope alone.

    Args:
        line: The beam.
        loads: Loads of the unit.
        slopes: Rafters that hang on it, and what each load does to them.
        bearing_mm: Length of its seat on the narrowest post [mm].
        solve: The solver of beams.
    """
    section = rect(line.section)
    stiffness = stiffness_of(line.section, line.strength_class)
    total: dict[str, tuple[ActionKind, BeamCase]] = {}
    for rafter, cases in slopes:
        end = rafter.held_by.index("ridge")
        found = _under_rafters(
            line.length_m, line.supports_m, line.rafters_m, (False, False), stiffness, cases, end,
            solve,
        )  # fmt: skip
        for name, (kind, case) in found.items():
            if name in total and not name.startswith("a person"):
                total[name] = (kind, _added(total[name][1], case))
            elif name not in total or max(case.reactions_kn) > max(total[name][1].reactions_kn):
                total[name] = (kind, case)
    own_kn_m = _own_kn_m(line.section, line.strength_class)
    own = solve(
        line.length_m, line.supports_m, stiffness,
        {DEAD: BeamLoads((LineLoad(own_kn_m, 0.0, line.length_m),))}, line.rafters_m,
    )[DEAD]  # fmt: skip
    total[DEAD] = ("dead", _added(total[DEAD][1], own))
    gaps = [b - a for a, b in pairwise(line.supports_m)]
    held_mm = mm_from_m(max((b - a for a, b in pairwise(line.rafters_m)), default=line.length_m))
    member = Member(
        section, line.strength_class, mm_from_m(max(gaps)), loads.roof_service_class,
        top_held_mm=held_mm, bottom_held_mm=held_mm, bearing_mm=bearing_mm,
        tube=tube_of(line.section),
    )  # fmt: skip
    worst = beam_worst(member, _listed(total), loads.factors, shares_deck=False)
    result = MemberResult(
        line.mark, "ridge beam", line.section, line.strength_class, mm_from_m(line.length_m), worst
    )
    return result, total


def _own_kn_m(section: str, strength_class: str) -> float:
    """Weight of a metre of a beam [kN/m]: of steel, or of heavy, wet timber."""
    tube = tube_of(section)
    if tube is not None:
        return weight_kn(tube.area_mm2 * 1e-6 * steel_grade(strength_class).density_kg_m3)
    breadth, depth = breadth_depth_mm(section)
    return breadth * depth * 1e-6 * OWN_KN_M3


def _added(one: BeamCase, other: BeamCase) -> BeamCase:
    """Two loads on the same beam, both of them at once."""
    return BeamCase(
        one.x_m, one.moment_kn_m + other.moment_kn_m, one.shear_kn + other.shear_kn,
        one.sag_m + other.sag_m,
        tuple(a + b for a, b in zip(one.reactions_kn, other.reactions_kn, strict=True)),
    )  # fmt: skip


def members(
    lines: Lines, loads: MemberLoads, plate_mm: float, decked: bool,
    behind: Mapping[float, Mapping[str, Down]] | None = None,
) -> tuple[list[MemberResult], Carried]:  # fmt: skip
    """Check every member of a unit, each mark once, by its worst piece.

    Args:
        lines: Lines of force.
        loads: Characteristic loads.
        plate_mm: Width of the head plates that rafters bear on [mm].
        decked: True where a nailed deck lies on the rafters.
        behind: What leans on the back wall brings down on its uprights, by place [m].

    Returns:
        The results, and what the beams bring down.
    """
    found: list[MemberResult] = []
    slopes: list[tuple[RafterLine, Cases]] = []
    for rafter in lines.rafters:
        result, cases = rafter_result(rafter, loads, plate_mm, decked)
        found.append(result)
        slopes.append((rafter, cases))
    down: dict[Stand, dict[float, dict[str, Down]]] = {}
    for side in SIDES:
        plates, down[side] = plates_of(lines, side, loads, slopes, plate_mm)
        found += plates
    down["back"] = leant_down(down["back"], behind or {})
    ridges = ridges_of(lines, loads, slopes)
    found += [of_ridge for of_ridge, _ in ridges]
    ridges_down(down, lines, ridges)
    carried = Carried(slopes, down)
    return [*found, *upright_results(lines, loads, carried)], carried


def leant_down(
    down: Mapping[float, Mapping[str, Down]], more: Mapping[float, Mapping[str, Down]]
) -> dict[float, dict[str, Down]]:
    """What comes down on uprights by place, with what a ledger adds there.

    A load of one name acts on both roofs at once; a person stands on one of them.
    """
    total = {at: dict(known) for at, known in down.items()}
    for place, loads in more.items():
        at = min(total, key=lambda known: abs(known - place), default=place)
        known = total.setdefault(at, {})
        for name, one in loads.items():
            if name not in known:
                known[name] = one
            elif name.startswith("a person"):
                known[name] = max(known[name], one, key=lambda down: down.kn)
            else:
                known[name] = replace(one, kn=known[name].kn + one.kn)
    return total


def plates_of(
    lines: Lines, side: Side, loads: MemberLoads, slopes: Sequence[tuple[RafterLine, Cases]],
    plate_mm: float, solve: Solve = beam,
) -> tuple[list[MemberResult], dict[float, dict[str, Down]]]:  # fmt: skip
    """Check the head plates of one wall, and say what they bring to its uprights by place [m].

    Rafters of several marks are taken all over the roof in turn: the heavier counts.

    Args:
        lines: Lines of force.
        side: The wall.
        loads: Characteristic loads.
        slopes: The rafters, and what each load does to them.
        plate_mm: Width of the head plates [mm].
        solve: A solver that may remember beams it has met.
    """
    found: list[MemberResult] = []
    down: dict[float, dict[str, Down]] = {}
    bearing_mm = narrowest_mm(lines, side, plate_mm)
    for rafter, cases in slopes:
        if side not in rafter.held_by:
            continue
        of_rafter: dict[float, dict[str, Down]] = {}
        for plate in lines.plates:
            if plate.side == side:
                result, on_plate = plate_result(plate, loads, cases, bearing_mm, solve)
                found.append(result)
                for i, at in enumerate(plate.supports_m):
                    _add(of_rafter, plate.start_m + at, on_plate, i)
        for at, shares in of_rafter.items():
            _keep_larger(down.setdefault(at, {}), shares)
    return found, down


def _keep_larger(kept: dict[str, Down], new: Mapping[str, Down]) -> None:
    for name, one in new.items():
        if name not in kept or abs(one.kn) > abs(kept[name].kn):
            kept[name] = one


def _add(found: dict[float, dict[str, Down]], at_m: float, on_beam: Cases, support: int) -> None:
    """Add what one support of a beam brings to the upright there.

    Where two beams meet on one post, it carries an end of each.
    """
    place = next((at for at in found if abs(at - at_m) < SAME_M), round(at_m, 3))
    post = found.setdefault(place, {})
    for name, (kind, case) in on_beam.items():
        before = post[name].kn if name in post else 0.0
        post[name] = Down(kind, before + case.reactions_kn[support])


def ridges_of(
    lines: Lines, loads: MemberLoads, slopes: Sequence[tuple[RafterLine, Cases]],
    solve: Solve = beam,
) -> list[tuple[MemberResult, Cases]]:  # fmt: skip
    """Check each length of the ridge beam; with what each load does to it. None without a ridge.

    Args:
        lines: Lines of force.
        loads: Characteristic loads.
        slopes: The rafters, and what each load does to them.
        solve: A solver that may remember beams it has met.
    """
    hung = [(rafter, cases) for rafter, cases in slopes if "ridge" in rafter.held_by]
    if not hung:
        return []
    bearing_mm = ridge_bearing_mm(lines) if lines.ridges else 0.0
    return [ridge_result(ridge, loads, hung, bearing_mm, solve) for ridge in lines.ridges]


def ridges_down(
    down: dict[Stand, dict[float, dict[str, Down]]], lines: Lines,
    ridges: Sequence[tuple[MemberResult, Cases]],
) -> None:  # fmt: skip
    """Add what the ridge beam brings down on its posts to what comes down, by where they stand.

    Args:
        down: What comes down on uprights, by side and place [m]; added to.
        lines: The posts.
        ridges: What each load does to each length of the beam, `ridges_of`.
    """
    for ridge, (_, on_ridge) in zip(lines.ridges, ridges, strict=False):
        _ridge_down(down, lines, ridge, on_ridge)


def _ridge_down(
    down: dict[Stand, dict[float, dict[str, Down]]], lines: Lines, ridge: RidgeLine,
    on_ridge: Cases,
) -> None:  # fmt: skip
    for i, (at, stand) in enumerate(zip(ridge.supports_m, ridge.stands, strict=True)):
        for upright in lines.uprights:
            is_post = upright.what in (GABLE_POST, INNER_POST) and upright.side == stand
            if is_post and (stand != "inside" or abs(upright.at_m - ridge.start_m - at) < NEAR_M):
                _add(down.setdefault(stand, {}), upright.at_m, on_ridge, i)


def ridge_bearing_mm(lines: Lines) -> float:
    """Length of the ridge beam's seat on the narrowest of its posts [mm].

    A post inside may carry the ends of two lengths, each on half of it.
    """
    seats = [breadth_depth_mm(u.section) for u in lines.uprights if u.what == GABLE_POST]
    found = [depth for _, depth in seats]
    inside = [breadth_depth_mm(u.section)[1] for u in lines.uprights if u.what == INNER_POST]
    found += [depth / (2 if len(lines.ridges) > 1 else 1) for depth in inside]
    return min(found)


def narrowest_mm(lines: Lines, side: Side, plate_mm: float) -> float:
    """Length of a head plate's bearing on its narrowest upright, over the plate's whole width [mm].

    An upright that is shallower than the plate is wide carries on its own depth alone.

    Args:
        lines: The uprights.
        side: The wall.
        plate_mm: Width of the head plate [mm].
    """
    sizes = (breadth_depth_mm(u.section) for u in lines.uprights if u.side == side)
    return min((b * min(1.0, d / plate_mm) for b, d in sizes), default=plate_mm)
