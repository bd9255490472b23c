"""What is kept for the next run in the user's cache folder, as long as that works.

Whatever lies there can be made again, so it may be removed at any time. That it can't be read or
written is no error: then nothing is kept.
"""

from __future__ import annotations

import contextlib
import os
import sys
from pathlib import Path

from inkline.errors import WorkError
from inkline.folder.disk import make_folders, write_whole
from inkline.folder.reading import bytes_of_plain_file

_OWN = "inkline"
_MOST_FILES = 40
"""On one shelf; beyond it the oldest are removed."""
_MOST_BYTES = 50_000_000


def cache_folder() -> Path | None:
    """Where the user's system has caches, with a folder of our own; None where that isn't known.

    It goes by the XDG Base Directory Specification, by Apple's guide to file systems, and by
    `LOCALAPPDATA` on Windows.
    """
    said = os.environ.get("LOCALAPPDATA" if os.name == "nt" else "XDG_CACHE_HOME", "")
    if said and Path(said).is_absolute():
        return Path(said) / _OWN
    try:
        home = Path.home()
    except RuntimeError:
        return None
    if os.name == "nt":
        return home / "AppData" / "Local" / _OWN
    return home / ("Library/Caches" if sys.platform == "darwin" else ".cache") / _OWN


def kept_bytes(shelf: str, name: str) -> bytes | None:
    """What was kept as `name` on `shelf`; None if there is nothing, or it can't be read."""
    folder = cache_folder()
    if folder is None:
        return None
    try:
        return bytes_of_plain_file(folder / shelf / name, most=_MOST_BYTES)
    except OSError:
        return None


def keep_bytes(shelf: str, name: str, data: bytes) -> None:
    """Keep `data` as `name` on `shelf`, whole or not at all, if that can be done."""
    folder = cache_folder()
    if folder is None:
        return
    with contextlib.suppress(WorkError, OSError):
        make_folders(folder / shelf)
        write_whole(folder / shelf / name, data)
        _remove_oldest(folder / shelf)


def _remove_oldest(folder: Path) -> None:
    """Remove what was kept longest ago, beyond what is kept of a kind."""
    files = sorted(folder.iterdir(), key=lambda file: file.lstat().st_mtime_ns)
    for file in files[:-_MOST_FILES]:
        file.unlink()
