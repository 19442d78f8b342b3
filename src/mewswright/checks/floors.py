"""The floor: what lies on it, how it drains, and what digs under it."""

from collections.abc import Iterator

from mewswright.checks import asked
from mewswright.checks.asked import verdict
from mewswright.checks.case import Case
from mewswright.checks.finding import Finding, Status
from mewswright.checks.registry import quarters_check
from mewswright.handbook import substrate, substrates
from mewswright.model.quantity import Quantity, millimetres

HARD = ("concrete",)


@quarters_check("F110", "Barrier against digging")
def dig_barrier(case: Case) -> Iterator[Finding]:
    """Nothing digs its way in under the walls."""
    q = case.quarters
    if q.kind == "pitch":
        return
    rule = asked.strictest(asked.asked(case, "dig_depth_mm")) or asked.house_rule("dig_depth_mm")
    limit_mm = asked.number(rule)
    slab = q.floor.dig_barrier == "slab" or q.frame.base == "slab"
    has = 0.0 if q.floor.dig_barrier == "none" else q.floor.dig_barrier_mm
    what = "slab" if slab else q.floor.dig_barrier
    used = bool(case.residents)
    missed: Status = "short" if used else "mind"
    yield verdict(
        "F110", case, slab or asked.reaches(has, limit_mm), missed,
        measured=Quantity(value=what) if what in ("slab", "none") else millimetres(has),
        limit=millimetres(limit_mm), why="a fox, badger or rat digs in under the wall",
        remedy="bury mesh or lay an apron outside, "
        f"{millimetres(limit_mm)} deep or wide" if what == "none"
        else f"take it {millimetres(limit_mm - has)} farther",
        sources=asked.of_rule(rule, *asked.named(case, "base_barrier")),
    )  # fmt: skip


@quarters_check("F111", "What lies on the floor")
def litter(case: Case) -> Iterator[Finding]:
    """The floor carries no mould and no dust to the bird."""
    name = case.quarters.floor.substrate
    if name not in {one.id for one in substrates()}:
        yield verdict(
            "F111", case, False, "mind", measured=Quantity(value=name),
            why="the handbook does not know this floor",
            remedy="take the nearest of: mewswright handbook substrates",
        )  # fmt: skip
        return
    found = substrate(name)
    lawn = case.quarters.kind == "pitch" and found.use == "care"  # it is moved, not cleaned
    status: Status = "mind" if found.use == "care" else "short"
    rules = [
        rule
        for topic in ("floor_avoid", "straw_and_hay")
        for rule in asked.named(case, topic)
        if name in rule.value or (topic == "straw_and_hay" and name in ("straw", "hay"))
    ]
    yield verdict(
        "F111", case, found.use == "good" or lawn, status, measured=Quantity(value=found.name),
        why=found.reason, remedy="take pea gravel, sand or matting",
        sources=(*asked.of_rule(*rules), *asked.witnesses(found.source)),
    )  # fmt: skip


@quarters_check("F112", "Fall and drain of a hard floor")
def floor_fall(case: Case) -> Iterator[Finding]:
    """Water leaves a hard floor by itself."""
    floor = case.quarters.floor
    if floor.substrate not in HARD:
        yield verdict(
            "F112", case, floor.drained, "mind",
            measured=Quantity(value="drained" if floor.drained else "not drained"),
            why="water stands in the floor", remedy="lay a drain or a soakaway under it",
            sources=asked.judgement("a loose floor drains"),
        )  # fmt: skip
        return
    rule = asked.house_rule("floor_fall_pct")
    limit = asked.number(rule)
    falls = floor.fall_pct >= limit - 1e-9
    yield verdict(
        "F112", case, falls and floor.drained, "short",
        measured=Quantity(value=floor.fall_pct, unit="pct"),
        limit=Quantity(value=limit, unit="pct"),
        why="water stands on it" if not falls else "it falls to no drain",
        remedy=f"lay a screed that falls {limit - floor.fall_pct:g} % more" if not falls
        else "set a drain at its low end", sources=asked.of_rule(rule),
    )  # fmt: skip


@quarters_check("F115", "Depth of gravel")
def gravel_depth(case: Case) -> Iterator[Finding]:
    """Gravel lies deep enough to drain and to be raked."""
    floor = case.quarters.floor
    if floor.substrate != "pea_gravel":
        return
    rule = asked.strictest(asked.asked(case, "floor_gravel_mm"))
    if rule is None:
        return
    limit_mm = asked.number(rule)
    yield verdict(
        "F115", case, asked.reaches(floor.depth_mm, limit_mm), "short",
        measured=millimetres(floor.depth_mm), limit=millimetres(limit_mm),
        why="thin gravel stays wet", remedy=f"add {millimetres(limit_mm - floor.depth_mm)}",
        sources=asked.of_rule(rule),
    )  # fmt: skip
