"""The default recipe as commented TOML that teaches, made from the schema."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from typing import Any

from inkline.kit.schema import DEFAULT_FORMATS, EACH_FORMAT, KITS, LARGEST_NUMBER, RECIPE_VERSION, TABLES, keys_of
from inkline.kit.schema_key import FORMATS, Key

_HEADING = (
    "The recipe of a stamp kit. Change what you like and run: inkline kit THIS-FILE -o FOLDER",
    "Keep the version and the drawing number; every other value holds without its line too, so delete at will.",
)
_STYLE_EXAMPLE = "Below the name, tables such as [style.edge] change single values of it."
_AGAIN_EXAMPLES = (
    '"tall/dates-3/17" = 1',
    '"standard/grid-6/down-3" = 1    # the third rule from the left',
    '"standard/blocks-5/r5c4" = 1    # the block in the fifth row and fourth column',
)
_WITHOUT_KEYS = {
    EACH_FORMAT: ("[each_format]", "takes = 2"),
    "marks": ("[marks]", '"2027-03-08" = "ring"', '"12-24" = "dot"              # every year'),
    KITS: ("[kits.german]", 'words.language = "de"'),
}
_COLUMNS = 110
_PLACE_OF_COMMENT = 26


def recipe_text(number: int) -> str:
    """The default recipe with the drawing number `number`, as TOML.

    Raises:
        ValueError: a drawing number outside 0 to `LARGEST_NUMBER`.
    """
    if not 0 <= number <= LARGEST_NUMBER:
        raise ValueError(f"a drawing number must lie between 0 and {LARGEST_NUMBER}, not {number}")
    fixed = {"version": RECIPE_VERSION, "number": number}
    lines = [*(f"# {line}" for line in _HEADING), ""]
    for key in keys_of(""):
        lines += _commented(key, fixed.get(key.name, key.default))
    for table, sentence in TABLES.items():
        lines += ["", *_comment(sentence), *_table_lines(table)]
    return "\n".join(lines) + "\n"


def _table_lines(table: str) -> Iterator[str]:
    if table == FORMATS:
        yield from _format_lines()
        return
    if table in _WITHOUT_KEYS:
        yield from (f"# {line}" for line in _WITHOUT_KEYS[table])
        return
    yield f"[{table}]"
    for key in keys_of(table):
        yield from _commented(key, key.default)
    if table == "style":
        yield from _comment(_STYLE_EXAMPLE)
    if table == "again":
        yield from (f"# {line}" for line in _AGAIN_EXAMPLES)


def _format_lines() -> Iterator[str]:
    """All formats; only the first explains its keys."""
    first, *others = DEFAULT_FORMATS
    yield f"[{FORMATS}.{first}]"
    for key in keys_of(FORMATS):
        yield from _commented(key, key.default_for(first))
    for name in others:
        yield ""
        yield f"[{FORMATS}.{name}]"
        for key in keys_of(FORMATS):
            if not key.example:
                yield f"{key.name} = {_toml(key.default_for(name))}"


def _commented(key: Key, value: Any) -> Iterator[str]:
    """A key's line, with its sentence behind it if both fit, else above it; of a table that is best left out, an example."""
    if key.example:
        yield from _comment(key.sentence)
        yield from (f"# {line}" for line in key.example)
        return
    line = f"{key.name} = {_toml(value)}"
    behind = f"{line:<{_PLACE_OF_COMMENT}}  # {key.sentence}"
    if len(behind) <= _COLUMNS:
        yield behind
    else:
        yield from _comment(key.sentence)
        yield line


def _comment(sentence: str) -> list[str]:
    return [f"# {line}" for line in textwrap.wrap(sentence, _COLUMNS - 2)]


def _toml(value: Any) -> str:
    """A default value in TOML; defaults are texts without quotes, numbers and lists of these."""
    if isinstance(value, list):
        return f"[{', '.join(_toml(one) for one in value)}]"
    return f'"{value}"' if isinstance(value, str) else repr(value)
