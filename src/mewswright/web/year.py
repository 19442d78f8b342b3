"""Year: who lives where, week by week; worked out in a process of its own while the page waits."""

import json
from datetime import UTC, date, datetime
from typing import Any
from urllib.parse import parse_qs

from fastapi import APIRouter, Request, Response
from fastapi.responses import RedirectResponse

from mewswright.drawing.svg import to_svg
from mewswright.drawing.year_chart import year_chart
from mewswright.drawing.year_screen import Pinned, year_screen
from mewswright.model.problem import Problem
from mewswright.papers.names import file_stems
from mewswright.web.show import drawing, page, reading_of, unreadable
from mewswright.web.shown import Reading
from mewswright.web.year_ask import YearAsk, year_ask
from mewswright.web.year_jobs import Job, YearJobs
from mewswright.year.calendar import to_calendar
from mewswright.year.pins import read_pin
from mewswright.year.plan import YearPlan
from mewswright.year.report import YearReport
from mewswright.year.shown import shown_plan, yard_plan
from mewswright.year.steps import Steps

router = APIRouter()
MODES = ("", "loose", "tethered")
KINDS = {"json": "application/json", "ics": "text/calendar", "svg": "image/svg+xml"}


@router.get("/year", name="year")
def show_year(request: Request) -> Response:
    """The plan of a year, what is wished of it, and how the search for it stands."""
    reading = reading_of(request)
    if reading is None:
        return unreadable(request)
    ask = year_ask(parse_qs(request.url.query), date.today())
    jobs = _jobs(request)
    job = jobs.find(reading.mark, ask)
    report = _report(job)
    before = None if report is not None and report.stays else _report(jobs.latest(reading.mark))
    shown = report if report is not None and report.stays else before
    plan = (
        shown_plan(shown, reading.yard)
        if shown is not None and shown.stays
        else yard_plan(reading.yard, ask.start, ask.last)
    )
    pins = _pins(reading, ask)
    screen = year_screen(plan, pins) if plan.birds else None
    return page(
        request,
        "year.html",
        {
            "ask": ask,
            "job": job,
            "report": report,
            "is_before": shown is not None and shown is before,
            "is_file": shown is None,
            "plan": plan,
            "screen": screen,
            "plan_svg": drawing(to_svg(screen.scene, theme="screen")) if screen else "",
            "rows": json.dumps(screen.rows if screen else []),
            "pins": _pin_rows(ask),
            "birds": [bird.name for bird in reading.yard.bird],
            "homes": [q.name for q in reading.yard.quarters if q.kind != "pitch" and q.built],
            "modes": MODES,
            "relax": _relaxed(report),
            "given_up": [(key, ask.without_one("without", key).query) for key in ask.without],
            "stays": [(bird, plan.of_bird(bird)) for bird in plan.birds],
        },
        section="year",
    )


@router.get("/year/progress", name="year_progress")
def year_progress(request: Request) -> Response:
    """How the search stands, for the page to ask every second; at its end, the whole page anew."""
    reading = reading_of(request)
    if reading is None:
        return unreadable(request)
    ask = year_ask(parse_qs(request.url.query), date.today())
    job = _jobs(request).find(reading.mark, ask)
    answer = page(request, "_year_progress.html", {"ask": ask, "job": job}, section="year")
    if job is None or job.is_over:
        answer.headers["HX-Location"] = json.dumps(
            {"path": f"/year?{ask.query}", "target": "#year", "select": "#year",
             "swap": "outerHTML", "push": "false"}
        )  # fmt: skip
    return answer


@router.post("/year/{act}", name="year_act")
async def year_act(request: Request, act: str) -> Response:
    """Begin, stop or cancel a search; lock or forbid a stay and begin anew."""
    _refuse_strangers(request)
    reading = reading_of(request)
    if reading is None:
        return unreadable(request)
    given = parse_qs((await request.body())[:200_000].decode("utf-8", "replace"))
    ask = year_ask(given, date.today())
    jobs = _jobs(request)
    if act in ("lock", "forbid"):
        ask = _pinned(reading, ask, act, given)
    elif act not in ("solve", "stop", "cancel"):
        raise Problem(
            f"year: there is no {act!r} here; there are: solve, stop, cancel, lock, forbid"
        )
    job = jobs.find(reading.mark, ask)
    if act == "stop" and job is not None:
        jobs.stop(job)
    elif act == "cancel" and job is not None:
        jobs.cancel(job)
    elif act in ("solve", "lock", "forbid"):
        jobs.start(reading.mark, ask)
    return RedirectResponse(f"/year?{ask.query}", status_code=303)


