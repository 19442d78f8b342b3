"""A filled sheet as places, cuts in their order, and what is left.

Everything is worked out in the frame of the first cuts (u along a strip, v across it) and
turned to the sheet's own length and width at the end.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from mewswright.build.nest.plan import Offcut, Placed, SheetCut, StockSheet

ZERO = Decimal(0)


@dataclass(frozen=True)
class Lying:
    """A part in a stack: its size in the frame, and whether it is turned on the sheet."""

    mark: str
    length_mm: Decimal
    width_mm: Decimal
    u_mm: Decimal
    v_mm: Decimal
    rotated: bool


@dataclass(frozen=True)
class _Rest:
    u: Decimal
    v: Decimal
    du: Decimal
    dv: Decimal


@dataclass(frozen=True)
class Sawn:
    """A sheet's cuts, parts and offcuts."""

    cuts: tuple[SheetCut, ...]
    parts: tuple[Placed, ...]
    offcuts: tuple[Offcut, ...]


class _Saw:
    """Cuts a sheet in order, and notes each cut, part and rest."""

    def __init__(self, along: bool, kerf: Decimal) -> None:
        self.along = along  # strips run along the sheet's length
        self.kerf = kerf
        self.cuts: list[SheetCut] = []
        self.parts: list[Placed] = []
        self.rests: list[_Rest] = []

    def cut(self, stage: str, across: bool, at: Decimal, start: Decimal, end: Decimal) -> None:
        """Note a cut: across the strips at u = at, or along them at v = at."""
        along_length = self.along != across
        self.cuts.append(
            SheetCut.model_validate(
                {
                    "number": len(self.cuts) + 1,
                    "stage": stage,
                    "along": "length" if along_length else "width",
                    "at_mm": at,
                    "from_mm": start,
                    "to_mm": end,
                }
            )
        )

    def rest(self, u: Decimal, v: Decimal, du: Decimal, dv: Decimal) -> None:
        """Note what is left, unless the saw takes it all."""
        if du > 0 and dv > 0:
            self.rests.append(_Rest(u, v, du, dv))

    def strip(
        self, strip: Sequence[Sequence[Lying]], u0: Decimal, u1: Decimal, v0: Decimal, v1: Decimal
    ) -> None:
        """Saw one strip from u0 to u1, v0 to v1 into stacks."""
        u = u0
        stacks = []
        for stack in strip:
            end = u + max(p.u_mm for p in stack)
            if end < u1:
                self.cut("second", True, end, v0, v1)
            stacks.append((stack, u, end))
            u = end + self.kerf
        self.rest(u, v0, u1 - u, v1 - v0)
        for stack, start, end in stacks:
            self.stack(stack, start, end, v0, v1)

    def stack(
        self, stack: Sequence[Lying], u0: Decimal, u1: Decimal, v0: Decimal, v1: Decimal
    ) -> None:
        """Saw one stack into parts, and trim those that are narrower."""
        v = v0
        placed = []
        for part in stack:
            end = v + part.v_mm
            if end < v1:
                self.cut("third", False, end, u0, u1)
            placed.append((part, v, end))
            v = end + self.kerf
        self.rest(u0, v, u1 - u0, v1 - v)
        for part, bottom, top in placed:
            right = u0 + part.u_mm
            if right < u1:
                self.cut("trim", True, right, bottom, top)
                self.rest(right + self.kerf, bottom, u1 - right - self.kerf, top - bottom)
            x, y = (u0, bottom) if self.along else (bottom, u0)
            self.parts.append(
                Placed(
                    mark=part.mark, x_mm=x, y_mm=y, length_mm=part.length_mm,
                    width_mm=part.width_mm, rotated=part.rotated,
                )
            )  # fmt: skip


def sawn(
    sheet: StockSheet,
    along: bool,
    strips: Sequence[Sequence[Sequence[Lying]]],
    kerf: Decimal,
    trim: Decimal,
) -> Sawn:
    """Saw one sheet.

    Strips go from the highest down, stacks from the highest too, so that what is left lies
    together at the far edges.

    Args:
        sheet: The sheet.
        along: The first cuts run along its length.
        strips: Strips of stacks of parts.
        kerf: Width of the cut [mm].
        trim: Taken off every edge first [mm].
    """
    saw = _Saw(along, kerf)
    length, width = sheet.length_mm, sheet.width_mm
    full_u, full_v = (length, width) if along else (width, length)
    u0, v0, u1, v1 = trim, trim, full_u - trim, full_v - trim
    if trim > 0:
        # The saw runs in what is thrown away, so a kerf wider than the trim costs no more.
        saw.cut("edge", False, v0, ZERO, full_u)
        saw.cut("edge", False, v1, ZERO, full_u)
        saw.cut("edge", True, u0, v0, v1)
        saw.cut("edge", True, u1, v0, v1)
    v = v0
    lying = []
    for strip in strips:
        top = v + max(sum(p.v_mm for p in s) + kerf * (len(s) - 1) for s in strip)
        if top < v1:
            saw.cut("first", False, top, u0, u1)
        lying.append((strip, v, top))
        v = top + kerf
    saw.rest(u0, v, u1 - u0, v1 - v)
    for strip, bottom, top in lying:
        saw.strip(strip, u0, u1, bottom, top)
    offcuts = [
        Offcut(x_mm=r.u, y_mm=r.v, length_mm=r.du, width_mm=r.dv)
        if along
        else Offcut(x_mm=r.v, y_mm=r.u, length_mm=r.dv, width_mm=r.du)
        for r in saw.rests
    ]
    offcuts.sort(key=lambda o: (-o.length_mm * o.width_mm, o.x_mm, o.y_mm))
    return Sawn(tuple(saw.cuts), tuple(saw.parts), tuple(offcuts))
