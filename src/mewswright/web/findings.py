"""Findings: the page behind a code."""

from fastapi import APIRouter, Request, Response

from mewswright.checks.registry import catalogue
from mewswright.model.problem import Problem
from mewswright.web.check_text import check_text
from mewswright.web.show import page, reading_of

router = APIRouter()


@router.get("/checks", name="checks")
def show_checks(request: Request) -> Response:
    """The catalogue of checks."""
    return page(request, "checks.html", {"checks": catalogue()})


@router.get("/checks/{code}", name="check_help")
def show_check(request: Request, code: str) -> Response:
    """What one check asks, why it matters, what to change and what it cannot see."""
    check = next((c for c in catalogue() if c.code == code), None)
    if check is None:
        raise Problem(f"no check {code!r}; the catalogue lists them all")
    reading = reading_of(request)
    found = [f for f in reading.findings if f.code == code] if reading else []
    return page(
        request, "check.html", {"check": check, "text": check_text(code), "findings": found}
    )
