"""The pack: every paper and file that a yard's building and checking needs.

The same yard gives the same bytes: no clock, no chance, and nothing from the machine. Only where
a standard that binds has rows of certain days does the day count, and then it is printed.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from functools import partial
from pathlib import Path

from mewswright import __version__
from mewswright.checks.brief import BirdBrief, briefs
from mewswright.checks.finding import STATUSES, Finding
from mewswright.checks.registry import run_checks
from mewswright.drawing.dxf import to_dxf
from mewswright.drawing.gltf import to_glb
from mewswright.drawing.paper import Paper
from mewswright.drawing.scene import Scene
from mewswright.drawing.sheet import sheet
from mewswright.drawing.svg import to_svg
from mewswright.drawing.yard_plan import yard_plan
from mewswright.handbook.shelf import shelf_of
from mewswright.model.quantity import mm_from_m
from mewswright.model.yard import Yard
from mewswright.papers.cautions import cautions
from mewswright.papers.chosen import chosen
from mewswright.papers.csvs import cut_csv, findings_csv, shopping_csv, take_off_csv
from mewswright.papers.label_pages import label_pages
from mewswright.papers.names import file_stems
from mewswright.papers.pages import pages_of
from mewswright.papers.record import (
    DrawingLine,
    LeftOut,
    PackRecord,
    PartLine,
    StandardLine,
    UnitLine,
    YardLine,
)
from mewswright.papers.sheets import at_largest
from mewswright.papers.typeset import LABEL_TEMPLATES, typeset
from mewswright.papers.unit import Unit, units_of
from mewswright.papers.witnesses import source_lines

PDF, LABELS, JSON = "pack.pdf", "labels.pdf", "pack.json"


@dataclass(frozen=True)
class Pack:
    """The files of a pack by name, in the order in which they are written."""

    files: Mapping[str, bytes]


def build_pack(
    yard: Yard,
    quarters: Sequence[str] | None = None,
    *,
    on: date | None = None,
    paper: Paper = "A3",
    fonts: Path | None = None,
) -> Pack:
    """Make the pack of a yard.

    Args:
        yard: The yard.
        quarters: Names of the quarters, rows or corridors to draw and take off; all that have
            a frame, if None. Findings and briefs always speak of the whole yard.
        on: Day on which the rows of the standards must bind; None = rows without an end.
        paper: Paper of the drawings. Text is on Letter with drawings on Letter, else on A4.
        fonts: Folder of the faces; the package's own, if None.

    Returns:
        `pack.pdf`, `labels.pdf`, `pack.json`, each drawing as SVG and DXF, each unit as GLB and the
        tables as CSV.

    Raises:
        Problem: For unknown quarters, quarters without a frame that were asked for by
            name, an unknown standard, species or material, or missing faces.
    """
    choices, left_out = chosen(yard, quarters)
    names = dict.fromkeys([q.name for q in (*yard.quarters, *(c.quarters for c in choices))])
    stems = file_stems([*names])
    findings, needs = run_checks(yard, on=on), briefs(yard, on=on)
    units = units_of(choices, paper)
    files: dict[str, bytes] = {"findings.csv": findings_csv(findings)}
    ground = _ground(yard, findings, paper)
    drawn: dict[str, Scene] = {}  # by the name of its files
    if ground is not None:
        drawn["yard"] = ground
    lines = []
    for unit in units:
        stem = stems[unit.quarters.name]
        line = _unit_line(unit, stem)
        lines.append(line)
        drawn |= {f"{stem}-{scene.name}": scene for scene in unit.sheets}
        files[f"{stem}.glb"] = to_glb(unit.take_off)
        files[f"takeoff-{stem}.csv"] = take_off_csv(line.take_off)
        files[f"cut-{stem}.csv"] = cut_csv(unit.sawing)
        files[f"shopping-{stem}.csv"] = shopping_csv(unit.costing)
    svgs = {f"{name}.svg": to_svg(scene) for name, scene in drawn.items()}
    files |= {name: svg.encode() for name, svg in svgs.items()}
    dxfs = [f"{name}.dxf" for name in drawn]
    if units:
        labels = label_pages(yard.yard.name, units, paper)
        files[LABELS] = typeset(labels, fonts, LABEL_TEMPLATES)
    listed = [PDF, JSON, *files, *dxfs]
    record = _record(yard, findings, needs, ground, lines, left_out, listed, on)
    files[PDF] = typeset(pages_of(record, units, svgs, paper), fonts)
    files |= {f"{name}.dxf": to_dxf(scene, fonts) for name, scene in drawn.items()}
    files[JSON] = (record.model_dump_json(indent=1) + "\n").encode()
    return Pack(files={name: files[name] for name in sorted(files)})


def _ground(yard: Yard, findings: Sequence[Finding], paper: Paper) -> Scene | None:
    if not (yard.yard.boundary_m or yard.feature or yard.quarters):
        return None
    points = [*yard.yard.boundary_m, *(q.at_m for q in yard.quarters)]
    wide, high = (
        mm_from_m(max(line, default=0.0) - min(line, default=0.0))
        for line in ([p[0] for p in points], [p[1] for p in points])
    )
    scene = at_largest(
        "the plan of the ground", partial(yard_plan, yard, findings), wide, high, paper
    )
    return sheet(scene, yard.yard.name, scene.title, paper=paper)


def drawing_line(scene: Scene, file: str) -> DrawingLine:
    """Say what a drawing is, how large its sheet is, and what its files are called."""
    return DrawingLine(
        name=scene.name,
        title=scene.title,
        description=scene.description,
        file=f"{file}.svg",
        dxf=f"{file}.dxf",
        scale=scene.scale,
        width_mm=round(scene.box.width / scene.scale, 2),
        height_mm=round(scene.box.height / scene.scale, 2),
    )


def _unit_line(unit: Unit, stem: str) -> UnitLine:
    frame, sawing = unit.take_off.frame, unit.sawing
    return UnitLine(
        quarters=unit.quarters.name,
        kind=unit.quarters.kind,
        outer_width_mm=frame.outer_width_mm,
        outer_depth_mm=frame.outer_depth_mm,
        roof_pitch_deg=round(frame.roof_pitch_deg, 3),
        drawings=tuple(drawing_line(s, f"{stem}-{s.name}") for s in unit.sheets),
        glb=f"{stem}.glb",
        setting_out=unit.take_off.setting_out,
        frame=unit.frame.contract() if unit.frame else None,
        frame_why=unit.frame_why,
        take_off=tuple(
            PartLine(**{name: getattr(part, name) for name in PartLine.model_fields})
            for part in unit.take_off.parts
        ),
        cut_plan=sawing.plan.to_json() if sawing.plan else None,
        unpriced_cut_plan=sawing.unpriced.to_json() if sawing.unpriced else None,
        unsawn=sawing.refused,
        costing=unit.costing,
        order=unit.order,
        assumptions=unit.take_off.assumptions,
        cautions=unit.take_off.cautions,
    )


def _record(
    yard: Yard, findings: Sequence[Finding], needs: Sequence[BirdBrief], ground: Scene | None,
    units: Sequence[UnitLine], left_out: Sequence[LeftOut], files: Sequence[str],
    on: date | None,
) -> PackRecord:  # fmt: skip
    holding = yard.yard
    shelf = shelf_of(yard.own_standards, on)
    standards = [shelf.standard(key) for key in holding.standards]
    return PackRecord(
        version=__version__,
        yard=YardLine(
            name=holding.name,
            latitude_deg=holding.latitude_deg,
            longitude_deg=holding.longitude_deg,
            altitude_m=holding.altitude_m,
            currency=holding.currency,
        ),
        standards=tuple(
            StandardLine(
                key=s.key,
                name=s.name,
                jurisdiction=s.jurisdiction,
                strength=s.strength,
                summary=s.summary,
                gaps=tuple(s.gaps),
                own=s.own,
            )
            for s in standards
        ),
        # A day that changes nothing is not printed: the same yard gives the same pack on all.
        judged_on=on if any(shelf.is_dated(key) for key in holding.standards) else None,
        counts={status: sum(f.status == status for f in findings) for status in STATUSES},
        findings=tuple(findings),
        briefs=tuple(needs),
        ground=drawing_line(ground, "yard") if ground else None,
        units=tuple(units),
        left_out=tuple(left_out),
        sources=source_lines([*findings, *needs], yard.own_standards),
        cautions=cautions(yard),
        files=tuple(sorted(files)),
    )
