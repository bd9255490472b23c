"""Week numbers of a date, a year and each row of a month, by the two counts that calendars print.

Weekdays are numbered as in `months`: Monday is 0 and Sunday is 6.
"""

from __future__ import annotations

from enum import StrEnum

from inkline.calendar.months import (
    DAYS_PER_WEEK,
    MONTHS_PER_YEAR,
    first_weekday,
    is_leap,
    month_length,
    offset_from,
    rows_needed,
)

_MONDAY, _WEDNESDAY, _THURSDAY, _SUNDAY = 0, 2, 3, 6
_MIDWEEK = _THURSDAY
"""The day whose year is its ISO week's year.
A week has most of its days in the year of its Thursday."""


class WeekCount(StrEnum):
    """How weeks are numbered."""

    ISO = "iso"
    """ISO 8601: weeks begin on Monday, and week 1 holds the year's first Thursday.
    So it holds 4 January."""
    US = "us"
    """Weeks begin on Sunday, and week 1 holds 1 January.
    The last week of a year is 53 or 54, cut off by the new year. Common practice, no source."""


def day_of_year(year: int, month: int, day: int) -> int:
    """The date's number in its year, 1 to 366.

    Raises:
        ValueError: no such date.
    """
    if not 1 <= day <= month_length(year, month):
        raise ValueError(
            f"a day of {year}-{month:02d} must lie between 1 and {month_length(year, month)}, "
            f"not {day}"
        )
    return sum(month_length(year, earlier) for earlier in range(1, month)) + day


def iso_weeks_in_year(year: int) -> int:
    """Weeks of the ISO 8601 year: 53 or 52.

    53 if it begins on a Thursday, or on a Wednesday in a leap year.

    Raises:
        ValueError: a year outside its range.
    """
    first = first_weekday(year, 1)
    return 53 if first == _THURSDAY or (first == _WEDNESDAY and is_leap(year)) else 52


def us_weeks_in_year(year: int) -> int:
    """Weeks that the year touches where they begin on Sunday: 54 or 53.

    54 for a leap year that begins on Saturday.

    Raises:
        ValueError: a year outside its range.
    """
    return us_week(year, MONTHS_PER_YEAR, 31)


def iso_week(year: int, month: int, day: int) -> tuple[int, int]:
    """The ISO 8601 year and week of a date: 2027-01-01 lies in (2026, 53).

    Raises:
        ValueError: no such date.
    """
    return _iso_week_of(year, day_of_year(year, month, day))


def us_week(year: int, month: int, day: int) -> int:
    """The week of a date, 1 to 54, where weeks begin on Sunday and week 1 holds 1 January.

    The days after the last Saturday of December stay in their own year's last week.

    Raises:
        ValueError: no such date.
    """
    return _us_week_of(year, day_of_year(year, month, day))


def row_weeks(year: int, month: int, *, week_start: int, count: WeekCount) -> tuple[int, ...]:
    """The week number of each row of a month, top to bottom.

    A row is seven days and so has one Thursday; the row has the number of the week that holds it.
    Where rows begin as the count's weeks do, all seven days have that number. ISO weeks in rows
    from Sunday fit all days but the Sunday, in rows from Saturday all but two; US weeks in rows
    from Monday or Saturday fit all but one. A US week cut by the new year has the number that it
    has in the month's own year.

    Args:
        year: 1583 to 9999.
        month: 1 to 12.
        week_start: the day on which rows begin, Monday 0 to Sunday 6.
        count: how weeks are numbered.

    Raises:
        ValueError: a month or year outside its range.
    """
    offset = offset_from(first_weekday(year, month), week_start=week_start)
    rows = rows_needed(offset, month_length(year, month))
    first = day_of_year(year, month, 1) - offset
    midweeks = [
        first + offset_from(_MIDWEEK, week_start=week_start) + DAYS_PER_WEEK * row
        for row in range(rows)
    ]
    if count is WeekCount.ISO:
        return tuple(_iso_week_of(year, day)[1] for day in midweeks)
    return tuple(_us_week_of(year, day) for day in midweeks)


def _iso_week_of(year: int, day: int) -> tuple[int, int]:
    """ISO year and week of the day numbered `day` in `year`.

    0 and less lie in the year before, and so on.
    """
    midweek = day - _weekday_of(year, day) + _MIDWEEK
    if midweek < 1:
        return year - 1, (_days_in(year - 1) + midweek - 1) // DAYS_PER_WEEK + 1
    if midweek > _days_in(year):
        return year + 1, 1
    return year, (midweek - 1) // DAYS_PER_WEEK + 1


def _us_week_of(year: int, day: int) -> int:
    """US week of the day numbered `day` in `year`.

    It is this year's number if the week holds any day of it, else that of the year next to it.
    """
    start = day - offset_from(_weekday_of(year, day), week_start=_SUNDAY)
    if start > _days_in(year):
        return 1
    if start + DAYS_PER_WEEK - 1 < 1:
        return _weeks_from_january(start + _days_in(year - 1))
    return _weeks_from_january(start)


def _weeks_from_january(start: int) -> int:
    """Number of the week that begins on the Sunday numbered `start`.

    Counted from the week of 1 January.
    """
    first = (start - 1) % DAYS_PER_WEEK  # days of January before its first Sunday
    return (start - 1 - first) // DAYS_PER_WEEK + (2 if first else 1)


def _weekday_of(year: int, day: int) -> int:
    return (first_weekday(year, 1) + day - 1) % DAYS_PER_WEEK


def _days_in(year: int) -> int:
    return 366 if is_leap(year) else 365
