"""Styles kept in files: which there are, and one of them with a recipe's changes."""

from __future__ import annotations

import difflib
import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from inkline.errors import InputError
from inkline.ink.style import Style, style_from_dict


def style_files() -> dict[str, Path]:
    """The styles that come with inkline, by name, in a checkout as in an installed package."""
    package = Path(__file__).resolve().parents[1]
    folders = (package.parent / "shared" / "styles", package / "data" / "shared" / "styles")
    return {path.stem: path for folder in reversed(folders) for path in sorted(folder.glob("*.toml"))}


def load_style(path: Path) -> Style:
    """The style in the file at `path`.

    Raises:
        InputError: it cannot be read, is not TOML, or holds what a style can't.
    """
    try:
        values = tomllib.loads(path.read_text(encoding="utf-8"))
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as problem:
        raise InputError(f"the style {path} cannot be read: {problem}") from problem
    return style_from_dict({"name": path.stem, **values}, where=path.name)


def style_of(name: str, changes: Mapping[str, Any], *, where: str) -> Style:
    """The style `name` with `changes` made to it; `where` they come from is named in errors.

    Raises:
        InputError: there is no such style, or a change that it can't take.
    """
    files = style_files()
    if name not in files:
        near = difflib.get_close_matches(name, files, n=1)
        hint = f"did you mean {near[0]!r}?" if near else f"there are {', '.join(sorted(files)) or 'none'}"
        raise InputError(f"{where}: style.name: there is no style {name!r}; {hint}")
    style = load_style(files[name])
    return style_from_dict(changes, where=where, base=style) if changes else style
