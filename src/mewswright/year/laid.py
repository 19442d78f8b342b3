"""The abstract year of a yard, and what its numbers stand for."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from mewswright.year.charges import Charge
from mewswright.year.flock import Member
from mewswright.year.instance import Instance
from mewswright.year.spots import Spot


@dataclass(frozen=True)
class Rule:
    """A wish, a fact or a standard that a plan keeps.

    Args:
        key: Its name, the same for the same yard: "moult:Moth".
        says: What it says, in the keeper's words.
        kind: A wish of the keeper's, a fact of the yard, or what the standards and the birds ask.
        price: How dear it is to give up; None for what cannot be given up.
    """

    key: str
    says: str
    kind: Literal["wish", "fact", "standard"]
    price: int | None


@dataclass(frozen=True)
class Laid:
    """The instance of a problem with or without some rules, and what its numbers stand for.

    Args:
        instance: The abstract year.
        members: Who each unit is.
        places: Where each place is.
        charges: What each unit's steps cost, part by part.
        rules: The rules that hold in it.
        assumed: What was taken for granted, in words.
        cautions: What to mind in any plan of it, in words.
    """

    instance: Instance
    members: tuple[Member, ...]
    places: tuple[Spot, ...]
    charges: tuple[Charge, ...]
    rules: tuple[Rule, ...]
    assumed: tuple[str, ...]
    cautions: tuple[str, ...]
