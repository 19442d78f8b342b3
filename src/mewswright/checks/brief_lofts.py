"""The brief's smallest lofts, by each standard and by the bird's own wing span."""

from collections.abc import Sequence

from mewswright.checks.brief_parts import Loft
from mewswright.checks.case import Known, evidence
from mewswright.handbook import ClassLimits, rules, size_limits
from mewswright.handbook.shelf import SHIPPED, Shelf
from mewswright.model.quantity import m_from_mm

IN_SPANS = ("shortest_side_spans", "each_side_spans")


def lofts(standards: Sequence[str], known: Known, shelf: Shelf = SHIPPED) -> tuple[Loft, ...]:
    """Smallest loft by each standard and by its own span, with its companions counted."""
    birds = 1 + len(known.bird.companions)
    found = [_loft(key, known, birds, shelf) for key in standards if key not in ("house", "uk-wca")]
    return (*found, _by_span(known, birds, "uk-wca" in standards))


def _loft(key: str, known: Known, birds: int, shelf: Shelf) -> Loft:
    named, purpose = shelf.standard(key), "loft"
    limits = shelf.size_limits(key, known.species)
    if not isinstance(limits, ClassLimits):
        instead = shelf.size_limits(key, known.species, "flight_cage")
        if not isinstance(instead, ClassLimits):
            clear = shelf.rules(key, "clear_space", place="loft")
            fly = [rule for rule in clear if rule.applies_to == "loose"]
            word = f"; it asks {fly[0].value}, so its own span judges" if fly else ""
            return Loft(
                standard=key, name=named.name, known=False, purpose="loft", birds=birds,
                reason=f"{limits.reason}{word}", sources=evidence(*(r.source for r in fly)),
            )  # fmt: skip
        limits, purpose = instead, "flight_cage"
    height = limits.get("height_mm") or limits.get("mean_height_mm")
    sides = [s.value for q in ("width_mm", "length_mm") if (s := limits.get(q))]
    in_spans = [s for q in IN_SPANS if (s := limits.get(q))]
    side_mm = max((s.value * known.span.value for s in in_spans), default=0.0)
    span_high = limits.get("each_side_spans")
    heights_mm = [height.value] if height else []
    heights_mm += [span_high.value * known.span.value] if span_high else []
    sides = [max(one, side_mm) for one in sides] or ([side_mm] if side_mm else [])
    area, volume = limits.required_floor_area_m2(birds), limits.required_volume_m3(birds)
    reason = f"class {limits.class_name}"
    if purpose == "flight_cage":
        reason += "; a flight cage before release, not a home"
    figures = [f for f in (area, volume) if f] + [s.figure for s in limits.limits.values()]
    return Loft(
        standard=key,
        name=named.name,
        known=True,
        purpose=purpose,
        birds=birds,
        floor_area_m2=area.value if area else _area_m2(sides),
        volume_m3=volume.value if volume else None,
        height_mm=max(heights_mm, default=None),
        shortest_side_mm=min(sides, default=None),
        longest_side_mm=max(sides, default=None),
        reason=reason + (f"; {limits.note}" if limits.note else ""),
        sources=evidence(*(f.source for f in figures), limits.membership),
    )


def _area_m2(sides_mm: Sequence[float]) -> float | None:
    """Floor that two sides make [m2]: worked out, where a standard gives sides alone."""
    return m_from_mm(sides_mm[0]) * m_from_mm(sides_mm[1]) if len(sides_mm) == 2 else None


def _by_span(known: Known, birds: int, law: bool) -> Loft:
    thumb = rules("house", "shortest_side_spans")[0]
    limits = size_limits("uk-wca", known.species)
    assert isinstance(limits, ClassLimits)
    each = limits.limits["each_side_spans"]
    assert thumb.number is not None
    side_mm = thumb.number * known.span.value
    wca = "law here" if law else "law in the UK, good sense elsewhere"
    return Loft(
        standard="own-span",
        name="Its own wing span",
        known=True,
        purpose="loft",
        birds=birds,
        floor_area_m2=_area_m2((side_mm, side_mm)),
        height_mm=each.value * known.span.value,
        shortest_side_mm=side_mm,
        longest_side_mm=side_mm,
        reason=f"shortest side {thumb.number:g} spans ({thumb.condition}); height and every "
        f"side at least {each.value:g} span ({wca})",
        sources=(*evidence(thumb.source, each.figure.source), known.span.source),
    )
