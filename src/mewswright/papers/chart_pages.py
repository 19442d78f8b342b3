"""The wall chart of a year as pages, each a sheet of its own paper."""

from pathlib import Path

from mewswright.drawing.paper import Paper
from mewswright.drawing.scene import Scene
from mewswright.drawing.svg import to_svg
from mewswright.drawing.year_chart import year_sheets
from mewswright.papers.typeset import typeset
from mewswright.year.plan import YearPlan, day_words

CHART_TEMPLATES = ("style", "sheets", "chart")


def chart_pdf(plan: YearPlan, paper: Paper = "A3", fonts: Path | None = None) -> bytes:
    """Typeset the wall chart.

    Args:
        plan: The plan.
        paper: Paper of the sheets, lying on its long side.
        fonts: Folder of the faces; the package's own, if None.

    Returns:
        A PDF of one sheet, or of as many as it takes to be read.

    Raises:
        Problem: If a face is missing.
    """
    days = f"{day_words(plan.starts_on)} to {day_words(plan.ends_on)}"
    return typeset(
        {
            "title": "Year plan",
            "description": f"Who lives where in {plan.yard}, {days}",
            "yard": {"name": plan.yard},
            "paper": {"text": "us-letter" if paper == "Letter" else "a4"},
            "cautions": [],
            "sheets": [_sheet(scene) for scene in year_sheets(plan, paper)],
        },
        fonts,
        CHART_TEMPLATES,
    )


def _sheet(scene: Scene) -> dict[str, object]:
    return {
        "title": scene.title,
        "level": 1,
        "svg": to_svg(scene),
        "width_mm": round(scene.box.width, 2),
        "height_mm": round(scene.box.height, 2),
        "alt": f"{scene.title}. {scene.description}",
    }
