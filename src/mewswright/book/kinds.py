"""What can be entered, and what each kind of entry says.

A detail is checked when it is written; what a later version adds stays readable by an earlier.
"""

from __future__ import annotations

from datetime import date
from typing import Annotated, Any, Literal
from uuid import UUID

from pydantic import AwareDatetime, BaseModel, ConfigDict, Field, ValidationError

from mewswright.model.problem import Problem

Text = Annotated[str, Field(min_length=1, max_length=20_000)]
Score = Annotated[float, Field(ge=0, le=4)]
Share = Annotated[float, Field(ge=0, le=1)]
MOST_GRAMS = 20_000.0  # an Andean condor weighs less (judgement); heavier is a slip of the unit


class Detail(BaseModel):
    """What an entry says beside its columns."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    note: str | None = Field(None, max_length=20_000, description="In the keeper's words.")


class Weight(Detail):
    """A bird on the scale; the column `grams` has what it showed."""

    crop: Score | None = Field(None, description="Food in the crop, 0 empty to 4 full.")
    keel: Score | None = Field(None, description="Muscle beside the keel, 0 sharp to 4 fat.")
    ill: bool | None = Field(None, description="True for a bird that looks ill.")
    temp_c: Annotated[float, Field(ge=-60, le=60)] | None = Field(None, description="Air [C].")
    flown_min: Annotated[float, Field(ge=0, le=1440)] | None = Field(
        None, description="Minutes flown since the last weighing."
    )
    scale: str | None = Field(None, description="Which scale.")


class Feed(Detail):
    """Food given; `what` names it and `grams` is what was eaten."""

    offered_g: Annotated[float, Field(ge=0, le=MOST_GRAMS)] | None = Field(
        None, description="Food put in [g]."
    )
    items: Annotated[int, Field(ge=0, le=1000)] | None = Field(None, description="Pieces.")
    batch: str | None = Field(None, description="Box or batch that it came from.")


class Medicine(Detail):
    """A dose as prescribed and given; `what` names the medicine."""

    prescriber: str | None = Field(None, description="Vet who prescribed it.")
    dose: str | None = Field(None, description="Dose, in the prescription's words.")
    given: bool = Field(True, description="False for a dose that was due and not given.")


class Clean(Detail):
    """Quarters scooped, sieved, scrubbed or disinfected; `what` says which."""

    agent: str | None = Field(None, description="Disinfectant.")
    dilution: str | None = Field(None, description="As it was made up.")
    contact_min: Annotated[float, Field(ge=0, le=1440)] | None = Field(
        None, description="Minutes that it stayed wet."
    )


class Move(Detail):
    """A bird moves to the entry's quarters."""

    mode: Literal["loose", "tethered"] | None = Field(None, description="Loose or on a leash.")
    came_from: str | None = Field(None, description="Quarters that it left.")


class Harm(Detail):
    """Something that a bird suffered; `what` names it."""

    grade: Annotated[float, Field(ge=0, le=10)] | None = Field(None, description="On its scale.")
    scale: str | None = Field(None, description="Which scale.")
    side: Literal["left", "right", "both"] | None = Field(None, description="Which side.")
    ended: bool | None = Field(None, description="True where it is over.")
    photo: str | None = Field(None, description="Name of the picture kept with it.")


class Feather(Detail):
    """A moulted or broken feather; `what` is its number: P1 to P10, S1.., T1 to T6."""

    side: Literal["left", "right"] | None = Field(None, description="Which side.")
    length_mm: Annotated[float, Field(gt=0, le=1000)] | None = Field(None, description="Length.")
    state: Literal["dropped", "broken", "growing", "hard_down", "kept", "used"] | None = Field(
        None, description="What it is."
    )
    condition: str | None = Field(None, description="Fault bars, frayed, whole.")


