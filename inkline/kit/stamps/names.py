"""Names of stamps: one value that makes and reads each of them by one grammar.

A stamp's name seeds its ink, and the manifest, the recipe and the files know it by that name. It is
a folder and a stem, as `tall/dates-3`; what is drawn of it adds the part, as `tall/dates-3/17`.
Text in square brackets may be missing; what stands in braces is a field of `StampName`.

Stems in the folder of a format, called as the format:

    grid[-{rows}][-{head}][-{take}]                grid-5, grid-6-head-b, grid-head
    blocks[-{rows}][-{take}]                       blocks-6, blocks-a
    blocks-head[-{take}]                           blocks-head
    blocks-{rows}-cut-{column}[-{days}]            blocks-5-cut-3, blocks-5-cut-3-30
    blocks-cut-{days}                              blocks-cut-31, of a strip
    dates-{column}[-{days}][-{shared}][-{split}-{start}]
                         dates-3, dates-3-30, dates-6-shared, dates-3-30-sundays-monday
    dates-{days}                                   dates-31, of a strip
    weekdays-{start}[-{language}]                  weekdays-monday, weekdays-monday-pt-br
    weekdays-from-{first}[-{language}]             weekdays-from-wed, of a strip
    weeks-{week}[-of-{weeks}][-{rows}-rows]        weeks-05, weeks-48-of-53, weeks-18-5-rows
    marks-{year}-{month}-{start}[-{shared}]        marks-2027-03-monday-shared
    marks-{year}-{month}                           marks-2027-03, of a strip
    month-{column}-{days}-{start}[-{language}]     month-3-30-monday, a small month

Stems in the folder `words`:

    month-{month}[-{short}][-{language}]           month-01, month-01-short-de
    year-{year}, years-{year}-{last_year}          year-2027, years-2027-2028
    digit-{digit}, caption-{number}                digit-7, caption-1

Stems in the folder of a finished month, such as `2027-02-standard`, are its layers: one of
`MonthLayer`. Of grids and blocks parts are rules and cells (`down-3`, `r1c2-across-1`, `r5c4`,
`c3`), of dates days and the stroke between two (`17`, `23-30`), of weekdays their labels, and over
a strip days (`mon`, `17`), of week numbers the weeks (`5`), of marks days with what marks them if a
day has more than one mark (`8`, `8-ring`). Beyond a part, `.2` is a letter and `/1` a stroke.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from inkline.kit.recipe.choices import MarkedBy
from inkline.kit.recipe.formats import FORMAT_NAME, RESERVED_NAMES
from inkline.kit.recipe.key import WEEK_STARTS
from inkline.kit.stamps.templates import template_from_text

WORDS = "words"
"""The folder of the words used alone."""
WEEKDAY_LABELS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
"""Names of the weekdays in the names of stamps and their parts, Monday first."""
TAKES = "abc"
"""What the names of the takes of one thing end in, after a hyphen."""
_TAG = r"[a-z]{2,3}(?:-[a-z0-9]{1,8})*"
"""A language by its tag (RFC 5646, section 2.1) in small letters."""


class Subject(StrEnum):
    """What a stamp shows; each is called in a way of its own."""

    GRID = "grid"
    BLOCKS = "blocks"
    HEADER_BLOCKS = "blocks of the header"
    CUT_BLOCKS = "blocks with a month's dates cut out"
    STRIP_CUT_BLOCKS = "blocks with a strip's dates cut out"
    DATES = "dates of a month"
    STRIP_DATES = "dates of a strip"
    WEEKDAYS = "weekdays"
    STRIP_WEEKDAYS = "weekdays over a strip"
    WEEKS = "week numbers"
    MARKS = "marked days of a month"
    STRIP_MARKS = "marked days of a strip"
    SMALL_MONTH = "small month"
    MONTH = "name of a month"
    YEAR = "year"
    YEARS = "years"
    DIGIT = "digit"
    CAPTION = "caption"
    LAYER = "layer of a finished month"


class SplitPart(StrEnum):
    """The days of a month that a stamp shows where work and rest are apart, as its name says it."""

    WORKDAYS = "workdays"
    SATURDAYS = "saturdays"
    SUNDAYS = "sundays"


class MonthLayer(StrEnum):
    """The layers of finished months by the last parts of their names."""

    BLOCKS = "blocks"
    HEADER_BLOCKS = "blocks-head"
    GRID = "grid"
    DATES = "dates"
    WORKDAYS = "dates-workdays"
    SATURDAYS = "dates-saturdays"
    SUNDAYS = "dates-sundays"
    WEEKDAYS = "weekdays"
    WEEKS = "weeks"
    MARKS = "marks"
    BEFORE = "before"
    AFTER = "after"
    NAME = "name"
    YEAR = "year"


@dataclass(frozen=True, slots=True, kw_only=True)
class StampName:
    """The name of a stamp, or its stem alone where `folder` is "".

    The fields from `rows` on are what the grammar of its subject has in braces; others must be left
    out.

    Attributes:
        subject: what the stamp shows.
        folder: name of its format, `WORDS`, the folder of a finished month, or "".
        part: what is drawn of it, or "" for all.
        rows: weeks of a grid or its blocks, or numbers that a column of week numbers has, 4 to 6.
        head: whether a grid has room for the weekdays.
        take: which drawing of the same it is, a to c, or "" for the only one.
        column: where the first of the month stands, 1 to 7.
        days: how many there are, 28 to 31.
        shared: whether the days of a sixth week share the cells of the fifth.
        split: the days shown where they are apart, or "".
        start: the day on which weeks begin, as `WEEK_STARTS` names it, or "".
        first: the weekday of the first of the month, as `WEEKDAY_LABELS` names it, or "".
        language: tag of the language if it isn't the kit's first, or "".
        week: the first row's, 1 to 54.
        weeks: how many the year has if that isn't usual, 53 or 54.
        year: 1000 to 9999.
        month: 1 to 12.
        short: whether the month's name is abbreviated.
        last_year: of a span of years.
        digit: 0 to 9.
        number: of a caption, from 1.
        layer: of a finished month, or "".

    Raises:
        ValueError: nothing is so called.
    """

    subject: Subject
    folder: str = ""
    part: str = ""
    rows: int | None = None
    head: bool = False
    take: str = ""
    column: int | None = None
    days: int | None = None
    shared: bool = False
    split: SplitPart | str = ""
    start: str = ""
    first: str = ""
    language: str = ""
    week: int | None = None
    weeks: int | None = None
    year: int | None = None
    month: int | None = None
    short: bool = False
    last_year: int | None = None
    digit: int | None = None
    number: int | None = None
    layer: MonthLayer | str = ""

    def __post_init__(self) -> None:
        said = self._said()
        if _TEMPLATES[self.subject].values_of(self.stem) != said:
            raise ValueError(f"no stamp of the subject {self.subject} has a name of {said}")
        if self.folder and self.subject not in _subjects_in(self.folder):
            raise ValueError(f"{self.folder!r} is no folder for a stamp of {self.subject}")
        if self.part and not (self.folder and _is_part(self.subject, self.part)):
            raise ValueError(f"{self.part!r} is no part of a stamp of {self.subject} in a folder")

    @property
    def stem(self) -> str:
        """The last part of the stamp's name, such as `dates-3`."""
        return _TEMPLATES[self.subject].text_of(self._said())

    @property
    def stamp(self) -> str:
        """The stamp's name, such as `tall/dates-3`; its stem where it has no folder."""
        return f"{self.folder}/{self.stem}" if self.folder else self.stem

    @property
    def text(self) -> str:
        """The whole name, with its part if it has one, such as `tall/dates-3/17`."""
        return f"{self.stamp}/{self.part}" if self.part else self.stamp

    def _said(self) -> dict[str, str]:
        """The fields that the name has, as it has them."""
        return {name: text for name in _FIELDS if (text := _written(name, getattr(self, name)))}


