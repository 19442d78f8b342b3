"""Mending a unit: planted faults, each with the change that cures it for least."""

import json
import re
from decimal import Decimal
from itertools import combinations
from pathlib import Path

import pytest
import tomlkit
from hypothesis import given, settings
from hypothesis import strategies as st
from typer.testing import CliRunner

from mewswright.checks.finding import Finding
from mewswright.checks.open import open_yard
from mewswright.checks.registry import run_checks
from mewswright.checks.report import report
from mewswright.cli import app
from mewswright.fit import remedy_places
from mewswright.fit.change import edited
from mewswright.fit.mend import mend
from mewswright.fit.mend_beyond import why_beyond
from mewswright.fit.remedies import mendable_codes, offers
from mewswright.fit.remedy import Standing
from mewswright.model.problem import Problem
from mewswright.model.yard_file import parse_yard
from support.mendable import FRONT, INNER, OUTER, faults, fittings, loft, yard_of
from support.yards import bird, perch, quarters, stay, yard

DEMO = Path("src/mewswright/examples/alder-close.yard.toml")
KESTREL = bird("Thistle", "common_kestrel", sex="m", mass_g=205, wing_span_mm=720)

ON_A_SHELF = {"form": "shelf", "width_mm": 120, "diameter_mm": None}
SHELVES = fittings(low=ON_A_SHELF, high=ON_A_SHELF)


def test_a_sound_unit_has_nothing_to_mend():
    found = mend(yard_of(loft()), "North loft").mending
    assert (found.steps, found.beyond, found.before.harm, found.before.short) == ((), (), 0, 0)


def _front(**more):
    return {"faces": {"front": FRONT | more}}


PLANTED = {
    "perch too near the roof": (
        {"fitting": fittings(high={"height_mm": 2700})}, {}, "P104", r"^High: lower it \d+ mm",
    ),
    "bath under a perch": (
        {"fitting": fittings(bath={"at_mm": [4500, 3600]})}, {}, "P106", r"^Bath: move it",
    ),
    "tail on the floor": (
        {"fitting": fittings(low={"height_mm": 200})}, {}, "P101", r"^Low: raise it \d+ mm",
    ),
    "bath too deep": (
        {"fitting": fittings(bath={"depth_mm": 300})}, {}, "W103", r"^Bath: line it to \d+ mm",
    ),
    "sandpaper": (
        {"fitting": fittings(low={"cover": "sandpaper"})}, {}, "P115", r"^Low: cover it with turf",
    ),
    "perch too thin": (
        {"fitting": fittings(low={"diameter_mm": 15})}, {}, "P113",
        r"^Low: take a round perch of 45 mm",
    ),
    "hatch that stands open": (
        {"fitting": fittings(hatch={"closes": False})}, {}, "W107", r"^Hatch: fit a flap",
    ),
    "no bath": ({"fitting": fittings()[:2]}, {}, "W101", r"^set a bath at"),
    "nothing against digging": ({"floor": {"depth_mm": 120}}, {}, "F110", r"along the walls"),
    "straw": (
        {"floor": {"substrate": "straw", "dig_barrier": "slab"}}, {}, "F111",
        r"^take the old floor out",
    ),
    "thin gravel": (
        {"floor": {"depth_mm": 30, "dig_barrier": "slab"}}, {}, "F115", r"^lay the gravel \d+ mm",
    ),
    "level bars": (_front(direction="horizontal"), {}, "F105", r"^front face: turn the bars"),
    "skins that touch": (
        _front(outer=FRONT["outer"] | {"stand_off_mm": 0}), {}, "F107",
        r"^front face: set the outer skin \d+ mm off",
    ),
    "gaps for a weasel": (_front(outer=None), {}, "F103", r"^front face: welded mesh .* outside"),
    "gap too wide for a kestrel": (
        _front(gap_mm=38) | {"fitting": SHELVES}, {"birds": (KESTREL,)}, "F101",
        r"^front face: set the bars 25 mm apart",
    ),
    "an open side": (
        {"faces": {"front": FRONT, "left": {"infill": "open"}}}, {}, "F108", r"^left face: ",
    ),
    "an open top": (
        {"roof": {"covered_share": 0.7, "open_infill": "open"}}, {}, "R104",
        r"^close the open top|^roof 100 %",
    ),
    "one door to the sky": (
        {}, {"doors": ({**INNER, "between": ["North loft", "outside"]},), "space": []}, "D101",
        r"^build a lobby before the door from North loft to outside",
    ),
    "an old door beside the lobby": (
        {}, {"doors": (INNER, OUTER, {**INNER, "between": ["North loft", "outside"]})}, "D101",
        r"^wall up the door from North loft to outside",
    ),
    "a door without a lock": (
        {}, {"doors": ({**INNER, "locks": "none"}, OUTER)}, "D103",
        r"^door from .* to .*: give it a bolt",
    ),
    "a door that shuts one in": (
        {}, {"doors": ({**INNER, "opens_from_inside": False}, OUTER)}, "D104",
        r"^door to Lobby: fit a latch",
    ),
    "a bare lamp": (
        {"fitting": [*fittings(), {"kind": "light", "name": "Lamp", "at_mm": [3000, 300],
                                   "height_mm": 2000}]}, {}, "F117", r"^Lamp: put it behind",
    ),
}  # fmt: skip


