"""Ground: the plan of the yard, everything on it named."""

from urllib.parse import quote

from fastapi import APIRouter, Request, Response

from mewswright.drawing.sheet import measured
from mewswright.drawing.svg import to_svg
from mewswright.drawing.yard_plan import yard_plan
from mewswright.web.show import drawing, page, reading_of, unreadable

router = APIRouter()


@router.get("/ground", name="ground")
def show_ground(request: Request) -> Response:
    """The yard to scale, with a way into every quarters."""
    reading = reading_of(request)
    if reading is None:
        return unreadable(request)
    yard = reading.yard

    def plan() -> str:
        if not (yard.yard.boundary_m or yard.feature or yard.quarters):
            return ""
        links = {f"quarters:{q.name}": f"/quarters/{quote(q.name, safe='')}" for q in yard.quarters}
        return to_svg(measured(yard_plan(yard, reading.findings)), links=links, theme="screen")

    return page(
        request,
        "ground.html",
        {
            "plan": drawing(reading.keep("yard plan", plan)),
            "counts": reading.counts,
            "yard_findings": [f for f in reading.findings if f.quarters is None],
            "residents": {
                q.name: sorted({s.bird for s in yard.stays_in(q.name)}) for q in yard.quarters
            },
        },
        section="ground",
    )