def name_from_text(text: str) -> StampName | None:
    """The name of a stamp, or of a part of one, that `text` is, or its stem alone; else `None`."""
    pieces = text.split("/")
    if "" in pieces or len(pieces) > 3:
        return None
    folder = pieces.pop(0) if len(pieces) > 1 else ""
    stem, part = (*pieces, "")[:2]
    for subject in _subjects_in(folder):
        said = _TEMPLATES[subject].values_of(stem)
        if said is not None and (not part or _is_part(subject, part)):
            values = {name: _read(name, text) for name, text in said.items()}
            return StampName(subject=subject, folder=folder, part=part, **values)
    return None


def part_name(stamp: str, part: str) -> str:
    """The full name of a part of the stamp called `stamp`, or of its only one if `part` is ""."""
    return f"{stamp}/{part}" if part else stamp


def last_part(name: str) -> str:
    """The stem of a stamp's name, or the part of a full one: what stands after the last slash."""
    return name.rpartition("/")[2]


def folder_of(name: str) -> str:
    """The folder of a stamp's name."""
    return name.rpartition("/")[0]


def stamp_of(name: str) -> str:
    """The stamp's name of the name of anything that is drawn on it."""
    return "/".join(name.split("/")[:2])


def month_folder(year: int, month: int, shape: str) -> str:
    """The folder of a finished month in the format called `shape`, such as `2027-02-standard`."""
    return f"{year:04d}-{month:02d}-{shape}"


def layer_of(name: StampName) -> MonthLayer:
    """The layer of a finished month that a kit's stamp of the name makes.

    Raises:
        ValueError: no finished month has such a stamp.
    """
    if name.split:
        return MonthLayer(f"{MonthLayer.DATES}-{name.split}")
    if name.subject is Subject.HEADER_BLOCKS:
        return MonthLayer.HEADER_BLOCKS
    return MonthLayer(name.stem.partition("-")[0])


_WORDS_ALONE = (Subject.MONTH, Subject.YEAR, Subject.YEARS, Subject.DIGIT, Subject.CAPTION)
_OF_FORMATS = tuple(one for one in Subject if one not in (*_WORDS_ALONE, Subject.LAYER))
_MONTH_FOLDER = re.compile(rf"[1-9]\d{{3}}-(?:0[1-9]|1[0-2])-{FORMAT_NAME.pattern}", re.ASCII)

