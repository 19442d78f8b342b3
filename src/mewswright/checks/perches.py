"""Room round each perch: tail, wings, roof, droppings and posts.

Every perch is judged for the bird of those that use it which needs the most room.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from itertools import combinations
from math import inf, isinf

from mewswright.build import room
from mewswright.checks import asked
from mewswright.checks.asked import verdict
from mewswright.checks.case import Case, Resident
from mewswright.checks.finding import TAPE_MM, Evidence, Finding
from mewswright.checks.limits import whole_mm
from mewswright.checks.perch_moves import aside_mm, away_from_walls
from mewswright.checks.registry import quarters_check
from mewswright.model.fitting import Perch, Shelf, Upright
from mewswright.model.quantity import millimetres
from mewswright.model.quarters import perch_ends_mm

# A bird mutes behind its perch, not plumb below it. No distance is published.
DROP_MM = 150.0


def users(case: Case, perch: Perch) -> tuple[Resident, ...]:
    """The birds that stand on a perch: all loose ones, and those tied to it.

    A tethered bird whose stay names no perch may stand on any.
    """
    return tuple(r for r in case.residents if not r.tethered or r.stay.perch in (None, perch.name))


def needs_most(case: Case, perch: Perch, need: Callable[[Resident], float]) -> Resident | None:
    """The user of a perch with the largest need, or None for a perch that nobody uses."""
    return max(users(case, perch), key=need, default=None)


def span_mm(resident: Resident) -> float:
    """Wing span of a resident [mm]."""
    return resident.span.value


def tail_mm(resident: Resident) -> float:
    """Tail of a resident [mm]; 0 where it is not known."""
    return resident.tail.value if resident.tail else 0.0


def margin(case: Case, topic: str) -> tuple[float, tuple[Evidence, ...]]:
    """A clearance beyond the bird [mm]: the keeper's own, or the house rule's."""
    own: float | None = getattr(case.yard.house, topic)
    if own is not None:
        return own, asked.keepers_own(f"house.{topic}")
    rule = asked.house_rule(topic)
    return asked.number(rule), asked.of_rule(rule)


@dataclass(frozen=True)
class Asks:
    """What a perch asks for the neediest of its users [mm]; None where it cannot be known.

    `tail_mm` is for the floor below and the wall behind, `wing_mm` for the wall aside,
    `roof_mm` for the roof above.
    """

    tail_mm: float | None
    wing_mm: float | None
    roof_mm: float | None


def asks(case: Case, perch: Perch) -> Asks:
    """How much room P101 to P104 ask for a perch, whatever its place."""
    longest = needs_most(case, perch, tail_mm)
    widest = needs_most(case, perch, span_mm)
    tail = None if longest is None or longest.tail is None else longest.tail.value
    return Asks(
        None if tail is None else tail + margin(case, "perch_back_clear_mm")[0],
        None if widest is None else span_mm(widest) / 2 + margin(case, "perch_side_clear_mm")[0],
        None
        if widest is None
        else span_mm(widest) * asked.number(asked.house_rule("perch_roof_spans")),
    )


def _tail_unknown(code: str, case: Case, perch: Perch) -> Finding | None:
    for user in users(case, perch):
        if user.tail is None:
            return verdict(
                code, case, False, "mind", bird=user.bird.name, fitting=perch.name,
                why=f"no tail length is known for {user.species.common_name}",
                remedy="measure its longest tail feather and give tail_mm",
            )  # fmt: skip
    return None


@quarters_check("P101", "Tail clear of the floor")
def tail_over_floor(case: Case) -> Iterator[Finding]:
    """The tail of a bird on the perch hangs free of the floor."""
    _, sources = margin(case, "perch_back_clear_mm")
    for perch in case.quarters.perches:
        if unknown := _tail_unknown("P101", case, perch):
            yield unknown
        bird = needs_most(case, perch, tail_mm)
        if bird is None or bird.tail is None:
            continue
        limit_mm = asks(case, perch).tail_mm or 0.0
        touches = perch.height_mm < bird.tail.value - TAPE_MM
        yield verdict(
            "P101", case, asked.reaches(perch.height_mm, limit_mm), "harm" if touches else "short",
            measured=millimetres(perch.height_mm), limit=millimetres(limit_mm),
            bird=bird.bird.name, fitting=perch.name,
            why="a tail that sweeps the floor frays and is soiled",
            remedy=f"raise it {millimetres(limit_mm - perch.height_mm)}",
            sources=(*sources, bird.tail.source),
        )  # fmt: skip


@quarters_check("P102", "Wing room to the walls")
def wing_room(case: Case) -> Iterator[Finding]:
    """With both wings open at the middle of the perch, the tips stay clear of the walls."""
    _, sources = margin(case, "perch_side_clear_mm")
    for perch in case.quarters.perches if case.quarters.faces else ():
        bird = needs_most(case, perch, span_mm)
        if bird is None:
            continue
        half_mm = span_mm(bird) / 2
        found_mm, side = room.wing_room_mm(case.quarters, perch)
        if side is None:
            yield verdict("P102", case, True, "mind", bird=bird.bird.name, fitting=perch.name)
            continue
        limit_mm = asks(case, perch).wing_mm or 0.0
        strikes = found_mm < half_mm - TAPE_MM
        why = "a tip that strikes the wall breaks feathers"
        end_mm = room.end_room_mm(case.quarters, perch)
        finding = verdict(
            "P102", case, asked.reaches(found_mm, limit_mm), "harm" if strikes else "short",
            measured=millimetres(found_mm), limit=millimetres(limit_mm),
            bird=bird.bird.name, fitting=perch.name, why=why,
            remedy=away_from_walls(
                case.quarters, perch, limit_mm, room.wing_room_mm, perch.turn_deg
            ),
            sources=(*sources, bird.span.source),
        )  # fmt: skip
        if finding.status == "sound" and not asked.reaches(end_mm, half_mm):
            told = f"at an end of the perch the wall is {millimetres(end_mm)} away: a tip touches"
            finding = finding.model_copy(update={"why": told})
        yield finding


@quarters_check("P103", "Tail room to the wall behind")
def tail_room(case: Case) -> Iterator[Finding]:
    """The tail hangs clear of the wall behind, whichever way the bird faces."""
    _, sources = margin(case, "perch_back_clear_mm")
    for perch in case.quarters.perches if case.quarters.faces else ():
        if unknown := _tail_unknown("P103", case, perch):
            yield unknown
        bird = needs_most(case, perch, tail_mm)
        if bird is None or bird.tail is None:
            continue
        found_mm, side = room.tail_room_mm(case.quarters, perch)
        if side is None:
            yield verdict("P103", case, True, "mind", bird=bird.bird.name, fitting=perch.name)
            continue
        limit_mm = asks(case, perch).tail_mm or 0.0
        touches = found_mm < bird.tail.value - TAPE_MM
        yield verdict(
            "P103", case, asked.reaches(found_mm, limit_mm), "harm" if touches else "short",
            measured=millimetres(found_mm), limit=millimetres(limit_mm),
            bird=bird.bird.name, fitting=perch.name,
            why="a tail that rubs on the wall wears and breaks",
            remedy=away_from_walls(
                case.quarters, perch, limit_mm, room.tail_room_mm, perch.turn_deg + 90
            ),
            sources=(*sources, bird.tail.source),
        )  # fmt: skip


@quarters_check("P104", "Wing room under the roof")
def roof_room(case: Case) -> Iterator[Finding]:
    """A wing can be raised without touching the roof at the perch's own place."""
    rule = asked.house_rule("perch_roof_spans")
    for perch in case.quarters.perches if case.quarters.kind != "pitch" else ():
        bird = needs_most(case, perch, span_mm)
        if bird is None:
            continue
        found_mm = room.roof_room_mm(case.quarters, perch)
        if isinf(found_mm):
            yield verdict("P104", case, True, "mind", bird=bird.bird.name, fitting=perch.name)
            continue
        limit_mm = asks(case, perch).roof_mm or 0.0
        yield verdict(
            "P104", case, asked.reaches(found_mm, limit_mm), "harm",
            measured=millimetres(found_mm), limit=millimetres(limit_mm),
            bird=bird.bird.name, fitting=perch.name,
            why="a raised wing strikes the roof",
            remedy=_more_air(perch, bird, limit_mm - found_mm),
            sources=(*asked.of_rule(rule), bird.span.source),
        )  # fmt: skip


