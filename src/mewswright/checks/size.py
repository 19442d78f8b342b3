"""Checks of the size of lofts: floor, volume, height and sides against standards and spans."""

from collections.abc import Iterator
from dataclasses import dataclass

from mewswright.build.clear_height import beam_mm, clear_height_mm
from mewswright.checks.case import Case, Resident, evidence, most_on_one_day
from mewswright.checks.finding import TAPE_MM, Evidence, Finding, Status
from mewswright.checks.limits import missed, unproven, whole_mm
from mewswright.checks.registry import quarters_check
from mewswright.ground.openness import mean_height_mm
from mewswright.handbook import (
    ClassLimits,
    Figure,
    SizeLimit,
    Unknown,
)
from mewswright.model.quantity import Quantity, m_from_mm, millimetres, mm_from_m

BEFORE_RELEASE = (
    "this size is for flight before release; it is shown so that you can compare, "
    "not asked of a home"
)


@dataclass(frozen=True)
class Asked:
    """What one standard asks for one class of bird here.

    `group` holds the birds that count together. `binding` is False where the size is
    given for another purpose and only shown.
    """

    key: str
    limits: ClassLimits
    group: tuple[Resident, ...]
    binding: bool
    name: str

    @property
    def bird(self) -> str | None:
        """The bird, where there is only one."""
        return self.group[0].bird.name if len(self.group) == 1 else None

    @property
    def who(self) -> str:
        """Say for whom and by what class."""
        names = " and ".join(r.bird.name for r in self.group)
        return f"{self.name}, class {self.limits.class_name}, for {names}"

    def status(self, limit: SizeLimit) -> Status:
        """Give the status of a missed limit."""
        return missed(limit, self.limits.class_is_doubtful) if self.binding else "mind"

    def note(self) -> str:
        """Say what is special about the purpose."""
        return self.who if self.binding else f"{self.who}; {BEFORE_RELEASE}"

    def doubt(self, limit: SizeLimit) -> str:
        """Say why a missed law is no harm here."""
        return unproven(limit, self.limits.class_is_doubtful) if self.binding else ""


def is_sized(case: Case) -> bool:
    """Sizes of rooms are asked where a bird moves free in a room."""
    return case.quarters.kind != "pitch" and bool(case.loose)


def asked(case: Case) -> Iterator[Asked | tuple[str, Resident, Unknown]]:
    """Give what each standard asks, one for each class of bird, or why it is not known."""
    purpose = "isolation" if case.quarters.kind == "isolation" else "loft"
    for key in case.standards:
        best: dict[str, Asked] = {}
        unknown: set[str] = set()
        for resident in case.loose:
            found = case.shelf.size_limits(key, resident.species, purpose)
            binding = True
            if isinstance(found, Unknown) and purpose == "loft":
                instead = case.shelf.size_limits(key, resident.species, "flight_cage")
                if isinstance(instead, ClassLimits) and instead.purpose == "flight_cage":
                    found, binding = instead, False
            if isinstance(found, Unknown):
                if resident.species.id not in unknown:
                    unknown.add(resident.species.id)
                    yield key, resident, found
                continue
            group = most_on_one_day(case.loose, resident)
            one = Asked(key, found, group, binding, case.shelf.standard(key).name)
            if found.bird_class not in best or len(group) > len(best[found.bird_class].group):
                best[found.bird_class] = one
        yield from best.values()


def _limits(case: Case) -> Iterator[Asked]:
    if is_sized(case):
        yield from (a for a in asked(case) if isinstance(a, Asked))


def sides_mm(case: Case) -> tuple[float, float]:
    """Shortest and longest side [mm]: the numbers of a standard do not say which is which."""
    short_mm, long_mm = sorted((case.quarters.width_mm, case.quarters.depth_mm))
    return short_mm, long_mm


def lowest_mm(case: Case) -> float | None:
    """Lowest clear height [mm]: a height that is asked must hold everywhere."""
    q = case.quarters
    if q.front_height_mm is None or q.back_height_mm is None:
        return None
    return clear_height_mm(q, 0, q.depth_mm)