@pytest.mark.parametrize("what", PLANTED)
def test_a_planted_fault_is_mended_by_the_one_change_expected(what):
    unit, more, code, words = PLANTED[what]
    of = yard_of(loft(**unit), **more)
    assert code in faults(of)
    found = mend(of, "North loft")
    assert [bool(re.search(words, step.change)) for step in found.mending.steps] == [True], (
        found.mending.steps
    )
    assert code in found.mending.steps[0].clears
    assert faults(found.yard) == []
    assert found.mending.proven
    assert found.mending.steps[0].hours > 0


def test_two_faults_take_one_common_change_where_that_is_cheaper():
    """A perch over the bath and too near the roof: one move of the perch cures both."""
    unit = loft(
        fitting=fittings(
            high={"height_mm": 2700, "at_mm": [4300, 1300]}, bath={"at_mm": [4300, 1400]}
        )
    )
    of = yard_of(unit)
    assert {"P104", "P106"} <= set(faults(of))
    found = mend(of, "North loft")
    assert len(found.mending.steps) == 1
    assert {"P104", "P106"} <= set(found.mending.steps[0].clears)
    assert faults(found.yard) == []


def test_harm_comes_before_what_is_short():
    of = yard_of(loft(fitting=fittings(high={"height_mm": 2700}, bath={"depth_mm": 300})))
    found = mend(of, "North loft").mending
    assert [step.stage for step in found.steps] == ["harm", "short"]
    assert (found.before.harm, found.after_harm.harm, found.after_harm.short) == (1, 0, 1)
    assert (found.after.harm, found.after.short) == (0, 0)


def _cheapest_of_all_subsets(of, changes):
    """Try every set of some changes, in the order given: the least that leaves no fault."""
    best = None
    for n in range(len(changes) + 1):
        for some in combinations(changes, n):
            paths = [path for change in some for path in change.paths]
            weight = sum(change.cost.weight for change in some)
            if len(paths) != len(set(paths)) or (best is not None and weight >= best):
                continue
            after = edited(of, [edit for change in some for edit in change.edits])
            if after is not None and not faults(after):
                best = weight
    return best


