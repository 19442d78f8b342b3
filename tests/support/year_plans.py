"""Plans of a year made by hand, for calendars, charts and pages."""

from datetime import date, timedelta

import numpy as np

from mewswright.year.plan import PlannedStay, Span, YearPlan


def small_plan():
    """Three birds of Alder Close over twelve weeks; Tansy and Rook go together."""

    def stay(bird, quarters, mode, first, last):
        return PlannedStay(
            bird, quarters, mode, date.fromisoformat(first), date.fromisoformat(last)
        )

    return YearPlan(
        yard="Alder Close",
        starts_on=date(2027, 3, 1),
        ends_on=date(2027, 5, 23),
        birds=("Tansy", "Rook", "Sleet", "Sorrel"),
        quarters=("Long loft", "North loft", "Slate shelter", "Isolation"),
        stays=(
            stay("Tansy", "Long loft", "loose", "2027-03-01", "2027-04-11"),
            stay("Rook", "Long loft", "loose", "2027-03-01", "2027-04-11"),
            stay("Tansy", "North loft", "loose", "2027-04-12", "2027-05-23"),
            stay("Rook", "North loft", "loose", "2027-04-12", "2027-05-23"),
            stay("Sleet", "Slate shelter", "loose", "2027-03-01", "2027-03-14"),
            stay("Sleet", "Slate shelter", "tethered", "2027-03-15", "2027-05-02"),
            stay("Sorrel", "Isolation", "loose", "2027-03-15", "2027-04-25"),
            stay("Sorrel", "Long loft", "loose", "2027-04-26", "2027-05-23"),
        ),
        shut=(
            Span("Long loft", "clean", date(2027, 4, 12), date(2027, 4, 25)),
            Span("Slate shelter", "closed", date(2027, 5, 3), date(2027, 5, 23)),
        ),
        windows=(Span("Sleet", "moult", date(2027, 3, 29), date(2027, 5, 23)),),
    )


def crowd(birds, quarters, seed=1, weeks=52):
    """A plan as large as wished: stays of 4 to 12 weeks, cleanings, moults. Not a good year."""
    rng = np.random.default_rng(seed)
    first = date(2027, 1, 4)
    day = lambda week: first + timedelta(weeks=int(week))  # noqa: E731
    stays, shut, windows = [], [], []
    names = [
        f"Bird {i + 1} of the long wood" if i % 9 == 0 else f"Bird {i + 1}" for i in range(birds)
    ]
    places = [f"Loft {i + 1}" if i % 2 else f"Weathering shelter {i + 1}" for i in range(quarters)]
    for q in range(min(birds, quarters)):
        week = 0
        while week < weeks:
            long = min(int(rng.integers(4, 13)), weeks - week)
            mode = "loose" if q % 2 or rng.random() < 0.3 else "tethered"
            stays.append(
                PlannedStay(names[q], places[q], mode, day(week), day(week + long) - timedelta(1))
            )
            week += long
            if quarters > birds and week < weeks and rng.random() < 0.1:
                place = places[birds + q % (quarters - birds)]
                clean = Span(place, "clean", day(week), day(week + 1) - timedelta(1))
                if clean not in shut:
                    shut.append(clean)
        moult = int(rng.integers(10, 20))
        windows.append(Span(names[q], "moult", day(moult), day(moult + 18) - timedelta(1)))
    return YearPlan(
        "Alder Close", first, day(weeks) - timedelta(1), tuple(names), tuple(places), tuple(stays),
        tuple(shut), tuple(windows),
    )  # fmt: skip
