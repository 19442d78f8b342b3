"""What birds have to stand on: how many perches, how high, how thick, covered with what."""

from collections.abc import Iterator
from functools import cache

from mewswright.build import room
from mewswright.checks import asked
from mewswright.checks.asked import verdict
from mewswright.checks.case import Case, Resident
from mewswright.checks.finding import Evidence, Finding
from mewswright.checks.limits import whole_mm
from mewswright.checks.perches import users
from mewswright.checks.registry import quarters_check
from mewswright.handbook import (
    PerchKind,
    Rule,
    block_top_diameter,
    perch_diameter,
    perch_kinds,
    species,
)
from mewswright.model.fitting import Perch
from mewswright.model.quantity import Quantity, millimetres

GRIPPED = ("round", "branch", "bow", "ring")
ROUND_TOPS = ("block", "stump")
# Forms of a yard file that the handbook's kinds of perch cover.
LIKE = {"ring": ("ring", "bow", "round"), "flat": ("flat", "shelf"), "shelf": ("shelf", "flat")}


def _count(number: float) -> Quantity:
    return Quantity(value=number, unit="perches")


@cache
def _kinds(name: str) -> tuple[PerchKind, ...]:
    """Asked by id: a species is slow to hash."""
    return perch_kinds(species(name))


@quarters_check("P109", "Number of perches")
def enough(case: Case) -> Iterator[Finding]:
    """Every bird has its perch, and a loose one has the choice of two."""
    have = len(case.quarters.perches)
    if not case.residents:
        yield verdict(
            "P109", case, False, "mind", measured=_count(have),
            why="no bird lives here, so what it needs cannot be judged",
            remedy="give a stay, or leave the quarters empty on purpose",
        )  # fmt: skip
        return
    together = case.together
    loose = [r for r in together if not r.tethered]
    tethered = [r for r in together if r.tethered]
    rule, need = needed(case, loose, tethered)
    yield verdict(
        "P109", case, have >= need, asked.miss(rule), measured=_count(have), limit=_count(need),
        why="a bird without a choice of perches stands on one spot until its feet are sore",
        remedy=f"add {need - have}", sources=asked.of_rule(rule),
    )  # fmt: skip


def needed(case: Case, loose: list[Resident], tethered: list[Resident]) -> tuple[Rule, int]:
    """How many perches P109 asks for birds that are here on one day, and by which rule."""
    need, source = len(tethered), None
    for group in (loose, tethered):
        rule = asked.strictest(
            rule for bird in group for rule in asked.asked(case, "perches_min", bird)
        )
        rule = rule or (asked.strictest(_house_counts(group)) if group else None)
        if rule is None:
            continue
        each = int(asked.number(rule))
        per_bird = "per raptor" in rule.condition or group is tethered
        count = each * len(group) if per_bird else max(each, len(group))
        need = need - len(group) + count if group is tethered else need + count
        if source is None or asked.miss(rule) == "harm":
            source = rule
    return source or asked.house_rule("perches_min"), need


def _house_counts(group: list[Resident]) -> list[Rule]:
    found = asked.of_standard(asked.HOUSE, "perches_min")
    return [rule for rule in found if asked.holds_for(rule, group[0])]


@quarters_check("P110", "Perches at different heights")
def tiers(case: Case) -> Iterator[Finding]:
    """Loose birds may choose how high they stand."""
    heights = [perch.height_mm for perch in case.quarters.perches]
    if not case.loose or len(heights) < 2:
        return
    spread_mm = max(heights) - min(heights)
    found = [rule for rule in asked.named(case, "perches_min") if "heights" in rule.condition]
    yield verdict(
        "P110", case, spread_mm > 1, "short" if found else "mind",
        measured=millimetres(spread_mm),
        why="all perches are at one height: a bird cannot choose",
        remedy="raise one of them, as far as the roof allows",
        sources=asked.of_rule(*found) or asked.judgement("perches at more than one height"),
    )  # fmt: skip


