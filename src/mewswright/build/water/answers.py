"""What the drainage of a unit says, ready for JSON."""

from pydantic import BaseModel, ConfigDict


class Answer(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")


class Met(Answer):
    """Something that the water would fall on, and why that is bad."""

    name: str
    why: str


class RoofWater(Answer):
    """Rain on the roof, or on one slope of two: its fall, its flow, and what lies before it."""

    falls_to: str  # front, back, or "nowhere"
    cover: str
    pitch_deg: float
    falls_one_in: float | None
    least_one_in: float | None  # None: no figure is on record for this cover
    fall_sound: bool | None
    fall_words: str
    plan_area_m2: float
    effective_area_m2: float
    wall_area_m2: float
    walls: tuple[str, ...]
    rain_l_s_m2: float
    flow_l_s: float
    eave_from_m: tuple[float, float] | None
    eave_to_m: tuple[float, float] | None
    runs_off_towards_deg: float | None
    meets: tuple[Met, ...]
    gutter_needed: bool


class GutterAnswer(Answer):
    """The gutter, its outlet and its fall."""

    diameter_mm: float
    length_m: float
    outlets: int
    outlet_at: str
    outlet_mm: float
    downpipe_at: str
    capacity_l_s: float
    utilisation: float
    least_fall_mm: float
    wished_fall_mm: float
    water_kg: float


class ButtAnswer(Answer):
    """A water butt by the 5 % rule."""

    size_l: float
    yearly_catch_l: float
    yearly_demand_l: float | None
    days_to_fill_wettest: float | None
    days_to_fill_driest: float | None
    words: str


class SoakawayAnswer(Answer):
    """A soakaway for clean rain, or why none can be sized here."""

    store_m3: float | None
    rubble_m3: float | None
    place_m: tuple[float, float] | None
    from_downpipe_m: float | None
    from_building_m: float | None
    from_boundary_m: float | None
    words: str


class SecondEave(Answer):
    """A further eave: the back slope of a duopitch, or the roof of a row's corridor."""

    roof: RoofWater
    gutter: GutterAnswer | None
    soakaway: SoakawayAnswer | None


class GroundAnswer(Answer):
    """The ground round the unit, and the sole plate above it."""

    fall_soft_mm: float
    fall_paved_mm: float
    over_m: float
    sole_above_mm: float | None
    sole_wanted_mm: float
    words: str


class FloorAnswer(Answer):
    """The floor and the drain under it."""

    hard: bool
    fall_pct: float
    wanted_pct: float | None
    rise_mm: float | None  # over the depth, at the fall that is wanted
    drained: bool
    sound: bool
    drain_mm: float
    drain_fall_mm_per_m: float
    words: str


class FillAnswer(Answer):
    """Automatic filling and draining of a bath: an option, not a must."""

    from_tap: str
    pipe_m: float
    pipe_inner_mm: float
    pressure_kpa: float
    flow_l_s: float
    fill_min: float
    air_gap_mm: float
    overflow_mm: float | None
    pipe_depth_mm: float
    drain_down_months: tuple[int, ...]
    words: str


class BathAnswer(Answer):
    """One bath: its water, how it empties, and how it could fill by itself."""

    name: str
    volume_l: float
    water_kg: float
    outlet_mm: float
    empties_min: float
    waste_fall_mm_per_m: tuple[float, float]
    drains: bool
    automatic: FillAnswer | None  # None: no tap is on the plan


class Drainage(Answer):
    """All water of one unit."""

    yard: str
    quarters: str
    roof: RoofWater | None
    gutter: GutterAnswer | None
    butt: ButtAnswer | None
    soakaway: SoakawayAnswer | None
    second: SecondEave | None  # of a duopitch; what stands above is its front slope
    corridor: SecondEave | None = None  # behind a row: its own roof
    ground: GroundAnswer
    floor: FloorAnswer
    baths: tuple[BathAnswer, ...]
    assumptions: tuple[str, ...]
    cautions: tuple[str, ...]
    sources: tuple[str, ...]
