"""Weather files: what is read, beside another library, and what is refused in which words."""

from datetime import datetime, timedelta

import numpy as np
import pytest
from pvlib.iotools import read_epw

from mewswright.air.weather_file import read_weather
from mewswright.model.problem import Problem
from support.alder_close import YARD
from support.yards import yard

HEAD = "time,temp_c,humidity_pct,wind_m_s"


def rows(count=8760, year=2025, more=lambda _: ""):
    start = datetime(year, 1, 1)
    for n in range(count):
        at = start + timedelta(hours=n)
        yield f"{at:%Y-%m-%dT%H:%M},{10 + n % 24 / 4:g},70,3{more(n)}"


def csv_text(head=HEAD, **how):
    return "\n".join((head, *rows(**how)))


def epw_text(count=8760, change=None, leap=False):
    lines = [
        "LOCATION,Nowhere,XX,XXX,made up,000000,47.1,6.9,1.0,640.0", "DESIGN CONDITIONS,0",
        "TYPICAL/EXTREME PERIODS,0", "GROUND TEMPERATURES,0",
        "HOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0", "COMMENTS 1,made up", "COMMENTS 2,",
        "DATA PERIODS,1,1,Data,Sunday, 1/ 1,12/31",
    ]  # fmt: skip
    start = datetime(2024 if leap else 2023, 1, 1)
    for n in range(count):
        at = start + timedelta(hours=n)
        sun = max(0, 100 * (6 - abs(at.hour - 12)))
        fields = [at.year, at.month, at.day, at.hour + 1, 0, "?9?9", f"{8 + at.hour / 5:.1f}",
                  f"{4 + at.hour / 9:.1f}", 70, 94000, 0, 0, 300, sun, sun, sun // 4, 0, 0, 0, 0,
                  (n * 7) % 360, f"{n % 9:.1f}", n % 11, 5, 10, 2000, 9, 999999999, 10, 0.1, 0, 88,
                  0.2, n % 3, 1.0]  # fmt: skip
        if change:
            change(n, fields)
        lines.append(",".join(str(field) for field in fields))
    return "\n".join(lines) + "\n"


def refused(name, text, of=YARD):
    with pytest.raises(Problem) as told:
        read_weather(name, text, of)
    return str(told.value)


# --- EPW -----------------------------------------------------------------------------------


def test_an_epw_is_read_as_pvlib_reads_it(tmp_path):
    """pvlib.iotools.read_epw, column by column."""
    text = epw_text()
    path = tmp_path / "year.epw"
    path.write_text(text, encoding="utf-8")
    theirs, place = read_epw(path)
    ours = read_weather("year.epw", text, YARD)
    for key, column in (
        ("temp_c", "temp_air"), ("humidity_pct", "relative_humidity"), ("wind_m_s", "wind_speed"),
        ("wind_from_deg", "wind_direction"), ("beam_w_m2", "dni"), ("diffuse_w_m2", "dhi"),
        ("rain_mm", "liquid_precipitation_depth"),
    ):  # fmt: skip
        assert getattr(ours, key) == pytest.approx(theirs[column].to_numpy(float)), key
    assert ours.offset_h == place["TZ"]
    # 300 W/m2 of long waves: Stefan and Boltzmann by hand.
    assert ours.sky_c == pytest.approx((300 / 5.670374e-8) ** 0.25 - 273.15)


def test_a_leap_year_loses_its_leap_day():
    plain = read_weather("y.epw", epw_text(), YARD)
    leap = read_weather("y.epw", epw_text(8784, leap=True), YARD)
    assert len(leap.temp_c) == 8760
    assert leap.temp_c == pytest.approx(plain.temp_c)
    assert "29 February is left out" in leap.notes


def test_far_weather_is_told():
    far = YARD.model_copy(update={"yard": YARD.yard.model_copy(update={"latitude_deg": 60.0})})
    (note,) = [n for n in read_weather("y.epw", epw_text(), far).notes if "the file is of" in n]
    assert note.startswith("the file is of Nowhere (47.1, 6.9) and the yard lies at 60, 6.88")


def test_rain_and_cloud_and_bearing_may_be_missing():
    def nothing(n, fields):
        fields[20], fields[22], fields[33], fields[12] = 999, 99, 999, 9999

    year = read_weather("y.epw", epw_text(change=nothing), YARD)
    assert np.isnan(year.wind_from_deg).all()
    assert np.isnan(year.rain_mm).all()
    assert np.isfinite(year.sky_c).all()
    assert any("tell no rain" in note for note in year.notes)


