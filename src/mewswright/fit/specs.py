"""What is to be placed: perches, bath and hatch of kinds and sizes that suit the birds.

Places are found later; kinds and sizes follow from the birds and from the very limits
that the checks hold against them.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import chain
from math import ceil
from typing import Literal

from mewswright.checks import asked
from mewswright.checks.case import Case, Resident
from mewswright.checks.faces import sides
from mewswright.checks.perch_choice import needed
from mewswright.checks.perches import span_mm, users
from mewswright.checks.water_more import hop_mm_of, poor_fliers
from mewswright.handbook import block_top_diameter, perch_diameter, perch_kinds
from mewswright.model.fitting import Bath, Hatch, Perch, Side
from mewswright.model.quarters import Quarters

Role = Literal["high", "front", "low", "more", "tether"]
ROLES: tuple[Role, ...] = ("high", "front", "low")
ON_BRACKETS = ("round", "branch", "shelf", "flat")
ON_THE_FLOOR = ("block", "stump")
COVERS = {
    "round": ("turf", "rope"), "branch": ("bark",), "flat": ("turf", "carpet"),
    "shelf": ("turf", "carpet"), "block": ("turf", "carpet"), "stump": ("bark",),
    "bow": ("turf",), "ring": ("turf",),
}  # fmt: skip
# Judgements of ours, all within the limits that the checks hold against them.
LENGTH_SPANS, LENGTH_LEAST_MM, LENGTH_MOST_MM = 0.5, 300.0, 1200.0
BOW_LENGTH_MM = 600.0
BATH_DEPTH_MM, BATH_RIM_MM = 100.0, 20.0
HATCH = {"sill_mm": 1200.0, "width_mm": 300.0, "height_mm": 220.0, "ledge_mm": 250.0}
NAMES: dict[Role, str] = {
    "high": "High perch", "front": "Front perch", "low": "Low perch", "more": "Perch",
    "tether": "Tether perch",
}  # fmt: skip


@dataclass(frozen=True)
class PerchSpec:
    """A perch without its place. `bird` is the one that is tied to it."""

    role: Role
    template: Perch
    bird: str | None = None


@dataclass(frozen=True)
class Specs:
    """All that is to be placed in one unit, beside what stays.

    `count` is how many perches for loose birds there are to be, those that stay included.
    """

    count: int
    perches: tuple[PerchSpec, ...]
    bath: Bath | None
    hatch: Hatch | None
    hatch_faces: tuple[Side, ...]
    more_baths: tuple[Bath, ...] = ()  # for each further tethered bird one in its reach


def specs(case: Case, kept: Quarters, count: int) -> Specs:
    """Say what is to be placed so that a unit has so many perches for loose birds.

    Args:
        case: The unit as it stands; its fittings lend their names and the bath its taps.
        kept: The unit with only what stays.
        count: Perches for loose birds, those that stay included.
    """
    names = _Names(case, kept)
    perches = _tether_perches(case, kept, names)
    tied = {r.stay.perch for r in case.tethered} & {perch.name for perch in kept.perches}
    circles = len(perches) + len(tied)
    if case.loose:
        perches += _loose_perches(case, kept, count, names)
    bath = None if kept.baths and len(kept.baths) >= circles else _bath(case, names)
    more = () if bath is None else tuple(
        bath.model_copy(update={"name": names.give("bath", "Bath")})
        for _ in range(circles - len(kept.baths) - 1)
    )  # fmt: skip
    faces = tuple(side for side, face in sides(case) if face.is_solid)
    wants_hatch = bool(case.loose) and not kept.hatches and bool(faces)
    hatch = _hatch(case, names, faces) if wants_hatch else None
    return Specs(count, tuple(perches), bath, hatch, tuple(sorted(faces, key=_back_first)), more)


def _back_first(side: Side) -> int:
    return ("back", "left", "right", "front").index(side)


def perches_asked(case: Case) -> int:
    """How many perches P109 asks for the loose birds of a unit; 0 without any."""
    loose = [r for r in case.together if not r.tethered]
    return needed(case, loose, [])[1] if loose else 0


class _Names:
    """Names for what is new: those that become free first, for stays may speak of them."""

    def __init__(self, case: Case, kept: Quarters) -> None:
        self._taken = {fitting.name for fitting in kept.fitting}
        self._free: dict[str, list[str]] = {"perch": [], "bath": [], "hatch": []}
        self._tied = {r.stay.perch for r in case.residents if r.stay.perch}
        for fitting in case.quarters.fitting:
            if fitting.name not in self._taken and fitting.kind in self._free:
                self._free[fitting.kind].append(fitting.name)

    def give(self, kind: str, word: str, wanted: str | None = None) -> str:
        free = self._free[kind]
        if wanted is not None and wanted not in self._taken:
            name = wanted
        else:
            name = next((n for n in free if n not in self._tied), self._fresh(word))
        if name in free:
            free.remove(name)
        self._taken.add(name)
        return name

    def _fresh(self, word: str) -> str:
        taken = self._taken | set(chain.from_iterable(self._free.values()))
        names = chain([word], (f"{word} {i}" for i in range(2, 1000)))
        return next(name for name in names if name not in taken)


def _kinds(birds: Sequence[Resident]) -> list[str]:
    """Kinds of perch that suit the birds: each one's first choice, then each one's second."""
    wanted = [[kind.kind for kind in perch_kinds(bird.species)] for bird in birds]
    found: list[str] = []
    for i in range(max(map(len, wanted), default=0)):
        found += [kinds[i] for kinds in wanted if i < len(kinds)]
    return list(dict.fromkeys(found)) or ["round"]


def _loose_perches(case: Case, kept: Quarters, count: int, names: _Names) -> list[PerchSpec]:
    tied = {r.stay.perch for r in case.tethered}
    have = sum(perch.name not in tied for perch in kept.perches)
    kinds = ["round" if kind in ("bow", "ring") else kind for kind in _kinds(case.loose)]
    kinds = list(dict.fromkeys(kinds))
    hung = [kind for kind in kinds if kind in ON_BRACKETS] or ["flat"]
    stood = [kind for kind in kinds if kind in ON_THE_FLOOR]
    found = []
    for i in range(max(0, count - have)):
        role: Role = ROLES[i] if i < len(ROLES) else "more"
        forms = stood if role == "low" and stood else hung
        form = forms[(1 if role == "front" else 0) % len(forms)]
        if role == "more":
            form = hung[i % len(hung)]
        name = names.give("perch", NAMES[role])
        found.append(PerchSpec(role, _perch(form, name, case.loose, i)))
    missing = _unsuited(case.loose, [*kept.perches, *(s.template for s in found)])
    for bird in missing:  # one of the perches takes the form that this bird's feet need
        form = next(iter(_kinds([bird])))
        form = "round" if form in ("bow", "ring") else form
        for i in reversed(range(len(found))):
            spec = found[i]
            others = [s.template for j, s in enumerate(found) if j != i]
            new = _perch(form, spec.template.name, case.loose, i)
            if len(_unsuited(case.loose, [*kept.perches, *others, new])) < len(missing):
                found[i] = PerchSpec(spec.role, new)
                break
    return found


def _unsuited(birds: Iterable[Resident], perches: Iterable[Perch]) -> list[Resident]:
    from mewswright.checks.perch_choice import LIKE

    forms = {form for perch in perches for form in LIKE.get(perch.form, (perch.form,))}
    return [bird for bird in birds if not forms & {k.kind for k in perch_kinds(bird.species)}]


def _perch(form: str, name: str, birds: Sequence[Resident], nth: int) -> Perch:
    covers = COVERS[form]
    base: dict[str, object] = {
        "kind": "perch", "name": name, "form": form, "at_mm": (0.0, 0.0), "height_mm": 1000.0,
        "cover": covers[nth % len(covers)], "cover_age_months": 0.0,
    }  # fmt: skip
    if form in ON_BRACKETS:
        widest_mm = max(map(span_mm, birds))
        length_mm = min(LENGTH_MOST_MM, max(LENGTH_LEAST_MM, LENGTH_SPANS * widest_mm))
        base["length_mm"] = float(ceil(length_mm / 50) * 50)
    if form in ("shelf", "flat"):
        base["width_mm"] = _flat_mm(birds)
    elif form in ON_THE_FLOOR:
        base["diameter_mm"] = _flat_mm(birds)
    else:
        base["diameter_mm"] = _round_mm(birds, nth)
    return Perch.model_validate(base)


def _flat_mm(birds: Iterable[Resident]) -> float:
    """Width of a flat top that every one of the birds stands on flat-footed [mm]."""
    needs = (max(block_top_diameter(b.species).value, b.bird.foot_span_mm or 0) for b in birds)
    return float(max(ceil(mm / 10) * 10 for mm in needs))


def _round_mm(birds: Sequence[Resident], nth: int) -> float:
    """A thickness within what suits the birds [mm], another for each perch in turn."""
    ranges = [perch_diameter(bird.mass.value) for bird in birds]
    low = max(one.value for one, _ in ranges)
    high = min(other.value for _, other in ranges)
    if low > high:  # birds too unlike: one of them is suited, as P113 asks
        low, high = ranges[nth % len(ranges)][0].value, ranges[nth % len(ranges)][1].value
    share = (0.5, 0.25, 0.75)[nth % 3]
    return min(float(ceil(low + share * (high - low))), high)


def _tether_perches(case: Case, kept: Quarters, names: _Names) -> list[PerchSpec]:
    """One for each tethered bird; those that are never here together share one."""
    standing = {perch.name for perch in kept.perches}
    found: list[tuple[PerchSpec, list[Resident]]] = []
    for bird in case.tethered:
        if bird.stay.perch in standing:
            continue
        shared = next(
            (
                tied
                for spec, tied in found
                if bird.stay.perch in (None, spec.template.name)
                and (
                    bird.stay.perch is not None
                    or not any(bird.stay.overlaps(user.stay) for user in tied)
                )
            ),
            None,
        )
        if shared is not None:
            shared.append(bird)
            continue
        found.append((PerchSpec("tether", _tether_perch(bird, names), bird.bird.name), [bird]))
    return [
        PerchSpec(spec.role, _wide_enough(case, spec.template, tied), spec.bird)
        for spec, tied in found
    ]


def _wide_enough(case: Case, perch: Perch, tied: Sequence[Resident]) -> Perch:
    """A block that suits all who may stand on it; loose birds may, when they live there."""
    if perch.form != "block":
        return perch
    return perch.model_copy(update={"diameter_mm": _flat_mm([*users(case, perch), *tied])})


def _tether_perch(bird: Resident, names: _Names) -> Perch:
    forms = [k for k in _kinds([bird]) if k in ("bow", "ring", "block")] or ["block"]
    form = forms[0]
    name = names.give("perch", NAMES["tether"], bird.stay.perch)
    base: dict[str, object] = {
        "kind": "perch", "name": name, "form": form, "at_mm": (0.0, 0.0), "height_mm": 400.0,
        "cover": "turf", "cover_age_months": 0.0, "free_standing": True, "fixed": True,
    }  # fmt: skip
    if form == "bow":
        base |= {"length_mm": BOW_LENGTH_MM, "diameter_mm": _round_mm([bird], 0)}
    elif form == "ring":
        base["diameter_mm"] = _round_mm([bird], 0)
    else:
        base["diameter_mm"] = _flat_mm([bird])
    return Perch.model_validate(base)


def _bath(case: Case, names: _Names) -> Bath | None:
    """The keeper's own bath if it is large enough, or one that is."""
    if not case.residents:
        return None
    widest = max(case.residents, key=span_mm)
    rule = asked.strictest(asked.asked(case, "bath_diameter_spans", widest))
    across_mm = max(
        asked.number(rule) * span_mm(widest) if rule else 0.0,
        max(r.body_length.value for r in case.residents),
    )
    low = asked.strictest(asked.asked(case, "bath_depth_low_mm"))
    high = asked.strictest(asked.asked(case, "bath_depth_high_mm"), most=False)
    deep = max(asked.number(low) if low else 0.0, BATH_DEPTH_MM)
    deep = min(asked.number(high) if high else deep, deep)
    old = next(iter(case.quarters.baths), None)
    name = names.give("bath", "Bath", old.name if old else None)
    if (
        old is not None
        and min(old.size_mm) >= across_mm
        and (
            (low is None or old.depth_mm >= asked.number(low))
            and (high is None or old.depth_mm <= asked.number(high))
        )
    ):
        return old.model_copy(update={"name": name})
    across_mm = float(ceil(across_mm / 50) * 50)
    taps = {} if old is None else {
        "filled_from": old.filled_from, "drains": old.drains, "frost_free": old.frost_free,
        "platform_mm": old.platform_mm,
    }  # fmt: skip
    return Bath.model_validate(
        {
            "kind": "bath", "name": name, "at_mm": (0.0, 0.0), "diameter_mm": across_mm,
            "depth_mm": deep, "rim_height_mm": deep + BATH_RIM_MM,
        }
        | taps
    )  # fmt: skip


