"""Gutters, downpipes, butt and soakaway of a unit as parts, sized as `drain` sizes them.

A gutter hangs on the ends of the rafters, its outer rim under the line of the roof so that
snow slides past it. Millimetres in the quarters' own frame (model/quarters.py).
"""

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import ceil, hypot, inf, radians, tan

from mewswright import handbook
from mewswright.build.corridor import behind_the_row, corridor_behind
from mewswright.build.gutter_places import HungGutter, hung_gutters
from mewswright.build.gutter_shapes import disc, half_round, tube
from mewswright.build.parts import Panel, Place
from mewswright.build.pieces import Piece
from mewswright.build.row import row_named
from mewswright.build.water.answers import SoakawayAnswer
from mewswright.handbook.water import ButtSize, butt_sizes
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard

NECK_DEG = 22.5  # how far below the level the neck between two bends of 112 deg runs
NECK_FROM_MM = 30.0  # judgement: a pipe so near to the wall needs no neck
SHOE_UP_MM = 100.0  # judgement: a shoe ends so far above the ground
STAND_MM = 350.0  # judgement: a can fits under the tap of a butt that stands so high
UNDER_MM = 10.0  # judgement: from the rafters down to a neck
LEAST_STAND_MM = 100.0  # judgement: a lower one lets no cup under the tap
DIVERTER_MM = 100.0  # judgement: from the neck of the pipe down to the rim of the butt
BESIDE_MM = 15.0  # judgement: from a downpipe to its butt
USUAL_BUTT_L = 200  # judgement: where no climate sizes one
BUTT_WALL_MM = 4.0
GUTTER, PIPE, BUTT = "gutter", "downpipe", "water butt"
DRAIN, STONE = "rain drain", "stone of the soakaway"


def gutter_pieces(yard: Yard, quarters: Quarters) -> list[Piece]:
    """All that leads the rain away from the roof of a unit, a row and its corridor.

    Args:
        yard: Rain, climate, doors, and where a soakaway may lie.
        quarters: The unit, or a row seen as one.
    """
    if quarters.roof is None or quarters.roof.gutter == "none":
        return []
    pieces = [p for hung in hung_gutters(yard, quarters) for p in _of_eave(hung)]
    row = row_named(yard, quarters.name)
    found = corridor_behind(yard, row) if row is not None else None
    if found is not None:
        behind = hung_gutters(found.yard, found.whole)
        pieces += [behind_the_row(p, found) for hung in behind for p in _of_eave(hung)]
    return pieces


def _of_eave(hung: HungGutter) -> Iterator[Piece]:
    yield from _gutter(hung)
    pipes = [_pipe_places(hung, x) for x in hung.outlets_mm]
    yield from _downpipes(hung, pipes)
    if hung.leads_to == "soakaway":
        yield from _soakaway(hung, hung.soakaway)
    elif hung.has_butt:
        yield from _butt(hung, pipes[0])


def _gutter(hung: HungGutter) -> Iterator[Piece]:
    size, where = hung.gutter.size.diameter_mm, f"{hung.eave.side} eave"
    row = handbook.material(f"half_round_{size:g}")
    long = hung.right_mm - hung.left_mm
    longest = max(row.stock_lengths_mm)
    lengths = ceil(long / longest - 1e-9)
    falls = hung.gutter.wished_fall_mm
    yield Piece(
        kind="rain", what=GUTTER, place=where, material=row.id, length_mm=long,
        amount=long / 1000, unit="m", packs=lengths,
        note=f"half-round, {size:g} mm; falls {falls:.0f} mm to {hung.outlet_words}; its rim "
        f"{hung.rim_mm(hung.high_mm):.0f} mm above the floor at the high end",
        panels=tuple(
            panel
            for a, b in hung.runs_mm
            for panel in half_round(hung.rim(a), hung.rim(b), size, row.thickness_mm or 3.0)
        ),
    )  # fmt: skip
    held = hung.brackets_mm
    gap = max((b - a for a, b in pairwise(held)), default=0.0)
    most = handbook.fixing_rule("gutter_bracket_spacing").figure.value
    note = f"on the ends of rafters, at most {gap:.0f} mm apart"
    if gap > most + 1:
        note += f"; more than {most:g} mm: fix a board along the rafters and one more between each"
    yield _counted("gutter bracket", where, "gutter_bracket", len(held), note)
    yield _counted("gutter joint", where, "gutter_joint", lengths - 1, "")
    yield _counted("gutter stop end", where, "gutter_stop_end", 2, "")
    outlet = f"{hung.gutter.size.outlet_mm:g} mm, at {hung.outlet_words}"
    count = len(hung.outlets_mm)
    yield _counted("gutter outlet", where, "gutter_outlet", count, outlet)
    yield _counted("leaf guard", where, "leaf_guard", count, "over the outlet, cleared with it")


