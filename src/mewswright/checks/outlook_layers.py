"""The outlook of a yard as layers over its plan: sound, spores, falls, cameras, the round."""

from collections.abc import Iterator

from mewswright.checks.outlook import LOUD_DB, VERY_LOUD_DB
from mewswright.checks.outlook_told import OutlookReport, SoundHere, WalkHere
from mewswright.checks.walks_told import middle_m
from mewswright.ground.footprint import feature_points
from mewswright.ground.layer import Layer, Shape, Tone, areas
from mewswright.ground.sound import distance_for_m
from mewswright.model.place import Feature, Point
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard

MOST_RING_M = 200.0  # a ring farther out says nothing on a plan


def outlook_layers(yard: Yard, report: OutlookReport) -> dict[str, Layer]:
    """Every layer of an outlook, by name."""
    every = (
        sound_layer(yard, report), spores_layer(yard, report), fall_layer(yard, report),
        camera_layer(yard, report), round_layer(report),
    )  # fmt: skip
    return {layer.name: layer for layer in every}


def _layer(
    report: OutlookReport, name: str, key: str, title: str, shapes: Iterator[Shape],
    legend: tuple[tuple[Tone, str], ...],
) -> Layer:  # fmt: skip
    return Layer(
        name=name, title=title, shapes=tuple(shapes), legend=legend, how=report.how[key],
        sure=report.sure[key],
    )  # fmt: skip


def _middle(quarters: Quarters) -> Point:
    return quarters.on_ground_m(quarters.width_mm / 2, quarters.depth_mm / 2)


def _outline(feature: Feature, by_m: float) -> "Iterator[Shape]":
    from shapely import MultiPoint

    points = feature_points(feature)
    shape = MultiPoint(points).convex_hull if feature.outline_m else _run(points)
    for one in areas(shape.buffer(max(by_m, 0.01)), "plain"):
        yield one.model_copy(update={"kind": "line", "points_m": (*one.points_m, one.points_m[0])})


def _run(points: tuple[Point, ...]):  # type: ignore[no-untyped-def]  # shapely comes without
    from shapely import LineString
    from shapely import Point as Spot

    return LineString(points) if len(points) > 1 else Spot(points[0])


def sound_layer(yard: Yard, report: OutlookReport) -> Layer:
    """Sound levels at each unit, and how far each source is loud in the open."""

    def shapes() -> Iterator[Shape]:
        heard = {one.source for one in report.sound}
        for source in yard.feature:
            if source.name not in heard or source.sound_db_1m is None:
                continue
            rings: tuple[tuple[float, Tone], ...] = ((VERY_LOUD_DB, "bad"), (LOUD_DB, "mind"))
            for limit, tone in rings:
                reach = distance_for_m(source.sound_db_1m, limit)
                if 1 < reach < MOST_RING_M:
                    for ring in _outline(source, reach):
                        title = f"{source.name}: {limit:g} dB in the open"
                        yield ring.model_copy(update={"tone": tone, "title": title})
        for quarters in yard.quarters:
            here = [one for one in report.sound if one.quarters == quarters.name]
            level = report.sound_together_db.get(quarters.name)
            if here and level is not None:
                word = f"{level:.0f} dB{'!' if any(_minded(one) for one in here) else ''}"
                yield Shape(kind="word", points_m=(_middle(quarters),), word=word,
                            tone="bad" if level > VERY_LOUD_DB else "plain")  # fmt: skip

    legend: tuple[tuple[Tone, str], ...] = (
        ("bad", f"{VERY_LOUD_DB:g} dB in the open, without walls"),
        ("mind", f"{LOUD_DB:g} dB in the open"),
        ("plain", "at each unit all sources together, walls counted; ! a bird there minds one"),
    )
    return _layer(report, "sound", "sound", "Sound of named sources", shapes(), legend)


def _minded(one: SoundHere) -> bool:
    return any(bird.minds for bird in one.birds)


def spores_layer(yard: Yard, report: OutlookReport) -> Layer:
    """Reach of each source of mould spores, and the units in it."""
    limits = {one.source: one.limit_m for one in report.spores}

    def shapes() -> Iterator[Shape]:
        for source in yard.feature:
            if source.name in limits:
                for ring in _outline(source, limits[source.name]):
                    title = f"{limits[source.name]:g} m from {source.name}"
                    yield ring.model_copy(update={"tone": "mind", "title": title})
        for quarters in yard.quarters:
            here = [one for one in report.spores if one.quarters == quarters.name]
            told = [f"{one.source} {one.distance_m:.0f} m" + (
                f", wind {one.wind_share_pct:.0f} %" if one.carried else "")
                for one in here if one.near or one.carried]  # fmt: skip
            if told:
                near = any(one.near for one in here)
                yield Shape(kind="word", points_m=(_middle(quarters),), word="; ".join(told),
                            tone="bad" if near else "mind")  # fmt: skip

    legend: tuple[tuple[Tone, str], ...] = (
        ("mind", "distance to keep; named at units that lie nearer, or down-wind within twice it"),
    )
    return _layer(report, "spores", "spores", "Mould spores", shapes(), legend)


