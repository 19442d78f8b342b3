"""What reaches the quarters of a yard: sound, spores, falls, water, fire; cameras, doors, walks."""

from collections.abc import Iterator, Sequence

from mewswright.checks import asked
from mewswright.checks.case import Case, cases
from mewswright.checks.outlook import LOUD_DB, VERY_LOUD_DB
from mewswright.checks.outlook_told import (
    DoorWay,
    FallHere,
    FireHere,
    Listener,
    OutlookReport,
    OverheadHere,
    PondHere,
    SoundHere,
    SporesHere,
    WaterHere,
)
from mewswright.checks.roof import is_open_to_the_sky
from mewswright.checks.scenario_fire import BURNS_M
from mewswright.checks.sightlines import STARTLING
from mewswright.checks.site import is_prone
from mewswright.checks.walks_told import walks
from mewswright.checks.watched_by import camera_cover
from mewswright.ground.distances import outline_distance_m
from mewswright.ground.door_cuts import fewest_doors_to_cut
from mewswright.ground.doors import doors_of, open_places, shortest_way_out
from mewswright.ground.falling import fall_reach, over_pond_m, runs_onto
from mewswright.ground.heard import dulls, loudest, together_db
from mewswright.ground.lookers import places_of
from mewswright.ground.screens import Eye
from mewswright.ground.spores import spore_reach
from mewswright.model.place import Feature
from mewswright.model.quantity import m_from_mm
from mewswright.model.ways import Door
from mewswright.model.yard import Yard

HOW = {
    "sound": "level at 1 m less 20 log10 of the distance, less 5 + 20 log10(x / tanh x) over the "
    "easier way over or round the worst wall, x the root of 2 pi N at 500 Hz (15 for lanes), "
    "20 dB at most",
    "spores": "distance to the nearest place of each source; share of the hours in which the wind "
    "blows from it, within 45 degrees; months of growth by the climate's mean temperature",
    "falls": "level distance against the tree's height, and half as much again for its crown",
    "overhead": "level distance against the handbook's, and against the line's own height",
    "water": "the even slope of the yard file: what lies in the strip up and down it",
    "fire": "level distance to what burns",
    "cameras": "wedge and reach of each camera, less what stands in the way, at breast height; "
    "bearings 2 degrees apart",
    "doors": "the fewest doors on any way out, and the fewest that stand in every way",
    "walks": "shortest ways round quarters, walls and whatever stands, through gates; the round is "
    "proven shortest up to 10 places",
}
SURE = {
    "sound": "within about 5 dB; no echo, wind or walls of the unit itself",
    "spores": "distances are judgements: nobody has published any",
    "falls": "a tree's state is as the file gives it; somebody who knows trees decides",
    "overhead": "the owner of the line decides",
    "water": "the ground's own shape, ditches and drains are not known",
    "fire": "distances are judgements; the fire authority decides",
    "cameras": "by day, with clean glass; what the file leaves out is assumed, and said",
    "doors": "as the file gives the doors",
    "walks": "level ground; people keep 0.35 m off what stands",
}


def outlook_report(yard: Yard, quarters: str | None = None) -> OutlookReport:
    """Tell what reaches the quarters of a yard, and how the yard is watched and walked.

    Args:
        yard: The yard.
        quarters: Only these; None = all. Cameras and the round are always the whole yard's.

    Raises:
        Problem: For quarters that the yard has not.
    """
    every = cases(yard)
    if quarters is not None:
        yard.quarters_named(quarters)
    chosen = [case for case in every if quarters in (None, case.quarters.name)]
    sound = [one for case in chosen for one in _sound(case)]
    return OutlookReport(
        yard=yard.yard.name,
        sound=tuple(sound),
        sound_together_db={
            case.quarters.name: together_db([
                one.level_db for one in sound
                if one.quarters == case.quarters.name and one.level_db is not None
            ])
            for case in chosen
        },
        spores=tuple(one for case in chosen for one in _spores(case)),
        falls=tuple(one for case in chosen for one in _falls(case)),
        overhead=tuple(one for case in chosen for one in _overhead(case)),
        water=tuple(_water(case) for case in chosen),
        fire=tuple(one for case in chosen for one in _fire(case)),
        cameras=camera_cover(yard, every),
        doors=tuple(_doors(yard, every, chosen)),
        walks=walks(yard),
        how=HOW,
        sure=SURE,
    )  # fmt: skip


def ears(case: Case) -> tuple[Eye, ...]:
    """Where sound is listened for: at the eyes of its birds; in empty quarters in their middle."""
    found = {eye for bird in case.residents for _, eye in places_of(case.body, bird.stay)}
    q = case.quarters
    return tuple(sorted(found)) or (case.body.eye(q.width_mm / 2, q.depth_mm / 2, 1000.0),)


def _sound(case: Case) -> Iterator[SoundHere]:
    features = case.yard.feature
    between = dulls(features)
    eyes = ears(case)
    for source in features:
        if source.sound_db_1m is None and source.kind not in STARTLING:
            continue
        one = loudest(source, eyes, between)
        level = one.level_db
        loud = level is not None and level > LOUD_DB
        yield SoundHere(
            quarters=case.quarters.name, source=source.name, kind=source.kind,
            distance_m=one.distance_m, at_1m_db=source.sound_db_1m, detour_m=one.detour_m,
            loss_db=one.loss_db, level_db=level,
            loudness="unknown" if level is None else "very loud" if level > VERY_LOUD_DB
            else "loud" if loud else "quiet",
            birds=tuple(_listeners(case, source, loud or level is None)),
        )  # fmt: skip


