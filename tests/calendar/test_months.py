"""Months against Python's calendar module and against published counts.

The counts are those of the 400-year cycle of the Gregorian calendar.
"""

import calendar
import itertools
import math
from collections import Counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inkline.calendar.months import (
    dates_number,
    first_weekday,
    is_leap,
    month_length,
    month_rows,
    next_month,
    offset_from,
    previous_month,
    rows_needed,
)

MONDAY, FRIDAY, SATURDAY, SUNDAY = 0, 4, 5, 6
CYCLE = [(year, month) for year in range(2001, 2401) for month in range(1, 13)]


def test_every_month_of_the_cycle_agrees_with_pythons_calendar():
    assert len(CYCLE) == 4800
    for year, month in CYCLE:
        assert (first_weekday(year, month), month_length(year, month)) == calendar.monthrange(
            year, month
        )


def test_the_cycle_has_whole_weeks():
    # 146 097 days, 20 871 weeks, 97 leap years (published: primidi.com, gregorian calendar, other
    # aspects).
    assert sum(month_length(year, month) for year, month in CYCLE) == 146097 == 20871 * 7
    assert sum(is_leap(year) for year in range(2001, 2401)) == 97


def test_years_divisible_by_400_begin_on_saturday():
    # Published: primidi.com, gregorian calendar, other aspects.
    assert {first_weekday(year, 1) for year in range(1600, 4001, 400)} == {SATURDAY}


def test_firsts_of_the_month_over_the_cycle():
    # Most on Sunday, 688, least on Saturday and Monday, 684 (published: primidi.com); the others
    # follow from the rule.
    counts = Counter(first_weekday(year, month) for year, month in CYCLE)
    assert [counts[day] for day in range(7)] == [684, 687, 685, 685, 687, 684, 688]


def test_new_years_days_over_the_cycle():
    # Sunday, Tuesday, Friday 58, Wednesday, Thursday 57, Monday, Saturday 56 (published: D. A.
    # Madore, weblog, 2003).
    counts = Counter(first_weekday(year, 1) for year in range(2001, 2401))
    assert [counts[day] for day in range(7)] == [56, 58, 57, 57, 58, 56, 58]


def test_thirteenths_over_the_cycle():
    # B. H. Brown, American Mathematical Monthly 40:607 (1933): Friday 688, Wednesday and Sunday
    # 687, Monday and Tuesday 685, Thursday and Saturday 684.
    counts = Counter((first_weekday(year, month) + 12) % 7 for year, month in CYCLE)
    assert [counts[day] for day in range(7)] == [685, 685, 687, 684, 688, 684, 687]


@pytest.mark.parametrize(
    ("week_start", "four", "five", "six"),
    [
        (MONDAY, 43, 3727, 1030),
        (SUNDAY, 44, 3729, 1027),
        (SATURDAY, 43, 3727, 1030),
        (FRIDAY, 44, 3728, 1028),
    ],
)
def test_weeks_of_all_months_against_pythons_calendar(week_start, four, five, six):
    counts: Counter[int] = Counter()
    python = calendar.Calendar(firstweekday=week_start)
    for year, month in CYCLE:
        offset = offset_from(first_weekday(year, month), week_start=week_start)
        rows = rows_needed(offset, month_length(year, month))
        assert (
            rows
            == len(python.monthdayscalendar(year, month))
            == month_rows(year, month, week_start=week_start)
        )
        assert dates_number(year, month, week_start=week_start) == offset + 1
        counts[rows] += 1
    # The counts follow from the calendar rule (computed, no source).
    assert counts == {4: four, 5: five, 6: six}


@given(offset=st.integers(0, 6), days=st.integers(1, 31))
def test_rows_are_the_ceiling_of_the_weeks_touched(offset, days):
    assert rows_needed(offset, days) == math.ceil((offset + days) / 7)


def test_a_full_month_needs_six_rows_only_when_it_begins_late():
    assert [rows_needed(offset) for offset in range(7)] == [5, 5, 5, 5, 5, 6, 6]


@pytest.mark.parametrize("offset", [-1, 7])
def test_an_offset_outside_the_week_is_refused(offset):
    with pytest.raises(ValueError, match=f"between 0 and 6, not {offset}"):
        rows_needed(offset)


def test_a_month_without_days_is_refused():
    with pytest.raises(ValueError, match="at least one day, not 0"):
        rows_needed(0, 0)


@pytest.mark.parametrize("month", [0, 13])
def test_a_thirteenth_month_is_refused(month):
    with pytest.raises(ValueError, match=f"between 1 and 12, not {month}"):
        month_length(2027, month)


@pytest.mark.parametrize("year", [1582, 10000])
def test_a_year_without_the_calendar_is_refused(year):
    with pytest.raises(ValueError, match=f"between 1583 and 9999, not {year}"):
        first_weekday(year, 1)


def test_28_layouts_and_2000_months_short_of_31_days():
    # Both follow from the rule (computed, no source).
    layouts = Counter(
        (first_weekday(year, month), month_length(year, month)) for year, month in CYCLE
    )
    assert len(layouts) == 28
    assert sum(count for (_, days), count in layouts.items() if days < 31) == 2000
    assert {days for _, days in layouts} == {28, 29, 30, 31}


def test_months_of_one_year_that_begin_alike():
    # The usual table: January and October; February, March and November; April and July; September
    # and December; in leap years January, April and July; February and August; March and November;
    # September and December (computed, agrees with the published tables of Fridays the 13th at
    # get-the.net).
    for year, alike in (
        (2027, {(1, 10), (2, 3, 11), (4, 7), (5,), (6,), (8,), (9, 12)}),
        (2028, {(1, 4, 7), (2, 8), (3, 11), (5,), (6,), (9, 12), (10,)}),
    ):
        by_first = {}
        for month in range(1, 13):
            by_first.setdefault(first_weekday(year, month), []).append(month)
        assert {tuple(months) for months in by_first.values()} == alike


@pytest.mark.parametrize(
    ("week_start", "years"),
    [
        (MONDAY, [2021, 2027, 2038, 2049]),
        (SUNDAY, [2015, 2026, 2037, 2043]),
        (SATURDAY, [2025, 2031, 2042, 2053]),
    ],
)
def test_februaries_of_four_weeks(week_start, years):
    # Computed from the rule, no source.
    found = [year for year in range(2015, 2054) if month_rows(year, 2, week_start=week_start) == 4]
    assert [year for year in found if years[0] <= year <= years[-1]] == years


def test_months_follow_one_another():
    assert all(
        next_month(*before) == after and previous_month(*after) == before
        for before, after in itertools.pairwise(CYCLE)
    )
    assert previous_month(1583, 1) == (1582, 12)
    assert next_month(9999, 12) == (10000, 1)


@pytest.mark.parametrize("beside", [previous_month, next_month])
def test_there_is_nothing_beside_a_thirteenth_month(beside):
    with pytest.raises(ValueError, match="between 1 and 12, not 13"):
        beside(2027, 13)
