"""Values that a person wrote: what they are, and how a message shows or refuses them."""

from __future__ import annotations

import math
from collections.abc import Iterable
from datetime import date, time
from typing import Any

from inkline.source.faults import did_you_mean, text_on_one_line

_LONGEST_SHOWN = 60
_DAYS = frozenset({"monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"})


class RefusedError(ValueError):
    """A value that its key doesn't allow.

    The text says what is required and what came, without the key's name.

    Attributes:
        inner: the key within the value, where it is a table and one entry of it is refused, else
            "".
        fits: the nearest value that the key allows, as TOML writes it, or "".
    """

    def __init__(self, sentence: str, *, inner: str = "", fits: str = "") -> None:
        super().__init__(sentence)
        self.inner, self.fits = inner, fits


def is_whole(value: Any) -> bool:
    """Whether `value` is a whole number, which TOML's true and false are not."""
    return isinstance(value, int) and not isinstance(value, bool)


def is_number(value: Any) -> bool:
    """Whether `value` is a finite number."""
    return isinstance(value, (int, float)) and not isinstance(value, bool) and math.isfinite(value)


def range_text(low: float, high: float) -> str:
    """A range in words, such as `from 0.5 to 3`."""
    ends = [str(int(one)) if one == int(one) else str(one) for one in (low, high)]
    return f"of {ends[0]}" if low == high else f"from {ends[0]} to {ends[1]}"


def did_you_mean_choice(value: Any, choices: tuple[str, ...]) -> str:
    """The most similar of `choices` as a question, or "" if none is or `value` is no text.

    A day of the week that is no choice is meant as it stands: none is asked for in its place.
    """
    if not isinstance(value, str):
        return ""
    meant = did_you_mean(value.lower(), (*choices, *sorted(_DAYS)))
    return meant if meant == did_you_mean(value.lower(), choices) else ""


def choice_in_words(choices: Iterable[str]) -> str:
    """Choices in a sentence, such as `"a", "b" or "c"`."""
    quoted = [f'"{one}"' for one in choices]
    return " or ".join([", ".join(quoted[:-1]), quoted[-1]]) if len(quoted) > 1 else quoted[0]


def text_of_value(value: Any) -> str:
    """A value as its owner wrote it, more or less, and never long."""
    text = text_on_one_line(_text_as_written(value))
    return text if len(text) <= _LONGEST_SHOWN else f"{text[: _LONGEST_SHOWN - 3]}..."


def _text_as_written(value: Any) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return f'"{value}"'
    if isinstance(value, list):
        return f"[{', '.join(_text_as_written(one) for one in value[:_LONGEST_SHOWN])}]"
    if isinstance(value, dict):
        pieces = list(value.items())[:_LONGEST_SHOWN]
        return f"{{{', '.join(f'{key} = {_text_as_written(one)}' for key, one in pieces)}}}"
    return value.isoformat() if isinstance(value, date | time) else repr(value)
