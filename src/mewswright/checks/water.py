"""Bath, and the hatch through which food comes unseen."""

from collections.abc import Iterator

from mewswright.checks import asked
from mewswright.checks.asked import verdict
from mewswright.checks.case import Case, Resident
from mewswright.checks.finding import Finding, Status
from mewswright.checks.narrowest import narrowest
from mewswright.checks.perches import span_mm
from mewswright.checks.registry import quarters_check
from mewswright.handbook import Rule
from mewswright.model.fitting import Bath
from mewswright.model.quantity import Quantity, millimetres

BATH_TOPICS = ("bath", "water_pan", "bath_diameter_spans")


def _across_mm(bath: Bath) -> float:
    return min(bath.size_mm)


def _length_mm(resident: Resident) -> float:
    return resident.body_length.value


@quarters_check("W101", "A bath")
def has_bath(case: Case) -> Iterator[Finding]:
    """The bird can bathe and drink where it lives."""
    if not case.residents:
        return
    rules = [
        rule
        for bird in case.residents
        for topic in BATH_TOPICS
        for rule in asked.asked(case, topic, bird)
    ]
    lawful = [rule for rule in rules if asked.miss(rule) == "harm"]
    outdoors_by_day = case.quarters.kind == "pitch" and not lawful
    missed: Status = "mind" if outdoors_by_day else "harm" if lawful else "short"
    yield verdict(
        "W101", case, bool(case.quarters.baths), missed,
        measured=Quantity(value=len(case.quarters.baths), unit="baths"),
        limit=Quantity(value=1, unit="baths"),
        why="a bird of prey bathes, and drinks from its bath",
        remedy="add a bath, or carry one out each day and note it",
        sources=asked.of_rule(*(lawful or rules)[:2]),
    )  # fmt: skip


@quarters_check("W102", "Size of the bath against the wings")
def bath_across(case: Case) -> Iterator[Finding]:
    """The bath is at least a share of the wing span across."""
    bird = max(case.residents, key=span_mm, default=None)
    if bird is None:
        return
    rule = asked.strictest(asked.asked(case, "bath_diameter_spans", bird))
    if rule is None:
        return
    limit_mm = asked.number(rule) * span_mm(bird)
    for bath in case.quarters.baths:
        yield verdict(
            "W102", case, asked.reaches(_across_mm(bath), limit_mm), asked.miss(rule),
            measured=millimetres(_across_mm(bath)), limit=millimetres(limit_mm),
            bird=bird.bird.name, fitting=bath.name,
            why="in a narrow bath it cannot open its wings, and bathes badly",
            remedy=f"take a bath {millimetres(limit_mm - _across_mm(bath))} wider",
            sources=(*asked.of_rule(rule), bird.span.source),
        )  # fmt: skip


@quarters_check("W103", "Depth of the bath")
def bath_depth(case: Case) -> Iterator[Finding]:
    """Deep enough to bathe in, too shallow to drown in."""
    low = asked.strictest(asked.asked(case, "bath_depth_low_mm"))
    high = asked.strictest(asked.asked(case, "bath_depth_high_mm"), most=False)
    for bath in case.quarters.baths:
        for rule, deep_enough in ((low, True), (high, False)):
            if rule is None:
                continue
            limit_mm = asked.number(rule)
            off_mm = limit_mm - bath.depth_mm if deep_enough else bath.depth_mm - limit_mm
            sound = asked.stays_within(off_mm, 0)
            if sound and deep_enough and high is not None:
                continue  # the upper limit speaks for both
            yield verdict(
                "W103", case, sound, "short",
                measured=millimetres(bath.depth_mm), limit=millimetres(limit_mm),
                fitting=bath.name,
                why="it is too shallow to wet the feathers" if deep_enough
                else "a bird with wet feathers does not get out of deep water",
                remedy=f"{'fill' if deep_enough else 'line'} it {millimetres(off_mm)} "
                f"{'deeper' if deep_enough else 'shallower'}",
                sources=asked.of_rule(rule),
            )  # fmt: skip
            if not sound:
                break


