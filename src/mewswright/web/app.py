"""The application: routes, headers and errors put together."""

from collections.abc import AsyncIterator, Awaitable, Callable
from contextlib import asynccontextmanager
from importlib.resources import files
from pathlib import Path

from fastapi import FastAPI, Request, Response
from fastapi.responses import RedirectResponse
from fastapi.staticfiles import StaticFiles
from starlette.exceptions import HTTPException
from starlette.middleware.trustedhost import TrustedHostMiddleware

from mewswright.model.problem import Problem
from mewswright.web import birds, findings, ground, quarters, year
from mewswright.web.show import page
from mewswright.web.shown import ShownYard
from mewswright.web.year_jobs import YearJobs

# This machine only: a page from elsewhere must not reach it under another name.
HOSTS = ["127.0.0.1", "localhost", "[::1]"]

HEADERS = {
    "Content-Security-Policy": (
        "default-src 'self'; script-src 'self'; style-src 'self'; img-src 'self' data:; "
        "font-src 'self'; connect-src 'self'; object-src 'none'; base-uri 'none'; "
        "form-action 'self'; frame-ancestors 'none'"
    ),
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Opener-Policy": "same-origin",
}


def create_app(path: Path) -> FastAPI:
    """Make the application that shows one yard file.

    Args:
        path: The yard file. It is read on the first page and again when it changes.

    Returns:
        The application. It answers only under this machine's own names.
    """
    jobs = YearJobs(path)

    @asynccontextmanager
    async def life(_: FastAPI) -> AsyncIterator[None]:
        yield
        jobs.close()

    app = FastAPI(
        title="Mewswright", docs_url=None, redoc_url=None, openapi_url=None, lifespan=life
    )
    app.state.shown = ShownYard(path)
    app.state.year_jobs = jobs
    app.add_middleware(TrustedHostMiddleware, allowed_hosts=HOSTS)

    @app.middleware("http")
    async def guard(
        request: Request, call_next: Callable[[Request], Awaitable[Response]]
    ) -> Response:
        response = await call_next(request)
        response.headers.update(HEADERS)
        if not request.url.path.startswith("/static/vendor/"):
            response.headers["Cache-Control"] = "no-cache"
        return response

    @app.get("/", name="home")
    def home() -> RedirectResponse:
        """The ground is where a yard begins."""
        return RedirectResponse("/ground")

    @app.get("/pulse", name="pulse")
    def pulse(request: Request, mark: str = "") -> Response:
        """Tell a page that stands open whether the file has changed since it was made."""
        if request.app.state.shown.mark() == mark:
            return Response(status_code=204)
        return Response(status_code=200, headers={"HX-Refresh": "true"})

    app.include_router(ground.router)
    app.include_router(quarters.router)
    app.include_router(birds.router)
    app.include_router(findings.router)
    app.include_router(year.router)
    app.mount("/static", StaticFiles(directory=str(files("mewswright") / "static")), name="static")

    @app.exception_handler(Problem)
    def problem(request: Request, raised: Exception) -> Response:
        """A name that is not in the yard, and the names that are."""
        return page(request, "problem.html", {"said": str(raised)}, status=404)

    @app.exception_handler(HTTPException)
    def refused(request: Request, raised: Exception) -> Response:
        """No such page."""
        assert isinstance(raised, HTTPException)
        said = "There is no such page." if raised.status_code == 404 else str(raised.detail)
        return page(request, "problem.html", {"said": said}, status=raised.status_code)

    return app
