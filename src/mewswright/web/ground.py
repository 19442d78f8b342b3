"""Ground: the plan of the yard, everything on it named, and layers over it."""

from calendar import month_name
from datetime import date
from urllib.parse import quote

from fastapi import APIRouter, Request, Response

from mewswright.drawing.ground_layer import LOOKS, kinds_of
from mewswright.drawing.sheet import measured
from mewswright.drawing.svg import to_svg
from mewswright.drawing.yard_plan import yard_plan
from mewswright.ground.layer import Layer
from mewswright.model.problem import Problem
from mewswright.web.ground_layers import LAYERS, Choices, Offered, choices, offered, scene_of
from mewswright.web.show import drawing, page, reading_of, unreadable
from mewswright.web.shown import Reading

router = APIRouter()
MONTH_NAMES = tuple(enumerate(("the whole year", *month_name[1:])))


@router.get("/ground", name="ground")
def show_ground(request: Request) -> Response:
    """The yard to scale, with a way into every quarters."""
    reading = reading_of(request)
    if reading is None:
        return unreadable(request)
    yard = reading.yard
    one = offered(request.query_params.get("layer", ""))
    chosen = choices(yard, request.query_params, reading.on or date.today())
    layer, plan = _drawn(reading, one, chosen)

    return page(
        request,
        "ground.html",
        {
            "plan": drawing(plan),
            "layer": layer,
            "layers": LAYERS,
            "looks": LOOKS,
            "kinds": kinds_of(layer) if layer else {},
            "paper_query": str(request.url.query),
            "shown": one.key if one else "plan",
            "asks": one.asks if one else (),
            "chosen": chosen,
            "months": MONTH_NAMES,
            "birds": [bird.name for bird in yard.bird],
            "counts": reading.counts,
            "yard_findings": [f for f in reading.findings if f.quarters is None],
            "residents": {
                q.name: sorted({s.bird for s in yard.stays_in(q.name)}) for q in yard.quarters
            },
        },
        section="ground",
    )


@router.get("/ground.svg", name="ground_svg")
def layer_for_paper(request: Request) -> Response:
    """A layer over the plan at true scale, with its legend, to print or to pass on."""
    reading = reading_of(request)
    if reading is None:
        return unreadable(request)
    one = offered(request.query_params.get("layer", ""))
    chosen = choices(reading.yard, request.query_params, reading.on or date.today())
    layer = None if one is None else _layer(reading, one, chosen)
    try:
        scene = (
            yard_plan(reading.yard, reading.findings)
            if layer is None
            else scene_of(reading, layer, for_paper=True)
        )
    except ValueError as bare:
        raise Problem(str(bare)) from bare
    return Response(to_svg(measured(scene)), media_type="image/svg+xml")


def _layer(reading: Reading, one: Offered, chosen: Choices) -> Layer:
    key = f"layer {one.key} {[getattr(chosen, ask) for ask in one.asks]}"
    return reading.keep(key, lambda: one.make(reading, chosen))


def _drawn(reading: Reading, one: Offered | None, chosen: Choices) -> tuple[Layer | None, str]:
    """Give a layer and its drawing for a screen; no drawing of bare ground."""
    yard = reading.yard
    if not (yard.yard.boundary_m or yard.feature or yard.quarters):
        return None, ""
    links = {f"quarters:{q.name}": f"/quarters/{quote(q.name, safe='')}" for q in yard.quarters}
    if one is None:
        return None, reading.keep(
            "yard plan",
            lambda: to_svg(
                measured(yard_plan(yard, reading.findings)), links=links, theme="screen"
            ),
        )
    layer = _layer(reading, one, chosen)
    scene = measured(scene_of(reading, layer, for_paper=False))
    return layer, to_svg(scene, links=links, theme="screen")
