"""Remedies for the roof, and for a room that is too low, too narrow or too short."""

from collections.abc import Iterator
from itertools import product
from math import ceil, inf

from mewswright.build.clear_height import beam_mm
from mewswright.checks import asked
from mewswright.checks.finding import Finding
from mewswright.fit.change import ROOF, STRUCTURE, Change, Edit
from mewswright.fit.remedies_faces import bird_gap_mm
from mewswright.fit.remedy import Standing, figure, remedy, up_mm
from mewswright.model.quantity import m_from_mm, mm_from_m

GROWN_AT_MOST = 2.0  # a side made more than twice as long is a new unit: a judgement
RAISED_AT_MOST_MM = 1500.0  # as are walls made higher by more: a judgement
SIZE = ("S101", "S102", "S103", "S104", "S105", "S106", "S109", "S110")
HEIGHT = ("P104", "T104", "T112", "S103", "S106", "S102", "R102", "R105", "P101", "P111")


def raised(
    standing: Standing, front_mm: float, back_mm: float, why: str = "",
    ridge_mm: float | None = None,
) -> Iterator[Change]:  # fmt: skip
    """Lift the roof at the front, at the back or at both, by so much each.

    A ridge goes up with the eave that goes up most, or by a length of its own.
    """
    q = standing.quarters
    front, back = q.front_height_mm, q.back_height_mm
    up_there = max(front_mm, back_mm) if ridge_mm is None else ridge_mm
    if front is None or back is None or max(front_mm, back_mm, up_there) > RAISED_AT_MOST_MM:
        return
    ends: list[tuple[tuple[str, ...], str, float, float]] = [
        (("front_height_mm",), "front", front, front_mm),
        (("back_height_mm",), "back", back, back_mm),
    ]
    if q.ridge_mm is not None:
        ends.append((("roof", "ridge_height_mm"), "ridge", q.ridge_mm[1], up_there))
    edits, parts = [], []
    for keys, side, old, by in ends:
        if by > 0:
            edits.append(standing.put(*keys, old + by))
            parts.append(f"the {side} {by:g} mm, to {old + by:g} mm")
    if not edits:
        return
    cost = standing.prices.built("roof_raise", q.floor_area_m2, lambda: standing.with_edits(edits))
    words = f"raise {' and '.join(parts)}{why}"
    yield standing.change(words, HEIGHT, edits, cost, STRUCTURE)


@remedy("P104", "T104", "T112", "S103", "S106", "S102")
def raise_the_roof(standing: Standing, finding: Finding) -> Iterator[Change]:
    """Raise what is too low: each end as far as it must, or the whole roof alike."""
    q = standing.quarters
    limit, measured = figure(finding), figure(finding, "measured")
    if q.front_height_mm is None or q.back_height_mm is None:
        return
    if limit is None or measured is None:
        return
    if finding.code == "S102":
        short = up_mm(mm_from_m((limit - measured) / q.floor_area_m2))
        yield from raised(standing, short, short)
        return
    if finding.code in ("S103", "T104", "S106"):
        front, back = (max(0, up_mm(limit - h)) for h in (q.front_height_mm, q.back_height_mm))
        under = inf if (beam := beam_mm(q)) is None else beam[2]
        ridge = max(front, back, 0 if under >= limit else up_mm(limit - under))
        yield from raised(standing, front, back, ridge_mm=ridge)
    if finding.code in ("P104", "T112", "S103"):
        short = up_mm(limit - measured)
        yield from raised(standing, short, short)


@remedy("R101", "R102")
def change_the_fall(standing: Standing, finding: Finding) -> Iterator[Change]:
    """Give the roof a greater fall, or let it fall the other way."""
    q = standing.quarters
    if q.front_height_mm is None or q.back_height_mm is None:
        return
    fall = q.front_height_mm - q.back_height_mm
    limit, measured = figure(finding), figure(finding, "measured")
    more = up_mm(limit - measured) if limit is not None and measured is not None else 50
    if q.ridge_mm is not None:
        if finding.code == "R102":  # R101 is cured by gutters: both eaves shed water
            yield from raised(standing, 0, 0, ", for a fall", ridge_mm=more)
        return
    if finding.code == "R102":
        ways = ((more, 0),) if fall > 0 else ((0, more),) if fall < 0 else ((more, 0), (0, more))
    else:
        over = up_mm(abs(fall)) + max(100, up_mm(q.depth_mm / 20))
        ways = ((over, 0),) if fall <= 0 else ((0, over),)
    for front, back in ways:
        yield from raised(standing, front, back, ", for a fall")


