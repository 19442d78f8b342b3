"""Hypothesis strategies for whole yards: likely ones, and odd ones that a file may still hold.

Nothing on the ground is drawn on a grid: a line of sight that grazes a corner to the last
digit of a float may be called either way, and no tape would show it.
"""

from random import Random
from typing import Any

from hypothesis.strategies import (
    SearchStrategy,
    booleans,
    composite,
    floats,
    integers,
    just,
    lists,
    none,
    one_of,
    sampled_from,
)

from mewswright.handbook import all_species, standards
from mewswright.model.quarters import SIDES
from mewswright.model.yard import Yard
from support.yards import stay, yard

KINDS = ("loft", "shelter", "pitch", "isolation")
SPECIES = tuple(one.id for one in all_species())
STANDARDS = tuple(one.key for one in standards())
INFILLS: tuple[dict[str, Any], ...] = (
    {"infill": "boarded"}, {"infill": "open"}, {"infill": "barred", "gap_mm": 25, "bar_mm": 12},
    {"infill": "barred", "gap_mm": 60, "bar_mm": 12, "direction": "horizontal"},
    {"infill": "meshed", "gap_mm": 25, "mesh_kind": "welded"},
    {"infill": "netted", "gap_mm": 40, "mesh_kind": "knotted_net", "upstand_mm": 500},
    {"infill": "slatted", "gap_mm": 20, "bar_mm": 40},
    {"infill": "open", "upstand_mm": 400},
)  # fmt: skip
FEATURES = (
    "wall", "hedge", "fence", "building", "compost", "hay", "lane", "dog_run", "tree", "camera",
    "tap", "gate", "playground", "pond", "power_line", "weighing_room", "flying_ground_gate",
)  # fmt: skip