def _more_air(perch: Perch, bird: Resident, short_mm: float) -> str:
    """Lower a perch, or raise the roof where the bird's tail would then reach the floor."""
    if perch.height_mm - short_mm > tail_mm(bird):
        return f"lower it {whole_mm(short_mm)}"
    return f"raise the whole roof {whole_mm(short_mm)}"


@dataclass(frozen=True)
class Under:
    """Something that lies below a perch or beside it in plan."""

    name: str
    top_mm: float
    plan: room.Rectangle  # outline, or the rectangle round it
    gap_mm: Callable[[Perch], float]


def _drops(code: str, case: Case, under: Under, over: Sequence[Perch]) -> Iterator[Finding]:
    """Every perch from which droppings fall on a thing; one sound finding where none does."""
    say = partial(
        verdict, code, case, limit=millimetres(DROP_MM),
        sources=asked.judgement("level distance within which droppings are taken to fall"),
    )  # fmt: skip
    clear = True
    for perch in over:
        below_mm, gap_mm = perch.height_mm - under.top_mm, max(0.0, under.gap_mm(perch))
        if below_mm <= TAPE_MM or asked.reaches(gap_mm, DROP_MM):
            continue
        clear = False
        yield say(
            False, "short", fitting=perch.name, measured=millimetres(gap_mm),
            why=f"droppings fall on {under.name}, {millimetres(below_mm)} below",
            remedy=_aside(case, perch, under),
        )  # fmt: skip
    if clear and over:
        yield say(True, "mind", fitting=under.name)


