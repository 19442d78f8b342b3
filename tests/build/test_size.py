"""The cheapest frame that stands: against every combination, and what must hold of any choice."""

from dataclasses import replace
from decimal import Decimal
from itertools import product

import pytest
from tests.support.alder_close import YARD

from mewswright.build.analysis import BeamLoads, PointLoad, beam
from mewswright.build.beam_shelf import BeamShelf
from mewswright.build.frame_report import frame_report
from mewswright.build.size import size
from mewswright.build.size_bounds import bounds_of, without_bracing
from mewswright.build.size_choices import Anchor, Brace, Choices, choices_for
from mewswright.build.size_compare import Family, answer, is_deep, is_light_square
from mewswright.build.size_helps import unbraced
from mewswright.build.size_order import in_order
from mewswright.build.size_price import Pricer
from mewswright.build.size_stock import dearest_m3, own_sections, stocked
from mewswright.build.takeoff import take_off
from mewswright.model.stock import StockBar
from mewswright.model.yard import Yard

SNOW = 1.2
SMALL = Choices(
    rafters=(("45x145", 600.0), ("45x195", 600.0)),
    heads=(("45x95", False), ("95x95", False)),
    posts=(("95x95", 3), ("95x95", 5)),
    studs=(("45x95", 600.0),),
    braces=(Brace(), Brace("osb3_11", 100.0)),
    anchors=(Anchor("concrete_hole", (600.0, 1200.0)),),
    counts=(6, 12),
)


def mild(snow: float = SNOW, wind: float = 20.0) -> Yard:
    """The demo yard in a milder place, on firmer ground."""
    loads = YARD.loads
    assert loads is not None
    return YARD.model_copy(
        update={
            "loads": loads.model_copy(
                update={
                    "ground_snow_kn_m2": snow, "basic_wind_m_s": wind, "soil_bearing_kn_m2": 150.0,
                }
            )
        }
    )  # fmt: skip


def isolation(yard: Yard):
    return yard.quarters_named("Isolation")


def by_every_combination(yard: Yard, choices: Choices):
    """Analyse every frame whole, and keep the cheapest that is sound."""
    unit = isolation(yard)
    pricer = Pricer(yard, unit)
    best = None
    for frame in choices.frames(unit.frame):
        if frame_report(yard, unit.model_copy(update={"frame": frame})).sound:
            price = pricer.price(frame)
            if best is None or price.rank < best[0].rank:
                best = (price, frame)
    return best


@pytest.fixture(scope="module")
def small():
    return size(mild(), isolation(mild()), SMALL)


def test_it_finds_what_every_combination_finds(small):
    """All 32 frames of a small stock, each analysed whole."""
    best = by_every_combination(mild(), SMALL)
    assert best is not None
    price, frame = best
    assert small.report.found
    assert small.report.cost.total == pytest.approx(float(price.total))
    assert small.frame == frame


def test_parts_for_a_price_are_those_of_the_take_off(small):
    unit = isolation(mild()).model_copy(update={"frame": small.frame})
    assert Pricer(mild(), unit).parts(small.frame) == take_off(mild(), unit).parts


@pytest.mark.parametrize("gutter", ["butt", "soakaway"])
def test_gutters_are_in_the_price_of_every_frame(small, gutter):
    unit = isolation(mild())
    assert unit.roof is not None
    roof = unit.roof.model_copy(update={"gutter": gutter})
    unit = unit.model_copy(update={"frame": small.frame, "roof": roof})
    assert Pricer(mild(), unit).parts(small.frame) == take_off(mild(), unit).parts
    thinner = small.frame.model_copy(update={"stud": "38x63", "sole": "38x63", "head": "38x63"})
    hung = {p.what for p in Pricer(mild(), unit).parts(thinner) if p.kind == "rain"}
    assert {"gutter", "downpipe"} <= hung


