"""Two-stage fills and turned bins against literature cases with known answers.

Two small cases are typed in by hand, as a public collection under the MIT licence lists them
with their proven optimum: CHL5 of Cung, Hifi and Le Cun (2000), worth by area, and case 2 of
Hifi (1997), worth by its own profits. More are read where MEWSWRIGHT_BENCH names their
folder; benchmarks/nest.py runs them all.
"""

import csv
import os
from decimal import Decimal
from pathlib import Path

import numpy as np
import pytest

from mewswright.build.cut.effort import Effort
from mewswright.build.nest.plan import SheetPart, StockSheet
from mewswright.build.nest.solve import nest_plan
from mewswright.build.nest.strips import best_strips

FOLDER = os.environ.get("MEWSWRIGHT_BENCH")

CHL5 = [  # width, height, copies; sheet 20 x 20
    (14, 2, 1), (1, 5, 1), (20, 4, 2), (12, 3, 3), (11, 8, 2),
    (11, 6, 2), (7, 9, 1), (17, 5, 1), (7, 14, 2), (1, 7, 3),
]  # fmt: skip
HIFI_2 = [  # width, height, profit, copies; sheet 40 x 70
    (21, 22, 582, 1), (31, 13, 403, 1), (9, 35, 315, 3), (9, 24, 216, 3), (30, 7, 210, 2),
    (11, 13, 143, 3), (10, 14, 140, 1), (14, 8, 110, 3), (12, 8, 94, 3), (13, 7, 90, 3),
]  # fmt: skip
CASES = {
    "CHL5": (20, 20, [(w, h, w * h, d) for w, h, d in CHL5], 363, 344),
    "Hifi 2": (40, 70, HIFI_2, 2535, 2444),
}


def fill(wide, high, items):
    table = np.array(items)
    return best_strips(
        table[:, 0],
        table[:, 1],
        table[:, 2].astype(float),
        np.arange(len(table)),
        table[:, 3],
        wide,
        high,
        Effort(None),
        whole=True,
    )


@pytest.mark.parametrize("name", CASES)
@pytest.mark.parametrize("first_cut", ["horizontal", "vertical"])
def test_a_two_stage_fill_is_proven_at_the_listed_optimum(name, first_cut):
    wide, high, items, horizontal, vertical = CASES[name]
    best = horizontal
    if first_cut == "vertical":
        wide, high, best = high, wide, vertical
        items = [(h, w, p, d) for w, h, p, d in items]
    found = fill(wide, high, items)
    assert (found.worth, found.bound, found.proven) == (best, best, True)


def read(file):
    return list(csv.DictReader(file.read_text(encoding="utf-8").splitlines()))


@pytest.mark.skipif(not FOLDER, reason="MEWSWRIGHT_BENCH names no folder")
@pytest.mark.parametrize(
    ("name", "best"),
    [
        ("berkey1987__Class_01.2bp_20_7", 6),
        ("berkey1987__Class_05.2bp_20_4", 5),
        ("martello1998__Class_08.2bp_20_5", 5),
        ("martello1998__Class_09.2bp_20_3", 14),
    ],
)
def test_turned_bins_are_proven_at_the_best_known(name, best):
    """With a kerf: sizes are stretched tenfold and lose the kerf, which changes no answer."""
    folder = Path(FOLDER) / "guillotine2d"
    (room,) = read(folder / f"{name}_bins.csv")
    stock = StockSheet(
        name="bin",
        length_mm=10 * Decimal(room["WIDTH"]) - 4,
        width_mm=10 * Decimal(room["HEIGHT"]) - 4,
        price=Decimal(1),
    )
    parts = [
        SheetPart(
            mark=f"P{n}",
            length_mm=10 * Decimal(item["WIDTH"]) - 4,
            width_mm=10 * Decimal(item["HEIGHT"]) - 4,
            count=int(item.get("COPIES") or 1),
        )
        for n, item in enumerate(read(folder / f"{name}_items.csv"))
    ]
    plan = nest_plan(parts, [stock], 4, seconds=20)
    assert (plan.cost, plan.proven) == (best, True)
