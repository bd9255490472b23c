"""Files that are brought to the page and kept beside the recipe."""

from __future__ import annotations

from pathlib import Path, PurePath

from inkline.errors import InputError
from inkline.folder.disk import write_whole
from inkline.kit.stamps.file_names import safe_name

_MOST_NAMESAKES = 100
_LONGEST_STEM = 80


def name_to_keep(name: str, *, otherwise: str) -> str:
    """What a file that was called `name` is called here; `otherwise` if nothing is left of it."""
    brought = PurePath(name.replace("\\", "/"))
    stem = safe_name(brought.stem)[:_LONGEST_STEM] or otherwise
    return f"{stem}{brought.suffix.lower()}"


def keep_beside(folder: Path, name: str, data: bytes) -> Path:
    """Where `data` lies in `folder` now: under `name`, or another where a file is called so.

    A file of that name that holds the same is taken for it.

    Raises:
        InputError: too many files are called so.
        WorkError: it can't be written.
    """
    place = _free_place(folder, PurePath(name), data)
    if not place.exists():
        write_whole(place, data)
    return place


def _free_place(folder: Path, name: PurePath, data: bytes) -> Path:
    for number in range(1, _MOST_NAMESAKES):
        ending = "" if number == 1 else f"-{number}"
        place = folder / f"{name.stem}{ending}{name.suffix}"
        if not place.exists() or (place.is_file() and place.read_bytes() == data):
            return place
    raise InputError(f"there are too many files called {name.stem} beside the recipe")