def _aside(case: Case, perch: Perch, under: Under) -> str:
    found = aside_mm(case.quarters, perch, under.plan, DROP_MM)
    if found is None:
        return f"take away it or {under.name}: the room has no place for both"
    by_mm, side = found
    return f"move it {by_mm} mm towards the {side}, or move {under.name}"


@quarters_check("P105", "No perch over a perch")
def over_perch(case: Case) -> Iterator[Finding]:
    """Nobody stands under another bird's droppings."""
    for low in case.quarters.perches:
        others = [perch for perch in case.quarters.perches if perch is not low]
        under = Under(
            low.name, low.height_mm, room.perch_plan(low), partial(room.perch_gap_mm, low)
        )
        yield from _drops("P105", case, under, others)


@quarters_check("P106", "No perch over the bath")
def over_bath(case: Case) -> Iterator[Finding]:
    """The bath does not lie under a perch."""
    for bath in case.quarters.baths:
        plan = room.bath_plan(bath)
        gap = partial(room.rectangle_to_perch_mm, plan)
        under = Under(bath.name, bath.rim_height_mm, plan, gap)
        yield from _drops("P106", case, under, case.quarters.perches)


@quarters_check("P107", "No perch over food or nest")
def over_ledge(case: Case) -> Iterator[Finding]:
    """Droppings do not fall on a hatch's ledge, a shelf or a nest box."""
    q = case.quarters
    plans = [
        (hatch.name, hatch.sill_mm, plan)
        for hatch in q.hatches
        if (plan := room.ledge_plan(q, hatch)) is not None
    ] + [
        (shelf.name, shelf.height_mm + (shelf.box_height_mm or 0), room.shelf_plan(shelf))
        for shelf in q.fitting
        if isinstance(shelf, Shelf)
    ]
    for name, top_mm, plan in plans:
        under = Under(name, top_mm, plan, partial(room.rectangle_to_perch_mm, plan))
        yield from _drops("P107", case, under, q.perches)


@quarters_check("P108", "No post in the way between perches")
def post_between(case: Case) -> Iterator[Finding]:
    """A loose bird flies from perch to perch without striking a post."""
    bird = max(case.loose, key=span_mm, default=None)
    pairs = list(combinations(sorted(case.quarters.perches, key=lambda p: p.name), 2))
    if bird is None or not pairs:
        return
    half_mm = span_mm(bird) / 2
    for post in case.quarters.uprights:
        near = min(
            ((post_clear_mm(post, a, b, half_mm), f"{a.name} to {b.name}") for a, b in pairs),
            key=lambda found: found[0],
        )
        clear_mm, way = near
        yield verdict(
            "P108", case, asked.reaches(clear_mm, half_mm), "harm",
            measured=millimetres(clear_mm) if not isinf(clear_mm) else None,
            limit=millimetres(half_mm), bird=bird.bird.name, fitting=post.name,
            why=f"it stands in the way from {way}: a wing strikes it in flight",
            remedy=f"move the post {millimetres(half_mm - clear_mm)} aside, or end it lower",
            sources=(*asked.of_rule(asked.house_rule("perch_roof_spans")), bird.span.source),
        )  # fmt: skip


