"""The ways in and out: spaces that a person walks through, and the doors between them."""

from typing import Annotated, Literal

from pydantic import Field

from mewswright.model.fitting import Side
from mewswright.model.quantity import Length, LengthOrNone
from mewswright.model.shape import Shape

OUTSIDE = "outside"  # the name of the open air in `between`


class Space(Shape):
    """A lobby, corridor or room. A bird that reaches it is still indoors if it is closed in."""

    name: str = Field(min_length=1, description="What the keeper calls it; once in the yard.")
    kind: Literal["lobby", "corridor", "room", "store", "weighing_room", "netted_yard"] = Field(
        description="What it is."
    )
    length_mm: Length = Field(description="Clear length from door to door.")
    width_mm: Length = Field(description="Clear width.")
    height_mm: Length = Field(description="Clear height.")
    closed_in: bool = Field(True, description="False where a bird could fly out of it.")
    rodent_gap_mm: LengthOrNone | None = Field(
        None, description="Widest gap through which a mouse or rat could come in."
    )


class Door(Shape):
    """A door between two spaces."""

    between: Annotated[tuple[str, str], Field(min_length=2, max_length=2)] = Field(
        description='Two names of quarters or spaces, or "outside".'
    )
    width_mm: Length = Field(description="Clear width.")
    height_mm: Length = Field(description="Clear height.")
    sill_mm: LengthOrNone = Field(0, description="Sill above the finished floor.")
    self_closing: bool = Field(False, description="True where it falls shut by itself.")
    locks: Literal["none", "bolt", "key", "code"] = Field("bolt", description="How it is secured.")
    opens_from_inside: bool = Field(True, description="True where a person shut in can get out.")
    opens_into: str | None = Field(None, description="Name of the space it swings into.")
    face: Side | None = Field(None, description="Face of the quarters that it is in.")
    at_mm: LengthOrNone | None = Field(None, description="Its middle along that face.")
    hinge: Literal["left", "right"] | None = Field(
        None,
        description="Side that it hangs on, seen from outside the quarters, or the lobby; blank = "
        "the end nearer the left or the front.",
    )

    @property
    def hangs_low(self) -> bool:
        """Whether it hangs at the end of its face where `at_mm` begins: the left, or the front.

        From outside that end is on the left of the front and of the right face, and on the
        right of the back and of the left face.
        """
        return self.hinge is None or (self.hinge == "left") == (self.face in ("front", "right"))
