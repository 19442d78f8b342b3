"""The roof: where its water goes, how it is closed, how high it is."""

from collections.abc import Iterator
from itertools import pairwise

from mewswright.build import room
from mewswright.build.clear_height import clear_height_mm
from mewswright.checks import asked
from mewswright.checks.asked import verdict
from mewswright.checks.case import Case
from mewswright.checks.finding import TAPE_MM, Finding
from mewswright.checks.limits import whole_mm
from mewswright.checks.narrowest import narrowest
from mewswright.checks.registry import quarters_check
from mewswright.checks.size import raised
from mewswright.model.fitting import Side
from mewswright.model.quantity import Quantity, millimetres


def fall_mm(case: Case) -> float:
    """How much higher the front of the roof is than its back [mm]."""
    q = case.quarters
    assert q.front_height_mm is not None
    assert q.back_height_mm is not None
    return q.front_height_mm - q.back_height_mm


def flattest_mm(case: Case) -> tuple[float, float]:
    """Level run and fall of the flattest slope of the roof [mm]."""
    slopes = [
        (far - near, abs(high - low))
        for (near, low), (far, high) in pairwise(case.quarters.ceiling_line_mm)
    ]
    return min(slopes, key=lambda slope: slope[1] / slope[0])


def has_solid_roof(case: Case) -> bool:
    """Some part of the top sheds rain."""
    q = case.quarters
    return q.has_roof and q.roof is not None and q.roof.covered_share > 0 and q.kind != "pitch"


@quarters_check("R101", "Where the roof sheds its water")
def fall_direction(case: Case) -> Iterator[Finding]:
    """Rain runs off over a boarded face, not in front of an open one."""
    faces = case.quarters.faces
    if not has_solid_roof(case) or faces is None:
        return
    if case.quarters.ridge_mm is not None:
        wet = [s for s in ("front", "back") if not faces.side(s).is_solid]
        yield verdict(
            "R101", case, not wet, "short",
            measured=Quantity(value="falls to the front and the back"),
            fitting=f"{wet[0]} face" if wet else "roof",
            why="rain drips before an open face, and splashes in", remedy="hang gutters",
            sources=asked.judgement("water runs off behind a boarded face"),
        )  # fmt: skip
        return
    fall = fall_mm(case)
    if abs(fall) <= TAPE_MM:
        yield verdict(
            "R101", case, False, "mind", measured=Quantity(value="level"),
            why="a level roof sheds its water anywhere", remedy="raise the front",
            sources=asked.judgement("water runs off behind a boarded face"),
        )  # fmt: skip
        return
    low: Side = "back" if fall > 0 else "front"
    other: Side = "front" if fall > 0 else "back"
    turned = f"turn the fall towards the {other}" if faces.side(other).is_solid else "hang a gutter"
    yield verdict(
        "R101", case, faces.side(low).is_solid, "short",
        measured=Quantity(value=f"falls to the {low}"), fitting=f"{low} face",
        why=f"rain drips before the open {low}, and splashes in",
        remedy=turned, sources=asked.judgement("water runs off behind a boarded face"),
    )  # fmt: skip


@quarters_check("R102", "Fall of the roof")
def least_fall(case: Case) -> Iterator[Finding]:
    """The roof is steep enough for its cover."""
    q = case.quarters
    if not has_solid_roof(case) or q.roof is None:
        return
    run, fall = flattest_mm(case)
    rules = asked.of_standard(asked.HOUSE, "roof_fall_felt_pct")
    if q.roof.cover == "felt" and rules:
        pct = asked.number(rules[0])
        limit_mm = run * pct / 100
        yield verdict(
            "R102", case, asked.reaches(fall, limit_mm), "short",
            measured=millimetres(fall), limit=millimetres(limit_mm),
            why=f"felt wants {pct:g} % as drawn, or water stands on it",
            remedy=f"make the fall {millimetres(limit_mm - fall)} greater",
            sources=asked.of_rule(rules[0]),
        )  # fmt: skip
        return
    yield verdict(
        "R102", case, False, "short" if fall <= TAPE_MM else "mind", measured=millimetres(fall),
        why="a level roof holds water" if fall <= TAPE_MM
        else f"no least fall is on record for {q.roof.cover}",
        remedy="give it a fall" if fall <= TAPE_MM else "ask the maker of the sheets",
        sources=asked.judgement("least fall of a roof that is not felt"),
    )  # fmt: skip