def post_clear_mm(post: Upright, one: Perch, other: Perch, half_mm: float) -> float:
    """Clear distance from a post to the way between two perches [mm].

    Infinity where the post ends half a span below the way.
    """
    level_mm, share = room.spot_to_segment_mm(post.at_mm, (one.at_mm, other.at_mm))
    line_mm = one.height_mm + (other.height_mm - one.height_mm) * share
    if post.top_mm is not None and post.top_mm <= line_mm - half_mm:
        return inf
    return level_mm - post.size_mm / 2


def loose_spans_mm(case: Case) -> list[float]:
    """Spans of the loose birds that are here on one day [mm], the widest first."""
    return sorted((span_mm(r) for r in case.together if not r.tethered), reverse=True)


def spacing_mm(spans_mm: Sequence[float]) -> float:
    """Distance in plan that P117 asks of perches of like height [mm]: both half spans."""
    return spans_mm[0] / 2 + (spans_mm[1] / 2 if len(spans_mm) > 1 else 0.0)


def _apart(case: Case, perch: Perch, other: Perch, level_mm: float, height_mm: float) -> str:
    """Set a perch farther off in plan, or higher or lower where the room has no such place."""
    q, fixed = case.quarters, perch_ends_mm(other)
    corners = ((x, y) for x in (0.0, q.width_mm) for y in (0.0, q.depth_mm))
    moved = (perch.model_copy(update={"at_mm": corner}) for corner in corners)
    if max(room.segment_gap_mm(perch_ends_mm(m), fixed) for m in moved) >= level_mm:
        gap_mm = room.segment_gap_mm(perch_ends_mm(perch), fixed)
        return f"set it {millimetres(level_mm - gap_mm)} farther from {other.name}"
    up_mm = other.height_mm + height_mm - perch.height_mm
    down_mm = perch.height_mm - other.height_mm + height_mm
    moves = []
    if up_mm < room.roof_room_mm(q, perch) - 1:
        moves.append((up_mm, f"raise it {whole_mm(up_mm)}"))
    if down_mm < perch.height_mm - 1:
        moves.append((down_mm, f"lower it {whole_mm(down_mm)}"))
    nothing = f"take away it or {other.name}: the room has no place for both"
    return min(moves, default=(0.0, nothing))[1]


@quarters_check("P117", "Room between perches")
def between_perches(case: Case) -> Iterator[Finding]:
    """Birds on two perches of like height do not strike each other or the next perch."""
    spans = loose_spans_mm(case)
    bird = max(case.loose, key=span_mm, default=None)
    if bird is None or not spans:
        return
    limit_mm = spacing_mm(spans)
    pairs = list(combinations(sorted(case.quarters.perches, key=lambda p: p.name), 2))
    sources = (*asked.of_rule(asked.house_rule("perch_spacing")), bird.span.source)
    clear = True
    for one, other in pairs:
        level_mm = room.segment_gap_mm(perch_ends_mm(one), perch_ends_mm(other))
        apart_mm = abs(one.height_mm - other.height_mm)
        if asked.reaches(apart_mm, spans[0] / 2) or asked.reaches(level_mm, limit_mm):
            continue
        clear = False
        yield verdict(
            "P117", case, False, "short" if len(spans) > 1 else "mind",
            measured=millimetres(level_mm), limit=millimetres(limit_mm),
            bird=bird.bird.name, fitting=other.name,
            why=f"a wing opened on it strikes {one.name} or a bird on that",
            remedy=_apart(case, other, one, limit_mm, spans[0] / 2),
            sources=sources,
        )  # fmt: skip
    if pairs and clear:
        yield verdict(
            "P117", case, True, "mind", limit=millimetres(limit_mm), bird=bird.bird.name,
            sources=sources,
        )  # fmt: skip
