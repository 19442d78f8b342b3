"""Where the gutters of a unit hang, which way they fall, and what they lead to.

Sizes are those of build/water, one reckoning for `drain` and the take-off. Millimetres in
the quarters' own frame (model/quarters.py).
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from mewswright import handbook
from mewswright.build.frame import framed_walls
from mewswright.build.ground_line import GroundLine, ground_line
from mewswright.build.parts import Place
from mewswright.build.rafters import rafter_middles_mm
from mewswright.build.roofing import across_mm
from mewswright.build.row import row_named, shell_in, skin_mm, starts_mm, units_in
from mewswright.build.shell import Shell, Slope
from mewswright.build.water.answers import SoakawayAnswer
from mewswright.build.water.gutter import Gutter
from mewswright.build.water.rain import (
    butt_answer,
    downpipe,
    eave_under,
    gutter_under,
    roof_water,
    soakaway_answer,
)
from mewswright.build.water.runoff import Eave, without_own_units
from mewswright.model.problem import Problem
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard

BEHIND_MM = 5.0  # judgement: from the ends of the rafters to the gutter
UNDER_MM = 5.0  # judgement: from the line of the roof down to the outer rim at its high end
PIPE_OFF_MM = 20.0  # judgement: what a clip holds a pipe off the wall
CLEAR_MM = 40.0  # judgement: from a downpipe to the edge of a door or hatch
END_MM = 100.0  # judgement: from an outlet to the end of a gutter over a shared wall


@dataclass(frozen=True)
class HungGutter:
    """The gutter of one eave where it hangs.

    Attributes:
        outlets_mm: Middles of its outlets along the eave, the butt's first.
        brackets_mm: Rafters that hold it, along the eave.
        outlet_words: Where its outlet is.
        has_butt: It fills the butt, if there is one: of a duopitch the front eave's does.
        butt_l: Litres of the butt by the 5 % rule; None: no climate sizes it.
    """

    shell: Shell
    slope: Slope
    eave: Eave
    gutter: Gutter
    ground: GroundLine
    outlets_mm: tuple[float, ...]
    brackets_mm: tuple[float, ...]
    outlet_words: str
    leads_to: str
    has_butt: bool
    butt_l: float | None
    soakaway: SoakawayAnswer | None

    @property
    def out(self) -> float:
        """Which way is out from the eave along y: -1 at the front, 1 at the back."""
        return -1.0 if self.eave.side == "front" else 1.0

    @property
    def left_mm(self) -> float:
        """Left end of the gutter, seen from in front."""
        return across_mm(self.shell)[0]

    @property
    def right_mm(self) -> float:
        """Right end."""
        return across_mm(self.shell)[1]

    @property
    def middle_mm(self) -> float:
        """Middle of the gutter behind the front."""
        return self.eave.y_mm + self.out * (BEHIND_MM + self.gutter.size.diameter_mm / 2)

    @property
    def outer_wall_mm(self) -> float:
        """Outside of the wall under the eave, its boards counted, behind the front."""
        shell = self.shell
        clear = 0.0 if self.eave.side == "front" else shell.depth_mm
        return clear + self.out * (shell.wall_mm + skin_mm(shell, self.eave.side))

    @property
    def pipe_line_mm(self) -> float:
        """Middle of a downpipe on the wall, behind the front."""
        return self.outer_wall_mm + self.out * (PIPE_OFF_MM + self.gutter.size.outlet_mm / 2)

    @property
    def highs_mm(self) -> tuple[float, ...]:
        """Places along the eave from which the gutter falls both ways or one."""
        at = sorted(self.outlets_mm)
        between = [(a + b) / 2 for a, b in pairwise(at)]
        if self.gutter.outlet_at == "one end":
            far = self.right_mm if at[0] < (self.left_mm + self.right_mm) / 2 else self.left_mm
            return (far,)
        return (self.left_mm, *between, self.right_mm)

    @property
    def high_mm(self) -> float:
        """One of them."""
        return self.highs_mm[0]

    @property
    def runs_mm(self) -> tuple[tuple[float, float], ...]:
        """Stretches of even fall along the eave."""
        places = {self.left_mm, self.right_mm, *self.outlets_mm, *self.highs_mm}
        return tuple(pairwise(sorted(places)))

    def rim_mm(self, x_mm: float) -> float:
        """Height of its rim at a place along the eave, falling to the nearest outlet."""
        outer = BEHIND_MM + self.gutter.size.diameter_mm
        depth = self.shell.size_mm("rafter")[1] / self.slope.cos_pitch
        top = self.slope.ceiling_mm(self.eave.y_mm) + depth - outer * abs(self.slope.rise)
        to_outlet = min(abs(x_mm - at) for at in self.outlets_mm)
        longest = max(min(abs(high - at) for at in self.outlets_mm) for high in self.highs_mm)
        share = 1 - min(1.0, to_outlet / longest) if longest > 0 else 0.0
        return top - UNDER_MM - share * self.gutter.wished_fall_mm

    def rim(self, x_mm: float) -> Place:
        """Middle of its open top at a place along the eave."""
        return x_mm, self.middle_mm, self.rim_mm(x_mm)

    @property
    def foot_words(self) -> str:
        """What a downpipe ends in."""
        if self.leads_to == "soakaway":
            return "the leaf trap at the ground"
        return "a shoe over the ground"


def hung_gutters(yard: Yard, quarters: Quarters) -> tuple[HungGutter, ...]:
    """Every gutter of a unit's roof, the front's first; see `without_gutter` for eaves without."""
    roof = quarters.roof
    if roof is None or roof.gutter == "none":
        return ()
    shell = shell_in(yard, quarters)
    seen = without_own_units(yard, quarters)
    found: list[HungGutter] = []
    for slope in shell.slopes:
        hung = _hung(seen, yard, shell, slope, first=not found)
        if isinstance(hung, HungGutter):
            found.append(hung)
    return tuple(found)


def without_gutter(yard: Yard, quarters: Quarters) -> Iterator[str]:
    """Say why an eave of a roof that wants gutters has none."""
    roof = quarters.roof
    if roof is None or roof.gutter == "none":
        return
    shell = shell_in(yard, quarters)
    seen = without_own_units(yard, quarters)
    for slope in shell.slopes:
        hung = _hung(seen, yard, shell, slope, first=True)
        if isinstance(hung, str):
            yield hung


def _hung(seen: Yard, yard: Yard, shell: Shell, slope: Slope, *, first: bool) -> HungGutter | str:
    quarters = shell.quarters
    assert quarters.roof is not None
    water = roof_water(seen, shell, slope)
    if water is None:
        return f"no gutter is taken off: nothing of {quarters.name!r} is roofed"
    eave = eave_under(shell, slope)
    if eave is None:
        return f"no gutter is taken off: the roof of {quarters.name!r} is level, raise one side"
    if eave.inside:
        return (
            f"no gutter is taken off: the roof of {quarters.name!r} ends over the rafters that run "
            "on to its open part; let it fall to the back"
        )
    try:
        gutter = gutter_under(shell, water, eave)
    except Problem as problem:
        return f"no gutter is taken off: {problem}"
    words, at = downpipe(seen, shell, eave, gutter)
    butt = butt_answer(seen, shell, water) if quarters.roof.gutter == "butt" else None
    pit = quarters.roof.gutter == "soakaway"
    return HungGutter(
        shell=shell, slope=slope, eave=eave, gutter=gutter, ground=ground_line(yard, shell),
        outlets_mm=_outlets_mm(yard, shell, eave, gutter, at == eave.from_m),
        brackets_mm=_brackets_mm(shell),
        outlet_words=words, leads_to=quarters.roof.gutter,
        has_butt=quarters.roof.gutter == "butt" and first,
        butt_l=butt.size_l if butt is not None else None,
        soakaway=soakaway_answer(seen, shell, water, slope) if pit else None,
    )  # fmt: skip


def _outlets_mm(
    yard: Yard, shell: Shell, eave: Eave, gutter: Gutter, at_left: bool
) -> tuple[float, ...]:
    """Where outlets hang: over the corner post at one end, else over the nearest upright."""
    left, right = across_mm(shell)
    if gutter.outlet_at == "one end":
        if at_left:
            return (left + END_MM if shell.join("left") else -shell.wall_mm / 2,)
        return (right - END_MM if shell.join("right") else shell.width_mm + shell.wall_mm / 2,)
    step = (right - left) / gutter.outlets
    wanted = [left + (i + 0.5) * step for i in range(gutter.outlets)]
    free = _free_uprights_mm(yard, shell, eave, gutter.size.outlet_mm / 2 + CLEAR_MM)
    near = [min(free, key=lambda x: abs(x - at), default=at) for at in wanted]
    return tuple(x if abs(x - at) < step / 4 else at for x, at in zip(near, wanted, strict=True))


def _free_uprights_mm(yard: Yard, shell: Shell, eave: Eave, clear_mm: float) -> list[float]:
    """Middles of the uprights under an eave that no door or hatch stands near."""
    row = row_named(yard, shell.quarters.name)
    units = (
        zip(units_in(yard, row), starts_mm(yard, row), strict=True)
        if row is not None
        else [(shell.quarters, 0.0)]
    )
    found: list[float] = []
    for unit, start in units:
        own = shell if unit is shell.quarters else shell_in(yard, unit)
        for frame in framed_walls(yard, own):
            if frame.wall.side == eave.side:
                found += [
                    start + upright.middle_mm
                    for upright in frame.uprights
                    if all(
                        upright.middle_mm < o.from_mm - clear_mm
                        or upright.middle_mm > o.to_mm + clear_mm
                        for o in frame.openings
                    )
                ]
    return found


def _brackets_mm(shell: Shell) -> tuple[float, ...]:
    """Rafters that hold a gutter: as few as keep the brackets near enough to each other."""
    most = handbook.fixing_rule("gutter_bracket_spacing").figure.value
    rafters = rafter_middles_mm(shell)
    kept = [rafters[0]]
    for i, x in enumerate(rafters[1:], start=1):
        last = i + 1 == len(rafters)
        if last or rafters[i + 1] - kept[-1] > most + 1:
            kept.append(x)
    return tuple(kept)
