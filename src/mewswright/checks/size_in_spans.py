"""Checks of the size of lofts against the bird's own wing span."""

from collections.abc import Iterator

from mewswright.checks.case import Case, Resident, evidence
from mewswright.checks.finding import TAPE_MM, Evidence, Finding, Status
from mewswright.checks.limits import missed, unproven, whole_mm
from mewswright.checks.registry import quarters_check
from mewswright.checks.size import grown, is_sized, lowest_mm, sides_mm
from mewswright.handbook import ClassLimits, SizeLimit, rules, size_limits
from mewswright.model.quantity import millimetres


@quarters_check("S105", "Shortest side in wing spans")
def shortest_side_in_spans(case: Case) -> Iterator[Finding]:
    """S105: the shorter side is two wing spans, the rule of thumb for a bird that flies."""
    if not is_sized(case) or case.quarters.kind == "isolation":
        return
    rule = rules("house", "shortest_side_spans", place="loft")[0]
    assert rule.number is not None
    binding: Status = "short" if "house" in case.standards else "mind"
    measured_mm = sides_mm(case)[0]
    for resident in _each_bird(case):
        yield _in_spans(
            "S105", case, resident, measured_mm, rule.number, binding, evidence(rule.source),
            f"a loose bird turns in {rule.number:g} wing spans ({rule.condition})",
        )  # fmt: skip
        for key, limits, limit in _spans_asked(case, resident, "shortest_side_spans"):
            if key == "house":  # its size and its rule are one thumb
                continue
            yield _in_spans(
                "S105", case, resident, measured_mm, limit.value,
                missed(limit, limits.class_is_doubtful),
                evidence(limit.source, limits.membership), _told(case, key, limit),
            )  # fmt: skip


@quarters_check("S106", "Each dimension at least one wing span")
def each_side_a_span(case: Case) -> Iterator[Finding]:
    """S106: width, depth and height each let the bird stretch its wings."""
    if not is_sized(case):
        return
    low_mm = lowest_mm(case)
    dimensions = [case.quarters.width_mm, case.quarters.depth_mm]
    dimensions += [] if low_mm is None else [low_mm]
    least_side_mm = min(case.quarters.width_mm, case.quarters.depth_mm)
    for resident in _each_bird(case):
        # Law or not, a loose bird that cannot open its wings between the walls breaks them. A
        # hospital cage is meant to be close.
        too_close = resident.span.value - least_side_mm > TAPE_MM
        injures = too_close and case.quarters.kind == "loft"
        binding = list(_spans_asked(case, resident, "each_side_spans"))
        for key, limits, limit in binding:
            yield _in_spans(
                "S106", case, resident, min(dimensions), limit.value,
                "harm" if injures else missed(limit, limits.class_is_doubtful),
                evidence(limit.source), _told(case, key, limit),
            )  # fmt: skip
        if not binding:  # good sense elsewhere
            found = size_limits("uk-wca", resident.species)
            assert isinstance(found, ClassLimits)
            limit = found.limits["each_side_spans"]
            yield _in_spans(
                "S106", case, resident, min(dimensions), limit.value,
                "harm" if injures else "short", evidence(limit.source), limit.condition,
            )  # fmt: skip


def _spans_asked(
    case: Case, resident: Resident, quantity: str
) -> Iterator[tuple[str, ClassLimits, SizeLimit]]:
    """Sizes in spans that the standards of the case ask of a home for this bird."""
    for key in case.standards:
        found = case.shelf.size_limits(key, resident.species)
        if isinstance(found, ClassLimits) and (limit := found.get(quantity)):
            yield key, found, limit


def _told(case: Case, key: str, limit: SizeLimit) -> str:
    said = (case.shelf.standard(key).name, limit.condition, unproven(limit))
    return "; ".join(part for part in said if part)


def _each_bird(case: Case) -> tuple[Resident, ...]:
    return tuple({r.bird.name: r for r in reversed(case.loose)}.values())[::-1]


def _in_spans(
    code: str, case: Case, resident: Resident, measured_mm: float, spans: float, status: Status,
    sources: tuple[Evidence, ...], why: str,
) -> Finding:  # fmt: skip
    span = resident.span
    limit_mm = spans * span.value
    short_mm = limit_mm - measured_mm
    if not span.measured:
        why += f"; wing span of {millimetres(span.value)} from the handbook: measure the bird"
    remedy = ""
    if short_mm > TAPE_MM:
        remedy = grown(case, limit_mm, sides=2)
        low_mm = lowest_mm(case)
        if code == "S106" and low_mm is not None and limit_mm - low_mm > TAPE_MM:
            higher = f"{whole_mm(limit_mm - low_mm)} higher"
            remedy = f"{remedy} and {higher}" if remedy else f"make it {higher}"
    return Finding(
        code=code,
        status=status if remedy else "sound",
        quarters=case.quarters.name,
        bird=resident.bird.name,
        measured=millimetres(measured_mm),
        limit=millimetres(limit_mm),
        why=why,
        remedy=remedy,
        sources=(*sources, span.source),
    )


@quarters_check("S110", "Room to fly")
def room_to_fly(case: Case) -> Iterator[Finding]:
    """S110: a rule without metres asks for room to fly; the bird's own span judges it."""
    if not is_sized(case):
        return
    thumb = rules("house", "shortest_side_spans", place="loft")[0]
    assert thumb.number is not None
    measured_mm = sides_mm(case)[0]
    for key in case.standards:
        for rule in case.shelf.rules(key, "clear_space", place="loft"):
            if rule.applies_to != "loose":
                continue
            for resident in _each_bird(case):
                cannot_open = measured_mm < resident.span.value - TAPE_MM
                yield _in_spans(
                    "S110", case, resident, measured_mm, thumb.number,
                    missed(rule) if cannot_open else "mind",
                    evidence(rule.source, thumb.source),
                    f"{case.shelf.standard(key).name} asks {rule.value} and gives no metres; "
                    f"{thumb.number:g} wing spans stand in",
                )  # fmt: skip
