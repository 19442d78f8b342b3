"""The parts of a brief: tether, lofts, perches, bath, faces, warmth, sight and company."""

from collections.abc import Iterator, Sequence

from pydantic import BaseModel, ConfigDict

from mewswright.checks.case import Known, evidence
from mewswright.checks.finding import Evidence
from mewswright.checks.free_circle import free_circle
from mewswright.checks.limits import is_in_force, judgement
from mewswright.handbook import (
    ClassLimits,
    Figure,
    Rule,
    bar_gap_max,
    block_top_diameter,
    fears,
    frost_tender,
    housing_mode,
    is_social,
    mesh_kinds,
    perch_diameter,
    perch_kinds,
    rules,
    size_limits,
    species,
    standard,
    warmth,
)
from mewswright.model.yard import Yard


class Need(BaseModel):
    """One thing that a bird needs. `to` is the upper end, where the need is a range."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    what: str
    value: float | str
    to: float | None = None
    unit: str = ""
    standard: str | None = None
    reason: str = ""
    sources: tuple[Evidence, ...] = ()


class Verdict(BaseModel):
    """What one standard says of a tether.

    `tether`: allowed, conditional, exceptional, avoid, not_accepted, forbidden or unknown.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")
    standard: str
    name: str
    tether: str
    reason: str
    sources: tuple[Evidence, ...]


class Term(BaseModel):
    """One term of the free circle's radius [mm]."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    what: str
    value_mm: float
    measured: bool
    source: Evidence


class Tether(BaseModel):
    """The free circle: its radius is the sum of its terms."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    radius_mm: float
    terms: tuple[Term, ...]
    overhead_mm: float
    reason: str
    sources: tuple[Evidence, ...]