_FIELDS: Mapping[str, str] = {
    "rows": "[4-6]",
    "head": "head",
    "take": f"[{TAKES}]",
    "column": "[1-7]",
    "days": "28|29|30|31",
    "shared": "shared",
    "split": "|".join(SplitPart),
    "start": "|".join(WEEK_STARTS),
    "first": "|".join(WEEKDAY_LABELS),
    "language": _TAG,
    "week": r"0[1-9]|[1-4]\d|5[0-4]",
    "weeks": "53|54",
    "year": r"[1-9]\d{3}",
    "month": "0[1-9]|1[0-2]",
    "short": "short",
    "last_year": r"[1-9]\d{3}",
    "digit": r"\d",
    "number": r"[1-9]\d*",
    "layer": "|".join(MonthLayer),
}
"""How each field is written."""
_WIDTHS = {"week": 2, "month": 2}
"""Digits of numbers that are written with zeros before them."""
_FLAGS = frozenset({"head", "shared", "short"})
_NAMES = {
    Subject.GRID: "grid[-{rows}][-{head}][-{take}]",
    Subject.BLOCKS: "blocks[-{rows}][-{take}]",
    Subject.HEADER_BLOCKS: "blocks-head[-{take}]",
    Subject.CUT_BLOCKS: "blocks-{rows}-cut-{column}[-{days}]",
    Subject.STRIP_CUT_BLOCKS: "blocks-cut-{days}",
    Subject.DATES: "dates-{column}[-{days}][-{shared}][-{split}-{start}]",
    Subject.STRIP_DATES: "dates-{days}",
    Subject.WEEKDAYS: "weekdays-{start}[-{language}]",
    Subject.STRIP_WEEKDAYS: "weekdays-from-{first}[-{language}]",
    Subject.WEEKS: "weeks-{week}[-of-{weeks}][-{rows}-rows]",
    Subject.MARKS: "marks-{year}-{month}-{start}[-{shared}]",
    Subject.STRIP_MARKS: "marks-{year}-{month}",
    Subject.SMALL_MONTH: "month-{column}-{days}-{start}[-{language}]",
    Subject.MONTH: "month-{month}[-{short}][-{language}]",
    Subject.YEAR: "year-{year}",
    Subject.YEARS: "years-{year}-{last_year}",
    Subject.DIGIT: "digit-{digit}",
    Subject.CAPTION: "caption-{number}",
    Subject.LAYER: "{layer}",
}
_RULE = r"(?:(?:r\d+)?(?:c\d+)?-)?(?:across|down)-\d+"
_CELL, _DAY, _WEEKDAY = r"r\d+c\d+", r"[1-9]|[12]\d|3[01]", "|".join(WEEKDAY_LABELS)
_PARTS: Mapping[Subject, str] = {
    Subject.GRID: _RULE,
    Subject.BLOCKS: _CELL,
    Subject.HEADER_BLOCKS: r"c\d+",
    Subject.DATES: rf"{_DAY}|23-30|24-31",
    Subject.STRIP_DATES: _DAY,
    Subject.WEEKDAYS: _WEEKDAY,
    Subject.STRIP_WEEKDAYS: _DAY,
    Subject.WEEKS: r"[1-9]|[1-4]\d|5[0-4]",
    Subject.MARKS: rf"(?:{_DAY})(?:-(?:{'|'.join(MarkedBy)}))?",
    Subject.STRIP_MARKS: rf"(?:{_DAY})(?:-(?:{'|'.join(MarkedBy)}))?",
    Subject.SMALL_MONTH: rf"{_WEEKDAY}|{_DAY}",
    Subject.LAYER: rf"{_RULE}|{_CELL}|c\d+",
}
"""What the parts of stamps are called that have any; on all others is one thing, or another's."""


_TEMPLATES = {subject: template_from_text(text, _FIELDS) for subject, text in _NAMES.items()}


def _subjects_in(folder: str) -> tuple[Subject, ...]:
    """What the stamps in a folder may show; in none all but layers."""
    if not folder:
        return (*_OF_FORMATS, *_WORDS_ALONE)
    if folder == WORDS:
        return _WORDS_ALONE
    if _MONTH_FOLDER.fullmatch(folder):
        return (Subject.LAYER,)
    is_format = FORMAT_NAME.fullmatch(folder) is not None and folder not in RESERVED_NAMES
    return _OF_FORMATS if is_format else ()


def _is_part(subject: Subject, part: str) -> bool:
    return re.fullmatch(_PARTS.get(subject, "(?!)"), part, re.ASCII) is not None


def _written(name: str, value: Any) -> str:
    """A field as names have it, "" for one that is left out."""
    if isinstance(value, bool):
        return name if value else ""
    return f"{value:0{_WIDTHS.get(name, 1)}d}" if isinstance(value, int) else value or ""


def _read(name: str, said: str) -> Any:
    """The value of a field from how it is written."""
    if name in _FLAGS:
        return True
    return int(said) if said.isdecimal() else said
