"""What a floor weighs wet: can the barrow carry it, and can the ground bear it with the unit?"""

from collections.abc import Sequence

from pydantic import BaseModel, ConfigDict

from mewswright import handbook
from mewswright.build.actions.dead import NOT_HELD, weight_kn
from mewswright.build.footings import FILL, footing_count
from mewswright.build.holding.ground import under_unit_m2
from mewswright.build.masses import part_mass
from mewswright.build.parts import Part
from mewswright.build.shell import shell_of
from mewswright.handbook.coatings import wet_floors
from mewswright.model.place import Loads
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard

L_PER_M3 = 1000.0
NOT_WHEELED = ("concrete", "matting")  # it stays where it lies, or is lifted and washed


class FloorLoad(BaseModel):
    """The floor as it is wheeled in and out, and as it lies. None: not known.

    A barrow is full when either its room or its load is used up. The unit's own pressure is
    without snow and wind: `mewswright frame` has those.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")
    volume_m3: float
    drained_kg: float | None  # after rain or washing
    soaked_kg: float | None  # every gap full of water
    barrow_l: float
    barrow_kg: float
    barrow_loads: int | None  # drained, to take it all out
    barrow_limit: str  # "its room" or "its load"
    floor_kn_m2: float | None  # soaked, on the ground below it
    unit_kn_m2: float | None  # the unit's own weight on the ground below its base
    bearing_kn_m2: float
    bearing_assumed: bool  # the yard file gives none
    ground_bears: bool | None
    answer: str


def floor_load(yard: Yard, quarters: Quarters, parts: Sequence[Part]) -> FloorLoad | None:
    """Weigh the floor of a unit; None where it has no loose floor.

    Args:
        yard: Its barrow (`service`) and the bearing of its ground (`loads`).
        quarters: The unit.
        parts: Its take-off.

    Source:
        handbook wet_floors for the masses, fixing_rules barrow_volume and barrow_mass where
        the yard file has no barrow; the bearing of the ground is a load of the yard file.
    """
    volume = sum(part.amount for part in parts if part.kind == "substrate")
    if volume <= 0:
        return None
    wet = wet_floors().get(quarters.floor.substrate)
    room_l = yard.service.barrow_l or handbook.fixing_rule("barrow_volume").figure.value * L_PER_M3
    load_kg = yard.service.barrow_kg or handbook.fixing_rule("barrow_mass").figure.value
    loads, limit = None, ""
    if wet is not None and quarters.floor.substrate not in NOT_WHEELED:
        by_room = volume * L_PER_M3 / room_l
        by_load = volume * wet.drained_kg_m3 / load_kg
        loads = int(-(-max(by_room, by_load) // 1))
        limit = "its load" if by_load > by_room else "its room"
    bearing = (yard.loads or _default_loads()).soil_bearing_kn_m2
    floor = weight_kn(wet.soaked_kg_m3) * quarters.floor.depth_mm / 1000 if wet else None
    unit = _unit_kn_m2(quarters, parts)
    worst = max((one for one in (floor, unit) if one is not None), default=None)
    bears = None if worst is None or floor is None else worst <= bearing
    return FloorLoad(
        volume_m3=round(volume, 4),
        drained_kg=round(volume * wet.drained_kg_m3, 1) if wet else None,
        soaked_kg=round(volume * wet.soaked_kg_m3, 1) if wet else None,
        barrow_l=room_l,
        barrow_kg=load_kg,
        barrow_loads=loads,
        barrow_limit=limit,
        floor_kn_m2=None if floor is None else round(floor, 3),
        unit_kn_m2=None if unit is None else round(unit, 3),
        bearing_kn_m2=bearing,
        bearing_assumed=yard.loads is None,
        ground_bears=bears,
        answer=_answer(quarters, loads, limit, bears, worst, bearing),
    )


def _default_loads() -> Loads:
    return Loads(source="none", ground_snow_kn_m2=0, basic_wind_m_s=1, terrain="II")


def _unit_kn_m2(quarters: Quarters, parts: Sequence[Part]) -> float | None:
    """Pressure of all that stands on the base, base and all [kN/m2]."""
    held = [
        part for part in parts
        if (part.kind not in NOT_HELD or part.kind == "base") and part.what != FILL
    ]  # fmt: skip
    masses = [mass.kg for mass in map(part_mass, held) if mass is not None]
    pads = footing_count(parts)
    area = under_unit_m2(shell_of(quarters), pads)
    return weight_kn(sum(masses)) / area if masses and area > 0 else None


def _answer(
    quarters: Quarters, loads: int | None, limit: str, bears: bool | None, worst: float | None,
    bearing: float,
) -> str:  # fmt: skip
    if bears is None:
        return (
            f"the handbook does not know what a floor of {quarters.floor.substrate} weighs wet: "
            "weigh a bucket of it"
        )
    barrow = ""
    if loads is not None:
        barrow = f"{loads} barrow loads to take it out wet, {limit} is what fills the barrow; "
    if bears:
        return f"{barrow}the ground bears it: {worst:.1f} of {bearing:g} kN/m2"
    return (
        f"{barrow}the ground does not bear it: {worst:.1f} against {bearing:g} kN/m2. Widen the "
        "base, lay less depth, or have the ground looked at"
    )
