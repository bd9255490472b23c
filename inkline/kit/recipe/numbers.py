"""Single values of a recipe, read by their key's row in the schema: numbers, texts, choices, shares and lengths."""

from __future__ import annotations

import math
from contextlib import suppress
from dataclasses import dataclass
from datetime import date, time
from typing import Any

from inkline.errors import UnitError
from inkline.kit.recipe.key import FIT, Key
from inkline.source.faults import nearest, printable
from inkline.units import Length, Unit, length_from_text

NUMERALS = tuple(str(day) for day in range(1, 32))
"""The days of a month as they are written in cells."""
MOST_LENGTH_OF_SHARE = 50.0
"""A length that stands for a share of a cell is at most so many percent of the canvas side; the share's own range says nothing of it."""
_LONGEST_SHOWN = 60


class RefusedError(ValueError):
    """A value that its key doesn't allow; the text says what is required and what came, without the key's name.

    Attributes:
        inner: the key within the value, where it is a table and one entry of it is refused, else "".
    """

    def __init__(self, sentence: str, *, inner: str = "") -> None:
        super().__init__(sentence)
        self.inner = inner


@dataclass(frozen=True, slots=True, kw_only=True)
class Scale:
    """What lengths are measured by: the canvas side in px, and pixels per inch."""

    side_px: float
    ppi: float

    def px(self, length: Length) -> float:
        """`length` in px; a percentage is taken of the canvas side."""
        return length.px(ppi=self.ppi, whole_px=self.side_px)


def whole_from(key: Key, value: Any, _scale: Scale) -> int:
    """A whole number in the key's range."""
    if not is_whole(value) or not key.low <= value <= key.high:
        raise RefusedError(f"must be a whole number {spanned(key.low, key.high)}, not {shown(value)}")
    return int(value)


def number_from(key: Key, value: Any, _scale: Scale) -> float:
    """A number in the key's range."""
    if not is_number(value) or not key.low <= value <= key.high:
        raise RefusedError(f"must be a number {spanned(key.low, key.high)}, not {shown(value)}")
    return float(value)


def percent_from(key: Key, value: Any, _scale: Scale) -> float:
    """A percentage, as a bare number or as a text with its sign."""
    number = value
    if isinstance(value, str):
        with suppress(UnitError):
            length = length_from_text(value)
            number = length.value if length.unit is Unit.PERCENT else value
    if not is_number(number) or not key.low <= number <= key.high:
        raise RefusedError(f"must be a number {spanned(key.low, key.high)}, not {shown(value)}")
    return float(number)


def line_from(key: Key, value: Any, _scale: Scale) -> str:
    """A text on one line, no longer than the key allows."""
    if not isinstance(value, str) or len(value) > key.high or not value.isprintable():
        raise RefusedError(f"must be a text of at most {key.high:g} letters on one line, not {shown(value)}")
    return value


def choice_from(key: Key, value: Any, _scale: Scale) -> str:
    """One of the key's words, as a member of its type."""
    if value not in key.choices:
        words = " or ".join(f'"{word}"' for word in key.choices)
        raise RefusedError(f"must be {words}, not {shown(value)}{nearest_word(value, key.choices)}")
    return str(value) if key.enum is None else key.enum(value)


def side_from(key: Key, value: Any, scale: Scale) -> Length:
    """The side of the canvas: a length that is no percentage, in the key's range in px."""
    length = length_from(value, 'a length such as "2500 px" or "20 cm"')
    if length.unit is Unit.PERCENT:
        raise RefusedError(f"must be a length with a unit, not the percentage {length}")
    px = length.px(ppi=scale.ppi)
    if not key.low <= px <= key.high:
        raise RefusedError(f"must lie between {key.low:g} px and {key.high:g} px, not {_with_px(length, px)}")
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
            share = f"a share {spanned(key.low, key.high)}"
            raise RefusedError(f'must be {share} or a length such as "75 pt", not {shown(value)}')
        return float(value)
    length = length_from(value, 'a share of the cell\'s width such as 0.3 or a length such as "75 pt"')
    check_px(length, scale, low=0.1 if key.low > 0 else 0.0, high=MOST_LENGTH_OF_SHARE)
    return length


def share_or_fit_from(key: Key, value: Any, _scale: Scale) -> float | str:
    """A share in the key's range, or the word for as much as there is room for."""
    if value == FIT:
        return FIT
    if not is_number(value) or not key.low <= value <= key.high:
        raise RefusedError(f'must be "{FIT}" or a share {spanned(key.low, key.high)}, not {shown(value)}')
    return float(value)


def length_from(value: Any, required: str) -> Length:
    """The length that `value` says; what is `required` is said if it says none."""
    try:
        return length_from_text(value)
    except UnitError as error:
        raise RefusedError(f"must be {required}, not {shown(value)}") from error


def check_px(length: Length, scale: Scale, *, low: float, high: float) -> None:
    """Refuse a length outside `low` to `high` percent of the canvas side."""
    px, low_px, high_px = scale.px(length), low * scale.side_px / 100.0, high * scale.side_px / 100.0
    if not low_px <= px <= high_px:
        raise RefusedError(
            f"must lie between {low_px:g} px and {high_px:g} px on this canvas, not {_with_px(length, px)}"
        )


def is_whole(value: Any) -> bool:
    """Whether `value` is a whole number, which TOML's true and false are not."""
    return isinstance(value, int) and not isinstance(value, bool)


def is_number(value: Any) -> bool:
    """Whether `value` is a finite number."""
    return isinstance(value, (int, float)) and not isinstance(value, bool) and math.isfinite(value)


def spanned(low: float, high: float) -> str:
    """A range in words, such as `from 0.5 to 3`."""
    ends = [str(int(one)) if one == int(one) else str(one) for one in (low, high)]
    return f"of {ends[0]}" if low == high else f"from {ends[0]} to {ends[1]}"


def nearest_word(value: Any, words: tuple[str, ...]) -> str:
    """The most similar of `words` as a question to append, or "" if none is or `value` is no text."""
    return nearest(value.lower(), words) if isinstance(value, str) else ""


def shown(value: Any) -> str:
    """A value as its owner wrote it, more or less, and never long."""
    text = printable(_written(value))
    return text if len(text) <= _LONGEST_SHOWN else f"{text[: _LONGEST_SHOWN - 3]}..."


def _written(value: Any) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return f'"{value}"'
    if isinstance(value, list):
        return f"[{', '.join(_written(one) for one in value[:_LONGEST_SHOWN])}]"
    if isinstance(value, dict):
        pieces = list(value.items())[:_LONGEST_SHOWN]
        return f"{{{', '.join(f'{key} = {_written(one)}' for key, one in pieces)}}}"
    return value.isoformat() if isinstance(value, date | time) else repr(value)


def _with_px(length: Length, px: float) -> str:
    return str(length) if length.unit is Unit.PX else f"{length} ({px:.4g} px)"
