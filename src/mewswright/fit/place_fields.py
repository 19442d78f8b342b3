"""What each spot of the ground is like: sun, wind, spores, trees, walk, noise, cameras.

Metres on the ground. This is the one door through which `place` asks the rest of the program
about a spot; everything is asked at breast height, with what stands today and stays. What pieces
that are placed together do to each other's sun, wind and sound is left out.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from heapq import heappop, heappush
from math import hypot
from typing import TYPE_CHECKING

from mewswright.checks.outlook import VERY_LOUD_DB
from mewswright.checks.sightlines import RANGE_M, STARTLING, STARTLING_EYE_M
from mewswright.fit.place_ground import Site
from mewswright.ground.camera_cover import BREAST_M, View
from mewswright.ground.distances import feature_edges
from mewswright.ground.heard import DULLS, RUNNING
from mewswright.ground.light import light
from mewswright.ground.rose import bearings_deg
from mewswright.ground.screens import Screen, upright_screens
from mewswright.ground.sight import Body
from mewswright.ground.solids import yard_solids
from mewswright.ground.sound import barrier_loss_db
from mewswright.ground.sun_path import sun_year
from mewswright.ground.windbreak import Shelter
from mewswright.handbook import spore_sources
from mewswright.model.place import Feature
from mewswright.model.yard import Yard

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

QUIET_DB = 40.0  # below this nothing is gained: a judgement
WIND_CALM_PCT = 25.0  # share of the wind from a source at which spores count whole
AFTERNOON_HOURS = (0.5, 6.0)  # after the sun stands highest
LEAST_WALK_M = 15.0  # a walk shorter than this is never called long
CAMERA_M = 20.0  # how far a camera shows a person, where the file does not say: a judgement
WIND_SQUARE_M, WIND_SQUARES = 2.0, 900  # shelter is asked for on squares so wide, so many
LEAST_WIND_M_S = 0.1
SUN_STEP_MIN = 60
SUN_DAYS = 14  # one day in so many stands for the year: the sun moves by 5 deg at the most
SUN_SQUARE_M, SUN_SQUARES = 1.0, 2500  # the same for the sun


@dataclass(frozen=True)
class Grid:
    """Squares of the ground: the middle of the first, how many, and their side [m]."""

    x0: float
    y0: float
    step_m: float
    nx: int
    ny: int

    def middles(self) -> "tuple[Floats, Floats]":
        """East and north of the middle of every square, row by row from the south."""
        import numpy as np

        x, y = np.meshgrid(
            self.x0 + self.step_m * np.arange(self.nx), self.y0 + self.step_m * np.arange(self.ny)
        )
        return x.ravel(), y.ravel()

    def wider(self, least_m: float, most: int) -> "Grid":
        """The same ground in squares of whole multiples, as wide as asked, and so many at most."""
        many = max(1, round(least_m / self.step_m))
        while self.nx * self.ny > most * many * many:
            many += 1
        off = (many - 1) * self.step_m / 2
        return Grid(self.x0 + off, self.y0 + off, self.step_m * many, -(-self.nx // many),
                    -(-self.ny // many))  # fmt: skip

    def square_of(self, x: "Floats", y: "Floats") -> "NDArray[np.int64]":
        """The square that each spot lies in; the nearest one for spots outside."""
        import numpy as np

        i = np.clip(np.rint((x - self.x0) / self.step_m).astype(np.int64), 0, self.nx - 1)
        j = np.clip(np.rint((y - self.y0) / self.step_m).astype(np.int64), 0, self.ny - 1)
        found: NDArray[np.int64] = j * self.nx + i
        return found


@dataclass(frozen=True, eq=False)
class Fields:
    """What every square is like. Shares are 0, good, to 1, bad, but for the two of the sun.

    Attributes:
        headings: Bearings that are looked to [deg] (headings,).
        morning: Share of the morning sun of open ground, by heading (squares, headings).
        afternoon: Share of the hot afternoon's sun, by heading (squares, headings).
        all_round: The same two with nothing to look to (squares, 2).
        wind: Share of the open wind that blows in, by heading (squares, headings).
        spores: Nearness of what gives off spores, weighed by the wind (squares,).
        trees: Reach of trees that may fall (squares,).
        walk: Way from the weighing room, 1 the farthest (squares,).
        walk_m: The same in metres (squares,).
        noise: Loudness of the loudest thing (squares,).
        unseen: 1 where no camera shows somebody who stands there; 0 without cameras (squares,).
        startling: East, north and nearness of each startling thing in sight (squares, things, 3).
        others: Distance to the nearest quarters that stand [m] (squares,).
    """

    grid: Grid
    headings: "Floats"
    morning: "Floats"
    afternoon: "Floats"
    all_round: "Floats"
    wind: "Floats"
    spores: "Floats"
    trees: "Floats"
    walk: "Floats"
    walk_m: "Floats"
    noise: "Floats"
    unseen: "Floats"
    startling: "Floats"
    others: "Floats"


def fields_of(site: Site, grid: Grid, headings: "Floats", moving: Iterable[str]) -> Fields:
    """Work out what every square is like.

    Args:
        site: The ground.
        grid: Its squares.
        headings: Bearings to look to [deg].
        moving: Names of quarters that do not stay.
    """
    import numpy as np
    import shapely

    yard, (x, y) = site.yard, grid.middles()
    spots: NDArray[np.object_] = np.asarray(shapely.points(x, y))
    wide = grid.wider(SUN_SQUARE_M, SUN_SQUARES)
    here = wide.square_of(x, y)
    morning, afternoon, all_round = (
        told[here] for told in _sun(yard, *wide.middles(), headings, moving)
    )
    screens = upright_screens(yard.feature)
    bodies = [Body(q) for placed in site.standing for q in placed.quarters]
    sight = [*screens, *(screen for body in bodies for screen in body.screens)]
    walk_m = _walk(site, grid, x, y, spots)
    known = walk_m[np.isfinite(walk_m)]
    far = max(LEAST_WALK_M, float(known.max(initial=0.0)))
    areas = [shapely.Polygon(placed.corners_m) for placed in site.standing]
    others = np.full(len(x), np.inf)
    for area in areas:
        others = np.minimum(others, shapely.distance(area, spots))
    return Fields(
        grid=grid,
        headings=headings,
        morning=morning,
        afternoon=afternoon,
        all_round=all_round,
        wind=_wind(yard, grid, headings, moving),
        spores=_spores(yard, x, y, spots),
        trees=_trees(yard, x, y),
        walk=np.where(np.isfinite(walk_m), np.minimum(walk_m / far, 1.0), 1.0),
        walk_m=walk_m,
        noise=_noise(yard, x, y),
        unseen=_unseen(yard, x, y, sight),
        startling=_startling(yard, x, y, sight),
        others=others,
    )


def _sun(
    yard: Yard, x: "Floats", y: "Floats", headings: "Floats", moving: Iterable[str]
) -> "tuple[Floats, Floats, Floats]":
    """Shares of the open ground's best sun: mornings of the year, afternoons of its hot months.

    The sun counts by how squarely it comes in at an open side: the cosine of its bearing off
    that side, times the cosine of its height.
    """
    import numpy as np

    year = sun_year(yard.yard.latitude_deg, yard.yard.longitude_deg, yard.yard.altitude_m,
                    yard.yard.time_zone, SUN_STEP_MIN)  # fmt: skip
    chosen = np.flatnonzero(year.day % SUN_DAYS == SUN_DAYS // 2)
    step = type(year)(
        year.step_min, year.minute[chosen], year.month[chosen], year.hour[chosen],
        year.day[chosen], year.height_deg[chosen], year.bearing_deg[chosen],
    )  # fmt: skip
    count = len(x)
    if not len(chosen):  # no sun at all: there is none to be had and none to be kept off
        return (np.ones((count, len(headings))), np.zeros((count, len(headings))),
                np.tile((1.0, 0.0), (count, 1)))  # fmt: skip
    height, bearing = np.radians(step.height_deg), step.bearing_deg
    east = bearing < 180
    weight_am = np.where(east, np.cos(height), 0.0)
    hot = np.isin(step.month, _hot_months(yard))
    from_noon = _hours_from_noon(step.minute, year.minute, year.height_deg)
    late = (from_noon >= AFTERNOON_HOURS[0]) & (from_noon <= AFTERNOON_HOURS[1])
    weight_pm = np.where(hot & late, np.cos(height), 0.0)
    off = np.radians(bearing[:, None] - headings[None, :])
    into = np.maximum(0.0, np.cos(off))
    columns = np.concatenate(
        (into * weight_am[:, None], into * weight_pm[:, None],
         weight_am[:, None], weight_pm[:, None]), axis=1
    )  # fmt: skip
    best = columns.sum(axis=0)
    n = len(headings)
    every = np.arange(0.0, 360.0, 5.0)
    all_ways = np.maximum(0.0, np.cos(np.radians(bearing[:, None] - every[None, :])))
    best[:n] = (all_ways * weight_am[:, None]).sum(axis=0).max()
    best[n : 2 * n] = (all_ways * weight_pm[:, None]).sum(axis=0).max()
    best[best <= 0] = 1.0
    shares = light(yard_solids(yard, moving), np.column_stack((x, y, np.full(count, BREAST_M))),
                   step)  # fmt: skip
    told = (shares.astype(np.float64) @ columns) / best
    told = np.minimum(told, 1.0)
    return told[:, :n], told[:, n : 2 * n], told[:, 2 * n :]


def _hours_from_noon(
    minute: "NDArray[np.int64]", all_minutes: "NDArray[np.int64]", all_heights: "Floats"
) -> "Floats":
    """Hours since the sun stood highest that day, by universal days."""
    import numpy as np

    highest = int(all_minutes[np.argmax(all_heights)])
    told: Floats = ((minute - highest + 720) % 1440 - 720) / 60.0
    return told


def _hot_months(yard: Yard) -> tuple[int, ...]:
    """The three warmest months, or the summer of the hemisphere where no climate is given."""
    if yard.climate is not None:
        warm = yard.climate.mean_daily_max_c
        return tuple(sorted(range(1, 13), key=lambda m: -warm[m - 1])[:3])
    return (6, 7, 8) if yard.yard.latitude_deg >= 0 else (12, 1, 2)


def _wind(yard: Yard, grid: Grid, headings: "Floats", moving: Iterable[str]) -> "Floats":
    """Share of the open wind, by its run, that blows in at a side that looks to each bearing.

    Hedges, walls, buildings and quarters that stay break it, as `ground.windbreak` tells.
    """
    import numpy as np

    run = np.array([s.share_pct * max(s.speed_m_s, LEAST_WIND_M_S) for s in yard.wind_rose])
    if not len(run) or run.sum() <= 0:
        return np.zeros((grid.nx * grid.ny, len(headings)))
    source = np.array([s.from_deg for s in yard.wind_rose], float)
    into = np.maximum(0.0, np.cos(np.radians(source[:, None] - headings[None, :])))
    wide = grid.wider(WIND_SQUARE_M, WIND_SQUARES)
    gone = set(moving)
    stays = tuple(q for q in yard.quarters if q.name not in gone)
    shelter = Shelter(yard.model_copy(update={"quarters": stays}))
    x, y = wide.middles()
    left = shelter.lee([(float(a), float(b), BREAST_M) for a, b in zip(x, y, strict=True)]).left
    bins = np.array(bearings_deg())
    nearest = np.abs((source[:, None] - bins[None, :] + 180) % 360 - 180).argmin(axis=1)
    told: Floats = (left[:, nearest] * run) @ into / run.sum()
    return told[wide.square_of(*grid.middles())]


def _spores(yard: Yard, x: "Floats", y: "Floats", spots: "NDArray[np.object_]") -> "Floats":
    """1 beside a source, 0 at twice the distance asked; half as bad with no wind from there."""
    import numpy as np
    import shapely

    kinds = {one.id: one for one in spore_sources()}
    told = np.zeros(len(x))
    for feature in yard.feature:
        kind = kinds.get(feature.kind)
        if kind is None:
            continue
        own = yard.house.spore_distance_m
        limit = kind.distance_m.value if own is None else own
        shape = shapely.union_all([shapely.LineString(edge) for edge in feature_edges(feature)])
        away = shapely.distance(shape, spots)
        near = np.clip(1 - away / (2 * limit), 0.0, 1.0)
        middle = shape.centroid
        bearing = np.degrees(np.arctan2(middle.x - x, middle.y - y))
        blown = np.zeros(len(x))
        for sector in yard.wind_rose:
            turn = np.abs((bearing - sector.from_deg + 180) % 360 - 180)
            blown += np.where(turn <= 45, sector.share_pct, 0.0)
        told = np.maximum(told, near * (0.5 + 0.5 * np.minimum(1.0, blown / WIND_CALM_PCT)))
    return told


def _trees(yard: Yard, x: "Floats", y: "Floats") -> "Floats":
    """How deep each spot lies in the fall of trees: 1 at a trunk, 0 out of reach of all."""
    import numpy as np

    told = np.zeros(len(x))
    for tree in yard.feature:
        if tree.kind == "tree" and tree.at_m is not None and tree.height_m:
            away = np.hypot(x - tree.at_m[0], y - tree.at_m[1])
            told = np.maximum(told, np.clip(1 - away / tree.height_m, 0.0, 1.0))
    return told


def _walk(
    site: Site, grid: Grid, x: "Floats", y: "Floats", spots: "NDArray[np.object_]"
) -> "Floats":
    """Way on foot from the weighing room, or else from a gate [m]; endless where none leads.

    Along the squares and their diagonals, round what stands today: at most 8 % longer than the
    way that somebody walks.
    """
    import numpy as np
    import shapely

    ground = site.reached_today
    if ground.is_empty:
        return np.full(len(x), np.inf)
    open_ = shapely.contains_xy(ground, x, y)
    rooms = [f for f in site.yard.feature if f.kind == "weighing_room"]
    gates = [f for f in site.yard.feature if f.kind in ("gate", "flying_ground_gate", "tap")]
    sources = [_nearest(spots, open_, f) for f in rooms or gates]
    if not sources:
        middle = ground.representative_point()
        sources = [int(np.argmin(np.where(open_, np.hypot(x - middle.x, y - middle.y), np.inf)))]
    far = _dijkstra(grid, open_, sources).reshape(grid.ny, grid.nx)
    for _ in range(2):  # squares beside a way, such as those that a door is on
        wide = np.pad(far, 1, constant_values=np.inf)
        rows, columns = range(3), range(3)
        near = np.min([wide[i : i + grid.ny, j : j + grid.nx] for i in rows for j in columns], 0)
        far = np.where(np.isfinite(far), far, near + grid.step_m)
    return far.ravel()


def _nearest(spots: "NDArray[np.object_]", open_: "NDArray[np.bool_]", feature: Feature) -> int:
    import numpy as np
    import shapely

    shape = shapely.union_all([shapely.LineString(edge) for edge in feature_edges(feature)])
    away = shapely.distance(shape, spots)
    return int(np.argmin(np.where(open_, away, np.inf)))


def _dijkstra(grid: Grid, open_: "NDArray[np.bool_]", sources: Sequence[int]) -> "Floats":
    import numpy as np

    far = np.full(grid.nx * grid.ny, np.inf)
    passable = open_.tolist()
    heap = [(0.0, s) for s in sources]
    best = dict.fromkeys(sources, 0.0)
    steps = [(i, j, hypot(i, j) * grid.step_m) for i in (-1, 0, 1) for j in (-1, 0, 1) if i or j]
    while heap:
        way, at = heappop(heap)
        if way > best[at]:
            continue
        far[at] = way
        row, column = divmod(at, grid.nx)
        for i, j, long in steps:
            c, r = column + i, row + j
            if not (0 <= c < grid.nx and 0 <= r < grid.ny):
                continue
            there = r * grid.nx + c
            if passable[there] and way + long < best.get(there, np.inf):
                best[there] = way + long
                heappush(heap, (way + long, there))
    return far


def detours_m(
    x: "Floats", y: "Floats", up: float, to: "tuple[Floats, Floats]", to_up: float,
    screens: Sequence[Screen],
) -> "Floats":  # fmt: skip
    """Longest detour over any one screen between spots and others [m]; less than 0 where none.

    As `Screen.stops` and `sound.detour_m` have it, for many lines in one go.
    """
    import numpy as np

    told = np.full(len(x), -1.0)
    rx, ry = to[0] - x, to[1] - y
    straight = np.hypot(np.hypot(rx, ry), to_up - up)
    for screen in screens:
        (ax, ay), (bx, by) = screen.edge
        sx, sy = bx - ax, by - ay
        cross = rx * sy - ry * sx
        safe = np.where(cross == 0, 1.0, cross)
        dx, dy = ax - x, ay - y
        share, along = (dx * sy - dy * sx) / safe, (dx * ry - dy * rx) / safe
        low, high = screen.top_m
        top = low + (high - low) * along
        meets = (cross != 0) & (share >= 0) & (share <= 1) & (along >= 0) & (along <= 1)
        meets &= up + (to_up - up) * share < top
        if not meets.any():
            continue
        level = np.hypot(rx, ry)
        over = (np.hypot(level * share, top - up) + np.hypot(level * (1 - share), to_up - top)
                - straight)  # fmt: skip
        told = np.where(meets, np.maximum(told, over), told)
    return told


def _nearest_on(feature: Feature, x: "Floats", y: "Floats") -> "tuple[Floats, Floats]":
    """The place of a feature that is nearest to each spot."""
    import numpy as np

    best, px, py = np.full(len(x), np.inf), x.copy(), y.copy()
    for (ax, ay), (bx, by) in feature_edges(feature):
        dx, dy = bx - ax, by - ay
        length2 = dx * dx + dy * dy
        share = (np.clip(((x - ax) * dx + (y - ay) * dy) / length2, 0.0, 1.0) if length2
                 else np.zeros(len(x)))  # fmt: skip
        qx, qy = ax + share * dx, ay + share * dy
        away = np.hypot(qx - x, qy - y)
        nearer = away < best
        best = np.where(nearer, away, best)
        px, py = np.where(nearer, qx, px), np.where(nearer, qy, py)
    return px, py


def _noise(yard: Yard, x: "Floats", y: "Floats") -> "Floats":
    """Loudest thing at each spot: 0 at 40 dB, 1 at shouting a metre away."""
    import numpy as np

    dulls = upright_screens(f for f in yard.feature if f.kind in DULLS)
    level = np.full(len(x), QUIET_DB)
    for f in yard.feature:
        loud = f.sound_db_1m
        if loud is None:
            if f.kind not in STARTLING:
                continue
            loud = VERY_LOUD_DB  # nobody has said how loud it is
        to = _nearest_on(f, x, y)
        away = np.maximum(np.hypot(to[0] - x, to[1] - y), 1.0)
        detour = detours_m(x, y, BREAST_M, to, STARTLING_EYE_M, dulls)
        loss = np.zeros(len(x))
        for at in np.flatnonzero(detour >= 0):
            loss[at] = barrier_loss_db(float(detour[at]), running=f.kind in RUNNING)
        level = np.maximum(level, loud - 20 * np.log10(away) - loss)
    told: Floats = np.clip((level - QUIET_DB) / (VERY_LOUD_DB - QUIET_DB), 0.0, 1.0)
    return told


def _startling(yard: Yard, x: "Floats", y: "Floats", screens: Sequence[Screen]) -> "Floats":
    import numpy as np

    found = []
    for f in yard.feature:
        if f.kind not in STARTLING:
            continue
        to = _nearest_on(f, x, y)
        away = np.hypot(to[0] - x, to[1] - y)
        open_ = detours_m(x, y, BREAST_M, to, STARTLING_EYE_M, screens) < 0
        near = np.where(open_ & (away <= RANGE_M), 1 - away / RANGE_M, 0.0)
        found.append(np.column_stack((to[0] - x, to[1] - y, near)))
    return np.stack(found, axis=1) if found else np.zeros((len(x), 0, 3))


def _unseen(yard: Yard, x: "Floats", y: "Floats", screens: Sequence[Screen]) -> "Floats":
    import numpy as np

    cameras = [f for f in yard.feature if f.kind == "camera" and f.at_m is not None]
    told = np.ones(len(x)) if cameras else np.zeros(len(x))
    for f in cameras:
        assert f.at_m is not None
        view = View((*f.at_m, f.height_m or 3.0), f.looks_deg or 0.0, f.view_deg or 360.0,
                    f.range_m or CAMERA_M)  # fmt: skip
        dx, dy = x - view.at[0], y - view.at[1]
        bearing = np.degrees(np.arctan2(dx, dy))
        off = np.abs((bearing - view.looks_deg + 180) % 360 - 180)
        inside = (np.hypot(dx, dy) <= view.range_m) & (off <= view.view_deg / 2)
        to = np.full(len(x), view.at[0]), np.full(len(x), view.at[1])
        open_ = detours_m(x, y, BREAST_M, to, view.at[2], screens) < 0
        told[inside & open_] = 0.0
    return told
