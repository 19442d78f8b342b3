"""Wind on one unit: every direction, every state of its open sides, roof and faces.

kN/m2, given as sizes: `up` lifts, `down` presses; `into` pushes a face inwards, `out`
pulls it outwards. Each state counts: closed, open on one side, and a canopy on posts.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Literal

from mewswright.build.actions.open_sides import Inside, canopy, canopy_up_to_deg
from mewswright.build.actions.unit_faces import (
    OPPOSITE,
    Box,
    FaceWind,
    as_it_stands,
    box_of,
    drag,
    face_wind,
    full_push,
    inner,
)
from mewswright.build.actions.wind import edge_strip_m
from mewswright.build.shell import Shell
from mewswright.model.fitting import Side
from mewswright.model.quarters import SIDES

CANOPY = "canopy"


@dataclass(frozen=True)
class ZonePressure:
    """One zone of the roof in one wind: on large areas, and on a square metre of sheet."""

    zone: str
    area_m2: float
    up_kn_m2: float
    up_sheet_kn_m2: float
    down_kn_m2: float


@dataclass(frozen=True)
class WindCase:
    """The wind from one side, or the canopy, which knows no side.

    `lifting` and `pressing` are the states of the open sides that lift and press the roof
    most. The means are over the roof.
    """

    wind_from: str
    lifting: str
    pressing: str
    cpi_high: float
    cpi_low: float
    roof: tuple[ZonePressure, ...]
    roof_up_kn_m2: float
    roof_down_kn_m2: float
    drag: float  # along the wind on the face across it, over the peak pressure [-]

    def name(self, up: bool = True) -> str:
        """The case in words, with the state that lifts or that presses."""
        if self.wind_from == CANOPY:
            return "canopy, blocked below"
        return f"wind from the {self.wind_from}, {self.lifting if up else self.pressing}"


@dataclass(frozen=True)
class Worst:
    """The largest of a pressure, and the case it comes from."""

    kn_m2: float
    case: str


@dataclass(frozen=True)
class WindOn:
    """Wind on one unit, and the worst of all cases. Without a roof its pressures are 0."""

    cases: tuple[WindCase, ...]
    faces: tuple[FaceWind, ...]
    inside: Inside  # as the standard sorts it, every face as open as it is built
    edge_m: float  # the fierce strip along the roof's edges, the wider of all directions
    roof_up: Worst  # mean, for holding down
    roof_up_edge: Worst  # fiercest zone, for rafters and their ties
    roof_up_sheet: Worst  # the same on a square metre, for boards and fixings
    roof_down: Worst
    roof_down_edge: Worst
    overhang_up_kn_m2: float  # on an eave: sucked from above, pushed from below

    def face(self, side: Side) -> FaceWind:
        """The worst wind on a side."""
        return next(face for face in self.faces if face.side == side)

    def drag(self, side: Side) -> float:
        """Largest drag with the wind from a side or its opposite, over peak pressure [-]."""
        sides = (side, OPPOSITE[side])
        return max(case.drag for case in self.cases if case.wind_from in sides)


def wind_on(shell: Shell, qp_kn_m2: float) -> WindOn:
    """Wind on a unit that stands by itself.

    Every face of bars, slats, mesh or net is taken once as open and once as sheeted. A
    face that is open while all others are shut lets nine tenths of its outer pressure in.

    Args:
        shell: The unit.
        qp_kn_m2: Peak pressure at the top of its roof [kN/m2].

    Raises:
        Problem: For a roof steeper than 60 deg, of which no coefficients are known.
        ValueError: If the pressure is not above 0.

    Source:
        EN 1991-1-4:2005, 7.2.2, 7.2.4, 7.2.9, 7.3, 7.4 and 7.11. That both states of every
        open face count, with a canopy beside them: judgement, on the safe side.
    """
    if not qp_kn_m2 > 0:
        raise ValueError(f"peak pressure is above 0, got {qp_kn_m2:g} kN/m2")
    box = box_of(shell)
    cases = [_case(box, side, qp_kn_m2) for side in SIDES]
    if box.covered and box.porous and box.pitch_deg <= canopy_up_to_deg(form_of(box)):
        cases.append(_canopy_case(box, qp_kn_m2))
    strips = (
        edge_strip_m(box.roof_width_m, box.height_m),
        edge_strip_m(box.roof_depth_m, box.height_m),
    )
    fiercest = [zone.cpe_10 for side in SIDES for zone in box.roof_in(side)]
    return WindOn(
        cases=tuple(cases),
        faces=tuple(face_wind(box, side, qp_kn_m2) for side in SIDES),
        inside=as_it_stands(box),
        edge_m=max(strips) / 10,
        roof_up=_worst(cases, lambda case: case.roof_up_kn_m2),
        roof_up_edge=_worst(cases, lambda case: _most(case, "up_kn_m2")),
        roof_up_sheet=_worst(cases, lambda case: _most(case, "up_sheet_kn_m2")),
        roof_down=_worst(cases, lambda case: case.roof_down_kn_m2, up=False),
        roof_down_edge=_worst(cases, lambda case: _most(case, "down_kn_m2"), up=False),
        overhang_up_kn_m2=(full_push() - min(fiercest)) * qp_kn_m2 if fiercest else 0.0,
    )


def _worst(cases: Sequence[WindCase], of: Callable[[WindCase], float], up: bool = True) -> Worst:
    case = max(cases, key=of)
    return Worst(of(case), case.name(up))


def _most(case: WindCase, what: str) -> float:
    return max((getattr(zone, what) for zone in case.roof), default=0.0)


def _case(box: Box, side: Side, qp: float) -> WindCase:
    """One direction of wind: each zone with the worst pressure inside."""
    within = inner(box, side)
    zones = tuple(
        ZonePressure(
            zone=zone.name,
            area_m2=zone.area_m2,
            up_kn_m2=max(0.0, within.high - zone.cpe_10) * qp,
            up_sheet_kn_m2=max(0.0, within.high - zone.cpe_1) * qp,
            # Where the table has no pressing value, nothing is credited as sucking.
            down_kn_m2=max(0.0, zone.cpe_up - within.low) * qp,
        )
        for zone in box.roof_in(side)
    )
    area = sum(zone.area_m2 for zone in zones) or 1.0
    return WindCase(
        wind_from=side,
        lifting=within.high_state,
        pressing=within.low_state,
        cpi_high=within.high,
        cpi_low=within.low,
        roof=zones,
        roof_up_kn_m2=sum(zone.area_m2 * zone.up_kn_m2 for zone in zones) / area,
        roof_down_kn_m2=sum(zone.area_m2 * zone.down_kn_m2 for zone in zones) / area,
        drag=drag(box, side),
    )


def form_of(box: Box) -> Literal["monopitch", "duopitch"]:
    """The form of a roof, by its slopes."""
    return "duopitch" if box.slopes else "monopitch"


def _canopy_case(box: Box, qp: float) -> WindCase:
    """The roof as a canopy: A in the middle, B along the verges, C the eaves, D the ridge."""
    over = canopy(box.pitch_deg, blockage=1, form=form_of(box))
    width, depth = box.roof_width_m, box.roof_depth_m
    areas = {
        "A": 0.64 * width * depth,
        "B": 2 * 0.1 * width * depth,
        "C": 2 * 0.1 * depth * 0.8 * width,
    }
    if box.slopes:
        areas["D"] = 0.2 * depth * 0.8 * width
        areas["A"] -= areas["D"]
    return WindCase(
        wind_from=CANOPY,
        lifting="blocked",
        pressing="blocked",
        cpi_high=0.0,
        cpi_low=0.0,
        roof=tuple(
            ZonePressure(
                zone=zone,
                area_m2=area,
                up_kn_m2=-over.zones_up[zone] * qp,
                up_sheet_kn_m2=-over.zones_up[zone] * qp,
                down_kn_m2=over.zones_down[zone] * qp,
            )
            for zone, area in areas.items()
        ),
        roof_up_kn_m2=-over.overall_up * qp,
        roof_down_kn_m2=over.overall_down * qp,
        drag=0.0,
    )
