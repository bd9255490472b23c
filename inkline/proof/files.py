"""The files of a kit as its manifest names them, none of which lies outside of its folder."""

from __future__ import annotations

import os
import stat
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any


def file_within(folder: Path, name: object) -> Path | None:
    """Where the file `name` of the manifest lies; None if it is missing or no file of the folder.

    Pipes, devices and whatever lies outside of `folder`, be it by a link, are no files of it.
    """
    if not isinstance(name, str) or not name or "\0" in name:
        return None
    try:
        path = (folder / name).resolve()
        inside = path.is_relative_to(folder.resolve())
        return path if inside and stat.S_ISREG(path.stat().st_mode) else None
    except (OSError, RuntimeError, ValueError):
        return None


_MOST_FILES = 20_000
_OURS = frozenset({"manifest.json", "unfinished.jsonl", "masters/patches.npz"})


def strange_files(folder: Path, values: Mapping[str, Any]) -> tuple[str, ...]:
    """Files in `folder` that its manifest, whose values are given, doesn't list; in order.

    Hidden files are left out. Links are not followed.
    """
    listed = set(_OURS)
    for section in ("stamps", "sheets"):
        for entry in values.get(section, ()):
            listed |= {str(entry["file"]), *(str(one["file"]) for one in entry.get("files", ()))}
            if entry.get("masters"):
                listed.add(str(entry["masters"]["file"]))
    return tuple(sorted(name for name in _files_below(folder) if name not in listed))


def _files_below(folder: Path) -> Iterator[str]:
    n_files = 0
    for place, folders, files in os.walk(folder):
        folders[:] = [name for name in folders if not name.startswith(".")]
        for name in files:
            n_files += 1
            if n_files > _MOST_FILES:
                return
            if not name.startswith("."):
                yield (Path(place) / name).relative_to(folder).as_posix()
