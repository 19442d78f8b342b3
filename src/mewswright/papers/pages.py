"""What the templates print: the record of a pack in words, in the order of its pages."""

from collections.abc import Mapping, Sequence
from typing import Any

from mewswright.checks.finding import STATUSES, Finding
from mewswright.checks.registry import catalogue
from mewswright.drawing.paper import Paper
from mewswright.papers.brief_pages import brief_page
from mewswright.papers.cautions import FIRST
from mewswright.papers.citing import Citer
from mewswright.papers.figures import figure, quantity
from mewswright.papers.record import PackRecord
from mewswright.papers.unit import Unit
from mewswright.papers.unit_pages import sheet, unit_pages

TITLE = "Build pack"
LINE = 35  # letters that a row of the sound findings takes up by being a row


def pages_of(
    record: PackRecord, units: Sequence[Unit], svgs: Mapping[str, str], paper: Paper = "A3"
) -> dict[str, Any]:
    """Give all words and drawings of the printed pack.

    Args:
        record: The pack as pack.json has it.
        units: The units as worked out, in the record's order.
        svgs: Drawings by file name.
        paper: Paper of the drawings.
    """
    yard = record.yard
    shared, minded = shared_lines(record)
    cite = Citer([s.name for s in record.sources])
    return {
        "title": TITLE,
        "description": f"{TITLE} of {yard.name}: briefs, findings, drawings, take-off, cut plan",
        "yard": {"name": yard.name},
        "paper": {"text": "us-letter" if paper == "Letter" else "a4"},
        "about": _about(record),
        "first_caution": list(FIRST),
        "cautions": list(record.cautions),
        "counts": dict(record.counts),
        "standards": [s.model_dump(mode="json") for s in record.standards],
        "ground": [
            sheet("The ground", drawing, svgs[drawing.file], 1)
            for drawing in (record.ground,)
            if drawing is not None
        ],
        "briefs": [brief_page(brief, cite) for brief in record.briefs],
        "findings": finding_groups(record, cite),
        "units": [
            unit_pages(unit, line, svgs, yard.currency, shared)
            for unit, line in zip(units, record.units, strict=True)
        ],
        "shared": list(shared),
        "minded": list(minded),
        "left_out": [f"{left.quarters}: {left.why}" for left in record.left_out],
        "sources_lead": (
            f"The figures are those of the handbook of mewswright {record.version}. It records how "
            "each was come by, not the day on which its source was read: look for a newer edition "
            "before you rely on one. “Read” means seen in a stored copy, “from memory” believed "
            "and not read again, “derived” worked out from others, “judgement” a working rule "
            "without a published source."
        ),
        "sources": [
            {
                "number": cite.number(s.name),
                "name": s.name,
                "address": s.address,
                "trust": s.trust,
                "how_known": ", ".join(s.how_known),
            }
            for s in record.sources
        ],
    }


def _about(record: PackRecord) -> list[list[str]]:
    yard = record.yard
    north = "N" if yard.latitude_deg >= 0 else "S"
    east = "E" if yard.longitude_deg >= 0 else "W"
    return [
        [
            "Where",
            f"{figure(abs(yard.latitude_deg), 4)}° {north}, {figure(abs(yard.longitude_deg), 4)}° "
            f"{east}, {figure(yard.altitude_m, 0)} m above the sea",
        ],
        ["Birds", ", ".join(b.bird for b in record.briefs) or "none"],
        ["To build", ", ".join(u.quarters for u in record.units) or "nothing"],
        ["Judged by", _judged_by(record)],
        ["Currency", yard.currency],
        ["Made with", _made_with(record)],
    ]


def _judged_by(record: PackRecord) -> str:
    names = "; ".join(s.name for s in record.standards) or "no standard"
    return f"{names}; as they bind on {record.judged_on}" if record.judged_on else names


def _made_with(record: PackRecord) -> str:
    own = any(s.own for s in record.standards)
    files = "the yard file and the standards beside it" if own else "the yard file"
    return f"mewswright {record.version}, from {files} alone"


def shared_lines(record: PackRecord) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Give the assumptions and the cautions that hold for every unit of the pack."""
    units = record.units
    if not units:
        return (), ()
    assumed = tuple(a for a in units[0].assumptions if all(a in u.assumptions for u in units))
    minded = tuple(dict.fromkeys(caution for u in units for caution in u.cautions))
    return (assumed if len(units) > 1 else ()), minded


def finding_groups(record: PackRecord, cite: Citer) -> list[dict[str, Any]]:
    """Group findings by quarters, those with the worst first, and in each the worst first.

    What is sound is gathered by check: an inspector wants to see that it was asked, not
    to read each answer at length.
    """
    groups: dict[str | None, list[Finding]] = {}
    for finding in record.findings:  # they come worst first, then in the order of the file
        groups.setdefault(finding.quarters, []).append(finding)
    counted = [
        (name, {status: sum(f.status == status for f in found) for status in STATUSES}, found)
        for name, found in groups.items()
    ]
    counted.sort(key=lambda group: [-group[1][status] for status in STATUSES[:-1]])
    titles = {check.code: check.title for check in catalogue()}
    return [
        {
            "name": name or "The yard as a whole",
            "counts": counts,
            "open": [
                _finding(f, titles.get(f.code, ""), cite) for f in found if f.status != "sound"
            ],
            "sound": _halves(_sound([f for f in found if f.status == "sound"], titles)),
        }
        for name, counts, found in counted
    ]


def _finding(finding: Finding, title: str, cite: Citer) -> dict[str, Any]:
    return {
        "status": finding.status,
        "code": finding.code,
        "title": title,
        "thing": _thing(finding),
        "measured": quantity(finding.measured),
        "limit": quantity(finding.limit),
        "why": finding.why,
        "remedy": finding.remedy,
        "sources": cite.named(finding.sources),
    }


def _thing(finding: Finding) -> str:
    named = ", ".join(name for name in (finding.bird, finding.fitting) if name)
    return named or ("the quarters" if finding.quarters else "the yard")


def _sound(findings: Sequence[Finding], titles: Mapping[str, str]) -> list[dict[str, str]]:
    by_code: dict[str, dict[str, list[str]]] = {}
    for finding in findings:
        limit = f"against {quantity(finding.limit)}" if finding.limit else ""
        figures = f"{quantity(finding.measured)} {limit}".strip()
        things = by_code.setdefault(finding.code, {})
        things.setdefault(figures, []).append(_thing(finding))
    return [
        {
            "code": code,
            "title": titles.get(code, ""),
            "things": "; ".join(
                ", ".join(dict.fromkeys(things)) + (f" ({figures})" if figures else "")
                for figures, things in by_code[code].items()
            ),
        }
        for code in sorted(by_code)
    ]


def _halves(rows: Sequence[dict[str, str]]) -> list[list[dict[str, str]]]:
    """Share rows out over two columns of about one length, in order; none where there are none."""
    if not rows:
        return []
    lengths = [len(row["title"]) + len(row["things"]) + LINE for row in rows]
    ends = [sum(lengths[:i]) for i in range(len(rows) + 1)]
    middle = min(range(len(rows) + 1), key=lambda i: abs(2 * ends[i] - ends[-1]))
    return [list(rows[:middle]), list(rows[middle:])]
