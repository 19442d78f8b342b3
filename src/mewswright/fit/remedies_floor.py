"""Remedies for the floor and for what digs under it."""

from collections.abc import Iterator

from mewswright.checks.finding import Finding
from mewswright.fit.change import FLOOR, Change, Cost, Edit, together
from mewswright.fit.remedy import Standing, figure, remedy, up_mm
from mewswright.handbook import substrates

LITTER_MM = 100.0


@remedy("F110")
def stop_digging(standing: Standing, finding: Finding) -> Iterator[Change]:
    """Bury mesh or lay an apron along the walls, or carry it farther."""
    limit = figure(finding)
    if limit is None:
        return
    floor, deep = standing.quarters.floor, float(up_mm(limit))
    kinds = ("apron", "buried") if floor.dig_barrier == "none" else (floor.dig_barrier,)
    for kind in kinds:
        edits = [
            standing.put("floor", "dig_barrier", kind),
            standing.put("floor", "dig_barrier_mm", deep),
        ]
        word = "bury mesh" if kind == "buried" else "lay a mesh apron outside"
        yield standing.change(
            f"{word} along the walls, {deep:g} mm {'deep' if kind == 'buried' else 'wide'}",
            ("F110",), edits, _built(standing, "dig_barrier", standing.perimeter_m, edits), FLOOR,
        )  # fmt: skip


@remedy("F111", "F115", "A103", "W109")
def other_floor(standing: Standing, finding: Finding) -> Iterator[Change]:
    """Change what lies on the floor, or lay more of it."""
    area, limit = standing.quarters.floor_area_m2, figure(finding)
    if finding.code == "F115" and limit is not None:
        edits = [standing.put("floor", "depth_mm", float(up_mm(limit)))]
        yield standing.change(
            f"lay the gravel {up_mm(limit)} mm deep", ("F115",), edits,
            _built(standing, "floor_deeper", area, edits), FLOOR,
        )  # fmt: skip
        return
    for floor in substrates():
        if floor.use != "good":
            continue
        edits = [
            standing.put("floor", "substrate", floor.id),
            standing.put("floor", "depth_mm", max(LITTER_MM, standing.quarters.floor.depth_mm)),
        ]
        yield standing.change(
            f"take the old floor out and lay {floor.name}", ("F111", "F112", "A103", "W109"), edits,
            _built(standing, "floor_litter", area, edits), FLOOR,
        )  # fmt: skip


@remedy("F112", "W109")
def let_water_out(standing: Standing, finding: Finding) -> Iterator[Change]:
    """Lay a fall, a drain, or both."""
    limit, floor = figure(finding), standing.quarters.floor
    fall = []
    if finding.code == "F112" and limit is not None:
        fall = [standing.put("floor", "fall_pct", limit)]
    drain = [standing.put("floor", "drained", True)]
    screed = standing.prices.of("floor_screed", standing.quarters.floor_area_m2)
    if floor.drained and fall:
        words = f"lay a screed that falls {limit:g} %"
        yield standing.change(words, ("F112",), fall, screed, FLOOR)
    if not floor.drained:
        cost = standing.prices.of("floor_drain")
        yield standing.change("set a drain", ("F112",), drain, cost, FLOOR)
        if fall:
            words = f"lay a screed that falls {limit:g} % to a new drain"
            yield standing.change(words, ("F112",), [*fall, *drain], together(cost, screed), FLOOR)


def _built(standing: Standing, kind: str, count: float, edits: list[Edit]) -> Cost:
    return standing.prices.built(kind, count, lambda: standing.with_edits(edits))