@quarters_check("P111", "A high perch")
def high_perch(case: Case) -> Iterator[Finding]:
    """At least one perch is as high as the standard asks."""
    rule = asked.strictest(
        r for bird in case.loose for r in asked.named(case, "perch_height_mm", bird)
    )
    if rule is None:
        return
    top_mm = max((perch.height_mm for perch in case.quarters.perches), default=0.0)
    limit_mm = asked.number(rule)
    yield verdict(
        "P111", case, asked.reaches(top_mm, limit_mm), asked.miss(rule),
        measured=millimetres(top_mm), limit=millimetres(limit_mm),
        why="birds of prey rest high, above what frightens them",
        remedy=f"raise one perch {millimetres(limit_mm - top_mm)}" if top_mm
        else f"put a perch {millimetres(limit_mm)} up", sources=asked.of_rule(rule),
    )  # fmt: skip


@quarters_check("P112", "A perch under cover")
def under_cover(case: Case) -> Iterator[Finding]:
    """At least one perch stands under the solid roof."""
    rule = asked.strictest(
        r for bird in case.loose for r in asked.asked(case, "perch_under_cover_min", bird)
    )
    if rule is None or not case.quarters.perches:
        return
    dry = [p for p in case.quarters.perches if room.is_covered(case.quarters, p.at_mm[1])]
    need = asked.number(rule)
    yield verdict(
        "P112", case, len(dry) >= need, asked.miss(rule),
        measured=_count(len(dry)), limit=_count(need),
        why="no perch is out of the rain", remedy="move one back under the roof",
        sources=asked.of_rule(rule),
    )  # fmt: skip


@quarters_check("P113", "Thickness of a round perch")
def thickness(case: Case) -> Iterator[Finding]:
    """The foot closes a half to two thirds of the way round."""
    for perch in case.quarters.perches:
        if perch.form not in GRIPPED or perch.diameter_mm is None:
            continue
        fits = [(_misfit_mm(r, perch.diameter_mm), r) for r in users(case, perch)]
        if not fits:
            continue
        misfit_mm, bird = min(fits, key=lambda fit: abs(fit[0]))
        low, high = perch_diameter(bird.mass.value)
        limit = low if misfit_mm < 0 else high
        word = "thicker" if misfit_mm < 0 else "thinner"
        yield verdict(
            "P113", case, asked.stays_within(abs(misfit_mm), 0), "short",
            measured=millimetres(perch.diameter_mm), limit=millimetres(limit.value),
            bird=bird.bird.name, fitting=perch.name,
            why="a foot that cannot close well carries its weight on few points",
            remedy=f"take one {millimetres(abs(misfit_mm))} {word}, measured over its cover",
            sources=asked.witnesses(limit.source),
        )  # fmt: skip


def _misfit_mm(bird: Resident, diameter_mm: float) -> float:
    """How far a diameter lies below (minus) or above (plus) what suits the bird [mm]."""
    low, high = perch_diameter(bird.mass.value)
    return min(0.0, diameter_mm - low.value) + max(0.0, diameter_mm - high.value)


@quarters_check("P114", "Width of a flat perch")
def flat_width(case: Case) -> Iterator[Finding]:
    """A block, stump, shelf or flat perch is wide enough to stand on flat-footed."""
    for perch in case.quarters.perches:
        across_mm = perch.width_mm if perch.form in ("flat", "shelf") else perch.diameter_mm
        if perch.form in GRIPPED or across_mm is None:
            continue
        tops = [(*flat_mm(r, perch.form), r) for r in users(case, perch)]
        if not tops:
            continue
        limit_mm, sources, bird = max(tops, key=lambda top: top[0])
        could = "" if perch.form in ROUND_TOPS or bird.bird.foot_span_mm else (
            "; or measure its foot and give foot_span_mm"
        )  # fmt: skip
        yield verdict(
            "P114", case, asked.reaches(across_mm, limit_mm), "short",
            measured=millimetres(across_mm), limit=millimetres(limit_mm),
            bird=bird.bird.name, fitting=perch.name,
            why="the foot hangs over the edge and bears on its middle" if not could
            else "narrower than the block of its kind: the foot may hang over the edge",
            remedy=f"widen it {whole_mm(limit_mm - across_mm)}{could}", sources=sources,
        )  # fmt: skip


