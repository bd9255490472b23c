"""Single values of a recipe, read as their keys allow: numbers, texts, choices and lengths."""

from __future__ import annotations

import re
from collections.abc import Mapping
from contextlib import suppress
from types import MappingProxyType
from typing import Any

from inkline.errors import UnitError
from inkline.kit.recipe.key import FIT, Key, Scale
from inkline.source.faults import text_rounded_down, text_rounded_up
from inkline.source.values import (
    RefusedError,
    did_you_mean_choice,
    is_number,
    is_whole,
    range_text,
    text_of_value,
)
from inkline.units import Length, Unit, length_from_text

NUMERALS = tuple(str(day) for day in range(1, 32))
"""The days of a month as they are written in cells."""
COLOUR_PATTERN = "^#[0-9a-fA-F]{6}$"
_WHOLE_FROM = 100.0
MOST_LENGTH_OF_SHARE = 50.0
"""A length that stands for a share of a cell is at most so many percent of the canvas side; the
share's own range says nothing of it."""


def whole_from(key: Key, value: Any, _scale: Scale) -> int:
    """A whole number in the key's range."""
    if not is_whole(value) or not key.low <= value <= key.high:
        raise RefusedError(
            f"must be a whole number {range_text(key.low, key.high)}, not {text_of_value(value)}",
            fits=_nearest(key, value),
        )
    return int(value)


def number_from(key: Key, value: Any, _scale: Scale) -> float:
    """A number in the key's range."""
    if not is_number(value) or not key.low <= value <= key.high:
        raise RefusedError(
            f"must be a number {range_text(key.low, key.high)}, not {text_of_value(value)}",
            fits=_nearest(key, value),
        )
    return float(value)


def _nearest(key: Key, value: Any) -> str:
    """The end of the key's range that is nearest to a number, as TOML writes it; else ""."""
    return f"{key.low if value < key.low else key.high:g}" if is_number(value) else ""


def percent_from(key: Key, value: Any, _scale: Scale) -> float:
    """A percentage, as a bare number or as a text with its sign."""
    number = value
    if isinstance(value, str):
        with suppress(UnitError):
            length = length_from_text(value)
            number = length.value if length.unit is Unit.PERCENT else value
    if not is_number(number) or not key.low <= number <= key.high:
        raise RefusedError(
            f"must be a number {range_text(key.low, key.high)}, not {text_of_value(value)}"
        )
    return float(number)


def text_from(key: Key, value: Any, _scale: Scale) -> str:
    """A text on one line, no longer than the key allows."""
    if not isinstance(value, str) or len(value) > key.high or not value.isprintable():
        raise RefusedError(
            f"must be a text of at most {key.high:g} letters on one line, not "
            f"{text_of_value(value)}"
        )
    return value


def colour_from(_key: Key, value: Any, _scale: Scale) -> str:
    """A colour of sRGB, as `#rrggbb`."""
    if not isinstance(value, str) or not re.fullmatch(COLOUR_PATTERN, value, re.ASCII):
        raise RefusedError(
            f'must be a colour, written as "#" and six of the digits 0 to 9 and a to f such as '
            f'"#27343d", not {text_of_value(value)}'
        )
    return value.lower()


OTHER_SPELLINGS: Mapping[str, str] = MappingProxyType({"center": "centre"})
"""Choices as others write them who mean the same."""


def choice_from(key: Key, value: Any, _scale: Scale) -> str:
    """One of the key's choices, as a member of its type."""
    if isinstance(value, str):
        value = OTHER_SPELLINGS.get(value, value)
    if value not in key.choices:
        choices = " or ".join(f'"{one}"' for one in key.choices)
        hint = did_you_mean_choice(value, key.choices)
        raise RefusedError(
            f"must be {choices}, not {text_of_value(value)}{hint}",
            fits=next((f'"{one}"' for one in key.choices if hint and f'"{one}"' in hint), ""),
        )
    return str(value) if key.enum is None else key.enum(value)


