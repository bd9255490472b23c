"""The default recipe as commented TOML that teaches, made from the schema."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator
from typing import Any

from inkline.kit.recipe.examples import EVERYDAY, TABLE_EXAMPLES
from inkline.kit.recipe.key import FORMATS, Key
from inkline.kit.recipe.keys import DEFAULT_FORMATS, LARGEST_NUMBER, RECIPE_VERSION, TABLES, keys_of

_HEADING = (
    "The recipe of a stamp kit. Change what you like and run: inkline kit THIS-FILE -o FOLDER",
    "Keep the version and the drawing number; every other value holds without its line too, so delete at will.",
    "What a key does and what it may be: inkline recipe --explain KEY (or: all). To look a recipe over, nothing drawn: inkline recipe check THIS-FILE",
)
_MORE = "More keys here: "
_DIFFERS = "Only what differs; every key above may stand here as well."
_COLUMNS = 110
_PLACE_OF_COMMENT = 26


def recipe_text(number: int) -> str:
    """The default recipe with the drawing number `number`, as TOML: what most people change, and the names of all else.

    Raises:
        ValueError: a drawing number outside 0 to `LARGEST_NUMBER`.
    """
    if not 0 <= number <= LARGEST_NUMBER:
        raise ValueError(f"a drawing number must lie between 0 and {LARGEST_NUMBER}, not {number}")
    fixed = {"version": RECIPE_VERSION, "number": number}
    lines = [line for sentence in _HEADING for line in _comment(sentence)]
    lines.append("")
    for key in _everyday(""):
        lines += _commented(key, fixed.get(key.name, key.default))
    lines += _more("")
    for table, sentence in TABLES.items():
        lines += ["", *_comment(sentence), *_table_lines(table)]
    return "\n".join(lines) + "\n"


def toml_text(value: Any) -> str:
    """A default value in TOML; defaults are texts without quotes, numbers and lists of these."""
    if isinstance(value, list):
        return f"[{', '.join(toml_text(one) for one in value)}]"
    return f'"{value}"' if isinstance(value, str) else repr(value)


def _table_lines(table: str) -> Iterator[str]:
    """A table with its everyday keys; one that has none stands there as an example, without effect."""
    if table == FORMATS:
        yield from _format_lines()
    elif table in EVERYDAY:
        yield f"[{table}]"
        for key in _everyday(table):
            yield from _commented(key, key.default)
        yield from _more(table)
    yield from (f"# {line}" for line in TABLE_EXAMPLES.get(table, ()))


def _format_lines() -> Iterator[str]:
    """All formats; only the first has and explains all everyday keys."""
    first, *others = DEFAULT_FORMATS
    yield f"[{FORMATS}.{first}]"
    for key in _everyday(FORMATS):
        yield from _commented(key, key.default_for(first))
    yield from _more(FORMATS)
    for name in others:
        yield from ("", f"[{FORMATS}.{name}]", f"# {_DIFFERS}")
        for key in keys_of(FORMATS):
            if key.default_for(name) != key.default_for(first):
                yield f"{key.name} = {toml_text(key.default_for(name))}"


def _everyday(table: str) -> Iterable[Key]:
    keys = {key.name: key for key in keys_of(table)}
    return [keys[name] for name in EVERYDAY.get(table, ())]


def _more(table: str) -> list[str]:
    """The names of a table's other keys."""
    names = [key.name for key in keys_of(table) if key.name not in EVERYDAY.get(table, ())]
    text = f"# {_MORE}{', '.join(names)}"
    return textwrap.wrap(text, _COLUMNS, subsequent_indent=f"# {'':{len(_MORE)}}") if names else []


def _commented(key: Key, value: Any) -> Iterator[str]:
    """A key's line, with its sentence behind it if both fit, else above it."""
    line = f"{key.name} = {toml_text(value)}"
    behind = f"{line:<{_PLACE_OF_COMMENT}}  # {key.sentence}"
    if len(behind) <= _COLUMNS:
        yield behind
    else:
        yield from _comment(key.sentence)
        yield line


def _comment(sentence: str) -> list[str]:
    return [f"# {line}" for line in textwrap.wrap(sentence, _COLUMNS - 2)]
