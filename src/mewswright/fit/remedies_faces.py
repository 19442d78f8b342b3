"""Remedies for the four sides: other gaps, bars, boards, an outer skin."""

import re
from collections.abc import Iterator, Sequence
from itertools import combinations

from mewswright.build.materials import welded_mesh
from mewswright.checks.faces import SKINS, face_name
from mewswright.checks.finding import Finding
from mewswright.checks.narrowest import narrowest
from mewswright.fit.change import FACES, ROOF, Change, Edit, together
from mewswright.fit.remedy import Standing, figure, remedy, up_mm
from mewswright.model.fitting import Device, Side
from mewswright.model.quarters import SIDES, Face

GAPS = ("F101", "F102", "F103", "F116")
OPENNESS = (
    "F105", "F106", "F108", "F109", "F114", "F119", "G103", "G109", "W106", "R101", "R107",
)  # fmt: skip
VENT_CM2 = 500.0  # one vent of the handbook's row, as 10 by 50 cm: a judgement
BAR_MM = 12.0  # the handbook's bar panel
USUAL_PITCH_MM = 50.0  # bars in a square metre of the handbook's panel, middle to middle
USUAL_GAP_MM = 25.0  # where no bird says what gap it needs: the finest of handbook/bar_gaps.csv
STAND_OFF_MM = 130.0  # over the widest distance that the checks ask of two skins


def side_of(finding: Finding) -> Side | None:
    """Side that a finding speaks of: "front face" is the front."""
    name = (finding.fitting or "").removesuffix(" face")
    return next((side for side in SIDES if side == name), None)


def _face(standing: Standing, side: Side) -> Face | None:
    faces = standing.quarters.faces
    return None if faces is None else faces.side(side)


def _put(standing: Standing, side: Side, **keys: object) -> list[Edit]:
    """Edits of one face. The keys of an old infill go where the new one has no use for them."""
    return [standing.put("faces", side, key, value) for key, value in keys.items()]


def _built(
    standing: Standing, kind: str, side: Side, words: str, codes: tuple[str, ...],
    edits: list[Edit],
) -> Change:  # fmt: skip
    cost = standing.prices.built(kind, standing.area_m2(side), lambda: standing.with_edits(edits))
    return standing.change(words, codes, edits, cost, FACES)


def barred(standing: Standing, side: Side, gap_mm: float) -> Change:
    """Give a face upright bars."""
    edits = _put(
        standing, side, infill="barred", gap_mm=gap_mm, bar_mm=BAR_MM, direction="vertical",
        mesh_kind=None,
    )  # fmt: skip
    return _built(
        standing, "face_bars", side, f"{side} face: upright bars {gap_mm:g} mm apart",
        (*GAPS, *OPENNESS, "F104", "F113"), edits,
    )  # fmt: skip


def boarded(standing: Standing, side: Side) -> Change:
    """Board a face over its whole height; an outer skin over boards has no use."""
    edits = _put(
        standing, side, infill="boarded", gap_mm=None, bar_mm=None, mesh_kind=None, outer=None,
        upstand_mm=None, direction=None,
    )  # fmt: skip
    return _built(
        standing, "face_board", side, f"{side} face: board it",
        (*GAPS, *OPENNESS, "F104", "F107"), edits,
    )  # fmt: skip


def outer_mesh(standing: Standing, side: Side, gap_mm: float) -> Change:
    """Hang welded mesh outside a face, out of the bird's reach."""
    layer = {
        "infill": "meshed", "mesh_kind": "welded", "gap_mm": gap_mm, "stand_off_mm": STAND_OFF_MM,
    }  # fmt: skip
    return _built(
        standing, "face_mesh", side,
        f"{side} face: welded mesh with gaps of {gap_mm:g} mm outside, {STAND_OFF_MM:g} mm off",
        ("F103", "F116", "F107"), _put(standing, side, outer=layer),
    )  # fmt: skip


