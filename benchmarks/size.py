"""The cheapest frame that stands, beside analysing every frame that a small stock makes.

A keeper waits for `size`. The baseline is what it stands for: each combination set out,
analysed whole, and the cheapest sound one kept; same machine, same run, same answer asked.
"""

import tomllib
from importlib.resources import files
from time import process_time

from mewswright.build.frame_report import frame_report
from mewswright.build.size_choices import Anchor, Brace, Choices, choices_for
from mewswright.build.size_judge import Judge
from mewswright.build.size_price import Pricer
from mewswright.build.size_search import search
from mewswright.build.size_stock import own_sections
from mewswright.model.yard import Yard

DEMO = (files("mewswright") / "examples" / "alder-close.yard.toml").read_text(encoding="utf-8")
YARD = Yard.model_validate(tomllib.loads(DEMO))
UNITS = ("Isolation", "Chalk shelter")
STOCK = Choices(
    rafters=(("45x145", 600.0), ("45x145", 400.0), ("45x195", 600.0), ("45x195", 400.0)),
    heads=(("45x95", False), ("95x95", False), ("45x145", True)),
    posts=(("95x95", 3), ("95x95", 4), ("95x95", 5), ("95x95", 7)),
    studs=(("95x95", 600.0),),
    braces=(Brace(), Brace("osb3_11", 150.0)),
    anchors=(Anchor("concrete_hole", (600.0, 1200.0)),),
    counts=(6, 8, 16),
)


def every_combination(name):
    """Cheapest sound frame among all, each analysed whole."""
    unit = YARD.quarters_named(name)
    pricer, best, analysed = Pricer(YARD, unit), None, 0
    for frame in STOCK.frames(unit.frame):
        analysed += 1
        if frame_report(YARD, unit.model_copy(update={"frame": frame})).sound:
            price = pricer.price(frame)
            if best is None or price.rank < best[0].rank:
                best = price, frame
    return best, analysed


frame_report(YARD, YARD.quarters_named(UNITS[0]))  # what is slow to import is imported
for name in UNITS:
    unit = YARD.quarters_named(name)
    start = process_time()
    found, trail = search(Judge(YARD, unit), Pricer(YARD, unit), STOCK, unit.frame)
    size_s = process_time() - start
    start = process_time()
    best, analysed = every_combination(name)
    every_s = process_time() - start
    assert found is not None
    assert best is not None
    assert found.frame == best[1], (found.frame, best[1])  # a fast wrong answer is no answer
    print(
        f"{name}: {analysed} combinations in {every_s:.1f} s, size in {size_s:.2f} s with "
        f"{trail.confirmed} whole analyses: {every_s / size_s:.0f} times faster, "
        f"{analysed / trail.confirmed:.0f} times fewer, the same frame at {found.price.total}"
    )

for name in UNITS:
    unit = YARD.quarters_named(name)
    start = process_time()
    choices = choices_for(YARD, unit, own_sections(YARD))
    found, trail = search(Judge(YARD, unit), Pricer(YARD, unit), choices, unit.frame)
    print(
        f"{name}, all of the demo's stock: {trail.combinations} combinations, {trail.met} sets of "
        f"timber met, {trail.confirmed} whole analyses, {process_time() - start:.1f} s"
    )
