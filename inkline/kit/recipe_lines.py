"""On which line of a TOML text each key stands; Python's own reader doesn't say."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping
from typing import Any


def key_lines(text: str) -> dict[str, int]:
    """Line numbers, from 1, of all keys and tables in `text`, by their dotted paths such as `canvas.side`.

    `text` must be valid TOML. A statement is the fewest lines that can be read on their own, so values may run over
    several lines. Of an array of tables only the array's own path is given. A table that is only named in another's heading stands
    where it is first named.

    Cost: one reading of each line, more only for values of many lines.
    """
    lines = text.split("\n")
    found: dict[str, int] = {}
    implied: dict[str, int] = {}
    table: tuple[str, ...] = ()
    start = 0
    while start < len(lines):
        statement, after = _statement(lines, start)
        paths = list(_paths(statement))
        if lines[start].lstrip().startswith("["):
            table = max(paths, key=len)
            found.setdefault(".".join(table), start + 1)
            for path in paths:
                implied.setdefault(".".join(path), start + 1)
        else:
            for path in paths:
                found.setdefault(".".join((*table, *path)), start + 1)
        start = after
    return {**implied, **found}


def line_of(key: str, lines: Mapping[str, int]) -> int:
    """The line of `key` in a file whose keys stand on `lines`, else of the nearest table around it, else 0."""
    while key and key not in lines:
        key = key.rpartition(".")[0]
    return lines.get(key, 0)


def _statement(lines: list[str], start: int) -> tuple[dict[str, Any], int]:
    """What the statement beginning on line index `start` says, and the index of the line after it."""
    for after in range(start + 1, len(lines) + 1):
        try:
            return tomllib.loads("\n".join(lines[start:after])), after
        except tomllib.TOMLDecodeError:
            continue
    return {}, start + 1


def _paths(values: dict[str, Any]) -> Iterator[tuple[str, ...]]:
    """Paths of all keys in nested tables, outer ones first; dotted keys may nest them deeper than functions may call themselves."""
    open_ones: list[tuple[tuple[str, ...], Any]] = [((), values)]
    while open_ones:
        above, value = open_ones.pop()
        if above:
            yield above
        if isinstance(value, dict):
            open_ones += [((*above, name), inner) for name, inner in reversed(value.items())]
