"""Months of the Gregorian calendar: where one begins, how long it is, how many weeks it touches.

Weekdays are numbered as in ISO 8601 less one: Monday is 0 and Sunday is 6.
"""

from __future__ import annotations

DAYS_PER_WEEK = 7
MONTHS_PER_YEAR = 12
FIRST_YEAR, LAST_YEAR = 1583, 9999
"""The first whole year of the Gregorian calendar, and the last that is written with four digits."""

_LENGTHS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)


def is_leap(year: int) -> bool:
    """Whether `year` has a 29 February.

    Every fourth year has one, but of the full centuries only every fourth.
    """
    return year % 4 == 0 and (year % 100 != 0 or year % 400 == 0)


def month_length(year: int, month: int) -> int:
    """Days in `month` (1 to 12) of `year`.

    Raises:
        ValueError: a month or year outside its range.
    """
    _check_year_and_month(year, month)
    return 29 if month == 2 and is_leap(year) else _LENGTHS[month - 1]


def first_weekday(year: int, month: int) -> int:
    """Weekday of the first of `month` (1 to 12) of `year`, Monday 0 to Sunday 6.

    Counts the days since Monday, 1 January of the year 1 in the rule carried backwards: 365 a year,
    one more for each leap year gone by, and the months gone by in this one.

    Raises:
        ValueError: a month or year outside its range.
    """
    _check_year_and_month(year, month)
    past = year - 1
    days = 365 * past + past // 4 - past // 100 + past // 400
    days += sum(month_length(year, earlier) for earlier in range(1, month))
    return days % DAYS_PER_WEEK


def offset_from(weekday: int, *, week_start: int) -> int:
    """Empty columns before `weekday` in a week that begins on `week_start`: 0 to 6.

    Both are Monday 0 to Sunday 6.
    """
    return (weekday - week_start) % DAYS_PER_WEEK


def rows_needed(offset: int, days: int = 31) -> int:
    """Weeks that `days` days touch when the first stands `offset` columns in.

    That is ceil((offset + days) / 7).

    Raises:
        ValueError: an offset outside 0 to 6, or less than one day.
    """
    if not 0 <= offset < DAYS_PER_WEEK:
        raise ValueError(f"an offset must lie between 0 and 6, not {offset}")
    if days < 1:
        raise ValueError(f"a month must have at least one day, not {days}")
    return -((offset + days) // -DAYS_PER_WEEK)


def dates_number(year: int, month: int, *, week_start: int) -> int:
    """Which of the seven sets of dates fits a month, 1 to 7.

    It is the column in which the first of the month stands.

    Raises:
        ValueError: a month or year outside its range.
    """
    return offset_from(first_weekday(year, month), week_start=week_start) + 1


def month_rows(year: int, month: int, *, week_start: int) -> int:
    """Weeks that a month touches where weeks begin on `week_start`: 4, 5 or 6.

    Monday is 0 and Sunday 6.

    Raises:
        ValueError: a month or year outside its range.
    """
    offset = offset_from(first_weekday(year, month), week_start=week_start)
    return rows_needed(offset, month_length(year, month))


def previous_month(year: int, month: int) -> tuple[int, int]:
    """Year and number of the month before; it may be the December before the calendar's first year.

    Raises:
        ValueError: a month or year outside its range.
    """
    _check_year_and_month(year, month)
    return (year, month - 1) if month > 1 else (year - 1, MONTHS_PER_YEAR)


def next_month(year: int, month: int) -> tuple[int, int]:
    """Year and number of the month after; it may be the January after the calendar's last year.

    Raises:
        ValueError: a month or year outside its range.
    """
    _check_year_and_month(year, month)
    return (year, month + 1) if month < MONTHS_PER_YEAR else (year + 1, 1)


def _check_year_and_month(year: int, month: int) -> None:
    if not 1 <= month <= MONTHS_PER_YEAR:
        raise ValueError(f"a month must lie between 1 and 12, not {month}")
    if not FIRST_YEAR <= year <= LAST_YEAR:
        raise ValueError(f"a year must lie between {FIRST_YEAR} and {LAST_YEAR}, not {year}")
