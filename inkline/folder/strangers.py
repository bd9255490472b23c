"""What is in a folder before a run: whether it is a kit, of which drawing number, and what in it is no part of one."""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator
from itertools import chain
from pathlib import Path

from inkline.errors import InputError, WorkError
from inkline.folder.disk import is_part
from inkline.folder.journal import JOURNAL_FILE, Entry, read_journal
from inkline.folder.manifest import MANIFEST_FILE, Manifest, StampEntry, manifest_from_bytes

MASTERS_FOLDER = "masters"
HOLDS = "holds"
"""The manifest's key for what a folder holds."""
KIT, MONTHS = "kit", "months"
_KINDS = {KIT: "a kit", MONTHS: "finished months"}
_OF_THE_SYSTEM = frozenset({".DS_Store", "Thumbs.db", "desktop.ini"})
"""Files that desktops leave in any folder that is looked at; they are nobody's work."""


def read_manifest(folder: Path) -> Manifest:
    """The manifest in `folder`, an empty one where there is none.

    Raises:
        InputError: it is not a kit's, damaged or of a later version.
        WorkError: it cannot be read.
    """
    path = folder / MANIFEST_FILE
    try:
        data = path.read_bytes()
    except FileNotFoundError:
        return Manifest()
    except OSError as problem:
        raise WorkError(f"{path} could not be read: {problem.strerror or problem}") from problem
    return manifest_from_bytes(data, where=str(path))


def number_of(manifest: Manifest, earlier: Iterable[Entry]) -> int | None:
    """The drawing number of a kit; of one whose first run was stopped, that of the first stamp in the journal."""
    number = manifest.about.get("number")
    if isinstance(number, int):
        return number
    return next((entry.number for entry in earlier if isinstance(entry, StampEntry)), None)


def own_files(path: Path, files: Iterable[str]) -> Iterator[str]:
    """The paths that belong to the kit; in a folder that isn't a kit yet, nothing does."""
    manifest = read_manifest(path)
    yield from (
        entry.file for entry in chain[Entry](manifest.stamps, manifest.sheets, read_journal(path))
    )
    if (path / MANIFEST_FILE).exists() or (path / JOURNAL_FILE).exists():
        yield from (MANIFEST_FILE, JOURNAL_FILE, *files)


def refuse_number(path: Path, number: int | None) -> None:
    """Keep a kit from being drawn over because its recipe was forgotten: another number draws every line of it anew.

    Raises:
        InputError: the kit in `path` has another number than `number`.
    """
    before = number_of(read_manifest(path), read_journal(path))
    if None not in (number, before) and number != before:
        raise InputError(
            f"{path} was drawn with number {before}; this is {number}: give another folder, or "
            f"--force to draw it anew"
        )


def refuse_other_kind(path: Path, holds: str) -> None:
    """Keep finished months out of a kit's folder, and a kit out of theirs: neither would know the other's pictures.

    Raises:
        InputError: the folder holds the one, and the other is to go there.
    """
    manifest = read_manifest(path)
    found = manifest.about.get(HOLDS, KIT) if manifest.stamps else holds
    if found != holds:
        raise InputError(
            f"{path} holds {_KINDS[str(found)]}, and {_KINDS[holds]} would come between; give "
            f"another folder"
        )


def refuse_foreign(path: Path, ours: set[str]) -> None:
    """Refuse a folder that is no kit and holds files: they would lie among the kit's.

    Raises:
        InputError: it does.
    """
    file = "" if MANIFEST_FILE in ours else first_foreign(path, ours)
    if file:
        raise InputError(
            f"{path} holds files that are no part of the kit, such as {file}; choose another "
            f"folder, "
            "or say --force to build beside them (they stay untouched)"
        )


def first_foreign(path: Path, ours: set[str]) -> str:
    """The first file in the folder that is no part of the kit, or ""."""
    is_kit = MANIFEST_FILE in ours
    for folder, folders, names in os.walk(path):
        folders.sort()
        for name in sorted(names):
            file = Path(folder, name).relative_to(path)
            master = is_kit and file.parts[0] == MASTERS_FOLDER and file.suffix == ".npz"
            if not (file.as_posix() in ours or master or is_part(file) or name in _OF_THE_SYSTEM):
                return str(file)
    return ""
