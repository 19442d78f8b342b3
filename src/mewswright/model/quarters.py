"""Quarters: the places where birds live.

Lengths are millimetres, clear inside. Heights start at the finished floor. Look at
the front from outside: x runs along the front from its left inner corner, y from
the front to the back, z up.
"""

from itertools import pairwise
from math import cos, radians, sin
from typing import Annotated, Literal, Self

from pydantic import Field, ValidationInfo, field_validator, model_validator

from mewswright.model.fitting import AnyFitting, Bath, Hatch, Perch, Side, Upright
from mewswright.model.footing_keys import FootingKeys, Section
from mewswright.model.panel_keys import PanelKeys
from mewswright.model.place import Point
from mewswright.model.quantity import (
    Bearing,
    Finite,
    Length,
    LengthOrNone,
    Share,
    m_from_mm,
    millimetres,
)
from mewswright.model.shape import Shape
from mewswright.model.year_keys import QuartersYear

# A third number is the wall of a steel tube: 60x60x3.
AnySection = Annotated[str, Field(pattern=r"^\d+(\.\d+)?x\d+(\.\d+)?(x\d+(\.\d+)?)?$")]
# A kilometre: more is a slip of the unit, and would be searched square by square.
SideLength = Annotated[float, Field(gt=0, le=1_000_000, allow_inf_nan=False)]
Infill = Literal["boarded", "barred", "meshed", "slatted", "netted", "open"]
MeshKind = Literal["welded", "chain_link", "hexagonal", "woven", "knotted_net"]
SIDES: tuple[Side, ...] = ("front", "back", "left", "right")


class Layer(Shape):
    """A second skin outside a face, against predators."""

    infill: Infill = Field(description="What it is made of.")
    gap_mm: LengthOrNone | None = Field(None, description="Clear gap.")
    mesh_kind: MeshKind | None = Field(None, description="Kind of mesh.")
    stand_off_mm: LengthOrNone = Field(description="Clear distance from the inner infill.")


class Face(Shape):
    """One side of quarters with its infill, above an optional solid upstand."""

    infill: Infill = Field(description="What fills the face above its upstand.")
    gap_mm: LengthOrNone | None = Field(
        None, description="Clear gap between bars, slats or wires; needed unless boarded or open."
    )
    bar_mm: Length | None = Field(None, description="Thickness of a bar, slat or wire.")
    direction: Literal["vertical", "horizontal"] = Field(
        "vertical", description="Which way bars or slats run."
    )
    mesh_kind: MeshKind | None = Field(None, description="Kind of mesh or net.")
    upstand_mm: LengthOrNone = Field(0, description="Height of the solid part at the bottom.")
    outer: Layer | None = Field(None, description="A second skin outside.")

    @model_validator(mode="after")
    def says_its_gap(self) -> Self:
        """A face that lets light through has a gap that somebody can measure."""
        if self.infill in ("barred", "meshed", "slatted", "netted") and self.gap_mm is None:
            raise ValueError(f"a {self.infill} face needs gap_mm, the clear gap")
        if self.infill in ("meshed", "netted") and self.mesh_kind is None:
            raise ValueError(
                f"a {self.infill} face needs mesh_kind: welded, chain_link, hexagonal, woven "
                "or knotted_net"
            )
        return self

    @property
    def is_solid(self) -> bool:
        """Nothing passes and nothing is seen through it."""
        return self.infill == "boarded"


class Faces(Shape):
    """The four sides; a pitch has none."""

    front: Face = Field(description="The side that looks where the quarters face.")
    back: Face = Face(infill="boarded")
    left: Face = Face(infill="boarded")
    right: Face = Face(infill="boarded")

    def side(self, side: Side) -> Face:
        """Give the face on a side."""
        face: Face = getattr(self, side)
        return face