@pytest.mark.parametrize(
    "unit",
    [
        {"fitting": fittings(bath={"depth_mm": 300}, low={"cover": "bare"})},
        {"floor": {"substrate": "hay"}},
        {"fitting": fittings(bath={"at_mm": [4500, 3600], "depth_mm": 250})},
        {"faces": {"front": FRONT | {"direction": "horizontal", "outer": None}}},
    ],
)
def test_no_subset_of_the_same_changes_is_cheaper(unit):
    of = yard_of(loft(**unit))
    wanted = [f for f in run_checks(of, quarters="North loft") if f.status in ("harm", "short")]
    standing = Standing(of, "North loft", None)
    pool = {}
    for finding in wanted:
        # The cheapest few of each finding: all subsets of more would take too long to try.
        aimed = sorted(offers(standing, finding), key=lambda change: change.cost.weight)[:3]
        pool |= {change.id: change for change in aimed}
    found = mend(of, "North loft")
    best = _cheapest_of_all_subsets(of, tuple(pool.values()))
    assert best is not None
    assert sum(change.cost.weight for change in found.changes) == pytest.approx(best)


def _holds_what_it_promises(of, name):
    found = mend(of, name)
    now = of
    counts = [found.mending.before]
    for change in found.changes:
        now = change.apply(now)
        counts.append(report(now, None, name).counts)
    assert counts[0] == report(of, None, name).counts
    assert counts[-1] == found.mending.after
    last_of_harm = sum(step.stage == "harm" for step in found.mending.steps)
    assert counts[last_of_harm] == found.mending.after_harm
    assert now == found.yard
    assert [one.harm for one in counts] == sorted((one.harm for one in counts), reverse=True)
    left = {f.code for f in run_checks(now, quarters=name) if f.status in ("harm", "short")}
    assert left == {one.code for one in found.mending.beyond}
    known = _harms(of)
    assert all(harms <= known.get(place, 0) for place, harms in _harms(now).items())
    return found


def _harms(of):
    found = {}
    for f in run_checks(of):
        if f.status == "harm":
            place = (f.quarters, f.code, f.bird, f.fitting)
            found[place] = found.get(place, 0) + 1
    return found


DEMO_QUARTERS = [q.name for q in open_yard(DEMO).quarters]


@pytest.mark.parametrize("name", DEMO_QUARTERS)
def test_every_unit_of_the_demo_yard_ends_as_promised(name):
    of = open_yard(DEMO)
    if of.stays_in(name):
        _holds_what_it_promises(of, name)


@st.composite
def units(draw):
    """A loft with perches, bath, bars, floor and doors as they come."""
    x, y, high = (
        draw(st.integers(low, top)) for low, top in ((200, 5800), (200, 4800), (150, 2700))
    )
    changed = {
        "high": {"at_mm": [x, y], "height_mm": high},
        "low": {"cover": draw(st.sampled_from(["turf", "bare", "sandpaper"])),
                "diameter_mm": draw(st.sampled_from([15, 40, 90]))},
        "bath": {"at_mm": [draw(st.integers(500, 5500)), draw(st.integers(500, 4500))],
                 "depth_mm": draw(st.sampled_from([30, 100, 300]))},
    }  # fmt: skip
    front = FRONT | {
        "gap_mm": draw(st.sampled_from([25, 60, 120])),
        "outer": draw(st.sampled_from([None, FRONT["outer"]])),
    }
    floor = draw(st.sampled_from([{"substrate": "straw"}, {"dig_barrier": "slab"}]))
    door = {**INNER, "locks": draw(st.sampled_from(["none", "bolt"]))}
    doors = draw(
        st.sampled_from([(door, OUTER), ({**door, "between": ["North loft", "outside"]},)])
    )
    return loft(fitting=fittings(**changed), faces={"front": front}, floor=floor), doors


@settings(max_examples=3)
@given(units())
def test_any_loft_ends_as_promised_and_never_with_more_harm(drawn):
    unit, doors = drawn
    found = _holds_what_it_promises(yard_of(unit, doors), "North loft")
    assert found.mending.after.harm <= found.mending.before.harm


