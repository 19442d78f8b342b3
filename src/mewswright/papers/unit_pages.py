"""A unit as the pages print it: sheets, take-off, cut plan as bars, shopping list."""

from collections.abc import Mapping, Sequence
from decimal import Decimal
from typing import Any

from mewswright.build.cost import CostLine
from mewswright.build.cut.plan import CutPlan, Pattern, SectionPlan
from mewswright.build.mark_runs import mark_runs
from mewswright.build.materials import known_material
from mewswright.build.parts import Part
from mewswright.build.takeoff import SettingOut
from mewswright.papers.figures import figure, money, unit
from mewswright.papers.order_pages import order_words
from mewswright.papers.record import DrawingLine, UnitLine
from mewswright.papers.unit import Unit

# What a carpenter takes up together. A kind belongs to one group.
GROUPS = (
    ("Timber", ("post", "sole", "head", "rafter", "stud", "nogging", "batten", "trim", "ridge")),
    ("Boarding and roof", ("board", "deck", "covering")),
    ("Bars, mesh and net", ("bar", "mesh", "net")),
    ("Base and floor", ("base", "membrane", "substrate")),
    ("Gutters and rain", ("rain",)),
    ("Doors and fittings", ("door", "hatch", "perch", "bath")),
    ("Fixings", ("fixing",)),
    ("Paint and covers", ("finish",)),
)
BAR_ROOM_MM = 146.0  # width of a page that a bar may take
BAR_SCALES = (10, 20, 25, 30, 40, 50, 75, 100, 150, 200, 500)
PRICED = {"keeper": "yours", "assumption": "assumed", "missing": "no price known"}


def unit_pages(
    unit_of: Unit, line: UnitLine, svgs: Mapping[str, str], currency: str,
    shared: Sequence[str] = (),
) -> dict[str, Any]:  # fmt: skip
    """Give the words of one unit.

    Args:
        unit_of: The unit as worked out.
        line: The same unit as pack.json has it.
        svgs: Drawings by file name.
        currency: Of all prices.
        shared: Assumptions that are printed once for all units.
    """
    name = unit_of.quarters.name
    sawing = unit_of.sawing
    longest = max((p.stock_mm for p in _patterns(sawing.plan, sawing.unpriced)), default=Decimal(1))
    scale = next((n for n in BAR_SCALES if longest / n <= BAR_ROOM_MM), int(longest / 146) + 1)
    return {
        "name": name,
        "sheets": [sheet(name, drawing, svgs[drawing.file], 3) for drawing in line.drawings],
        **frame_words(unit_of),
        "take_off_lead": "Lengths are the longest along the piece; a mark is the same on the "
        "drawings and in the cut plan. End cuts are degrees from square.",
        "setting_out": _setting_out(unit_of.take_off.setting_out),
        "take_off": _take_off(unit_of.take_off.parts),
        "cut_lead": f"Each bar is one length of stock at 1:{scale}, to be sawn as many times as "
        "stands before it; what is hatched is left over. Lengths in millimetres; the saw takes "
        "3 mm a cut.",
        "cut": [
            *_sections(sawing.plan, scale, currency),
            *_sections(sawing.unpriced, scale, None),
        ],
        "unsawn": [f"Not planned: {reason}" for reason in sawing.refused],
        **_shopping(unit_of, currency),
        "order": order_words(unit_of.order),
        "assumptions": [a for a in unit_of.take_off.assumptions if a not in shared],
    }


MEMBERS_LEAD = (
    "A first sizing under the loads of the yard file, not an approval: a licensed engineer and the "
    "local code decide. 100 % is wholly used; more fails."
)


def frame_words(unit_of: Unit) -> dict[str, Any]:
    """The check of the frame in words: verdict, members, joints, standing fast, refusals."""
    report = unit_of.frame
    if report is None:
        return {"frame": None, "frame_why": f"The frame was not checked: {unit_of.frame_why}."}
    stands: list[list[str]] = []
    for key in ("uplift", "sliding", "overturning", "racking"):
        worst = max(report.stability[key], key=lambda one: _used(one["utilisation"]), default=None)
        if worst is not None:
            stands.append([key.capitalize(), worst["direction"], _share(worst["utilisation"])])
    if report.stability["sway_mm"] is not None:
        limit = report.stability["sway_limit_mm"]
        stands.append(
            [
                "Sway",
                f"{figure(report.stability['sway_mm'], 1)} mm, limit {figure(limit, 1)} mm",
                "",
            ]
        )
    bearing = report.bearing
    stands.append(["Bearing", f"under {bearing['direction']}", _share(bearing["utilisation"])])
    anchors = report.anchors
    needed = anchors["needed"]
    stands.append(
        [
            "Anchors",
            f"{anchors['count']} x {anchors['anchor'].replace('_', ' ')}"
            + (f", needed {needed}" if needed is not None else ""),
            "",
        ]
    )
    return {
        "frame_why": "",
        "frame": {
            "lead": MEMBERS_LEAD,
            "verdict": "Sound under these loads."
            if report.sound
            else f"Not sound. Weakest: {report.weakest}.",
            "refusals": [f"An engineer must decide: {reason}." for reason in report.refusals],
            "members": [
                [m.mark, m.what, f"{m.section} {m.strength_class}", _share(m.utilisation),
                 m.governing, m.combination]
                for m in report.members
            ],
            "joints": [
                [j["name"], f"{j['count']} x {j['means'].replace('_', ' ')}",
                 _share(j["utilisation"]), j["how_known"]]
                for j in report.joints
            ],
            "stands": stands,
        },
    }  # fmt: skip


