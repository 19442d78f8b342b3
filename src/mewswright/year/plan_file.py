"""Reading a plan of a year back from the JSON that `mewswright year --json` prints.

Only what a plan needs is read: stays, the days, the yard's name and the cleanings. Whatever else
lies in the file, of this version or another, is left alone.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from datetime import date
from typing import Any, cast

from mewswright.model.problem import Problem
from mewswright.year.plan import Mode, PlannedStay, Span, YearPlan, joined

MODES = ("loose", "tethered")


def read_plan(text: str, name: str) -> YearPlan:
    """Read a plan.

    Args:
        text: The JSON.
        name: What the file is called, for errors.

    Raises:
        Problem: If it is no JSON, or no plan; names the place.
    """
    try:
        data = json.loads(text)
    except ValueError as error:
        raise Problem(
            f"{name} is no JSON ({error}): give what 'mewswright year --json' printed"
        ) from (error)
    if not isinstance(data, dict) or not isinstance(data.get("stays"), list):
        raise Problem(
            f"{name} holds no plan: give what 'mewswright year --json' printed, with its \"stays\""
        )
    if not data["stays"]:
        raise Problem(f"{name} is a plan without a stay: there is nothing to keep of it")
    stays = tuple(_stay(one, f"{name}: stays[{i}]") for i, one in enumerate(data["stays"]))
    return plan_of(data, stays, name)


def plan_of(
    data: Mapping[str, Any],
    stays: tuple[PlannedStay, ...],
    name: str = "the plan",
    birds: Iterable[str] = (),
    quarters: Iterable[str] = (),
    windows: tuple[Span, ...] = (),
    shut: tuple[Span, ...] = (),
) -> YearPlan:
    """A plan of the keys of a report.

    Args:
        data: The report's own keys; days that are missing are those of the stays.
        stays: Its stays.
        name: What it is called, for errors.
        birds: Names in the order in which to show them; those of other stays come after.
        quarters: Likewise.
        windows: Times of birds to show.
        shut: Days on which quarters are empty, beside the plan's cleanings.
    """
    starts_on = (
        _day(data["from"], f"{name}: from") if "from" in data else (min(s.starts_on for s in stays))
    )
    ends_on = _day(data["to"], f"{name}: to") if "to" in data else max(s.ends_on for s in stays)
    step_days = data.get("step_days", 7)
    if step_days not in (1, 7):
        raise Problem(f"{name}: step_days is {step_days!r}: a plan has steps of 1 or of 7 days")
    cleaned = data.get("cleaned", ())
    cleanings = tuple(
        Span(str(one.get("quarters")), "clean", _day(one.get("from"), f"{name}: cleaned[{i}].from"),
             _day(one.get("to"), f"{name}: cleaned[{i}].to"))
        for i, one in enumerate(cleaned)
        if isinstance(one, Mapping)
    )  # fmt: skip
    return YearPlan(
        yard=str(data.get("yard", "")),
        starts_on=starts_on,
        ends_on=ends_on,
        birds=tuple(dict.fromkeys([*birds, *(s.bird for s in stays)])),
        quarters=tuple(dict.fromkeys([*quarters, *(s.quarters for s in stays)])),
        stays=joined(stays),
        shut=(*cleanings, *shut),
        windows=windows,
        step_days=step_days,
    )


def _stay(one: object, place: str) -> PlannedStay:
    if not isinstance(one, Mapping):
        raise Problem(f"{place} is {one!r}: a stay has bird, quarters, mode, from and to")
    for key in ("bird", "quarters", "mode", "from", "to"):
        if not isinstance(one.get(key), str) or not one[key]:
            raise Problem(
                f"{place}.{key} is {one.get(key)!r}: give its words, as 'year' prints them"
            )
    if one["mode"] not in MODES:
        raise Problem(f"{place}.mode is {one['mode']!r}: loose or tethered")
    first, last = _day(one["from"], f"{place}.from"), _day(one["to"], f"{place}.to")
    if last < first:
        raise Problem(
            f"{place} ends on {last}, before it starts on {first}: change one of the days"
        )
    return PlannedStay(
        one["bird"], one["quarters"], cast(Mode, one["mode"]), first, last,
        one.get("perch") if isinstance(one.get("perch"), str) else None,
        one.get("isolated") is True,
    )  # fmt: skip


def _day(given: object, place: str) -> date:
    try:
        return date.fromisoformat(given)  # type: ignore[arg-type]
    except (TypeError, ValueError):
        raise Problem(f"{place} is {given!r}: write the day as 2027-03-01") from None
