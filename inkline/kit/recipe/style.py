"""The style that a recipe asks for, with the values of it that the recipe changes."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator, Mapping
from typing import Any

from inkline.errors import InputError, UnitError
from inkline.ink.style import EXACT, Style, fields_of_style, style_from_dict
from inkline.ink.values import StyleError, checked_value
from inkline.source.faults import did_you_mean
from inkline.source.values import did_you_mean_choice, text_of_value
from inkline.styles.files import DEFAULT_STYLE, load_style, style_path
from inkline.styles.text import allowed_in_words

_LONGEST = 300
"""Letters of a sentence about a style's own file; one that quotes an endless value is cut."""
_TABLE, _NAME = "style", "name"


def usual_style() -> Style:
    """The style of a recipe that names none."""
    return load_style(style_path(DEFAULT_STYLE, where=_TABLE))


def style_and_faults(name: str, changes: Mapping[str, Any]) -> tuple[Style, list[tuple[str, str]]]:
    """The style `name` with `changes` made to it, and what is wrong: the key and a sentence each.

    Args:
        name: of the style, or the place of its file.
        changes: values of the style, as read from TOML.

    Where anything is wrong, the style is the usual one.
    """
    base, faults = _style_or_faults(name)
    faults += _change_faults(changes)
    if faults:
        return usual_style(), faults
    try:
        return style_from_dict(changes, where=_TABLE, base=base) if changes else base, []
    except StyleError as error:
        return usual_style(), [_fault_of_several(one) for one in error.faults]


def _style_or_faults(name: str) -> tuple[Style, list[tuple[str, str]]]:
    """The style, or the usual one and what is wrong with it."""
    key = f"{_TABLE}.{_NAME}"
    try:
        return load_style(style_path(name, where=key)), []
    except StyleError as error:
        sentences = list(error.faults)
    except InputError as error:
        sentences = [str(error).removeprefix(f"{key}: ")]
    return usual_style(), [(key, _shorten(f"{key}: {sentence}")) for sentence in sentences]


def _change_faults(changes: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    """Changes that no style could take, each by itself."""
    fields = {name: field for name, field in fields_of_style().items() if name != _NAME}
    for key, given in changes.items():
        path = f"style.{key}"
        part = getattr(EXACT, key, None) if key in fields else None
        if key not in fields:
            yield (
                path,
                f'there is no key "{key:.60}" in [style]{did_you_mean(key, [_NAME, *fields])}',
            )
        elif not dataclasses.is_dataclass(part):
            yield from _value_faults(path, given, fields[key])
        elif not isinstance(given, Mapping):
            yield path, f"{path} must be a table, begun by a line [{path}]"
        else:
            yield from _part_faults(
                path, given, {field.name: field for field in dataclasses.fields(part)}
            )


def _part_faults(
    path: str, values: Mapping[str, Any], fields: Mapping[str, dataclasses.Field[Any]]
) -> Iterator[tuple[str, str]]:
    for name, given in values.items():
        if name in fields:
            yield from _value_faults(f"{path}.{name}", given, fields[name])
        else:
            yield (
                f"{path}.{name}",
                f'there is no key "{name:.60}" in [{path}]{did_you_mean(name, fields)}',
            )


def _value_faults(
    path: str, given: Any, field: dataclasses.Field[Any]
) -> Iterator[tuple[str, str]]:
    if "kind" not in field.metadata:
        if not isinstance(given, str):
            yield path, f"{path} must be a text, not {text_of_value(given)}"
        return
    try:
        checked_value(given, field)
    except UnitError:
        hint = did_you_mean_choice(given, field.metadata.get("options", ()))
        yield path, f"{path} must be {allowed_in_words(field)}, not {text_of_value(given)}{hint}"


def _fault_of_several(sentence: str) -> tuple[str, str]:
    """The key and the sentence of what values allow by themselves but not together."""
    key, _, rest = sentence.removeprefix(f"{_TABLE}: ").partition(": ")
    return f"{_TABLE}.{key}", f"{_TABLE}.{key}: {rest}"


def _shorten(sentence: str) -> str:
    sentence = " ".join(sentence.split())
    return sentence if len(sentence) <= _LONGEST else f"{sentence[: _LONGEST - 3]}..."
