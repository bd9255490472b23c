"""Values of a recipe that are lists, tables or patterns, read as their keys allow."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import replace
from string import Formatter
from typing import Any

from inkline.calendar.names import LocaleError, week_start
from inkline.kit.recipe.key import CANVAS, Key, Scale
from inkline.kit.recipe.numbers import NUMERALS, check_px, length_from, text_from
from inkline.source.values import (
    RefusedError,
    did_you_mean_choice,
    is_number,
    is_whole,
    range_text,
    text_of_value,
)
from inkline.units import Length

MOST_YEARS = 50
"""Years, ranges of years or texts in a list of them."""
PATTERN_PARTS = ("name", "days", "month", "format", "title", "edition", "language")
"""What a pattern of file names may hold between braces."""
FARTHEST_SHIFT = 15.0
"""A numeral is shifted by at most so many percent of the canvas side, about the width of a cell."""
LETTERS_FROM = ("family", "font")
"""What letters are taken from, in the order in which a recipe has them."""
LONGEST_PLACE = 1024
"""Letters in the name of a family or the place of a font."""
LONGEST_GLYPH = 1024
"""Letters in the name or the place of a glyph."""
_LONGEST_LANGUAGE = 32
_SPAN = re.compile(r"\s*(\d{4})\s*[-\N{EN DASH}]\s*(\d{4})\s*")
_BLOCK_NAME = re.compile(r"(?:r[1-9]\d?)?c[1-9]\d?")
_TAG_LETTERS = 4


def _list_from(value: Any) -> Any:
    """A text or a number where a list of them is asked for, as a list of one; all else as it is."""
    return [value] if isinstance(value, str) or is_number(value) else value


def years_from(key: Key, value: Any, _scale: Scale) -> tuple[int, ...]:
    """Years, each once; a range such as "2027-2031" stands for its years."""
    value = _list_from(value)
    required = f'must be a list of at most {MOST_YEARS} years such as [2027, 2028] or ["2027-2031"]'
    if not isinstance(value, list) or len(value) > MOST_YEARS:
        raise RefusedError(f"{required}, not {text_of_value(value)}")
    years = [year for one in value for year in _year_or_span(key, one)]
    if len(years) > MOST_YEARS:
        raise RefusedError(f"{required}, not {len(years)} of them")
    for year in years:
        if years.count(year) > 1:
            raise RefusedError(f"must hold each year once, not {year} {years.count(year)} times")
    return tuple(years)


def _year_or_span(key: Key, value: Any) -> tuple[int, ...]:
    """One year, or those of a range such as "2027-2031"."""
    if isinstance(value, str):
        first, last = _span(key, value)
        if last - first >= MOST_YEARS:
            raise RefusedError(f"must hold at most {MOST_YEARS} years, not {last - first + 1}")
        return tuple(range(first, last + 1))
    if not is_whole(value) or not key.low <= value <= key.high:
        raise RefusedError(
            f"must hold years {range_text(key.low, key.high)}, not {text_of_value(value)}"
        )
    return (value,)


def _span(key: Key, value: Any) -> tuple[int, int]:
    """The first and the last year of a range such as "2027-2031"."""
    required = (
        f'must hold years {range_text(key.low, key.high)}, or ranges of them such as "2027-2031"'
    )
    found = _SPAN.fullmatch(value) if isinstance(value, str) else None
    if found is None:
        raise RefusedError(f"{required}, not {text_of_value(value)}")
    first, last = int(found[1]), int(found[2])
    if not key.low <= first < last <= key.high:
        raise RefusedError(f"{required}, the earlier year first, not {text_of_value(value)}")
    return first, last


def spans_from(key: Key, value: Any, _scale: Scale) -> tuple[tuple[int, int], ...]:
    """Ranges of years by their first and last."""
    value = _list_from(value)
    if not isinstance(value, list) or len(value) > MOST_YEARS:
        raise RefusedError(
            f'must be a list of at most {MOST_YEARS} ranges of years such as ["2027-2028"], not '
            f"{text_of_value(value)}"
        )
    return tuple(dict.fromkeys(_span(key, one) for one in value))


def choices_from(key: Key, value: Any, _scale: Scale) -> tuple[str, ...]:
    """Some of the key's choices, each once; none only where that is the default."""
    value = _list_from(value)
    choices = ", ".join(f'"{one}"' for one in key.choices)
    required = f"must be a list of one or more of {choices}"
    if not isinstance(value, list) or (not value and key.default != []):
        raise RefusedError(f"{required}, not {text_of_value(value)}")
    for one in value:
        if one not in key.choices:
            raise RefusedError(
                f"{required}, not {text_of_value(one)}{did_you_mean_choice(one, key.choices)}"
            )
    return tuple(dict.fromkeys(str(one) for one in value))


