"""Which animals get in: through the gaps of the sides, and from above."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from math import inf

from mewswright.build.skins import Skin, skins_of_face, skins_of_top, widest_gap_mm
from mewswright.checks import asked
from mewswright.checks.asked import verdict
from mewswright.checks.case import Case
from mewswright.checks.faces import face_name, sides
from mewswright.checks.finding import Finding, Status
from mewswright.checks.registry import quarters_check
from mewswright.checks.roof import has_solid_roof
from mewswright.handbook import Predator, mesh_kind, predators
from mewswright.model.quantity import Quantity, millimetres

OPEN_BY_NIGHT = "an owl, or a marten over the wall, takes a bird that roosts under open sky"
OPEN_BY_DAY = "a wild hawk strikes a bird that it sees tied in the open"
BY_DAY = "birds are here by day alone, when somebody is near"
GIVE_GAP = {"roof": "give open_gap_mm of the roof"}


@dataclass(frozen=True)
class Entry:
    """One side with all that passes it; `sure` is False where a gap is not known."""

    name: str
    gap_mm: float | None
    animals: tuple[Predator, ...]
    sure: bool


@quarters_check("N101", "Gaps by predator")
def by_predator(case: Case) -> Iterator[Finding]:
    """Say which animals the widest gap of the quarters lets in, and by which side."""
    if not case.residents:
        return
    entries = _entries(case)
    unsure = [entry for entry in entries if not entry.sure]
    known = [entry for entry in entries if entry.sure]
    came = tuple(p for p in predators() if any(p in entry.animals for entry in known))
    bad = tuple(p for p in came if p.danger != "none")
    gaps = [entry.gap_mm for entry in known if entry.gap_mm is not None]
    widest_mm = max(gaps, default=0.0)
    limit = min((p.gap for p in predators() if p.danger != "none"), key=lambda gap: gap.value)
    overnight = any(not r.stay.daytime_only for r in case.residents)
    status: Status = "sound"
    why = "; ".join(_told(p, known) for p in came[:1])
    remedy = ""
    if bad and overnight:
        status = _status(case, bad)
        why = "; ".join([_told(bad[0], known), *_rest(bad[1:])])
        remedy = _remedy(known, limit.value)
    elif came and not overnight:
        why = BY_DAY
    elif unsure and overnight:
        status, why = "mind", f"the gap of the {unsure[0].name} is not known"
        remedy = GIVE_GAP.get(unsure[0].name, f"give gap_mm of the {unsure[0].name} and its skins")
    shown = (bad or came)[:1]
    yield Finding(
        code="N101", status=status, quarters=case.quarters.name,
        measured=Quantity(value="open") if widest_mm == inf else millimetres(widest_mm),
        limit=millimetres(limit.value), why=why, remedy=remedy,
        sources=asked.witnesses(limit.source, *(p.gap.source for p in shown)),
    )  # fmt: skip


def _entries(case: Case) -> list[Entry]:
    q = case.quarters
    if q.faces is None:
        return [Entry("open ground", inf, predators(), True)]
    found = [(face_name(side), skins_of_face(face)) for side, face in sides(case)]
    found.append(("roof", skins_of_top(q)))
    return [_entry(name, skins) for name, skins in found if skins]


def _entry(name: str, skins: Sequence[Skin]) -> Entry:
    """A skin of unknown gap is not relied on; where it alone would decide, nobody knows."""
    measured = [skin for skin in skins if skin.gap_mm is not None]
    animals = tuple(p for p in predators() if all(_passes(p, skin) for skin in measured))
    sure = len(measured) == len(skins) or not any(p.danger != "none" for p in animals)
    return Entry(name, widest_gap_mm(skins), animals, sure)


def _passes(predator: Predator, skin: Skin) -> bool:
    gap_mm = skin.gap_mm
    if gap_mm is None or not asked.stays_within(gap_mm, predator.gap.value):
        return True
    return predator.bites_net and gap_mm > 0 and _is_bitten(skin.kind)


@cache
def _is_bitten(kind: str | None) -> bool:
    return kind not in (None, "woven") and mesh_kind(str(kind)).stops_predators == "bad"


def _status(case: Case, came: Sequence[Predator]) -> Status:
    """Who kills, and a bird on a leash that cannot get away, make it harm."""
    kills = any(p.danger == "high" for p in came)
    tied = any(not r.stay.daytime_only for r in case.tethered)
    if kills:
        return "harm" if tied else "short"
    return "mind"


def _told(predator: Predator, entries: Sequence[Entry]) -> str:
    by = [entry.name for entry in entries if predator in entry.animals]
    return f"a {predator.name} gets in by the {' and the '.join(by)}: it {predator.does}"


def _rest(animals: Sequence[Predator]) -> list[str]:
    return [f"so do {', '.join(p.plural for p in animals)}"] if animals else []


def _remedy(entries: Sequence[Entry], limit_mm: float) -> str:
    names = [e.name for e in entries if any(p.danger != "none" for p in e.animals)]
    if names == ["open ground"]:
        return "keep birds there by day alone, while somebody is near"
    return (
        f"close the {' and the '.join(names)} with welded mesh whose clear gaps are "
        f"{millimetres(limit_mm)} or less"
    )


@quarters_check("N102", "A top against what climbs and what flies")
def from_above(case: Case) -> Iterator[Finding]:
    """No owl, hawk or climbing animal comes down on a bird."""
    if not case.residents:
        return
    top = skins_of_top(case.quarters)
    overnight = [r for r in case.residents if not r.stay.daytime_only]
    bird = (overnight or list(case.residents))[0]
    net = mesh_kind("knotted_net")
    sources = asked.judgement("a top against owls, hawks and martens")
    told, why, remedy = "closed", "", ""
    status: Status = "sound"
    if not top and has_solid_roof(case):
        told = "roofed"
    elif top and top[0].gap_mm == inf:
        told, status = "open", "short" if overnight else "mind"
        why = OPEN_BY_NIGHT if overnight else OPEN_BY_DAY
        remedy = (
            "close the top with welded mesh, or bring the bird under a roof for the night"
            if overnight
            else "stay in sight, or net the top"
        )
    elif top and top[0].kind == "knotted_net":
        told, status = "netted", "mind" if overnight else "sound"
        why = f"net is not mesh: {net.reason}"
        remedy = "lay welded mesh over the net"
        sources = asked.witnesses(net.source)
    yield verdict(
        "N102", case, status == "sound", status, measured=Quantity(value=told),
        bird=bird.bird.name if status != "sound" else None, fitting="roof", why=why, remedy=remedy,
        sources=sources,
    )  # fmt: skip
