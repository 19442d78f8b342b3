"""The weighing room and the store: cold, locked, exact, and closed to mice."""

from collections.abc import Iterator, Sequence
from functools import cache
from math import ceil, floor

from mewswright.checks import asked
from mewswright.checks.case import Case
from mewswright.checks.finding import Evidence, Finding, Status
from mewswright.checks.flock_need import flock, flock_food_g, need_sources, packed_l
from mewswright.checks.limits import ABOVE_A_HAIR
from mewswright.checks.registry import yard_check
from mewswright.handbook import PublishedRow, published_rows
from mewswright.model.quantity import Quantity, millimetres
from mewswright.model.yard import Yard

THAWING_DAYS = 2  # what thaws today, and what was thawed yesterday: a judgement
SCALE_PERCH_G = 1000.0  # perch, glove or box on the scale: a judgement
SMALL_BIRD_G = 300.0  # below it the finer step is asked, as the row of the handbook has it
FOOD_ROOMS = ("store", "weighing_room")


@cache
def _row(subject: str, quantity: str) -> PublishedRow:
    """A figure of the handbook on weight and food."""
    return next(
        row
        for row in published_rows("weight_food")
        if (row.subject, row.quantity) == (subject, quantity)
    )


def _number(row: PublishedRow) -> float:
    assert row.value_si is not None
    return row.value_si


def _said(
    code: str, what: str, sound: bool, *, measured: Quantity | None, limit: Quantity | None,
    why: str, remedy: str, sources: tuple[Evidence, ...], missed: Status = "short",
) -> Finding:  # fmt: skip
    return Finding(
        code=code, status="sound" if sound else missed, fitting=what, measured=measured,
        limit=limit, why="" if sound else why, remedy="" if sound else remedy, sources=sources,
    )  # fmt: skip


def _unknown(code: str, what: str, keys: Sequence[str], sources: tuple[Evidence, ...]) -> Finding:
    given = " and ".join(f"service.{key}" for key in keys)
    return _said(
        code, what, False, measured=Quantity(value="not given"), limit=None, missed="mind",
        why="the yard file does not say", remedy=f"give {given}", sources=sources,
    )  # fmt: skip


def _litres(value_l: float) -> Quantity:
    return Quantity(value=value_l, unit="l")


def _so_many(birds: int) -> str:
    return "1 bird eats" if birds == 1 else f"{birds} birds eat"


@yard_check("V101", "Room in the freezer")
def freezer_room(yard: Yard, _cases: Sequence[Case]) -> Iterator[Finding]:
    """The freezer holds what the flock eats from one delivery to the next."""
    birds, held = flock(yard), yard.service
    if not birds:
        return
    sources = (*need_sources(), *asked.judgement("frozen food packed at 0.5 kg a litre"))
    missing = [key for key in ("delivery_days", "freezer_l") if getattr(held, key) is None]
    if held.freezer_l is None or held.delivery_days is None:
        yield _unknown("V101", "freezer", missing, sources)
        return
    daily_l = packed_l(flock_food_g(birds))
    need_l = daily_l * held.delivery_days
    days = floor(held.freezer_l / daily_l + ABOVE_A_HAIR)
    oftener = f", or have food brought every {days} days" if days >= 1 else ""
    yield _said(
        "V101", "freezer", held.freezer_l >= need_l - ABOVE_A_HAIR,
        measured=_litres(held.freezer_l), limit=_litres(need_l),
        why=f"{_so_many(len(birds))} {daily_l:.2f} l a day, for {held.delivery_days:g} days",
        remedy=f"take a freezer {ceil(need_l - held.freezer_l)} l larger{oftener}",
        sources=sources,
    )  # fmt: skip


@yard_check("V102", "Room in the fridge")
def fridge_room(yard: Yard, _cases: Sequence[Case]) -> Iterator[Finding]:
    """The fridge holds the food that thaws today and that of yesterday."""
    birds, held = flock(yard), yard.service
    if not birds:
        return
    use_by = _row("thawed prey", "use_within")
    sources = (*need_sources(), *asked.witnesses(use_by.source))
    if held.fridge_l is None:
        yield _unknown("V102", "fridge", ["fridge_l"], sources)
        return
    need_l = THAWING_DAYS * packed_l(flock_food_g(birds))
    yield _said(
        "V102", "fridge", held.fridge_l >= need_l - ABOVE_A_HAIR,
        measured=_litres(held.fridge_l), limit=_litres(need_l),
        why="food that does not fit thaws in the open, and spoils",
        remedy=f"take a fridge {ceil(need_l - held.fridge_l)} l larger", sources=sources,
    )  # fmt: skip


@yard_check("V103", "Freezer and fridge cold enough")
def cold_enough(yard: Yard, _cases: Sequence[Case]) -> Iterator[Finding]:
    """Frozen food is at -18 C or below, thawed food at 4 C or below."""
    if not yard.bird:
        return
    for what, row in (
        ("freezer", _row("frozen prey", "freezer_temp_max")),
        ("fridge", _row("thawing and thawed prey", "fridge_temp_max")),
    ):
        found_c = getattr(yard.service, f"{what}_c")
        sources, limit_c = asked.witnesses(row.source), _number(row)
        if found_c is None:
            yield _unknown("V103", what, [f"{what}_c"], sources)
            continue
        yield _said(
            "V103", what, found_c <= limit_c + ABOVE_A_HAIR,
            measured=Quantity(value=found_c, unit="°C"), limit=Quantity(value=limit_c, unit="°C"),
            why="food keeps for weeks, not months" if what == "freezer"
            else "germs grow in thawed food",
            remedy=f"set it {found_c - limit_c:g} °C colder", sources=sources,
        )  # fmt: skip