def _used(share: float | None) -> float:
    return float("inf") if share is None else share


def _share(share: float | None) -> str:
    return "nothing resists" if share is None else f"{figure(100 * share)} %"


def sheet(place: str, drawing: DrawingLine, svg: str, level: int) -> dict[str, Any]:
    """Give one sheet: it carries its own title block, so the page adds a heading and a number."""
    return {
        "place": place,
        "title": drawing.title,
        "level": level,
        "svg": svg,
        "width_mm": drawing.width_mm,
        "height_mm": drawing.height_mm,
        "alt": f"{drawing.title}, 1:{drawing.scale}. {drawing.description}",
    }


def _setting_out(setting: SettingOut) -> list[list[str]]:
    rows = [
        ["Diagonal, clear inside", f"{figure(setting.inner_diagonal_mm)} mm"],
        ["Diagonal over the sole plates", f"{figure(setting.frame_diagonal_mm)} mm"],
        ["The two diagonals may differ by", f"{figure(setting.diagonals_agree_mm)} mm"],
    ]
    if setting.roof_falls_one_in is None:
        return [*rows, ["Roof", "level"]]
    to = "back" if setting.roof_pitch_deg > 0 else "front"
    if (ridge := setting.ridge) is not None:
        rows += [
            [
                "Ridge",
                f"{figure(ridge.at_mm)} mm behind the front and {figure(ridge.height_mm)} mm up, "
                f"under the rafters; its beam from {figure(ridge.beam_under_mm)} to "
                f"{figure(ridge.beam_top_mm)} mm",
            ],
            [
                "Back slope",
                f"{figure(abs(ridge.back_pitch_deg), 2)}°, 1 in {figure(ridge.back_falls_one_in)}, "
                f"{figure(ridge.back_fall_mm)} mm; its rafters run {figure(ridge.back_run_mm)} mm "
                f"level, {figure(ridge.back_length_mm)} mm long; what follows is the front slope",
            ],
        ]
    return [
        *rows,
        [
            "Roof",
            f"{figure(abs(setting.roof_pitch_deg), 2)}°, falls to the {to}, 1 in "
            f"{figure(setting.roof_falls_one_in)}, {figure(setting.roof_fall_mm)} mm over the "
            "clear depth",
        ],
        [
            "Rafters",
            f"level run {figure(setting.rafter_run_mm)} mm, one edge "
            f"{figure(setting.rafter_edge_mm)} mm, long point to long point "
            f"{figure(setting.rafter_length_mm)} mm",
        ],
        [
            "Rafter middles from the left inner corner",
            ", ".join(figure(x) for x in setting.rafter_middles_mm) + " mm",
        ],
    ]


def _take_off(parts: Sequence[Part]) -> list[dict[str, Any]]:
    known = {kind for _, kinds in GROUPS for kind in kinds}
    others = tuple(dict.fromkeys(part.kind for part in parts if part.kind not in known))
    groups = []
    for name, kinds in (*GROUPS, ("Other", others)):
        rows = [part for part in parts if part.kind in kinds]
        if rows:
            # Many parts share a note: it is said once under the table and a letter points to it.
            notes = list(dict.fromkeys(part.note for part in rows if part.note))
            groups.append(
                {
                    "name": name,
                    "rows": [_part(part, notes) for part in rows],
                    "notes": [[_letter(i), note] for i, note in enumerate(notes)],
                }
            )
    return groups


