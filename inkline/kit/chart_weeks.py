"""Stamps of week numbers: which there are, and which one fits a month."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import lru_cache
from types import MappingProxyType

from inkline.calendar.months import MONTHS_PER_YEAR
from inkline.calendar.weeks import WeekCount, iso_weeks_in_year, row_weeks, us_weeks_in_year, weeks_from
from inkline.kit.schema_words import WeekNumbers

MOST_ROWS = 6
CYCLE = range(2000, 2400)
"""A whole cycle of the Gregorian calendar: every month that there can be."""
_COUNTS = {WeekNumbers.ISO: WeekCount.ISO, WeekNumbers.US: WeekCount.US}
_WEEKS_IN_YEAR = {WeekNumbers.ISO: iso_weeks_in_year, WeekNumbers.US: us_weeks_in_year}
_USUAL = {WeekNumbers.ISO: 52, WeekNumbers.US: 53}
"""Weeks of most years: ISO years have 52 or 53, and 53 or 54 are touched where weeks begin on Sunday."""


def weeks_stamp(counted: WeekNumbers, year: int, month: int, *, week_start: int) -> str:
    """The last part of the name of the stamp with the week numbers of a month's rows, or "" where weeks aren't numbered.

    Raises:
        ValueError: a month or year outside its range.
    """
    if counted is WeekNumbers.NONE:
        return ""
    return _stem(counted, *_run(counted, year, month, week_start))


def week_runs(counted: WeekNumbers, *, week_starts: Iterable[int]) -> Mapping[str, tuple[int, ...]]:
    """The week numbers of six rows on each stamp that any month of the calendar can need, by the last part of the stamp's name.

    A stamp is called by its first row's week, such as `weeks-05`; where six rows from there pass the end of a longer year than usual, by
    that as well: `weeks-48-of-53`. Cost: some 0.2 s for a first call.

    Args:
        counted: how weeks are numbered.
        week_starts: the days on which rows may begin, Monday 0 to Sunday 6.
    """
    if counted is WeekNumbers.NONE:
        return {}
    runs = sorted({run for day in week_starts for run in _all_runs(counted, day)})
    return MappingProxyType({_stem(counted, *run): weeks_from(run[0], of=run[1], rows=MOST_ROWS) for run in runs})


@lru_cache(maxsize=8)
def _all_runs(counted: WeekNumbers, week_start: int) -> frozenset[tuple[int, int]]:
    """First week, and weeks of the year as far as they matter, of every month of the cycle."""
    months = ((year, month) for year in CYCLE for month in range(1, MONTHS_PER_YEAR + 1))
    return frozenset(_run(counted, year, month, week_start) for year, month in months)


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
