"""Water in frost and splash, and food that comes unseen, clean, in reach and for long enough."""

from collections.abc import Iterator
from math import ceil

from mewswright.build.apart import feeding_height_mm, feeding_plan, gap_mm, way_clear
from mewswright.build.room import bath_plan, rectangle_to_perch_mm
from mewswright.checks import asked
from mewswright.checks.asked import verdict
from mewswright.checks.case import Case, Resident
from mewswright.checks.finding import TAPE_MM, Finding, Status
from mewswright.checks.limits import whole_mm
from mewswright.checks.months import named, stay_months
from mewswright.checks.perch_moves import aside_mm
from mewswright.checks.perches import DROP_MM
from mewswright.checks.registry import quarters_check
from mewswright.handbook import Substrate, substrates
from mewswright.model.fitting import Hatch
from mewswright.model.quantity import Quantity, millimetres

PLATFORM_MM = 100.0  # over litter that holds water a bath stands so high: a judgement
SPLASH_MM = 300.0  # a bathing bird wets what lies so near in plan: a judgement
SPLASH_UP_MM = 500.0  # ... and so far above the rim: the same
LANDING_MM = 300.0  # food without a ledge comes to lie so far out from its hatch: the same
WEAK_LENGTHS, STEP_LENGTHS = 1.0, 0.5  # what a weak bird hops, and one that cannot fly: the same
INDOORS = ("corridor", "lobby", "room", "store", "weighing_room")


@quarters_check("W109", "Dry ground round the bath")
def splash(case: Case) -> Iterator[Finding]:
    """What a bird splashes out drains away, or does not reach the litter."""
    q = case.quarters
    if q.kind == "pitch" or not case.residents:
        return
    litter: Substrate | None = {one.id: one for one in substrates()}.get(q.floor.substrate)
    holds = litter is None or litter.drains == "poor"
    dries = not holds and q.floor.drained
    for bath in q.baths:
        raised = asked.reaches(bath.platform_mm, PLATFORM_MM) and bath.drains
        needs = [
            *([f"set it {whole_mm(PLATFORM_MM - bath.platform_mm)} higher on a platform"]
              if not asked.reaches(bath.platform_mm, PLATFORM_MM) else []),
            *([] if bath.drains else ["give it a drain that leads out"]),
        ]  # fmt: skip
        ground = litter.name if litter else q.floor.substrate
        yield verdict(
            "W109", case, dries or raised, "short" if holds and litter else "mind",
            measured=millimetres(bath.platform_mm),
            limit=None if dries else millimetres(PLATFORM_MM), fitting=bath.name,
            why=f"splashed water stays in the {ground} round it"
            + (", and mould grows there" if holds else ": the floor does not drain"),
            remedy=f"{' and '.join(needs)}; or lay pea gravel that drains",
            sources=(
                *asked.judgement("a bath over litter that holds water"),
                *(asked.witnesses(litter.source) if litter else ()),
            ),
        )  # fmt: skip


@quarters_check("W110", "Water in frost")
def frost(case: Case) -> Iterator[Finding]:
    """The bath does not freeze in the months in which birds live here."""
    if not case.residents or not case.quarters.baths:
        return
    climate = case.yard.climate
    sources = asked.judgement("a bath freezes in a month whose mean daily minimum is below 0 °C")
    lived_in = sorted({month for r in case.residents for month in stay_months(r.stay)})
    for bath in case.quarters.baths:
        if climate is None:
            yield verdict(
                "W110", case, bath.frost_free, "mind", fitting=bath.name,
                why="the file has no climate to judge frost by",
                remedy="give [climate], or frost_free = true if it never freezes", sources=sources,
            )  # fmt: skip
            continue
        cold = [month for month in lived_in if climate.mean_daily_min_c[month - 1] < 0]
        # A day that stays below freezing leaves no hour in which a bird can drink.
        hard = [month for month in cold if climate.mean_daily_max_c[month - 1] <= 0]
        lowest = min(climate.mean_daily_min_c[month - 1] for month in lived_in)
        yield verdict(
            "W110", case, bath.frost_free or not cold, "short" if hard else "mind",
            measured=Quantity(value=lowest, unit="°C"), limit=Quantity(value=0, unit="°C"),
            fitting=bath.name,
            why=f"it freezes of a night in {named(cold)}" if cold and not hard
            else f"it stays frozen all day in {named(hard)}" if hard else "",
            remedy="warm it, or carry water out each morning of frost and take the ice away; "
            "then give frost_free = true",
            sources=sources,
        )  # fmt: skip


