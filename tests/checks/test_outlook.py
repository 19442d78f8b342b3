"""What a bird sees and hears, by hand. The ranges and limits are judgements of ours.

Two lofts face each other across a gap: One looks north, Two south. Perches stand 1000 mm up
and 3000 mm behind their fronts, so the line between them is level, 1 m up, gap + 6 m long.
"""

import pytest

from support.yards import BOARDED, bird, findings, only, perch, quarters, stay, yard

BARS = {"infill": "barred", "gap_mm": 25, "bar_mm": 18}
KESTREL = bird("Thistle", "common_kestrel", sex="m")


def hatch(**more):
    return {"kind": "hatch", "name": "hatch", "face": "left", "at_mm": 3000, "sill_mm": 1000,
            "width_mm": 300, "height_mm": 250, "ledge_mm": 250} | more  # fmt: skip


def facing(*features, front=BARS, fittings=(), gap_m=8, who=KESTREL, stays=None, **two):
    at = perch(x=2500, y=3000, height_mm=1000)
    one = quarters("One", at_m=[5, 0], facing_deg=0, fitting=[at], faces={"front": front})
    two = quarters("Two", at_m=[0, gap_m], facing_deg=180, fitting=[at, *fittings], **two)
    return yard(
        bird=[who, bird()], quarters=[one, two], feature=list(features),
        stay=stays or [stay("Thistle", "One"), stay(quarters="Two")],
    )  # fmt: skip


def screen(height_m=1.5, kind="hedge", north_m=4):
    return {"name": "screen", "kind": kind, "line_m": [[-90, north_m], [90, north_m]],
            "height_m": height_m}  # fmt: skip


@pytest.mark.parametrize(
    ("features", "front", "gap_m", "status"),
    [([], BARS, 8, "mind"), ([], BOARDED, 8, "sound"), ([screen()], BARS, 8, "sound"),
     ([screen(0.9)], BARS, 8, "mind"), ([], BARS, 13.8, "mind"), ([], BARS, 14, "sound")],
)  # fmt: skip
def test_g109_a_ledge_in_sight(features, front, gap_m, status):
    """The ledge's middle is 125 mm from the left wall: 2.375 m aside and gap + 6 m off.

    sqrt(20^2 - 2.375^2) = 19.858, so a gap of 13.858 m is the last in range.
    """
    of = facing(*features, front=front, gap_m=gap_m, fittings=[hatch()])
    found = only(of, "G109", bird="Thistle")
    assert found.status == status
    if status == "mind":
        assert found.why == "it sees food come to Two, and screams or bates for its own"


def test_g109_a_tethered_bird_in_a_shelter_is_fed_on_its_perch():
    tied = [stay("Thistle", "One"), stay(quarters="Two", mode="tethered")]
    assert only(facing(stays=tied, kind="shelter"), "G109", bird="Thistle").status == "mind"
    assert only(facing(stays=tied, kind="pitch"), "G109", bird="Thistle").status == "sound"


def test_g109_a_hatch_of_quarters_where_nobody_else_lives():
    of = facing(fittings=[hatch()], stays=[stay("Thistle", "One")])
    assert only(of, "G109", bird="Thistle").status == "sound"
    apart = [stay("Thistle", "One", ends_on="2026-05-31"),
             stay(quarters="Two", starts_on="2026-06-01")]  # fmt: skip
    of = facing(fittings=[hatch()], stays=apart)
    assert only(of, "G109", bird="Thistle").status == "sound"


def noise(db=None, kind="other", north_m=23.0):
    """Due north of the perch at [2.5, -3], 1 m up as the perch is."""
    return {"name": "pump", "kind": kind, "at_m": [2.5, north_m], "sound_db_1m": db}


def listening(*features, nervous=True, **who):
    of = facing(*features, who=KESTREL | {"nervous": nervous} | who, stays=[stay("Thistle", "One")])
    return of.model_copy(update={"quarters": of.quarters[:1]})