def meshed(standing: Standing, side: Side, gap_mm: float) -> Change:
    """Change the mesh of a face for welded mesh."""
    edits = _put(
        standing, side, infill="meshed", mesh_kind="welded", gap_mm=gap_mm, bar_mm=None,
    )  # fmt: skip
    return _built(
        standing, "face_mesh", side, f"{side} face: welded mesh with gaps of {gap_mm:g} mm",
        (*GAPS, "F104", "F108"), edits,
    )  # fmt: skip


def bird_gap_mm(standing: Standing) -> float:
    """Widest gap for the narrowest bird that is loose here [mm], in whole millimetres."""
    bird = narrowest(standing.case)
    return USUAL_GAP_MM if bird is None else float(int(bird.usual_gap_mm))


@remedy(*GAPS)
def close_the_gaps(standing: Standing, finding: Finding) -> Iterator[Change]:
    """Set bars closer, take finer mesh, hang mesh outside, or board the face."""
    side = side_of(finding)
    face = _face(standing, side) if side else None
    if side is None or face is None:
        return
    limit = figure(finding)
    gap = min(bird_gap_mm(standing), float(int(limit)) if limit else USUAL_GAP_MM)
    if face.infill in ("barred", "slatted") and face.gap_mm is not None and gap > 0:
        bars = "bars" if face.infill == "barred" else "slats"
        words = f"{side} face: set the {bars} {gap:g} mm apart instead of {face.gap_mm:g} mm"
        # The same area of bars, but more of them: priced by how many stand in it.
        area = standing.area_m2(side, face.upstand_mm)
        area *= USUAL_PITCH_MM / (gap + (face.bar_mm or BAR_MM))
        cost = standing.prices.of("face_bars", round(area, 2), "bar_panel", area)
        yield standing.change(words, GAPS, _put(standing, side, gap_mm=gap), cost, FACES)
    elif face.infill in SKINS and gap > 0:
        for mesh_gap in _mesh_gaps(gap):
            yield meshed(standing, side, mesh_gap)
    if finding.code in ("F101", "F102"):
        return  # a bird that needs closer bars still wants the light and the view
    for mesh_gap in _mesh_gaps(limit or gap):
        yield outer_mesh(standing, side, mesh_gap)
    if face.infill == "open" and gap > 0:
        yield barred(standing, side, gap)
    yield boarded(standing, side)


def _mesh_gaps(gap_mm: float) -> list[float]:
    mesh = welded_mesh(gap_mm)
    return [mesh.clear_gap_mm] if mesh is not None and mesh.clear_gap_mm else []


@remedy("F104", "F105", "F107")
def change_the_infill(standing: Standing, finding: Finding) -> Iterator[Change]:
    """Upright bars instead of mesh or level bars; an outer skin set farther out."""
    side = side_of(finding)
    face = _face(standing, side) if side else None
    if side is None or face is None:
        return
    gap = bird_gap_mm(standing)
    if face.direction == "horizontal" and face.infill in ("barred", "slatted"):
        yield standing.change(
            f"{side} face: turn the {'bars' if face.infill == 'barred' else 'slats'} upright",
            ("F105",), _put(standing, side, direction="vertical"),
            standing.prices.of("face_turn", standing.area_m2(side)), FACES,
        )  # fmt: skip
    if face.outer is not None and finding.code == "F107":
        limit = figure(finding)
        off = STAND_OFF_MM if limit is None else float(up_mm(limit))
        yield standing.change(
            f"{side} face: set the outer skin {off:g} mm off",
            ("F107",), _put(standing, side, outer=face.outer.model_dump() | {"stand_off_mm": off}),
            standing.prices.of("skin_off", standing.area_m2(side)), FACES,
        )  # fmt: skip
        yield standing.change(
            f"{side} face: take the outer skin away", ("F107",), _put(standing, side, outer=None),
            standing.prices.of("skin_off", standing.area_m2(side)), FACES,
        )  # fmt: skip
    if finding.code != "F107":
        yield barred(standing, side, gap)
        if face.infill in ("meshed", "netted") and face.mesh_kind == "hexagonal":
            for mesh_gap in _mesh_gaps(min(gap, face.gap_mm or gap)):
                yield meshed(standing, side, mesh_gap)
        yield boarded(standing, side)


