"""Who a bird is and how large its kind grows.

Sizes are of wild birds of the species, whole range of subspecies, and most ranges are
recalled, not read. A bird's own measurements override them wherever it has any.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from mewswright.handbook.evidence import Figure, SourceRef, figure, reference
from mewswright.handbook.nearest import unknown
from mewswright.handbook.tables import Row, number, rows

QUANTITIES = (
    "mass_g",
    "wing_chord_mm",
    "wing_span_mm",
    "tail_mm",
    "body_length_mm",
    "tarsus_mm",
)
SEXES = ("m", "f", "any")
STATISTICS = ("low", "mean", "high")

SizeKey = tuple[str, str, str]


@dataclass(frozen=True)
class Species:
    """One species, or one cross between two."""

    id: str
    common_name: str
    scientific_name: str
    synonyms: tuple[str, ...]
    order: str
    family: str
    group: str
    is_hybrid: bool
    parents: tuple[str, ...]
    foot_covering: str
    temp_class: str
    habitat: str
    moult_start_month: int | None
    moult_end_month: int | None
    primaries_per_wing: int | None
    rectrices_total: int | None
    max_longevity_y: float | None
    quality_note: str
    note: str
    source: SourceRef

    @property
    def sizes(self) -> Mapping[SizeKey, Figure]:
        """Every figure in use, by quantity, sex and statistic."""
        return _sizes(self.id)

    @property
    def is_owl(self) -> bool:
        return self.group == "owl"

    @property
    def is_long_winged_falcon(self) -> bool:
        return self.scientific_name.startswith("Falco ")

    @property
    def skin_above_foot(self) -> bool:
        """Feathers and soft skin, not scales, where an anklet would lie.

        True for every owl but those with a bare scaled leg, and for the hawks and
        eagles that are feathered to the toes.
        """
        return self.foot_covering in ("T", "TB", "TF")

    def size(self, quantity: str, sex: str = "any", statistic: str = "mean") -> Figure | None:
        """The figure of exactly one row, or None: nothing stands in for it in silence.

        Args:
            quantity: One of `QUANTITIES`.
            sex: `m`, `f` or `any`.
            statistic: `low`, `mean` or `high`.

        Raises:
            ValueError: If any of the three is none of those.
        """
        for given, allowed in ((quantity, QUANTITIES), (sex, SEXES), (statistic, STATISTICS)):
            if given not in allowed:
                raise ValueError(f"{given!r} is none of {', '.join(allowed)}")
        return self.sizes.get((quantity, sex, statistic))

    def span_range(self) -> tuple[Figure, Figure]:
        """Lowest and highest wing span of the species, both sexes [mm]."""
        return self.sizes["wing_span_mm", "any", "low"], self.sizes["wing_span_mm", "any", "high"]

    def span_chord_ratio(self) -> float | None:
        """Middle of the span range over the chord midway between the sexes [-].

        The species' mean chord stands in where no sexed chord is known. None without
        any chord. The bands that it should lie in are in size_bands.csv.
        """
        chord = self._mid_sex("wing_chord_mm") or self.size("wing_chord_mm")
        if chord is None:
            return None
        low, high = self.span_range()
        return (low.value + high.value) / 2 / chord.value

    def sexed_span(self, sex: str) -> Figure | None:
        """Likely wing span of one sex [mm], or None where no chord of that sex is known.

        Chord of the sex times the ratio of span to chord in the species
        (`span_chord_ratio`): both sexes share one shape of wing.
        """
        chord = self.size("wing_chord_mm", sex) if sex in ("m", "f") else None
        ratio = self.span_chord_ratio()
        if chord is None or ratio is None:
            return None
        low, high = self.span_range()
        return _derived(
            chord.value * ratio,
            "mm",
            f"{self.id}: wing chord of the sex x {ratio:.2f}",
            f"the species spans {low.value:g} to {high.value:g} mm",
        )

    def span(self, sex: str = "any") -> Figure:
        """Wing span to use for a bird that was not measured [mm].

        The likely span of its sex where that can be worked out, otherwise the high end
        of the species' range, so that an unknown bird gets more room, not less.
        """
        sexed = self.sexed_span(sex)
        return self.span_range()[1] if sexed is None else sexed

    def mass(self, sex: str = "any") -> Figure:
        """Mass to use for a bird that was not weighed [g].

        For one sex: its mean, or else the middle of its range. For a bird of unknown
        sex: the species' mean, or else the middle of all ranges.
        """
        if found := self.size("mass_g", sex):
            return found
        sexes = ("m", "f") if sex == "any" else (sex,)
        values = [self.sizes["mass_g", s, end].value for s in sexes for end in ("low", "high")]
        middle = (min(values) + max(values)) / 2
        return _derived(middle, "g", f"{self.id}: middle of the mass range", "no mean is known")

    def tail(self, sex: str = "any") -> Figure | None:
        """Tail length to keep clear of walls and floor [mm].

        The sex's mean. For a bird of unknown sex the longer of the two means.
        """
        if sex in ("m", "f") and (found := self.size("tail_mm", sex)):
            return found
        sexed = [tail for s in ("m", "f") if (tail := self.size("tail_mm", s))]
        return max(sexed, key=lambda tail: tail.value) if sexed else self.size("tail_mm")

    def body_length(self) -> Figure:
        """Body length, high end of the range [mm]."""
        return self.sizes["body_length_mm", "any", "high"]

    def _mid_sex(self, quantity: str) -> Figure | None:
        m, f = self.size(quantity, "m"), self.size(quantity, "f")
        if m is None or f is None:
            return None
        return _derived((m.value + f.value) / 2, m.unit, f"{self.id}: mid-sex {quantity}", "")


def _derived(value: float, unit: str, how: str, note: str) -> Figure:
    ref = SourceRef("Worked out from rows of species_sizes.csv", how, "derived")
    return Figure(round(value, 1), unit, ref, note, "derived", "", how)


@cache
def _size_rows() -> Mapping[str, list[Row]]:
    found: dict[str, list[Row]] = {}
    for row in rows("species_sizes"):
        if row["used"] == "yes":
            found.setdefault(row["species"], []).append(row)
    return found


@cache
def _sizes(of: str) -> Mapping[SizeKey, Figure]:
    found: dict[SizeKey, Figure] = {}
    for row in _size_rows()[of]:
        key = quantity, sex, statistic = row["quantity"], row["sex"], row["statistic"]
        place = f"species_sizes.csv, {of} {quantity} {sex} {statistic}"
        found[key] = figure(row, place, unit=quantity.rsplit("_", 1)[1])
    return found


@cache
def _by_id() -> Mapping[str, Species]:
    traits = {(row["species"], row["trait"]): row["value"] for row in rows("species_traits")}
    moult = {row["species"]: row for row in rows("species_moult")}

    def count(of: str, trait: str) -> int | None:
        return int(text) if (text := traits.get((of, trait), "")) else None

    return {
        (of := row["id"]): Species(
            id=of,
            common_name=row["common_name"],
            scientific_name=row["scientific_name"],
            synonyms=_split(row["synonyms"]),
            order=row["order"],
            family=row["family"],
            group=row["group"],
            is_hybrid=row["is_hybrid"] == "yes",
            parents=_split(row["parents"]),
            foot_covering=row["foot_covering"],
            temp_class=row["temp_class"],
            habitat=row["habitat"],
            moult_start_month=int(moult[of]["start_month"]),
            moult_end_month=int(moult[of]["end_month"]),
            primaries_per_wing=count(of, "primaries_per_wing"),
            rectrices_total=count(of, "rectrices_total"),
            max_longevity_y=number(traits.get((of, "max_longevity_y"), "")),
            quality_note=row["quality_note"],
            note=row["note"],
            source=reference(row, f"species.csv, {of}"),
        )
        for row in rows("species")
    }


@cache
def _by_name() -> Mapping[str, str]:
    names: dict[str, str] = {}
    birds = _by_id().values()
    own = ((name, bird.id) for bird in birds for name in _own_names(bird))
    former = ((name, bird.id) for bird in birds for name in bird.synonyms)
    for name, of in (*own, *former):  # a name in use goes before a former name of another
        names.setdefault(name.lower(), of)
    return names


def _own_names(bird: Species) -> tuple[str, str, str]:
    return bird.id, bird.common_name, bird.scientific_name


def _split(text: str) -> tuple[str, ...]:
    return tuple(text.split(";")) if text else ()


def all_species() -> tuple[Species, ...]:
    """Every species and hybrid, sorted by id."""
    return tuple(_by_id().values())


def species(name: str) -> Species:
    """The species with this id, common name, scientific name or synonym.

    Raises:
        Problem: If there is none; the sentence names the nearest ids.
    """
    found = _by_name().get(name.strip().lower())
    if found is None:
        advice = "see 'mewswright handbook species'"
        raise unknown("species", name, _by_id(), advice, other_names=_by_name())
    return _by_id()[found]
