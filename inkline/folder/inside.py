"""Files of a folder that lie in it, whatever its manifest says and wherever its links lead."""

from __future__ import annotations

import os
from collections.abc import Iterable
from pathlib import Path, PurePosixPath

from inkline.errors import InputError

_LONGEST_SHOWN = 60
_FORBIDDEN = ("\\", ":", "\0")
"""In a path from the folder: what another system takes for the start of a path of its own."""


def refuse_path_elsewhere(file: str) -> None:
    """Refuse a path that doesn't lead from a folder to a file in it, on any system.

    Raises:
        ValueError: it is empty, starts at the root, goes up, or holds a backslash, colon or NUL.
    """
    path = PurePosixPath(file)
    wrong = path.is_absolute() or not path.parts or ".." in path.parts
    if wrong or any(sign in file for sign in _FORBIDDEN):
        shown = file if len(file) <= _LONGEST_SHOWN else f"{file[:_LONGEST_SHOWN]}..."
        raise ValueError(f"{shown!r} is no path within the folder")
    file.encode()  # half a letter can be no file's name


def refuse_links_elsewhere(folder: Path, files: Iterable[str]) -> None:
    """Refuse a folder of which a file lies elsewhere by way of a link; nothing there is ours.

    Args:
        folder: which may be a link itself.
        files: paths from there.

    Raises:
        InputError: one of them leads out.
    """
    root = Path(os.path.realpath(folder))
    folders: dict[Path, bool] = {}
    for file in dict.fromkeys(files):
        path = folder / file
        if path.parent not in folders:
            folders[path.parent] = _lies_in(path.parent, root)
        if not folders[path.parent] or (path.is_symlink() and not _lies_in(path, root)):
            raise InputError(
                f"{path} is a link to a place outside of {folder}, or lies behind one, and such "
                f"files are left alone; put it there itself, or move the link away"
            )


def _lies_in(path: Path, root: Path) -> bool:
    return Path(os.path.realpath(path)).is_relative_to(root)