def wholes_from(key: Key, value: Any, _scale: Scale) -> tuple[int, ...]:
    """Whole numbers in the key's range, each once, from small to large."""
    value = _list_from(value)
    required = f"must be a list of whole numbers {range_text(key.low, key.high)}"
    if not isinstance(value, list) or not value:
        raise RefusedError(f"{required}, not {text_of_value(value)}")
    for one in value:
        if not is_whole(one) or not key.low <= one <= key.high:
            raise RefusedError(f"{required}, not {text_of_value(one)}")
    return tuple(sorted(set(value)))


def margin_from(key: Key, value: Any, scale: Scale) -> str | tuple[Length, ...]:
    """Four lengths clockwise from the top, or the choice of the canvas's own margin."""
    if value == CANVAS:
        return CANVAS
    required = f'"{CANVAS}", a length such as "3 %", or a list of four, clockwise from the top'
    four = value if isinstance(value, list) else [value] * 4
    if len(four) != 4:
        raise RefusedError(f"must be {required}, not {text_of_value(value)}")
    lengths = tuple(length_from(one, required) for one in four)
    for length in lengths:
        check_px(length, scale, low=key.low, high=key.high)
    return lengths


def languages_from(key: Key, value: Any, _scale: Scale) -> tuple[str, ...]:
    """One or more languages as CLDR names them, each once."""
    names = value if isinstance(value, list) else [value]
    required = (
        f'must be a language such as "en", "de" or "pt_BR", or a list of at most {key.high:g} of '
        f"them"
    )
    if not 1 <= len(names) <= key.high:
        raise RefusedError(f"{required}, not {text_of_value(value)}")
    for name in names:
        if not isinstance(name, str) or len(name) > _LONGEST_LANGUAGE:
            raise RefusedError(f"{required}, not {text_of_value(name)}")
        try:
            week_start(name)
        except LocaleError as error:
            raise RefusedError(
                str(error).replace("a language is required", "must be a language", 1)
            ) from error
    return tuple(dict.fromkeys(names))


def captions_from(key: Key, value: Any, _scale: Scale) -> tuple[str, ...]:
    """Short texts, each once."""
    value = _list_from(value)
    required = (
        f"must be a list of at most {MOST_YEARS} texts of at most {key.high:g} letters each on one "
        f"line"
    )
    if not isinstance(value, list) or len(value) > MOST_YEARS:
        raise RefusedError(f"{required}, not {text_of_value(value)}")
    for one in value:
        if (
            not isinstance(one, str)
            or not one.strip()
            or len(one) > key.high
            or not one.isprintable()
        ):
            raise RefusedError(f"{required}, not {text_of_value(one)}")
    return tuple(dict.fromkeys(one.strip() for one in value))


def block_names_from(key: Key, value: Any, _scale: Scale) -> tuple[str, ...]:
    """Names of blocks such as `r5c4`, each once."""
    value = _list_from(value)
    required = 'must be a list of blocks such as ["r5c4", "c1"]'
    if not isinstance(value, list) or len(value) > key.high:
        raise RefusedError(f"{required}, not {text_of_value(value)}")
    for one in value:
        if not isinstance(one, str) or not _BLOCK_NAME.fullmatch(one):
            raise RefusedError(f"{required}, not {text_of_value(one)}")
    return tuple(dict.fromkeys(value))


