"""The rule which stamps make a month, for charts and for calendars alike.

Both take the grid with the fewest rows that hold the month. A calendar, as layouts and overviews
show it, also takes what a chart leaves to whoever stamps: blocks, weekdays and marks.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Any

from inkline.calendar.months import (
    MONTHS_PER_YEAR,
    first_weekday,
    month_length,
    offset_from,
    rows_needed,
)
from inkline.kit.recipe.choices import Dates, Header, Shows, SixthWeek, WeekNumbers
from inkline.kit.recipe.key import WEEK_STARTS
from inkline.kit.recipe.model import FormatRecipe, Recipe
from inkline.kit.stamps.cells import LONGEST
from inkline.kit.stamps.names import TAKES, WEEKDAY_LABELS, SplitPart, StampName, Subject
from inkline.kit.stamps.shared import SHARED_ROWS, pairs_in_one_cell
from inkline.kit.stamps.weeks import weeks_name

_FIRST_TAKES = ("", TAKES[0])
"""What the first take of a thing may be called."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """What a month calendar offers to choose from, in the fields of `FormatRecipe`.

    Formats that offer the same share a chart.
    """

    weeks: tuple[int, ...]
    header: Header
    takes: int
    dates: Dates
    sixth_week: SixthWeek
    week_numbers: WeekNumbers


@dataclass(frozen=True, slots=True, kw_only=True)
class Assembly:
    """One way to put a month together from a grid and dates.

    Attributes:
        grid: the last part of its grid's name, such as `grid-5`; "" where no grid has enough rows.
        dates: that of its dates, such as `dates-6` or `dates-6-30`.
        erase: the days on that stamp that the month doesn't have.
        shares: pairs of days that share a cell, such as (23, 30).
    """

    grid: str
    dates: str
    erase: tuple[int, ...]
    shares: tuple[tuple[int, int], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class CalendarMonth:
    """A month as a calendar shows it.

    Attributes:
        year: its year.
        month: 1 to 12.
        offset: empty cells before its first day.
        days: how many it has.
        start: the day on which weeks begin, as `WEEK_STARTS` names it.
    """

    year: int
    month: int
    offset: int
    days: int
    start: str

    @property
    def rows(self) -> int:
        """Weeks that it touches."""
        return rows_needed(self.offset, self.days)


def calendar_month(year: int, month: int, *, start: str) -> CalendarMonth:
    """The month `month` (1 to 12) of `year` in weeks that begin on `start`.

    Raises:
        ValueError: a month or year outside its range.
    """
    offset = offset_from(first_weekday(year, month), week_start=WEEK_STARTS[start])
    days = month_length(year, month)
    return CalendarMonth(year=year, month=month, offset=offset, days=days, start=start)


def month_that_fits(shape: FormatRecipe, year: int, *, start: str) -> CalendarMonth:
    """The first month of `year` with 31 days that fills one of the format's grids best.

    Every set of dates shows as many days. Of a format in which six weeks share five rows it is the
    first that does, of one without grids January.
    """
    months = [calendar_month(year, month, start=start) for month in range(1, MONTHS_PER_YEAR + 1)]
    long = [month for month in months if month.days == LONGEST]
    if _may_share(_offer_of(shape)):
        return next((month for month in long if month.rows > SHARED_ROWS), long[0])

    def size(month: CalendarMonth) -> tuple[float, int]:
        rows = min((one for one in shape.weeks if one >= month.rows), default=math.inf)
        return rows, -month.rows

    return min(long, key=size)


def _offer_of(shape: FormatRecipe) -> Offer:
    """What the format `shape` offers."""
    return Offer(
        weeks=tuple(sorted(shape.weeks)),
        header=shape.header,
        takes=shape.takes,
        dates=shape.dates,
        sixth_week=shape.sixth_week,
        week_numbers=shape.week_numbers,
    )


def offers_of(recipe: Recipe) -> dict[Offer, tuple[str, ...]]:
    """What the month calendars of a recipe offer, each with the names of the formats that do."""
    found: dict[Offer, tuple[str, ...]] = {}
    for shape in recipe.formats:
        if shape.shows is Shows.MONTH:
            offer = _offer_of(shape)
            found[offer] = (*found.get(offer, ()), shape.name)
    return found


def assemblies_of(offer: Offer, month: CalendarMonth) -> tuple[Assembly, ...]:
    """The ways in which a month can be put together, the best first.

    Where six weeks may share five rows, that is what the kit is made for.
    """
    whole = _assembly(offer, month, shared=False)
    if not _shares(offer, month):
        return (whole,)
    shared = _assembly(offer, month, shared=True)
    return (shared, whole) if whole.grid else (shared,)


def calendar_stems(
    there: Iterable[str], shape: FormatRecipe, month: CalendarMonth
) -> tuple[str, ...]:
    """The stems of the stamps that make the calendar of a month, back to front.

    Args:
        there: the stems of the format's stamps.
        shape: the format.
        month: the month.
    """
    stems = frozenset(there)
    choices = {
        Shows.MONTH: _month_choices,
        Shows.STRIP: _strip_choices,
        Shows.SMALL: _small_choices,
    }.get(shape.shows, _undated_choices)
    layers = (
        next((name.stem for name in choice if name.stem in stems), None)
        for choice in choices(stems, _offer_of(shape), month)
    )
    return tuple(stem for stem in layers if stem is not None)


def _may_share(offer: Offer) -> bool:
    return offer.sixth_week is SixthWeek.SHARED and SHARED_ROWS in offer.weeks


def _shares(offer: Offer, month: CalendarMonth) -> bool:
    """Whether days of the month's sixth week share the cells of the fifth."""
    return _may_share(offer) and month.rows > SHARED_ROWS


