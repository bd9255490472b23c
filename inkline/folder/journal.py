"""The journal of a run under way: what it has finished, so that a stop loses nothing.

Before a picture gets its real name, or is renamed, its manifest entry is appended here and synced;
when all is done the manifest is replaced and then the journal removed. A picture whose checksum
stands in neither was changed by hand. The file is called `unfinished.jsonl`: JSON values, one a
line (a last line cut short by a stop is passed over, since its picture was never renamed). Whoever
holds the journal's lock is the only run that works in the folder; the system lets go of it when a
run is killed.
"""

from __future__ import annotations

import contextlib
import json
import os
import sys
from dataclasses import dataclass, replace
from pathlib import Path, PurePosixPath
from typing import IO

from inkline.errors import WorkError
from inkline.folder.disk import DISK, Disk, work_error
from inkline.folder.entry import Entry, Section
from inkline.folder.json_values import json_values
from inkline.folder.reading import bytes_of_plain_file

if sys.platform == "win32":
    import msvcrt
else:
    import fcntl

JOURNAL_FILE = "unfinished.jsonl"
_MOST_BYTES = 32_000_000
"""A journal of a thousand stamps has a tenth of that."""
_SECTIONS = {"stamp": Section.STAMPS, "sheet": Section.SHEETS}
"""What a line calls an entry of each section."""
_NOTE = (
    b'{"note": "inkline is at work in this folder, or was stopped while it was; '
    b'the same command again finishes it"}\n'
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Journal:
    """The journal of one folder, open and locked; made by `open_journal`."""

    path: Path
    disk: Disk
    handle: IO[bytes]
    earlier: tuple[Entry, ...]

    def add(self, entry: Entry) -> None:
        """Append `entry`, durable on return.

        Raises:
            WorkError: it cannot be written.
        """
        kind = next(word for word, section in _SECTIONS.items() if section is entry.section)
        line = json.dumps({kind: entry.to_dict()}, ensure_ascii=False).encode() + b"\n"
        _append(self.path, line, disk=self.disk)

    def remove(self) -> None:
        """Remove the journal: the manifest says it all now.

        Raises:
            WorkError: it cannot be removed.
        """
        if os.name == "nt":
            self.close()  # an open file can't be removed there
        try:
            self.disk.remove(self.path)
            self.disk.sync_folder(self.path.parent)
        except OSError as problem:
            raise work_error(problem, self.path) from problem

    def close(self) -> None:
        """Let go of the lock; the file stays."""
        self.handle.close()


def open_journal(folder: Path, *, disk: Disk = DISK) -> Journal:
    """The journal of `folder`, locked for this run.

    It holds what an earlier run that was stopped left in it.

    Raises:
        WorkError: another run is at work in the folder, or the journal cannot be written.
    """
    path = folder / JOURNAL_FILE
    while True:
        text = _journal_bytes(path)
        if not text:
            _append(path, _NOTE, disk=disk)
        elif not text.endswith(b"\n"):
            _append(path, b"\n", disk=disk)
        handle = _open_to_lock(path)
        if not _take_lock(handle):
            handle.close()
            raise WorkError(
                f"another run of inkline is building in {folder}; wait until it is done"
            )
        if path.exists() and os.path.samestat(os.fstat(handle.fileno()), path.stat()):
            return Journal(path=path, disk=disk, handle=handle, earlier=read_journal(folder))
        handle.close()  # the run that held the lock has just finished and removed it


def read_journal(folder: Path) -> tuple[Entry, ...]:
    """What the journal in `folder` says, oldest first; nothing where there is none.

    Raises:
        WorkError: it cannot be read.
    """
    lines = _journal_bytes(folder / JOURNAL_FILE).split(b"\n")
    return tuple(entry for line in lines if (entry := _entry(line)) is not None)


def _journal_bytes(path: Path) -> bytes:
    try:
        return bytes_of_plain_file(path, most=_MOST_BYTES)
    except FileNotFoundError:
        return b""
    except OSError as problem:
        raise WorkError(f"{path} could not be read: {problem.strerror or problem}") from problem


def _open_to_lock(path: Path) -> IO[bytes]:
    """The journal, open for its lock; a link is not followed."""
    flags = os.O_RDWR | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_BINARY", 0)
    try:
        return os.fdopen(os.open(path, flags), "r+b")
    except OSError as problem:
        raise work_error(problem, path) from problem


def _entry(line: bytes) -> Entry | None:
    """The entry on a line, or None for the note and for a line cut short."""
    with contextlib.suppress(ValueError, KeyError, TypeError, AttributeError):
        values = json_values(line)
        for word, section in _SECTIONS.items():
            if word in values:
                return _named_entry(Entry.from_dict(values[word], section=section))
    return None


def _named_entry(entry: Entry) -> Entry:
    """`entry`, called without the suffix of its file where it once was called by the whole."""
    file = entry.files[0].file
    return (
        replace(entry, name=str(PurePosixPath(file).with_suffix("")))
        if entry.name == file
        else entry
    )


def _append(path: Path, data: bytes, *, disk: Disk) -> None:
    try:
        disk.append(path, data)
    except OSError as problem:
        raise work_error(problem, path) from problem


def _take_lock(handle: IO[bytes]) -> bool:
    """Take the lock of an open file without waiting; whether that worked."""
    try:
        if sys.platform == "win32":
            handle.seek(1 << 30)  # far beyond the text, which stays readable
            msvcrt.locking(handle.fileno(), msvcrt.LK_NBLCK, 1)
        else:
            fcntl.flock(handle.fileno(), fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        return False
    return True
