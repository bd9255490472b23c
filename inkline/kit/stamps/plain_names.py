"""Stamps in plain words, for people who use a kit and know nothing of how its stamps are named."""

from __future__ import annotations

import re
from collections.abc import Callable

from inkline.calendar.names import LetterCase, NameWidth, month_names, weekday_names
from inkline.kit.recipe.key import WEEK_STARTS
from inkline.kit.stamps.plan import WEEKDAY_LABELS

_ENGLISH = "en"
_STARTS = "|".join(WEEK_STARTS)
_WEEKS = {"4": "four", "5": "five", "6": "six"}
_KINDS = {
    "workdays": "working days",
    "saturdays": "Saturdays",
    "sundays": "Sundays",
    "shared": "sixth week in shared cells",
}
"""What dates are split into, or how they stand, by the words in their stamps' names."""
_Words = Callable[[re.Match[str]], str]


def plain_name(name: str) -> str:
    """The stamp `name` in plain English; its name with spaces where no words are known for it."""
    stem = name.rpartition("/")[2]
    for pattern, words in _PATTERNS:
        found = pattern.fullmatch(stem)
        if found is not None:
            return words(found)
    return stem.replace("-", " ")


def _grid(found: re.Match[str]) -> str:
    weeks, head, take = found["weeks"], found["head"], found["take"]
    return ("grid" + _of_weeks("of", weeks)) + (" with header" if head else "") + _drawing(take)


def _blocks(found: re.Match[str]) -> str:
    if found["head"]:
        return f"blocks of the header{_drawing(found['take'])}"
    cut = found["cut"] or ""
    dates = f"dates of column {cut}" if len(cut) == 1 else f"dates 1 to {cut}"
    return f"blocks{_of_weeks('for', found['weeks'])}{f', {dates} cut out' if cut else ''}{_drawing(found['take'])}"


def _dates(found: re.Match[str]) -> str:
    words = [f"dates, the 1st in column {found['column']}"]
    for part in found["rest"].split("-")[1:]:
        if part in WEEK_STARTS:
            words.append(f"weeks from {_day(part)}")
        elif part in _KINDS:
            words.append(_KINDS[part])
        else:
            words.append(f"{part} days")
    return ", ".join(words)


def _weekdays(found: re.Match[str]) -> str:
    day, language = found["day"], found["language"]
    words = (
        f"weekdays of a month that begins on {_day(day)}"
        if found["of"]
        else f"weekdays from {_day(day)}"
    )
    return words + _in_language(language)


def _small_month(found: re.Match[str]) -> str:
    words = f"small month of {found['days']} days, the 1st in column {found['column']}"
    return (
        words
        + (f", weeks from {_day(found['start'])}" if found["start"] else "")
        + _in_language(found["language"])
    )


def _marks(found: re.Match[str]) -> str:
    words = f"marked days of {_month(found['month'])} {found['year']}"
    words += f", weeks from {_day(found['start'])}" if found["start"] else ""
    return words + (f", {_KINDS['shared']}" if found["shared"] else "")


def _weeks(found: re.Match[str]) -> str:
    words = f"week numbers from {int(found['first'])}" + (
        f", of a year with {found['of']}" if found["of"] else ""
    )
    return words + (f", {found['rows']} rows" if found["rows"] else "")


def _month_word(found: re.Match[str]) -> str:
    return (
        _month(found["month"])
        + (", abbreviated" if found["short"] else "")
        + _in_language(found["language"])
    )


def _of_weeks(word: str, weeks: str | None) -> str:
    return f" {word} {_WEEKS.get(weeks, weeks)} weeks" if weeks else ""


def _drawing(take: str | None) -> str:
    return f", drawing {take}" if take else ""


def _in_language(language: str | None) -> str:
    return f" ({language})" if language else ""


def _day(label: str) -> str:
    names = weekday_names(_ENGLISH, width=NameWidth.WIDE, case=LetterCase.AS_WRITTEN)
    return names[WEEKDAY_LABELS.index(label[:3])]


def _month(number: str) -> str:
    return month_names(_ENGLISH, width=NameWidth.WIDE, case=LetterCase.AS_WRITTEN)[int(number) - 1]


_TAKE = r"(?:-(?P<take>[a-c]))?"
_MONTH_NUMBER = r"(?P<month>0[1-9]|1[0-2])"
_LANGUAGE = r"(?:-(?P<language>[a-z]{2,3}(?:-[a-z0-9]+)*))?"
_START = rf"(?:-(?P<start>{_STARTS}))?"
_PATTERNS: tuple[tuple[re.Pattern[str], _Words], ...] = tuple(
    (re.compile(pattern), words)
    for pattern, words in (
        (rf"grid(?:-(?P<weeks>\d))?(?P<head>-head)?{_TAKE}", _grid),
        (rf"blocks(?:-(?P<weeks>\d))?(?P<head>-head)?(?:-cut-(?P<cut>\d+))?{_TAKE}", _blocks),
        (rf"dates-(?P<column>[1-7])(?P<rest>(?:-(?:\d\d|{'|'.join(_KINDS)}|{_STARTS}))*)", _dates),
        (r"dates-(?P<days>\d\d)", lambda found: f"dates 1 to {found['days']}"),
        (
            rf"weekdays-(?P<of>from-)?(?P<day>{_STARTS}|{'|'.join(WEEKDAY_LABELS)}){_LANGUAGE}",
            _weekdays,
        ),
        (rf"month-(?P<column>[1-7])-(?P<days>\d\d){_START}{_LANGUAGE}", _small_month),
        (rf"marks-(?P<year>\d{{4}})-{_MONTH_NUMBER}{_START}(?P<shared>-shared)?", _marks),
        (r"weeks-(?P<first>\d\d)(?:-of-(?P<of>\d\d))?(?:-(?P<rows>\d)-rows)?", _weeks),
        (rf"month-{_MONTH_NUMBER}(?P<short>-short)?{_LANGUAGE}", _month_word),
        (r"year-(?P<year>\d{4})", lambda found: found["year"]),
        (
            r"years-(?P<first>\d{4})-(?P<last>\d{4})",
            lambda found: f"{found['first']}\N{EN DASH}{found['last']}",
        ),
        (
            r"(?P<what>digit|caption)-(?P<number>\d+)",
            lambda found: f"{found['what']} {found['number']}",
        ),
    )
)
"""Each form of a stamp's last name, and what says it in words."""
