"""Which numerals a set holds: a list such as "0-9, 1-31, A, No." read into texts."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass

from babel import Locale

from inkline.errors import InputError

_SETTING = "texts"
"""The setting that texts are given by."""
DEFAULT_LIST = "0-9,1-31,1st-31st"
MOST_TEXTS = 1000
"""Pictures in one set at most; a range typed wrongly must not fill a disk."""
_LONGEST_TEXT = 40
"""Characters in one text at most."""
_LARGEST_INTEGER = 999_999

DIGITS, _NUMERALS, _ORDINALS, LETTERS, _OTHERS = (
    "digits",
    "numerals",
    "ordinals",
    "letters",
    "others",
)
_FOLDERS = (DIGITS, _NUMERALS, _ORDINALS, LETTERS, _OTHERS)
_INTEGERS = re.compile(r"(\d+)\s*[-–]\s*(\d+)", re.ASCII)
_ORDINAL = r"(\d+)(st|nd|rd|th)"
_DOTTED_RANGE = re.compile(r"(\d+\w{0,2}|[A-Za-z])\s*\.{2,}\s*(\d+\w{0,2}|[A-Za-z])", re.ASCII)
"""What looks like a range with dots in place of its hyphen."""
_ORDINAL_RANGE = re.compile(rf"{_ORDINAL}\s*[-–]\s*{_ORDINAL}", re.ASCII)
_LETTER_RANGE = re.compile(r"([A-Z])\s*[-–]\s*([A-Z])|([a-z])\s*[-–]\s*([a-z])")
_ENDINGS = {"one": "st", "two": "nd", "few": "rd", "other": "th"}
"""English ordinal endings by the plural categories of CLDR (UTS 35, ordinal plural rules)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class NumeralGroup:
    """Texts that go into one folder and share one canvas."""

    folder: str
    texts: tuple[str, ...]


def ordinal(number: int) -> str:
    """The English ordinal of `number` >= 0, such as 1st, 22nd and 113th, by CLDR's plural rules."""
    return f"{number}{_ENDINGS[Locale('en').ordinal_form(number)]}"


def groups_from_text(text: str) -> tuple[NumeralGroup, ...]:
    """The texts that a list asks for, by folder, none twice in a folder.

    Parts stand between commas. A range of whole numbers goes to `digits` if all are below 10, else
    to `numerals`; a range of ordinals to `ordinals`, one of letters to `letters`. A single number
    or ordinal goes where its range would; all else is drawn as it is written and goes to `others`.

    Raises:
        InputError: nothing is asked for, a range runs backwards, an ordinal is written wrongly, a
            text is too long or holds what can't be drawn, or there are too many.
    """
    found: dict[str, dict[str, None]] = {folder: {} for folder in _FOLDERS}
    total = 0
    for part in (unicodedata.normalize("NFC", piece.strip()) for piece in text.split(",")):
        if not part:
            continue
        folder, texts = _part(part)
        found[folder] |= dict.fromkeys(texts)
        total = sum(map(len, found.values()))
        if total > MOST_TEXTS:
            raise InputError(
                f"a set holds at most {MOST_TEXTS} pictures, and with {part!r} there are {total}",
                setting=_SETTING,
            )
    if not total:
        raise InputError(
            f'something to draw is required, such as "{DEFAULT_LIST}", not {text!r}',
            setting=_SETTING,
        )
    return tuple(
        NumeralGroup(folder=folder, texts=tuple(texts)) for folder, texts in found.items() if texts
    )