def side_from(key: Key, value: Any, scale: Scale) -> Length:
    """The side of the canvas: a length that is no percentage, in the key's range in px."""
    length = length_from(value, 'a length such as "2500 px" or "20 cm"')
    if length.unit is Unit.PERCENT:
        raise RefusedError(f"must be a length with a unit, not the percentage {length}")
    px = length.px(ppi=scale.ppi)
    if not key.low <= px <= key.high:
        raise RefusedError(
            f"must lie between {key.low:g} px and {key.high:g} px, not {_with_px(length, px)}"
        )
    return length


def measure_from(key: Key, value: Any, scale: Scale) -> Length:
    """A length in the key's range of percents of the canvas side."""
    length = length_from(value, 'a length such as "5 pt", "0.4 mm" or "1.5 %"')
    check_px(length, scale, low=key.low, high=key.high)
    return length


def share_or_length_from(key: Key, value: Any, scale: Scale) -> float | Length:
    """A share in the key's range, or a length that the canvas has room for."""
    if is_number(value):
        if not key.low <= value <= key.high:
            share = f"a share {range_text(key.low, key.high)}"
            raise RefusedError(
                f'must be {share} or a length such as "75 pt", not {text_of_value(value)}'
            )
        return float(value)
    length = length_from(
        value, 'a share of the cell\'s width such as 0.3 or a length such as "75 pt"'
    )
    check_px(length, scale, low=0.1 if key.low > 0 else 0.0, high=MOST_LENGTH_OF_SHARE)
    return length


def share_or_fit_from(key: Key, value: Any, _scale: Scale) -> float | str:
    """A share in the key's range, or the choice of as much as there is room for."""
    if value == FIT:
        return FIT
    if not is_number(value) or not key.low <= value <= key.high:
        raise RefusedError(
            f'must be "{FIT}" or a share {range_text(key.low, key.high)}, not '
            f"{text_of_value(value)}"
        )
    return float(value)


def length_from(value: Any, required: str) -> Length:
    """The length that `value` says; what is `required` is said if it says none."""
    try:
        return length_from_text(value)
    except UnitError as error:
        hint = (
            f"; numbers are written with a point: {pointed}" if (pointed := _pointed(value)) else ""
        )
        raise RefusedError(f"must be {required}, not {text_of_value(value)}{hint}") from error


def _end_within(low: float, high: float, *, is_low: bool) -> str:
    """The lower or the upper end of a range, rounded into it."""
    if is_low:
        return text_rounded_up(low) if low > 0.0 else f"{low:g}"
    return text_rounded_down(high) if high > 0.0 else f"{high:g}"


def _pointed(value: Any) -> str:
    """A length with a comma in place of its point as it is meant, in quotes; else ""."""
    if not isinstance(value, str) or value.count(",") != 1:
        return ""
    with suppress(UnitError):
        return f'"{length_from_text(value.replace(",", "."))}"'
    return ""


def check_px(length: Length, scale: Scale, *, low: float, high: float) -> None:
    """Refuse a length outside `low` to `high` percent of the canvas side."""
    px, low_px, high_px = (
        scale.px(length),
        low * scale.side_px / 100.0,
        high * scale.side_px / 100.0,
    )
    if not low_px <= px <= high_px:
        raise RefusedError(
            f"must lie between {px_text(low_px)} and {px_text(high_px)} on this canvas, not "
            f"{_with_px(length, px)}",
            fits=f'"{_end_within(low_px, high_px, is_low=px < low_px)} px"',
        )


def px_text(px: float) -> str:
    """A number of px for people: three digits, and no fraction from 100 px on."""
    return f"{round(px)} px" if abs(px) >= _WHOLE_FROM else f"{px:.3g} px"


def _with_px(length: Length, px: float) -> str:
    return str(length) if length.unit is Unit.PX else f"{length} ({px_text(px)})"