@quarters_check("R103", "Share of the top that is roofed")
def roofed_share(case: Case) -> Iterator[Finding]:
    """Enough of the floor is dry; all of it while a housing order is in force."""
    q = case.quarters
    if not case.residents:
        return
    share = q.roof.covered_share if has_solid_roof(case) and q.roof is not None else 0.0
    for rule in asked.named(case, "open_weathering"):
        yield verdict(
            "R103", case, share == 1, asked.miss(rule),
            measured=Quantity(value=share * 100, unit="pct"), limit=Quantity(value=100, unit="pct"),
            why="open weathering is forbidden while a housing order is in force",
            remedy="bring the bird under a roof", sources=asked.of_rule(rule),
        )  # fmt: skip
    found = [r for bird in case.residents for r in asked.asked(case, "solid_roof_fraction", bird)]
    found = [r for r in found if r.place in ("any", q.kind) or q.kind == "isolation"]
    rule_of_thumb = asked.strictest(found)
    if rule_of_thumb is None or q.kind == "pitch":
        return
    limit = asked.number(rule_of_thumb)
    yield verdict(
        "R103", case, share >= limit - 1e-9, asked.miss(rule_of_thumb),
        measured=Quantity(value=share * 100, unit="pct"),
        limit=Quantity(value=limit * 100, unit="pct"),
        why="too little of it stays dry",
        remedy=f"roof {whole_mm((limit - share) * q.depth_mm)} more of its depth",
        sources=asked.of_rule(rule_of_thumb),
    )  # fmt: skip


@quarters_check("R104", "A top closed against escape")
def closed_top(case: Case) -> Iterator[Finding]:
    """What is not roofed is closed, with gaps that no loose bird passes."""
    q = case.quarters
    if q.kind == "pitch" or q.roof is None:
        return
    bird = narrowest(case)
    if not q.has_roof or (q.roof.covered_share < 1 and q.roof.open_infill == "open"):
        loose = bool(case.loose) or q.kind in ("loft", "isolation")
        finding = verdict(
            "R104", case, not loose, "harm", measured=Quantity(value="open"), fitting="roof",
            bird=bird.name if bird else None,
            why="a bird that is loose here, or gets loose, is gone",
            remedy="close the top with net or mesh", sources=asked.judgement("escape"),
        )  # fmt: skip
        if not loose:
            told = "birds are tethered here, so the top may stand open"
            finding = finding.model_copy(update={"why": told})
        yield finding
        return
    if q.roof.covered_share == 1 or bird is None:
        yield verdict("R104", case, True, "mind", measured=Quantity(value="closed"), fitting="roof")
        return
    gap_mm = q.roof.open_gap_mm
    yield verdict(
        "R104", case, gap_mm is not None and asked.stays_within(gap_mm, bird.width_mm),
        "mind" if gap_mm is None else "harm",
        measured=Quantity(value=q.roof.open_infill) if gap_mm is None else millimetres(gap_mm),
        limit=millimetres(bird.width_mm), bird=bird.name, fitting="roof",
        why="its gap is not given" if gap_mm is None else "the bird gets out through the top",
        remedy="measure it and give open_gap_mm" if gap_mm is None
        else f"close the gaps by {millimetres(gap_mm - bird.width_mm)}",
        sources=bird.sources,
    )  # fmt: skip


@quarters_check("R105", "Height for the keeper")
def keeper_height(case: Case) -> Iterator[Finding]:
    """A person can stand up inside, at the lowest place of the roof."""
    q = case.quarters
    if q.kind == "pitch" or q.front_height_mm is None or q.back_height_mm is None:
        return
    rule = asked.house_rule("lobby_height_mm")
    low_mm, limit_mm = clear_height_mm(q, 0, q.depth_mm), asked.number(rule)
    yield verdict(
        "R105", case, asked.reaches(low_mm, limit_mm), "mind",
        measured=millimetres(low_mm), limit=millimetres(limit_mm),
        why="whoever cleans it, or catches a bird, must stoop",
        remedy=raised(case, limit_mm), sources=asked.of_rule(rule),
    )  # fmt: skip


@quarters_check("R106", "A soft ceiling for a nervous bird")
def padded(case: Case) -> Iterator[Finding]:
    """A loose bird that flies up at little does not strike a hard roof."""
    roof = case.quarters.roof
    if roof is None or not has_solid_roof(case) or not case.loose:
        return
    nervous = next((r for r in case.loose if r.bird.nervous), None)
    yield verdict(
        "R106", case, nervous is None or roof.padded, "mind",
        measured=Quantity(value="padded" if roof.padded else "hard"),
        bird=nervous.bird.name if nervous else None, fitting="roof",
        why="a bird that flies up strikes its head", remedy="pad the ceiling, or net under it",
        sources=asked.judgement("soft ceiling over a nervous bird"),
    )  # fmt: skip


def is_open_to_the_sky(case: Case) -> bool:
    """A loose bird could fly out of these quarters without a door."""
    q = case.quarters
    if q.kind == "pitch" or q.faces is None or q.roof is None:
        return True
    open_side = any(
        face.infill == "open" and (face.outer is None or face.outer.infill == "open")
        for face in (q.faces.front, q.faces.back, q.faces.left, q.faces.right)
    )
    return open_side or not (room.has_top(q, 0) and room.has_top(q, q.depth_mm))
