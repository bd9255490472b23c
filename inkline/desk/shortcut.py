"""A file that opens a recipe on the desk by a double click."""

from __future__ import annotations

import os
import shlex
import stat
import sys
from contextlib import suppress
from pathlib import Path

from inkline.errors import InputError
from inkline.folder.disk import work_error
from inkline.folder.new_files import write_new

_ASKS_ALOUD = "XDG_DESKTOP_DIR"
"""The entry of the user's folders (freedesktop.org, xdg-user-dirs) that names the desktop."""
_USUAL_CONFIG = ".config"
_CMD_SPECIAL = frozenset('%"\n\r')


def write_shortcut(recipe: Path, *, on_desktop: bool, system: str = sys.platform) -> Path:
    """Write a file that opens `recipe` on the desk when it is double-clicked; where it is.

    On Linux it is an entry of the Desktop Entry Specification (freedesktop.org), on macOS a shell
    script, on Windows a command file. It runs the Python that runs now, and so holds on this
    machine only.

    Args:
        recipe: the file, or the folder of a kit.
        on_desktop: whether it lies on the user's desktop, or beside the recipe.
        system: as `sys.platform` says it.

    Raises:
        InputError: the file exists, there is no desktop, or a name that the system can't say.
        WorkError: it can't be written.
    """
    recipe = recipe.resolve()
    folder = _desktop(system) if on_desktop else recipe.parent
    suffix, text = _form_for(recipe, system)
    file = folder / f"{recipe.stem} on the desk{suffix}"
    write_new(file, text.encode())
    if system != "win32":
        try:
            file.chmod(file.stat().st_mode | stat.S_IXUSR)
        except OSError as problem:
            raise work_error(problem, file) from problem
    return file


def _form_for(recipe: Path, system: str) -> tuple[str, str]:
    command = [sys.executable, "-m", "inkline", "desk", str(recipe)]
    if system == "win32":
        if _CMD_SPECIAL & set("".join(command)):
            raise InputError(
                f"a command file can't name {recipe.name}: rename it without % and quotes"
            )
        words = " ".join(f'"{word}"' for word in command)
        return ".cmd", f"@chcp 65001 >nul\r\n@{words}\r\n"
    if system == "darwin":
        return ".command", f"#!/bin/sh\nexec {shlex.join(command)}\n"
    words = " ".join(map(_desktop_word, command))
    return ".desktop", (
        "[Desktop Entry]\nType=Application\nVersion=1.5\nTerminal=true\n"
        f"Name={_desktop_text(recipe.stem)} on the desk\nExec={words}\n"
    )


def _desktop_text(text: str) -> str:
    """A string of a desktop entry."""
    return text.replace("\\", "\\\\").replace("\n", "\\n").replace("\r", "\\r")


def _desktop_word(word: str) -> str:
    """One argument of an entry's command: quoted, a percent sign doubled, escaped as a string."""
    quoted = "".join(f"\\{one}" if one in '"`$\\' else one for one in word.replace("%", "%%"))
    return _desktop_text(f'"{quoted}"')


def _desktop(system: str) -> Path:
    """The user's desktop.

    Raises:
        InputError: there is none.
    """
    folder = Path.home() / "Desktop"
    if system not in {"win32", "darwin"}:
        folder = _stated_desktop() or folder
    if not folder.is_dir():
        raise InputError(f"there is no desktop at {folder}; let it lie beside the recipe")
    return folder


def _stated_desktop() -> Path | None:
    """The desktop as the user's folders state it, if they do."""
    config = Path(os.environ.get("XDG_CONFIG_HOME") or Path.home() / _USUAL_CONFIG)
    with suppress(OSError, UnicodeDecodeError, ValueError):
        for line in (config / "user-dirs.dirs").read_text(encoding="utf-8").splitlines():
            key, _, value = line.partition("=")
            if key.strip() == _ASKS_ALOUD:
                (place,) = shlex.split(value)
                return Path(place.replace("$HOME", str(Path.home())))
    return None
