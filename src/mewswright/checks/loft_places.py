"""Places to choose from in a loft: low and high, in sight and out of it, near a face."""

from collections.abc import Iterator

from mewswright.build import room
from mewswright.checks import asked
from mewswright.checks.asked import verdict
from mewswright.checks.case import Case
from mewswright.checks.faces import face_name, sides
from mewswright.checks.finding import Finding
from mewswright.checks.limits import whole_mm
from mewswright.checks.loft_flight import is_flown_in, widest_loose
from mewswright.checks.perches import span_mm
from mewswright.checks.registry import quarters_check
from mewswright.model.fitting import Perch, Shelf, Side
from mewswright.model.quantity import Quantity, millimetres
from mewswright.model.quarters import Quarters

BANDS = ("low", "middle", "high")
# A watcher stands this far from the face, with eyes at this height: judgements.
WATCHER_MM = 2000.0
WATCHER_EYE_MM = 1600.0
WATCHER_STEPS = 9
HIDDEN_SHARE = 0.5  # out of sight from half of the places outside
BIRD_SHARE = 0.5  # of the body's length above the foot: where its breast is
NEAR_FACE_SPANS = 1.0


def standing_range_mm(case: Case) -> tuple[float, float]:
    """From the floor to the highest place where the widest bird can raise a wing [mm]."""
    bird = widest_loose(case)
    q = case.quarters
    half_mm = span_mm(bird) / 2 if bird else 0.0
    return 0.0, q.highest_mm - half_mm


def band(height_mm: float, top_mm: float) -> str:
    """Which third of the height that can be stood at a perch is in."""
    if top_mm <= 0:
        return BANDS[0]
    return BANDS[min(2, max(0, int(3 * height_mm / top_mm)))]


@quarters_check("L105", "Perches low, in the middle and high")
def three_heights(case: Case) -> Iterator[Finding]:
    """L105: warm air gathers under the roof, so that height is a choice of warmth."""
    if not is_flown_in(case) or not case.quarters.perches or not case.quarters.has_roof:
        return
    top_mm = standing_range_mm(case)[1]
    have = {band(perch.height_mm, top_mm) for perch in case.quarters.perches}
    missing = [name for name in BANDS if name not in have]
    yield verdict(
        "L105", case, not missing, "mind",
        measured=Quantity(value=", ".join(name for name in BANDS if name in have)),
        limit=Quantity(value=", ".join(BANDS)),
        why="warm air gathers under the roof: without three heights it cannot choose its warmth",
        remedy=f"add a perch {_band_words(missing, top_mm)}",
        sources=asked.judgement("thirds of the height that a bird can stand at"),
    )  # fmt: skip


def _band_words(missing: list[str], top_mm: float) -> str:
    words = {
        "low": f"below {top_mm / 3:.0f} mm",
        "middle": f"between {top_mm / 3:.0f} and {2 * top_mm / 3:.0f} mm",
        "high": f"above {2 * top_mm / 3:.0f} mm",
    }
    return " and one ".join(words[name] for name in missing)


def see_through(case: Case) -> list[tuple[Side, float]]:
    """Sides that can be looked through, and how high their solid foot is [mm]."""
    return [
        (side, face.upstand_mm)
        for side, face in sides(case)
        if not face.is_solid and not (face.outer is not None and face.outer.infill == "boarded")
    ]


def breast_mm(case: Case, perch: Perch) -> float:
    """Height of the breast of the smallest loose bird on a perch [mm]."""
    lengths = [resident.body_length.value for resident in case.loose]
    return perch.height_mm + BIRD_SHARE * min(lengths, default=0.0)


@quarters_check("L106", "Sight out")
def sight_out(case: Case) -> Iterator[Finding]:
    """L106: from at least one perch a bird looks out over the solid foot of a face."""
    if not is_flown_in(case) or not case.quarters.perches:
        return
    feet = [upstand_mm for _, upstand_mm in see_through(case)]
    top_mm = max(breast_mm(case, perch) for perch in case.quarters.perches)
    lowest_mm = min(feet, default=None)
    yield verdict(
        "L106", case, lowest_mm is not None and top_mm > lowest_mm, "mind",
        measured=millimetres(top_mm), limit=None if lowest_mm is None else millimetres(lowest_mm),
        why="no side can be looked through" if lowest_mm is None
        else "from every perch it looks at boards",
        remedy="open one side with bars" if lowest_mm is None
        else f"raise a perch {whole_mm(lowest_mm - top_mm + 1)}",
        sources=asked.judgement("a bird that looks out is calmer than one that only hears"),
    )  # fmt: skip