def _numbers_of_rows(offer: Offer, *, shared: bool) -> tuple[int, ...]:
    """The numbers of rows that the grids have which a month may stand in, the fewest first."""
    return (SHARED_ROWS,) if shared else offer.weeks


def _dates_names(offer: Offer, month: CalendarMonth, *, shared: bool) -> tuple[StampName, ...]:
    """The names of the dates that serve a month, the best first: of its own length, then of 31."""
    whole = StampName(subject=Subject.DATES, column=month.offset + 1, shared=shared)
    lengths = {Dates.TO_31: (), Dates.EXACT: (month.days,), Dates.BOTH: (month.days,)}[offer.dates]
    is_whole = month.days == LONGEST and (shared or offer.dates is Dates.BOTH)
    return (*(replace(whole, days=days) for days in lengths if not is_whole), whole)


def _assembly(offer: Offer, month: CalendarMonth, *, shared: bool) -> Assembly:
    needed = SHARED_ROWS if shared else month.rows
    rows = next((n for n in _numbers_of_rows(offer, shared=shared) if n >= needed), None)
    grid = StampName(
        subject=Subject.GRID,
        rows=rows,
        head=offer.header is Header.WITH,
        take="" if offer.takes == 1 else TAKES[(month.month - 1) % offer.takes],
    )
    dates, *_ = _dates_names(offer, month, shared=shared)
    return Assembly(
        grid=grid.stem if rows else "",
        dates=dates.stem,
        erase=() if dates.days else tuple(range(month.days + 1, LONGEST + 1)),
        shares=pairs_in_one_cell(month.offset, month.days) if shared else (),
    )


_Stems = frozenset[str]
_Choices = Iterator[list[StampName]]
"""For each layer the names that may serve, the best first."""


def _month_choices(stems: _Stems, offer: Offer, month: CalendarMonth) -> _Choices:
    shared = _shares(offer, month)
    rows = _rows_for(month, _numbers_of_rows(offer, shared=shared))
    blocks = _with_takes(*(StampName(subject=Subject.BLOCKS, rows=n) for n in rows))
    cut = [
        StampName(subject=Subject.CUT_BLOCKS, rows=n, column=month.offset + 1, days=days)
        for n in rows
        for days in (month.days, None)
    ]
    yield [*blocks, *cut]
    yield _header_blocks()
    yield _grids(rows)
    if any(name.stem in stems for name in blocks) or not any(name.stem in stems for name in cut):
        yield from _dates_choices(stems, offer, month, shared=shared)
    yield [StampName(subject=Subject.WEEKDAYS, start=month.start)]
    weeks = weeks_name(
        offer.week_numbers, month.year, month.month, week_start=WEEK_STARTS[month.start]
    )
    if weeks is not None:
        yield [replace(weeks, rows=SHARED_ROWS if shared else month.rows), weeks]
    marks = StampName(subject=Subject.MARKS, year=month.year, month=month.month, start=month.start)
    yield [replace(marks, shared=True), marks] if shared else [marks]


def _rows_for(month: CalendarMonth, numbers: tuple[int, ...]) -> tuple[int, ...]:
    """The numbers of rows by how well they suit a month: the fewest that hold it, then the most."""
    enough = [n for n in numbers if n >= month.rows]
    return (*enough, *(n for n in reversed(numbers) if n not in enough))


def _dates_choices(stems: _Stems, offer: Offer, month: CalendarMonth, *, shared: bool) -> _Choices:
    """The dates, days of work and of rest apart where they have stamps of their own."""
    wholes = _dates_names(offer, month, shared=shared)
    for whole in wholes:
        split = [replace(whole, split=days, start=month.start) for days in SplitPart]
        if all(name.stem in stems for name in split):
            yield from ([name] for name in split)
            return
    yield list(wholes)


def _strip_choices(_stems: _Stems, _offer: Offer, month: CalendarMonth) -> _Choices:
    yield from _undated_blocks()
    yield [StampName(subject=Subject.STRIP_DATES, days=days) for days in (month.days, LONGEST)]
    first = WEEKDAY_LABELS[first_weekday(month.year, month.month)]
    yield [StampName(subject=Subject.STRIP_WEEKDAYS, first=first)]
    yield [StampName(subject=Subject.STRIP_MARKS, year=month.year, month=month.month)]


def _small_choices(_stems: _Stems, _offer: Offer, month: CalendarMonth) -> _Choices:
    said: dict[str, Any] = {"column": month.offset + 1, "days": month.days, "start": month.start}
    yield [StampName(subject=Subject.SMALL_MONTH, **said)]


def _undated_choices(_stems: _Stems, _offer: Offer, month: CalendarMonth) -> _Choices:
    yield from _undated_blocks()
    yield [StampName(subject=Subject.WEEKDAYS, start=month.start)]


def _undated_blocks() -> _Choices:
    yield _with_takes(StampName(subject=Subject.BLOCKS))
    yield _header_blocks()
    yield _grids((None,))


def _header_blocks() -> list[StampName]:
    return _with_takes(StampName(subject=Subject.HEADER_BLOCKS))


def _grids(rows: Iterable[int | None]) -> list[StampName]:
    """Grids of those numbers of rows, with room for the weekdays first."""
    return _with_takes(
        *(
            StampName(subject=Subject.GRID, rows=n, head=head)
            for n in rows
            for head in (True, False)
        )
    )


def _with_takes(*names: StampName) -> list[StampName]:
    """What the first takes of the stamps `names` may be called."""
    return [replace(name, take=take) for name in names for take in _FIRST_TAKES]
