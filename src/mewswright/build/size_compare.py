"""One section for all timbers of a frame: does light square timber do as well as deep timber?"""

from collections.abc import Iterator, Sequence
from typing import Literal

from pydantic import BaseModel, ConfigDict

from mewswright.build.frame_report import FrameReport, frame_report
from mewswright.build.longest import usual_lengths_mm
from mewswright.build.shell import breadth_depth_mm
from mewswright.build.size_judge import Judge
from mewswright.build.size_price import Pricer
from mewswright.build.size_spans import Reach, reaches
from mewswright.build.size_stock import area_mm2, own_sections, stocked
from mewswright.model.problem import Problem
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard

FAMILIES = ("38x38", "38x63", "38x89", "45x95", "47x47", "50x100")
LIGHT_MM2 = 50.0 * 50.0  # judgement: what is called light is no more than 50 x 50 mm
SQUARE = 1.2  # depth over breadth, up to which a section counts as square (judgement)
DEEP = 1.5  # from which it counts as deep (judgement)
Role = Literal["rafters", "head plates", "posts", "studs"]
ROLES: tuple[Role, ...] = ("rafters", "head plates", "posts", "studs")


class Family(BaseModel):
    """A frame with every timber of one section."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    section: str
    head_on_edge: bool
    utilisation: float  # of the weakest member
    weakest: str
    roles: dict[Role, float]  # the most used of each
    sway_mm: float | None
    cost: float | None  # of the unit; None: the section has no price
    waste_pct: float | None
    timber_kg: float
    members_sound: bool
    sound: bool  # the whole report, bracing and anchors included
    weak_in: dict[Role, str] = {}  # of each role the member, its length and the check used most


class RoleClaim(BaseModel):
    """Whether light square timber is enough for one kind of member here, and where it fails."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    role: Role
    holds: bool
    section: str  # the best of the light square ones
    utilisation: float
    where: str  # member, length and check
    deep_section: str
    deep_utilisation: float
    deep_holds: bool


class Claim(BaseModel):
    """The claim that light square timber does as well as deep timber, on this site."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    holds: bool | None  # None: nothing light and square, or nothing deep, was compared
    roles: tuple[RoleClaim, ...]
    rafter_spans: tuple[Reach, ...]

    def told(self) -> Iterator[str]:
        """In words, after the answer."""
        for one in self.roles:
            if not one.holds:
                yield f"{one.section} fails first in {one.where}"
        yield from (one.words for one in self.rafter_spans)
        if self.rafter_spans:
            yield f"here rafters span {self.rafter_spans[0].here_mm / 1000:.2f} m between supports"


class Comparison(BaseModel):
    """All families, and what they say of this site."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    yard: str
    quarters: str
    currency: str
    families: tuple[Family, ...]
    answer: str
    claim: Claim
    left_out: tuple[str, ...]
    assumptions: tuple[str, ...]
    cautions: tuple[str, ...]


def compare(yard: Yard, quarters: Quarters, sections: Sequence[str] = ()) -> Comparison:
    """Set every timber of a frame out in one section after another.

    Spacings, bracing and anchors stay as the yard file has them. A section deeper than
    broad lies with its head plates the better way up.

    Args:
        yard: Its stock, prices and loads.
        quarters: The unit.
        sections: Sections; none: the common ones and the stock, where either is known.

    Raises:
        Problem: As `frame_report` does, or if no section can be had.
    """
    asked = sections or tuple(dict.fromkeys((*FAMILIES, *own_sections(yard))))
    own = set(own_sections(yard))
    known = [s for s in asked if sections or s in own or usual_lengths_mm(s)]
    left_out = tuple(
        f"{s}: neither the yard's stock nor the handbook has it" for s in asked if s not in known
    )
    if not known:
        raise Problem(f"none of these sections can be had: {', '.join(asked)}")
    using = stocked(yard, known)
    families = []
    cautions: tuple[str, ...] = ()
    for section in dict.fromkeys(known):
        family, cautions = _family(using, quarters, section)
        families.append(family)
    return Comparison(
        yard=yard.yard.name,
        quarters=quarters.name,
        currency=yard.yard.currency,
        families=tuple(families),
        answer=answer(families),
        claim=claim_of(families, _spans(using, quarters, families)),
        left_out=left_out,
        assumptions=(
            "all timbers are of one section: posts, plates, studs, noggings and rafters; spacings, "
            "bracing and anchors are the yard file's",
            "sections that are not in stock are priced at the dearest price per volume of the "
            "yard's own (assumed)",
        ),
        cautions=cautions,
    )


