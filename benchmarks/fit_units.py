"""Units to lay out: some with a layout planted in them, some impossible by construction.

Planting: birds of a kind get a roomy unit; random layouts are drawn until the checks pass
one; then the walls and the roof close in on it, a step at a time, as long as the checks
still pass, and a little slack is given back. What was planted is then taken out.

Everything follows from the seed. The birds are of kinds that the handbook knows.
"""

from dataclasses import dataclass

import numpy as np

from mewswright.fit.judged import bad
from mewswright.fit.layout import Room, room_for
from mewswright.fit.screen import Layout
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard

NAME = "Loft"
KINDS = (
    "eurasian_goshawk", "harris_hawk", "red_tailed_hawk", "peregrine_falcon", "common_kestrel",
    "merlin", "western_barn_owl", "tawny_owl", "little_owl", "eurasian_sparrowhawk", "red_kite",
    "saker_falcon",
)  # fmt: skip
DRAWS = 4000
SHRINK = (0.9, 0.95, 0.98)


@dataclass(frozen=True)
class Unit:
    """A yard with one unit, bare of what fit places, and what was planted in it."""

    seed: int
    yard: Yard
    planted: tuple[object, ...] = ()


def _yard(kind: str, birds: int, quarters: dict[str, object], standards: list[str]) -> Yard:
    names = ["Ash", "Birch"][:birds]
    return Yard.model_validate(
        {
            "format": 1,
            "yard": {
                "name": "Bench", "latitude_deg": 47.1, "longitude_deg": 6.9, "altitude_m": 600,
                "time_zone": "Europe/Zurich", "standards": standards,
            },
            "bird": [
                {
                    "name": name, "species": kind, "sex": "f" if i == 0 else "m",
                    "companions": [n for n in names if n != name],
                }
                for i, name in enumerate(names)
            ],
            "quarters": [quarters],
            "stay": [{"bird": n, "quarters": NAME, "mode": "loose"} for n in names],
        }
    )  # fmt: skip


def _quarters(width: float, depth: float, front: float, back: float) -> dict[str, object]:
    return {
        "name": NAME, "kind": "loft", "at_m": [0, 0], "facing_deg": 180,
        "width_mm": width, "depth_mm": depth, "front_height_mm": front, "back_height_mm": back,
        "faces": {"front": {"infill": "barred", "gap_mm": 12, "bar_mm": 12, "upstand_mm": 400}},
        "roof": {"covered_share": 1},
        "floor": {"dig_barrier": "buried", "dig_barrier_mm": 500},
    }  # fmt: skip


def _span_mm(yard: Yard) -> float:
    room = room_for(yard, NAME, (), 0, None, None)
    return max(r.span.value for r in room.case.residents)


def random_layout(room: Room, count: int, rng: np.random.Generator) -> Layout:
    """Fittings of the kinds that suit, thrown anywhere in the room."""
    specs, q = room.screen(count).specs, room.kept
    perches = []
    for spec in specs.perches:
        x, y = rng.uniform(0, q.width_mm), rng.uniform(0, q.depth_mm)
        turn = float(rng.choice([0.0, 90.0])) if spec.template.length_mm else 0.0
        z = rng.uniform(100, max(101.0, q.ceiling_mm(y) - 50))
        place = {"at_mm": (round(x), round(y)), "height_mm": round(z), "turn_deg": turn}
        perches.append(spec.template.model_copy(update=place))
    bath, hatch = specs.bath, specs.hatch
    if bath is not None:
        half = bath.size_mm[0] / 2
        spot = [rng.uniform(min(half, size / 2), max(size - half, size / 2))
                for size in (q.width_mm, q.depth_mm)]  # fmt: skip
        bath = bath.model_copy(update={"at_mm": (round(spot[0]), round(spot[1]))})
    if hatch is not None:
        at = rng.uniform(min(200, q.width_mm / 2), max(q.width_mm - 200, q.width_mm / 2))
        hatch = hatch.model_copy(update={"at_mm": round(at)})
    return Layout(tuple(perches), bath, hatch, count)


def _clean(room: Room, fittings: tuple[object, ...], quarters: Quarters) -> bool:
    """The checks have nothing at all against these fittings in quarters of this size."""
    unit = quarters.model_copy(update={"fitting": fittings})
    for fitting in fittings:
        at = getattr(fitting, "at_mm", None)
        if isinstance(at, tuple) and not (
            0 <= at[0] <= quarters.width_mm and 0 <= at[1] <= quarters.depth_mm
        ):
            return False
        if isinstance(at, (int, float)) and not at + 150 <= quarters.width_mm:
            return False
    for bath in unit.baths:
        x, y = bath.at_mm
        half = bath.size_mm[0] / 2
        if not (half <= x <= unit.width_mm - half and half <= y <= unit.depth_mm - half):
            return False
    return not room.judge.of_unit(room.judge.case(unit)) and not bad(room.judge.whole(unit))


