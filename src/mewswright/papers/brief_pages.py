"""Briefs as the pages print them: words for keys, figures with their units."""

from collections.abc import Iterable, Mapping
from typing import Any

from mewswright import handbook
from mewswright.checks.brief import BirdBrief
from mewswright.checks.brief_parts import Loft, Need, Tether
from mewswright.papers.citing import Citer
from mewswright.papers.figures import figure, unit

SEXES = {"m": "male", "f": "female", "unknown": "sex unknown"}
ADVICE = {
    "loose": "Keep it loose.",
    "tethered": "Keep it on a tether.",
    "either": "Loose or tethered: both are open.",
}
GROUPS = (
    ("Perches", "perches"), ("Bath", "bath"), ("Faces", "faces"), ("Cold and heat", "warmth"),
    ("Must not see", "must_not_see"), ("Company", "company"),
)  # fmt: skip
# Needs that name one of several good things, where all the others are figures.
CHOICES = ("kind", "infill", "infill_avoid", "bird", "companion")
# Only where the key with its underscores taken out would not say it plainly.
WORDS = {
    "kind": "kind of perch",
    "round_diameter": "round perch, thickness over its cover",
    "block_top": "top of a block, width of a shelf",
    "number": "perches, at least",
    "under_cover": "of them under cover, at least",
    "one_at_height": "one perch at least this high",
    "cover_forbidden": "cover it must not have",
    "diameter_min": "bath, least diameter",
    "depth": "bath, depth of water",
    "wider_than": "bath wider than",
    "infill_avoid": "infill to avoid",
    "gap_max": "widest clear gap",
    "gap_rule": "rule for the gap",
    "class": "warmth class",
    "cold_limit": "mind it below",
    "heat_caution": "mind it above",
    "alone": "house it alone",
    "tether_hours_max": "hours on a tether, at most",
    "weekly_flights_min": "flights a week, at least",
    "flight_interval_days_max": "days between flights, at most",
    "half_span": "half the wing span",
}


def brief_page(brief: BirdBrief, cite: Citer) -> dict[str, Any]:
    """Give the words of one brief."""
    housing = brief.housing
    names = {verdict.standard: verdict.name for verdict in housing.standards}
    return {
        "bird": brief.bird,
        "who": f"{brief.common_name}, {SEXES[brief.sex]}",
        "advice": ADVICE[housing.advice],
        "reason": f"Practice: {housing.reason}.".replace("..", "."),
        "reason_sources": cite.short(housing.sources),
        "disagreements": list(housing.disagreements),
        "housing": [
            {
                "what": "a tether",
                "standard": verdict.name,
                "values": [word(verdict.tether)],
                "reasons": [verdict.reason],
                "sources": cite.short(verdict.sources),
            }
            for verdict in housing.standards
        ]
        + _needs(housing.time_limits, cite, names),
        "tether": _tether(brief.tether, cite),
        "lofts": [_loft(loft, cite) for loft in brief.lofts],
        "groups": [
            {"name": name, "rows": _needs(getattr(brief, key), cite, names)} for name, key in GROUPS
        ],
        "assumed": list(brief.assumed),
    }


def word(key: str) -> str:
    """Give plain words for a key of a brief."""
    return WORDS.get(key, key.replace("_", " "))


def _needs(needs: Iterable[Need], cite: Citer, names: Mapping[str, str]) -> list[dict[str, Any]]:
    """Give the rows of one group; choices of one kind from one standard share a row."""
    together: dict[tuple[str, str, int], list[Need]] = {}
    for i, need in enumerate(needs):
        key = (need.what, need.standard or "", 0 if need.what in CHOICES else i)
        together.setdefault(key, []).append(need)
    return [
        {
            "what": word(what),
            "standard": _named(standard, names),
            "values": list(dict.fromkeys(_value(need) for need in alike)),
            "reasons": list(dict.fromkeys(need.reason for need in alike if need.reason)),
            "sources": cite.short(s for need in alike for s in need.sources),
        }
        for (what, standard, _), alike in together.items()
    ]


def _named(standard: str, names: Mapping[str, str]) -> str:
    """Name of a standard: one of the yard's, or one of the handbook's that is shown beside."""
    return names.get(standard) or (handbook.standard(standard).name if standard else "")


def _value(need: Need) -> str:
    if isinstance(need.value, str):
        return need.value.replace("_", " ")
    digits = 0 if need.unit in ("mm", "g", "days", "h") else 2
    value = figure(need.value, digits)
    if need.to is not None:
        value += f" to {figure(need.to, digits)}"
    shown = unit(need.unit) if need.unit != "count" else ""
    return f"{value} {shown}".strip()


def _tether(tether: Tether | None, cite: Citer) -> dict[str, Any] | None:
    if tether is None:
        return None
    return {
        "terms": [
            {
                "what": word(term.what) + ("" if term.measured else " (assumed)"),
                "value": figure(term.value_mm),
                "source": cite.short([term.source]),
            }
            for term in tether.terms
        ],
        "radius": figure(tether.radius_mm, 0),
        "reason": tether.reason,
        "overhead": figure(tether.overhead_mm, 0),
        "sources": cite.short(tether.sources),
    }


def _loft(loft: Loft, cite: Citer) -> dict[str, Any]:
    def size(value: float | None, digits: int) -> str:
        return "–" if value is None else figure(value, digits)

    many = "" if loft.birds == 1 else f", for {loft.birds} birds"
    return {
        "name": loft.name + many,
        "floor": size(loft.floor_area_m2, 2),
        "volume": size(loft.volume_m3, 1),
        "height": size(loft.height_mm, 0),
        "shortest": size(loft.shortest_side_mm, 0),
        "longest": size(loft.longest_side_mm, 0),
        "reason": loft.reason if loft.known else f"not known: {loft.reason}",
        "sources": cite.short(loft.sources),
    }
