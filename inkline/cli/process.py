"""The command as a process of its own: its streams write whatever comes, and it ends when told to.

Letters that the encoding of a stream lacks are written as their codes. A stream that nobody reads
any more, or that is full, ends no work. The first Ctrl-C, or a request to end, stops the work in
order; from then on nothing else can come between, and if stopping takes too long the process ends
all the same: every file is whole at any moment, and the drawing processes end with this one.
"""

from __future__ import annotations

import errno
import io
import os
import signal
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType
from typing import Any, TextIO

_LONGEST_STOP_S = 2.5
"""Time for stopping in order; somebody who waits longer presses again, or kills."""
_LAST_STANDARD = 2
"""Number of the last of the three standard streams."""
_QUIET = "ignore::UserWarning:multiprocessing.resource_tracker"
"""Given on to the process that tidies up after others: that it had to is nobody's concern."""
_IN_ITS_PLACE = "iso8859-1"
"""Said to be the encoding of a stream of plain ASCII, or others would take it for a mistake and
write UTF-8."""


class _PatientFile(io.FileIO):
    """A file that is written to as long as that works; what comes later is dropped.

    Attributes:
        problem: why it could no longer be written, None as long as it can.
    """

    problem: OSError | None = None

    def write(self, data: Any) -> int:
        """Write `data`, or drop it; how many bytes of it are done with."""
        if self.problem is None:
            try:
                return super().write(data)
            except OSError as problem:
                self.problem = problem
        return memoryview(data).nbytes


class _PatientStream(io.TextIOWrapper):
    """Text on a `_PatientFile`, in any encoding.

    Attributes:
        file: where it goes.
    """

    def __init__(self, stream: TextIO) -> None:
        self.file = _PatientFile(stream.fileno(), "w", closefd=False)
        self._is_ascii = _is_ascii(stream.encoding)
        super().__init__(
            io.BufferedWriter(self.file),
            encoding=stream.encoding,
            errors="backslashreplace",
            line_buffering=True,
        )

    @property
    def encoding(self) -> str:  # type: ignore[override]  # read only there too
        """The name of its encoding; another one that lacks letters in place of ASCII."""
        return _IN_ITS_PLACE if self._is_ascii else str(super().encoding)


def _patient_stream(stream: TextIO) -> TextIO:
    """`stream` made patient, as far as it is one of the system's."""
    if not isinstance(stream, io.TextIOWrapper):
        return stream
    if os.name != "posix":  # consoles there take any letter by ways of their own
        stream.reconfigure(errors="backslashreplace")
        return stream
    try:
        return _PatientStream(stream)
    except OSError:  # a stream of Python's that is no file
        return stream


def _is_ascii(encoding: str) -> bool:
    return encoding.replace("-", "").replace("_", "").lower() in {
        "ascii",
        "usascii",
        "ansix3.41968",
    }


@contextmanager
def patient_streams() -> Iterator[None]:
    """Standard output and standard error take any letter, and never stop the work meanwhile."""
    _fill_closed_streams()
    before = sys.stdout, sys.stderr
    for stream in before:
        stream.flush()
    sys.stdout, sys.stderr = map(_patient_stream, before)
    try:
        yield
    finally:
        for stream in (sys.stdout, sys.stderr):
            stream.flush()
        sys.stdout, sys.stderr = before


def problem_of_output() -> str:
    """Why standard output couldn't be written, or ""; that its reader left is no problem."""
    file = getattr(sys.stdout, "file", None)
    problem = file.problem if isinstance(file, _PatientFile) else None
    if problem is None or problem.errno == errno.EPIPE:
        return ""
    return str(problem.strerror or problem)


def _fill_closed_streams() -> None:
    """Open nothing in place of closed standard streams, or the next file would take it."""
    while (handle := os.open(os.devnull, os.O_RDWR)) <= _LAST_STANDARD:
        os.set_inheritable(handle, True)
    os.close(handle)
    sys.stdout = sys.stdout or os.fdopen(1, "w", encoding="utf-8", closefd=False)
    sys.stderr = sys.stderr or os.fdopen(2, "w", encoding="utf-8", closefd=False)


@contextmanager
def stopping_in_order(last_words: str) -> Iterator[None]:
    """Raise KeyboardInterrupt at the first Ctrl-C or request to end, and heed no other meanwhile.

    If the process hasn't ended soon after, it says `last_words` and ends.
    """
    usual: dict[signal.Signals, Any] = {
        signal.SIGINT: signal.default_int_handler,
        signal.SIGTERM: signal.SIG_DFL,
    }
    ours = [number for number, handler in usual.items() if signal.getsignal(number) == handler]
    is_stopping = threading.Event()

    def stop(_number: int, _frame: FrameType | None) -> None:
        if is_stopping.is_set():
            return
        is_stopping.set()
        timer = threading.Timer(_LONGEST_STOP_S, _end_now, [last_words])
        timer.daemon = True
        timer.start()
        raise KeyboardInterrupt

    if _QUIET not in sys.warnoptions:
        sys.warnoptions.append(_QUIET)
    for number in ours:
        signal.signal(number, stop)
    try:
        yield
    finally:
        for number in ours:  # what is stopping needs no more of them till the very end
            signal.signal(number, signal.SIG_IGN if is_stopping.is_set() else usual[number])


def _end_now(last_words: str) -> None:
    os.write(_LAST_STANDARD, f"{last_words}\n".encode(errors="replace"))
    os._exit(1)
