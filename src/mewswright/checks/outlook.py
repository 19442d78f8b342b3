"""What a bird has to look at and to hear: its neighbours, their food, people, noise.

A bird looks from its perches, over level ground, as in `sightlines`.
"""

from collections.abc import Iterator, Sequence

from mewswright.build.apart import feeding_height_mm, feeding_plan
from mewswright.checks import asked
from mewswright.checks.asked import verdict
from mewswright.checks.case import Case, Resident
from mewswright.checks.finding import TAPE_MM, Evidence, Finding, Status
from mewswright.checks.limits import whole_cm, whole_mm
from mewswright.checks.registry import yard_check
from mewswright.checks.sightlines import STARTLING
from mewswright.checks.views import Views, views
from mewswright.checks.water_more import LANDING_MM
from mewswright.ground.heard import Dulls, dulls, loudest
from mewswright.ground.lookers import WATCHED_M, feature_in_sight
from mewswright.ground.screens import Eye
from mewswright.ground.sound import distance_for_m
from mewswright.handbook import published_rows
from mewswright.model.place import Feature
from mewswright.model.quantity import Quantity, m_from_mm, metres, millimetres, mm_from_m
from mewswright.model.yard import Yard

# Every figure here is a judgement, and each finding says so.
FED_M = 20.0  # a meal farther off is not minded
STONE_M = 15.0  # a stone's throw: a bird in plain view so near is watched all day
LISTED_M = 30.0  # birds farther off are not listed
LOUD_DB, VERY_LOUD_DB = 60.0, 75.0  # a voice at a metre; shouting at a metre
HEARD_M = 30.0  # a noisy thing of unknown loudness is asked for so near
PASSING_M = 30.0  # people and dogs farther off do not loom
WATCHERS = ("road", "lane", "path", "playground", "dog_run", "kennel")


def _birds(case: Case) -> tuple[tuple[Resident, ...], ...]:
    """All stays of each bird here, bird by bird."""
    found: dict[str, list[Resident]] = {}
    for resident in case.residents:
        found.setdefault(resident.bird.name, []).append(resident)
    return tuple(tuple(stays) for stays in found.values())


def _eyes(of: Views, i: int, stays: Sequence[Resident]) -> tuple[Eye, ...]:
    """Where a bird looks from in any of its stays in one quarters."""
    return tuple(dict.fromkeys(eye for one in stays for eye in of.eyes(i, one)))


@yard_check("G109", "Out of sight of others' food")
def food_in_sight(yard: Yard, cases: Sequence[Case]) -> Iterator[Finding]:
    """No bird watches a neighbour being fed."""
    of = views(yard, cases, FED_M)
    meals = [meals_of(of, j) for j in range(len(cases))]
    for i, case in enumerate(cases):
        near = [j for j in of.near(i) if meals[j]]
        for stays in _birds(case):
            bird = stays[0]
            seen: dict[str, float] = {}
            for j in near:
                watching = [one for one in stays if _other_lives_there(one, cases[j])]
                away_m = of.sight_m(i, j, _eyes(of, i, watching), meals[j])
                if away_m is not None:
                    seen[cases[j].quarters.name] = away_m
            places = ", ".join(sorted(seen))
            yield verdict(
                "G109", case, not seen, "mind", bird=bird.bird.name,
                measured=metres(min(seen.values())) if seen else None, limit=metres(FED_M),
                why=f"it sees food come to {places}, and screams or bates for its own",
                remedy="feed all at one time, or board or screen that side",
                sources=asked.judgement("range at which a meal is minded"),
            )  # fmt: skip


def meals_of(of: Views, j: int) -> tuple[Eye, ...]:
    """Where food comes to lie in quarters: at each hatch, else on a shelter's tethered perches."""
    case, body = of.scene.cases[j], of.scene.bodies[j]
    spots = []
    for hatch in case.quarters.hatches:
        x0, y0, x1, y1 = feeding_plan(case.quarters, hatch, LANDING_MM)
        spots.append(body.eye((x0 + x1) / 2, (y0 + y1) / 2, feeding_height_mm(hatch)))
    if not spots and case.quarters.kind == "shelter":
        spots = [eye for bird in case.tethered for eye in of.eyes(j, bird)]
    return tuple(dict.fromkeys(spots))


def _other_lives_there(bird: Resident, case: Case) -> bool:
    return any(
        other.bird.name != bird.bird.name and other.stay.overlaps(bird.stay)
        for other in case.residents
    )


@yard_check("G110", "Sound at the bird's place")
def sound(yard: Yard, cases: Sequence[Case]) -> Iterator[Finding]:
    """A newcomer or a nervous bird does not live in noise."""
    between = dulls(yard.feature)
    noisy = [f for f in yard.feature if f.sound_db_1m is not None or f.kind in STARTLING]
    of = views(yard, cases, HEARD_M)
    for i, case in enumerate(cases):
        for stays in _birds(case):
            bird = stays[0]
            apart = [one for one in stays if one.stay.isolated]
            always = bird.bird.arrives_on is not None or bird.bird.nervous
            if always or apart:
                eyes = _eyes(of, i, stays if always else apart)
                for feature in noisy:
                    yield _heard(case, bird, eyes, feature, between)


