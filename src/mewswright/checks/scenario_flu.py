"""A housing order against bird flu: no wild bird, and no dropping of one, comes in.

A net keeps birds out and lets droppings through; a solid roof keeps out both.
"""

from collections.abc import Iterator, Sequence
from functools import cache
from math import inf

from mewswright.build.apart import feeding_plan
from mewswright.build.overhead import roof_from_mm
from mewswright.build.room import Rectangle, bath_plan
from mewswright.build.skins import Skin, skins_of_face, skins_of_top, widest_gap_mm
from mewswright.checks import asked
from mewswright.checks.asked import verdict
from mewswright.checks.case import Case
from mewswright.checks.faces import face_name, sides
from mewswright.checks.finding import Evidence, Finding, Status
from mewswright.checks.limits import whole_mm
from mewswright.checks.registry import scenario_check
from mewswright.checks.scenario import Assumed
from mewswright.checks.scenario_places import a_place_for_each
from mewswright.checks.water_more import LANDING_MM
from mewswright.handbook import Rule, published_rows
from mewswright.model.quantity import Quantity, millimetres
from mewswright.model.yard import Yard

UK = "uk-ai"
MANY_BIRDS = 50  # holdings of more dip feet at every entry: uk-ai, as collected


def aperture(case: Case) -> Rule:
    """The narrowest net that a standard asks for against bird flu; the UK's, if none binds."""
    found = (*asked.of_standard(UK, "mesh_max_mm"), *asked.named(case, "mesh_max_mm"))
    rule = asked.strictest(found, most=False)
    assert rule is not None  # the UK's is shipped
    return rule


def orders(case: Case) -> tuple[Rule, ...]:
    """Rules that bind and forbid open weathering."""
    return tuple(r for key in case.standards for r in case.shelf.rules(key, "open_weathering"))


def missed(case: Case) -> Status:
    """How an open place is called."""
    return "harm" if any(asked.miss(rule) == "harm" for rule in orders(case)) else "short"


def of_order(case: Case) -> tuple[Evidence, ...]:
    """Whose word it is that birds are kept under cover."""
    return asked.of_rule(*(orders(case) or asked.of_standard(UK, "open_weathering")))


def _gap_mm(skins: Sequence[Skin]) -> float | None:
    return 0.0 if not skins else widest_gap_mm(skins)


def is_closed(case: Case) -> bool:
    """Roof or net over it, and nothing wider in its sides than the aperture."""
    q = case.quarters
    if q.kind == "pitch" or q.faces is None:
        return False
    limit_mm = asked.number(aperture(case))
    gaps = [_gap_mm(skins_of_top(q)), *(_gap_mm(skins_of_face(face)) for _, face in sides(case))]
    return all(gap is not None and asked.stays_within(gap, limit_mm) for gap in gaps)


def _lived_in(every: Sequence[Case]) -> Iterator[Case]:
    """Quarters with walls in which birds live: of pitches E126 speaks."""
    return (c for c in every if c.residents and c.quarters.kind != "pitch")


@scenario_check("E121", "A top against wild birds", "flu")
def top(_yard: Yard, every: Sequence[Case], _assumed: Assumed) -> Iterator[Finding]:
    """E121: a solid roof, or a net or mesh that no small bird passes."""
    for case in _lived_in(every):
        rule = aperture(case)
        limit_mm, gap_mm = asked.number(rule), _gap_mm(skins_of_top(case.quarters))
        sources = (*asked.of_rule(rule), *of_order(case))
        if gap_mm is None:
            yield verdict(
                "E121", case, False, "mind", limit=millimetres(limit_mm), fitting="roof",
                why="the gap of its open part is not given",
                remedy="measure it and give open_gap_mm", sources=sources,
            )  # fmt: skip
            continue
        sound = asked.stays_within(gap_mm, limit_mm)
        open_mm = min(roof_from_mm(case.quarters), case.quarters.depth_mm)
        yield verdict(
            "E121", case, sound, missed(case), measured=_gap(gap_mm), limit=millimetres(limit_mm),
            fitting="roof", why="wild birds come in from above",
            remedy=f"roof {whole_mm(open_mm)} more of its depth, or net it with clear gaps of "
            f"{millimetres(limit_mm)} or less",
            sources=sources,
        )  # fmt: skip


