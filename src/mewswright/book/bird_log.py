"""One bird's weighings and feeds of a book, as the log that `mewswright ration` reads."""

from __future__ import annotations

import csv
import io
from dataclasses import dataclass
from datetime import timedelta
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from mewswright.book.read import entries, revisions
from mewswright.handbook.nearest import unknown
from mewswright.model.problem import Problem

if TYPE_CHECKING:
    from mewswright.book.open import Book
    from mewswright.book.read import Kept
    from mewswright.model.bird import Bird

COLUMNS = ("time", "weight_g", "crop", "food", "food_g", "temp_c", "flown_min", "note")
KEEL_FROM = 1  # the book scores a keel 0 to 4, a log 1 to 5


@dataclass(frozen=True)
class BirdLog:
    """A log, and the bird as the newest yard file has it; None where it has none of that name."""

    text: str
    bird: Bird | None


def bird_log(book: Book, name: str) -> BirdLog:
    """The log of one bird.

    Args:
        book: The book.
        name: The bird's.

    Raises:
        Problem: If the book holds nothing of it; the sentence names the nearest.
    """
    from mewswright.model.yard_file import parse_yard

    kept = revisions(book)
    yard = parse_yard(kept[-1].text, f"revision {kept[-1].number}") if kept else None
    birds = {bird.name: bird for bird in yard.bird} if yard else {}
    found = entries(book, ("weight", "feed"), bird=name)
    if not found:
        known = {entry.bird for entry in entries(book, ("weight",)) if entry.bird}
        if name in birds or not known | set(birds):
            raise Problem(f"the book holds no weight of {name!r}: weigh it, and enter that")
        raise unknown("bird", name, known | set(birds))
    zone = ZoneInfo(yard.yard.time_zone) if yard else None
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(COLUMNS)
    for entry in found:
        at = entry.at.astimezone(zone) if zone else entry.at
        if flown := entry.detail.get(
            "flown_min"
        ):  # the book means before the weighing, a log after
            before = (at - timedelta(minutes=1)).isoformat(timespec="seconds")
            writer.writerow([before, "", "", "", "", "", flown, ""])
        writer.writerow([at.isoformat(timespec="seconds"), *_cells(entry)])
    return BirdLog(out.getvalue(), birds.get(name))


def _cells(entry: Kept) -> list[object]:
    said = entry.detail
    note = str(said.get("note") or "").replace("\n", " ")
    grams = "" if entry.grams is None else entry.grams
    if entry.kind == "feed":
        items = said.get("items")
        food = entry.what or ""
        if grams == "" and items and food:
            food = f"{items} {food}"
        return ["", "", food, grams, "", "", note]
    if said.get("ill"):
        note = f"ill. {note}"
    if (keel := said.get("keel")) is not None:
        note = f"{note} keel {keel + KEEL_FROM:g}".strip()
    crop, temp = ("" if said.get(name) is None else said[name] for name in ("crop", "temp_c"))
    return [grams, crop, "", "", temp, "", note]
