"""The order of building as the pages print it."""

from typing import Any

from mewswright.build.mark_runs import mark_runs
from mewswright.build.order import BuildOrder, Step
from mewswright.papers.figures import figure, unit


def order_words(order: BuildOrder) -> dict[str, Any]:
    """Give the words of the steps of one unit."""
    return {
        "lead": f"{figure(order.hours)} hours of one person. Tick each hold point before you go "
        "on. A fixing stands at the step that takes it up first.",
        "steps": [_step(step) for step in order.steps],
        "assumed": list(order.assumptions),
    }


def _step(step: Step) -> dict[str, Any]:
    people = "1 person" if step.people == 1 else f"{step.people} people"
    if step.people > 1 and step.heaviest_kg:
        people += f"; heaviest {step.heaviest}, {figure(step.heaviest_kg)} kg"
    return {
        "number": str(step.number),
        "title": step.title,
        "do": step.do,
        "parts": mark_runs(step.marks),
        "tools": ", ".join(step.tools),
        "people": people,
        "hours": f"{figure(step.hours)} h" if step.hours else "",
        "works": "; ".join(
            f"{work.what}, {figure(work.amount)}"
            + ("" if work.per == "count" else f" {unit(work.per)}")
            for work in step.works
        ),
        "holds": list(step.holds),
    }