def _letter(turn: int) -> str:
    """Give a, b ... z, aa, ab ... in turn."""
    return (_letter(turn // 26 - 1) if turn >= 26 else "") + chr(ord("a") + turn % 26)


def _part(part: Part, notes: Sequence[str]) -> dict[str, str]:
    size = figure(part.length_mm) if part.length_mm else ""
    if part.width_mm and part.length_mm:
        size += f" × {figure(part.width_mm)}"
    how_much = ""
    if not part.sawn and part.amount and part.unit != "piece":
        how_much = f"{figure(part.amount, 2)} {unit(part.unit)}"
    return {
        "mark": part.mark,
        "what": part.what,
        "place": part.place,
        "of": f"{part.section} {part.material}" if part.section else material_name(part.material),
        "size": size,
        "ends": _ends(part),
        "count": figure(part.how_many),
        "amount": how_much,
        "note": _letter(notes.index(part.note)) if part.note else "",
    }


def material_name(item: str) -> str:
    """Give the handbook's name of a material, or its id in plain words."""
    known = known_material(item)
    return known.name if known else item.replace("_", " ")


def _ends(part: Part) -> str:
    if not (part.cut_start_deg or part.cut_end_deg):
        return "square" if part.sawn else ""
    return f"{figure(part.cut_start_deg, 2)}° / {figure(part.cut_end_deg, 2)}°"


def _patterns(*plans: CutPlan | None) -> list[Pattern]:
    return [p for plan in plans if plan for section in plan.sections for p in section.patterns]


def _sections(plan: CutPlan | None, scale: int, currency: str | None) -> list[dict[str, Any]]:
    if plan is None:
        return []
    return [
        {
            "name": section.section,
            "worth": _worth(section, currency),
            "bars": [_bar(pattern, scale) for pattern in section.patterns],
        }
        for section in plan.sections
    ]


def _worth(section: SectionPlan, currency: str | None) -> str:
    bars = sum(p.count for p in section.patterns)
    metres = sum((p.stock_mm * p.count for p in section.patterns), Decimal(0)) / 1000
    left = sum((p.offcut_mm * p.count for p in section.patterns), Decimal(0)) / 1000
    said = (
        f"{bars} {'bar' if bars == 1 else 'bars'}, {figure(metres, 2)} m in all, "
        f"{figure(left, 2)} m left over; "
    )
    if currency is None:
        said += "the yard has no stock of it: usual lengths, no price; "
        return said + ("no plan takes fewer metres" if section.proven else "fewer may do")
    said += f"{money(section.cost, currency)}; "
    if section.proven:
        return said + "no plan is cheaper"
    return said + f"no plan is cheaper than {money(section.lower_bound, currency)}"


def _bar(pattern: Pattern, scale: int) -> dict[str, Any]:
    """One bar to scale: pieces one behind the other with the saw's cut between them."""
    pieces = []
    count = sum(cut.count for cut in pattern.cuts)
    lengths = sum((cut.length_mm * cut.count for cut in pattern.cuts), Decimal(0))
    gaps = max(count - 1, 1)
    # The cuts share what is neither piece nor offcut; the last one belongs to the offcut.
    spare = pattern.stock_mm - lengths - pattern.offcut_mm
    kerf = spare / (count if pattern.offcut_mm else gaps)
    at = Decimal(0)
    for cut in pattern.cuts:
        for _ in range(cut.count):
            pieces.append(
                {
                    "mark": cut.mark,
                    "length": figure(cut.length_mm),
                    "at_mm": round(float(at / scale), 3),
                    "width_mm": round(float(cut.length_mm / scale), 3),
                }
            )
            at += cut.length_mm + kerf
    words = ", ".join(f"{c.count} × {c.mark} {figure(c.length_mm)}" for c in pattern.cuts)
    left = f"{figure(pattern.offcut_mm)} left over" if pattern.offcut_mm else "nothing left over"
    return {
        "times": f"{pattern.count} ×",
        "stock": f"{figure(pattern.stock_mm)} mm",
        "width_mm": round(float(pattern.stock_mm / scale), 3),
        "offcut_width_mm": round(float(pattern.offcut_mm / scale), 3),
        "pieces": pieces,
        "words": f"{words}; {left}",
    }


def _shopping(unit_of: Unit, currency: str) -> dict[str, Any]:
    costing = unit_of.costing
    totals = [
        {"what": "At your own prices", "total": money(costing.from_keeper), "note": ""},
        {"what": "At assumed prices", "total": money(costing.from_assumption), "note": ""},
        {
            "what": "Total" if costing.is_whole else "Total of what has a price",
            "total": money(costing.total),
            "note": ""
            if costing.is_whole
            else f"{len(costing.missing)} without a price are not in it",
        },
    ]
    return {
        "shopping_lead": f"All prices in {currency}. Whole packs are counted, with the waste that "
        "the handbook adds. A price that is not yours is assumed: ask before you rely on it.",
        "shopping": [_shop(line) for line in costing.lines],
        "totals": totals,
    }


def _shop(line: CostLine) -> dict[str, str]:
    timber = line.what.startswith("sawn timber")
    shown = "" if line.unit == "piece" else f" {unit(line.unit)}"
    needed = f"{figure(line.amount, 2)}{shown}" if line.amount else ""
    if needed and line.waste_pct:
        needed += f" + {figure(line.waste_pct)} % waste"
    return {
        "what": line.what,
        # The cut plan says which marks come from which bar.
        "marks": "" if timber else mark_runs(line.marks),
        "note": "" if line.note == "from the cut plan" else line.note,
        "needed": needed,
        "pack": line.pack.replace("m2", "m²").replace("m3", "m³"),
        "count": str(line.buy) if line.buy else "–",
        "price": money(line.price),
        "total": money(line.total),
        "priced": PRICED[line.priced],
    }