class Loft(BaseModel):
    """The smallest loft by one standard, or by the bird's own wing span.

    `standard` is `own-span` for the latter. A size that the standard does not give is
    None. `known` is False where the standard was not read for this bird. `birds` is how
    many live in it.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")
    standard: str
    name: str
    known: bool
    purpose: str
    birds: int
    floor_area_m2: float | None = None
    volume_m3: float | None = None
    height_mm: float | None = None
    shortest_side_mm: float | None = None
    longest_side_mm: float | None = None
    reason: str
    sources: tuple[Evidence, ...] = ()


TERMS = ("leash", "swivel_and_jesses", "half_span", "margin")


def verdicts(standards: Sequence[str], known: Known) -> tuple[Verdict, ...]:
    """Ask each standard about a tether; one that was not read for it says `unknown`."""
    return tuple(v for key in standards for v in _verdict(key, known))


def _verdict(key: str, known: Known) -> Iterator[Verdict]:
    named, found = standard(key), False
    if key == "house":  # the house has no rule of its own here: common practice speaks
        mode = housing_mode(known.species)
        yield Verdict(
            standard=key,
            name=named.name,
            tether="not_accepted" if mode.mode == "loose" else "allowed",
            reason=mode.reason,
            sources=evidence(mode.source),
        )
        return
    for rule in rules(key, "tether", known.species):
        found = True
        yield Verdict(
            standard=key, name=named.name, tether=rule.value, reason=rule.condition,
            sources=evidence(rule.source),
        )  # fmt: skip
    if not found:
        gaps = f"; not read: {'; '.join(named.gaps)}" if named.gaps else ""
        yield Verdict(
            standard=key,
            name=named.name,
            tether="unknown",
            reason=f"nothing was read on tethering{gaps}",
            sources=(),
        )


def time_limits(standards: Sequence[str], known: Known) -> tuple[Need, ...]:
    """How long it may be tethered and how often it must fly."""
    topics = (
        "tether_hours_max",
        "tether_weekly_flight_lifts_limit",
        "weekly_flights_min",
        "flight_interval_days_max",
        "routine_tether_end",
        "show_exemption_hours_max",
    )
    return tuple(
        _need(rule.topic, rule, key)
        for key in standards
        for rule in rules(key, species=known.species)
        if rule.topic in topics and is_in_force(rule)
    )


def _need(what: str, rule: Rule, key: str | None = None) -> Need:
    state = f"{rule.applies_to}: " if rule.applies_to in ("loose", "tethered", "imported") else ""
    return Need(
        what=what,
        value=rule.value if rule.number is None else rule.number,
        unit="" if rule.number is None else rule.unit,
        standard=key or rule.standard,
        reason=f"{state}{rule.condition}".removesuffix(": "),
        sources=evidence(rule.source),
    )


def tether(yard: Yard, known: Known) -> Tether:
    """Work out the free circle and the air over the perch of a tethered bird."""
    circle = free_circle(yard, known)
    overhead = rules("house", "perch_roof_spans")[0]
    assert overhead.number is not None
    spacing = rules("house", "tether_margin_mm")[0]
    return Tether(
        radius_mm=circle.radius_mm,
        terms=tuple(
            Term(what=what, value_mm=t.value_mm, measured=t.measured, source=t.source)
            for what, t in zip(TERMS, circle.terms, strict=True)
        ),
        overhead_mm=overhead.number * known.span.value,
        reason=spacing.condition,
        sources=evidence(spacing.source, overhead.source),
    )


def lofts(standards: Sequence[str], known: Known) -> tuple[Loft, ...]:
    """Smallest loft by each standard and by its own span, with its companions counted."""
    birds = 1 + len(known.bird.companions)
    found = [_loft(key, known, birds) for key in standards if key not in ("house", "uk-wca")]
    return (*found, _by_span(known, birds, "uk-wca" in standards))


def _loft(key: str, known: Known, birds: int) -> Loft:
    named, purpose = standard(key), "loft"
    limits = size_limits(key, known.species)
    if not isinstance(limits, ClassLimits):
        instead = size_limits(key, known.species, "flight_cage")
        if not isinstance(instead, ClassLimits):
            fly = [r for r in rules(key, "clear_space", place="loft") if r.applies_to == "loose"]
            word = f"; it asks {fly[0].value}, so its own span judges" if fly else ""
            return Loft(
                standard=key, name=named.name, known=False, purpose="loft", birds=birds,
                reason=f"{limits.reason}{word}", sources=evidence(*(r.source for r in fly)),
            )  # fmt: skip
        limits, purpose = instead, "flight_cage"
    height = limits.get("height_mm") or limits.get("mean_height_mm")
    sides = [s.value for q in ("width_mm", "length_mm") if (s := limits.get(q))]
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
        height_mm=height.value if height else None,
        shortest_side_mm=min(sides, default=None),
        longest_side_mm=max(sides, default=None),
        reason=reason + (f"; {limits.note}" if limits.note else ""),
        sources=evidence(*(f.source for f in figures), limits.membership),
    )


def _area_m2(sides_mm: Sequence[float]) -> float | None:
    """Floor that two sides make [m2]: worked out, where a standard gives sides alone."""
    return sides_mm[0] * sides_mm[1] / 1e6 if len(sides_mm) == 2 else None


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


def perches(standards: Sequence[str], known: Known) -> tuple[Need, ...]:
    """Kinds, sizes, cover, number and heights of perches."""
    found = [
        Need(
            what="kind", value=kind.kind, reason=f"choice {kind.rank}: {kind.reason}",
            sources=evidence(kind.source),
        )
        for kind in perch_kinds(known.species)
    ]  # fmt: skip
    low, high = perch_diameter(known.mass.value)
    found.append(
        Need(
            what="round_diameter", value=low.value, to=high.value, unit="mm",
            reason=f"{low.note}; by its mass of {known.mass.value:g} g",
            sources=(*evidence(low.source), known.mass.source),
        )
    )  # fmt: skip
    top = block_top_diameter(known.species)
    found.append(_figure("block_top", top, "a block, shelf or stump to stand on flat-footed"))
    topics = {
        "perches_min": "number", "perch_under_cover_min": "under_cover",
        "perch_height_mm": "one_at_height", "perch_cover": "cover",
        "perch_cover_forbidden": "cover_forbidden", "perch_surface": "surface",
    }  # fmt: skip
    keys = tuple(dict.fromkeys((*standards, "house")))
    found += [
        _need(what, rule)
        for topic, what in topics.items()
        for key in keys
        for rule in rules(key, topic, known.species)
        if rule.place != "flight_cage" or topic == "perches_min"
    ]
    pad = rules("house", "perch_pad_load")[0]
    found.append(
        Need(what="cover", value="turf or neoprene", standard="house", reason=pad.value,
             sources=evidence(pad.source))
    )  # fmt: skip
    return tuple(found)


def _figure(what: str, figure: Figure, reason: str) -> Need:
    why = f"{reason}; {figure.note}" if figure.note else reason
    return Need(
        what=what, value=figure.value, unit=figure.unit, reason=why, sources=evidence(figure.source)
    )


def bath(standards: Sequence[str], known: Known) -> tuple[Need, ...]:
    """Diameter and depth of the bath."""
    keys = tuple(dict.fromkeys((*standards, "house")))
    found = [
        Need(
            what="diameter_min", value=rule.number * known.span.value, unit="mm",
            standard=key, reason=f"{rule.number:g} wing spans: {rule.condition}",
            sources=(*evidence(rule.source), known.span.source),
        )
        for key in keys
        for rule in rules(key, "bath_diameter_spans", known.species)
        if rule.number is not None
    ]  # fmt: skip
    for key in tuple(dict.fromkeys((*keys, "us-pre2008"))):
        lows, highs = rules(key, "bath_depth_low_mm"), rules(key, "bath_depth_high_mm")
        for low, high in zip(lows, highs, strict=True):
            found.append(
                _need("depth", low, key).model_copy(
                    update={"to": high.number, "sources": evidence(low.source, high.source)}
                )
            )
    wider = rules("us-pre2008", "bath_wider_than_bird_is_long")[0]
    found.append(
        Need(
            what="wider_than", value=known.body_length.value, unit="mm", standard="us-pre2008",
            reason=f"wider than the bird is long; {wider.condition}",
            sources=(*evidence(wider.source), known.body_length.source),
        )
    )  # fmt: skip
    return tuple(found)


def faces(standards: Sequence[str], known: Known) -> tuple[Need, ...]:
    """Infill of the faces and the widest clear gap."""
    bird = known.bird
    found = [
        Need(
            what="infill", value=kind.name, reason=kind.reason, sources=evidence(kind.source)
        )
        for kind in mesh_kinds()
        if kind.reach == "good"
    ]  # fmt: skip
    found += [
        Need(what="infill_avoid", value=kind.name, reason=kind.reason,
             sources=evidence(kind.source))
        for kind in mesh_kinds()
        if kind.reach == "bad"
    ]  # fmt: skip
    own = [w for w in (bird.body_width_mm, bird.head_width_mm) if w is not None]
    if own:
        ref = Evidence(name="measured on the bird", locator=bird.name, how_known="read")
        found.append(
            Need(
                what="gap_max", value=min(own), unit="mm",
                reason="less than the bird's own width", sources=(ref,),
            )
        )  # fmt: skip
    else:
        gap = bar_gap_max(known.species, bird.mass_g)
        found.append(_figure("gap_max", gap, "the bar gap of its class; measure the bird"))
    for key in standards:
        for topic in ("bar_gap_rule", "gap_max_mm"):
            found += [_need("gap_rule", rule, key) for rule in rules(key, topic, known.species)]
    if bird.nervous:
        found.append(
            Need(
                what="solid_walls", value="back and sides", reason="a bird that bates at little "
                "sees less to bate at", sources=(judgement("nervous birds"),),
            )
        )  # fmt: skip
    return tuple(found)


def warmth_needs(known: Known) -> tuple[Need, ...]:
    """Cold and heat that it bears."""
    kind = warmth(known.species)
    sources = evidence(kind.source)
    found = [Need(what="class", value=kind.temp_class, reason=kind.meaning, sources=sources)]
    found.append(
        _figure("cold_limit", kind.cold_limit_c, kind.cold_rule)
        if kind.cold_limit_c
        else Need(what="cold_limit", value="none", reason=kind.cold_rule, sources=sources)
    )
    found.append(_figure("heat_caution", kind.heat_caution_c, "shade, bath and panting"))
    if trait := frost_tender(known.species):
        found.append(
            Need(
                what="frost_tender", value="yes", reason=trait.reason,
                sources=evidence(trait.source),
            )
        )  # fmt: skip
    return tuple(found)


def must_not_see(yard: Yard, known: Known) -> tuple[Need, ...]:
    """Birds of the yard that it must not see: those that its keeper names, then the rules'."""
    found = [
        Need(what="bird", value=name, reason="named by the keeper") for name in known.bird.fears
    ]
    for other in yard.bird:
        if other.name in (known.bird.name, *known.bird.fears):
            continue
        theirs = Known(other, species(other.species))
        fear = fears(known.species, theirs.species, known.mass.value, theirs.mass.value)
        if fear is not None:
            found.append(
                Need(
                    what="bird", value=other.name, reason=fear.reason,
                    sources=evidence(fear.source),
                )
            )  # fmt: skip
    return tuple(found)


def company(yard: Yard, known: Known) -> tuple[Need, ...]:
    """With whom it lives, whether its kind is social, and a newcomer's isolation."""
    bird = known.bird
    mutual = [b.name for b in yard.bird if bird.name in b.companions]
    names = tuple(dict.fromkeys((*bird.companions, *mutual)))
    found = [Need(what="companion", value=name, reason="named by the keeper") for name in names]
    if trait := is_social(known.species):
        found.append(
            Need(what="social", value="yes", reason=trait.reason, sources=evidence(trait.source))
        )
    elif not names:
        found.append(
            Need(
                what="alone", value="yes", reason="its kind is not known to take company: "
                "house it alone", sources=(judgement("birds not known as social"),),
            )
        )  # fmt: skip
    if bird.arrives_on is not None:
        keys = tuple(dict.fromkeys((*yard.yard.standards, "house")))
        found += [
            _need("isolation_days", rule, key)
            for key in keys
            for rule in rules(key, "quarantine_days", known.species)
        ]
    return tuple(found)
