"""Birds: what each one needs of its quarters, with reasons and sources."""

from fastapi import APIRouter, Request, Response

from mewswright.web.show import page, reading_of, unreadable

router = APIRouter()


@router.get("/birds", name="birds")
def show_birds(request: Request) -> Response:
    """All birds of the yard."""
    reading = reading_of(request)
    if reading is None:
        return unreadable(request)
    stays = {b.name: [s for s in reading.yard.stay if s.bird == b.name] for b in reading.yard.bird}
    return page(request, "birds.html", {"briefs": reading.briefs, "stays": stays}, section="birds")


@router.get("/birds/{name}", name="bird")
def show_bird(request: Request, name: str) -> Response:
    """The brief of one bird."""
    reading = reading_of(request)
    if reading is None:
        return unreadable(request)
    bird = reading.yard.bird_named(name)
    brief = reading.briefs[[b.name for b in reading.yard.bird].index(bird.name)]
    return page(
        request,
        "bird.html",
        {
            "bird": bird,
            "brief": brief,
            "stays": [s for s in reading.yard.stay if s.bird == name],
            "findings": [f for f in reading.findings if f.bird == name and f.status != "sound"],
        },
        section="birds",
    )
