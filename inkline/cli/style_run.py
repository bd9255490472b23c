"""What `inkline style` does: lists styles, shows one value by value, or writes one of your own."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence
from itertools import groupby
from pathlib import Path

import click

from inkline.errors import InputError
from inkline.styles.files import (
    DEFAULT_STYLE,
    load_style,
    read_style,
    style_files,
    style_path,
    style_with_settings,
)
from inkline.styles.text import PARTS, StyleValue, StyleView, view_of_style, write_style

_WIDTH = 100
_MARK = "*"


def run_style(name: str | None, *, file: Path | None, settings: Sequence[str]) -> None:
    """List all styles; or show the style `name` with `settings` made to it, or write it to `file`.

    Raises:
        InputError: there is no such style, a setting cannot be made, or the file exists.
        WorkError: it cannot be written.
    """
    if name is None:
        if file is not None or settings:
            raise InputError(
                "--save-as and --set need the style to start from, such as: inkline style "
                "round-pen --set …"
            )
        lines = list(_style_lines())
    else:
        base = read_style(style_path(name, where="STYLE"))
        style, changes = style_with_settings(base.style, settings, where="--set")
        if file is None:
            lines = list(_value_lines(view_of_style(base, style)))
        else:
            write_style(base, changes, file)
            lines = [_line_of_written_style(file)]
    for line in lines:
        click.echo(line)


def _style_lines() -> Iterator[str]:
    """A line for each style that comes with inkline, and what to do with them."""
    files = style_files()
    width = max(map(len, files), default=0)
    for name, path in files.items():
        usual = ", used unless you say otherwise" if name == DEFAULT_STYLE else ""
        yield f"{name:{width}}  {load_style(path).imitates}{usual}"
    yield ""
    yield (
        "See them side by side: inkline sampler -o styles.png. All values of one: inkline style "
        f"{DEFAULT_STYLE}"
    )


def _value_lines(view: StyleView) -> Iterator[str]:
    """All values of a style, each with a sentence; marked are those that differ from its lender."""
    yield f"{view.name}: {view.imitates}"
    yield (
        f"{_MARK} differs from {view.lender}"
        if view.lender
        else f"{_MARK} set by this style; the rest is at its default"
    )
    width = max(len(_name(value)) for value in view.values)
    text_width = max(len(value.text) for value in view.values)
    for part, group in groupby(view.values, key=lambda value: value.key.rpartition(".")[0]):
        yield ""
        if part:
            yield f"[{part}] {PARTS[part]}"
        for value in group:
            lent = value.differs and view.lender
            about = value.about + (f" ({value.base_text} in {view.lender})" if lent else "")
            yield from _lines(value, about, width, text_width)


def _lines(value: StyleValue, about: str, width: int, text_width: int) -> Iterator[str]:
    head = f"{_MARK if value.differs else ' '} {_name(value):{width}}  {value.text:{text_width}}  "
    wrapped = textwrap.wrap(about, max(_WIDTH - len(head), 24))
    yield f"{head}{wrapped[0]}"
    yield from (" " * len(head) + line for line in wrapped[1:])


def _name(value: StyleValue) -> str:
    return value.key.rpartition(".")[2]


def _line_of_written_style(file: Path) -> str:
    return (
        f"Wrote {file}. Look at it: inkline sampler {file} -o {file.stem}.png. Use it: name = "
        f'"{file.as_posix()}" under [style] in a recipe.'
    )
