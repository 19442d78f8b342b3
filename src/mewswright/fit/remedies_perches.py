"""Remedies for perches: moved, lowered, turned, covered, renewed, or one more."""

from collections.abc import Iterator, Sequence
from typing import Any

from mewswright.checks.case import Resident
from mewswright.checks.finding import Finding
from mewswright.checks.perches import tail_mm, users
from mewswright.fit.change import FITTINGS, Change
from mewswright.fit.remedy import Standing, figure, remedy, up_mm
from mewswright.fit.remedy_places import Place, places, told
from mewswright.handbook import block_top_diameter, perch_diameter, perch_kinds
from mewswright.model.fitting import Bath, Hatch, Perch, Shelf, Upright

ROOM = ("P101", "P102", "P103", "P104", "P105", "P106", "P107", "P117", "P110", "P111", "P112")
FLIGHT = ("L101", "L102", "L103", "L104", "L105", "L108")
CIRCLE = ("T101", "T103", "T112", "T113", "T115", "T116", "T117", "D108")
GRIPPED = ("round", "branch", "bow", "ring")
COVERS = ("turf", "rope", "carpet", "neoprene", "bark", "cork")
LONG = ("round", "branch", "flat", "shelf")
TAIL_CLEAR_MM = 100.0  # first height tried over the tail; the checks then judge it


@remedy(*ROOM, *FLIGHT, *CIRCLE, "F118", "G112", "W113", "W114")
def move_the_perch(standing: Standing, finding: Finding) -> Iterator[Change]:
    """Move, lower, raise or turn the perch that a finding speaks of, or any where it names none."""
    named = standing.fitting(finding.fitting)
    perches = [named] if isinstance(named, Perch) else [*standing.quarters.perches]
    for perch in perches:
        yield from moved(standing, perch)


def moved(standing: Standing, perch: Perch) -> Iterator[Change]:
    """Give the best places for one perch, by all that is said of it."""
    faults = [f for f in standing.findings if f.status in ("harm", "short")]
    about = [f for f in faults if f.fitting in (None, perch.name) or perch.name in f.why]
    heights = [height for f in about for height in _heights(standing, perch, f)]
    turns = () if perch.form in ("block", "stump", "ring") else (0.0, 90.0)
    distances = [mm for f in about if f.fitting for mm in _distances(f)]
    for place in places(standing, perch, list(dict.fromkeys(heights)), turns, distances):
        yield _move(standing, perch, place)


def _move(standing: Standing, perch: Perch, place: Place) -> Change:
    return standing.change(
        f"{perch.name}: {told(place, perch)}",
        (*ROOM, *FLIGHT, *CIRCLE, "T102", "D105", "F118"),
        [standing.put("fitting", perch.name, key, value) for key, value in place.keys],
        standing.prices.of("move_perch"),
        FITTINGS,
        (perch.name,),
        place.mm,
    )


def _distances(finding: Finding) -> tuple[float, ...]:
    limit, measured = figure(finding), figure(finding, "measured")
    if limit is None or measured is None or finding.limit is None or finding.limit.unit != "mm":
        return ()
    return (float(up_mm(abs(limit - measured))),)


def _heights(standing: Standing, perch: Perch, finding: Finding) -> list[float]:
    """Heights that the finding's own numbers point at."""
    limit, measured = figure(finding), figure(finding, "measured")
    if limit is None or measured is None:
        return []
    short = up_mm(limit - measured)
    named = finding.fitting == perch.name
    if finding.code == "P104" and named:
        return [perch.height_mm - short]
    if finding.code == "P111" or (finding.code == "P101" and named):
        return [float(up_mm(limit))]
    if finding.code == "P110":
        others = [p.height_mm for p in standing.quarters.perches if p.name != perch.name]
        return [height + step for height in others[:1] for step in (300, -300, 600)]
    return []


@remedy("P105", "P106", "P107", "T102", "T115", "D105", "L102", "L110", "W113", "W114")
def move_what_is_in_the_way(standing: Standing, finding: Finding) -> Iterator[Change]:
    """Move the bath, shelf or hatch instead of the perch."""
    q = standing.quarters
    named = standing.fitting(finding.fitting)
    for fitting in q.fitting:
        told_of = fitting is named or f" {fitting.name}" in finding.why
        if not told_of or (isinstance(fitting, Perch) and finding.code not in ("T102", "D105")):
            continue  # a perch is moved for its own sake
        if isinstance(fitting, Perch):
            yield from moved(standing, fitting)
        elif isinstance(fitting, (Bath, Shelf)):
            yield from _moved_thing(standing, fitting)
        elif isinstance(fitting, Upright):
            yield from move_the_post(standing, finding)
        elif isinstance(fitting, Hatch):
            yield from _moved_hatch(standing, fitting)


