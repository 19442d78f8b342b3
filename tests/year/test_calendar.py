"""The calendar file, read back by a parser of other hands, and by the words of RFC 5545."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta, timezone

import icalendar
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mewswright.year.calendar import LINE_OCTETS, folded, to_calendar
from mewswright.year.plan import PlannedStay
from support.year_plans import small_plan

STAMP = datetime(2027, 2, 1, 18, 30, tzinfo=timezone(timedelta(hours=1)))


def events(plan, stamp=STAMP):
    return icalendar.Calendar.from_ical(to_calendar(plan, stamp)).walk("VEVENT")


def test_a_parser_reads_every_move_and_cleaning_with_its_days():
    found = [
        (str(e["SUMMARY"]), e["DTSTART"].dt, e["DTEND"].dt, e["CATEGORIES"].to_ical().decode())
        for e in events(small_plan())
    ]
    assert found == [
        ("Sleet: tethered in Slate shelter", date(2027, 3, 15), date(2027, 3, 16), "Move"),
        ("Sorrel arrives: Isolation", date(2027, 3, 15), date(2027, 3, 16), "Arrival"),
        ("Tansy and Rook: Long loft to North loft", date(2027, 4, 12), date(2027, 4, 13), "Move"),
        ("Sorrel: Isolation to Long loft", date(2027, 4, 26), date(2027, 4, 27), "Move"),
        ("Sleet leaves Slate shelter", date(2027, 5, 3), date(2027, 5, 4), "Departure"),
        ("Clean and dry: Long loft, next for Sorrel", date(2027, 4, 12), date(2027, 4, 26),
         "Cleaning"),
        ("Closed: Slate shelter", date(2027, 5, 3), date(2027, 5, 24), "Closed"),
    ]  # fmt: skip


def test_days_are_dates_and_the_stamp_is_utc():
    event = events(small_plan())[0]
    assert event["DTSTART"].params["VALUE"] == "DATE"
    assert event["DTSTAMP"].dt == datetime(2027, 2, 1, 17, 30, tzinfo=UTC)


def test_a_stamp_without_a_time_zone_is_refused():
    with pytest.raises(ValueError, match="has no time zone: give one"):
        to_calendar(small_plan(), datetime(2027, 2, 1))


def test_uids_differ_and_stay_when_a_move_is_put_off():
    plan = small_plan()
    uids = [str(e["UID"]) for e in events(plan)]
    assert len(set(uids)) == len(uids)
    later = [
        replace(s, ends_on=date(2027, 5, 2)) if s.quarters == "Isolation"
        else replace(s, starts_on=date(2027, 5, 3)) if s.bird == "Sorrel" else s
        for s in plan.stays
    ]  # fmt: skip
    moved = events(replace(plan, stays=tuple(later)))
    assert sorted(str(e["UID"]) for e in moved) == sorted(uids)
    assert [e["DTSTART"].dt for e in moved if "Isolation to" in e["SUMMARY"]] == [date(2027, 5, 3)]


@given(
    name=st.text(min_size=1, max_size=120).filter(str.strip),
    other=st.sampled_from(["a;b", "c,d", "back\\slash", "two\nlines", "Käuzchen 🦉" * 12]),
)
def test_any_name_comes_back_whole_from_lines_that_are_not_too_long(name, other):
    plan = replace(
        small_plan(),
        birds=(name,),
        quarters=(other,),
        shut=(),
        stays=(PlannedStay(name, other, "loose", date(2027, 4, 1), date(2027, 5, 23)),),
    )
    written = to_calendar(plan, STAMP)
    assert all(len(line) <= LINE_OCTETS for line in written.split(b"\r\n"))
    assert written.endswith(b"END:VCALENDAR\r\n")
    assert b"\n" not in written.replace(b"\r\n", b"")
    written.decode()  # no letter was cut in two
    (event,) = events(plan)
    plain = name.replace("\r\n", "\n").replace("\r", "\n")
    plain = "".join(" " if c != "\n" and (ord(c) < 32 or ord(c) == 127) else c for c in plain)
    assert str(event["SUMMARY"]) == f"{plain} arrives: {other}"


def test_a_long_line_is_folded_as_the_rfc_shows():
    line = "DESCRIPTION:" + "x" * 100
    assert folded(line) == b"DESCRIPTION:" + b"x" * 63 + b"\r\n " + b"x" * 37 + b"\r\n"
