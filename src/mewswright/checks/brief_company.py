"""The brief's warmth, sight and company."""

from mewswright.checks.brief_parts import Need, need_of, need_of_figure
from mewswright.checks.case import Known, evidence
from mewswright.checks.limits import judgement
from mewswright.handbook import fears, frost_tender, is_social, species, warmth
from mewswright.handbook.shelf import SHIPPED, Shelf
from mewswright.model.yard import Yard


def warmth_needs(known: Known) -> tuple[Need, ...]:
    """Cold and heat that it bears."""
    kind = warmth(known.species)
    sources = evidence(kind.source)
    found = [Need(what="class", value=kind.temp_class, reason=kind.meaning, sources=sources)]
    found.append(
        need_of_figure("cold_limit", kind.cold_limit_c, kind.cold_rule)
        if kind.cold_limit_c
        else Need(what="cold_limit", value="none", reason=kind.cold_rule, sources=sources)
    )
    found.append(need_of_figure("heat_caution", kind.heat_caution_c, "shade, bath and panting"))
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


def company(yard: Yard, known: Known, shelf: Shelf = SHIPPED) -> tuple[Need, ...]:
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
            need_of("isolation_days", rule, key)
            for key in keys
            for rule in shelf.rules(key, "quarantine_days", known.species)
        ]
    return tuple(found)