def fall_layer(yard: Yard, report: OutlookReport) -> Layer:
    """How far each tree and overhead line reaches if it falls."""
    reach = {one.tree: (one.fall_m, one.warn_m) for one in report.falls}

    def shapes() -> Iterator[Shape]:
        for tree in yard.feature:
            if tree.name in reach and tree.at_m is not None and tree.kind == "tree":
                fall, warn = reach[tree.name]
                tone: Tone = "mind" if tree.condition == "sound" else "bad"
                yield Shape(kind="circle", points_m=(tree.at_m,), radius_m=fall, tone=tone,
                            title=f"{tree.name} falls {fall:g} m")  # fmt: skip
                yield Shape(kind="circle", points_m=(tree.at_m,), radius_m=warn, tone="quiet",
                            title=f"its broken crown {warn:g} m")  # fmt: skip
            elif tree.kind == "power_line" and tree.height_m:
                for ring in _outline(tree, tree.height_m):
                    yield ring.model_copy(update={"tone": "bad", "title": f"{tree.name} falls"})
        for quarters in yard.quarters:
            hit = [one.tree for one in report.falls
                   if one.quarters == quarters.name and one.reaches]  # fmt: skip
            if hit:
                yield Shape(kind="word", points_m=(_middle(quarters),), word=", ".join(hit),
                            tone="bad")  # fmt: skip

    legend: tuple[tuple[Tone, str], ...] = (
        ("bad", "a suspect or dead tree falls so far; an overhead line"),
        ("mind", "a sound tree falls so far"),
        ("quiet", "its broken crown is thrown so far"),
    )
    return _layer(report, "falls", "falls", "What can fall", shapes(), legend)


def camera_layer(yard: Yard, report: OutlookReport) -> Layer:
    """Ground that cameras show, and blind ground."""
    cover = report.cameras
    named = {q.name: _middle(q) for q in yard.quarters}
    named |= {f.name: middle_m(f) for f in yard.feature if f.name not in named}

    def shapes() -> Iterator[Shape]:
        for outline in cover.seen:
            yield Shape(kind="area", points_m=outline, tone="plain", title="in a camera's view")
        for outline in cover.blind:
            yield Shape(kind="area", points_m=outline, tone="mind", title="blind ground")
        for one in cover.cover:
            yield Shape(kind="word", points_m=(named[one.name],), word=f"{one.shown_pct:.0f} %",
                        tone="plain" if one.shown_pct >= 50 else "bad")  # fmt: skip

    legend: tuple[tuple[Tone, str], ...] = (
        ("plain", "in a camera's view; at each front and gate the share of it that is shown"),
        ("mind", f"blind: {cover.blind_m2:.0f} of {cover.ground_m2:.0f} m2"),
    )
    return _layer(report, "cameras", "cameras", "Cameras and blind ground", shapes(), legend)


def round_layer(report: OutlookReport) -> Layer:
    """The daily round, the barrow's ways and the way to the flying ground."""
    walks = report.walks

    def shapes() -> Iterator[Shape]:
        for one in walks.barrow:
            if len(one.points) > 1:
                yield _way(one, "quiet")
        if len(walks.points) > 1:
            yield Shape(kind="line", points_m=walks.points, tone="bad", title="the daily round")
        if walks.to_flying_ground is not None and len(walks.to_flying_ground.points) > 1:
            yield _way(walks.to_flying_ground, "mind")

    def metres(value: float | None) -> str:
        return "not known" if value is None else f"{value:.0f} m"

    flight = walks.to_flying_ground
    legend: tuple[tuple[Tone, str], ...] = (
        ("bad", f"daily round, {metres(walks.round_m)}"
         + (", proven shortest" if walks.proven else ", best found")),
        ("mind", f"weighing room to flying ground, {metres(flight.length_m if flight else None)}"),
        ("quiet", "each unit to the nearest compost, as wide as a barrow"),
    )  # fmt: skip
    return _layer(report, "round", "walks", "Walks", shapes(), legend)


def _way(walk: WalkHere, tone: Tone) -> Shape:
    told = "" if walk.length_m is None else f", {walk.length_m:.0f} m"
    return Shape(
        kind="line", points_m=walk.points, tone=tone, title=f"{walk.start} to {walk.end}{told}"
    )
