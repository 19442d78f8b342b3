"""The brief's perches, bath and faces."""

from collections.abc import Sequence

from mewswright.checks.brief_parts import Need, need_of, need_of_figure
from mewswright.checks.case import Known, evidence
from mewswright.checks.finding import Evidence
from mewswright.checks.limits import judgement
from mewswright.handbook import (
    bar_gap_max,
    block_top_diameter,
    mesh_kinds,
    perch_diameter,
    perch_kinds,
    rules,
)
from mewswright.handbook.shelf import SHIPPED, Shelf


def perches(standards: Sequence[str], known: Known, shelf: Shelf = SHIPPED) -> tuple[Need, ...]:
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
    found.append(
        need_of_figure("block_top", top, "a block, shelf or stump to stand on flat-footed")
    )
    topics = {
        "perches_min": "number", "perch_under_cover_min": "under_cover",
        "perch_height_mm": "one_at_height", "perch_cover": "cover",
        "perch_cover_forbidden": "cover_forbidden", "perch_surface": "surface",
    }  # fmt: skip
    keys = tuple(dict.fromkeys((*standards, "house")))
    found += [
        need_of(what, rule)
        for topic, what in topics.items()
        for key in keys
        for rule in shelf.rules(key, topic, known.species)
        if rule.place != "flight_cage" or topic == "perches_min"
    ]
    pad = rules("house", "perch_pad_load")[0]
    found.append(
        Need(what="cover", value="turf or neoprene", standard="house", reason=pad.value,
             sources=evidence(pad.source))
    )  # fmt: skip
    return tuple(found)


def bath(standards: Sequence[str], known: Known, shelf: Shelf = SHIPPED) -> tuple[Need, ...]:
    """Diameter and depth of the bath."""
    keys = tuple(dict.fromkeys((*standards, "house")))
    found = [
        Need(
            what="diameter_min", value=rule.number * known.span.value, unit="mm",
            standard=key, reason=f"{rule.number:g} wing spans: {rule.condition}",
            sources=(*evidence(rule.source), known.span.source),
        )
        for key in keys
        for rule in shelf.rules(key, "bath_diameter_spans", known.species)
        if rule.number is not None
    ]  # fmt: skip
    for key in tuple(dict.fromkeys((*keys, "us-pre2008"))):
        lows = shelf.rules(key, "bath_depth_low_mm")
        highs = shelf.rules(key, "bath_depth_high_mm")
        for low, high in zip(lows, highs, strict=True):
            found.append(
                need_of("depth", low, key).model_copy(
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


def faces(standards: Sequence[str], known: Known, shelf: Shelf = SHIPPED) -> tuple[Need, ...]:
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
    gap = bar_gap_max(known.species, bird.mass_g)
    if own and min(own) < gap.value:
        ref = Evidence(name="measured on the bird", locator=bird.name, how_known="read")
        found.append(
            Need(
                what="gap_max", value=min(own), unit="mm",
                reason="less than the bird's own width", sources=(ref,),
            )
        )  # fmt: skip
    else:
        reason = "the bar gap usual for its class" + ("" if own else "; measure the bird")
        found.append(need_of_figure("gap_max", gap, reason))
    for key in standards:
        for topic in ("bar_gap_rule", "gap_max_mm"):
            asked = shelf.rules(key, topic, known.species)
            found += [need_of("gap_rule", rule, key) for rule in asked]
    if bird.nervous:
        found.append(
            Need(
                what="solid_walls", value="back and sides", reason="a bird that bates at little "
                "sees less to bate at", sources=(judgement("nervous birds"),),
            )
        )  # fmt: skip
    return tuple(found)
