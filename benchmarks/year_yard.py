"""From a yard file to a year's plan: what suits whom, beside all checks of the same yard.

A keeper waits for `mewswright year`. Before its search begins, every bird is tried in every
quarters by the checks; the checks of the yard as it stands, each bird in one place, are the
baseline: same machine, same run, processor time.

The yards are Alder Close's quarters and birds again, side by side: alike, and each a little
different, so that nothing is looked up twice. The last lines plan Alder Close's own year.
"""

from datetime import date
from random import Random
from time import process_time

from checks import DEMO
from mewswright.checks.registry import run_checks
from mewswright.model.bird import Stay
from mewswright.model.yard import Yard
from mewswright.model.yard_file import parse_yard
from mewswright.year.planned import planned
from mewswright.year.problem import year_problem

START = date(2026, 11, 30)


def many(birds: int, quarters: int, differ: bool) -> Yard:
    """A yard of so many birds and quarters, the birds housed in the first of them."""
    demo, chance = parse_yard(DEMO, "demo"), Random(1)
    homes = [q for q in demo.quarters if q.kind != "pitch"]
    made = []
    for i in range(quarters):
        q = homes[i % len(homes)]
        wider = chance.randrange(1, 100) if differ else 0
        made.append(q.model_copy(update={
            "name": f"{q.name} {i}", "at_m": (8.0 * (i % 10), 12.0 * (i // 10)),
            "width_mm": q.width_mm + wider,
        }))  # fmt: skip
    flock = []
    for i in range(birds):
        b = demo.bird[i % len(demo.bird)]
        mass_g = b.mass_g + chance.randrange(1, 50) if differ and b.mass_g else b.mass_g
        flock.append(b.model_copy(update={
            "name": f"{b.name} {i}", "companions": (), "fears": (), "arrives_on": None,
            "mass_g": mass_g, "year": type(b.year)(),
        }))  # fmt: skip
    stays = tuple(
        Stay(bird=b.name, quarters=q.name, mode="loose") for b, q in zip(flock, made, strict=False)
    )
    return demo.model_copy(update={
        "bird": tuple(flock), "quarters": tuple(made), "stay": stays, "door": (), "row": (),
        "space": (),
    })  # fmt: skip


def seconds(work, *args) -> float:
    """Processor time of one go [s]."""
    begun = process_time()
    work(*args)
    return process_time() - begun


def main() -> None:
    """Print the ratios."""
    run_checks(many(2, 3, differ=False))  # what is loaded once is not counted
    for birds, quarters, differ in ((9, 9, False), (100, 66, False), (100, 66, True)):
        yard = many(birds, quarters, differ)
        whole = seconds(run_checks, yard)
        laid = seconds(lambda yard=yard: year_problem(yard, START).laid())
        kind = "all different" if differ else "alike"
        print(
            f"{birds:3d} birds, {quarters:3d} quarters, {kind}: {laid:.2f} s to lay out the year, "
            f"{laid / whole:.1f} times all checks of the yard, {birds * quarters} pairs tried"
        )
    problem = year_problem(parse_yard(DEMO, "demo"), START)
    begun = process_time()
    answer = planned(problem.instance(), 20, 1)
    print(
        f"Alder Close, 52 weeks: {process_time() - begun:.1f} s, cost {answer.cost}, "
        f"bound {answer.bound}"
    )


if __name__ == "__main__":
    main()
