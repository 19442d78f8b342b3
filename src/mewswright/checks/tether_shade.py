"""Shade at noon for a tethered bird, which cannot go and look for it."""

from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from math import inf

from mewswright.build.circle import in_frame_of, is_inside, nearest_on_line, point_distance
from mewswright.checks import asked
from mewswright.checks.case import Case
from mewswright.checks.finding import Finding, Status
from mewswright.checks.limits import whole_mm
from mewswright.checks.registry import yard_check
from mewswright.checks.tethered import Tether, is_open, tethers
from mewswright.ground.noon import (
    EQUINOX_DEG,
    Outline,
    Shining,
    area,
    clipped,
    feature_shade_m,
    midsummer,
    noon_sun,
    quarters_shade_m,
)
from mewswright.ground.squares import Squares
from mewswright.handbook import Rule
from mewswright.model.bird import Stay
from mewswright.model.quantity import Quantity, m_from_mm, millimetres
from mewswright.model.yard import Yard

Spot = tuple[float, float]
Shade = tuple[str, Outline]  # whose it is ("" = a feature's) and its outline [m]
# A bird stands on about 20 cm by 20 cm; a strip of less is no shade: a judgement.
STANDING_MM2 = 200.0 * 200.0
DAY = 21  # of the month, at solstice and equinox alike
EQUINOX_MONTHS = (3, 9)
MIDSUMMER, EQUINOX = "midsummer", "the equinox"


@yard_check("T116", "Shade at noon within the leash")
def shade(yard: Yard, every: Sequence[Case]) -> Iterator[Finding]:
    """T116: at midsummer and at the equinox, some place within the leash is shaded at noon."""
    tied: dict[tuple[str, str, str], list[Tether]] = {}
    laws: dict[str, tuple[Rule, ...]] = {}
    for case in every:
        for tether in tethers(case, each_stay=True):
            tied.setdefault(tether.key, []).append(tether)
            laws[case.quarters.name] = asked.named(case, "shelter_capacity")
    if not tied:
        return
    latitude_deg = yard.yard.latitude_deg
    declination_deg, month = midsummer(latitude_deg)
    high = noon_sun(latitude_deg, declination_deg)
    low = noon_sun(latitude_deg, EQUINOX_DEG)
    at_high, at_low = shades_of(yard, high, month), shades_of(yard, low, EQUINOX_MONTHS[1])
    for group in tied.values():
        tether = group[0]
        stays = [one.resident.stay for one in group]
        law = laws[tether.quarters.name]
        finding = None
        if _is_here(stays, (month,)):
            finding = _judged(tether, at_high, MIDSUMMER, stays, law)
            if finding.status != "sound":
                yield finding
                continue
        asks_low = tether.quarters.kind != "pitch" and low.altitude_deg > 0
        if asks_low and _is_here(stays, EQUINOX_MONTHS):
            yield _judged(tether, at_low, EQUINOX, stays, law)
        elif finding is not None:
            yield finding
        else:
            days = "midsummer or at an equinox" if asks_low else "midsummer"
            yield tether.found("T116", "sound", f"it is not tied here at {days}").model_copy(
                update={"sources": asked.judgement("days on which shade is asked")}
            )


def _is_here(stays: Iterable[Stay], months: Sequence[int]) -> bool:
    """Whether a stay holds on the day of one of the months in some year."""
    for stay in stays:
        first, last = stay.starts_on, stay.ends_on
        if first is None or last is None or (last - first).days >= 365:
            return True
        years = range(first.year, last.year + 1)
        if any(first <= date(year, month, DAY) <= last for year in years for month in months):
            return True
    return False


def shades_of(yard: Yard, sun: Shining, month: int) -> Squares[Shade]:
    """All shade that falls on the ground in a month, by where it falls."""
    found: Squares[Shade] = Squares()
    if sun.altitude_deg <= 0:
        return found
    for q in yard.quarters:
        for outline in quarters_shade_m(q, sun):
            found.add((q.name, outline), outline)
    for feature in yard.feature:
        for outline in feature_shade_m(feature, sun, month):
            found.add(("", outline), outline)
    return found


def _judged(
    tether: Tether, shades: Squares[Shade], day: str, stays: Sequence[Stay],
    laws: tuple[Rule, ...],
) -> Finding:  # fmt: skip
    away_mm, place = nearest_shade_mm(tether, shades)
    feet_mm = tether.circle.feet_mm
    sound = asked.stays_within(away_mm, feet_mm)
    by_day = all(stay.daytime_only for stay in stays)
    at_most_mind = by_day or day != MIDSUMMER  # the low sun of the equinox is bearable
    missed: Status = "mind" if at_most_mind else asked.miss(laws[0]) if laws else "short"
    lawful = () if at_most_mind else asked.of_rule(*laws)
    if sound:
        why, remedy = f"at noon at {day} it finds shade", ""
    elif place is None or not _has_room(tether, away_mm, place):
        why = f"at noon at {day} no shade falls where it stands"
        remedy = "set up a shade cloth or a screen, or bring it under a roof over midday"
    else:
        why = f"at noon at {day} its leash does not let it into the shade"
        remedy = (
            f"move the perch {whole_mm(away_mm - feet_mm)} straight towards "
            f"[{place[0]:.0f}, {place[1]:.0f}]"
        )
    measured = Quantity(value="no shade") if place is None else millimetres(away_mm)
    return tether.found("T116", "sound" if sound else missed, why).model_copy(
        update={
            "measured": measured,
            "limit": millimetres(feet_mm),
            "remedy": remedy,
            "sources": (
                *tether.circle.sources, *lawful, *asked.of_rule(asked.house_rule("heat_check_c")),
            ),
        }
    )  # fmt: skip


def _has_room(tether: Tether, away_mm: float, place: Spot) -> bool:
    """Whether the perch, moved as far as it must be, still stands in its quarters."""
    share = (away_mm - tether.circle.feet_mm) / away_mm
    x, y = (at + (to - at) * share for at, to in zip(tether.perch.at_mm, place, strict=True))
    return 0 < x < tether.quarters.width_mm and 0 < y < tether.quarters.depth_mm


def nearest_shade_mm(tether: Tether, shades: Squares[Shade]) -> tuple[float, Spot | None]:
    """Distance from the perch to the nearest shade that the bird can come to, and its place.

    A face that is not open bounds what it can come to. Millimetres in the frame of the
    quarters; infinity and None where no shade comes near.
    """
    q, spot = tether.quarters, tether.perch.at_mm
    far_mm = tether.circle.feet_mm + max(q.width_mm, q.depth_mm)
    near = shades.near(tether.at_m, m_from_mm(far_mm))
    box = (
        -far_mm if is_open(q, "left") else 0.0,
        -far_mm if is_open(q, "front") else 0.0,
        q.width_mm + (far_mm if is_open(q, "right") else 0.0),
        q.depth_mm + (far_mm if is_open(q, "back") else 0.0),
    )
    best: tuple[float, Spot | None] = (inf, None)
    place = in_frame_of(q)
    for _, outline in sorted(near, key=lambda one: one[0] != q.name):
        part = clipped([place(point) for point in outline], box)
        if area(part) < STANDING_MM2:
            continue
        if is_inside(spot, part):
            return 0.0, spot  # its own roof as a rule: looked at first
        edge = nearest_on_line(spot, part, closed=True)
        best = min(best, (point_distance(spot, edge), edge), key=lambda one: one[0])
    return best