class Roof(Shape):
    """The roof; a pitch has none. Its fall follows from the heights of the front and back.

    A duopitch falls both ways from a ridge that runs along the front.
    """

    form: Literal["monopitch", "duopitch", "none"] = Field(
        "monopitch", description="Shape of the roof."
    )
    ridge_height_mm: Length | None = Field(
        None,
        description="Height at which the two slopes of a duopitch meet, under the rafters; "
        "a deep ridge beam hangs lower.",
    )
    ridge_at_mm: Length | None = Field(
        None, description="How far the ridge stands behind the front; blank = in the middle."
    )
    cover: Literal["felt", "corrugated", "polycarbonate", "boards"] = Field(
        "felt", description="What sheds the rain."
    )
    deck: str | None = Field("osb3_18", description='Material id of the deck, or "none".')
    covered_share: Share = Field(1, description="Share of the depth that is roofed, from the back.")
    open_infill: Literal["meshed", "netted", "barred", "open"] = Field(
        "meshed", description="What closes the part of the top that is not roofed."
    )
    open_gap_mm: LengthOrNone | None = Field(None, description="Clear gap of that infill.")
    overhang_front_mm: LengthOrNone = Field(200, description="Overhang at the front.")
    overhang_back_mm: LengthOrNone = Field(150, description="Overhang at the back.")
    overhang_side_mm: LengthOrNone = Field(100, description="Overhang at each side.")
    padded: bool = Field(False, description="True where the ceiling is padded or soft-netted.")
    gutter: Literal["none", "butt", "soakaway"] = Field(
        "none",
        description="What hangs at its eaves: nothing, or gutters that lead the rain to a water "
        "butt or into a soakaway.",
    )

    @field_validator("deck", mode="before")
    @classmethod
    def none_is_no_deck(cls, deck: object) -> object:
        """TOML has no word for nothing, so the word is ours."""
        return None if deck == "none" else deck

    @model_validator(mode="after")
    def has_a_ridge_or_none(self) -> Self:
        """A duopitch has a ridge and is roofed whole or not at all; nothing else has one."""
        if self.form == "duopitch":
            if self.ridge_height_mm is None:
                raise ValueError(
                    "a duopitch needs ridge_height_mm, the height at which its slopes meet"
                )
            if self.covered_share not in (0, 1):
                raise ValueError(
                    f"a duopitch is covered whole or not at all, and covered_share is "
                    f"{self.covered_share:g}: make it 1 or 0, or the roof a monopitch"
                )
            return self
        for key in ("ridge_height_mm", "ridge_at_mm"):
            if getattr(self, key) is not None:
                raise ValueError(
                    f'{key} is given and the roof has no ridge: say form = "duopitch" or leave '
                    "it out"
                )
        return self


class Frame(FootingKeys, PanelKeys):
    """The timber. Sections are breadth x depth as bought."""

    strength_class: Literal["C16", "C18", "C24"] = Field(
        "C24", description="Strength class of all sawn timber of the frame, EN 338."
    )
    post: AnySection = Field(
        "95x95", description="Posts of open faces; a third number is the wall of a steel tube."
    )
    post_count: Annotated[int, Field(ge=2, le=20)] | None = Field(
        None, description="Posts along the front; blank = as many as the head plate needs."
    )
    sole: Section = Field("45x95", description="Sole plates.")
    head: AnySection = Field(
        "45x95", description="Head plates; a third number is the wall of a steel tube."
    )
    head_on_edge: bool = Field(
        False, description="True where head plates stand on edge, their depth upright."
    )
    stud: Section = Field("45x95", description="Studs of boarded walls.")
    stud_spacing_mm: Length = Field(600, description="Studs, centre to centre at most.")
    nogging: Section = Field("45x95", description="Noggings between studs.")
    rafter: AnySection = Field(
        "45x145", description="Rafters; a third number is the wall of a steel tube."
    )
    rafter_spacing_mm: Length = Field(600, description="Rafters, centre to centre at most.")
    ridge: AnySection = Field(
        "45x195",
        description="Ridge beam of a duopitch, on edge; its rafters hang on it. A third number is "
        "the wall of a steel tube.",
    )
    ridge_posts: Annotated[int, Field(ge=0, le=20)] = Field(
        0, description="Posts inside under the ridge beam, beside those in the two gables."
    )
    batten: Section = Field("22x47", description="Battens that hold mesh or bars.")
    boarding: str = Field("featheredge_22x150", description="Material id of the wall boarding.")
    coating: str = Field(
        "wood_stain_preservative_sawn",
        description='Material id of what is brushed on boards and open timber, or "none".',
    )
    coats: Annotated[int, Field(ge=1, le=6)] = Field(2, description="Coats of it.")
    brace: Literal["none", "knee"] = Field(
        "none", description="What stiffens an open front: nothing, or knee braces at its posts."
    )
    brace_leg_mm: Length = Field(600, description="Level and upright leg of a knee brace.")
    lining: str = Field(
        "none",
        description='Material id of wooden or plastic sheets inside boarded walls, or "none".',
    )
    lining_nail_mm: Length = Field(150, description="Nails along the edges of these sheets.")

    @field_validator("sole", "stud", "nogging", "batten", "foot_post", "edge_board", mode="before")
    @classmethod
    def is_nailed_to(cls, section: object, info: ValidationInfo) -> object:
        """What boards, sheets and mesh are nailed to is of timber."""
        if isinstance(section, str) and section.count("x") == 2:
            raise ValueError(
                f"{info.field_name} is the steel tube {section}, and boards, sheets and mesh are "
                "nailed and stapled to it, or it stands in the ground: give it a timber section, "
                'such as "45x95"; post, head, rafter and ridge may be of tube'
            )
        return section

    @field_validator("post", "head", "rafter", "ridge")
    @classmethod
    def tube_has_a_hollow(cls, post: str) -> str:
        """A tube's two walls leave room between them."""
        sizes = [float(size) for size in post.split("x")]
        if len(sizes) == 3 and not 0 < 2 * sizes[2] < min(sizes[:2]):
            raise ValueError(
                f"a steel tube is breadth x depth x wall, and two walls of {sizes[2]:g} mm leave "
                "no hollow: write 60x60x3"
            )
        return post

    @model_validator(mode="after")
    def steel_stands_on_timber_feet(self) -> Self:
        """A tube rusts in the ground; feet in concrete are of timber."""
        if self.base == "posts_in_concrete" and self.post.count("x") == 2 and not self.foot_post:
            raise ValueError(
                f"post is the steel tube {self.post}, which does not go into the ground: give "
                "foot_post a timber section"
            )
        return self