@router.get("/year/plan.{kind}", name="year_file")
def year_file(request: Request, kind: str) -> Response:
    """A plan to take away: JSON, iCalendar or the wall chart."""
    if kind not in KINDS:
        raise Problem(f"year: no plan as {kind!r}; there are: {', '.join(KINDS)}")
    reading = reading_of(request)
    if reading is None:
        return unreadable(request)
    ask = year_ask(parse_qs(request.url.query), date.today())
    report = _report(_jobs(request).find(reading.mark, ask))
    if report is None or not report.stays:
        raise Problem("year: there is no plan for this yet: work it out on the Year page first")
    stem = file_stems([reading.yard.yard.name])[reading.yard.yard.name]
    return Response(
        _content(kind, report, shown_plan(report, reading.yard)),
        media_type=KINDS[kind],
        headers={"Content-Disposition": f'attachment; filename="{stem}-year.{kind}"'},
    )


def _content(kind: str, report: YearReport, plan: YearPlan) -> bytes:
    if kind == "json":
        return report.model_dump_json(indent=2).encode()
    if kind == "ics":
        return to_calendar(plan, datetime.now(UTC))
    return to_svg(year_chart(plan)).encode()


def _jobs(request: Request) -> YearJobs:
    jobs = request.app.state.year_jobs
    assert isinstance(jobs, YearJobs)
    return jobs


def _report(job: Job | None) -> YearReport | None:
    if job is None or job.report is None:
        return None
    return YearReport.model_validate(job.report)


def _refuse_strangers(request: Request) -> None:
    """A page from elsewhere must not start or stop anything here.

    A browser says of every request where it comes from (Fetch Metadata, W3C); the origin alone
    tells nothing of a form of ours, for our pages give no referrer.
    """
    origin, site = request.headers.get("origin"), request.headers.get("sec-fetch-site")
    ours = f"{request.url.scheme}://{request.headers.get('host')}"
    if site not in (None, "same-origin", "none") or (site is None and origin not in (None, ours)):
        raise Problem(f"year: {origin or site} is another page: open the Year page itself")


def _pinned(reading: Reading, ask: YearAsk, act: str, given: dict[str, list[str]]) -> YearAsk:
    """The question with the stay that a form names."""

    def one(name: str) -> str:
        return (given.get(name) or [""])[-1].strip()

    mode = f":{one('pin_mode')}" if one("pin_mode") else ""
    days = f" {one('pin_from')}..{one('pin_to')}" if one("pin_from") or one("pin_to") else ""
    text = f"{one('pin_bird')}@{one('pin_quarters')}{mode}{days}"
    read_pin(act, text, reading.yard, Steps(ask.start, ask.weeks, 7))  # refuses what cannot be
    return ask.with_one(act, text)


def _pins(reading: Reading, ask: YearAsk) -> list[Pinned]:
    steps = Steps(ask.start, ask.weeks, 7)
    found = []
    for kind in ("lock", "forbid"):
        for text in getattr(ask, kind):
            pin = read_pin(kind, text, reading.yard, steps)
            word = "locked" if kind == "lock" else "forbidden"
            found.append(Pinned(pin.bird, kind, pin.first, pin.last, f"{word}: {pin.words}"))
    return found


def _pin_rows(ask: YearAsk) -> list[tuple[str, str, str]]:
    return [
        (kind, text, ask.without_one(kind, text).query)
        for kind in ("lock", "forbid")
        for text in getattr(ask, kind)
    ]


def _relaxed(report: YearReport | None) -> list[tuple[str, dict[str, Any]]]:
    """What would make a plan possible, each with the form fields that try it."""
    if report is None or report.conflict is None:
        return []
    rules = {rule.key for rule in report.rules}  # other changes cannot be tried from the page
    return [
        (relax.says, {"keys": relax.keys if rules.issuperset(relax.keys) else (),
                      "total": relax.plan.total})
        for relax in report.conflict.relax
    ]  # fmt: skip
