"""`mewswright year`: a plan made anew, and files to hang up and to carry about."""

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence
    from datetime import date

    from mewswright.model.bird import Bird
    from mewswright.model.yard import Yard
    from mewswright.year.plan import YearPlan
    from mewswright.year.replan import Broken, Happened
    from mewswright.year.report import YearReport

CHARTS = (".svg", ".pdf")


def refuse_bad_files(ics: Path | None, chart: Path | None) -> None:
    """Refuse files that cannot be written, before the long work.

    Raises:
        Problem: For a chart of an unknown kind, or a folder that is not there.
    """
    from mewswright.model.problem import Problem

    if chart is not None and chart.suffix.lower() not in CHARTS:
        raise Problem(f"--chart {chart}: name a file that ends in .svg or .pdf")
    for option, path in (("--ics", ics), ("--chart", chart)):
        if path is not None and not path.absolute().parent.is_dir():
            raise Problem(f"{option} {path}: there is no folder {path.parent}: make it first")


def write_files(report: "YearReport", yard: "Yard", ics: Path | None, chart: Path | None) -> None:
    """Write the calendar and the wall chart of a plan; nothing where there is no plan.

    Raises:
        Problem: If a file cannot be written.
    """
    from datetime import UTC, datetime

    from mewswright.drawing.svg import to_svg
    from mewswright.drawing.year_chart import year_chart
    from mewswright.papers.chart_pages import chart_pdf
    from mewswright.year.calendar import to_calendar
    from mewswright.year.shown import shown_plan

    if not report.stays:
        return
    plan = shown_plan(report, yard)
    if ics is not None:
        _write("--ics", ics, to_calendar(plan, datetime.now(UTC)))
    if chart is not None:
        drawn = chart.suffix.lower() == ".svg"
        _write("--chart", chart, to_svg(year_chart(plan)).encode() if drawn else chart_pdf(plan))


def _write(option: str, path: Path, content: bytes) -> None:
    from mewswright.model.problem import Problem

    try:
        path.write_bytes(content)
    except OSError as error:
        raise Problem(f"{option} {path}: it cannot be written ({error.strerror})") from error


def old_plan(path: Path) -> "YearPlan":
    """Read the plan that is to be kept as far as can be.

    Raises:
        Problem: If the file cannot be read, or holds no plan.
    """
    from mewswright.model.problem import Problem
    from mewswright.year.plan_file import read_plan

    try:
        text = path.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError) as error:
        raise Problem(f"--replan {path}: it cannot be read ({error})") from error
    return read_plan(text, str(path))


def refuse_without_replan(given: "Mapping[str, Sequence[str] | None]") -> None:
    """Refuse what tells of a plan that is not given.

    Raises:
        Problem: If there is any.
    """
    from mewswright.model.problem import Problem

    for option, words in given.items():
        if words:
            raise Problem(
                f"{option} {words[0]!r} tells what changed in a plan: give the plan, too, with "
                "--replan PLAN.json --from DATE"
            )


def happened(
    on: "date | None", old: "YearPlan", gone: "Sequence[str]", broken: "Sequence[str]",
    arrives: "Sequence[str]",
) -> "Happened":  # fmt: skip
    """What the options say that happened.

    Raises:
        Problem: For an option of another form.
    """
    from mewswright.model.problem import Problem
    from mewswright.year.replan import Happened

    if on is None:
        raise Problem(
            "--replan asks for --from DATE, the day from which to plan anew, as in "
            f"--from {old.starts_on}"
        )
    return Happened(
        on,
        tuple(gone),
        tuple(_broken(text, on, old.ends_on) for text in broken),
        tuple(_arrival(text) for text in arrives),
    )


def _broken(text: str, on: "date", last: "date") -> "Broken":
    from datetime import date
    from re import fullmatch

    from mewswright.model.problem import Problem
    from mewswright.year.replan import Broken

    found = fullmatch(r"\s*(.+?)(?:\s+(\d{4}-\d\d-\d\d)\s*\.\.\s*(\d{4}-\d\d-\d\d))?\s*", text)
    try:
        assert found is not None
        first, end = (
            (date.fromisoformat(found[2]), date.fromisoformat(found[3])) if found[2] else (on, last)
        )
    except (AssertionError, ValueError):
        raise Problem(
            f"--broken {text!r}: write QUARTERS, or QUARTERS FROM..TO, as in "
            '"Slate shelter 2027-05-12..2027-06-30"'
        ) from None
    if end < first:
        raise Problem(f"--broken {text!r}: it ends before it starts: change one of the days")
    return Broken(found[1], first, end)


def _arrival(text: str) -> "Bird":
    from pydantic import ValidationError

    from mewswright.handbook import species
    from mewswright.model.bird import Bird
    from mewswright.model.problem import Problem

    parts = [part.strip() for part in text.split(":")]
    if not 2 <= len(parts) <= 4 or not all(parts):
        raise Problem(
            f"--arrives {text!r}: write NAME:SPECIES, with :SEX and :USE after it where known, as "
            'in "Fern:common_kestrel:f:display"'
        )
    species(parts[1])  # says which there are
    keys = dict(zip(("name", "species", "sex", "use"), parts, strict=False))
    try:
        return Bird.model_validate(keys)
    except ValidationError as error:
        first = error.errors()[0]
        raise Problem(
            f"--arrives {text!r}: {first['loc'][0]} is {first['input']!r}: {first['msg']}"
        ) from None


def changes_spoken(report: "YearReport") -> Iterator[str]:
    """What a plan made anew changes, in lines; nothing of any other plan."""
    from mewswright.year.replan_report import ReplanReport

    if not isinstance(report, ReplanReport) or report.kept_share is None:
        return
    share = f"{100 * report.kept_share:.1f} % of the bird-days from then on are as planned"
    yield ""
    yield f"Planned anew from {report.replanned_from}: {share}."
    if not report.changes:
        yield "  Nothing had to change."
    for change in report.changes:
        yield (
            f"  {change.starts_on} to {change.ends_on}  {change.bird}: "
            f"{change.was or 'not there'} -> {change.now or 'not there'}"
        )
        yield f"    {change.why}."
