"""Square and oblong steel tubes: what a third number in a section means.

"60x60x3" is a tube of 60 by 60 mm with a wall of 3 mm; "45x95" is timber.
"""

from dataclasses import dataclass
from math import pi, sqrt

STEEL = "S235"  # grade of all tubes here; handbook/steel_grades.csv


@dataclass(frozen=True)
class Tube:
    """A cold-formed tube [mm]: breadth along the wall, depth across it, wall thickness.

    Corners are rounded, outside by twice the wall and inside by it, as EN 10219-2 reckons
    for walls up to 6 mm.
    """

    b_mm: float
    h_mm: float
    t_mm: float

    @property
    def area_mm2(self) -> float:
        """Area of the steel [mm2]. Source: EN 10219-2, annex B."""
        b, h, t = self.b_mm, self.h_mm, self.t_mm
        return 2 * t * (b + h - 2 * t) - (4 - pi) * ((2 * t) ** 2 - t**2)

    def inertia_mm4(self, across: bool = True) -> float:
        """Second moment of area [mm4]: bent across the wall, or along it.

        Source: EN 10219-2, annex B: whole rectangles less the corners that are not there.
        """
        b, h = (self.b_mm, self.h_mm) if across else (self.h_mm, self.b_mm)
        t = self.t_mm
        found = (b * h**3 - (b - 2 * t) * (h - 2 * t) ** 3) / 12
        for radius, half, sign in ((2 * t, h / 2, -1), (t, h / 2 - t, 1)):
            corner = (1 - pi / 4) * radius**2
            arm = half - (10 - 3 * pi) / (12 - 3 * pi) * radius
            own = (1 / 3 - pi / 16 - 1 / (3 * (12 - 3 * pi))) * radius**4
            found += sign * 4 * (own + corner * arm**2)
        return found

    def modulus_mm3(self) -> float:
        """Elastic section modulus, bent across the wall [mm3]."""
        return self.inertia_mm4() / (self.h_mm / 2)

    def radius_mm(self, across: bool = True) -> float:
        """Radius of gyration [mm]."""
        return sqrt(self.inertia_mm4(across) / self.area_mm2)

    @property
    def filled_share(self) -> float:
        """Share of its outline that is steel [-]."""
        return self.area_mm2 / (self.b_mm * self.h_mm)


def lying(tube: Tube) -> Tube:
    """The same tube on its other side."""
    return Tube(tube.h_mm, tube.b_mm, tube.t_mm)


def stuff_of(section: str, strength_class: str) -> str:
    """What a section is of: the grade of steel of a tube, or the class of timber."""
    return STEEL if tube_of(section) else strength_class


def tube_of(section: str) -> Tube | None:
    """The tube that a section names, or None for timber."""
    sizes = [float(size) for size in section.split("x")]
    return Tube(*sizes) if len(sizes) == 3 else None
