"""What `place --json` says: plans, the trade between wishes, or why there is none."""

from pydantic import BaseModel, ConfigDict


class _Told(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")


class UnitPlace(_Told):
    """Quarters of a piece as the yard file gives them: front left inner corner, and bearing."""

    name: str
    kind: str
    x_m: float
    y_m: float
    heading_deg: float


class PiecePlace(_Told):
    """A piece where a plan puts it.

    `x_m`, `y_m` and `heading_deg` are `at_m` and `facing_deg` of the yard file: the front left
    inner corner of its first unit, seen from in front, and the bearing its front looks to.
    `corners_m` are those of its outside, walls and lobby or corridor included. `score` is what it
    misses of its 100 points, and `missed` the share of each wish that it misses, 0 to 1.
    """

    name: str
    kind: str
    x_m: float
    y_m: float
    heading_deg: float
    middle_m: tuple[float, float]
    corners_m: tuple[tuple[float, float], ...]
    door_m: tuple[float, float]
    score: float
    missed: dict[str, float]
    units: tuple[UnitPlace, ...]


class ScorePart(_Told):
    """One wish over all pieces: points missed, of how many, and the share missed."""

    wish: str
    what: str
    points: float
    of: float
    share: float


class PlanTold(_Told):
    """A plan. `score` is points missed, 0 to 100, less is better; no plan is below `bound`."""

    rank: int
    aim: str
    score: float
    bound: float
    proven: bool
    parts: tuple[ScorePart, ...]
    pieces: tuple[PiecePlace, ...]
    harm: int
    short: int
    new_findings: tuple[str, ...]


class Reason(_Told):
    """What keeps pieces from their places, and by how much."""

    piece: str
    rule: str
    places: int
    places_without: int
    words: str


class Relax(_Told):
    """What would make room, as tried: a rule or a number, and the score that it leads to."""

    change: str
    words: str
    score: float | None


class Refusal(_Told):
    """A rule that refuses a place: of what thing, how near that is, what is asked [m]."""

    rule: str
    thing: str
    measured_m: float | None
    asked_m: float | None
    headings: int
    words: str


class WhyPiece(_Told):
    """A kind of piece at the place that was pointed at.

    `allowed` is whether some heading passes every rule of the ground. Then `heading_deg` is the
    best of these, `score` what it misses there, `instead` what its like misses in the first plan,
    `dearer` the wishes that differ most [points], and `in_the_way` what the plan has there.
    """

    piece: str
    kind: str
    allowed: bool
    heading_deg: float | None
    score: float | None
    instead: float | None
    dearer: dict[str, float]
    in_the_way: tuple[str, ...]
    refused: tuple[Refusal, ...]
    words: str


class WhyTold(_Told):
    """Why a place is or is not taken; the middle of the outside is taken to stand there."""

    x_m: float
    y_m: float
    pieces: tuple[WhyPiece, ...]


class GridTold(_Told):
    """What a proof covers: squares, headings and candidates of each kind of piece."""

    step_m: float
    squares: int
    headings_deg: tuple[float, ...]
    candidates: dict[str, int]


class PlaceReport(_Told):
    """Everything that `place` says. The keys are stable."""

    yard: str
    asked: tuple[str, ...]
    plans: tuple[PlanTold, ...]
    score: float | None
    bound: float | None
    gap: float | None
    proven: bool
    placed: int
    unplaced: tuple[str, ...]
    reasons: tuple[Reason, ...]
    relax: tuple[Relax, ...]
    why: WhyTold | None
    grid: GridTold
    rules: dict[str, str]
    set_back_m: float
    passage_m: float
    seed: int
    seconds: float
    cautions: tuple[str, ...]
