"""A recipe's keys in words: what each does and allows, its default, and how it is written."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from inkline.errors import InputError
from inkline.kit.recipe.key import FORMATS, Key
from inkline.kit.recipe.keys import EACH_FORMAT, KEYS, KITS, TABLES
from inkline.kit.recipe.text import EXAMPLES, TABLE_EXAMPLES, other_defaults, toml_text
from inkline.kit.recipe.weights import SUGGESTED
from inkline.source.faults import did_you_mean
from inkline.styles.files import DEFAULT_STYLE, load_style, style_fields, style_path
from inkline.styles.text import PARTS, allowed_in_words, value_text

ALL = "all"
"""What asks for everything."""
_TOP = "the top of a recipe"
_WIDTH = 100
_INDENT = 4
_LABEL = 10
_STYLE = "style"
_OF_ANY_FORMAT = "NAME"


@dataclass(frozen=True, slots=True, kw_only=True)
class ExplainedKey:
    """A key of a recipe in words.

    Attributes:
        path: table and name, such as `formats.numeral`.
        about: what it does.
        allowed: what it may be.
        default: what holds without it.
        example: how it is written, line by line.
    """

    path: str
    about: str
    allowed: str
    default: str
    example: tuple[str, ...]

    @property
    def table(self) -> str:
        """The table that it stands in, "" for the top."""
        return self.path.rpartition(".")[0]

    @property
    def name(self) -> str:
        """Its name in that table."""
        return self.path.rpartition(".")[2]


@cache
def entries() -> Mapping[str, ExplainedKey]:
    """All keys of a recipe by their paths, those of a style last."""
    found = [_entry(key) for key in KEYS]
    found += _style_entries()
    return MappingProxyType({entry.path: entry for entry in found})


def explanation_lines(asked: str) -> list[str]:
    """Lines that explain a key, a table or all of a recipe.

    Args:
        asked: a key such as `canvas.margin` or only `margin`, a table, or "all".

    Raises:
        InputError: a recipe has nothing of that name; the nearest name is told.
    """
    known, wanted = entries(), schema_path(asked)
    if wanted == ALL:
        return _lines_of_pieces([_table_lines(table, known) for table in _tables(known)])
    if wanted in known:
        return list(_entry_lines(known[wanted]))
    if wanted in _tables(known):
        return list(_table_lines(wanted, known))
    same = [
        entry
        for entry in known.values()
        if entry.name == wanted or entry.path == f"{_STYLE}.{wanted}"
    ]
    if same:
        return _lines_of_pieces([_entry_lines(entry) for entry in same])
    if f"{_STYLE}.{wanted}" in _tables(known):
        return list(_table_lines(f"{_STYLE}.{wanted}", known))
    names = dict.fromkeys([*known, *_tables(known), *(entry.name for entry in known.values())])
    raise InputError(
        f'a recipe has no key and no table called "{asked:.60}"{did_you_mean(wanted, names)}'
    )


_OF_ENTRIES = frozenset({"swap", "axes", "numerals", "words"})
"""Keys of the lettering that hold tables."""


def schema_path(asked: str) -> str:
    """A key's path as the table of keys has it.

    Names of kits and formats are left out, and so is what a table of one's own holds.
    """
    parts = asked.strip().strip("[]").lower().split(".")
    if parts[0] == KITS and len(parts) > 2:
        parts = parts[2:]
    if parts[0] == EACH_FORMAT and len(parts) > 1:
        parts = [FORMATS, *parts[1:]]
    if parts[0] == FORMATS and len(parts) > 2:
        parts = [FORMATS, parts[2]]
    if parts[:2] == ["finish", "parts"]:
        parts = parts[:2]
    if (parts[0] == "lettering" and parts[1:2] and parts[1] in _OF_ENTRIES) or parts[0] in {
        "again",
        "marks",
    }:
        parts = parts[: 2 if parts[0] == "lettering" else 1]
    return ".".join(parts)


def _tables(known: Mapping[str, ExplainedKey]) -> list[str]:
    """All tables, the top first and the style's own last."""
    return [
        "",
        *TABLES,
        *dict.fromkeys(
            entry.table for entry in known.values() if entry.table.startswith(f"{_STYLE}.")
        ),
    ]


def _entry(key: Key) -> ExplainedKey:
    if key.default is None:
        default = "none: it must be said"
    elif key.example:
        default = "nothing"
    else:
        default = ", ".join([toml_text(key.default), *other_defaults(key)])
        if key.name in SUGGESTED:
            default += "; or as the style suggests"
    return ExplainedKey(
        path=key.path,
        about=key.sentence,
        allowed=key.kind.allowed(key),
        default=default,
        example=tuple(_example(key)),
    )


def _example(key: Key) -> Iterator[str]:
    if key.example:
        yield from key.example
        return
    if key.table:
        yield f"[{key.table}.{_OF_ANY_FORMAT}]" if key.table == FORMATS else f"[{key.table}]"
    value = EXAMPLES.get(key.path, key.default)
    yield f"{key.name} = {toml_text(value)}"


def _style_entries() -> Iterator[ExplainedKey]:
    usual = load_style(style_path(DEFAULT_STYLE, where=_STYLE))
    for key, field in style_fields().items():
        text = value_text(usual, key)
        written = text if field.metadata["kind"].name == "SHARE" else f'"{text}"'
        part, _, name = key.rpartition(".")
        yield ExplainedKey(
            path=f"{_STYLE}.{key}",
            about=field.metadata["about"],
            allowed=allowed_in_words(field),
            default=f"as in the style, {written} in {DEFAULT_STYLE}",
            example=(f"[{_STYLE}.{part}]" if part else f"[{_STYLE}]", f"{name} = {written}"),
        )


def _entry_lines(entry: ExplainedKey) -> Iterator[str]:
    yield entry.path
    yield from _wrap(entry.about, " " * _INDENT)
    yield from _label_lines("Allowed:", entry.allowed)
    yield from _label_lines("Default:", entry.default)
    for label, line in zip(("Write:", *[""] * len(entry.example)), entry.example, strict=False):
        yield f"{'':{_INDENT}}{label:{_LABEL}}{line}"


def _table_lines(table: str, known: Mapping[str, ExplainedKey]) -> Iterator[str]:
    yield f"[{table}]" if table else f"At {_TOP}"
    yield from _wrap(
        TABLES.get(table) or PARTS.get(table.removeprefix(f"{_STYLE}."), ""), " " * _INDENT
    )
    yield from (f"{'':{_INDENT}}{line}" for line in TABLE_EXAMPLES.get(table, ()))
    if table == _STYLE:
        parts = ", ".join(f"{_STYLE}.{part} ({about})" for part, about in PARTS.items())
        yield from _wrap(f"Its values stand in tables of their own: {parts}.", " " * _INDENT)
    for entry in known.values():
        if entry.table == (FORMATS if table == EACH_FORMAT else table):
            yield ""
            yield from _entry_lines(entry)


def _label_lines(label: str, text: str) -> Iterator[str]:
    head = f"{'':{_INDENT}}{label:{_LABEL}}"
    yield from textwrap.wrap(text, _WIDTH, initial_indent=head, subsequent_indent=" " * len(head))


def _wrap(text: str, indent: str) -> list[str]:
    return textwrap.wrap(text, _WIDTH, initial_indent=indent, subsequent_indent=indent)


def _lines_of_pieces(pieces: list[Iterator[str]]) -> list[str]:
    """The lines of all pieces, with an empty line between two pieces."""
    return [
        line for index, piece in enumerate(pieces) for line in (*([""] if index else []), *piece)
    ]
