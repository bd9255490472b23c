"""Which stamps fit a month: the grid, the dates, what to erase, and what else a format offers for it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from types import MappingProxyType

from inkline.calendar.months import (
    DAYS_PER_WEEK,
    MONTHS_PER_YEAR,
    first_weekday,
    month_length,
    offset_from,
    rows_needed,
)
from inkline.calendar.names import LetterCase, NameWidth, month_names
from inkline.kit.recipe.choices import Dates, Header, Shows, SixthWeek, WeekNumbers
from inkline.kit.recipe.model import FormatRecipe, Recipe
from inkline.kit.stamps.week_names import weeks_stamp

LONGEST = 31
SHARED_ROWS = 5
"""Rows of a grid in which the dates of a sixth week share the cells of the fifth."""
NAME = "name"
"""What the chart calls the stamp of a month's name, of which there may be one a language."""
ROWS = MappingProxyType({4: "four", 5: "five", 6: "six"})
"""How many rows a month touches, in words."""
_TAKES = "abc"


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """What a month calendar offers to choose from; formats that offer the same share a chart. The fields are those of `FormatRecipe`."""

    weeks: tuple[int, ...]
    header: Header
    takes: int
    dates: Dates
    sixth_week: SixthWeek
    week_numbers: WeekNumbers


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """One way to put a month together.

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
class MonthChart:
    """Which stamps fit one month.

    Attributes:
        year: the year.
        month: 1 to 12.
        name: what it is called.
        days: how many it has.
        column: in which column its first day stands, 1 to 7.
        rows: how many weeks it touches, 4 to 6.
        way: the stamps.
        instead: another way that the kit offers, or `None`.
        weeks: the last part of the name of its week numbers' stamp, or "".
    """

    year: int
    month: int
    name: str
    days: int
    column: int
    rows: int
    way: Way
    instead: Way | None
    weeks: str

    @property
    def stamps(self) -> tuple[str, ...]:
        """What is stamped, in the order of stamping, the month's name last."""
        return tuple(part for part in (self.way.grid, self.way.dates, self.weeks, NAME) if part)

    @property
    def notes(self) -> tuple[str, ...]:
        """What else there is to know for stamping, in a few words each."""
        found = []
        if not self.way.grid:
            found.append(f"{ROWS[self.rows]} rows are needed")
        if self.way.erase:
            found.append(f"erase {_run_of(self.way.erase)}")
        return (*found, *self.shared_notes)

    @property
    def shared_notes(self) -> tuple[str, ...]:
        """Which days share a cell, in a few words; the name of the stamp says that some do."""
        pairs = [f"{above}/{day}" for above, day in self.way.shares]
        return (f"{listed(pairs)} in one cell",) if pairs else ()

    def line(self) -> str:
        """The month in one line, such as `March: grid-5 + dates-6 + name`."""
        return f"{self.name}: {' + '.join(self.stamps)}"


def _run_of(days: tuple[int, ...]) -> str:
    """`31`, `30, 31` or `29–31`."""
    return listed(days) if len(days) < 3 else f"{days[0]}–{days[-1]}"


def listed(values: Iterable[object]) -> str:
    """`29, 30, 31`."""
    return ", ".join(str(value) for value in values)


@dataclass(frozen=True, slots=True, kw_only=True)
class YearChart:
    """A year of months whose weeks begin on one day.

    Attributes:
        year: the year.
        start: the day on which weeks begin, by its English name in small letters.
        formats: names of the formats that it holds for.
        months: January to December.
    """

    year: int
    start: str
    formats: tuple[str, ...]
    months: tuple[MonthChart, ...]


def offer_of(shape: FormatRecipe) -> Offer:
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
            offer = offer_of(shape)
            found[offer] = (*found.get(offer, ()), shape.name)
    return found