@remedy("R103", "R104", "R108", "P112", "F106", "F116", "N101", "N102", "T117", "T120")
def roof_over(standing: Standing, finding: Finding) -> Iterator[Change]:
    """Roof more of the top, all of it, or close what stays open with mesh."""
    q = standing.quarters
    if q.roof is None:
        return
    share = q.roof.covered_share if q.has_roof else 0.0
    wanted = {1.0}
    limit = figure(finding)
    if finding.code == "R103" and limit is not None:
        wanted.add(ceil(limit - 1e-9) / 100)
    if finding.code == "R108":
        wanted.add(0.5)
    for new in sorted(wanted):
        if new <= share:
            continue
        keys: dict[str, object] = {"covered_share": new}
        if not q.has_roof:
            keys["form"] = "monopitch"
        yield _roofed(
            standing, "roof_cover", (new - share) * q.floor_area_m2,
            f"roof {new * 100:g} % of the top instead of {share * 100:g} %", keys,
        )  # fmt: skip
    if finding.code in ("R104", "F116", "N102") and share < 1:
        gap = bird_gap_mm(standing)
        if finding.code == "F116" and limit is not None:
            gap = min(gap, float(int(limit)))
        weasel = asked.number(asked.house_rule("weasel_gap_mm"))
        wanted_gaps = {gap, min(gap, float(int(weasel)))}
        for infill, gap in product(("meshed", "netted"), sorted(wanted_gaps, reverse=True)):
            keys = {"open_infill": infill, "open_gap_mm": gap}
            if not q.has_roof:
                keys |= {"form": "monopitch", "covered_share": 0.0}
            yield _roofed(
                standing, "roof_close", (1 - share) * q.floor_area_m2,
                f"close the open top with {'mesh' if infill == 'meshed' else 'net'}, gaps of "
                f"{gap:g} mm at most", keys,
            )  # fmt: skip


def _roofed(
    standing: Standing, kind: str, m2: float, words: str, keys: dict[str, object]
) -> Change:
    edits = [standing.put("roof", key, value) for key, value in keys.items()]
    cost = standing.prices.built(kind, m2, lambda: standing.with_edits(edits))
    codes = ("R103", "R104", "R108", "P112", "F106", "F116", "D101")
    return standing.change(words, codes, edits, cost, ROOF)


@remedy("R106")
def pad(standing: Standing, finding: Finding) -> Iterator[Change]:
    """Pad the ceiling over a nervous bird."""
    del finding
    cost = standing.prices.of("pad_ceiling", standing.quarters.floor_area_m2)
    edits = [standing.put("roof", "padded", True)]
    yield standing.change("pad the ceiling, or net under it", ("R106",), edits, cost, ROOF)


@remedy(*SIZE, "P102", "P103", "T101", "L101")
def grow(standing: Standing, finding: Finding) -> Iterator[Change]:
    """Make the room wider, deeper or both; the far walls move out."""
    q = standing.quarters
    limit, measured = figure(finding), figure(finding, "measured")
    if limit is None or measured is None:
        return
    short = limit - measured
    if finding.code == "S101":
        yield from _grown(standing, up_mm(mm_from_m(short / m_from_mm(q.depth_mm))), 0)
        yield from _grown(standing, 0, up_mm(mm_from_m(short / m_from_mm(q.width_mm))))
    elif finding.code == "S102" and q.volume_m3:
        mean_m = q.volume_m3 / q.floor_area_m2
        yield from _grown(standing, up_mm(mm_from_m(short / (m_from_mm(q.depth_mm) * mean_m))), 0)
        yield from _grown(standing, 0, up_mm(mm_from_m(short / (m_from_mm(q.width_mm) * mean_m))))
    elif finding.code == "S109":
        yield from _grown(standing, max(0, up_mm(limit - q.width_mm)), 0)
        yield from _grown(standing, 0, max(0, up_mm(limit - q.depth_mm)))
    elif finding.code in SIZE:
        wide, deep = (max(0, up_mm(limit - side)) for side in (q.width_mm, q.depth_mm))
        yield from _grown(standing, wide, deep)
    else:
        yield from _grown(standing, up_mm(2 * short), 0)
        yield from _grown(standing, 0, up_mm(2 * short))


def _grown(standing: Standing, wide_mm: int, deep_mm: int) -> Iterator[Change]:
    q = standing.quarters
    width, depth = q.width_mm + wide_mm, q.depth_mm + deep_mm
    if not (wide_mm or deep_mm):
        return
    if width > GROWN_AT_MOST * q.width_mm or depth > GROWN_AT_MOST * q.depth_mm:
        return
    sides = [(wide_mm, "width_mm", "wider"), (deep_mm, "depth_mm", "deeper")]
    words = " and ".join(f"{by} mm {word}" for by, _, word in sides if by)
    edits: list[Edit] = [standing.put(key, getattr(q, key) + by) for by, key, _ in sides if by]
    # The right wall and the back wall move out; what hangs on them moves along of itself.
    gained = m_from_mm(width) * m_from_mm(depth) - q.floor_area_m2
    cost = standing.prices.built("grow", gained, lambda: standing.with_edits(edits))
    yield standing.change(
        f"build it {words}", (*SIZE, "P102", "P103", "T101"), edits, cost, STRUCTURE
    )  # fmt: skip
