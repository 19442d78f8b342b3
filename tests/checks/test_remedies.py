"""A remedy clears its finding: what a sentence says is done to the letter, and judged again."""

import re

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis.strategies import composite, integers, lists, sampled_from

from mewswright.checks.case import cases
from mewswright.checks.registry import catalogue
from support.drawn_yards import birds, fittings, whole
from support.remedies import carried_out
from support.yards import perch, quarters, stay, yard

CODES = ("P101", "P102", "P103", "P104", "P105", "P106", "P107", "P117", "L102", "L103", "L104",
         "T101", "T102")  # fmt: skip
CHECKS = {check.code: check for check in catalogue() if check.code in CODES}
FACES = ({"infill": "boarded"}, {"infill": "open"}, {"infill": "barred", "gap_mm": 25})
DRAWN = settings(
    max_examples=60, suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much]
)


@composite
def units(draw):
    """One unit with a perch or more, for one bird or two, loose or tied to a perch."""
    kind = draw(sampled_from(["loft", "shelter", "pitch"]))
    width, depth = draw(whole(600, 6000)), draw(whole(600, 6000))
    made = {"kind": kind, "width_mm": width, "depth_mm": depth}
    low = 3000
    if kind != "pitch":
        front, back = draw(whole(1000, 3500)), draw(whole(1000, 3500))
        low = min(front, back)
        faces = {side: draw(sampled_from(FACES)) for side in ("front", "back", "left", "right")}
        made |= {"front_height_mm": front, "back_height_mm": back, "faces": faces}
        made["frame"] = {"post_count": draw(sampled_from([None, 2, 4]))}
    inside = draw(fittings(width, depth, low, most=4))
    if not any(one["kind"] == "perch" for one in inside):
        inside.append(perch("alone", width / 2, depth / 2, height_mm=min(300, low - 10)))
    kept = [draw(birds(f"B{i}", i)) for i in range(draw(integers(1, 2)))]
    mode = draw(sampled_from(["loose", "tethered"]))
    more = {} if mode == "loose" else {
        "perch": next(one["name"] for one in inside if one["kind"] == "perch")
    }  # fmt: skip
    return yard(
        bird=kept, quarters=[quarters("Unit", fitting=inside, **made)],
        stay=[stay(b["name"], "Unit", mode, **more) for b in kept],
    )  # fmt: skip


def missed(of, code):
    (case,) = cases(of)
    return [f for f in CHECKS[code].of_quarters(case) if f.status != "sound"]


def thing_of(finding):
    """What a finding speaks of: the thing below, the way, the wall; and not by how much."""
    named = re.sub(r", [0-9.]+ mm below|[0-9.]+ (mm|g|wing spans)", "", finding.why)
    named = re.sub(r"its wing tips reach|stands in the margin round its wing tips", "", named)
    return finding.code, finding.bird, finding.fitting, " ".join(named.split())


def tied_to(of):
    return next((one.perch for one in of.stay if one.perch), None)


def after(of, finding):
    """The yard with the remedy done; None where it is advice.

    Room to land is freed by setting a wall back: where it is another thing that ends the way,
    or a slanted wall, the sentence leaves open what is to go.
    """
    perch_name = tied_to(of) if finding.code.startswith("T") else None
    try:
        changed = carried_out(of.quarters[0], finding, perch_name)
    except ValueError:
        if finding.code == "L104":
            return None
        raise
    return None if changed is None else of.model_copy(update={"quarters": (changed,)})


@DRAWN
@given(of=units(), codes=lists(sampled_from(CODES), min_size=4, max_size=8, unique=True))
def test_what_a_remedy_says_clears_its_finding(of, codes):
    told = [finding for code in codes for finding in missed(of, code)]
    assume(told)
    for finding in told:
        changed = after(of, finding)
        if changed is None:
            continue
        left = [f for f in missed(changed, finding.code) if thing_of(f) == thing_of(finding)]
        assert left == [], (finding.remedy, str(left[0]))


def room(*inside, mode="loose", span=1000, bird=None, size=(3000, 4000)):
    made = quarters("Unit", fitting=list(inside), width_mm=size[0], depth_mm=size[1])
    hawk = {"name": "B0", "species": "eurasian_goshawk", "sex": "f", "wing_span_mm": span,
            "tail_mm": 250, "body_length_mm": 500}  # fmt: skip
    held = {"perch": "p"} if mode == "tethered" else {}
    return yard(bird=[hawk | (bird or {})], quarters=[made],
                stay=[stay("B0", "Unit", mode, **held)])  # fmt: skip


