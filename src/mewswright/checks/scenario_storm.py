"""A storm: trees that reach, things that fly, nets and open sides, and where each bird goes.

No structure is worked out here: whether roof, frame and anchors stand is an engineer's work.
"""

from collections.abc import Iterator, Sequence
from math import floor

from mewswright.build.skins import skins_of_top, widest_gap_mm
from mewswright.checks import asked
from mewswright.checks.asked import verdict
from mewswright.checks.case import Case
from mewswright.checks.faces import face_name, sides
from mewswright.checks.finding import Finding, Status
from mewswright.checks.registry import scenario_check
from mewswright.checks.roof import has_solid_roof
from mewswright.checks.scenario import Assumed
from mewswright.checks.scenario_places import a_place_for_each
from mewswright.checks.site import TAPE_M
from mewswright.ground.distances import outline_distance_m, turn_between_deg
from mewswright.ground.lee import is_in_the_lee, keeps_wind_off, looks_deg
from mewswright.model.quantity import Quantity, metres
from mewswright.model.yard import Yard

# A side that looks within so much of where the storm comes from takes it: an eighth of the
# compass to either hand, as the sectors of a wind rose have it.
WINDWARD_DEG = 45.0
HAIR = 1e-9


def _stays(every: Sequence[Case]) -> Iterator[Case]:
    """Quarters in which a bird is left day and night: of the others E116 speaks."""
    return (c for c in every if any(not r.stay.daytime_only for r in c.residents))


@scenario_check("E111", "Trees that reach in a storm", "storm")
def trees(yard: Yard, every: Sequence[Case], _assumed: Assumed) -> Iterator[Finding]:
    """E111: no tree, sound or not, reaches quarters in which birds stay."""
    near_rule = asked.house_rule("tree_fall_heights")
    far_rule = asked.house_rule("tree_warning_heights")
    own = yard.house.tree_reach_heights
    near, far = asked.number(near_rule), asked.number(far_rule) if own is None else own
    sources = asked.of_rule(near_rule, far_rule)
    if own is not None:
        sources = (*asked.keepers_own("house.tree_reach_heights"), *sources)
    for case in _stays(every):
        for tree in yard.feature:
            if tree.kind != "tree" or tree.height_m is None:
                continue
            away_m = outline_distance_m(case.quarters.corners_m, tree)
            fall_m, warn_m = near * tree.height_m, max(near, far) * tree.height_m
            reaches, warns = fall_m - away_m > TAPE_M, warn_m - away_m > TAPE_M
            yield verdict(
                "E111", case, not warns, "harm" if reaches else "short",
                measured=metres(away_m), limit=metres(fall_m if reaches else warn_m),
                fitting=tree.name,
                why=_of_tree(tree.condition, reaches),
                remedy=_lower(away_m, max(near, far)), sources=sources,
            )  # fmt: skip


def _of_tree(condition: str, reaches: bool) -> str:
    if not reaches:
        return "its broken crown may reach the quarters"
    if condition == "sound":
        return "a storm fells sound trees as well, and it reaches the quarters"
    return f"a storm fells a {condition} tree first, and it reaches the quarters"


def _lower(away_m: float, ratio: float) -> str:
    """How low a tree must be to reach no farther than it stands away."""
    height_m = floor(away_m / ratio * 100 + HAIR) / 100
    cut = "have it felled" if height_m <= 0 else f"have it cut down to {height_m:g} m"
    return f"{cut} by somebody who knows trees, or house the birds elsewhere before a storm"


@scenario_check("E112", "Loose things in the wind", "storm")
def loose_things(_yard: Yard, every: Sequence[Case], _assumed: Assumed) -> Iterator[Finding]:
    """E112: perches on their own stand are fixed, and nothing light is left on the lawn."""
    for case in every:
        q = case.quarters
        if not case.residents:
            continue
        if not any(face.infill == "open" for _, face in sides(case)) and q.has_roof:
            continue  # walls, bars and a top hold what stands inside
        for perch in q.perches:
            if perch.fixed and not perch.free_standing:
                continue
            yield verdict(
                "E112", case, perch.fixed, "short", fitting=perch.name,
                measured=Quantity(value="fixed" if perch.fixed else "loose"),
                why="the wind throws it, and whatever is tied to it",
                remedy="fix it so that nothing moves it, or carry it in before a storm",
                sources=asked.judgement("loose things in a storm"),
            )  # fmt: skip
        for bath in q.baths:
            yield verdict(
                "E112", case, False, "mind", fitting=bath.name,
                why="an empty bath flies",
                remedy="carry it in, or leave it full and weighted with a stone",
                sources=asked.judgement("loose things in a storm"),
            )  # fmt: skip


