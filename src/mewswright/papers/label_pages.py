"""Cut labels as the pages print them: a grid of labels for each unit."""

from collections.abc import Sequence
from typing import Any

from mewswright.build.labels import Label, labels_of
from mewswright.drawing.paper import Paper
from mewswright.papers.figures import figure
from mewswright.papers.unit import Unit


def label_pages(yard: str, units: Sequence[Unit], paper: Paper = "A3") -> dict[str, Any]:
    """Give the words of the cut labels of some units."""
    return {
        "title": "Cut labels",
        "description": f"Cut labels of {yard}: one for each sawn piece",
        "yard": {"name": yard},
        "paper": {"text": "us-letter" if paper == "Letter" else "a4"},
        "cautions": [],
        "units": [
            {
                "name": unit.quarters.name,
                "labels": [_words(x) for x in labels_of(unit.take_off.parts, unit.sawing)],
            }
            for unit in units
        ],
    }


def _words(label: Label) -> dict[str, str]:
    ends = "both ends square"
    if label.cut_start_deg or label.cut_end_deg:
        ends = f"ends {figure(label.cut_start_deg, 2)}° / {figure(label.cut_end_deg, 2)}°"
    return {
        "mark": label.mark,
        "turn": f"{label.number} of {label.of}",
        "size": f"{figure(label.length_mm)} mm",
        "of": f"{label.section} {label.material}",
        "ends": ends,
        "where": f"{label.what}, {label.place}",
        "bar": _bar(label),
    }


def _bar(label: Label) -> str:
    if not label.bar:
        return "no bar is planned"
    return f"bar {label.bar} of {label.bars}, {figure(label.stock_mm)} long"