class Floor(Shape):
    """The floor."""

    substrate: str = Field("pea_gravel", description="Substrate id of the handbook.")
    depth_mm: LengthOrNone = Field(100, description="Depth of the substrate.")
    membrane: bool = Field(True, description="True where a membrane lies under it.")
    fall_pct: LengthOrNone = Field(0, description="Fall of a hard floor towards its drain.")
    drained: bool = Field(True, description="True where water leaves it.")
    dig_barrier: Literal["none", "buried", "apron", "slab"] = Field(
        "none", description="What stops a digging predator."
    )
    dig_barrier_mm: LengthOrNone = Field(0, description="Depth, or width of the apron.")
    edge_step_mm: LengthOrNone | None = Field(
        None, description="Step at the open front, from its floor to the ground or over its sill."
    )


class Quarters(Shape):
    """A place where a bird lives."""

    name: str = Field(min_length=1, description="What the keeper calls it; once in the yard.")
    kind: Literal["loft", "shelter", "pitch", "isolation"] = Field(description="Kind of quarters.")
    at_m: Point = Field(description="Front left inner corner on the ground, seen from in front.")
    facing_deg: Bearing = Field(description="Bearing that the front looks towards.")
    width_mm: SideLength = Field(description="Clear width along the front.")
    depth_mm: SideLength = Field(description="Clear depth, front to back.")
    front_height_mm: Length | None = Field(None, description="Clear height at the front.")
    back_height_mm: Length | None = Field(None, description="Clear height at the back.")
    faces: Faces | None = Field(None, description="The four sides; a pitch has none.")
    roof: Roof | None = Field(None, description="The roof; a pitch has none.")
    frame: Frame = Field(Frame(), description="The timber.")
    floor: Floor = Field(Floor(), description="The floor.")
    built: bool = Field(True, description="False for quarters that are only planned.")
    double_use: bool = Field(False, description="True for a loft that also serves as a shelter.")
    vent_cm2: LengthOrNone = Field(0, description="Free area of vents beside the faces [cm2].")
    timber_state: Literal["dry", "damp", "rotting"] | None = Field(
        None, description="State of the timber and boards, as they look and feel inside."
    )
    ammonia_ppm: LengthOrNone | None = Field(
        None, description="Ammonia measured at perch height [ppm]."
    )
    fitting: tuple[AnyFitting, ...] = Field((), description="Perches, bath, hatch and the rest.")
    year: QuartersYear = Field(QuartersYear(), description="When they are closed, cleaned, rested.")
    note: str = Field("", description="Anything worth remembering.")

    @model_validator(mode="after")
    def is_whole(self) -> Self:
        """All but a pitch have heights, faces and a roof; fittings lie inside, named once."""
        if self.kind != "pitch":
            missing = [
                key
                for key in ("front_height_mm", "back_height_mm", "faces", "roof")
                if getattr(self, key) is None
            ]
            if missing:
                raise ValueError(f"a {self.kind} needs {', '.join(missing)}")
        seen: set[str] = set()
        for fitting in self.fitting:
            if fitting.name in seen:
                raise ValueError(
                    f"two fittings are called {fitting.name!r}; give each its own name"
                )
            seen.add(fitting.name)
            self._lies_inside(fitting)
        return self

    @model_validator(mode="after")
    def ridge_stands_over_the_eaves(self) -> Self:
        """The ridge of a duopitch is inside the depth and higher than both its eaves."""
        if self.ridge_mm is None:
            return self
        at_mm, height_mm = self.ridge_mm
        if not 0 < at_mm < self.depth_mm:
            raise ValueError(
                f"the ridge of {self.name!r} is {millimetres(at_mm)} behind the front and the "
                f"depth is {millimetres(self.depth_mm)}: set ridge_at_mm between them"
            )
        eave_mm = max(self.front_height_mm or 0, self.back_height_mm or 0)
        if height_mm <= eave_mm:
            raise ValueError(
                f"the ridge of {self.name!r} is {millimetres(height_mm)} up and its higher eave "
                f"{millimetres(eave_mm)}: make ridge_height_mm greater, or the roof a monopitch"
            )
        return self

    def _lies_inside(self, fitting: AnyFitting) -> None:
        if isinstance(fitting, Hatch):
            run_mm = self.width_mm if fitting.face in ("front", "back") else self.depth_mm
            if not 0 <= fitting.at_mm <= run_mm:
                raise ValueError(
                    f"hatch {fitting.name!r} is at {millimetres(fitting.at_mm)} along a face "
                    f"of {millimetres(run_mm)}"
                )
            return
        x_mm, y_mm = fitting.at_mm
        if not (0 <= x_mm <= self.width_mm and 0 <= y_mm <= self.depth_mm):
            raise ValueError(
                f"{fitting.kind} {fitting.name!r} is at [{x_mm:g}, {y_mm:g}], outside the "
                f"{self.width_mm:g} x {self.depth_mm:g} mm of {self.name!r}"
            )
        top_mm = getattr(fitting, "height_mm", None)
        if self.kind != "pitch" and top_mm is not None and self.has_roof:
            ceiling_mm = self.ceiling_mm(y_mm)
            if top_mm >= ceiling_mm:
                raise ValueError(
                    f"{fitting.kind} {fitting.name!r} is {millimetres(top_mm)} up and the "
                    f"ceiling there is {millimetres(ceiling_mm)}: lower it or raise the roof"
                )

    @property
    def has_roof(self) -> bool:
        """There is a top of some kind over it (roofed, meshed or netted)."""
        return self.roof is not None and self.roof.form != "none"

    @property
    def ridge_mm(self) -> tuple[float, float] | None:
        """Where the slopes of a duopitch meet: behind the front, and up [mm]; else None."""
        if self.roof is None or self.roof.form != "duopitch":
            return None
        at_mm = self.depth_mm / 2 if self.roof.ridge_at_mm is None else self.roof.ridge_at_mm
        assert self.roof.ridge_height_mm is not None
        return at_mm, self.roof.ridge_height_mm

    @property
    def ceiling_line_mm(self) -> tuple[tuple[float, float], ...]:
        """Corners (behind the front, up) of the underside of the rafters, front to back [mm].

        Raises:
            ValueError: For a pitch, which has no height.
        """
        if self.front_height_mm is None or self.back_height_mm is None:
            raise ValueError(f"{self.name!r} has no roof and so no ceiling")
        ridge = () if self.ridge_mm is None else (self.ridge_mm,)
        return ((0.0, self.front_height_mm), *ridge, (self.depth_mm, self.back_height_mm))

    def wall_top_mm(self, side: Side) -> tuple[tuple[float, float, float], ...]:
        """Corners (x, y, up) of the top of a side, the way round of `corners_m` [mm].

        Two, and three in the gable of a duopitch.

        Raises:
            ValueError: For a pitch, which has no height.
        """
        line = self.ceiling_line_mm
        if side in ("left", "right"):
            x = 0.0 if side == "left" else self.width_mm
            found = tuple((x, y, z) for y, z in line)
            return found if side == "right" else found[::-1]
        y, z = line[0] if side == "front" else line[-1]
        ends = ((0.0, y, z), (self.width_mm, y, z))
        return ends if side == "front" else ends[::-1]

    @property
    def highest_mm(self) -> float:
        """Height of the highest point of the underside of the rafters [mm]; 0 for a pitch."""
        if self.front_height_mm is None or self.back_height_mm is None:
            return 0.0
        return max(z for _, z in self.ceiling_line_mm)

    def ceiling_mm(self, y_mm: float) -> float:
        """Clear height at a distance behind the front [mm].

        Args:
            y_mm: Distance behind the front, 0 to `depth_mm`.

        Returns:
            Height of the underside of the rafters, straight between the corners of
            `ceiling_line_mm`.

        Raises:
            ValueError: For a pitch, which has no height.
        """
        line = self.ceiling_line_mm
        parts = list(pairwise(line))
        (y0, z0), (y1, z1) = next((p for p in parts if y_mm <= p[1][0]), parts[-1])
        return z0 + (z1 - z0) * (y_mm - y0) / (y1 - y0)

    @property
    def floor_area_m2(self) -> float:
        """Clear floor area [m2]."""
        return m_from_mm(self.width_mm) * m_from_mm(self.depth_mm)

    @property
    def volume_m3(self) -> float | None:
        """Clear volume under the roof [m3], or None for a pitch."""
        if self.front_height_mm is None or self.back_height_mm is None:
            return None
        return m_from_mm(self.width_mm) * self.gable_area_m2

    @property
    def gable_area_m2(self) -> float:
        """Clear area of an end of the room, floor to rafters [m2]. Source: trapezia."""
        return sum(
            m_from_mm(y1 - y0) * m_from_mm(z0 + z1) / 2
            for (y0, z0), (y1, z1) in pairwise(self.ceiling_line_mm)
        )

    def on_ground_m(self, x_mm: float, y_mm: float) -> tuple[float, float]:
        """Give the place on the ground of a spot in the quarters [m east, m north]."""
        east, north = sin(radians(self.facing_deg)), cos(radians(self.facing_deg))
        x_m, y_m = m_from_mm(x_mm), m_from_mm(y_mm)
        return (
            self.at_m[0] - x_m * north - y_m * east,
            self.at_m[1] + x_m * east - y_m * north,
        )

    @property
    def corners_m(self) -> tuple[tuple[float, float], ...]:
        """Inner corners on the ground: front left, front right, back right, back left."""
        return tuple(
            self.on_ground_m(x, y)
            for x, y in (
                (0, 0),
                (self.width_mm, 0),
                (self.width_mm, self.depth_mm),
                (0, self.depth_mm),
            )
        )

    @property
    def perches(self) -> tuple[Perch, ...]:
        """The perches."""
        return tuple(f for f in self.fitting if isinstance(f, Perch))

    @property
    def baths(self) -> tuple[Bath, ...]:
        """The baths."""
        return tuple(f for f in self.fitting if isinstance(f, Bath))

    @property
    def hatches(self) -> tuple[Hatch, ...]:
        """The hatches."""
        return tuple(f for f in self.fitting if isinstance(f, Hatch))

    @property
    def uprights(self) -> tuple[Upright, ...]:
        """Posts that stand in the room."""
        return tuple(f for f in self.fitting if isinstance(f, Upright))


def perch_ends_mm(perch: Perch) -> tuple[tuple[float, float], tuple[float, float]]:
    """Give both ends of a perch in plan [mm]; a block, ring or stump has both in its middle."""
    half = (perch.length_mm or 0) / 2
    dx, dy = half * cos(radians(perch.turn_deg)), half * sin(radians(perch.turn_deg))
    x, y = perch.at_mm
    return (x - dx, y - dy), (x + dx, y + dy)


__all__ = [
    "SIDES", "AnySection", "Face", "Faces", "Finite", "Floor", "Frame", "Infill", "Layer",
    "MeshKind", "Quarters", "Roof", "Section", "perch_ends_mm",
]  # fmt: skip
