"""Who sees whom and what, bird by bird, told for people; and screens that break lines."""

from collections.abc import Iterator, Sequence

from mewswright.checks.sight_told import (
    Looker,
    NoScreen,
    ScreenPlan,
    SeenThing,
    SightReport,
)
from mewswright.checks.sightlines import RANGE_M
from mewswright.checks.watch import Watch
from mewswright.model.problem import Problem
from mewswright.model.yard import Yard

METHOD = (
    "straight lines from every perch to every perch, to each metre of a lane and to each place "
    "of food; clear where no boards, roof, wall, fence, building, crown or hedge stands in it"
)
SURE = (
    "the lines are exact for the yard file's boxes and agree with an independent ray caster; "
    "whether a bird minds what it sees is judged by its keeper"
)
ASSUMPTIONS = (
    "a bird looks from the middle of each perch, at the height of its foot; without a perch from "
    "the middle of the floor, 0.3 m up",
    "bars, mesh, net and slats with an open share of 0.3 or more are looked through",
    "crowns and hedges hide in the months in which they let less than 0.3 of the sun through; "
    "without leaf_months they are evergreen, and a dead tree hides nothing",
    "posts, trunks, doors and fittings hide nothing; a feature without a height hides nothing",
    "people are looked for at 1.6 m, dogs at 0.8 m, windows at their height_m or 1.5 m",
    "level ground; on an even slope the answers are the same",
)


def sight_report(
    yard: Yard,
    quarters: str | None = None,
    bird: str | None = None,
    screens: bool = False,
    hide: Sequence[tuple[str, str]] = (),
) -> SightReport:
    """Tell who sees whom and what.

    Args:
        yard: The yard.
        quarters: Only birds that look out of these; None = all.
        bird: Only this bird; None = all.
        screens: True to propose screens for every line that is forbidden and clear.
        hide: Pairs of bird and target for which a screen is wanted whatever is forbidden.

    Raises:
        Problem: For a name that the yard has not.
    """
    if quarters is not None:
        yard.quarters_named(quarters)
    for name in (bird, *(pair[0] for pair in hide)):
        if name is not None:
            yard.bird_named(name)
    targets = {b.name for b in yard.bird} | {f.name for f in yard.feature}
    targets |= {q.name for q in yard.quarters}
    for _, target in hide:
        if target not in targets:
            known = ", ".join(sorted(targets)) or "nothing"
            raise Problem(f"no bird, feature or quarters {target!r} to hide; there are: {known}")
    watch = Watch(yard)
    found: list[SeenThing] = []
    birds: list[Looker] = []
    for look in watch.lookers:
        if quarters is not None and watch.cases[look.at].quarters.name != quarters:
            continue
        if bird is not None and look.name != bird:
            continue
        birds.append(watch.told(look))
        found += watch.seen_by(look)
    plans: list[ScreenPlan] = []
    without: list[NoScreen] = []
    for group in _groups(found, screens, hide):
        for plan in watch.screened(group):
            if isinstance(plan, ScreenPlan):
                plans.append(plan)
            else:
                without.append(plan)
    housed = {stay.bird for stay in yard.stay}
    return SightReport(
        yard=yard.yard.name,
        birds=tuple(birds),
        unhoused=tuple(b.name for b in yard.bird if b.name not in housed),
        sees=tuple(found),
        matrix=_matrix(found, [b.bird for b in birds]),
        forbidden_seen=sum(one.seen and one.forbidden for one in found),
        screens=tuple(plans),
        no_screen=tuple(without),
        range_m=RANGE_M,
        method=METHOD,
        sure=SURE,
        assumptions=ASSUMPTIONS,
    )


def _groups(
    found: Sequence[SeenThing], screens: bool, hide: Sequence[tuple[str, str]]
) -> Iterator[list[SeenThing]]:
    """What is to be hidden from a bird: each thing alone, then all of them together."""
    wanted: dict[tuple[str, str], list[SeenThing]] = {}
    for one in found:
        named = any(one.bird == b and t in (one.target, one.place) for b, t in hide)
        if one.seen and (named or (screens and one.forbidden)):
            wanted.setdefault((one.bird, one.quarters), []).append(one)
    for many in wanted.values():
        yield from ([one] for one in many)
        if sum(not one.together for one in many) > 1:
            yield many


def _matrix(found: Sequence[SeenThing], birds: Sequence[str]) -> dict[str, dict[str, float | None]]:
    told: dict[str, dict[str, float | None]] = {name: {} for name in birds}
    for one in found:
        if one.kind == "bird":
            row = told[one.bird]
            old = row.get(one.target)
            new = one.distance_m
            row[one.target] = min(old, new) if old is not None and new is not None else (
                new if old is None else old
            )  # fmt: skip
    return told
