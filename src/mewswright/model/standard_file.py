"""The file of one standard: what it asks, row by row, each row with its witness.

Shipped standards and a keeper's own have the same shape. Sizes and rules are in SI; the
value as it was published stands beside it. Days are the first and the last on which a row
binds; a row without them binds always.
"""

from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from mewswright.model.fault import MOST_NAMES, Fault, StandardProblem, listed, nearest_name
from mewswright.model.quantity import Finite
from mewswright.model.shape import Shape
from mewswright.model.standard_names import Known, broken_rows
from mewswright.model.telling import as_toml, faults_of, key_words, line_of
from mewswright.model.toml_tables import model_of, tables_of, text_of

Basis = Literal["law", "standard", "study", "guide", "practice", "derived", "judgement"]
HowKnown = Literal["read", "second hand", "from memory", "derived", "judgement"]
Confidence = Literal["", "high", "medium", "low"]
Place = Literal["any", "loft", "shelter", "pitch", "isolation", "flight_cage", "house"]
Key = Annotated[str, Field(pattern=r"^[a-z0-9]+(-[a-z0-9]+)*$")]
Word = Annotated[str, Field(min_length=1)]


class Witnessed(Shape):
    """What every row says of where it comes from."""

    basis: Basis = Field(description="What kind of text asks it.")
    how_known: HowKnown = Field(description="Whether that text was read.")
    confidence: Confidence = Field("", description="How sure the one is who noted it.")
    source: Word = Field(description="Key of a [[source]], or of the handbook's sources.")
    where: str = Field("", description="Place in the source.")
    note: str = Field("", description="Disagreement, and what else to know.")


class Dated(Witnessed):
    """A row that binds from one day to another."""

    valid_from: date | None = Field(None, description="First day on which it binds.")
    valid_to: date | None = Field(None, description="Last day on which it binds.")
    lapsed: bool = Field(
        False, description="A law that is none any more, still asked after: advice, not law."
    )

    @model_validator(mode="after")
    def days_are_in_order(self) -> Self:
        """Refuse a row that ends before it begins."""
        if self.valid_from and self.valid_to and self.valid_to < self.valid_from:
            raise ValueError(
                f"it ends on {self.valid_to}, before it begins on {self.valid_from}: "
                "give the first day and the last"
            )
        return self


class About(Shape):
    """What the standard is."""

    key: Key = Field(description="What a yard file calls it; small letters, digits and hyphens.")
    name: Word = Field(description="Its name in words.")
    jurisdiction: Word = Field(description="Where it holds: CH, US-NC, a club, any.")
    strength: Literal["law", "guide", "practice", "house"] = Field(description="How it binds.")
    summary: Word = Field(description="What it asks, in a line.")


class Gap(Shape):
    """What of the standard was not read, so that silence is not taken for permission."""

    missing: Word = Field(description="What was not read.")
    matters_for: Word = Field(description="What it would have decided.")


class Members(Witnessed):
    """Birds of a class that share one witness."""

    of: tuple[Word, ...] = Field(min_length=1, description="Species ids, group:NAME or genus:NAME.")


class BirdClass(Shape):
    """A class of birds, as the standard parts them."""

    id: Annotated[str, Field(pattern=r"^[a-z0-9]+(_[a-z0-9]+)*$")] = Field(
        description="What the sizes call it."
    )
    name: Word = Field(description="The class in the standard's words.")
    members: tuple[Members, ...] = Field((), description="Which birds belong to it.")


class Size(Dated):
    """One smallest size for one class of bird."""

    bird_class: Word = Field(alias="class", description="Id of a class, or any.")
    purpose: Literal["loft", "flight_cage", "isolation"] = Field(
        description="loft: a bird lives there; flight_cage: before release; isolation."
    )
    quantity: Word = Field(description="What is asked.")
    value: Annotated[float, Field(gt=0, allow_inf_nan=False)] = Field(description="How much.")
    unit: Word = Field(description="Unit of the quantity, SI.")
    original_value: Finite | None = Field(None, description="The number as published.")
    original_unit: str = Field("", description="Its unit as published.")
    condition: str = Field("", description="When it holds.")