def _hatch(case: Case, names: _Names, faces: Sequence[Side]) -> Hatch:
    """The keeper's own hatch if it is in a boarded face, or a new one that shuts.

    No higher than a bird that flies badly hops up from the floor (W114).
    """
    highest_mm = [hop_mm_of(bird) // 10 * 10 for bird in poor_fliers(case)]
    walls_mm = [h for h in (case.quarters.front_height_mm, case.quarters.back_height_mm) if h]
    highest_mm.append(max(0.0, min(walls_mm) - HATCH["height_mm"] - 50))  # below the lowest eaves
    old = next((h for h in case.quarters.hatches if h.face in faces), None)
    name = names.give("hatch", "Hatch", old.name if old else None)
    if old is not None:
        sill_mm = min([old.sill_mm, *highest_mm]) if old.ledge_mm else old.sill_mm
        return old.model_copy(update={"name": name, "closes": True, "sill_mm": sill_mm})
    corridor = next(
        (
            space.name
            for door in case.yard.door
            for space in case.yard.space
            if case.quarters.name in door.between
            and space.name in door.between
            and space.kind == "corridor"
        ),
        None,
    )
    face = min(faces, key=_back_first)
    return Hatch.model_validate(
        {"kind": "hatch", "name": name, "face": face, "at_mm": 0.0, "closes": True,
         "blind": True, "served_from": corridor} | HATCH
        | {"sill_mm": min([HATCH["sill_mm"], *highest_mm])}
    )  # fmt: skip
