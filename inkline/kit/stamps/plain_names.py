"""Stamps in plain words, for people who use a kit and know nothing of how its stamps are named."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from types import MappingProxyType

from inkline.calendar.names import LetterCase, NameWidth, month_names, weekday_names
from inkline.kit.recipe.key import WEEK_STARTS
from inkline.kit.stamps.names import (
    WEEKDAY_LABELS,
    SplitPart,
    StampName,
    Subject,
    last_part,
    name_from_text,
)

_ENGLISH = "en"
_WEEKS = {4: "four", 5: "five", 6: "six"}
_SPLIT = {
    SplitPart.WORKDAYS: "working days",
    SplitPart.SATURDAYS: "Saturdays",
    SplitPart.SUNDAYS: "Sundays",
}
_SHARED = "sixth week in shared cells"


_NO_LANGUAGES: Mapping[str, str] = MappingProxyType({})
_IN_A_LANGUAGE = frozenset(
    {Subject.MONTH, Subject.WEEKDAYS, Subject.STRIP_WEEKDAYS, Subject.SMALL_MONTH}
)
"""What there is in each language of a kit."""


def plain_name(name: str) -> str:
    """The stamp `name` in plain English; its name with spaces where no words are known for it."""
    stem = last_part(name)
    read = name_from_text(stem)
    if read is None:
        return stem.replace("-", " ")
    return ", ".join(piece for piece in _WORDS_OF[read.subject](read) if piece)


def kind_of(name: str, languages: Mapping[str, str] = _NO_LANGUAGES) -> tuple[str, str]:
    """What stamps such as `name` are called, and what they are for, without a point at its end.

    Args:
        name: the stamp's.
        languages: of a kit with several, what each is called in English, by its tag in names.
    """
    title, about = _kind_of(name)
    read = name_from_text(last_part(name))
    if read is None or read.subject not in _IN_A_LANGUAGE:
        return title, about
    if read.short:
        title = f"abbreviated {title}"
        about += '; "short" in a name says so, and months without it are as short in full'
    language = languages.get(read.language, "")
    if language:
        title += f" in {language}"
        about += f'; "{read.language}" in a name stands for {language}' if read.language else ""
    return title, about


def _kind_of(name: str) -> tuple[str, str]:
    read = name_from_text(last_part(name))
    if read is None:
        return "other stamps", "they line up with the rest"
    if read.subject is Subject.GRID:
        return _GRIDS[read.rows is not None, read.head]
    if read.subject is Subject.DATES:
        return _kind_of_dates(read)
    return _KINDS[read.subject]


def _kind_of_dates(name: StampName) -> tuple[str, str]:
    if name.shared:
        return (
            "dates that share cells",
            "months of six weeks on a grid of five rows: 30 and 31 stand beside 23 and 24",
        )
    if name.split:
        return (
            "dates by kind of day",
            "working days, Saturdays and Sundays apart, each for a colour of its own",
        )
    if name.days:
        return (
            "dates of one length",
            "the dates of a month of 28 to 31 days: nothing needs to be erased",
        )
    return (
        "dates",
        (
            "the days of the month; the number is the column in which the 1st stands, counted from "
            "the day on which weeks begin"
        ),
    )


_CUT = (
    "blocks with the dates cut out",
    "colour with the dates left white, so that blocks and dates are one stamp",
)
_WEEKDAYS = ("weekdays", "the names of the days, for the row above the dates")
_MARKS = ("marked days", "rings, dots and lines for the days that are marked in one month")
_GRIDS = {
    (True, True): (
        "grids with a row for the weekdays",
        "the rules of a calendar with a row on top for the weekdays",
    ),
    (True, False): (
        "grids",
        "the rules of a calendar; the number says how many rows of weeks it has",
    ),
    (False, True): (
        "grids with room for the weekdays",
        "the rules that everything stands on, and a row for the names of the days",
    ),
    (False, False): ("grids", "the rules that everything stands on"),
}
"""Of grids with numbers of rows or without, and with room for the weekdays or without."""
_KINDS: Mapping[Subject, tuple[str, str]] = {
    Subject.BLOCKS: ("blocks", "shapes that lie in the cells; stamp them first, in a pale colour"),
    Subject.HEADER_BLOCKS: (
        "blocks of the weekdays",
        "shapes that lie behind the weekdays; stamp them first, in a pale colour",
    ),
    Subject.CUT_BLOCKS: _CUT,
    Subject.STRIP_CUT_BLOCKS: _CUT,
    Subject.STRIP_DATES: ("dates", "the days of a month; the number says how many days it has"),
    Subject.WEEKDAYS: _WEEKDAYS,
    Subject.STRIP_WEEKDAYS: _WEEKDAYS,
    Subject.WEEKS: (
        "week numbers",
        "they stand beside the rows; the name says the first row's week",
    ),
    Subject.MARKS: _MARKS,
    Subject.STRIP_MARKS: _MARKS,
    Subject.SMALL_MONTH: (
        "small months",
        "a whole tiny month, for the one before and the one after",
    ),
    Subject.MONTH: ("names of the months", "to stand above the calendar"),
    Subject.YEAR: ("years", "to stand beside the month's name"),
    Subject.YEARS: ("pairs of years", "for calendars that run over the new year"),
    Subject.DIGIT: ("digits", "to put any other year or number together"),
    Subject.CAPTION: ("captions", "short words for your calendar"),
}
"""What stamps of all other subjects are called, and what they are for."""
_Pieces = Iterator[str]
"""Pieces of words that commas part; empty ones count for nothing."""


def _grid(name: StampName) -> _Pieces:
    yield f"grid{_for_weeks('of', name)}{' with header' if name.head else ''}"
    yield _drawing(name)


def _blocks(name: StampName) -> _Pieces:
    yield f"blocks{_for_weeks('for', name)}"
    yield _drawing(name)


def _header_blocks(name: StampName) -> _Pieces:
    yield "blocks of the header"
    yield _drawing(name)


def _cut_blocks(name: StampName) -> _Pieces:
    length = f" of {name.days} days" if name.days else ""
    dates = f"dates{length} of column {name.column}" if name.column else f"dates 1 to {name.days}"
    yield f"blocks{_for_weeks('for', name)}"
    yield f"{dates} cut out"


def _dates(name: StampName) -> _Pieces:
    yield "dates"
    yield f"the 1st in column {name.column}"
    yield f"{name.days} days" if name.days else ""
    yield _SHARED if name.shared else ""
    yield _SPLIT[SplitPart(name.split)] if name.split else ""
    yield _from_day(name)


def _strip_dates(name: StampName) -> _Pieces:
    yield f"dates 1 to {name.days}"


def _weekdays(name: StampName) -> _Pieces:
    yield f"weekdays from {_day(WEEK_STARTS[name.start])}{_in_language(name)}"


def _strip_weekdays(name: StampName) -> _Pieces:
    day = _day(WEEKDAY_LABELS.index(name.first))
    yield f"weekdays of a month that begins on {day}{_in_language(name)}"


def _small_month(name: StampName) -> _Pieces:
    yield f"small month of {name.days} days"
    yield f"the 1st in column {name.column}"
    yield f"{_from_day(name)}{_in_language(name)}"


def _marks(name: StampName) -> _Pieces:
    yield f"marked days of {_month(name)} {name.year}"
    yield _from_day(name)
    yield _SHARED if name.shared else ""


def _weeks(name: StampName) -> _Pieces:
    yield f"week numbers from {name.week}"
    yield f"of a year with {name.weeks}" if name.weeks else ""
    yield f"{name.rows} rows" if name.rows else ""


def _month_word(name: StampName) -> _Pieces:
    yield f"{_month(name)}{'' if name.short else _in_language(name)}"
    yield f"abbreviated{_in_language(name)}" if name.short else ""


def _year(name: StampName) -> _Pieces:
    yield str(name.year)


def _years(name: StampName) -> _Pieces:
    yield f"{name.year}\N{EN DASH}{name.last_year}"


def _digit(name: StampName) -> _Pieces:
    yield f"digit {name.digit}"


def _caption(name: StampName) -> _Pieces:
    yield f"caption {name.number}"


def _for_weeks(word: str, name: StampName) -> str:
    return f" {word} {_WEEKS[name.rows]} weeks" if name.rows else ""


def _drawing(name: StampName) -> str:
    return f"drawing {name.take}" if name.take else ""


def _in_language(name: StampName) -> str:
    return f" ({name.language})" if name.language else ""


def _from_day(name: StampName) -> str:
    return f"weeks from {_day(WEEK_STARTS[name.start])}" if name.start else ""


def _day(weekday: int) -> str:
    """The name of a weekday, Monday 0."""
    return weekday_names(_ENGLISH, width=NameWidth.WIDE, case=LetterCase.AS_WRITTEN)[weekday]


def _month(name: StampName) -> str:
    names = month_names(_ENGLISH, width=NameWidth.WIDE, case=LetterCase.AS_WRITTEN)
    return dict(enumerate(names, start=1))[name.month or 1]


_WORDS_OF: Mapping[Subject, Callable[[StampName], _Pieces]] = {
    Subject.GRID: _grid,
    Subject.BLOCKS: _blocks,
    Subject.HEADER_BLOCKS: _header_blocks,
    Subject.CUT_BLOCKS: _cut_blocks,
    Subject.STRIP_CUT_BLOCKS: _cut_blocks,
    Subject.DATES: _dates,
    Subject.STRIP_DATES: _strip_dates,
    Subject.WEEKDAYS: _weekdays,
    Subject.STRIP_WEEKDAYS: _strip_weekdays,
    Subject.WEEKS: _weeks,
    Subject.MARKS: _marks,
    Subject.STRIP_MARKS: _marks,
    Subject.SMALL_MONTH: _small_month,
    Subject.MONTH: _month_word,
    Subject.YEAR: _year,
    Subject.YEARS: _years,
    Subject.DIGIT: _digit,
    Subject.CAPTION: _caption,
}
"""What says a name of each subject in words."""
