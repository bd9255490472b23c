"""Names of the stamps with week numbers: which one a month needs."""

from __future__ import annotations

from inkline.calendar.weeks import WeekCount, iso_weeks_in_year, row_weeks, us_weeks_in_year
from inkline.kit.recipe.choices import WeekNumbers

MOST_ROWS = 6
_COUNTS = {WeekNumbers.ISO: WeekCount.ISO, WeekNumbers.US: WeekCount.US}
_WEEKS_IN_YEAR = {WeekNumbers.ISO: iso_weeks_in_year, WeekNumbers.US: us_weeks_in_year}
_USUAL = {WeekNumbers.ISO: 52, WeekNumbers.US: 53}
"""Weeks of most years: ISO years have 52 or 53, and 53 or 54 are touched where weeks begin on
Sunday."""


def weeks_stamp(counted: WeekNumbers, year: int, month: int, *, week_start: int) -> str:
    """The last part of the name of the stamp with the week numbers of a month's rows, or "" where weeks aren't numbered.

    It is called by the first row's week, such as `weeks-05`; where six rows from there could pass
    the end of a year that is longer than most, by that as well: `weeks-49-of-53`. Months with one
    name have the same numbers as far as both have rows.

    Raises:
        ValueError: a month or year outside its range.
    """
    if counted is WeekNumbers.NONE:
        return ""
    return _stem(counted, *_run(counted, year, month, week_start))


def _run(counted: WeekNumbers, year: int, month: int, week_start: int) -> tuple[int, int]:
    """The week of a month's first row, and how many weeks the year has that it belongs to, or the usual number where that can't matter."""
    first = row_weeks(year, month, week_start=week_start, count=_COUNTS[counted])[0]
    usual = _USUAL[counted]
    if first + MOST_ROWS - 1 <= usual:
        return first, usual
    before = month == 1
    return first, _WEEKS_IN_YEAR[counted](year - 1 if before else year)


def _stem(counted: WeekNumbers, first: int, of: int) -> str:
    return f"weeks-{first:02d}" if of == _USUAL[counted] else f"weeks-{first:02d}-of-{of}"
