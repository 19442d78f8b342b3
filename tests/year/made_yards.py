"""Yards of invented birds in the demo's quarters, for plans to be tried on."""

from datetime import date, timedelta

from hypothesis import strategies as st

from mewswright.model.bird import Bird, Stay
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard
from mewswright.model.year_keys import BirdYear, QuartersYear, Span

KINDS = (
    "harris_hawk", "peregrine_falcon", "western_barn_owl", "common_kestrel", "red_tailed_hawk",
    "eurasian_eagle_owl", "eurasian_goshawk",
)  # fmt: skip
START = date(2027, 2, 1)


@st.composite
def _span(draw: st.DrawFn) -> Span:
    first = START + timedelta(days=draw(st.integers(0, 80)))
    return Span(starts_on=first, ends_on=first + timedelta(days=draw(st.integers(0, 25))))


@st.composite
def _bird(draw: st.DrawFn, name: str) -> Bird:
    fate = draw(st.sampled_from(("here", "here", "here", "comes", "goes")))
    day = START + timedelta(days=draw(st.integers(1, 75)))
    return Bird(
        name=name,
        species=draw(st.sampled_from(KINDS)),
        sex=draw(st.sampled_from(("f", "m"))),
        use=draw(st.sampled_from(("flown", "display"))),
        flights_per_week=4,
        arrives_on=day if fate == "comes" else None,
        leaves_on=day if fate == "goes" else None,
        year=BirdYear(
            moult=draw(st.sampled_from((None, None, "wish", "must"))),
            sick=draw(st.sampled_from(((), (), (), (draw(_span()),)))) if fate == "here" else (),
        ),
    )


@st.composite
def yards(draw: st.DrawFn, demo: Yard) -> Yard:
    """Some of the demo's quarters, now and then closed or only planned, with invented birds."""
    homes = [q for q in demo.quarters if q.kind not in ("pitch", "isolation")]
    apart = [q for q in demo.quarters if q.kind == "isolation"]
    chosen: list[Quarters] = []
    for quarters in [*apart, *draw(st.permutations(homes))[: draw(st.integers(3, 8))]]:
        closed = draw(st.sampled_from(((), (), (draw(_span()),))))
        year = QuartersYear(closed=closed, clean_days=draw(st.sampled_from((None, None, 0, 10))))
        built = draw(st.sampled_from((True, True, True, True, True, False)))
        chosen.append(quarters.model_copy(update={"year": year, "built": built}))
    birds = [
        draw(_bird(name)) for name in ("Ash", "Birch", "Cedar", "Elm")[: draw(st.integers(1, 4))]
    ]
    stays = []
    for bird, quarters in zip(birds, draw(st.permutations(chosen)), strict=False):
        if bird.arrives_on is None and draw(st.booleans()):
            mode = "tethered" if quarters.kind == "shelter" else "loose"
            isolated = quarters.kind == "isolation"
            ends = START + timedelta(days=20) if isolated else None
            stays.append(Stay(bird=bird.name, quarters=quarters.name, mode=mode,
                              isolated=isolated, ends_on=ends))  # fmt: skip
    bound = draw(st.sampled_from((("house",), ("house",), demo.yard.standards)))
    return demo.model_copy(
        update={
            "yard": demo.yard.model_copy(update={"standards": bound}),
            "bird": tuple(birds), "quarters": tuple(chosen), "stay": tuple(stays), "row": (),
            "door": (), "space": (),
        }
    )  # fmt: skip
