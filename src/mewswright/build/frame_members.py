"""Rafters, head plates, posts, studs and sole plates of a unit under its loads.

Each line of force is analysed by itself: rafters on two plates, plates over their uprights
with the rafters' reactions on them, uprights from plate to plate under what comes down and
what the wind, a person or a bird pushes. Walls are held level at head and foot; whether
they can be is a question of racking and sway, asked elsewhere.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from mewswright import handbook
from mewswright.build.actions.combine import ActionKind, Factors
from mewswright.build.analysis import BeamCase, BeamLoads, LineLoad, PointLoad, beam
from mewswright.build.lines import (
    NEAR_M,
    Lines,
    PlateLine,
    RafterLine,
    RidgeLine,
    Stand,
    UprightLine,
    upright_kind,
)
from mewswright.build.member_forces import Case, Worst, beam_worst, worst_of
from mewswright.build.ridge import GABLE_POST, INNER_POST
from mewswright.build.shell import breadth_depth_mm
from mewswright.build.strength.check import Check
from mewswright.build.strength.deflection import fall_mm
from mewswright.build.strength.member import Forces, Member, Use, member_checks
from mewswright.build.strength.section import Rect
from mewswright.build.strength.tube import tube_checks
from mewswright.build.tube import tube_of
from mewswright.model.fitting import Side
from mewswright.model.quantity import mm_from_m

Solve = Callable[[float, Sequence[float], float, Mapping[str, BeamLoads]], Mapping[str, BeamCase]]

# Noggings and boards hold the studs of a boarded wall sideways so often [mm]; build/walls.py.
NOGGING_MM = 1350.0
OWN_KN_M3 = 6.0  # a heavy, wet beam; practice, memory


@dataclass(frozen=True)
class FacePush:
    """Wind on a wall [kN/m2], inwards and outwards, both as sizes."""

    into_kn_m2: float
    out_kn_m2: float


@dataclass(frozen=True)
class MemberLoads:
    """Characteristic loads on the members of one unit.

    Roof loads are on the slope for dead load and wind, on the plan for snow: taken on the
    slope as well, which is safe. `wind_up` is a size.
    """

    dead_kn_m2: float
    dead_least_kn_m2: float
    snow_kn_m2: float
    wind_up_kn_m2: float
    wind_down_kn_m2: float
    eave_up_kn_m2: float
    maintenance_kn_m2: float
    maintenance_kn: float
    faces: Mapping[Side, FacePush]
    lean_kn: float
    lean_height_m: float
    bate_kn: float
    factors: Factors
    roof_service_class: int


@dataclass(frozen=True)
class MemberResult:
    """One mark of the frame, and what governs it."""

    mark: str
    what: str
    section: str
    strength_class: str
    length_mm: float
    worst: Worst


def rect(section: str, lies_flat: bool = False) -> Rect:
    """A section as it stands to what bends it: `lies_flat` for plates under rafters."""
    breadth, depth = breadth_depth_mm(section)
    return Rect(depth, breadth) if lies_flat else Rect(breadth, depth)


def stiffness_kn_m2(section: Rect, strength_class: str) -> float:
    """Modulus of elasticity times second moment of area about the bending axis [kN m2]."""
    return handbook.timber_class(strength_class).e_mean * section.inertia_y_mm4 * 1e-9


def rafter_cases(line: RafterLine, loads: MemberLoads) -> dict[str, tuple[ActionKind, BeamCase]]:
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
        "dead load": ("dead", over(loads.dead_kn_m2)),
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
    }  # fmt: skip
    section = rect(line.section)
    solved = beam(
        length, line.supports_m, stiffness_kn_m2(section, line.strength_class),
        {name: load for name, (_, load) in asked.items()},
    )  # fmt: skip
    return {name: (asked[name][0], case) for name, case in solved.items()}


def rafter_result(
    line: RafterLine, loads: MemberLoads, bearing_mm: float, decked: bool
) -> tuple[MemberResult, dict[str, tuple[ActionKind, BeamCase]]]:
    """Check the rafters of one mark.

    Args:
        line: The rafters.
        loads: Loads of the unit.
        bearing_mm: Width of the plate that they bear on [mm].
        decked: True where a nailed deck holds their top edge and shares loads.
    """
    cases = rafter_cases(line, loads)
    span_m = line.supports_m[1] - line.supports_m[0]
    member = Member(
        rect(line.section), line.strength_class, mm_from_m(span_m), loads.roof_service_class,
        top_held_mm=0.0 if decked else None, bearing_mm=bearing_mm,
        fall_mm=fall_mm(mm_from_m(line.run_m), abs(line.pitch_deg)),
    )  # fmt: skip
    worst = beam_worst(member, _listed(cases), loads.factors, decked)
    result = MemberResult(
        line.mark, "rafter", line.section, line.strength_class, mm_from_m(line.length_m), worst
    )
    return result, cases


def _listed(cases: Mapping[str, tuple[ActionKind, BeamCase]]) -> list[Case]:
    return [Case(kind, name, case) for name, (kind, case) in cases.items()]


def plate_cases(
    line: PlateLine, rafter: Mapping[str, tuple[ActionKind, BeamCase]], solve: Solve = beam
) -> dict[str, tuple[ActionKind, BeamCase]]:
    """What comes down a head plate from the rafters; those at the ends carry half."""
    return _under_rafters(
        line.length_m, line.supports_m, line.rafters_m, line.outermost,
        stiffness_kn_m2(rect(line.section, lies_flat=not line.on_edge), line.strength_class),
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


def plate_result(
    line: PlateLine, loads: MemberLoads, rafter: Mapping[str, tuple[ActionKind, BeamCase]],
    bearing_mm: float, solve: Solve = beam,
) -> tuple[MemberResult, dict[str, tuple[ActionKind, BeamCase]]]:  # fmt: skip
    """Check one head plate; `solve` may be a solver that remembers beams it has met."""
    cases = plate_cases(line, rafter, solve)
    gaps = [b - a for a, b in pairwise(line.supports_m)]
    spaces = [b - a for a, b in pairwise(line.rafters_m)]
    held_mm = mm_from_m(max(spaces, default=line.length_m))
    member = Member(
        rect(line.section, lies_flat=not line.on_edge), line.strength_class,
        mm_from_m(max(gaps)), 3,
        top_held_mm=held_mm, bottom_held_mm=held_mm, bearing_mm=bearing_mm,
    )  # fmt: skip
    worst = beam_worst(member, _listed(cases), loads.factors, shares_deck=False)
    result = MemberResult(
        line.mark, f"head plate, {line.side}", line.section, line.strength_class,
        mm_from_m(line.length_m), worst,
    )  # fmt: skip
    return result, cases


RafterCases = Mapping[str, tuple[ActionKind, BeamCase]]


def ridge_result(
    line: RidgeLine, loads: MemberLoads, slopes: Sequence[tuple[RafterLine, RafterCases]],
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
    stiffness = stiffness_kn_m2(section, line.strength_class)
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
    own_kn_m = _area_m2(line.section) * OWN_KN_M3
    own = solve(
        line.length_m, line.supports_m, stiffness,
        {"dead load": BeamLoads((LineLoad(own_kn_m, 0.0, line.length_m),))},
    )["dead load"]  # fmt: skip
    total["dead load"] = ("dead", _added(total["dead load"][1], own))
    gaps = [b - a for a, b in pairwise(line.supports_m)]
    held_mm = mm_from_m(max((b - a for a, b in pairwise(line.rafters_m)), default=line.length_m))
    member = Member(
        section, line.strength_class, mm_from_m(max(gaps)), loads.roof_service_class,
        top_held_mm=held_mm, bottom_held_mm=held_mm, bearing_mm=bearing_mm,
    )  # fmt: skip
    worst = beam_worst(member, _listed(total), loads.factors, shares_deck=False)
    result = MemberResult(
        line.mark, "ridge beam", line.section, line.strength_class, mm_from_m(line.length_m), worst
    )
    return result, total


def _area_m2(section: str) -> float:
    breadth, depth = breadth_depth_mm(section)
    return breadth * depth * 1e-6


def _added(one: BeamCase, other: BeamCase) -> BeamCase:
    """Two loads on the same beam, both of them at once."""
    return BeamCase(
        one.x_m, one.moment_kn_m + other.moment_kn_m, one.shear_kn + other.shear_kn,
        one.sag_m + other.sag_m,
        tuple(a + b for a, b in zip(one.reactions_kn, other.reactions_kn, strict=True)),
    )  # fmt: skip


@dataclass(frozen=True)
class Down:
    """What comes down on one upright, by load [kN]; minus lifts it."""

    kind: ActionKind
    kn: float


def upright_worst(line: UprightLine, loads: MemberLoads, down: Mapping[str, Down]) -> Worst:
    """Check one post or stud under what comes down and what pushes its wall."""
    post = upright_kind(line) == "post"
    section = rect(line.section)
    height = line.height_m
    tube = tube_of(line.section)
    member = Member(
        section, line.strength_class, mm_from_m(height), 3,
        buckling_z_mm=None if post else min(NOGGING_MM, mm_from_m(height)),
        top_held_mm=None if post else NOGGING_MM, bottom_held_mm=None if post else NOGGING_MM,
    )  # fmt: skip
    still = FacePush(0.0, 0.0)
    push = still if line.sheltered or line.side == "inside" else loads.faces.get(line.side, still)
    at = min(loads.lean_height_m, height / 2)
    nothing = Push("", "dead", 0.0, 0.0)
    pushes = [
        nothing,
        Push("wind inwards", "wind", *_spread(push.into_kn_m2 * line.width_m, height)),
        Push("wind outwards", "wind", *_spread(push.out_kn_m2 * line.width_m, height)),
        Push("a person who leans", "person", *_point(loads.lean_kn, at, height)),
        Push("a bird that bates", "bird", *_point(loads.bate_kn, height / 2, height)),
    ]
    found: list[tuple[Check, str]] = []
    dead_kn = sum(d.kn for d in down.values() if d.kind == "dead")
    loaded = [("", Down("dead", 0.0)), *((n, d) for n, d in down.items() if d.kind != "dead")]
    for on_dead in (loads.factors.gamma_g, loads.factors.gamma_g_favourable):
        for name, one in loaded:
            for other in pushes:
                for sum_of in _sums(on_dead, dead_kn, name, one, other, loads.factors):
                    if tube is not None:
                        checks = tube_checks(tube, mm_from_m(height), sum_of.forces)
                    else:
                        checks = member_checks(member, sum_of.forces, Use(sum_of.duration))
                    found += [(check, sum_of.name) for check in checks]
    return worst_of(found)


@dataclass(frozen=True)
class Push:
    """What pushes an upright sideways: moment [kNm] and shear [kN], characteristic."""

    name: str
    kind: ActionKind
    moment_kn_m: float
    shear_kn: float


@dataclass(frozen=True)
class Sum:
    """One combination on an upright."""

    name: str
    duration: str
    forces: Forces


def _sums(
    on_dead: float, dead_kn: float, name: str, one: Down, push: Push, factors: Factors
) -> Iterator[Sum]:
    """Combinations of what comes down (`one`) with what pushes; either may be nothing."""
    for on_down, on_push in _shares(
        one.kind if name else None, push.kind if push.name else None, factors
    ):
        kinds: list[ActionKind] = ["dead"]
        kinds += [one.kind] if name and on_down else []
        kinds += [push.kind] if push.name and on_push else []
        told = [f"{on_dead:g} dead load"]
        told += [f"{on_down:.3g} {name}"] if name and on_down else []
        told += [f"{on_push:.3g} {push.name}"] if push.name and on_push else []
        yield Sum(
            f"STR: {' + '.join(told)}",
            _briefest([factors.duration[kind] for kind in kinds]),
            Forces(
                moment_y_kn_m=on_push * push.moment_kn_m,
                shear_kn=on_push * push.shear_kn,
                axial_kn=-(on_dead * dead_kn + on_down * one.kn),
                load_on_top=False,
            ),
        )


def _briefest(durations: Sequence[str]) -> str:
    order = ("permanent", "long", "medium", "short", "instantaneous")
    return max(durations, key=order.index)


def _shares(
    down: ActionKind | None, push: ActionKind | None, factors: Factors
) -> list[tuple[float, float]]:
    """Factors on what comes down and on what pushes, for each that may lead."""
    lead = factors.gamma_q
    if down is None or push is None:
        return [(0.0 if down is None else lead, 0.0 if push is None else lead)]
    if down == push == "wind":
        return [(lead, lead)]  # one and the same wind
    if {down, push} == {"snow", "wind"}:
        return [(lead, lead * factors.psi0[push]), (lead * factors.psi0[down], lead)]
    return []  # a person and a bird come with weight alone


def _spread(kn_m: float, height_m: float) -> tuple[float, float]:
    """Moment and shear of an even push over a height, held at head and foot."""
    return kn_m * height_m**2 / 8, kn_m * height_m / 2


def _point(kn: float, at_m: float, height_m: float) -> tuple[float, float]:
    """Moment and shear of a push at one height."""
    return kn * at_m * (height_m - at_m) / height_m, kn * max(at_m, height_m - at_m) / height_m


def members(
    lines: Lines, loads: MemberLoads, plate_mm: float, decked: bool
) -> Iterator[MemberResult]:
    """Check every member of a unit, each mark once, by its worst piece.

    Args:
        lines: Lines of force.
        loads: Characteristic loads.
        plate_mm: Width of the head plates that rafters bear on [mm].
        decked: True where a nailed deck lies on the rafters.
    """
    down: dict[tuple[Stand, float], dict[str, Down]] = {}
    slopes: list[tuple[RafterLine, RafterCases]] = []
    for rafter in lines.rafters:
        result, cases = rafter_result(rafter, loads, plate_mm, decked)
        yield result
        slopes.append((rafter, cases))
        for plate in lines.plates:
            if plate.side not in rafter.held_by:
                continue
            breadth = narrowest_mm(lines, plate.side, plate_mm)
            of_plate, on_plate = plate_result(plate, loads, cases, breadth)
            yield of_plate
            for i, at in enumerate(plate.supports_m):
                down[(plate.side, round(plate.start_m + at, 3))] = _down(on_plate, i)
    hung = [(rafter, cases) for rafter, cases in slopes if "ridge" in rafter.held_by]
    for ridge in lines.ridges if hung else ():
        of_ridge, on_ridge = ridge_result(ridge, loads, hung, ridge_bearing_mm(lines))
        yield of_ridge
        for where, more in ridge_down(lines, ridge, on_ridge).items():
            known = down.setdefault(where, {})
            for name, one in more.items():
                before = known[name].kn if name in known else 0.0
                known[name] = Down(one.kind, before + one.kn)
    yield from _uprights(lines, loads, down)


def _down(on_beam: Mapping[str, tuple[ActionKind, BeamCase]], support: int) -> dict[str, Down]:
    return {name: Down(kind, case.reactions_kn[support]) for name, (kind, case) in on_beam.items()}


def ridge_down(
    lines: Lines, ridge: RidgeLine, on_ridge: Mapping[str, tuple[ActionKind, BeamCase]]
) -> dict[tuple[Stand, float], dict[str, Down]]:
    """What the ridge beam brings down on its posts, by where they stand."""
    found: dict[tuple[Stand, float], dict[str, Down]] = {}
    for i, (at, stand) in enumerate(zip(ridge.supports_m, ridge.stands, strict=True)):
        for upright in lines.uprights:
            is_post = upright.what in (GABLE_POST, INNER_POST) and upright.side == stand
            if is_post and (stand != "inside" or abs(upright.at_m - ridge.start_m - at) < NEAR_M):
                found[(stand, round(upright.at_m, 3))] = _down(on_ridge, i)
    return found


def ridge_bearing_mm(lines: Lines) -> float:
    """Length of the ridge beam's seat on the narrowest of its posts [mm].

    A post inside may carry the ends of two lengths, each on half of it.
    """
    seats = [breadth_depth_mm(u.section) for u in lines.uprights if u.what == GABLE_POST]
    found = [depth for _, depth in seats]
    inside = [breadth_depth_mm(u.section)[1] for u in lines.uprights if u.what == INNER_POST]
    found += [depth / (2 if len(lines.ridges) > 1 else 1) for depth in inside]
    return min(found)


def narrowest_mm(lines: Lines, side: Side, default_mm: float) -> float:
    """Breadth of the narrowest upright that a head plate bears on [mm]."""
    breadths = (breadth_depth_mm(u.section)[0] for u in lines.uprights if u.side == side)
    return min(breadths, default=default_mm)


def _uprights(
    lines: Lines, loads: MemberLoads, down: Mapping[tuple[Stand, float], Mapping[str, Down]]
) -> Iterator[MemberResult]:
    worst: dict[str, MemberResult] = {}
    for line in lines.uprights:
        found = upright_worst(line, loads, down.get((line.side, round(line.at_m, 3)), {}))
        seen = worst.get(line.mark)
        if seen is None or found.utilisation > seen.worst.utilisation:
            worst[line.mark] = MemberResult(
                line.mark, f"{line.what}, {line.side}", line.section, line.strength_class,
                mm_from_m(line.height_m), found,
            )  # fmt: skip
    yield from worst.values()