def at_hour(n, index, value):
    def change(row, fields):
        if row == n:
            fields[index] = value

    return change


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        (at_hour(5, 6, "99.9"), "y.epw, line 14: temp_c is 99.9, which says that it was not "
         "measured: fill the gap, or take another year"),
        (at_hour(0, 8, ""), "y.epw, line 9: humidity_pct is blank, which says that it was not "
         "measured: fill the gap, or take another year"),
        (at_hour(7, 6, "warm"), "y.epw, line 16: temp_c is 'warm', which is no number"),
        (at_hour(7, 21, "-2"), "y.epw, line 16: wind_m_s is -2, and can be 0 to 80: is it km/h, or "
         "another column?"),
        (at_hour(7, 14, "nan"), "y.epw, line 16: beam_w_m2 is 'nan', which is no number"),
        (at_hour(3, 3, 9), "y.epw, line 12: it is hour 01-01 08:00, and 01-01 03:00 is due: give "
         "every hour from 1 January 00:00 once, in order, without summer time"),
    ],
)  # fmt: skip
def test_a_broken_epw_is_refused_at_its_line(change, sentence):
    assert refused("y.epw", epw_text(change=change)) == sentence


def test_an_epw_that_is_cut_off_or_none_is_refused():
    assert refused("y.epw", epw_text(8000)) == (
        "y.epw has 8000 hours: a year has 8760, or 8784 with a 29 February"
    )
    cut = "\n".join(epw_text().splitlines()[:20]) + "\n2023,1,1,13,0"
    assert "line 21: an EPW hour has 35 fields, and this has 5: is it cut off?" in refused(
        "y.epw", cut
    )
    assert "begins with LOCATION" in refused("y.epw", "hello\nworld")
    assert "y.epw has 0 hours" in refused("y.epw", "\n".join(epw_text().splitlines()[:8]))


# --- CSV -----------------------------------------------------------------------------------


def test_a_csv_is_read():
    year = read_weather("w.csv", csv_text(), YARD)
    assert (year.kind, len(year.temp_c)) == ("csv", 8760)
    assert year.temp_c[:25].tolist() == [*(10 + n / 4 for n in range(24)), 10]
    assert np.isnan(year.rain_mm).all()
    assert set(year.notes) == {
        "the file tells no rain: none is counted",
        "the file tells no bearing of the wind: the mean over all bearings is taken",
        "the file tells no sun: each hour has the usual share of its month",
    }


def test_columns_may_stand_in_any_order_with_a_mark_and_windows_ends():
    head, *body = csv_text(f"{HEAD},rain_mm", more=lambda _: ",0.5").split("\n")
    turned = [",".join(reversed(line.split(","))) for line in (head, *body)]
    plain = read_weather("w.csv", "\n".join((head, *body)), YARD)
    other = read_weather("w.csv", "\ufeff" + "\r\n".join(turned) + "\r\n", YARD)
    assert (plain.temp_c == other.temp_c).all()
    assert (other.rain_mm == 0.5).all()


def test_a_leap_year_in_a_csv():
    year = read_weather("w.csv", csv_text(count=8784, year=2024), YARD)
    assert len(year.temp_c) == 8760
    assert "29 February is left out" in year.notes


def test_sun_on_level_ground_is_parted_into_beam_and_sky():
    def sun(n):
        return f",{max(0, 130 * (6 - abs(n % 24 - 12))):g}"

    year = read_weather("w.csv", csv_text(f"{HEAD},global_w_m2", more=sun), YARD)
    assert (year.beam_w_m2 >= 0).all()
    assert year.beam_w_m2.max() > 200
    assert (year.diffuse_w_m2 <= 781).all()
    assert year.beam_w_m2[0] == 0


def test_without_any_sun_the_sky_is_half_clouded():
    year = read_weather("w.csv", csv_text(), yard())
    assert any("half clouded" in note for note in year.notes)


def test_cloud_makes_the_sky_dull():
    clear = read_weather("w.csv", csv_text(f"{HEAD},cloud_pct", more=lambda _: ",0"), YARD)
    dull = read_weather("w.csv", csv_text(f"{HEAD},cloud_pct", more=lambda _: ",100"), YARD)
    assert dull.beam_w_m2.max() == 0
    assert clear.beam_w_m2.max() > 500
    assert (clear.sky_c < dull.sky_c).all()