def _moved_thing(standing: Standing, fitting: Bath | Shelf) -> Iterator[Change]:
    kind = "move_bath" if isinstance(fitting, Bath) else "move_shelf"
    for place in places(standing, fitting):
        yield standing.change(
            f"{fitting.name}: {told(place, fitting)}",
            ("P105", "P106", "P107", "T102", "T115", "D105", "L110"),
            [standing.put("fitting", fitting.name, key, value) for key, value in place.keys],
            standing.prices.of(kind),
            FITTINGS,
            (),
            place.mm,
        )


def _moved_hatch(standing: Standing, hatch: Hatch) -> Iterator[Change]:
    q = standing.quarters
    for side in ("back", "left", "right"):
        if q.faces is None or not q.faces.side(side).is_solid:
            continue
        run = q.width_mm if side == "back" else q.depth_mm
        for share in (0.15, 0.5, 0.85):
            at_mm = round(run * share / 10) * 10.0
            edits = [
                standing.put("fitting", hatch.name, "face", side),
                standing.put("fitting", hatch.name, "at_mm", at_mm),
            ]
            yield standing.change(
                f"{hatch.name}: set it in the {side} face, {at_mm:g} mm along",
                ("P107", "W106", "W113", "T102"),
                edits,
                standing.prices.of("move_hatch"),
            )


@remedy("P108")
def move_the_post(standing: Standing, finding: Finding) -> Iterator[Change]:
    """Move a post aside, or end it lower."""
    post = standing.fitting(finding.fitting)
    if not isinstance(post, Upright):
        return
    cost = standing.prices.of("move_post")
    for place in places(standing, post, (), (), _distances(finding)):
        yield standing.change(
            f"{post.name}: {told(place, post)}",
            ("P108", "T102"),
            [standing.put("fitting", post.name, key, value) for key, value in place.keys],
            cost,
            FITTINGS,
            (post.name,),
            place.mm,
        )
    for perch in standing.quarters.perches:
        yield from moved(standing, perch)


@remedy("P115", "B101", "B102", "B103")
def cover_the_perch(standing: Standing, finding: Finding) -> Iterator[Change]:
    """Put a cover on a perch that spares the foot."""
    named = standing.fitting(finding.fitting)
    perches = [named] if isinstance(named, Perch) else [*standing.quarters.perches]
    for perch in perches:
        for cover in COVERS:
            if cover == perch.cover and not perch.cover_age_months:
                continue
            fresh = 0.0 if perch.cover_age_months is not None else None
            yield standing.change(
                f"{perch.name}: {'renew its cover of' if cover == perch.cover else 'cover it with'}"
                f" {cover}",
                ("P115", "B101", "B102", "B103"),
                [
                    standing.put("fitting", perch.name, "cover", cover),
                    standing.put("fitting", perch.name, "cover_age_months", fresh),
                ],
                standing.prices.of("cover_perch"),
                FITTINGS,
                (perch.name,),
            )


@remedy("P113", "P114", "P116", "T119", "B105")
def renew_the_perch(standing: Standing, finding: Finding) -> Iterator[Change]:
    """Take a perch of another thickness, or of another form."""
    named = standing.fitting(finding.fitting)
    perches = [named] if isinstance(named, Perch) else [*standing.quarters.perches]
    for perch in perches:
        for form in _forms(standing, perch):
            yield from _renewed(standing, perch, form)


def _forms(standing: Standing, perch: Perch) -> list[str]:
    forms: list[str] = [perch.form]
    for resident in users(standing.case, perch):
        forms += [kind.kind for kind in perch_kinds(resident.species)]
        forms += ["bow", "ring", "block"] if resident.tethered else []
    return list(dict.fromkeys(forms))


def _renewed(standing: Standing, perch: Perch, form: str) -> Iterator[Change]:
    for size in _sizes(users(standing.case, perch), form):
        keys = _shape(form, size, perch.length_mm)
        if all(getattr(perch, key) == value for key, value in keys.items()):
            continue
        yield standing.change(
            f"{perch.name}: take a {form}{' perch' if form in LONG else ''} of {size:g} mm",
            ("P113", "P114", "P116", "T119", "B105"),
            [standing.put("fitting", perch.name, key, value) for key, value in keys.items()],
            standing.prices.of("renew_perch", 1, f"perch_{form}", _amount(form, keys)),
            FITTINGS,
            (perch.name,),
        )


