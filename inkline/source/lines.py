"""On which line of a TOML text each key stands; Python's own reader doesn't say."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any


def key_lines(text: str) -> dict[str, int]:
    """Line numbers, from 1, of all keys and tables in `text`, by paths such as `canvas.side`.

    `text` must be valid TOML. A statement is the fewest lines that can be read on their own, so
    values may run over several lines. Of an array of tables only the array's own path is given. A
    table that is only named in another's heading stands where it is first named.

    Cost: one reading of each line, more only for values of many lines.
    """
    found: dict[str, int] = {}
    implied: dict[str, int] = {}
    for statement in _statements(text.split("\n")):
        for path in statement.paths:
            own = found if path == statement.heading or not statement.heading else implied
            own.setdefault(".".join((*statement.table, *path)), statement.line)
    return {**implied, **found}


def repeated_key(text: str, *, last_line: int) -> tuple[str, int, int] | None:
    """A key or table that `text` holds twice up to `last_line`: its path and both lines, or `None`.

    TOML forbids it, and Python's own reader says neither which it is nor, always, where. The search
    ends at what cannot be read, and at tables of which there may be several.
    """
    lines: dict[tuple[str, ...], int] = {}
    for statement in _statements(text.split("\n")[:last_line]):
        if statement.is_array or not statement.is_readable:
            return None
        for path in [statement.heading] if statement.heading else statement.ends:
            whole = (*statement.table, *path)
            if whole in lines:
                return ".".join(whole), lines[whole], statement.line
            lines[whole] = statement.line
    return None


def line_of(key: str, lines: Mapping[str, int]) -> int:
    """The line of `key` among `lines`, else of the nearest table around it, else 0."""
    while key and key not in lines:
        key = key.rpartition(".")[0]
    return lines.get(key, 0)


_CLOSING = re.compile(r"[\]}]|\"\"\"|'''")
"""What the last line of a statement of several lines has in it."""
_BEGINNING = re.compile(r"""\s*(?:#.*|\[[^\[\],]*\]\s*|[\w"'][^={}\[\]]*=.*)?""")
"""What the first line of a statement looks like, or one between statements."""
_MOST_TRIES = 100
"""So often an end is tried where brackets, perhaps those within texts, don't balance; beyond that,
thousands of lines would take long."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Statement:
    """A statement of a TOML text.

    Attributes:
        line: where it begins, from 1.
        table: the table that its paths are seen from.
        paths: all keys and tables that it names, outer ones first.
        ends: those of them that are given a value, tables left out.
        heading: the table that it begins, or ().
        is_array: whether that is one table of several of the same name.
        is_readable: whether it is valid by itself.
    """

    line: int
    table: tuple[str, ...]
    paths: tuple[tuple[str, ...], ...]
    ends: tuple[tuple[str, ...], ...]
    heading: tuple[str, ...]
    is_array: bool
    is_readable: bool


def _statements(lines: list[str]) -> Iterator[_Statement]:
    """The statements of a text in order."""
    table: tuple[str, ...] = ()
    start = 0
    while start < len(lines):
        values, after = _read_statement(lines, start)
        paths, first = tuple(_paths(values)), lines[start].lstrip()
        heading = (
            max((path for path, _ in paths), key=len, default=()) if first.startswith("[") else ()
        )
        yield _Statement(
            line=start + 1,
            table=() if heading else table,
            paths=tuple(path for path, _ in paths),
            ends=tuple(path for path, value in paths if not isinstance(value, dict)),
            heading=heading,
            is_array=first.startswith("[["),
            is_readable=bool(paths) or not first or first.startswith("#"),
        )
        table = heading or table
        start = after


def _read_statement(lines: list[str], start: int) -> tuple[dict[str, Any], int]:
    """What the statement that begins at index `start` says, and the index of the line after it.

    Of one that never ends, it says nothing, and the index is the end.
    """
    n_open, n_tries = 0, 0
    for after in range(start + 1, len(lines) + 1):
        line = lines[after - 1]
        n_open += sum(map(line.count, "[{")) - sum(map(line.count, "]}"))
        is_last = after == start + 1 or (
            _CLOSING.search(line)
            and (n_open == 0 or n_tries < _MOST_TRIES or _statement_begins(lines, after))
        )
        if is_last:
            n_tries += 1
            try:
                return tomllib.loads("\n".join(lines[start:after])), after
            except (ValueError, RecursionError):  # not TOML, or not yet all of it
                continue
    return {}, len(lines)


def _statement_begins(lines: list[str], index: int) -> bool:
    """Whether the text ends before the line at `index`, or a statement seems to begin there."""
    return index == len(lines) or _BEGINNING.fullmatch(lines[index]) is not None


def _paths(values: dict[str, Any]) -> Iterator[tuple[tuple[str, ...], Any]]:
    """Paths and values of all keys in nested tables, outer ones first.

    Dotted keys may nest them deeper than functions may call themselves.
    """
    open_ones: list[tuple[tuple[str, ...], Any]] = [((), values)]
    while open_ones:
        above, value = open_ones.pop()
        if above:
            yield above, value
        if isinstance(value, dict):
            open_ones += [((*above, name), inner) for name, inner in reversed(value.items())]
