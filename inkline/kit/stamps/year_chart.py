"""Charts of a year: for each month the stamps that make it, and what else there is to know."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from inkline.calendar.months import MONTHS_PER_YEAR
from inkline.calendar.names import LetterCase, NameWidth, month_names
from inkline.kit.recipe.key import WEEK_STARTS
from inkline.kit.stamps.month import Assembly, CalendarMonth, Offer, assemblies_of, calendar_month
from inkline.kit.stamps.weeks import weeks_name
from inkline.phrases.phrases import Phrases

NAME = "name"
"""What the chart calls the stamp of a month's name, of which there may be one a language."""


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
        marks: that of its marked days', or "".
    """

    year: int
    month: int
    name: str
    days: int
    column: int
    rows: int
    way: Assembly
    instead: Assembly | None
    weeks: str
    marks: str = ""

    @property
    def stamps(self) -> tuple[str, ...]:
        """What is stamped, in the order of stamping, the month's name last."""
        parts = (self.way.grid, self.way.dates, self.weeks, self.marks, NAME)
        return tuple(part for part in parts if part)

    @property
    def notes(self) -> tuple[str, ...]:
        """What else there is to know for stamping, in a few English words each."""
        phrases = Phrases()
        return (*self.notes_in(phrases), *self.shared_notes_in(phrases))

    def notes_in(self, phrases: Phrases) -> tuple[str, ...]:
        """What there is to know of rows and of days to erase, in a few words each."""
        found = []
        if not self.way.grid:
            found.append(phrases.say(f"chart.rows_{self.rows}"))
        if self.way.erase:
            found.append(phrases.say("chart.erase_days", days=_run_of(self.way.erase)))
        return tuple(found)

    def shared_notes_in(self, phrases: Phrases) -> tuple[str, ...]:
        """Which days share a cell, in a few words; the name of the stamp says that some do."""
        pairs = [f"{above}/{day}" for above, day in self.way.shares]
        return (phrases.say("chart.one_cell", pairs=comma_list(pairs)),) if pairs else ()

    def line(self) -> str:
        """The month in one line, such as `March: grid-5 + dates-6 + name`."""
        return f"{self.name}: {' + '.join(self.stamps)}"


def _run_of(days: tuple[int, ...]) -> str:
    """The days as a run, such as `31`, `30, 31` or `29–31`."""
    return comma_list(days) if len(days) < 3 else f"{days[0]}–{days[-1]}"


def named_stamps(stamps: Iterable[str], phrases: Phrases) -> list[str]:
    """Stamps of a month, with what a chart calls that of its name."""
    return [phrases.say("chart.name") if one == NAME else one for one in stamps]


def comma_list(values: Iterable[object]) -> str:
    """The values with commas between them, such as `29, 30, 31`."""
    return ", ".join(str(value) for value in values)


@dataclass(frozen=True, slots=True, kw_only=True)
class YearChart:
    """A year of months whose weeks begin on one day.

    Attributes:
        year: the year.
        start: the day on which weeks begin, by its English name in small letters.
        formats: names of the formats that it holds for.
        months: January to December.
        languages: of a kit with several, which stamps of names are in which, in a few words; else
            "".
        further: sentences on other stamps of the kit that serve these months.
    """

    year: int
    start: str
    formats: tuple[str, ...]
    months: tuple[MonthChart, ...]
    languages: str = ""
    further: tuple[str, ...] = ()


def year_chart(
    offer: Offer,
    year: int,
    *,
    start: str,
    names: Sequence[str],
    formats: tuple[str, ...] = (),
) -> YearChart:
    """The chart of a year.

    Args:
        offer: what there is to choose from.
        year: 1583 to 9999.
        start: the day on which weeks begin, as `WEEK_STARTS` names it.
        names: of the months, January first.
        formats: names of the formats that it holds for.

    Raises:
        ValueError: a year outside its range.
    """
    months = tuple(
        month_chart(offer, calendar_month(year, month, start=start), name=name)
        for month, name in zip(range(1, MONTHS_PER_YEAR + 1), names, strict=True)
    )
    return YearChart(year=year, start=start, formats=formats, months=months)


def month_chart(offer: Offer, month: CalendarMonth, *, name: str) -> MonthChart:
    """Which stamps fit a month that is called `name`."""
    way, *others = assemblies_of(offer, month)
    weeks = weeks_name(
        offer.week_numbers, month.year, month.month, week_start=WEEK_STARTS[month.start]
    )
    return MonthChart(
        year=month.year,
        month=month.month,
        name=name,
        days=month.days,
        column=month.offset + 1,
        rows=month.rows,
        way=way,
        instead=others[0] if others else None,
        weeks=weeks.stem if weeks else "",
    )


def chart_names(language: str) -> tuple[str, ...]:
    """The months' names as the chart writes them, whole and in the language's own case.

    Raises:
        LocaleError: a language that CLDR doesn't know.
    """
    return month_names(language, width=NameWidth.WIDE, case=LetterCase.AS_WRITTEN)