def planted(seed: int) -> Unit:
    """A unit with a layout planted in it, its walls drawn in as far as the checks allow."""
    rng = np.random.default_rng(seed)
    while True:
        kind = KINDS[int(rng.integers(len(KINDS)))]
        birds = 2 if kind == "harris_hawk" and rng.random() < 0.5 else 1
        standards = ["house", "dk"] if rng.random() < 0.25 else ["house"]
        span = _span_mm(_yard(kind, birds, _quarters(9000, 9000, 4000, 4000), ["house"]))
        width, depth = (span * rng.uniform(2.4, 4.5) * (1 + 0.3 * (birds - 1)) for _ in range(2))
        front = max(2400.0, span * rng.uniform(1.8, 2.6))
        back = front - rng.uniform(0.03, 0.08) * depth  # felt wants a fall
        yard = _yard(kind, birds, _quarters(round(width), round(depth), round(front), round(back)),
                     standards)  # fmt: skip
        room = room_for(yard, NAME, (), seed, None, None)
        count = room.counts()[int(rng.integers(len(room.counts())))]
        for _ in range(DRAWS):
            layout = random_layout(room, count, rng)
            if room.screen(count).look(layout).faults:
                continue
            if _clean(room, layout.fittings(), room.kept):
                return _drawn_in(seed, yard, room, layout.fittings())


def _drawn_in(seed: int, yard: Yard, room: Room, fittings: tuple[object, ...]) -> Unit:
    quarters = room.kept
    for factor in SHRINK:
        for key in ("width_mm", "depth_mm", "height"):
            while True:
                if key == "height":
                    update = {
                        k: round(getattr(quarters, k) * factor)
                        for k in ("front_height_mm", "back_height_mm")
                    }
                else:
                    update = {key: round(getattr(quarters, key) * factor)}
                smaller = quarters.model_copy(update=update)
                if not _clean(room, fittings, smaller):
                    break
                quarters = smaller
    slack = {key: round(getattr(quarters, key) + 30) for key in ("width_mm", "depth_mm")}
    bare = quarters.model_copy(update=slack | {"fitting": ()})
    if not _clean(room, fittings, bare):  # deeper, it may want more fall than it has
        bare = quarters
    assert _clean(room, fittings, bare)
    return Unit(seed, yard.model_copy(update={"quarters": (bare,)}), fittings)


def impossible(seed: int) -> Unit:
    """A unit in which no layout can be, for one of six plain reasons."""
    rng = np.random.default_rng(seed)
    kind = KINDS[int(rng.integers(len(KINDS)))]
    span = _span_mm(_yard(kind, 1, _quarters(9000, 9000, 4000, 4000), ["house"]))
    wide, deep, high = span * 3, span * 3.5, max(2400.0, span * 2.2)
    standards = ["house"]
    more: dict[str, object] = {}
    which = seed % 6
    if which == 0:  # no wing can be raised over any perch that keeps the tail off the floor
        high = span * rng.uniform(0.45, 0.6)
    elif which == 1:  # too narrow and too shallow to open the wings either way
        wide = deep = span * rng.uniform(0.6, 0.95)
    elif which == 2:  # Denmark asks a perch 2000 mm up; under this roof no wing rises there
        standards = ["house", "dk"]
        high = 2000 + span / 2 - rng.uniform(20, 200)
    elif which == 3:  # posts to the roof so close that every flight passes one
        step = span * rng.uniform(0.6, 0.68)
        spots = [(x, y) for x in np.arange(step / 2, wide, step)
                 for y in np.arange(step / 2, deep, step)]  # fmt: skip
        more["fitting"] = [
            {"kind": "post", "name": f"post {i}", "at_mm": [round(x), round(y)], "size_mm": 60}
            for i, (x, y) in enumerate(spots)
        ]
    elif which == 4:  # shelves low over all of the floor: whatever is above drops on one
        more["fitting"] = [
            {"kind": "shelf", "name": f"shelf {i}{j}", "height_mm": 60, "length_mm": wide / 4,
             "width_mm": deep / 4, "at_mm": [wide * (i + 0.5) / 4, deep * (j + 0.5) / 4]}
            for i in range(4) for j in range(4)
        ]  # fmt: skip
    else:  # a room of the law's size in one way only
        wide = span * rng.uniform(0.5, 0.9)
    quarters = _quarters(round(wide), round(deep), round(high), round(high)) | more
    return Unit(seed, _yard(kind, 1, quarters, standards))
