"""Reading plain files only, and never more than is expected: pipes and devices never end."""

from __future__ import annotations

import errno
import os
import stat
from io import BufferedReader
from pathlib import Path

_READ_ONLY = os.O_RDONLY | getattr(os, "O_BINARY", 0) | getattr(os, "O_CLOEXEC", 0)
_AT_ONCE = getattr(os, "O_NONBLOCK", 0)
"""So that opening a pipe waits for nobody."""
LARGEST_FILE_BYTES = 500_000_000
"""The most that a picture may hold; one of 20 000 x 20 000 px, all of them noise, has less."""
_MEGABYTE = 1_000_000


def open_plain_file(path: Path) -> BufferedReader:
    """The file at `path`, open for reading.

    Raises:
        OSError: there is none, it cannot be read, or it is a folder, a pipe or a device.
    """
    handle = os.open(path, _READ_ONLY | _AT_ONCE)
    if not stat.S_ISREG(os.fstat(handle).st_mode):
        os.close(handle)
        raise OSError(errno.EINVAL, "it is no plain file", str(path))
    return os.fdopen(handle, "rb")


def bytes_of_plain_file(path: Path, *, most: int) -> bytes:
    """What is in the file at `path`, which may hold `most` bytes.

    Raises:
        OSError: as `open_plain_file`, or it holds more.
    """
    with open_plain_file(path) as file:
        data = file.read(most + 1)
    if len(data) > most:
        raise OSError(
            errno.EFBIG, f"it is larger than {most / _MEGABYTE:g} MB, the most that is read", path
        )
    return data