@quarters_check("L107", "A place out of sight")
def out_of_sight(case: Case) -> Iterator[Finding]:
    """L107: somewhere a bird can withdraw from whoever stands outside."""
    if not is_flown_in(case) or not case.quarters.perches:
        return
    watchers = _watchers(case)
    shares = {perch.name: _seen_share(case, perch, watchers) for perch in case.quarters.perches}
    boxes = [f.name for f in case.quarters.fitting if isinstance(f, Shelf) and f.kind == "nest_box"]
    best = min(shares, key=lambda name: (shares[name], name))
    hidden = bool(boxes) or shares[best] <= 1 - HIDDEN_SHARE
    yield verdict(
        "L107", case, hidden, "mind", measured=Quantity(value=100 * shares[best], unit="pct"),
        limit=Quantity(value=100 * (1 - HIDDEN_SHARE), unit="pct"),
        fitting=min(boxes, default=best),
        why="whoever stands outside sees it on every perch",
        remedy="hang a box that it can go into, or raise the solid foot of a face before a low "
        "perch",
        sources=asked.judgement("seen from two metres outside the faces"),
    )  # fmt: skip


Watcher = tuple[Side, float, float]  # the side before which one stands, x and y [mm]


def _watchers(case: Case) -> list[Watcher]:
    q = case.quarters
    found: list[Watcher] = []
    for side, _ in see_through(case):
        for i in range(WATCHER_STEPS):
            share = i / (WATCHER_STEPS - 1)
            along = {
                "front": (q.width_mm * share, -WATCHER_MM),
                "back": (q.width_mm * share, q.depth_mm + WATCHER_MM),
                "left": (-WATCHER_MM, q.depth_mm * share),
                "right": (q.width_mm + WATCHER_MM, q.depth_mm * share),
            }
            found.append((side, *along[side]))
    return found


def _seen_share(case: Case, perch: Perch, watchers: list[Watcher]) -> float:
    """Share of the places outside from which the breast of a bird on a perch is seen."""
    if not watchers:
        return 0.0
    aim = (*perch.at_mm, breast_mm(case, perch))
    open_sides = dict(see_through(case))
    return sum(_sees(case.quarters, w, aim, open_sides) for w in watchers) / len(watchers)


def _sees(
    q: Quarters, watcher: Watcher, aim: tuple[float, float, float], open_sides: dict[Side, float]
) -> bool:
    """Whether the line from a watcher comes in through an open side above its solid foot."""
    _, x, y = watcher
    planes: dict[Side, tuple[float, float]] = {
        "front": (-y, aim[1] - y), "back": (y - q.depth_mm, y - aim[1]),
        "left": (-x, aim[0] - x), "right": (x - q.width_mm, x - aim[0]),
    }  # fmt: skip
    # It comes in where it has passed the last of the planes that it stands outside of.
    shares = {side: gap / whole for side, (gap, whole) in planes.items() if gap > 0 and whole > 0}
    if not shares:
        return True
    side = max(shares, key=lambda one: shares[one])
    if side not in open_sides:
        return False
    height_mm = WATCHER_EYE_MM + (aim[2] - WATCHER_EYE_MM) * shares[side]
    return height_mm > open_sides[side]


@quarters_check("L108", "A perch near a face")
def near_face(case: Case) -> Iterator[Finding]:
    """L108: one perch stands within a span of a side that can be looked through."""
    bird = widest_loose(case)
    if bird is None or not is_flown_in(case) or not case.quarters.perches:
        return
    open_sides = see_through(case)
    if not open_sides:
        return  # L106 speaks of a room without a view
    rules = asked.named(case, "perch_near_window_min", bird)
    away = [
        (face_distance_mm(case.quarters, perch, side), perch.name, side)
        for perch in case.quarters.perches
        for side, _ in open_sides
    ]
    away_mm, name, side = min(away)
    limit_mm = NEAR_FACE_SPANS * span_mm(bird)
    yield verdict(
        "L108", case, asked.reaches(limit_mm, away_mm), asked.miss(rules[0]) if rules else "mind",
        measured=millimetres(away_mm), limit=millimetres(limit_mm), bird=bird.bird.name,
        fitting=name, why="no perch is near a side that it can look out of",
        remedy=f"move one {whole_mm(away_mm - limit_mm)} towards the {face_name(side)}",
        sources=(
            *asked.of_rule(*rules), *asked.judgement("near is within one wing span"),
            bird.span.source,
        ),
    )  # fmt: skip


def face_distance_mm(q: Quarters, perch: Perch, side: Side) -> float:
    """Level distance from the nearest edge of a perch to a side [mm]."""
    x0, y0, x1, y1 = room.perch_plan(perch)
    away = {"front": y0, "back": q.depth_mm - y1, "left": x0, "right": q.width_mm - x1}
    return max(0.0, away[side])
