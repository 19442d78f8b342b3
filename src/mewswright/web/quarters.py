"""Quarters: the drawings large, and each finding beside what it measures."""

from collections.abc import Sequence
from dataclasses import dataclass

from fastapi import APIRouter, Request, Response
from markupsafe import Markup

from mewswright.build.frame import built_frame
from mewswright.build.report import worked_out
from mewswright.checks.case import cases
from mewswright.checks.finding import STATUSES, Finding, Status
from mewswright.checks.free_circle import free_circle, tether_perches
from mewswright.drawing.front import front_elevation
from mewswright.drawing.pins import Pin, pinned, spot_in_plan_mm
from mewswright.drawing.plan import FreeCircle, quarters_plan
from mewswright.drawing.section import side_section
from mewswright.drawing.svg import to_svg
from mewswright.model.problem import Problem
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard
from mewswright.web.show import drawing, page, reading_of, unreadable

router = APIRouter()


@dataclass(frozen=True)
class Subject:
    """One thing that findings speak of, with a number where the plan shows it."""

    name: str
    number: int | None
    worst: Status
    findings: tuple[Finding, ...]


@router.get("/quarters", name="quarters_list")
def show_all(request: Request) -> Response:
    """All quarters, worst first to look at."""
    reading = reading_of(request)
    if reading is None:
        return unreadable(request)
    residents = {
        q.name: sorted({s.bird for s in reading.yard.stays_in(q.name)})
        for q in reading.yard.quarters
    }
    return page(
        request,
        "quarters_list.html",
        {"counts": reading.counts, "residents": residents},
        section="quarters",
    )


@router.get("/quarters/{name}", name="quarters")
def show_one(request: Request, name: str) -> Response:
    """One unit: drawings, findings, take-off and cost."""
    reading = reading_of(request)
    if reading is None:
        return unreadable(request)
    yard = reading.yard
    quarters = yard.quarters_named(name)
    own = [f for f in reading.findings if f.quarters == name]
    subjects = subjects_of(quarters, [f for f in own if f.status != "sound"])
    try:
        built = reading.keep(f"built {name}", lambda: worked_out(yard, quarters))
        refused = ""
    except Problem as problem:
        built, refused = None, str(problem)
    names = [q.name for q in yard.quarters]
    at = names.index(name)
    return page(
        request,
        "quarters.html",
        {
            "quarters": quarters,
            "sheets": reading.keep(f"sheets {name}", lambda: sheets(yard, quarters, subjects)),
            "subjects": subjects,
            "sound": [f for f in own if f.status == "sound"],
            "counts": reading.counts[name],
            "stays": yard.stays_in(name),
            "built": built,
            "refused": refused,
            "before": names[at - 1] if at else None,
            "after": names[at + 1] if at + 1 < len(names) else None,
        },
        section="quarters",
    )


def subjects_of(quarters: Quarters, findings: Sequence[Finding]) -> tuple[Subject, ...]:
    """Gather findings under the thing that they measure; the plan's things come first."""
    groups: dict[str, list[Finding]] = {}
    for finding in findings:
        groups.setdefault(finding.fitting or finding.bird or "The unit as a whole", []).append(
            finding
        )
    placed = [n for n in groups if spot_in_plan_mm(quarters, n) is not None]
    number = {name: i for i, name in enumerate(placed, start=1)}
    ordered = placed + [n for n in groups if n not in number]
    return tuple(Subject(n, number.get(n), worst_of(groups[n]), tuple(groups[n])) for n in ordered)


def worst_of(findings: Sequence[Finding]) -> Status:
    """Give the worst status of some findings."""
    return min((f.status for f in findings), key=STATUSES.index)


def sheets(
    yard: Yard, quarters: Quarters, subjects: Sequence[Subject]
) -> tuple[tuple[str, Markup], ...]:
    """Draw a unit for the screen: what can be drawn of it, each with its caption."""
    try:
        frame = built_frame(yard, quarters)
    except Problem:
        frame = None
    (case,) = cases(yard, quarters=quarters.name)
    circles = [
        FreeCircle(perch.at_mm, free_circle(yard, resident).radius_mm, resident.bird.name)
        for resident in case.tethered
        for perch in tether_perches(quarters, resident)
    ]
    pins = [
        Pin(at, s.number, s.worst, s.name)
        for s in subjects
        if s.number is not None and (at := spot_in_plan_mm(quarters, s.name)) is not None
    ]
    links = {f"pin:{pin.number}": f"#subject-{pin.number}" for pin in pins}
    plan = pinned(quarters_plan(yard, quarters, frame, circles, paper="A4"), pins)
    drawn = [("Plan", to_svg(plan, links=links, theme="screen"))]
    if quarters.has_roof:
        drawn.append(
            ("Front", to_svg(front_elevation(yard, quarters, frame, paper="A4"), theme="screen"))
        )
        drawn.append(
            ("Section", to_svg(side_section(yard, quarters, frame, paper="A4"), theme="screen"))
        )
    return tuple((caption, drawing(svg)) for caption, svg in drawn)