def _heard(
    case: Case, bird: Resident, eyes: Sequence[Eye], feature: Feature, between: Dulls
) -> Finding:
    one = loudest(feature, eyes, between)
    at_1m = feature.sound_db_1m
    used = feature.name in bird.bird.used_to
    if at_1m is None:
        away_m = one.distance_m
        return verdict(
            "G110", case, used or away_m > HEARD_M, "mind",
            measured=metres(away_m), limit=metres(HEARD_M),
            bird=bird.bird.name, fitting=feature.name,
            why="nobody has said how loud it is, and it lies near",
            remedy="hold a sound meter a metre from it at its loudest, and give sound_db_1m",
            sources=asked.judgement("range at which loudness is asked for"),
        )  # fmt: skip
    level = one.level_db or 0.0
    farther_m = distance_for_m(at_1m - one.loss_db, LOUD_DB) - one.distance_m
    return verdict(
        "G110", case, used or level <= LOUD_DB, "short" if level > VERY_LOUD_DB else "mind",
        measured=Quantity(value=level, unit="dB"), limit=Quantity(value=LOUD_DB, unit="dB"),
        bird=bird.bird.name, fitting=feature.name,
        why="noise comes to its perch that it is not used to, and it bates",
        remedy=f"give it quarters {whole_cm(farther_m)} farther off, or build a solid wall between",
        sources=asked.judgement("loudness of a voice at a metre; distance and one wall reckoned"),
    )  # fmt: skip


@yard_check("G111", "Birds in sight")
def in_sight(yard: Yard, cases: Sequence[Case]) -> Iterator[Finding]:
    """Say which birds each bird sees, and mind a stranger in plain view a stone's throw off."""
    of = views(yard, cases, LISTED_M)
    known: dict[tuple[tuple[Eye, ...], tuple[Eye, ...]], float | None] = {}
    for i, case in enumerate(cases):
        near = of.near(i)
        for stays in _birds(case):
            bird = stays[0]
            seen: dict[str, float] = {}
            others: dict[str, Resident] = {}
            for j in near:
                for other in cases[j].residents:
                    name = other.bird.name
                    here = [one for one in stays if other.stay.overlaps(one.stay)]
                    if name == bird.bird.name or not here:
                        continue
                    eyes = _eyes(of, i, here)
                    others[name] = other
                    theirs = of.eyes(j, other)
                    key = (eyes, theirs) if i < j else (theirs, eyes)
                    if key not in known:  # sight goes both ways
                        known[key] = of.sight_m(i, j, eyes, theirs)
                    away_m = known[key]
                    if away_m is not None:
                        seen[name] = min(away_m, seen.get(name, away_m))
            yield _company_in_sight(case, bird, others, seen)


def _company_in_sight(
    case: Case, bird: Resident, others: dict[str, Resident], seen: dict[str, float]
) -> Finding:
    strangers = [
        name
        for name, away_m in seen.items()
        if away_m <= STONE_M + m_from_mm(TAPE_MM)
        and name not in bird.bird.companions
        and bird.bird.name not in others[name].bird.companions
    ]
    shown = ", ".join(f"{name} {metres(seen[name])}" for name in sorted(seen)) or "nobody"
    hidden = ", ".join(sorted(others.keys() - seen.keys())) or "nobody"
    told = f"in sight: {shown}; out of sight: {hidden}"
    nearest = min((seen[name] for name in strangers), default=None)
    return verdict(
        "G111", case, not strangers, "mind", bird=bird.bird.name,
        measured=None if nearest is None else metres(nearest), limit=metres(STONE_M),
        remedy="set a screen between, or name them as companions once they are at ease",
        sources=asked.judgement("a stone's throw"),
    ).model_copy(update={"why": told})  # fmt: skip


@yard_check("G112", "People and dogs below the bird's eye")
def above_people(yard: Yard, cases: Sequence[Case]) -> Iterator[Finding]:
    """Whoever passes by in sight does not look down on the bird."""
    passing = [f for f in yard.feature if f.kind in WATCHERS]
    if not passing:
        return
    row = next(
        r for r in published_rows("site_biosecurity", "us-vt")
        if (r.subject, r.quantity) == ("public path", "level")
    )  # fmt: skip
    sources = (
        *asked.witnesses(row.source),
        *asked.judgement("eyes of a person at 1.6 m and of a dog at 0.8 m, level ground"),
    )
    of = views(yard, cases, PASSING_M)
    for i, case in enumerate(cases):
        between = of.between(i)
        for stays in _birds(case):
            tops = [max(eye[2] for eye in of.eyes(i, one)) for one in stays]
            low = min(range(len(stays)), key=lambda k: tops[k])  # the stay on the lowest place
            eyes = of.eyes(i, stays[low])
            looming = [
                f
                for f in passing
                if feature_in_sight(eyes, f, between, of.scene.screens, PASSING_M)
            ]
            yield _eye_level(case, stays[low], tops[low], looming, sources)


def _eye_level(
    case: Case, bird: Resident, eye_m: float, looming: Sequence[Feature],
    sources: tuple[Evidence, ...],
) -> Finding:  # fmt: skip
    need_mm = mm_from_m(max((WATCHED_M[f.kind] for f in looming), default=0.0))
    top_mm = mm_from_m(eye_m)
    names = ", ".join(sorted(f.name for f in looming))
    missed: Status = "short" if "us-vt" in case.standards else "mind"
    screen = f"screen it from {names}"
    free = case.quarters.perches and not bird.tethered
    return verdict(
        "G112", case, asked.reaches(top_mm, need_mm), missed, bird=bird.bird.name,
        measured=millimetres(top_mm), limit=millimetres(need_mm) if looming else None,
        why=f"who passes on {names} looks down on it",
        remedy=f"raise its highest perch {whole_mm(need_mm - top_mm)}, or {screen}" if free
        else f"{screen}, or give it a higher place",
        sources=sources,
    )  # fmt: skip
