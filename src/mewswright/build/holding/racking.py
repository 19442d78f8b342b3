"""Racking and sway: what keeps the walls upright while wind pushes along them.

A sheathed wall resists by its nails (EN 1995-1-1, 9.2.4.2, Method A); an open front by
its posts and braces, and then its sway decides. Where one wall of a pair has neither, a
nailed roof deck may carry its share to the other three walls.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from math import sqrt

from mewswright.build.holding.standing import Run, Standing, WindCase, lifts
from mewswright.handbook.holding import holding_figure
from mewswright.model.fitting import Side

PAIRS: dict[Run, tuple[Side, Side]] = {"width": ("front", "back"), "depth": ("left", "right")}


def panel_factor(width_m: float, height_m: float) -> float:
    """Share of its nails that a sheet may count, c_i [-].

    Args:
        width_m: Width of the sheet [m].
        height_m: Height of the wall [m].

    Returns:
        1 for a sheet as wide as half the height; less in proportion; 0 under a quarter.

    Raises:
        ValueError: If a size is 0 or less.

    Source:
        EN 1995-1-1:2004, 9.2.4.2(4) and (7), from memory (holding.csv).
    """
    if width_m <= 0 or height_m <= 0:
        raise ValueError(f"a sheet needs width and height, got {width_m:g} x {height_m:g} m")
    if width_m < height_m / holding_figure("panel_least_share").value:
        return 0.0
    return min(1.0, width_m / (height_m / holding_figure("panel_full_share").value))


def panel_racking_kn(nail_n: float, width_m: float, height_m: float, spacing_mm: float) -> float:
    """Racking that one sheet resists, F_i,v,Rd [kN].

    The increase of nail strength along edges is left out, which is safe.

    Args:
        nail_n: Design lateral strength of one nail, F_f,Rd [N].
        width_m: Width of the sheet [m].
        height_m: Height of the wall [m].
        spacing_mm: Nails along its edges, centre to centre [mm].

    Raises:
        ValueError: If a value is 0 or less.

    Source:
        EN 1995-1-1:2004, equation 9.21, from memory.
    """
    if nail_n <= 0 or spacing_mm <= 0:
        raise ValueError(f"nails need strength and spacing, got {nail_n:g} N at {spacing_mm:g} mm")
    return nail_n / spacing_mm * width_m * panel_factor(width_m, height_m)


def end_tie_kn(racking_kn: float, height_m: float, width_m: float) -> float:
    """Pull at one end of a sheet and press at the other [kN]. Source: statics, F h / b."""
    return racking_kn * height_m / width_m


def sheet_buckles(stud_clear_mm: float, thickness_mm: float) -> bool:
    """Whether a sheet is too thin between its studs. Source: b_net / t at most 100."""
    return stud_clear_mm / thickness_mm > holding_figure("panel_net_over_thick").value


@dataclass(frozen=True)
class SheathedWall:
    """A wall of nailed sheets. `panels_m` are the widths of sheets that run its full height."""

    side: Side
    height_m: float
    panels_m: tuple[float, ...]
    nail_n: float
    spacing_mm: float
    thickness_mm: float
    stud_clear_mm: float

    @property
    def capacity_kn(self) -> float:
        """Sum over its sheets [kN]; 0 where the sheet could buckle between the studs."""
        if sheet_buckles(self.stud_clear_mm, self.thickness_mm):
            return 0.0
        return sum(
            panel_racking_kn(self.nail_n, width, self.height_m, self.spacing_mm)
            for width in self.panels_m
        )

    @property
    def end_tie_per_kn(self) -> float:
        """Pull at the end of its most slender counting sheet for 1 kN of racking on the wall."""
        shares = [
            panel_racking_kn(self.nail_n, width, self.height_m, self.spacing_mm) / width
            for width in self.panels_m
        ]
        total = self.capacity_kn
        return max(shares, default=0.0) * self.height_m / total if total else 0.0


@dataclass(frozen=True)
class OpenFrame:
    """An open wall whose posts and head plate, with or without braces, keep it upright.

    `kind` says how: `knee` braces at 45 deg on pinned feet, `portal` rigid knees on pinned
    feet, `fixed` rigid knees on fixed feet, `cantilever` posts fixed in the ground alone.
    Posts work in pairs; one left over is not counted.
    """

    side: Side
    kind: str
    height_m: float
    bay_m: float
    posts: int
    e_n_mm2: float
    post_i_mm4: float
    beam_i_mm4: float
    brace_leg_m: float = 0.0
    brace_area_mm2: float = 0.0
    has_doors: bool = False

    def sway_mm(self, push_kn: float) -> float:
        """Sway under a level push at its head [mm]."""
        pairs = self.posts // 2
        if pairs == 0:
            raise ValueError(f"{self.side}: a frame needs 2 posts or more, got {self.posts}")
        p = push_kn / pairs
        column = ei_kn_m2(self.e_n_mm2, self.post_i_mm4)
        beam = ei_kn_m2(self.e_n_mm2, self.beam_i_mm4)
        if self.kind == "knee":
            ea = self.e_n_mm2 * self.brace_area_mm2 / 1e3
            sway = knee_sway_m(p, self.height_m, self.bay_m, self.brace_leg_m, column, beam, ea)
        elif self.kind == "portal":
            sway = portal_sway_m(p, self.height_m, self.bay_m, column, beam)
        elif self.kind == "fixed":
            sway = fixed_portal_sway_m(p, self.height_m, self.bay_m, column, beam)
        elif self.kind == "cantilever":
            sway = cantilever_sway_m(p, self.height_m, 2, column)
        else:
            raise ValueError(
                f"no frame {self.kind!r}; there are knee, portal, fixed and cantilever"
            )
        return sway * 1e3

    @property
    def limit_mm(self) -> float:
        """Sway that is allowed [mm]: h/150, h/200 where doors hang in it. Memory, medium."""
        name = "sway_doors_one_in" if self.has_doors else "sway_one_in"
        return self.height_m * 1e3 / holding_figure(name).value


def ei_kn_m2(e_n_mm2: float, i_mm4: float) -> float:
    """Bending stiffness [kN m2]."""
    return e_n_mm2 * i_mm4 / 1e9


def portal_sway_m(p_kn: float, h_m: float, l_m: float, eic: float, eib: float) -> float:
    """Sway of a portal with rigid knees on pinned feet [m].

    Args:
        p_kn: Level push at the head [kN].
        h_m: Height [m].
        l_m: Bay [m].
        eic: Stiffness of a post [kN m2].
        eib: Stiffness of the beam [kN m2].

    Source:
        Virtual work: P h^3 / 6 EIc + P h^2 L / 12 EIb; a frame program agrees.
    """
    return p_kn * h_m**3 / (6 * eic) + p_kn * h_m**2 * l_m / (12 * eib)


def portal_knee_knm(p_kn: float, h_m: float) -> float:
    """Moment at a knee of a portal on pinned feet [kNm]. Source: statics, P h / 2."""
    return p_kn * h_m / 2


def base_couple_kn(p_kn: float, h_m: float, l_m: float) -> float:
    """Pull and press at the feet of a frame of two posts [kN]. Source: statics, P h / L."""
    return p_kn * h_m / l_m


def fixed_portal_sway_m(p_kn: float, h_m: float, l_m: float, eic: float, eib: float) -> float:
    """Sway of a portal with rigid knees on fixed feet [m]; arguments as `portal_sway_m`.

    Source:
        P h^3 (2 + 3k) / (12 EIc (1 + 6k)), k = (Ib / L) / (Ic / h): slope-deflection.
    """
    k = (eib / l_m) / (eic / h_m)
    return p_kn * h_m**3 * (2 + 3 * k) / (12 * eic * (1 + 6 * k))


def cantilever_sway_m(p_kn: float, h_m: float, posts: int, eic: float) -> float:
    """Sway of posts fixed in the ground with a hinged beam [m]. Source: P h^3 / 3 n EIc."""
    return p_kn * h_m**3 / (3 * posts * eic)


def knee_brace_kn(p_kn: float, h_m: float, a_m: float) -> float:
    """Force in each of two knee braces at 45 deg [kN].

    Args:
        p_kn: Level push at the head of a frame of two posts on pinned feet [kN].
        h_m: Height [m].
        a_m: Level and upright leg of the brace [m].

    Raises:
        ValueError: If the leg is 0 or as long as the post.

    Source:
        Statics: (P / 2)(h / a) sqrt 2.
    """
    _leg_fits(a_m, h_m)
    return p_kn / 2 * h_m / a_m * sqrt(2)


def knee_post_knm(p_kn: float, h_m: float, a_m: float) -> float:
    """Moment in a post at its knee brace [kNm]. Source: statics, (P / 2)(h - a)."""
    _leg_fits(a_m, h_m)
    return p_kn / 2 * (h_m - a_m)


def knee_sway_m(
    p_kn: float, h_m: float, l_m: float, a_m: float, eic: float, eib: float, ea_brace: float = 0.0
) -> float:
    """Sway of a knee-braced frame of two posts on pinned feet [m].

    Args:
        p_kn: Level push at the head [kN].
        h_m: Height [m].
        l_m: Bay [m].
        a_m: Level and upright leg of the braces [m].
        eic: Stiffness of a post [kN m2].
        eib: Stiffness of the beam [kN m2].
        ea_brace: Axial stiffness of a brace [kN]; 0 takes it as rigid.

    Raises:
        ValueError: If the legs do not fit the post or half the bay.

    Source:
        Virtual work: P h (h-a)^2 / 6 EIc + P h^2 L (1-2a/L)^2 / 12 EIb
        + sqrt 2 P h^2 / (a EA); slip in the joints is not in it.
    """
    _leg_fits(a_m, h_m)
    if 2 * a_m > l_m:
        raise ValueError(f"two braces of {a_m:g} m do not fit a bay of {l_m:g} m: shorten them")
    posts = p_kn * h_m * (h_m - a_m) ** 2 / (6 * eic)
    beam = p_kn * h_m**2 * l_m * (1 - 2 * a_m / l_m) ** 2 / (12 * eib)
    brace = sqrt(2) * p_kn * h_m**2 / (a_m * ea_brace) if ea_brace else 0.0
    return posts + beam + brace


def _leg_fits(a_m: float, h_m: float) -> None:
    if not 0 < a_m < h_m:
        raise ValueError(
            f"the leg of a brace must be more than 0 and less than the post of {h_m:g} m, "
            f"got {a_m:g} m"
        )


Bracing = SheathedWall | OpenFrame


@dataclass(frozen=True)
class Racking:
    """How the walls along one direction stand: the path of the force and what governs it."""

    case: str
    path: str
    checks: tuple[Standing, ...]
    sway_mm: float | None
    sway_limit_mm: float | None
    end_tie_kn: float
    note: str = ""

    @property
    def sound(self) -> bool:
        """Every wall on the path resists its share."""
        return bool(self.checks) and all(check.sound for check in self.checks)

    @property
    def utilisation(self) -> float | None:
        """The greatest share used; None where a wall resists nothing."""
        used = [check.utilisation for check in self.checks]
        return None if not used or None in used else max(u for u in used if u is not None)

    def as_dict(self) -> dict[str, object]:
        """JSON-ready."""
        used = self.utilisation
        return {
            "direction": self.case,
            "path": self.path,
            "utilisation": None if used is None else round(used, 4),
            "sound": self.sound,
            "sway_mm": None if self.sway_mm is None else round(self.sway_mm, 2),
            "sway_limit_mm": self.sway_limit_mm,
            "end_tie_kn": round(self.end_tie_kn, 3),
            "checks": [check.as_dict() for check in self.checks],
            "note": self.note,
        }


def racking(
    case: WindCase, walls: Iterable[Bracing], width_m: float, depth_m: float, *, deck_nailed: bool
) -> Racking:
    """Judge the walls that run along the wind.

    Each wall of the pair takes half. Only where that fails may the roof deck carry the
    force: the other wall then takes all of it, and the cross walls take the twist.

    Args:
        case: The wind.
        walls: The walls that have sheets or frames; a side that is left out has nothing.
        width_m: Width over the frame [m].
        depth_m: Depth over the frame [m].
        deck_nailed: True for a whole roof of sheets nailed on all edges.

    Source:
        Statics and EN 1995-1-1, 9.2.4.2. The deck needs a unit no longer across the open
        side than along it (our rule, as d <= b for an open front).
    """
    by_side = {wall.side: wall for wall in walls}
    force = case.push_kn if case.head_kn is None else case.head_kn
    one, other = PAIRS[case.along]
    each = _paired(case, (one, other), by_side, force)
    if each.sound:
        return each
    ways = [
        _by_deck(case, carrying, by_side, force, width_m, depth_m)
        for carrying, failing in ((one, other), (other, one))
        if deck_nailed and isinstance(by_side.get(carrying), SheathedWall)
        and not _checks_of(failing, by_side, force / 2)[0].sound
    ]  # fmt: skip
    along, across = (width_m, depth_m) if case.along == "width" else (depth_m, width_m)
    if ways and across <= along + 1e-9:
        sound = [way for way in ways if way.sound]
        return sound[0] if sound else each
    return each


def _paired(
    case: WindCase, sides: tuple[Side, Side], by_side: dict[Side, Bracing], force_kn: float
) -> Racking:
    checks: list[Standing] = []
    tie = 0.0
    sway: float | None = 0.0
    limit: float | None = None
    for side in sides:
        found = _checks_of(side, by_side, force_kn / 2)
        checks += found
        wall = by_side.get(side)
        if isinstance(wall, OpenFrame):
            own = wall.sway_mm(force_kn / 2)
            if limit is None or own / wall.limit_mm > (sway or 0.0) / limit:
                sway, limit = own, wall.limit_mm
        elif wall is None:
            sway = None
        else:
            tie = max(tie, lifts() * force_kn / 2 * wall.end_tie_per_kn)
        if sway is None:
            break
    bare = [side for side in sides if side not in by_side]
    if limit is None:
        sway = None
    note = ""
    if bare:
        sway = limit = None
        checks = [check for side in sides for check in _checks_of(side, by_side, force_kn / 2)]
        note = f"nothing keeps the {' and the '.join(bare)} upright: brace or sheet it"
    elif limit is None:
        note = "both walls are sheathed: their sway is small and is not reckoned"
    return Racking(case.name, "each wall takes half", tuple(checks), sway, limit, tie, note)


def _checks_of(side: Side, by_side: dict[Side, Bracing], force_kn: float) -> list[Standing]:
    """Checks of one wall under a characteristic force at its head."""
    wall = by_side.get(side)
    if isinstance(wall, OpenFrame):
        sway = wall.sway_mm(force_kn)
        return [Standing("sway", side, sway, wall.limit_mm, "mm", f"{wall.kind} frame")]
    capacity = wall.capacity_kn if isinstance(wall, SheathedWall) else 0.0
    note = "Method A" if wall else "no sheets, braces or fixed feet"
    return [Standing("racking", side, lifts() * force_kn, capacity, "kN", note)]


def _by_deck(
    case: WindCase,
    carrying: Side,
    by_side: dict[Side, Bracing],
    force_kn: float,
    width_m: float,
    depth_m: float,
) -> Racking:
    cross: Run = "depth" if case.along == "width" else "width"
    along, across = (width_m, depth_m) if case.along == "width" else (depth_m, width_m)
    twist = twist_kn(force_kn, across, along)
    checks = _checks_of(carrying, by_side, force_kn)
    for side in PAIRS[cross]:
        checks += _checks_of(side, by_side, twist)
    ties = [
        lifts() * share * wall.end_tie_per_kn
        for side, share in ((carrying, force_kn), *((s, twist) for s in PAIRS[cross]))
        if isinstance(wall := by_side.get(side), SheathedWall)
    ]
    sways = [(c.demand, c.capacity) for c in checks if c.name == "sway"]
    sway, limit = max(sways, key=lambda s: s[0] / s[1]) if sways else (None, None)
    return Racking(
        case.name,
        f"the roof deck carries all to the {carrying} wall",
        tuple(checks),
        sway,
        limit,
        max(ties, default=0.0),
        f"the deck must be nailed on all edges of every sheet; the {PAIRS[cross][0]} and "
        f"{PAIRS[cross][1]} walls take the twist",
    )


def twist_kn(force_kn: float, across_m: float, along_m: float) -> float:
    """Force on each cross wall where one wall takes all of the push [kN].

    Args:
        force_kn: Level push through the middle of the unit [kN].
        across_m: Size across the push: from the wall that takes it to the open side [m].
        along_m: Size along the push: between the two cross walls [m].

    Source:
        Statics: W (d / 2) / b.
    """
    return force_kn * across_m / 2 / along_m