def year_chart(
    offer: Offer,
    year: int,
    *,
    start: tuple[str, int],
    names: Sequence[str],
    formats: tuple[str, ...] = (),
) -> YearChart:
    """The chart of a year.

    Args:
        offer: what there is to choose from.
        year: 1583 to 9999.
        start: the day on which weeks begin, by name and by number, Monday 0 to Sunday 6.
        names: of the months, January first.
        formats: names of the formats that it holds for.

    Raises:
        ValueError: a year outside its range.
    """
    name, day = start
    numbered = zip(range(1, MONTHS_PER_YEAR + 1), names, strict=True)
    months = tuple(
        month_chart(offer, year, month, week_start=day, name=called) for month, called in numbered
    )
    return YearChart(year=year, start=name, formats=formats, months=months)


def month_chart(offer: Offer, year: int, month: int, *, week_start: int, name: str) -> MonthChart:
    """Which stamps fit `month` (1 to 12) of `year`, called `name`, where weeks begin on `week_start` (Monday 0 to Sunday 6).

    Raises:
        ValueError: a month or year outside its range.
    """
    days = month_length(year, month)
    offset = offset_from(first_weekday(year, month), week_start=week_start)
    ways = _ways(offer, month=month, offset=offset, days=days)
    return MonthChart(
        year=year,
        month=month,
        name=name,
        days=days,
        column=offset + 1,
        rows=rows_needed(offset, days),
        way=ways[0],
        instead=ways[1] if len(ways) > 1 else None,
        weeks=weeks_stamp(offer.week_numbers, year, month, week_start=week_start),
    )


def chart_names(language: str) -> tuple[str, ...]:
    """The months' names as the chart writes them, whole and in the language's own case.

    Raises:
        LocaleError: a language that CLDR doesn't know.
    """
    return month_names(language, width=NameWidth.WIDE, case=LetterCase.AS_WRITTEN)


def _ways(offer: Offer, *, month: int, offset: int, days: int) -> tuple[Way, ...]:
    """The ways in which a month can be put together, the best first: where six weeks share five rows, that is what the kit is made for."""
    rows = rows_needed(offset, days)
    suffix = "" if offer.takes == 1 else f"-{_TAKES[(month - 1) % offer.takes]}"
    head = "-head" if offer.header is Header.WITH else ""
    fitting = next((weeks for weeks in offer.weeks if weeks >= rows), None)
    plain = Way(
        grid=f"grid-{fitting}{head}{suffix}" if fitting else "",
        dates=_dates(offer, offset, days),
        erase=_beyond(days) if _runs_to_31(offer, days) else (),
    )
    if (
        rows <= SHARED_ROWS
        or offer.sixth_week is SixthWeek.OWN_ROW
        or SHARED_ROWS not in offer.weeks
    ):
        return (plain,)
    shared = Way(
        grid=f"grid-{SHARED_ROWS}{head}{suffix}",
        dates=f"dates-{offset + 1}-shared"
        if _runs_to_31(offer, days)
        else f"dates-{offset + 1}-{days}-shared",
        erase=_beyond(days) if _runs_to_31(offer, days) else (),
        shares=shared_days(offset, days),
    )
    return (shared, plain) if fitting else (shared,)


def shared_days(offset: int, days: int = LONGEST) -> tuple[tuple[int, int], ...]:
    """The pairs of days that share a cell of the fifth row where the month's first stands `offset` columns in."""
    first = SHARED_ROWS * DAYS_PER_WEEK - offset + 1
    return tuple((day - DAYS_PER_WEEK, day) for day in range(first, days + 1))


def _runs_to_31(offer: Offer, days: int) -> bool:
    """Whether the stamp of a month's dates has all 31 on it."""
    return offer.dates is Dates.TO_31 or days == LONGEST


def _dates(offer: Offer, offset: int, days: int) -> str:
    stem = f"dates-{offset + 1}"
    if offer.dates is Dates.TO_31 or (offer.dates is Dates.BOTH and days == LONGEST):
        return stem
    return f"{stem}-{days}"


def _beyond(days: int) -> tuple[int, ...]:
    return tuple(range(days + 1, LONGEST + 1))
