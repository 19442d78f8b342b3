"""A roof deck under a foot and under snow: sheets of OSB/3, and boards.

Sheets are continuous over the rafters, face grain across them. A roof whose deck fails
the foot is to be marked no-access, or given noggings.
"""

from dataclasses import dataclass

from mewswright import handbook
from mewswright.build.strength.check import Check, check
from mewswright.build.strength.design import design_strengths, design_value
from mewswright.build.strength.section import Rect

STRIP_MM = 300.0  # derived; a foot on 50 x 50 mm is carried by this much of a sheet, no more
CONTINUOUS = 0.17  # moment of a point load in a continuous sheet over its P L
SPREAD = 0.125  # moment of a spread load over its q L^2: simple spans, or the first support
FOOT = "a foot; where it fails, mark the roof no-access or add noggings"


@dataclass(frozen=True)
class Deck:
    """A deck on rafters [mm]. `width_mm` is that of one board, None for OSB/3 sheets.

    `tongued` boards share a foot between two; plain ones do not. `along` is false where
    the strands of the sheet's face lie along the rafters.
    """

    thickness_mm: float
    spacing_mm: float
    service_class: int = 2
    width_mm: float | None = None
    strength_class: str = "C16"
    tongued: bool = False
    along: bool = True

    def __post_init__(self) -> None:
        """Refuse what is no deck."""
        sizes = (
            self.thickness_mm,
            self.spacing_mm,
            1.0 if self.width_mm is None else self.width_mm,
        )
        if not all(size > 0 for size in sizes):
            raise ValueError(
                f"a deck has thickness and span, got {self.thickness_mm:g} mm over "
                f"{self.spacing_mm:g} mm"
            )


def _strength(deck: Deck, duration: str) -> float:
    """Design bending strength [N/mm2]; kh is left out for boards, lying flat."""
    if deck.width_mm is None:
        sheet = handbook.osb_class(deck.thickness_mm)
        kmod = handbook.timber_kmod("osb3", deck.service_class, duration).value
        fm = sheet.fm_along if deck.along else sheet.fm_across
        return design_value(fm, kmod, handbook.gamma_m("osb3").value)
    flat = Rect(deck.width_mm, max(150.0, deck.thickness_mm))
    return design_strengths(deck.strength_class, flat, deck.service_class, duration).fm_y


def _stiffness(deck: Deck) -> float:
    """Modulus of elasticity in bending [N/mm2]."""
    if deck.width_mm is None:
        sheet = handbook.osb_class(deck.thickness_mm)
        return sheet.em_along if deck.along else sheet.em_across
    return handbook.timber_class(deck.strength_class).e_mean


def foot_strip_mm(deck: Deck) -> float:
    """Width of the deck that carries a foot [mm]."""
    if deck.width_mm is None:
        return STRIP_MM
    return deck.width_mm * (2 if deck.tongued else 1)


def deck_under_foot(
    deck: Deck, foot_kn: float = 1.0, gamma_q: float = 1.5, duration: str = "short"
) -> Check:
    """Bending of a deck under one foot between two rafters.

    The deck's own weight is small beside it and left out.

    Args:
        deck: The deck.
        foot_kn: Unfactored load [kN].
        gamma_q: Its partial factor [-].
        duration: Short for maintenance.

    Raises:
        ValueError: If OSB/3 stands in service class 3 or is of an unknown thickness.

    Source:
        EN 1991-1-1:2002, category H, 1.0 kN (handbook roof_point_kn); moment 0.17 P L over
        a strip of 300 mm is our own, on the safe side.
    """
    moment = CONTINUOUS * gamma_q * foot_kn * 1e3 * deck.spacing_mm
    stress = moment / (foot_strip_mm(deck) * deck.thickness_mm**2 / 6)
    return check(
        "deck under a foot", "EN 1995-1-1 6.1.6 (6.11)", stress, _strength(deck, duration),
        "N/mm2", FOOT,
    )  # fmt: skip


def deck_under_load(
    deck: Deck,
    permanent_kn_m2: float,
    variable_kn_m2: float,
    duration: str = "short",
    limit: float = 150.0,
    gammas: tuple[float, float] = (1.35, 1.5),
) -> list[Check]:
    """Bending and final deflection of a deck under a spread load, as simple spans.

    Args:
        deck: The deck.
        permanent_kn_m2: Unfactored weight of deck and covering [kN/m2].
        variable_kn_m2: Unfactored snow, drift and all [kN/m2].
        duration: Of the variable load.
        limit: Span over final deflection [-].
        gammas: Partial factors of the two [-].

    Source:
        EN 1995-1-1:2004, 6.1.6, 7.2; q L^2 / 8 and 5 q L^4 / 384 E I.
    """
    material = "osb3" if deck.width_mm is None else "solid"
    kdef = handbook.timber_kdef(material, deck.service_class).value
    span, t = deck.spacing_mm, deck.thickness_mm
    factored = (gammas[0] * permanent_kn_m2 + gammas[1] * variable_kn_m2) / 1e3  # N/mm2
    stress = SPREAD * factored * span**2 / (t**2 / 6)
    lasting = (permanent_kn_m2 * (1 + kdef) + variable_kn_m2) / 1e3
    sag = 5 * lasting * span**4 / (384 * _stiffness(deck) * t**3 / 12)
    return [
        check(
            "deck in bending", "EN 1995-1-1 6.1.6 (6.11)", stress, _strength(deck, duration),
            "N/mm2", "simple spans",
        ),
        check(
            "deck deflection in the end", "EN 1995-1-1 7.2", sag, span / limit, "mm",
            f"span/{limit:g}, kdef {kdef:g}",
        ),
    ]  # fmt: skip


def deck_checks(
    deck: Deck, permanent_kn_m2: float, variable_kn_m2: float, foot_kn: float = 1.0
) -> list[Check]:
    """A deck under a foot and under its spread load; see the two."""
    return [
        deck_under_foot(deck, foot_kn),
        *deck_under_load(deck, permanent_kn_m2, variable_kn_m2),
    ]
