"""Yards of invented birds in the demo's quarters, for plans to be tried on."""

from datetime import date, timedelta

from hypothesis import strategies as st

from mewswright.model.bird import Bird, Stay
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard
from mewswright.model.year_keys import BirdYear, QuartersYear, Span, Together, YearWishes

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
            moult_asks=draw(st.sampled_from(("loose", "loose", "undisturbed", "both"))),
            sick=draw(st.sampled_from(((), (), (), (draw(_span()),)))) if fate == "here" else (),
            tether_most_weeks=draw(st.sampled_from((None, None, 4))),
            free_least_weeks=draw(st.sampled_from((None, None, 13))),
            moves_from=draw(st.sampled_from((None, None, None, START + timedelta(days=24)))),
            shortest_stay_weeks=draw(st.sampled_from((None, 3))),
        ),
    )


@st.composite
def _cast(draw: st.DrawFn, one: Bird, other: Bird) -> tuple[Bird, Bird]:
    """Two hawks of one kind that live in peace."""
    kind = {"species": draw(st.sampled_from(("harris_hawk", "western_barn_owl")))}
    return (
        one.model_copy(update={**kind, "sex": "f", "companions": (other.name,)}),
        other.model_copy(update={**kind, "sex": "m"}),
    )


@st.composite
def yards(draw: st.DrawFn, demo: Yard) -> Yard:
    """Some of the demo's quarters, now and then closed or only planned, with invented birds."""
    homes = [q for q in demo.quarters if q.kind not in ("pitch", "isolation")]
    apart = [q for q in demo.quarters if q.kind == "isolation"]
    chosen: list[Quarters] = []
    for quarters in [*apart, *draw(st.permutations(homes))[: draw(st.integers(3, 8))]]:
        closed = draw(st.sampled_from(((), (), (draw(_span()),))))
        year = QuartersYear(
            closed=closed,
            clean_days=draw(st.sampled_from((None, None, 0, 10))),
            clean_every_weeks=draw(st.sampled_from((None, None, None, 5))),
            rest_weeks=draw(st.sampled_from((0, 0, 0, 3))),
        )
        built = draw(st.sampled_from((True, True, True, True, True, False)))
        chosen.append(quarters.model_copy(update={"year": year, "built": built}))
    birds = [
        draw(_bird(name)) for name in ("Ash", "Birch", "Cedar", "Elm")[: draw(st.integers(1, 4))]
    ]
    stays = []
    groups: tuple[Together, ...] = ()
    if len(birds) > 1 and draw(st.booleans()):
        birds[:2] = draw(_cast(birds[0], birds[1]))
        span = draw(_span())
        if draw(st.booleans()):
            groups = (Together(birds=("Ash", "Birch"), starts_on=span.starts_on,
                               ends_on=span.ends_on),)  # fmt: skip
        elif birds[0].arrives_on is None and birds[1].arrives_on is None:
            lofts = [q for q in chosen if q.kind == "loft"]
            stays += [Stay(bird=b.name, quarters=q.name, mode="loose")
                      for q in lofts[:1] for b in birds[:2]]  # fmt: skip
    for bird, quarters in zip(birds, draw(st.permutations(chosen)), strict=False):
        if quarters.name in {s.quarters for s in stays} or bird.name in {s.bird for s in stays}:
            continue
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
            "door": (), "space": (), "year": YearWishes(together=groups),
        }
    )  # fmt: skip