def test_no_frame_costs_less_than_its_bound():
    """Frames from all over the demo's stock, each priced whole with its bracing and anchors."""
    unit = isolation(YARD)
    choices = replace(
        choices_for(YARD, unit, own_sections(YARD)),
        braces=SMALL.braces, anchors=SMALL.anchors, counts=SMALL.counts,
    )  # fmt: skip
    pricer, base = Pricer(YARD, unit), without_bracing(unit.frame)
    bounds = bounds_of(pricer, choices, base)
    for i, (least, frame) in enumerate(in_order(choices, bounds, base)):
        if i % 1500 == 0:
            brace = choices.braces[i // 1500 % 2]
            braced = frame.model_copy(update={**brace.keys, **SMALL.anchors[0].keys,
                                              "anchor_count": 6})  # fmt: skip
            cost = least + bounds.braces[choices.braces.index(brace)]
            assert cost <= pricer.at_least(pricer.parts(braced)) <= pricer.price(braced).total


def test_what_it_chooses_stands_by_the_whole_report(small):
    yard = mild()
    unit = isolation(yard).model_copy(update={"frame": small.frame})
    report = frame_report(yard, unit)
    assert report.sound
    assert small.report.weakest == report.weakest
    assert small.report.combinations == 2 * 2 * 2 * 1 * 2 * 2
    assert small.report.full_analyses < small.report.combinations / 4


def test_more_snow_never_makes_it_cheaper(small):
    heavy = mild(snow=1.6)
    more = size(heavy, isolation(heavy), SMALL).report
    assert not more.found or more.cost.total >= small.report.cost.total


def test_more_to_choose_from_never_makes_it_dearer(small):
    wider = replace(SMALL, rafters=(*SMALL.rafters, ("45x195", 400.0)))
    assert size(mild(), isolation(mild()), wider).report.cost.total <= small.report.cost.total


def test_where_nothing_passes_it_says_which_part_and_by_how_much():
    yard = mild(snow=6.0)
    thin = replace(SMALL, rafters=(("45x95", 600.0),))
    report = size(yard, isolation(yard), thin).report
    assert not report.found
    assert report.frame == {}
    (reason,) = report.reasons
    assert reason.startswith("rafters: none is enough; the nearest is rafter, 45x95 at 600 mm: ")
    assert reason.endswith("% too much")
    assert report.helps
    assert any("rafters every 200 mm" in one for one in report.helps)


def test_where_nothing_braces_the_sides_it_says_what_is_missing_and_that_boards_would_help():
    unit = isolation(mild())
    assert list(unbraced(unit)) == []
    walls = dict.fromkeys(("left", "right", "back"), unit.faces.front)
    mesh = unit.model_copy(update={"faces": unit.faces.model_copy(update=walls), "fitting": ()})
    yard = mild().model_copy(
        update={"quarters": (mesh,), "door": (), "stay": (), "space": (), "leash_line": ()}
    )
    report = size(yard, mesh, SMALL).report
    assert not report.found
    assert report.reasons[-1].startswith("the sides: neither the left nor the right wall is")
    helped = [one for one in report.helps if one.startswith("boards on the open left, right and")]
    assert len(helped) == 1
    assert ": then a frame stands, such as " in helped[0]


def test_beams_of_the_shelf_are_those_of_the_frame_library():
    """Scaled from a load of 1 and another stiffness, every force is the solved one."""
    shelf = BeamShelf()
    places, supports = (0.1, 0.7, 1.3, 2.4), (0.0, 1.2, 2.5)
    asked = {
        name: BeamLoads(points=tuple(PointLoad(kn, at) for at in places))
        for name, kn in (("snow", 2.4), ("wind", -1.1))
    }
    for stiffness in (9.0, 250.0):
        once = shelf.solve(2.5, supports, stiffness, asked)
        direct = beam(2.5, supports, stiffness, asked)
        for name in asked:
            for key in ("moment_kn_m", "shear_kn", "sag_m", "reactions_kn"):
                assert getattr(once[name], key) == pytest.approx(
                    getattr(direct[name], key), rel=1e-6, abs=1e-9
                )


def test_a_section_that_is_not_in_stock_is_priced_at_the_dearest_volume():
    """2.40 m of 50x50 at 6.00 is 1000 a cubic metre, 100x100 at 4 m would be 0.04 m3: 40.00."""
    bars = (StockBar(section="50x50", length_mm=2400, price=Decimal("6.00")),)
    yard = YARD.model_copy(update={"stock": bars})
    assert dearest_m3(yard) == 1000
    more = [bar for bar in stocked(yard, ["100x100", "50x50"]).stock if bar.section == "100x100"]
    assert {bar.priced for bar in more} == {"assumption"}
    by_length = {bar.length_mm: bar.price for bar in more}
    assert by_length[4200] == Decimal("42.00")


def family(section: str, **roles: float) -> Family:
    shares = {role.replace("_", " "): share for role, share in roles.items()}
    return Family(
        section=section, head_on_edge=False, utilisation=max(shares.values()), weakest="",
        roles=shares, sway_mm=None, cost=None, waste_pct=None, timber_kg=1.0,
        members_sound=False, sound=False,
    )  # fmt: skip


def test_the_answer_says_where_square_timber_holds_and_where_it_fails():
    found = answer(
        [
            family("47x47", rafters=3.0, head_plates=4.0, posts=2.0, studs=0.8),
            family("45x195", rafters=0.7, head_plates=1.2, posts=0.5, studs=0.2),
        ]
    )
    assert found == (
        "Here light square timber does not do as well as deep timber everywhere: it holds for "
        "studs, and fails for rafters (47x47 used to 300 %, 45x195 is enough), head plates (47x47 "
        "used to 400 %, 45x195 is not enough either at 120 %) and posts (47x47 used to 200 %, "
        "45x195 is enough)."
    )


def test_the_answer_turns_round_where_square_timber_holds():
    found = answer([family("47x47", rafters=0.9, studs=0.5), family("45x95", rafters=0.4)])
    assert found == (
        "Here light square timber does as well as deep timber: rafters and studs of 47x47 are "
        "enough at these spacings."
    )
    assert answer([family("45x95", rafters=0.4)]) == (
        "No light square section was compared, so the question stays open here."
    )


@pytest.mark.parametrize(
    ("section", "light", "deep"),
    [
        ("38x38", True, False),
        ("95x95", False, False),
        ("45x95", False, True),
        ("38x63", False, True),
    ],
)
def test_what_is_called_light_and_what_deep(section, light, deep):
    assert (is_light_square(section), is_deep(section)) == (light, deep)


def test_every_combination_is_counted():
    frames = list(SMALL.frames(isolation(YARD).frame))
    assert len(frames) == SMALL.combinations == 32
    assert len(set(map(str, frames))) == 32
    assert {(f.rafter, f.head) for f in frames} == set(
        product(("45x145", "45x195"), ("45x95", "95x95"))
    )