def test_a_room_far_too_small_takes_a_new_unit():
    of = yard_of(
        loft(width_mm=900, depth_mm=900, fitting=[perch("Low", 450, 450)]), space=[], door=[]
    )  # two wing spans are more than twice its width
    found = mend(of, "North loft", most_yards=20).mending
    assert any(one.code.startswith("S") and "new unit" in one.why for one in found.beyond)


def test_what_is_put_up_in_a_bare_room_is_not_moved_again(monkeypatch):
    """Perches and a bath find places at once, though the house wants more than the room has."""
    tries = []
    tried = remedy_places._tried
    monkeypatch.setattr(remedy_places, "_tried", lambda *args: tries.append(1) or tried(*args))
    bare = yard_of(loft(width_mm=1600, fitting=[]))
    new = [
        change
        for finding in run_checks(bare, None, "North loft")
        if finding.code in ("P109", "W101")
        for change in offers(Standing(bare, "North loft", None), finding)
    ]
    assert any(one.words.startswith("put up ") for one in new)
    assert any(one.words.startswith("set a bath ") for one in new)
    assert 0 < len(tries) < 400
    all_of_them = {change.words.split(" ")[0]: change for change in reversed(new)}.values()
    after = edited(bare, [edit for change in all_of_them for edit in change.edits])
    codes = {f.code for f in run_checks(after, None, "North loft") if f.status in ("harm", "short")}
    assert not codes & {"P106", "P109", "P118", "W101"}


def test_a_suspect_tree_is_not_mended_by_building():
    tree = {
        "name": "Ash", "kind": "tree", "at_m": [-3, 3], "height_m": 14, "condition": "suspect",
    }  # fmt: skip
    found = mend(yard_of(loft(), feature=[tree]), "North loft").mending
    assert [(one.code, one.status) for one in found.beyond] == [("G102", "harm")]
    assert "what stands on the ground is at fault" in found.beyond[0].why
    assert found.steps == ()


def test_a_code_that_nobody_knows_lands_beyond_with_its_own_remedy():
    strange = Finding(code="Z999", status="harm", quarters="North loft", remedy="ask the moon")
    assert "Z999" not in mendable_codes()
    assert offers(Standing(yard_of(loft()), "North loft", None), strange) == ()
    assert why_beyond(strange, tried=False) == (
        "North loft: none of the changes that can be tried here clears it; the check itself says: "
        "ask the moon"
    )


def test_the_keepers_price_goes_before_the_handbooks():
    bare = loft(fitting=fittings(low={"cover": "bare"}))
    price = {"item": "cover_perch", "unit": "each", "price": Decimal("7.50"), "priced": "keeper"}
    own = mend(yard_of(bare, price=[price]), "North loft").mending.steps[0]
    assert (own.price, own.priced, own.currency) == (Decimal("7.50"), "keeper", "EUR")
    assumed = mend(yard_of(bare), "North loft").mending.steps[0]
    assert assumed.priced == "assumption"


def test_in_a_currency_of_another_worth_an_assumed_figure_is_no_price():
    of = yard_of(loft(fitting=fittings(low={"cover": "bare"})))
    crowns = of.model_copy(update={"yard": of.yard.model_copy(update={"currency": "DKK"})})
    found = mend(crowns, "North loft").mending
    assert (found.steps[0].price, found.steps[0].priced) == (None, "missing")
    assert not found.total.is_whole
    assert any("In DKK they only ranked the changes" in line for line in found.cautions)


def test_a_unit_without_a_bird_is_refused():
    of = yard(quarters=[quarters()], bird=[bird()])
    with pytest.raises(
        Problem,
        match=r"^no bird lives in 'North loft', so nothing says what it must be: give a stay in "
        r"the yard file$",
    ):
        mend(of, "North loft")


def test_an_unknown_unit_is_refused_by_the_command():
    done = CliRunner().invoke(app, ["mend", str(DEMO), "South loft"])
    assert done.exit_code == 2
    assert "no quarters 'South loft' in 'Alder Close'; there are: Long loft" in done.output


