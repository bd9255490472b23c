"""One value of a recipe, checked against its key's row in the schema."""

from __future__ import annotations

import math
import re
import unicodedata
from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import dataclass, replace
from string import Formatter
from types import MappingProxyType
from typing import Any

from inkline.calendar.names import LocaleError, week_start
from inkline.errors import UnitError
from inkline.kit.schema import MOST_YEARS
from inkline.kit.schema_key import CANVAS, FIT, Key, Kind
from inkline.units import Length, Unit, length_from_text

NUMERALS = tuple(str(day) for day in range(1, 32))
"""The days of a month as they are written in cells."""
PATTERN_PARTS = ("name", "days", "month", "format", "title", "edition", "language")
"""What a pattern of file names may hold between braces."""
_SPAN = re.compile(r"\s*(\d{4})\s*[-\N{EN DASH}]\s*(\d{4})\s*")
_BLOCK_NAME = re.compile(r"(?:r[1-9]\d?)?c[1-9]\d?")
FARTHEST_SHIFT = 15.0
"""A numeral is shifted by at most so many percent of the canvas side, about the width of a cell."""
MOST_LENGTH_OF_SHARE = 50.0
"""A length that stands for a share of a cell is at most so many percent of the canvas side; the share's own range says nothing of it."""


class RefusedError(ValueError):
    """A value that its key doesn't allow; the text says what is required and what came, without the key's name."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Scale:
    """What lengths are measured by: the canvas side in px, and pixels per inch."""

    side_px: float
    ppi: float

    def px(self, length: Length) -> float:
        """`length` in px; a percentage is taken of the canvas side."""
        return length.px(ppi=self.ppi, whole_px=self.side_px)


def checked_value(key: Key, value: Any, scale: Scale) -> Any:
    """`value` as the program uses it: int, float, str, `Length`, or a tuple of years, shifts, swaps or axes.

    Raises:
        RefusedError: a wrong type, unit, range or word.
    """
    return _READERS[key.kind](key, value, scale)


def _whole(key: Key, value: Any, _scale: Scale) -> int:
    if not isinstance(value, int) or isinstance(value, bool) or not key.low <= value <= key.high:
        raise RefusedError(f"must be a whole number {spanned(key.low, key.high)}, not {shown(value)}")
    return value


def _number(key: Key, value: Any, _scale: Scale) -> float:
    if not _is_number(value) or not key.low <= value <= key.high:
        raise RefusedError(f"must be a number {spanned(key.low, key.high)}, not {shown(value)}")
    return float(value)


def _percent(key: Key, value: Any, scale: Scale) -> float:
    """A percentage, as a bare number or as a text with its sign."""
    if isinstance(value, str):
        with suppress(UnitError):
            length = length_from_text(value)
            value = length.value if length.unit is Unit.PERCENT else value
    return _number(key, value, scale)


def _text(key: Key, value: Any, _scale: Scale) -> str:
    if not isinstance(value, str) or len(value) > key.high or not (value.isprintable()):
        raise RefusedError(f"must be a text of at most {key.high:g} letters on one line, not {shown(value)}")
    return value


def _choice(key: Key, value: Any, _scale: Scale) -> str:
    if value not in key.choices:
        words = " or ".join(f'"{word}"' for word in key.choices)
        raise RefusedError(f"must be {words}, not {shown(value)}")
    return str(value) if key.enum is None else key.enum(value)


def _side(key: Key, value: Any, scale: Scale) -> Length:
    length = _length_of(value, 'a length such as "2500 px" or "20 cm"')
    if length.unit is Unit.PERCENT:
        raise RefusedError(f"must be a length with a unit, not the percentage {length}")
    px = length.px(ppi=scale.ppi)
    if not key.low <= px <= key.high:
        raise RefusedError(f"must lie between {key.low:g} px and {key.high:g} px, not {_shown_px(length, px)}")
    return length


def _length(key: Key, value: Any, scale: Scale) -> Length:
    length = _length_of(value, 'a length such as "5 pt", "0.4 mm" or "1.5 %"')
    _check_px(length, scale, low=key.low, high=key.high)
    return length


def _share_or_length(key: Key, value: Any, scale: Scale) -> float | Length:
    if _is_number(value):
        if not key.low <= value <= key.high:
            share = f"a share {spanned(key.low, key.high)}"
            raise RefusedError(f'must be {share} or a length such as "75 pt", not {shown(value)}')
        return float(value)
    length = _length_of(value, 'a share of the cell\'s width such as 0.3 or a length such as "75 pt"')
    _check_px(length, scale, low=0.1 if key.low > 0 else 0.0, high=MOST_LENGTH_OF_SHARE)
    return length


def _share_or_fit(key: Key, value: Any, _scale: Scale) -> float | str:
    if value == FIT:
        return FIT
    if not _is_number(value) or not key.low <= value <= key.high:
        raise RefusedError(f'must be "{FIT}" or a share {spanned(key.low, key.high)}, not {shown(value)}')
    return float(value)


def _years(key: Key, value: Any, _scale: Scale) -> tuple[int, ...]:
    required = f'must be a list of at most {MOST_YEARS} years such as [2027, 2028] or ["2027-2031"]'
    if not isinstance(value, list):
        raise RefusedError(f"{required}, not {shown(value)}")
    years = [year for one in value for year in _years_of(key, one)]
    if len(years) > MOST_YEARS:
        raise RefusedError(f"{required}, not {len(years)} of them")
    for year in years:
        if years.count(year) > 1:
            raise RefusedError(f"must hold each year once, not {year} {years.count(year)} times")
    return tuple(years)


def _years_of(key: Key, value: Any) -> tuple[int, ...]:
    """One year, or those of a range such as "2027-2031"."""
    if isinstance(value, str):
        first, last = _span(key, value)
        if last - first >= MOST_YEARS:
            raise RefusedError(f"must hold at most {MOST_YEARS} years, not {last - first + 1}")
        return tuple(range(first, last + 1))
    if not isinstance(value, int) or isinstance(value, bool) or not key.low <= value <= key.high:
        raise RefusedError(f"must hold years {spanned(key.low, key.high)}, not {shown(value)}")
    return (value,)


def _span(key: Key, value: Any) -> tuple[int, int]:
    """The first and the last year of a range such as "2027-2031"."""
    required = f'must hold years {spanned(key.low, key.high)}, or ranges of them such as "2027-2031"'
    found = _SPAN.fullmatch(value) if isinstance(value, str) else None
    if found is None:
        raise RefusedError(f"{required}, not {shown(value)}")
    first, last = int(found[1]), int(found[2])
    if not key.low <= first < last <= key.high:
        raise RefusedError(f"{required}, the earlier year first, not {shown(value)}")
    return first, last


def _spans(key: Key, value: Any, _scale: Scale) -> tuple[tuple[int, int], ...]:
    if not isinstance(value, list) or len(value) > MOST_YEARS:
        raise RefusedError(
            f'must be a list of at most {MOST_YEARS} ranges of years such as ["2027-2028"], not {shown(value)}'
        )
    return tuple(dict.fromkeys(_span(key, one) for one in value))


def _words(key: Key, value: Any, _scale: Scale) -> tuple[str, ...]:
    words = ", ".join(f'"{word}"' for word in key.choices)
    if not isinstance(value, list) or not value or any(one not in key.choices for one in value):
        raise RefusedError(f"must be a list of one or more of {words}, not {shown(value)}")
    return tuple(dict.fromkeys(str(one) for one in value))


def _wholes(key: Key, value: Any, _scale: Scale) -> tuple[int, ...]:
    required = f"must be a list of whole numbers {spanned(key.low, key.high)}"
    if not isinstance(value, list) or not value:
        raise RefusedError(f"{required}, not {shown(value)}")
    for one in value:
        if not isinstance(one, int) or isinstance(one, bool) or not key.low <= one <= key.high:
            raise RefusedError(f"{required}, not {shown(one)}")
    return tuple(sorted(set(value)))


def _margin(key: Key, value: Any, scale: Scale) -> str | tuple[Length, ...]:
    if value == CANVAS:
        return CANVAS
    required = f'"{CANVAS}", a length such as "3 %", or a list of four, clockwise from the top'
    four = value if isinstance(value, list) else [value] * 4
    if len(four) != 4:
        raise RefusedError(f"must be {required}, not {shown(value)}")
    lengths = tuple(_length_of(one, required) for one in four)
    for length in lengths:
        _check_px(length, scale, low=key.low, high=key.high)
    return lengths


def _languages(key: Key, value: Any, _scale: Scale) -> tuple[str, ...]:
    names = value if isinstance(value, list) else [value]
    required = f'must be a language such as "en", "de" or "pt_BR", or a list of at most {key.high:g} of them'
    if not 1 <= len(names) <= key.high or not all(isinstance(one, str) and len(one) <= 32 for one in names):
        raise RefusedError(f"{required}, not {shown(value)}")
    for name in names:
        try:
            week_start(name)
        except LocaleError as error:
            raise RefusedError(str(error).replace("a language is required", "must be a language", 1)) from error
    return tuple(dict.fromkeys(names))


def _captions(key: Key, value: Any, _scale: Scale) -> tuple[str, ...]:
    required = f"must be a list of at most {MOST_YEARS} texts of at most {key.high:g} letters each on one line"
    if not isinstance(value, list) or len(value) > MOST_YEARS:
        raise RefusedError(f"{required}, not {shown(value)}")
    for one in value:
        if not isinstance(one, str) or not one.strip() or len(one) > key.high or not one.isprintable():
            raise RefusedError(f"{required}, not {shown(one)}")
    return tuple(dict.fromkeys(one.strip() for one in value))


def _block_names(key: Key, value: Any, _scale: Scale) -> tuple[str, ...]:
    required = 'must be a list of blocks such as ["r5c4", "c1"]'
    if not isinstance(value, list) or len(value) > key.high:
        raise RefusedError(f"{required}, not {shown(value)}")
    for one in value:
        if not isinstance(one, str) or not _BLOCK_NAME.fullmatch(one):
            raise RefusedError(f"{required}, not {shown(one)}")
    return tuple(dict.fromkeys(value))


def _pattern(key: Key, value: Any, scale: Scale) -> str:
    text = _text(key, value, scale)
    required = f"must be a pattern with {{name}} in it and no other of these than {', '.join(f'{{{one}}}' for one in PATTERN_PARTS)}"
    try:
        parts = [(name, spec, conversion) for _, name, spec, conversion in Formatter().parse(text) if name is not None]
    except ValueError as error:
        raise RefusedError(f"{required}, not {shown(text)}") from error
    names = [name for name, _, _ in parts]
    if "name" not in names or any(name not in PATTERN_PARTS or spec or conversion for name, spec, conversion in parts):
        raise RefusedError(f"{required}, not {shown(text)}")
    return text


def _shifts(_key: Key, value: Any, scale: Scale) -> tuple[tuple[str, Length, Length], ...]:
    required = 'must give numerals two lengths, to the right and down, such as "17" = ["3 px", "-1 px"]'
    if not isinstance(value, dict):
        raise RefusedError(f"{required}, not {shown(value)}")
    found = []
    for text, both in value.items():
        if text not in NUMERALS:
            raise RefusedError(f"{required}; there is no numeral {shown(text)}")
        if not isinstance(both, list) or len(both) != 2:
            raise RefusedError(f"{required}, not {shown(both)} for the {text}")
        right, down = (_length_of(one, "two lengths with units") for one in both)
        for one in (right, down):
            _check_px(one, scale, low=-FARTHEST_SHIFT, high=FARTHEST_SHIFT)
        found.append((text, right, down))
    return tuple(found)


def _swaps(key: Key, value: Any, scale: Scale) -> tuple[tuple[str, str], ...]:
    required = 'must name a glyph for each character, such as "9" = "nine.curved"'
    if not isinstance(value, dict):
        raise RefusedError(f"{required}, not {shown(value)}")
    for character in value:
        if len(unicodedata.normalize("NFC", character)) != 1:
            raise RefusedError(f"{required}; {shown(character)} is not one character")
    name = replace(key, high=1024)
    return tuple((unicodedata.normalize("NFC", one), _text(name, said, scale)) for one, said in value.items())


def _axes(_key: Key, value: Any, _scale: Scale) -> tuple[tuple[str, float], ...]:
    required = "must give axes by their four letters, such as wght = 650"
    if not isinstance(value, dict):
        raise RefusedError(f"{required}, not {shown(value)}")
    for tag, place in value.items():
        if len(tag) != 4 or not tag.isascii() or not _is_number(place):
            raise RefusedError(f"{required}, not {shown(tag)} = {shown(place)}")
    return tuple((tag, float(place)) for tag, place in sorted(value.items()))


_READERS: Mapping[Kind, Callable[[Key, Any, Scale], Any]] = MappingProxyType(
    {
        Kind.WHOLE: _whole,
        Kind.NUMBER: _number,
        Kind.PERCENT: _percent,
        Kind.TEXT: _text,
        Kind.CHOICE: _choice,
        Kind.SIDE: _side,
        Kind.LENGTH: _length,
        Kind.SHARE_OR_LENGTH: _share_or_length,
        Kind.SHARE_OR_FIT: _share_or_fit,
        Kind.YEARS: _years,
        Kind.SHIFTS: _shifts,
        Kind.SWAPS: _swaps,
        Kind.AXES: _axes,
        Kind.WORDS: _words,
        Kind.WHOLES: _wholes,
        Kind.MARGIN: _margin,
        Kind.LANGUAGES: _languages,
        Kind.SPANS: _spans,
        Kind.CAPTIONS: _captions,
        Kind.BLOCK_NAMES: _block_names,
        Kind.PATTERN: _pattern,
    }
)


def _length_of(value: Any, required: str) -> Length:
    try:
        return length_from_text(value)
    except UnitError as error:
        raise RefusedError(f"must be {required}, not {shown(value)}") from error


def _check_px(length: Length, scale: Scale, *, low: float, high: float) -> None:
    """Refuse a length outside `low` to `high` percent of the canvas side."""
    px, low_px, high_px = scale.px(length), low * scale.side_px / 100.0, high * scale.side_px / 100.0
    if not low_px <= px <= high_px:
        shown = _shown_px(length, px)
        raise RefusedError(f"must lie between {low_px:g} px and {high_px:g} px on this canvas, not {shown}")


def _is_number(value: Any) -> bool:
    return isinstance(value, (int, float)) and not isinstance(value, bool) and math.isfinite(value)


def spanned(low: float, high: float) -> str:
    """A range in words, such as `from 0.5 to 3`."""
    return (
        f"of {low:g}"
        if low == high
        else f"from {int(low) if low == int(low) else low} to {int(high) if high == int(high) else high}"
    )


def _shown_px(length: Length, px: float) -> str:
    return str(length) if length.unit is Unit.PX else f"{length} ({px:.4g} px)"


def shown(value: Any) -> str:
    """A value as the user wrote it, more or less, and never long."""
    words = {True: "true", False: "false"}
    text = words[value] if isinstance(value, bool) else f'"{value}"' if isinstance(value, str) else repr(value)
    text = text.encode("unicode_escape").decode() if not text.isprintable() else text
    return text if len(text) <= 60 else f"{text[:57]}..."
