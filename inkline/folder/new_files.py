"""Files that must not be there yet: they are written whole or not at all, and never over others."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import Path

from inkline.errors import InputError
from inkline.folder.disk import make_folders, write_whole


def require_suffix(file: Path, suffix: str, *, what: str, setting: str) -> None:
    """Refuse a file whose name doesn't end in `suffix`, in any case of its letters.

    Args:
        file: where something is to be written.
        suffix: such as ".png".
        what: the owner of the name, such as "a sheet".
        setting: the setting that the file was given as.

    Raises:
        InputError: its name ends otherwise.
    """
    if file.suffix.lower() != suffix:
        raise InputError(f"{what}'s name must end in {suffix}, not {str(file)!r}", setting=setting)


def refuse_existing(files: Iterable[Path]) -> None:
    """Refuse what exists, before anything is made for it.

    Raises:
        InputError: one of `files` exists.
    """
    for file in files:
        if file.exists():
            raise InputError(f"{file} exists already and is left as it is; choose another name")


def write_new(file: Path, data: bytes) -> None:
    """Write `data` into `file`, whose folder must be there.

    Raises:
        InputError: the file exists.
        WorkError: it cannot be written; nothing is left behind.
    """
    refuse_existing([file])
    write_whole(file, data)


def write_all_new(contents: Mapping[Path, bytes]) -> None:
    """Write all files into folders that are made if need be.

    Raises:
        InputError: one of them exists; then none is written.
        WorkError: one cannot be written.
    """
    refuse_existing(contents)
    for file, data in contents.items():
        make_folders(file.parent)
        write_whole(file, data)
