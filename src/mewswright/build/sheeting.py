"""How the rectangular sheets of a take-off are sawn: deck and lining, nested as `nest` does."""

from collections.abc import Sequence
from decimal import Decimal
from functools import lru_cache

from pydantic import BaseModel, ConfigDict

from mewswright import handbook
from mewswright.build.materials import known_material
from mewswright.build.nest.plan import NestPlan, SheetPart, StockSheet
from mewswright.build.nest.solve import nest_plan
from mewswright.build.parts import Part
from mewswright.build.sawing import RackUse, exact_mm
from mewswright.handbook.materials import Material
from mewswright.model.problem import Problem
from mewswright.model.yard import Yard

# Work for each material, worth about as many seconds; without a clock the plan is the same
# on every machine.
SECONDS = 1.0
RACK = "rack"


class SheetPlan(BaseModel):
    """Sheets of one material: how they are sawn, how many are bought, what the rack gives."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    material: str
    plan: NestPlan
    buy: int
    rack: tuple[RackUse, ...]


class Sheeting(BaseModel):
    """Sheet plans of a unit; `refused` says which material could not be planned, and why."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    plans: tuple[SheetPlan, ...]
    refused: tuple[str, ...]

    def of(self, material: str) -> SheetPlan | None:
        """The plan of a material, or None."""
        return next((one for one in self.plans if one.material == material), None)

    @property
    def rack(self) -> tuple[RackUse, ...]:
        """What all plans take from the rack."""
        return tuple(use for one in self.plans for use in one.rack)


def is_sheet(part: Part) -> bool:
    """Whether a part is sawn as a rectangle from a whole sheet."""
    row = known_material(part.material)
    return (
        row is not None
        and row.sheet_length_mm is not None
        and part.unit == "m2"
        and part.length_mm > 0
        and part.width_mm > 0
    )


def sheeting_of(yard: Yard, parts: Sequence[Part]) -> Sheeting:
    """Plan the sawing of all rectangular sheets, material by material.

    Sheets cost their price in the yard file, or one each where it has none, so that the
    fewest are bought; what lies in the rack costs nothing and is used first. A deck of wood
    keeps its long side across the rafters; a lining may be turned.

    Args:
        yard: Prices, and the rack.
        parts: The take-off's parts.
    """
    wanted: dict[str, list[Part]] = {}
    for part in parts:
        if is_sheet(part):
            wanted.setdefault(part.material, []).append(part)
    plans, refused = [], []
    for name, group in wanted.items():
        row = known_material(name)
        assert row is not None
        price = next((one.price for one in yard.price if one.item == name), Decimal(1))
        try:
            plan = _nested(
                tuple(
                    (p.mark, exact_mm(p.length_mm), exact_mm(p.width_mm), p.count, p.kind)
                    for p in group
                ),
                _whole(row, price),
                tuple(
                    (exact_mm(o.length_mm), exact_mm(o.width_mm or 0), o.count)
                    for o in yard.offcut
                    if o.item == name
                ),
            )
        except Problem as problem:
            refused.append(f"sheets of {name}: {problem}")
            continue
        plans.append(_told(name, plan))
    return Sheeting(plans=tuple(plans), refused=tuple(refused))


def _whole(row: Material, price: Decimal) -> tuple[str, Decimal, Decimal, Decimal]:
    return (row.id, exact_mm(row.sheet_length_mm or 0), exact_mm(row.sheet_width_mm or 0), price)


@lru_cache(maxsize=256)
def _nested(
    parts: tuple[tuple[str, Decimal, Decimal, int, str], ...],
    whole: tuple[str, Decimal, Decimal, Decimal],
    rack: tuple[tuple[Decimal, Decimal, int], ...],
) -> NestPlan:
    kerf = handbook.fixing_rule("saw_kerf").figure.value
    sheets = [
        StockSheet(
            name=f"{RACK} {i}", length_mm=length, width_mm=width, price=Decimal(0), available=count
        )
        for i, (length, width, count) in enumerate(rack, 1)
    ]
    sheets.append(StockSheet(name=whole[0], length_mm=whole[1], width_mm=whole[2], price=whole[3]))
    return nest_plan(
        [
            SheetPart(
                mark=mark,
                length_mm=length,
                width_mm=width,
                count=count,
                grain="along" if kind == "deck" else "none",
            )
            for mark, length, width, count, kind in parts
        ],
        sheets,
        kerf,
        SECONDS,
    )


def _told(name: str, plan: NestPlan) -> SheetPlan:
    used: dict[tuple[Decimal, Decimal], tuple[int, list[str]]] = {}
    buy = 0
    for layout in plan.sheets:
        if not layout.sheet.startswith(f"{RACK} "):
            buy += layout.count
            continue
        key = (layout.length_mm, layout.width_mm)
        count, marks = used.get(key, (0, []))
        used[key] = (count + layout.count, [*marks, *(part.mark for part in layout.parts)])
    rack = tuple(
        RackUse(
            what=name, length_mm=float(length), width_mm=float(width), count=count,
            marks=tuple(dict.fromkeys(marks)),
        )
        for (length, width), (count, marks) in used.items()
    )  # fmt: skip
    return SheetPlan(material=name, plan=plan, buy=buy, rack=rack)
