"""What the cameras of a yard show: each front and gate, and the ground that none of them shows."""

from collections.abc import Callable, Iterator, Sequence
from typing import TYPE_CHECKING

from mewswright.checks.case import Case
from mewswright.checks.outlook_told import Camera, CameraCover, Covered
from mewswright.checks.thief import (
    GATE_IN_WALL_M,
    GATES,
    RANGE_M,
    VIEW_DEG,
    Cover,
    assumed_keys,
    gate_spots,
)
from mewswright.ground.camera_cover import BREAST_M, front_spots
from mewswright.ground.layer import without_holes
from mewswright.ground.visible import ground_of, swept
from mewswright.model.place import Feature, Point
from mewswright.model.yard import Yard

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry


def camera_cover(yard: Yard, every: Sequence[Case]) -> CameraCover:
    """What the cameras of a yard show, and what they do not.

    Blind ground is what lies inside the boundary, or within 5 m of the quarters where there is
    none, outside quarters and buildings, and in no camera's view at breast height.
    """
    from shapely import Polygon, unary_union

    cover = Cover(yard, every)
    shown = [_ground(cover, i) for i in range(len(cover.cameras))]
    taken = [Polygon(case.quarters.corners_m) for case in every if case.quarters.kind != "pitch"]
    taken += [
        Polygon(f.outline_m).buffer(0)
        for f in yard.feature
        if f.outline_m is not None and f.kind in ("building", "weighing_room")
    ]
    ground = ground_of(yard).difference(unary_union(taken))
    seen = unary_union(shown).intersection(ground)
    blind = ground.difference(seen)
    return CameraCover(
        cameras=tuple(_cameras(yard, cover, shown)),
        cover=tuple(_covered(yard, every, cover)),
        ground_m2=float(ground.area),
        blind_m2=float(blind.area),
        blind=tuple(_outlines(blind)),
        seen=tuple(_outlines(seen)),
    )


def _ground(cover: Cover, i: int) -> "BaseGeometry":
    view = cover.views[i]
    bodies, screens = cover.bodies[i], cover.screens

    def on(_bearing_deg: float) -> Callable[[Point], bool]:
        return lambda spot: view.shows((*spot, BREAST_M), bodies, screens)

    return swept(view.at[:2], view.range_m, view.looks_deg, view.view_deg, on)


def _outlines(found: "BaseGeometry") -> Iterator[tuple[Point, ...]]:
    for part in without_holes(found):
        coords = part.exterior.coords[:-1]  # type: ignore[attr-defined]
        yield tuple((round(float(x), 3), round(float(y), 3)) for x, y in coords)


def _cameras(yard: Yard, cover: Cover, shown: Sequence["BaseGeometry"]) -> Iterator[Camera]:
    area = {one.name: float(of.area) for one, of in zip(cover.cameras, shown, strict=True)}
    for one in yard.feature:
        if one.kind != "camera" or one.at_m is None:
            continue
        yield Camera(
            name=one.name, at_m=one.at_m, looks_deg=one.looks_deg,
            view_deg=VIEW_DEG if one.view_deg is None else one.view_deg,
            range_m=RANGE_M if one.range_m is None else one.range_m,
            assumed=tuple(_left_out(one)), shown_m2=area.get(one.name, 0.0),
        )  # fmt: skip


def _left_out(camera: Feature) -> Iterator[str]:
    yield from assumed_keys(camera)
    if camera.height_m is None:
        yield "height_m"
    if camera.looks_deg is None:
        yield "looks_deg"


def _covered(yard: Yard, every: Sequence[Case], cover: Cover) -> Iterator[Covered]:
    for case in every:
        if case.quarters.kind != "pitch":
            share, by = cover.shown(front_spots(case.quarters))
            yield Covered(
                name=case.quarters.name, kind="front", shown_pct=share,
                cameras=tuple(one.name for one in by),
            )  # fmt: skip
    for gate in yard.feature:
        if gate.kind in GATES:
            share, by = cover.shown(gate_spots(gate), GATE_IN_WALL_M)
            yield Covered(
                name=gate.name, kind="gate", shown_pct=share,
                cameras=tuple(one.name for one in by),
            )  # fmt: skip