def flat_mm(resident: Resident, form: str) -> tuple[float, tuple[Evidence, ...]]:
    """Least width of a flat perch for a bird, and who says so [mm].

    A block or a stump takes both feet, as the handbook has it. A flat perch or a shelf goes
    on sideways: across it lies one foot, and where that was measured its span is enough.
    """
    foot_mm = resident.bird.foot_span_mm
    if foot_mm is None or form in ROUND_TOPS:
        top = block_top_diameter(resident.species)
        return top.value, asked.witnesses(top.source)
    own = Evidence(name="measured on the bird", locator=resident.bird.name, how_known="read")
    return foot_mm, (own, *asked.judgement("the whole foot lies on a flat perch"))


@quarters_check("P115", "Cover of a perch")
def cover(case: Case) -> Iterator[Finding]:
    """A perch is covered with something that spares the foot; sandpaper never is."""
    for perch in case.quarters.perches:
        rule = _against_cover(case, perch)
        harmful = rule is not None and asked.miss(rule) == "harm"
        bad = perch.cover == "sandpaper" or rule is not None
        yield verdict(
            "P115", case, not bad, "harm" if harmful else "short",
            measured=Quantity(value=perch.cover), fitting=perch.name,
            why="it wears the skin of the foot" if perch.cover == "sandpaper"
            else "bare wood or pipe loads the middle of the foot",
            remedy="cover it with turf, rope, carpet or neoprene",
            sources=asked.of_rule(rule or asked.house_rule("perch_pad_load")),
        )  # fmt: skip


def _against_cover(case: Case, perch: Perch) -> Rule | None:
    """The rule that speaks against the perch's cover, law first; None if none does."""
    found: list[Rule] = []
    if perch.cover == "sandpaper":
        found += asked.named(case, "perch_cover_forbidden")
    bare = perch.cover == "bare"
    if bare or perch.cover == "sandpaper":
        for bird in users(case, perch):
            found += [r for r in asked.named(case, "perch_cover", bird) if _padding(r, perch)]
    if bare and perch.form not in ("branch", "stump"):
        found += [asked.house_rule("perch_pad_load")]
    return min(found, key=lambda rule: asked.miss(rule) != "harm", default=None)


def _padding(rule: Rule, perch: Perch) -> bool:
    return perch.form not in ("branch", "stump") or "branches" not in rule.value


@quarters_check("P116", "A kind of perch that suits")
def suits(case: Case) -> Iterator[Finding]:
    """Each bird has at least one perch of a kind that its feet are made for."""
    for bird in case.residents:
        forms = {p.form for p in case.quarters.perches if bird in users(case, p)}
        if not forms:
            continue
        kinds = _kinds(bird.species.id)
        wanted = {kind.kind for kind in kinds}
        fits = any(wanted & set(LIKE.get(form, (form,))) for form in forms)
        yield verdict(
            "P116", case, fits, "short", measured=Quantity(value=", ".join(sorted(forms))),
            limit=Quantity(value=" or ".join(kind.kind for kind in kinds)), bird=bird.bird.name,
            why=kinds[0].reason, remedy=f"add a {_to_add(bird, kinds)}",
            sources=asked.witnesses(kinds[0].source),
        )  # fmt: skip


def _to_add(bird: Resident, kinds: tuple[PerchKind, ...]) -> str:
    """The kind to add, in words: a loose bird has no use for a bow, made to tie one to."""
    names = [kind.kind for kind in kinds if bird.tethered or kind.kind != "bow"]
    first = names[0] if names else kinds[0].kind
    return f"{first} perch" if first in ("round", "flat", "bow") else first