@yard_check("V104", "Medicines locked up")
def medicines(yard: Yard, _cases: Sequence[Case]) -> Iterator[Finding]:
    """Nobody takes a medicine by mistake or by stealth."""
    yield from _yes_or_no(
        yard, "V104", "medicines", "medicines_locked", ("locked up", "within reach"),
        "a child, a dog or the wrong hand gets at them", "lock them up",
    )  # fmt: skip


@yard_check("V105", "Chemicals apart from food")
def chemicals(yard: Yard, _cases: Sequence[Case]) -> Iterator[Finding]:
    """Cleaning chemicals and food do not share a cupboard, a shelf or a sink."""
    yield from _yes_or_no(
        yard, "V105", "chemicals", "chemicals_apart", ("apart from food", "beside food"),
        "a splash or a fume in the food poisons a whole flock",
        "give them a cupboard of their own, below and away from food",
    )  # fmt: skip


def _yes_or_no(
    yard: Yard, code: str, what: str, key: str, told: tuple[str, str], why: str, remedy: str
) -> Iterator[Finding]:
    if not yard.bird:
        return
    sources = asked.judgement(f"{what}: {told[0]}")
    sound = getattr(yard.service, key)
    if sound is None:
        yield _unknown(code, what, [key], sources)
        return
    yield _said(
        code, what, sound, measured=Quantity(value=told[0] if sound else told[1]), limit=None,
        why=why, remedy=remedy, sources=sources,
    )  # fmt: skip


@yard_check("V106", "A scale for the heaviest bird")
def scale_range(yard: Yard, _cases: Sequence[Case]) -> Iterator[Finding]:
    """The scale weighs the heaviest bird together with the perch that it stands on."""
    heaviest = max(flock(yard), key=lambda bird: bird.mass.value, default=None)
    if heaviest is None:
        return
    sources = (heaviest.mass.source, *asked.judgement("1000 g of perch, glove or box"))
    found_g, need_g = yard.service.scale_max_g, heaviest.mass.value + SCALE_PERCH_G
    if found_g is None:
        yield _unknown("V106", "scale", ["scale_max_g"], sources)
        return
    yield _said(
        "V106", "scale", found_g >= need_g - ABOVE_A_HAIR,
        measured=Quantity(value=found_g, unit="g"), limit=Quantity(value=need_g, unit="g"),
        why=f"{heaviest.bird.name} on its perch is too heavy for it",
        remedy=f"take a scale for {ceil(need_g - ABOVE_A_HAIR)} g or more", sources=sources,
    )  # fmt: skip


@yard_check("V107", "A scale fine enough for the lightest bird")
def scale_step(yard: Yard, _cases: Sequence[Case]) -> Iterator[Finding]:
    """The scale shows half an ounce, or a gram where a bird is small."""
    lightest = min(flock(yard), key=lambda bird: bird.mass.value, default=None)
    if lightest is None:
        return
    small = lightest.mass.value < SMALL_BIRD_G
    row = (
        _row("birds under 300 g", "scale_resolution_max")
        if small
        else _row("falconry scale", "resolution_max")
    )
    sources = (*asked.witnesses(row.source), lightest.mass.source)
    found_g, limit_g = yard.service.scale_step_g, _number(row)
    if found_g is None:
        yield _unknown("V107", "scale", ["scale_step_g"], sources)
        return
    yield _said(
        "V107", "scale", found_g <= limit_g + ABOVE_A_HAIR,
        measured=Quantity(value=found_g, unit="g"), limit=Quantity(value=limit_g, unit="g"),
        why=f"{lightest.bird.name} gains or loses more than health allows between two steps",
        remedy=f"take a scale that shows steps of {floor(limit_g)} g", sources=sources,
    )  # fmt: skip


@yard_check("V108", "Mice and rats kept out of the store")
def rodents(yard: Yard, _cases: Sequence[Case]) -> Iterator[Finding]:
    """No gap of a room with food lets in a mouse."""
    if not yard.bird:
        return
    mouse, rat = asked.house_rule("mouse_gap_mm"), asked.house_rule("rat_gap_mm")
    sources, limit_mm = asked.of_rule(mouse, rat), asked.number(mouse)
    for space in yard.space:
        if space.kind not in FOOD_ROOMS:
            continue
        gap_mm = space.rodent_gap_mm
        if gap_mm is None:
            yield _said(
                "V108", space.name, False, measured=Quantity(value="not given"), limit=None,
                missed="mind", why="the yard file does not say how wide its gaps are",
                remedy="measure its widest gap and give rodent_gap_mm", sources=sources,
            )  # fmt: skip
            continue
        rats = not asked.stays_within(gap_mm, asked.number(rat))
        yield _said(
            "V108", space.name, asked.stays_within(gap_mm, limit_mm),
            measured=millimetres(gap_mm), limit=millimetres(limit_mm),
            why=f"{'rats and mice get' if rats else 'mice get'} at the food and foul it",
            remedy=f"close its gaps to {millimetres(limit_mm)} or less", sources=sources,
        )  # fmt: skip
