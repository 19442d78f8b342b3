"""Where a wall is parted into bolted panels, so that each can be carried to its spot.

A joint falls on an upright that stands there anyhow, which is then doubled; where none stands
near enough, a pair is set anew. Openings are never parted.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil

from mewswright.build.boarding import board_of, boarding
from mewswright.build.infill import infill
from mewswright.build.masses import part_mass
from mewswright.build.panel_way import Way, way_of
from mewswright.build.pieces import Piece, parts_of
from mewswright.build.shell import Wall, breadth_depth_mm
from mewswright.build.walls import Upright, WallFrame, framed
from mewswright.model.yard import Yard

STEP_MM = 50.0  # new pairs of uprights are tried so far apart
SHORTEST_MM = 500.0  # judgement: no panel is cut shorter for the sake of mass or gate
EACH_LESS = 0.95  # panels that are too large are tried so much shorter
NEW_PAIR = 1e12  # a pair set anew is worse than any unevenness of panels [mm2]


@dataclass(frozen=True)
class Span:
    """One panel of a wall as it is carried; lengths [mm], what has no mass on record named."""

    from_mm: float
    to_mm: float
    width_mm: float
    height_mm: float
    thick_mm: float
    mass_kg: float
    unweighed: tuple[str, ...]
    pieces: tuple[Piece, ...]

    def suits(self, way: Way) -> bool:
        """It passes the way, a team can carry it, and it is no longer than asked."""
        return (
            way.passes(self.width_mm, self.height_mm, self.thick_mm)
            and self.mass_kg <= way.carry_kg
            and self.to_mm - self.from_mm <= way.longest_mm + 1e-6
        )


def split(yard: Yard, wall: Wall, longest_sole_mm: float, longest_head_mm: float) -> WallFrame:
    """Frame a wall in as few panels as can be carried to their spot.

    Returns:
        The wall; where no parting makes every panel small enough, the one that leaves the
        fewest too large. `build/panels.py` says which and by how much.
    """
    whole = framed(yard, wall, longest_sole_mm, longest_head_mm)
    way = way_of(yard, wall.shell.quarters)
    if way.is_free:
        return whole
    start, end = wall.ends_mm
    limit = min(way.longest_mm, end - start)
    best: tuple[tuple[int, int], WallFrame] | None = None
    while True:
        joints = joints_mm(whole, limit)
        if joints is None:
            break
        tried = framed(yard, wall, longest_sole_mm, longest_head_mm, joints)
        large = [span for span in spans_of(tried) if not span.suits(way)]
        score = (len(large), len(joints))
        if best is None or score < best[0]:
            best = (score, tried)
        if not large:
            break
        limit = min(limit, max(s.to_mm - s.from_mm for s in large)) * EACH_LESS
        if limit < SHORTEST_MM:
            break
    return whole if best is None else best[1]


def joints_mm(whole: WallFrame, limit_mm: float) -> tuple[float, ...] | None:
    """Give the fewest joints that leave no panel longer than a limit; None: there are none.

    Args:
        whole: The wall in one panel.
        limit_mm: Greatest length of a panel.

    Source:
        The least sum of squared lengths for each number of panels, by dynamic programming.
    """
    start, end = whole.wall.ends_mm
    fewest = max(1, ceil((end - start) / limit_mm - 1e-9))
    if fewest == 1:
        return ()
    places = dict(_places(whole))
    cuts = [start, *sorted(places), end]
    cost = [0.0, *(places[at] for at in sorted(places)), 0.0]
    best: list[tuple[float, tuple[float, ...]] | None] = [(0.0, ())] + [None] * (len(cuts) - 1)
    for panels in range(1, 2 * fewest + 3):
        after: list[tuple[float, tuple[float, ...]] | None] = [None] * len(cuts)
        for j in range(1, len(cuts)):
            for i in range(j):
                known = best[i]
                long = cuts[j] - cuts[i]
                if known is None or long > limit_mm + 1e-6:
                    continue
                total = known[0] + long**2 + cost[j]
                held = after[j]
                if held is None or total < held[0] - 1e-6:
                    after[j] = (total, (*known[1], cuts[j]))
        found = after[-1]
        if found is not None and panels >= fewest:
            return found[1][:-1]
        best = after
    return None


def _places(whole: WallFrame) -> Iterator[tuple[float, float]]:
    """Places where a pair of uprights can stand, each with what it costs beside an upright."""
    ordinary = [u for u in whole.uprights[1:-1] if not u.opening and u.top_mm is None]
    breadth = whole.uprights[0].breadth_mm
    start, end = whole.wall.ends_mm
    fresh = [start + STEP_MM * i for i in range(1, ceil((end - start) / STEP_MM))]
    for at in fresh:
        if _is_free(whole, at, breadth, ()):
            yield at, NEW_PAIR
    for upright in ordinary:
        if _is_free(whole, upright.middle_mm, breadth, (upright,)):
            yield upright.middle_mm, 0.0


def _is_free(whole: WallFrame, at_mm: float, breadth_mm: float, but: Sequence[Upright]) -> bool:
    """Whether a pair of uprights that meets there stands clear of openings and of the rest."""
    low, high = at_mm - breadth_mm, at_mm + breadth_mm
    if any(o.from_mm < high and o.to_mm > low for o in whole.openings):
        return False
    return all(
        u in but or u.to_mm <= low + 1e-6 or u.from_mm >= high - 1e-6 for u in whole.uprights
    )


def spans_of(frame: WallFrame) -> list[Span]:
    """Give the panels of a wall with their pieces, outer sizes and masses, as carried."""
    wall = frame.wall
    pieces = list(frame.pieces)
    clad = wall.shell.quarters.frame.carry_clad
    if clad:
        pieces += [*infill(frame), *boarding([frame])]
    thick = wall.shell.wall_mm + (_cladding_mm(wall) if clad else 0.0)
    found = []
    for from_mm, to_mm in frame.spans:
        own = tuple(
            p for p in pieces if (at := middle_mm(wall, p)) is not None and from_mm < at < to_mm
        )
        masses = [(part, part_mass(part)) for part in parts_of(own)]
        low, high = _reach_mm(wall, own, from_mm, to_mm)
        tops = [*(wall.head_top_mm(s) for s in (from_mm, (from_mm + to_mm) / 2, to_mm))]
        if clad and wall.face.infill == "boarded":
            tops += [wall.roof_line_mm(s) for s in (low, (low + high) / 2, high)]
        found.append(
            Span(
                from_mm, to_mm, high - low, max(tops), thick,
                sum(mass.kg for _, mass in masses if mass is not None),
                tuple(part.what for part, mass in masses if mass is None), own,
            )
        )  # fmt: skip
    return found


def middle_mm(wall: Wall, piece: Piece) -> float | None:
    """Give where the middle of a piece lies along its wall [mm]; None: it has no place."""
    k = 0 if wall.is_level else 1
    if piece.stick is not None:
        return (piece.stick.start_mm[k] + piece.stick.end_mm[k]) / 2
    if piece.panel is not None:
        along = [corner[k] for corner in piece.panel.corners_mm]
        return (min(along) + max(along)) / 2
    return None


def _reach_mm(
    wall: Wall, pieces: Sequence[Piece], from_mm: float, to_mm: float
) -> tuple[float, float]:
    """Give how far the boards of a panel reach along its wall, and its timber at least."""
    k = 0 if wall.is_level else 1
    along = [c[k] for p in pieces if p.kind == "board" and p.panel for c in p.panel.corners_mm]
    return min([from_mm, *along]), max([to_mm, *along])


def _cladding_mm(wall: Wall) -> float:
    """How far what is nailed on stands out of the frame [mm]."""
    batten = breadth_depth_mm(wall.shell.quarters.frame.batten)[0]
    face, out = wall.face, 0.0
    if face.infill == "boarded" or face.upstand_mm:
        out = board_of(wall.shell).thickness_mm or 0.0
    if face.infill in ("meshed", "netted", "slatted"):
        out = max(out, batten)
    if face.infill != "boarded" and face.outer is not None:
        out = max(out, batten) + face.outer.stand_off_mm
    return out


def pair_count(walls: Sequence[WallFrame]) -> int:
    """Count the bolted joints between panels of one wall."""
    return sum(len(wall.spans) - 1 for wall in walls)


def bolts_at(wall: WallFrame, at_mm: float) -> int:
    """Count the bolts through one pair of uprights: near both ends, and between at most so far."""
    apart = wall.wall.shell.quarters.frame.bay_bolt_mm
    high = wall.wall.head_under_mm(at_mm) - wall.wall.shell.size_mm("sole")[0]
    return ceil(high / apart - 1e-9) + 1