def with_line(n, line, text=None):
    lines = (text or csv_text()).split("\n")
    lines[n - 1] = line
    return "\n".join(lines)


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("", "w.csv is empty: give an EPW file, or a CSV as docs/air.md has it"),
        ("a\0b", "w.csv is no text: give an EPW file, or a CSV as docs/air.md has it"),
        (csv_text(count=8759), "w.csv has 8759 hours: a year has 8760, or 8784 with a 29 February"),
        (csv_text(count=24), "w.csv has 24 hours: a year has 8760, or 8784 with a 29 February"),
        (with_line(3, "2025-01-01T01:00,,70,3"), "w.csv, line 3: temp_c is blank: fill the gap, or "
         "leave the column out"),
        (with_line(3, "2025-01-01T01:00,mild,70,3"), "w.csv, line 3: temp_c is 'mild', which is no "
         "number"),
        (with_line(3, "2025-01-01T01:00,nan,70,3"), "w.csv, line 3: temp_c is 'nan', which is no "
         "number"),
        (with_line(3, "2025-01-01T01:00,inf,70,3"), "w.csv, line 3: temp_c is 'inf', which is no "
         "number"),
        (with_line(3, "2025-01-01T01:00,70,0.4,3"), "w.csv, line 3: temp_c is 70, and can be -70 "
         "to 60: is it Fahrenheit or Kelvin, or another column?"),
        (with_line(3, "2025-01-01T01:00,7,0.4,3"), "w.csv, line 3: humidity_pct is 0.4, and can be "
         "1 to 110: is it a share of 1, or another column?"),
        (with_line(3, "2025-01-01T02:00,7,70,3"), "w.csv, line 3: it is hour 01-01 02:00, and "
         "01-01 01:00 is due: give every hour from 1 January 00:00 once, in order, without summer "
         "time"),
        (with_line(3, "yesterday,7,70,3"), "w.csv, line 3: time is 'yesterday': write the "
         "beginning of the hour as in 2025-01-01T00:00"),
        (with_line(3, "2025-01-01T01:00+01:00,7,70,3"), "w.csv, line 3: time is "
         "'2025-01-01T01:00+01:00': write full hours of the yard's standard time, without an "
         "offset and without summer time, as in 2025-01-01T00:00"),
        (with_line(3, "2025-01-01T01:00,7,5,70,3"), "w.csv, line 3: 5 cells under 4 headings: give "
         "each its own, and no comma inside a number"),
        (with_line(1, "time,temp,humidity_pct,wind_m_s"), "w.csv, line 1: no column temp_c; there "
         "are time, temp, humidity_pct, wind_m_s"),
        (csv_text(f"{HEAD},temp_c", more=lambda _: ",3"), "w.csv, line 1: two columns are called "
         "temp_c: leave one out"),
        (csv_text(f"{HEAD},beam_w_m2", more=lambda _: ",3"), "w.csv, line 1: beam_w_m2 and "
         "diffuse_w_m2 come together; give both, or global_w_m2"),
    ],
)  # fmt: skip
def test_a_broken_csv_is_refused_in_words(text, sentence):
    assert refused("w.csv", text) == sentence


def test_a_strange_heading_and_none_at_all_name_what_there_may_be():
    strange = refused("w.csv", csv_text(f"{HEAD},snow", more=lambda _: ",3"))
    assert strange.startswith("w.csv, line 1: no such column 'snow'; there may be time, temp_c")
    none = refused("w.csv", "\n".join(rows()))
    assert none.startswith("w.csv, line 1: no heading that is known: the first line names")
    assert refused("w.csv", csv_text().replace(",", ";")).startswith("w.csv, line 1: no heading")


def test_swapped_columns_are_found_where_they_cannot_be():
    head, *body = csv_text().split("\n")
    swapped = "\n".join((head.replace("temp_c", "x").replace("humidity_pct", "temp_c")
                         .replace("x", "humidity_pct"), *body))  # fmt: skip
    assert refused("w.csv", swapped) == (
        "w.csv, line 2: temp_c is 70, and can be -70 to 60: is it Fahrenheit or Kelvin, or another "
        "column?"
    )
