"""The shape of a mending plan, as the command prints it and `--json` gives it."""

from decimal import Decimal
from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, PlainSerializer

from mewswright.checks.finding import Status
from mewswright.checks.report import Counts
from mewswright.fit.change import Priced

Money = Annotated[Decimal, PlainSerializer(float, return_type=float, when_used="json")]
Stage = Literal["harm", "short"]

CAUTIONS = (
    "Prices marked assumed are rough judgements that serve to rank changes; ask for real ones.",
    "Hours are for one practised pair of hands, and are judgements.",
    "Take the bird out before work begins, and look for staples, splinters and wet preservative "
    "before it comes back.",
    "What carries a roof is not checked for strength: the local code and a licensed engineer "
    "decide.",
)
NOT_EURO = (
    "The handbook's prices are for currencies of about the worth of one euro. In {currency} they "
    "only ranked the changes and are not shown: give your own as [[price]] in the yard file."
)


class Step(BaseModel):
    """One change in its turn."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    n: int
    change: str
    clears: tuple[str, ...]
    adds: tuple[str, ...]
    price: Money | None
    currency: str
    priced: Priced
    hours: float
    stage: Stage


class Total(BaseModel):
    """What all steps cost; `is_whole` is False where a price is missing."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    price: Money
    hours: float
    from_keeper: Money
    from_assumption: Money
    is_whole: bool


class Beyond(BaseModel):
    """A finding that no change here clears, and why."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    code: str
    status: Status
    why: str


class Mending(BaseModel):
    """How a unit is mended. The keys are stable."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    yard: str
    quarters: str
    standards: tuple[str, ...]
    before: Counts
    after_harm: Counts
    after: Counts
    steps: tuple[Step, ...]
    total: Total
    beyond: tuple[Beyond, ...]
    minds: tuple[str, ...]  # what then remains to be minded
    proven: bool
    nodes: int  # yards judged on the way
    cautions: tuple[str, ...]