@scenario_check("E122", "Sides against wild birds", "flu")
def walls(_yard: Yard, every: Sequence[Case], _assumed: Assumed) -> Iterator[Finding]:
    """E122: no open side, and no bars or mesh that a small bird passes."""
    for case in _lived_in(every):
        rule = aperture(case)
        limit_mm = asked.number(rule)
        found = False
        for side, face in sides(case):
            gap_mm = _gap_mm(skins_of_face(face)) or 0.0  # a face always gives its gap
            if gap_mm == 0:
                continue
            found = True
            yield verdict(
                "E122", case, asked.stays_within(gap_mm, limit_mm), missed(case),
                measured=_gap(gap_mm), limit=millimetres(limit_mm), fitting=face_name(side),
                why="wild birds come in through it",
                remedy=f"hang net or mesh outside it, with clear gaps of {millimetres(limit_mm)} "
                "or less",
                sources=(*asked.of_rule(rule), *of_order(case)),
            )  # fmt: skip
        if not found:
            yield verdict(
                "E122", case, True, "short", measured=Quantity(value="boarded all round"),
                limit=millimetres(limit_mm), sources=asked.of_rule(rule),
            )  # fmt: skip


def _gap(gap_mm: float) -> Quantity:
    if gap_mm == inf:
        return Quantity(value="open")
    return Quantity(value="solid") if gap_mm == 0 else millimetres(gap_mm)


@scenario_check("E123", "Food under cover", "flu")
def food(_yard: Yard, every: Sequence[Case], _assumed: Assumed) -> Iterator[Finding]:
    """E123: food comes to lie under the solid roof."""
    for case in _lived_in(every):
        if not case.quarters.hatches:
            yield verdict(
                "E123", case, False, "mind", why="the file does not say where it is fed",
                remedy="feed it under the solid roof, and take away what is left",
                sources=asked.judgement("food under a solid roof in bird flu"),
            )  # fmt: skip
        for hatch in case.quarters.hatches:
            plan = feeding_plan(case.quarters, hatch, LANDING_MM)
            yield _covered(case, "E123", hatch.name, plan, "food", "or feed it under the roof")


@scenario_check("E124", "Water under cover", "flu")
def water(_yard: Yard, every: Sequence[Case], _assumed: Assumed) -> Iterator[Finding]:
    """E124: no wild bird's droppings fall into the bath."""
    for case in _lived_in(every):
        for bath in case.quarters.baths:
            plan = bath_plan(bath)
            back_mm = case.quarters.depth_mm - plan[3]
            move_mm = roof_from_mm(case.quarters) - plan[1]
            other = (
                f"or move the bath {whole_mm(move_mm)} towards the back"
                if move_mm <= back_mm
                else "or give water indoors"
            )
            yield _covered(case, "E124", bath.name, plan, "water", other)


def _covered(case: Case, code: str, thing: str, plan: Rectangle, what: str, other: str) -> Finding:
    """A thing lies under the solid roof whole, or how far it sticks out from under it."""
    from_mm = min(roof_from_mm(case.quarters), case.quarters.depth_mm)
    out_mm = max(0.0, from_mm - plan[1])
    return verdict(
        code, case, asked.stays_within(out_mm, 0), "short", measured=millimetres(out_mm),
        limit=millimetres(0), fitting=thing,
        why=f"droppings of wild birds fall into its {what}, through a net as well",
        remedy=f"bring the solid roof {whole_mm(out_mm)} farther forward, {other}",
        sources=asked.judgement(f"{what} under a solid roof in bird flu"),
    )  # fmt: skip


@scenario_check("E125", "Foot dips", "flu")
def foot_dips(yard: Yard, _every: Sequence[Case], _assumed: Assumed) -> Iterator[Finding]:
    """E125: a holding of many birds dips feet at every entry; the file cannot tell."""
    if not yard.bird:
        return
    many = len(yard.bird) > MANY_BIRDS
    yield Finding(
        code="E125",
        status="mind" if many else "sound",
        measured=Quantity(value=len(yard.bird), unit="birds"),
        limit=Quantity(value=MANY_BIRDS, unit="birds"),
        why="the file does not say whether a dip stands at each way in and out" if many else "",
        remedy="set one at each, renew it daily and when it is soiled, and brush boots first"
        if many
        else "",
        sources=_dips(),
    )


@cache
def _dips() -> tuple[Evidence, ...]:
    rows = published_rows("site_biosecurity", UK)
    return asked.witnesses(*(row.source for row in rows if row.quantity == "foot_dips"))


@scenario_check("E126", "A covered place for every bird", "flu")
def places(_yard: Yard, every: Sequence[Case], _assumed: Assumed) -> Iterator[Finding]:
    """E126: whoever stands out on the lawn, or under an open top, has a covered place to go."""
    yield from a_place_for_each("E126", every, is_closed, missed, what="covered", sources=of_order)
