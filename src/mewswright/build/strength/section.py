"""A rectangular section and what its shape gives. Millimetres.

`h_mm` is the depth in the direction of the main load, `b_mm` the breadth across it.
The y axis runs along the breadth: bending about y is the strong way of a joist.
"""

from dataclasses import dataclass
from math import sqrt


@dataclass(frozen=True)
class Rect:
    """Breadth by depth [mm]."""

    b_mm: float
    h_mm: float

    def __post_init__(self) -> None:
        """Refuse a section without area."""
        if not (0 < self.b_mm < 1e4 and 0 < self.h_mm < 1e4):
            raise ValueError(
                f"a section is breadth x depth in millimetres, got {self.b_mm:g} x {self.h_mm:g}"
            )

    @classmethod
    def named(cls, section: str) -> "Rect":
        """The section with this name, such as `45x145`.

        Raises:
            ValueError: If it is not two numbers with an x between.
        """
        try:
            breadth, depth = (float(side) for side in section.split("x"))
        except ValueError:
            raise ValueError(f"a section is written like 45x145, got {section!r}") from None
        return cls(breadth, depth)

    @property
    def turned(self) -> "Rect":
        """The same section laid on its other side."""
        return Rect(self.h_mm, self.b_mm)

    @property
    def area_mm2(self) -> float:
        """Area."""
        return self.b_mm * self.h_mm

    @property
    def modulus_y_mm3(self) -> float:
        """Section modulus for bending about y, *W_y*."""
        return self.b_mm * self.h_mm**2 / 6

    @property
    def modulus_z_mm3(self) -> float:
        """Section modulus for bending about z, *W_z*."""
        return self.h_mm * self.b_mm**2 / 6

    @property
    def inertia_y_mm4(self) -> float:
        """Second moment of area about y, *I_y*."""
        return self.b_mm * self.h_mm**3 / 12

    @property
    def inertia_z_mm4(self) -> float:
        """Second moment of area about z, *I_z*."""
        return self.h_mm * self.b_mm**3 / 12

    @property
    def radius_y_mm(self) -> float:
        """Radius of gyration about y."""
        return self.h_mm / sqrt(12)

    @property
    def radius_z_mm(self) -> float:
        """Radius of gyration about z."""
        return self.b_mm / sqrt(12)
