"""The ground: where the yard lies, what stands on it, and its weather.

Positions are metres east and north of the yard's own origin. Bearings are degrees
clockwise from north.
"""

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from mewswright.model.quantity import Bearing, Finite, Length, LengthOrNone, Share
from mewswright.model.shape import Shape

Point = tuple[Finite, Finite]
Month = Annotated[int, Field(ge=1, le=12)]
Twelve = Annotated[tuple[Finite, ...], Field(min_length=12, max_length=12)]

FeatureKind = Literal[
    "tree", "wall", "hedge", "fence", "building", "compost", "leaf_mould", "hay", "straw",
    "log_stack", "rotting_timber", "road", "path", "lane", "dog_run", "kennel", "tap", "gate",
    "camera", "weighing_room", "flying_ground_gate", "playground", "pond", "power_line", "window",
    "other",
]  # fmt: skip


class Feature(Shape):
    """Anything on the ground that is not quarters."""

    name: str = Field(min_length=1, description="What the keeper calls it; once in the yard.")
    kind: FeatureKind = Field(description="What it is.")
    at_m: Point | None = Field(None, description="Where a thing of one point is: [east, north].")
    line_m: tuple[Point, ...] | None = Field(
        None, description="Corners of a thing that runs along a line: wall, hedge, fence, lane."
    )
    outline_m: tuple[Point, ...] | None = Field(
        None, description="Corners of a thing that covers ground: building, compost bay, dog run."
    )
    width_m: Length | None = Field(None, description="Width across a line.")
    height_m: LengthOrNone | None = Field(
        None, description="Height above the ground; of a window, its middle."
    )
    crown_radius_m: Length | None = Field(None, description="Radius of a tree's crown.")
    lean_deg: Bearing | None = Field(None, description="Bearing a tree leans towards, if it does.")
    condition: Literal["sound", "suspect", "dead"] = Field(
        "sound", description="State of a tree, as somebody who knows trees has judged it."
    )
    leaf_months: tuple[Month, ...] | None = Field(None, description="Months in leaf.")
    porosity: Share | None = Field(None, description="Open share of a hedge or fence, 0 to 1.")
    looks_deg: Bearing | None = Field(None, description="Bearing a camera looks towards.")
    view_deg: Annotated[float, Field(gt=0, le=360)] | None = Field(
        None, description="Width of a camera's view."
    )
    range_m: Length | None = Field(None, description="How far a camera shows a person plainly.")
    sound_db_1m: LengthOrNone | None = Field(
        None, description="Loudness one metre from it, at its loudest [dB]."
    )
    note: str = Field("", description="Anything worth remembering.")

    @model_validator(mode="after")
    def stands_in_one_way(self) -> Self:
        """A feature is a point, a line or an outline, and only one of them."""
        given = [p for p in (self.at_m, self.line_m, self.outline_m) if p is not None]
        if len(given) != 1:
            raise ValueError("give exactly one of at_m, line_m and outline_m")
        if self.line_m is not None and len(self.line_m) < 2:
            raise ValueError("line_m needs at least 2 points")
        if self.outline_m is not None and len(self.outline_m) < 3:
            raise ValueError("outline_m needs at least 3 points")
        if self.kind == "tree" and (self.at_m is None or self.height_m is None):
            raise ValueError("a tree needs at_m and height_m")
        return self


class Climate(Shape):
    """Monthly normals, January first."""

    source: str = Field(min_length=1, description="Where the normals come from.")
    mean_temp_c: Twelve = Field(description="Mean air temperature of each month [C].")
    mean_daily_min_c: Twelve = Field(description="Mean daily minimum of each month [C].")
    mean_daily_max_c: Twelve = Field(description="Mean daily maximum of each month [C].")
    rain_mm: Twelve = Field(description="Rain and melted snow in each month [mm].")
    humidity_pct: Twelve = Field(description="Mean relative humidity of each month [%].")
    sun_h: Twelve = Field(description="Sunshine hours of each month [h].")
    wind_m_s: Twelve = Field(description="Mean wind speed of each month [m/s].")

    @model_validator(mode="after")
    def minima_lie_below_maxima(self) -> Self:
        """A mean minimum above the mean maximum is a slip of the pen."""
        for month, (low, high) in enumerate(
            zip(self.mean_daily_min_c, self.mean_daily_max_c, strict=True), start=1
        ):
            if low > high:
                raise ValueError(
                    f"month {month}: mean_daily_min_c {low:g} is above mean_daily_max_c {high:g}"
                )
        return self


class WindSector(Shape):
    """How often and how hard the wind blows from one direction."""

    from_deg: Bearing = Field(description="Bearing that the wind comes from.")
    share_pct: Annotated[float, Field(ge=0, le=100, allow_inf_nan=False)] = Field(
        description="Share of all hours [%]."
    )
    speed_m_s: LengthOrNone = Field(description="Mean speed when it blows from there [m/s].")


class Loads(Shape):
    """Snow and wind that a structure here must stand; from the local code, not from us."""

    source: str = Field(min_length=1, description="Map, code or office the values come from.")
    edition: str = Field("EN 1991:2003-2005", description="Edition of the load standard.")
    ground_snow_kn_m2: LengthOrNone = Field(description="Snow on the ground, characteristic.")
    basic_wind_m_s: Length = Field(description="Basic wind speed vb, 10 minutes, 50 years.")
    terrain: Literal["0", "I", "II", "III", "IV"] = Field(description="Terrain category.")
    frost_depth_mm: LengthOrNone | None = Field(None, description="Depth that frost reaches.")
    snow_exposure: Literal["windswept", "normal", "sheltered"] = Field(
        "normal", description="Exposure of the roof to wind that clears snow."
    )
    altitude_factor: Length = Field(
        1, description="Factor on the basic wind speed for height above the sea, by national rules."
    )
    maintenance_kn_m2: LengthOrNone = Field(
        0.6, description="Load of people who maintain a roof; never together with snow or wind."
    )
    maintenance_kn: LengthOrNone = Field(1.0, description="The same on one spot.")
    gamma_g: Length = Field(1.35, description="Partial factor of dead load that works against.")
    gamma_q: Length = Field(1.5, description="Partial factor of snow, wind and people.")
    psi0_snow: Share = Field(0.5, description="Share of snow that comes with leading wind.")
    psi0_wind: Share = Field(0.6, description="Share of wind that comes with leading snow.")
    rain_l_s_m2: LengthOrNone = Field(
        0.03, description="Rain that gutters are sized for, litres a second on a square metre."
    )
    exceptional_drift: bool = Field(
        False,
        description="True where the national annex asks for exceptional drifts of snow against "
        "taller neighbours (EN 1991-1-3, Annex B), as an accidental load.",
    )
    soil_bearing_kn_m2: Length = Field(
        50, description="Presumed bearing of the ground once the topsoil is off."
    )