def _pipe_places(hung: HungGutter, x_mm: float) -> list[Place]:
    """Middle line of a downpipe, from the outlet down; its neck passes under the rafters."""
    size = hung.gutter.size
    head = hung.rim_mm(x_mm) - size.diameter_mm / 2
    under = min(head, hung.slope.ceiling_mm(hung.eave.y_mm) - size.outlet_mm / 2 - UNDER_MM)
    y, wall = hung.middle_mm, hung.pipe_line_mm
    foot_y = wall if abs(y - wall) >= NECK_FROM_MM else y
    above = 0.0 if hung.leads_to == "soakaway" else SHOE_UP_MM
    foot = above - hung.ground.below_mm(x_mm, foot_y)
    places: list[Place] = [(x_mm, y, head)]
    if foot_y != y:
        if under < head - 1:
            places.append((x_mm, y, under))
        places.append((x_mm, foot_y, under - abs(y - foot_y) * tan(radians(NECK_DEG))))
    if foot < places[-1][2] - 1:
        places.append((x_mm, foot_y, foot))
    return places


def _downpipes(hung: HungGutter, pipes: Sequence[Sequence[Place]]) -> Iterator[Piece]:
    size, where = hung.gutter.size.outlet_mm, f"{hung.eave.side} wall, under the outlet"
    row = handbook.material(f"downpipe_{size:g}")
    most = handbook.fixing_rule("downpipe_clip_spacing").figure.value
    lengths = joints = clips = bends = 0
    for places in pipes:
        runs = list(pairwise(places))
        long = sum(_apart_mm(a, b) for a, b in runs)
        if not runs:
            continue
        packs = ceil(long / max(row.stock_lengths_mm) - 1e-9)
        lengths, joints = lengths + packs, joints + packs - 1
        clips += ceil(_apart_mm(*runs[-1]) / most) + 1
        necked = places[0][1] != places[-1][1]
        bends += 2 * necked
        yield Piece(
            kind="rain", what=PIPE, place=where, material=row.id, length_mm=long,
            amount=long / 1000, unit="m", packs=packs,
            note=f"{size:g} mm, from the eave to {hung.foot_words}"
            + ("; with a neck to the wall, under the rafters" if necked else ""),
            panels=tuple(
                panel for a, b in runs for panel in tube(a, b, size, row.thickness_mm or 2.0)
            ),
        )  # fmt: skip
    yield _counted("downpipe bend", where, "downpipe_bend", bends, "from the eave to the wall")
    yield _counted("downpipe joint", where, "downpipe_joint", joints, "")
    yield _counted("downpipe clip", where, "downpipe_clip", clips, f"at most {most:g} mm apart")
    if hung.leads_to != "soakaway":
        note = "away from the unit, onto ground that falls away from it"
        yield _counted("downpipe shoe", where, "downpipe_shoe", len(pipes), note)