def grown(case: Case, limit_mm: float, sides: int) -> str:
    """Say how much wider and deeper, so that so many of the two sides reach a length."""
    both = [(case.quarters.width_mm, "wider"), (case.quarters.depth_mm, "deeper")]
    nearest = sorted(both, key=lambda side: -side[0])[:sides]
    wanted = [
        f"{whole_mm(limit_mm - side_mm)} {way}"
        for side_mm, way in both
        if (side_mm, way) in nearest and limit_mm - side_mm > TAPE_MM
    ]
    return f"make it {' and '.join(wanted)}" if wanted else ""


def raised(case: Case, limit_mm: float) -> str:
    """Say how far to raise the front, the back and the ridge, so that all reach a height.

    The ridge goes up as far as the higher eave must, or so that its beam reaches it too.
    """
    q = case.quarters
    short = {
        side: limit_mm - height_mm
        for side, height_mm in (("front", q.front_height_mm), ("back", q.back_height_mm))
        if height_mm is not None
    }
    if q.ridge_mm is not None:
        beam = beam_mm(q)
        short["ridge"] = max(*short.values(), 0.0 if beam is None else limit_mm - beam[2])
    return " and ".join(
        f"raise the {side} {whole_mm(mm)}" for side, mm in short.items() if mm > TAPE_MM
    )


@quarters_check("S101", "Floor area by standard")
def floor_area(case: Case) -> Iterator[Finding]:
    """S101: the floor is as large as the standard asks for the birds that share it."""
    width_m, depth_m = m_from_mm(case.quarters.width_mm), m_from_mm(case.quarters.depth_mm)
    area_m2 = case.quarters.floor_area_m2
    # Half a millimetre of tape on the longer side, which changes the area least.
    tape_m2 = m_from_mm(TAPE_MM) * min(width_m, depth_m)
    for one in _limits(case):
        figure = one.limits.required_floor_area_m2(len(one.group))
        if figure is None:
            continue
        limit = one.limits.limits["floor_area_m2"]
        short_m2 = figure.value - area_m2
        remedy = ""
        if short_m2 > tape_m2:
            deeper, wider = mm_from_m(short_m2 / width_m), mm_from_m(short_m2 / depth_m)
            remedy = f"make it {whole_mm(deeper)} deeper or {whole_mm(wider)} wider"
        yield _finding("S101", case, one, Quantity(value=area_m2, unit="m2"), figure, limit, remedy)


@quarters_check("S102", "Volume by standard")
def volume(case: Case) -> Iterator[Finding]:
    """S102: the room holds as much air as the standard asks."""
    volume_m3 = case.quarters.volume_m3
    if volume_m3 is None:
        return
    width_m, depth_m = m_from_mm(case.quarters.width_mm), m_from_mm(case.quarters.depth_mm)
    mean_m = volume_m3 / (width_m * depth_m)
    tape_m3 = m_from_mm(TAPE_MM) * min(width_m * depth_m, width_m * mean_m, depth_m * mean_m)
    for one in _limits(case):
        figure = one.limits.required_volume_m3(len(one.group))
        if figure is None:
            continue
        limit = one.limits.limits["volume_m3"]
        short_m3 = figure.value - volume_m3
        remedy = ""
        if short_m3 > tape_m3:
            higher = mm_from_m(short_m3 / (width_m * depth_m))
            deeper = mm_from_m(short_m3 / (width_m * mean_m))
            remedy = f"raise the whole roof {whole_mm(higher)} or make it {whole_mm(deeper)} deeper"
        found = _finding(
            "S102", case, one, Quantity(value=volume_m3, unit="m3"), figure, limit, remedy
        )
        if remedy and limit.value - volume_m3 <= tape_m3:
            # What the text states is met; the rest is our reading of it, as for mean heights.
            found = found.model_copy(update={"status": "mind"})
        yield found


@quarters_check("S103", "Height by standard")
def height(case: Case) -> Iterator[Finding]:
    """S103: the lowest clear height reaches the height that the standard asks."""
    low_mm = lowest_mm(case)
    if low_mm is None:
        return
    quarters = case.quarters
    for one in _limits(case):
        if limit := one.limits.get("height_mm"):
            short_mm = limit.value - low_mm
            remedy = ""
            if short_mm > TAPE_MM:
                remedy = raised(case, limit.value)
            yield _finding("S103", case, one, millimetres(low_mm), limit.figure, limit, remedy)
        elif limit := one.limits.get("mean_height_mm"):
            mean_mm = mean_height_mm(quarters)
            short_mm = limit.value - mean_mm
            remedy = f"raise the whole roof {whole_mm(short_mm)}" if short_mm > TAPE_MM else ""
            found = _finding("S103", case, one, millimetres(mean_mm), limit.figure, limit, remedy)
            # The text states area and volume; their ratio is our reading of it.
            why = f"{found.why}; mean height that area and volume imply, not stated by the text"
            status: Status = "mind" if remedy else "sound"
            yield found.model_copy(update={"status": status, "why": why})


