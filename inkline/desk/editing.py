"""Changes to a recipe's text that leave all else in it as it was written, comments included."""

from __future__ import annotations

from collections.abc import Iterable, MutableMapping
from dataclasses import dataclass
from typing import Any, cast

import tomlkit
from tomlkit.exceptions import TOMLKitError

from inkline.errors import InputError

Way = tuple[str, ...]
"""The way to a value: names of its tables and its own, as in `("style", "edge", "spread")`."""
Plain = str | int | float | bool | list[Any] | dict[str, Any]


@dataclass(frozen=True, slots=True, kw_only=True)
class Edit:
    """One value that is set, or taken out.

    Attributes:
        way: where it stands.
        value: what it becomes; None takes it out, and tables that are empty then.
    """

    way: Way
    value: Plain | None


def edited_text(text: str, edits: Iterable[Edit]) -> str:
    """The TOML `text` with `edits` made one after another.

    Raises:
        InputError: the text is not TOML, or a table is asked for where a value stands.
    """
    try:
        document = tomlkit.parse(text)
        for edit in edits:
            if edit.value is None:
                _take_out(document, edit.way)
            else:
                _set(document, edit.way, edit.value)
        return tomlkit.dumps(document)
    except TOMLKitError as error:
        raise InputError(f"the recipe can't be read as TOML: {error}") from error


def value_at(text: str, way: Way) -> Plain | None:
    """What stands at `way` in the TOML `text`, or None."""
    here: Any = tomlkit.parse(text).unwrap()
    for name in way:
        if not isinstance(here, dict) or name not in here:
            return None
        here = here[name]
    return cast("Plain", here)


def _set(table: MutableMapping[str, Any], way: Way, value: Plain) -> None:
    *above, name = way
    for one in above:
        if one not in table:
            table[one] = tomlkit.table()
        below = table[one]
        if not isinstance(below, MutableMapping):
            raise InputError(f"{'.'.join(way)}: {one} is a value and holds no others")
        table = below
    if name in table and not isinstance(value, dict | list):
        _replace_value(table, name, value)
    else:
        table[name] = value


def _replace_value(table: MutableMapping[str, Any], name: str, value: Plain) -> None:
    """Put `value` in the place of another, whose comment stays beside it."""
    trivia = getattr(table[name], "trivia", None)
    item = tomlkit.item(value)
    if trivia is not None:
        item.trivia.comment_ws, item.trivia.comment = trivia.comment_ws, trivia.comment
    table[name] = item


def _take_out(table: MutableMapping[str, Any], way: Way) -> None:
    name, *rest = way
    if name not in table:
        return
    if not rest:
        del table[name]
        return
    below = table[name]
    if not isinstance(below, MutableMapping):
        return
    had = len(below)
    _take_out(below, tuple(rest))
    if had and not below:
        del table[name]
