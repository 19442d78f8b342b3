"""Wind, driving rain and still frost at each quarters of a yard, told for people."""

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from mewswright.ground.cold_air import ColdPool, cold_pool
from mewswright.ground.driving_rain import NEVER, face_rain_l_m2, wetting_wind
from mewswright.ground.openness import top_open_share
from mewswright.ground.rose import Rose, bearings_deg, over_share, rose_of
from mewswright.ground.wind_faces import PITCH_UP_M, FaceWind, face_winds, spot_speed
from mewswright.ground.wind_told import (
    Breaker,
    QuartersWind,
    RoseTold,
    StillCold,
    WetPerch,
    WindReport,
    WindySide,
    Word,
)
from mewswright.ground.windbreak import Shelter, feature_breaks, height_share, terrain_of
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

STRONG_M_S = 5.0  # into a side: a breeze that moves small twigs; a judgement
HOURS = 8760
# Index up to which a word holds: wind into the worst open side, in per cent of the open wind at
# its height. A side in the open has 32 of a wind that blows from all bearings alike, a place
# without sides 100, and so its index counts by ALL_ROUND. Judgements.
ALL_ROUND = 0.32
COMPASS = ("N", "NE", "E", "SE", "S", "SW", "W", "NW")

WORDS: tuple[tuple[float, Word], ...] = (
    (0.0, "closed to the wind"),
    (8.0, "well sheltered"),
    (16.0, "sheltered"),
    (28.0, "open to some wind"),
    (100.0, "exposed"),
)


METHOD = (
    "each bearing of the rose, every 5 deg, against what stands up-wind of each side: wind left by "
    "distance and density (table windbreaks), driving rain as in ISO 15927-3, speeds spread about "
    "their mean as Rayleigh has it"
)
ASSUMPTIONS = (
    "speeds are those of a weather station, 10 m up in open country: the roughness of the terrain "
    "slows them (EN 1991-1-4, 4.3.2), and below 10 m the yard's own grass and gravel does",
    "the wind of an hour wavers 15 deg to either side, so a short windbreak shelters little",
    "where several windbreaks stand up-wind the best counts alone; single trees, and the lull in "
    "front of a windbreak, count for nothing",
    "a windbreak shelters whole up to half its height and not at all from a fifth over its top",
    "it rains alike in every wind, 1 mm in an hour; drops are of 1 mm and fall 4 m/s",
    "cold air is a still lake behind a dam on an even slope: hollows of the ground are not told",
    "shelter lowers no load: mewswright frame takes the wind of [loads] alone",
)


def wind_report(yard: Yard, names: Sequence[str] = ()) -> WindReport:
    """Wind, driving rain and still frost at quarters.

    Args:
        yard: The yard.
        names: Of which quarters; all where none is named.

    Raises:
        Problem: For quarters that the yard has not.
    """
    wanted = [yard.quarters_named(name) for name in names] if names else list(yard.quarters)
    rose, shelter = rose_of(yard), Shelter(yard)
    rain = None if yard.climate is None else float(sum(yard.climate.rain_mm))
    first = f"{rose.words}; {100 * rose.calm:.0f} % of all hours are calm"
    ground = (
        f"the ground round the yard is of terrain {terrain_of(yard)}"
        + ("" if yard.loads is not None else ", open country, for the file has no [loads]")
    )  # fmt: skip
    return WindReport(
        yard=yard.yard.name,
        wind=_rose_told(rose),
        rain_mm_year=rain,
        terrain=terrain_of(yard),
        ground_fall_pct=yard.yard.ground_fall_pct,
        quarters=tuple(_quarters(yard, q, rose, shelter, rain) for q in wanted),
        method=METHOD,
        assumptions=(first, ground, *ASSUMPTIONS),
    )


def _rose_told(rose: Rose) -> RoseTold:
    import numpy as np

    at = np.round(bearings_deg() / 45).astype(int) % 8
    share = np.bincount(at, rose.share, 8)
    way = np.bincount(at, rose.share * rose.speed_m_s, 8)
    return RoseTold(
        known=rose.known,
        calm_pct=round(100 * rose.calm, 1),
        mean_m_s=None if rose.known == "unknown" else round(rose.mean_m_s, 2),
        sectors=tuple(
            (
                name,
                round(100 * float(share[n]), 1),
                None
                if rose.known == "unknown"
                else round(float(way[n] / share[n]), 2)
                if share[n] > 0
                else 0.0,
            )
            for n, name in enumerate(COMPASS)
        ),
    )


def _quarters(
    yard: Yard, q: Quarters, rose: Rose, shelter: Shelter, rain: float | None
) -> QuartersWind:
    faces = face_winds(yard, q, shelter)
    terrain = terrain_of(yard)
    sides = tuple(_side(face, rose, rain, terrain) for face in faces)
    worst: WindySide | None = None
    if q.faces is None:
        spot = (*q.on_ground_m(q.width_mm / 2, q.depth_mm / 2), PITCH_UP_M)
        speed = spot_speed(yard, shelter, spot, q.name)
        exposure = _of_the_open(speed, rose, height_share(PITCH_UP_M, terrain))
    else:
        open_sides = [one for one in sides if one.open_m2 > 0]
        worst = max(open_sides, key=lambda one: one.exposure, default=None)
        exposure = worst.exposure if worst else 0.0
        if worst is None and top_open_share(q) > 0:
            spot = (*q.on_ground_m(q.width_mm / 2, q.depth_mm / 2), q.highest_mm / 1000)
            exposure = 0.3 * _of_the_open(
                spot_speed(yard, shelter, spot, q.name), rose, height_share(spot[2], terrain)
            )  # over the walls: a judgement
    perches = tuple(_perches(q, faces, rose))
    pool = cold_pool(yard, q, feature_breaks(yard.feature))
    frost = None if pool is None else _still_cold(q, pool)
    word = _word(exposure * (1.0 if worst else ALL_ROUND))
    return QuartersWind(
        name=q.name,
        kind=q.kind,
        exposure=round(exposure, 1),
        exposure_word=word,
        worst_side=worst.side if worst else None,
        sides=sides,
        perches=perches,
        frost=frost,
        words=tuple(_words(q, word, exposure, worst, perches, frost)),
    )