def _part(part: str) -> tuple[str, list[str]]:
    """The folder of one part of a list, and its texts."""
    if match := _INTEGERS.fullmatch(part):
        numbers = _numbers(match[1], match[2], part)
        return (DIGITS if max(numbers) < 10 else _NUMERALS), [str(number) for number in numbers]
    if match := _ORDINAL_RANGE.fullmatch(part):
        first, last = _checked_ordinal(match[1] + match[2]), _checked_ordinal(match[3] + match[4])
        return _ORDINALS, [ordinal(number) for number in _numbers(first, last, part)]
    if match := _LETTER_RANGE.fullmatch(part):
        first, last = (letter for letter in match.groups() if letter)
        if first > last:
            raise InputError(f"a range must run upwards, not {part!r}", setting=_SETTING)
        return LETTERS, [chr(code) for code in range(ord(first), ord(last) + 1)]
    if re.fullmatch(r"\d+", part, re.ASCII):
        return (DIGITS if len(part) == 1 else _NUMERALS), [_checked_text(part)]
    if re.fullmatch(_ORDINAL, part, re.ASCII):
        return _ORDINALS, [_checked_text(part)]
    if match := _DOTTED_RANGE.fullmatch(part):
        raise InputError(
            f"a range is written with a hyphen; did you mean {match[1]}-{match[2]}?",
            setting=_SETTING,
        )
    return _OTHERS, [_checked_text(part)]


def _numbers(first: str, last: str, part: str) -> range:
    low, high = (
        int(end) if len(end) <= len(str(_LARGEST_INTEGER)) else _LARGEST_INTEGER + 1
        for end in (first, last)
    )
    if max(low, high) > _LARGEST_INTEGER:
        raise InputError(
            f"numbers up to {_LARGEST_INTEGER} are drawn, not {part!r}", setting=_SETTING
        )
    if low > high:
        raise InputError(f"a range must run upwards, not {part!r}", setting=_SETTING)
    if high - low >= MOST_TEXTS:
        raise InputError(
            f"a set holds at most {MOST_TEXTS} pictures, and {part!r} asks for {high - low + 1}",
            setting=_SETTING,
        )
    return range(low, high + 1)


def _checked_ordinal(text: str) -> str:
    """The digits of an ordinal that is written as English writes it."""
    digits = text[:-2]
    right = ordinal(int(digits[-3:]))[-2:]
    if text[-2:] != right:
        raise InputError(f"the ordinal is written {digits}{right}, not {text}", setting=_SETTING)
    return digits


def _checked_text(text: str) -> str:
    if len(text) > _LONGEST_TEXT:
        raise InputError(
            f"a text has at most {_LONGEST_TEXT} characters, not {len(text)}: {text[:12]!r}...",
            setting=_SETTING,
        )
    for character in text:
        if unicodedata.category(character)[0] == "C":
            raise InputError(
                f"a control character (U+{ord(character):04X}) can't be drawn in {text!r}",
                setting=_SETTING,
            )
    if re.fullmatch(_ORDINAL, text, re.ASCII):
        _checked_ordinal(text)
    return text


def file_stems(texts: tuple[str, ...]) -> tuple[str, ...]:
    """A file's name for each text, without its ending.

    It is safe on every system, and no two are alike but for capitals.

    Letters and digits of ASCII stand for themselves, all else by its code, such as `u0026`; a name
    that another text has already, or that some system keeps for itself, gets a number.
    """
    taken: set[str] = set(_RESERVED)
    return tuple(_free(stem, taken) for stem in map(_stem, texts))


_RESERVED = (
    "con",
    "prn",
    "aux",
    "nul",
    *(f"{port}{n}" for port in ("com", "lpt") for n in range(1, 10)),
)


def _stem(text: str) -> str:
    plain = (c if c.isascii() and c.isalnum() else f"u{ord(c):04x}" for c in text)
    return "".join(plain)[:120]


def _free(stem: str, taken: set[str]) -> str:
    name = next(name for name in _numbered_stems(stem) if name.casefold() not in taken)
    taken.add(name.casefold())
    return name


def _numbered_stems(stem: str) -> Iterator[str]:
    yield stem
    yield from (f"{stem}-{count}" for count in range(2, 2 + MOST_TEXTS))
