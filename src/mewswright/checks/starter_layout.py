"""Where the first fittings of a unit go: perches with room for tail and wings, and a bath.

Millimetres in the frame of the quarters. Each spot of a grid is tried, the best first;
what fits nowhere is left out. No room is made smaller than the checks ask.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from itertools import chain, combinations
from math import ceil, dist, floor

from mewswright.build import flight, landing, room
from mewswright.checks import asked
from mewswright.checks.case import Known
from mewswright.checks.perches import DROP_MM
from mewswright.handbook import block_top_diameter, perch_diameter, perch_kinds
from mewswright.model.fitting import Bath, Hatch, Perch
from mewswright.model.quarters import Quarters, perch_ends_mm

SLACK_MM = 10.0  # more than rounding to a centimetre can eat
GRID = 13  # spots tried along each side
HIGHEST_MM = 2200.0  # a keeper still reaches it; a judgement
SHORTEST_MM, LONGEST_SPANS = 300.0, 1.2  # of a perch; a judgement
BOW_LENGTH_MM = 600.0  # of a bow or a flat perch on its own stand; a judgement
RIM_OVER_WATER_MM = 20.0
AIR_BY_BATH_MM = 100.0  # to a wall, so that it can be lifted out; a judgement
LONG = ("round", "branch", "shelf", "flat")
DIRECTIONS = (0.0, 90.0)


@dataclass(frozen=True)
class Needs:
    """What one bird needs round a perch and of a bath [mm]."""

    span: float
    tail: float  # the body's length stands in where no tail is known
    side: float  # from the middle of the perch to the wall that a wing points at
    behind: float  # to the wall behind
    above: float  # to the roof
    low: float  # least height of a perch
    bath: float  # least width of a bath


def needs_of(known: Known) -> Needs:
    """Work out what a bird needs from its own sizes and the house rules."""
    span = known.span.value
    tail = known.tail.value if known.tail else known.body_length.value
    behind = tail + asked.number(asked.house_rule("perch_back_clear_mm")) + SLACK_MM
    wide = asked.number(asked.house_rule("bath_diameter_spans")) * span
    return Needs(
        span=span,
        tail=tail,
        side=span / 2 + asked.number(asked.house_rule("perch_side_clear_mm")) + SLACK_MM,
        behind=behind,
        above=asked.number(asked.house_rule("perch_roof_spans")) * span + SLACK_MM,
        low=tens_up(behind),
        bath=ceil(max(wide, known.body_length.value) / 50) * 50,
    )


def tens_up(value_mm: float) -> float:
    """Round up to a centimetre [mm]."""
    return float(ceil(value_mm / 10) * 10)


def tens_down(value_mm: float) -> float:
    """Round down to a centimetre [mm]."""
    return float(floor(value_mm / 10) * 10)


def loose_fittings(unit: Quarters, known: Known, hatch: Hatch | None) -> list[Perch | Bath]:
    """Place perches and a bath for a bird that goes loose.

    Args:
        unit: The unit without fittings.
        known: The bird.
        hatch: The hatch, whose ledge no perch may lie over.

    Returns:
        Three perches at three heights and a bath where they fit, else fewer.
    """
    needs = needs_of(known)
    dry: list[Perch | Bath] = []
    for count in (3, 2, 1):
        perches = _tiers(unit, known, needs, hatch, count)
        if len(perches) < count:
            continue
        bath = _bath(unit, needs, perches)
        if bath is not None:
            return [*perches, bath]
        dry = dry or [*perches]
    bath = _bath(unit, needs, [])
    return dry or ([] if bath is None else [bath])


def tethered_fittings(unit: Quarters, known: Known) -> list[Perch | Bath]:
    """Place one perch in the middle, and a low bath before it, for a tethered bird."""
    needs = needs_of(known)
    middle = (round(unit.width_mm / 2), round(unit.depth_mm / 2))
    perch = tether_perch(known, needs, middle)
    has_roof = unit.kind != "pitch"
    if has_roof and unit.ceiling_mm(middle[1]) - perch.height_mm < needs.above:
        return []
    bath = _bath(unit, needs, [perch], on_leash=True)
    return [perch] if bath is None else [perch, bath]


def tether_perch(known: Known, needs: Needs, middle: tuple[float, float]) -> Perch:
    """Give the perch that a bird is tied to: of the first kind that stands on its own."""
    kinds = [kind.kind for kind in perch_kinds(known.species)]
    form = next((kind for kind in kinds if kind in ("block", "bow")), None)
    if form is None:
        form = "ring" if "round" in kinds else "flat"
    place = partial(Perch, kind="perch", name="Perch", at_mm=middle, height_mm=needs.low,
                    cover="turf", cover_age_months=0, free_standing=True)  # fmt: skip
    if form == "block":
        return place(form="block", diameter_mm=block_top_diameter(known.species).value)
    if form == "flat":
        width_mm = block_top_diameter(known.species).value
        return place(form="flat", width_mm=width_mm, length_mm=BOW_LENGTH_MM)
    across_mm = _grip_mm(known, 0.5)
    if form == "ring":
        return place(form="ring", diameter_mm=across_mm)
    return place(form="bow", diameter_mm=across_mm, length_mm=BOW_LENGTH_MM)


def _grip_mm(known: Known, share: float) -> float:
    """Thickness of a round perch, so far up the range that suits the bird [mm]."""
    low, high = perch_diameter(known.mass.value)
    return float(round(low.value + (high.value - low.value) * share))


def _tiers(
    unit: Quarters, known: Known, needs: Needs, hatch: Hatch | None, count: int
) -> list[Perch]:
    """Place so many perches, the highest at the back and the lowest in front."""
    kinds = [kind.kind for kind in perch_kinds(known.species)]
    form = next((kind for kind in kinds if kind in LONG), "round")
    tiers = (("High perch", 1.0, 0.85, 0.35), ("Low perch", 0.0, 0.1, 0.75),
             ("Middle perch", 0.5, 0.5, 0.55))[:count]  # fmt: skip
    placed: list[Perch] = []
    for name, share, back, grip in tiers:
        wanted = sorted(_spots(unit, needs), key=partial(_how_far, unit, back))
        found = (
            perch
            for x, y, turn in wanted
            if (perch := _perch(unit, known, needs, name, form, (x, y), turn, share, grip))
            if _has_its_own_room(unit, needs, perch, placed, hatch)
        )
        best = next(found, None)
        if best is None:
            break
        flown_to = (p for p in chain((best,), found) if _ways_are_clear(unit, needs, [*placed, p]))
        perch = next(flown_to, best)
        cover = "carpet" if name == "Low perch" else "turf"  # a foot wants more than one texture
        placed.append(perch.model_copy(update={"cover": cover}))
    return placed


def _how_far(
    unit: Quarters, back: float, spot: tuple[float, float, float]
) -> tuple[float, float, float]:
    """How far a spot is from the wanted one: turned, too far to front or back, off the middle."""
    x, y, turn = spot
    return turn, abs(y / unit.depth_mm - back), abs(x - unit.width_mm / 2)


def _spots(unit: Quarters, needs: Needs) -> Iterator[tuple[float, float, float]]:
    """Every spot of the grid where wings and tail have room, with the turn of the perch."""
    for turn in DIRECTIONS:
        by_x, by_y = (needs.side, needs.behind) if turn == 0 else (needs.behind, needs.side)
        for x in _steps(by_x, unit.width_mm - by_x):
            for y in _steps(by_y, unit.depth_mm - by_y):
                yield x, y, turn


def _steps(low_mm: float, high_mm: float) -> Iterator[float]:
    if low_mm > high_mm:
        return
    for i in range(GRID):
        at = low_mm + (high_mm - low_mm) * i / (GRID - 1)
        yield tens_up(at) if tens_up(at) <= high_mm else tens_down(high_mm)


def _perch(
    unit: Quarters, known: Known, needs: Needs, name: str, form: str, at: tuple[float, float],
    turn: float, share: float, grip: float,
) -> Perch | None:  # fmt: skip
    """Give a perch so far up between the lowest and the highest place that is sound there."""
    top_mm = min(HIGHEST_MM, tens_down(unit.ceiling_mm(at[1]) - needs.above))
    if top_mm < needs.low:
        return None
    low_mm = max(needs.low, tens_up(top_mm * 0.4))
    height_mm = min(top_mm, tens_up(low_mm + (top_mm - low_mm) * share))
    along = at[0] if turn == 0 else at[1]
    run = unit.width_mm if turn == 0 else unit.depth_mm
    free_mm = 2 * (min(along, run - along) - needs.side)  # wings stay clear at its ends too
    length_mm = min(max(tens_down(free_mm), SHORTEST_MM), tens_down(LONGEST_SPANS * needs.span))
    length_mm = max(length_mm, SHORTEST_MM)
    data = {
        "kind": "perch", "name": name, "form": form, "at_mm": at, "height_mm": height_mm,
        "length_mm": length_mm, "turn_deg": turn, "cover": "turf", "cover_age_months": 0,
    }  # fmt: skip
    if form in ("shelf", "flat"):
        data["width_mm"] = block_top_diameter(known.species).value
    else:
        data["diameter_mm"] = _grip_mm(known, grip)
    return Perch.model_validate(data)


def _has_its_own_room(
    unit: Quarters, needs: Needs, perch: Perch, placed: Sequence[Perch], hatch: Hatch | None
) -> bool:
    """Whether a perch lies over no other, and strikes none with a wing."""
    ledge = room.ledge_plan(unit, hatch) if hatch is not None else None
    if ledge is not None and room.rectangle_to_perch_mm(ledge, perch) < DROP_MM + SLACK_MM:
        return False
    for other in placed:
        if room.perch_gap_mm(perch, other) < DROP_MM + SLACK_MM:
            return False
        level_mm = room.segment_gap_mm(perch_ends_mm(perch), perch_ends_mm(other))
        apart_mm = abs(perch.height_mm - other.height_mm)
        if apart_mm < SLACK_MM or max(level_mm, apart_mm) < needs.span / 2 + SLACK_MM:
            return False
    return True


def _ways_are_clear(unit: Quarters, needs: Needs, perches: Sequence[Perch]) -> bool:
    """Whether a bird lands on each perch with open wings, and flies between any two."""
    around = [flight.perch_thing(perch) for perch in perches]
    if any(landing.landing_room_mm(unit, p, around) < needs.span + SLACK_MM for p in perches):
        return False
    return all(
        flight.flight(one, other, around).clear_mm >= needs.span / 2 + SLACK_MM
        for one, other in combinations(perches, 2)
    )


def _bath(
    unit: Quarters, needs: Needs, perches: Sequence[Perch], on_leash: bool = False
) -> Bath | None:
    """Place a bath away from all perches, as near to the front as it goes.

    For a bird on a leash as near to its perch as it goes, so that it comes to the water.
    """
    depth_mm = asked.number(asked.house_rule("bath_depth_low_mm"))
    depth_mm = (depth_mm + asked.number(asked.house_rule("bath_depth_high_mm"))) / 2
    edge = needs.bath / 2 + AIR_BY_BATH_MM
    spots = [
        (x, y)
        for y in _steps(edge, unit.depth_mm - edge)
        for x in sorted(
            _steps(edge, unit.width_mm - edge), key=lambda x: abs(x - unit.width_mm / 2)
        )
    ]
    if on_leash:
        spots.sort(key=lambda spot: dist(spot, perches[0].at_mm))
    for spot in spots:
        bath = Bath.model_validate(
            {
                "kind": "bath", "name": "Bath", "at_mm": spot, "diameter_mm": needs.bath,
                "depth_mm": depth_mm, "rim_height_mm": depth_mm + RIM_OVER_WATER_MM,
            }
        )  # fmt: skip
        plan = room.bath_plan(bath)
        if all(room.rectangle_to_perch_mm(plan, p) >= DROP_MM + SLACK_MM for p in perches):
            return bath
    return None