class Stock(Detail):
    """Something comes into the store or leaves it; `what` names it, `grams` its mass."""

    change: Literal["in", "out", "counted"] = Field(description="In, out, or counted anew.")
    group: Literal["food", "medicine", "chemical", "spare", "feather"] = Field(
        "food", description="Part of the store."
    )
    pieces: Annotated[float, Field(ge=0)] | None = Field(None, description="Pieces.")
    batch: str | None = Field(None, description="Box or batch.")
    expires_on: date | None = Field(None, description="Last day of use.")
    place: Literal["freezer", "fridge", "shelf"] | None = Field(None, description="Where.")


class Change(Detail):
    """Something about the quarters was changed; `what` says what."""

    revision: Annotated[int, Field(ge=1)] | None = Field(
        None, description="Revision of the yard file that has it."
    )
    harm: UUID | None = Field(None, description="Entry of the harm that it is to end.")


KINDS: dict[str, type[Detail]] = {
    "weight": Weight,
    "feed": Feed,
    "cast": Detail,
    "flight": Weight,
    "bath": Detail,
    "clean": Clean,
    "perch": Detail,
    "lock": Detail,
    "camera": Detail,
    "move": Move,
    "medicine": Medicine,
    "harm": Harm,
    "feather": Feather,
    "stock": Stock,
    "change": Change,
    "arrival": Detail,
    "death": Detail,
    "note": Detail,
}
_OF_A_BIRD = {"weight", "feed", "cast", "flight", "move", "medicine", "harm", "feather", "arrival",
              "death"}  # fmt: skip
_OF_QUARTERS = {"clean", "bath", "perch", "lock", "camera", "change", "move"}


class NewEntry(BaseModel):
    """An entry that is to be written.

    A `uid` that the book already has is not written again: what was sent twice lands once.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")
    kind: str = Field(description="Kind of entry.")
    at: AwareDatetime = Field(description="When it happened.")
    bird: Text | None = Field(None, description="Which bird.")
    quarters: Text | None = Field(None, description="Which quarters.")
    what: Text | None = Field(None, description="Food, medicine, harm, feather, work.")
    grams: Annotated[float, Field(ge=0, allow_inf_nan=False)] | None = Field(
        None, description="Mass [g]."
    )
    detail: dict[str, Any] = Field(default_factory=dict, description="What its kind says more.")
    uid: UUID | None = Field(None, description="Its own name, given by whoever writes it.")
    corrects: UUID | None = Field(None, description="Entry that it takes the place of.")
    withdrawn: bool = Field(False, description="True where the earlier entry never happened.")


def checked(entry: NewEntry) -> dict[str, object]:
    """The detail of an entry, checked for its kind.

    Raises:
        Problem: If the kind is not known, or the entry lacks or holds what its kind does not have.
    """
    shape = KINDS.get(entry.kind)
    if shape is None:
        raise Problem(f"entry of kind {entry.kind!r}: kinds are {', '.join(KINDS)}")
    who = f"{entry.kind} of {entry.bird or entry.quarters or 'the yard'}"
    if entry.withdrawn:
        if entry.corrects is None:
            raise Problem(f"{who}: only a correction can withdraw an entry: name the entry")
        return {key: value for key, value in entry.detail.items() if key == "note"}
    if entry.kind in _OF_A_BIRD and entry.bird is None:
        raise Problem(f"{who}: no bird is named: say which")
    if entry.kind in _OF_QUARTERS and entry.quarters is None:
        raise Problem(f"{who}: no quarters are named: say which")
    if entry.kind == "weight" and not entry.grams:
        raise Problem(f"{who}: no weight is given: write grams above 0")
    if entry.grams is not None and entry.kind in ("weight", "feed") and entry.grams > MOST_GRAMS:
        raise Problem(f"{who}: {entry.grams:g} g is more than any bird of prey: the unit is grams")
    try:
        detail = shape.model_validate(entry.detail)
    except ValidationError as error:
        first = error.errors()[0]
        place = ".".join(str(part) for part in first["loc"])
        known = ", ".join(shape.model_fields)
        raise Problem(
            f"{who}: {place or 'detail'}: {first['msg']} (given {first.get('input')!r}); "
            f"known: {known}"
        ) from error
    return detail.model_dump(mode="json", exclude_none=True, exclude_defaults=False)