def _family(yard: Yard, quarters: Quarters, section: str) -> tuple[Family, tuple[str, ...]]:
    breadth, depth = breadth_depth_mm(section)
    found = []
    for on_edge in (False, True) if depth > breadth else (False,):
        frame = quarters.frame.model_copy(
            update={
                **dict.fromkeys(("post", "sole", "head", "stud", "nogging", "rafter"), section),
                "head_on_edge": on_edge,
            }
        )
        unit = quarters.model_copy(update={"frame": frame})
        found.append((frame_report(yard, unit), unit))
    report, unit = min(found, key=lambda one: max(m.utilisation for m in one[0].members))
    price = Pricer(yard, unit).price(unit.frame)
    most = max(report.members, key=lambda one: one.utilisation)
    priced = not any(section in one for one in price.missing)
    return Family(
        section=section,
        head_on_edge=unit.frame.head_on_edge,
        utilisation=most.utilisation,
        weakest=f"{most.mark}, {most.what}: {most.governing}",
        roles=roles_of(report),
        sway_mm=report.stability["sway_mm"],
        cost=float(price.total) if priced else None,
        waste_pct=price.timber_waste_pct if priced else None,
        timber_kg=price.timber_kg,
        members_sound=most.utilisation <= 1,
        sound=report.sound,
        weak_in=weak_in(report),
    ), report.cautions


def roles_of(report: FrameReport) -> dict[Role, float]:
    """The share used by the most used timber of each role."""
    found: dict[Role, float] = {}
    for one in report.members:
        role = _role(one.what)
        found[role] = max(found.get(role, 0.0), one.utilisation)
    return found


def weak_in(report: FrameReport) -> dict[Role, str]:
    """Of each role the member that is used most, how long it is, and by which check."""
    found: dict[Role, tuple[float, str]] = {}
    for one in report.members:
        words = f"{one.mark}, {one.what}, {one.length_mm:.0f} mm long: {one.governing}"
        known = found.get(_role(one.what))
        if known is None or one.utilisation > known[0]:
            found[_role(one.what)] = (one.utilisation, words)
    return {role: words for role, (_, words) in found.items()}


def claim_of(families: Sequence[Family], spans: Sequence[Reach] = ()) -> Claim:
    """The answer as data: each kind of member, the best light square section and the best deep."""
    square = [one for one in families if is_light_square(one.section)]
    deep = [one for one in families if is_deep(one.section)]
    if not square or not deep:
        return Claim(holds=None, roles=(), rafter_spans=tuple(spans))
    roles = []
    for role in ROLES:
        if not any(role in one.roles for one in square) or not any(role in d.roles for d in deep):
            continue
        share, section = _best(square, role)
        other, better = _best(deep, role)
        of_square = next(one for one in square if one.section == section)
        roles.append(
            RoleClaim(
                role=role, holds=share <= 1, section=section, utilisation=share,
                where=of_square.weak_in.get(role, ""), deep_section=better,
                deep_utilisation=other, deep_holds=other <= 1,
            )
        )  # fmt: skip
    return Claim(
        holds=all(one.holds for one in roles), roles=tuple(roles), rafter_spans=tuple(spans)
    )


def _spans(yard: Yard, quarters: Quarters, families: Sequence[Family]) -> tuple[Reach, ...]:
    """How far rafters reach: of the largest light square section, and of the best deep one."""
    square = [one.section for one in families if is_light_square(one.section)]
    deep = [one for one in families if is_deep(one.section) and "rafters" in one.roles]
    asked = [max(square, key=area_mm2)] if square else []
    asked += [_best(deep, "rafters")[1]] if deep else []
    return reaches(Judge(yard, quarters), quarters.frame, asked)


def _role(what: str) -> Role:
    if what.startswith("rafter"):
        return "rafters"
    if what.startswith("head plate"):
        return "head plates"
    return "posts" if what.startswith("post") else "studs"


def is_light_square(section: str) -> bool:
    """A section that is about as deep as broad, and no more than 50 x 50 mm."""
    low, high = sorted(breadth_depth_mm(section))
    return high / low <= SQUARE and low * high <= LIGHT_MM2


def is_deep(section: str) -> bool:
    """A section at least half as deep again as broad."""
    breadth, depth = breadth_depth_mm(section)
    return depth / breadth >= DEEP


def answer(families: Sequence[Family]) -> str:
    """Whether light square timber does as well as deep timber here, in one sentence."""
    square = [one for one in families if is_light_square(one.section)]
    deep = [one for one in families if is_deep(one.section)]
    if not square or not deep:
        missing = "light square" if not square else "deep"
        return f"No {missing} section was compared, so the question stays open here."
    roles = [r for r in ROLES if any(r in one.roles for one in (*square, *deep))]
    holds = [r for r in roles if _best(square, r)[0] <= 1]
    fails = [r for r in roles if r not in holds]
    if not fails:
        return (
            f"Here light square timber does as well as deep timber: {_list(holds)} of "
            f"{_best(square, holds[0])[1]} are enough at these spacings."
        )
    where = f"it holds for {_list(holds)}, and fails" if holds else "it holds for none; it fails"
    return (
        "Here light square timber does not do as well as deep timber everywhere: "
        f"{where} for {_list(list(_failings(square, deep, fails)))}."
    )


def _failings(
    square: Sequence[Family], deep: Sequence[Family], fails: Sequence[Role]
) -> Iterator[str]:
    for role in fails:
        share, section = _best(square, role)
        other, better = _best(deep, role)
        does = "is enough" if other <= 1 else f"is not enough either at {100 * other:.0f} %"
        yield f"{role} ({section} used to {100 * share:.0f} %, {better} {does})"


def _best(families: Sequence[Family], role: Role) -> tuple[float, str]:
    return min((one.roles[role], one.section) for one in families if role in one.roles)


def _list(words: Sequence[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"