def _listeners(case: Case, source: Feature, loud: bool) -> Iterator[Listener]:
    for name in dict.fromkeys(r.bird.name for r in case.residents):
        stays = [r for r in case.residents if r.bird.name == name]
        bird = stays[0].bird
        new, apart = bird.arrives_on is not None, any(r.stay.isolated for r in stays)
        used = source.name in bird.used_to
        yield Listener(
            bird=name, newcomer=new, isolated=apart, nervous=bird.nervous, used_to=used,
            minds=loud and not used and (new or apart or bird.nervous),
        )  # fmt: skip


def _spores(case: Case) -> Iterator[SporesHere]:
    prone = tuple(dict.fromkeys(r.bird.name for r in case.residents if is_prone(r.species.id)))
    for source in case.yard.feature:
        one = spore_reach(case.yard, case.quarters, source)
        if one is not None:
            yield SporesHere(
                quarters=case.quarters.name, source=source.name, kind=source.kind,
                severity=one.kind.severity, distance_m=one.distance_m, limit_m=one.limit_m,
                wind_share_pct=one.wind_pct if case.yard.wind_rose else None,
                near=one.near, carried=one.carried, months=one.months, prone_birds=prone,
            )  # fmt: skip


def _falls(case: Case) -> Iterator[FallHere]:
    near = asked.number(asked.house_rule("tree_fall_heights"))
    own = case.yard.house.tree_reach_heights
    far = asked.number(asked.house_rule("tree_warning_heights")) if own is None else own
    for tree in case.yard.feature:
        one = fall_reach(tree, case.quarters, near, far)
        if one is not None:
            yield FallHere(
                quarters=case.quarters.name, tree=tree.name, condition=tree.condition,
                distance_m=one.distance_m, height_m=tree.height_m or 0.0, fall_m=one.fall_m,
                warn_m=one.warn_m, leans_here=one.leans_here, reaches=one.reaches,
                crown_may_reach=one.warns, branch_overhangs=one.overhangs,
            )  # fmt: skip


def _overhead(case: Case) -> Iterator[OverheadHere]:
    rule = asked.of_standard("us-guide", "power_line_clear_level_mm")[0]
    clear = m_from_mm(asked.number(rule))
    for line in case.yard.feature:
        if line.kind == "power_line":
            away = outline_distance_m(case.quarters.corners_m, line)
            yield OverheadHere(
                quarters=case.quarters.name, line=line.name, distance_m=away,
                height_m=line.height_m, clear_m=clear, near=away < clear,
                falls_on=None if line.height_m is None else away < line.height_m,
            )  # fmt: skip


def _water(case: Case) -> WaterHere:
    yard, q = case.yard, case.quarters
    ponds = [(f.name, *over_pond_m(yard, q, f)) for f in yard.feature if f.kind == "pond"]
    return WaterHere(
        quarters=q.name, fall_pct=yard.yard.ground_fall_pct,
        falls_to_deg=yard.yard.ground_falls_to_deg,
        from_above=runs_onto(yard, q), to_below=runs_onto(yard, q, up=False),
        ponds=tuple(PondHere(pond=n, distance_m=away, above_m=high) for n, away, high in ponds),
    )  # fmt: skip


def _fire(case: Case) -> Iterator[FireHere]:
    for thing in case.yard.feature:
        if thing.kind in BURNS_M:
            away, wanted = outline_distance_m(case.quarters.corners_m, thing), BURNS_M[thing.kind]
            yield FireHere(
                quarters=case.quarters.name, thing=thing.name, kind=thing.kind, distance_m=away,
                wanted_m=wanted, near=away < wanted,
            )  # fmt: skip


def _doors(yard: Yard, every: Sequence[Case], chosen: Sequence[Case]) -> Iterator[DoorWay]:
    doors = sorted(yard.door, key=lambda door: (sorted(door.between), door.width_mm))
    graph = doors_of(doors)
    open_air = open_places(
        yard.space, (case.quarters.name for case in every if is_open_to_the_sky(case))
    )
    for case in chosen:
        name, q = case.quarters.name, case.quarters
        if q.kind == "pitch":
            continue
        way = shortest_way_out(name, graph, open_air)
        loose = q.kind in ("loft", "isolation") or bool(case.loose)
        ajar = () if way is None else tuple(_named(d) for d in way.doors if _is_weak(d))
        weak = way is not None and loose and len(way.doors) < 2
        yield DoorWay(
            quarters=name, doors=None if way is None else len(way.doors),
            rooms=() if way is None else way.rooms,
            through=() if way is None else tuple(_named(d) for d in way.doors),
            weak=weak, ajar=ajar, cut=len(fewest_doors_to_cut(name, doors, open_air)),
            why=_why(name in graph, way is not None, loose, weak, ajar),
        )  # fmt: skip


def _named(door: Door) -> str:
    return f"{door.between[0]} to {door.between[1]}"


def _is_weak(door: Door) -> bool:
    return not door.self_closing or door.locks == "none"


def _why(has_doors: bool, leads_out: bool, loose: bool, weak: bool, ajar: Sequence[str]) -> str:
    if not has_doors:
        return "the file gives it no door"
    if not leads_out:
        return "its doors lead nowhere"
    if weak:
        return "one door between a loose bird and the open air"
    if not loose:
        return "birds are tethered here: doors do not keep them"
    if ajar:
        return f"does not fall shut by itself, or has no lock: {', '.join(ajar)}"
    return "two doors or more, all self-closing and locked"
