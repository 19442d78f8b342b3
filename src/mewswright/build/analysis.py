"""Forces in beams and plane frames, worked out by a kept library of frame analysis.

The library is PyNite (open source, MIT). It is loaded when it is first asked: it is slow
to import. Kilonewtons and metres. A beam is solved once for each case of load; cases are
then added up by whoever asks, for the analysis is linear.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
SAMPLES = 25  # even places on each piece between two nodes at which forces are read


@dataclass(frozen=True)
class LineLoad:
    """A load spread along a beam [kN/m], downwards positive, from one place to another [m]."""

    kn_m: float
    from_m: float
    to_m: float


@dataclass(frozen=True)
class PointLoad:
    """A load at one place [kN], downwards positive."""

    kn: float
    at_m: float


@dataclass(frozen=True)
class BeamLoads:
    """All that one case puts on a beam."""

    lines: tuple[LineLoad, ...] = ()
    points: tuple[PointLoad, ...] = ()


@dataclass(frozen=True)
class BeamCase:
    """What one case does to a beam: moment, shear and sag along it, reactions at its supports.

    Sagging moments and downward deflections are positive; a reaction is positive upwards.
    """

    x_m: Array
    moment_kn_m: Array
    shear_kn: Array
    sag_m: Array
    reactions_kn: tuple[float, ...]


def beam(
    length_m: float,
    supports_m: Sequence[float],
    stiffness_kn_m2: float,
    cases: Mapping[str, BeamLoads],
    read_m: Sequence[float] = (),
) -> Mapping[str, BeamCase]:
    """Solve a straight beam over simple supports, its ends free where none is.

    Forces are read at even places, in the middle of each span and under every point load of
    any case, where a moment has its peak.

    Args:
        length_m: Length [m].
        supports_m: Places of the supports along it, at least two, in order [m].
        stiffness_kn_m2: Modulus of elasticity times second moment of area [kN m2].
        cases: Loads by case.
        read_m: Further places at which forces are read, so that cases that were solved at
            different times can be added up [m].

    Returns:
        The forces by case.

    Raises:
        ValueError: With fewer than two supports, a support off the beam, or no length.
    """
    if length_m <= 0 or stiffness_kn_m2 <= 0:
        raise ValueError(
            f"a beam needs a length and a stiffness, got {length_m}, {stiffness_kn_m2}"
        )
    if len(supports_m) < 2 or not all(-1e-9 <= s <= length_m + 1e-9 for s in supports_m):
        raise ValueError(f"a beam of {length_m:g} m needs two supports on it, got {supports_m}")
    model = _model(stiffness_kn_m2)
    places = sorted({0.0, length_m, *(min(max(s, 0.0), length_m) for s in supports_m)})
    for i, place in enumerate(places):
        model.add_node(f"n{i}", place, 0, 0)
    held = {min(max(s, 0.0), length_m) for s in supports_m}
    first = True
    for i, place in enumerate(places):
        if place in held:
            model.def_support(f"n{i}", first, True, True, True, False, False)
            first = False
        else:
            model.def_support(f"n{i}", False, False, True, True, False, False)
    for i in range(len(places) - 1):
        model.add_member(f"m{i}", f"n{i}", f"n{i + 1}", "E", "S")
    for name, loads in cases.items():
        _load(model, name, loads, places)
        model.add_load_combo(name, {name: 1.0})
    model.analyze_linear()
    spots = {point.at_m for loads in cases.values() for point in loads.points}
    read = np.array(sorted(min(max(at, 0.0), length_m) for at in spots.union(read_m)))
    return {name: _beam_case(model, name, places, held, read) for name in cases}


def _model(stiffness_kn_m2: float) -> Any:
    from Pynite import FEModel3D

    model = FEModel3D()
    # A section of second moment 1 m4 and a modulus that makes E I what is wanted. It is
    # stiff along its length: a beam here does not stretch.
    model.add_material("E", stiffness_kn_m2, stiffness_kn_m2 / 2.6, 0.3, 0.0)
    model.add_section("S", 1e3, 1.0, 1.0, 1.0)
    return model


def _load(model: Any, case: str, loads: BeamLoads, places: Sequence[float]) -> None:
    for i in range(len(places) - 1):
        start, end = places[i], places[i + 1]
        for line in loads.lines:
            a, b = max(line.from_m, start), min(line.to_m, end)
            if b - a > 1e-9:
                model.add_member_dist_load(
                    f"m{i}", "Fy", -line.kn_m, -line.kn_m, a - start, b - start, case
                )
        last = i == len(places) - 2
        for point in loads.points:
            if start <= point.at_m < end or (last and abs(point.at_m - end) < 1e-9):
                at = min(max(point.at_m - start, 0.0), end - start)
                model.add_member_pt_load(f"m{i}", "Fy", -point.kn, at, case)


def _beam_case(
    model: Any, name: str, places: Sequence[float], held: set[float], read: Array
) -> BeamCase:
    xs, moments, shears, sags = [], [], [], []
    for i in range(len(places) - 1):
        member = model.members[f"m{i}"]
        long_m = member.L()
        within = read[(read > places[i]) & (read < places[i + 1])] - places[i]
        even = np.linspace(0.0, long_m, SAMPLES)
        at = np.unique(np.clip(np.concatenate([even, within]), 0.0, long_m))
        x, moment = member.moment_array("Mz", SAMPLES, name, at)
        _, shear = member.shear_array("Fy", SAMPLES, name, at)
        _, sag = member.deflection_array("dy", SAMPLES, name, at)
        xs.append(x + places[i])
        moments.append(-moment)  # the library counts hogging positive
        shears.append(shear)
        sags.append(-sag)
    reactions = tuple(
        float(model.nodes[f"n{i}"].RxnFY[name]) for i, place in enumerate(places) if place in held
    )
    return BeamCase(
        np.concatenate(xs), np.concatenate(moments), np.concatenate(shears),
        np.concatenate(sags), reactions,
    )  # fmt: skip


@dataclass(frozen=True)
class Bent:
    """A bent of posts under a head beam, pushed sideways at its head.

    Attributes:
        sway_m: Sideways movement of the head [m].
        post_moment_kn_m: Largest moment in a post.
        head_moment_kn_m: Largest moment in the head beam.
        brace_kn: Largest force in a knee brace, either way; 0 without any.
        post_kn: Largest force along a post, either way.
    """

    sway_m: float
    post_moment_kn_m: float
    head_moment_kn_m: float
    brace_kn: float
    post_kn: float


def bent(
    height_m: float,
    posts_m: Sequence[float],
    push_kn: float,
    post_stiffness_kn_m2: float,
    head_stiffness_kn_m2: float,
    axial_kn: float,
    joint: str = "pinned",
    foot: str = "pinned",
    brace_leg_m: float = 0.0,
) -> Bent:
    """Solve an open front under a sideways push at its head.

    Args:
        height_m: Foot to head beam [m].
        posts_m: Places of the posts along the front, in order [m].
        push_kn: Push at the head, along the front [kN].
        post_stiffness_kn_m2: E I of a post [kN m2].
        head_stiffness_kn_m2: E I of the head beam [kN m2].
        axial_kn: E A of posts, head and braces [kN].
        joint: `rigid` where post and head hold a right angle, else `pinned`.
        foot: `fixed` where a post is clamped in the ground, else `pinned`.
        brace_leg_m: Level and upright leg of knee braces at every post; 0 = none.

    Raises:
        ValueError: Where nothing holds it: pinned at head and foot, without braces.
    """
    from Pynite import FEModel3D

    if joint == "pinned" and foot == "pinned" and brace_leg_m <= 0:
        raise ValueError("posts pinned at head and foot, without braces, hold no push at all")
    if not 0 <= brace_leg_m < height_m:
        raise ValueError(f"a brace of {brace_leg_m:g} m does not fit under {height_m:g} m")
    model = FEModel3D()
    model.add_material("E", 1e6, 1e6 / 2.6, 0.3, 0.0)
    model.add_section("post", axial_kn / 1e6, post_stiffness_kn_m2 / 1e6,
                      post_stiffness_kn_m2 / 1e6, 1e-3)  # fmt: skip
    model.add_section("head", axial_kn / 1e6, head_stiffness_kn_m2 / 1e6,
                      head_stiffness_kn_m2 / 1e6, 1e-3)  # fmt: skip
    model.add_section("brace", axial_kn / 1e6, 1e-6, 1e-6, 1e-6)
    heads = {round(x, 6) for x in posts_m}
    braces: list[tuple[str, str]] = []
    for k, x in enumerate(posts_m):
        model.add_node(f"f{k}", x, 0, 0)
        model.def_support(f"f{k}", True, True, True, True, True, foot == "fixed")
        if brace_leg_m:
            model.add_node(f"k{k}", x, height_m - brace_leg_m, 0)
            for way, last in ((-1, x <= posts_m[0]), (1, x >= posts_m[-1])):
                if not last:
                    heads.add(round(x + way * brace_leg_m, 6))
    for i, x in enumerate(sorted(heads)):
        model.add_node(f"h{i}", x, height_m, 0)
        model.def_support(f"h{i}", False, False, True, True, True, False)
    at = {x: f"h{i}" for i, x in enumerate(sorted(heads))}
    for k, x in enumerate(posts_m):
        top = at[round(x, 6)]
        if brace_leg_m:
            model.def_support(f"k{k}", False, False, True, True, True, False)
            model.add_member(f"p{k}a", f"f{k}", f"k{k}", "E", "post")
            model.add_member(f"p{k}b", f"k{k}", top, "E", "post")
            for way, last in ((-1, x <= posts_m[0]), (1, x >= posts_m[-1])):
                if not last:
                    braces.append((f"k{k}", at[round(x + way * brace_leg_m, 6)]))
        else:
            model.add_member(f"p{k}a", f"f{k}", top, "E", "post")
        if joint == "pinned":
            name = f"p{k}b" if brace_leg_m else f"p{k}a"
            model.def_releases(name, Rzj=True)
    for i in range(len(at) - 1):
        model.add_member(f"b{i}", f"h{i}", f"h{i + 1}", "E", "head")
    for n, (low, high) in enumerate(braces):
        model.add_member(f"x{n}", low, high, "E", "brace")
        model.def_releases(f"x{n}", Rzi=True, Rzj=True)
    model.add_node_load("h0", "FX", push_kn)
    model.analyze_linear()
    combo = "Combo 1"

    def most(prefix: str, kind: str) -> float:
        found = [0.0]
        for name, member in model.members.items():
            if not name.startswith(prefix):
                continue
            if kind == "moment":
                found += [abs(member.max_moment("Mz", combo)), abs(member.min_moment("Mz", combo))]
            else:
                found += [abs(member.max_axial(combo)), abs(member.min_axial(combo))]
        return float(max(found))

    return Bent(
        sway_m=float(max(abs(model.nodes[name].DX[combo]) for name in at.values())),
        post_moment_kn_m=most("p", "moment"),
        head_moment_kn_m=most("b", "moment"),
        brace_kn=most("x", "axial"),
        post_kn=most("p", "axial"),
    )
