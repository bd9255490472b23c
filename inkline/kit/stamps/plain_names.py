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
from inkline.phrases.phrases import Phrases

_ENGLISH = "en"
_WEEKS = {4: "four", 5: "five", 6: "six"}
_SPLIT = {
    SplitPart.WORKDAYS: "working days",
    SplitPart.SATURDAYS: "Saturdays",
    SplitPart.SUNDAYS: "Sundays",
}
_SHARED = "sixth week in shared cells"


_NO_LANGUAGES: Mapping[str, str] = MappingProxyType({})
_ENGLISH_PHRASES = Phrases()
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


def kind_of(
    name: str, languages: Mapping[str, str] = _NO_LANGUAGES, phrases: Phrases = _ENGLISH_PHRASES
) -> tuple[str, str]:
    """What stamps such as `name` are called, and what they are for, without a point at its end.

    Args:
        name: the stamp's.
        languages: of a kit with several, what each is called, by its tag in names.
        phrases: the language in which it is said.
    """
    read = name_from_text(last_part(name))
    key = "other" if read is None else _kind_key(read)
    title, about = (phrases.say(f"things.{key}.{part}") for part in ("title", "about"))
    if read is None:
        return title, about
    for part in _parts_of_name(read):
        about = phrases.say(f"things.with_{part}", about=about)
    if read.subject not in _IN_A_LANGUAGE:
        return title, about
    if read.short:
        about = phrases.say("things.short.about", about=about)
        title = phrases.say("things.short.title", title=title)
    language = languages.get(read.language, "")
    if language:
        title = phrases.say("things.in_language.title", title=title, language=language)
    if language and read.language:
        said = {"about": about, "tag": read.language, "language": language}
        about = phrases.say("things.in_language.about", **said)
    return title, about


def _parts_of_name(name: StampName) -> Iterator[str]:
    """The parts of a name that its kind alone doesn't explain, as the phrases call them."""
    if name.subject is Subject.CUT_BLOCKS:
        yield "rows_column"
    elif name.subject in {Subject.MARKS, Subject.STRIP_MARKS}:
        yield "month"
    elif name.column and name.days:
        yield "column_days"
    elif name.column and name.split:
        yield "column"
    if name.start:
        yield "start"
    if name.first:
        yield "first"
    if name.take:
        yield "take"


def _kind_key(name: StampName) -> str:
    """What stamps such as `name` are, as the phrases call it."""
    if name.subject is Subject.GRID:
        return f"{'rules' if name.rows is None else 'grids'}{'_head' if name.head else ''}"
    if name.subject is Subject.DATES:
        if name.shared:
            return "dates_shared"
        return "dates_split" if name.split else "dates_long" if name.days else "dates"
    return _KINDS[name.subject]


_KINDS: Mapping[Subject, str] = {
    Subject.BLOCKS: "blocks",
    Subject.HEADER_BLOCKS: "header_blocks",
    Subject.CUT_BLOCKS: "cut_blocks",
    Subject.STRIP_CUT_BLOCKS: "cut_blocks",
    Subject.STRIP_DATES: "strip_dates",
    Subject.WEEKDAYS: "weekdays",
    Subject.STRIP_WEEKDAYS: "weekdays",
    Subject.WEEKS: "weeks",
    Subject.MARKS: "marks",
    Subject.STRIP_MARKS: "marks",
    Subject.SMALL_MONTH: "small_months",
    Subject.MONTH: "months",
    Subject.YEAR: "years",
    Subject.YEARS: "year_pairs",
    Subject.DIGIT: "digits",
    Subject.CAPTION: "captions",
}
"""What stamps of all other subjects are, as the phrases call it."""
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
