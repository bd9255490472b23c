"""What `inkline style` does: lists styles, shows one value by value, or writes a product line's own."""

from __future__ import annotations

import os
import textwrap
from collections.abc import Iterator, Sequence
from itertools import groupby
from pathlib import Path
from typing import Any

import click

from inkline.errors import InputError
from inkline.folder.disk import work_error
from inkline.ink.style import Style
from inkline.styles.files import (
    DEFAULT_STYLE,
    SUFFIX,
    StyleFile,
    load_style,
    read_style,
    style_files,
    style_path,
    style_with_settings,
)
from inkline.styles.text import PARTS, StyleValue, style_file_text, style_values

_WIDTH = 100
_MARK = "*"


def run_style(name: str | None, *, file: Path | None, settings: Sequence[str]) -> None:
    """List all styles; or show the style `name` with `settings` made to it; or write that to `file`.

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
        lines = list(listed_styles())
    else:
        base = read_style(style_path(name, where="STYLE"))
        style, changes = style_with_settings(base.style, settings, where="--set")
        lines = list(shown_style(base, style)) if file is None else [_saved(base, changes, file)]
    for line in lines:
        click.echo(line)


def listed_styles() -> Iterator[str]:
    """A line for each style that comes with inkline, and what to do with them."""
    files = style_files()
    width = max(map(len, files), default=0)
    for name, path in files.items():
        yield f"{name:{width}}  {load_style(path).imitates}{', used unless you say otherwise' if name == DEFAULT_STYLE else ''}"
    yield ""
    yield f"See them side by side: inkline sampler -o styles.png. All values of one: inkline style {DEFAULT_STYLE}"


def shown_style(base: StyleFile, style: Style) -> Iterator[str]:
    """All values of `style`, each with a sentence; marked are those that differ from what it was made from.

    Args:
        base: the style as it lies in its file.
        style: the same, perhaps with changes.
    """
    from_file = style == base.style
    lender = base.base if from_file else base.style
    has_lender = base.based_on is not None or not from_file
    values = list(style_values(style, base=lender))
    yield f"{style.name}: {style.imitates}"
    yield (
        f"{_MARK} differs from {lender.name}"
        if has_lender
        else f"{_MARK} set by this style; the rest is at its default"
    )
    width = max(len(_name(value)) for value in values)
    text_width = max(len(value.text) for value in values)
    for part, group in groupby(values, key=lambda value: value.key.rpartition(".")[0]):
        yield ""
        if part:
            yield f"[{part}] {PARTS[part]}"
        for value in group:
            about = value.about + (
                f" ({value.base_text} in {lender.name})" if value.differs and has_lender else ""
            )
            yield from _lines(value, about, width, text_width)


def _lines(value: StyleValue, about: str, width: int, text_width: int) -> Iterator[str]:
    head = f"{_MARK if value.differs else ' '} {_name(value):{width}}  {value.text:{text_width}}  "
    wrapped = textwrap.wrap(about, max(_WIDTH - len(head), 24))
    yield f"{head}{wrapped[0]}"
    yield from (" " * len(head) + line for line in wrapped[1:])


def _name(value: StyleValue) -> str:
    return value.key.rpartition(".")[2]


def _saved(base: StyleFile, changes: dict[str, Any], file: Path) -> str:
    """Write the style file; a sentence on what was written."""
    if file.suffix != SUFFIX:
        raise InputError(f"--save-as: a style file's name must end in {SUFFIX}, not {str(file)!r}")
    text = style_file_text(base, changes, target=file)
    try:
        with file.open("x", encoding="utf-8", newline="\n") as out:
            out.write(text)
            out.flush()
            os.fsync(out.fileno())
    except FileExistsError as problem:
        raise InputError(
            f"{file} exists already and is left as it is; choose another name"
        ) from problem
    except OSError as problem:
        raise work_error(problem, file) from problem
    return f'Wrote {file}. Look at it: inkline sampler {file} -o {file.stem}.png. Use it: name = "{file.as_posix()}" under [style] in a recipe.'