@remedy("F108")
def close_the_face(standing: Standing, finding: Finding) -> Iterator[Change]:
    """Close a face that stands open."""
    side = side_of(finding)
    if side is not None:
        gap = bird_gap_mm(standing)
        yield barred(standing, side, gap)
        for mesh_gap in _mesh_gaps(gap):
            yield meshed(standing, side, mesh_gap)
        yield boarded(standing, side)


@remedy("F106", "F109", "F114", "F119", "G103", "G109", "G111", "R101", "L107")
def board_a_side(standing: Standing, finding: Finding) -> Iterator[Change]:
    """Board one side, or two where one alone may not do."""
    faces = standing.quarters.faces
    if faces is None:
        return
    named = side_of(finding)
    open_sides = [side for side in SIDES if not faces.side(side).is_solid]
    wanted = [named] if named is not None else open_sides
    for side in wanted:
        yield boarded(standing, side)
    if named is None and finding.code != "R101":
        for n in (2, 3):
            for some in combinations(open_sides, n):
                yield _all_of(standing, [boarded(standing, side) for side in some])


@remedy("N101", "T120")
def shut_out_predators(standing: Standing, finding: Finding) -> Iterator[Change]:
    """Hang fine mesh outside every side that lets one in, and over the open top."""
    limit, faces, roof = figure(finding), standing.quarters.faces, standing.quarters.roof
    if limit is None or faces is None or roof is None:
        return
    for gap in _mesh_gaps(limit):
        made = [outer_mesh(standing, side, gap) for side in SIDES if face_name(side) in finding.why]
        if re.search(r"\broof\b|\btop\b", finding.why):
            area = standing.quarters.floor_area_m2
            edits = [
                standing.put("roof", "open_infill", "meshed"),
                standing.put("roof", "open_gap_mm", gap),
            ]
            made.append(
                standing.change(
                    f"the open top: welded mesh with gaps of {gap:g} mm", ("N101", "N102"), edits,
                    standing.prices.of("roof_close", area * (1 - roof.covered_share)), ROOF,
                )
            )  # fmt: skip
        yield from made if len(made) == 1 else [_all_of(standing, made)] if made else []


def _all_of(standing: Standing, changes: Sequence[Change]) -> Change:
    """Several changes as one, where only all of them do."""
    return standing.change(
        "; ".join(change.words for change in changes),
        frozenset[str]().union(*(change.codes for change in changes)),
        [edit for change in changes for edit in change.edits],
        together(*(change.cost for change in changes)), FACES,
    )  # fmt: skip


@remedy("F113", "R107", "L106")
def open_a_side(standing: Standing, finding: Finding) -> Iterator[Change]:
    """Open one face with bars, where the law or the bird wants daylight."""
    del finding
    faces = standing.quarters.faces
    for side in SIDES if faces is not None else ():
        if faces is not None and faces.side(side).is_solid:
            yield barred(standing, side, bird_gap_mm(standing))


@remedy("F117")
def guard(standing: Standing, finding: Finding) -> Iterator[Change]:
    """Put a guard round a lamp or heater."""
    device = standing.fitting(finding.fitting)
    if isinstance(device, Device):
        yield standing.change(
            f"{device.name}: put it behind a guard", ("F117",),
            [standing.put("fitting", device.name, "shielded", True)],
            standing.prices.of("guard_device"), things=(device.name,),
        )  # fmt: skip


@remedy("A101", "A106")
def cut_vents(standing: Standing, finding: Finding) -> Iterator[Change]:
    """Cut vents with mesh over them, low and high."""
    told = re.search(r"(\d+) cm²", finding.remedy)
    if told is None:
        return
    more = float(told[1])
    yield standing.change(
        f"cut vents of {more:g} cm² more, half low and half high, with fine mesh over them",
        ("A101", "A106"), [standing.put("vent_cm2", standing.quarters.vent_cm2 + more)],
        standing.prices.of("cut_vents", max(1.0, round(more / VENT_CM2, 1))), FACES,
    )  # fmt: skip