def rod(name="p", x=1500, y=2000, **more):
    form = {"form": "round", "length_mm": 400, "diameter_mm": 40, "height_mm": 1500}
    return perch(name, x, y, **(form | more))


BATH = {"kind": "bath", "name": "tub", "at_mm": [1500, 2000], "diameter_mm": 600,
        "depth_mm": 100, "rim_height_mm": 150}  # fmt: skip
SHELF = {"kind": "shelf", "name": "ledge", "at_mm": [1500, 2000], "height_mm": 600,
         "length_mm": 300, "width_mm": 300}  # fmt: skip
LAME = {"one_winged": True, "body_length_mm": 400}
ONE_OF_EACH = (
    ("P101", room(rod(height_mm=200)), "raise it 100 mm"),
    ("P102", room(rod(x=300)), "move it 300 mm away from the left wall"),
    ("P103", room(rod(y=100)), "move it 200 mm away from the front"),
    ("P104", room(rod(height_mm=2900)), "lower it 400 mm"),
    ("P105", room(rod(), rod("low", height_mm=600)),
     "move it 190 mm towards the front, or move low"),
    ("P106", room(rod(), BATH), "move it 470 mm towards the front, or move tub"),
    ("P107", room(rod(), SHELF), "move it 320 mm towards the front, or move ledge"),
    ("P117", room(rod(), rod("q", y=2300)), "set it 200 mm farther from p"),
    ("P117", room(rod(x=250, y=300), rod("q", x=250, y=500, height_mm=1600), size=(500, 600)),
     "raise it 400 mm"),
    ("L102", room(rod("a", y=500), rod("b", y=3500), rod("c")), "lower it 520 mm"),
    # 300 mm a hop: up to the second stump, and not across from it to the third.
    ("L103", room(*(perch(f"s{i}", 500 * i, 500, height_mm=300 * i, form="stump") for i in (1, 2)),
                  perch("s3", 2500, 3500, height_mm=600, form="stump"), bird=LAME),
     "lower it 300 mm, or set a lower perch on the way"),
    ("L104", room(rod(y=700), size=(3000, 1400)), "free 300 mm more before one side of it, "
     "or turn it"),
    # Leash 400, swivel and jesses 200, margin 150 mm, and half a span.
    ("T101", room(rod(x=900), mode="tethered"), "move the perch 350 mm away from the left face"),
    ("T102", room(rod(), SHELF, mode="tethered", span=400),
     "move it 950 mm away from the perch p"),
)  # fmt: skip


@pytest.mark.parametrize(("code", "of", "remedy"), ONE_OF_EACH)
def test_each_remedy_by_hand(code, of, remedy):
    """Spans of 1000 and tails of 250 mm, in a room of 3 by 4 m that is 3 m high."""
    finding = missed(of, code)[0]
    assert finding.remedy == remedy
    changed = after(of, finding)
    assert changed is not None
    assert [f for f in missed(changed, code) if thing_of(f) == thing_of(finding)] == []


def test_a_room_without_a_place_is_said_to_be_one():
    """A circle of 1250 mm in a room of a metre: no corner lies outside it."""
    tight = room(rod(x=500, y=500), {**SHELF, "at_mm": [200, 200]}, mode="tethered",
                 size=(1000, 1000))  # fmt: skip
    assert missed(tight, "T102")[0].remedy == "take it out, or tie the bird shorter"
    box = SHELF | {"at_mm": [250, 250], "height_mm": 200, "box_height_mm": 2700}
    heap = room(rod("a", 50, 50), rod("b", 450, 450), box, size=(500, 500))
    assert missed(heap, "L102")[0].remedy == "take it away, or set a or b elsewhere"


@pytest.mark.parametrize(("x", "word", "edge"), [(500, "wider", "left"), (1000, "wider", "right")])
def test_t101_a_lawn_that_is_too_narrow_is_made_wider(x, word, edge):
    lawn = quarters("Unit", "pitch", width_mm=1500, depth_mm=9000, fitting=[rod(x=x, y=4500)])
    of = yard(bird=[{"name": "B0", "species": "eurasian_goshawk", "wing_span_mm": 1000}],
              quarters=[lawn], stay=[stay("B0", "Unit", "tethered")])  # fmt: skip
    finding = next(f for f in missed(of, "T101") if edge in f.remedy)
    assert finding.remedy == (
        f"make it 1000 mm {word} and set the perch 1250 mm from the {edge} edge of the pitch, or "
        "tie it shorter"
    )
    assert not any(edge in f.remedy for f in missed(after(of, finding), "T101"))