def test_the_command_says_steps_totals_and_what_is_beyond():
    done = CliRunner().invoke(app, ["mend", str(DEMO), "Herb shelter"])
    assert done.exit_code == 0
    for words in (
        "1. front face: set the bars 25 mm apart instead of 38 mm", "clears F101", "In all CHF",
        "What mending this unit does not clear", "G103 short",
    ):  # fmt: skip
        assert words in done.output


def test_json_has_the_keys_that_are_promised():
    done = CliRunner().invoke(app, ["mend", str(DEMO), "North loft", "--json"])
    found = json.loads(done.output)
    assert set(found) == {
        "yard", "quarters", "standards", "before", "after_harm", "after", "steps", "total",
        "beyond", "minds", "proven", "nodes", "cautions",
    }  # fmt: skip
    assert set(found["steps"][0]) == {
        "n", "change", "clears", "adds", "price", "currency", "priced", "hours", "stage",
    }  # fmt: skip
    assert set(found["before"]) == {"harm", "short", "mind", "sound"}


def _written_out(of):
    """A yard as the text of a yard file."""
    return tomlkit.dumps(of.model_dump(mode="json", exclude_none=True, exclude_unset=True))


def test_nothing_to_mend_is_said_and_is_no_error(tmp_path):
    file = tmp_path / "one.yard.toml"
    text = _written_out(yard_of(loft()))
    file.write_text(text, encoding="utf-8")
    done = CliRunner().invoke(app, ["mend", str(file), "North loft", "--write"])
    assert done.exit_code == 0, done.output
    assert "Nothing to mend: nothing here does harm or falls short." in done.output
    assert file.read_text(encoding="utf-8") == text


def _comments(text):
    return [line.strip() for line in text.splitlines() if line.strip().startswith("#")]


@pytest.mark.parametrize("name", ["Long loft", "North loft", "Owl loft", "Herb shelter"])
def test_written_changes_keep_every_comment_and_read_back_as_promised(tmp_path, name):
    file = tmp_path / "alder.yard.toml"
    text = DEMO.read_text(encoding="utf-8")
    file.write_text(text, encoding="utf-8")
    promised = mend(open_yard(file), name)
    done = CliRunner().invoke(app, ["mend", str(file), name, "--write"])
    assert done.exit_code == 0, done.output
    new = file.read_text(encoding="utf-8")
    assert new != text
    assert _comments(new) == _comments(text)
    assert parse_yard(new, file.name) == promised.yard
    again = mend(open_yard(file), name).mending
    assert again.steps == ()
    assert again.before == promised.mending.after


def test_the_perch_of_a_tethered_bird_is_moved_off_the_wall():
    bow = perch("Bow", 1500, 900, form="bow", length_mm=600, diameter_mm=45, free_standing=True)
    unit = quarters(
        kind="shelter", width_mm=4000, depth_mm=4000, fitting=[bow | {"height_mm": 400}],
        front_height_mm=2600, back_height_mm=2400,
    )  # fmt: skip
    near = unit | {"fitting": [bow | {"height_mm": 400, "at_mm": [700, 2000]}]}
    tied = stay(mode="tethered", perch="Bow")
    of = yard_of(near, doors=(), space=[], stay=[tied])
    harms = {f.code for f in run_checks(of, quarters="North loft") if f.status == "harm"}
    assert "T101" in harms
    found = mend(of, "North loft")
    assert any(
        "T101" in step.clears and step.change.startswith("Bow: move it") and step.stage == "harm"
        for step in found.mending.steps
    )
    assert found.mending.after_harm.harm == 0


def test_stays_are_left_alone():
    """Mending builds; it does not move birds."""
    of = yard_of(loft(fitting=fittings(high={"height_mm": 2700})))
    assert mend(of, "North loft").yard.stay == of.stay == tuple(of.stays_in("North loft"))
    assert stay()["mode"] == "loose"
