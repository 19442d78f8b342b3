"""All checks of a yard, beside reading the same yard from its file.

A page runs the checks whenever the file changes, so a keeper waits for them. Reading the
file is work that nobody minds: same machine, same run, and so the baseline.

Yards of 12, 24, 48 and 96 quarters show the growth: each is Alder Close's own lofts,
shelters and birds again, side by side, under new names.
"""

import re
from importlib.resources import files
from timeit import repeat

from mewswright.checks.registry import run_checks
from mewswright.model.yard_file import parse_yard

DEMO = (files("mewswright.examples") / "alder-close.yard.toml").read_text(encoding="utf-8")
ENTITY = re.compile(r"(?m)^(?=\[\[(?:bird|quarters|space|door|stay)\]\])")
SERVICE = re.compile(r"(?ms)^\[service\]$.*?(?=^\[(?!\[?service)|\Z)")
# Copies stand out of each other's sight, so that every bird has as much to look at as before.
STRIDE_M = 130


def best_s(work, *args, goes=5) -> float:
    """Shortest of some goes [s]: the others measure what else the machine did."""
    return min(repeat(lambda: work(*args), number=1, repeat=goes))


def yard_text(quarters: int) -> str:
    """Text of a yard with a number of quarters, a multiple of 12."""
    text = without_one_pitch(DEMO)
    head, *entities = ENTITY.split(text)
    blocks = "".join(entities)
    once, blocks = SERVICE.findall(blocks), SERVICE.sub("", blocks)  # a yard has one service
    names = sorted(set(re.findall(r'(?m)^name = "([^"]+)"', blocks)), key=len, reverse=True)
    copies = [blocks]
    for copy in range(1, quarters // 12):
        again = blocks
        for name in names:
            again = again.replace(f'"{name}"', f'"{name} {copy + 1}"')
        again = re.sub(
            r"(?m)^at_m = \[([\d.]+),",
            lambda m, shift=copy * STRIDE_M: f"at_m = [{float(m.group(1)) + shift:g},",
            again,
        )
        copies.append(again)
    return head + "".join(once) + "".join(copies)


def without_one_pitch(text: str) -> str:
    """Alder Close has 13 quarters; leave the fourth pitch out."""
    parts = ENTITY.split(text)
    return "".join(p for p in parts if '"Fourth pitch"' not in p)


def main() -> None:
    """Print the ratios."""
    seconds = {}
    for size in (12, 24, 48, 96):
        text = yard_text(size)
        yard = parse_yard(text, "benchmark")
        assert len(yard.quarters) == size, len(yard.quarters)
        assert len(run_checks(yard)) >= size  # a fast wrong answer is no answer
        reading = best_s(parse_yard, text, "benchmark")
        checking = seconds[size] = best_s(run_checks, yard)
        print(
            f"{size:4d} quarters: reading {1000 * reading:7.1f} ms, "
            f"checks {1000 * checking:7.1f} ms, "
            f"ratio {checking / reading:6.2f}"
        )
    growth = (seconds[96] / seconds[12]) / (96 / 12)
    print(f"from 12 to 96 quarters the checks grow {growth:.2f} times as fast as the quarters")


if __name__ == "__main__":
    main()