@pytest.mark.parametrize(
    ("db", "north_m", "status"),
    [(80, 7.0, "sound"), (80.1, 7.0, "mind"), (95, 7.0, "mind"), (95.1, 7.0, "short"),
     (80, 6.9, "mind")],
)  # fmt: skip
def test_g110_a_voice_at_a_metre(db, north_m, status):
    """Ten metres off, 20 dB are gone: 80 dB become 60, and 95 become 75."""
    found = only(listening(noise(db, north_m=north_m)), "G110")
    assert found.status == status


def test_g110_as_much_farther_off_as_it_says_clears_it():
    found = only(listening(noise(83, north_m=7)), "G110")
    assert found.remedy.startswith("give it quarters 4.13 m farther off")  # 10^(23/20) - 10
    assert only(listening(noise(83, north_m=7 + 4.13)), "G110").status == "sound"


@pytest.mark.parametrize(
    ("kind", "height_m", "db"), [("wall", 0.99, 80), ("wall", 1.01, 75.0), ("hedge", 3, 80),
                                 ("wall", 5, 60.0), ("building", 1.01, 75.0)],
)  # fmt: skip
def test_g110_a_wall_takes_five_to_twenty_decibels(kind, height_m, db):
    """A wall that just reaches into the line takes 5 dB; a hedge nothing."""
    found = only(listening(noise(100, north_m=7), screen(height_m, kind, north_m=2)), "G110")
    assert found.measured.value == pytest.approx(db, abs=0.1)


@pytest.mark.parametrize(("north_m", "status"), [(27.1, "sound"), (26.9, "mind")])
def test_g110_a_lane_of_unknown_loudness(north_m, status):
    lane = {"name": "Lane", "kind": "lane", "line_m": [[-90, north_m], [90, north_m]]}
    assert only(listening(lane), "G110").status == status


def test_g110_asks_only_for_newcomers_and_nervous_birds_and_only_of_noisy_things():
    assert findings(listening(noise(120), nervous=False), "G110") == []
    assert findings(listening(noise()), "G110") == []
    new = listening(noise(120, north_m=7), nervous=False, arrives_on="2026-03-01")
    assert only(new, "G110").status == "short"


@pytest.mark.parametrize(
    ("gap_m", "status", "told"),
    [(9, "mind", "in sight: Bramble 15 m; out of sight: nobody"),
     (9.1, "sound", "in sight: Bramble 15.1 m; out of sight: nobody")],
)  # fmt: skip
def test_g111_a_stone_s_throw(gap_m, status, told):
    found = only(facing(gap_m=gap_m), "G111", bird="Thistle")
    assert (found.status, found.why) == (status, told)


def test_g111_out_of_sight_and_far_away():
    hidden = only(facing(screen()), "G111", bird="Thistle")
    assert (hidden.status, hidden.why) == ("sound", "in sight: nobody; out of sight: Bramble")
    far = only(facing(gap_m=40), "G111", bird="Thistle")
    assert far.why == "in sight: nobody; out of sight: nobody"


@pytest.mark.parametrize("friend", ["Thistle", "Bramble"])
def test_g111_companions_may_see_each_other(friend):
    of = facing()
    other = {"Thistle": "Bramble", "Bramble": "Thistle"}[friend]
    birds = tuple(
        b.model_copy(update={"companions": (other,)}) if b.name == friend else b for b in of.bird
    )
    assert {f.status for f in findings(of.model_copy(update={"bird": birds}), "G111")} == {"sound"}


def test_g111_on_two_pitches():
    at = perch(x=2500, y=3000, height_mm=400)
    pitches = [quarters(n, "pitch", at_m=[e, 0], fitting=[at]) for n, e in (("One", 0), ("Two", 9))]
    of = yard(
        bird=[KESTREL, bird()], quarters=pitches,
        stay=[stay("Thistle", "One", "tethered"), stay(quarters="Two", mode="tethered")],
    )  # fmt: skip
    for name in ("Thistle", "Bramble"):
        found = only(of, "G111", bird=name)
        assert (found.status, found.measured.value) == ("mind", pytest.approx(9))


