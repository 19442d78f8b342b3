"""Labels to stick on sawn pieces: which piece it is, where it goes, and what bar it comes from."""

from collections.abc import Iterator, Sequence

from pydantic import BaseModel, ConfigDict

from mewswright.build.cut.plan import CutPlan, SectionPlan
from mewswright.build.parts import Part
from mewswright.build.sawing import Sawing


class Label(BaseModel):
    """One sawn piece. `bar` counts the bars of its section as they are sawn; 0: not planned."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    mark: str
    number: int
    of: int  # pieces of this mark
    what: str
    place: str
    section: str
    material: str
    length_mm: float
    cut_start_deg: float
    cut_end_deg: float
    bar: int
    bars: int  # bars of the section in all
    stock_mm: float


def labels_of(parts: Sequence[Part], sawing: Sawing) -> tuple[Label, ...]:
    """Give a label to each sawn piece, in the order in which the cut plan saws them.

    Args:
        parts: Parts of a take-off.
        sawing: How they are sawn; what it does not plan comes last, without a bar.
    """
    by_mark = {part.mark: part for part in parts if part.sawn}
    given = dict.fromkeys(by_mark, 0)
    labels = []
    for mark, bar, bars, stock_mm in (*_sawn(sawing.plan), *_sawn(sawing.unpriced)):
        given[mark] += 1
        labels.append(_label(by_mark[mark], given[mark], bar, bars, stock_mm))
    for mark, part in by_mark.items():
        labels += [_label(part, i, 0, 0, 0) for i in range(given[mark] + 1, part.count + 1)]
    return tuple(labels)


def _sawn(plan: CutPlan | None) -> Iterator[tuple[str, int, int, float]]:
    for section in plan.sections if plan else ():
        yield from _bars(section)


def _bars(section: SectionPlan) -> Iterator[tuple[str, int, int, float]]:
    """Mark, bar, bars of the section and length of the bar [mm], for each piece of it."""
    bars = sum(pattern.count for pattern in section.patterns)
    bar = 0
    for pattern in section.patterns:
        for _ in range(pattern.count):
            bar += 1
            for cut in pattern.cuts:
                for _ in range(cut.count):
                    yield cut.mark, bar, bars, float(pattern.stock_mm)


def _label(part: Part, number: int, bar: int, bars: int, stock_mm: float) -> Label:
    return Label(
        mark=part.mark, number=number, of=part.count, what=part.what, place=part.place,
        section=part.section, material=part.material, length_mm=part.length_mm,
        cut_start_deg=part.cut_start_deg, cut_end_deg=part.cut_end_deg, bar=bar, bars=bars,
        stock_mm=stock_mm,
    )  # fmt: skip