def is_served_indoors(case: Case, hatch: Hatch) -> bool:
    """Whether a hatch is filled from a space that is closed to sight and rain."""
    return any(s.name == hatch.served_from and s.kind in INDOORS for s in case.yard.space)


def _undisturbed(case: Case) -> Resident | None:
    """The resident that is to be left alone for longest, if any is."""
    alone = [r for r in case.residents if r.stay.undisturbed_days]
    return max(alone, key=lambda r: r.stay.undisturbed_days or 0.0, default=None)


@quarters_check("W111", "A hatch that is filled unseen")
def hatch_served(case: Case) -> Iterator[Finding]:
    """A person fills it from indoors, and the bird does not see who."""
    if not case.residents:
        return
    alone = _undisturbed(case)
    spaces = [space.name for space in case.yard.space if space.kind in INDOORS]
    for hatch in case.quarters.hatches:
        off: list[tuple[str, str]] = []
        if hatch.served_from is None:
            off.append(("nobody has said where it is filled from", "give served_from"))
        elif not is_served_indoors(case, hatch):
            off.append((
                f"it is filled from {hatch.served_from}, which is no corridor, lobby or room",
                f"fill it from indoors ({', '.join(spaces) or 'build a corridor'})",
            ))  # fmt: skip
        if hatch.blind is None:
            off.append(("nobody has said whether the bird sees who fills it", "give blind"))
        elif not hatch.blind:
            off.append(("the bird sees who fills it", "hang a second flap or a sleeve in it"))
        seen = hatch.blind is False and alone is not None
        yield verdict(
            "W111", case, not off, "short" if seen else "mind",
            measured=Quantity(value=f"from {hatch.served_from or 'where is not known'}"),
            bird=alone.bird.name if alone else None, fitting=hatch.name,
            why="; ".join(why for why, _ in off), remedy="; ".join(remedy for _, remedy in off),
            sources=asked.judgement("feeding unseen"),
        )  # fmt: skip


@quarters_check("W112", "Food and water while nobody may enter")
def left_alone(case: Case) -> Iterator[Finding]:
    """A bird that must not be disturbed is fed and watered all the same."""
    bird = _undisturbed(case)
    if bird is None:
        return
    days = bird.stay.undisturbed_days or 0.0
    limit = Quantity(value=days, unit="days")
    hatches, baths = case.quarters.hatches, case.quarters.baths
    unseen = [h for h in hatches if h.blind and is_served_indoors(case, h)]
    held = max((h.holds_days or 0.0 for h in hatches), default=0.0)
    unknown = any(h.holds_days is None for h in hatches)
    sound = bool(unseen) or held >= days
    yield verdict(
        "W112", case, sound, "mind" if unknown else "short",
        measured=Quantity(value="fed daily, unseen") if unseen
        else Quantity(value=held, unit="days"),
        limit=limit, bird=bird.bird.name, fitting=hatches[0].name if len(hatches) == 1 else None,
        why="it has no hatch to be fed through" if not hatches else
        "its food does not last as long as nobody may come in",
        remedy="put in a hatch that is filled unseen from indoors" if not hatches else
        f"fill it unseen from indoors each day, or let it hold {days:g} days and give holds_days",
        sources=asked.judgement("food for the days on which nobody enters"),
    )  # fmt: skip
    rule = asked.house_rule("water_change_days_max")
    served = any(b.filled_from == "corridor" and b.drains for b in baths)
    yield verdict(
        "W112", case, served or days <= asked.number(rule), "short",
        measured=Quantity(value="changed from the corridor" if served else "changed from inside"
                          if baths else "no bath"),
        limit=limit, bird=bird.bird.name, fitting=baths[0].name if len(baths) == 1 else None,
        why="its water goes foul: each change is a visit" if baths else "it has no water",
        remedy="lead a tap and a drain to the corridor" if baths
        else "add a bath that is filled and drained from the corridor",
        sources=asked.of_rule(rule),
    )  # fmt: skip


