"""Templates, and what every page needs besides its own content."""

from collections.abc import Mapping
from importlib.resources import files
from urllib.parse import quote

from fastapi import Request, Response
from fastapi.templating import Jinja2Templates
from jinja2 import Environment, FileSystemLoader, StrictUndefined, select_autoescape
from markupsafe import Markup

from mewswright import __version__
from mewswright.build.mark_runs import mark_runs
from mewswright.checks.finding import MARKS
from mewswright.web.shown import Reading, ShownYard

SECTIONS = (("ground", "Ground"), ("quarters", "Quarters"), ("birds", "Birds"), ("year", "Year"))

STATUS_WORDS = {
    "harm": "harm: can injure, let escape, or breaks a binding rule",
    "short": "short: below what is recommended",
    "mind": "mind: watch this, or not enough is known",
    "sound": "sound",
}

_environment = Environment(
    loader=FileSystemLoader(str(files("mewswright.web") / "templates")),
    autoescape=select_autoescape(default=True),
    undefined=StrictUndefined,
    trim_blocks=True,
    lstrip_blocks=True,
)
_environment.filters["mark_runs"] = mark_runs
_environment.filters["path"] = lambda name: quote(str(name), safe="")
templates = Jinja2Templates(env=_environment)


def page(
    request: Request,
    template: str,
    content: Mapping[str, object],
    *,
    status: int = 200,
    section: str = "",
) -> Response:
    """Give a page: its template, its content, and the frame round every page.

    Args:
        request: The request.
        template: Name of the template.
        content: What the template shows.
        status: HTTP status.
        section: Section of the navigation that it belongs to.
    """
    shown: ShownYard = request.app.state.shown
    reading = shown.reading()
    return templates.TemplateResponse(
        request,
        template,
        {
            "sections": SECTIONS,
            "section": section,
            "yard": reading.yard if reading else None,
            "mark": shown.mark(),
            "file_problem": shown.problem,
            "file_name": shown.path.name,
            "version": __version__,
            "marks": MARKS,
            "status_words": STATUS_WORDS,
            **content,
        },
        status_code=status,
    )


def reading_of(request: Request) -> Reading | None:
    """Give what the pages show now, or None while the file has never been readable."""
    shown: ShownYard = request.app.state.shown
    return shown.reading()


def unreadable(request: Request) -> Response:
    """Say that the file cannot be read at all, and why."""
    shown: ShownYard = request.app.state.shown
    return page(request, "problem.html", {"said": shown.problem or ""}, status=503)


def drawing(svg: str) -> Markup:
    """Let a drawing of our own through the escaping of templates."""
    return Markup(svg)  # our own writer escapes every text in it
