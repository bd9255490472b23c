"""Files that appear whole or not at all.

A file is written under a temporary name in its own folder, synced, and only then renamed over its
real name, so a reader, a full disk or a killed run never meets half of one. All changes to a kit's
folder go through a `Disk`; a test puts one in its place that stops after any single operation.
"""

from __future__ import annotations

import contextlib
import errno
import hashlib
import os
from pathlib import Path

from inkline.errors import WorkError
from inkline.folder.reading import open_plain_file

_PART_SUFFIX = ".inkline-part"
"""Ends the temporary names, so that those left by a killed run are known for what they are."""

_REASONS = {
    errno.ENOSPC: "there is no room left on the disk",
    errno.EDQUOT: "your share of the disk is full",
    errno.EACCES: "its folder may not be written to",
    errno.EPERM: "its folder may not be written to",
    errno.EROFS: "its disk is read-only",
    errno.ENAMETOOLONG: "its name is too long for this disk",
    errno.EFBIG: "it is too large for this disk",
    errno.ELOOP: "it is a link, and links are not followed",
}


_NO_LINK = getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_BINARY", 0) | getattr(os, "O_CLOEXEC", 0)
_NEW = os.O_WRONLY | os.O_CREAT | os.O_EXCL | _NO_LINK
_LONGER = os.O_WRONLY | os.O_CREAT | os.O_APPEND | _NO_LINK
_RIGHTS = 0o666
"""Of new files, less what the process masks, as everywhere."""


class Disk:
    """The single operations by which files are changed, each done and durable when it returns.

    All of them raise OSError as the operating system does.
    """

    def make_folder(self, folder: Path) -> None:
        """Make `folder` unless it is there; its parent must be."""
        folder.mkdir(exist_ok=True)

    def write(self, path: Path, data: bytes) -> None:
        """Make `path`, where nothing may be yet, of `data`; a stop may leave a part of it."""
        with os.fdopen(os.open(path, _NEW, _RIGHTS), "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())

    def append(self, path: Path, data: bytes) -> None:
        """Put `data` at the end of `path`, made if need be; a stop may leave a part of it."""
        with os.fdopen(os.open(path, _LONGER, _RIGHTS), "ab") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())

    def replace(self, source: Path, target: Path) -> None:
        """Give `source` the name `target` in one step, in place of what had that name."""
        source.replace(target)

    def remove(self, path: Path) -> None:
        """Remove the file `path`."""
        path.unlink()

    def sync_folder(self, folder: Path) -> None:
        """Make the names in `folder` durable, where the system can open a folder for that."""
        if os.name == "posix":
            handle = os.open(folder, os.O_RDONLY)
            try:
                os.fsync(handle)
            finally:
                os.close(handle)


DISK = Disk()
"""The real one."""


def part_path(path: Path) -> Path:
    """The temporary name under which `path` is written, in the same folder."""
    return path.with_name(f".{path.name}{_PART_SUFFIX}")


def is_part(path: Path) -> bool:
    """Whether `path` is a temporary name, left behind by a run that was stopped."""
    return path.name.startswith(".") and path.name.endswith(_PART_SUFFIX)


def work_error(problem: OSError, path: Path) -> WorkError:
    """The one sentence that says why `path` could not be written."""
    number = problem.errno
    reason = _REASONS.get(number) if number is not None else None
    return WorkError(f"{path} could not be written: {reason or problem.strerror or problem}")


def make_folders(folder: Path, *, disk: Disk = DISK) -> None:
    """Make `folder` and those above it that are missing.

    Raises:
        WorkError: one of them cannot be made, or its name is a file's.
    """
    if folder.is_dir():
        return
    if folder.parent != folder:
        make_folders(folder.parent, disk=disk)
    try:
        disk.make_folder(folder)
    except OSError as problem:
        raise work_error(problem, folder) from problem


def write_part(path: Path, data: bytes, *, disk: Disk = DISK) -> None:
    """Write `data` under the temporary name of `path`; `put_in_place` finishes it.

    Raises:
        WorkError: it cannot be written; nothing is left behind.
    """
    remove_part(path, disk=disk)
    try:
        disk.write(part_path(path), data)
    except BaseException as problem:
        remove_part(path, disk=disk)
        if isinstance(problem, OSError):
            raise work_error(problem, path) from problem
        raise


def put_in_place(path: Path, *, disk: Disk = DISK) -> None:
    """Give what `write_part` wrote its real name; `sync_folder` makes that outlive a power cut.

    Raises:
        WorkError: it cannot be renamed; `path` is as it was and nothing is left behind.
    """
    try:
        disk.replace(part_path(path), path)
    except OSError as problem:
        remove_part(path, disk=disk)
        raise work_error(problem, path) from problem


def sync_folder(folder: Path, *, disk: Disk = DISK) -> None:
    """Make the names in `folder` durable.

    Raises:
        WorkError: that failed.
    """
    try:
        disk.sync_folder(folder)
    except OSError as problem:
        raise work_error(problem, folder) from problem


def write_whole(path: Path, data: bytes, *, disk: Disk = DISK) -> None:
    """Make `path` hold `data`, whole or not at all; what was there stays until then.

    Raises:
        WorkError: it cannot be written; nothing is changed and nothing is left behind.
    """
    write_part(path, data, disk=disk)
    put_in_place(path, disk=disk)
    sync_folder(path.parent, disk=disk)


def remove_part(path: Path, *, disk: Disk = DISK) -> None:
    """Remove the temporary file of `path` if there is one and if it can be removed."""
    with contextlib.suppress(OSError):
        if os.path.lexists(part_path(path)):
            disk.remove(part_path(path))


def sha256(data: bytes) -> str:
    """The SHA-256 checksum of `data` (FIPS 180-4) in hexadecimal."""
    return hashlib.sha256(data).hexdigest()


def file_sha256(path: Path) -> str | None:
    """The SHA-256 checksum of the file `path` in hexadecimal, or None where there is no such file.

    Raises:
        WorkError: it is there but cannot be read, or is no plain file.
    """
    try:
        with open_plain_file(path) as file:
            return hashlib.file_digest(file, "sha256").hexdigest()
    except FileNotFoundError:
        return None
    except OSError as problem:
        raise WorkError(f"{path} could not be read: {problem.strerror or problem}") from problem