class RuleRow(Dated):
    """One rule that is not a size: a number with its unit, or words."""

    topic: Word = Field(description="What it is about.")
    applies_to: Word = Field(
        "any", description="any, a species id, group:NAME, genus:NAME or a state of the bird."
    )
    place: Place = Field("any", description="Where it holds.")
    number: Finite | None = Field(None, description="The figure, in SI.")
    value: str | None = Field(None, description="The rule in words, or a day as text.")
    unit: Word = Field("rule", description="Unit of the number; date for a day; none for words.")
    condition: str = Field("", description="When it holds.")

    @model_validator(mode="after")
    def a_number_or_words(self) -> Self:
        """Refuse a rule that says nothing, or two things."""
        if (self.number is None) == (not self.value):
            raise ValueError("give either number with its unit or value in words")
        if (self.number is None) != (self.unit in ("rule", "date")):
            raise ValueError("a number needs a unit and words need none: give one pair of the two")
        return self


class OwnSource(Shape):
    """One witness of the file."""

    key: Key = Field(description="What the rows call it.")
    cite: Word = Field(description="Who says it, so that it can be found.")
    trust: Word = Field(description="How far to trust it.")
    address: str = Field("", description="Where it can be read.")
    second_hand: bool = Field(False, description="It tells what another text says.")


class StandardFile(Shape):
    """One standard."""

    standard: About = Field(description="What the standard is.")
    gap: tuple[Gap, ...] = Field((), description="What was not read.")
    source: tuple[OwnSource, ...] = Field((), description="Witnesses.")
    classes: tuple[BirdClass, ...] = Field((), alias="class", description="Classes of birds.")
    size: tuple[Size, ...] = Field((), description="Smallest sizes.")
    rule: tuple[RuleRow, ...] = Field((), description="What is asked beside sizes.")

    @property
    def key(self) -> str:
        """What a yard file calls it."""
        return self.standard.key

    def rows(self) -> Iterator[Size | RuleRow]:
        """Every row that can bind."""
        yield from self.size
        yield from self.rule


def read_standard(path: Path, known: Known) -> StandardFile:
    """Read the file of a standard.

    Args:
        path: The file.
        known: Names that its rows may use.

    Raises:
        Problem: If the file cannot be read.
        StandardProblem: If it is not a standard; all its faults.
    """
    remedy = "name the file of a standard (docs/standards.md)"
    return parse_standard(text_of(path, remedy, StandardProblem), path.name, known)


def parse_standard(text: str, name: str, known: Known | None = None) -> StandardFile:
    """Read the text of a standard's file.

    Args:
        text: The text.
        name: Name of the file, for the faults.
        known: Names that its rows may use; None = take them as they stand, as for files
            that tests have held against the handbook.

    Raises:
        StandardProblem: If it is not a standard; all its faults.
    """
    empty = "begin with a table [standard] (docs/standards.md)"
    data = tables_of(text, name, "standard", empty, StandardProblem)
    file, errors = model_of(data, StandardFile, name, "standard", StandardProblem)
    broken = [] if known is None else list(broken_rows(data, known))
    if file is not None and not broken:
        return file

    from mewswright.model.positions import line_of_each_key

    lines = line_of_each_key(text)
    faults = faults_of(errors, data, StandardFile, name, lines)
    faults += [
        Fault(
            name, line_of(one.path, lines), key_words(one.path, data), as_toml(one.given),
            one.wrong, listed(one.allowed) if 0 < len(one.allowed) <= MOST_NAMES else "",
            nearest_name(str(one.given), one.allowed),
        )
        for one in broken
    ]  # fmt: skip
    raise StandardProblem(faults)
