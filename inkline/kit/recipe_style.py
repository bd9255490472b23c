"""What is wrong with the style that a recipe asks for, and with the values of it that the recipe changes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from inkline.errors import InputError
from inkline.ink.style import Style, style_from_dict
from inkline.ink.values import StyleError
from inkline.kit.styles import DEFAULT_STYLE, load_style, style_path

_LONGEST = 300
"""Letters of a sentence; one that quotes an endless value is cut."""


def style_faults(name: str, changes: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    """The key and the sentence of each fault of the style called `name`, or in the file so called, and of the values `changes` of it."""
    base: Style | None = None
    try:
        base = load_style(style_path(name, where="style.name"))
    except StyleError as error:
        yield from (("style.name", _cut(f"style.name: {fault}")) for fault in error.faults)
    except InputError as error:
        sentence = str(error).removeprefix("style.name: ")
        yield "style.name", _cut(f"style.name: {sentence}")
    if base is None:
        base = load_style(style_path(DEFAULT_STYLE, where="style.name"))
    try:
        style_from_dict(changes, where="style", base=base)
    except StyleError as error:
        yield from map(_keyed, error.faults)


def _keyed(fault: str) -> tuple[str, str]:
    """The key and the sentence of a style's own fault, such as `style: hand.drift: a length is required, not 3`."""
    key, _, rest = fault.removeprefix("style: ").partition(": ")
    return f"style.{key}", _cut(f"style.{key}: {rest}")


def _cut(sentence: str) -> str:
    sentence = " ".join(sentence.split())
    return sentence if len(sentence) <= _LONGEST else f"{sentence[: _LONGEST - 3]}..."