def path(north_m=10.0, kind="path"):
    return {"name": "Path", "kind": kind, "line_m": [[-90, north_m], [90, north_m]]}


def looking(*features, height_mm=1600, standards=("house",), mode="loose", **more):
    at = perch(x=2500, y=3000, height_mm=height_mm)
    place = quarters("One", at_m=[5, 0], facing_deg=0, fitting=[at], **more)
    return yard(
        standards, bird=[KESTREL], quarters=[place], stay=[stay("Thistle", "One", mode)],
        feature=list(features),
    )  # fmt: skip


@pytest.mark.parametrize(
    ("kind", "height_mm", "standards", "status"),
    [("path", 1600, ("house",), "sound"), ("path", 1599, ("house",), "mind"),
     ("path", 1599, ("us-vt",), "short"), ("dog_run", 800, ("house",), "sound"),
     ("dog_run", 799, ("house",), "mind"), ("tap", 300, ("house",), None)],
)  # fmt: skip
def test_g112_above_the_eye_that_passes(kind, height_mm, standards, status):
    of = looking(path(kind=kind), height_mm=height_mm, standards=standards)
    found = findings(of, "G112")
    assert [f.status for f in found] == ([status] if status else [])


def test_g112_raising_it_as_it_says_clears_it():
    found = only(looking(path(), height_mm=1200), "G112")
    assert found.remedy == "raise its highest perch 400 mm, or screen it from Path"
    assert found.sources[0].name.startswith("Vermont raptor-centre")
    assert only(looking(path(), height_mm=1600), "G112").status == "sound"


def test_g112_a_tethered_bird_is_screened():
    found = only(looking(path(), height_mm=400, mode="tethered", kind="pitch"), "G112")
    assert found.remedy == "screen it from Path, or give it a higher place"
    hidden = looking(path(), screen(2.0), height_mm=400, mode="tethered", kind="pitch")
    assert only(hidden, "G112").status == "sound"


@pytest.mark.parametrize(("north_m", "status"), [(27.1, "sound"), (26.9, "mind")])
def test_g112_within_thirty_metres(north_m, status):
    assert only(looking(path(north_m), height_mm=1000), "G112").status == status


@pytest.mark.parametrize("turn", range(4))
def test_nothing_depends_on_the_order_of_quarters_and_birds_or_on_a_quarter_turn(turn):
    of = facing(path(40), noise(90, north_m=4), who=KESTREL | {"nervous": True},
                fittings=[hatch()])  # fmt: skip

    def turned(at):
        for _ in range(turn):  # a quarter turn to the east
            at = (at[1], -at[0])
        return at

    def moved(feature):
        if feature.at_m is not None:
            return feature.model_copy(update={"at_m": turned(feature.at_m)})
        line = tuple(turned(p) for p in feature.line_m)
        return feature.model_copy(update={"line_m": line})

    again = of.model_copy(update={
        "bird": of.bird[::-1], "stay": of.stay[::-1],
        "feature": tuple(moved(f) for f in of.feature[::-1]),
        "quarters": tuple(
            q.model_copy(update={"at_m": turned(q.at_m),
                                 "facing_deg": (q.facing_deg + 90 * turn) % 360})
            for q in of.quarters[::-1]
        ),
    })  # fmt: skip

    def told(one):
        return sorted(
            (code, f.quarters, f.bird, f.status, f.why, f.remedy)
            for code in ("G109", "G110", "G111", "G112") for f in findings(one, code)
        )  # fmt: skip

    assert told(again) == told(of)


def test_g110_what_it_is_used_to_is_not_minded():
    assert only(listening(noise(120, north_m=7)), "G110").status == "short"
    used = listening(noise(120, north_m=7), used_to=["Lane"])
    name = used.feature[0].name
    used = listening(noise(120, north_m=7), used_to=[name])
    assert only(used, "G110").status == "sound"