def _sizes(birds: Sequence[Resident], form: str) -> list[float]:
    """Thickness or width that suits each bird, and one that suits as many as can be."""
    if not birds:
        return []
    if form in GRIPPED:
        bands = [perch_diameter(bird.mass.value) for bird in birds]
        low, high = max(b[0].value for b in bands), min(b[1].value for b in bands)
        shared = [round((low + high) / 2)] if low <= high else []
        return [float(mm) for mm in shared or {round((b[0].value + b[1].value) / 2) for b in bands}]
    needs = (max(block_top_diameter(b.species).value, b.bird.foot_span_mm or 0) for b in birds)
    return [float(up_mm(max(needs)))]


def _shape(form: str, size_mm: float, length_mm: float | None) -> dict[str, object]:
    flat = form in ("flat", "shelf")
    return {
        "form": form,
        "length_mm": (length_mm or 1000.0) if form in LONG else length_mm,
        "width_mm": size_mm if flat else None,
        "diameter_mm": None if flat else size_mm,
    }


def _amount(form: str, keys: dict[str, object]) -> float:
    length = keys["length_mm"]
    return length / 1000 if isinstance(length, float) and form in (*LONG, "bow") else 1.0


@remedy("P109", "P111", "P112", "P116", "T108", "L103", "L105", "B101", "W114")
def add_a_perch(standing: Standing, finding: Finding) -> Iterator[Change]:
    """Put up one more perch, of the first kind that the birds' feet are made for."""
    birds = [r for r in standing.case.residents if finding.bird in (None, r.bird.name)]
    if not birds:
        return
    bird = max(birds, key=tail_mm)
    limit, measured = figure(finding), figure(finding, "measured")
    many = 1
    if finding.code == "P109" and limit is not None and measured is not None:
        many = max(1, round(limit - measured))
    edits, words, mm = [], [], 0.0
    ahead = standing
    for _ in range(min(many, 4)):
        made = _new_perch(ahead, bird, finding)
        if made is None:
            return
        table, place = made
        add = ahead.add(table)
        after = ahead.with_edits([add])
        if after is None:
            return
        ahead = Standing(after, standing.name, standing.standards)
        edits.append(add)
        mm += place.mm
        x, y = table["at_mm"]
        words.append(
            f"{table['form']} perch {table['name']!r} at {x:g}, {y:g}, {table['height_mm']:g} mm up"
        )
    item, length = f"perch_{table['form']}", table.get("length_mm")
    amount = many * (length / 1000 if length else 1.0)
    yield standing.change(
        f"put up {' and '.join(words)}",
        ("P109", "P111", "P112", "P116", "T108", "L103", "L105", "B101", "W114"),
        edits,
        standing.prices.of("add_perch", many, item, amount),
        FITTINGS,
        (),
        mm,
    )


def _new_perch(
    standing: Standing, bird: Resident, finding: Finding
) -> tuple[dict[str, Any], Place] | None:
    q = standing.quarters
    form = perch_kinds(bird.species)[0].kind
    size = next(iter(_sizes([bird], form)), None)
    if size is None:
        return None
    low = up_mm(tail_mm(bird) + TAIL_CLEAR_MM)
    ceiling = min(q.front_height_mm or 2000.0, q.back_height_mm or 2000.0)
    high = ceiling - bird.span.value / 2 - 50
    limit = figure(finding)
    heights = [float(low), round((low + high) / 20) * 10.0, round(high / 10) * 10.0]
    if finding.code == "P111" and limit is not None:
        heights = [float(up_mm(limit)), *heights]
    keys = _shape(form, size, min(1200.0, round(q.width_mm * 0.04) * 10.0))
    if form not in LONG and form != "bow":
        keys["length_mm"] = None
    perch = Perch.model_validate(
        {
            "kind": "perch", "name": standing.free_name("New perch"),
            "at_mm": (round(q.width_mm / 20) * 10.0, round(q.depth_mm / 20) * 10.0),
            "height_mm": heights[0], "cover": "bark" if form in ("branch", "stump") else "turf",
            "free_standing": form in ("block", "stump", "ring", "bow"), **keys,
        }
    )  # fmt: skip
    spots = places(standing, perch, [h for h in heights if h >= low])
    if not spots:
        return None
    table = {
        key: value
        for key, value in (perch.model_dump() | dict(spots[0].keys)).items()
        if value is not None and (key in REQUIRED or value != Perch.model_fields[key].default)
    }
    return table, spots[0]


REQUIRED = ("kind", "name", "form", "at_mm", "height_mm")


@remedy("T110")
def fix_the_perch(standing: Standing, finding: Finding) -> Iterator[Change]:
    """Spike or bolt down a perch that a bating bird drags."""
    perch = standing.fitting(finding.fitting)
    if isinstance(perch, Perch):
        yield standing.change(
            f"{perch.name}: spike it or bolt it down",
            ("T110",),
            [standing.put("fitting", perch.name, "fixed", True)],
            standing.prices.of("fix_perch"),
            FITTINGS,
            (perch.name,),
        )