@quarters_check("S104", "Shortest side by standard")
def shortest_side(case: Case) -> Iterator[Finding]:
    """S104: the shorter side reaches the shorter of the two that the standard asks."""
    yield from _side(case, "S104", shortest=True)


@quarters_check("S109", "Longest side by standard")
def longest_side(case: Case) -> Iterator[Finding]:
    """S109: the longer side reaches the longer of the two that the standard asks."""
    yield from _side(case, "S109", shortest=False)


def _side(case: Case, code: str, shortest: bool) -> Iterator[Finding]:
    measured_mm = sides_mm(case)[0 if shortest else 1]
    for one in _limits(case):
        width, length = one.limits.get("width_mm"), one.limits.get("length_mm")
        if width is None or length is None:
            continue
        pair = sorted((width, length), key=lambda limit: limit.value)
        limit = pair[0 if shortest else 1]
        remedy = grown(case, limit.value, sides=2 if shortest else 1)
        yield _finding(code, case, one, millimetres(measured_mm), limit.figure, limit, remedy)


def _finding(
    code: str, case: Case, one: Asked, measured: Quantity, figure: Figure, limit: SizeLimit,
    remedy: str,
) -> Finding:  # fmt: skip
    said = (one.note(), limit.condition, figure.note, one.doubt(limit) if remedy else "")
    return Finding(
        code=code,
        status=one.status(limit) if remedy else "sound",
        quarters=case.quarters.name,
        bird=one.bird,
        measured=measured,
        limit=Quantity(value=figure.value, unit=figure.unit),
        why="; ".join(dict.fromkeys(p for p in said if p)),
        remedy=remedy,
        sources=evidence(figure.source, one.limits.membership),
    )


@quarters_check("S107", "Indoor room by standard")
def indoor_area(case: Case) -> Iterator[Finding]:
    """S107: where an indoor room applies, each bird has its share of it."""
    for one in _limits(case):
        figure = one.limits.required_indoor_area_m2(len(one.group))
        if figure is None:
            continue
        yield Finding(
            code="S107",
            status="mind",
            quarters=case.quarters.name,
            bird=one.bird,
            limit=Quantity(value=figure.value, unit=figure.unit),
            why=f"{one.who}: {one.limits.limits['indoor_area_m2_per_bird'].condition}; "
            "a yard file does not say what of it is indoors",
            remedy="ask the authority whether an indoor room applies, and measure it",
            sources=evidence(figure.source, one.limits.membership),
        )


@quarters_check("S108", "Sizes that are not known")
def unknown_size(case: Case) -> Iterator[Finding]:
    """S108: a standard that was not read for this bird is named, for silence is no pass."""
    if case.quarters.kind in ("loft", "isolation") and not case.residents:
        yield Finding(
            code="S108",
            status="mind",
            quarters=case.quarters.name,
            measured=Quantity(value=case.quarters.floor_area_m2, unit="m2"),
            why="no bird is named for it, so no size can be judged",
            remedy="add a stay to the yard file",
        )
    if not is_sized(case):
        return
    for one in asked(case):
        if isinstance(one, Asked) or one[0] == "us-50cfr21":  # S110 judges room to fly
            continue
        key, resident, unknown = one
        named = case.shelf.standard(key)
        if named.strength not in ("law", "guide") or not _speaks_of_rooms(key):
            continue
        yield Finding(
            code="S108",
            status="mind",
            quarters=case.quarters.name,
            bird=resident.bird.name,
            measured=Quantity(value=case.quarters.floor_area_m2, unit="m2"),
            why=unknown.reason,
            remedy=f"read {named.name} itself"
            + (", or ask whoever enforces it" if named.strength == "law" else ""),
            sources=(Evidence(name=named.name, locator=named.summary, how_known="judgement"),),
        )


def _speaks_of_rooms(key: str) -> bool:
    """False for standards on other matters, such as disinfectants or quarantine alone."""
    return key not in ("wsava", "eu", "uk-ai", "us-guide", "uk-guide", "au-guide", "uk-laia")