@quarters_check("W104", "Bath out of the litter")
def bath_rim(case: Case) -> Iterator[Finding]:
    """The rim stands above the floor, so that litter and droppings stay out."""
    for bath in case.quarters.baths:
        yield verdict(
            "W104", case, not asked.stays_within(bath.rim_height_mm, 0), "mind",
            measured=millimetres(bath.rim_height_mm), fitting=bath.name,
            why="its rim is level with the floor: litter and droppings wash in",
            remedy="set it on a platform, or scrub it daily",
            sources=asked.judgement("rim above the floor"),
        )  # fmt: skip


@quarters_check("W105", "Size of the bath against the body")
def bath_length(case: Case) -> Iterator[Finding]:
    """The bath is wider than the bird is long."""
    bird = max(case.residents, key=_length_mm, default=None)
    if bird is None:
        return
    rules = asked.named(case, "bath_wider_than_bird_is_long")
    elsewhere = asked.of_standard("us-pre2008", "bath_wider_than_bird_is_long")
    for bath in case.quarters.baths:
        limit_mm = _length_mm(bird)
        yield verdict(
            "W105", case, asked.reaches(_across_mm(bath), limit_mm), "short" if rules else "mind",
            measured=millimetres(_across_mm(bath)), limit=millimetres(limit_mm),
            bird=bird.bird.name, fitting=bath.name,
            why="the bird is longer than its bath is wide",
            remedy=f"take a bath {millimetres(limit_mm - _across_mm(bath))} wider",
            sources=(*asked.of_rule(*(rules or elsewhere)), bird.body_length.source),
        )  # fmt: skip


@quarters_check("W106", "Feeding unseen")
def hatch_unseen(case: Case) -> Iterator[Finding]:
    """Food comes in without the bird seeing who brings it."""
    if case.quarters.faces is None or not case.residents:
        return
    if not case.quarters.hatches and case.quarters.kind == "shelter":
        return  # a bird there is fed on the fist or the perch
    if not case.quarters.hatches:
        yield verdict(
            "W106", case, False, "mind", measured=Quantity(value=0, unit="hatches"),
            why="without a hatch every feed is a visit, and birds learn to scream at people",
            remedy="put one in a boarded face that a person can reach",
            sources=asked.judgement("feeding unseen"),
        )  # fmt: skip
    for hatch in case.quarters.hatches:
        face = case.quarters.faces.side(hatch.face)
        yield verdict(
            "W106", case, face.is_solid, "mind",
            measured=Quantity(value=f"{hatch.face} {face.infill}"),
            fitting=hatch.name, why="the bird sees who feeds it through that face",
            remedy="move it to a boarded face", sources=asked.judgement("feeding unseen"),
        )  # fmt: skip


@quarters_check("W107", "Hatch shut against escape")
def hatch_closes(case: Case) -> Iterator[Finding]:
    """A hatch that a bird could pass shuts and latches."""
    bird = narrowest(case)
    if bird is None:
        return
    for hatch in case.quarters.hatches:
        gap_mm = min(hatch.width_mm, hatch.height_mm)
        yield verdict(
            "W107", case, hatch.closes or asked.stays_within(gap_mm, bird.width_mm), "harm",
            measured=millimetres(gap_mm), limit=millimetres(bird.width_mm), bird=bird.name,
            fitting=hatch.name, why="it stands open and the bird fits through",
            remedy="give it a door that latches",
            sources=bird.sources,
        )  # fmt: skip


@quarters_check("W108", "Filling and emptying the bath")
def bath_served(case: Case) -> Iterator[Finding]:
    """Fresh water each day without a visit: filled from the corridor, emptied by a drain."""
    rule: Rule = asked.house_rule("water_change_days_max")
    for bath in case.quarters.baths:
        easy = bath.drains and bath.filled_from == "corridor"
        how = (
            f"filled from the {bath.filled_from}, {'drains' if bath.drains else 'lifted to empty'}"
        )
        yield verdict(
            "W108", case, easy, "mind", measured=Quantity(value=how), fitting=bath.name,
            why="the water is changed daily, and each change is a visit",
            remedy="lead a tap and a drain to the corridor, or plan the visit",
            sources=asked.of_rule(rule),
        )  # fmt: skip
