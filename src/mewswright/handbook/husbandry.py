"""How a kind of bird is kept: loose or tethered, on what, how warm, out of whose sight.

Most of this is common practice or a working judgement and says so. The keeper's own
knowledge of the bird goes before it.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache

from mewswright.handbook.evidence import Figure, SourceRef, figure, reference
from mewswright.handbook.species import Species
from mewswright.handbook.standard_rules import rules
from mewswright.handbook.tables import Row, rows

LARGE_OWL_G = 1000  # a female of this mass or more: see the head of fears.csv
LARGE_ACCIPITERS = ("eurasian_goshawk", "american_goshawk", "black_sparrowhawk")
PREDATORS = ("eagle", "hawk", "falcon", "owl")


@dataclass(frozen=True)
class HousingMode:
    """Whether a kind of bird is kept loose or tethered.

    `mode` is `loose`, `either`, `either_tether_calmer` or `either_loose_better`.
    """

    mode: str
    reason: str
    source: SourceRef


@dataclass(frozen=True)
class PerchKind:
    """A kind of perch that suits; rank 1 is the first choice."""

    kind: str
    rank: int
    reason: str
    source: SourceRef


@dataclass(frozen=True)
class Trait:
    """Something that sets a kind of bird apart."""

    name: str
    reason: str
    source: SourceRef


@dataclass(frozen=True)
class Warmth:
    """What cold and heat a kind of bird bears. Degrees Celsius.

    `cold_limit_c` is None where dry shelter is all that it needs.
    """

    temp_class: str
    meaning: str
    cold_limit_c: Figure | None
    cold_rule: str
    heat_caution_c: Figure
    source: SourceRef


@dataclass(frozen=True)
class Fear:
    """Why one bird must not see another."""

    rule_id: str
    reason: str
    source: SourceRef


@dataclass(frozen=True)
class Leash:
    """Lengths that make up the free circle of a tethered bird [mm]."""

    total_mm: Figure
    working_mm: Figure
    swivel_jess_mm: Figure
    margin_mm: Figure


@dataclass(frozen=True)
class HusbandryRule:
    """One row of husbandry.csv."""

    subject: str
    topic: str
    rank: int | None
    value: str
    reason: str
    basis: str
    confidence: str
    source: SourceRef


def _place(row: Row) -> str:
    return f"husbandry.csv, {row['subject']} {row['topic']}"


@cache
def husbandry_rules(topic: str | None = None) -> tuple[HusbandryRule, ...]:
    """Every rule of one topic, or of all: `housing_mode`, `perch_kind`, `nest_place`, traits."""
    return tuple(
        HusbandryRule(
            row["subject"],
            row["topic"],
            int(row["rank"]) if row["rank"] else None,
            row["value"],
            row["reason"],
            row["basis"],
            row["confidence"],
            reference(row, _place(row)),
        )
        for row in rows("husbandry")
        if topic in (None, row["topic"])
    )


def _nearest_subject(species: Species, topic: str) -> tuple[HusbandryRule, ...]:
    """Rules of the nearest subject that has any: the species, its skin, genus or group."""
    subjects = [species.id]
    if species.skin_above_foot:
        subjects.append(f"skin_above_foot:{species.group}")
    subjects += [f"genus:{species.scientific_name.split()[0]}", f"group:{species.group}"]
    of_topic = husbandry_rules(topic)
    for subject in subjects:
        if found := tuple(rule for rule in of_topic if rule.subject == subject):
            return found
    return ()


def housing_mode(species: Species) -> HousingMode:
    """Whether birds of this kind go loose, tethered or either, as common practice has it.

    A standard that binds the yard may forbid what practice allows: ask
    `rules(standard, "tether", species)` as well.
    """
    rule = _nearest_subject(species, "housing_mode")[0]
    return HousingMode(rule.value, rule.reason, rule.source)


def perch_kinds(species: Species) -> tuple[PerchKind, ...]:
    """Kinds of perch for this kind of bird, the best first."""
    return tuple(
        PerchKind(rule.value, rule.rank or 0, rule.reason, rule.source)
        for rule in sorted(_nearest_subject(species, "perch_kind"), key=lambda rule: rule.rank or 0)
    )


def nest_place(species: Species) -> PerchKind | None:
    """Where birds of this kind lay: box, ledge, platform or ground; None if not known."""
    found = _nearest_subject(species, "nest_place")
    return PerchKind(found[0].value, 1, found[0].reason, found[0].source) if found else None


def _trait(species: Species, name: str) -> Trait | None:
    for rule in husbandry_rules(name):
        if rule.subject == species.id:
            return Trait(name, rule.reason, rule.source)
    return None


def is_social(species: Species) -> Trait | None:
    """Whether birds of this kind take company, and why; None if they are not known to."""
    return _trait(species, "social")


def aspergillosis_prone(species: Species) -> Trait | None:
    """Whether this kind falls ill of mould spores more than others, and who says so."""
    return _trait(species, "aspergillosis_prone")


def frost_tender(species: Species) -> Trait | None:
    """Whether frost harms the wing tips of this kind, and who says so."""
    return _trait(species, "frost_tender")


def _of_mass(classes: Iterable[Row], mass_g: float) -> Row:
    if not mass_g > 0:
        raise ValueError(f"mass must be above 0 g, got {mass_g:g}")
    for row in classes:
        if float(row["mass_from_g"]) <= mass_g < float(row["mass_to_g"] or "inf"):
            return row
    raise ValueError(f"no class holds a mass of {mass_g:g} g")


def perch_diameter(mass_g: float) -> tuple[Figure, Figure]:
    """Least and greatest diameter of a round perch over its padding [mm].

    Raises:
        ValueError: If the mass is not above 0.
    """
    row = _of_mass(rows("perch_diameters"), mass_g)
    place = f"perch_diameters.csv, from {float(row['mass_from_g']):g} g"
    return figure(row, place, "low_mm", "mm"), figure(row, place, "high_mm", "mm")


def block_top_diameter(species: Species) -> Figure:
    """Diameter of the top of a block perch [mm]; by species, else by mass."""
    table = rows("block_tops")
    own = [row for row in table if row["subject"] == species.id]
    by_mass = (row for row in table if row["subject"] == "any")
    row = own[0] if own else _of_mass(by_mass, species.mass().value)
    return figure(row, f"block_tops.csv, {row['subject']}", "diameter_mm", "mm")


def bar_gap_max(species: Species, mass_g: float | None = None) -> Figure:
    """Widest clear gap between vertical bars for this bird [mm].

    By its mass; without one, by the lightest sex of its species. The law speaks of
    body or head width: a bird that was measured goes by that instead.

    Raises:
        ValueError: If the mass is not above 0.
    """
    grams = min(species.mass(s).value for s in ("m", "f")) if mass_g is None else mass_g
    row = _of_mass(rows("bar_gaps"), grams)
    return figure(row, f"bar_gaps.csv, from {float(row['mass_from_g']):g} g", "gap_mm", "mm")


def body_width_estimate(species: Species, mass_g: float | None = None) -> Figure:
    """Body width to assume for a bird that was not measured [mm]: a judgement.

    No body or head widths are on record. The gap that keepers leave for its class is
    taken as a width that it cannot pass.
    """
    gap = bar_gap_max(species, mass_g)
    ref = SourceRef("A working judgement made for this handbook", gap.row, "judgement")
    note = "no width is on record: the bar gap of its class stands in; measure the bird"
    return Figure(gap.value, "mm", ref, note, "judgement", "low", gap.row)


@cache
def _warmth_classes() -> dict[str, Row]:
    return {row["temp_class"]: row for row in rows("warmth_classes")}


def warmth(species: Species) -> Warmth:
    """Cold limit and heat caution of this kind of bird.

    A cross takes the stricter limit of its parents' classes at each end.
    """
    classes = [_warmth_classes()[name] for name in species.temp_class.split("/")]
    cold = max(classes, key=lambda row: (float(row["cold_limit_c"] or "-inf"), row["temp_class"]))
    hot = min(classes, key=lambda row: float(row["heat_caution_c"]))
    cold_place = f"warmth_classes.csv, {cold['temp_class']}"
    hot_place = f"warmth_classes.csv, {hot['temp_class']}"
    return Warmth(
        species.temp_class,
        " to ".join(row["meaning"] for row in classes),
        figure(cold, cold_place, "cold_limit_c", "degC") if cold["cold_limit_c"] else None,
        cold["cold_rule"],
        figure(hot, hot_place, "heat_caution_c", "degC"),
        reference(cold, cold_place),
    )


def fears(
    afraid: Species,
    feared: Species,
    afraid_mass_g: float | None = None,
    feared_mass_g: float | None = None,
) -> Fear | None:
    """Why the first bird must not see the second, or None where no rule says so.

    Args:
        afraid: Species of the bird that might fear.
        feared: Species of the bird in its sight. A bird does not fear its own kind here.
        afraid_mass_g: Mass of the first bird [g]; the species' mean if left out.
        feared_mass_g: Mass of the second bird [g]; the species' mean if left out.
    """
    if afraid.id == feared.id:
        return None
    own_g = afraid.mass().value if afraid_mass_g is None else afraid_mass_g
    other_g = feared.mass().value if feared_mass_g is None else feared_mass_g
    for row in sorted(rows("fears"), key=lambda row: float(row["mass_ratio_min"])):
        if _is_feared(row["feared"], feared) and other_g >= own_g * float(row["mass_ratio_min"]):
            place = f"fears.csv, {row['rule']}"
            return Fear(row["rule"], row["reason"], reference(row, place))
    return None


def _is_feared(selector: str, species: Species) -> bool:
    if selector == "large_owl":
        return species.is_owl and species.mass("f").value >= LARGE_OWL_G
    if selector == "large_accipiter":
        return species.id in LARGE_ACCIPITERS
    if selector == "predator":
        return species.group in PREDATORS
    kind, _, name = selector.partition(":")
    return name == (species.group if kind == "group" else species.scientific_name.split()[0])


def leash_lengths() -> Leash:
    """Leash, swivel and jesses of a medium hawk or falcon, and the margin round it [mm].

    Free radius of the bird: working leash + swivel and jesses + half the span + margin.
    """
    topics = ("leash_total_mm", "leash_working_mm", "swivel_jess_mm", "tether_margin_mm")
    return Leash(*(rules("house", topic)[0].as_figure() for topic in topics))