def pattern_from(key: Key, value: Any, scale: Scale) -> str:
    """A pattern of file names, whose braces hold known parts, the name among them."""
    text = text_from(key, value, scale)
    known = ", ".join(f"{{{one}}}" for one in PATTERN_PARTS)
    required = f"must be a pattern with {{name}} in it and no other braces than {known}"
    try:
        parts = [
            (name, spec, conversion)
            for _, name, spec, conversion in Formatter().parse(text)
            if name is not None
        ]
    except ValueError as error:
        raise RefusedError(f"{required}, not {text_of_value(text)}") from error
    names = [name for name, _, _ in parts]
    if "name" not in names or any(
        name not in PATTERN_PARTS or spec or conversion for name, spec, conversion in parts
    ):
        raise RefusedError(f"{required}, not {text_of_value(text)}")
    return text


def shifts_from(_key: Key, value: Any, scale: Scale) -> tuple[tuple[str, Length, Length], ...]:
    """Numerals with how far each is moved to the right and down."""
    required = (
        'must give numerals two lengths, to the right and down, such as "17" = ["3 px", "-1 px"]'
    )
    if not isinstance(value, dict):
        raise RefusedError(f"{required}, not {text_of_value(value)}")
    found = []
    for text, both in value.items():
        if text not in NUMERALS:
            raise RefusedError(f"{required}; there is no numeral {text_of_value(text)}", inner=text)
        if not isinstance(both, list) or len(both) != 2:
            raise RefusedError(f"{required}, not {text_of_value(both)} for the {text}", inner=text)
        try:
            right, down = (_shift(one, scale) for one in both)
        except RefusedError as refused:
            raise RefusedError(f"{refused} for the {text}", inner=text) from refused
        found.append((text, right, down))
    return tuple(found)


def _shift(value: Any, scale: Scale) -> Length:
    length = length_from(value, "two lengths with units")
    check_px(length, scale, low=-FARTHEST_SHIFT, high=FARTHEST_SHIFT)
    return length


def swaps_from(key: Key, value: Any, scale: Scale) -> tuple[tuple[str, str], ...]:
    """Characters, each with what it is drawn by."""
    required = 'must name a glyph for each character, such as "9" = "nine.curved"'
    if not isinstance(value, dict):
        raise RefusedError(f"{required}, not {text_of_value(value)}")
    named, found = replace(key, high=LONGEST_GLYPH), []
    for character, said in value.items():
        one = unicodedata.normalize("NFC", character)
        if len(one) != 1:
            raise RefusedError(
                f"{required}; {text_of_value(character)} is not one character", inner=character
            )
        try:
            found.append((one, text_from(named, said, scale)))
        except RefusedError as refused:
            raise RefusedError(
                f"{refused} for {text_of_value(character)}", inner=character
            ) from refused
    return tuple(found)


def letters_from(key: Key, value: Any, scale: Scale) -> tuple[tuple[str, str], ...]:
    """A family or a font, or both, each with its name or place."""
    required = 'must name a family or a font, such as family = "errand"'
    if not isinstance(value, dict):
        raise RefusedError(f"{required}, not {text_of_value(value)}")
    found = []
    for name, said in value.items():
        if name not in LETTERS_FROM:
            raise RefusedError(f"{required}, not {text_of_value(name)}", inner=name)
        try:
            found.append((name, text_from(replace(key, high=LONGEST_PLACE), said, scale)))
        except RefusedError as refused:
            raise RefusedError(f"{refused} for {name}", inner=name) from refused
    return tuple((name, said) for name, said in found if said)


def axes_from(_key: Key, value: Any, _scale: Scale) -> tuple[tuple[str, float], ...]:
    """Axes by their tags of four letters, each with a number, in the order of their tags."""
    required = "must give axes by their four letters, such as wght = 650"
    if not isinstance(value, dict):
        raise RefusedError(f"{required}, not {text_of_value(value)}")
    for tag, place in value.items():
        if len(tag) != _TAG_LETTERS or not tag.isascii() or not is_number(place):
            raise RefusedError(
                f"{required}, not {text_of_value(tag)} = {text_of_value(place)}", inner=tag
            )
    return tuple((tag, float(place)) for tag, place in sorted(value.items()))