@quarters_check("W113", "Food dry and clean")
def food_clean(case: Case) -> Iterator[Finding]:
    """The bath does not splash food, and food on the floor lies under no perch."""
    q = case.quarters
    if not case.residents:
        return
    for hatch in q.hatches:
        plan, top_mm = feeding_plan(q, hatch, LANDING_MM), feeding_height_mm(hatch)
        clean = True
        for bath in q.baths:
            apart_mm = gap_mm(bath_plan(bath), plan)
            if asked.reaches(apart_mm, SPLASH_MM) or top_mm > bath.rim_height_mm + SPLASH_UP_MM:
                continue
            clean = False
            way = way_clear(q, bath_plan(bath), plan, SPLASH_MM)
            yield verdict(
                "W113", case, False, "mind", measured=millimetres(apart_mm),
                limit=millimetres(SPLASH_MM), fitting=bath.name,
                why=f"a bathing bird wets the food from {hatch.name}",
                remedy=f"move it {way[0]} mm towards the {way[1]}" if way
                else f"move {hatch.name}, or raise its ledge: the room has no place for both",
                sources=asked.judgement("reach of splashed water"),
            )  # fmt: skip
        for perch in q.perches if hatch.ledge_mm == 0 else ():  # P107 judges what has a ledge
            apart_mm = max(0.0, rectangle_to_perch_mm(plan, perch))
            if asked.reaches(apart_mm, DROP_MM):
                continue
            clean = False
            moved = aside_mm(q, perch, plan, DROP_MM)
            yield verdict(
                "W113", case, False, "short", measured=millimetres(apart_mm),
                limit=millimetres(DROP_MM), fitting=perch.name,
                why=f"droppings fall where food from {hatch.name} comes to lie",
                remedy=f"move it {moved[0]} mm towards the {moved[1]}" if moved
                else f"move {hatch.name}: the room has no place for both",
                sources=asked.judgement("where food without a ledge comes to lie"),
            )  # fmt: skip
        if clean:
            yield verdict(
                "W113", case, True, "mind", fitting=hatch.name,
                sources=asked.judgement("reach of splashed water"),
            )  # fmt: skip


@quarters_check("W114", "Food within the bird's reach")
def food_in_reach(case: Case) -> Iterator[Finding]:
    """A bird that flies badly gets up to the ledge from the floor or a perch."""
    q = case.quarters
    poor = {r.bird.name: r for r in poor_fliers(case)}
    for hatch in q.hatches if case.loose else ():
        if not poor or hatch.ledge_mm == 0:
            yield verdict("W114", case, True, "mind", fitting=hatch.name)
            continue
        bird = min(poor.values(), key=lambda r: (hop_mm_of(r), r.bird.name))
        hop_mm, plan = hop_mm_of(bird), feeding_plan(q, hatch, LANDING_MM)
        footholds = [0.0] + [
            perch.height_mm
            for perch in q.perches
            if rectangle_to_perch_mm(plan, perch) <= hop_mm + TAPE_MM
        ]
        rise_mm = min(max(0.0, hatch.sill_mm - foot_mm) for foot_mm in footholds)
        cannot = bird.bird.flies == "not"
        missed: Status = "harm" if cannot else "short"
        low_mm, high_mm = ceil(hatch.sill_mm - hop_mm), hatch.sill_mm
        yield verdict(
            "W114", case, asked.stays_within(rise_mm, hop_mm), missed,
            measured=millimetres(rise_mm), limit=millimetres(hop_mm), bird=bird.bird.name,
            fitting=hatch.name,
            why="it cannot fly, and does not get up to its food" if cannot
            else "it flies badly, and may not get up to its food",
            remedy=f"lower the ledge {whole_mm(rise_mm - hop_mm)}, or set a perch {low_mm} to "
            f"{high_mm:g} mm up, within {whole_mm(hop_mm)} of it",
            sources=(*asked.judgement("a hop of one body length; half of it without flight"),
                     bird.body_length.source),
        )  # fmt: skip


def poor_fliers(case: Case) -> list[Resident]:
    """Loose birds that fly badly or not at all."""
    return [r for r in case.loose if r.bird.one_winged or r.bird.flies in ("weakly", "not")]


def hop_mm_of(bird: Resident) -> float:
    """How far up a bird hops that flies badly, or not at all [mm]."""
    lengths = STEP_LENGTHS if bird.bird.flies == "not" else WEAK_LENGTHS
    return lengths * bird.body_length.value
