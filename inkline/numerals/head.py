"""The folder of a numeral set: whose each file is, and its manifest.

`manifest.json` is UTF-8 JSON (RFC 8259), meant to be read by others. It holds no time of day and no
path outside the folder. At the top stand

- `format`: `"inkline numerals"`, and `version`: 1, raised when a key changes its meaning;
- `ppi`, `number`, `height_px` (of a flat figure), `ground` (`black` or `clear`), `style` (`name`,
  `values`), `lettering` and `versions`;
- `numerals`: one entry a picture: its `name` and `text`; `picture` and `outline`, its files;
  `canvas` and `baseline` in px, x to the right, y down, pixel (0, 0) covering [0, 1) x [0, 1);
  `ink`, the exact bounds of what is drawn, before ink;
- `font`: the font file, its name and what its letters are, or null;
- `files`: every file that inkline made here, with `sha256`, its checksum as drawn, and `inputs`, a
  digest of all that it depends on.

A file with another checksum than its own was changed by hand; it is left alone. Files that are no
longer asked for stay in the folder and in `files`.
"""

from __future__ import annotations

import json
import os
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from typing import Any

from inkline.errors import InputError, WorkError
from inkline.folder.disk import (
    DISK,
    Disk,
    is_part,
    make_folders,
    part_path,
    sha256,
    sync_folder,
    write_whole,
)
from inkline.folder.journal import JOURNAL_FILE, Entry, open_journal, read_journal
from inkline.folder.kept import Foreign, KitFolder
from inkline.folder.manifest import MANIFEST_FILE, SheetEntry

FORMAT = "inkline numerals"
VERSION = 1
MASTERS_FILE = "masters.npz"
_OF_THE_SYSTEM = frozenset({".DS_Store", "Thumbs.db", "desktop.ini"})
_ROWS = ("numerals", "files")
"""Lists that are written one entry a line, so that changes show line by line."""


def open_numerals_folder(
    path: Path, *, files: Iterable[str], foreign: Foreign, disk: Disk = DISK
) -> KitFolder:
    """The folder `path`, made if need be, checked, locked, and cleared of what a stopped run left half-written.

    `files` are those that the set will hold, as paths from the folder.

    Raises:
        InputError: `path` is a file, its manifest is another's or damaged, or it holds foreign
            files that are to be refused.
        WorkError: it cannot be written, or another run is at work in it.
    """
    if path.exists() and not path.is_dir():
        raise InputError(f"{path} is a file; a numeral set needs a folder of its own")
    ours = _own_files(path, files)
    if foreign is Foreign.REFUSE:
        _refuse_foreign(path, ours)
    make_folders(path, disk=disk)
    journal = open_journal(path, disk=disk)
    try:
        known: dict[str, list[Entry]] = {}
        for entry in (*_listed(path), *journal.earlier):
            known.setdefault(entry.name, []).append(entry)
        _remove_parts(path, ours, disk=disk)
    except BaseException:
        journal.close()
        raise
    return KitFolder(path=path, disk=disk, journal=journal, known=known, order=tuple(known))


def close_numerals_folder(
    folder: KitFolder, about: Mapping[str, Any], *, files: Sequence[str]
) -> None:
    """Replace the manifest by one that says `about` and lists what the folder holds, `files` first, then remove the journal.

    Raises:
        WorkError: a file cannot be written.
    """
    for touched in sorted(folder.touched):
        sync_folder(touched, disk=folder.disk)
    listed = []
    for name in dict.fromkeys([*files, *sorted(folder.known)]):
        entry = folder.entry_of(name, name) if folder.sum_of(name) is not None else None
        if entry is not None:
            listed.append({"file": entry.file, "sha256": entry.sha256, "inputs": entry.inputs})
    data = _manifest_bytes({"format": FORMAT, "version": VERSION, **about, "files": listed})
    if folder.sum_of(MANIFEST_FILE) != sha256(data):
        write_whole(folder.path / MANIFEST_FILE, data, disk=folder.disk)
    folder.journal.remove()


def _manifest_bytes(values: Mapping[str, Any]) -> bytes:
    lines = []
    for key, value in values.items():
        if key in _ROWS and value:
            rows = ",\n".join(f"    {json.dumps(row, ensure_ascii=False)}" for row in value)
            lines.append(f'  "{key}": [\n{rows}\n  ]')
        else:
            lines.append(f'  "{key}": {json.dumps(value, ensure_ascii=False)}')
    return ("{\n" + ",\n".join(lines) + "\n}\n").encode()


def _listed(path: Path) -> list[SheetEntry]:
    """The files that the manifest in `path` lists; none where there is no manifest."""
    file = path / MANIFEST_FILE
    try:
        values = json.loads(file.read_bytes())
    except FileNotFoundError:
        return []
    except OSError as problem:
        raise WorkError(f"{file} could not be read: {problem.strerror or problem}") from problem
    except ValueError as problem:
        raise InputError(
            f"{file} is damaged ({problem}); move it elsewhere and draw again with --force"
        ) from problem
    if not isinstance(values, dict) or values.get("format") != FORMAT:
        raise InputError(f"{file} is not the manifest of a numeral set; choose another folder")
    if values.get("version") != VERSION:
        raise InputError(
            f"{file} has version {values.get('version')!r}, and this inkline reads version "
            f"{VERSION}"
        )
    try:
        return [SheetEntry.from_dict({**entry, "name": entry["file"]}) for entry in values["files"]]
    except (KeyError, TypeError) as problem:
        raise InputError(
            f"{file} is damaged (an entry lacks {problem}); move it elsewhere and draw again"
        ) from problem


def _own_files(path: Path, files: Iterable[str]) -> set[str]:
    """The files that belong to the set; in a folder that holds no set yet, none does."""
    ours = {entry.file for entry in (*_listed(path), *read_journal(path))}
    if (path / MANIFEST_FILE).exists() or (path / JOURNAL_FILE).exists():
        ours |= {MANIFEST_FILE, JOURNAL_FILE, MASTERS_FILE, *files}
    return ours


def _refuse_foreign(path: Path, ours: set[str]) -> None:
    for folder, folders, names in os.walk(path):
        folders.sort()
        for name in sorted(names):
            file = Path(folder, name).relative_to(path)
            if not (file.as_posix() in ours or is_part(file) or name in _OF_THE_SYSTEM):
                raise InputError(
                    f"{path} holds files that are no part of the set, such as {file}; choose "
                    f"another folder, "
                    "or say --force to draw beside them (they stay untouched)"
                )


def _remove_parts(path: Path, ours: set[str], *, disk: Disk) -> None:
    """Remove temporary files of earlier runs; only folders that hold files of the set are looked at."""
    for folder in sorted({(path / file).parent for file in ours}):
        for part in sorted(folder.glob(part_path(Path("*")).name)):
            try:
                disk.remove(part)
            except OSError as problem:
                raise WorkError(
                    f"{part} could not be removed: {problem.strerror or problem}"
                ) from problem