@scenario_check("E113", "Nets and mesh overhead", "storm")
def nets(_yard: Yard, every: Sequence[Case], _assumed: Assumed) -> Iterator[Finding]:
    """E113: what is netted or meshed overhead is watched, for no load on it is worked out."""
    for case in every:
        roof, skins = case.quarters.roof, skins_of_top(case.quarters)
        if roof is None or not case.residents or case.quarters.kind == "pitch":
            continue
        if skins and widest_gap_mm(skins) == float("inf"):
            continue  # nothing is stretched there; R104 and R108 speak of an open top
        yield verdict(
            "E113", case, not skins, "mind", fitting="roof",
            measured=Quantity(value=roof.open_infill if skins else "roofed all over"),
            why="snow, hail and branches lie on it: no load is worked out for it here",
            remedy="ask an engineer what it bears; knock snow off, and bring the birds under the "
            "solid roof",
            sources=asked.judgement("loads on nets and mesh are not worked out"),
        )  # fmt: skip


@scenario_check("E114", "Sides open to the storm", "storm")
def open_sides(_yard: Yard, every: Sequence[Case], assumed: Assumed) -> Iterator[Finding]:
    """E114: the side that looks into the storm is boarded, or a perch stands in the lee."""
    sources = asked.judgement("sides within 45 deg of the storm take it")
    for case in _stays(every):
        if case.quarters.faces is None:
            continue
        lets_in = [side for side, face in sides(case) if not keeps_wind_off(face)]
        if assumed.storm_from_deg is None and lets_in:
            yield verdict(
                "E114", case, False, "mind", fitting=" and ".join(map(face_name, lets_in)),
                why="the file has no wind rose: nobody knows which side takes the storm",
                remedy="give [[wind_rose]]", sources=sources,
            )  # fmt: skip
            continue
        lee = any(is_in_the_lee(case.quarters, perch) for perch in case.quarters.perches)
        found = False
        for side in lets_in:
            turn = turn_between_deg(looks_deg(case.quarters, side), assumed.storm_from_deg or 0)
            if turn > WINDWARD_DEG + HAIR:
                continue
            found = True
            missed: Status = "mind" if lee else "short"
            yield verdict(
                "E114", case, False, missed, measured=Quantity(value=turn, unit="deg"),
                limit=Quantity(value=WINDWARD_DEG, unit="deg"), fitting=face_name(side),
                why="the storm blows in; a perch in the lee is left" if lee
                else "the storm blows in, and no perch stands in the lee",
                remedy="board it, or hang a shutter before the storm",
                sources=(*sources, *assumed.sources),
            )  # fmt: skip
        if not found:
            yield verdict(
                "E114", case, True, "short", measured=Quantity(value="boarded to the storm"),
                sources=(*sources, *assumed.sources),
            )  # fmt: skip


@scenario_check("E115", "Held down against the wind", "storm")
def held_down(_yard: Yard, every: Sequence[Case], _assumed: Assumed) -> Iterator[Finding]:
    """E115: how quarters are held to the ground is not worked out here, and is asked for."""
    for case in every:
        q = case.quarters
        if q.kind == "pitch" or not case.residents or not q.built:
            continue
        light = q.frame.base == "sleepers"
        yield verdict(
            "E115", case, False, "mind", measured=Quantity(value=q.frame.base),
            why="light quarters on sleepers are lifted or pushed over; whether they hold is not "
            "worked out here" if light
            else "whether frame and anchors hold is not worked out here",
            remedy="have the anchors looked at; until then bring the birds into a stronger "
            "building before a storm",
            sources=asked.judgement("hold-down is not worked out"),
        )  # fmt: skip


@scenario_check("E116", "A place for every bird in a storm", "storm")
def places(_yard: Yard, every: Sequence[Case], _assumed: Assumed) -> Iterator[Finding]:
    """E116: whoever stands on the lawn, or has no roof, has a roofed place to go."""
    yield from a_place_for_each(
        "E116", every, has_solid_roof, lambda _: "short", what="roofed",
        sources=lambda _: asked.judgement("a roof for every bird in a storm"),
    )  # fmt: skip