def whole(low: int, high: int, step: int = 10) -> SearchStrategy[float]:
    """Lengths as a keeper writes them down."""
    return integers(low // step, high // step).map(lambda n: float(n * step))


def scattered(reach: float, of: str) -> SearchStrategy[list[float]]:
    """Places on the ground as far as a reach; no two things share one, nor lie in line."""

    def place(seed: int) -> list[float]:
        draw = Random(f"{of} {seed}")
        return [draw.uniform(-reach, reach), draw.uniform(-reach, reach)]

    return integers(0, 100_000).map(place)


def off_the_walls(draw: Any, size: float) -> float:
    """A place along a side: at least a centimetre off both ends, where there is so much."""
    return size / 2 if size < 40 else min(draw(whole(10, int(size))), size - 10)


@composite
def fittings(draw: Any, width: float, depth: float, low: float, most: int = 5) -> list[Any]:
    """Fittings that lie inside, and under a roof that is `low` at its lowest."""
    found: list[dict[str, Any]] = []
    for i in range(draw(integers(0, most))):
        at = [off_the_walls(draw, width), off_the_walls(draw, depth)]
        high = max(1.0, min(draw(whole(50, 2500)), low - 10))
        kind = draw(sampled_from(["perch"] * 4 + ["bath", "hatch", "shelf", "nest_box", "post",
                                                  "heater"]))  # fmt: skip
        one: dict[str, Any] = {"kind": kind, "name": f"{kind} {i}", "at_mm": at}
        if kind == "perch":
            form = draw(sampled_from(["round", "branch", "flat", "shelf", "bow", "block", "stump",
                                      "ring"]))  # fmt: skip
            size = "width_mm" if form in ("flat", "shelf") else "diameter_mm"
            one |= {
                "form": form, size: draw(whole(20, 300)), "height_mm": high,
                "turn_deg": draw(sampled_from([0, 0, 90, 45, -30, 180, -180])),
                "cover": draw(sampled_from(["bare", "turf", "rope", "sandpaper"])),
                "free_standing": draw(booleans()), "fixed": draw(booleans()),
            }  # fmt: skip
            if form not in ("block", "stump", "ring") or draw(booleans()):
                one["length_mm"] = draw(whole(100, 2000))
        elif kind == "bath":
            one |= draw(sampled_from([{"diameter_mm": 700.0},
                                      {"width_mm": 900.0, "length_mm": 500.0}]))  # fmt: skip
            one |= {"depth_mm": 100, "rim_height_mm": draw(whole(0, 400))}
        elif kind == "hatch":
            face = draw(sampled_from(SIDES))
            run = width if face in ("front", "back") else depth
            one |= {"face": face, "at_mm": off_the_walls(draw, run), "sill_mm": 900,
                    "width_mm": 300, "height_mm": 200, "ledge_mm": draw(whole(0, 300))}  # fmt: skip
        elif kind in ("shelf", "nest_box"):
            one |= {"height_mm": high, "length_mm": draw(whole(100, 900)),
                    "width_mm": draw(whole(100, 900))}  # fmt: skip
            one |= {"box_height_mm": draw(one_of(none(), just(400.0)))}
        elif kind == "post":
            one |= {"size_mm": 100, "top_mm": draw(one_of(none(), whole(200, 2000)))}
        else:
            one |= {"height_mm": high, "shielded": draw(booleans())}
        found.append(one)
    return found


@composite
def quarters_of(draw: Any, name: str, sizes: SearchStrategy[float], most: int = 5) -> Any:
    """One quarters of any kind, with any faces and roof."""
    kind = draw(sampled_from(KINDS))
    width, depth = draw(sizes), draw(sizes)
    made: dict[str, Any] = {
        "name": name, "kind": kind, "width_mm": width, "depth_mm": depth,
        "at_m": draw(scattered(40, name)),
        "facing_deg": draw(sampled_from([0, 90, 172, 180, 270, 300.5])),
        "timber_state": draw(sampled_from([None, "dry", "rotting"])),
        "ammonia_ppm": draw(sampled_from([None, 0, 30])),
    }  # fmt: skip
    low = 3000.0
    if kind != "pitch":
        front, back = draw(whole(300, 4000)), draw(whole(300, 4000))
        low = min(front, back)
        open_all = draw(integers(0, 4)) == 0
        faces = {s: INFILLS[1] if open_all else draw(sampled_from(INFILLS)) for s in SIDES}
        roof = {
            "form": draw(sampled_from(["monopitch", "monopitch", "none"])),
            "covered_share": draw(sampled_from([0, 0.5, 1])),
            "cover": draw(sampled_from(["felt", "corrugated", "polycarbonate", "boards"])),
            "open_infill": draw(sampled_from(["meshed", "netted", "barred", "open"])),
            "open_gap_mm": draw(sampled_from([None, 25, 60])),
        }
        made |= {"front_height_mm": front, "back_height_mm": back, "faces": faces, "roof": roof}
    made["fitting"] = draw(fittings(width, depth, low, most))
    return made


@composite
def birds(draw: Any, name: str, unlike: int) -> Any:
    """A bird of any species and sex; `unlike` keeps the sizes of two birds apart."""
    made: dict[str, Any] = {
        "name": name, "species": draw(sampled_from(SPECIES)),
        "sex": draw(sampled_from(["m", "f", "unknown"])),
        "use": draw(sampled_from(["flown", "display", "breeding", "resting", "retired"])),
        "nervous": draw(booleans()), "one_winged": draw(integers(0, 5)) == 0,
        "flies": draw(sampled_from([None, "strongly", "weakly", "not"])),
        "flights_per_week": draw(sampled_from([None, 0, 4])),
    }  # fmt: skip
    if draw(booleans()):
        made |= {"wing_span_mm": draw(whole(400, 2200, 20)) + unlike / 8,
                 "tail_mm": draw(whole(80, 400, 20)) + unlike / 8,
                 "mass_g": draw(whole(100, 5000, 20)) + unlike / 8}  # fmt: skip
    return made


@composite
def features(draw: Any, name: str) -> Any:
    """One thing on the ground."""
    kind = draw(sampled_from(FEATURES))
    spots = scattered(60, name)
    made: dict[str, Any] = {"name": name, "kind": kind, "height_m": draw(floats(0.5, 12))}
    shape = "at_m" if kind in ("tree", "camera", "tap", "gate", "weighing_room",
                               "flying_ground_gate") else draw(sampled_from(
                                   ["at_m", "line_m", "outline_m"]))  # fmt: skip
    if shape == "outline_m":
        (x, y), wide, deep = draw(spots), draw(floats(1, 9)), draw(floats(1, 9))
        made[shape] = [[x, y], [x + wide, y], [x + wide, y + deep], [x, y + deep]]
    else:
        made[shape] = draw(spots) if shape == "at_m" else draw(lists(spots, min_size=2, max_size=4))
    if kind == "tree":
        made |= {"crown_radius_m": draw(floats(0.5, 5)),
                 "condition": draw(sampled_from(["sound", "suspect", "dead"])),
                 "lean_deg": draw(sampled_from([None, 0, 100]))}  # fmt: skip
    if kind == "camera":
        made |= {"looks_deg": draw(sampled_from([None, 0, 200])), "view_deg": 90, "range_m": 20}
    if kind == "hedge":
        made["porosity"] = draw(sampled_from([None, 0, 0.4]))
    return made


@composite
def yards(
    draw: Any,
    most_quarters: int = 3,
    most_birds: int = 4,
    sizes: SearchStrategy[float] | None = None,
) -> Yard:
    """A yard that the file format takes, however unlikely."""
    room = whole(600, 8000) if sizes is None else sizes
    places = [draw(quarters_of(f"Q{i}", room)) for i in range(draw(integers(0, most_quarters)))]
    kept = [draw(birds(f"B{i}", i)) for i in range(draw(integers(0, most_birds)))]
    stays = []
    for bird in kept if places else ():
        for _ in range(draw(sampled_from([1, 1, 1, 2]))):
            place = draw(sampled_from(places))
            more: dict[str, Any] = {"daytime_only": draw(booleans())}
            mode = draw(sampled_from(["loose", "tethered"]))
            perches = [f["name"] for f in place["fitting"] if f["kind"] == "perch"]
            if mode == "tethered" and perches and draw(booleans()):
                more["perch"] = draw(sampled_from(perches))
            if draw(integers(0, 3)) == 0:
                more |= {"starts_on": draw(sampled_from(["2027-03-01", "2027-08-01"])),
                         "ends_on": "2027-10-01", "isolated": draw(booleans())}  # fmt: skip
            stays.append(stay(bird["name"], place["name"], mode, **more))
    things = [draw(features(f"F{i}")) for i in range(draw(integers(0, 4)))]
    rose = draw(sampled_from([[], [
        {"from_deg": 45.0 * i, "share_pct": share, "speed_m_s": 2.0}
        for i, share in enumerate((6, 11, 5, 4, 9, 31, 14, 5))
    ]]))  # fmt: skip
    keys = draw(lists(sampled_from(STANDARDS), min_size=1, max_size=3, unique=True))
    return yard(tuple(keys), bird=kept, quarters=places, stay=stays, feature=things,
                wind_rose=rose)  # fmt: skip