def _word(exposure: float) -> Word:
    return next((word for limit, word in WORDS if exposure <= limit + 1e-9), WORDS[-1][1])


def _of_the_open(speed: "NDArray[np.float64]", rose: Rose, free: float) -> float:
    """Mean wind at a place in per cent of the open wind at its height."""
    weight = rose.share * rose.speed_m_s
    whole = float(weight.sum()) * free
    return 100 * float((weight * speed).sum()) / whole if whole > 0 else 0.0


def _side(face: FaceWind, rose: Rose, rain: float | None, terrain: str) -> WindySide:
    import numpy as np

    told = rose.known != "unknown"
    weight = rose.share * rose.speed_m_s
    into = weight * face.into
    square = face.into > 0
    free = height_share(face.top_m / 2, terrain)
    ahead = np.cos(np.radians(bearings_deg() - face.looks_deg)) > 1e-9
    strong = sum(
        float(share) * over_share(STRONG_M_S, float(speed))
        for share, speed in zip(rose.share, rose.speed_m_s * face.into, strict=True)
    )
    ahead_weight = float(weight[ahead].sum())
    left = float((weight[ahead] * face.left[ahead]).sum()) / ahead_weight if ahead_weight else 0.0
    return WindySide(
        side=face.side,
        looks_deg=round(face.looks_deg, 1),
        joined=face.joined,
        open_share=round(face.open_share, 3),
        open_m2=round(face.open_m2, 3),
        hours_into_pct=round(100 * float(rose.share[square & ahead].sum()), 1),
        mean_into_m_s=round(float(into.sum()), 3) if told else None,
        strong_h_year=round(HOURS * strong, 1) if told else None,
        worst_from_deg=float(bearings_deg()[into.argmax()]) if into.max() > 0 else None,
        wind_left_pct=round(100 * left, 1),
        sheltered_by=tuple(
            Breaker(name=name, takes_pct=round(100 * taken, 1))
            for name, taken in face.by
            if taken >= 0.005
        ),
        driving_rain_l_m2=(
            round(face_rain_l_m2(face, rose, rain), 1) if told and rain is not None else None
        ),
        exposure=round(_of_the_open(face.into, rose, free), 1),
    )


def _perches(q: Quarters, faces: tuple[FaceWind, ...], rose: Rose) -> Iterator[WetPerch]:
    for perch in q.perches:
        needed = wetting_wind(q, perch, faces)
        roofed = bool(needed.any())
        least = float(needed.min())
        share = sum(
            float(part) * over_share(float(limit), float(speed))
            for part, limit, speed in zip(rose.share, needed, rose.speed_m_s, strict=True)
        )
        reached = roofed and least < NEVER
        yield WetPerch(
            name=perch.name,
            roofed=roofed,
            wet_from_m_s=round(least, 1) if reached else (None if roofed else 0.0),
            wet_from_deg=float(bearings_deg()[needed.argmin()]) if reached else None,
            rain_hours_pct=(
                100.0 if not roofed else round(100 * share, 1) if rose.known != "unknown" else None
            ),
        )


def _still_cold(q: Quarters, pool: ColdPool) -> StillCold:
    return StillCold(
        depth_m=pool.depth_m,
        dam=pool.dam,
        perches_in_it=tuple(p.name for p in q.perches if p.height_mm < 1000 * pool.depth_m),
    )


def _words(
    q: Quarters,
    word: str,
    exposure: float,
    worst: WindySide | None,
    perches: Sequence[WetPerch],
    frost: StillCold | None,
) -> Iterator[str]:
    where = f", most at the {worst.side}" if worst is not None and exposure > 0 else ""
    yield f"{word}: {exposure:.0f} % of the open wind{where}"
    if worst is not None and worst.worst_from_deg is not None:
        names = ", ".join(one.name for one in worst.sheltered_by[:2])
        yield f"the {worst.side} meets most wind from {compass(worst.worst_from_deg)}" + (
            f"; {names} take{'s' if ', ' not in names else ''} some of it" if names else ""
        )
    if worst is not None and worst.driving_rain_l_m2 is not None:
        yield f"rain driven into the {worst.side}: {worst.driving_rain_l_m2:.0f} l/m2 in a year"
    wet = [p for p in perches if p.rain_hours_pct]
    dry = [p.name for p in perches if p.rain_hours_pct == 0]
    if wet:
        yield "rain reaches " + ", ".join(
            f"{p.name} ({_per_cent(p.rain_hours_pct or 0)} of its hours)" for p in wet
        )
    if dry and perches:
        yield "always dry: " + ", ".join(dry)
    if frost is not None and q.perches:
        low = ", ".join(frost.perches_in_it)
        yield (
            f"still frost: cold air may stand {frost.depth_m:.1f} m deep behind {frost.dam}"
            + (f", over {low}" if low else ", below every perch")
        )  # fmt: skip


def _per_cent(value: float) -> str:
    return "less than 1 %" if value < 1 else f"{value:.0f} %"


def compass(bearing_deg: float) -> str:
    """A bearing as one of eight points of the compass."""
    return COMPASS[round(bearing_deg / 45) % 8]
