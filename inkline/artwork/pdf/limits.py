"""Streams of a PDF file, unpacked only as far as any page needs."""

from __future__ import annotations

import zlib
from typing import Any

import pikepdf

_MOST_BYTES = 64_000_000
_CHUNK = 1 << 20


class StreamTooLargeError(ValueError):
    """A stream unpacks to more than any page needs."""


def checked_stream(stream: Any) -> Any:
    """`stream`, known not to unpack to more than 64 MB where it is packed as most are.

    Raises:
        StreamTooLargeError: it does, or is that large as it lies there.
        ValueError: it is no stream.
    """
    for part in list(stream) if isinstance(stream, pikepdf.Array) else [stream]:
        _check(part)
    return stream


def _check(part: Any) -> None:
    if not isinstance(part, pikepdf.Stream):
        raise ValueError("what should be drawn is no stream")  # noqa: TRY004 - of the file's making
    raw = part.read_raw_bytes()
    if len(raw) > _MOST_BYTES:
        raise StreamTooLargeError
    if "/FlateDecode" not in str(part.get("/Filter", "")):
        return
    unpacker, size = zlib.decompressobj(), 0
    waiting = bytes(raw)
    while waiting and not unpacker.eof:
        try:
            size += len(unpacker.decompress(waiting, _CHUNK))
        except zlib.error:
            return  # the reader says it better
        if size > _MOST_BYTES:
            raise StreamTooLargeError
        waiting = unpacker.unconsumed_tail
