"""Week numbers against Python's datetime, the C library's strftime and published facts."""

import calendar
import datetime as dt
from collections import Counter
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inkline.calendar.weeks import (
    WeekCount,
    day_of_year,
    iso_week,
    iso_weeks_in_year,
    row_weeks,
    us_week,
    us_weeks_in_year,
)

MONDAY, THURSDAY, SATURDAY, SUNDAY = 0, 3, 5, 6
DATES = st.dates(dt.date(1583, 1, 1), dt.date(9999, 12, 31))
YEARS = range(2001, 2401)


@given(date=DATES)
def test_iso_weeks_against_pythons_datetime(date):
    assert iso_week(date.year, date.month, date.day) == tuple(date.isocalendar())[:2]


def test_iso_weeks_at_every_turn_of_the_year_of_the_cycle():
    for year in YEARS:
        for month, days in ((1, range(1, 8)), (12, range(25, 32))):
            for day in days:
                assert (
                    iso_week(year, month, day) == tuple(dt.date(year, month, day).isocalendar())[:2]
                )


@pytest.mark.parametrize(
    ("date", "week"),
    [
        # Examples of ISO 8601 week dates as published (2006-12-31 and 2019-12-30 read in tables;
        # the others computed).
        ((2005, 1, 1), (2004, 53)),
        ((2006, 12, 31), (2006, 52)),
        ((2007, 12, 31), (2008, 1)),
        ((2008, 12, 29), (2009, 1)),
        ((2010, 1, 3), (2009, 53)),
        ((2019, 12, 30), (2020, 1)),
        ((2026, 12, 31), (2026, 53)),
        ((2027, 1, 1), (2026, 53)),
        ((1583, 1, 1), (1582, 52)),
    ],
)
def test_iso_weeks_of_known_dates(date, week):
    assert iso_week(*date) == week


def test_71_years_of_400_have_53_weeks():
    # Published: world.clndr.org; 53 where 1 January is a Thursday, or a Wednesday in a leap year
    # (read there too).
    assert Counter(iso_weeks_in_year(year) for year in YEARS) == {52: 329, 53: 71}
    # Computed from that rule.
    long = [year for year in range(2004, 2049) if iso_weeks_in_year(year) == 53]
    assert long == [2004, 2009, 2015, 2020, 2026, 2032, 2037, 2043, 2048]


@given(date=DATES)
def test_us_weeks_against_strftime(date):
    # %U of ISO C counts weeks from Sunday, week 1 holding the year's first Sunday; the days before
    # it are this count's week 1.
    begins_on_sunday = dt.date(date.year, 1, 1).weekday() == SUNDAY
    assert us_week(date.year, date.month, date.day) == int(date.strftime("%U")) + (
        0 if begins_on_sunday else 1
    )


def test_us_weeks_of_known_dates():
    # 2028 begins on a Saturday and is a leap year, so it ends in a 54th week, a Sunday alone
    # (common practice, no source).
    assert [
        us_week(2028, 1, 1),
        us_week(2028, 1, 2),
        us_week(2028, 12, 30),
        us_week(2028, 12, 31),
    ] == [1, 2, 53, 54]


def test_only_leap_years_from_a_saturday_touch_54_us_weeks():
    # 13 of 97 leap years begin on a Saturday (computed, no source).
    long = [year for year in YEARS if us_weeks_in_year(year) == 54]
    assert long == [
        year
        for year in YEARS
        if calendar.isleap(year) and dt.date(year, 1, 1).weekday() == SATURDAY
    ]
    assert len(long) == 13
    assert {us_weeks_in_year(year) for year in YEARS} == {53, 54}


@pytest.mark.parametrize("week_start", [MONDAY, SATURDAY, SUNDAY])
def test_a_row_has_the_week_of_its_thursday(week_start):
    python = calendar.Calendar(firstweekday=week_start)
    for year in YEARS:
        for month in range(1, 13):
            weeks = [
                row[(THURSDAY - week_start) % 7] for row in python.monthdatescalendar(year, month)
            ]
            found = row_weeks(year, month, week_start=week_start, count=WeekCount.ISO)
            assert found == tuple(day.isocalendar().week for day in weeks)


@pytest.mark.parametrize(("count", "week_start"), [(WeekCount.ISO, MONDAY), (WeekCount.US, SUNDAY)])
def test_rows_that_begin_with_their_count_fit_every_day_of_the_month(count, week_start):
    python = calendar.Calendar(firstweekday=week_start)
    number = us_week if count is WeekCount.US else lambda *date: iso_week(*date)[1]
    for year in range(2001, 2029):
        for month in range(1, 13):
            rows = python.monthdayscalendar(year, month)
            found = row_weeks(year, month, week_start=week_start, count=count)
            assert len(found) == len(rows)
            for week, days in zip(found, rows, strict=True):
                assert {number(year, month, day) for day in days if day} == {week}


@pytest.mark.parametrize("week_start", [MONDAY, SATURDAY])
def test_us_weeks_in_other_rows_fit_six_of_seven_days(week_start):
    python = calendar.Calendar(firstweekday=week_start)
    for year in range(2001, 2029):
        for month in range(1, 13):
            found = row_weeks(year, month, week_start=week_start, count=WeekCount.US)
            for week, dates in zip(found, python.monthdatescalendar(year, month), strict=True):
                if {date.year for date in dates} == {year}:
                    assert (
                        sum(us_week(date.year, date.month, date.day) == week for date in dates) == 6
                    )


@pytest.mark.parametrize("count", list(WeekCount))
@pytest.mark.parametrize("week_start", range(7))
def test_weeks_of_a_month_run_on(count, week_start):
    for year in range(2001, 2029):
        for month in range(1, 13):
            found = row_weeks(year, month, week_start=week_start, count=count)
            assert all(
                after == before + 1 or (after == 1 and before >= 52)
                for before, after in pairwise(found)
            )


def test_rows_of_known_months():
    # Computed: 2026 is one of the 71 long years.
    assert row_weeks(2026, 12, week_start=MONDAY, count=WeekCount.ISO) == (49, 50, 51, 52, 53)
    assert row_weeks(2027, 1, week_start=MONDAY, count=WeekCount.ISO) == (53, 1, 2, 3, 4)
    assert row_weeks(2028, 12, week_start=SUNDAY, count=WeekCount.US) == (49, 50, 51, 52, 53, 54)
    assert row_weeks(2022, 12, week_start=SATURDAY, count=WeekCount.US) == (49, 50, 51, 52, 53, 1)
    assert row_weeks(2023, 1, week_start=MONDAY, count=WeekCount.US) == (53, 1, 2, 3, 4, 5)


@given(date=DATES)
def test_the_day_of_the_year_against_pythons_datetime(date):
    assert day_of_year(date.year, date.month, date.day) == date.timetuple().tm_yday


@pytest.mark.parametrize("day", [0, 29])
def test_a_30th_of_february_is_refused(day):
    with pytest.raises(ValueError, match=f"2027-02 must lie between 1 and 28, not {day}"):
        iso_week(2027, 2, day)
