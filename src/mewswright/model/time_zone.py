"""Names of time zones, and what is said of one that is none."""

from zoneinfo import ZoneInfo, available_timezones

from mewswright.model.fault import nearest_name


def not_a_time_zone(name: str) -> str:
    """Say what is wrong with the name of a time zone and how to mend it; blank if nothing is.

    A machine that knows no zone at all takes any name.
    """
    try:
        ZoneInfo(name)
    except (ValueError, OSError, LookupError):
        zones = available_timezones()
    else:
        return ""
    if not zones:
        return ""
    near = nearest_name(name, sorted(zones))
    return f"{name!r} is no time zone: give an IANA name, such as Europe/Zurich" + (
        f"; did you mean {near}?" if near else ""
    )
