"""Posts, studs and jambs under what comes down on them and what pushes their wall.

Held level at head and foot; whether a wall can hold them so is a question of racking and
sway, asked elsewhere.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from mewswright.build.actions.combine import ActionKind, Factors
from mewswright.build.lines import Lines, RafterLine, Stand, UprightLine, upright_kind
from mewswright.build.member_forces import DEAD, LEAST_DEAD, Worst, worst_of
from mewswright.build.member_loads import Cases, FacePush, MemberLoads, MemberResult, rect
from mewswright.build.strength.check import Check
from mewswright.build.strength.design import design_strengths
from mewswright.build.strength.end_plate import end_plate_checks
from mewswright.build.strength.member import Forces, Member, Use, member_checks
from mewswright.build.strength.support import bearing
from mewswright.build.strength.tube import tube_checks
from mewswright.build.tube import tube_of
from mewswright.handbook.timber import DURATIONS
from mewswright.model.quantity import mm_from_m

# Noggings and boards hold the studs of a boarded wall sideways so often [mm]; build/walls.py.
NOGGING_MM = 1350.0
SAME_M = 0.0011  # places are kept to the millimetre


@dataclass(frozen=True)
class Down:
    """What comes down on one upright, by load [kN]; minus lifts it."""

    kind: ActionKind
    kn: float


@dataclass(frozen=True)
class Carried:
    """What the beams of one unit bring down: of each rafter, and on each upright by its place."""

    slopes: Sequence[tuple[RafterLine, Cases]]
    down: Mapping[Stand, Mapping[float, Mapping[str, Down]]]

    def on(self, line: UprightLine) -> Mapping[str, Down]:
        """What comes down on one upright; nothing in a side wall without a ridge."""
        posts = self.down.get(line.side, {})
        return next((on for at, on in posts.items() if abs(at - line.at_m) < SAME_M), {})


def upright_worst(line: UprightLine, loads: MemberLoads, down: Mapping[str, Down]) -> Worst:
    """Check one post or stud under what comes down and what pushes its wall."""
    post = upright_kind(line) == "post"
    section = rect(line.section)
    tube = tube_of(line.section)
    height = line.height_m
    member = Member(
        section, line.strength_class, mm_from_m(height), 3,
        buckling_z_mm=None if post else min(NOGGING_MM, mm_from_m(height)),
        top_held_mm=None if post else NOGGING_MM, bottom_held_mm=None if post else NOGGING_MM,
    )  # fmt: skip
    still = FacePush(0.0, 0.0)
    push = still if line.sheltered or line.side == "inside" else loads.faces.get(line.side, still)
    at = min(loads.lean_height_m, height / 2)
    lean_kn = max(loads.lean_kn, loads.lean_kn_m * line.width_m)
    pushes = [
        Part("wind inwards", "wind", *_spread(push.into_kn_m2 * line.width_m, height)),
        Part("wind outwards", "wind", *_spread(push.out_kn_m2 * line.width_m, height)),
        Part("a person who leans", "person", *_point(lean_kn, at, height)),
        Part("a bird that bates", "bird", *_point(loads.bate_kn, height / 2, height)),
    ]
    downs = [
        Part(name, one.kind, down_kn=one.kn) for name, one in down.items() if one.kind != "dead"
    ]
    found: list[tuple[Check, str]] = []
    weights = [
        Weight(dead, factor, down[dead].kn if dead in down else 0.0)
        for dead, factor in (
            (DEAD, loads.factors.gamma_g), (LEAST_DEAD, loads.factors.gamma_g_favourable),
        )
    ]  # fmt: skip
    for weight in weights:
        for parts in together(downs, pushes, loads.factors):
            sum_of = _sum(weight, parts, loads.factors)
            use = Use(sum_of.duration)
            if tube is not None:
                checks = tube_checks(tube, mm_from_m(height), sum_of.forces)
                if line.between[0]:
                    checks += end_plate_checks(tube, line.between, sum_of.forces, sum_of.duration)
            else:
                checks = member_checks(member, sum_of.forces, use)
                checks += _on_the_sole(member, sum_of.forces, use)
            found += [(check, sum_of.name) for check in checks]
    return worst_of(found)


def _on_the_sole(member: Member, forces: Forces, use: Use) -> list[Check]:
    """Its foot on a sole plate of the same class, which it presses across the grain."""
    pressed = max(0.0, -forces.axial_kn)
    if not pressed:
        return []
    section = member.section
    across = design_strengths(
        member.strength_class, section, member.service_class, use.duration, use.gamma_m
    ).fc90
    found = bearing(section.b_mm, section.h_mm, pressed, across)
    return [replace(found, name="bearing of its foot on the sole plate")]


@dataclass(frozen=True)
class Weight:
    """One end of the dead load on an upright [kN], and its factor."""

    name: str
    factor: float
    kn: float


@dataclass(frozen=True)
class Part:
    """One load on an upright, characteristic: what pushes it sideways, or comes down on it.

    Moment [kNm] and shear [kN] of a push; `down_kn` of what comes down, minus lifts.
    """

    name: str
    kind: ActionKind
    moment_kn_m: float = 0.0
    shear_kn: float = 0.0
    down_kn: float = 0.0


@dataclass(frozen=True)
class Sum:
    """One combination on an upright."""

    name: str
    duration: str
    forces: Forces


def together(
    downs: Sequence[Part], pushes: Sequence[Part], using: Factors
) -> Iterator[tuple[tuple[Part, float], ...]]:
    """Every set of loads that may meet on an upright beside its weight, with their factors.

    Wind on the roof and wind on the wall are one wind, and either of them may be left out
    where it would help; it meets snow, each leading in turn. People, a bird and an accident
    come alone.

    Source:
        EN 1990:2002, (6.10), (6.11b); EN 1991-1-1, 3.3.2(1).
    """
    lead = using.gamma_q
    yield ()
    for one in (*downs, *pushes):
        if one.kind == "accident":
            yield ((one, 1.0),)
        elif one.kind not in ("snow", "wind"):
            yield ((one, lead),)
    snows = [one for one in downs if one.kind == "snow"]
    over = [(), *((one,) for one in downs if one.kind == "wind")]
    beside = [(), *((one,) for one in pushes if one.kind == "wind")]
    for winds in (first + second for first in over for second in beside):
        if winds:
            yield tuple((one, lead) for one in winds)
        for snow in snows:
            yield ((snow, lead), *((one, lead * using.psi0["wind"]) for one in winds))
            if winds:
                yield ((snow, lead * using.psi0["snow"]), *((one, lead) for one in winds))


def _sum(weight: Weight, parts: Sequence[tuple[Part, float]], using: Factors) -> Sum:
    rare = any(one.kind == "accident" for one, _ in parts)
    on_dead = 1.0 if rare else weight.factor
    told = [f"{on_dead:g} {weight.name}", *(f"{by:.3g} {one.name}" for one, by in parts)]
    kinds: list[ActionKind] = ["dead", *(one.kind for one, _ in parts)]
    return Sum(
        f"{'accidental' if rare else 'STR'}: {' + '.join(told)}",
        max((using.duration[kind] for kind in kinds), key=DURATIONS.index),
        Forces(
            moment_y_kn_m=sum(by * one.moment_kn_m for one, by in parts),
            shear_kn=sum(by * one.shear_kn for one, by in parts),
            axial_kn=-(on_dead * weight.kn + sum(by * one.down_kn for one, by in parts)),
            load_on_top=False,
        ),
    )


def _spread(kn_m: float, height_m: float) -> tuple[float, float]:
    """Moment and shear of an even push over a height, held at head and foot."""
    return kn_m * height_m**2 / 8, kn_m * height_m / 2


def _point(kn: float, at_m: float, height_m: float) -> tuple[float, float]:
    """Moment and shear of a push at one height."""
    return kn * at_m * (height_m - at_m) / height_m, kn * max(at_m, height_m - at_m) / height_m


def upright_results(lines: Lines, loads: MemberLoads, carried: Carried) -> Iterator[MemberResult]:
    """Check all posts, studs and jambs, each mark by its worst piece."""
    worst: dict[str, MemberResult] = {}
    for line in lines.uprights:
        found = upright_worst(line, loads, carried.on(line))
        seen = worst.get(line.mark)
        if seen is None or found.utilisation > seen.worst.utilisation:
            worst[line.mark] = MemberResult(
                line.mark, f"{line.what}, {line.side}", line.section, line.strength_class,
                mm_from_m(line.height_m), found,
            )  # fmt: skip
    yield from worst.values()