def _butt(hung: HungGutter, pipe: Sequence[Place]) -> Iterator[Piece]:
    """The butt beside a downpipe, on a stand as high as the eave lets it be."""
    x, foot_y, _ = pipe[-1]
    room = pipe[max(0, len(pipe) - 2)][2] + hung.ground.below_mm(x, foot_y) - DIVERTER_MM
    size = butt_for(hung.butt_l, room - LEAST_STAND_MM)
    if size is None:
        return
    stand = min(STAND_MM, room - size.height_mm)
    wanted = (
        f"{hung.butt_l:.0f} l by the 5 % rule"
        if hung.butt_l is not None
        else f"{USUAL_BUTT_L} l is our judgement, for the yard file has no climate"
    )
    if hung.butt_l is not None and hung.butt_l > size.litres:
        wanted += f"; a second one joined to it takes more than {size.litres} l"
    where = f"{hung.eave.side}, beside the first downpipe"
    away = hung.gutter.size.outlet_mm / 2 + BESIDE_MM + size.diameter_mm / 2
    x += away if x > hung.shell.width_mm / 2 else -away
    y = hung.outer_wall_mm + hung.out * (BESIDE_MM + size.diameter_mm / 2)
    ground = -hung.ground.below_mm(x, y)
    foot, top = ground + stand, ground + stand + size.height_mm
    around = size.diameter_mm - BUTT_WALL_MM
    yield Piece(
        kind="rain", what="stand of the butt", place=where, material="butt_stand",
        length_mm=stand, width_mm=size.diameter_mm, amount=1,
        note=f"level and firm: full the butt weighs {size.litres} kg and more",
        panel=disc((x, y, ground + stand / 2), size.diameter_mm, stand),
    )  # fmt: skip
    yield Piece(
        kind="rain", what=BUTT, place=where, material=size.material,
        length_mm=size.height_mm, width_mm=size.diameter_mm, amount=1,
        note=f"{size.diameter_mm:g} mm across and {size.height_mm:g} mm high, with lid and tap; "
        f"{wanted}",
        panels=_vessel((x, y, foot), (x, y, top), around),
    )  # fmt: skip
    note = "level with the rim of the butt; what the butt does not take goes on down the pipe"
    yield _counted("rain diverter", where, "rain_diverter", 1, note)


def _vessel(foot: Place, top: Place, diameter_mm: float) -> tuple[Panel, ...]:
    return (
        *tube(foot, top, diameter_mm, BUTT_WALL_MM),
        disc((foot[0], foot[1], foot[2] + BUTT_WALL_MM / 2), diameter_mm, BUTT_WALL_MM),
        disc((top[0], top[1], top[2] + BUTT_WALL_MM / 2), diameter_mm, BUTT_WALL_MM),
    )


def butt_for(litres: float | None, room_mm: float = inf) -> ButtSize | None:
    """The smallest butt that holds so much, else the largest; the usual one where none is told.

    Args:
        litres: What it should hold [l].
        room_mm: Height at most; None stands under it if even the lowest does not.
    """
    wanted = USUAL_BUTT_L if litres is None else litres
    low = [one for one in butt_sizes() if one.height_mm <= room_mm]
    return next((one for one in low if one.litres >= wanted), low[-1] if low else None)


def _soakaway(hung: HungGutter, pit: SoakawayAnswer | None) -> Iterator[Piece]:
    where = f"of the {hung.eave.side} eave"
    count = len(hung.outlets_mm)
    yield _counted("leaf trap", where, "downpipe_trap", count, "between the pipe and its drain")
    if pit is None:
        return
    if pit.from_downpipe_m is not None and pit.place_m is not None:
        spread = sum(abs(x - hung.outlets_mm[0]) for x in hung.outlets_mm) / 1000
        yield Piece(
            kind="rain", what=DRAIN, place=where, material="rain_drain_110",
            amount=pit.from_downpipe_m + spread, unit="m",
            note=f"from the downpipe to the soakaway at {pit.place_m[0]:.1f}, {pit.place_m[1]:.1f}"
            " on the plan, in a straight line, so longer round the unit; falling 1 in 80 or more",
        )  # fmt: skip
    if pit.rubble_m3 is None:
        return
    yield Piece(
        kind="rain", what=STONE, place=where, material="clean_rubble",
        amount=pit.rubble_m3, unit="m3",
        note=f"room for {pit.store_m3:.2f} m3 of water between the stones; below the inlet",
    )  # fmt: skip
    yield Piece(
        kind="rain", what="fleece round the soakaway", place=where, material="geotextile",
        amount=6 * pit.rubble_m3 ** (2 / 3), unit="m2", note="all six sides of a cube, and laps",
    )  # fmt: skip


def _apart_mm(a: Place, b: Place) -> float:
    return hypot(*(q - p for p, q in zip(a, b, strict=True)))


def _counted(what: str, place: str, material: str, count: int, note: str) -> Piece:
    return Piece(kind="rain", what=what, place=place, material=material, amount=count, note=note)
