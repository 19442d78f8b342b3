"""Open one-dimensional instances with known optima, where a folder of them is named.

Delorme, Iori, Martello, Optimization Letters 12 (2018). Their licence does not let the files
be shipped; MEWSWRIGHT_BENCH names the folder. A handful that take no time; benchmarks/cut.py
runs them all.
"""

import csv
import os
from decimal import Decimal
from pathlib import Path

import pytest

from mewswright.build.cut.plan import CutPart, StockBar
from mewswright.build.cut.solve import cut_plan

FOLDER = os.environ.get("MEWSWRIGHT_BENCH")


@pytest.mark.skipif(not FOLDER, reason="MEWSWRIGHT_BENCH names no folder")
@pytest.mark.parametrize(
    "name",
    [
        "BPP_200_75_0.2_0.7_3",
        "Falkenauer_t60_08",
        "Falkenauer_u250_02",
        "N3C2W4_C",
        "Schwerin1_BPP37",
        "Waescher_TEST0058",
    ],
)
def test_an_open_instance_is_proven_at_its_optimum(name):
    folder = Path(FOLDER) / "stock1d"
    with (folder / "optimum.csv").open(encoding="utf-8") as table:
        best = {row["instance"]: int(row["stocks_needed"]) for row in csv.DictReader(table)}
    _, room, *rest = map(int, (folder / f"{name}.txt").read_text(encoding="utf-8").split())
    parts = [
        CutPart(mark=f"P{size}", section="s", length_mm=Decimal(size), count=count)
        for size, count in zip(rest[::2], rest[1::2], strict=True)
    ]
    stock = [StockBar(section="s", length_mm=Decimal(room), price=Decimal(1))]
    plan = cut_plan(parts, stock, kerf_mm=0, seconds=60)
    assert (plan.cost, plan.proven) == (best[name], True)
