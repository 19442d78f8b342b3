"""Who sees whom: against the checks of the same yard, by hand, and on odd yards."""

import json

import pytest
from typer.testing import CliRunner

from mewswright.checks.sight_layer import sight_layer
from mewswright.checks.sight_report import sight_report
from mewswright.cli import app
from mewswright.drawing.ground_layer import layer_plan
from mewswright.drawing.svg import to_svg
from mewswright.model.problem import Problem
from support.alder_close import TEXT, YARD
from support.yards import bird, findings, perch, quarters, stay, yard

KESTREL = bird("Thistle", "common_kestrel", sex="m")


def facing(*features, **more):
    at = perch(x=2500, y=3000, height_mm=1000)
    one = quarters("One", at_m=[5, 0], facing_deg=0, fitting=[at])
    two = quarters("Two", at_m=[0, 10], facing_deg=180, fitting=[at])
    tables = {"bird": [KESTREL, bird()], "stay": [stay("Thistle", "One"), stay(quarters="Two")]}
    return yard(quarters=[one, two], feature=list(features), **(tables | more))


def of_pair(report, one, other):
    return next(s for s in report.sees if (s.bird, s.target) == (one, other))


def test_the_forbidden_that_is_seen_is_that_of_g103():
    """Every pair that G103 calls short is seen and forbidden here, at the same distance."""
    of = YARD
    report = sight_report(of)
    ours = {
        (s.bird, s.target): min(
            o.distance_m for o in report.sees
            if o.seen and o.forbidden and (o.bird, o.target) == (s.bird, s.target)
        )
        for s in report.sees if s.seen and s.forbidden
    }  # fmt: skip
    theirs = {}
    for f in findings(of, "G103", status="short"):
        key = f.bird, f.fitting
        theirs[key] = min(f.measured.value, theirs.get(key, 1e9))
    assert ours == pytest.approx(theirs, abs=0.001)
    assert len(ours) > 5


def test_by_hand():
    seen = of_pair(sight_report(facing()), "Thistle", "Bramble")
    assert (seen.seen, seen.distance_m, seen.months) == (True, 16, tuple(range(1, 13)))
    assert seen.forbidden
    assert seen.why == "goshawks kill smaller hawks, falcons and owls"


def hedge(**more):
    return {"name": "Hedge", "kind": "hedge", "line_m": [[-20, 5], [20, 5]], "height_m": 2} | more


@pytest.mark.parametrize(
    ("feature", "months"),
    [(hedge(), ()), (hedge(leaf_months=[5, 6]), (1, 2, 3, 4, 7, 8, 9, 10, 11, 12)),
     (hedge(porosity=0.4), tuple(range(1, 13))),
     ({"name": "Lime", "kind": "tree", "at_m": [2.5, 5], "height_m": 3, "crown_radius_m": 2,
       "leaf_months": [7]}, (1, 2, 3, 4, 5, 6, 8, 9, 10, 11, 12)),
     ({"name": "Lime", "kind": "tree", "at_m": [2.5, 5], "height_m": 3, "crown_radius_m": 2,
       "condition": "dead"}, tuple(range(1, 13)))],
)  # fmt: skip
def test_months(feature, months):
    seen = of_pair(sight_report(facing(feature)), "Thistle", "Bramble")
    assert seen.months == months
    assert seen.seen is bool(months)
    assert seen.hidden_by == (() if months else ("Hedge",))


def test_sight_goes_both_ways():
    report = sight_report(YARD)
    pairs = {(s.bird, s.quarters, s.target, s.place): s for s in report.sees if s.kind == "bird"}
    for (a, p, b, q), one in pairs.items():
        assert pairs[b, q, a, p].distance_m == one.distance_m
        assert pairs[b, q, a, p].months == one.months


def test_a_window_is_seen_in_its_wall_and_not_behind_it():
    barn = {"name": "House", "kind": "building", "height_m": 5,
            "outline_m": [[-5, 20], [5, 20], [5, 28], [-5, 28]]}  # fmt: skip
    near = {"name": "Near window", "kind": "window", "at_m": [0, 20], "height_m": 4}
    far = {"name": "Far window", "kind": "window", "at_m": [0, 28], "height_m": 4}
    of = facing(barn, near, far, stay=[stay("Thistle", "One")])
    of = of.model_copy(update={"quarters": of.quarters[:1]})
    report = sight_report(of)
    assert of_pair(report, "Thistle", "Near window").seen
    assert not of_pair(report, "Thistle", "Far window").seen


