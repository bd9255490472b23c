"""Whole-or-not-at-all writing, with a disk that fails or stops at a given operation."""

import errno
import hashlib
import os
from pathlib import Path

import pytest

from inkline.errors import WorkError
from inkline.folder.disk import (
    DISK,
    Disk,
    file_sha256,
    is_part,
    make_folders,
    part_path,
    sha256,
    work_error,
    write_whole,
)

FULL = Path("/dev/full")


class FailingDisk(Disk):
    """Raises the given problem in the named operation.

    Writing leaves half the data, as a full disk does.
    """

    def __init__(self, operation, problem):
        self.operation, self.problem = operation, problem

    def write(self, path, data):
        if self.operation == "write":
            super().write(path, data[: len(data) // 2])
            raise self.problem
        super().write(path, data)

    def replace(self, source, target):
        if self.operation == "replace":
            raise self.problem
        super().replace(source, target)

    def make_folder(self, folder):
        raise OSError(*self.problem.args, str(folder))


def test_a_file_is_written_and_replaced(tmp_path):
    path = tmp_path / "a.png"
    write_whole(path, b"one")
    write_whole(path, b"two")
    assert path.read_bytes() == b"two"
    assert [entry.name for entry in tmp_path.iterdir()] == ["a.png"]


@pytest.mark.parametrize("operation", ["write", "replace"])
def test_a_failure_changes_nothing_and_leaves_nothing(tmp_path, operation):
    path = tmp_path / "a.png"
    path.write_bytes(b"before")
    disk = FailingDisk(operation, OSError(errno.ENOSPC, "No space left on device"))
    with pytest.raises(
        WorkError, match=r"a\.png could not be written: there is no room left on the disk"
    ):
        write_whole(path, b"after, and longer", disk=disk)
    assert path.read_bytes() == b"before"
    assert [entry.name for entry in tmp_path.iterdir()] == ["a.png"]


def test_an_interruption_passes_through_and_leaves_nothing(tmp_path):
    with pytest.raises(KeyboardInterrupt):
        write_whole(tmp_path / "a.png", b"data", disk=FailingDisk("write", KeyboardInterrupt()))
    assert not list(tmp_path.iterdir())


class FullDisk(Disk):
    """Writes to the device that is always full, which answers with the system's own error.

    Source: Linux man page full(4).
    """

    def write(self, path, data):
        with (FULL if is_part(path) else path).open("wb") as file:
            file.write(data)


@pytest.mark.skipif(not FULL.exists(), reason="needs the device that is always full")
def test_the_systems_own_full_device_is_told_as_full(tmp_path):
    with pytest.raises(WorkError, match="there is no room left on the disk"):
        write_whole(tmp_path / "a.png", b"data", disk=FullDisk())
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize(
    ("number", "words"),
    [
        (errno.EACCES, "may not be written to"),
        (errno.EROFS, "read-only"),
        (errno.EIO, os.strerror(errno.EIO)),
    ],
)
def test_reasons_are_told_in_words(tmp_path, number, words):
    assert words in str(work_error(OSError(number, os.strerror(number)), tmp_path / "x"))


def test_folders_are_made_with_those_above(tmp_path):
    make_folders(tmp_path / "a" / "b" / "c")
    make_folders(tmp_path / "a" / "b" / "c")
    assert (tmp_path / "a" / "b" / "c").is_dir()


def test_a_folder_under_a_file_cannot_be_made(tmp_path):
    (tmp_path / "a").write_bytes(b"")
    with pytest.raises(WorkError, match="a could not be written"):
        make_folders(tmp_path / "a" / "b")


def test_a_folder_that_may_not_be_made_is_told(tmp_path):
    with pytest.raises(WorkError, match="its folder may not be written to"):
        make_folders(
            tmp_path / "x",
            disk=FailingDisk("make_folder", OSError(errno.EACCES, "Permission denied")),
        )


def test_temporary_names_stay_in_the_folder_and_are_known(tmp_path):
    part = part_path(tmp_path / "grid-5.png")
    assert part.parent == tmp_path
    assert is_part(part)
    assert not is_part(tmp_path / "grid-5.png")


def test_appending_adds(tmp_path):
    DISK.append(tmp_path / "j", b"a\n")
    DISK.append(tmp_path / "j", b"b\n")
    assert (tmp_path / "j").read_bytes() == b"a\nb\n"


def test_checksums(tmp_path):
    # FIPS 180-4 example: SHA-256("abc"), from memory.
    known = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
    (tmp_path / "abc").write_bytes(b"abc")
    assert sha256(b"abc") == known
    assert file_sha256(tmp_path / "abc") == known == hashlib.sha256(b"abc").hexdigest()
    assert file_sha256(tmp_path / "none") is None


def test_a_file_that_cannot_be_read_is_told(tmp_path):
    with pytest.raises(WorkError, match="could not be read"):
        file_sha256(tmp_path)
