"""Sway of an open wall: posts and a head plate with knee braces, rigid knees or fixed feet.

Posts stand in pairs, each pair a frame of two posts and a beam.
"""

from dataclasses import dataclass
from math import sqrt

from mewswright.build.holding.standing import Standing
from mewswright.handbook.holding import holding_figure
from mewswright.model.fitting import Side


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
    post_holds_knm: float | None = None  # design moment of a post along the wall; None: not asked
    brace_holds_kn: float | None = None  # design compression of a brace, with buckling

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

    def strength(self, push_kn: float) -> list[Standing]:
        """Posts and braces under a level push at its head, factored [kN].

        Knee braces alone: other frames are asked for their sway.

        Source:
            Statics: (P / 2)(h - a) in a post at its brace, (P / 2)(h / a) sqrt 2 in a brace.
        """
        if self.kind != "knee" or self.post_holds_knm is None or self.brace_holds_kn is None:
            return []
        p = push_kn / max(1, self.posts // 2)
        post = knee_post_knm(p, self.height_m, self.brace_leg_m)
        brace = knee_brace_kn(p, self.height_m, self.brace_leg_m)
        return [
            Standing("post at its knee brace", self.side, post, self.post_holds_knm, "kNm",
                     "bending along the wall; what comes down the post is checked apart"),
            Standing("knee brace", self.side, brace, self.brace_holds_kn, "kN",
                     "compression with buckling; bolts or screws at each end must carry as much"),
        ]  # fmt: skip

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