def test_screens_hold_when_asked_again():
    report = sight_report(YARD, screens=True)
    assert report.screens
    assert not any(one.still_seen for one in report.screens)
    hidden = {(p.bird, t) for p in report.screens for t in p.targets}
    lost = {(p.bird, t) for p in report.no_screen for t in p.targets}
    assert {(s.bird, s.target) for s in report.sees if s.seen and s.forbidden} == hidden | lost


def test_a_named_line_is_hidden_whatever_is_feared():
    lane = {"name": "Lane", "kind": "lane", "line_m": [[-50, 8], [50, 8]]}
    of = facing(lane, stay=[stay(quarters="One")])
    report = sight_report(of, hide=[("Bramble", "Lane")])
    assert report.screens
    assert {p.targets for p in report.screens} == {("Lane",)}
    assert not any(p.still_seen for p in report.screens)


def test_birds_together_are_not_screened():
    of = yard(
        bird=[KESTREL, bird()], quarters=[quarters()],
        stay=[stay("Thistle"), stay("Bramble")],
    )  # fmt: skip
    report = sight_report(of, hide=[("Thistle", "Bramble")])
    assert of_pair(report, "Thistle", "Bramble").together
    assert report.screens == ()
    assert report.no_screen[0].why.startswith("both live in the same quarters")


def many(count):
    return yard(
        bird=[bird(f"B{i}", "harris_hawk") for i in range(count)],
        quarters=[quarters("All", width_mm=30000)] + [
            quarters(f"Q{i}", "pitch", at_m=[8 * i, 20]) for i in range(5)
        ],
        stay=[stay(f"B{i}", "All") for i in range(count)],
    )  # fmt: skip


@pytest.mark.parametrize(
    "of", [yard(), yard(quarters=[quarters()]), yard(bird=[bird()]), many(100)]
)
def test_odd_yards(of):
    report = sight_report(of, screens=True)
    assert json.loads(report.model_dump_json())["yard"] == "Alder Close"
    assert len(report.birds) == len({s.bird for s in of.stay})
    for name in [b.bird for b in report.birds][:1]:
        layer = sight_layer(of, report, name)
        assert "<svg" in to_svg(layer_plan(of, layer))


def test_the_layer_shows_who_sees_a_bird():
    """One arrow from each looker that the matrix says sees it, none from a mate in its own."""
    of = YARD
    report = sight_report(of)
    for one in of.bird:
        layer = sight_layer(of, report, one.name)
        arrows = [s for s in layer.shapes if s.tone == "mind"]
        watching = [s for s in report.sees
                    if s.target == one.name and s.seen and not s.together]  # fmt: skip
        assert [s.points_m[0] for s in arrows] == [s.eye_m[:2] for s in watching]
    assert any(s.target == "Moth" and s.seen for s in report.sees)


def test_refusals():
    of = facing()
    with pytest.raises(Problem, match=r"^no bird 'Nobody' in 'Alder Close'; there are: "):
        sight_report(of, bird="Nobody")
    with pytest.raises(Problem, match=r"^no quarters 'Nowhere' in 'Alder Close'; there are: "):
        sight_report(of, quarters="Nowhere")
    with pytest.raises(Problem, match=r"^no bird, feature or quarters 'x' to hide; there are: "):
        sight_report(of, hide=[("Bramble", "x")])


def test_the_command(tmp_path):
    file = tmp_path / "a.yard.toml"
    run = CliRunner().invoke
    file.write_text(TEXT, encoding="utf-8")
    done = run(app, ["sight", str(file), "--bird", "Thistle", "--screens", "--out",
                     str(tmp_path / "out")])  # fmt: skip
    assert done.exit_code == 0, done.output
    assert "sees Ember in Owl loft, 19.9 m" in done.output
    assert "asked again: hidden" in done.output
    drawn = (tmp_path / "out" / "sight-thistle.svg").read_text(encoding="utf-8")
    assert "What Thistle sees" in drawn
    assert "How sure:" in drawn
    told = json.loads(run(app, ["sight", str(file), "--json"]).stdout)
    assert told["matrix"]["Thistle"]["Ember"] == pytest.approx(19.93)
    bad = run(app, ["sight", str(file), "--hide", "Nobody:Lane"])
    assert bad.exit_code == 2
    assert "--hide 'Nobody:Lane': write BIRD:TARGET; birds are: Bramble" in bad.output
